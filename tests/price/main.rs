//! Prices, change orders and close-outs from outside.

mod cents;
mod change;
mod command;
mod common;
