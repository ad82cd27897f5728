//! The legend: only the symbols that a sheet uses.

mod sample;

use std::collections::BTreeSet;

use crate::ink::{Align, Group, Mark};
use crate::quantity::Units;
use crate::quantity::tape::tape;
use crate::quantity::write::small;
use crate::sketch::JointKind;

use super::flow::{Block, Content, Piece};
use crate::paper::draw;
use crate::paper::mm::{Box2, at};
use crate::paper::style;
use crate::paper::words;

/// A symbol of the plan, in the order of the legend.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Symbol {
    /// Number of a corner of the outline, from 1.
    Corner,
    /// Dimensions along a line, all taped from one ring.
    Running,
    /// Dimension square off a wall or joint.
    Locating,
    /// Doorway.
    Opening,
    /// Keep-out that stops machines.
    KeepOut,
    /// Keep-out that machines run over.
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
    /// Stretch of a joint that is cut by hand.
    HandCut,
    /// Crack of a width class.
    Crack(usize),
    /// Missing concrete.
    Spall,
    /// Patch, cut square.
    Patch,
    /// Area that sounds hollow.
    Hollow,
    /// Area that changes the preparation.
    Blemish,
    /// Strip along an edge that only a hand grinder reaches.
    HandEdge,
    /// Band feathered by hand.
    HandGrind,
    /// Step low enough for the machine.
    Step,
    /// Moisture test.
    Moisture,
    /// Moisture test still wanted.
    Wanted,
    /// Hardness test.
    Hardness,
    /// Spot height.
    Height,
    /// Row of heights, read for flatness.
    Row,
    /// Place where water may stand.
    Low,
    /// Vertical face that is coated too.
    Face,
    /// Where two heights of the floor meet.
    Riser,
    /// Line at which a poured batch is used up.
    Pour,
    /// Number and direction in the order of filling.
    FillOrder,
    /// Where a cartridge runs out.
    Cartridge,
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
            Self::Locating => "Square off**".into(),
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
            Self::Hollow => "Sounds hollow".into(),
            Self::Blemish => "Treat surface first".into(),
            Self::HandEdge => "Edge by hand".into(),
            Self::HandGrind => "Feather by hand*".into(),
            Self::Step => "Offset*, machine".into(),
            Self::Moisture => "Moisture test".into(),
            Self::Wanted => "Test still wanted".into(),
            Self::Hardness => "Mohs hardness".into(),
            Self::Height => "Spot height".into(),
            Self::Row => "Flatness row".into(),
            Self::Low => "Water may stand".into(),
            Self::Face => "Face coated too".into(),
            Self::Riser => "Riser, two heights".into(),
            Self::Pour => "Batch used up".into(),
            Self::FillOrder => "Order, direction".into(),
            Self::Cartridge => "Cartridge is out".into(),
        }
    }

    /// A line below the legend that explains more.
    fn note(self, units: Units) -> Option<String> {
        let (along, out) = (tape(1.524, units), tape(0.6096, units));
        match self {
            Self::Corner => Some(format!(
                "1→2 {along}, out {out}: from corner 1 {along} along the wall towards corner 2, then {out} square into the floor."
            )),
            Self::Locating => Some(
                "** The number at the foot is taped along the wall or joint from its ring; the number on the line is square off it. \
                 What has no dimension here has it in its row."
                    .into(),
            ),
            Self::HandGrind | Self::Step => Some("* Ticks run to the high side.".into()),
            _ => None,
        }
    }
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
const ROW: f64 = 5.3;
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
        marks.push(draw::words(
            at(left + SAMPLE + 2.0, middle + body.cap() / 2.0),
            text,
            body,
            Align::Start,
        ));
        marks
    }
}

impl Content for Legend {
    fn lay(&self, width: f64) -> Block {
        let symbols: Vec<Symbol> = self.used.iter().copied().collect();
        let texts: Vec<String> = symbols.iter().map(|s| s.words(self.units)).collect();
        let widest = words::widest(texts.iter().map(String::as_str), style::body());
        let narrowest = SAMPLE + 2.0 + widest + GAP;
        let n = (1..=4_u8).rev().find(|&n| f64::from(n) * narrowest <= width + GAP).unwrap_or(1);
        let column = (width + GAP) / f64::from(n);
        let rows = symbols.len().div_ceil(usize::from(n));
        let mut pieces = Vec::new();
        for i in 0..rows {
            let places =
                (0..n).map(|c| (f64::from(c) * column, symbols.get(usize::from(c) * rows + i)));
            let marks = places
                .filter_map(|(x, s)| s.map(|&s| self.row(s, x, column - GAP)))
                .flatten()
                .collect();
            pieces.push(Piece::new(ROW, draw::group("", "legend-row", marks)));
        }
        // Sheets of pouring and filling have no rows that locate by corners.
        let located = !self.used.contains(&Symbol::Pour) && !self.used.contains(&Symbol::FillOrder);
        let mut notes: Vec<String> = symbols
            .iter()
            .filter(|s| located || **s != Symbol::Corner)
            .filter_map(|s| s.note(self.units))
            .collect();
        notes.dedup();
        if !notes.is_empty() {
            pieces.push(Piece::new(1.2, Group::default()));
        }
        pieces.extend(notes.iter().map(|n| super::flow::paragraph("", n, width, 0.0)));
        // A few symbols beside a plan of their own explain themselves.
        let few = symbols.len() <= usize::from(n) && notes.is_empty();
        Block { title: if few { String::new() } else { "LEGEND".into() }, pieces, whole: true }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_legend_shows_what_is_used_and_nothing_else() {
        let used = BTreeSet::from([Symbol::Control, Symbol::Crack(1), Symbol::Patch]);
        let block = Legend { used, units: Units::Us }.lay(90.0);
        assert_eq!(block.pieces.len(), 2);
        let text = format!("{:?}", block.pieces);
        assert!(text.contains("Crack up to 1/8\\\""), "{text}");
        assert!(!text.contains("Isolation"));
    }
}
