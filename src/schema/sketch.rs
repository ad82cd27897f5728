//! The keys of a sketch, in their canonical order.

use super::form::{Form, Group, Record, list, may, must, words};
use super::pattern;
use super::place::{ONE_SHAPE, path, point, shapes};
use crate::quantity::Units;
use crate::sketch::parse::limits::{
    CHASE_DEPTH, CHASE_WIDTH, COORDINATE, COVER, DEPTH, FACE_HEIGHT, LEVEL, SIZE, SPALL_DEPTH,
    STATION, STEP, THICKNESS, WANDER, WIDTH,
};
use crate::sketch::parse::{coating, conditions, crack, joint, lippage, slab as slab_words, spall};

/// Words for the units of a file.
pub(super) const UNITS: [(&str, Units); 2] = [("us", Units::Us), ("metric", Units::Metric)];
const ID: &str = "How the item is called on the map and on the floor. Left out: the next free number of its letter.";
const NOTE: &str = "Anything worth knowing.";

/// The whole sketch.
pub(crate) fn root() -> Record {
    Record::new(
        "sketch",
        "a sketch",
        "One floor.",
        vec![
            must("slabwalk", Form::Version, "Version of this format.", "1"),
            must(
                "job",
                Form::Record(job),
                "Names and dates for the title block.",
                "",
            ),
            may(
                "units",
                words(&UNITS),
                "What numbers without a unit mean: us, feet on the plan and inches for what is small; metric, meters and millimeters.",
                "us",
            ),
            may(
                "shop",
                Form::Text,
                "File with the standing data of this shop, from the folder of the sketch. Left out: the built-in book.",
                "shop.yaml",
            ),
            must("slab", Form::Record(slab), "The slab itself.", ""),
            may("joints", list(joint_record), "Joints.", ""),
            may("cracks", list(crack_record), "Cracks.", ""),
            may(
                "spalls",
                list(spall_record),
                "Missing concrete: pop-outs, pits, broken edges.",
                "",
            ),
            may(
                "blemishes",
                list(blemish),
                "Areas that change how the surface is prepared.",
                "",
            ),
            may(
                "lippage",
                list(lippage_record),
                "Lines along which one side stands higher.",
                "",
            ),
            may(
                "levels",
                Form::List(Box::new(level()), 0),
                "Spot heights, and rows of them.",
                "",
            ),
            may(
                "tests",
                Form::Record(tests),
                "Moisture, hardness, air and slab.",
                "",
            ),
            may(
                "coating",
                Form::Record(coating_record),
                "The coating job.",
                "",
            ),
            may(
                "photos",
                list(photo),
                "Photographs that belong to items.",
                "",
            ),
        ],
    )
}

fn job() -> Record {
    Record::new(
        "job",
        "the job",
        "Names and dates for the title block.",
        vec![
            must(
                "name",
                Form::Text,
                "What the job is called.",
                "Harrow Lane workshop",
            ),
            may("client", Form::Text, "Who it is for.", "A. Sample"),
            may("site", Form::Text, "Address or place.", "14 Harrow Lane"),
            may("surveyed", Form::Day, "Day of the survey.", "2026-09-14"),
            may("surveyor", Form::Text, "Who taped it.", "M. Example"),
            may("number", Form::Text, "The shop's own job number.", "26-041"),
            may(
                "revision",
                Form::Text,
                "Revision of the sketch, for the title block.",
                "B",
            ),
            may(
                "accessible_route",
                Form::Truth,
                "Whether the floor is part of an accessible route (ADA/ABA section 303).",
                "false",
            ),
            may("notes", Form::Text, NOTE, "Key under the mat."),
        ],
    )
}

fn slab() -> Record {
    let outline = Form::Any(vec![path(3), Form::Record(walk)]);
    Record::new(
        "slab",
        "the slab",
        "The slab itself.",
        vec![
            may(
                "thickness",
                Form::Length(THICKNESS),
                "Its thickness.",
                "4\"",
            ),
            may(
                "post_tension",
                words(&slab_words::POST_TENSION),
                "Whether it is post-tensioned. A cut tendon can kill; left out, nobody knows.",
                "none",
            ),
            may("embedded", list(embedded), "Services cast into it.", ""),
            must(
                "outline",
                outline,
                "A list of corners, or a walk. Keep the floor on your left.",
                "",
            ),
            may(
                "checks",
                list(check),
                "Taped diagonals between numbered corners.",
                "",
            ),
            may(
                "openings",
                list(opening),
                "Doorways: wall lines with no wall on them.",
                "",
            ),
            may(
                "keep_outs",
                list(keep_out),
                "Slab that is not there, or has something standing on it.",
                "",
            ),
        ],
    )
}

