//! What has to be bought: products summed over all their uses, in whole packages.

mod model;

pub use model::*;
