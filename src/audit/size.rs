//! Text too small, lines too thin, things off the sheet or outside the border.

use super::read::{Drawing, mm, shown};
use super::{Code, LEAST_CAP, LEAST_LINE, LEAST_MARK, Report};
use crate::tags::place::PaperBox;
use std::collections::BTreeMap;

/// Differences smaller than this, mm, are rounding: of the file's three decimals and of the reader's single precision.
const ROUNDING: f64 = 0.002;

pub(super) fn check(drawing: &Drawing, report: &mut Report) {
    text(drawing, report);
    lines(drawing, report);
    marks(drawing, report);
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

/// Items and marks that nobody finds on the paper.
fn marks(drawing: &Drawing, report: &mut Report) {
    let mut areas: BTreeMap<&str, PaperBox> = BTreeMap::new();
    for shape in &drawing.shapes {
        let place = drawing.place(shape.place);
        if place.item.is_some() || place.sign {
            let id = place.item.as_ref().map_or(&place.id, |i| &i.id);
            let area = areas.get(id.as_str()).copied();
            let whole = area.map_or(shape.area, |a| a.joined(&shape.area));
            areas.insert(id, whole);
        }
    }
    for (id, area) in areas {
        let across = area.width().max(area.height());
        if across < LEAST_MARK - ROUNDING {
            let (id_shown, found, least) = (shown(id), mm(across), mm(LEAST_MARK));
            let message = format!("the mark of {id_shown} is {found} across, less than {least}");
            report.fault(Code::SmallMark, &[id], message);
        }
    }
}

/// Box of the border's own marks; `None` on a sheet without one.
fn border(drawing: &Drawing) -> Option<PaperBox> {
    let of_border = drawing.shapes.iter().filter(|s| drawing.place(s.place).border).map(|s| s.area);
    of_border.reduce(|a, b| a.joined(&b))
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
