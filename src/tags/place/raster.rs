//! What is already on the paper, as cells of half a millimeter, so that a box is tested with four look-ups.

use super::shape::PaperBox;
use super::{Feature, LeaderRule, Line, Problem, Tag};
use crate::ink::PaperPoint;

/// Side of a cell, mm.
pub(super) const CELL: f64 = 0.5;

/// Most cells. ANSI E has 3.5 million; a zone that would have more is a mistake and gets coarser cells.
const MOST_CELLS: f64 = 8_000_000.0;

/// Step along a leader when counting what it crosses, mm.
const STRIDE: f64 = 0.25;

/// Step along a leader when looking for text, mm: a corner that is cut by less is air.
const FINE_STRIDE: f64 = 0.1;

/// Boundaries are widened by this, mm, so that rounding cannot move a line out of the cell it touches.
const SLACK: f64 = 1e-9;

const LINE: u8 = 1;
const SOLID: u8 = 2;
const JOINT: u8 = 4;
const TEXT: u8 = 8;

/// The occupied cells of a zone.
pub(super) struct Raster {
    pub zone: PaperBox,
    reserved: Vec<PaperBox>,
    cell: f64,
    columns: usize,
    rows: usize,
    cells: Vec<u8>,
    hard: Sums,
    joints: Sums,
}

/// Runs of occupied cells along a leader.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Met {
    pub lines: u32,
    pub solids: u32,
    pub joints: u32,
}

impl Raster {
    pub fn of(zone: PaperBox, problem: &Problem) -> Raster {
        let mut raster = Raster::empty(zone);
        raster.reserved.clone_from(&problem.reserved);
        problem.lines.iter().for_each(|l| raster.stamp_line(l, LINE));
        problem.joints.iter().for_each(|l| raster.stamp_line(l, JOINT));
        problem.boxes.iter().for_each(|b| raster.stamp_box(b, SOLID));
        problem.solids.iter().for_each(|ring| raster.stamp_ring(ring, SOLID));
        let texts = problem.texts.iter();
        texts.for_each(|ring| raster.stamp_ring(ring, SOLID | TEXT));
        let marks = problem.tags.iter().flat_map(own_marks);
        marks.for_each(|b| raster.stamp_box(&b, SOLID));
        raster.hard = Sums::of(&raster.cells, raster.columns, LINE | SOLID);
        raster.joints = Sums::of(&raster.cells, raster.columns, JOINT);
        raster
    }

    fn empty(zone: PaperBox) -> Raster {
        let area = (zone.width() * zone.height()).max(0.0);
        let cell = if area.is_finite() { CELL.max((area / MOST_CELLS).sqrt()) } else { CELL };
        let count = |length: f64| {
            if area.is_finite() { (length / cell).ceil().max(0.0) as usize } else { 0 }
        };
        let (columns, rows) = (count(zone.width()), count(zone.height()));
        let (hard, joints) = (Sums::default(), Sums::default());
        let reserved = Vec::new();
        Raster { zone, reserved, cell, columns, rows, cells: vec![0; columns * rows], hard, joints }
    }

    /// Whether no line and no solid is under the box. What is outside the zone counts as free.
    pub fn is_free(&self, area: &PaperBox) -> bool {
        let (x, y) = self.span(area);
        self.hard.within(x, y) == 0
    }

    /// Whether some of the box is reserved.
    pub fn is_reserved(&self, area: &PaperBox) -> bool {
        self.reserved.iter().any(|r| r.overlaps(area))
    }

    /// Cells with a joint under the box.
    pub fn joint_cells(&self, area: &PaperBox) -> u32 {
        let (x, y) = self.span(area);
        self.joints.within(x, y)
    }

    /// Whether a leader runs through text, its start included.
    pub fn meets_text(&self, from: PaperPoint, to: PaperPoint) -> bool {
        let length = (to.x - from.x).hypot(to.y - from.y);
        let steps = (length / FINE_STRIDE).ceil().max(1.0) as usize;
        (0..=steps).any(|n| {
            let share = n as f64 / steps as f64;
            let x = from.x - self.zone.left + (to.x - from.x) * share;
            let y = from.y - self.zone.top + (to.y - from.y) * share;
            self.at(x, y) & TEXT != 0
        })
    }

    /// What a leader meets on its way. What it starts on is its own feature and is not counted.
    pub fn met(&self, from: PaperPoint, to: PaperPoint) -> Met {
        let length = (to.x - from.x).hypot(to.y - from.y);
        let steps = (length / STRIDE).ceil().max(1.0);
        let mut met = Met::default();
        let mut before = self.at(from.x - self.zone.left, from.y - self.zone.top);
        for n in 1..=steps as usize {
            let n = n as f64;
            let x = from.x - self.zone.left + (to.x - from.x) * n / steps;
            let y = from.y - self.zone.top + (to.y - from.y) * n / steps;
            let now = self.at(x, y);
            let entered = now & !before;
            met.lines += u32::from(entered & LINE != 0);
            met.solids += u32::from(entered & SOLID != 0);
            met.joints += u32::from(entered & JOINT != 0);
            before = now;
        }
        met
    }

