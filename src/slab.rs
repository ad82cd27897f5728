//! Stage 2: a sketch becomes a [`Slab`] of geometry. Knows no file format and no paper.

mod cracks;
pub mod directions;
mod floor;
mod item;
mod joints;
mod lippage;
mod locate;
mod model;
mod once;
mod outline;
mod panels;
mod records;
mod shapes;
mod tiers;
mod walls;
mod zones;

pub use floor::ON_TOP;
pub use item::{Item, Place};
pub use locate::FARTHEST;
pub use model::*;
pub use once::{along_walls, stretches};
pub use outline::{CLOSED_SILENTLY, LEAST_TOLERANCE, TOLERANCE_RATIO};
pub use walls::{WallPiece, wall_pieces};

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

use crate::diagnostic::{Diagnostic, Severity};
use crate::geometry::arrangement::{ArrangementError, Class};
use crate::geometry::clip::Clipper;
use crate::geometry::region::{Region, counter_clockwise};
use crate::geometry::within::Within;
use crate::shop::Shop;
use crate::sketch::Sketch;
use floor::{Floor, Parts};
use locate::Locator;

/// Resolves a sketch to geometry.
///
/// The slab is `None` if there is any error among the diagnostics; without errors they hold the
/// warnings and notes of this stage, which belong among the findings.
#[must_use]
pub fn resolve(sketch: &Sketch, shop: &Shop) -> (Option<Slab>, Vec<Diagnostic>) {
    let (slab, found) = resolved(sketch, shop);
    (slab, once_a_record(found))
}

/// What is said of several items of one repeated record is said once, of the first.
fn once_a_record(found: Vec<Diagnostic>) -> Vec<Diagnostic> {
    let mut out: Vec<(Diagnostic, usize)> = Vec::with_capacity(found.len());
    let mut said = BTreeMap::new();
    for fault in found {
        let record = fault.item.as_deref().and_then(|id| id.rsplit_once('.'));
        let place = fault.place.map(|place| place.span);
        let key = record.map(|(record, _)| (fault.code, place, record.to_owned()));
        match key.map(|key| said.entry(key)) {
            Some(Entry::Occupied(first)) => {
                let first: &usize = first.get();
                out[*first].1 += 1;
            }
            Some(Entry::Vacant(free)) => {
                free.insert(out.len());
                out.push((fault, 0));
            }
            None => out.push((fault, 0)),
        }
    }
    let told = |(mut fault, more): (Diagnostic, usize)| {
        let record = fault.item.as_deref().and_then(|id| id.rsplit_once('.'));
        if let (Some((record, _)), true) = (record, more > 0) {
            fault.message += &format!("; so it is with {more} more of {record}");
        }
        fault
    };
    out.into_iter().map(told).collect()
}

fn resolved(sketch: &Sketch, shop: &Shop) -> (Option<Slab>, Vec<Diagnostic>) {
    let mut found = Vec::new();
    let Some(outline) = outline::outline(&sketch.slab.outline, sketch.units, &mut found) else {
        return (None, found);
    };
    let enclosed = Region::from_rings(&[counter_clockwise(outline.path.ring())]);
    let clipper = Clipper::new(&enclosed);
    let mut locator = Locator::new(sketch, &outline, &clipper);
    let mut parts = placed(sketch, shop, &outline, &enclosed, &clipper, &mut locator);
    found.append(&mut locator.found);
    let failed = |found: &[Diagnostic]| found.iter().any(|d| d.severity == Severity::Error);
    if !failed(&found) {
        let Placed { joints, keep_outs, tiers, .. } = &mut parts;
        joints::end(&sketch.joints, joints, keep_outs, tiers, &mut found);
    }
    if failed(&found) {
        return (None, found);
    }
    match assemble(sketch, shop, outline, enclosed, parts) {
        Ok(slab) => {
            cracks::outside(&slab, sketch, &mut found);
            if slab.areas.net <= zones::LEAST_NET {
                found.push(zones::nothing_left(&slab));
            } else {
                tiers::without_use(&slab, sketch, &mut found);
            }
            ((!failed(&found)).then_some(slab), found)
        }
        Err(error) => {
            found.push(too_fine(&error, sketch));
            (None, found)
        }
    }
}

/// Everything of the sketch that has a place, each by itself.
struct Placed {
    openings: Vec<Opening>,
    keep_outs: Vec<Zone>,
    uncoated: Vec<Zone>,
    tiers: Vec<Tier>,
    joints: Vec<Joint>,
    cracks: Vec<Crack>,
    spalls: Vec<Spall>,
    delaminations: Vec<Delamination>,
    blemishes: Vec<Blemish>,
    lippage: Vec<Lippage>,
    levels: Vec<Level>,
    level_rows: Vec<LevelRow>,
    moisture: Vec<MoistureTest>,
    hardness: Vec<(kurbo::Point, f64, crate::sketch::Span)>,
    faces: Vec<Face>,
    checks: Vec<DiagonalCheck>,
    pour_from: Option<PourSide>,
}

