//! Openings, keep-outs, uncoated parts, taped diagonals, and what stops a machine.

use kurbo::Point;

use super::locate::Locator;
use super::walls::wall_pieces;
use super::{DiagonalCheck, Opening, Outline, Shape, Slab, Zone};
use crate::diagnostic::Diagnostic;
use crate::geometry::within::Within;
use crate::quantity::write;
use crate::sketch::{self, At, ShapeForm, Span};

/// A share of a shape's area; less than this outside the outline is rounding, not a sketch.
const STICKS_OUT: f64 = 1e-6;

/// Least area to coat, m²: 1 cm²; less is what rounding leaves.
pub(super) const LEAST_NET: f64 = 1e-4;

/// What is wrong with a floor of which nothing is coated.
pub(super) fn nothing_left(slab: &Slab) -> Diagnostic {
    let zones = slab.keep_outs.iter().chain(&slab.uncoated);
    let last = zones.last().map_or(slab.outline.span, |zone| zone.span);
    Diagnostic::error(
        "nothing-to-coat",
        "keep-outs and uncoated parts take the whole floor: nothing is left to coat",
    )
    .at(last)
    .hint("check their sizes: a bare number on the plan is feet, or meters under units: metric")
}

pub(super) fn openings<'a>(
    openings: &'a [sketch::Opening],
    locator: &mut Locator<'a>,
) -> Vec<Opening> {
    openings.iter().filter_map(|o| opening(o, locator)).collect()
}

fn opening<'a>(opening: &'a sketch::Opening, locator: &mut Locator<'a>) -> Option<Opening> {
    let wall = locator.wall(&opening.wall)?;
    let name = format!("wall {}", opening.wall.value);
    let from = locator.station(&opening.from, wall.length(), &name);
    let to = locator.station(&opening.to, wall.length(), &name);
    let (from_m, to_m) = (from?, to?);
    Some(Opening {
        name: opening.name.clone(),
        wall: opening.wall.value,
        from_m: from_m.min(to_m),
        to_m: from_m.max(to_m),
        path: wall.part(from_m.min(to_m), from_m.max(to_m)),
        span: opening.span,
    })
}

pub(super) fn keep_outs<'a>(
    zones: &'a [sketch::KeepOut],
    enclosed: &Within,
    locator: &mut Locator<'a>,
) -> Vec<Zone> {
    zones
        .iter()
        .filter_map(|zone| {
            let id = &zone.id.value;
            let placed = locator.about(id, |locator| {
                placed("keep-out", &zone.id, &zone.shape, enclosed, locator)
            })?;
            Some(Zone { what: zone.what.clone(), flush: zone.flush, ..placed })
        })
        .collect()
}

pub(super) fn uncoated<'a>(
    zones: &'a [sketch::Uncoated],
    enclosed: &Within,
    locator: &mut Locator<'a>,
) -> Vec<Zone> {
    zones
        .iter()
        .filter_map(|zone| {
            let id = &zone.id.value;
            let placed = locator.about(id, |locator| {
                placed("uncoated part", &zone.id, &zone.shape, enclosed, locator)
            })?;
            Some(Zone { what: zone.what.clone(), ..placed })
        })
        .collect()
}

/// A flush zone without words, held against the outline.
fn placed<'a>(
    kind: &str,
    id: &At<String>,
    form: &'a At<ShapeForm>,
    enclosed: &Within,
    locator: &mut Locator<'a>,
) -> Option<Zone> {
    let shape = locator.shape(&id.value, form)?;
    on_slab(&id.value, kind, &shape, enclosed, form.span, locator)?;
    Some(Zone { id: id.value.clone(), what: None, flush: true, shape, span: id.span })
}

/// Notes an error for a shape wholly outside the outline and a warning for one that sticks out.
pub(super) fn on_slab(
    id: &str,
    what: &str,
    shape: &Shape,
    enclosed: &Within,
    span: Span,
    locator: &mut Locator<'_>,
) -> Option<()> {
    on_slab_at_all(id, what, shape, enclosed, span, locator)?;
    let inside = enclosed.area(&shape.region);
    let whole = shape.region.area();
    if inside < whole * (1.0 - STICKS_OUT) {
        let units = locator.units();
        locator.found.push(
            Diagnostic::warning(
                "sticks-out",
                format!(
                    "{what} {id} sticks out of the slab: {} of its {} lie outside and count for nothing",
                    write::area(whole - inside, units),
                    write::area(whole, units)
                ),
            )
            .item(id)
            .at(span)
            .hint("check its place and size, or leave it if it really runs on past the slab"),
        );
    }
    Some(())
}

/// Notes an error for a shape wholly outside the outline.
pub(super) fn on_slab_at_all(
    id: &str,
    what: &str,
    shape: &Shape,
    enclosed: &Within,
    span: Span,
    locator: &mut Locator<'_>,
) -> Option<()> {
    if enclosed.area(&shape.region) > shape.region.area() * STICKS_OUT {
        return Some(());
    }
    locator.found.push(
        Diagnostic::error("outside-slab", format!("{what} {id} lies wholly outside the slab"))
            .item(id)
            .at(span)
            .hint("check its coordinates: x runs to the right, y up, both from [0, 0]"),
    );
    None
}

pub(super) fn checks(checks: &[sketch::Check], locator: &mut Locator<'_>) -> Vec<DiagonalCheck> {
    let mut out = Vec::new();
    for check in checks {
        let (from, to) = (locator.corner(&check.from), locator.corner(&check.to));
        let (Some(from), Some(to)) = (from, to) else {
            continue;
        };
        out.push(DiagonalCheck {
            from: check.from.value,
            to: check.to.value,
            measured_m: check.measured.value.m(),
            computed_m: (to - from).hypot(),
            span: check.span,
        });
    }
    out
}

/// What stops a machine: the walls but for their openings, and keep-outs that are not flush.
pub(super) fn obstacles(
    outline: &Outline,
    openings: &[Opening],
    keep_outs: &[Zone],
) -> Vec<[Point; 2]> {
    let mut out = Vec::new();
    for (wall, pieces) in wall_pieces(outline, openings) {
        for piece in pieces.iter().filter(|piece| piece.opening.is_none()) {
            let part = wall.part(piece.on.from_m, piece.on.to_m);
            out.extend(part.points().windows(2).map(|p| [p[0], p[1]]));
        }
    }
    for zone in keep_outs.iter().filter(|zone| !zone.flush) {
        for ring in &zone.shape.rings {
            out.extend(ring.points().windows(2).map(|p| [p[0], p[1]]));
        }
    }
    out
}
