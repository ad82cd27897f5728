//! The keys that give an item its shape.

use super::key::{Group, Key, Takes, may};

pub(super) const BOX: Key = may("box", Takes::Box, "A rectangle square to the sheet.", "");
pub(super) const CIRCLE: Key = may("circle", Takes::Circle, "A circle.", "");
/// Corners of an area.
pub(super) const POLYGON: Key = may(
    "polygon",
    Takes::Corners,
    "Corners of an area, closed by itself.",
    "[[1', 1'], [4', 1'], [4', 3']]",
);
/// A strip.
pub(super) const BAND: Key =
    may("band", Takes::Strip, "A strip centered on a path, with square ends.", "");

/// Keys that give an item its shape.
pub(crate) const SHAPES: [&str; 4] = [BOX.name, CIRCLE.name, POLYGON.name, BAND.name];
/// An item has exactly one of them.
pub(super) const ONE_SHAPE: Group = Group::One(&SHAPES);
