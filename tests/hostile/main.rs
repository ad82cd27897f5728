//! Files that somebody could hand over to do harm: memory and time stay bounded, the message says what the limit is,
//! nothing is written elsewhere, and no text becomes more than text.

mod common;
mod input;
mod markup;
mod numbers;
mod output;
mod sample;
