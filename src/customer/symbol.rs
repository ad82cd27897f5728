//! How a thing looks on the plan and in the key: one color and one line pattern for each thing that happens.

use crate::ink::{Color, Mark, PaperPoint, Stroke, WHITE};

use super::fate::Fate;
use super::floor::Shape;
use super::look;
use crate::paper::dash;
use crate::paper::draw;
use crate::paper::hatch;
use crate::paper::mm::{Box2, lerp};

/// The marks of a thing with its fate.
pub(crate) fn marks(fate: Fate, shape: &Shape) -> Vec<Mark> {
    match shape {
        Shape::Line(runs) => runs.iter().flat_map(|r| line(fate, r)).collect(),
        Shape::Area(rings) => area(fate, rings),
        Shape::Spot(p) => vec![draw::circle(*p, 1.0, Some(look::FINE), Some(WHITE))],
    }
}

/// Hollow spots: hatched, on color and with a whole rim where they are filled, on white and with a broken one where they are left.
fn hollow(fate: Fate, rings: &[Vec<PaperPoint>]) -> Vec<Mark> {
    let filled = fate == Fate::Hollow;
    let ground = if filled { look::ORANGE } else { WHITE };
    let lines = hatch::lines(rings, 90.0, look::HOLLOW_SPACING);
    let mut marks = vec![
        draw::rings(rings, None, Some(ground)),
        Mark::Group(draw::group("", "hatch", vec![draw::lines(&lines, look::HATCH)])),
    ];
    if filled || is_tiny(rings) {
        marks.push(draw::rings(rings, Some(rim(rings)), None));
        return marks;
    }
    for ring in rings {
        let mut closed = ring.clone();
        closed.extend(ring.first().copied());
        let pen = Stroke { round: false, ..rim(rings) };
        marks.push(draw::lines(&dash::cut(&closed, look::LEFT), pen));
    }
    marks
}

/// A line with its fate: the color is an extra, the pattern tells.
fn line(fate: Fate, run: &[PaperPoint]) -> Vec<Mark> {
    let one = |stroke: Stroke| vec![draw::lines(&[run.to_vec()], stroke)];
    let cut = |pattern, stroke: Stroke| {
        vec![draw::lines(&dash::cut(run, pattern), Stroke { round: false, ..stroke })]
    };
    match fate {
        Fate::JointFilled => cut(look::FILLED, look::pen(0.8, look::BLUE)),
        Fate::JointFilledMoving => cut(look::FILLED_MOVING, look::pen(0.8, look::BLUE)),
        Fate::JointSealed | Fate::CrackSealed => double(run, look::GREEN),
        Fate::JointHidden => {
            let mut marks = double(run, look::GREEN);
            marks.extend(rungs(run));
            marks
        }
        Fate::CrackRepaired => one(look::pen(0.7, look::VERMILLION)),
        Fate::CrackPrimed => one(look::pen(0.3, look::VERMILLION)),
        Fate::CrackMayReturn => cut(look::MAY_RETURN, look::pen(0.7, look::VERMILLION)),
        Fate::CrackReturns => cut(look::RETURNS, look::pen(0.8, look::VERMILLION)),
        Fate::HighEdge => band(run),
        Fate::SmallStep => ticks(run),
        _ => cut(look::LEFT, look::pen(0.5, crate::ink::BLACK)),
    }
}

fn double(run: &[PaperPoint], color: Color) -> Vec<Mark> {
    let half = look::SEALED_APART / 2.0;
    vec![draw::lines(&[draw::beside(run, half), draw::beside(run, -half)], look::pen(0.5, color))]
}

/// Short strokes across a run, every so many millimeters, from one side to the other.
fn across(run: &[PaperPoint], every: f64, left: f64, right: f64) -> Vec<Vec<PaperPoint>> {
    let mut out = Vec::new();
    let mut next = every / 2.0;
    for pair in run.windows(2) {
        let d = pair[1] - pair[0];
        let long = d.length();
        while next < long {
            let p = lerp(pair[0], pair[1], next / long);
            let side = d.unit().left();
            out.push(vec![p + side * left, p + side * (-right)]);
            next += every;
        }
        next -= long;
    }
    out
}

fn rungs(run: &[PaperPoint]) -> Vec<Mark> {
    let half = look::SEALED_APART / 2.0;
    vec![draw::lines(&across(run, 3.0, half, half), look::pen(0.5, look::GREEN))]
}

fn ticks(run: &[PaperPoint]) -> Vec<Mark> {
    vec![draw::lines(&across(run, 2.0, 1.0, 1.0), look::pen(0.35, crate::ink::BLACK))]
}

fn band(run: &[PaperPoint]) -> Vec<Mark> {
    let half = look::LEAST_BAND / 2.0;
    let mut ring = draw::beside(run, half);
    ring.extend(draw::beside(run, -half).into_iter().rev());
    vec![draw::polygon(&ring, Some(look::FINE), Some(look::SKY))]
}

/// Whether an area is so small on paper that a heavy rim would hide its color.
fn is_tiny(rings: &[Vec<PaperPoint>]) -> bool {
    let around = Box2::of(&rings.iter().flatten().copied().collect::<Vec<_>>());
    around.width().max(around.height()) < 3.0
}

fn rim(rings: &[Vec<PaperPoint>]) -> Stroke {
    if is_tiny(rings) { look::pen(0.22, crate::ink::BLACK) } else { look::SPOT }
}

fn area(fate: Fate, rings: &[Vec<PaperPoint>]) -> Vec<Mark> {
    match fate {
        Fate::Surface => {
            let mut marks = vec![draw::rings(rings, None, Some(look::PALE_YELLOW))];
            for ring in rings {
                let mut closed = ring.clone();
                closed.extend(ring.first().copied());
                let cut =
                    if is_tiny(rings) { vec![closed] } else { dash::cut(&closed, look::DASHED) };
                let pen = Stroke { round: false, ..rim(rings) };
                marks.push(draw::lines(&cut, pen));
            }
            marks
        }
        Fate::Uncoated => {
            let lines = hatch::lines(rings, 135.0, look::HATCH_SPACING);
            let hatch = draw::lines(&lines, look::HATCH);
            vec![
                draw::rings(rings, None, Some(WHITE)),
                Mark::Group(draw::group("", "hatch", vec![hatch])),
                draw::rings(rings, Some(look::FINE), None),
            ]
        }
        Fate::Hollow | Fate::HollowLeft => hollow(fate, rings),
        Fate::LowSpot => vec![draw::rings(rings, Some(look::SPOT), Some(look::SKY))],
        _ => vec![draw::rings(rings, Some(rim(rings)), Some(look::ORANGE))],
    }
}
