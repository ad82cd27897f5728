//! What the customer chooses of a coating: which layer takes the color, the blend, the sheen.

use super::model::Order;
use crate::shop::{Choice, Layer, System};
use crate::sketch::Coating;
use crate::trade::{Layers, Product};

/// What was chosen of one layer, and what is still to be chosen.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Chosen {
    /// In the words of the sketch: `slate`, `river stone, 1/4 in flakes`, `satin`.
    pub words: Vec<String>,
    /// Nobody has chosen these yet.
    pub open: Vec<Choice>,
}

impl Chosen {
    /// The words in one: `slate, satin`; nothing where nothing was chosen.
    #[must_use]
    pub fn named(&self) -> Option<String> {
        (!self.words.is_empty()).then(|| self.words.join(", "))
    }

    /// The words with a line to write on for each that is open: `slate, sheen ________`; nothing where
    /// there is nothing to choose.
    #[must_use]
    pub fn with_lines(&self) -> Option<String> {
        let open = self.open.iter();
        let lines = open.map(|choice| format!("{} ________", choice.word()));
        let all: Vec<String> = self.words.iter().cloned().chain(lines).collect();
        (!all.is_empty()).then(|| all.join(", "))
    }
}

/// What the sketch says of a choice.
fn word(choice: Choice, coating: &Coating) -> Option<String> {
    match choice {
        Choice::Color => coating.color.clone(),
        Choice::Blend => {
            let blend = coating.blend.as_ref()?;
            Some(match &coating.flake_size {
                Some(size) => format!("{blend}, {size} flakes"),
                None => blend.clone(),
            })
        }
        Choice::Sheen => coating.sheen.map(|sheen| sheen.word().to_owned()),
    }
}

/// What was chosen of a layer.
#[must_use]
pub fn chosen(layer: &Layer, coating: &Coating) -> Chosen {
    let mut out = Chosen::default();
    for choice in &layer.chosen {
        match word(*choice, coating) {
            Some(word) => out.words.push(word),
            None => out.open.push(*choice),
        }
    }
    out
}

/// Every layer of which something is chosen, in a line: `base coat slate; flake river stone; top coat
/// sheen ________`. Nothing where a system leaves nothing to choose.
#[must_use]
pub fn finish(system: &System, coating: &Coating) -> Option<String> {
    let line = |layer: &Layer| {
        let words = chosen(layer, coating).with_lines()?;
        Some(format!("{} {words}", layer.name))
    };
    let all: Vec<String> = system.layers.iter().filter_map(line).collect();
    (!all.is_empty()).then(|| all.join("; "))
}

/// Puts beside every product of a system what was chosen of it.
pub(crate) fn choose(order: &mut Order, (name, system): (&str, &System), coating: &Coating) {
    for layer in &system.layers {
        let item = Product::Layer(Layers::System(name.to_owned()), layer.name.clone());
        if let Some(row) = order.rows.iter_mut().find(|row| row.item == item) {
            row.chosen = chosen(layer, coating);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::order::fixture::flake;
    use crate::sketch::Sheen;

    fn coating(color: &str, blend: &str, size: &str, sheen: Option<Sheen>) -> Coating {
        let text = |text: &str| (!text.is_empty()).then(|| text.to_owned());
        Coating {
            color: text(color),
            blend: text(blend),
            flake_size: text(size),
            sheen,
            ..Coating::default()
        }
    }

    #[test]
    fn every_layer_takes_what_is_chosen_of_it() {
        let mut system = flake();
        system.layers[1].chosen = vec![Choice::Color];
        system.layers[2].chosen = vec![Choice::Blend];
        system.layers[3].chosen = vec![Choice::Color, Choice::Sheen];
        for (coating, want) in [
            (
                coating("slate", "river stone", "1/4 in", Some(Sheen::Satin)),
                "base coat slate; flake river stone, 1/4 in flakes; top coat slate, satin",
            ),
            (
                coating("slate", "", "1/4 in", None),
                "base coat slate; flake blend ________; top coat slate, sheen ________",
            ),
            (
                coating("", "river stone", "", Some(Sheen::Matte)),
                "base coat color ________; flake river stone; top coat matte, color ________",
            ),
        ] {
            assert_eq!(finish(&system, &coating).as_deref(), Some(want));
        }
        assert_eq!(finish(&flake(), &coating("slate", "", "", None)), None);
    }

    /// Two floors in one color are ordered together, two in different ones are not.
    #[test]
    fn what_was_chosen_differently_is_not_one_product() {
        let mut system = flake();
        system.layers[0].chosen = vec![Choice::Color];
        let order = |color: &str| {
            use crate::order::fixture::{shop, slab, takeoff};
            let mut order = crate::order::fixture::order(
                &slab(20.0, 20.0),
                &takeoff(400.0, 0.0),
                &shop(),
                Some("flake"),
            );
            choose(&mut order, ("flake", &system), &coating(color, "", "", None));
            order
        };
        for (other, primers) in [("slate", 1), ("sand", 2)] {
            let both = crate::order::combine(&[order("slate"), order(other)]);
            let rows = both.rows.iter().filter(|row| row.item.to_string() == "flake: primer");
            assert_eq!(rows.count(), primers, "{other}");
        }
    }
}
