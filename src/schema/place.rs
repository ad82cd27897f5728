//! Points, paths and shapes.

use super::form::{Form, Group, Key, Record, keys, may, must, words};
use crate::form::Rule;
use crate::sketch::parse::limits::{COORDINATE, SIZE, STATION};
use crate::sketch::parse::point::{SIDES, TIE};
use crate::sketch::parse::shape::SHAPES;

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
            must("side", words(&SIDES), "Side of the line from the first corner to the second.", "left");
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

/// The keys of the shapes, for a record that has exactly one of them.
pub(super) fn shapes() -> [Key; 4] {
    [
        may("box", Form::Record(rectangle), "A rectangle square to the sheet.", ""),
        may("circle", Form::Record(circle), "A circle.", ""),
        may(
            "polygon",
            path(3),
            "Corners of an area, closed by itself.",
            "[[1', 1'], [4', 1'], [4', 3']]",
        ),
        may("band", Form::Record(band), "A strip centered on a path, with square ends.", ""),
    ]
}

/// Exactly one shape.
pub(super) const ONE_SHAPE: Group = Group::One(&SHAPES);

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

/// What `repeat` says.
pub(super) const REPEAT: &str = "Several alike: a row of so many at equal distances, or one at each of these x and y. Their ids end in .1, .2 and so on.";

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
    .grouped(vec![Group::Some(&["x", "y"])])
}
