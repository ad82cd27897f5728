//! What can be recorded from the page: one table, from which the page makes its forms and the
//! program its records.

use serde::Serialize;

/// How a record is placed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Way {
    /// One point.
    Point,
    /// Two points or more, one after another.
    Run,
    /// One point of a line that runs right across, up the sheet.
    AcrossUp,
    /// One point of a line that runs right across, from left to right.
    AcrossLevel,
    /// The middle of something round.
    Round,
    /// Two opposite corners.
    Box,
    /// Three corners or more.
    Corners,
    /// A strip along two points or more.
    Strip,
    /// Two stations or more of one joint or crack.
    Stations,
    /// Two points of one wall.
    OnWall,
    /// No place of its own.
    Nowhere,
}

/// What a field takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Takes {
    /// A length on the plan: feet and inches, meters.
    Long,
    /// A width, depth or step: inches and fractions, millimeters.
    Small,
    /// A height, which may be below zero.
    Height,
    /// A percentage.
    Percent,
    /// A number.
    Number,
    /// One of a few words.
    Choice,
    /// Words.
    Text,
    /// A step for every point that was tapped.
    Steps,
    /// A day, year-month-day.
    Day,
    /// A temperature.
    Temperature,
}

/// A field of a form.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Field {
    /// Its key in the sketch; of how several alike stand, its name between page and program.
    pub key: &'static str,
    /// What the page calls it.
    pub label: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// Must be filled in.
    pub needed: bool,
    /// Words to choose from, each with what the page calls it.
    pub choices: &'static [(&'static str, &'static str)],
}

/// Something that can be recorded.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Kind {
    /// Its name between page and program.
    pub name: &'static str,
    /// What the page calls it.
    pub label: &'static str,
    /// The list of the sketch it goes to.
    pub section: &'static str,
    /// Letter of its ids; empty where records have none.
    pub letter: &'static str,
    /// Ways to place it, the usual one first.
    pub ways: &'static [Way],
    /// Its fields.
    pub fields: &'static [Field],
}

const fn field(key: &'static str, label: &'static str, takes: Takes, needed: bool) -> Field {
    Field { key, label, takes, needed, choices: &[] }
}

const fn choice(
    key: &'static str,
    label: &'static str,
    needed: bool,
    choices: &'static [(&'static str, &'static str)],
) -> Field {
    Field { key, label, takes: Takes::Choice, needed, choices }
}

const NOTE: Field = field("note", "Note", Takes::Text, false);
const WHAT: Field = field("what", "What is it?", Takes::Text, true);
/// Several alike, at equal distances: how many, and how far each stands from the one before.
pub(super) const COPIES: [Field; 3] = [COUNT, RIGHT, UP];
const COUNT: Field = field("count", "How many of them in a row", Takes::Number, false);
const RIGHT: Field = field("right", "Each one farther right by", Takes::Long, false);
const UP: Field = field("up", "Each one farther up by", Takes::Long, false);
const SHAPES: &[Way] = &[Way::Round, Way::Box, Way::Corners, Way::Strip];
const AREAS: &[Way] = &[Way::Box, Way::Corners, Way::Round, Way::Strip];

