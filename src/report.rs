//! What was measured, as text, CSV and JSON. Nothing is computed here: every number comes from
//! the [`Takeoff`] or the [`Order`] and is only put into units and words.

pub mod csv;
pub mod json;
pub mod order;
mod table;
pub mod text;

#[cfg(test)]
pub(crate) mod sample;

use crate::diagnostic::{Diagnostic, FileId};
use crate::floor::Survey;
use crate::hold::Hold;
use crate::order::Order;
use crate::shop::Shop;
use crate::sketch::Sketch;
use crate::slab::Slab;
use crate::takeoff::Takeoff;

/// Everything one report draws on.
#[derive(Clone, Debug)]
pub struct Report<'a> {
    /// Names and dates.
    pub sketch: &'a Sketch,
    /// The geometry.
    pub slab: &'a Slab,
    /// The quantities.
    pub takeoff: &'a Takeoff,
    /// The rules in force.
    pub shop: &'a Shop,
    /// What has to be bought.
    pub order: &'a Order,
    /// What must be cleared first.
    pub holds: &'a [Hold],
    /// Where the lines of the sketch start.
    sketch_lines: Lines,
    /// Where those of the shop book start; none where the built-in one is in force, which is no file of the estimator's.
    shop_lines: Option<Lines>,
}

/// A line of one of the texts, counted from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Line {
    /// The text.
    pub file: FileId,
    /// The line.
    pub number: usize,
}

impl<'a> Report<'a> {
    /// A report on one floor. The texts are those that the findings' places refer to; the shop
    /// book's is `None` where the built-in one is in force.
    #[must_use]
    pub fn new(floor: &'a Survey, sketch_text: &str, shop_text: Option<&str>) -> Self {
        Self {
            sketch: &floor.sketch,
            slab: &floor.slab,
            takeoff: &floor.takeoff,
            shop: &floor.shop,
            order: &floor.order,
            holds: &floor.holds,
            sketch_lines: Lines::of(sketch_text),
            shop_lines: shop_text.map(Lines::of),
        }
    }

    /// The findings, each with its line, in the order of the takeoff.
    pub fn findings(&self) -> impl Iterator<Item = (&'a Diagnostic, Option<Line>)> + '_ {
        let findings = self.takeoff.findings.iter();
        findings.map(|finding| (finding, self.line(finding)))
    }

    /// The line that a finding comes from.
    fn line(&self, finding: &Diagnostic) -> Option<Line> {
        let place = finding.place?;
        let lines = match place.file {
            FileId::Sketch => Some(&self.sketch_lines),
            FileId::Shop => self.shop_lines.as_ref(),
            FileId::BuiltIn => None,
        };
        lines.map(|lines| Line { file: place.file, number: lines.at(place.span.start) })
    }
}

/// Where the lines of a text start.
#[derive(Clone, Debug)]
struct Lines(Vec<usize>);

impl Lines {
    fn of(text: &str) -> Self {
        let after = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n').map(|(i, _)| i + 1);
        Self(std::iter::once(0).chain(after).collect())
    }

    /// The line of a byte, counted from 1; the last line for what lies beyond the text.
    fn at(&self, byte: usize) -> usize {
        self.0.partition_point(|&start| start <= byte)
    }
}

#[cfg(test)]
mod tests {
    use super::Lines;

    #[test]
    fn bytes_belong_to_lines() {
        let lines = Lines::of("one\ntwo\r\n\nfour");
        for (byte, line) in [(0, 1), (3, 1), (4, 2), (8, 2), (9, 3), (10, 4), (99, 4)] {
            assert_eq!(lines.at(byte), line, "byte {byte}");
        }
        assert_eq!(Lines::of("").at(0), 1);
    }
}
