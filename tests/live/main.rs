//! The page of `slabwalk live`, asked over loopback as a browser asks it.

mod client;
mod page;
mod refused;
mod writing;
