//! The keys of a sketch, in their canonical order.

mod items;
mod money;
mod place;

use std::sync::LazyLock;

use self::items::listed;
use self::money::{price, used};
use self::place::{path, point};
use crate::form::Belongs;
use crate::keys::{Form, Group, Homes, Record, keys, list, may, must, pattern, words};
use crate::quantity::Units;
use crate::record::limits::{
    COORDINATE, COVE, COVER, FACE_HEIGHT, LEVEL, SIZE, STATION, THICKNESS,
};
use crate::record::{Compass, Kind, NOTE};
use crate::sketch::parse::{coating, conditions, slab as slab_words};

/// Words for the units of a file.
pub(crate) const UNITS: [(&str, Units); 2] = [("us", Units::Us), ("metric", Units::Metric)];

/// Where a key belongs that stands in the record `what` and is none of its keys.
pub(crate) fn belongs(key: &str, what: &str) -> Option<Belongs> {
    static HOMES: LazyLock<Homes> = LazyLock::new(|| Homes::below(&root()));
    HOMES.belongs(key, what)
}

/// The whole sketch.
pub(crate) fn root() -> Record {
    Record::new(
        "sketch",
        "a sketch",
        "One floor.",
        keys! {
            must("slabwalk", Form::Version, "Version of this format.", "1");
            must("job", Form::Record(job), "Names and dates for the title block.", "");
            may("units", words(&UNITS), "What numbers without a unit mean: us, feet on the plan and inches for what is small; metric, meters and millimeters.", "us");
            may("shop", Form::Text, "File with the standing data of this shop, from the folder of the sketch. Left out: the built-in book.", "shop.yaml");
            must("slab", Form::Record(slab), "The slab itself.", "");
            listed(Kind::Joint);
            listed(Kind::Crack);
            listed(Kind::Spall);
            listed(Kind::Delamination);
            listed(Kind::Blemish);
            listed(Kind::Lippage);
            may("levels", Form::List(Box::new(level()), 0), "Spot heights, and rows of them.", "");
            may("tests", Form::Record(tests), "Moisture, hardness, air and slab.", "");
            may("coating", Form::Record(coating_record), "The coating job.", "");
            may("photos", list(photo), "Photographs that belong to items.", "");
            may("price", Form::Record(price), "What the price of this job needs to know.", "");
            may("used", Form::Record(used), "What the job really took.", "");
        },
    )
}

fn job() -> Record {
    Record::new(
        "job",
        "the job",
        "Names and dates for the title block.",
        keys! {
            must("name", Form::Text, "What the job is called.", "Harrow Lane workshop");
            may("client", Form::Text, "Who it is for.", "A. Sample");
            may("site", Form::Text, "Address or place.", "14 Harrow Lane");
            may("surveyed", Form::Day, "Day of the survey.", "2026-09-14");
            may("surveyor", Form::Text, "Who taped it.", "M. Example");
            may("number", Form::Text, "The shop's own job number.", "26-041");
            may("revision", Form::Text, "Revision of the sketch, for the title block.", "B");
            may("accessible_route", Form::Truth, "Whether the floor is part of an accessible route (ADA/ABA section 303).", "false");
            may("notes", Form::Text, NOTE, "Key under the mat.");
        },
    )
}

fn slab() -> Record {
    let outline = Form::Any(vec![path(3), Form::Record(walk)]);
    Record::new(
        "slab",
        "the slab",
        "The slab itself.",
        keys! {
            may("thickness", Form::Length(THICKNESS), "Its thickness.", "4\"");
            may("placed", Form::Day, "Day the concrete was placed; fillers and coatings want a least age.", "2026-05-04");
            may("post_tension", words(&slab_words::POST_TENSION), "Whether it is post-tensioned. A cut tendon can kill; left out, nobody knows.", "none");
            may("embedded", list(embedded), "Services cast into it.", "");
            must("outline", outline, "A list of corners, or a walk. Keep the floor on your left.", "");
            may("checks", list(check), "Taped diagonals between numbered corners.", "");
            may("openings", list(opening), "Doorways: wall lines with no wall on them.", "");
            listed(Kind::KeepOut);
            listed(Kind::Tier);
        },
    )
}

fn walk() -> Record {
    let coordinate = Form::Length(COORDINATE);
    let run = Form::Pattern(pattern::run());
    Record::new(
        "walk",
        "a walk",
        "Walls taped one after another.",
        keys! {
            may("start", Form::Tuple(vec![coordinate.clone(), coordinate]), "Where the walk begins. Left out: [0, 0].", "[0, 0]");
            must("walk", Form::List(Box::new(run), 3), "Runs: a direction on the sheet and a length; arcs with chord, radius and hand: arc E 12' R 8' left. The last may be close.", "[E 24', N 20', W 24', S 20']");
        },
    )
}

fn embedded() -> Record {
    Record::new(
        "embedded",
        "an embedded service",
        "Something cast into the slab.",
        keys! {
            must("what", Form::Text, "What it is.", "radiant tubing");
            may("cover", Form::Length(COVER), "Concrete over it.", "2\"");
        },
    )
}

fn check() -> Record {
    Record::new(
        "check",
        "a check",
        "A taped diagonal.",
        keys! {
            must("from", Form::Count, "Number of a corner.", "1");
            must("to", Form::Count, "Number of another corner.", "3");
            must("measured", Form::Length(SIZE), "What the tape said.", "32' 9\"");
        },
    )
}

