//! How areas, edges, panels, zones and conditions were reckoned.

use super::patch::by_shape;
use super::{Floor, Say, Told};
use crate::quantity::{M2_PER_FT2, write};
use crate::slab::{Blemish, MoistureTest, Panel, Shape, Tier, Zone};
use crate::takeoff::conditions::{FIRST_TESTS, MAGNUS_A, MAGNUS_B, TEST_AREA};
use crate::takeoff::told::sum;
use crate::takeoff::{area, cove};

pub(super) fn areas(floor: &Floor) -> Vec<String> {
    let (say, area) = (floor.say, &floor.takeoff.area);
    let mut lines = vec![format!("Gross = area inside the outline = {}.", say.area(area.gross_m2))];
    if area.keep_out_m2 != 0.0 {
        lines.push(taken_out(floor, "Keep-outs", &floor.slab.keep_outs, area.keep_out_m2));
    }
    if area.uncoated_m2 != 0.0 {
        lines.push(taken_out(floor, "Uncoated", &floor.slab.uncoated, area.uncoated_m2));
    }
    lines.push(format!(
        "Net = {} − {} − {} = {}.",
        say.area(area.gross_m2),
        say.area(area.keep_out_m2),
        say.area(area.uncoated_m2),
        say.area(area.net_m2)
    ));
    for face in &floor.slab.faces {
        let (length, height) = (face.path.length(), face.height_m);
        lines.push(format!(
            "Face {} = {} × {} = {}.",
            face.name.as_deref().unwrap_or("without a name"),
            say.length(length),
            say.small(height),
            say.area(length * height)
        ));
        if let Some(radius) = face.cove_m {
            let (length, litres) = cove(face);
            lines.push(format!(
                "Cove at its foot = (1 − π/4) × {}² × {} = {}.",
                say.small(radius),
                say.length(length),
                say.solid(litres)
            ));
        }
    }
    lines.push(format!(
        "Coated = net {} + faces {} = {}.",
        say.area(area.net_m2),
        say.area(area.faces_m2),
        say.area(area.coated_m2)
    ));
    lines
}

/// What some zones take out of the floor, beside the sum of their own areas.
fn taken_out(floor: &Floor, name: &str, zones: &[Zone], taken_m2: f64) -> String {
    let say = floor.say;
    let parts = sum(zones.iter().map(|z| (z.id.as_str(), z.shape.area_m2)), |a| say.area(a));
    let whole: f64 = zones.iter().map(|z| z.shape.area_m2).sum();
    // One part in a hundred thousand is what flattened arcs may be off by.
    let plain = (whole - taken_m2).abs() <= 1e-5 * whole;
    let note = if plain { "" } else { ", less what overlaps or lies outside" };
    format!("{name} = {parts}{note} = {}.", say.area(taken_m2))
}

pub(super) fn edge(floor: &Floor) -> Vec<String> {
    Told::by(floor.say, |told| (area::edge(floor.slab, told), area::termination(floor.slab, told)))
}

pub(super) fn hand_edge(floor: &Floor) -> Vec<String> {
    let (say, rules) = (floor.say, &floor.shop.grinding);
    let area = &floor.takeoff.area;
    vec![
        format!(
            "The grinder's round head, {} across (grinding.head), stays {} (grinding.edge_gap) off every wall, doorway and keep-out that isn't flush{}.",
            say.small(rules.head.m()),
            say.small(rules.edge_gap.m()),
            if floor.slab.risers.is_empty() { "" } else { ", and off both sides of every riser" }
        ),
        format!(
            "It reaches {} of the net {}; the rest is hand work: {} − {} = {}.",
            say.area(area.net_m2 - area.hand_edge_m2),
            say.area(area.net_m2),
            say.area(area.net_m2),
            say.area(area.net_m2 - area.hand_edge_m2),
            say.area(area.hand_edge_m2)
        ),
    ]
}

