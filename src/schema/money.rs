//! The keys of prices and of what was used, in a sketch and in a shop book.

use super::form::{Form, Record, keys, list, may, must, words};
use super::pattern;
use super::sketch::percent;
use crate::record::NOTE;
use crate::shop::parse::prices::ALLOWANCES;
use crate::sketch::UnitKind;
use crate::sketch::parse::price::TREATMENTS;
use crate::sketch::parse::used::MOST;

fn amount() -> Form {
    Form::Pattern(pattern::amount(pattern::SPAN))
}

/// Values by the name that the order gives a product; those of layers under the name of their system.
fn by_name(value: &Form) -> Form {
    let layers = Form::Named(Box::new(value.clone()));
    Form::Named(Box::new(Form::Any(vec![value.clone(), layers])))
}

/// The `price:` part of a sketch.
pub(super) fn price() -> Record {
    Record::new(
        "price",
        "the price",
        "What the price of this job needs to know.",
        keys! {
            may("travel", Form::Pattern(pattern::plain("(?:mi|km)")), "Distance driven on one trip, there and back.", "36 mi");
            may("trips", Form::Count, "How often it is driven. Left out: once on every day of the plan.", "3");
            may("tax", Form::Truth, "Whether tax is paid on materials.", "true");
            may("alternates", list(alternate), "Other ways to do the job, each with its price.", "");
            may("unit_prices", Form::Record(unit_prices), "Unit prices that were agreed. Those left out are computed.", "");
        },
    )
}

fn alternate() -> Record {
    Record::new(
        "alternate",
        "an alternate",
        "Another way to do the job.",
        keys! {
            must("name", Form::Text, "What the customer reads.", "quartz instead of flake");
            may("system", Form::Text, "Another system of the shop book.", "quartz");
            may("mitigation", Form::Truth, "Moisture mitigation below the system.", "true");
            may("treatments", Form::Record(kind_treatments), "Another treatment of joints, by kind.", "");
            may("area", Form::Pattern(pattern::amount("(?:ft|m)[2²]|sq ft|")), "Floor that comes on top.", "120 ft2");
        },
    )
    .grouped(&[super::form::Group::Some(&["system", "mitigation", "treatments", "area"])])
}

fn kind_treatments() -> Record {
    let key = |name, about| may(name, words(&TREATMENTS), about, "fill");
    Record::new(
        "kind_treatments",
        "the treatments",
        "What is done with joints, by kind.",
        keys! {
            key("control", "Control joints.");
            key("construction", "Construction joints.");
            key("isolation", "Isolation joints.");
        },
    )
}

fn unit_prices() -> Record {
    let keys =
        UnitKind::ALL.map(|kind| may(kind.key(), Form::Money, "Price of one unit.", "14.50"));
    Record::new(
        "unit_prices",
        "the unit prices",
        "Agreed prices of a foot (meter), a square foot (square meter), a bag or a package.",
        keys.into_iter().collect(),
    )
}

/// The `used:` part of a sketch.
pub(super) fn used() -> Record {
    let hours = Form::Any(vec![Form::Number(0.0, MOST), amount()]);
    let photos = Form::List(Box::new(Form::Text), 0);
    Record::new(
        "used",
        "the record of use",
        "What the job really took.",
        keys! {
            may("packages", by_name(&Form::Number(0.0, MOST)), "Packages, by the names of the order.", "{joint filler: 11, flake: {primer: 1}}");
            may("hours", by_name(&hours), "Worker hours, by the tasks of the plan.", "{saw joints: 1.5 h}");
            may("moisture", percent(), "Relative humidity in the slab before the first coat.", "70%");
            may("photos", photos, "Photographs of the finished floor, from the folder of the sketch.", "[photos/done.jpg]");
            may("note", Form::Text, NOTE, "the third day was too damp");
        },
    )
}

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
