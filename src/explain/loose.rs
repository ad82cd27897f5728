//! How a delamination was reckoned.

use super::patch::{area, in_patches, share};
use super::{Floor, Told};
use crate::slab::Delamination;
use crate::takeoff::{DelaminationWork, Injection, LooseRepair, delaminations};

pub(super) fn delamination(
    floor: &Floor,
    work: &DelaminationWork,
    record: &Delamination,
) -> Vec<String> {
    let say = floor.say;
    let mut lines = vec![format!("{}: {}.", work.id, area(floor, &record.shape, work.area_m2))];
    if work.assumed && record.area_m2 > 0.0 {
        lines.push(format!(
            "Nobody has measured its loose layer: {} (delaminations.depth) is assumed.",
            say.small(work.depth_m)
        ));
    }
    match &work.repair {
        LooseRepair::Leave if work.area_m2 <= 0.0 => {
            lines.push("It lies where nothing is coated: nothing is done.".to_owned());
        }
        LooseRepair::Leave => lines.push("It is left as it is: nothing is done.".to_owned()),
        LooseRepair::Patch { id, volume_l } => {
            lines.push(format!("Squared and cut out as {id}."));
            let patch = floor.takeoff.patch(id);
            lines.extend(patch.map(|patch| share(floor, work.area_m2, *volume_l, patch)));
        }
        LooseRepair::Inject(injection) => lines.extend(injected(floor, work, injection)),
    }
    lines
}

fn injected(floor: &Floor, work: &DelaminationWork, injection: &Injection) -> Vec<String> {
    let (say, rules) = (floor.say, &floor.shop.delaminations);
    let mut lines = Vec::new();
    lines.extend(in_patches(floor, work.area_m2, work.area_m2 - injection.area_m2));
    lines.extend(Told::by(say, |told| {
        delaminations::injection(injection.area_m2, work.depth_m, rules, told)
    }));
    lines
}
