//! Times that depend on the temperature of the slab.

use crate::diagnostic::{Diagnostic, Place};
use crate::quantity::{Temperature, Units, write};
use crate::shop::{System, Times};
use crate::sketch::{At, Sketch};

/// Seconds in one hour.
const S_PER_H: f64 = 3600.0;

/// The two times at a slab temperature, hours, straight between the rows of the table; `None`
/// outside it, because a data sheet promises nothing there.
#[must_use]
pub fn between(table: &[Times], slab_c: f64) -> Option<(f64, f64)> {
    let hours = |row: &Times| (row.first.s() / S_PER_H, row.last.s() / S_PER_H);
    if let [only] = table {
        return (only.at.c() == slab_c).then(|| hours(only));
    }
    let pair = table.windows(2).find(|pair| (pair[0].at.c()..=pair[1].at.c()).contains(&slab_c))?;
    let share = (slab_c - pair[0].at.c()) / (pair[1].at.c() - pair[0].at.c());
    let (low, high) = (hours(&pair[0]), hours(&pair[1]));
    let mix = |a: f64, b: f64| a + (b - a) * share;
    Some((mix(low.0, high.0), mix(low.1, high.1)))
}

/// Errors for every slab temperature of the sketch that lies outside a table of the system.
#[must_use]
pub fn outside(sketch: &Sketch, system: &System) -> Vec<Diagnostic> {
    let layers = system.layers.iter();
    let mut tables: Vec<(&str, &[Times])> =
        layers.map(|layer| (layer.name.as_str(), layer.recoat.as_slice())).collect();
    tables.push(("the cure", &system.cure));
    let days = sketch.tests.forecast.iter().map(|f| &f.slab);
    let slabs = sketch.tests.slab_temperature.iter().chain(days);
    let mut found = Vec::new();
    for slab in slabs {
        let out = tables
            .iter()
            .find(|(_, table)| !table.is_empty() && between(table, slab.value.c()).is_none());
        if let Some((name, table)) = out {
            found.push(error(slab, name, table, sketch.units));
        }
    }
    found
}

fn error(slab: &At<Temperature>, name: &str, table: &[Times], units: Units) -> Diagnostic {
    let written = write::temperature(slab.value.c(), units);
    let message = format!("a slab at {written} lies outside the table of {name} in the shop book");
    let edge = |row: Option<&Times>| {
        row.map_or(String::new(), |row| write::temperature(row.at.c(), units))
    };
    let hint = format!(
        "it runs from {} to {}; heat or wait, or add rows from the data sheet",
        edge(table.first()),
        edge(table.last())
    );
    Diagnostic::error("temperature-outside", message)
        .place(Place::sketch(slab.span))
        .label("no window is known")
        .hint(hint)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Span;

    fn row(c: f64, first_h: f64, last_h: f64) -> Times {
        Times {
            at: Temperature::from_c(c),
            first: Span::from_s(first_h * S_PER_H),
            last: Span::from_s(last_h * S_PER_H),
        }
    }

    #[test]
    fn straight_between_rows() {
        let table = [row(10.0, 14.0, 48.0), row(20.0, 8.0, 24.0), row(30.0, 5.0, 16.0)];
        for (name, c, want) in [
            ("on a row", 20.0, Some((8.0, 24.0))),
            ("first row", 10.0, Some((14.0, 48.0))),
            ("last row", 30.0, Some((5.0, 16.0))),
            // Half way from 14 to 8 and from 48 to 24.
            ("half way", 15.0, Some((11.0, 36.0))),
            ("too cold", 9.9, None),
            ("too warm", 30.1, None),
        ] {
            assert_eq!(between(&table, c), want, "{name}");
        }
        assert_eq!(between(&[], 20.0), None);
    }
}
