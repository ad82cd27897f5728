//! Spalls and delaminations that lie where nothing is coated.

use std::cell::LazyCell;

use super::Facts;
use crate::diagnostic::Diagnostic;
use crate::geometry::within::Within;
use crate::quantity::write;
use crate::slab::{Item, Shape};

/// A share of an area; less than this is rounding.
const ROUNDING: f64 = 1e-6;

/// One of them.
struct Found<'a> {
    /// Code where all of it lies outside.
    outside: &'static str,
    /// Code where a part does.
    partly: &'static str,
    /// What is said of many outside.
    all: &'static str,
    shape: &'a Shape,
    area_m2: f64,
}

pub(super) fn rules(facts: &Facts<'_>, out: &mut Vec<Diagnostic>) {
    let enclosed = LazyCell::new(|| Within::new(&facts.slab.enclosed));
    for item in facts.slab.items() {
        let found = match item {
            Item::Spall(s) => Found {
                outside: "spall-not-in-job",
                partly: "spall-partly-in-job",
                all: "spalls lie outside the coated area: they are drawn, not counted",
                shape: &s.shape,
                area_m2: s.area_m2,
            },
            Item::Delamination(d) => Found {
                outside: "delamination-not-in-job",
                partly: "delamination-partly-in-job",
                all: "delaminations lie outside the coated area: they are drawn, not counted",
                shape: &d.shape,
                area_m2: d.area_m2,
            },
            Item::Joint(_)
            | Item::Crack(_)
            | Item::Blemish(_)
            | Item::Lippage(_)
            | Item::KeepOut(_)
            | Item::Uncoated(_)
            | Item::Moisture(_)
            | Item::Tier(_) => continue,
        };
        if found.area_m2 <= 0.0 {
            out.push(
                Diagnostic::note(
                    found.outside,
                    format!("{} lies outside the coated area: it is drawn, not counted", item.id()),
                )
                .item(item.id())
                .many(found.all, item.id())
                .at(item.span()),
            );
            continue;
        }
        let whole = found.shape.area_m2;
        if found.area_m2 >= whole * (1.0 - ROUNDING) {
            continue;
        }
        // What sticks out of the slab has been said where the spall was placed.
        let flat = found.shape.region.area();
        let on_slab = whole * enclosed.area(&found.shape.region) / flat;
        let off = on_slab - found.area_m2;
        if off > whole * ROUNDING {
            out.push(
                Diagnostic::note(
                    found.partly,
                    format!(
                        "{} of the {} of {} lie outside the coated area: they are drawn, not counted",
                        write::area(off, facts.units()),
                        write::area(whole, facts.units()),
                        item.id()
                    ),
                )
                .item(item.id())
                .at(item.span())
                .hint("its part on the coated floor is mended; if all of it is to be, draw it clear of keep-outs and uncoated parts"),
            );
        }
    }
}
