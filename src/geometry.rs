//! Algorithms of plane geometry without a word of the trade. Points are meters, y up.

pub mod arrangement;
pub mod boxes;
mod cells;
pub mod clip;
pub mod contact;
pub mod crossing;
mod lattice;
pub mod opening;
pub mod path;
pub mod plane;
pub mod rectangle;
pub mod region;
pub mod segments;
#[cfg(test)]
mod shapes;
pub mod stretch;
mod stripes;
pub mod sweep;
pub mod within;
