//! Spalls that lie where nothing is coated.

use std::cell::LazyCell;

use super::Facts;
use crate::diagnostic::Diagnostic;
use crate::geometry::within::Within;
use crate::quantity::write;

/// A share of an area; less than this is rounding.
const ROUNDING: f64 = 1e-6;

pub(super) fn rules(facts: &Facts<'_>, out: &mut Vec<Diagnostic>) {
    let enclosed = LazyCell::new(|| Within::new(&facts.slab.enclosed));
    for spall in &facts.slab.spalls {
        if spall.area_m2 <= 0.0 {
            out.push(
                Diagnostic::note(
                    "spall-not-in-job",
                    format!("{} lies outside the coated area: it is drawn, not counted", spall.id),
                )
                .item(&spall.id)
                .many("spalls lie outside the coated area: they are drawn, not counted", &spall.id)
                .at(spall.span),
            );
            continue;
        }
        let whole = spall.shape.area_m2;
        if spall.area_m2 >= whole * (1.0 - ROUNDING) {
            continue;
        }
        // What sticks out of the slab has been said where the spall was placed.
        let flat = spall.shape.region.area();
        let on_slab = whole * enclosed.area(&spall.shape.region) / flat;
        let off = on_slab - spall.area_m2;
        if off > whole * ROUNDING {
            out.push(
                Diagnostic::note(
                    "spall-partly-in-job",
                    format!(
                        "{} of the {} of {} lie outside the coated area: they are drawn, not counted",
                        write::area(off, facts.units()),
                        write::area(whole, facts.units()),
                        spall.id
                    ),
                )
                .item(&spall.id)
                .at(spall.span)
                .hint("its part on the coated floor is mended; if all of it is to be, draw it clear of keep-outs and uncoated parts"),
            );
        }
    }
}
