//! Survey a concrete slab with a tape and one YAML sketch; get repair quantities and the repair map.
//!
//! ```
//! use slabwalk::{Audience, Papers};
//!
//! fn main() -> Result<(), Box<dyn std::error::Error>> {
//!     let sketch = r#"
//! slabwalk: 1
//! job: {name: Shed}
//! slab: {outline: [[0, 0], [20', 0], [20', 15'], [0, 15']]}
//! joints:
//!   - {id: J1, kind: control, width: 3/16", x: 10'}
//! "#;
//!     // Read, placed on the floor, measured. Whatever is wrong with the text comes as one error, with every place.
//!     let floor = slabwalk::read(sketch, None)?;
//!     assert!((floor.takeoff.area.net_m2 - 27.87).abs() < 0.01, "300 square feet");
//!     assert!((floor.takeoff.joints[0].length_m - 4.572).abs() < 1e-6, "15 feet");
//!
//!     // Drawn for the crew, on the paper and at the scale that fit.
//!     let papers = Papers { floor: &floor, name: "shed.yaml", text: sketch, book: None, logo: None };
//!     let sheets = papers.drawing(Audience::Crew)?;
//!     assert!(slabwalk::svg::write(&sheets[0]).contains("REPAIR MAP"));
//!
//!     let wrong = slabwalk::read("slabwalk: 1\njob: {nam: Shed}\n", None).expect_err("no sketch");
//!     assert!(wrong.iter().any(|found| found.message == "`nam` is not a key of the job"));
//!     Ok(())
//! }
//! ```
//!
//! Data goes one way, each stage a type of its own: the text becomes a [`sketch::Sketch`] (as written, every value with its place), a
//! [`slab::Slab`] (geometry, meters), a [`takeoff::Takeoff`] (quantities), an [`order::Order`]; a [`Survey`] holds them with the
//! findings and holds. Papers, prices and plans are made from a survey.

pub mod audit;
pub mod change;
pub mod closeout;
pub mod diagnostic;
pub mod edit;
pub mod explain;
pub mod floor;
pub mod order;
pub mod papers;
pub mod pdf;
pub mod png;
pub mod price;
pub mod quantity;
pub mod report;
pub mod schedule;
pub mod schema;
pub mod sheet;
pub mod shop;
pub mod sketch;
pub mod slab;
pub mod survey;
pub mod svg;
pub mod takeoff;

mod customer;
mod flow;
mod form;
mod keys;
mod paper;
mod photo;
mod record;
mod text;

// Open to the tests from outside, the benchmarks, the command and the core for a phone, and to nobody else.
#[cfg(not(target_family = "wasm"))]
#[doc(hidden)]
pub mod cli;
#[doc(hidden)]
pub mod document;
#[doc(hidden)]
pub mod field;
#[doc(hidden)]
pub mod finding;
#[doc(hidden)]
pub mod font;
#[doc(hidden)]
pub mod geometry;
#[doc(hidden)]
pub mod hold;
#[doc(hidden)]
pub mod ink;
#[doc(hidden)]
pub mod live;
#[doc(hidden)]
pub mod parallel;
#[doc(hidden)]
pub mod proposal;
#[doc(hidden)]
pub mod render;
#[cfg(not(target_family = "wasm"))]
#[doc(hidden)]
pub mod run;
#[doc(hidden)]
pub mod starter;
#[doc(hidden)]
pub mod tags;
#[doc(hidden)]
pub mod trade;
#[doc(hidden)]
pub mod work;
#[doc(hidden)]
pub mod yaml;

pub use diagnostic::{Diagnostic, Diagnostics, Severity};
pub use floor::Survey;
pub use papers::Papers;
pub use sheet::Audience;
pub use survey::read;
