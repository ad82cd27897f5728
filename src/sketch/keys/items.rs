//! The kinds of items, from their descriptions.

use super::place::{by_box, by_circle, one_or_several, path, point, repeat, strip};
use super::{cove, percent};
use crate::keys::{Form, Key, Record, keys, list, may};
use crate::record::limits::{CHASE_DEPTH, CHASE_WIDTH, CRACK_WIDTH, STATION, STEP};
use crate::record::{self, Kind, Takes};

pub(super) fn listed(kind: Kind) -> Key {
    let record: fn() -> Record = match kind {
        Kind::Joint => || record(Kind::Joint),
        Kind::Crack => || record(Kind::Crack),
        Kind::Spall => || record(Kind::Spall),
        Kind::Delamination => || record(Kind::Delamination),
        Kind::Blemish => || record(Kind::Blemish),
        Kind::Lippage => || record(Kind::Lippage),
        Kind::KeepOut => || record(Kind::KeepOut),
        Kind::Uncoated => || record(Kind::Uncoated),
        Kind::Moisture => || record(Kind::Moisture),
        Kind::Tier => || record(Kind::Tier),
    };
    may(kind.key(), list(record), kind.described().listed, "")
}

fn record(kind: Kind) -> Record {
    let said = kind.described();
    let keys = said.keys.iter().map(key).collect();
    Record::new(said.define, said.a, said.about, keys).grouped(said.groups)
}

fn key(key: &record::Key) -> Key {
    let &record::Key { name, need, about, example, .. } = key;
    Key { need, ..may(name, form(key.takes), about, example) }
}

fn form(takes: Takes) -> Form {
    match takes {
        Takes::Id => Form::Id,
        Takes::Text => Form::Text,
        Takes::Day => Form::Day,
        Takes::Truth => Form::Truth,
        Takes::Length(rule) => Form::Length(rule),
        Takes::Lengths(rule) => one_or_several(rule),
        Takes::Percent => percent(),
        Takes::Number(least, most) => Form::Number(least, most),
        Takes::Words(choices) => Form::Words(choices.iter().map(|(word, _)| *word).collect()),
        Takes::Point => point(),
        Takes::Path => path(2),
        Takes::Box => by_box(),
        Takes::Circle => by_circle(),
        Takes::Corners => path(3),
        Takes::Strip => strip(),
        Takes::Repeat => repeat(),
        Takes::Ends => Form::Any(vec![Form::Ids, Form::List(Box::new(Form::Ids), 0)]),
        Takes::Chase => Form::Record(chase),
        Takes::Widths => portions(Form::Length(CRACK_WIDTH)),
        Takes::Along => Form::Any(vec![Form::Id, path(2)]),
        Takes::Readings => portions(Form::OrNothing(Box::new(Form::Length(STEP)))),
        Takes::Cove => cove(),
    }
}

/// Values by their stations.
fn portions(value: Form) -> Form {
    Form::List(Box::new(Form::Tuple(vec![Form::Length(STATION), value])), 1)
}

fn chase() -> Record {
    Record::new(
        "chase",
        "a chase",
        "Size of a chase.",
        keys! {
            may("width", Form::Length(CHASE_WIDTH), "Its width.", "3/8");
            may("depth", Form::Length(CHASE_DEPTH), "Its depth.", "1 1/2");
        },
    )
}
