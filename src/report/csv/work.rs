//! Rows about joints, cracks, spalls, patches and steps.

use super::Sheet;
use crate::quantity::write;
use crate::report::Report;
use crate::takeoff::words;
use crate::takeoff::{CrackPortion, JointWork, LooseRepair, SpallRepair};

pub fn joints(sheet: &mut Sheet, report: &Report) {
    for (record, joint) in report.takeoff.joints_of(report.slab) {
        sheet.about("joint", &joint.id);
        let note = record.note.as_deref();
        let (kind, treatment) = (joint.kind.word(), joint.treatment.word());
        sheet.length("length", joint.length_m, &with_note(&format!("{kind}, {treatment}"), note));
        joint_rows(sheet, joint);
    }
}

/// A remark, and what the estimator wrote.
fn with_note(remark: &str, note: Option<&str>) -> String {
    note.map_or_else(|| remark.to_owned(), |note| format!("{remark}; {note}"))
}

fn joint_rows(sheet: &mut Sheet, joint: &JointWork) {
    if joint.saw_m != 0.0 || joint.hand_m != 0.0 {
        sheet.length("sawn", joint.saw_m, "");
        let all = if joint.by_hand { "followed by hand all along" } else { "" };
        sheet.length("by hand", joint.hand_m, all);
        sheet.count("ends by hand", joint.hand_ends, "");
    }
    if joint.buried_m != 0.0 {
        sheet.length("buried", joint.buried_m, "opened first");
    }
    if joint.chase_width_mm != 0.0 {
        sheet.small("chase width", joint.chase_width_mm, "");
        sheet.small("chase depth", joint.chase_depth_mm, "");
        sheet.liquid("filler", joint.fill_l, "in place");
    }
    if joint.sealant_width_mm != 0.0 {
        sheet.small("seal width", joint.sealant_width_mm, "");
        sheet.small("seal depth", joint.sealant_depth_mm, "");
        sheet.liquid("sealant", joint.sealant_l, "in place");
    }
    if let Some(rod) = joint.rod_mm {
        sheet.small("backer rod", rod, "");
    }
    if joint.widen_m != 0.0 {
        sheet.length("widened", joint.widen_m, "by hand, for rod and sealant");
    }
    if joint.removed_l != 0.0 {
        sheet.solid("cut for rod and sealant", joint.removed_l, "");
    }
}

pub fn cracks(sheet: &mut Sheet, report: &Report) {
    for (record, crack) in report.takeoff.cracks_of(report.slab) {
        sheet.about("crack", &crack.id);
        sheet.length("length", crack.length_m, record.note.as_deref().unwrap_or_default());
        for (k, portion) in crack.portions.iter().enumerate() {
            portion_rows(sheet, k + 1, portion);
        }
    }
}

fn portion_rows(sheet: &mut Sheet, number: usize, portion: &CrackPortion) {
    let what = |what: &str| format!("portion {number} {what}");
    let length = |m: f64, sheet: &Sheet| write::length(m, sheet.units);
    let (from, to) = (length(portion.from_m, sheet), length(portion.to_m, sheet));
    let note = format!("{}, from {from} to {to}", portion.treatment.word());
    sheet.length(&what("length"), portion.length_m, &note);
    sheet.small(&what("width"), portion.width_mm, "");
    if portion.chase_width_mm != 0.0 {
        sheet.small(&what("chase width"), portion.chase_width_mm, "");
    }
    if portion.depth_mm != 0.0 {
        sheet.small(&what("depth"), portion.depth_mm, "");
    }
    if portion.fill_l != 0.0 {
        sheet.liquid(&what("resin"), portion.fill_l, "in place");
    }
    if portion.sealant_width_mm != 0.0 {
        sheet.small(&what("seal width"), portion.sealant_width_mm, "");
        sheet.small(&what("seal depth"), portion.sealant_depth_mm, "");
    }
    if portion.sealant_l != 0.0 {
        sheet.liquid(&what("sealant"), portion.sealant_l, "in place");
    }
    if let Some(rod) = portion.rod_mm {
        sheet.small(&what("backer rod"), rod, "");
    }
    if portion.widen_m != 0.0 {
        let widened = "by hand, for rod and sealant";
        sheet.length(&what("widened"), portion.widen_m, widened);
        sheet.solid(&what("cut for rod and sealant"), portion.removed_l, "");
    }
}

