//! The customer's drawing at the size that it has on a page of a proposal.

use crate::diagnostic::Diagnostic;
use crate::ink::{Group, Mark, Sheet, Step};
use crate::sheet::{Inputs, customer};
use crate::{audit, svg};

/// Heights tried, mm: from half a page to nearly all of one.
const HEIGHTS: [f64; 5] = [120.0, 150.0, 180.0, 200.0, 220.0];

/// The drawing for a text `width` mm wide: at the largest scale, then with the fewest faults, then the lowest.
///
/// # Errors
///
/// One diagnostic if the floor and its key fit no page at any standard scale.
pub fn drawing(inputs: &Inputs, width: f64) -> Result<Sheet, Vec<Diagnostic>> {
    let mut best: Option<(f64, usize, Sheet)> = None;
    let mut refused = Vec::new();
    for height in HEIGHTS {
        match customer::plan_alone(inputs, (width, height), &customer::Marks::default()) {
            Ok(sheet) => {
                let faults = audit::audit(&svg::write_with(&sheet, false)).len();
                let large = drawn_width(&sheet);
                let better = best.as_ref().is_none_or(|(width, count, _)| {
                    large > width + 1.0 || (large > width - 1.0 && faults < *count)
                });
                if better {
                    best = Some((large, faults, sheet));
                }
            }
            Err(found) => refused = found,
        }
    }
    best.map(|(_, _, sheet)| sheet).ok_or(refused)
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
