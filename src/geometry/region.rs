//! Regions of the plane.

/// A region with disjoint interiors.
#[derive(Clone, Debug)]
pub struct Region(geo::MultiPolygon<f64>);

impl Region {
    /// Nothing.
    #[must_use]
    pub fn empty() -> Self {
        Self(geo::MultiPolygon::new(Vec::new()))
    }
}
