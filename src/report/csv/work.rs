//! Rows about joints, cracks, spalls, patches and steps.

use super::Sheet;
use crate::quantity::write;
use crate::report::Report;
use crate::takeoff::words;
use crate::takeoff::{Chase, CrackPortion, JointRepair, JointWork, LooseRepair, Seal, SpallRepair};

pub fn joints(sheet: &mut Sheet, report: &Report) {
    for (record, joint) in report.takeoff.joints_of(report.slab) {
        sheet.about("joint", &joint.id);
        let note = record.note.as_deref();
        let (kind, treatment) = (joint.kind.word(), joint.treatment().word());
        sheet.length("length", joint.length_m, &with_note(&format!("{kind}, {treatment}"), note));
        joint_rows(sheet, joint);
    }
}

/// A remark, and what the estimator wrote.
fn with_note(remark: &str, note: Option<&str>) -> String {
    note.map_or_else(|| remark.to_owned(), |note| format!("{remark}; {note}"))
}

fn joint_rows(sheet: &mut Sheet, joint: &JointWork) {
    if let Some(chase) = joint.chase().filter(|_| joint.length_m != 0.0) {
        sheet.length("sawn", chase.saw_m, "");
        let all = if chase.by_hand { "followed by hand all along" } else { "" };
        sheet.length("by hand", chase.hand_m(), all);
        sheet.count("ends by hand", chase.hand_ends(), "");
    }
    if joint.buried_m != 0.0 {
        sheet.length("buried", joint.buried_m, "opened first");
    }
    match &joint.repair {
        JointRepair::Leave => {}
        JointRepair::Fill(Chase { filling, .. }) => {
            sheet.small("chase width", filling.width_m, "");
            sheet.small("chase depth", filling.depth_m, "");
            sheet.liquid("filler", filling.volume_l, "in place");
        }
        JointRepair::Honor(seal) => seal_rows(sheet, "", seal),
    }
}

/// Rod and sealant of a joint or of a portion of a crack; `of` stands before what it is.
fn seal_rows(sheet: &mut Sheet, of: &str, seal: &Seal) {
    sheet.small(&format!("{of}seal width"), seal.width_m, "");
    sheet.small(&format!("{of}seal depth"), seal.depth_m, "");
    if of.is_empty() || seal.sealant_l != 0.0 {
        sheet.liquid(&format!("{of}sealant"), seal.sealant_l, "in place");
    }
    if let Some(rod) = seal.rod_m {
        sheet.small(&format!("{of}backer rod"), rod, "");
    }
    if seal.widen_m != 0.0 {
        sheet.length(&format!("{of}widened"), seal.widen_m, "by hand, for rod and sealant");
    }
    if seal.removed_l != 0.0 {
        sheet.solid(&format!("{of}cut for rod and sealant"), seal.removed_l, "");
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
    let of = format!("portion {number} ");
    let what = |what: &str| format!("{of}{what}");
    let length = |m: f64, sheet: &Sheet| write::length(m, sheet.units);
    let (from, to) = (length(portion.from_m, sheet), length(portion.to_m, sheet));
    let note = format!("{}, from {from} to {to}", portion.treatment().word());
    sheet.length(&what("length"), portion.length_m, &note);
    sheet.small(&what("width"), portion.width_m, "");
    if let Some(groove) = portion.chased() {
        sheet.small(&what("chase width"), groove.width_m, "");
    }
    if let Some(filling) = portion.filling() {
        sheet.small(&what("depth"), filling.depth_m, "");
        if filling.volume_l != 0.0 {
            sheet.liquid(&what("resin"), filling.volume_l, "in place");
        }
    }
    if let Some(seal) = portion.seal() {
        seal_rows(sheet, &of, seal);
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
        sheet.small("depth", record.depth, "");
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
        sheet.small("depth", loose.depth_m, assumed);
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
        sheet.small("length", patch.length_m, &around);
        sheet.small("width", patch.width_m, "");
        sheet.area("area", patch.area_m2, "");
        sheet.small("depth", patch.depth_mm / 1000.0, "");
        sheet.solid("mortar", patch.volume_l, "in place");
    }
}

pub fn steps(sheet: &mut Sheet, report: &Report) {
    for (record, step) in report.takeoff.steps_of(report.slab) {
        sheet.about("step", &step.id);
        let note = record.note.as_deref();
        let along = record.along.as_ref().map(|id| format!("along {id}")).unwrap_or_default();
        sheet.small("highest", step.max_step_mm / 1000.0, &with_note(&along, note));
        sheet.length("by hand", step.hand_length_m, "");
        sheet.area("band", step.hand_area_m2, "by the formula");
        sheet.solid("ground off", step.removed_l, "");
        for (k, stretch) in step.stretches.iter().enumerate() {
            sheet.length(&format!("stretch {} from", k + 1), stretch.from_m, "");
            sheet.length(&format!("stretch {} to", k + 1), stretch.to_m, "");
        }
    }
}
