//! The page that shows a floor while it is written and records what is found on it.
//!
//! Everything here is worked out from texts and answers with texts; sockets, files and the clock are
//! the command's.

mod alike;
pub mod amend;
pub mod assets;
#[cfg(not(target_family = "wasm"))]
pub mod bundle;
pub mod corners;
pub mod desk;
pub mod drawing;
pub mod floor;
pub mod guard;
pub mod http;
pub mod kinds;
pub mod paper;
pub mod place;
mod placing;
pub mod pocket;
pub mod record;
pub mod route;
pub mod state;
pub mod views;
pub mod walk;
