//! Text too small, lines too thin, things off the sheet or outside the border.

use super::read::{Drawing, mm, shown};
use super::{Code, LEAST_CAP, LEAST_LINE, Report};
use crate::sheet::place::PaperBox;

/// Differences smaller than this, mm, are rounding: of the file's three decimals and of the reader's single precision.
const ROUNDING: f64 = 0.002;

pub(super) fn check(drawing: &Drawing, report: &mut Report) {
    text(drawing, report);
    lines(drawing, report);
    let border = border(drawing);
    let shapes = drawing.shapes.iter().map(|s| (s.place, &s.area));
    let words = drawing.words.iter().map(|w| (w.place, &w.ink));
    let pictures = drawing.pictures.iter().map(|p| (p.place, &p.area));
    for (place, area) in shapes.chain(words).chain(pictures) {
        let place = drawing.place(place);
        if let Some(far) = beyond(area, &drawing.sheet) {
            let message = format!("{} is off the sheet by {}", shown(&place.id), mm(far));
            report.fault(Code::OffSheet, &[&place.id], message);
        } else if let Some(border) = &border
            && !(place.border || place.margin || is_ground(area, &drawing.sheet))
            && let Some(far) = beyond(area, border)
        {
            let message = format!("{} is outside the border by {}", shown(&place.id), mm(far));
            report.fault(Code::OutsideBorder, &[&place.id], message);
        }
    }
}

fn text(drawing: &Drawing, report: &mut Report) {
    for words in &drawing.words {
        let id = drawing.place(words.place).id.as_str();
        if words.cap < LEAST_CAP - ROUNDING {
            let message = format!(
                "\"{}\" of {} has capitals of {}, less than {}",
                words.text,
                shown(id),
                mm(words.cap),
                mm(LEAST_CAP)
            );
            report.fault(Code::SmallText, &[id], message);
        }
        if words.lacking {
            let message = format!(
                "\"{}\" of {} holds a character that the font lacks",
                words.text,
                shown(id)
            );
            report.fault(Code::LostText, &[id], message);
        }
    }
}

fn lines(drawing: &Drawing, report: &mut Report) {
    for shape in &drawing.shapes {
        if let Some(width) = shape.stroke.filter(|w| *w < LEAST_LINE - ROUNDING) {
            let id = drawing.place(shape.place).id.as_str();
            let message = format!(
                "a line of {} is {} wide, less than {}",
                shown(id),
                mm(width),
                mm(LEAST_LINE)
            );
            report.fault(Code::ThinLine, &[id], message);
        }
    }
}

/// Box of the border's own marks; `None` on a sheet without one.
fn border(drawing: &Drawing) -> Option<PaperBox> {
    let of_border = drawing
        .shapes
        .iter()
        .filter(|s| drawing.place(s.place).border)
        .map(|s| s.area);
    of_border.reduce(|a, b| {
        PaperBox::new(
            a.left.min(b.left),
            a.top.min(b.top),
            a.right.max(b.right),
            a.bottom.max(b.bottom),
        )
    })
}

/// Whether a box is the sheet itself: the white ground.
fn is_ground(area: &PaperBox, sheet: &PaperBox) -> bool {
    area.grown(ROUNDING).contains_box(sheet)
}

/// How far a box reaches beyond another; `None` if it lies inside.
fn beyond(area: &PaperBox, limit: &PaperBox) -> Option<f64> {
    let sides = [
        limit.left - area.left,
        limit.top - area.top,
        area.right - limit.right,
        area.bottom - limit.bottom,
    ];
    let far = sides.into_iter().fold(f64::NEG_INFINITY, f64::max);
    (far > ROUNDING).then_some(far)
}
