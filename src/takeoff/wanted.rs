//! Where the moisture tests that are still wanted go: inside the coated floor, away from its edges, from joints, cracks and
//! patches, and from each other and from the tests that were taken.

use kurbo::Point;

use crate::geometry::path::Path;
use crate::geometry::region::Region;
use crate::geometry::segments::{Owned, Segments};
use crate::slab::Slab;
use crate::takeoff::Takeoff;

/// Distances from edges and joints that are tried, the first that leaves room, m: 3, 2, 1 and 1/2 ft. Common practice: a
/// slab dries faster at its edges and joints, so that a test close to one reads low.
const CLEAR_M: [f64; 4] = [0.914_4, 0.609_6, 0.304_8, 0.152_4];
/// Distance from other marks on the floor, m: 1 ft, or less where less is kept from the edges.
const MARK_M: f64 = 0.304_8;
/// Places looked at along the longer side of a floor, at least.
const STEPS: f64 = 48.0;
/// Places looked at along the side of a square floor for each test along it, so that many tests have a choice too.
const STEPS_A_TEST: f64 = 4.0;
/// Closest places looked at, m.
const CLOSEST_M: f64 = 0.05;
/// Rounds in which places are moved apart; each round makes the closest pair no closer.
const ROUNDS: usize = 12;
/// Most tests that are moved apart. With more, each has neighbors on all sides and a move gains little, while the time grows
/// with the square of their number.
const MOST_MOVED: usize = 48;
/// Least that a move must gain, m; less is rounding.
const LEAST_GAIN_M: f64 = 1e-6;

/// A test that has yet to be made.
#[derive(Clone, Debug, PartialEq)]
pub struct Wanted {
    /// `T1`, `T2` …; a number that an item of the sketch has is left out.
    pub id: String,
    /// Where.
    pub at: Point,
}

/// A place with its distances, m, to the edges of the coated floor, to joints, cracks and patches, and to other marks. No
/// distance but the first is followed farther than the widest that is asked for.
#[derive(Clone, Copy, Debug)]
struct Candidate {
    at: Point,
    edge_m: f64,
    cut_m: f64,
    mark_m: f64,
}

impl Candidate {
    fn is_clear(&self, clear: f64) -> bool {
        self.edge_m >= clear && self.cut_m >= clear && self.mark_m >= clear.min(MARK_M)
    }
}

/// Places of the tests still wanted: as many as the floor's area asks for less those taken of the kind that counts. Fewer where there is no room.
#[must_use]
pub fn tests(slab: &Slab, takeoff: &Takeoff) -> Vec<Wanted> {
    let wanted = takeoff.conditions.moisture_tests_wanted;
    let missing = takeoff.conditions.moisture_tests_missing();
    if missing == 0 {
        return Vec::new();
    }
    let taken: Vec<Point> = slab.moisture.iter().map(|t| t.at).collect();
    let share = share_m(slab, wanted);
    let mut places: Vec<Point> = Vec::new();
    let looked_at = candidates(slab, takeoff, missing);
    // The widest distance at which all tests find a place; else the one that places most.
    for clear in CLEAR_M {
        let clear_ones = looked_at.iter().filter(|c| c.is_clear(clear));
        let all = clear_ones.copied().collect();
        let found = spread(&Field::new(all, share), &taken, missing);
        if found.len() > places.len() {
            places = found;
        }
        if places.len() == missing {
            break;
        }
    }
    let known = slab.ids();
    let free = (1..).map(|n| format!("T{n}")).filter(|id| !known.contains(id.as_str()));
    free.zip(places).map(|(id, at)| Wanted { id, at }).collect()
}

/// Lines as segments.
fn segments<'a>(lines: impl IntoIterator<Item = &'a Path>) -> Vec<Owned> {
    let mut out = Vec::new();
    for (owner, line) in lines.into_iter().enumerate() {
        let points = line.points();
        let ends = points.windows(2).map(|w| (w[0], w[1]));
        out.extend(ends.map(|(a, b)| Owned { a, b, owner }));
    }
    out
}

