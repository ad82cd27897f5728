//! What is already on the sheet, and whether a piece of text still has room.

use std::collections::BTreeMap;

use crate::ink::PaperPoint;

use crate::paper::mm::{Box2, Shift, at, by, lerp};

/// Side of a cell of the index, mm.
const CELL: f64 = 8.0;

/// Clear space before and behind a text, mm: nearer, a dash reads as a minus.
pub const BESIDE_TEXT: f64 = 2.1;

/// How far slashes and brackets reach past the room of a text, above and below, mm.
pub const OVER_TEXT: f64 = 0.25;

/// Clear space from the middle of the edge of the slab, mm: half its pen and the ground of a text.
const OFF_EDGE: f64 = 0.6;

/// Tangent of the angle up to which a line runs along with a text: a little over 30°.
const LEVEL: f64 = 0.6;

/// A rectangle of any direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slip {
    /// Its middle.
    pub center: PaperPoint,
    /// Unit direction of its longer reading side.
    pub along: Shift,
    /// Half its extent along, mm.
    pub half_along: f64,
    /// Half its extent across, mm.
    pub half_across: f64,
}

impl Slip {
    /// An upright rectangle.
    #[must_use]
    pub fn upright(area: &Box2) -> Self {
        Self {
            center: area.center(),
            along: by(1.0, 0.0),
            half_along: area.width() / 2.0,
            half_across: area.height() / 2.0,
        }
    }

    /// Grown by so much on every side.
    #[must_use]
    pub fn grown(&self, by: f64) -> Self {
        Self { half_along: self.half_along + by, half_across: self.half_across + by, ..*self }
    }

    /// With what is kept clear before and behind it.
    #[must_use]
    pub fn beside(&self) -> Self {
        Self { half_along: self.half_along + BESIDE_TEXT, ..*self }
    }

    /// Corners in order.
    #[must_use]
    pub fn corners(&self) -> [PaperPoint; 4] {
        let (u, v) = (self.along * self.half_along, self.along.left() * self.half_across);
        let c = self.center;
        [c + u + v, c + u + (-v), c + (-u) + (-v), c + (-u) + v]
    }

    /// Upright box around it.
    #[must_use]
    pub fn bounds(&self) -> Box2 {
        Box2::of(&self.corners())
    }

    /// From it to a segment, mm; 0 where they meet.
    #[must_use]
    pub fn distance(&self, a: PaperPoint, b: PaperPoint) -> f64 {
        if self.meets_segment(a, b) {
            return 0.0;
        }
        let to_rim = |p: PaperPoint| {
            let d = p - self.center;
            let x = (self.along.dot(d).abs() - self.half_along).max(0.0);
            let y = (self.along.left().dot(d).abs() - self.half_across).max(0.0);
            x.hypot(y)
        };
        let corners = self.corners();
        let from_corners = corners.iter().map(|c| crate::paper::hatch::from_segment(*c, a, b));
        from_corners.fold(to_rim(a).min(to_rim(b)), f64::min)
    }

    /// Between which shares of a segment it lies inside.
    fn shares(&self, a: PaperPoint, b: PaperPoint) -> (f64, f64) {
        let local = |p: PaperPoint| {
            let d = p - self.center;
            (self.along.dot(d), self.along.left().dot(d))
        };
        let ((ax, ay), (bx, by)) = (local(a), local(b));
        let mut from: f64 = 0.0;
        let mut to: f64 = 1.0;
        for (start, end, half) in [(ax, bx, self.half_along), (ay, by, self.half_across)] {
            let d = end - start;
            if d.abs() < 1e-12 {
                if start.abs() >= half {
                    return (1.0, 0.0);
                }
                continue;
            }
            let (s, e) = ((-half - start) / d, (half - start) / d);
            from = from.max(s.min(e));
            to = to.min(s.max(e));
        }
        (from, to)
    }

