//! Joints.

use super::Described;
use super::key::{Group, Key, REPEAT, Takes, id, may, must, names, note};
use super::limits::{COORDINATE, DEPTH, WANDER, WIDTH};
use super::words::words;

words! {
    /// What a joint was made for.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
    JointKind {
        /// Control (contraction) joint.
        Control = "control", "Control";
        /// Construction joint.
        Construction = "construction", "Construction";
        /// Isolation (expansion) joint.
        Isolation = "isolation", "Isolation";
    }
}

words! {
    /// How a joint was made.
    #[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
    Formed {
        /// Saw cut.
        Sawn = "sawn", "Sawn";
        /// Grooved by hand.
        Tooled = "tooled", "Tooled";
        /// Plastic former strip.
        Strip = "strip", "Strip";
        /// Board or premolded filler.
        Board = "board", "Board";
        /// Keyed construction joint.
        Keyed = "keyed", "Keyed";
        /// Nobody can tell.
        #[default]
        Unknown = "unknown", "Not known";
    }
}

words! {
    /// What is done with a joint.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    JointTreatment {
        /// Chased open, filled flush, coated over.
        Fill = "fill", "fill";
        /// Moves: carried through the coating, rod and flexible sealant.
        Honor = "honor", "honor";
        /// Not in the job.
        Leave = "leave", "leave";
    }
}

const KEYS: [Key; 18] = [
    id("J1"),
    must("kind", Takes::Words(JointKind::CHOICES), "Kind of joint.", "control").asked("Kind"),
    may("formed", Takes::Words(Formed::CHOICES), "How it was made. Left out: unknown.", "strip")
        .asked("How it was made"),
    may(
        "x",
        Takes::Lengths(COORDINATE),
        "Straight up the sheet at this x, over everything the outline encloses; a list for several alike.",
        "12'",
    ),
    may(
        "y",
        Takes::Lengths(COORDINATE),
        "Straight across the sheet at this y, over everything the outline encloses; a list for several alike.",
        "10'",
    ),
    may("path", Takes::Path, "Where it runs, from its first point.", "[[0, 0], [4', 2']]"),
    may("from", Takes::Length(COORDINATE), "With x or y: where it begins.", "2'"),
    may("to", Takes::Length(COORDINATE), "With x or y: where it ends.", "18'"),
    may(
        "ends_at",
        Takes::Ends,
        "What it ends at: ids or patterns of closed joints, of keep-outs, which stand for the closed joint round each, and of tiers, at whose risers it stops.",
        "K*",
    ),
    REPEAT,
    may("width", Takes::Length(WIDTH), "Width as found, at the top.", "1/4")
        .asked("Width at the top"),
    may("depth", Takes::Length(DEPTH), "Open depth as found.", "1").asked("Open depth"),
    may("strip_depth", Takes::Length(DEPTH), "How deep a strip left in the slab reaches.", "1 1/4")
        .asked("Depth of the strip"),
    may("wander", Takes::Length(WANDER), "Total sideways wander off the straight line.", "3/8")
        .asked("Wander off straight"),
    may("buried", Takes::Truth, "Concrete was run over the filler; it has to be opened.", "false"),
    may(
        "treatment",
        Takes::Words(JointTreatment::CHOICES),
        "What is done with it. Left out: the shop book's rule for its kind.",
        "fill",
    ),
    may("chase", Takes::Chase, "Size of the chase. Left out: the rule.", ""),
    note("strip broke off in the middle third"),
];

pub(super) const JOINT: Described = Described {
    name: "joint",
    a: "a joint",
    define: "joint",
    list: "joints",
    letter: "J",
    about: "A joint. It is placed by x, y or path.",
    listed: "Joints.",
    button: "Joint",
    seen: "joint",
    keys: &KEYS,
    names: &names(&KEYS),
    groups: &[Group::One(&["path", "x", "y"]), Group::Without("path", &["from", "to"])],
};