pub(super) fn closure(floor: &Floor) -> Vec<String> {
    let Some(closure) = floor.takeoff.closure else {
        return Vec::new();
    };
    let say = floor.say;
    let mut lines = vec![
        format!(
            "The walk of {} comes back {} east and {} north of its start.",
            say.length(closure.walked_m),
            say.small(closure.east_m),
            say.small(closure.north_m)
        ),
        format!(
            "Misclosure = the square root of ({})² + ({})² = {}.",
            say.small(closure.east_m),
            say.small(closure.north_m),
            say.small(closure.misclosure_m)
        ),
    ];
    if closure.ratio() > 0.0 {
        lines.push(format!(
            "Ratio = {} / {} = 1 in {}.",
            say.small(closure.misclosure_m),
            say.length(closure.walked_m),
            write::grouped(1.0 / closure.ratio(), 0)
        ));
    }
    lines.push(if closure.shared_out {
        "It is shared out along the runs in proportion to their length.".to_owned()
    } else {
        "That is too little to be shared out along the runs.".to_owned()
    });
    lines
}

fn shape(floor: &Floor, shape: &Shape) -> String {
    by_shape(floor, shape, "", Say::length)
}

pub(super) fn keep_out(floor: &Floor, zone: &Zone) -> Vec<String> {
    let say = floor.say;
    let what = zone.what.as_deref().unwrap_or("keep-out");
    let flush = if zone.flush {
        "It is flush: machines run over it."
    } else {
        "It stands up: the saw and the grinder keep off it."
    };
    vec![
        format!("{} ({what}): {}.", zone.id, shape(floor, &zone.shape)),
        flush.to_owned(),
        format!(
            "All keep-outs together take {} out of the floor; overlaps count once.",
            say.area(floor.takeoff.area.keep_out_m2)
        ),
    ]
}

pub(super) fn uncoated(floor: &Floor, zone: &Zone) -> Vec<String> {
    let what = zone.what.as_deref().unwrap_or("uncoated part");
    vec![
        format!("{} ({what}): {}.", zone.id, shape(floor, &zone.shape)),
        format!(
            "All uncoated parts together take {} out of the floor; overlaps count once.",
            floor.say.area(floor.takeoff.area.uncoated_m2)
        ),
    ]
}

pub(super) fn tier(floor: &Floor, tier: &Tier) -> Vec<String> {
    let (say, slab) = (floor.say, floor.slab);
    let what = tier.what.as_deref().unwrap_or("tier");
    let mut lines = vec![format!(
        "{} ({what}) lies {} than the main floor; {} of it are coated.",
        tier.id,
        tier.higher(slab.units),
        say.area(tier.area_m2)
    )];
    for riser in slab.risers.iter().filter(|riser| riser.tier == tier.id) {
        let length = riser.path.length();
        let is = if riser.coated { "coated" } else { "left as it is" };
        lines.push(format!(
            "Riser, {is} = {} × {} = {}.",
            say.length(length),
            say.small(riser.step_m),
            say.area(length * riser.step_m)
        ));
    }
    lines.push(
        "Foot and head of a riser are ground by hand; the saw stops short of its foot.".into(),
    );
    lines
}

pub(super) fn blemish(floor: &Floor, blemish: &Blemish) -> Vec<String> {
    vec![
        format!("{} ({}): {}.", blemish.id, blemish.what.word(), shape(floor, &blemish.shape)),
        format!("Of it on the coated floor: {}.", floor.say.area(blemish.area_m2)),
    ]
}

pub(super) fn panel(floor: &Floor, panel: &Panel) -> Vec<String> {
    let say = floor.say;
    let mut lines = vec![
        format!("{} holds {} of floor.", panel.id, say.area(panel.area_m2)),
        format!(
            "Its smallest rectangle is {} × {}: aspect = {} / {} = {}.",
            say.length(panel.length_m),
            say.length(panel.width_m),
            say.length(panel.length_m),
            say.length(panel.width_m),
            write::trimmed(panel.aspect(), 3)
        ),
    ];
    if !panel.joints.is_empty() {
        lines.push(format!("Bounded by {}.", panel.joints.join(", ")));
    }
    if !panel.items.is_empty() {
        lines.push(format!("Recorded in it: {}.", panel.items.join(", ")));
    }
    if panel.crack_m > 0.0 {
        lines.push(format!("Crack in it: {}.", say.length(panel.crack_m)));
    }
    lines
}