pub fn spalls(sheet: &mut Sheet, report: &Report) {
    for (record, spall) in report.takeoff.spalls_of(report.slab) {
        sheet.about("spall", &spall.id);
        let with = match &spall.repair {
            SpallRepair::Leave | SpallRepair::Skim { .. } => None,
            SpallRepair::Patch { id, .. } | SpallRepair::WithJoint { id, .. } => Some(id),
        };
        let repair = words::spall_repair(&spall.repair).replace('-', " ");
        let repair = with.map_or(repair.clone(), |id| format!("{repair} {id}"));
        let note = with_note(&repair, record.note.as_deref());
        sheet.area("area", spall.area_m2, &note);
        sheet.small("depth", record.depth * 1000.0, "");
        match &spall.repair {
            SpallRepair::WithJoint { volume_l, .. } => {
                sheet.liquid("filler", *volume_l, "in place")
            }
            mortar => sheet.solid("mortar", mortar.volume_l(), "in place"),
        }
    }
}

pub fn delaminations(sheet: &mut Sheet, report: &Report) {
    for (record, loose) in report.takeoff.delaminations_of(report.slab) {
        sheet.about("delamination", &loose.id);
        let repair = loose.repair.treatment().word().replace('-', " ");
        let repair = match &loose.repair {
            LooseRepair::Patch { id, .. } => format!("{repair} {id}"),
            LooseRepair::Leave | LooseRepair::Inject(_) => repair,
        };
        sheet.area("area", loose.area_m2, &with_note(&repair, record.note.as_deref()));
        let assumed = if loose.assumed { "assumed" } else { "" };
        sheet.small("depth", loose.depth_m * 1000.0, assumed);
        match &loose.repair {
            LooseRepair::Leave => {}
            LooseRepair::Patch { volume_l, .. } => sheet.solid("mortar", *volume_l, "in place"),
            LooseRepair::Inject(injection) => {
                sheet.area("injected", injection.area_m2, "");
                sheet.count("ports", injection.ports, "");
                sheet.liquid("resin", injection.resin_l, "in place");
            }
        }
    }
}

pub fn patches(sheet: &mut Sheet, report: &Report) {
    for patch in &report.takeoff.patches {
        sheet.about("patch", &patch.id);
        let around = format!("around {}", patch.ids().collect::<Vec<_>>().join(" "));
        sheet.small("length", patch.length_m * 1000.0, &around);
        sheet.small("width", patch.width_m * 1000.0, "");
        sheet.area("area", patch.area_m2, "");
        sheet.small("depth", patch.depth_mm, "");
        sheet.solid("mortar", patch.volume_l, "in place");
    }
}

pub fn steps(sheet: &mut Sheet, report: &Report) {
    for (record, step) in report.takeoff.steps_of(report.slab) {
        sheet.about("step", &step.id);
        let note = record.note.as_deref();
        let along = record.along.as_ref().map(|id| format!("along {id}")).unwrap_or_default();
        sheet.small("highest", step.max_step_mm, &with_note(&along, note));
        sheet.length("by hand", step.hand_length_m, "");
        sheet.area("band", step.hand_area_m2, "by the formula");
        sheet.solid("ground off", step.removed_l, "");
        for (k, stretch) in step.stretches.iter().enumerate() {
            sheet.length(&format!("stretch {} from", k + 1), stretch.from_m, "");
            sheet.length(&format!("stretch {} to", k + 1), stretch.to_m, "");
        }
    }
}
