//! Rules of the trade that compare what was found with what is published; each names its source.
//!
//! Nothing here is an engineering opinion, and no crack width is printed as a pass or a fail.

mod chase;
mod chosen;
mod conditions;
mod cracks;
mod delaminations;
mod joints;
mod outline;
mod panels;
mod risers;
mod spalls;
mod steps;
mod surface;

use crate::diagnostic::Diagnostic;
use crate::hold::Hold;
use crate::quantity::{Units, write};
use crate::shop::Shop;
use crate::sketch::Sketch;
use crate::slab::Slab;
use crate::takeoff::Takeoff;

/// What rules look at.
struct Facts<'a> {
    sketch: &'a Sketch,
    slab: &'a Slab,
    takeoff: &'a Takeoff,
    shop: &'a Shop,
    holds: &'a [Hold],
}

impl Facts<'_> {
    const fn units(&self) -> Units {
        self.slab.units
    }

    fn length(&self, m: f64) -> String {
        write::length(m, self.units())
    }

    fn small(&self, m: f64) -> String {
        write::small(m, self.units())
    }
}

/// All findings about a floor, those of its holds among them, in no particular order.
#[must_use]
pub fn findings(
    sketch: &Sketch,
    slab: &Slab,
    takeoff: &Takeoff,
    shop: &Shop,
    holds: &[Hold],
) -> Vec<Diagnostic> {
    let facts = Facts { sketch, slab, takeoff, shop, holds };
    let mut out: Vec<Diagnostic> = holds.iter().flat_map(Hold::findings).collect();
    outline::rules(&facts, &mut out);
    panels::rules(&facts, &mut out);
    joints::rules(&facts, &mut out);
    risers::rules(&facts, &mut out);
    chase::rules(&facts, &mut out);
    cracks::rules(&facts, &mut out);
    spalls::rules(&facts, &mut out);
    delaminations::rules(&facts, &mut out);
    steps::rules(&facts, &mut out);
    surface::rules(&facts, &mut out);
    conditions::rules(&facts, &mut out);
    chosen::rules(&facts, &mut out);
    out
}

/// Sorts by weight (stops first), then place, then code: the order every output shows.
pub fn sort(findings: &mut [Diagnostic]) {
    findings.sort_by(|p, q| {
        let place = |d: &Diagnostic| d.place.map(|p| (p.file, p.span.start));
        q.severity
            .cmp(&p.severity)
            .then_with(|| place(p).cmp(&place(q)))
            .then_with(|| p.code.cmp(q.code))
            .then_with(|| p.message.cmp(&q.message))
    });
}
