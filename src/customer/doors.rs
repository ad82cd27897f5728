//! Names of doors, so that everybody finds which way the drawing lies.

use crate::ink::{Group, Mark, PaperPoint};

use super::look;
use crate::paper::clear::Clear;
use crate::paper::draw;
use crate::paper::label::Label;
use crate::paper::mm::{Shift, by};
use crate::paper::style::Type;
use crate::paper::words;
use crate::sheet::Inputs;
use crate::sheet::view::View;

/// Gap between the edge of the slab and the name of an opening, mm.
const NAME_GAP: f64 = 2.4;

/// Cosine below which a wall counts as square to a direction of text, about 85 degrees.
const SQUARE: f64 = 0.09;

/// Sine above which a wall slants, about half a degree.
const SLANT: f64 = 0.01;

/// Names of doors, outside the slab beside them, so that everybody finds which way the drawing lies.
pub(crate) fn names(inputs: &Inputs, view: &View, clear: &mut Clear) -> Vec<Group> {
    let outline = &inputs.slab.outline;
    let mut order: Vec<_> = inputs.slab.openings.iter().collect();
    order.sort_by(|a, b| a.wall.cmp(&b.wall).then(a.from_m.total_cmp(&b.from_m)));
    let mut out = Vec::new();
    for opening in order {
        let Some(name) = opening.name.as_deref().map(words::clean) else {
            continue;
        };
        let middle = opening.path.length() / 2.0;
        let p = view.point(opening.path.point_at(middle));
        let along = view.direction(opening.path.direction_at(middle));
        let left = along.left();
        let away = if outline.counter_clockwise { -left } else { left };
        let type_ = look::body();
        let places = [0.0, 8.0, -8.0, 16.0, -16.0].map(|slide| {
            let start = p + along * slide + away * NAME_GAP;
            // Slanting text would keep marks off a whole square of paper.
            let square = along.x.abs().min(along.y.abs()) < SLANT;
            let reads = if square { along } else { by(1.0, 0.0) };
            beside(start, &name, type_, reads, away)
        });
        if let Some(label) = Label::first_free(clear, 0.6, places) {
            clear.add(label.slip);
            out.push(draw::group("", "name", vec![Mark::Text(label.mark)]));
        }
    }
    out
}

/// A name that touches a point with the side it turns to the floor.
fn beside(start: PaperPoint, name: &str, type_: Type, reads: Shift, away: Shift) -> Label {
    let slip = Label::centered(start, name, type_, reads).slip;
    // Away from a slanting wall a level name starts at its corner; away from a straight one it stands at the middle.
    let side = |axis: Shift, half: f64| {
        let share = axis.dot(away);
        let reach = if share.abs() < SQUARE { 0.0 } else { half };
        axis * (reach * share.signum())
    };
    let shift = side(slip.along, slip.half_along) + side(slip.along.left(), slip.half_across);
    Label::centered(start + shift, name, type_, reads)
}
