//! Candidate places of each tag, priced and sorted.

use super::anchors::Anchor;
use super::interior::{Rings, bounds, holds_box};
use super::raster::Raster;
use super::shape::{PaperBox, distance, half_up, snap};
use super::solve::Seat;
use super::{CLEARANCE, Job, LONG, Leader, LeaderRule};
use crate::ink::PaperPoint;
use std::f64::consts::PI;

/// Candidates kept for a tag. Half as many are a third faster but leave tags out on crowded sheets (measured).
const KEPT: usize = 64;

/// Directions tried about an anchor: every 15°, so that 30°, 45° and 60° are among them.
const DIRECTIONS: usize = 24;

/// Rings of growing distance about an anchor.
const RINGS: i32 = 14;

/// First step out and last distance of the rings, mm.
const NEAR: f64 = 1.5;
const FAR: f64 = 60.0;

/// Step of the leaders tried for a tag for which the usual ones are all taken, mm.
const DENSE: f64 = 0.5;

/// How far from its feature a tag without a leader may stand, mm, and the steps out to there.
const BESIDE: f64 = 8.0;
const BESIDE_STEPS: i32 = 10;

/// Rows and columns of places tried inside an area, at most.
const INSIDE: usize = 7;

/// Places inside its area that a tag keeps, so that there is room in the list for places outside.
const INSIDE_KEPT: usize = 24;

/// Candidates nearer than a ring, as a multiple of those kept, after which the ring is not tried.
const ENOUGH: usize = 2;

/// Prices in millimeters of leader. They say what a draftsman would rather have; see the tests for what each does.
pub(super) mod price {
    /// An anchor that is not the first choice, for each step down the list.
    pub const ANCHOR: f64 = 0.6;
    /// A half-millimeter cell of joint under the tag.
    pub const JOINT_CELL: f64 = 0.12;
    /// A leader across a crack, an edge or another line.
    pub const OVER_LINE: f64 = 4.0;
    /// A leader across a symbol.
    pub const OVER_SOLID: f64 = 12.0;
    /// A leader across a joint.
    pub const OVER_JOINT: f64 = 0.8;
    /// A leader within 15° of its feature's direction.
    pub const ALONG: f64 = 4.0;
    /// A level or upright leader, which reads as a dimension or a joint.
    pub const UPRIGHT: f64 = 1.5;
    /// A leader at another angle than 30°, 45° or 60°.
    pub const ODD_ANGLE: f64 = 0.3;
    /// A tag in a window that is drawn larger elsewhere, where nothing else has its tag: as much as a leader that is long.
    pub const RESERVED: f64 = 15.0;
    /// A leader so long that it leads across half a plan: more than all that speaks against one at an odd place and angle.
    pub const TOO_LONG: f64 = 12.0;
    /// A leader that crosses another.
    pub const CROSSING: f64 = 40.0;
    /// A millimeter from the middle of its area, for a tag inside.
    pub const OFF_MIDDLE: f64 = 0.05;
}

/// Candidates of every tag at its first size, cheapest first.
pub(super) fn lists(raster: &Raster, jobs: &[Job]) -> Vec<Vec<Seat>> {
    jobs.iter().map(|job| list(raster, job, 0)).collect()
}

/// Candidates of one tag at one of its sizes, cheapest first; equal prices stay in the order of generation.
pub(super) fn list(raster: &Raster, job: &Job, size: usize) -> Vec<Seat> {
    let Some(&(width, height)) = job.tag.sizes.get(size) else {
        return Vec::new();
    };
    let maker = Maker { raster, size, half: (half_up(width), half_up(height)) };
    let mut seats = Vec::new();
    if let Some(rings) = job.feature.rings() {
        maker.inside(rings, job, &mut seats);
    }
    match job.tag.leader {
        LeaderRule::Never => maker.beside(job, &mut seats),
        LeaderRule::AtLeast(least) => maker.around(job, least, &mut seats),
    }
    cheapest(raster, seats, KEPT)
}

