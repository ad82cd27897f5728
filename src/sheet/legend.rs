//! The legend: only the symbols that a sheet uses.

use std::collections::BTreeSet;

use crate::ink::{Align, Mark, WHITE};
use crate::quantity::Units;
use crate::quantity::write::small;
use crate::sketch::JointKind;

use super::dash;
use super::draw;
use super::flow::{Block, Content, Piece};
use super::hatch;
use super::mm::{Box2, at, by};
use super::plan::{hardness_mark, height_mark, joint_line, moisture_mark};
use super::style;
use super::words;

/// A symbol of the plan, in the order of the legend.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Symbol {
    /// Number of a corner.
    Corner,
    /// Running dimension.
    Running,
    /// Doorway.
    Opening,
    /// Keep-out.
    KeepOut,
    /// Flush keep-out.
    Flush,
    /// Not coated.
    Uncoated,
    /// Panel number.
    Panel,
    /// Control joint.
    Control,
    /// Construction joint.
    Construction,
    /// Isolation joint.
    Isolation,
    /// Hand-cut end.
    HandCut,
    /// Crack of a width class.
    Crack(usize),
    /// Spall.
    Spall,
    /// Patch.
    Patch,
    /// Blemish.
    Blemish,
    /// Hand-edge zone.
    HandEdge,
    /// Band feathered by hand.
    HandGrind,
    /// Step low enough for the machine.
    Step,
    /// Moisture test.
    Moisture,
    /// Hardness test.
    Hardness,
    /// Spot height.
    Height,
}

impl Symbol {
    /// The symbol of a kind of joint.
    #[must_use]
    pub const fn joint(kind: JointKind) -> Self {
        match kind {
            JointKind::Control => Self::Control,
            JointKind::Construction => Self::Construction,
            JointKind::Isolation => Self::Isolation,
        }
    }

    /// What it means, in two or three words.
    fn words(self, units: Units) -> String {
        let limit = |class: usize| small(style::CRACK_CLASS_M[class], units);
        match self {
            Self::Corner => "Corner number".into(),
            Self::Running => "Tape from the ring".into(),
            Self::Opening => "Opening, no wall".into(),
            Self::KeepOut => "Keep off".into(),
            Self::Flush => "Flush, run over".into(),
            Self::Uncoated => "Not coated".into(),
            Self::Panel => "Panel number".into(),
            Self::Control => "Control joint".into(),
            Self::Construction => "Construction joint".into(),
            Self::Isolation => "Isolation joint".into(),
            Self::HandCut => "Cut by hand".into(),
            Self::Crack(0) => format!("Crack up to {}", limit(0)),
            Self::Crack(1) => format!("Crack up to {}", limit(1)),
            Self::Crack(_) => format!("Crack over {}", limit(1)),
            Self::Spall => "Spall".into(),
            Self::Patch => "Patch, cut square".into(),
            Self::Blemish => "Treat surface first".into(),
            Self::HandEdge => "Edge by hand".into(),
            Self::HandGrind => "Feather by hand*".into(),
            Self::Step => "Step*, machine".into(),
            Self::Moisture => "Moisture test".into(),
            Self::Hardness => "Mohs hardness".into(),
            Self::Height => "Spot height".into(),
        }
    }

    /// A line below the legend that explains more.
    fn note(self, units: Units) -> Option<String> {
        let (along, out) = (
            super::tape::tape(1.524, units),
            super::tape::tape(0.6096, units),
        );
        match self {
            Self::Corner => Some(format!(
                "1→2 {along}, out {out}: from corner 1 {along} along the wall towards corner 2, then {out} square into the floor."
            )),
            Self::HandGrind | Self::Step => Some("* Ticks run to the high side.".into()),
            _ => None,
        }
    }

