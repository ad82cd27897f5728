//! Smallest rectangles.

/// A rectangle of any direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OrientedRect {
    /// Centre.
    pub center: kurbo::Point,
    /// Half the longer side, m.
    pub half_length: f64,
    /// Half the shorter side, m.
    pub half_width: f64,
    /// Direction of the longer side, radians.
    pub angle: f64,
}
