//! The works of the demonstration garage, each reckoned by hand from its takeoff.

use super::*;
use crate::trade::Key;

const GARAGE: &str = include_str!("../../sketches/harrow-lane-garage.yaml");

fn floor(sketch: &str) -> crate::floor::Survey {
    let (parsed, found) = crate::sketch::parse(sketch);
    let parsed = parsed.unwrap_or_else(|| panic!("{found:?}"));
    crate::survey::survey(parsed, crate::shop::built_in(), Vec::new()).expect("a floor")
}

fn list(sketch: &str) -> Vec<Work> {
    let floor = floor(sketch);
    let facts = floor.facts();
    works(&facts)
}

#[test]
fn the_garage_by_hand() {
    let all = list(GARAGE);
    let names: Vec<&str> = all.iter().map(|work| work.name.as_str()).collect();
    assert_eq!(
        names,
        [
            "degrease",
            "saw joints",
            "cut out and patch",
            "chase cracks",
            "grind steps by hand",
            "grind the floor",
            "detail joints by hand",
            "clean joints and patches",
            "fill joints",
            "fill cracks",
            "shave filler",
            "grind edges by hand",
            "cut and key termination",
            "prepare faces",
            "mask and hang film",
            "grind over joints and patches",
            "vacuum and wipe",
            "primer",
            "base coat, flake",
            "scrape and vacuum flake",
            "top coat, grit",
        ]
    );
    let of = |kind: Kind| {
        let found = all.iter().find(|work| work.kind == kind);
        found.unwrap_or_else(|| panic!("{}", kind.name()))
    };
    for (kind, minutes, fixed) in [
        // 14.0 ft² of oil at 60 ft²/h; 15 min to set up, 30 min to dwell.
        (Kind::Degrease, 14.0, 45.0),
        // J1, 24' 4" with a strip, 7/16" wide: two passes of a 1/4" blade, 48.7 ft at 60 ft/h.
        (Kind::SawJoints, 48.7, 15.0),
        // R1 0.25 ft² at 1.5 ft²/h; S1 and S3 0.306 ft² skimmed at 10 ft²/h.
        (Kind::Patch, 10.0 + 1.8, 20.0),
        // C1, 2 ft at 40 ft/h.
        (Kind::ChaseCracks, 3.0, 10.0),
        // 4 ft at 15 ft/h; 13.9 in³ at 100 in³/h are 8.3 min, and the slower counts.
        (Kind::GrindSteps, 16.0, 10.0),
        // J2 by hand all along, 22.0 ft, and 0.75 ft of J1, with strips: at 18 ft/h.
        (Kind::DetailJoints, 75.8, 0.0),
        // 1.14 gal and 10 % are 4.75 L at 9 L/h; 47.1 ft topped off at 600 ft/h.
        (Kind::FillJoints, 31.7 + 4.7, 15.0),
        // 10.3 ft at 45 ft/h.
        (Kind::FillCracks, 13.8, 0.0),
        // 47.1 ft at 150 ft/h.
        (Kind::Shave, 18.8, 0.0),
        // The edge of 101.9 ft less 19.8 ft of termination, 82.1 ft at 50 ft/h.
        (Kind::GrindEdges, 98.5, 0.0),
        (Kind::CutTermination, 29.8, 10.0),
        // 8.0 ft² at 40 ft²/h.
        (Kind::PrepareFaces, 12.0, 15.0),
        // 19.8 ft of termination and 16 ft along the curb, at 150 ft/h.
        (Kind::Mask, 14.3, 0.0),
        // 57.4 ft of joint and crack by a head of 30", and R1: 143.7 ft² at 250 ft²/h.
        (Kind::GrindOver, 34.5, 0.0),
        // 553.4 ft² less 15.5 ft² of hand edging and the 143.7 ft²: 394.2 ft² at 250 ft²/h.
        (Kind::GrindFloor, 94.6, 15.0),
        // 553.4 ft² at 1500 ft²/h.
        (Kind::Vacuum, 22.1, 0.0),
    ] {
        let work = of(kind);
        let (unit, set) = (work.unit_s / 60.0, work.fixed_s / 60.0);
        assert!((unit - minutes).abs() < 0.15, "{}: {unit}", work.name);
        assert!((set - fixed).abs() < 1e-9, "{}: {set}", work.name);
    }
    assert_eq!(of(Kind::SawJoints).items, ["J1"]);
    assert_eq!(of(Kind::Patch).items, ["R1", "S1", "S3"]);
}

/// 561.4 ft² laid by two at 800 ft²/h take 42.1 min, flakes by one at 600 ft²/h 56.1 min. Two
/// workers share the throwing, 42.1 + 28.1; a third throws beside them, so that the longer counts;
/// one alone lays for twice as long and throws it all.
#[test]
fn who_throws_the_flakes() {
    let floor = floor(GARAGE);
    for (crew, hands, minutes) in [(1, 1, 140.4), (2, 2, 70.2), (3, 3, 56.1), (5, 3, 56.1)] {
        let facts = Facts { crew, ..floor.facts() };
        let all = works(&facts);
        let base = all.iter().find(|work| work.name == "base coat, flake");
        let base = base.expect("a base coat");
        assert_eq!(base.hands, hands, "{crew} workers");
        assert!((base.unit_s / 60.0 - minutes).abs() < 0.1, "{crew}: {}", base.unit_s / 60.0);
    }
}

/// Every record of the garage that calls for something is an item of a work.
#[test]
fn no_record_without_a_work() {
    let all = list(GARAGE);
    let said: Vec<&str> =
        all.iter().flat_map(|work| work.items.iter().map(String::as_str)).collect();
    for item in ["J1", "J2", "C1", "C2", "S1", "R1", "S3", "B1", "L1"] {
        assert!(said.contains(&item), "{item}");
    }
}

#[test]
fn kinds_of_the_shop_book_are_timed() {
    let shop = crate::shop::built_in();
    for kind in Kind::all() {
        for (key, _) in crate::trade::row(kind).keys {
            let value = shop.days.works.get(kind, *key);
            let may_be_nothing = matches!(key, Key::HardLess);
            assert!(value > 0.0 || may_be_nothing, "{}: {}", kind.name(), key.word());
        }
    }
}

/// The part of a spall that lies in the patch of another is mended there.
#[test]
fn skimmed_is_what_lies_in_no_patch() {
    let sketch = "slabwalk: 1
job: {name: Shed}
slab: {outline: [[0, 0], [20', 0], [20', 16'], [0, 16']]}
spalls:
  - {id: S1, box: {corner: [100\", 100\"], size: [10\", 10\"]}, depth: 1}
  - {id: S2, box: {corner: [110\", 104\"], size: [30\", 2\"]}, depth: 1/4}
";
    let right = floor(sketch).takeoff.patches[0].rect.corners().map(|p| p.x);
    let right = right.into_iter().fold(0.0, f64::max) / crate::quantity::M_PER_IN;
    let skimmed = list(sketch).into_iter().flat_map(|work| work.parts);
    let skimmed: Vec<f64> =
        skimmed.filter(|part| part.key == Key::Skim).map(|part| part.quantity).collect();
    let inch2 = crate::quantity::M_PER_IN.powi(2);
    assert_eq!(skimmed.len(), 1);
    assert!(right > 110.5 && right < 139.0, "{right}");
    assert!((skimmed[0] - (140.0 - right) * 2.0 * inch2).abs() < 1e-6, "{skimmed:?} {right}");
}
