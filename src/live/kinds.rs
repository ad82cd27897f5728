//! What can be recorded from the page: one table, from which the page makes its forms and the
//! program its records.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Serialize;

use super::alike::Alike;
use super::record::Fault;
use crate::form::Sign;
use crate::quantity::Units;
use crate::record::{self, Choice};

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
#[derive(Clone, Debug, PartialEq, Serialize)]
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
    pub fields: Cow<'static, [Field]>,
}

impl Kind {
    /// How many alike a record of it stands for, as typed; one where its form does not ask.
    pub(super) fn alike(
        &self,
        values: &BTreeMap<String, String>,
        units: Units,
    ) -> Result<Option<Alike>, Fault> {
        if self.fields.contains(&COPIES[0]) { Alike::typed(values, units) } else { Ok(None) }
    }
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
/// Several alike, at equal distances: how many stand in a row, and how far each from the one before; how many such rows there are, and
/// how far each lies from the one before, square to them.
pub(super) const COPIES: [Field; 5] = [
    field("count", "How many of them in a row", Takes::Number, false),
    field("right", "Each one farther right by", Takes::Long, false),
    field("up", "Each one farther up by", Takes::Long, false),
    field("rows", "How many such rows", Takes::Number, false),
    field("apart", "From one row to the next", Takes::Long, false),
];
/// What is asked as yes or no.
const YES_OR_NO: &[Choice] = &[("true", "Yes"), ("false", "No")];
const AREAS: &[Way] = &[Way::Box, Way::Corners, Way::Round, Way::Strip];

/// Where the button of a kind of item stands among all buttons, from nought, and how its items are placed, the usual way first.
const fn button(kind: record::Kind) -> (usize, &'static [Way]) {
    match kind {
        record::Kind::Crack => (0, &[Way::Run]),
        record::Kind::Spall => (1, &[Way::Round, Way::Box, Way::Corners, Way::Strip]),
        record::Kind::Joint => (2, &[Way::AcrossUp, Way::AcrossLevel, Way::Run]),
        record::Kind::Lippage => (3, &[Way::Stations]),
        record::Kind::Blemish => (4, AREAS),
        record::Kind::Delamination => (5, AREAS),
        record::Kind::Moisture => (6, &[Way::Point]),
        record::Kind::KeepOut => (9, AREAS),
        record::Kind::Tier => (10, AREAS),
        record::Kind::Uncoated => (11, AREAS),
    }
}

/// What a field takes for a key of an item; nothing for a key that the page places the item by, or leaves to the file.
const fn takes(key: record::Takes) -> Option<Takes> {
    use record::Takes as Key;
    Some(match key {
        Key::Text => Takes::Text,
        Key::Day => Takes::Day,
        Key::Truth | Key::Words(_) => Takes::Choice,
        Key::Length(rule) | Key::Lengths(rule) if rule.plan => Takes::Long,
        Key::Length(rule) | Key::Lengths(rule) if matches!(rule.sign, Sign::Any) => Takes::Height,
        Key::Length(_) | Key::Lengths(_) => Takes::Small,
        Key::Percent => Takes::Percent,
        Key::Number(..) => Takes::Number,
        Key::Readings => Takes::Steps,
        Key::Id | Key::Point | Key::Path | Key::Box | Key::Circle | Key::Corners | Key::Strip => {
            return None;
        }
        Key::Repeat | Key::Ends | Key::Chase | Key::Widths | Key::Along | Key::Cove => return None,
    })
}

/// The fields of a kind of item: first what is needed, several alike and the note last.
fn fields(kind: record::Kind) -> Vec<Field> {
    let one = |key: &record::Key| {
        let asked = key.asked?;
        let own = match key.takes {
            record::Takes::Words(choices) => choices,
            record::Takes::Truth => YES_OR_NO,
            _ => &[],
        };
        Some(Field {
            key: key.name,
            label: asked.label,
            takes: takes(key.takes)?,
            needed: asked.needed,
            choices: asked.choices.unwrap_or(own),
        })
    };
    let mut out: Vec<Field> = kind.described().keys.iter().filter_map(one).collect();
    if kind.repeats() {
        out.extend(COPIES);
    }
    out.sort_by_key(|field| match field.key {
        key if key == NOTE.key => 3,
        _ if COPIES.contains(field) => 2,
        _ if field.needed => 0,
        _ => 1,
    });
    out
}

fn item(kind: record::Kind) -> Kind {
    let said = kind.described();
    Kind {
        name: said.name,
        label: said.button,
        section: said.list,
        letter: said.letter,
        ways: button(kind).1,
        fields: Cow::Owned(fields(kind)),
    }
}

/// Everything that can be recorded, in the order of the page's buttons.
pub static KINDS: LazyLock<Vec<Kind>> = LazyLock::new(|| {
    let mut items = record::Kind::ALL.to_vec();
    items.sort_by_key(|kind| button(*kind).0);
    let mut items = items.into_iter().peekable();
    let mut others = OTHERS.iter();
    let mut out = Vec::new();
    loop {
        let here = |kind: &record::Kind| button(*kind).0 <= out.len();
        let next = items.next_if(here).map(item).or_else(|| others.next().cloned());
        match next.or_else(|| items.next().map(item)) {
            Some(kind) => out.push(kind),
            None => return out,
        }
    }
});

/// What can be recorded and is no item with an id.
const OTHERS: &[Kind] = &[
    Kind {
        name: "hardness",
        label: "Hardness test",
        section: "tests.hardness",
        letter: "",
        ways: &[Way::Point],
        fields: Cow::Borrowed(&[field("mohs", "Mohs number", Takes::Number, true)]),
    },
    Kind {
        name: "level",
        label: "Spot height",
        section: "levels",
        letter: "",
        ways: &[Way::Point],
        fields: Cow::Borrowed(&[field("height", "Height", Takes::Height, true)]),
    },
    Kind {
        name: "opening",
        label: "Doorway",
        section: "slab.openings",
        letter: "",
        ways: &[Way::OnWall],
        fields: Cow::Borrowed(&[field("name", "Name", Takes::Text, false)]),
    },
    Kind {
        name: "diagonal",
        label: "Taped diagonal",
        section: "slab.checks",
        letter: "",
        ways: &[Way::Nowhere],
        fields: Cow::Borrowed(&[
            field("from", "From corner", Takes::Number, true),
            field("to", "To corner", Takes::Number, true),
            field("measured", "Measured", Takes::Long, true),
        ]),
    },
    Kind {
        name: "face",
        label: "Curb or other face",
        section: "coating.faces",
        letter: "",
        ways: &[Way::Run],
        fields: Cow::Borrowed(&[
            field("height", "Height", Takes::Small, true),
            choice("cove", "With a cove?", false, YES_OR_NO),
            field("name", "Name", Takes::Text, false),
        ]),
    },
    Kind {
        name: "embedded",
        label: "Cast in the slab",
        section: "slab.embedded",
        letter: "",
        ways: &[Way::Nowhere],
        fields: Cow::Borrowed(&[WHAT, field("cover", "Concrete over it", Takes::Small, false)]),
    },
    Kind {
        name: "photo",
        label: "Photo note",
        section: "photos",
        letter: "",
        ways: &[Way::Nowhere],
        fields: Cow::Borrowed(&[
            field("item", "Item", Takes::Text, true),
            field("file", "File of the photo", Takes::Text, true),
            NOTE,
        ]),
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
            field(
                "price.unit_prices.inject",
                "Hollow concrete injected, a square foot or meter",
                Takes::Number,
                false,
            ),
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_buttons_in_their_order() {
        let names: Vec<&str> = KINDS.iter().map(|kind| kind.name).collect();
        let wanted = [
            "crack",
            "spall",
            "joint",
            "lippage",
            "blemish",
            "delamination",
            "moisture",
            "hardness",
            "level",
            "keep-out",
            "tier",
            "uncoated",
            "opening",
            "diagonal",
            "face",
            "embedded",
            "photo",
        ];
        assert_eq!(names, wanted);
    }

    #[test]
    fn what_is_needed_comes_first_and_the_note_last() {
        let rows = [
            ("crack", "width movement step note"),
            ("spall", "depth count right up rows apart note"),
            ("joint", "kind formed width depth strip_depth wander count right up rows apart note"),
            ("lippage", "high readings note"),
            ("blemish", "what note"),
            ("delamination", "depth treatment note"),
            ("moisture", "rh mver count right up rows apart"),
            ("keep-out", "what flush count right up rows apart note"),
            ("tier", "what height riser note"),
            ("uncoated", "what"),
        ];
        for (name, wanted) in rows {
            let fields = &kind(name).expect("a kind").fields;
            let keys: Vec<&str> = fields.iter().map(|field| field.key).collect();
            assert_eq!(keys.join(" "), wanted, "{name}");
        }
    }
}
