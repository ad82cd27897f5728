//! Respirators by Table 1 of 29 CFR 1926.1153 (respirable crystalline silica in construction).
//!
//! The table is keyed by the name of the task: reprints number its rows differently. Following it
//! fully and properly takes the place of an exposure assessment; what it does not name has to be
//! assessed, and no respirator is printed for it.

use crate::sketch::Site;
use crate::trade::Kind;

/// Hours of a shift up to which the table's milder column holds.
pub const SHORT_SHIFT_H: f64 = 4.0;
/// Air a collector must move for each inch of a hand grinder's wheel, ft³/min (Table 1).
pub const CFM_PER_INCH: f64 = 25.0;
/// Hours that rounding may add up to beyond four.
const GUARD: f64 = 1e-9;

/// A tool with the control that the table names for it, or one that the table does not hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Tool {
    /// Handheld power saw with water to the blade.
    HandheldSawWet,
    /// Walk-behind saw with water to the blade.
    WalkBehindSawWet,
    /// Drivable saw with water to the blade.
    DrivableSawWet,
    /// Handheld or stand drill with shroud and collector.
    Drill,
    /// Jackhammer or chipping tool, with water or with shroud and collector.
    Chipping,
    /// Handheld grinder with water.
    HandGrinderWet,
    /// Handheld grinder with shroud and collector, its shroud on the floor.
    HandGrinderDry,
    /// Handheld grinder with a cutting wheel, or where its shroud can't seal: joints and cracks cut by hand, thresholds, curved
    /// edges, joint ends beside walls.
    HandCut,
    /// Walk-behind milling machine or floor grinder with collector.
    FloorGrinder,
    /// Any saw that cuts dry.
    DrySaw,
}

/// What the table asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Protection {
    /// No respirator.
    None,
    /// A respirator with an assigned protection factor of 10.
    Apf10,
    /// The table is not followed: a respirator with an assigned protection factor of 10 until exposure is assessed, paragraph (d).
    /// The factor is that of the table's row for hand grinders indoors; that it does here is common practice.
    Apf10Unassessed,
    /// Not in the table: exposure has to be assessed, paragraph (d).
    Assess,
}

/// The tool that a kind of work makes dust with.
#[must_use]
pub const fn tool(kind: Kind) -> Option<Tool> {
    match kind {
        Kind::SawJoints => Some(Tool::DrySaw),
        Kind::DetailJoints
        | Kind::OpenBuried
        | Kind::ChaseCracks
        | Kind::Widen
        | Kind::CutTermination => Some(Tool::HandCut),
        Kind::Patch => Some(Tool::Chipping),
        Kind::Inject => Some(Tool::Drill),
        Kind::GrindSteps | Kind::GrindEdges | Kind::PrepareFaces => Some(Tool::HandGrinderDry),
        Kind::RemoveCoating | Kind::GrindFloor | Kind::GrindOver | Kind::Abrade => {
            Some(Tool::FloorGrinder)
        }
        Kind::SetUp
        | Kind::Mask
        | Kind::Degrease
        | Kind::CleanCuts
        | Kind::FillJoints
        | Kind::FillCracks
        | Kind::Shave
        | Kind::FormCoves
        | Kind::Vacuum
        | Kind::Coat
        | Kind::Scrape
        | Kind::RodAndSealant
        | Kind::PackUp => None,
    }
}

/// What the table says for a tool, by site and by the shift's hours of all its tasks.
///
/// Saws, grinders and floor grinder as read in the final rule of 2016; drill, chipping and the
/// wet hand grinder from memory of it.
#[must_use]
pub const fn protection(tool: Tool, site: Site, over_four: bool) -> Protection {
    use Protection::{Apf10, Apf10Unassessed, Assess, None};
    match (tool, site, over_four) {
        (Tool::HandheldSawWet | Tool::Chipping, Site::Outdoors, false) => None,
        (Tool::HandheldSawWet | Tool::Chipping, _, _) => Apf10,
        (Tool::WalkBehindSawWet, Site::Outdoors, _) => None,
        (Tool::WalkBehindSawWet, Site::Indoors, _) => Apf10,
        (Tool::DrivableSawWet | Tool::HandGrinderWet, Site::Outdoors, _) => None,
        (Tool::DrivableSawWet | Tool::HandGrinderWet, Site::Indoors, _) => Assess,
        (Tool::HandGrinderDry, Site::Indoors, true) => Apf10,
        (Tool::HandGrinderDry | Tool::Drill | Tool::FloorGrinder, _, _) => None,
        (Tool::HandCut, _, _) => Apf10Unassessed,
        (Tool::DrySaw, _, _) => Assess,
    }
}

