//! The search: scarcest first, ejection, descent, uncrossing.

use super::candidates::{price, rim_towards};
use super::raster::Raster;
use super::shape::{PaperBox, distance, lines_meet};
use super::{CLEARANCE, LONG, Leader};
use std::collections::BTreeSet;

/// Sweeps of the descent, at most.
const SWEEPS: usize = 4;

/// Most tags that are looked for again in all places near their features, and most of them that have none at all. This bounds the time.
const MOST_WIDER: usize = 80;
const MOST_HOMELESS: usize = 8;

/// An improvement smaller than this, mm of leader, is none; it would only be rounding.
const GAIN: f64 = 1e-9;

/// Price of ejecting a tag, and what it rises by each time the tag was ejected before, mm of leader.
const EJECTION: f64 = 8.0;
const EJECTED_BEFORE: f64 = 12.0;

/// Ejections in all, for each tag. This bounds the time. With one, two floors of 43 in the band of fill 0.45 to 0.50 left a tag
/// out; with four, none did, in the same time.
const EJECTIONS: usize = 4;

/// Sweeps over the tags whose leaders cross, at most.
const UNTANGLING: usize = 12;

/// Moves that are tried to untangle leaders, in all. This bounds the time.
const UNTANGLING_MOVES: usize = 4000;

/// Most tags that are taken out to give way to one whose leader crosses another.
const MOST_GIVING_WAY: usize = 4;

/// Free space kept around the end of a leader, mm: half an arrow head or a dot.
const END_ROOM: f64 = 0.8;

/// A place for a tag.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Seat {
    /// Which of the tag's sizes.
    pub size: usize,
    pub area: PaperBox,
    pub leader: Option<Leader>,
    /// Price without regard to other tags, mm of leader.
    pub price: f64,
    /// Box and leader together with the clearance, to tell quickly that two seats are far apart.
    pub hull: PaperBox,
}

impl Seat {
    pub fn new(size: usize, area: PaperBox, leader: Option<Leader>, price: f64) -> Seat {
        let hull = leader.map_or(area, |l| area.with(l.from)).grown(END_ROOM);
        Seat { size, area, leader, price, hull }
    }

    /// Whether its leader leads across half a plan.
    pub fn is_far(&self) -> bool {
        self.leader.is_some_and(|l| distance(l.from, l.to) > LONG)
    }

    /// Whether a hard rule is broken between two seats: tag on tag, or a leader through a tag.
    pub fn clashes(&self, other: &Seat) -> bool {
        if !self.hull.overlaps(&other.hull) {
            return false;
        }
        let leads_through = |leader: Option<Leader>, area: &PaperBox| {
            leader.is_some_and(|l| {
                area.grown(CLEARANCE).is_crossed_by(l.from, l.to)
                    || area.grown(END_ROOM).contains(l.from)
            })
        };
        self.area.grown(CLEARANCE).overlaps(&other.area)
            || leads_through(self.leader, &other.area)
            || leads_through(other.leader, &self.area)
    }

    /// Whether the two leaders cross.
    pub fn crosses(&self, other: &Seat) -> bool {
        match (self.leader, other.leader) {
            (Some(a), Some(b)) => {
                self.hull.overlaps(&other.hull) && lines_meet((a.from, a.to), (b.from, b.to))
            }
            _ => false,
        }
    }
}

/// Whether the leader of a seat runs through a box.
fn leads_through_any(seat: &Seat, boxes: &[PaperBox]) -> bool {
    seat.leader.is_some_and(|l| {
        boxes
            .iter()
            .any(|b| seat.hull.overlaps(b) && b.grown(CLEARANCE).is_crossed_by(l.from, l.to))
    })
}

/// The state of the search. Tags are numbered in the order of their ids.
pub(super) struct Solver<'a> {
    raster: &'a Raster,
    candidates: Vec<Vec<Seat>>,
    chosen: Vec<Option<Seat>>,
    ejected: Vec<u32>,
    standing: Vec<PaperBox>,
}

