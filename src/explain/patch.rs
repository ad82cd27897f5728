//! How a spall and a patch were reckoned.

use super::{Floor, Say};
use crate::record::Kind;
use crate::shop::SpallRule;
use crate::slab::{Form, Shape, Spall};
use crate::takeoff::spalls::{WITH_JOINT_LENGTH, WITH_JOINT_WIDTH};
use crate::takeoff::{Patch, SpallRepair, SpallWork};

pub(super) fn spall(floor: &Floor, work: &SpallWork, record: &Spall) -> Vec<String> {
    let mut lines = vec![format!("{}: {}.", work.id, area(floor, &record.shape, work.area_m2))];
    lines.extend(match &work.repair {
        SpallRepair::Leave => vec!["It lies where nothing is coated: nothing is done.".to_owned()],
        SpallRepair::Skim => skim(floor, work, record),
        SpallRepair::Patch(id) => cut_out(floor, work, record, id),
        SpallRepair::WithJoint(id) => with_joint(floor, work, record, id),
    });
    lines
}

fn skim(floor: &Floor, work: &SpallWork, record: &Spall) -> Vec<String> {
    let say = floor.say;
    let (depth, limit) = (say.small(record.depth), say.small(floor.shop.spalls.cut_out_from.m()));
    let why = if record.depth < floor.shop.spalls.cut_out_from.m() {
        format!("{depth} deep, less than {limit} (spalls.cut_out_from): skimmed.")
    } else {
        let rules = &floor.shop.spalls;
        let (across, rule) = (say.small(rules.sizes.pop_out.m()), rule_name(rules.rule));
        format!("Not over {across} long (spalls.{rule}.pop_out): skimmed or cored.")
    };
    let mut lines = vec![why];
    lines.extend(in_patches(floor, work.area_m2, work.in_patches_m2));
    lines.push(format!(
        "Mortar in place = {} × {depth} = {}.",
        say.spot(work.area_m2 - work.in_patches_m2),
        say.solid(work.volume_l)
    ));
    lines
}

/// What of an area is mended with a patch, m² of both.
pub(super) fn in_patches(floor: &Floor, area_m2: f64, in_patches_m2: f64) -> Option<String> {
    let say = floor.say;
    (in_patches_m2 > 0.0).then(|| {
        format!(
            "{} of it lie in a patch and are mended there: {} − {} = {}.",
            say.spot(in_patches_m2),
            say.spot(area_m2),
            say.spot(in_patches_m2),
            say.spot(area_m2 - in_patches_m2)
        )
    })
}

const fn rule_name(rule: SpallRule) -> &'static str {
    match rule {
        SpallRule::Floor => "floor",
        SpallRule::Pavement => "pavement",
    }
}

/// `id` is that of the patch.
fn cut_out(floor: &Floor, work: &SpallWork, record: &Spall, id: &str) -> Vec<String> {
    let say = floor.say;
    let (depth, limit) = (say.small(record.depth), say.small(floor.shop.spalls.cut_out_from.m()));
    let rules = &floor.shop.spalls;
    let mut lines = vec![if record.depth < rules.cut_out_from.m() {
        format!("It lies in {id} and belongs to it.")
    } else {
        format!(
            "{depth} deep, not less than {limit} (spalls.cut_out_from): squared and cut out as {id}."
        )
    }];
    lines.extend(
        floor.takeoff.patch(id).map(|patch| share(floor, work.area_m2, work.volume_l, patch)),
    );
    lines
}

/// `id` is that of the joint.
fn with_joint(floor: &Floor, work: &SpallWork, record: &Spall, id: &str) -> Vec<String> {
    let say = floor.say;
    let (length, width) = (say.small(WITH_JOINT_LENGTH), say.small(WITH_JOINT_WIDTH));
    let mut lines = vec![format!(
        "Shorter than {length}, narrower than {width} and on {id}: filled with that joint."
    )];
    lines.extend(in_patches(floor, work.area_m2, work.in_patches_m2));
    lines.push(format!(
        "Joint filler in place = {} × {} = {}.",
        say.spot(work.area_m2 - work.in_patches_m2),
        say.small(record.depth),
        say.liquid(work.volume_l)
    ));
    lines
}

