//! Holds in words and tables: the one writer of every paper.

use crate::trade::words::said;

use super::{Code, Hold};
use crate::text::clean;
use crate::text::id_key;
use crate::text::{COLUMNS, wrapped};
use crate::work::Kind;

/// The head of every list of holds.
pub const HEAD: &str = "HOLD: CLEAR BEFORE THE WORK NAMED";
/// Most items that are named; the schedules say of every item what it is.
const MOST_NAMED: usize = 100;

impl Hold {
    /// The works that wait: `saw joints, chase cracks or coat`.
    #[must_use]
    pub fn works_in_words(&self) -> String {
        let verb = |work: &Kind| match work {
            Kind::RodAndSealant => "put in backer rod and sealant".to_owned(),
            other => said(other.name()),
        };
        let names: Vec<String> = self.works.iter().map(verb).collect();
        match names.as_slice() {
            [] => "start".into(),
            [one] => one.clone(),
            [most @ .., last] => format!("{} or {last}", most.join(", ")),
        }
    }

    /// What it is about: `Post-tensioned slab: J1, J2`.
    #[must_use]
    pub fn lead(&self) -> String {
        let title = self.code.title();
        if self.items.is_empty() {
            return title.into();
        }
        let items: Vec<String> = self.items.iter().map(|id| clean(id)).collect();
        format!("{title}: {}", named(&items))
    }

    /// What must not be done, and until when: `Do not saw joints until …`, without a full stop.
    #[must_use]
    pub fn order(&self) -> String {
        clean(&format!("Do not {} until {}", self.works_in_words(), self.clears))
    }

    /// What was found, and what must not be done until when.
    #[must_use]
    pub fn sentence(&self) -> String {
        format!("{}. {}.", capital(&clean(&self.message)), self.order())
    }
}

/// Ids one after the other, copies of one record as a range; of very many, the first ones.
#[must_use]
pub fn named<S: AsRef<str>>(ids: &[S]) -> String {
    let ranges = crate::text::ranges(ids);
    let (shown, others) = ranges.split_at(ranges.len().min(MOST_NAMED));
    let shown: Vec<&str> = shown.iter().map(|(text, _)| text.as_str()).collect();
    match others.iter().map(|(_, ids)| ids).sum::<usize>() {
        0 => shown.join(", "),
        more => format!("{} and {more} more", shown.join(", ")),
    }
}

/// First letter in capitals.
pub(crate) fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |c| c.to_uppercase().chain(chars).collect())
}

/// The list as plain text, with its head; nothing where nothing is on hold.
#[must_use]
pub fn text(holds: &[Hold]) -> String {
    if holds.is_empty() {
        return String::new();
    }
    let mut out = format!("\n{HEAD}\n");
    for hold in holds {
        for line in lines(hold, COLUMNS) {
            out += &line;
            out.push('\n');
        }
    }
    out
}

pub(crate) fn lines(hold: &Hold, width: u16) -> Vec<String> {
    let mut out = wrapped("  ", &hold.lead(), width);
    out.extend(wrapped("      ", &hold.sentence(), width));
    let source = format!("(source: {}; {})", hold.source, hold.code.word());
    out.extend(wrapped("      ", &source, width));
    out
}

/// A cell for a table: `HOLD post-tension: J1, J2`, and the sentence for another.
#[must_use]
pub fn cells(hold: &Hold) -> (String, String) {
    let code = hold.code.word();
    let first = if hold.items.is_empty() {
        format!("HOLD {code}")
    } else {
        format!("HOLD {code}: {}", hold.items.join(" "))
    };
    (first, hold.sentence())
}

/// A line for each hold, under the head: for a list that has lines of its own below.
#[must_use]
pub fn remarks(holds: &[Hold]) -> Vec<String> {
    let head = (!holds.is_empty()).then(|| HEAD.to_owned());
    let line = |hold: &Hold| format!("{}. {}", hold.lead(), hold.sentence());
    head.into_iter().chain(holds.iter().map(line)).collect()
}

/// Ids as a paper of the shop names them.
#[must_use]
pub fn by_id(ids: &[String]) -> String {
    let ids: Vec<String> = ids.iter().map(|id| clean(id)).collect();
    named(&ids)
}

/// What the price does not hold, or holds only if a test comes back clear, with `say` for the names of things; sentences with a full stop.
#[must_use]
pub fn not_priced(holds: &[Hold], say: &dyn Fn(&[String]) -> String) -> Vec<String> {
    let of = |code: Code| {
        let held = holds.iter().filter(|hold| hold.code == code);
        let mut ids: Vec<String> = held.flat_map(|hold| &hold.items).cloned().collect();
        ids.sort_by_cached_key(|id| id_key(id));
        (!ids.is_empty()).then(|| say(&ids))
    };
    let abated = of(Code::Abatement).map(|ids| {
        format!(
            "Lead and asbestos are no part of this price: {ids}, taken off by a licensed abatement firm under its own contract."
        )
    });
    let untested = of(Code::TestBeforeGrinding).map(|ids| {
        format!(
            "The price holds for {ids} only if the laboratory finds neither lead nor asbestos: hazardous material is excluded."
        )
    });
    abated.into_iter().chain(untested).collect()
}
