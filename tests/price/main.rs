//! Prices, change orders and close-outs from outside.

mod cents;
mod command;
mod common;
