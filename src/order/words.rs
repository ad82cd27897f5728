//! Amounts in the words of the sketch's units.

use crate::quantity::write::{self, trimmed};
use crate::quantity::{KG_PER_LB, L_PER_FL_OZ, L_PER_GAL, M2_PER_FT2, Units};
use crate::trade::Product;
use crate::work::{Batch, Batches};

use super::model::OrderRow;

/// What is mixed for a batch: `8 qt: A 5 qt 11 fl oz, B 2 qt 21 fl oz`.
pub(crate) fn mix(batch: &Batch, units: Units) -> String {
    let all = write::pail(batch.volume_l, units);
    let parts = batch.parts_l.iter().zip(["A", "B", "C", "D"]);
    let parts: Vec<String> =
        parts.map(|(litres, name)| format!("{name} {}", write::pail(*litres, units))).collect();
    let kit = if batch.whole_kit { ", a whole kit" } else { "" };
    if parts.is_empty() {
        format!("{all}{kit}")
    } else {
        format!("{all}{kit}: {}", parts.join(", "))
    }
}

/// How long a batch of a layer takes to lay, and how long it can be worked with.
pub(crate) fn laying(layer: &Batches, units: Units) -> String {
    let longest = layer.list.iter().map(|b| b.lay_s).fold(0.0, f64::max);
    let name = crate::text::clean(&layer.name);
    let lay = write::span(longest);
    let Some(pot_life_s) = layer.pot_life_s else {
        return format!(
            "A batch of {name} is laid in {lay}; the shop book gives no pot life: see the data sheet."
        );
    };
    let at = write::temperature(layer.slab_c, units);
    let life = write::span(pot_life_s);
    format!("A batch of {name} is laid in {lay}; its pot life at {at} is {life}.")
}

/// A coverage.
pub(crate) fn coverage(m2_per_l: f64, units: Units) -> String {
    match units {
        Units::Us => format!("{} ft²/gal", trimmed(m2_per_l * L_PER_GAL / M2_PER_FT2, 1)),
        Units::Metric => format!("{} m²/L", trimmed(m2_per_l, 2)),
    }
}

/// An amount in the unit of an order row.
pub(crate) fn amount(value: f64, unit: &str, units: Units) -> String {
    match unit {
        "L" => write::volume(value, units),
        "kg" => write::mass(value, units),
        "m" => write::run(value, units),
        _ => trimmed(value, 1),
    }
}

/// What a package is called: a bag of mortar, a kit of a coat, else a package.
pub(crate) fn packed(row: &OrderRow) -> &'static str {
    match (&row.item, row.unit) {
        (Product::PatchMortar | Product::CoveMortar, _) => "bag",
        (Product::Layer(..), "L") => "kit",
        _ => "package",
    }
}

/// A package: in the unit the trade prints on it (a 600 mL cartridge stays 600 mL), else in the
/// sketch's units.
pub(crate) fn package(value: f64, unit: &str, units: Units) -> String {
    let even_ml = (value * 1000.0 - (value * 100.0).round() * 10.0).abs() < 1e-6;
    if unit == "L" && value < 1.0 && even_ml {
        return format!("{} mL", trimmed(value * 1000.0, 0));
    }
    match (unit, units) {
        ("L", Units::Us) if value < L_PER_GAL / 4.0 => {
            format!("{} fl oz", trimmed(value / L_PER_FL_OZ, 1))
        }
        ("L", Units::Us) => format!("{} gal", trimmed(value / L_PER_GAL, 2)),
        ("L", Units::Metric) => format!("{} L", trimmed(value, 2)),
        ("kg", Units::Us) => format!("{} lb", trimmed(value / KG_PER_LB, 1)),
        ("kg", Units::Metric) => format!("{} kg", trimmed(value, 2)),
        _ => amount(value, unit, units),
    }
}

/// `J1`, `J1 and J2`, `J1, J2 and 4 more`.
pub(crate) fn names(ids: &[&str]) -> String {
    match ids {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [one, two] => format!("{one} and {two}"),
        [one, two, three] => format!("{one}, {two} and {three}"),
        [one, two, rest @ ..] => format!("{one}, {two} and {} more", rest.len()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn packages_keep_their_label() {
        assert_eq!(package(0.6, "L", Units::Us), "600 mL");
        assert_eq!(package(3.0 * L_PER_GAL, "L", Units::Us), "3 gal");
        assert_eq!(package(50.0 * KG_PER_LB, "kg", Units::Us), "50 lb");
        assert_eq!(package(20.0 * L_PER_FL_OZ, "L", Units::Us), "20 fl oz");
    }

    #[test]
    fn many_names_are_cut_short() {
        assert_eq!(names(&["J1", "J2", "J3", "J4", "J5"]), "J1, J2 and 3 more");
        assert_eq!(names(&["J1"]), "J1");
    }
}
