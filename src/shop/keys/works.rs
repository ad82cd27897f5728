//! The keys of the working day: crew, machines, waits, and the numbers of every kind of work.

use crate::form::{Rule, Sign};
use crate::keys::{Form, Key, Record, keys, may, pattern, words};
use crate::shop::parse::days::HOLIDAYS;
use crate::shop::parse::wear::FOOT;
use crate::sketch::keys::{percent, temperature};
use crate::trade::{Kind, Machine, Unit, Wait, row};

const WHEEL: Rule = Rule::small("the wheel", Sign::Positive, FOOT);
/// Most machines of one kind.
const MOST_MACHINES: f64 = 100.0;

fn span() -> Form {
    Form::Pattern(pattern::amount(pattern::SPAN))
}

fn part(name: &'static str, record: fn() -> Record, about: &'static str) -> Key {
    may(name, Form::Record(record), about, "")
}

/// The `days:` part of a shop book.
pub(super) fn days() -> Record {
    let dates = || Form::List(Box::new(Form::Day), 0);
    let holidays = Form::Any(vec![words(&HOLIDAYS), dates()]);
    Record::new(
        "days",
        "the days",
        "The working day, the crew and how fast it works.",
        keys! {
            may("hours", span(), "How long the crew works, lunch not counted.", "8 h");
            may("starts", span(), "When it begins, from midnight.", "8 h");
            may("lunch", span(), "Break in the middle of the day.", "30 min");
            may("overtime", span(), "Work that would spill over by no more is finished.", "30 min");
            may("crew", Form::Count, "How many people.", "2");
            may("weekends", Form::Truth, "Whether it works on weekends.", "false");
            may("holidays", holidays, "`us` for the federal holidays, or a list of days.", "us");
            may("off", dates(), "Further days on which nobody works.", "[2026-12-24]");
            may("wheel", Form::Length(WHEEL), "Wheel of the hand grinder.", "7\"");
            part("machines", machines, "How many machines of a kind the shop has.");
            part("waits", waits, "What sets, cures and dries, by slab temperature.");
            part("works", works, "How long works take.");
        },
    )
}

fn machines() -> Record {
    let keys = Machine::ALL.map(|machine| {
        let form = Form::Number(0.0, MOST_MACHINES);
        may(machine.name(), form, "How many the shop has.", "1")
    });
    Record::new(
        "machines",
        "the machines",
        "How many machines of a kind the shop has.",
        keys.into_iter().collect(),
    )
}

fn waits() -> Record {
    let row = Form::Any(vec![
        Form::Tuple(vec![temperature(), span()]),
        Form::Tuple(vec![temperature(), span(), span()]),
    ]);
    let keys = Wait::all().map(|wait| {
        let table = Form::List(Box::new(row.clone()), 1);
        may(
            wait.key(),
            table,
            "Slab temperature, first time, last time where there is one.",
            "[[70 F, 20 min]]",
        )
    });
    Record::new(
        "waits",
        "the waits",
        "What sets, cures and dries, by slab temperature.",
        keys.collect(),
    )
}

fn works() -> Record {
    let keys = Kind::all()
        .zip(ROWS)
        .filter(|(kind, _)| kind.has_numbers())
        .map(|(kind, record)| part(kind.name(), record, "How long it takes."));
    Record::new("works", "the works", "How long works take.", keys.collect())
}

fn of_kind<const PLACE: usize>() -> Record {
    let kind = Kind::ALL[PLACE];
    let keys = row(kind).keys.iter().map(|(key, unit)| {
        let (form, example) = match unit {
            Unit::Time => (span(), "15 min"),
            Unit::Length => (per_hour("ft|m"), "40 ft/h"),
            Unit::Area => (per_hour("ft2|m2"), "250 ft2/h"),
            Unit::Volume => (per_hour(pattern::VOLUME), "9 L/h"),
            Unit::Share => (percent(), "10%"),
            Unit::Count => (Form::Count, "2"),
        };
        may(key.word(), form, key.about(), example)
    });
    Record::new(kind.name(), kind.name(), "How long this work takes.", keys.collect())
}

fn per_hour(units: &str) -> Form {
    Form::Pattern(pattern::amount(&format!("(?:{units}) *\\/h")))
}

/// A record for every kind of work, in the order of [`Kind::ALL`].
const ROWS: [fn() -> Record; Kind::ALL.len()] = [
    of_kind::<0>,
    of_kind::<1>,
    of_kind::<2>,
    of_kind::<3>,
    of_kind::<4>,
    of_kind::<5>,
    of_kind::<6>,
    of_kind::<7>,
    of_kind::<8>,
    of_kind::<9>,
    of_kind::<10>,
    of_kind::<11>,
    of_kind::<12>,
    of_kind::<13>,
    of_kind::<14>,
    of_kind::<15>,
    of_kind::<16>,
    of_kind::<17>,
    of_kind::<18>,
    of_kind::<19>,
    of_kind::<20>,
    of_kind::<21>,
    of_kind::<22>,
    of_kind::<23>,
    of_kind::<24>,
    of_kind::<25>,
    of_kind::<26>,
    of_kind::<27>,
];
