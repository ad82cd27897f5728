//! Numbers of an explanation: written so that the arithmetic comes out with what is printed.
//!
//! The tables round to what a tape shows. Here a length is a fraction only where it is one, and a
//! decimal where it isn't.

use crate::quantity::{
    L_PER_FT3, L_PER_GAL, L_PER_IN3, M_PER_FT, M_PER_IN, M2_PER_FT2, Units, write,
};
use crate::slab::{Form, Shape, Stretch};

/// Finest fraction of an inch that is printed as a fraction.
const DENOMINATOR: u32 = 64;
/// How far from a whole number of 64ths a length may be, in 64ths, and still be printed as a
/// fraction. This is four micrometres: what arcs and cuts leave of a taped length, and far less
/// than the digits of a result show.
const EXACT: f64 = 0.01;
/// Significant digits of a result, so that the arithmetic can be checked to a thousandth.
const DIGITS: i32 = 5;
/// Square inches and centimetres are used up to this many square metres (one square foot).
const SMALL_AREA: f64 = M2_PER_FT2;

/// A result to [`DIGITS`] digits, two decimals at least, without trailing zeros.
fn number(value: f64) -> String {
    let whole = if value == 0.0 { 0 } else { value.abs().log10().floor() as i32 };
    let decimals = (DIGITS - 1 - whole).clamp(2, 9);
    write::trimmed(value, decimals.unsigned_abs())
}

/// How a number is written.
pub(crate) type Show = fn(Say, f64) -> String;

/// Writes numbers in one system of units.
#[derive(Clone, Copy)]
pub(crate) struct Say(pub Units);

impl Say {
    fn us(self) -> bool {
        self.0 == Units::Us
    }

    /// Whether a length in inches is a whole number of 64ths.
    fn is_fraction(inches: f64) -> bool {
        let parts = inches * f64::from(DENOMINATOR);
        (parts - parts.round()).abs() < EXACT
    }

    /// A length on the floor from metres: `24'-0 1/2"`, `24.0417 ft`, `7.3279 m`.
    pub fn length(self, m: f64) -> String {
        if !self.us() {
            format!("{} m", write::trimmed(m, 4))
        } else if Self::is_fraction(m / M_PER_IN) {
            write::feet_inches(m, DENOMINATOR)
        } else {
            format!("{} ft", write::trimmed(m / M_PER_FT, 4))
        }
    }

    /// A station along a path from metres, as the tape shows it: `4'-2 1/2"`, `1.28 m`.
    pub fn station(self, m: f64) -> String {
        write::length(m, self.0)
    }

    /// Stations of some stretches: `0'-0" to 4'-0", 6'-0" to 24'-0"`.
    pub fn stations(self, stretches: &[Stretch]) -> String {
        let one = |s: &Stretch| format!("{} to {}", self.station(s.from_m), self.station(s.to_m));
        stretches.iter().map(one).collect::<Vec<_>>().join(", ")
    }

    /// A width, depth or step from metres: `3/8"`, `0.236"`, `9.525 mm`.
    pub fn small(self, m: f64) -> String {
        if !self.us() {
            format!("{} mm", write::trimmed(m * 1000.0, 3))
        } else if Self::is_fraction(m / M_PER_IN) {
            write::inches_fraction(m, DENOMINATOR)
        } else {
            format!("{}\"", write::trimmed(m / M_PER_IN, 4))
        }
    }

    /// An area on the floor from square metres: `576 ft²`, `53.5122 m²`.
    pub fn area(self, m2: f64) -> String {
        if self.us() {
            format!("{} ft²", number(m2 / M2_PER_FT2))
        } else {
            format!("{} m²", number(m2))
        }
    }

    /// The area of a defect from square metres: square inches or centimetres up to one square foot.
    pub fn spot(self, m2: f64) -> String {
        if self.us() && m2.abs() < SMALL_AREA {
            format!("{} in²", number(m2 / (M_PER_IN * M_PER_IN)))
        } else if !self.us() && m2.abs() < SMALL_AREA {
            format!("{} cm²", number(m2 * 1e4))
        } else {
            self.area(m2)
        }
    }

    /// An area by its shape: `12" × 6" = 72 in²`. `lead` stands before what is multiplied.
    pub fn shape(self, shape: &Shape, lead: &str, size: Show) -> String {
        let size = |m| size(self, m);
        let area = self.spot(shape.area_m2);
        match shape.form {
            Form::Box { width, height } => {
                format!("{lead}{} × {} = {area}", size(width), size(height))
            }
            Form::Circle { diameter, .. } => format!("{lead}π/4 × ({})² = {area}", size(diameter)),
            Form::Polygon => format!("area of its polygon = {area}"),
            Form::Band { width } => format!("area of its band, {} wide = {area}", size(width)),
        }
    }

