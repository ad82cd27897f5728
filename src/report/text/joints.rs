//! Joints: filled, honored, left.

use super::floor::notes;
use super::{Lengths, Page};
use crate::quantity::measure::{Column, mm, section};
use crate::quantity::{Units, write};
use crate::report::Report;
use crate::report::table::{Align, Rows};
use crate::sketch::Treatment;
use crate::takeoff::JointWork;
use crate::text::clean;

/// The three tables of joints.
pub fn sections(page: &mut Page, report: &Report) {
    filled_joints(page, report);
    honored_joints(page, report);
    left_joints(page, report);
}

/// The joints with one treatment.
fn joints<'a>(report: &Report<'a>, treatment: Treatment) -> Vec<&'a JointWork> {
    let joints = report.takeoff.joints.iter();
    joints.filter(|joint| joint.treatment == treatment).collect()
}

/// The joints' own notes, below their table.
fn joint_notes(page: &mut Page, report: &Report, works: &[&JointWork]) {
    let shown = |id: &str| works.iter().any(|work| work.id == id);
    let joints = report.slab.joints.iter().filter(|joint| shown(&joint.id));
    notes(page, joints.map(|joint| (joint.id.as_str(), joint.note.as_deref())));
}

/// The number of ends a saw can't reach, or that it isn't used at all.
fn ends_cell(joint: &JointWork) -> String {
    match (joint.by_hand, joint.hand_ends) {
        (true, _) => "all".to_owned(),
        (false, 0) => String::new(),
        (false, n) => n.to_string(),
    }
}

/// A column of sums.
fn sum(works: &[&JointWork], value: impl Fn(&JointWork) -> f64) -> f64 {
    works.iter().map(|work| value(work)).sum()
}

/// The table of the joints that are filled.
fn filled_table(works: &[&JointWork], lengths: Lengths) -> Rows {
    let units = lengths.units;
    let filler = Column::liquid(sum(works, |joint| joint.fill_l), units);
    let mut rows = Rows::new(&[
        ("Joint", Align::Left),
        ("Kind", Align::Left),
        ("Length", Align::Right),
        ("Sawn", Align::Right),
        ("By hand", Align::Right),
        ("Ends", Align::Right),
        ("Chase", Align::Right),
        ("Filler", Align::Right),
    ]);
    let cells = |joint: &JointWork| {
        [
            clean(&joint.id),
            joint.kind.word().to_owned(),
            lengths.cell(joint.length_m),
            lengths.or_blank(joint.saw_m),
            lengths.or_blank(joint.hand_m),
            ends_cell(joint),
            section(joint.chase_width_mm, joint.chase_depth_mm, units),
            filler.cell(joint.fill_l),
        ]
    };
    for joint in works {
        rows.push(cells(joint));
    }
    if works.len() > 1 {
        let ends: usize = works.iter().map(|joint| joint.hand_ends).sum();
        rows.total([
            "Total".to_owned(),
            String::new(),
            lengths.cell(sum(works, |j| j.length_m)),
            lengths.or_blank(sum(works, |j| j.saw_m)),
            lengths.or_blank(sum(works, |j| j.hand_m)),
            if ends == 0 { String::new() } else { ends.to_string() },
            String::new(),
            filler.cell(sum(works, |j| j.fill_l)),
        ]);
    }
    rows
}

fn filled_joints(page: &mut Page, report: &Report) {
    let works = joints(report, Treatment::Fill);
    page.fitted("Joints, chased and filled", report, |lengths| filled_table(&works, lengths));
    let by_hand: Vec<&str> = ids_where(&works, |joint| joint.by_hand);
    if !by_hand.is_empty() {
        page.note(&format!("Followed by hand all along: {}.", by_hand.join(", ")));
    }
    buried(page, report, &works);
    joint_notes(page, report, &works);
}

fn ids_where<'a>(works: &[&'a JointWork], holds: impl Fn(&JointWork) -> bool) -> Vec<&'a str> {
    let chosen = works.iter().filter(|work| holds(work));
    chosen.map(|work| work.id.as_str()).collect()
}

fn buried(page: &mut Page, report: &Report, works: &[&JointWork]) {
    let one = |joint: &&JointWork| {
        let length = write::length(joint.buried_m, report.slab.units);
        (joint.buried_m > 0.0).then(|| format!("{} {length}", clean(&joint.id)))
    };
    let list: Vec<String> = works.iter().filter_map(one).collect();
    if !list.is_empty() {
        page.note(&format!("Buried, to be opened first: {}.", list.join(", ")));
    }
}

/// The table of the joints that are carried through the coating.
fn honored_table(works: &[&JointWork], lengths: Lengths) -> Rows {
    let units = lengths.units;
    let sealant = Column::liquid(sum(works, |joint| joint.sealant_l), units);
    let mut rows = Rows::new(&[
        ("Joint", Align::Left),
        ("Kind", Align::Left),
        ("Length", Align::Right),
        ("Widen to", Align::Right),
        ("Seal", Align::Right),
        ("Rod", Align::Right),
        ("Sealant", Align::Right),
    ]);
    for joint in works {
        rows.push([
            clean(&joint.id),
            joint.kind.word().to_owned(),
            lengths.cell(joint.length_m),
            widen_cell(joint, units),
            section(joint.sealant_width_mm, joint.sealant_depth_mm, units),
            joint.rod_mm.map_or("none fits".to_owned(), |rod| mm(rod, units)),
            sealant.cell(joint.sealant_l),
        ]);
    }
    if works.len() > 1 {
        rows.total([
            "Total".to_owned(),
            String::new(),
            lengths.cell(sum(works, |j| j.length_m)),
            String::new(),
            String::new(),
            String::new(),
            sealant.cell(sum(works, |j| j.sealant_l)),
        ]);
    }
    rows
}

/// The width that a joint is widened to; empty for one that keeps its own.
fn widen_cell(joint: &JointWork, units: Units) -> String {
    match joint.widen_m > 0.0 {
        true => mm(joint.sealant_width_mm, units),
        false => String::new(),
    }
}

fn honored_joints(page: &mut Page, report: &Report) {
    let works = joints(report, Treatment::Honor);
    page.fitted("Joints, honored", report, |lengths| honored_table(&works, lengths));
    if !works.is_empty() {
        page.note("Carried through the coating; rod and sealant after the top coat.");
    }
    buried(page, report, &works);
    joint_notes(page, report, &works);
}

fn left_joints(page: &mut Page, report: &Report) {
    let works = joints(report, Treatment::Leave);
    let mut rows =
        Rows::new(&[("Joint", Align::Left), ("Kind", Align::Left), ("Length", Align::Right)]);
    for joint in &works {
        rows.push([
            clean(&joint.id),
            joint.kind.word().to_owned(),
            write::length(joint.length_m, report.slab.units),
        ]);
    }
    page.section("Joints, left out of the job", &rows);
    joint_notes(page, report, &works);
}