    /// Whether a segment touches its inside.
    #[must_use]
    pub fn meets_segment(&self, a: PaperPoint, b: PaperPoint) -> bool {
        let (from, to) = self.shares(a, b);
        from < to || (from == to && a == b)
    }

    /// Whether the insides of two rectangles meet.
    #[must_use]
    pub fn meets(&self, other: &Self) -> bool {
        let (mine, its) = (self.corners(), other.corners());
        let axes = [self.along, self.along.left(), other.along, other.along.left()];
        axes.iter().all(|axis| {
            let span = |c: &[PaperPoint; 4]| {
                let s = c.map(|p| axis.dot(p - at(0.0, 0.0)));
                (
                    s.iter().copied().fold(f64::INFINITY, f64::min),
                    s.iter().copied().fold(f64::NEG_INFINITY, f64::max),
                )
            };
            let ((a, b), (c, d)) = (span(&mine), span(&its));
            a < d - 1e-9 && c < b - 1e-9
        })
    }
}

/// Something on the sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Thing {
    /// The edge of the slab: text must not touch it, extension lines must not cross it.
    Edge(PaperPoint, PaperPoint),
    /// A line that text must not touch.
    Line(PaperPoint, PaperPoint),
    /// A line that text had better not touch: a joint, a hatched edge.
    Soft(PaperPoint, PaperPoint),
    /// Text: nothing runs through it.
    Slip(Slip),
    /// A symbol: text and tags keep off it.
    Symbol(Slip),
}

/// What is already on a part of the sheet.
#[derive(Clone, Debug)]
pub struct Clear {
    bounds: Box2,
    things: Vec<Thing>,
    cells: BTreeMap<(i64, i64), Vec<usize>>,
}

impl Clear {
    /// An empty part of the sheet; nothing may stand outside it.
    #[must_use]
    pub const fn new(bounds: Box2) -> Self {
        Self { bounds, things: Vec::new(), cells: BTreeMap::new() }
    }

    /// The part of the sheet.
    #[must_use]
    pub const fn bounds(&self) -> &Box2 {
        &self.bounds
    }

    /// Everything on it, in the order it came.
    #[must_use]
    pub fn things(&self) -> &[Thing] {
        &self.things
    }

    fn put(&mut self, thing: Thing, around: &Box2) {
        let index = self.things.len();
        self.things.push(thing);
        for cell in cells(around) {
            self.cells.entry(cell).or_default().push(index);
        }
    }

    /// Lines that text must not touch.
    pub fn add_line(&mut self, points: &[PaperPoint]) {
        self.add_pieces(points, Thing::Line);
    }

    /// The edge of the slab.
    pub fn add_edge(&mut self, points: &[PaperPoint]) {
        self.add_pieces(points, Thing::Edge);
    }

    /// A closed ring that text must not touch.
    pub fn add_ring(&mut self, ring: &[PaperPoint]) {
        let mut closed = ring.to_vec();
        closed.extend(ring.first().copied());
        self.add_line(&closed);
    }

    /// Lines that text had better not touch.
    pub fn add_soft(&mut self, points: &[PaperPoint]) {
        self.add_pieces(points, Thing::Soft);
    }

    fn add_pieces(&mut self, points: &[PaperPoint], kind: fn(PaperPoint, PaperPoint) -> Thing) {
        for pair in points.windows(2) {
            // Long pieces are cut so that a diagonal does not fill the cells of its whole box.
            let n = ((pair[1] - pair[0]).length() / (2.0 * CELL)).ceil().clamp(1.0, 1e4);
            let mut i = 0.0;
            while i < n {
                let (a, b) = (lerp(pair[0], pair[1], i / n), lerp(pair[0], pair[1], (i + 1.0) / n));
                self.put(kind(a, b), &Box2::of(&[a, b]));
                i += 1.0;
            }
        }
    }

    /// Text.
    pub fn add(&mut self, slip: Slip) {
        self.put(Thing::Slip(slip), &slip.bounds());
    }

    pub fn add_symbol(&mut self, slip: Slip) {
        self.put(Thing::Symbol(slip), &slip.bounds());
    }