fn opening() -> Record {
    Record::new(
        "opening",
        "an opening",
        "A doorway.",
        keys! {
            may("name", Form::Text, "What it is called.", "overhead door");
            must("wall", Form::Count, "Number of the wall.", "1");
            must("from", Form::Length(STATION), "Where it begins, from the wall's first corner.", "4'");
            must("to", Form::Length(STATION), "Where it ends.", "20'");
        },
    )
}

fn level() -> Form {
    let (xy, height) = (Form::Length(COORDINATE), Form::Length(LEVEL));
    Form::Any(vec![
        Form::Tuple(vec![xy.clone(), xy, height]),
        Form::Record(level_at),
        Form::Record(level_row),
    ])
}

fn level_at() -> Record {
    Record::new(
        "level",
        "a level",
        "A spot height.",
        keys! {
            must("at", point(), "Where.", "[24', 0]");
            must("height", Form::Length(LEVEL), "Height over the first spot of the survey.", "-1/2\"");
        },
    )
}

fn level_row() -> Record {
    let heights = Form::List(Box::new(Form::Length(LEVEL)), 2);
    Record::new(
        "level_row",
        "a row of levels",
        "Heights in a row at 12 in (300 mm), as in ASTM E1155.",
        keys! {
            must("from", point(), "First point of the row.", "[0, 0]");
            must("to", point(), "A point that the row runs toward.", "[24', 0]");
            must("heights", heights, "Heights, one every 12 in (300 mm).", "[0, 1/8, 1/16]");
        },
    )
}

fn tests() -> Record {
    Record::new(
        "tests",
        "the tests",
        "Moisture, hardness, air and slab.",
        keys! {
            listed(Kind::Moisture);
            may("hardness", list(hardness), "Scratch tests.", "");
            may("air", Form::Record(air), "The air at the survey.", "");
            may("slab_temperature", temperature(), "Temperature of the slab at the survey.", "66 F");
            may("forecast", list(forecast), "Air and slab for the days of the work.", "");
        },
    )
}

pub(crate) fn temperature() -> Form {
    Form::Pattern(pattern::signed(pattern::TEMPERATURE))
}

/// Whether there is a cove, or its radius.
pub(super) fn cove() -> Form {
    Form::Any(vec![Form::Truth, Form::Length(COVE)])
}

pub(crate) fn percent() -> Form {
    Form::Pattern(pattern::amount("%"))
}

fn hardness() -> Record {
    Record::new(
        "hardness_test",
        "a hardness test",
        "A scratch test.",
        keys! {
            must("at", point(), "Where.", "[6', 6']");
            must("mohs", Form::Number(conditions::MOHS.0, conditions::MOHS.1), "Mohs hardness.", "5");
        },
    )
}

fn air() -> Record {
    Record::new(
        "air",
        "the air",
        "The air at the survey.",
        keys! {
            may("temperature", temperature(), "Its temperature.", "71 F");
            may("humidity", percent(), "Its relative humidity.", "48%");
        },
    )
}

fn forecast() -> Record {
    Record::new(
        "forecast",
        "a day of the forecast",
        "Air and slab of one day.",
        keys! {
            must("day", Form::Day, "The day.", "2026-09-21");
            must("air", temperature(), "Temperature of the air.", "70 F");
            must("humidity", percent(), "Relative humidity of the air.", "50%");
            must("slab", temperature(), "Temperature of the slab.", "66 F");
        },
    )
}

fn coating_record() -> Record {
    let sides: Vec<&str> = Compass::WORDS.iter().map(|(word, _)| *word).collect();
    let pour = format!("^(?:{}|(?:wall *)?[1-9][0-9]*)$", sides.join("|"));
    Record::new(
        "coating",
        "the coating",
        "The coating job.",
        keys! {
            may("system", Form::Text, "Name of a system in the shop book.", "flake");
            may("color", Form::Text, "Color that the customer chose.", "slate");
            may("blend", Form::Text, "Blend of flakes or sand that the customer chose.", "river stone");
            may("flake_size", Form::Text, "Size of the flakes.", "1/4 in");
            may("sheen", words(&coating::SHEENS), "Sheen that the customer chose.", "satin");
            may("mitigation", Form::Truth, "Whether the moisture mitigation of the shop book goes below it.", "true");
            listed(Kind::Uncoated);
            may("faces", list(face), "Vertical faces that are coated too.", "");
            may("pour_from", Form::Pattern(pour), "Side of the sheet, or wall, from which the mixed material is poured out and pulled.", "N");
            may("start", Form::Day, "First day of the work.", "2026-09-21");
            may("site", words(&coating::SITES), "Where the work is done. Left out: indoors, the stricter case.", "indoors");
        },
    )
    .grouped(&[Group::With("mitigation", &["system"])])
}

fn face() -> Record {
    Record::new(
        "face",
        "a face",
        "A vertical face that is coated too.",
        keys! {
            may("name", Form::Text, "What it is called.", "curb");
            must("path", path(2), "Its foot on the floor.", "[[0, 22'], [8', 22']]");
            must("height", Form::Length(FACE_HEIGHT), "Its height.", "6\"");
            may("cove", cove(), "Whether a cove is formed at its foot; or its radius.", "1\"");
        },
    )
}

fn photo() -> Record {
    Record::new(
        "photo",
        "a photo",
        "A photograph of an item.",
        keys! {
            must("item", Form::Id, "Id of the item.", "J1");
            must("file", Form::Text, "The file, from the folder of the sketch.", "photos/crack-by-door.jpg");
            may("note", Form::Text, NOTE, "runs under the door");
            may("proposal", Form::Truth, "Whether the customer sees it in the proposal.", "true");
        },
    )
}
