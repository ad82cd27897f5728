//! What can be recorded on a floor: every kind of item, described once.
//!
//! A description says where records of the kind stand in a sketch, what their ids begin with, which keys they have, and how
//! page and messages call them. The readers take their key lists and limits from it, the schema and the canonical order their keys,
//! the page its forms. What a stage does with a kind it says itself, in a `match` over [`Kind`] that has an arm for each.

mod blemish;
mod crack;
mod delamination;
mod joint;
mod keep_out;
mod key;
pub(crate) mod limits;
mod lippage;
mod moisture;
mod shape;
mod spall;
mod tier;
mod uncoated;
mod words;

pub use blemish::{BlemishKind, TestResult};
pub use crack::{CrackTreatment, Movement};
pub use delamination::LooseTreatment;
pub use joint::{Formed, JointKind, JointTreatment};
pub use lippage::{Compass, Hand, HighSide};
pub use tier::RiserFinish;

pub(crate) use key::{Group, Key, NOTE, Need, Takes};
pub(crate) use lippage::SIDES;
pub(crate) use moisture::MOST_MVER;
pub(crate) use shape::SHAPES;
pub(crate) use words::Choice;

/// What is said of a kind of item in one place.
pub(crate) struct Described {
    /// Its name between page and program, and as the class of what is drawn of it on the page.
    pub name: &'static str,
    /// With its article, as messages say it.
    pub a: &'static str,
    /// Name among the definitions of the schema.
    pub define: &'static str,
    /// Its list in the sketch, the keys that lead there with points between them.
    pub list: &'static str,
    /// What its ids begin with.
    pub letter: &'static str,
    /// What a record of it is, as a sentence.
    pub about: &'static str,
    /// What its list holds, as a sentence.
    pub listed: &'static str,
    /// The button of the page that records one.
    pub button: &'static str,
    /// What the page calls one that is there.
    pub seen: &'static str,
    /// Its keys in canonical order.
    pub keys: &'static [Key],
    /// The names of its keys.
    pub names: &'static [&'static str],
    /// Which keys go together.
    pub groups: &'static [Group],
}

/// The kinds, each with its description.
macro_rules! kinds {
    ($($(#[$doc:meta])* $kind:ident = $described:expr,)*) => {
        /// A kind of item that can be recorded on a floor, with an id of its own.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Kind {
            $($(#[$doc])* $kind,)*
        }

        impl Kind {
            /// All of them, in the order in which items are listed.
            pub const ALL: &'static [Self] = &[$(Self::$kind,)*];

            /// What is said of it.
            pub(crate) const fn described(self) -> &'static Described {
                match self {
                    $(Self::$kind => &$described,)*
                }
            }
        }
    };
}

kinds! {
    /// A line along which the slab was parted on purpose.
    Joint = joint::JOINT,
    /// A line along which the concrete broke.
    Crack = crack::CRACK,
    /// Missing concrete.
    Spall = spall::SPALL,
    /// A layer of the slab that has come loose.
    Delamination = delamination::DELAMINATION,
    /// An area that changes the preparation.
    Blemish = blemish::BLEMISH,
    /// A step between panels.
    Lippage = lippage::LIPPAGE,
    /// Slab that is not there, or is built over.
    KeepOut = keep_out::KEEP_OUT,
    /// Slab outside the job.
    Uncoated = uncoated::UNCOATED,
    /// A place where moisture was measured.
    Moisture = moisture::MOISTURE,
    /// A part that lies higher or lower than the rest.
    Tier = tier::TIER,
}

impl Kind {
    /// With its article, as messages say it: `a keep-out`.
    #[must_use]
    pub const fn a(self) -> &'static str {
        self.described().a
    }

    /// Its noun: `keep-out`.
    #[must_use]
    pub fn noun(self) -> &'static str {
        self.a().split_once(' ').map_or(self.a(), |(_, noun)| noun)
    }

    /// What the ids of its items begin with, where the program gives them: `K`.
    #[must_use]
    pub const fn letter(self) -> &'static str {
        self.described().letter
    }

    /// The keys of the sketch that lead to its list, from the outermost.
    pub(crate) fn path(self) -> std::str::Split<'static, char> {
        self.described().list.split('.')
    }

    /// The key of its list.
    pub(crate) fn key(self) -> &'static str {
        self.path().next_back().unwrap_or_default()
    }

    /// Whether one record may stand for several items.
    pub(crate) fn repeats(self) -> bool {
        self.described().keys.iter().any(|key| matches!(key.takes, Takes::Repeat))
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    /// What two kinds may not share, and that a description is whole.
    #[test]
    fn kinds_are_told_apart() {
        let facts: [(&str, fn(&Described) -> &str); 6] = [
            ("name", |d| d.name),
            ("article", |d| d.a),
            ("definition", |d| d.define),
            ("list", |d| d.list),
            ("letter", |d| d.letter),
            ("button", |d| d.button),
        ];
        for (fact, of) in facts {
            let all: BTreeSet<&str> = Kind::ALL.iter().map(|kind| of(kind.described())).collect();
            assert_eq!(all.len(), Kind::ALL.len(), "{fact}: {all:?}");
            assert!(!all.contains(""), "{fact}");
        }
        // P numbers panels, R patches, T tests that are wanted.
        let letters: Vec<&str> = Kind::ALL.iter().map(|kind| kind.letter()).collect();
        assert!(["P", "R", "T"].iter().all(|taken| !letters.contains(taken)), "{letters:?}");
    }

    #[test]
    fn every_kind_begins_with_its_id_and_its_example_is_of_its_letter() {
        for kind in Kind::ALL {
            let first = &kind.described().keys[0];
            assert_eq!((first.name, first.example), ("id", &*format!("{}1", kind.letter())));
        }
    }
}
