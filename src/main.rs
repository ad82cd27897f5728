//! The `slabwalk` command.
fn main() {}