/// Walls, doorways among them, the sides of everything that is not coated, and risers.
fn edges(slab: &Slab) -> Segments {
    let zones = slab.keep_outs.iter().chain(&slab.uncoated);
    let sides = zones.flat_map(|z| &z.shape.rings);
    let risers = slab.risers.iter().map(|riser| &riser.path);
    let edges = std::iter::once(&slab.outline.path).chain(sides);
    Segments::new(segments(edges.chain(risers)))
}

/// Joints, cracks and the sides of patches.
fn cuts(slab: &Slab, patches: &[Path]) -> Segments {
    let joints = slab.joints.iter().map(|j| &j.path);
    let cracks = slab.cracks.iter().map(|c| &c.path);
    Segments::new(segments(joints.chain(cracks).chain(patches)))
}

/// Heights, hardness tests and the sides of blemishes: nothing is drilled on them, and their marks stay legible.
fn marks(slab: &Slab) -> Segments {
    let heights = slab.levels.iter().map(|l| l.at);
    let points = heights.chain(slab.hardness.iter().map(|h| h.0));
    let mut out = segments(slab.blemishes.iter().flat_map(|b| &b.shape.rings));
    out.extend(points.map(|p| Owned { a: p, b: p, owner: 0 }));
    Segments::new(out)
}

/// Distance to the nearest line however far it is, m; infinite where there is none within `most`.
fn nearest(lines: &Segments, p: Point, most: f64) -> f64 {
    let mut reach = CLEAR_M[0];
    loop {
        if let Some(found) = lines.distance(p, reach) {
            return found;
        }
        if reach > most {
            return f64::INFINITY;
        }
        reach *= 2.0;
    }
}

/// Places of a grid in the coated floor, off the patches and off hollow concrete, at least the narrowest distance from edges, row by row from below.
fn candidates(slab: &Slab, takeoff: &Takeoff, missing: usize) -> Vec<Candidate> {
    let Some(bounds) = slab.net.bounds() else {
        return Vec::new();
    };
    let longer = bounds.width().max(bounds.height());
    #[expect(clippy::cast_precision_loss, reason = "tests of one floor")]
    let steps = STEPS.max(STEPS_A_TEST * (missing as f64).sqrt());
    let step = (longer / steps).max(CLOSEST_M);
    let corners: Vec<Vec<Point>> =
        takeoff.patches.iter().map(|p| p.rect.corners().to_vec()).collect();
    let patches: Vec<Path> = corners.iter().map(|c| Path::polygon(c)).collect();
    let one = |c: &Vec<Point>| Region::from_rings(std::slice::from_ref(c));
    let hollow = slab.delaminations.iter().map(|d| d.shape.region.clone());
    let unsound = corners.iter().map(one).chain(hollow).collect();
    let unsound = Region::union_all(unsound).locator();
    let inside = slab.net.locator();
    let (edges, cuts, marks) = (edges(slab), cuts(slab, &patches), marks(slab));
    let within = |lines: &Segments, p| lines.distance(p, CLEAR_M[0]).unwrap_or(f64::INFINITY);
    let mut out = Vec::new();
    let mut y = bounds.y0 + step / 2.0;
    while y < bounds.y1 {
        let mut x = bounds.x0 + step / 2.0;
        while x < bounds.x1 {
            let at = Point::new(x, y);
            x += step;
            if inside.contains(at) && !unsound.contains(at) {
                out.push(Candidate {
                    at,
                    edge_m: nearest(&edges, at, longer),
                    cut_m: within(&cuts, at),
                    mark_m: within(&marks, at),
                });
            }
        }
        y += step;
    }
    out
}

/// Side of the square that each test has to itself, m.
fn share_m(slab: &Slab, wanted: usize) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "tests of one floor")]
    let each = slab.areas.net / wanted.max(1) as f64;
    each.max(0.0).sqrt()
}

/// The places of a floor, and how their distance to the edge weighs against the distance between tests.
struct Field {
    all: Vec<Candidate>,
    /// Distance between tests that is worth as much as one meter to the edge.
    edge_weight: f64,
}