impl<'a> Solver<'a> {
    /// With the candidates of each tag, cheapest first, and the boxes of tags that stand already.
    pub fn new(raster: &'a Raster, mut candidates: Vec<Vec<Seat>>, standing: &[PaperBox]) -> Self {
        for list in &mut candidates {
            list.retain(|seat| !leads_through_any(seat, standing));
        }
        let count = candidates.len();
        Self {
            raster,
            candidates,
            chosen: vec![None; count],
            ejected: vec![0; count],
            standing: standing.to_vec(),
        }
    }

    pub fn run(&mut self) {
        self.greedy();
        self.descend();
        self.uncross();
    }

    /// Searches again with all places near their features for the tags that have none yet or a long leader.
    pub fn run_wider(&mut self, dense: impl Fn(usize) -> Vec<Seat>) {
        let is_far = |n: &usize| self.chosen[*n].is_none_or(|seat| seat.is_far());
        let far: Vec<usize> = (0..self.chosen.len()).filter(is_far).collect();
        // Where more are without a place the map is too crowded for any, and is drawn larger.
        if far.is_empty() || far.len() > MOST_WIDER || self.homeless().len() > MOST_HOMELESS {
            return;
        }
        for tag in far {
            self.candidates[tag] = dense(tag);
            self.chosen[tag] = None;
        }
        self.run();
    }

    /// Tries all places near their features, in the sizes they have, for tags whose leaders are long now that all others stand.
    pub fn draw_near(&mut self, dense: impl Fn(usize, usize) -> Vec<Seat>) {
        let all = self.chosen.iter().enumerate();
        let far = all.filter_map(|(n, seat)| seat.filter(Seat::is_far).map(|seat| (n, seat.size)));
        let far: Vec<(usize, usize)> = far.take(MOST_WIDER).collect();
        for (tag, size) in far {
            self.candidates[tag] = dense(tag, size);
        }
        self.descend();
    }

    pub fn into_seats(self) -> Vec<Option<Seat>> {
        self.chosen
    }

    /// Tags that have no place yet.
    pub fn homeless(&self) -> Vec<usize> {
        (0..self.chosen.len()).filter(|&n| self.chosen[n].is_none()).collect()
    }

    /// Whether the box is free of tags and leaders.
    pub fn has_room_for(&self, seat: &Seat) -> bool {
        !self.chosen.iter().flatten().any(|other| seat.clashes(other))
    }

    pub fn settle(&mut self, tag: usize, seat: Seat) {
        self.chosen[tag] = Some(seat);
    }

    /// Pairs of leaders that cross.
    pub fn crossings(&self) -> usize {
        let seats: Vec<&Seat> = self.chosen.iter().flatten().collect();
        (0..seats.len())
            .map(|n| seats[n + 1..].iter().filter(|other| seats[n].crosses(other)).count())
            .sum()
    }

    /// Price of a seat among the others, or `None` if a hard rule forbids it.
    fn price_among(&self, tag: usize, seat: &Seat) -> Option<f64> {
        if leads_through_any(seat, &self.standing) {
            return None;
        }
        let mut sum = seat.price;
        for (n, other) in self.chosen.iter().enumerate() {
            let Some(other) = other else { continue };
            if n == tag || !seat.hull.overlaps(&other.hull) {
                continue;
            }
            if seat.clashes(other) {
                return None;
            }
            if seat.crosses(other) {
                sum += price::CROSSING;
            }
        }
        Some(sum)
    }

    /// The cheapest allowed seat among those given, cheapest first, and its price.
    pub fn best_of(&self, tag: usize, seats: &[Seat]) -> Option<(Seat, f64)> {
        let mut best: Option<(Seat, f64)> = None;
        for seat in seats {
            if best.is_some_and(|(_, price)| seat.price >= price) {
                break;
            }
            if let Some(price) = self.price_among(tag, seat)
                && best.is_none_or(|(_, least)| price < least)
            {
                best = Some((*seat, price));
            }
        }
        best
    }

