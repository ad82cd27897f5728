//! The records of joints, cracks, spalls, patches and steps.

use serde::Serialize;

use crate::report::Report;
use crate::takeoff::words;
use crate::takeoff::{Patch, SpallRepair, SpallWork};

#[derive(Serialize)]
pub struct SpallJson<'a> {
    id: &'a str,
    area_m2: f64,
    volume_l: f64,
    patch: Option<SpallPatchJson<'a>>,
    repair: &'static str,
    joint: Option<&'a str>,
}

/// The patch a spall belongs to, as it stands in the record of the spall.
#[derive(Serialize)]
struct SpallPatchJson<'a> {
    id: &'a str,
    length_m: f64,
    width_m: f64,
    area_m2: f64,
    depth_mm: f64,
    spalls: Vec<&'a str>,
}

impl<'a> SpallJson<'a> {
    pub fn new(report: &Report<'a>, spall: &'a SpallWork) -> Self {
        let takeoff = report.takeoff;
        let (patch, joint) = match spall.repair {
            SpallRepair::Patch(i) => (takeoff.patches.get(i), None),
            SpallRepair::WithJoint(i) => (None, takeoff.joints.get(i)),
            SpallRepair::Leave | SpallRepair::Skim => (None, None),
        };
        let in_record = |patch: &'a Patch| SpallPatchJson {
            id: &patch.id,
            length_m: patch.length_m,
            width_m: patch.width_m,
            area_m2: patch.area_m2,
            depth_mm: patch.depth_mm,
            spalls: report.spall_ids(&patch.spalls),
        };
        Self {
            id: &spall.id,
            area_m2: spall.area_m2,
            volume_l: spall.volume_l,
            patch: patch.map(in_record),
            repair: words::spall_repair(spall.repair),
            joint: joint.map(|joint| joint.id.as_str()),
        }
    }
}

#[derive(Serialize)]
pub struct PatchJson<'a> {
    id: &'a str,
    spalls: Vec<&'a str>,
    length_m: f64,
    width_m: f64,
    area_m2: f64,
    depth_mm: f64,
    volume_l: f64,
    center_m: [f64; 2],
    angle_deg: f64,
}

impl<'a> PatchJson<'a> {
    pub fn new(report: &Report<'a>, patch: &'a Patch) -> Self {
        Self {
            id: &patch.id,
            spalls: report.spall_ids(&patch.spalls),
            length_m: patch.length_m,
            width_m: patch.width_m,
            area_m2: patch.area_m2,
            depth_mm: patch.depth_mm,
            volume_l: patch.volume_l,
            center_m: [patch.rect.center.x, patch.rect.center.y],
            angle_deg: patch.rect.angle.to_degrees(),
        }
    }
}
