//! Marks of the display list from points: the only place that spells out paths.

use crate::ink::{Align, BLACK, Color, Group, Mark, PaperPoint, PathMark, Step, Stroke, TextMark};

use crate::paper::mm::{Box2, Shift, at};
use crate::paper::style::{self, Type};

/// Share of the radius at which the handles of a quarter circle stand: 4/3 (√2 − 1).
const QUARTER: f64 = 0.552_284_749_830_793_6;

fn steps(points: &[PaperPoint], close: bool, out: &mut Vec<Step>) {
    for (i, p) in points.iter().enumerate() {
        out.push(if i == 0 { Step::Move(*p) } else { Step::Line(*p) });
    }
    if close && !points.is_empty() {
        out.push(Step::Close);
    }
}

/// A path through any steps.
#[must_use]
pub const fn path(steps: Vec<Step>, stroke: Option<Stroke>, fill: Option<Color>) -> Mark {
    Mark::Path(PathMark { steps, stroke, fill })
}

/// A straight line.
#[must_use]
pub fn line(a: PaperPoint, b: PaperPoint, stroke: Stroke) -> Mark {
    path(vec![Step::Move(a), Step::Line(b)], Some(stroke), None)
}

/// Open polylines in one mark.
#[must_use]
pub fn lines(runs: &[Vec<PaperPoint>], stroke: Stroke) -> Mark {
    let mut out = Vec::new();
    for run in runs {
        steps(run, false, &mut out);
    }
    path(out, Some(stroke), None)
}

/// Closed rings in one mark, filled by the even-odd rule.
#[must_use]
pub fn rings(rings: &[Vec<PaperPoint>], stroke: Option<Stroke>, fill: Option<Color>) -> Mark {
    let mut out = Vec::new();
    for ring in rings {
        steps(ring, true, &mut out);
    }
    path(out, stroke, fill)
}

/// A closed polygon.
#[must_use]
pub fn polygon(points: &[PaperPoint], stroke: Option<Stroke>, fill: Option<Color>) -> Mark {
    let mut out = Vec::new();
    steps(points, true, &mut out);
    path(out, stroke, fill)
}

/// An upright rectangle.
#[must_use]
pub fn rectangle(area: &Box2, stroke: Option<Stroke>, fill: Option<Color>) -> Mark {
    polygon(&area.corners(), stroke, fill)
}

/// A rectangle with rounded corners, or an ellipse where the radii reach half its size.
#[must_use]
pub fn rounded(area: &Box2, rx: f64, ry: f64, stroke: Option<Stroke>, fill: Option<Color>) -> Mark {
    let (rx, ry) = (rx.min(area.width() / 2.0), ry.min(area.height() / 2.0));
    let (kx, ky) = (rx * (1.0 - QUARTER), ry * (1.0 - QUARTER));
    let (l, t, r, b) = (area.left, area.top, area.right, area.bottom);
    let out = vec![
        Step::Move(at(l + rx, t)),
        Step::Line(at(r - rx, t)),
        Step::Cubic(at(r - kx, t), at(r, t + ky), at(r, t + ry)),
        Step::Line(at(r, b - ry)),
        Step::Cubic(at(r, b - ky), at(r - kx, b), at(r - rx, b)),
        Step::Line(at(l + rx, b)),
        Step::Cubic(at(l + kx, b), at(l, b - ky), at(l, b - ry)),
        Step::Line(at(l, t + ry)),
        Step::Cubic(at(l, t + ky), at(l + kx, t), at(l + rx, t)),
        Step::Close,
    ];
    path(out, stroke, fill)
}

#[must_use]
pub fn circle(
    center: PaperPoint,
    radius: f64,
    stroke: Option<Stroke>,
    fill: Option<Color>,
) -> Mark {
    let d = 2.0 * radius;
    rounded(&Box2::around(center, d, d), radius, radius, stroke, fill)
}

/// A line of text, black, level.
#[must_use]
pub fn text(at: PaperPoint, words: impl Into<String>, style: Type, align: Align) -> TextMark {
    TextMark {
        at,
        text: words.into(),
        size: style.size,
        weight: style.weight,
        align,
        turn: 0.0,
        color: BLACK,
        width: None,
    }
}

