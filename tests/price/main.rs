//! Prices, change orders and close-outs from outside.

mod cents;
mod change;
mod closeout;
mod command;
mod common;
mod mitigation;
mod quick;