fn walk() -> Record {
    let coordinate = Form::Length(COORDINATE);
    let run = Form::Pattern(pattern::run());
    Record::new(
        "walk",
        "a walk",
        "Walls taped one after another.",
        vec![
            may(
                "start",
                Form::Tuple(vec![coordinate.clone(), coordinate]),
                "Where the walk begins. Left out: [0, 0].",
                "[0, 0]",
            ),
            must(
                "walk",
                Form::List(Box::new(run), 3),
                "Runs: a direction on the sheet and a length. The last may be close.",
                "[E 24', N 20', W 24', S 20']",
            ),
        ],
    )
}

fn embedded() -> Record {
    Record::new(
        "embedded",
        "an embedded service",
        "Something cast into the slab.",
        vec![
            must("what", Form::Text, "What it is.", "radiant tubing"),
            may("cover", Form::Length(COVER), "Concrete over it.", "2\""),
        ],
    )
}

fn check() -> Record {
    Record::new(
        "check",
        "a check",
        "A taped diagonal.",
        vec![
            must("from", Form::Count, "Number of a corner.", "1"),
            must("to", Form::Count, "Number of another corner.", "3"),
            must(
                "measured",
                Form::Length(SIZE),
                "What the tape said.",
                "32' 9\"",
            ),
        ],
    )
}

fn opening() -> Record {
    Record::new(
        "opening",
        "an opening",
        "A doorway.",
        vec![
            may("name", Form::Text, "What it is called.", "overhead door"),
            must("wall", Form::Count, "Number of the wall.", "1"),
            must(
                "from",
                Form::Length(STATION),
                "Where it begins, from the wall's first corner.",
                "4'",
            ),
            must("to", Form::Length(STATION), "Where it ends.", "20'"),
        ],
    )
}

fn keep_out() -> Record {
    let mut keys = vec![
        may("id", Form::Id, ID, "K1"),
        may("what", Form::Text, "What it is.", "floor drain"),
        may(
            "flush",
            Form::Truth,
            "Machines run over it: a drain, a cover.",
            "true",
        ),
    ];
    keys.extend(shapes());
    keys.push(may("note", Form::Text, NOTE, "bolted down"));
    Record::new(
        "keep_out",
        "a keep-out",
        "Slab that is not there, or is built over.",
        keys,
    )
    .grouped(vec![ONE_SHAPE])
}

fn joint_record() -> Record {
    let coordinate = Form::Length(COORDINATE);
    Record::new(
        "joint",
        "a joint",
        "A joint. It is placed by x, y or path.",
        vec![
            may("id", Form::Id, ID, "J1"),
            must("kind", words(&joint::KINDS), "Kind of joint.", "control"),
            may(
                "formed",
                words(&joint::FORMED),
                "How it was made. Left out: unknown.",
                "strip",
            ),
            may(
                "x",
                coordinate.clone(),
                "Straight up the sheet at this x, over everything the outline encloses.",
                "12'",
            ),
            may(
                "y",
                coordinate.clone(),
                "Straight across the sheet at this y, over everything the outline encloses.",
                "10'",
            ),
            may(
                "path",
                path(2),
                "Where it runs, from its first point.",
                "[[0, 0], [4', 2']]",
            ),
            may(
                "from",
                coordinate.clone(),
                "With x or y: where it begins.",
                "2'",
            ),
            may("to", coordinate, "With x or y: where it ends.", "18'"),
            may(
                "width",
                Form::Length(WIDTH),
                "Width as found, at the top.",
                "1/4",
            ),
            may("depth", Form::Length(DEPTH), "Open depth as found.", "1"),
            may(
                "strip_depth",
                Form::Length(DEPTH),
                "How deep a strip left in the slab reaches.",
                "1 1/4",
            ),
            may(
                "wander",
                Form::Length(WANDER),
                "Total sideways wander off the straight line.",
                "3/8",
            ),
            may(
                "buried",
                Form::Truth,
                "Concrete was run over the filler; it has to be opened.",
                "false",
            ),
            may(
                "treatment",
                words(&joint::TREATMENTS),
                "What is done with it. Left out: the shop book's rule for its kind.",
                "fill",
            ),
            may(
                "chase",
                Form::Record(chase),
                "Size of the chase. Left out: the rule.",
                "",
            ),
            may(
                "note",
                Form::Text,
                NOTE,
                "strip broke off in the middle third",
            ),
        ],
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
        vec![
            may("width", Form::Length(CHASE_WIDTH), "Its width.", "3/8"),
            may("depth", Form::Length(CHASE_DEPTH), "Its depth.", "1 1/2"),
        ],
    )
}

