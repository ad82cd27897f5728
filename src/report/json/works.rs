//! The records of spalls, delaminations and patches.

use serde::Serialize;

use crate::record::Kind;
use crate::report::Report;
use crate::takeoff::words;
use crate::takeoff::{DelaminationWork, Injection, LooseRepair, Patch, SpallRepair, SpallWork};

#[derive(Serialize)]
pub struct SpallJson<'a> {
    id: &'a str,
    area_m2: f64,
    volume_l: f64,
    patch: Option<OwnPatchJson<'a>>,
    repair: &'static str,
    joint: Option<&'a str>,
}

/// The patch that mends something, as it stands in the record of that.
#[derive(Serialize)]
struct OwnPatchJson<'a> {
    id: &'a str,
    length_m: f64,
    width_m: f64,
    area_m2: f64,
    depth_mm: f64,
    spalls: Vec<&'a str>,
    delaminations: Vec<&'a str>,
}

impl<'a> OwnPatchJson<'a> {
    fn new(patch: &'a Patch) -> Self {
        Self {
            id: &patch.id,
            length_m: patch.length_m,
            width_m: patch.width_m,
            area_m2: patch.area_m2,
            depth_mm: patch.depth_mm,
            spalls: patch.ids_of(Kind::Spall).collect(),
            delaminations: patch.ids_of(Kind::Delamination).collect(),
        }
    }
}

impl<'a> SpallJson<'a> {
    pub fn new(report: &Report<'a>, spall: &'a SpallWork) -> Self {
        let takeoff = report.takeoff;
        let (patch, joint) = match &spall.repair {
            SpallRepair::Patch { id, .. } => (takeoff.patch(id), None),
            SpallRepair::WithJoint { id, .. } => (None, Some(id.as_str())),
            SpallRepair::Leave | SpallRepair::Skim { .. } => (None, None),
        };
        Self {
            id: &spall.id,
            area_m2: spall.area_m2,
            volume_l: spall.repair.volume_l(),
            patch: patch.map(OwnPatchJson::new),
            repair: words::spall_repair(&spall.repair),
            joint,
        }
    }
}

#[derive(Serialize)]
pub struct DelaminationJson<'a> {
    id: &'a str,
    area_m2: f64,
    depth_mm: f64,
    depth_assumed: bool,
    repair: &'static str,
    /// Mortar, its share of that of the patch.
    volume_l: f64,
    patch: Option<OwnPatchJson<'a>>,
    injection: Option<&'a Injection>,
}

impl<'a> DelaminationJson<'a> {
    pub fn new(report: &Report<'a>, loose: &'a DelaminationWork) -> Self {
        let (patch, volume_l) = match &loose.repair {
            LooseRepair::Patch { id, volume_l } => (report.takeoff.patch(id), *volume_l),
            LooseRepair::Leave | LooseRepair::Inject(_) => (None, 0.0),
        };
        Self {
            id: &loose.id,
            area_m2: loose.area_m2,
            depth_mm: loose.depth_m * 1000.0,
            depth_assumed: loose.assumed,
            repair: loose.repair.treatment().word(),
            volume_l,
            patch: patch.map(OwnPatchJson::new),
            injection: loose.injection(),
        }
    }
}

#[derive(Serialize)]
pub struct PatchJson<'a> {
    id: &'a str,
    spalls: Vec<&'a str>,
    delaminations: Vec<&'a str>,
    length_m: f64,
    width_m: f64,
    area_m2: f64,
    depth_mm: f64,
    volume_l: f64,
    center_m: [f64; 2],
    angle_deg: f64,
}

impl<'a> PatchJson<'a> {
    pub fn new(patch: &'a Patch) -> Self {
        Self {
            id: &patch.id,
            spalls: patch.ids_of(Kind::Spall).collect(),
            delaminations: patch.ids_of(Kind::Delamination).collect(),
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