    /// The same without some texts and symbols.
    #[must_use]
    pub fn without(&self, gone: &[Slip]) -> Self {
        let mut kept = Self::new(self.bounds);
        for thing in &self.things {
            match *thing {
                Thing::Slip(slip) | Thing::Symbol(slip) if gone.contains(&slip) => {}
                Thing::Slip(slip) | Thing::Symbol(slip) => kept.put(*thing, &slip.bounds()),
                Thing::Edge(a, b) | Thing::Line(a, b) | Thing::Soft(a, b) => {
                    kept.put(*thing, &Box2::of(&[a, b]));
                }
            }
        }
        kept
    }

    fn near(&self, around: &Box2) -> Vec<usize> {
        let mut found: Vec<usize> =
            cells(around).filter_map(|cell| self.cells.get(&cell)).flatten().copied().collect();
        found.sort_unstable();
        found.dedup();
        found
    }

    /// Whether text may stand here with so much clear space around it (mm): inside the part of the sheet, on no text and no line;
    /// joints do not count.
    #[must_use]
    pub fn is_free(&self, slip: &Slip, clear: f64) -> bool {
        let (wide, off_edge) = (slip.grown(clear), slip.grown(clear.max(OFF_EDGE)));
        if !self.bounds.holds(&slip.bounds()) {
            return false;
        }
        self.near(&off_edge.bounds()).into_iter().all(|i| match &self.things[i] {
            Thing::Line(a, b) => !wide.meets_segment(*a, *b),
            Thing::Edge(a, b) => !off_edge.meets_segment(*a, *b),
            Thing::Soft(..) => true,
            Thing::Slip(other) | Thing::Symbol(other) => !wide.meets(other),
        })
    }

    /// Whether text may stand here off everything drawn, joints included, with no dash before or behind it.
    #[must_use]
    pub fn is_blank(&self, slip: &Slip, clear: f64) -> bool {
        self.is_free(slip, clear)
            && self.soft_hits(&slip.grown(clear)) == 0
            && self.reads_alone(slip)
    }

    /// The pieces of a segment off every text and what is clear before and behind it.
    #[must_use]
    pub fn off_text(&self, a: PaperPoint, b: PaperPoint) -> Vec<(PaperPoint, PaperPoint)> {
        let near = self.near(&Box2::of(&[a, b]).grown(BESIDE_TEXT)).into_iter();
        let mut hidden: Vec<(f64, f64)> = near
            .filter_map(|i| match &self.things[i] {
                Thing::Slip(slip) => {
                    let long = slip.beside();
                    let tall = Slip { half_across: long.half_across + OVER_TEXT, ..long };
                    Some(tall.shares(a, b))
                }
                _ => None,
            })
            .filter(|(from, to)| from < to)
            .collect();
        hidden.sort_by(|p, q| p.0.total_cmp(&q.0));
        let mut out = Vec::new();
        let mut at = 0.0;
        for (from, to) in hidden.into_iter().chain([(1.0, 1.0)]) {
            if from > at {
                out.push((lerp(a, b, at), lerp(a, b, from)));
            }
            at = at.max(to);
        }
        out
    }

    /// Whether a thin line with strokes at its ends may run here with so much clear space (mm) from text.
    #[must_use]
    pub fn misses_text(&self, a: PaperPoint, b: PaperPoint, clear: f64) -> bool {
        let near = self.near(&Box2::of(&[a, b]).grown(clear)).into_iter();
        near.filter_map(|i| match &self.things[i] {
            Thing::Slip(slip) => Some(slip),
            _ => None,
        })
        .all(|slip| !slip.grown(clear).meets_segment(a, b))
    }

