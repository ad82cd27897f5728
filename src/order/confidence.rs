//! How far the filler a floor takes may lie from what was computed.
//!
//! Widths and depths are read to a sixteenth on a rough edge. Each filled joint has its own error
//! of width and of depth; the yield of the product is common to all of them.

/// Standard deviations above the mean that nine of ten jobs stay below, for a normal distribution.
pub const Z_NINE_IN_TEN: f64 = 1.281_551_565_544_600_4;

/// Variance of the volume of one joint, m⁶: length `length`, width `width` with standard deviation
/// `width_sd`, depth `depth` with `depth_sd`, all in metres. The variance of a product of two
/// independent quantities, exact.
#[must_use]
pub fn section_variance(length: f64, width: f64, width_sd: f64, depth: f64, depth_sd: f64) -> f64 {
    let section = width.powi(2) * depth_sd.powi(2)
        + depth.powi(2) * width_sd.powi(2)
        + width_sd.powi(2) * depth_sd.powi(2);
    length.powi(2) * section
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sure_width_leaves_the_depth() {
        // 10 m, 6 mm wide for sure, depth read to 2 mm: the volume varies by 10 × 0.006 × 0.002.
        let v = section_variance(10.0, 0.006, 0.0, 0.02, 0.002);
        assert!((v.sqrt() - 10.0 * 0.006 * 0.002).abs() < 1e-15);
    }
}
