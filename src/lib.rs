//! Survey a concrete slab with a tape and one YAML sketch; get repair quantities and the repair map.

pub mod audit;
pub mod change;
pub mod cli;
pub mod closeout;
pub mod diagnostic;
pub mod finding;
pub mod font;
mod form;
pub mod geometry;
pub mod ink;
pub mod order;
pub mod pdf;
pub mod png;
pub mod price;
pub mod quantity;
pub mod render;
pub mod report;
pub mod run;
pub mod schedule;
pub mod sheet;
pub mod shop;
pub mod sketch;
pub mod slab;
pub mod survey;
pub mod svg;
pub mod takeoff;
pub mod yaml;
