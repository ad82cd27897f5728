//! What of a coating is still to be chosen.

use super::Facts;
use crate::diagnostic::Diagnostic;
use crate::order::chosen;
use crate::shop::{Choice, Layer};

pub(super) fn rules(facts: &Facts<'_>, out: &mut Vec<Diagnostic>) {
    let coating = &facts.sketch.coating;
    let Some(named) = &coating.system else {
        return;
    };
    let Some(system) = facts.shop.systems.get(&named.value) else {
        return;
    };
    let mut open: Vec<(Choice, Vec<&str>)> = Vec::new();
    let of = |layer: &Layer| chosen(layer, coating).open;
    for (layer, choice) in system
        .layers
        .iter()
        .flat_map(|layer| of(layer).into_iter().map(move |choice| (layer, choice)))
    {
        match open.iter_mut().find(|(known, _)| *known == choice) {
            Some((_, layers)) => layers.push(&layer.name),
            None => open.push((choice, vec![&layer.name])),
        }
    }
    if open.is_empty() {
        return;
    }
    let what: Vec<String> = open
        .iter()
        .map(|(choice, layers)| format!("the {} of the {}", choice.word(), layers.join(" and ")))
        .collect();
    let keys: Vec<&str> = open.iter().map(|(choice, _)| choice.example()).collect();
    let verb = if open.len() == 1 { "is" } else { "are" };
    out.push(
        Diagnostic::warning("not-chosen", format!("{} {verb} not chosen", what.join(", ")))
            .at(named.span)
            .hint(format!(
                "write under coating: what the customer chose, such as {}",
                keys.join(", ")
            ))
            .source("common practice: what is ordered in the wrong color is bought twice"),
    );
}