impl Field {
    /// On a wide floor an edge is as near as a test twice as far away, as if the floor were mirrored there; on a strip, where
    /// nothing is far from an edge, its middle is as good as any place.
    fn new(all: Vec<Candidate>, share_m: f64) -> Self {
        let widest = all.iter().map(|c| c.edge_m).fold(0.0, f64::max);
        let full = widest.min(share_m / 2.0);
        let edge_weight = if full > 0.0 { share_m / full } else { 0.0 };
        Self { all, edge_weight }
    }

    /// Room a place has, m, where the nearest test is so far off.
    fn room(&self, c: &Candidate, apart: f64) -> f64 {
        apart.min(self.edge_weight * c.edge_m)
    }

    /// The place with the most room, given how far each is from the nearest test; the first of equals.
    fn roomiest(&self, apart: &[f64]) -> Option<(Candidate, f64)> {
        let mut best: Option<(Candidate, f64)> = None;
        for (c, &apart) in self.all.iter().zip(apart) {
            let r = self.room(c, apart);
            if best.is_none_or(|(_, b)| r > b + LEAST_GAIN_M) {
                best = Some((*c, r));
            }
        }
        best
    }

    /// How far each place is from the nearest of some tests, m.
    fn apart(&self, tests: &[Point]) -> Vec<f64> {
        self.all.iter().map(|c| distance(c.at, tests)).collect()
    }
}

/// Distance to the nearest test, m; infinite where there is none.
fn distance(p: Point, tests: &[Point]) -> f64 {
    let all = tests.iter().map(|t| t.distance(p));
    all.fold(f64::INFINITY, f64::min)
}

/// As many places as are missing, each with the most room that the others leave it, then moved apart.
fn spread(field: &Field, taken: &[Point], missing: usize) -> Vec<Point> {
    let mut apart = field.apart(taken);
    let mut chosen: Vec<Candidate> = Vec::new();
    while chosen.len() < missing {
        match field.roomiest(&apart) {
            // No room left: the best place is one that is taken.
            Some((next, r)) if r > LEAST_GAIN_M => {
                for (c, apart) in field.all.iter().zip(&mut apart) {
                    *apart = apart.min(c.at.distance(next.at));
                }
                chosen.push(next);
            }
            _ => break,
        }
    }
    if chosen.len() <= MOST_MOVED {
        move_apart(field, taken, &mut chosen);
    }
    chosen.into_iter().map(|c| c.at).collect()
}

