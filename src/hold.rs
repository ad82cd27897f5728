//! Stage 3½, between takeoff and papers: what must be cleared before a work starts.
//!
//! The list is made once. Findings are made from it ([`Hold::findings`]), and every paper and table puts it at its top in the
//! words of [`say`]; none of them decides again.

mod coating;
mod cuts;
pub mod say;
mod slab;
mod surface;

use serde::Serialize;

use crate::diagnostic::{Diagnostic, Severity};
use crate::quantity::{Units, write};
use crate::shop::Shop;
use crate::sketch::{Sketch, Span};
use crate::slab::Slab;
use crate::takeoff::Takeoff;
use crate::work::Kind;

pub use coating::mitigation_offered;
pub use cuts::{Cut, cuts};

/// Why a work waits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Code {
    /// Cuts go into a slab stamped as post-tensioned.
    PostTension,
    /// Cuts go into a slab of which nobody knows.
    PostTensionUnknown,
    /// A cut comes too near to something in the slab, or reaches it.
    ChaseCover,
    /// A cut goes over something in the slab whose cover nobody noted.
    CoverUnknown,
    /// A step is ground down on a slab stamped as post-tensioned.
    StepPostTension,
    /// A step is ground down on a slab that is thin there.
    StepThin,
    /// Old paint, an old coating or adhesive that nobody tested.
    TestBeforeGrinding,
    /// It holds lead or asbestos.
    Abatement,
    /// A step too high to be ground down.
    StepHigh,
    /// A crack of which a licensed engineer should have an opinion.
    EngineerWanted,
    MoistureOverLimit,
    /// Too few moisture tests of one kind.
    MoistureTestsWanted,
    /// The slab is too young.
    SlabAge,
}

crate::text::in_json_by!(Code, word);

impl Code {
    /// All of them: what can hurt people first, each with its code for scripts and its title on paper.
    const ALL: [(Self, &'static str, &'static str); 13] = [
        (Self::PostTension, "post-tension", "Post-tensioned slab"),
        (Self::PostTensionUnknown, "post-tension-unknown", "Tendons not ruled out"),
        (Self::ChaseCover, "chase-cover", "In the slab, too near"),
        (Self::CoverUnknown, "cover-unknown", "In the slab, depth unknown"),
        (Self::StepPostTension, "step-post-tension", "Offsets on a post-tensioned slab"),
        (Self::StepThin, "step-thin", "Offsets on a thin slab"),
        (Self::TestBeforeGrinding, "test-before-grinding", "Not tested"),
        (Self::Abatement, "abatement", "Lead or asbestos"),
        (Self::StepHigh, "step-high", "Too high to be ground"),
        (Self::EngineerWanted, "engineer-wanted", "Engineer"),
        (Self::MoistureOverLimit, "moisture-over-limit", "Too moist"),
        (Self::MoistureTestsWanted, "moisture-tests-wanted", "Moisture tests"),
        (Self::SlabAge, "slab-age", "Young slab"),
    ];

    /// Stable code in kebab case, for scripts; the code of its findings too.
    #[must_use]
    pub const fn word(self) -> &'static str {
        Self::ALL[self as usize].1
    }

    /// A few words for the head of a paragraph.
    #[must_use]
    pub const fn title(self) -> &'static str {
        Self::ALL[self as usize].2
    }

    /// What its findings weigh: a stop where somebody can be hurt, a warning where the floor would suffer or somebody has to
    /// decide.
    #[must_use]
    pub const fn severity(self) -> Severity {
        match self {
            Self::PostTension
            | Self::PostTensionUnknown
            | Self::ChaseCover
            | Self::CoverUnknown
            | Self::StepPostTension
            | Self::StepThin
            | Self::TestBeforeGrinding
            | Self::Abatement => Severity::Stop,
            Self::StepHigh
            | Self::EngineerWanted
            | Self::MoistureOverLimit
            | Self::MoistureTestsWanted
            | Self::SlabAge => Severity::Warning,
        }
    }
}

/// One thing that must be cleared before some works start.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Hold {
    /// Why.
    pub code: Code,
    /// Ids of the items it is about, in the sketch's order; none where it is about the whole floor.
    pub items: Vec<String>,
    /// Works that wait for it, in the order of the trade.
    pub works: Vec<Kind>,
    /// What was found, one sentence without a final full stop, with the numbers.
    pub message: String,
    /// What clears it and who does, to be read after "until".
    pub clears: String,
    /// What to write into the sketch then, to be read after "then"; empty where another value of the sketch or the shop book does
    /// it.
    #[serde(skip)]
    pub note: &'static str,
    /// The published source, "common practice" or "from memory".
    pub source: &'static str,
    /// What was found about each item, for its finding: id, sentence, place in the sketch.
    #[serde(skip)]
    pub cases: Vec<Case>,
}

/// What was found about one item.
#[derive(Clone, Debug, PartialEq)]
pub struct Case {
    /// Its id, if it is about one.
    pub item: Option<String>,
    /// What was found, one sentence without a final full stop.
    pub message: String,
    /// Where it is noted.
    pub span: Span,
}

impl Hold {
    /// Whether a work of a kind on these items waits for it; no items are the whole floor.
    #[must_use]
    pub fn stops(&self, kind: Kind, items: &[String]) -> bool {
        let whole = self.items.is_empty() || items.is_empty();
        self.works.contains(&kind) && (whole || items.iter().any(|id| self.items.contains(id)))
    }
}

impl Hold {
    /// Its findings: one for each item, of the same code.
    pub fn findings(&self) -> impl Iterator<Item = Diagnostic> {
        let mut hint = format!("do not {} until {}", self.works_in_words(), self.clears);
        if !self.note.is_empty() {
            hint.push_str(&format!("; then {}", self.note));
        }
        self.cases.iter().map(move |case| {
            let found =
                Diagnostic::new(self.code.severity(), self.code.word(), case.message.clone())
                    .at(case.span)
                    .hint(hint.clone())
                    .source(self.source);
            match &case.item {
                Some(id) => found.item(id),
                None => found,
            }
        })
    }
}

/// What rules look at.
struct Facts<'a> {
    sketch: &'a Sketch,
    slab: &'a Slab,
    takeoff: &'a Takeoff,
    shop: &'a Shop,
}

impl Facts<'_> {
    const fn units(&self) -> Units {
        self.slab.units
    }

    fn small(&self, m: f64) -> String {
        write::small(m, self.units())
    }
}

/// Everything that must be cleared before a work of this floor starts: what can hurt people first.
#[must_use]
pub fn holds(sketch: &Sketch, slab: &Slab, takeoff: &Takeoff, shop: &Shop) -> Vec<Hold> {
    let facts = Facts { sketch, slab, takeoff, shop };
    let mut out = Vec::new();
    slab::holds(&facts, &mut out);
    surface::holds(&facts, &mut out);
    coating::holds(&facts, &mut out);
    for hold in &mut out {
        hold.works.sort_unstable();
        hold.works.dedup();
    }
    // By the words too, so that the order of services in the sketch changes no paper.
    out.sort_by(|p, q| p.code.cmp(&q.code).then_with(|| p.message.cmp(&q.message)));
    out
}

/// Ids of some cases, each once.
fn ids(cases: &[Case]) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for id in cases.iter().filter_map(|case| case.item.as_ref()) {
        // A case follows the others of its item.
        if out.last() != Some(id) {
            out.push(id.clone());
        }
    }
    out
}

#[cfg(test)]
mod tests;
