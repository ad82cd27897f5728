//! Patches, and bands that are feathered by hand with their high side ticked.

use kurbo::Point;

use crate::geometry::region::Region;
use crate::ink::{Group, PaperPoint};
use crate::quantity::tape;
use crate::quantity::write;
use crate::sketch::Hand;
use crate::slab::{Lippage, Spall};
use crate::takeoff::{LippageWork, Patch, SpallRepair, StepStretch};

use super::nearest::Kin;
use super::{Drawing, layer};
use crate::paper::dash;
use crate::paper::draw;
use crate::paper::hatch;
use crate::paper::label::Label;
use crate::paper::mm::{Box2, Shift};
use crate::paper::style;
use crate::paper::words;
use crate::sheet::legend::Symbol;
use crate::tags::{Outline, Tag};

/// A tick nearer to a match line may not be drawn, mm.
const OFF_MATCH_LINE: f64 = 2.0;
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
            let ring = self.patch_ring(patch);
            let closed = closed(&ring);
            let mut marks = Vec::new();
            let rings = [ring.clone()];
            let cut = Region::from_rings(&[patch.rect.corners().to_vec()]);
            let open = self.view.region(&cut.difference(&self.standing()));
            if !open.is_empty() && !hatch::too_narrow(&open, style::PATCH_SPACING) {
                marks.push(draw::hatch(&hatch::lines(&open, 45.0, style::PATCH_SPACING)));
            }
            // Of dashes around a ring smaller than one of them a match line may leave next to nothing.
            let around = Box2::of(&closed);
            let small = around.width().max(around.height()) < dash::REMOVAL.dash;
            let dashes =
                if small { vec![closed.clone()] } else { dash::cut(&closed, dash::REMOVAL) };
            marks.push(draw::lines(&dashes, style::REMOVAL));
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
            let ids: Vec<&str> = patch.ids().collect();
            self.tags.push(Tag::area(
                &patch.id,
                patch_words(&patch.id, &ids),
                Outline::Double,
                &rings,
            ));
        }
        let works: Vec<_> = takeoff.spalls_of(slab).collect();
        for (spall, work) in works {
            groups.insert(0, self.spall(spall, &work.repair));
        }
        layer("patches", groups)
    }

    /// A patch on paper, no smaller than is seen.
    fn patch_ring(&self, patch: &Patch) -> Vec<PaperPoint> {
        let corners: [Point; 4] = patch.rect.corners();
        seen(corners.iter().map(|&p| self.view.point(p)).collect())
    }

    /// Sizes of the patches beside them, where there is room; the schedule has all of them.
    pub(super) fn patch_texts(&mut self, kin: &Kin) {
        for patch in &self.inputs.takeoff.patches {
            let text = tape::sides(patch.length_m, patch.width_m, self.units()).to_uppercase();
            let ring = self.patch_ring(patch);
            let around = Box2::of(&ring);
            let c = around.center();
            let type_ = style::body();
            let half = words::width(&text, type_) / 2.0;
            let (dx, dy) = (around.width() / 2.0 + half + 1.2, around.height() / 2.0 + 2.4);
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
            let labels = places
                .map(|(x, y)| Label::level(c + super::by(x, y), &text, type_))
                .into_iter()
                .filter(|l| kin.is_nearest(&patch.id, &l.slip));
            let id = format!("text-{}", patch.id);
            self.put_beside(&id, 0.35, labels);
        }
    }

    fn spall(&mut self, spall: &Spall, repair: &SpallRepair) -> Group {
        self.used.insert(Symbol::Spall);
        let rings: Vec<_> = spall.shape.rings.iter().map(|r| seen(self.view.path(r))).collect();
        for ring in &rings {
            self.clear.add_line(&closed(ring));
        }
        let mut group = draw::group(
            &*spall.id,
            "spall",
            vec![draw::rings(&rings, Some(style::FINE), Some(style::SPALL_FILL))],
        );
        group.title =
            format!("{}: spall, {} deep", spall.id, write::small(spall.depth, self.units()));
        if repair.patch().is_none() {
            let region = self.view.region(&spall.shape.region);
            let region: Vec<_> = region.into_iter().map(seen).collect();
            self.tags.push(Tag::area(&spall.id, spall.id.clone(), Outline::Round, &region));
        }
        group
    }

    pub(super) fn steps(&mut self) -> Group {
        let (slab, takeoff) = (self.inputs.slab, self.inputs.takeoff);
        let groups = takeoff.steps_of(slab).map(|(l, w)| self.step(l, w)).collect();
        layer("steps", groups)
    }

    fn step(&mut self, lippage: &Lippage, work: &LippageWork) -> Group {
        let mut marks = Vec::new();
        for stretch in work.stretches.iter().filter(|s| has_length(s)) {
            self.used.insert(Symbol::HandGrind);
            let band = self.band(lippage, stretch);
            self.clear.add_soft(&band);
            let comb = self.comb(lippage, stretch);
            for stroke in &comb {
                self.clear.add_soft(stroke);
            }
            marks.extend((!comb.is_empty()).then(|| draw::hatch(&comb)));
            marks.push(draw::polygon(&band, Some(style::FINE), None));
            let ticks = self.ticks(lippage, stretch);
            marks.push(draw::lines(&ticks, style::REMOVAL));
            for tick in &ticks {
                self.clear.add_line(tick);
            }
        }
        let middle = |s: &StepStretch| self.edge_of_band(lippage, s, (s.from_m + s.to_m) / 2.0);
        let mut anchors: Vec<PaperPoint> =
            work.stretches.iter().filter(|s| has_length(s)).map(middle).collect();
        if anchors.is_empty() {
            self.used.insert(Symbol::Step);
            let [first, middle, last] = read_stations(lippage).map(|s| lippage.path.point_at(s));
            // A tick on a match line is cut away with what lies beyond: of those that lie best in the window, the first of these.
            let off = |p: &Point| {
                let edge = self.view.floor_length(OFF_MATCH_LINE);
                let window = self.part.map(|part| part.window.inset(-edge));
                window.map_or(0.0, |w| {
                    let nearest = Point::new(p.x.max(w.x0).min(w.x1), p.y.max(w.y0).min(w.y1));
                    p.distance(nearest)
                })
            };
            let ticks = [middle, first, last].into_iter();
            let drawn = ticks.min_by(|a, b| off(a).total_cmp(&off(b)));
            anchors.push(self.view.point(drawn.unwrap_or(middle)));
            let ticks = self.low_ticks(lippage);
            for tick in &ticks {
                self.clear.add_line(tick);
            }
            marks.push(draw::lines(&ticks, style::OBJECT));
        }
        let mut group = draw::group(&*lippage.id, "step", marks);
        group.title = format!(
            "{}: offset up to {}, {} taken down by hand",
            lippage.id,
            write::small(work.max_step_mm / 1000.0, self.units()),
            write::run(work.hand_length_m, self.units())
        );
        self.tags.push(Tag::points(&lippage.id, lippage.id.clone(), Outline::Diamond, anchors));
        group
    }

    /// Ticks of a step that the machine takes.
    fn low_ticks(&self, lippage: &Lippage) -> Vec<Vec<PaperPoint>> {
        let tick = |s: f64| {
            let foot = self.view.point(lippage.path.point_at(s));
            vec![foot, foot + self.high(lippage, s) * TICK]
        };
        read_stations(lippage).map(tick).to_vec()
    }

    /// Unit direction on paper from the line to its high side.
    fn high(&self, lippage: &Lippage, station: f64) -> Shift {
        let left = self.view.direction(lippage.path.direction_at(station)).left();
        match lippage.high {
            Hand::Left => left,
            Hand::Right => -left,
        }
    }

    /// The far edge of the band at a station, on paper.
    fn edge_of_band(&self, lippage: &Lippage, stretch: &StepStretch, station: f64) -> PaperPoint {
        let span = stretch.to_m - stretch.from_m;
        let share = if span > 0.0 { (station - stretch.from_m) / span } else { 0.0 };
        let step = stretch.step_from_mm + share * (stretch.step_to_mm - stretch.step_from_mm);
        let run = self.view.length(step / 1000.0 * self.inputs.shop.grinding.feather);
        self.view.point(lippage.path.point_at(station)) + self.high(lippage, station) * run
    }

    fn band(&self, lippage: &Lippage, stretch: &StepStretch) -> Vec<PaperPoint> {
        let inner = self.view.path(&lippage.path.part(stretch.from_m, stretch.to_m));
        let stations = self.stations(stretch, 2.0);
        let outer = stations.into_iter().rev().map(|s| self.edge_of_band(lippage, stretch, s));
        inner.into_iter().chain(outer).collect()
    }

    /// Stations of a stretch about so many mm of paper apart, both ends among them.
    fn stations(&self, stretch: &StepStretch, apart: f64) -> Vec<f64> {
        let span = stretch.to_m - stretch.from_m;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped")]
        let n = (self.view.length(span) / apart).round().clamp(1.0, 2000.0) as u32;
        (0..=n).map(|i| stretch.from_m + span * f64::from(i) / f64::from(n)).collect()
    }

    /// Strokes across a band. Its ends are drawn with their ticks, so a band too short for a stroke between them has none.
    fn comb(&self, lippage: &Lippage, stretch: &StepStretch) -> Vec<Vec<PaperPoint>> {
        let line = |&s: &f64| {
            vec![self.view.point(lippage.path.point_at(s)), self.edge_of_band(lippage, stretch, s)]
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
    fn low_step(&self, lippage: &Lippage, mm: f64) -> Option<Height> {
        let highest = lippage
            .readings
            .iter()
            .filter_map(|r| r.1.map(|h| (r.0, h)))
            .max_by(|a, b| a.1.total_cmp(&b.1));
        let (station, _) = highest.filter(|_| mm > 0.0)?;
        let high = self.high(lippage, station);
        let foot = self.view.point(lippage.path.point_at(station));
        Some(Height { mm, foot, tip: foot + high * TICK, high })
    }

    /// Heights of the step at the ticks, highest first.
    pub(super) fn step_texts(&mut self, kin: &Kin) {
        let (slab, takeoff) = (self.inputs.slab, self.inputs.takeoff);
        for (lippage, work) in takeoff.steps_of(slab) {
            let mut heights: Vec<Height> = Vec::new();
            for s in work.stretches.iter().filter(|s| has_length(s)) {
                for (station, mm) in [(s.from_m, s.step_from_mm), (s.to_m, s.step_to_mm)] {
                    let high = self.high(lippage, station);
                    let foot = self.view.point(lippage.path.point_at(station));
                    let tip = self.edge_of_band(lippage, s, station) + high * TICK;
                    if !heights.iter().any(|h| (h.tip - tip).length() < 0.5) {
                        heights.push(Height { mm, foot, tip, high });
                    }
                }
            }
            if heights.is_empty() {
                heights.extend(self.low_step(lippage, work.max_step_mm));
            }
            heights.sort_by(|a, b| b.mm.total_cmp(&a.mm));
            for (i, height) in heights.into_iter().enumerate() {
                let mut places = height.places(&self.small(height.mm / 1000.0));
                places.retain(|l| kin.is_nearest(&lippage.id, &l.slip));
                self.put_beside(&format!("text-{}-{}", lippage.id, i + 1), 0.3, places);
            }
        }
    }
}

/// The height of a step at a tick.
struct Height {
    mm: f64,
    /// Where the tick leaves the line.
    foot: PaperPoint,
    /// Its other end.
    tip: PaperPoint,
    /// To the high side.
    high: Shift,
}

impl Height {
    /// Where it may be written: at the end of the tick, else behind the line, on the low side.
    fn places(&self, text: &str) -> Vec<Label> {
        let type_ = style::body();
        let (high, side) = (self.high, self.high.left());
        let level = |at: PaperPoint| Label::level(at, text, type_);
        let mut places = vec![level(self.tip + high * 2.0)];
        for d in [2.4, 3.4, 4.6] {
            for (a, b) in [(1.0, 0.6), (1.0, -0.6), (0.4, 1.0), (0.4, -1.0)] {
                places.push(level(self.tip + high * (d * a) + side * (d * b)));
            }
        }
        let slip = level(self.foot).slip;
        let reach = slip.half_along * high.x.abs() + slip.half_across * high.y.abs();
        for (off, along) in
            [(1.0, 0.0), (1.0, 2.4), (1.0, -2.4), (2.4, 0.0), (2.4, 4.0), (2.4, -4.0)]
        {
            places.push(level(self.foot + high * -(reach + off) + side * along));
        }
        places
    }
}

/// Least size at which something is drawn, mm: the eye finds it, and its pattern is seen.
pub const LEAST_SEEN: f64 = 1.7;

/// A ring or line large enough to be seen: a smaller one grows about its middle and keeps its shape.
pub(super) fn seen(ring: Vec<PaperPoint>) -> Vec<PaperPoint> {
    let (middle, factor) = growth(&Box2::of(&ring));
    ring.into_iter().map(|p| middle + (p - middle) * factor).collect()
}

/// Runs of a line that together are no smaller than is seen.
pub(super) fn seen_runs(runs: Vec<Vec<PaperPoint>>) -> Vec<Vec<PaperPoint>> {
    let (middle, factor) = growth(&Box2::of(&runs.concat()));
    let grown = |run: Vec<PaperPoint>| run.into_iter().map(|p| middle + (p - middle) * factor);
    runs.into_iter().map(|run| grown(run).collect()).collect()
}

/// About which point and by how much something so large grows until it is seen.
pub(super) fn growth(around: &Box2) -> (PaperPoint, f64) {
    let across = around.width().max(around.height());
    let small = across > 0.0 && across < LEAST_SEEN;
    (around.center(), if small { LEAST_SEEN / across } else { 1.0 })
}

fn closed(ring: &[PaperPoint]) -> Vec<PaperPoint> {
    let mut closed = ring.to_vec();
    closed.extend(ring.first().copied());
    closed
}

/// Stations of the first and the last reading of a step, and the middle between them.
fn read_stations(lippage: &Lippage) -> [f64; 3] {
    let mut read = lippage.readings.iter().filter(|r| r.1.is_some());
    let first = read.next().map_or(0.0, |r| r.0);
    let last = read.next_back().map_or(first, |r| r.0);
    [first, (first + last) / 2.0, last]
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
