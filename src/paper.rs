//! Marks on paper, in millimeters: sizes of sheets, lines and hatches, text that is broken and set, labels, and what must stay clear of
//! what. Knows no floor; drawings of any kind are made with it.

pub mod clear;
pub mod dash;
pub mod draw;
pub mod hatch;
pub mod label;
pub mod mm;
pub mod scale;
pub mod size;
pub mod style;
pub mod text;
pub mod words;

pub use size::Paper;
