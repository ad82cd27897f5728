//! Joints: filled, honored, left.

use super::floor::notes;
use super::{Lengths, Page};
use crate::quantity::measure::Column;
use crate::quantity::tape::pair;
use crate::quantity::write;
use crate::report::Report;
use crate::report::table::{Align, Rows};
use crate::slab::Joint;
use crate::takeoff::{Chase, JointRepair, JointWork, Seal};
use crate::text::clean;

/// The three tables of joints.
pub fn sections(page: &mut Page, report: &Report) {
    filled_joints(page, report);
    honored_joints(page, report);
    left_joints(page, report);
}

/// A joint with its work, and what of that its table shows.
type Shown<'a, T> = (&'a Joint, &'a JointWork, &'a T);

/// The joints that have something, with it.
fn joints<'a, T>(report: &Report<'a>, what: fn(&JointWork) -> Option<&T>) -> Vec<Shown<'a, T>> {
    let joints = report.takeoff.joints_of(report.slab);
    joints.filter_map(|(joint, work)| Some((joint, work, what(work)?))).collect()
}

/// The joints' own notes, below their table.
fn joint_notes<T>(page: &mut Page, shown: &[Shown<'_, T>]) {
    notes(page, shown.iter().map(|(joint, ..)| (joint.id.as_str(), joint.note.as_deref())));
}

/// The number of ends a saw can't reach, or that it isn't used at all.
fn ends_cell(chase: &Chase) -> String {
    match (chase.by_hand, chase.hand_ends()) {
        (true, _) => "all".to_owned(),
        (false, 0) => String::new(),
        (false, n) => n.to_string(),
    }
}

/// A column of sums.
fn sum<T>(shown: &[Shown<'_, T>], value: impl Fn(&JointWork, &T) -> f64) -> f64 {
    shown.iter().map(|(_, work, own)| value(work, own)).sum()
}

/// The table of the joints that are filled.
fn filled_table(shown: &[Shown<'_, Chase>], lengths: Lengths) -> Rows {
    let units = lengths.units;
    let litres = sum(shown, |_, chase| chase.filling.volume_l);
    let filler = Column::liquid(litres, units);
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
    for (_, work, chase) in shown {
        rows.push([
            clean(&work.id),
            work.kind.word().to_owned(),
            lengths.cell(work.length_m),
            lengths.or_blank(chase.saw_m),
            lengths.or_blank(chase.hand_m()),
            ends_cell(chase),
            pair(chase.filling.width_m, chase.filling.depth_m, units),
            filler.cell(chase.filling.volume_l),
        ]);
    }
    if shown.len() > 1 {
        let ends: usize = shown.iter().map(|(.., chase)| chase.hand_ends()).sum();
        rows.total([
            "Total".to_owned(),
            String::new(),
            lengths.cell(sum(shown, |work, _| work.length_m)),
            lengths.or_blank(sum(shown, |_, chase| chase.saw_m)),
            lengths.or_blank(sum(shown, |_, chase| chase.hand_m())),
            if ends == 0 { String::new() } else { ends.to_string() },
            String::new(),
            filler.cell(litres),
        ]);
    }
    rows
}

fn filled_joints(page: &mut Page, report: &Report) {
    let shown = joints(report, JointWork::chase);
    page.fitted("Joints, chased and filled", report, |lengths| filled_table(&shown, lengths));
    let by_hand = shown.iter().filter(|(.., chase)| chase.by_hand);
    let by_hand: Vec<&str> = by_hand.map(|(joint, ..)| joint.id.as_str()).collect();
    if !by_hand.is_empty() {
        page.note(&format!("Followed by hand all along: {}.", by_hand.join(", ")));
    }
    buried(page, report, &shown);
    joint_notes(page, &shown);
}

fn buried<T>(page: &mut Page, report: &Report, shown: &[Shown<'_, T>]) {
    let one = |(_, work, _): &Shown<'_, T>| {
        let length = write::length(work.buried_m, report.slab.units);
        (work.buried_m > 0.0).then(|| format!("{} {length}", clean(&work.id)))
    };
    let list: Vec<String> = shown.iter().filter_map(one).collect();
    if !list.is_empty() {
        page.note(&format!("Buried, to be opened first: {}.", list.join(", ")));
    }
}

/// The table of the joints that are carried through the coating.
fn honored_table(shown: &[Shown<'_, Seal>], lengths: Lengths) -> Rows {
    let units = lengths.units;
    let litres = sum(shown, |_, seal| seal.sealant_l);
    let sealant = Column::liquid(litres, units);
    let mut rows = Rows::new(&[
        ("Joint", Align::Left),
        ("Kind", Align::Left),
        ("Length", Align::Right),
        ("Widen to", Align::Right),
        ("Seal", Align::Right),
        ("Rod", Align::Right),
        ("Sealant", Align::Right),
    ]);
    for (_, work, seal) in shown {
        rows.push([
            clean(&work.id),
            work.kind.word().to_owned(),
            lengths.cell(work.length_m),
            // One that keeps its own width isn't widened.
            if seal.widen_m > 0.0 { write::small(seal.width_m, units) } else { String::new() },
            pair(seal.width_m, seal.depth_m, units),
            seal.rod_m.map_or("none fits".to_owned(), |rod| write::small(rod, units)),
            sealant.cell(seal.sealant_l),
        ]);
    }
    if shown.len() > 1 {
        rows.total([
            "Total".to_owned(),
            String::new(),
            lengths.cell(sum(shown, |work, _| work.length_m)),
            String::new(),
            String::new(),
            String::new(),
            sealant.cell(litres),
        ]);
    }
    rows
}

fn honored_joints(page: &mut Page, report: &Report) {
    let shown = joints(report, JointWork::seal);
    page.fitted("Joints, honored", report, |lengths| honored_table(&shown, lengths));
    if !shown.is_empty() {
        page.note("Carried through the coating; rod and sealant after the top coat.");
    }
    buried(page, report, &shown);
    joint_notes(page, &shown);
}

fn left_joints(page: &mut Page, report: &Report) {
    let shown = joints(report, |work| matches!(work.repair, JointRepair::Leave).then_some(work));
    let mut rows =
        Rows::new(&[("Joint", Align::Left), ("Kind", Align::Left), ("Length", Align::Right)]);
    for (_, work, _) in &shown {
        rows.push([
            clean(&work.id),
            work.kind.word().to_owned(),
            write::length(work.length_m, report.slab.units),
        ]);
    }
    page.section("Joints, left out of the job", &rows);
    joint_notes(page, &shown);
}
