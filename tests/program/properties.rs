//! What may not change a quantity: turning, mirroring and shifting the floor, the order of the
//! records, the units it is written in. And splitting a floor adds up.

use crate::common::{number, takeoff};
use proptest::prelude::*;

/// A floor in plain coordinates, metres.
#[derive(Clone, Debug)]
struct Floor {
    outline: Vec<(f64, f64)>,
    joints: Vec<Vec<(f64, f64)>>,
    cracks: Vec<Vec<(f64, f64)>>,
    posts: Vec<((f64, f64), f64)>,
    spalls: Vec<((f64, f64), f64)>,
    /// Injected: what is cut out follows the sheet, as spalls do.
    hollow: Vec<((f64, f64), f64)>,
    /// Corners and height of a part at another height.
    tier: Option<(Vec<(f64, f64)>, f64)>,
}

impl Floor {
    fn map(&self, f: impl Fn((f64, f64)) -> (f64, f64)) -> Self {
        let all = |p: &Vec<(f64, f64)>| p.iter().map(|q| f(*q)).collect::<Vec<_>>();
        Self {
            outline: all(&self.outline),
            joints: self.joints.iter().map(all).collect(),
            cracks: self.cracks.iter().map(all).collect(),
            posts: self.posts.iter().map(|(p, d)| (f(*p), *d)).collect(),
            hollow: self.hollow.iter().map(|(p, d)| (f(*p), *d)).collect(),
            spalls: self.spalls.iter().map(|(p, d)| (f(*p), *d)).collect(),
            tier: self.tier.as_ref().map(|(p, h)| (all(p), *h)),
        }
    }

    /// The sketch; `unit` follows each number, `scale` turns metres into it.
    fn sketch(&self, units: &str, unit: &str, scale: f64) -> String {
        let point =
            |p: &(f64, f64)| format!("[{:.9}{unit}, {:.9}{unit}]", p.0 * scale, p.1 * scale);
        let path =
            |points: &Vec<(f64, f64)>| points.iter().map(&point).collect::<Vec<_>>().join(", ");
        let mut out = format!(
            "slabwalk: 1\njob: {{name: Property}}\nunits: {units}\nslab:\n  post_tension: none\n  outline: [{}]\n",
            path(&self.outline)
        );
        if !self.posts.is_empty() {
            out += "  keep_outs:\n";
        }
        for (p, d) in &self.posts {
            out += &format!(
                "    - {{circle: {{center: {}, diameter: {:.9}{unit}}}}}\n",
                point(p),
                d * scale
            );
        }
        if let Some((corners, height)) = &self.tier {
            let polygon = path(corners);
            out += &format!(
                "  tiers: [{{height: {height:.4} m, cove: 1 in, polygon: [{polygon}]}}]\n"
            );
        }
        if !self.joints.is_empty() {
            out += "joints:\n";
        }
        for joint in &self.joints {
            out += &format!("  - {{kind: control, width: 1/4 in, path: [{}]}}\n", path(joint));
        }
        if !self.cracks.is_empty() {
            out += "cracks:\n";
        }
        for crack in &self.cracks {
            out += &format!("  - {{width: 1/16 in, movement: dormant, path: [{}]}}\n", path(crack));
        }
        if !self.hollow.is_empty() {
            out += "delaminations:\n";
        }
        for (p, d) in &self.hollow {
            out += &format!(
                "  - {{depth: 1 in, treatment: inject, circle: {{center: {}, diameter: {:.9}{unit}}}}}\n",
                point(p),
                d * scale
            );
        }
        if !self.spalls.is_empty() {
            out += "spalls:\n";
        }
        for (p, d) in &self.spalls {
            out += &format!(
                "  - {{depth: 1 in, circle: {{center: {}, diameter: {:.9}{unit}}}}}\n",
                point(p),
                d * scale
            );
        }
        out
    }
}