fn placed<'a>(
    sketch: &'a Sketch,
    shop: &Shop,
    outline: &'a Outline,
    enclosed: &Region,
    clipper: &Clipper,
    locator: &mut Locator<'a>,
) -> Placed {
    let tiers = tiers::placed(&sketch.slab.tiers, enclosed, shop, locator);
    let enclosed = &Within::new(enclosed);
    Placed {
        tiers,
        openings: zones::openings(&sketch.slab.openings, locator),
        keep_outs: zones::keep_outs(&sketch.slab.keep_outs, enclosed, locator),
        uncoated: zones::uncoated(&sketch.coating.uncoated, enclosed, locator),
        joints: joints::placed(&sketch.joints, locator),
        cracks: cracks::placed(&sketch.cracks, locator),
        spalls: records::spalls(&sketch.spalls, enclosed, locator),
        delaminations: records::delaminations(&sketch.delaminations, enclosed, locator),
        blemishes: records::blemishes(&sketch.blemishes, enclosed, locator),
        lippage: lippage::placed(&sketch.lippage, locator),
        levels: records::levels(&sketch.levels, locator),
        level_rows: records::level_rows(&sketch.level_rows, sketch.units, locator),
        moisture: records::moisture(&sketch.tests.moisture, clipper, locator),
        hardness: records::hardness(&sketch.tests.hardness, locator),
        faces: records::faces(&sketch.coating.faces, shop, locator),
        checks: zones::checks(&sketch.slab.checks, locator),
        pour_from: records::pour_side(sketch.coating.pour_from.as_ref(), outline, locator),
    }
}

fn assemble(
    sketch: &Sketch,
    shop: &Shop,
    outline: Outline,
    enclosed: Region,
    mut placed: Placed,
) -> Result<Slab, ArrangementError> {
    let floor = Floor::new(&Parts {
        outline: &outline,
        openings: &placed.openings,
        keep_outs: &placed.keep_outs,
        uncoated: &placed.uncoated,
        tiers: &placed.tiers,
        joints: &placed.joints,
        snap: shop.panels.snap.m(),
    })?;
    let (reached, net) = (floor.region(Class::Reached), floor.region(Class::Net));
    let (in_net, in_reached) = (Clipper::new(&net), Clipper::new(&reached));
    once::scope(&mut placed.joints, &mut placed.cracks, &in_net, &in_reached);
    records::blemish_areas(&mut placed.blemishes, &net);
    records::parts(&mut placed.spalls, &mut placed.delaminations, &net);
    let risers = tiers::risers(&floor, &mut placed.tiers);
    placed.faces.extend(tiers::faces(&placed.tiers, &risers));
    let faces = placed.faces.iter().map(Face::area_m2).sum();
    let obstacles = zones::obstacles(&outline, &placed.openings, &placed.keep_outs);
    let mut slab = Slab {
        units: sketch.units,
        thickness: sketch.slab.thickness.as_ref().map(|t| t.value.m()),
        post_tension: (sketch.slab.post_tension.value, sketch.slab.post_tension.span),
        embedded: records::embedded(&sketch.slab.embedded),
        areas: Areas { faces, ..floor.areas() },
        edges: floor.edges(),
        obstacles,
        enclosed,
        reached,
        net,
        outline,
        checks: placed.checks,
        openings: placed.openings,
        keep_outs: placed.keep_outs,
        uncoated: placed.uncoated,
        tiers: placed.tiers,
        risers,
        joints: placed.joints,
        cracks: placed.cracks,
        spalls: placed.spalls,
        delaminations: placed.delaminations,
        blemishes: placed.blemishes,
        lippage: placed.lippage,
        panels: Vec::new(),
        levels: placed.levels,
        level_rows: placed.level_rows,
        moisture: placed.moisture,
        hardness: placed.hardness,
        faces: placed.faces,
        pour_from: placed.pour_from,
    };
    slab.panels = panels::panels(&floor, &slab);
    Ok(slab)
}

fn too_fine(error: &ArrangementError, sketch: &Sketch) -> Diagnostic {
    Diagnostic::error("floor-too-complex", format!("this floor can't be computed: {error}"))
        .at(sketch.slab.outline.span)
        .hint("check the coordinates; many lines on top of each other do this too")
}
