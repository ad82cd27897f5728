//! Which item of its kind a text stands nearest to, told from what is drawn of each.

use std::collections::BTreeMap;

use crate::ink::{Group, Mark, PaperPoint, Step};

use crate::paper::clear::Slip;
use crate::paper::mm::Box2;

/// Side of a cell of the index, mm.
const CELL: f64 = 16.0;

/// What a text is nearer to its own item at least, mm: the air that its room has over and under the letters, which the eye does not
/// count.
const CLEARLY: f64 = 0.6;

/// Items of one kind by their lines, hatches left out.
#[derive(Debug, Default)]
pub struct Kin<'a> {
    items: BTreeMap<&'a str, usize>,
    /// Straight pieces, with the number of their item.
    pieces: Vec<(usize, PaperPoint, PaperPoint)>,
    /// Pieces of each item.
    own: Vec<Vec<usize>>,
    cells: BTreeMap<(i64, i64), Vec<usize>>,
}

impl<'a> Kin<'a> {
    /// The items that a layer draws under their ids.
    #[must_use]
    pub fn of(layer: Option<&'a Group>) -> Self {
        let mut kin = Self::default();
        for mark in layer.map_or(&[][..], |l| &l.marks) {
            if let Mark::Group(group) = mark {
                let next = kin.own.len();
                let item = *kin.items.entry(&group.id).or_insert(next);
                if item == next {
                    kin.own.push(Vec::new());
                }
                kin.add(item, group);
            }
        }
        kin
    }

    fn add(&mut self, item: usize, group: &Group) {
        for mark in &group.marks {
            match mark {
                Mark::Group(inner) if inner.class != "hatch" => self.add(item, inner),
                Mark::Path(path) => {
                    let (mut first, mut last) = (None, None);
                    for step in &path.steps {
                        let to = match *step {
                            Step::Move(p) => {
                                (first, last) = (Some(p), Some(p));
                                continue;
                            }
                            Step::Line(p) | Step::Cubic(_, _, p) => Some(p),
                            Step::Close => first,
                        };
                        if let (Some(a), Some(b)) = (last, to) {
                            self.piece(item, a, b);
                        }
                        last = to;
                    }
                }
                _ => {}
            }
        }
    }

    fn piece(&mut self, item: usize, a: PaperPoint, b: PaperPoint) {
        let index = self.pieces.len();
        self.pieces.push((item, a, b));
        self.own[item].push(index);
        for cell in cells(&Box2::of(&[a, b])) {
            self.cells.entry(cell).or_default().push(index);
        }
    }

    /// Whether a text stands clearly nearer to its own item than to others of the kind.
    #[must_use]
    pub fn is_nearest(&self, id: &str, slip: &Slip) -> bool {
        let Some(&item) = self.items.get(id) else {
            return false;
        };
        let off = |&i: &usize| slip.distance(self.pieces[i].1, self.pieces[i].2);
        let far = self.own[item].iter().map(off).fold(f64::INFINITY, f64::min);
        if !far.is_finite() {
            return false;
        }
        let far = far + CLEARLY;
        let within = cells(&slip.bounds().grown(far));
        let mut near = within.filter_map(|cell| self.cells.get(&cell)).flatten();
        !near.any(|i| self.pieces[*i].0 != item && off(i) <= far)
    }
}

#[expect(clippy::cast_possible_truncation, reason = "clamped to the range of cells on a sheet")]
fn cells(around: &Box2) -> impl Iterator<Item = (i64, i64)> + use<> {
    let cell = |v: f64| (v / CELL).floor().clamp(-1e4, 1e4) as i64;
    let (l, r) = (cell(around.left), cell(around.right));
    let (t, b) = (cell(around.top), cell(around.bottom));
    (l..=r).flat_map(move |x| (t..=b).map(move |y| (x, y)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::draw;
    use crate::paper::mm::at;
    use crate::paper::style;

    #[test]
    fn a_text_belongs_to_the_lines_that_are_drawn_of_an_item() {
        let joint = |id: &str, y: f64| {
            let line = draw::line(at(0.0, y), at(100.0, y), style::FINE);
            let hatch = draw::hatch(&[vec![at(0.0, 50.0), at(100.0, 50.0)]]);
            Mark::Group(draw::group(id, "joint", vec![line, hatch]))
        };
        let layer = draw::group("joints", "", vec![joint("J1", 10.0), joint("J2", 20.0)]);
        let kin = Kin::of(Some(&layer));
        let text = |y: f64| Slip::upright(&Box2::around(at(50.0, y), 10.0, 3.0));
        let rows = [
            ("beside its own", "J1", 12.0, true),
            ("nearer to the other", "J1", 17.0, false),
            ("halfway", "J1", 15.0, false),
            ("a hair nearer", "J1", 14.8, false),
            ("far off, past a hatch", "J2", 60.0, true),
            ("of nothing drawn", "J3", 12.0, false),
        ];
        for (name, id, y, wanted) in rows {
            assert_eq!(kin.is_nearest(id, &text(y)), wanted, "{name}");
        }
    }
}
