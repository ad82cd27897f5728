//! The plane that fits points best.

/// Points count as lying on one line when their spread across it is less than this part of the spread along it.
/// Below that the slope across the line is noise.
const FLATTEST: f64 = 1e-6;

/// The plane `z = constant + slope_x x + slope_y y` with the least sum of squared residuals in z.
#[derive(Clone, Debug, PartialEq)]
pub struct Plane {
    /// Rise for each unit of x.
    pub slope_x: f64,
    /// Rise for each unit of y.
    pub slope_y: f64,
    /// Height at the origin.
    pub constant: f64,
    /// Height of each point above the plane, in the order of the points.
    pub residuals: Vec<f64>,
}

impl Plane {
    /// Fits the plane to points `(x, y, z)`.
    ///
    /// `None` with fewer than three points, with points on one line in plan, or with a number that is not finite.
    #[must_use]
    pub fn fit(points: &[(f64, f64, f64)]) -> Option<Plane> {
        let finite = |(x, y, z): &(f64, f64, f64)| x.is_finite() && y.is_finite() && z.is_finite();
        if points.len() < 3 || !points.iter().all(finite) {
            return None;
        }
        let count = points.len() as f64;
        let mean = |pick: fn(&(f64, f64, f64)) -> f64| points.iter().map(pick).sum::<f64>() / count;
        let (mx, my, mz) = (mean(|p| p.0), mean(|p| p.1), mean(|p| p.2));
        let sum = |product: fn(f64, f64, f64) -> f64| {
            points.iter().map(|(x, y, z)| product(x - mx, y - my, z - mz)).sum::<f64>()
        };
        let (xx, xy, yy) = (sum(|x, _, _| x * x), sum(|x, y, _| x * y), sum(|_, y, _| y * y));
        let (xz, yz) = (sum(|x, _, z| x * z), sum(|_, y, z| y * z));
        let determinant = xx * yy - xy * xy;
        // For points on one line the determinant vanishes; the spreads are squares, hence the square of the ratio.
        if !determinant.is_finite() || determinant <= (xx + yy).powi(2) * FLATTEST.powi(2) {
            return None;
        }
        let slope_x = (xz * yy - yz * xy) / determinant;
        let slope_y = (yz * xx - xz * xy) / determinant;
        let constant = mz - slope_x * mx - slope_y * my;
        let residuals = points
            .iter()
            .map(|(x, y, z)| (z - mz) - slope_x * (x - mx) - slope_y * (y - my))
            .collect();
        Some(Plane { slope_x, slope_y, constant, residuals })
    }

    /// Height of the plane at a point.
    #[must_use]
    pub fn height(&self, x: f64, y: f64) -> f64 {
        self.constant + self.slope_x * x + self.slope_y * y
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn nothing_can_be_fitted() {
        type Row<'a> = (&'a str, &'a [(f64, f64, f64)]);
        let rows: [Row<'_>; 5] = [
            ("no points", &[]),
            ("two points", &[(0.0, 0.0, 1.0), (1.0, 0.0, 1.0)]),
            ("on one line", &[(0.0, 0.0, 1.0), (1.0, 1.0, 1.0), (2.0, 2.0, 5.0), (7.0, 7.0, 0.0)]),
            ("all in one place", &[(3.0, 4.0, 1.0), (3.0, 4.0, 2.0), (3.0, 4.0, 3.0)]),
            ("not finite", &[(0.0, 0.0, 1.0), (1.0, 0.0, f64::NAN), (0.0, 1.0, 1.0)]),
        ];
        for (name, points) in rows {
            assert_eq!(Plane::fit(points), None, "{name}");
        }
    }

    #[test]
    fn a_square_with_one_corner_up() {
        // By symmetry the plane rises 1/2 along each side and misses each corner by 1/4.
        let plane =
            Plane::fit(&[(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (1.0, 1.0, 1.0)])
                .expect("a plane");
        assert!((plane.slope_x - 0.5).abs() < 1e-12 && (plane.slope_y - 0.5).abs() < 1e-12);
        assert!((plane.constant + 0.25).abs() < 1e-12);
        let expected = [0.25, -0.25, -0.25, 0.25];
        assert!(
            plane.residuals.iter().zip(expected).all(|(r, e)| (r - e).abs() < 1e-12),
            "{:?}",
            plane.residuals
        );
    }

    proptest! {
        #[test]
        fn points_on_a_plane_give_it_back(
            (a, b, c) in (-0.1..0.1f64, -0.1..0.1f64, -5.0..5.0f64),
            more in prop::collection::vec((-50.0..50.0f64, -50.0..50.0f64), 0..20),
            (dx, dy) in (-1000.0..1000.0f64, -1000.0..1000.0f64),
        ) {
            let at = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)].into_iter().chain(more);
            let points: Vec<_> = at.map(|(x, y)| (x + dx, y + dy, a * (x + dx) + b * (y + dy) + c)).collect();
            let plane = Plane::fit(&points).expect("a plane");
            prop_assert!((plane.slope_x - a).abs() < 1e-8 && (plane.slope_y - b).abs() < 1e-8);
            prop_assert!(plane.residuals.iter().all(|r| r.abs() < 1e-8));
        }
    }
}