/// Gives each test in turn the place with the most room, in rounds, as long as one gains.
fn move_apart(field: &Field, taken: &[Point], chosen: &mut [Candidate]) {
    for _ in 0..ROUNDS {
        let mut moved = false;
        for i in 0..chosen.len() {
            let own = chosen.iter().enumerate().filter(|(j, _)| *j != i);
            let mut rest = taken.to_vec();
            rest.extend(own.map(|(_, c)| c.at));
            let Some((better, r)) = field.roomiest(&field.apart(&rest)) else {
                continue;
            };
            let now = field.room(&chosen[i], distance(chosen[i].at, &rest));
            if r > now + LEAST_GAIN_M {
                chosen[i] = better;
                moved = true;
            }
        }
        if !moved {
            break;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::M_PER_FT;
    use crate::sheet::fixture::{BOAT_SHOP, KITCHEN, floor, room as room_of};

    /// Distance to the nearest edge of the coated floor, to the nearest joint or crack, and to the nearest other test, m.
    fn distances(survey: &crate::floor::Survey, all: &[Wanted], i: usize) -> (f64, f64, f64) {
        let slab = &survey.slab;
        let p = all[i].at;
        let others = all.iter().enumerate().filter(|(j, _)| *j != i);
        let apart = others
            .map(|(_, o)| o.at.distance(p))
            .chain(slab.moisture.iter().map(|t| t.at.distance(p)))
            .fold(f64::INFINITY, f64::min);
        // The boundary of the coated floor as the slab has it, independent of what the search looked at.
        let edge = slab
            .edges
            .iter()
            .map(|e| Path::polyline(&e.ends).nearest(p).1)
            .fold(f64::INFINITY, f64::min);
        let joints = slab.joints.iter().map(|j| &j.path);
        let cuts = joints.chain(slab.cracks.iter().map(|c| &c.path));
        let cut = cuts.map(|l| l.nearest(p).1).fold(f64::INFINITY, f64::min);
        (edge, cut, apart)
    }

    #[test]
    fn tests_lie_in_the_floor_away_from_edges_joints_and_each_other() {
        for (name, survey, missing, apart_m) in [
            ("plain room", room_of(""), 3, 1.5),
            ("kitchen", floor(KITCHEN), 1, 2.0),
            ("boat shop", floor(BOAT_SHOP), 3, 5.0),
        ] {
            let all = tests(&survey.slab, &survey.takeoff);
            assert_eq!(all.len(), missing, "{name}");
            for (i, test) in all.iter().enumerate() {
                assert!(survey.slab.net.contains(test.at), "{name}: {test:?}");
                let (edge, cut, apart) = distances(&survey, &all, i);
                assert!(edge >= CLEAR_M[0] - 1e-9, "{name}: {test:?} {edge}");
                assert!(cut >= CLEAR_M[0] - 1e-9, "{name}: {test:?} {cut}");
                assert!(apart >= apart_m, "{name}: {test:?} {apart}");
            }
            assert_eq!(all, tests(&survey.slab, &survey.takeoff), "{name}");
        }
    }

    #[test]
    fn tests_taken_are_not_asked_for_again() {
        let taken = "tests:\n  moisture: [{at: [4', 4'], rh: 70%}, {at: [16', 12'], rh: 71%}, {at: [10', 8'], rh: 70%}]\n";
        let survey = room_of(taken);
        assert_eq!(tests(&survey.slab, &survey.takeoff), []);
        let two =
            "tests:\n  moisture: [{at: [4', 4'], rh: 70%}, {id: T1, at: [4', 12'], rh: 71%}]\n";
        let survey = room_of(two);
        let all = tests(&survey.slab, &survey.takeoff);
        // T1 is the sketch's own; the test goes to the other half of the room.
        assert_eq!(all.len(), 1);
        assert_eq!(all[0].id, "T2");
        assert!(all[0].at.x > 10.0 * M_PER_FT, "{all:?}");
    }

    #[test]
    fn hundreds_of_tests_on_a_wide_floor_are_as_even_as_a_grid() {
        let text = "slabwalk: 1\njob: {name: Hall}\nunits: us\nslab:\n  outline: [[0, 0], [900', 0], [900', 600'], [0, 600']]\n";
        let survey = floor(text);
        let wanted = survey.takeoff.conditions.moisture_tests_wanted;
        let all = tests(&survey.slab, &survey.takeoff);
        assert!(wanted > 10 * MOST_MOVED, "{wanted}");
        assert_eq!(all.len(), wanted);
        // On a grid of squares they would be a share apart.
        let share = share_m(&survey.slab, wanted);
        for (i, _) in all.iter().enumerate() {
            let (edge, _, apart) = distances(&survey, &all, i);
            assert!(edge >= CLEAR_M[0] - 1e-9 && apart > 0.6 * share, "{i}");
        }
    }

    #[test]
    fn a_strip_too_narrow_for_three_feet_gets_its_tests_all_the_same() {
        let text = "slabwalk: 1\njob: {name: Strip}\nunits: us\nslab:\n  outline: [[0, 0], [30', 0], [30', 3'], [0, 3']]\n";
        let survey = floor(text);
        let all = tests(&survey.slab, &survey.takeoff);
        assert_eq!(all.len(), 3);
        for (i, _) in all.iter().enumerate() {
            let (edge, _, apart) = distances(&survey, &all, i);
            assert!(edge >= CLEAR_M[2] - 1e-9 && apart > 5.0 * M_PER_FT);
        }
    }
}