/// An L of 8 by 6 m less 3 by 2 m, with what proptest puts on it.
fn floor() -> impl Strategy<Value = Floor> {
    let inside = || (0.3..4.6f64, 0.3..5.6f64);
    // Shrinking alone makes points equal, which no sketch may have, and hides what failed.
    let line = |n| {
        let points = proptest::collection::vec(inside(), n);
        points.prop_filter("a length", |p| p.windows(2).all(|ab| ab[0] != ab[1]))
    };
    (
        proptest::collection::vec(line(2..3), 1..4),
        proptest::collection::vec(line(2..5), 0..3),
        proptest::collection::vec((inside(), 0.1..0.4f64), 0..3),
        proptest::collection::vec((inside(), 0.05..0.2f64), 0..2),
        proptest::option::of(tier()),
        proptest::collection::vec((inside(), 0.2..0.9f64), 0..3),
    )
        .prop_map(|(mut joints, cracks, posts, spalls, tier, hollow)| {
            // One joint right across, past the slab on both sides.
            joints.push(vec![(-1.0, 2.5), (9.0, 2.75)]);
            Floor {
                outline: vec![
                    (0.0, 0.0),
                    (8.0, 0.0),
                    (8.0, 4.0),
                    (5.0, 4.0),
                    (5.0, 6.0),
                    (0.0, 6.0),
                ],
                joints,
                cracks,
                posts,
                // A patch around a circle is upright on the sheet, and takes less or more of what lies beside it.
                hollow: if spalls.is_empty() { hollow } else { Vec::new() },
                spalls,
                tier,
            }
        })
}

/// A star of three to seven corners around a place on the floor, which may reach past the walls, and its height.
fn tier() -> impl Strategy<Value = (Vec<(f64, f64)>, f64)> {
    let height = prop_oneof![-0.3..-0.02f64, 0.02..0.3f64];
    let reach = proptest::collection::vec(0.3..3.0f64, 3..8);
    ((0.8..4.2f64, 0.8..5.2f64), reach, height).prop_map(|((x, y), reach, height)| {
        let turn = std::f64::consts::TAU / reach.len() as f64;
        let corner = |(i, r): (usize, &f64)| {
            let (sin, cos) = (0.3 + turn * i as f64).sin_cos();
            (x + r * cos, y + r * sin)
        };
        (reach.iter().enumerate().map(corner).collect(), height)
    })
}

const QUANTITIES: [&str; 19] = [
    "/area/gross_m2",
    "/area/keep_out_m2",
    "/area/net_m2",
    "/area/hand_edge_m2",
    "/area/faces_m2",
    "/edge_m",
    "/termination_m",
    "/totals/cove_l",
    "/totals/chase_m",
    "/totals/saw_m",
    "/totals/hand_cut_m",
    "/totals/hand_ends",
    "/totals/fill_l",
    "/totals/crack_m",
    "/totals/patch_l",
    "/totals/inject_m2",
    "/totals/inject_l",
    "/totals/hand_grind_m2",
    "/conditions/moisture_tests_wanted",
];

