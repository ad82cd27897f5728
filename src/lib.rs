//! Survey a concrete slab with a tape and one YAML sketch; get repair quantities and the repair map.

pub mod audit;
pub mod change;
#[cfg(not(target_family = "wasm"))]
pub mod cli;
pub mod closeout;
pub mod diagnostic;
pub mod document;
pub mod edit;
pub mod finding;
pub mod floor;
pub mod flow;
pub mod font;
mod form;
pub mod geometry;
pub mod hold;
pub mod ink;
mod keys;
pub mod live;
pub mod order;
pub mod papers;
pub mod parallel;
pub mod pdf;
pub mod photo;
pub mod png;
pub mod price;
pub mod proposal;
pub mod quantity;
pub mod record;
pub mod render;
pub mod report;
#[cfg(not(target_family = "wasm"))]
pub mod run;
pub mod schedule;
pub mod schema;
pub mod sheet;
pub mod shop;
pub mod sketch;
pub mod slab;
pub mod starter;
pub mod survey;
pub mod svg;
pub mod takeoff;
pub mod text;
pub mod trade;
pub mod work;
pub mod yaml;