pub(super) fn moisture(floor: &Floor, test: &MoistureTest) -> Vec<String> {
    let limits = &floor.shop.moisture.limits;
    let key = match floor.shop.is_mitigated() {
        true => "moisture.mitigation",
        false => "moisture",
    };
    let mut lines = Vec::new();
    if let Some(rh) = test.rh {
        let (read, limit) = (write::percent(rh), write::percent(limits.rh.one()));
        lines.push(format!(
            "{} reads {read} relative humidity in the slab; the limit is {limit} ({key}.rh_limit).",
            test.id
        ));
    }
    if let Some(mver) = test.mver {
        let (read, limit) = (write::trimmed(mver, 2), write::trimmed(limits.mver, 2));
        lines.push(format!(
            "{} reads {read} lb per 1000 ft² in 24 h; the limit is {limit} lb ({key}.mver_limit).",
            test.id
        ));
    }
    if lines.is_empty() {
        lines.push(format!("{} has no reading.", test.id));
    }
    lines
}

pub(super) fn conditions(floor: &Floor) -> Vec<String> {
    let (say, found) = (floor.say, &floor.takeoff.conditions);
    let each = write::trimmed(TEST_AREA / M2_PER_FT2, 0);
    let mut lines = vec![format!(
        "Moisture tests wanted: {FIRST_TESTS} for the first {each} ft² and one for each further {each} ft² or part, of one kind; {} of net floor want {}; taken {} of ASTM F2170 and {} of ASTM F1869, of which the greater counts.",
        say.area(floor.takeoff.area.net_m2),
        found.moisture_tests_wanted,
        found.rh_tests,
        found.mver_tests
    )];
    if let Some(dew) = found.dew_point_c {
        lines.push(format!(
            "Dew point of the air by Magnus ({MAGNUS_A}, {MAGNUS_B} °C) = {}.",
            say.temperature(dew)
        ));
        if let Some(spread) = found.spread_c {
            lines.push(format!(
                "Slab less dew point = {} − {} = {}.",
                say.temperature(dew + spread),
                say.temperature(dew),
                say.difference(spread)
            ));
        }
    }
    lines
}

pub(super) fn levels(floor: &Floor) -> Vec<String> {
    let Some(levels) = &floor.takeoff.levels else {
        return Vec::new();
    };
    let say = floor.say;
    let mut lines = Vec::new();
    if let Some(fall) = levels.fall {
        lines.push(format!(
            "The plane that fits the {} heights best falls {} in 100; the farthest height lies {} off it.",
            floor.slab.levels.len(),
            write::trimmed(fall.slope * 100.0, 3),
            say.small(fall.worst_m)
        ));
    }
    for low in &levels.ponding {
        lines.push(format!(
            "At x {}, y {} the floor lies {} below the plane through its neighbors: it may pond.",
            say.length(low.level.at.x),
            say.length(low.level.at.y),
            say.small(low.below_m)
        ));
    }
    for (i, (_, row)) in levels.rows.iter().enumerate() {
        if let (Some(ff), Some(fl)) = (row.ff, row.fl) {
            let (ff, fl) = (write::fixed(ff, 1), write::fixed(fl, 1));
            let method = crate::takeoff::flatness_method(floor.slab.units);
            lines.push(format!("Row {} by {method}: FF {ff}, FL {fl}.", i + 1));
        }
    }
    if lines.is_empty() {
        lines.push("Too few heights for a plane or for flatness numbers.".to_owned());
    }
    lines
}