/// Every place near its feature of a tag for which the usual ones are all taken, at one of its sizes, cheapest first.
pub(super) fn dense(raster: &Raster, job: &Job, size: usize) -> Vec<Seat> {
    let (LeaderRule::AtLeast(least), Some(&(width, height))) =
        (job.tag.leader, job.tag.sizes.get(size))
    else {
        return Vec::new();
    };
    let maker = Maker { raster, size, half: (half_up(width), half_up(height)) };
    let mut seats = Vec::new();
    if let Some(rings) = job.feature.rings() {
        maker.inside(rings, job, &mut seats);
    }
    let steps = ((LONG - least) / DENSE).ceil().max(0.0) as usize;
    for gap in (0..steps).map(|n| least + DENSE * n as f64) {
        for (rank, anchor) in job.anchors.iter().enumerate() {
            let all = 0..DIRECTIONS;
            seats.extend(all.filter_map(|n| maker.with_leader(anchor, rank, n, gap)));
        }
    }
    seats.retain_mut(|seat| {
        let met = meeting_price(raster, seat);
        seat.price += met.unwrap_or_default();
        met.is_some()
    });
    seats.sort_by(|a, b| a.price.total_cmp(&b.price));
    seats
}

/// The cheapest seats, cheapest first, with what their leaders meet in the price. What a leader meets can only make it dearer, so
/// leaders are followed only as long as they could still be among the cheapest.
pub(super) fn cheapest(raster: &Raster, mut seats: Vec<Seat>, count: usize) -> Vec<Seat> {
    let by_price = |a: &Seat, b: &Seat| a.price.total_cmp(&b.price);
    seats.sort_by(by_price);
    let mut kept: Vec<Seat> = Vec::with_capacity(count + 1);
    for seat in seats {
        if kept.len() >= count && kept.last().is_some_and(|last| last.price <= seat.price) {
            break;
        }
        let Some(met) = meeting_price(raster, &seat) else {
            continue;
        };
        let seat = Seat { price: seat.price + met, ..seat };
        let place = kept.partition_point(|k| k.price <= seat.price);
        kept.insert(place, seat);
        kept.truncate(count);
    }
    kept
}

/// What a seat's leader pays for the marks it crosses; `None` where it runs through text.
pub(super) fn meeting_price(raster: &Raster, seat: &Seat) -> Option<f64> {
    let Some(leader) = seat.leader else {
        return Some(0.0);
    };
    if raster.meets_text(leader.from, leader.to) {
        return None;
    }
    let met = raster.met(leader.from, leader.to);
    Some(
        price::OVER_LINE * f64::from(met.lines)
            + price::OVER_SOLID * f64::from(met.solids)
            + price::OVER_JOINT * f64::from(met.joints),
    )
}

/// Unit vector of a direction. Exact on the axes, so that level leaders are level.
fn direction(n: usize) -> (f64, f64) {
    let quarter = DIRECTIONS / 4;
    let angle = (n % quarter) as f64 * 2.0 * PI / DIRECTIONS as f64;
    let (sin, cos) = if n.is_multiple_of(quarter) { (0.0, 1.0) } else { angle.sin_cos() };
    match n / quarter {
        0 => (cos, sin),
        1 => (-sin, cos),
        2 => (-cos, -sin),
        _ => (sin, -cos),
    }
}

/// What a leader's angle costs, against the paper and against its feature.
fn angle_price(n: usize, grain: Option<f64>) -> f64 {
    let step = 2.0 * PI / DIRECTIONS as f64;
    let paper = match n % (DIRECTIONS / 4) {
        0 => price::UPRIGHT,
        2..=4 => 0.0,
        _ => price::ODD_ANGLE,
    };
    let along = grain.is_some_and(|grain| {
        let apart = (n as f64 * step - grain).rem_euclid(PI);
        apart.min(PI - apart) < step - 1e-9
    });
    paper + if along { price::ALONG } else { 0.0 }
}

/// Makes candidates of one size.
pub(super) struct Maker<'a> {
    pub raster: &'a Raster,
    pub size: usize,
    /// Half the width and half the height.
    pub half: (f64, f64),
}