fn crack_record() -> Record {
    let portion = Form::Tuple(vec![Form::Length(STATION), Form::Length(WIDTH)]);
    Record::new(
        "crack",
        "a crack",
        "A crack.",
        vec![
            may("id", Form::Id, ID, "C1"),
            must(
                "path",
                path(2),
                "Where it runs: the start, the bends, the end.",
                "[[3', 0], [3' 4\", 2']]",
            ),
            may("width", Form::Length(WIDTH), "Its width.", "1/16"),
            may(
                "widths",
                Form::List(Box::new(portion), 1),
                "Its width from a station on, where it changes; begins with station 0.",
                "[[0, 1/16], [4', 3/16]]",
            ),
            may(
                "step",
                Form::Length(STEP),
                "How much one side stands higher.",
                "0",
            ),
            may(
                "movement",
                words(&crack::MOVEMENTS),
                "Whether it still moves. Left out: unknown.",
                "dormant",
            ),
            may(
                "treatment",
                words(&crack::TREATMENTS),
                "What is done with it. Left out: the rule.",
                "fill",
            ),
            may("note", Form::Text, NOTE, "hairline"),
        ],
    )
    .grouped(vec![Group::One(&["width", "widths"])])
}

fn spall_record() -> Record {
    let mut keys = vec![may("id", Form::Id, ID, "S1")];
    keys.extend(shapes());
    keys.push(must(
        "depth",
        Form::Length(SPALL_DEPTH),
        "How deep it is.",
        "3/8",
    ));
    keys.push(may("note", Form::Text, NOTE, "loose edge"));
    Record::new("spall", "a spall", "Missing concrete.", keys).grouped(vec![ONE_SHAPE])
}

fn blemish() -> Record {
    let mut keys = vec![
        may("id", Form::Id, ID, "B1"),
        must("what", words(&spall::KINDS), "What it is.", "oil"),
    ];
    keys.extend(shapes());
    keys.push(may("note", Form::Text, NOTE, "under the truck"));
    Record::new(
        "blemish",
        "a blemish",
        "An area that changes how the surface is prepared.",
        keys,
    )
    .grouped(vec![ONE_SHAPE])
}

fn lippage_record() -> Record {
    let reading = Form::Tuple(vec![
        Form::Length(STATION),
        Form::OrNothing(Box::new(Form::Length(STEP))),
    ]);
    let along = Form::Any(vec![Form::Id, path(2)]);
    Record::new(
        "lippage",
        "a lippage",
        "A line along which one side stands higher.",
        vec![
            may("id", Form::Id, ID, "L1"),
            must("along", along, "Id of a joint or crack, or a path.", "J1"),
            must("high", words(&lippage::SIDES), "The high side: of the path, or of the sheet.", "left"),
            may("readings", Form::List(Box::new(reading), 1), "Station and step, one after another. A step that could not be read is null, never 0.", "[[0, 1/16], [4', 3/16], [6', null]]"),
            may("step", Form::Length(STEP), "One step, instead of readings.", "1/4"),
            may("from", Form::Length(STATION), "With step: where it begins. Left out with to: all along.", "5'"),
            may("to", Form::Length(STATION), "With step: where it ends.", "7'"),
            may("note", Form::Text, NOTE, "settled panel"),
        ],
    )
    .grouped(vec![
        Group::One(&["readings", "step"]),
        Group::Without("readings", &["from", "to"]),
        Group::Both("from", "to"),
    ])
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
        vec![
            must("at", point(), "Where.", "[24', 0]"),
            must(
                "height",
                Form::Length(LEVEL),
                "Height over the first spot of the survey.",
                "-1/2\"",
            ),
        ],
    )
}

fn level_row() -> Record {
    let heights = Form::List(Box::new(Form::Length(LEVEL)), 2);
    Record::new(
        "level_row",
        "a row of levels",
        "Heights in a row at 12 in (300 mm), as in ASTM E1155.",
        vec![
            must("from", point(), "First point of the row.", "[0, 0]"),
            must(
                "to",
                point(),
                "A point that the row runs toward.",
                "[24', 0]",
            ),
            must(
                "heights",
                heights,
                "Heights, one every 12 in (300 mm).",
                "[0, 1/8, 1/16]",
            ),
        ],
    )
}