/// Everything that can be recorded, in the order of the page's buttons.
pub const KINDS: &[Kind] = &[
    Kind {
        name: "crack",
        label: "Crack",
        section: "cracks",
        letter: "C",
        ways: &[Way::Run],
        fields: &[
            field("width", "Width", Takes::Small, true),
            choice(
                "movement",
                "Does it move?",
                true,
                &[("dormant", "No"), ("active", "Yes"), ("unknown", "Not known")],
            ),
            field("step", "Height difference across it", Takes::Small, false),
            NOTE,
        ],
    },
    Kind {
        name: "spall",
        label: "Hole or broken edge",
        section: "spalls",
        letter: "S",
        ways: SHAPES,
        fields: &[field("depth", "Depth", Takes::Small, true), COUNT, RIGHT, UP, NOTE],
    },
    Kind {
        name: "joint",
        label: "Joint",
        section: "joints",
        letter: "J",
        ways: &[Way::AcrossUp, Way::AcrossLevel, Way::Run],
        fields: &[
            choice(
                "kind",
                "Kind",
                true,
                &[
                    ("control", "Control"),
                    ("construction", "Construction"),
                    ("isolation", "Isolation"),
                ],
            ),
            choice(
                "formed",
                "How it was made",
                false,
                &[
                    ("sawn", "Sawn"),
                    ("tooled", "Tooled"),
                    ("strip", "Strip"),
                    ("board", "Board"),
                    ("keyed", "Keyed"),
                    ("unknown", "Not known"),
                ],
            ),
            field("width", "Width at the top", Takes::Small, false),
            field("depth", "Open depth", Takes::Small, false),
            field("strip_depth", "Depth of the strip", Takes::Small, false),
            field("wander", "Wander off straight", Takes::Small, false),
            COUNT,
            RIGHT,
            UP,
            NOTE,
        ],
    },
    Kind {
        name: "lippage",
        label: "Offset at a joint",
        section: "lippage",
        letter: "L",
        ways: &[Way::Stations],
        fields: &[
            choice(
                "high",
                "High side on the drawing",
                true,
                &[("N", "Up"), ("E", "Right"), ("S", "Down"), ("W", "Left")],
            ),
            field("readings", "Offset", Takes::Steps, true),
            NOTE,
        ],
    },
    Kind {
        name: "blemish",
        label: "Stain or coat",
        section: "blemishes",
        letter: "B",
        ways: AREAS,
        fields: &[
            choice(
                "what",
                "What is it?",
                true,
                &[
                    ("oil", "Oil"),
                    ("sealer", "Sealer"),
                    ("paint", "Paint"),
                    ("adhesive", "Adhesive"),
                    ("scaling", "Scaling"),
                    ("efflorescence", "Efflorescence"),
                    ("curing-compound", "Curing compound"),
                ],
            ),
            NOTE,
        ],
    },
    Kind {
        name: "moisture",
        label: "Moisture test",
        section: "tests.moisture",
        letter: "M",
        ways: &[Way::Point],
        fields: &[
            field("rh", "Humidity in the slab, %", Takes::Percent, false),
            field("mver", "Emission, lb per 1000 sq ft in 24 h", Takes::Number, false),
            COUNT,
            RIGHT,
            UP,
        ],
    },
    Kind {
        name: "hardness",
        label: "Hardness test",
        section: "tests.hardness",
        letter: "",
        ways: &[Way::Point],
        fields: &[field("mohs", "Mohs number", Takes::Number, true)],
    },
    Kind {
        name: "level",
        label: "Spot height",
        section: "levels",
        letter: "",
        ways: &[Way::Point],
        fields: &[field("height", "Height", Takes::Height, true)],
    },
    Kind {
        name: "keep-out",
        label: "Keep-out",
        section: "slab.keep_outs",
        letter: "K",
        ways: AREAS,
        fields: &[
            WHAT,
            choice(
                "flush",
                "Can machines run over it?",
                false,
                &[("true", "Yes"), ("false", "No")],
            ),
            COUNT,
            RIGHT,
            UP,
            NOTE,
        ],
    },
    Kind {
        name: "tier",
        label: "Higher or lower part",
        section: "slab.tiers",
        letter: "V",
        ways: AREAS,
        fields: &[
            WHAT,
            field("height", "Height over the floor, minus for lower", Takes::Height, true),
            choice(
                "riser",
                "Its upright face",
                false,
                &[("coat", "Coated"), ("leave", "Left uncoated")],
            ),
            NOTE,
        ],
    },
    Kind {
        name: "uncoated",
        label: "Left uncoated",
        section: "coating.uncoated",
        letter: "U",
        ways: AREAS,
        fields: &[WHAT],
    },
    Kind {
        name: "opening",
        label: "Doorway",
        section: "slab.openings",
        letter: "",
        ways: &[Way::OnWall],
        fields: &[field("name", "Name", Takes::Text, false)],
    },
    Kind {
        name: "diagonal",
        label: "Taped diagonal",
        section: "slab.checks",
        letter: "",
        ways: &[Way::Nowhere],
        fields: &[
            field("from", "From corner", Takes::Number, true),
            field("to", "To corner", Takes::Number, true),
            field("measured", "Measured", Takes::Long, true),
        ],
    },
    Kind {
        name: "face",
        label: "Curb or other face",
        section: "coating.faces",
        letter: "",
        ways: &[Way::Run],
        fields: &[
            field("height", "Height", Takes::Small, true),
            choice("cove", "With a cove?", false, &[("true", "Yes"), ("false", "No")]),
            field("name", "Name", Takes::Text, false),
        ],
    },
    Kind {
        name: "embedded",
        label: "Cast in the slab",
        section: "slab.embedded",
        letter: "",
        ways: &[Way::Nowhere],
        fields: &[WHAT, field("cover", "Concrete over it", Takes::Small, false)],
    },
    Kind {
        name: "photo",
        label: "Photo note",
        section: "photos",
        letter: "",
        ways: &[Way::Nowhere],
        fields: &[
            field("item", "Item", Takes::Text, true),
            field("file", "File of the photo", Takes::Text, true),
            NOTE,
        ],
    },
];

