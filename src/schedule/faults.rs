//! What keeps a floor from being planned.

use super::window::outside;
use crate::diagnostic::Diagnostic;
use crate::sketch::Sketch;
use crate::work::{Facts, works};

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
            .hint(format!(
                "write machines: {{{name}: 1}} for one that is bought or rented"
            ));
        if !found.iter().any(|known| known.hint == fault.hint) {
            found.push(fault);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

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
        let facts = Facts::new(&floor.sketch, &floor.slab, &floor.takeoff, &floor.shop);
        let [fault] = &faults(&floor.sketch, &facts)[..] else {
            panic!("one fault")
        };
        assert_eq!(
            fault.message,
            "`grind the floor` needs a floor grinder, and the shop has none"
        );
        let place = fault.place.expect("a place");
        assert!(
            book[place.span.start..].starts_with("machines"),
            "{place:?}"
        );
    }
}