    /// Flags of the cell at an offset from the zone's corner; 0 outside.
    fn at(&self, x: f64, y: f64) -> u8 {
        let index = |offset: f64, count: usize| {
            let n = (offset / self.cell).floor();
            (n >= 0.0 && n < count as f64).then_some(n as usize)
        };
        match (index(x, self.columns), index(y, self.rows)) {
            (Some(x), Some(y)) => self.cells[y * self.columns + x],
            _ => 0,
        }
    }

    /// Columns and rows that a box reaches into, as half-open ranges inside the zone.
    fn span(&self, area: &PaperBox) -> ((usize, usize), (usize, usize)) {
        let range = |low: f64, high: f64, count: usize| {
            let first = (low / self.cell).floor().clamp(0.0, count as f64) as usize;
            let end = (high / self.cell).ceil().clamp(0.0, count as f64) as usize;
            (first, end.max(first))
        };
        let x = range(area.left - self.zone.left, area.right - self.zone.left, self.columns);
        let y = range(area.top - self.zone.top, area.bottom - self.zone.top, self.rows);
        (x, y)
    }

    fn stamp_box(&mut self, area: &PaperBox, flag: u8) {
        let (x, y) = self.span(&area.grown(SLACK));
        for row in y.0..y.1 {
            self.cells[row * self.columns + x.0..row * self.columns + x.1]
                .iter_mut()
                .for_each(|c| *c |= flag);
        }
    }

    /// Marks every cell that the pen touches, and a few at a slanting line's flanks that it almost touches.
    fn stamp_line(&mut self, line: &Line, flag: u8) {
        let values = [line.from.x, line.from.y, line.to.x, line.to.y, line.width];
        if values.iter().any(|v| !v.is_finite()) {
            return;
        }
        let half = line.width.max(0.0) / 2.0 + SLACK;
        let (a, b) =
            if line.from.y <= line.to.y { (line.from, line.to) } else { (line.to, line.from) };
        let whole = PaperBox::new(a.x.min(b.x) - half, a.y - half, a.x.max(b.x) + half, b.y + half);
        let (_, rows) = self.span(&whole);
        for row in rows.0..rows.1 {
            let top = self.zone.top + row as f64 * self.cell;
            let at = |y: f64| {
                let share = if b.y > a.y { ((y - a.y) / (b.y - a.y)).clamp(0.0, 1.0) } else { 0.0 };
                a.x + share * (b.x - a.x)
            };
            let (x1, x2) =
                if b.y > a.y { (at(top - half), at(top + self.cell + half)) } else { (a.x, b.x) };
            let strip = PaperBox::new(x1.min(x2) - half, top, x1.max(x2) + half, top + self.cell);
            let (x, _) = self.span(&strip);
            self.cells[row * self.columns + x.0..row * self.columns + x.1]
                .iter_mut()
                .for_each(|c| *c |= flag);
        }
    }

    /// Marks a ring's outline and what is inside (even-odd, by the middle of each row).
    fn stamp_ring(&mut self, ring: &Vec<PaperPoint>, flag: u8) {
        let rings = std::slice::from_ref(ring);
        if ring.iter().any(|p| !p.x.is_finite() || !p.y.is_finite()) {
            return;
        }
        let edges: Vec<Line> =
            super::interior::edges(rings).map(|(from, to)| Line { from, to, width: 0.0 }).collect();
        edges.iter().for_each(|e| self.stamp_line(e, flag));
        let (_, rows) = self.span(&super::interior::bounds(rings));
        for row in rows.0..rows.1 {
            let y = self.zone.top + (row as f64 + 0.5) * self.cell;
            let mut cuts: Vec<f64> = edges
                .iter()
                .filter(|e| (e.from.y > y) != (e.to.y > y))
                .map(|e| e.from.x + (y - e.from.y) * (e.to.x - e.from.x) / (e.to.y - e.from.y))
                .collect();
            cuts.sort_by(f64::total_cmp);
            for pair in cuts.chunks_exact(2) {
                let (x, _) = self.span(&PaperBox::new(pair[0], y, pair[1], y));
                self.cells[row * self.columns + x.0..row * self.columns + x.1]
                    .iter_mut()
                    .for_each(|c| *c |= flag);
            }
        }
    }
}

/// The spots of a point feature, which no tag may hide. A tag without a leader sits on its own point, and nothing is drawn there.
fn own_marks(tag: &Tag) -> Vec<PaperBox> {
    match (&tag.feature, tag.leader) {
        (Feature::Points { at, radius }, LeaderRule::AtLeast(_)) => {
            let side = 2.0 * radius.max(CELL / 2.0);
            let finite = at.iter().filter(|p| p.x.is_finite() && p.y.is_finite());
            finite.map(|&p| PaperBox::around(p, side, side)).collect()
        }
        _ => Vec::new(),
    }
}

/// Summed-area table: how many cells with a flag lie above and to the left.
#[derive(Default)]
struct Sums {
    columns: usize,
    sums: Vec<u32>,
}