    /// Whether a text stands clear of lines that run along with it and end right before or behind it, where a dash reads as a minus.
    #[must_use]
    pub fn reads_alone(&self, slip: &Slip) -> bool {
        let long = slip.beside();
        let near = self.near(&long.bounds()).into_iter();
        near.filter_map(|i| match &self.things[i] {
            Thing::Line(a, b) | Thing::Edge(a, b) | Thing::Soft(a, b) => Some((*a, *b)),
            Thing::Slip(_) | Thing::Symbol(_) => None,
        })
        .all(|(a, b)| {
            let run = b - a;
            let along = slip.along.dot(run).abs();
            let level = slip.along.left().dot(run).abs() <= LEVEL * along;
            !(level && long.meets_segment(a, b))
        })
    }

    /// Whether no text or symbol stands within a distance (mm) before or behind a text, on its line.
    #[must_use]
    pub fn is_apart(&self, slip: &Slip, distance: f64) -> bool {
        let long = Slip { half_along: slip.half_along + distance, ..*slip };
        let near = self.near(&long.bounds()).into_iter();
        near.filter_map(|i| match &self.things[i] {
            Thing::Slip(other) | Thing::Symbol(other) => Some(other),
            _ => None,
        })
        .all(|other| !long.meets(other))
    }

    /// Lines and texts that a rectangle touches.
    pub fn touched<'a>(&'a self, slip: &'a Slip) -> impl Iterator<Item = &'a Thing> {
        let near = self.near(&slip.bounds()).into_iter();
        near.map(|i| &self.things[i]).filter(|thing| match thing {
            Thing::Line(a, b) | Thing::Edge(a, b) => slip.meets_segment(*a, *b),
            Thing::Soft(..) => false,
            Thing::Slip(other) | Thing::Symbol(other) => slip.meets(other),
        })
    }

    /// How many pieces of joint run through a rectangle.
    #[must_use]
    pub fn soft_hits(&self, slip: &Slip) -> usize {
        let near = self.near(&slip.bounds()).into_iter();
        near.filter(|&i| matches!(&self.things[i], Thing::Soft(a, b) if slip.meets_segment(*a, *b)))
            .count()
    }

    /// Whether a thin line may run here with so much clear space (mm): across other lines, through no text.
    #[must_use]
    pub fn line_is_free(&self, a: PaperPoint, b: PaperPoint, clear: f64) -> bool {
        let near = self.near(&Box2::of(&[a, b]).grown(clear)).into_iter();
        near.filter_map(|i| match &self.things[i] {
            Thing::Slip(slip) | Thing::Symbol(slip) => Some(slip),
            _ => None,
        })
        .all(|slip| !slip.grown(clear).meets_segment(a, b))
    }

    /// Whether a line runs across the edge of the slab or along it.
    #[must_use]
    pub fn edge_crossed(&self, a: PaperPoint, b: PaperPoint) -> bool {
        let thin = Slip {
            center: lerp(a, b, 0.5),
            along: (b - a).unit(),
            half_along: (b - a).length() / 2.0,
            half_across: 0.3,
        };
        let near = self.near(&thin.bounds()).into_iter();
        near.filter_map(|i| match &self.things[i] {
            Thing::Edge(p, q) => Some((*p, *q)),
            _ => None,
        })
        .any(|(p, q)| thin.meets_segment(p, q))
    }
}

