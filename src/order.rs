//! What has to be bought: products summed over all their uses, in whole packages.
//!
//! The rules stand in `docs/order.md`. Each file here turns one kind of work into needs; needs of
//! the same product are added up before anything is rounded.

mod build;
mod check;
mod chosen;
mod coating;
mod confidence;
mod dust;
mod filler;
mod marks;
mod model;
mod near;
mod need;
mod pour;
mod repair;
pub mod taped;
#[cfg(test)]
mod tests;
mod wear;
pub(crate) mod words;

#[cfg(test)]
pub(crate) mod fixture;

pub use build::{combine, order};
pub use check::unknown_system;
pub(crate) use chosen::choose;
pub use chosen::{Chosen, chosen, finish};
pub use confidence::{Z_NINE_IN_TEN, section_variance};
pub use dust::{Dust, bags, concrete_kg, dust};
pub use marks::{Leg, Mark, Marks, filler_marks};
pub use model::*;
pub use near::{near_misses, over};
pub use need::whole_packages;
pub use pour::pour_lines;
pub(crate) use repair::ROD_COIL_M;
pub use wear::{Carried, carried};
pub(crate) use wear::{PART_PLACES, Use, Uses, choke_kg, diamond_life, in_cartridges};
