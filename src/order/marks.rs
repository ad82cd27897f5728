//! Filler marks: the order in which joints are filled, and where each cartridge should run out.
//!
//! A crew that is two cartridges past a mark knows at once that the cut is deeper or wider than
//! was sold.

use kurbo::Point;

use crate::shop::Shop;
use crate::slab::{Joint, Slab, Stretch};
use crate::takeoff::{Filling, Takeoff};

/// Stretches beyond which the order is only by nearest ends: improving it takes their square.
const MOST_IMPROVED: usize = 600;
/// Least that an exchange must save, m; less is rounding.
const LEAST_SAVED_M: f64 = 1e-9;
/// Most cartridges that are marked; a floor that takes more is not filled by cartridge.
const MOST_MARKS: usize = 10_000;

/// A stretch of joint in the order of filling.
#[derive(Clone, Debug)]
pub struct Leg<'a> {
    /// The joint.
    pub joint: &'a Joint,
    /// What fills it.
    filling: &'a Filling,
    /// Stations, m.
    pub stretch: Stretch,
    /// Filled from the upper station to the lower.
    pub backward: bool,
    /// Where the crew starts and ends.
    ends: [Point; 2],
}

impl Leg<'_> {
    /// The stations from and to which it is filled, m.
    #[must_use]
    pub const fn stations(&self) -> (f64, f64) {
        let Stretch { from_m, to_m } = self.stretch;
        if self.backward { (to_m, from_m) } else { (from_m, to_m) }
    }

    /// Where filling starts.
    #[must_use]
    pub const fn start(&self) -> Point {
        self.ends[self.backward as usize]
    }

    /// Where filling ends.
    #[must_use]
    pub const fn end(&self) -> Point {
        self.ends[1 - self.backward as usize]
    }

    /// Its cross-section, m².
    fn section_m2(&self) -> f64 {
        self.filling.width_m * self.filling.depth_m
    }
}

/// Where a cartridge should run out.
#[derive(Clone, Debug)]
pub struct Mark<'a> {
    /// Cartridge, from 1.
    pub cartridge: usize,
    /// The joint.
    pub joint: &'a Joint,
    /// Station on the joint, m.
    pub station_m: f64,
    /// The place.
    pub at: Point,
}

/// The filling of one floor.
#[derive(Clone, Debug, Default)]
pub struct Marks<'a> {
    /// Stretches in the order of filling.
    pub legs: Vec<Leg<'a>>,
    /// Walked without filling, m.
    pub walk_m: f64,
    /// Walked without filling if joints are taken as the sketch lists them, m.
    pub naive_m: f64,
    /// Where cartridges run out, waste included; the last one is left out, it ends with the work.
    pub marks: Vec<Mark<'a>>,
}

/// Plans the filling of one floor. Small spalls filled with their joints are left out: they are
/// topped up from what the waste leaves.
#[must_use]
pub fn filler_marks<'a>(slab: &'a Slab, takeoff: &'a Takeoff, shop: &Shop) -> Marks<'a> {
    let listed = listed(slab, takeoff);
    let naive_m = walk(&listed);
    let mut legs = nearest(listed.clone());
    improve(&mut legs);
    if walk(&legs) > naive_m {
        legs = listed;
    }
    Marks { walk_m: walk(&legs), naive_m, marks: marks(&legs, shop), legs }
}

/// Filled stretches as the sketch lists them.
fn listed<'a>(slab: &'a Slab, takeoff: &'a Takeoff) -> Vec<Leg<'a>> {
    let filled = takeoff.joints_of(slab);
    let filled = filled.filter_map(|(joint, work)| Some((joint, work.filling()?)));
    filled
        .flat_map(|(joint, filling)| {
            joint.in_scope.iter().map(move |stretch| Leg {
                joint,
                filling,
                stretch: *stretch,
                backward: false,
                ends: [joint.path.point_at(stretch.from_m), joint.path.point_at(stretch.to_m)],
            })
        })
        .collect()
}

/// Walked between the legs, m.
fn walk(legs: &[Leg]) -> f64 {
    legs.windows(2).map(|pair| pair[0].end().distance(pair[1].start())).sum()
}

