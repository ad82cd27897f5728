//! The customer's drawing at the size that it has on a page of a proposal.

use crate::diagnostic::Diagnostic;
use crate::ink::{Group, Mark, Sheet, Step};
use crate::sheet::{Inputs, customer};
use crate::{audit, svg};

/// Heights tried, mm: from half a page to nearly all of one.
const HEIGHTS: [f64; 4] = [130.0, 165.0, 195.0, 220.0];
/// Widths closer than this are of one scale, mm.
const SAME: f64 = 1.0;

/// The drawing for a text `width` mm wide: at the largest scale, then with the fewest faults, then the lowest.
///
/// # Errors
///
/// One diagnostic if the floor and its key fit no page at any standard scale.
pub fn drawing(inputs: &Inputs, width: f64) -> Result<Sheet, Vec<Diagnostic>> {
    let mut best: Option<Sheet> = None;
    let mut refused = Vec::new();
    for height in HEIGHTS {
        let made = customer::plan_alone(inputs, (width, height), &customer::Marks::default());
        match (made, &best) {
            (Ok(sheet), None) => best = Some(sheet),
            (Ok(sheet), Some(lower)) => {
                let gain = drawn_width(&sheet) - drawn_width(lower);
                // More room of the same scale is worth taking only where it mends something.
                if gain > SAME || (gain > -SAME && faults(lower) > faults(&sheet)) {
                    best = Some(sheet);
                }
            }
            (Err(found), _) => refused = found,
        }
    }
    best.ok_or(refused)
}

fn faults(sheet: &Sheet) -> usize {
    audit::audit(&svg::write_with(sheet, false)).len()
}

/// Width of the floor as drawn, mm: how large a drawing is.
fn drawn_width(sheet: &Sheet) -> f64 {
    let outline = sheet.groups.iter().filter(|g| g.id == "outline");
    let mut xs: Vec<f64> = Vec::new();
    for group in outline {
        points(group, &mut xs);
    }
    let most = xs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let least = xs.iter().copied().fold(f64::INFINITY, f64::min);
    if most > least { most - least } else { 0.0 }
}

fn points(group: &Group, out: &mut Vec<f64>) {
    for mark in &group.marks {
        match mark {
            Mark::Group(inner) => points(inner, out),
            Mark::Path(path) => out.extend(path.steps.iter().filter_map(|step| match step {
                Step::Move(p) | Step::Line(p) => Some(p.x),
                _ => None,
            })),
            Mark::Text(_) | Mark::Image(_) => {}
        }
    }
}