/// A form about the floor as a whole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// Its name between page and program.
    pub name: &'static str,
    /// What the page calls it.
    pub label: &'static str,
    /// Its fields, with the path of each in the sketch.
    pub fields: &'static [Field],
}

/// The forms about the floor as a whole.
pub const PARTS: &[Part] = &[
    Part {
        name: "job",
        label: "Job",
        fields: &[
            field("job.name", "Name", Takes::Text, true),
            field("job.client", "Client", Takes::Text, false),
            field("job.site", "Site", Takes::Text, false),
            field("job.surveyed", "Day of the survey", Takes::Day, false),
            field("job.surveyor", "Surveyor", Takes::Text, false),
            field("job.number", "Number", Takes::Text, false),
            field("job.notes", "Notes for the crew", Takes::Text, false),
        ],
    },
    Part {
        name: "slab",
        label: "Slab",
        fields: &[
            field("slab.thickness", "Thickness", Takes::Small, false),
            choice(
                "slab.post_tension",
                "Cables in the slab (post-tension)",
                false,
                &[("none", "None"), ("stamped", "Stamped"), ("unknown", "Not known")],
            ),
            field("slab.placed", "Day it was placed", Takes::Day, false),
        ],
    },
    Part {
        name: "coating",
        label: "Coating",
        fields: &[
            choice("coating.system", "System", false, &[]),
            field("coating.color", "Color", Takes::Text, false),
            field("coating.blend", "Blend", Takes::Text, false),
            choice(
                "coating.sheen",
                "Sheen",
                false,
                &[("matte", "Matte"), ("satin", "Satin"), ("gloss", "Gloss")],
            ),
            choice(
                "coating.mitigation",
                "Moisture mitigation below it",
                false,
                &[("true", "Yes"), ("false", "No")],
            ),
            field("coating.start", "First day", Takes::Day, false),
        ],
    },
    Part {
        name: "price",
        label: "Prices agreed",
        fields: &[
            field(
                "price.unit_prices.joint",
                "Joint cut open and filled, a foot or meter",
                Takes::Number,
                false,
            ),
            field(
                "price.unit_prices.joint_open",
                "Buried joint opened, a foot or meter",
                Takes::Number,
                false,
            ),
            field(
                "price.unit_prices.joint_honor",
                "Joint honored, a foot or meter",
                Takes::Number,
                false,
            ),
            field("price.unit_prices.crack", "Crack filled, a foot or meter", Takes::Number, false),
            field(
                "price.unit_prices.crack_chase",
                "Crack cut open and filled, a foot or meter",
                Takes::Number,
                false,
            ),
            field(
                "price.unit_prices.hand_grind",
                "Floor ground by hand, a square foot or meter",
                Takes::Number,
                false,
            ),
            field("price.unit_prices.patch", "Patch mortar, a bag", Takes::Number, false),
            field("price.unit_prices.filler", "Joint filler, a package", Takes::Number, false),
            field(
                "price.unit_prices.floor",
                "Additional floor, a square foot or meter",
                Takes::Number,
                false,
            ),
            field("price.travel", "Driven on one trip, as 36 mi", Takes::Text, false),
            field("price.trips", "Trips", Takes::Number, false),
        ],
    },
    Part {
        name: "conditions",
        label: "Conditions",
        fields: &[
            field("tests.air.temperature", "Air on the slab", Takes::Temperature, false),
            field("tests.air.humidity", "Humidity of the air, %", Takes::Percent, false),
            field("tests.slab_temperature", "Surface of the slab", Takes::Temperature, false),
        ],
    },
];

/// The kind of a name.
#[must_use]
pub fn kind(name: &str) -> Option<&'static Kind> {
    KINDS.iter().find(|kind| kind.name == name)
}
