//! Nothing lost: whatever happens while files are written, the old ones are there or the new ones, whole.
//!
//! Programs are killed with strace, which counts their steps, and with limits of the system. What a machine has
//! no right or tool for is passed over, and said so.

#![allow(clippy::print_stderr, reason = "what is passed over is said, and the harness shows it")]

#[path = "../live/address.rs"]
mod address;
mod bench;
mod full;
mod killed;
mod live;
mod many;
mod odd;
mod two;
