//! Stage 4: what was found, as marks on paper.

pub mod place;
