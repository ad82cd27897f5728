//! Tags of one map with their places.

use crate::ink::PaperPoint;

use super::super::clear::Clear;
use super::super::place::Placement;
use super::super::plan::Plan;
use super::super::tags::{self, Tag};

/// A leader longer than this is long, mm.
const LONG: f64 = 15.0;
/// Numbers nearer than this to what got a long leader make way for its tag, mm.
const NEAR: f64 = 20.0;
/// How often tags are placed around numbers of panels.
const TRIES: usize = 4;

/// The tags of a map with their places.
#[derive(Debug)]
pub struct Tagged {
    /// The tags, with the texts that have room.
    pub tags: Vec<Tag>,
    /// Their places.
    pub placement: Placement,
}

impl Tagged {
    /// Places the tags of a map where they leave room for the numbers of its small panels, if they lose nothing by that; else
    /// without regard to them. The numbers themselves are placed after the tags, because a leader may still run through such a room.
    #[must_use]
    pub fn of(plan: &Plan) -> Self {
        let alone = Self::around(plan, &plan.clear);
        if plan.unnumbered.is_empty() {
            return alone;
        }
        let mut far: Vec<PaperPoint> = Vec::new();
        for _ in 0..TRIES {
            let tried = Self::around(plan, &plan.with_small_numbers(&far, NEAR));
            let long = tried.long_leaders();
            if tried.faults() <= alone.faults() && long.len() <= alone.long_leaders().len() {
                return tried;
            }
            // Around what got a long leader the tags come first.
            far.extend(long);
        }
        alone
    }

    /// The ends of long leaders at what they point to.
    fn long_leaders(&self) -> Vec<PaperPoint> {
        let leaders = self.placement.placed.iter().filter_map(|p| p.leader);
        leaders
            .filter(|l| (l.to - l.from).length() > LONG)
            .map(|l| l.from)
            .collect()
    }

    fn around(plan: &Plan, clear: &Clear) -> Self {
        let mut tags = plan.tags.clone();
        let placement = tags::solve(&mut tags, clear, (&plan.solids, &plan.fixed_areas));
        Self { tags, placement }
    }

    /// Tags without a place, and crossings.
    const fn faults(&self) -> (usize, usize) {
        (self.placement.unplaced.len(), self.placement.crossings)
    }
}
