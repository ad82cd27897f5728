//! What stands beside the maps and on the sheets that follow: stops, key plan, legend, cautions, schedules, notes.

use std::collections::BTreeSet;

use crate::quantity::tape;
use crate::quantity::write;

use super::map::{Map, Shows};
use super::remarks;
use super::tagging::MEANINGFUL;
use crate::paper::words;
use crate::sheet::cautions;
use crate::sheet::enlarged::Enlarged;
use crate::sheet::flow::{Content, Notes};
use crate::sheet::key_plan::KeyPlan;
use crate::sheet::legend::{Legend, Symbol};
use crate::sheet::plan::Remark;
use crate::sheet::set::Set;
use crate::sheet::split::grid::Cut;
use crate::sheet::{Inputs, schedule};

/// Width of text in the narrowest strip, mm.
const STRIP: f64 = 72.0;

/// What has to stand beside one map: stops, key plan, legend of the symbols given, and beside the first one the cautions.
pub fn own(
    inputs: &Inputs,
    map: &Map,
    used: BTreeSet<Symbol>,
    key: Option<KeyPlan>,
    first: bool,
) -> Vec<Box<dyn Content>> {
    let mut out: Vec<Box<dyn Content>> = Vec::new();
    // A frame is not broken.
    let columns = map.layout.columns.iter().map(|column| column.area);
    let fits = |frame: &dyn Content| {
        let mut columns = columns.clone();
        columns.any(|area| frame.lay(area.width()).height() <= area.height())
    };
    // Whoever reads only a later sheet must not start either; what is found stands on the first.
    if first {
        let whole = cautions::orders(inputs.holds);
        let apart = || cautions::orders_apart(inputs.holds);
        out.extend(if whole.iter().all(|frame| fits(&**frame)) { whole } else { apart() });
    } else {
        // Where it is taller than the strip it says only where to look.
        out.extend(
            cautions::reminder(inputs.holds)
                .map(|reminder| if fits(&*reminder) { reminder } else { cautions::pointer() }),
        );
    }
    if let Some(key) = key {
        out.push(Box::new(key));
    }
    if map.shows == Shows::Enlarged {
        out.push(Box::new(Notes {
            title: "ENLARGED PLAN".into(),
            paragraphs: vec![(
                String::new(),
                "What lies in this window is tagged here and not on the map that shows its frame. Places are in the schedules."
                    .into(),
            )],
            framed: false,
        }));
    }
    out.push(Box::new(Legend { used, units: inputs.slab.units }));
    if first && let Some(cautions) = cautions::cautions(inputs) {
        out.push(Box::new(cautions));
    }
    out
}

/// Height of what is on hold, in the narrowest strip beside a map, mm.
pub fn holds_mm(inputs: &Inputs) -> f64 {
    let frames = cautions::orders(inputs.holds);
    frames.iter().map(|frame| frame.lay(STRIP).height()).sum()
}

/// What stands beside the maps where there is room, and on following sheets.
pub fn shared(
    inputs: &Inputs,
    missing: &BTreeSet<Remark>,
    set: Vec<String>,
) -> Vec<Box<dyn Content>> {
    let tables = schedule::tables(inputs).into_iter();
    let mut out: Vec<Box<dyn Content>> = Vec::new();
    out.extend(tables.map(|t| Box::new(t) as Box<dyn Content>));
    out.push(Box::new(notes(inputs, missing, set)));
    if let Some(panels) = remarks::panel_list(inputs, missing) {
        out.push(Box::new(panels));
    }
    out
}

fn notes(inputs: &Inputs, missing: &BTreeSet<Remark>, set: Vec<String>) -> Notes {
    let (units, a) = (inputs.slab.units, &inputs.takeoff.area);
    let areas = format!(
        "Coated floor {}, faces {}, ground by hand along edges {} ({} wide, more in corners), edge {}, termination {}.",
        write::area(a.net_m2, units),
        write::area(a.faces_m2, units),
        write::area(a.hand_edge_m2, units),
        write::small(inputs.shop.grinding.edge_gap.m(), units),
        write::run(inputs.takeoff.edge_m, units),
        write::run(inputs.takeoff.termination_m, units)
    );
    let profile = inputs.system().and_then(|system| system.profile);
    let profile = profile.map(|profile| format!(" Profile {profile}, chips of ICRI 310.2R."));
    let areas = areas + &profile.unwrap_or_default() + " " + tape::rounding_note(units);
    let mut paragraphs = Vec::new();
    if let Some(finish) = inputs.finish() {
        paragraphs.push((String::new(), format!("Coating: {finish}.")));
    }
    paragraphs.push((String::new(), areas));
    if let Some(notes) = &inputs.job.notes {
        paragraphs.push((String::new(), format!("From the survey: {}", words::clean(notes))));
    }
    paragraphs.extend(set.into_iter().map(|s| (String::new(), s)));
    let remarks = remarks::sentences(inputs, missing);
    if !remarks.is_empty() {
        paragraphs.push((String::new(), remarks.join(" ")));
    }
    Notes { title: "NOTES".into(), paragraphs, framed: false }
}

/// How the floor was divided, and what was drawn larger.
pub fn division(inputs: &Inputs, set: &Set, enlarged: &[Enlarged]) -> Vec<String> {
    let mut out = Vec::new();
    if let Some(grid) = &set.grid {
        let floor = inputs.slab.outline.path.bounds();
        let upright = grid.upright.iter().map(|c| line(inputs, c, c.at - floor.x0, "W"));
        let level = grid.level.iter().map(|c| line(inputs, c, c.at - floor.y0, "S"));
        let lines: Vec<String> = upright.chain(level).collect();
        out.push(format!("The map is divided {}.", lines.join("; ")));
        let tagged = match set.strips {
            true => "it has its tag on one of them".to_owned(),
            false => format!(
                "a part shorter than {} mm of paper has its tag on the other side only",
                write::trimmed(MEANINGFUL, 0)
            ),
        };
        out.push(format!(
            "Dimensions are taped from the corners of the whole floor. What crosses a match line is drawn on both sides of it; {tagged}. Lengths beside joints are those of the whole joint."
        ));
    }
    if !enlarged.is_empty() {
        out.push("What lies in a dashed frame is tagged on the enlarged plan that the frame names, and only there.".into());
    }
    out
}

fn line(inputs: &Inputs, cut: &Cut, off: f64, side: &str) -> String {
    if cut.joints.is_empty() {
        let off = tape::tape(off, inputs.slab.units);
        return format!(
            "along a straight line {off} from the {side} end of the floor, where no joint runs across"
        );
    }
    format!("along {}", cut.joints.join(" and "))
}
