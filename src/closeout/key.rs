//! Values of the shop book that a close-out can speak about, and how they are written there.

use serde::Serialize;

use crate::quantity::{L_PER_FT3, L_PER_IN3, M_PER_FT, M2_PER_FT2, Units, write};
use crate::trade;

/// Form of a value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Form {
    /// A share bought on top: one and the share is what use is measured against.
    Waste,
    /// Volume from one package, L.
    Yield,
    /// Meters an hour.
    Run,
    /// Square meters an hour.
    Area,
    /// Liters an hour.
    Volume,
    /// All rates of a kind of work together, over the book's.
    Rates,
    /// Square meters a liter.
    Coverage,
    /// Kilograms a square meter.
    Spread,
    /// Dry film, m.
    Film,
}

/// A value of the shop book, by its keys from the top.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(transparent)]
pub struct Key {
    /// Keys from the top of the book: `filler`, `waste`. For a layer: `systems`, system, layer, key.
    pub path: Vec<String>,
    /// Form of its value.
    #[serde(skip)]
    pub form: Form,
}

/// Three digits of a number, so that a small rate does not round to nothing.
fn rounded(value: f64) -> String {
    let decimals = match value {
        v if v >= 100.0 => 0,
        v if v >= 10.0 => 1,
        v if v >= 1.0 => 2,
        _ => 6,
    };
    write::trimmed(value, decimals)
}

impl Form {
    /// The form of a rate of work; `None` for what is no rate.
    pub(super) const fn of_rate(unit: trade::Unit) -> Option<Self> {
        match unit {
            trade::Unit::Length => Some(Self::Run),
            trade::Unit::Area => Some(Self::Area),
            trade::Unit::Volume => Some(Self::Volume),
            trade::Unit::Time | trade::Unit::Share | trade::Unit::Count => None,
        }
    }

    /// The value as the shop book writes it.
    #[must_use]
    pub fn written(self, value: f64, units: Units) -> String {
        let fixed = write::trimmed;
        match (self, units) {
            (Form::Waste, _) => format!("{}%", fixed(value * 100.0, 0)),
            (Form::Yield, Units::Us) => format!("{} ft3", fixed(value / L_PER_FT3, 2)),
            (Form::Yield, Units::Metric) => format!("{} L", fixed(value, 1)),
            (Form::Run, Units::Us) => format!("{} ft/h", rounded(value / M_PER_FT)),
            (Form::Run, Units::Metric) => format!("{} m/h", rounded(value)),
            (Form::Area, Units::Us) => format!("{} ft2/h", rounded(value / M2_PER_FT2)),
            (Form::Area, Units::Metric) => format!("{} m2/h", rounded(value)),
            (Form::Volume, Units::Us) => format!("{} in3/h", rounded(value / L_PER_IN3)),
            (Form::Volume, Units::Metric) => format!("{} L/h", rounded(value)),
            (Form::Rates, _) => format!("{}% of the rates", fixed(value * 100.0, 0)),
            (Form::Coverage, Units::Us) => {
                let per_gal = value * crate::quantity::L_PER_GAL / M2_PER_FT2;
                format!("{} ft2/gal", fixed(per_gal, 0))
            }
            (Form::Coverage, Units::Metric) => format!("{} m2/L", fixed(value, 2)),
            (Form::Spread, Units::Us) => {
                let per_ft2 = value * M2_PER_FT2 / crate::quantity::KG_PER_LB;
                format!("{} lb/ft2", fixed(per_ft2, 4))
            }
            (Form::Spread, Units::Metric) => format!("{} kg/m2", fixed(value, 3)),
            (Form::Film, Units::Us) => format!("{} mil", fixed(value / 25.4e-6, 1)),
            (Form::Film, Units::Metric) => format!("{} um", fixed(value * 1e6, 0)),
        }
    }
}

impl Key {
    /// A value at the end of a path of keys.
    pub(super) fn new(path: &[&str], form: Form) -> Self {
        Self { path: path.iter().map(|key| (*key).to_owned()).collect(), form }
    }

    /// Whether it stands in a list of layers, which a shop's book replaces as a whole.
    pub(super) fn is_of_a_layer(&self) -> bool {
        let first = self.path.first().map(String::as_str);
        matches!(first, Some("systems" | "moisture"))
    }

    /// The path in one line: `filler: waste`.
    #[must_use]
    pub fn dotted(&self) -> String {
        self.path.join(": ")
    }

    /// The value that would have estimated what was used, where the book's value estimated `1` and
    /// `ratio` was used.
    pub(super) fn implied(&self, book: f64, ratio: f64) -> f64 {
        match self.form {
            Form::Waste => (1.0 + book) * ratio - 1.0,
            Form::Spread | Form::Film => book * ratio,
            Form::Yield | Form::Run | Form::Area | Form::Volume | Form::Rates | Form::Coverage => {
                book / ratio
            }
        }
    }

    /// The value as a positive number that jobs are compared by: waste counts with the one it comes
    /// on top of.
    pub(super) fn compared(&self, value: f64) -> f64 {
        match self.form {
            Form::Waste => 1.0 + value,
            _ => value,
        }
    }

    /// The value as the shop book writes it.
    #[must_use]
    pub fn written(&self, value: f64, units: Units) -> String {
        self.form.written(value, units)
    }
}
