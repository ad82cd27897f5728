//! Border, title block, scale bar and the rest of what makes a sheet of drawn groups.

use crate::ink::{Group, Mark, Sheet};
use crate::quantity::write;

use crate::paper::draw;
use crate::paper::mm::at;
use crate::paper::{style, words};
use crate::sheet::Inputs;
use crate::sheet::frame;
use crate::sheet::frame::Titles;
use crate::sheet::layout::Layout;

/// Narrowest plan on which scale bar and direction mark stand side by side with all their words, mm.
const WIDE_FOOT: f64 = 176.0;

/// What stands beside the scale bar on a narrow plan, mm: its unit, the scale in words, the arrow.
const SCALE_WORDS: f64 = 66.0;

/// Shortest scale bar beside which its scale is written, mm; on a narrower plan it stands over the bar.
const BESIDE: f64 = 20.0;

/// What the arrow takes of a narrow plan, with the air at both sides, mm.
const ARROW: f64 = 18.0;

/// A sheet before it has its border.
pub struct Raw<'a> {
    /// File name without its ending.
    pub name: String,
    /// Number in the set.
    pub number: String,
    pub title: &'static str,
    /// How it is divided.
    pub layout: &'a Layout,
    /// What is drawn on it.
    pub groups: Vec<Group>,
}

/// The finished sheet, at its place in the set.
#[must_use]
pub fn finish(inputs: &Inputs, raw: Raw, of: (usize, usize)) -> Sheet {
    let units = inputs.slab.units;
    let layout = raw.layout;
    let titles = Titles {
        title: raw.title,
        reader: "FOR THE CREW",
        number: raw.number,
        of,
        scale: Some(layout.scale),
    };
    let mut groups = raw.groups;
    groups.extend(frame_marks(inputs, &titles, layout));
    let name = words::clean(&inputs.job.name);
    Sheet {
        name: raw.name,
        title: format!("{} {} for the crew, {name}", titles.number, titles.title),
        description: format!("Scale {}. {}", layout.scale.text(units), about(inputs)),
        width: layout.paper.width(),
        height: layout.paper.height(),
        groups,
    }
}

/// What is on the floor, in a few words.
#[must_use]
pub fn about(inputs: &Inputs) -> String {
    format!(
        "Net area {}, {}, {}, {}. The tables carry the same data as text.",
        write::area(inputs.takeoff.area.net_m2, inputs.slab.units),
        words::counted(inputs.slab.joints.len(), "joint", "joints"),
        words::counted(inputs.slab.cracks.len(), "crack", "cracks"),
        words::counted(inputs.takeoff.patches.len(), "patch", "patches")
    )
}

fn frame_marks(inputs: &Inputs, titles: &Titles, layout: &Layout) -> Vec<Group> {
    let (b, title) = (&layout.border, &layout.title);
    let rule = |from: (f64, f64), to: (f64, f64), pen| -> Group {
        let line: Mark = draw::line(at(from.0, from.1), at(to.0, to.1), pen);
        draw::group("", "frame", vec![line])
    };
    let mut out = vec![
        draw::border(b),
        frame::title_block(inputs, titles, title),
        frame::origin(inputs, layout.paper, b),
        rule((title.left, title.top), (title.left, b.bottom), style::OUTLINE),
    ];
    let p = &layout.plan;
    if p.right < b.right - 1.0 {
        out.push(rule((p.right, b.top), (p.right, b.bottom), style::RULE));
    } else {
        out.push(rule((b.left, p.bottom), (b.right, p.bottom), style::RULE));
    }
    let foot = p.bottom - 5.0;
    let (units, zero) = (inputs.slab.units, at(p.left + 8.0, foot));
    if p.width() < WIDE_FOOT {
        let longest = p.width() - SCALE_WORDS;
        out.push(if longest < BESIDE {
            frame::scale_bar_narrow(layout.scale, units, zero, p.width() - ARROW)
        } else {
            frame::scale_bar_within(layout.scale, units, zero, longest)
        });
        out.push(frame::direction_arrow(at(p.right - 6.0, foot)));
    } else {
        out.push(frame::scale_bar(layout.scale, units, zero));
        out.push(frame::direction_mark(at(p.right - 46.0, foot)));
    }
    out
}
