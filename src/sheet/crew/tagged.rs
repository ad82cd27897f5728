//! Tags of one map with their places.

use super::super::clear::Clear;
use super::super::place::Placement;
use super::super::plan::Plan;
use super::super::tags::{self, Tag};

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
        let mut before = None;
        if !plan.unnumbered.is_empty() {
            let first = Self::around(plan, &plan.with_small_numbers());
            if first.faults() == (0, 0) {
                return first;
            }
            before = Some(first);
        }
        let alone = Self::around(plan, &plan.clear);
        before
            .filter(|first| first.faults() <= alone.faults())
            .unwrap_or(alone)
    }

    fn around(plan: &Plan, clear: &Clear) -> Self {
        let mut tags = plan.tags.clone();
        let placement = tags::solve(&mut tags, clear, &plan.solids);
        Self { tags, placement }
    }

    /// Tags without a place, and crossings.
    const fn faults(&self) -> (usize, usize) {
        (self.placement.unplaced.len(), self.placement.crossings)
    }
}
