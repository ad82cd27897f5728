//! Points, paths and shapes.

use crate::form::Rule;
use crate::keys::{Form, Group, Record, keys, may, must, words};
use crate::record::Hand;
use crate::record::limits::{COORDINATE, SIZE, STATION};
use crate::sketch::parse::point::TIE;

/// A point in one of its four forms.
pub(super) fn point() -> Form {
    let coordinate = Form::Length(COORDINATE);
    Form::Any(vec![
        Form::Tuple(vec![coordinate.clone(), coordinate]),
        Form::Record(on_wall),
        Form::Record(on_line),
        Form::Record(by_ties),
    ])
}

fn on_wall() -> Record {
    Record::new(
        "point_on_a_wall",
        "a point on a wall",
        "A point taped from a wall of the outline.",
        keys! {
            must("wall", Form::Count, "Number of the wall. Wall 1 runs from corner 1 to corner 2.", "3");
            must("along", Form::Length(STATION), "How far along the wall from its first corner.", "5'");
            may("out", Form::Length(STATION), "How far square into the slab. Left out: on the wall.", "2'");
        },
    )
}

fn on_line() -> Record {
    Record::new(
        "point_on_a_line",
        "a point on a line",
        "A point on a joint or crack, at a station of its path.",
        keys! {
            must("line", Form::Id, "Id of a joint or crack.", "J1");
            must("at", Form::Length(STATION), "How far along it from its first point.", "6' 4\"");
        },
    )
}

fn by_ties() -> Record {
    let tie = Form::Tuple(vec![Form::Count, Form::Length(TIE)]);
    Record::new(
        "point_by_ties",
        "a point by ties",
        "A point taped from two numbered corners.",
        keys! {
            must("ties", Form::Tuple(vec![tie.clone(), tie]), "Two of corner and distance.", "[[1, 12' 3\"], [4, 9' 2\"]]");
            must("side", words(Hand::WORDS), "Side of the line from the first corner to the second.", "left");
        },
    )
}

/// A list of vertices, at least so many.
pub(super) fn path(least: usize) -> Form {
    let vertex = Form::Any(vec![point(), Form::Record(arc)]);
    Form::List(Box::new(vertex), least)
}

fn arc() -> Record {
    Record::new(
        "vertex_of_an_arc",
        "a vertex with an arc",
        "The end of a circular arc from the vertex before.",
        keys! {
            must("to", point(), "Where the arc ends.", "[4', 2']");
            may("via", point(), "A point that the arc runs through.", "[3', 1']");
        },
    )
}

/// A rectangle.
pub(super) fn by_box() -> Form {
    Form::Record(rectangle)
}

pub(super) fn by_circle() -> Form {
    Form::Record(circle)
}

pub(super) fn strip() -> Form {
    Form::Record(band)
}

fn rectangle() -> Record {
    let size = Form::Length(SIZE);
    Record::new(
        "box",
        "a box",
        "A rectangle square to the sheet.",
        keys! {
            must("corner", point(), "Its lower left corner.", "[1', 2']");
            must("size", Form::Tuple(vec![size.clone(), size]), "To the right, and up.", "[3', 4']");
        },
    )
}

fn circle() -> Record {
    Record::new(
        "circle",
        "a circle",
        "A circle.",
        keys! {
            must("center", point(), "Its center.", "[1', 2']");
            must("diameter", Form::Length(SIZE), "Its diameter.", "8\"");
        },
    )
}

fn band() -> Record {
    Record::new(
        "band",
        "a band",
        "A strip centered on a path.",
        keys! {
            must("path", path(2), "Its center line.", "[[0, 0], [4', 0]]");
            must("width", Form::Length(SIZE), "Its whole width.", "18\"");
        },
    )
}

/// A length, or a list of them.
pub(super) fn one_or_several(rule: Rule) -> Form {
    let length = Form::Length(rule);
    Form::Any(vec![length.clone(), Form::List(Box::new(length), 1)])
}

/// Where the items of a repeated record stand.
pub(super) fn repeat() -> Form {
    Form::Any(vec![Form::Record(grid), Form::Record(row)])
}

fn row() -> Record {
    let step = Form::Length(COORDINATE);
    Record::new(
        "row_of_copies",
        "a row of copies",
        "So many alike, at equal distances.",
        keys! {
            must("count", Form::Count, "How many there are in all.", "6");
            must("by", Form::Tuple(vec![step.clone(), step]), "How far each stands from the one before: to the right, and up.", "[20', 0]");
        },
    )
}

fn grid() -> Record {
    Record::new(
        "grid_of_copies",
        "a grid of copies",
        "One alike at each of these places, by the coordinates of its own point: center of a circle, corner of a box, first point of a path.",
        keys! {
            may("x", one_or_several(COORDINATE), "Where they stand across the sheet. Left out: as written.", "[10', 20', 30']");
            may("y", one_or_several(COORDINATE), "Where they stand up the sheet. Left out: as written.", "[15', 30']");
        },
    )
    .grouped(&[Group::Some(&["x", "y"])])
}
