//! Patches, and bands that are feathered by hand with their high side ticked.

use kurbo::Point;

use crate::ink::{Group, PaperPoint};
use crate::quantity::write;
use crate::sketch::Hand;
use crate::slab::{Lippage, Spall};
use crate::takeoff::{LippageWork, SpallRepair, StepStretch};

use super::super::dash;
use super::super::draw;
use super::super::hatch;
use super::super::label::Label;
use super::super::legend::Symbol;
use super::super::mm::{Box2, Shift};
use super::super::style;
use super::super::tags::{Outline, Tag};
use super::super::tape;
use super::super::words;
use super::{Drawing, layer};

/// Spacing of the strokes across a band, mm of paper.
const COMB: f64 = 1.2;
/// How far the ticks that show the high side run past the band, mm of paper.
const TICK: f64 = 2.0;

impl Drawing<'_> {
    pub(super) fn patches(&mut self) -> Group {
        let (slab, takeoff) = (self.inputs.slab, self.inputs.takeoff);
        let mut groups = Vec::new();
        for patch in &takeoff.patches {
            self.used.insert(Symbol::Patch);
            let corners: [Point; 4] = patch.rect.corners();
            let ring: Vec<PaperPoint> = corners.iter().map(|&p| self.view.point(p)).collect();
            let mut closed = ring.clone();
            closed.extend(ring.first().copied());
            let mut marks = Vec::new();
            let rings = [ring.clone()];
            if !hatch::too_narrow(&rings, style::PATCH_SPACING) {
                marks.push(draw::hatch(&hatch::lines(
                    &rings,
                    45.0,
                    style::PATCH_SPACING,
                )));
            }
            marks.push(draw::lines(
                &dash::cut(&closed, dash::REMOVAL),
                style::REMOVAL,
            ));
            self.clear.add_line(&closed);
            let mut group = draw::group(&*patch.id, "patch", marks);
            group.title = format!(
                "{}: patch {} × {}, {} deep",
                patch.id,
                write::length(patch.length_m, slab.units),
                write::length(patch.width_m, slab.units),
                write::small(patch.depth_mm / 1000.0, slab.units)
            );
            groups.push(group);
            let ids: Vec<&str> = patch
                .spalls
                .iter()
                .filter_map(|&i| slab.spalls.get(i))
                .map(|s| &*s.id)
                .collect();
            self.tags.push(Tag::area(
                &patch.id,
                patch_words(&patch.id, &ids),
                Outline::Double,
                &rings,
            ));
        }
        let works: Vec<_> = slab.spalls.iter().zip(&takeoff.spalls).collect();
        for (spall, work) in works {
            groups.insert(0, self.spall(spall, work.repair));
        }
        layer("patches", groups)
    }

    /// Sizes of the patches beside them, where there is room; the schedule has all of them.
    pub(super) fn patch_texts(&mut self) {
        for patch in &self.inputs.takeoff.patches {
            let text = tape::sides(patch.length_m, patch.width_m, self.units()).to_uppercase();
            let ring: Vec<PaperPoint> = patch
                .rect
                .corners()
                .iter()
                .map(|&p| self.view.point(p))
                .collect();
            let around = Box2::of(&ring);
            let c = around.center();
            let type_ = style::body();
            let half = words::width(&text, type_) / 2.0;
            let (dx, dy) = (
                around.width() / 2.0 + half + 1.2,
                around.height() / 2.0 + 2.4,
            );
            let places = [
                (0.0, dy),
                (0.0, -dy),
                (dx, 0.0),
                (-dx, 0.0),
                (dx, dy),
                (-dx, dy),
                (dx, -dy),
                (-dx, -dy),
            ];
            let labels = places.map(|(x, y)| Label::level(c + super::by(x, y), &text, type_));
            self.put_off_joints("", 0.35, labels);
        }
    }

    fn spall(&mut self, spall: &Spall, repair: SpallRepair) -> Group {
        self.used.insert(Symbol::Spall);
        let rings: Vec<_> = spall
            .shape
            .rings
            .iter()
            .map(|r| self.view.path(r))
            .collect();
        for ring in &rings {
            self.clear.add_line(ring);
        }
        let mut group = draw::group(
            &*spall.id,
            "spall",
            vec![draw::rings(
                &rings,
                Some(style::FINE),
                Some(style::SPALL_FILL),
            )],
        );
        group.title = format!(
            "{}: spall, {} deep",
            spall.id,
            write::small(spall.depth, self.units())
        );
        if !matches!(repair, SpallRepair::Patch(_)) {
            let region = self.view.region(&spall.shape.region);
            self.tags.push(Tag::area(
                &spall.id,
                spall.id.clone(),
                Outline::Round,
                &region,
            ));
        }
        group
    }

    pub(super) fn steps(&mut self) -> Group {
        let (slab, takeoff) = (self.inputs.slab, self.inputs.takeoff);
        let groups = slab
            .lippage
            .iter()
            .zip(&takeoff.lippage)
            .map(|(l, w)| self.step(l, w))
            .collect();
        layer("steps", groups)
    }

    fn step(&mut self, lippage: &Lippage, work: &LippageWork) -> Group {
        let mut marks = Vec::new();
        for stretch in work.stretches.iter().filter(|s| has_length(s)) {
            self.used.insert(Symbol::HandGrind);
            let band = self.band(lippage, stretch);
            self.clear.add_soft(&band);
            let comb = self.comb(lippage, stretch);
            marks.extend((!comb.is_empty()).then(|| draw::hatch(&comb)));
            marks.push(draw::polygon(&band, Some(style::FINE), None));
            let ticks = self.ticks(lippage, stretch);
            marks.push(draw::lines(&ticks, style::REMOVAL));
            for tick in &ticks {
                self.clear.add_line(tick);
            }
        }
        let middle = |s: &StepStretch| self.edge_of_band(lippage, s, (s.from_m + s.to_m) / 2.0);
        let mut anchors: Vec<PaperPoint> = work
            .stretches
            .iter()
            .filter(|s| has_length(s))
            .map(middle)
            .collect();
        if anchors.is_empty() {
            self.used.insert(Symbol::Step);
            let read: Vec<f64> = lippage
                .readings
                .iter()
                .filter(|r| r.1.is_some())
                .map(|r| r.0)
                .collect();
            let half = read
                .first()
                .zip(read.last())
                .map_or(0.0, |(a, b)| (a + b) / 2.0);
            anchors.push(self.view.point(lippage.path.point_at(half)));
            let ends = read
                .first()
                .copied()
                .into_iter()
                .chain([half])
                .chain(read.last().copied());
            let ticks: Vec<Vec<PaperPoint>> = ends
                .map(|s| {
                    let foot = self.view.point(lippage.path.point_at(s));
                    vec![foot, foot + self.high(lippage, s) * TICK]
                })
                .collect();
            for tick in &ticks {
                self.clear.add_line(tick);
            }
            marks.push(draw::lines(&ticks, style::OBJECT));
        }
        let mut group = draw::group(&*lippage.id, "step", marks);
        group.title = format!(
            "{}: step up to {}, {} taken down by hand",
            lippage.id,
            write::small(work.max_step_mm / 1000.0, self.units()),
            write::run(work.hand_length_m, self.units())
        );
        self.tags.push(Tag::points(
            &lippage.id,
            lippage.id.clone(),
            Outline::Diamond,
            anchors,
        ));
        group
    }

    /// Unit direction on paper from the line to its high side.
    fn high(&self, lippage: &Lippage, station: f64) -> Shift {
        let left = self
            .view
            .direction(lippage.path.direction_at(station))
            .left();
        match lippage.high {
            Hand::Left => left,
            Hand::Right => -left,
        }
    }

    /// The far edge of the band at a station, on paper.
    fn edge_of_band(&self, lippage: &Lippage, stretch: &StepStretch, station: f64) -> PaperPoint {
        let span = stretch.to_m - stretch.from_m;
        let share = if span > 0.0 {
            (station - stretch.from_m) / span
        } else {
            0.0
        };
        let step = stretch.step_from_mm + share * (stretch.step_to_mm - stretch.step_from_mm);
        let run = self
            .view
            .length(step / 1000.0 * self.inputs.shop.grinding.feather);
        self.view.point(lippage.path.point_at(station)) + self.high(lippage, station) * run
    }

    fn band(&self, lippage: &Lippage, stretch: &StepStretch) -> Vec<PaperPoint> {
        let inner = self
            .view
            .path(&lippage.path.part(stretch.from_m, stretch.to_m));
        let stations = self.stations(stretch, 2.0);
        let outer = stations
            .into_iter()
            .rev()
            .map(|s| self.edge_of_band(lippage, stretch, s));
        inner.into_iter().chain(outer).collect()
    }

    /// Stations of a stretch about so many mm of paper apart, both ends among them.
    fn stations(&self, stretch: &StepStretch, apart: f64) -> Vec<f64> {
        let span = stretch.to_m - stretch.from_m;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "clamped"
        )]
        let n = (self.view.length(span) / apart).round().clamp(1.0, 2000.0) as u32;
        (0..=n)
            .map(|i| stretch.from_m + span * f64::from(i) / f64::from(n))
            .collect()
    }

    /// Strokes across a band. Its ends are drawn with their ticks, so a band too short for a stroke between them has none.
    fn comb(&self, lippage: &Lippage, stretch: &StepStretch) -> Vec<Vec<PaperPoint>> {
        let line = |&s: &f64| {
            vec![
                self.view.point(lippage.path.point_at(s)),
                self.edge_of_band(lippage, stretch, s),
            ]
        };
        match self.stations(stretch, COMB).as_slice() {
            [_, between @ .., _] => between.iter().map(line).collect(),
            _ => Vec::new(),
        }
    }

    /// Ticks that run past the band on its high side, at both ends of a stretch.
    fn ticks(&self, lippage: &Lippage, stretch: &StepStretch) -> Vec<Vec<PaperPoint>> {
        let tick = |s: f64| {
            let far = self.edge_of_band(lippage, stretch, s) + self.high(lippage, s) * TICK;
            vec![self.view.point(lippage.path.point_at(s)), far]
        };
        vec![tick(stretch.from_m), tick(stretch.to_m)]
    }

    /// Where the height of a step that the machine takes is written.
    fn low_step(&self, lippage: &Lippage, mm: f64) -> Option<(f64, PaperPoint, Shift)> {
        let highest = lippage
            .readings
            .iter()
            .filter_map(|r| r.1.map(|h| (r.0, h)))
            .max_by(|a, b| a.1.total_cmp(&b.1));
        let (station, _) = highest.filter(|_| mm > 0.0)?;
        let high = self.high(lippage, station);
        Some((
            mm,
            self.view.point(lippage.path.point_at(station)) + high * TICK,
            high,
        ))
    }

    /// Heights of the step at the ticks, highest first.
    pub(super) fn step_texts(&mut self) {
        let (slab, takeoff) = (self.inputs.slab, self.inputs.takeoff);
        for (lippage, work) in slab.lippage.iter().zip(&takeoff.lippage) {
            let mut heights: Vec<(f64, PaperPoint, Shift)> = Vec::new();
            for s in work.stretches.iter().filter(|s| has_length(s)) {
                for (station, mm) in [(s.from_m, s.step_from_mm), (s.to_m, s.step_to_mm)] {
                    let at =
                        self.edge_of_band(lippage, s, station) + self.high(lippage, station) * TICK;
                    let known = |h: &(f64, PaperPoint, Shift)| (h.1 - at).length() < 0.5;
                    if !heights.iter().any(known) {
                        heights.push((mm, at, self.high(lippage, station)));
                    }
                }
            }
            if heights.is_empty() {
                heights.extend(self.low_step(lippage, work.max_step_mm));
            }
            heights.sort_by(|a, b| b.0.total_cmp(&a.0));
            for (mm, at, high) in heights {
                let text = self.small(mm / 1000.0);
                let type_ = style::body();
                let side = high.left();
                let mut places = vec![Label::centered(
                    at + high * 2.0,
                    &text,
                    type_,
                    super::by(1.0, 0.0),
                )];
                for d in [2.4, 3.4, 4.6] {
                    for (a, b) in [(1.0, 0.6), (1.0, -0.6), (0.4, 1.0), (0.4, -1.0)] {
                        places.push(Label::level(
                            at + high * (d * a) + side * (d * b),
                            &text,
                            type_,
                        ));
                    }
                }
                self.put_off_joints("", 0.3, places);
            }
        }
    }
}

/// Whether a stretch is long enough to be ground: a profile that only touches the limit has one of no length.
#[must_use]
pub fn has_length(stretch: &StepStretch) -> bool {
    stretch.to_m - stretch.from_m > 1e-3
}

/// The words of a patch's tag: its number and the spalls it covers.
#[must_use]
pub fn patch_words(id: &str, spalls: &[&str]) -> String {
    match spalls {
        [] => id.to_owned(),
        [a] => format!("{id} {a}"),
        [a, b] => format!("{id} {a} {b}"),
        [a, rest @ ..] => format!("{id} {a} +{}", rest.len()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_patch_names_its_spalls_as_far_as_a_tag_reaches() {
        assert_eq!(patch_words("R1", &["S1"]), "R1 S1");
        assert_eq!(patch_words("R1", &["S1", "S4"]), "R1 S1 S4");
        assert_eq!(patch_words("R1", &["S1", "S4", "S5"]), "R1 S1 +2");
    }
}
