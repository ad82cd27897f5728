//! Tests and spot heights.

use kurbo::Point;

use crate::ink::{Group, Mark, PaperPoint};
use crate::quantity::{Units, write};
use crate::slab::MoistureTest;

use super::{Drawing, layer};
use crate::paper::clear::Slip;
use crate::paper::draw;
use crate::paper::label::Label;
use crate::paper::mm::{Box2, by};
use crate::paper::style;
use crate::sheet::legend::Symbol;
use crate::tags::{Outline, Tag};

/// Radius of the mark of a moisture test, mm of paper.
pub const TEST_RADIUS: f64 = 1.6;
/// Half the arm of the cross of a spot height, mm of paper.
pub const HEIGHT_ARM: f64 = 1.0;

/// Mark of a moisture test: a ring with a dot.
#[must_use]
pub fn moisture_mark(p: PaperPoint) -> Vec<Mark> {
    vec![
        draw::circle(p, TEST_RADIUS, Some(style::OBJECT), Some(crate::ink::WHITE)),
        draw::circle(p, 0.6, None, Some(crate::ink::BLACK)),
    ]
}

/// Mark of a moisture test that is still wanted: a ring with a cross where the hole is drilled.
#[must_use]
pub fn wanted_mark(p: PaperPoint) -> Vec<Mark> {
    let (x, y) = (by(TEST_RADIUS, 0.0), by(0.0, TEST_RADIUS));
    vec![
        draw::circle(p, TEST_RADIUS, Some(style::OBJECT), Some(crate::ink::WHITE)),
        draw::line(p + (-x), p + x, style::FINE),
        draw::line(p + (-y), p + y, style::FINE),
    ]
}

/// Mark of a hardness test: a triangle.
#[must_use]
pub fn hardness_mark(p: PaperPoint) -> Vec<Mark> {
    let corners = [p + by(0.0, -1.5), p + by(1.4, 1.0), p + by(-1.4, 1.0)];
    vec![draw::polygon(&corners, Some(style::OBJECT), Some(crate::ink::WHITE))]
}

/// Mark of a spot height: an upright cross.
#[must_use]
pub fn height_mark(p: PaperPoint) -> Vec<Mark> {
    let (x, y) = (by(HEIGHT_ARM, 0.0), by(0.0, HEIGHT_ARM));
    vec![draw::line(p + (-x), p + x, style::FINE), draw::line(p + (-y), p + y, style::FINE)]
}

/// What a moisture test found, short enough for a tag.
#[must_use]
pub fn reading(test: &MoistureTest) -> String {
    match (test.rh, test.mver) {
        (Some(rh), _) => write::percent(rh).replace(' ', ""),
        (None, Some(mver)) => format!("{} LB", write::trimmed(mver, 2)),
        (None, None) => String::new(),
    }
}

impl Drawing<'_> {
    pub(super) fn points(&mut self) -> Group {
        let slab = self.inputs.slab;
        let mut groups = Vec::new();
        for level in &slab.levels {
            self.used.insert(Symbol::Height);
            let p = self.symbol(level.at, HEIGHT_ARM);
            self.level_stroke(p, HEIGHT_ARM);
            groups.push(draw::group("", "height", height_mark(p)));
        }
        for (at, mohs, _) in &slab.hardness {
            self.used.insert(Symbol::Hardness);
            let p = self.symbol(*at, 1.5);
            self.level_stroke(p + by(0.0, 1.0), 1.4);
            let mut group = draw::group("", "hardness", hardness_mark(p));
            group.title = format!("Mohs hardness {}", write::trimmed(*mohs, 1));
            groups.push(group);
        }
        for test in &slab.moisture {
            self.used.insert(Symbol::Moisture);
            let p = self.symbol(test.at, TEST_RADIUS);
            let mut group = draw::group(&*test.id, "moisture", moisture_mark(p));
            group.title = format!("{}: moisture test", test.id);
            groups.push(group);
            self.tags.push(Tag::points(
                &test.id,
                format!("{} {}", test.id, reading(test)).trim_end().to_owned(),
                Outline::House,
                vec![p],
            ));
        }
        for test in self.inputs.wanted() {
            self.used.insert(Symbol::Wanted);
            let p = self.symbol(test.at, TEST_RADIUS);
            self.level_stroke(p, TEST_RADIUS);
            let mut group = draw::group(&*test.id, "moisture wanted", wanted_mark(p));
            group.title = format!("{}: moisture test still wanted", test.id);
            groups.push(group);
            self.tags.push(Tag::points(
                &test.id,
                format!("{} WANTED", test.id),
                Outline::House,
                vec![p],
            ));
        }
        layer("points", groups)
    }

    /// A height without its unit under metric, where the sheet says that all dimensions are millimeters.
    fn height(&self, m: f64) -> String {
        match self.units() {
            Units::Us => self.small(m),
            Units::Metric => write::trimmed(m * 1000.0, 1),
        }
    }

    /// A level stroke of a symbol, which beside a number would read as a minus.
    fn level_stroke(&mut self, middle: PaperPoint, half: f64) {
        let arm = by(half, 0.0);
        self.clear.add_soft(&[middle + (-arm), middle + arm]);
    }

    fn symbol(&mut self, at: Point, half: f64) -> PaperPoint {
        let p = self.view.point(at);
        self.clear.add_symbol(Slip::upright(&Box2::around(p, 2.0 * half, 2.0 * half)));
        p
    }

    /// Values beside spot heights and hardness tests, where there is room; all of them stand in the report.
    pub(super) fn heights(&mut self) {
        let slab = self.inputs.slab;
        let heights =
            slab.levels.iter().map(|l| (l.at, self.height(l.height_m))).collect::<Vec<_>>();
        let hardness = slab.hardness.iter().map(|(at, mohs, _)| (*at, write::trimmed(*mohs, 1)));
        for (at, text) in heights.into_iter().chain(hardness.collect::<Vec<_>>()) {
            let p = self.view.point(at);
            let type_ = style::body();
            let half = super::words::width(&text, type_) / 2.0 + 2.0;
            let places =
                [(half, -2.5), (half, 2.5), (-half, -2.5), (-half, 2.5), (0.0, -3.6), (0.0, 3.6)]
                    .map(|(dx, dy)| Label::level(p + by(dx, dy), &text, type_));
            self.put_beside("", 0.3, places);
        }
    }
}