/// Both floors have the same quantities, to 1 part in 100,000 and what nine decimals and a grid of
/// 3 µm leave.
fn same(a: &serde_json::Value, b: &serde_json::Value) -> Result<(), TestCaseError> {
    for pointer in QUANTITIES {
        let (p, q) = (number(a, pointer), number(b, pointer));
        prop_assert!((p - q).abs() <= 1e-5 * p.abs().max(q.abs()) + 1e-4, "{pointer}: {p} and {q}");
    }
    for key in ["area_m2", "riser_m", "riser_m2"] {
        let sum = |v: &serde_json::Value| -> f64 {
            let tiers = v["tiers"].as_array().cloned().unwrap_or_default();
            tiers.iter().map(|t| number(t, &format!("/{key}"))).sum()
        };
        prop_assert!((sum(a) - sum(b)).abs() <= 1e-4, "{key}: {} and {}", sum(a), sum(b));
    }
    let areas = |v: &serde_json::Value| {
        let panels = v["panels"].as_array().cloned().unwrap_or_default();
        let mut areas: Vec<f64> = panels.iter().map(|p| number(p, "/area_m2")).collect();
        areas.sort_by(f64::total_cmp);
        areas
    };
    let (p, q) = (areas(a), areas(b));
    prop_assert_eq!(p.len(), q.len());
    for (p, q) in p.iter().zip(&q) {
        prop_assert!((p - q).abs() <= 1e-4, "panels of {} and {}", p, q);
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn turning_mirroring_and_shifting_change_nothing(
        floor in floor(), angle in 0.0..std::f64::consts::TAU, x in -20.0..20.0f64, y in -20.0..20.0f64,
    ) {
        let plain = takeoff(&floor.sketch("metric", "", 1.0));
        let (sin, cos) = angle.sin_cos();
        let turned = floor.map(|(px, py)| (cos * px - sin * py + x, sin * px + cos * py + y));
        same(&plain, &takeoff(&turned.sketch("metric", "", 1.0)))?;
        let mirrored = floor.map(|(px, py)| (-px, py));
        same(&plain, &takeoff(&mirrored.sketch("metric", "", 1.0)))?;
    }

    #[test]
    fn feet_and_metres_agree(floor in floor()) {
        let metric = takeoff(&floor.sketch("metric", "", 1.0));
        let us = takeoff(&floor.sketch("us", " ft", 1.0 / 0.3048));
        same(&metric, &us)?;
    }

    #[test]
    fn the_order_of_records_does_not_matter(floor in floor()) {
        let mut other = floor.clone();
        other.joints.reverse();
        other.cracks.reverse();
        other.posts.reverse();
        other.spalls.reverse();
        other.hollow.reverse();
        same(&takeoff(&floor.sketch("metric", "", 1.0)), &takeoff(&other.sketch("metric", "", 1.0)))?;
    }

    #[test]
    fn panels_add_up_to_the_slab(floor in floor()) {
        let json = takeoff(&floor.sketch("metric", "", 1.0));
        let sum: f64 = json["panels"].as_array().unwrap().iter().map(|p| number(p, "/area_m2")).sum();
        let slab = number(&json, "/area/gross_m2") - number(&json, "/area/keep_out_m2");
        prop_assert!((sum - slab).abs() <= 1e-7, "{sum} of {slab}");
    }

    /// The panels of each height add up to it, and the riser of each tier times its height is its face.
    #[test]
    fn heights_add_up_to_the_slab(floor in floor()) {
        let json = takeoff(&floor.sketch("metric", "", 1.0));
        let panels = json["panels"].as_array().unwrap();
        for tier in json["tiers"].as_array().unwrap() {
            let on_it = |p: &&serde_json::Value| p["items"].as_array().unwrap().contains(&tier["id"]);
            let sum: f64 = panels.iter().filter(on_it).map(|p| number(p, "/area_m2")).sum();
            prop_assert!((sum - number(tier, "/area_m2")).abs() <= 1e-7, "{sum} of {tier}");
            let face = number(tier, "/riser_m") * number(tier, "/height_m").abs();
            prop_assert!((face - number(&json, "/area/faces_m2")).abs() <= 1e-6, "{face} in {json}");
        }
        let without = Floor { tier: None, ..floor };
        let bare = takeoff(&without.sketch("metric", "", 1.0));
        for pointer in ["/area/net_m2", "/totals/chase_m", "/totals/crack_m"] {
            let (p, q) = (number(&json, pointer), number(&bare, pointer));
            prop_assert!((p - q).abs() <= 1e-6, "{pointer}: {p} and {q}");
        }
    }

    #[test]
    fn splitting_a_floor_adds_up(
        at in 1.0..4.0f64, joint in 0.5..5.5f64, post in (0.6..4.0f64, 0.6..5.0f64),
    ) {
        let part = |from: f64, to: f64| Floor {
            outline: vec![(from, 0.0), (to, 0.0), (to, 6.0), (from, 6.0)],
            joints: vec![vec![(0.0, joint), (5.0, joint)]],
            cracks: Vec::new(),
            posts: Vec::new(),
            spalls: Vec::new(),
            hollow: Vec::new(),
            tier: None,
        };
        let mut whole = part(0.0, 5.0);
        let mut halves = [part(0.0, at), part(at, 5.0)];
        // A post in one of the halves, clear of the cut.
        if (post.0 - at).abs() > 0.3 {
            let post = (post, 0.2);
            whole.posts.push(post);
            halves[usize::from(post.0.0 > at)].posts.push(post);
        }
        let whole = takeoff(&whole.sketch("metric", "", 1.0));
        let halves = halves.map(|h| takeoff(&h.sketch("metric", "", 1.0)));
        for pointer in ["/area/gross_m2", "/area/net_m2", "/totals/chase_m"] {
            let sum = number(&halves[0], pointer) + number(&halves[1], pointer);
            prop_assert!((sum - number(&whole, pointer)).abs() <= 1e-5, "{pointer}");
        }
    }
}