/// From the first leg on, always to the nearest end that is left; the first of equals.
fn nearest(mut left: Vec<Leg<'_>>) -> Vec<Leg<'_>> {
    if left.len() > MOST_IMPROVED {
        return left;
    }
    let mut out: Vec<Leg> = Vec::with_capacity(left.len());
    while !left.is_empty() {
        let here = out.last().map(Leg::end);
        let mut best = (0, false, f64::INFINITY);
        for (i, leg) in left.iter().enumerate() {
            for backward in [false, true] {
                let start = leg.ends[usize::from(backward)];
                // The work starts at the first leg as the sketch lists it.
                let way =
                    here.map_or(i as f64 + f64::from(u8::from(backward)), |h| h.distance(start));
                if way < best.2 {
                    best = (i, backward, way);
                }
            }
        }
        let mut leg = left.remove(best.0);
        leg.backward = best.1;
        out.push(leg);
    }
    out
}

/// Turns parts of the order round as long as that saves walking (2-opt).
fn improve(legs: &mut [Leg]) {
    if legs.len() > MOST_IMPROVED {
        return;
    }
    // Every exchange saves at least a nanometre; the limit only bounds the time.
    for _ in 0..legs.len() {
        let mut saved = false;
        for i in 0..legs.len() {
            for j in i..legs.len() {
                if gain(legs, i, j) > LEAST_SAVED_M {
                    legs[i..=j].reverse();
                    for leg in &mut legs[i..=j] {
                        leg.backward = !leg.backward;
                    }
                    saved = true;
                }
            }
        }
        if !saved {
            return;
        }
    }
}

/// Saved by filling legs `i` to `j` in the opposite order and direction, m.
fn gain(legs: &[Leg], i: usize, j: usize) -> f64 {
    let (first, last) = (&legs[i], &legs[j]);
    let before = i.checked_sub(1).and_then(|i| legs.get(i));
    let after = legs.get(j + 1);
    let into =
        before.map_or(0.0, |b| b.end().distance(first.start()) - b.end().distance(last.end()));
    let out_of =
        after.map_or(0.0, |a| last.end().distance(a.start()) - first.start().distance(a.start()));
    into + out_of
}

fn marks<'a>(legs: &[Leg<'a>], shop: &Shop) -> Vec<Mark<'a>> {
    // What one cartridge leaves in place once its waste is taken off, m³.
    let each = shop.filler.package.l() / (1.0 + shop.filler.waste.one()) / 1000.0;
    let volume = |leg: &Leg| leg.stretch.length() * leg.section_m2();
    let whole: f64 = legs.iter().map(volume).sum();
    let mut out = Vec::new();
    if !(each > 0.0 && whole.is_finite()) || whole / each > MOST_MARKS as f64 {
        return out;
    }
    let mut done = 0.0;
    for leg in legs {
        let (section, here) = (leg.section_m2(), volume(leg));
        let mut next = each * (out.len() + 1) as f64;
        while section > 0.0 && next <= done + here && next < whole * (1.0 - 1e-9) {
            let along = (next - done) / section;
            let station_m = match leg.backward {
                true => leg.stretch.to_m - along,
                false => leg.stretch.from_m + along,
            };
            out.push(Mark {
                cartridge: out.len() + 1,
                joint: leg.joint,
                station_m,
                at: leg.joint.path.point_at(station_m),
            });
            next = each * (out.len() + 1) as f64;
        }
        done += here;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::floor::Survey;
    use crate::sheet::fixture::floor;

    /// A floor with a filled joint.
    fn survey() -> Survey {
        floor(
            "slabwalk: 1\njob: {name: x}\nslab: {outline: [[0, 0], [9', 0], [9', 9'], [0, 9']]}\njoints: [{kind: control, x: 3'}]\n",
        )
    }

    /// A stretch of its joint, wherever that runs.
    fn leg(survey: &Survey, x: f64, from: f64, to: f64) -> Leg<'_> {
        Leg {
            joint: &survey.slab.joints[0],
            filling: survey.takeoff.joints[0].filling().expect("filled"),
            stretch: Stretch { from_m: from, to_m: to },
            backward: false,
            ends: [Point::new(x, from), Point::new(x, to)],
        }
    }

    #[test]
    fn parallel_joints_are_filled_to_and_fro() {
        // Three joints of 10 m, 2 m apart, listed bottom to top: back to the bottom each time is
        // twice √104 m; to and fro is 2 + 2.
        let survey = survey();
        let listed = [0.0, 2.0, 4.0].map(|x| leg(&survey, x, 0.0, 10.0)).to_vec();
        assert!((walk(&listed) - 2.0 * 104.0_f64.sqrt()).abs() < 1e-9);
        let mut legs = nearest(listed);
        improve(&mut legs);
        assert!((walk(&legs) - 4.0).abs() < 1e-9, "{legs:?}");
        let turned: Vec<bool> = legs.iter().map(|l| l.backward).collect();
        assert_eq!(turned, [false, true, false]);
    }

    #[test]
    fn what_an_exchange_saves_is_what_the_walk_loses() {
        let survey = survey();
        let one = |i: i32| leg(&survey, f64::from(i * 5 % 7), f64::from(i), f64::from(i + 3));
        let legs: Vec<Leg> = (0..7).map(one).collect();
        for i in 0..legs.len() {
            for j in i..legs.len() {
                let mut turned = legs.clone();
                turned[i..=j].reverse();
                for leg in &mut turned[i..=j] {
                    leg.backward = !leg.backward;
                }
                let saved = walk(&legs) - walk(&turned);
                assert!((gain(&legs, i, j) - saved).abs() < 1e-9, "{i} to {j}");
            }
        }
    }
}
