//! The page of `slabwalk live`, asked over loopback as a browser asks it.

mod address;
mod client;
mod page;
mod refused;
mod writing;
