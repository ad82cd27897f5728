//! How a spall and a patch were reckoned.

use super::Floor;
use crate::quantity::write;
use crate::slab::{Form, Spall};
use crate::takeoff::spalls::{
    MERGE, PATCH_LENGTH, PATCH_WIDTH, WITH_JOINT_LENGTH, WITH_JOINT_WIDTH,
};
use crate::takeoff::{Patch, SpallRepair, SpallWork};

pub(super) fn spall(floor: &Floor, work: &SpallWork, record: &Spall) -> Vec<String> {
    let mut lines = vec![format!("{}: {}.", work.id, area(floor, work, record))];
    lines.extend(match work.repair {
        SpallRepair::Skim => skim(floor, work, record),
        SpallRepair::Patch(i) => cut_out(floor, work, record, i),
        SpallRepair::WithJoint(i) => with_joint(floor, work, record, i),
    });
    lines
}

fn skim(floor: &Floor, work: &SpallWork, record: &Spall) -> Vec<String> {
    let say = floor.say;
    let (depth, limit) = (
        say.small(record.depth),
        say.small(floor.shop.spalls.cut_out_from.m()),
    );
    let area = say.spot(work.area_m2);
    vec![
        format!("{depth} deep, less than {limit} (spalls.cut_out_from): skimmed."),
        format!(
            "Mortar in place = {area} × {depth} = {}.",
            say.solid(work.volume_l)
        ),
    ]
}

/// `index` is that of the patch.
fn cut_out(floor: &Floor, work: &SpallWork, record: &Spall, index: usize) -> Vec<String> {
    let say = floor.say;
    let (depth, limit) = (
        say.small(record.depth),
        say.small(floor.shop.spalls.cut_out_from.m()),
    );
    let patch = floor.takeoff.patches.get(index);
    let id = patch.map_or("a patch", |patch| patch.id.as_str());
    let mut lines = vec![format!(
        "{depth} deep, not less than {limit} (spalls.cut_out_from): squared and cut out as {id}."
    )];
    lines.extend(patch.map(|patch| share(floor, work, patch)));
    lines
}

/// `index` is that of the joint.
fn with_joint(floor: &Floor, work: &SpallWork, record: &Spall, index: usize) -> Vec<String> {
    let say = floor.say;
    let joint = floor.takeoff.joints.get(index);
    let id = joint.map_or("a joint", |joint| joint.id.as_str());
    let (length, width) = (say.small(WITH_JOINT_LENGTH), say.small(WITH_JOINT_WIDTH));
    let (area, depth) = (say.spot(work.area_m2), say.small(record.depth));
    vec![
        format!(
            "Shorter than {length}, narrower than {width} and on {id}: filled with that joint."
        ),
        format!(
            "Joint filler in place = {area} × {depth} = {}.",
            say.liquid(work.volume_l)
        ),
    ]
}

fn area(floor: &Floor, work: &SpallWork, record: &Spall) -> String {
    let say = floor.say;
    let result = say.spot(work.area_m2);
    match record.shape.form {
        Form::Box { width, height } => {
            format!(
                "area = {} × {} = {result}",
                say.small(width),
                say.small(height)
            )
        }
        Form::Circle { diameter, .. } => {
            format!("area = π/4 × ({})² = {result}", say.small(diameter))
        }
        Form::Polygon => format!("area of its polygon = {result}"),
        Form::Band { width } => format!("area of its band, {} wide = {result}", say.small(width)),
    }
}

/// A spall's part of the mortar of its patch.
fn share(floor: &Floor, work: &SpallWork, patch: &Patch) -> String {
    let say = floor.say;
    let spalls = &floor.takeoff.spalls;
    let volume = say.solid(work.volume_l);
    if patch.spalls.len() < 2 {
        return format!("Mortar in place = all of {} = {volume}.", patch.id);
    }
    let whole: f64 = patch
        .spalls
        .iter()
        .filter_map(|&i| spalls.get(i))
        .map(|s| s.area_m2)
        .sum();
    let (all, area) = (say.cubic(patch.volume_l), say.spot(work.area_m2));
    let whole = say.spot(whole);
    format!(
        "Its share of the mortar of {} by area = {all} × {area} / {whole} = {volume}.",
        patch.id
    )
}

pub(super) fn patch(floor: &Floor, patch: &Patch) -> Vec<String> {
    let (say, rules) = (floor.say, &floor.shop.spalls);
    let records: Vec<_> = patch
        .spalls
        .iter()
        .filter_map(|&i| floor.slab.spalls.get(i))
        .collect();
    let ids: Vec<&str> = records.iter().map(|record| record.id.as_str()).collect();
    let ids = ids.join(" and ");
    let each = if records.len() > 1 { "each of " } else { "" };
    let mut lines = vec![format!(
        "{} squares the slab around {each}{ids}: the smallest rectangle, grown by {} (spalls.extend) on every side, at least {} × {}.",
        patch.id,
        say.small(rules.extend.m()),
        say.small(PATCH_LENGTH),
        say.small(PATCH_WIDTH)
    )];
    if records.len() > 1 {
        lines.push(format!(
            "The rectangles are closer than {}: they become one.",
            say.small(MERGE)
        ));
    }
    lines.push(format!(
        "Area = {} × {} = {}.",
        say.small(patch.length_m),
        say.small(patch.width_m),
        say.spot(patch.area_m2)
    ));
    let found = records
        .iter()
        .map(|record| say.small(record.depth))
        .collect::<Vec<_>>();
    lines.push(format!(
        "Depth = the largest of {} found, {} (spalls.least_depth) = {}.",
        found.join(", "),
        say.small(rules.least_depth.m()),
        say.mm(patch.depth_mm)
    ));
    lines.push(format!(
        "Mortar in place = {} × {} = {}.",
        say.spot(patch.area_m2),
        say.mm(patch.depth_mm),
        say.solid(patch.volume_l)
    ));
    let waste = rules.waste.one();
    lines.push(format!(
        "To buy = {} × {} (spalls.waste) = {}; added to all other mortar before rounding to bags.",
        say.cubic(patch.volume_l),
        write::trimmed(1.0 + waste, 4),
        say.solid(patch.volume_l * (1.0 + waste))
    ));
    lines
}
