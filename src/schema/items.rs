//! Joints, cracks, spalls, blemishes and lippage.

use super::form::{Form, Group, Record, keys, may, must, words};
use super::place::{ONE_SHAPE, REPEAT, one_or_several, path, repeat, shapes};
use super::sketch::{ID, NOTE};
use crate::sketch::parse::limits::{
    CHASE_DEPTH, CHASE_WIDTH, COORDINATE, DEPTH, SPALL_DEPTH, STATION, STEP, WANDER, WIDTH,
};
use crate::sketch::parse::{crack, joint, lippage, spall};

pub(super) fn joint_record() -> Record {
    let coordinate = Form::Length(COORDINATE);
    let coordinates = one_or_several(COORDINATE);
    let ends = Form::Any(vec![Form::Ids, Form::List(Box::new(Form::Ids), 0)]);
    Record::new(
        "joint",
        "a joint",
        "A joint. It is placed by x, y or path.",
        keys! {
            may("id", Form::Id, ID, "J1");
            must("kind", words(&joint::KINDS), "Kind of joint.", "control");
            may("formed", words(&joint::FORMED), "How it was made. Left out: unknown.", "strip");
            may("x", coordinates.clone(), "Straight up the sheet at this x, over everything the outline encloses; a list for several alike.", "12'");
            may("y", coordinates, "Straight across the sheet at this y, over everything the outline encloses; a list for several alike.", "10'");
            may("path", path(2), "Where it runs, from its first point.", "[[0, 0], [4', 2']]");
            may("from", coordinate.clone(), "With x or y: where it begins.", "2'");
            may("to", coordinate, "With x or y: where it ends.", "18'");
            may("ends_at", ends, "What it ends at: ids or patterns of closed joints, of keep-outs, which stand for the closed joint round each, and of tiers, at whose risers it stops.", "K*");
            may("repeat", repeat(), REPEAT, "");
            may("width", Form::Length(WIDTH), "Width as found, at the top.", "1/4");
            may("depth", Form::Length(DEPTH), "Open depth as found.", "1");
            may("strip_depth", Form::Length(DEPTH), "How deep a strip left in the slab reaches.", "1 1/4");
            may("wander", Form::Length(WANDER), "Total sideways wander off the straight line.", "3/8");
            may("buried", Form::Truth, "Concrete was run over the filler; it has to be opened.", "false");
            may("treatment", words(&joint::TREATMENTS), "What is done with it. Left out: the shop book's rule for its kind.", "fill");
            may("chase", Form::Record(chase), "Size of the chase. Left out: the rule.", "");
            may("note", Form::Text, NOTE, "strip broke off in the middle third");
        },
    )
    .grouped(vec![
        Group::One(&["path", "x", "y"]),
        Group::Without("path", &["from", "to"]),
    ])
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

pub(super) fn crack_record() -> Record {
    let portion = Form::Tuple(vec![Form::Length(STATION), Form::Length(WIDTH)]);
    Record::new(
        "crack",
        "a crack",
        "A crack.",
        keys! {
            may("id", Form::Id, ID, "C1");
            must("path", path(2), "Where it runs: the start, the bends, the end.", "[[3', 0], [3' 4\", 2']]");
            may("width", Form::Length(WIDTH), "Its width.", "1/16");
            may("widths", Form::List(Box::new(portion), 1), "Its width from a station on, where it changes; begins with station 0.", "[[0, 1/16], [4', 3/16]]");
            may("step", Form::Length(STEP), "How much one side stands higher.", "0");
            may("movement", words(&crack::MOVEMENTS), "Whether it still moves. Left out: unknown.", "dormant");
            may("treatment", words(&crack::TREATMENTS), "What is done with it. Left out: the rule.", "fill");
            may("note", Form::Text, NOTE, "hairline");
        },
    )
    .grouped(vec![Group::One(&["width", "widths"])])
}

pub(super) fn spall_record() -> Record {
    let mut keys = keys! {
        may("id", Form::Id, ID, "S1");
    };
    keys.extend(shapes());
    keys.push(must("depth", Form::Length(SPALL_DEPTH), "How deep it is.", "3/8"));
    keys.push(may("repeat", repeat(), REPEAT, ""));
    keys.push(may("note", Form::Text, NOTE, "loose edge"));
    Record::new("spall", "a spall", "Missing concrete.", keys).grouped(vec![ONE_SHAPE])
}

pub(super) fn blemish() -> Record {
    let mut keys = keys! {
        may("id", Form::Id, ID, "B1");
        must("what", words(&spall::KINDS), "What it is.", "oil");
    };
    keys.extend(shapes());
    keys.extend(keys! {
        may("tested", words(&spall::RESULTS), "What a laboratory found in it. Old paint can hold lead, old adhesive asbestos; left out, nobody had it tested.", "clear");
        may("tested_on", Form::Day, "With tested: day of the laboratory's report.", "2026-09-12");
        may("note", Form::Text, NOTE, "under the truck");
    });
    Record::new("blemish", "a blemish", "An area that changes how the surface is prepared.", keys)
        .grouped(vec![ONE_SHAPE, Group::With("tested_on", &["tested"])])
}

pub(super) fn lippage_record() -> Record {
    let reading =
        Form::Tuple(vec![Form::Length(STATION), Form::OrNothing(Box::new(Form::Length(STEP)))]);
    let along = Form::Any(vec![Form::Id, path(2)]);
    Record::new(
        "lippage",
        "a lippage",
        "A line along which one side stands higher.",
        keys! {
            may("id", Form::Id, ID, "L1");
            must("along", along, "Id of a joint or crack, or a path.", "J1");
            must("high", words(&lippage::SIDES), "The high side: of the path, or of the sheet.", "left");
            may("readings", Form::List(Box::new(reading), 1), "Station and step, one after another. A step that could not be read is null, never 0.", "[[0, 1/16], [4', 3/16], [6', null]]");
            may("step", Form::Length(STEP), "One step, instead of readings.", "1/4");
            may("from", Form::Length(STATION), "With step: where it begins. Left out with to: all along.", "5'");
            may("to", Form::Length(STATION), "With step: where it ends.", "7'");
            may("note", Form::Text, NOTE, "settled panel");
        },
    )
    .grouped(vec![
        Group::One(&["readings", "step"]),
        Group::Without("readings", &["from", "to"]),
        Group::Both("from", "to"),
    ])
}
