//! Rectangles, found by a place in them.

use kurbo::{Point, Rect};
use rstar::{AABB, RTree, RTreeObject};

/// A rectangle and whose it is.
struct Owned {
    rect: Rect,
    owner: usize,
}

impl RTreeObject for Owned {
    type Envelope = AABB<[f64; 2]>;

    fn envelope(&self) -> Self::Envelope {
        let r = self.rect;
        AABB::from_corners([r.x0, r.y0], [r.x1, r.y1])
    }
}

/// Many rectangles.
pub struct Boxes(RTree<Owned>);

impl Boxes {
    /// Takes rectangles; each is known by its place in the list.
    #[must_use]
    pub fn new(rects: impl Iterator<Item = Rect>) -> Self {
        let owned = rects.enumerate().map(|(owner, rect)| Owned { rect, owner });
        Self(RTree::bulk_load(owned.collect()))
    }

    /// The rectangles that hold a point, in the order of the list.
    #[must_use]
    pub fn at(&self, p: Point) -> Vec<usize> {
        let there = self.0.locate_in_envelope_intersecting(&AABB::from_point([p.x, p.y]));
        let mut found: Vec<usize> = there.map(|owned| owned.owner).collect();
        found.sort_unstable();
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rectangles_that_hold_a_point() {
        let rects = [
            Rect::new(0.0, 0.0, 4.0, 4.0),
            Rect::new(5.0, 0.0, 9.0, 4.0),
            Rect::new(1.0, 1.0, 3.0, 3.0),
        ];
        let boxes = Boxes::new(rects.into_iter());
        assert_eq!(boxes.at(Point::new(2.0, 2.0)), [0, 2]);
        assert_eq!(boxes.at(Point::new(4.0, 0.5)), [0]);
        assert_eq!(boxes.at(Point::new(20.0, 2.0)), [0; 0]);
    }
}