    /// Draws it in a box.
    fn sample(self, area: &Box2) -> Vec<Mark> {
        let m = area.center();
        let level = [at(area.left, m.y), at(area.right, m.y)];
        match self {
            Self::Corner => {
                let label = super::label::Label::level(m, "1", style::body());
                vec![
                    draw::circle(m, 2.2, Some(style::FINE), None),
                    Mark::Text(label.mark),
                ]
            }
            Self::Running => {
                let s = by(1.0, -1.0).unit() * (style::STROKE_LENGTH / 2.0);
                let end = level[1] + by(-1.0, 0.0);
                vec![
                    draw::line(level[0] + by(1.0, 0.0), end, style::FINE),
                    draw::circle(
                        level[0] + by(1.0, 0.0),
                        0.9,
                        Some(style::DIMENSION_STROKE),
                        Some(WHITE),
                    ),
                    draw::line(end + (-s), end + s, style::DIMENSION_STROKE),
                ]
            }
            Self::Opening => {
                let jamb = by(0.0, 1.3);
                let mut marks = vec![draw::lines(
                    &dash::cut(&level, dash::OPENING),
                    style::OBJECT,
                )];
                marks.extend(level.map(|p| draw::line(p + (-jamb), p + jamb, style::OUTLINE)));
                marks
            }
            Self::KeepOut => vec![draw::rectangle(
                &area.grown(-0.3),
                Some(style::OBJECT),
                Some(style::OBJECT_FILL),
            )],
            Self::Flush => {
                let r = area.height() / 2.0 - 0.2;
                vec![
                    draw::circle(m, r, Some(style::OBJECT), None),
                    draw::line(m + by(-r, 0.0), m + by(r, 0.0), style::FINE),
                    draw::line(m + by(0.0, -r), m + by(0.0, r), style::FINE),
                ]
            }
            Self::Panel => {
                let oval = Box2::around(m, 9.0, area.height());
                let label = super::label::Label::level(m, "P1", style::strong());
                vec![
                    draw::rounded(&oval, 4.5, 4.5, Some(style::FINE), None),
                    Mark::Text(label.mark),
                ]
            }
            Self::Control => vec![joint_line(&level, JointKind::Control)],
            Self::Construction => vec![joint_line(&level, JointKind::Construction)],
            Self::Isolation => vec![joint_line(&level, JointKind::Isolation)],
            Self::HandCut => vec![
                joint_line(&level, JointKind::Control),
                draw::line(
                    at(area.right - 2.5, m.y),
                    at(area.right, m.y),
                    style::HAND_CUT,
                ),
            ],
            Self::Crack(class) => vec![crack_sample(area, class)],
            _ => self.area_sample(area),
        }
    }

    fn area_sample(self, area: &Box2) -> Vec<Mark> {
        let m = area.center();
        let box_ = area.grown(-0.3);
        let ring = [box_.corners().to_vec()];
        let mut closed = ring[0].clone();
        closed.push(ring[0][0]);
        match self {
            Self::Uncoated => vec![
                draw::lines(
                    &hatch::lines(&ring, 135.0, style::UNCOATED_SPACING),
                    style::HATCH,
                ),
                draw::lines(&dash::cut(&closed, dash::OPENING), style::OBJECT),
            ],
            Self::Spall => vec![draw::circle(
                m,
                1.8,
                Some(style::FINE),
                Some(style::SPALL_FILL),
            )],
            Self::Patch => vec![
                draw::lines(
                    &hatch::lines(&ring, 45.0, style::PATCH_SPACING),
                    style::HATCH,
                ),
                draw::lines(&dash::cut(&closed, dash::REMOVAL), style::REMOVAL),
            ],
            Self::Blemish => vec![
                draw::lines(
                    &hatch::dashes(&ring, style::BLEMISH_SPACING, 1.6, 2.6),
                    style::HATCH,
                ),
                draw::lines(&dash::cut(&closed, dash::BLEMISH), style::OBJECT),
            ],
            Self::HandEdge => vec![draw::rectangle(&box_, None, Some(style::HAND_EDGE_FILL))],
            Self::HandGrind => band_sample(area),
            Self::Step => {
                let ticks =
                    [area.left, m.x, area.right].map(|x| vec![at(x, m.y + 1.0), at(x, m.y - 1.0)]);
                let joint = [at(area.left, m.y + 1.0), at(area.right, m.y + 1.0)];
                vec![
                    joint_line(&joint, JointKind::Control),
                    draw::lines(&ticks, style::OBJECT),
                ]
            }
            Self::Moisture => moisture_mark(m),
            Self::Hardness => hardness_mark(m),
            _ => height_mark(m),
        }
    }
}

