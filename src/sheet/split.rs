//! A floor that fits no sheet at a readable scale: windows along panel lines, one sheet each.

pub mod clip;
pub mod grid;
pub mod match_line;
pub mod part;