impl Maker<'_> {
    fn area(&self, centre: PaperPoint) -> PaperBox {
        let (w, h) = self.half;
        PaperBox::new(centre.x - w, centre.y - h, centre.x + w, centre.y + h)
    }

    /// A seat at a center if nothing printed is there, priced for the joints under it.
    fn seat(&self, centre: PaperPoint, price: f64) -> Option<Seat> {
        let area = self.area(centre);
        if !self.raster.zone.contains_box(&area) || !self.raster.is_free(&area.grown(CLEARANCE)) {
            return None;
        }
        let joints = f64::from(self.raster.joint_cells(&area)) * price::JOINT_CELL;
        let reserved = if self.raster.is_reserved(&area) { price::RESERVED } else { 0.0 };
        Some(Seat::new(self.size, area, None, price + joints + reserved))
    }

    /// From a tag's center to its edge in a direction.
    fn reach(&self, (ux, uy): (f64, f64)) -> f64 {
        let (w, h) = self.half;
        (w / ux.abs()).min(h / uy.abs())
    }

    /// Places inside the tag's own area.
    fn inside(&self, rings: &Rings, job: &Job, seats: &mut Vec<Seat>) {
        let Some(middle) = job.anchors.first().map(|a| a.at) else {
            return;
        };
        let area = bounds(rings);
        let (w, h) = self.half;
        let (room_x, room_y) = (area.width() - 2.0 * w, area.height() - 2.0 * h);
        if room_x < 0.0 || room_y < 0.0 {
            return;
        }
        // Places nearer to each other than half a tag are no choice.
        let count = |room: f64, half: f64| ((room / half) as usize + 2).min(INSIDE);
        let (columns, rows) = (count(room_x, w), count(room_y, h));
        let step = |room: f64, n: usize, count: usize| snap(room * n as f64 / (count - 1) as f64);
        let lattice = (0..columns * rows).map(|n| PaperPoint {
            x: area.left + w + step(room_x, n % columns, columns),
            y: area.top + h + step(room_y, n / columns, rows),
        });
        for centre in std::iter::once(middle).chain(lattice) {
            if holds_box(rings, &self.area(centre).grown(CLEARANCE)) {
                seats.extend(self.seat(centre, price::OFF_MIDDLE * distance(centre, middle)));
            }
        }
        seats.sort_by(|a, b| a.price.total_cmp(&b.price));
        seats.truncate(INSIDE_KEPT);
    }

    /// Places on or right beside a feature, without a leader.
    fn beside(&self, job: &Job, seats: &mut Vec<Seat>) {
        if job.feature.rings().is_some() {
            return;
        }
        for (rank, anchor) in job.anchors.iter().enumerate() {
            let base = price::ANCHOR * rank as f64;
            seats.extend(self.seat(anchor.at, base));
            for (step, n) in (1..=BESIDE_STEPS).flat_map(|s| (0..DIRECTIONS).map(move |n| (s, n))) {
                let gap = BESIDE * f64::from(step) / f64::from(BESIDE_STEPS);
                let (_, centre) = self.stand_off(anchor, direction(n), gap);
                seats.extend(self.seat(centre, base + gap));
            }
        }
    }

    /// Places about a feature, with a leader.
    fn around(&self, job: &Job, least: f64, seats: &mut Vec<Seat>) {
        let growth = (FAR / NEAR).powf(1.0 / f64::from(RINGS - 1));
        for ring in 0..RINGS {
            let far = least.max(NEAR) + NEAR * (growth.powi(ring) - 1.0);
            if seats.iter().filter(|s| s.price <= far).count() >= ENOUGH * KEPT {
                break;
            }
            for (rank, anchor) in job.anchors.iter().enumerate() {
                for n in 0..DIRECTIONS {
                    seats.extend(self.with_leader(anchor, rank, n, far));
                }
            }
        }
    }

    /// Start of the leader and center of the tag when it stands `gap` off in a direction.
    fn stand_off(
        &self,
        anchor: &Anchor,
        (ux, uy): (f64, f64),
        gap: f64,
    ) -> (PaperPoint, PaperPoint) {
        let (sx, sy) = anchor.start((ux, uy));
        let start = PaperPoint { x: anchor.at.x + sx, y: anchor.at.y + sy };
        let far = gap + self.reach((ux, uy));
        (start, PaperPoint { x: start.x + snap(ux * far), y: start.y + snap(uy * far) })
    }

    fn with_leader(&self, anchor: &Anchor, rank: usize, n: usize, gap: f64) -> Option<Seat> {
        let (start, centre) = self.stand_off(anchor, direction(n), gap);
        let base = price::ANCHOR * rank as f64 + angle_price(n, anchor.grain);
        let seat = self.seat(centre, base)?;
        self.lead(seat, start, anchor)
    }

    /// The seat with a leader from a point to its rim, priced for its length. `None` if the point is outside the zone or under the tag.
    pub fn lead(&self, seat: Seat, from: PaperPoint, anchor: &Anchor) -> Option<Seat> {
        if !self.raster.zone.contains(from) {
            return None;
        }
        let to = rim_towards(&seat.area, from)?;
        let length = distance(from, to);
        let too_long = if length > LONG { price::TOO_LONG } else { 0.0 };
        let price = seat.price + length + too_long;
        Some(Seat::new(seat.size, seat.area, Some(Leader { from, to, end: anchor.end() }), price))
    }

    /// A seat at any center, for the last search; see [`Maker::seat`].
    pub fn at(&self, centre: PaperPoint) -> Option<Seat> {
        self.seat(centre, 0.0)
    }
}

