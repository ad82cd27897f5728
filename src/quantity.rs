//! Physical quantities as people write them and as the program holds them.
//!
//! Every type is a newtype over one `f64` in an SI unit, so that a thickness can't be taken for
//! an area. `read` turns text into quantities, `write` turns them into text; nothing else does.

pub(crate) mod measure;
mod money;
pub mod read;
pub mod tape;
pub mod write;

pub use money::{Money, decimal};
pub(crate) use money::{exact, normal};

use serde::{Deserialize, Serialize};

/// System of units a sketch is written in; decides what a bare number means and how results are printed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Units {
    /// Feet and inches, gallons, pounds, degrees Fahrenheit.
    #[default]
    Us,
    /// Meters and millimeters, liters, kilograms, degrees Celsius.
    Metric,
}

macro_rules! quantity {
    ($(#[$meta:meta])* $name:ident, $new:ident, $get:ident) => {
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            /// From the SI value named by the function.
            #[must_use]
            pub const fn $new(value: f64) -> Self {
                Self(value)
            }

            /// The SI value named by the function.
            #[must_use]
            pub const fn $get(self) -> f64 {
                self.0
            }
        }
    };
}

quantity!(
    /// A length, held in meters.
    Length, from_m, m
);
quantity!(
    /// A volume, held in liters.
    Volume, from_l, l
);
quantity!(
    /// A mass, held in kilograms.
    Mass, from_kg, kg
);
quantity!(
    /// A temperature, held in degrees Celsius.
    Temperature, from_c, c
);
quantity!(
    /// A time span, held in seconds.
    Span, from_s, s
);
quantity!(
    /// Area covered by a volume of liquid, held in square meters per liter.
    Coverage, from_m2_per_l, m2_per_l
);
quantity!(
    /// Mass spread on an area, held in kilograms per square meter.
    Spread, from_kg_per_m2, kg_per_m2
);
quantity!(
    /// A share of one: `10%` is 0.1.
    Ratio, from_one, one
);

/// Meters in one inch, exact (international inch, 1959; NIST Handbook 44 Appendix C).
pub const M_PER_IN: f64 = 0.0254;
/// Meters in one foot, exact (international foot; NIST Handbook 44 Appendix C).
pub const M_PER_FT: f64 = 0.3048;
/// Square meters in one square foot, exact.
pub const M2_PER_FT2: f64 = M_PER_FT * M_PER_FT;
/// Liters in one US gallon, exact: 231 cubic inches (NIST Handbook 44 Appendix C).
pub const L_PER_GAL: f64 = 3.785411784;
/// Liters in one US fluid ounce, exact: one 128th of a gallon.
pub const L_PER_FL_OZ: f64 = L_PER_GAL / 128.0;
/// Liters in one cubic inch, exact.
pub const L_PER_IN3: f64 = 0.016387064;
/// Liters in one cubic foot, exact.
pub const L_PER_FT3: f64 = 28.316846592;
/// Liters in one cubic meter.
pub const L_PER_M3: f64 = 1000.0;
/// Kilograms in one avoirdupois pound, exact (NIST Handbook 44 Appendix C).
pub const KG_PER_LB: f64 = 0.45359237;

impl Length {
    /// From inches.
    #[must_use]
    pub const fn from_in(inches: f64) -> Self {
        Self(inches * M_PER_IN)
    }

    /// From feet.
    #[must_use]
    pub const fn from_ft(feet: f64) -> Self {
        Self(feet * M_PER_FT)
    }

    /// Inches.
    #[must_use]
    pub fn inches(self) -> f64 {
        self.0 / M_PER_IN
    }

    /// Millimeters.
    #[must_use]
    pub fn mm(self) -> f64 {
        self.0 * 1000.0
    }
}
