//! The keys of prices and of what was used.

use super::percent;
use crate::keys::{Form, Group, Record, by_name, keys, list, may, must, pattern, words};
use crate::record::{JointTreatment, NOTE};
use crate::sketch::UnitKind;
use crate::sketch::parse::used::MOST;

fn amount() -> Form {
    Form::Pattern(pattern::amount(pattern::SPAN))
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
    .grouped(&[Group::Some(&["system", "mitigation", "treatments", "area"])])
}

fn kind_treatments() -> Record {
    let key = |name, about| may(name, words(JointTreatment::WORDS), about, "fill");
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
