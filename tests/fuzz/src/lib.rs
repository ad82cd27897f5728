//! The checks that the tests of slabwalk replay, for the fuzzer.

#[path = "../../corpus/checks.rs"]
pub mod checks;
#[path = "../../corpus/choices.rs"]
pub mod choices;
#[path = "../../corpus/floor.rs"]
pub mod floor;
#[path = "../../corpus/reports.rs"]
pub mod reports;