    /// What is broken or loose by its shape, and what of that counts, m².
    pub fn damage(self, id: &str, shape: &Shape, counted_m2: f64) -> String {
        let all = self.shape(shape, "area = ", Self::small);
        if counted_m2 < shape.area_m2 {
            let counted = self.spot(counted_m2);
            return format!("{id}: {all}, of which {counted} lie in the coated floor and count.");
        }
        format!("{id}: {all}.")
    }

    /// A volume of filler, resin or sealant from litres, as it comes out of the arithmetic and as
    /// it is bought: `135 in³ = 0.58442 gal`, `2.2123 L`.
    pub fn liquid(self, l: f64) -> String {
        if self.us() {
            format!("{} in³ = {} gal", number(l / L_PER_IN3), number(l / L_PER_GAL))
        } else {
            format!("{} L", number(l))
        }
    }

    /// The same as it is bought alone: `0.58442 gal`, `2.2123 L`.
    pub fn bought(self, l: f64) -> String {
        if self.us() {
            format!("{} gal", number(l / L_PER_GAL))
        } else {
            format!("{} L", number(l))
        }
    }

    /// A volume of mortar or concrete from litres: `81 in³ = 0.046875 ft³`, `1.3274 L`.
    pub fn solid(self, l: f64) -> String {
        if self.us() {
            format!("{} in³ = {} ft³", number(l / L_PER_IN3), number(l / L_PER_FT3))
        } else {
            format!("{} L", number(l))
        }
    }

    /// The same in the smaller measure alone: `81 in³`, `1.3274 L`.
    pub fn cubic(self, l: f64) -> String {
        if self.us() {
            format!("{} in³", number(l / L_PER_IN3))
        } else {
            format!("{} L", number(l))
        }
    }

    /// What waste adds, for a product whose waste is `<key>.waste` in the shop book, L: what is in place and what is bought are
    /// shown each its way.
    pub fn to_buy(
        self,
        in_place_l: f64,
        key: &str,
        waste: f64,
        [show, show_bought]: [Show; 2],
        others: &str,
    ) -> String {
        format!(
            "To buy = {} × {} ({key}.waste) = {}; added to all other {others}.",
            show(self, in_place_l),
            write::trimmed(1.0 + waste, 4),
            show_bought(self, in_place_l * (1.0 + waste))
        )
    }

    /// A temperature from degrees Celsius.
    pub fn temperature(self, c: f64) -> String {
        write::temperature(c, self.0)
    }

    /// A difference of temperatures from kelvins.
    pub fn difference(self, k: f64) -> String {
        write::temperature_difference(k, self.0)
    }
}

/// `J1 24'-0" + J2 24'-0"`, without what is nothing.
pub(crate) fn sum<'a>(
    parts: impl IntoIterator<Item = (&'a str, f64)>,
    show: impl Fn(f64) -> String,
) -> String {
    let parts = parts.into_iter().filter(|(_, value)| *value != 0.0);
    let parts: Vec<String> = parts.map(|(id, value)| format!("{id} {}", show(value))).collect();
    parts.join(" + ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fractions_only_where_they_are_exact() {
        let (us, metric) = (Say(Units::Us), Say(Units::Metric));
        let rows = [
            (us.small(0.009_525), "3/8\""),
            (us.small(0.006), "0.2362\""),
            (us.length(7.3152), "24'-0\""),
            (us.length(7.32), "24.0157 ft"),
            (us.length(7.327_9), "24'-0 1/2\""),
            (metric.small(0.009_525), "9.525 mm"),
            (metric.length(7.3152), "7.3152 m"),
            (us.spot(0.069_677_28), "108 in²"),
            (us.spot(0.185_806_08), "2 ft²"),
            (metric.spot(0.069_677_28), "696.77 cm²"),
            (metric.spot(0.185_806_08), "0.18581 m²"),
            (us.liquid(2.212_253_64), "135 in³ = 0.58442 gal"),
            (us.solid(1.327_352_184), "81 in³ = 0.046875 ft³"),
            (metric.liquid(2.212_253_64), "2.2123 L"),
            (metric.liquid(0.000_123_456_7), "0.00012346 L"),
            (metric.liquid(0.0), "0 L"),
        ];
        for (got, want) in rows {
            assert_eq!(got, want);
        }
    }

    #[test]
    fn sums_leave_out_what_is_nothing() {
        let shown = sum([("J1", 1.0), ("J2", 0.0), ("J3", 2.0)], |v| format!("{v}"));
        assert_eq!(shown, "J1 1 + J3 2");
    }
}
