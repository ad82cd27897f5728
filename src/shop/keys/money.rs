//! The keys of prices and of the proposal.

use crate::keys::{Form, Record, by_name, keys, may, pattern, words};
use crate::shop::parse::prices::ALLOWANCES;

/// The `prices:` part of a shop book.
pub(super) fn prices() -> Record {
    let share = || Form::Pattern(pattern::plain("%"));
    Record::new(
        "prices",
        "the prices",
        "What things cost.",
        keys! {
            may("currency", Form::Pattern(pattern::CURRENCY.into()), "The sign before every amount.", "$");
            may("allowance", words(&ALLOWANCES), "Which count of packages is priced.", "half");
            may("labor", Form::Money, "One worker hour, with everything that a worker costs.", "50.00");
            may("goods", by_name(&Form::Money), "One package each, by the names of the order; layers under their system.", "{joint filler: 25.00, flake: {primer: 150.00}}");
            may("equipment", Form::Named(Box::new(Form::Record(machine))), "Machines by name.", "");
            may("travel", Form::Record(travel), "Driving to the job.", "");
            may("disposal", Form::Money, "One bag of dust, carried off.", "10.00");
            may("mobilization", Form::Money, "Once a job, whatever its size.", "75.00");
            may("contingency", share(), "For what nobody saw, a share of the direct cost.", "5%");
            may("overhead", share(), "Overhead, a share of the direct cost.", "10%");
            may("margin", share(), "Margin, a share of the price.", "30%");
            may("unit_margin", share(), "Margin of unit prices for concealed work.", "35%");
            may("not_to_exceed", share(), "The most for concealed work of which nothing was estimated, a share of the price.", "10%");
            may("warranty", share(), "Put aside for work done over, a share of the price.", "2%");
            may("card_fee", share(), "Lost where the customer pays by card, a share of the price.", "3%");
            may("minimum", Form::Money, "Least charge for a job.", "500.00");
            may("round", Form::Money, "What the customer sees is a multiple of this; 0: to the cent.", "5.00");
            may("tax", share(), "Tax on materials, before the margin.", "5%");
        },
    )
}

fn machine() -> Record {
    let names = crate::trade::Kind::ALL.map(crate::trade::Kind::name);
    let tasks = Form::List(Box::new(Form::Words(names.to_vec())), 0);
    Record::new(
        "machine",
        "a machine",
        "A machine that is paid by the day.",
        keys! {
            may("day", Form::Money, "One day of it.", "100.00");
            may("tasks", tasks, "Works of the plan that it is there for.", "[grind the floor]");
        },
    )
}

fn travel() -> Record {
    Record::new(
        "travel",
        "the travel",
        "Driving to the job.",
        keys! {
            may("distance", Form::Pattern(pattern::price_per("mi|km")), "Price of a mile or a kilometer.", "0.50/mi");
            may("trip", Form::Money, "Price of a trip, whatever its length.", "20.00");
            may("speed", Form::Pattern(pattern::plain("(?:mi|km) */ *h")), "How fast it goes; on the way the crew is paid.", "30 mi/h");
        },
    )
}

/// The `proposal:` part of a shop book.
pub(super) fn proposal() -> Record {
    use crate::shop::parse::proposal::{MORE_TEXTS, TEXTS};
    let texts = TEXTS.into_iter().chain(MORE_TEXTS);
    let text = |name| {
        may(
            name,
            Form::Text,
            "A text of the proposal; values stand between braces: {client}.",
            "For {client}.",
        )
    };
    let mut keys: Vec<_> = texts.map(text).collect();
    keys.push(may("valid_days", Form::Count, "How long the price holds, days.", "30"));
    keys.push(may(
        "logo",
        Form::Text,
        "The shop's logo for the head of its papers: a PNG or SVG file, named from the shop book's folder.",
        "logo.svg",
    ));
    let layers = Form::Named(Box::new(Form::Text));
    keys.push(may(
        "layers",
        layers,
        "What a layer does, by its name.",
        "{primer: bonds the coating}",
    ));
    Record::new("proposal", "the proposal", "The words of the paper that a customer signs.", keys)
}