/// The same as a mark.
#[must_use]
pub fn words(at: PaperPoint, words: impl Into<String>, style: Type, align: Align) -> Mark {
    Mark::Text(text(at, words, style, align))
}

/// Lines of text one below the other, from the baseline of the first, at a pitch in mm.
#[must_use]
pub fn below(
    first: PaperPoint,
    lines: impl IntoIterator<Item = String>,
    style: Type,
    pitch: f64,
) -> Vec<Mark> {
    let mut y = first.y;
    let mut out = Vec::new();
    for line in lines {
        out.push(words(at(first.x, y), line, style, Align::Start));
        y += pitch;
    }
    out
}

#[must_use]
pub fn group(id: impl Into<String>, class: impl Into<String>, marks: Vec<Mark>) -> Group {
    Group {
        id: id.into(),
        class: class.into(),
        title: String::new(),
        description: String::new(),
        marks,
    }
}

/// Hatch lines in a group of their own, so that a reader of the file knows them for a hatch.
#[must_use]
pub fn hatch(runs: &[Vec<PaperPoint>]) -> Mark {
    Mark::Group(group("", "hatch", vec![lines(runs, crate::paper::style::HATCH)]))
}

/// A group moved on the sheet.
#[must_use]
pub fn moved(mut group: Group, shift: Shift) -> Group {
    for mark in &mut group.marks {
        *mark = match std::mem::replace(mark, Mark::Group(Group::default())) {
            Mark::Path(mut path) => {
                path.steps = path.steps.into_iter().map(|s| moved_step(s, shift)).collect();
                Mark::Path(path)
            }
            Mark::Text(mut text) => {
                text.at = text.at + shift;
                Mark::Text(text)
            }
            Mark::Image(mut image) => {
                image.at = image.at + shift;
                Mark::Image(image)
            }
            Mark::Group(inner) => Mark::Group(moved(inner, shift)),
        };
    }
    group
}

fn moved_step(step: Step, by: Shift) -> Step {
    match step {
        Step::Move(p) => Step::Move(p + by),
        Step::Line(p) => Step::Line(p + by),
        Step::Cubic(a, b, c) => Step::Cubic(a + by, b + by, c + by),
        Step::Close => Step::Close,
    }
}

/// A polyline beside another, at a distance to its left (mm; negative to its right), corners mitered.
#[must_use]
pub fn beside(points: &[PaperPoint], distance: f64) -> Vec<PaperPoint> {
    if points.len() < 2 {
        return points.to_vec();
    }
    let direction = |i: usize| (points[i + 1] - points[i]).unit();
    (0..points.len())
        .map(|i| {
            let before = direction(i.saturating_sub(1).min(points.len().saturating_sub(2)));
            let after = direction(i.min(points.len().saturating_sub(2)));
            let (m, n) = (before.left(), after.left());
            let sum = m + n;
            // The mitre of a sharp corner is held to twice the distance.
            let stretch = (2.0 / sum.dot(sum).max(1e-9)).min(2.0);
            points[i] + sum * (distance * stretch)
        })
        .collect()
}

/// The border of a sheet.
#[must_use]
pub fn border(area: &Box2) -> Group {
    group("border", "frame", vec![rectangle(area, Some(style::OUTLINE), None)])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_circle_is_four_quarters_and_stays_in_its_box() {
        let Mark::Path(mark) = circle(at(5.0, 5.0), 2.0, None, Some(BLACK)) else {
            panic!("a path");
        };
        let cubics = mark.steps.iter().filter(|s| matches!(s, Step::Cubic(..)));
        assert_eq!(cubics.count(), 4);
        for step in &mark.steps {
            if let Step::Move(p) | Step::Line(p) | Step::Cubic(_, _, p) = step {
                assert!((p.x - 5.0).hypot(p.y - 5.0) <= 2.0 + 1e-9);
            }
        }
    }

    #[test]
    fn beside_keeps_its_distance_round_a_corner() {
        let path = [at(0.0, 0.0), at(10.0, 0.0), at(10.0, 10.0)];
        assert_eq!(beside(&path, 1.0), vec![at(0.0, -1.0), at(11.0, -1.0), at(11.0, 10.0)]);
    }
}
