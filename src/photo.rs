//! Photographs: packed bytes in, an upright picture of bounded size out.
//!
//! Nothing here touches a file; `run/` brings the bytes. Every limit is checked before memory is taken for the pixels, and the arithmetic is
//! the same on every machine, so that the same photograph gives the same bytes.

mod decode;
mod fault;
pub mod logo;
mod named;
mod pack;

pub use decode::{MOST_PIXELS, MOST_SIDE};
pub use fault::{Fault, finding};
pub use named::{LARGEST_MIB, MOST, opened, small_enough, within};

use crate::ink::Picture;

/// Longest side of a picture on paper, pixels: 110 mm at about 230 dots an inch.
pub const LONGEST: u32 = 1000;

/// A photograph ready for paper, in color and in gray.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Photograph {
    /// For the customer.
    pub color: Picture,
    /// For the crew's laser printer.
    pub gray: Picture,
}

/// Reads a JPEG or PNG, turns it as its EXIF says, and scales it down to [`LONGEST`].
///
/// # Errors
///
/// What is no JPEG or PNG, is broken, or has more than [`MOST_SIDE`] pixels a side or [`MOST_PIXELS`] in all.
pub fn develop(bytes: &[u8]) -> Result<Photograph, Fault> {
    let upright = decode::decode(bytes)?;
    let small = pack::scaled(&upright, LONGEST);
    Ok(Photograph { color: pack::color(&small, pack::QUALITY)?, gray: pack::gray(&small)? })
}

/// Whether [`develop`] can show it, without making the pictures.
///
/// # Errors
///
/// As [`develop`].
pub fn check(bytes: &[u8]) -> Result<(), Fault> {
    decode::decode(bytes).map(drop)
}

#[cfg(test)]
mod tests;