fn tests() -> Record {
    Record::new(
        "tests",
        "the tests",
        "Moisture, hardness, air and slab.",
        vec![
            may("moisture", list(moisture), "Moisture tests.", ""),
            may("hardness", list(hardness), "Scratch tests.", ""),
            may("air", Form::Record(air), "The air at the survey.", ""),
            may(
                "slab_temperature",
                temperature(),
                "Temperature of the slab at the survey.",
                "66 F",
            ),
            may(
                "forecast",
                list(forecast),
                "Air and slab for the days of the work.",
                "",
            ),
        ],
    )
}

pub(super) fn temperature() -> Form {
    Form::Pattern(pattern::signed(pattern::TEMPERATURE))
}

pub(super) fn percent() -> Form {
    Form::Pattern(pattern::amount("%"))
}

fn moisture() -> Record {
    Record::new(
        "moisture_test",
        "a moisture test",
        "A moisture test.",
        vec![
            may("id", Form::Id, ID, "M1"),
            must("at", point(), "Where.", "[6', 6']"),
            may(
                "rh",
                percent(),
                "Relative humidity in the slab (ASTM F2170).",
                "72%",
            ),
            may(
                "mver",
                Form::Number(0.0, conditions::MOST_MVER),
                "Vapor emission, lb per 1000 ft2 in 24 h (ASTM F1869).",
                "2.5",
            ),
        ],
    )
    .grouped(vec![Group::Some(&["rh", "mver"])])
}

fn hardness() -> Record {
    Record::new(
        "hardness_test",
        "a hardness test",
        "A scratch test.",
        vec![
            must("at", point(), "Where.", "[6', 6']"),
            must(
                "mohs",
                Form::Number(conditions::MOHS.0, conditions::MOHS.1),
                "Mohs hardness.",
                "5",
            ),
        ],
    )
}

fn air() -> Record {
    Record::new(
        "air",
        "the air",
        "The air at the survey.",
        vec![
            may("temperature", temperature(), "Its temperature.", "71 F"),
            may("humidity", percent(), "Its relative humidity.", "48%"),
        ],
    )
}

fn forecast() -> Record {
    Record::new(
        "forecast",
        "a day of the forecast",
        "Air and slab of one day.",
        vec![
            must("day", Form::Day, "The day.", "2026-09-21"),
            must("air", temperature(), "Temperature of the air.", "70 F"),
            must(
                "humidity",
                percent(),
                "Relative humidity of the air.",
                "50%",
            ),
            must("slab", temperature(), "Temperature of the slab.", "66 F"),
        ],
    )
}

fn coating_record() -> Record {
    let sides: Vec<&str> = coating::SIDES.iter().map(|(word, _)| *word).collect();
    let pour = format!("^(?:{}|(?:wall *)?[1-9][0-9]*)$", sides.join("|"));
    Record::new(
        "coating",
        "the coating",
        "The coating job.",
        vec![
            may(
                "system",
                Form::Text,
                "Name of a system in the shop book.",
                "flake",
            ),
            may(
                "uncoated",
                list(uncoated),
                "Parts of the slab outside the job.",
                "",
            ),
            may(
                "faces",
                list(face),
                "Vertical faces that are coated too.",
                "",
            ),
            may(
                "pour_from",
                Form::Pattern(pour),
                "Side of the sheet, or wall, from which the mixed material is poured out and pulled.",
                "N",
            ),
            may("start", Form::Day, "First day of the work.", "2026-09-21"),
            may(
                "site",
                words(&coating::SITES),
                "Where the work is done. Left out: indoors, the stricter case.",
                "indoors",
            ),
        ],
    )
}

fn uncoated() -> Record {
    let mut keys = vec![
        may("id", Form::Id, ID, "U1"),
        may(
            "what",
            Form::Text,
            "What it is.",
            "sill strip outside the door",
        ),
    ];
    keys.extend(shapes());
    Record::new(
        "uncoated",
        "an uncoated part",
        "Slab outside the job.",
        keys,
    )
    .grouped(vec![ONE_SHAPE])
}

fn face() -> Record {
    Record::new(
        "face",
        "a face",
        "A vertical face that is coated too.",
        vec![
            may("name", Form::Text, "What it is called.", "curb"),
            must(
                "path",
                path(2),
                "Its foot on the floor.",
                "[[0, 22'], [8', 22']]",
            ),
            must("height", Form::Length(FACE_HEIGHT), "Its height.", "6\""),
        ],
    )
}

fn photo() -> Record {
    Record::new(
        "photo",
        "a photo",
        "A photograph of an item.",
        vec![
            must("item", Form::Id, "Id of the item.", "J1"),
            must(
                "file",
                Form::Text,
                "The file, from the folder of the sketch.",
                "photos/crack-by-door.jpg",
            ),
            may("note", Form::Text, NOTE, "runs under the door"),
        ],
    )
}