/// One worker's shift: hours of the table's tasks, and what each tool asks for.
#[derive(Clone, Debug, PartialEq)]
pub struct Shift {
    /// Hours of tasks that the table names, added up.
    pub table_h: f64,
    /// Each tool once, with its hours and its protection.
    pub tools: Vec<(Tool, f64, Protection)>,
}

impl Shift {
    /// Whether the column above four hours holds.
    #[must_use]
    pub fn over_four(&self) -> bool {
        self.table_h > SHORT_SHIFT_H + GUARD
    }
}

/// Adds up a shift. Where the hours of the table's tasks exceed four together, each of them needs
/// what the column above four hours says. Hours of cutting by hand count with them, as those of a hand grinder.
#[must_use]
pub fn shift(hours: &[(Tool, f64)], site: Site) -> Shift {
    let mut tools: Vec<(Tool, f64, Protection)> = Vec::new();
    for (tool, h) in hours.iter().filter(|(_, h)| *h > 0.0) {
        match tools.iter_mut().find(|(known, _, _)| known == tool) {
            Some(known) => known.1 += h,
            None => tools.push((*tool, *h, Protection::None)),
        }
    }
    let named = |tool: Tool| protection(tool, site, true) != Protection::Assess;
    let table_h = tools.iter().filter(|t| named(t.0)).map(|t| t.1).sum();
    let mut shift = Shift { table_h, tools };
    let over = shift.over_four();
    for tool in &mut shift.tools {
        tool.2 = protection(tool.0, site, over);
    }
    shift
}

/// Air that the collector of a hand grinder must move, ft³/min, for a wheel in inches.
#[must_use]
pub fn collector_cfm(wheel_in: f64) -> f64 {
    CFM_PER_INCH * wheel_in
}

#[cfg(test)]
mod tests {
    use super::*;
    use Protection::{Apf10, Apf10Unassessed, Assess};
    use Site::{Indoors, Outdoors};

    /// V-O1 to V-O7, 29 CFR 1926.1153 Table 1.
    #[test]
    fn table_1() {
        let none = Protection::None;
        for (name, tool, site, hours, want) in [
            ("V-O1", Tool::WalkBehindSawWet, Indoors, 1.0, Apf10),
            ("V-O2", Tool::WalkBehindSawWet, Outdoors, 6.0, none),
            ("V-O3 3 h", Tool::HandheldSawWet, Outdoors, 3.0, none),
            ("V-O3 5 h", Tool::HandheldSawWet, Outdoors, 5.0, Apf10),
            ("V-O4 4 h", Tool::HandGrinderDry, Indoors, 4.0, none),
            ("V-O4 4.5 h", Tool::HandGrinderDry, Indoors, 4.5, Apf10),
            ("V-O5", Tool::FloorGrinder, Indoors, 8.0, none),
            ("V-O7 drivable", Tool::DrivableSawWet, Indoors, 1.0, Assess),
            ("V-O7 dry", Tool::DrySaw, Outdoors, 1.0, Assess),
            ("chipping in", Tool::Chipping, Indoors, 1.0, Apf10),
            ("chipping out", Tool::Chipping, Outdoors, 4.0, none),
            ("grinder out", Tool::HandGrinderDry, Outdoors, 8.0, none),
            ("wet grinder in", Tool::HandGrinderWet, Indoors, 1.0, Assess),
            ("by hand in", Tool::HandCut, Indoors, 0.5, Apf10Unassessed),
            ("by hand out", Tool::HandCut, Outdoors, 0.5, Apf10Unassessed),
        ] {
            assert_eq!(shift(&[(tool, hours)], site).tools[0].2, want, "{name}");
        }
    }

    /// V-O6: 2.5 h of hand edging and 2 h of chasing indoors are 4.5 h: APF 10 for both.
    #[test]
    fn hours_are_added_over_the_shift() {
        let tools = [(Tool::HandGrinderDry, 2.5), (Tool::HandCut, 2.0)];
        let found = shift(&tools, Indoors);
        let asked = [(Tool::HandGrinderDry, 2.5, Apf10), (Tool::HandCut, 2.0, Apf10Unassessed)];
        assert_eq!(found.tools, asked);
        assert_eq!(found.table_h, 4.5);
        // A floor grinder's hours count too, and it still needs none; a dry saw's don't.
        let tools = [(Tool::HandGrinderDry, 1.0), (Tool::FloorGrinder, 3.5), (Tool::DrySaw, 2.0)];
        let found = shift(&tools, Indoors);
        assert_eq!(found.table_h, 4.5);
        let asked: Vec<_> = found.tools.iter().map(|t| t.2).collect();
        assert_eq!(asked, [Apf10, Protection::None, Assess]);
    }

    /// V-O8: 125 and 175 ft³/min for 5 and 7 in.
    #[test]
    fn collectors() {
        assert_eq!(collector_cfm(5.0), 125.0);
        assert_eq!(collector_cfm(7.0), 175.0);
    }
}
