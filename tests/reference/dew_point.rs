//! Dew points against MetPy: `dew_point.py` made `dew_point.csv`.

use slabwalk::takeoff::dew_point_c;

/// The two formulas are fits of one shape with other constants, each good to a few tenths of a kelvin. Over the grid they
/// part most in hot dry air, 45 °C and 5 %, by 0.0373 K.
const FITS_K: f64 = 0.04;

/// From 5 to 35 °C and 30 % up, where floors are coated, they part by 0.0188 K at most: a hundredth of the 3 K that the
/// slab has to be above the dew point.
const FITS_WHERE_COATED_K: f64 = 0.02;

#[test]
fn dew_points_agree_with_another_library() {
    let table = include_str!("dew_point.csv");
    let (mut rows, mut worst) = (0, 0.0_f64);
    for line in table.lines().skip(1) {
        let cells: Vec<f64> = line.split(',').map(|cell| cell.parse().expect(line)).collect();
        let [air, percent, want] = cells[..] else {
            panic!("{line}");
        };
        let dew = dew_point_c(air, percent / 100.0).expect(line);
        let off = (dew - want).abs();
        let coated = (5.0..=35.0).contains(&air) && percent >= 30.0;
        let allowed = if coated { FITS_WHERE_COATED_K } else { FITS_K };
        assert!(off <= allowed, "{line}: {dew}, off by {off:.4} K");
        worst = worst.max(off);
        rows += 1;
    }
    assert_eq!(rows, 460, "the whole grid");
    assert!(worst > 0.03, "the table is MetPy's, not this formula's: {worst}");
}
