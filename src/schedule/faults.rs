//! What keeps a floor from being planned.

use super::window::outside;
use crate::diagnostic::Diagnostic;
use crate::quantity::write;
use crate::sketch::Sketch;
use crate::work::{Batches, Facts, LAID_WITHIN, batches, works};

/// Errors for slab temperatures that no table of the system holds, and for machines that a work
/// needs and the shop has none of.
#[must_use]
pub fn faults(sketch: &Sketch, facts: &Facts<'_>) -> Vec<Diagnostic> {
    let outside = facts.system.map(|(_, system)| outside(sketch, system));
    let mut found = outside.unwrap_or_default();
    let days = &facts.shop.days;
    for work in works(facts) {
        let Some(machine) = work.machine else {
            continue;
        };
        if days.machines.get(&machine).copied().unwrap_or(0) > 0 {
            continue;
        }
        let name = machine.name();
        let message = format!("`{}` needs a {name}, and the shop has none", work.name);
        let fault = Diagnostic::error("machine-missing", message)
            .place(days.machines_at.0)
            .label("counted here")
            .hint(format!("write machines: {{{name}: 1}} for one that is bought or rented"));
        if !found.iter().any(|known| known.hint == fault.hint) {
            found.push(fault);
        }
    }
    found.extend(unlayable(facts));
    found
}

/// An error for every layer of which a batch sets before it is laid.
fn unlayable(facts: &Facts<'_>) -> Vec<Diagnostic> {
    let layers = facts.system.map_or(&[][..], |(_, system)| &system.layers);
    let units = facts.slab.units;
    let fault = |batches: Batches| {
        let fault = batches.fault?;
        let layer = layers.get(batches.layer)?;
        let message = format!(
            "a batch of {} of {} takes {} to lay; of its pot life of {} at {}, {} are for laying",
            write::pail(fault.volume_l, units),
            layer.name,
            write::span(fault.lay_s),
            write::span(fault.pot_life_s),
            write::temperature(facts.slab_c, units),
            write::span(fault.pot_life_s * LAID_WITHIN),
        );
        let (at, label, first) = if fault.asked {
            let less = write::pail(fault.layable_l, units);
            (
                layer.batch.map(|(_, at)| at),
                "mixed at once",
                format!("mix no more than {less} at once"),
            )
        } else {
            (layer.pot_life.at, "set by then", "take a product with a longer pot life".to_owned())
        };
        let hands = if facts.crew < 2 { ", lay it with another pair of hands" } else { "" };
        let hint = format!("{first}{hands}, or wait for a cooler day");
        let fault = Diagnostic::error("pot-life-exceeded", message).label(label).hint(hint);
        Some(match at {
            Some(at) => fault.place(at.0),
            None => fault,
        })
    };
    batches(facts).into_iter().filter_map(fault).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn faults_of(book: &str) -> Vec<Diagnostic> {
        let text = include_str!("../../sketches/harrow-lane-garage.yaml");
        let (sketch, _) = crate::sketch::parse(text);
        let (shop, found) = crate::shop::parse(book);
        assert_eq!(found, []);
        let (sketch, shop) = sketch.zip(shop).expect("a floor and a book");
        let floor = crate::survey::survey(sketch, shop, Vec::new()).expect("a floor");
        let facts = floor.facts();
        faults(&floor.sketch, &facts)
    }

    #[test]
    fn a_batch_that_sets_before_it_is_laid() {
        let system = |keys: &str, crew: usize| {
            format!(
                "slabwalk_shop: 1\ndays: {{crew: {crew}}}\nsystems:\n  flake:\n    layers:\n      - {{name: thick coat, coverage: 100 ft2/gal, loss: 0%, kit: 3 gal, {keys}}}\n"
            )
        };
        // Two lay 800 ft² of it in an hour, 8 gal; 5 gal take 37.5 min. Of a pot life of 30 min 24 are for
        // laying: 3.2 gal.
        for (name, keys, crew, want) in [
            (
                "the shop mixes what can be laid",
                "batch: 3 gal, pot_life: [[70 F, 30 min]]",
                2,
                None,
            ),
            ("the shop says nothing", "pot_life: [[70 F, 30 min]]", 2, None),
            (
                "too much at once",
                "batch: 5 gal, pot_life: [[70 F, 30 min]]",
                2,
                Some((
                    "a batch of 20 qt of thick coat takes 38 min to lay; of its pot life of 30 min at 66 °F, 24 min are for laying",
                    "mix no more than 12 qt 26 fl oz at once, or wait for a cooler day",
                    "batch: 5 gal",
                )),
            ),
            // One lays half of that: a quart is laid in 3 3/4 min.
            (
                "not even a quart",
                "pot_life: [[70 F, 3 min]]",
                1,
                Some((
                    "a batch of 1 qt of thick coat takes 4 min to lay; of its pot life of 3 min at 66 °F, 2 min are for laying",
                    "take a product with a longer pot life, lay it with another pair of hands, or wait for a cooler day",
                    "pot_life: [[70 F, 3 min]]",
                )),
            ),
        ] {
            let book = system(keys, crew);
            let found = faults_of(&book);
            let found = found.iter().map(|f| {
                let place = f.place.expect("a place");
                (f.message.as_str(), f.hint.as_deref().unwrap_or(""), &book[place.span.start..])
            });
            match (want, &found.collect::<Vec<_>>()[..]) {
                (None, []) => {}
                (Some((message, hint, at)), [found]) => {
                    assert_eq!((found.0, found.1), (message, hint), "{name}");
                    assert!(found.2.starts_with(at), "{name}: {}", found.2);
                }
                (_, found) => panic!("{name}: {found:?}"),
            }
        }
    }

    #[test]
    fn a_machine_that_the_shop_has_none_of() {
        let text = include_str!("../../sketches/harrow-lane-garage.yaml");
        let book = "slabwalk_shop: 1\ndays:\n  machines: {floor grinder: 0}\n";
        let (sketch, _) = crate::sketch::parse(text);
        let (shop, found) = crate::shop::parse(book);
        assert_eq!(found, []);
        let (sketch, shop) = sketch.zip(shop).expect("a floor and a book");
        let floor = crate::survey::survey(sketch, shop, Vec::new()).expect("a floor");
        let warned = floor.takeoff.findings.iter();
        let warned = warned.filter(|f| f.code == "machine-missing").count();
        assert_eq!(warned, 1);
        let facts = floor.facts();
        let [fault] = &faults(&floor.sketch, &facts)[..] else { panic!("one fault") };
        assert_eq!(fault.message, "`grind the floor` needs a floor grinder, and the shop has none");
        let place = fault.place.expect("a place");
        assert!(book[place.span.start..].starts_with("machines"), "{place:?}");
    }
}