    /// Scarcest first; where nothing is allowed, the cheapest set of tags in the way goes back into the queue.
    fn greedy(&mut self) {
        let rank = |n: usize, list: &Vec<Seat>| (list.len(), n);
        let homeless = |n: usize| self.chosen[n].is_none();
        let mut queue: BTreeSet<(usize, usize)> = self
            .candidates
            .iter()
            .enumerate()
            .filter(|(n, l)| homeless(*n) && !l.is_empty())
            .map(|(n, l)| rank(n, l))
            .collect();
        let mut left = EJECTIONS * self.candidates.len();
        while let Some((_, tag)) = queue.pop_first() {
            if let Some((seat, _)) = self.best_of(tag, &self.candidates[tag]) {
                self.chosen[tag] = Some(seat);
                continue;
            }
            let Some((seat, blockers)) = self.cheapest_ejection(tag) else {
                continue;
            };
            if blockers.len() > left {
                continue;
            }
            left -= blockers.len();
            for blocker in blockers {
                self.chosen[blocker] = None;
                self.ejected[blocker] += 1;
                queue.insert(rank(blocker, &self.candidates[blocker]));
            }
            self.chosen[tag] = Some(seat);
        }
    }

    /// The candidate whose blockers are cheapest to eject, and those blockers.
    fn cheapest_ejection(&self, tag: usize) -> Option<(Seat, Vec<usize>)> {
        let mut best: Option<(f64, Seat, Vec<usize>)> = None;
        for seat in &self.candidates[tag] {
            let mut sum = seat.price;
            let mut blockers = Vec::new();
            for (n, other) in self.chosen.iter().enumerate() {
                if n != tag && other.as_ref().is_some_and(|o| seat.clashes(o)) {
                    sum += EJECTION + EJECTED_BEFORE * f64::from(self.ejected[n]);
                    blockers.push(n);
                }
            }
            if best.as_ref().is_none_or(|(least, ..)| sum < *least) {
                best = Some((sum, *seat, blockers));
            }
        }
        best.map(|(_, seat, blockers)| (seat, blockers))
    }

    /// Takes each tag out in turn and puts it at its best place, as long as that gains something.
    pub fn descend(&mut self) {
        for _ in 0..SWEEPS {
            let mut moved = false;
            for tag in 0..self.chosen.len() {
                let now = self.chosen[tag]
                    .and_then(|seat| self.price_among(tag, &seat))
                    .unwrap_or(f64::INFINITY);
                if self.candidates[tag].first().is_none_or(|first| first.price >= now - GAIN) {
                    continue;
                }
                if let Some((seat, price)) = self.best_of(tag, &self.candidates[tag])
                    && price < now - GAIN
                {
                    self.chosen[tag] = Some(seat);
                    moved = true;
                }
            }
            if !moved {
                break;
            }
        }
    }

    /// Two tags of one size whose leaders cross trade boxes. The sum of the distances from anchor to box center falls, by the triangle
    /// inequality, and the crossing goes; taken if it is legal and cheaper.
    fn uncross(&mut self) {
        for _ in 0..SWEEPS {
            let mut traded = false;
            for a in 0..self.chosen.len() {
                for b in a + 1..self.chosen.len() {
                    traded |= self.trade(a, b);
                }
            }
            if !traded {
                break;
            }
        }
    }

    /// Tags whose leaders still cross take a place that others give way to, as long as that is cheaper for all of them together.
    /// Done last, because few are left by then.
    pub fn untangle(&mut self) {
        let mut left = UNTANGLING_MOVES;
        for _ in 0..UNTANGLING {
            let mut moved = false;
            for tag in self.tangled() {
                moved |= self.reseat(tag, &mut left);
            }
            if !moved || left == 0 {
                return;
            }
        }
    }

    /// Tags whose leaders cross another.
    fn tangled(&self) -> Vec<usize> {
        let is_tangled = |&n: &usize| {
            self.chosen[n].is_some_and(|own| self.chosen.iter().flatten().any(|o| own.crosses(o)))
        };
        (0..self.chosen.len()).filter(is_tangled).collect()
    }