impl Sums {
    fn of(cells: &[u8], columns: usize, flags: u8) -> Sums {
        let rows = cells.len().checked_div(columns).unwrap_or(0);
        let width = columns + 1;
        let mut sums = vec![0; width * (rows + 1)];
        for row in 0..rows {
            let mut line = 0;
            for column in 0..columns {
                line += u32::from(cells[row * columns + column] & flags != 0);
                sums[(row + 1) * width + column + 1] = sums[row * width + column + 1] + line;
            }
        }
        Sums { columns, sums }
    }

    fn within(&self, (x1, x2): (usize, usize), (y1, y2): (usize, usize)) -> u32 {
        let at =
            |x: usize, y: usize| self.sums.get(y * (self.columns + 1) + x).copied().unwrap_or(0);
        at(x2, y2) + at(x1, y1) - at(x1, y2) - at(x2, y1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: f64, y: f64) -> PaperPoint {
        PaperPoint { x, y }
    }

    fn raster(lines: Vec<Line>, solids: Vec<Vec<PaperPoint>>) -> Raster {
        let zone = PaperBox::new(10.0, 10.0, 60.0, 60.0);
        Raster::of(zone, &Problem { zone, lines, solids, ..Problem::default() })
    }

    #[test]
    fn every_cell_that_a_line_touches_is_taken() {
        for (from, to) in [
            ((12.0, 13.0), (55.3, 47.9)),
            ((50.0, 12.0), (20.0, 55.0)),
            ((10.0, 30.0), (60.0, 30.0)),
            ((30.5, 1.0), (30.5, 90.0)),
        ] {
            let line = Line { from: at(from.0, from.1), to: at(to.0, to.1), width: 0.5 };
            let raster = raster(vec![line], Vec::new());
            for n in 0..=1000 {
                let share = f64::from(n) / 1000.0;
                let p = at(from.0 + share * (to.0 - from.0), from.1 + share * (to.1 - from.1));
                let free = raster.is_free(&PaperBox::around(p, 0.002, 0.002));
                assert!(!free || !raster.zone.contains(p), "{p:?}");
            }
        }
    }

    #[test]
    fn beside_a_line_is_free() {
        let raster =
            raster(vec![Line { from: at(20.0, 20.2), to: at(50.0, 20.2), width: 0.0 }], Vec::new());
        assert!(raster.is_free(&PaperBox::new(20.0, 20.5, 50.0, 25.0)));
        assert!(!raster.is_free(&PaperBox::new(20.0, 20.4, 50.0, 25.0)));
        assert_eq!(raster.met(at(30.0, 25.0), at(30.0, 15.0)).lines, 1);
        assert_eq!(raster.met(at(30.0, 20.2), at(30.0, 15.0)).lines, 0);
    }

    #[test]
    fn a_solid_is_taken_inside_and_out_of_zone_is_free() {
        let ring = vec![at(20.0, 20.0), at(30.0, 20.0), at(30.0, 30.0), at(20.0, 30.0)];
        let raster = raster(Vec::new(), vec![ring]);
        assert!(!raster.is_free(&PaperBox::around(at(25.0, 25.0), 0.1, 0.1)));
        assert!(raster.is_free(&PaperBox::around(at(35.0, 25.0), 6.0, 6.0)));
        assert!(raster.is_free(&PaperBox::new(-50.0, -50.0, 0.0, 0.0)));
        assert_eq!(raster.met(at(15.0, 25.0), at(35.0, 25.0)).solids, 1);
    }

    #[test]
    fn text_is_met_from_its_rim_and_from_inside() {
        let zone = PaperBox::new(10.0, 10.0, 60.0, 60.0);
        let text = vec![at(20.0, 20.0), at(30.0, 20.0), at(30.0, 23.0), at(20.0, 23.0)];
        let problem = Problem { zone, texts: vec![text], ..Problem::default() };
        let raster = Raster::of(zone, &problem);
        for (name, from, to, met) in [
            ("through", at(25.0, 15.0), at(25.0, 30.0), true),
            ("from inside", at(25.0, 21.0), at(25.0, 30.0), true),
            ("up to it", at(25.0, 15.0), at(25.0, 19.0), false),
            ("over a corner", at(19.0, 21.0), at(21.0, 19.0), true),
            ("beside it", at(15.0, 25.0), at(35.0, 25.0), false),
        ] {
            assert_eq!(raster.meets_text(from, to), met, "{name}");
        }
        assert!(!raster.is_free(&PaperBox::around(at(25.0, 21.0), 1.0, 1.0)));
    }

    #[test]
    fn a_zone_that_is_none_has_no_cells() {
        for zone in [
            PaperBox::new(f64::NAN, 0.0, 1.0, 1.0),
            PaperBox::new(9.0, 9.0, 0.0, 0.0),
            PaperBox::new(0.0, 0.0, f64::INFINITY, 1.0),
        ] {
            let raster = Raster::of(zone, &Problem { zone, ..Problem::default() });
            assert!(raster.is_free(&PaperBox::new(0.0, 0.0, 1.0, 1.0)));
        }
    }
}