/// Where the line from a point to a box's center meets the rim; `None` from inside.
pub(super) fn rim_towards(area: &PaperBox, from: PaperPoint) -> Option<PaperPoint> {
    let centre = area.centre();
    let (dx, dy) = (from.x - centre.x, from.y - centre.y);
    let share = (area.width() / 2.0 / dx.abs()).min(area.height() / 2.0 / dy.abs());
    (share < 1.0)
        .then(|| PaperPoint { x: centre.x + snap(share * dx), y: centre.y + snap(share * dy) })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn directions_go_round_in_steps_of_15_degrees() {
        for n in 0..DIRECTIONS {
            let (x, y) = direction(n);
            let turned = (y.atan2(x).to_degrees() - 15.0 * n as f64).rem_euclid(360.0);
            assert!(turned.min(360.0 - turned) < 1e-9, "{n}");
        }
        assert_eq!(direction(6), (-0.0, 1.0));
    }

    #[test]
    fn angles_are_priced_as_a_draftsman_would() {
        let rows = [
            ("level", 0, None, 1.5),
            ("upright", 18, None, 1.5),
            ("30", 2, None, 0.0),
            ("45", 3, None, 0.0),
            ("120", 8, None, 0.0),
            ("15", 1, None, 0.3),
            ("along a level crack", 12, Some(0.0), 5.5),
            ("15 off a level crack", 1, Some(0.0), 0.3),
            ("along a crack at 45", 15, Some(PI / 4.0), 4.0),
            ("nearly along", 12, Some(3.1), 5.5),
        ];
        for (name, n, grain, want) in rows {
            assert!((angle_price(n, grain) - want).abs() < 1e-12, "{name}");
        }
    }

    #[test]
    fn the_rim_is_met_on_the_way_to_the_centre() {
        let area = PaperBox::new(0.0, 0.0, 10.0, 4.0);
        assert_eq!(
            rim_towards(&area, PaperPoint { x: 5.0, y: 12.0 }),
            Some(PaperPoint { x: 5.0, y: 4.0 })
        );
        assert_eq!(
            rim_towards(&area, PaperPoint { x: 20.0, y: 2.0 }),
            Some(PaperPoint { x: 10.0, y: 2.0 })
        );
        assert_eq!(rim_towards(&area, PaperPoint { x: 5.0, y: 3.0 }), None);
    }
}