    /// Tries the places of a tag, cheapest first, and keeps the first that makes things better.
    fn reseat(&mut self, tag: usize, left: &mut usize) -> bool {
        for at in 0..self.candidates[tag].len() {
            let seat = self.candidates[tag][at];
            let others = self.in_the_way(tag, &seat);
            if others.len() > MOST_GIVING_WAY {
                continue;
            }
            if *left == 0 {
                return false;
            }
            *left -= 1;
            if self.give_way(tag, seat, &others) {
                return true;
            }
        }
        false
    }

    /// Tags that a seat clashes with or whose leaders it crosses.
    fn in_the_way(&self, tag: usize, seat: &Seat) -> Vec<usize> {
        let meets = |other: &Seat| seat.clashes(other) || seat.crosses(other);
        let all = self.chosen.iter().enumerate();
        all.filter(|(n, other)| *n != tag && other.as_ref().is_some_and(meets))
            .map(|(n, _)| n)
            .collect()
    }

    /// Puts a tag on a seat and the others at the best places left; takes it all back unless they are cheaper together.
    fn give_way(&mut self, tag: usize, seat: Seat, others: &[usize]) -> bool {
        let moved: Vec<usize> = std::iter::once(tag).chain(others.iter().copied()).collect();
        let before: Vec<Option<Seat>> = moved.iter().map(|&n| self.chosen[n]).collect();
        let cost = self.sum(&moved);
        for &n in others {
            self.chosen[n] = None;
        }
        self.chosen[tag] = Some(seat);
        for &n in others {
            self.chosen[n] = self.best_of(n, &self.candidates[n]).map(|(seat, _)| seat);
        }
        let better = match (cost, self.sum(&moved)) {
            (Some(before), Some(after)) => after < before - GAIN,
            _ => false,
        };
        if !better {
            for (&n, seat) in moved.iter().zip(before) {
                self.chosen[n] = seat;
            }
        }
        better
    }

    /// Price of some tags together, each crossing once; `None` if one has no place.
    fn sum(&self, tags: &[usize]) -> Option<f64> {
        let mut sum = 0.0;
        for (i, &n) in tags.iter().enumerate() {
            let seat = self.chosen[n]?;
            let later = tags[i + 1..].iter().filter_map(|&m| self.chosen[m]);
            let twice = later.filter(|other| seat.crosses(other)).count();
            sum += self.price_among(n, &seat)? - price::CROSSING * twice as f64;
        }
        Some(sum)
    }

    fn trade(&mut self, a: usize, b: usize) -> bool {
        let (Some(one), Some(two)) = (self.chosen[a], self.chosen[b]) else {
            return false;
        };
        if !one.crosses(&two) {
            return false;
        }
        let moved = |own: &Seat, to: &Seat| {
            let is_clear = |l: Leader| !self.raster.meets_text(l.from, l.to);
            moved_to(own, to).filter(|seat| seat.leader.is_none_or(is_clear))
        };
        let (Some(new_one), Some(new_two)) = (moved(&one, &two), moved(&two, &one)) else {
            return false;
        };
        let before = self.pair_price(a, b);
        (self.chosen[a], self.chosen[b]) = (Some(new_one), Some(new_two));
        let better = match (before, self.pair_price(a, b)) {
            (Some(before), Some(after)) => after < before - GAIN,
            _ => false,
        };
        if !better {
            (self.chosen[a], self.chosen[b]) = (Some(one), Some(two));
        }
        better
    }

    /// Price of two tags together; a crossing between the two counts twice, before and after alike.
    fn pair_price(&self, a: usize, b: usize) -> Option<f64> {
        let price = |n: usize| self.chosen[n].and_then(|seat| self.price_among(n, &seat));
        Some(price(a)? + price(b)?)
    }
}

/// The seat with the other's box and its own anchor, if the boxes are of one size and shape. Its price is its own, with the change in length.
fn moved_to(own: &Seat, other: &Seat) -> Option<Seat> {
    let leader = own.leader?;
    let same = own.area.width() == other.area.width() && own.area.height() == other.area.height();
    let to = rim_towards(&other.area, leader.from).filter(|_| same)?;
    let price = own.price + distance(leader.from, to) - distance(leader.from, leader.to);
    Some(Seat::new(own.size, other.area, Some(Leader { to, ..leader }), price))
}
