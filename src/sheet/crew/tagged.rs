//! Tags of one map with their places.

use std::collections::BTreeSet;

use crate::ink::PaperPoint;

use crate::paper::clear::{Clear, Slip};
use crate::paper::mm::Box2;
use crate::sheet::plan::Plan;
use crate::tags;
use crate::tags::Tag;
use crate::tags::place;
use crate::tags::place::{Leader, Placement, lines_meet};

/// A leader longer than this is long, mm.
const LONG: f64 = 15.0;
/// Numbers nearer than this to what got a long leader make way for its tag, mm.
const NEAR: f64 = 20.0;
/// How often tags are placed around numbers of panels.
const TRIES: usize = 4;
/// Room between a size and a tag, mm.
const BESIDE_TAG: f64 = 0.6;
/// How often sizes give way.
const GIVING_WAY: usize = 3;

/// The tags of a map with their places.
#[derive(Debug)]
pub struct Tagged {
    /// The tags, with the texts that have room.
    pub tags: Vec<Tag>,
    /// Their places.
    pub placement: Placement,
    /// Sizes that gave way to them, by the ids of their texts.
    pub given_way: BTreeSet<String>,
}

impl Tagged {
    /// Places the tags of a map. Where a tag finds no place, a size that stands in the schedule too, or the number of a panel, gives way to it.
    #[must_use]
    pub fn of(plan: &Plan) -> Self {
        let mut best = Self::numbered(plan, &plan.clear);
        for _ in 0..GIVING_WAY {
            let mut given_way = best.given_way.clone();
            let lost = best.lost(plan);
            let near = |slip: &Slip| lost.iter().any(|b| b.grown(NEAR).contains(slip.center));
            let giving = plan.giving().filter(|(_, slip)| near(slip));
            given_way.extend(giving.map(|(id, _)| id.clone()));
            if given_way.len() == best.given_way.len() {
                break;
            }
            let gone = plan.giving().filter(|(id, _)| given_way.contains(*id));
            let gone: Vec<Slip> = gone.map(|(_, slip)| *slip).collect();
            let mut tried = Self::numbered(plan, &plan.clear.without(&gone));
            if tried.faults() >= best.faults() {
                break;
            }
            tried.given_way = given_way;
            best = tried;
        }
        best.give_back(plan);
        best
    }

    /// Sizes that gave way for nothing stay.
    fn give_back(&mut self, plan: &Plan) {
        let placed = &self.placement.placed;
        let in_the_way = |slip: &Slip| {
            let wide = slip.beside().grown(BESIDE_TAG);
            placed.iter().any(|p| {
                let a = &p.area;
                let area = Slip::upright(&Box2::new(a.left, a.top, a.right, a.bottom));
                let led = |l: Leader| wide.meets_segment(l.from, l.to);
                slip.grown(BESIDE_TAG).meets(&area) || p.leader.is_some_and(led)
            })
        };
        for (id, slip) in &plan.sizes {
            if !in_the_way(slip) {
                self.given_way.remove(id);
            }
        }
    }

    /// Places the tags where they leave room for the numbers of small panels, if they lose nothing by that; else
    /// without regard to them. The numbers themselves are placed after the tags, because a leader may still run through such a room.
    fn numbered(plan: &Plan, clear: &Clear) -> Self {
        let alone = Self::around(plan, clear);
        if plan.unnumbered.is_empty() {
            return alone;
        }
        let mut far: Vec<PaperPoint> = Vec::new();
        for _ in 0..TRIES {
            let tried = Self::around(plan, &plan.with_small_numbers(clear, &far, NEAR));
            let long = tried.long_leaders();
            if tried.faults() <= alone.faults() && long.len() <= alone.long_leaders().len() {
                return tried;
            }
            // Around what got a long leader the tags come first.
            far.extend(long);
        }
        alone
    }

    /// Where the items lie whose tags found no place, or whose leaders cross or are far too long.
    fn lost(&self, plan: &Plan) -> Vec<Box2> {
        let unplaced = self.placement.unplaced.iter().map(|u| &u.id);
        let items = unplaced.filter_map(|id| plan.tags.iter().find(|t| t.id == *id));
        let mut out: Vec<Box2> = items.map(Tag::around).collect();
        let leaders: Vec<Leader> = self.placement.placed.iter().filter_map(|p| p.leader).collect();
        for (i, a) in leaders.iter().enumerate() {
            let others = leaders.iter().enumerate().filter(|(j, _)| *j != i);
            let crossed = |(_, b): (usize, &Leader)| lines_meet((a.from, a.to), (b.from, b.to));
            if (a.to - a.from).length() > place::LONG || others.into_iter().any(crossed) {
                out.push(Box2::of(&[a.from]));
            }
        }
        out
    }

    /// The ends of long leaders at what they point to.
    fn long_leaders(&self) -> Vec<PaperPoint> {
        let leaders = self.placement.placed.iter().filter_map(|p| p.leader);
        leaders.filter(|l| (l.to - l.from).length() > LONG).map(|l| l.from).collect()
    }

    fn around(plan: &Plan, clear: &Clear) -> Self {
        let mut tags = plan.tags.clone();
        let placement = tags::solve(&mut tags, clear, plan.standing());
        let given_way = BTreeSet::new();
        Self { tags, placement, given_way }
    }

    /// Tags without a place, crossings, and leaders that are far too long.
    fn faults(&self) -> (usize, usize, usize) {
        let leaders = self.placement.placed.iter().filter_map(|p| p.leader);
        let long = leaders.filter(|l| (l.to - l.from).length() > place::LONG);
        let placement = &self.placement;
        (placement.unplaced.len(), placement.crossings, long.count())
    }
}