/// An area by its shape. `lead` stands before what is multiplied.
pub(super) fn by_shape(
    floor: &Floor,
    shape: &Shape,
    lead: &str,
    size: fn(Say, f64) -> String,
) -> String {
    let size = |m| size(floor.say, m);
    let area = floor.say.spot(shape.area_m2);
    match shape.form {
        Form::Box { width, height } => format!("{lead}{} × {} = {area}", size(width), size(height)),
        Form::Circle { diameter, .. } => format!("{lead}π/4 × ({})² = {area}", size(diameter)),
        Form::Polygon => format!("area of its polygon = {area}"),
        Form::Band { width } => format!("area of its band, {} wide = {area}", size(width)),
    }
}

/// An area by its shape, and what of it counts, m².
pub(super) fn area(floor: &Floor, shape: &Shape, counted_m2: f64) -> String {
    let all = by_shape(floor, shape, "area = ", Say::small);
    if counted_m2 < shape.area_m2 {
        let counted = floor.say.spot(counted_m2);
        return format!("{all}, of which {counted} lie in the coated floor and count");
    }
    all
}

/// The part of the mortar of a patch that one of this area has, L.
pub(super) fn share(floor: &Floor, area_m2: f64, volume_l: f64, patch: &Patch) -> String {
    let say = floor.say;
    let volume = say.solid(volume_l);
    if patch.around.len() < 2 {
        return format!("Mortar in place = all of {} = {volume}.", patch.id);
    }
    let whole: f64 = patch.around.iter().map(|mended| mended.area_m2).sum();
    let (all, area) = (say.cubic(patch.volume_l), say.spot(area_m2));
    let whole = say.spot(whole);
    format!(
        "Its share of the mortar of {} by area = {all} × {area} / {whole} = {volume}.",
        patch.id
    )
}

pub(super) fn patch(floor: &Floor, patch: &Patch) -> Vec<String> {
    let (say, rules) = (floor.say, &floor.shop.spalls);
    let records = &patch.around;
    let ids = patch.ids().collect::<Vec<_>>().join(" and ");
    let loose = &floor.shop.delaminations;
    let of = |kind| records.iter().any(|mended| mended.kind == kind);
    let (spall, hollow) = (say.small(rules.sizes.extend.m()), say.small(loose.extend.m()));
    let grown = match (of(Kind::Spall), of(Kind::Delamination)) {
        (true, true) => {
            format!(
                "{spall} around a spall and {hollow} around a delamination (delaminations.extend)"
            )
        }
        (false, true) => format!("{hollow} (delaminations.extend)"),
        (_, false) => spall,
    };
    let apart = match of(Kind::Delamination) {
        true => rules.sizes.apart.m().max(loose.apart.m()),
        false => rules.sizes.apart.m(),
    };
    let each = if records.len() > 1 { "each of " } else { "" };
    let mut lines = vec![format!(
        "{} squares the slab around {each}{ids}: the smallest rectangle, grown by {grown} on every side, at least {} × {} (spalls.{}).",
        patch.id,
        say.small(rules.sizes.length.m()),
        say.small(rules.sizes.width.m()),
        rule_name(rules.rule)
    )];
    if records.len() > 1 {
        lines.push(format!(
            "The rectangles are closer than {}, or one lies in the other: they become one.",
            say.small(apart)
        ));
    }
    let whole = patch.length_m * patch.width_m;
    lines.push(format!(
        "Area = {} × {} = {}.",
        say.small(patch.length_m),
        say.small(patch.width_m),
        say.spot(whole)
    ));
    if patch.area_m2 < whole {
        lines.push(format!(
            "{} of it lie off the coated floor or in a patch before it: {} − {} = {}.",
            say.spot(whole - patch.area_m2),
            say.spot(whole),
            say.spot(whole - patch.area_m2),
            say.spot(patch.area_m2)
        ));
    }
    let found = records.iter().map(|mended| say.small(mended.depth_m)).collect::<Vec<_>>();
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
    let others = "mortar before rounding to bags";
    let show = [Say::cubic, Say::solid];
    lines.push(say.to_buy(patch.volume_l, "spalls", rules.waste.one(), show, others));
    lines
}
