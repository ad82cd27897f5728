//! Algorithms of plane geometry without a word of the trade. Points are metres, y up.

pub mod path;
pub mod rectangle;
pub mod region;
