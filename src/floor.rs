//! A floor with everything that was found about it: what every paper reads.

use crate::hold::Hold;
use crate::order::Order;
use crate::shop::{Profile, Shop};
use crate::sketch::Sketch;
use crate::slab::Slab;
use crate::takeoff::Takeoff;
use crate::work::Facts;

/// One floor, from the sketch to the quantities.
#[derive(Clone, Debug)]
pub struct Survey {
    /// The sketch as written.
    pub sketch: Sketch,
    /// The shop book in force, with moisture mitigation below its systems where the sketch has it.
    pub shop: Shop,
    /// The floor as geometry.
    pub slab: Slab,
    /// The quantities, with the findings sorted.
    pub takeoff: Takeoff,
    /// What has to be bought.
    pub order: Order,
    /// What must be cleared before a work starts.
    pub holds: Vec<Hold>,
}

impl Survey {
    /// The profile that its coating system wants, where the shop book says it.
    #[must_use]
    pub fn profile(&self) -> Option<Profile> {
        self.shop.system_of(&self.sketch.coating)?.profile
    }

    /// What the list of works is made from.
    #[must_use]
    pub fn facts(&self) -> Facts<'_> {
        Facts::new(&self.sketch, &self.slab, &self.takeoff, &self.shop)
    }
}