fn crack_sample(area: &Box2, class: usize) -> Mark {
    let m = area.center();
    let w = area.width();
    let points = [
        (-0.5, 0.3),
        (-0.25, -0.6),
        (-0.05, 0.5),
        (0.2, -0.4),
        (0.5, 0.5),
    ]
    .map(|(x, y)| m + by(x * w, y * 1.6));
    draw::lines(
        &[points.to_vec()],
        style::CRACK[class.min(style::CRACK.len() - 1)],
    )
}

fn band_sample(area: &Box2) -> Vec<Mark> {
    let (top, bottom) = (area.top + 2.0, area.bottom);
    let band = Box2::new(area.left, top, area.right, bottom);
    let combs = (1..12).map(|i| {
        let x = area.left + area.width() * f64::from(i) / 12.0;
        vec![at(x, top), at(x, bottom)]
    });
    let ticks = [area.left, area.right].map(|x| vec![at(x, bottom), at(x, area.top)]);
    vec![
        draw::lines(&combs.collect::<Vec<_>>(), style::HATCH),
        draw::rectangle(&band, Some(style::FINE), None),
        draw::lines(&ticks, style::REMOVAL),
    ]
}

/// The legend of a sheet.
#[derive(Clone, Debug)]
pub struct Legend {
    /// Symbols that were used.
    pub used: BTreeSet<Symbol>,
    /// Units of the sketch.
    pub units: Units,
}

/// Width of a sample, mm.
const SAMPLE: f64 = 12.0;
/// Gap between columns, mm.
const GAP: f64 = 2.0;
/// Height of a row, mm.
const ROW: f64 = 5.7;
/// Height of a sample, mm.
const SAMPLE_HEIGHT: f64 = 4.6;

impl Legend {
    fn row(&self, symbol: Symbol, left: f64, width: f64) -> Vec<Mark> {
        let body = style::body();
        let middle = ROW / 2.0;
        let mut marks = symbol.sample(&Box2::new(
            left,
            middle - SAMPLE_HEIGHT / 2.0,
            left + SAMPLE,
            middle + SAMPLE_HEIGHT / 2.0,
        ));
        let text = words::fit(&symbol.words(self.units), body, width - SAMPLE - 2.0);
        marks.push(Mark::Text(draw::text(
            at(left + SAMPLE + 2.0, middle + body.cap() / 2.0),
            text,
            body,
            Align::Start,
        )));
        marks
    }
}

impl Content for Legend {
    fn lay(&self, width: f64) -> Block {
        let symbols: Vec<Symbol> = self.used.iter().copied().collect();
        let texts: Vec<String> = symbols.iter().map(|s| s.words(self.units)).collect();
        let widest = words::widest(texts.iter().map(String::as_str), style::body());
        let narrowest = SAMPLE + 2.0 + widest + GAP;
        let n = (1..=4_u8)
            .rev()
            .find(|&n| f64::from(n) * narrowest <= width + GAP)
            .unwrap_or(1);
        let column = (width + GAP) / f64::from(n);
        let rows = symbols.len().div_ceil(usize::from(n));
        let mut pieces = Vec::new();
        for i in 0..rows {
            let places = (0..n).map(|c| {
                (
                    f64::from(c) * column,
                    symbols.get(usize::from(c) * rows + i),
                )
            });
            let marks = places
                .filter_map(|(x, s)| s.map(|&s| self.row(s, x, column - GAP)))
                .flatten()
                .collect();
            pieces.push(Piece {
                height: ROW,
                group: draw::group("", "legend-row", marks),
            });
        }
        let mut notes: Vec<String> = symbols.iter().filter_map(|s| s.note(self.units)).collect();
        notes.dedup();
        if !notes.is_empty() {
            pieces.push(Piece {
                height: 1.2,
                ..Piece::default()
            });
        }
        pieces.extend(
            notes
                .iter()
                .map(|n| super::flow::paragraph("", n, width, 0.0)),
        );
        Block {
            title: "LEGEND".into(),
            head: None,
            pieces,
            whole: true,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_legend_shows_what_is_used_and_nothing_else() {
        let used = BTreeSet::from([Symbol::Control, Symbol::Crack(1), Symbol::Patch]);
        let block = Legend {
            used,
            units: Units::Us,
        }
        .lay(90.0);
        assert_eq!(block.pieces.len(), 2);
        let text = format!("{:?}", block.pieces);
        assert!(text.contains("Crack up to 1/8\\\""), "{text}");
        assert!(!text.contains("Isolation"));
    }
}
