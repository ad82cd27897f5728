//! Amounts as the reports print them. Numbers are written by [`write`]; here stands only which
//! measure is used where.

use super::{
    KG_PER_LB, L_PER_FL_OZ, L_PER_FT3, L_PER_GAL, L_PER_IN3, M_PER_FT, M2_PER_FT2, Units, write,
};

/// A stock size counts as round in a measure when it is a whole number of quarters of it.
const QUARTERS: f64 = 4.0;

/// The sides of a patch from meters, to what a saw can follow: an eighth of an inch, a millimeter.
pub fn cut(length_m: f64, width_m: f64, units: Units) -> String {
    match units {
        Units::Us => {
            let inches = |m: f64| write::inches_fraction(m, 8);
            format!("{} × {}", inches(length_m), inches(width_m))
        }
        Units::Metric => {
            let mm = |m: f64| write::fixed(m * 1000.0, 0);
            format!("{} × {} mm", mm(length_m), mm(width_m))
        }
    }
}

/// A small length from meters, `3/8"`, `9.5 mm`; empty for nothing.
pub fn small_or_blank(m: f64, units: Units) -> String {
    if m == 0.0 { String::new() } else { write::small(m, units) }
}

/// A volume of mortar or concrete: cubic inches up to a tenth of a cubic foot, then cubic feet;
/// liters.
pub fn solid(l: f64, units: Units) -> String {
    Column::solid(l, units).cell(l)
}

/// A column of volumes in one measure, chosen by its sum, so that the numbers can be compared and
/// added up by eye.
#[derive(Clone, Copy, Debug)]
pub struct Column {
    one: f64,
    name: &'static str,
    decimals: u32,
}

impl Column {
    /// For filler, resin and sealant that add up to `sum` liters: in the measure in which the sum is said.
    pub fn liquid(sum: f64, units: Units) -> Self {
        let (one, name, decimals) = write::measure(sum, units);
        Self { one, name, decimals }
    }

    /// For mortar and concrete that add up to `sum` liters: cubic inches or feet, liters or
    /// milliliters.
    pub fn solid(sum: f64, units: Units) -> Self {
        let (one, name, decimals) = match units {
            Units::Us if sum.abs() < 0.1 * L_PER_FT3 => (L_PER_IN3, "in³", 1),
            Units::Us => (L_PER_FT3, "ft³", 2),
            Units::Metric => return Self::liquid(sum, units),
        };
        Self { one, name, decimals }
    }

    /// A cell, empty for nothing; what would round to nothing is `<0.01`.
    pub fn cell(self, l: f64) -> String {
        let value = l / self.one;
        let least = 0.1_f64.powi(self.decimals.cast_signed());
        if value == 0.0 {
            String::new()
        } else if value > 0.0 && value < least / 2.0 {
            format!("<{} {}", write::fixed(least, self.decimals), self.name)
        } else {
            format!("{} {}", write::grouped(value, self.decimals), self.name)
        }
    }
}

/// A small area with enough decimals for a spall: `0.13 ft²`, `0.012 m²`.
pub fn patch_area(m2: f64, units: Units) -> String {
    match units {
        Units::Us => format!("{} ft²", write::fixed(m2 / M2_PER_FT2, 2)),
        Units::Metric => format!("{} m²", write::fixed(m2, 3)),
    }
}

/// An amount of an order row: `6.2 gal`, `49.6 lb`, `25.2 ft`, `3`.
pub fn amount(value: f64, unit: &str, units: Units) -> String {
    match unit {
        "L" => write::volume(value, units),
        "kg" => write::mass(value, units),
        "m" => write::run(value, units),
        _ => write::trimmed(value, 2),
    }
}

/// The size of a package, in the measure in which it is a round number: a shop that works in feet
/// still buys a tube of 600 mL.
pub fn package(size: f64, unit: &str, units: Units) -> String {
    let us: &[(f64, &str)] = match unit {
        "L" => &[(L_PER_GAL, "gal"), (L_PER_FL_OZ, "fl oz")],
        "kg" => &[(KG_PER_LB, "lb")],
        "m" => &[(M_PER_FT, "ft")],
        _ => &[],
    };
    let metric: &[(f64, &str)] = match unit {
        "L" => &[(1.0, "L"), (0.001, "mL")],
        "kg" => &[(1.0, "kg")],
        "m" => &[(1.0, "m")],
        _ => &[],
    };
    let measures = match units {
        Units::Us => [us, metric].concat(),
        Units::Metric => [metric, us].concat(),
    };
    let is_round = |&&(one, _): &&(f64, &str)| {
        let quarters = size / one * QUARTERS;
        quarters >= QUARTERS && (quarters - quarters.round()).abs() < 1e-6
    };
    match measures.iter().find(is_round) {
        Some(&(one, name)) => format!("{} {name}", write::trimmed(size / one, 2)),
        None => amount(size, unit, units),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use Units::{Metric, Us};

    #[test]
    fn packages_keep_their_round_number() {
        let rows = [
            (0.6, "L", Us, "600 mL"),
            (20.0 * L_PER_FL_OZ, "L", Us, "20 fl oz"),
            (3.0 * L_PER_GAL, "L", Us, "3 gal"),
            (3.0 * L_PER_GAL, "L", Metric, "3 gal"),
            (0.6, "L", Metric, "600 mL"),
            (2.5, "L", Metric, "2.5 L"),
            (50.0 * KG_PER_LB, "kg", Us, "50 lb"),
            (25.0, "kg", Us, "25 kg"),
            (30.48, "m", Us, "100 ft"),
            // No round number in any measure: printed as any other amount.
            (0.333_33, "L", Us, "11.3 fl oz"),
            (1.0, "each", Us, "1"),
        ];
        for (size, unit, units, want) in rows {
            assert_eq!(package(size, unit, units), want, "{size} {unit}");
        }
    }

    #[test]
    fn solids_are_cubic_inches_while_small() {
        assert_eq!(solid(81.0 * L_PER_IN3, Us), "81.0 in³");
        assert_eq!(solid(L_PER_FT3, Us), "1.00 ft³");
        assert_eq!(solid(1.327, Metric), "1.33 L");
    }

    #[test]
    fn a_column_keeps_one_measure() {
        let rows = [
            (Column::liquid(10.0, Us), 0.1, "0.03 gal"),
            (Column::liquid(10.0, Us), 0.001, "<0.01 gal"),
            (Column::liquid(0.3, Us), 0.1, "3.4 fl oz"),
            (Column::liquid(10.0, Metric), 0.1, "0.10 L"),
            (Column::liquid(0.3, Metric), 0.1, "100 mL"),
            (Column::solid(30.0, Us), 28.316_846_592, "1.00 ft³"),
            (Column::solid(30.0, Us), 0.0, ""),
        ];
        for (column, l, want) in rows {
            assert_eq!(column.cell(l), want, "{column:?}");
        }
    }

    #[test]
    fn cuts_and_blanks() {
        assert_eq!(cut(0.552_8, 0.304_8, Us), "21 3/4\" × 12\"");
        assert_eq!(cut(0.552_8, 0.304_8, Metric), "553 × 305 mm");
        assert_eq!(small_or_blank(0.0, Us), "");
    }
}
