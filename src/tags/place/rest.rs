//! Tags that the search left over: any free slot on the sheet, then a shorter text.

use super::candidates::{self, Maker, meeting_price};
use super::raster::Raster;
use super::shape::{distance, half_up};
use super::solve::{Seat, Solver};
use super::{Job, LeaderRule};
use crate::ink::PaperPoint;

/// Step of the lattice of slots, mm.
const LATTICE: f64 = 2.5;

/// Longest leader drawn, mm: beyond, nobody follows it with the eye.
const LONGEST: f64 = 90.0;

/// Slots tried for a tag, nearest first. On a sheet where these are all cut off, the rest is too.
const TRIED: usize = 200;

/// Places what is left, in the order of ids.
pub(super) fn place_rest(solver: &mut Solver, raster: &Raster, jobs: &[Job]) {
    let mut slots: Vec<Slots> = Vec::new();
    let mut settled: Vec<Seat> = Vec::new();
    for tag in solver.homeless() {
        let job = &jobs[tag];
        let found = (0..job.tag.sizes.len()).find_map(|size| {
            // The candidates of the first size have been tried.
            let near = if size == 0 { Vec::new() } else { candidates::list(raster, job, size) };
            let near = solver.best_of(tag, &near).map(|(seat, _)| seat);
            near.or_else(|| {
                let maker = maker(raster, job, size)?;
                let slots = of_size(&mut slots, solver, &maker, &settled);
                nearest_slot(solver, tag, job, &maker, slots)
            })
        });
        if let Some(seat) = found {
            solver.settle(tag, seat);
            settled.push(seat);
        }
    }
}

/// Slots of the lattice for boxes of one size that were free of printed marks and of tags when they were looked for.
struct Slots {
    half: (f64, f64),
    free: Vec<Seat>,
    /// How many of the tags placed here had their place then.
    placed: usize,
}

impl Slots {
    fn of(solver: &Solver, maker: &Maker, placed: usize) -> Slots {
        let zone = maker.raster.zone;
        let steps = |length: f64| (length / LATTICE).floor().max(0.0) as usize;
        let (columns, rows) = (steps(zone.width()), steps(zone.height()));
        let at = |n: usize| PaperPoint {
            x: zone.left + (n % (columns + 1)) as f64 * LATTICE,
            y: zone.top + (n / (columns + 1)) as f64 * LATTICE,
        };
        let seats = (0..(columns + 1) * (rows + 1)).filter_map(|n| maker.at(at(n)));
        Slots {
            half: maker.half,
            free: seats.filter(|seat| solver.has_room_for(seat)).collect(),
            placed,
        }
    }

    /// Leaves out the slots that tags placed since then have taken.
    fn without(&mut self, settled: &[Seat]) {
        let since = settled.get(self.placed..).unwrap_or_default();
        let is_free = |seat: &Seat| !since.iter().any(|other| seat.clashes(other));
        self.free.retain(is_free);
        self.placed = settled.len();
    }
}

/// What makes the seats of a tag in one of its sizes; only one with a leader may stand anywhere.
fn maker<'a>(raster: &'a Raster, job: &Job, size: usize) -> Option<Maker<'a>> {
    let LeaderRule::AtLeast(_) = job.tag.leader else {
        return None;
    };
    let &(width, height) = job.tag.sizes.get(size)?;
    Some(Maker { raster, size, half: (half_up(width), half_up(height)) })
}

/// The slots for boxes of this size that are free now.
fn of_size<'a>(
    known: &'a mut Vec<Slots>,
    solver: &Solver,
    maker: &Maker,
    settled: &[Seat],
) -> &'a [Seat] {
    let at = known.iter().position(|s| s.half == maker.half);
    let at = at.unwrap_or_else(|| {
        known.push(Slots::of(solver, maker, settled.len()));
        known.len() - 1
    });
    let slots = &mut known[at];
    slots.without(settled);
    &slots.free
}

/// The cheapest free slot that a leader of allowed length reaches.
fn nearest_slot(
    solver: &Solver,
    tag: usize,
    job: &Job,
    maker: &Maker,
    free: &[Seat],
) -> Option<Seat> {
    let LeaderRule::AtLeast(least) = job.tag.leader else {
        return None;
    };
    let mut seats = reached(maker, job, least, free);
    seats.sort_by(|a, b| a.price.total_cmp(&b.price));
    seats.truncate(TRIED);
    seats.retain_mut(|seat| {
        let met = meeting_price(maker.raster, seat);
        seat.price += met.unwrap_or_default();
        met.is_some()
    });
    seats.sort_by(|a, b| a.price.total_cmp(&b.price));
    solver.best_of(tag, &seats).map(|(seat, _)| seat)
}

/// Free slots with a leader from each anchor that is near enough.
fn reached(maker: &Maker, job: &Job, least: f64, free: &[Seat]) -> Vec<Seat> {
    let mut seats = Vec::new();
    for slot in free {
        let centre = slot.area.centre();
        for anchor in &job.anchors {
            let far = distance(anchor.at, centre);
            if far == 0.0 || far > LONGEST {
                continue;
            }
            let (sx, sy) =
                anchor.start(((centre.x - anchor.at.x) / far, (centre.y - anchor.at.y) / far));
            let from = PaperPoint { x: anchor.at.x + sx, y: anchor.at.y + sy };
            let led = maker.lead(Seat { size: maker.size, ..*slot }, from, anchor);
            seats.extend(led.filter(|s| s.leader.is_some_and(|l| distance(l.from, l.to) >= least)));
        }
    }
    seats
}
