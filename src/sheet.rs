//! Stage 4: what was found, as marks on paper. Knows no file format.

pub mod cautions;
pub mod census;
pub mod crew;
pub mod days;
pub mod dimensions;
pub mod enlarged;
pub mod filling;
pub mod flow;
pub mod frame;
pub mod key_plan;
pub mod layout;
pub mod legend;
pub mod page;
pub mod photos;
pub mod plan;
pub mod pouring;
pub mod schedule;
pub mod select;
pub mod set;
pub mod split;
pub mod view;

#[cfg(test)]
pub(crate) mod fixture;
#[cfg(test)]
mod tests;

use crate::floor::Survey;
use crate::hold::Hold;
use crate::ink::Picture;
use crate::order::Order;
use crate::paper::words;
use crate::schedule::Plan;
use crate::shop::{Shop, System};
use crate::sketch::{Coating, Job};
use crate::slab::Slab;
use crate::slab::directions::Locator;
use crate::takeoff::Takeoff;
use crate::takeoff::wanted::{self, Wanted};

pub use crate::paper::scale::Scale;
pub use crate::paper::size::{Paper, Size};
pub use crew::left_off::ids as left_off;

/// Everything a drawing is made from.
#[derive(Clone, Copy, Debug)]
pub struct Inputs<'a> {
    /// What the title block says.
    pub job: &'a Job,
    /// The coating job.
    pub coating: &'a Coating,
    /// The floor.
    pub slab: &'a Slab,
    /// The quantities.
    pub takeoff: &'a Takeoff,
    /// What must be cleared before a work starts.
    pub holds: &'a [Hold],
    /// The order with its pour lines, if it was made.
    pub order: Option<&'a Order>,
    /// The plan by days, if it was made.
    pub plan: Option<&'a Plan>,
    /// Where tests are still wanted, if that is known for a whole floor of which this is a part; else it is worked out.
    pub wanted: Option<&'a [Wanted]>,
    /// Where things of the whole floor are taped from, if that was worked out before; else it is.
    pub locator: Option<&'a Locator<'a>>,
    /// The shop book in force.
    pub shop: &'a Shop,
    /// The shop's logo.
    pub logo: Option<&'a Picture>,
    /// File name of the sketch.
    pub source_name: &'a str,
    /// Hash of the sketch's text.
    pub digest: &'a str,
}

impl<'a> Inputs<'a> {
    /// Everything of a surveyed floor but the plan by days, with the file name of its sketch and the hash of its text.
    #[must_use]
    pub fn of(floor: &'a Survey, source_name: &'a str, digest: &'a str) -> Self {
        Self {
            job: &floor.sketch.job,
            coating: &floor.sketch.coating,
            slab: &floor.slab,
            takeoff: &floor.takeoff,
            holds: &floor.holds,
            order: Some(&floor.order),
            plan: None,
            wanted: None,
            locator: None,
            shop: &floor.shop,
            logo: None,
            source_name,
            digest,
        }
    }

    /// The coating system, where the sketch names one.
    #[must_use]
    pub fn system(&self) -> Option<&'a System> {
        self.shop.system_of(self.coating)
    }

    /// What was chosen of the coating, layer by layer, with a line to write on where nothing was.
    #[must_use]
    pub fn finish(&self) -> Option<String> {
        let finish = crate::order::finish(self.system()?, self.coating)?;
        Some(words::clean(&finish))
    }

    /// The same for who does not know the layers: each word once, and a line to write on where it is open.
    #[must_use]
    pub fn looks(&self) -> Option<String> {
        let mut all: Vec<String> = Vec::new();
        for layer in &self.system()?.layers {
            let of = crate::order::chosen(layer, self.coating);
            let open = of.open.iter();
            let open = open.map(|choice| format!("{} ________", choice.word()));
            let words = of.words.iter().map(|word| words::clean(word)).chain(open);
            for word in words.collect::<Vec<_>>() {
                if !all.contains(&word) {
                    all.push(word);
                }
            }
        }
        (!all.is_empty()).then(|| all.join(", "))
    }

    /// Where tests are still wanted.
    #[must_use]
    pub fn wanted(&self) -> Vec<Wanted> {
        self.wanted.map_or_else(|| wanted::tests(self.slab, self.takeoff), <[Wanted]>::to_vec)
    }
}

/// Who reads a drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Audience {
    /// The crew: black and white, everything, with a tape.
    Crew,
    /// The estimator on another visit: a form to fill in by hand.
    Field,
    /// The customer: in color and plain words, without measures of the trade.
    Customer,
}

/// What was asked for.
#[derive(Clone, Copy, Debug)]
pub struct Options {
    /// Who reads it.
    pub audience: Audience,
    /// Paper; the program's choice where nothing is said.
    pub paper: Option<Paper>,
    /// Scale; the largest standard scale that fits where nothing is said.
    pub scale: Option<Scale>,
}