#[expect(clippy::cast_possible_truncation, reason = "clamped to the range of cells on a sheet")]
fn cells(around: &Box2) -> impl Iterator<Item = (i64, i64)> + use<> {
    let cell = |v: f64| (v / CELL).floor().clamp(-1e5, 1e5) as i64;
    let (l, r, t, b) =
        (cell(around.left), cell(around.right), cell(around.top), cell(around.bottom));
    (l..=r).flat_map(move |x| (t..=b).map(move |y| (x, y)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn clear() -> Clear {
        let mut clear = Clear::new(Box2::new(0.0, 0.0, 100.0, 100.0));
        clear.add_line(&[at(0.0, 50.0), at(100.0, 50.0)]);
        clear.add_soft(&[at(50.0, 0.0), at(50.0, 100.0)]);
        clear.add(Slip::upright(&Box2::new(10.0, 10.0, 20.0, 14.0)));
        clear.add_edge(&[at(90.0, 60.0), at(90.0, 100.0)]);
        clear
    }

    #[test]
    fn text_keeps_off_text_and_lines_but_not_joints() {
        let clear = clear();
        let rows = [
            ("free", Box2::new(10.0, 20.0, 20.0, 24.0), true),
            ("on text", Box2::new(19.0, 12.0, 25.0, 16.0), false),
            ("on a line", Box2::new(70.0, 48.0, 80.0, 52.0), false),
            ("close to a line", Box2::new(70.0, 45.0, 80.0, 49.7), false),
            ("on a joint", Box2::new(45.0, 70.0, 55.0, 74.0), true),
            ("in the pen of the edge", Box2::new(80.0, 80.0, 89.5, 84.0), false),
            ("off the pen of the edge", Box2::new(80.0, 80.0, 89.3, 84.0), true),
            ("off the sheet", Box2::new(95.0, 70.0, 101.0, 74.0), false),
        ];
        for (name, area, free) in rows {
            assert_eq!(clear.is_free(&Slip::upright(&area), 0.5), free, "{name}");
        }
        assert!(clear.soft_hits(&Slip::upright(&Box2::new(45.0, 70.0, 55.0, 74.0))) > 0);
        assert!(!clear.line_is_free(at(0.0, 0.0), at(30.0, 24.0), 0.0));
        assert!(clear.line_is_free(at(0.0, 40.0), at(0.0, 60.0), 0.0));
    }

    #[test]
    fn a_dash_before_or_behind_a_text_is_seen() {
        let slip = Slip::upright(&Box2::new(40.0, 40.0, 50.0, 43.0));
        let rows = [
            ("before", at(30.0, 41.0), at(38.5, 41.0), false),
            ("behind, soft", at(51.0, 42.0), at(60.0, 41.0), false),
            ("far before", at(30.0, 41.0), at(37.5, 41.0), true),
            ("square to it", at(39.0, 30.0), at(39.0, 50.0), true),
            ("under it", at(30.0, 44.0), at(60.0, 44.0), true),
        ];
        for (name, a, b, alone) in rows {
            for soft in [false, true] {
                let mut clear = Clear::new(Box2::new(0.0, 0.0, 100.0, 100.0));
                if soft {
                    clear.add_soft(&[a, b]);
                } else {
                    clear.add_line(&[a, b]);
                }
                assert_eq!(clear.reads_alone(&slip), alone, "{name}, soft {soft}");
            }
        }
    }

    /// A slash reaches farther below the line than the room of a text: no piece of a hatch is left there.
    #[test]
    fn a_line_is_broken_clear_of_a_slash() {
        let mut clear = Clear::new(Box2::new(0.0, 0.0, 100.0, 100.0));
        clear.add(Slip::upright(&Box2::new(40.0, 40.0, 50.0, 43.0)));
        let kept = clear.off_text(at(45.0, 30.0), at(45.0, 60.0));
        let ends: Vec<f64> = kept.iter().flat_map(|(a, b)| [a.y, b.y]).collect();
        let wanted = [30.0, 40.0 - OVER_TEXT, 43.0 + OVER_TEXT, 60.0];
        let apart = ends.iter().zip(wanted).map(|(e, w)| (e - w).abs()).fold(0.0, f64::max);
        assert!(ends.len() == 4 && apart < 1e-9, "{ends:?}");
    }

    #[test]
    fn turned_slips_meet_by_their_true_shape() {
        let turned = Slip {
            center: at(50.0, 50.0),
            along: by(1.0, 1.0).unit(),
            half_along: 10.0,
            half_across: 1.0,
        };
        assert!(!turned.meets(&Slip::upright(&Box2::new(52.0, 42.0, 56.0, 47.0))));
        assert!(turned.meets(&Slip::upright(&Box2::new(53.0, 52.0, 56.0, 56.0))));
    }
}
