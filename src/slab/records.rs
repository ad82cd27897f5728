//! Spalls, delaminations, blemishes, heights, tests, faces: records that need no more than their place.

use kurbo::{Point, Vec2};

use super::locate::Locator;
use super::zones::on_slab;
use super::{
    Blemish, Delamination, Embedded, Face, Level, LevelRow, MoistureTest, Outline, PourSide, Shape,
    Spall,
};
use crate::diagnostic::Diagnostic;
use crate::geometry::clip::Clipper;
use crate::geometry::region::Region;
use crate::geometry::within::Within;
use crate::quantity::{M_PER_FT, Units};
use crate::shop::Shop;
use crate::sketch::{self, At, Compass, PourFrom, Span};

/// Spacing of readings in a row, us: 12 in (ASTM E1155).
pub const ROW_SPACING_US: f64 = M_PER_FT;
/// Spacing of readings in a row, metric: 300 mm (ASTM E1155M).
pub const ROW_SPACING_METRIC: f64 = 0.3;

pub(super) fn spalls<'a>(
    spalls: &'a [sketch::Spall],
    enclosed: &Within,
    locator: &mut Locator<'a>,
) -> Vec<Spall> {
    let one = |spall: &'a sketch::Spall, locator: &mut Locator<'a>| {
        let shape = locator.shape(&spall.id.value, &spall.shape)?;
        on_slab(&spall.id.value, "spall", &shape, enclosed, spall.shape.span, locator)?;
        Some(Spall {
            id: spall.id.value.clone(),
            shape,
            part: Region::empty(),
            area_m2: 0.0,
            depth: spall.depth.value.m(),
            note: spall.note.clone(),
            span: spall.id.span,
        })
    };
    spalls
        .iter()
        .filter_map(|spall| locator.about(&spall.id.value, |locator| one(spall, locator)))
        .collect()
}

pub(super) fn delaminations<'a>(
    delaminations: &'a [sketch::Delamination],
    enclosed: &Within,
    locator: &mut Locator<'a>,
) -> Vec<Delamination> {
    let one = |loose: &'a sketch::Delamination, locator: &mut Locator<'a>| {
        let shape = locator.shape(&loose.id.value, &loose.shape)?;
        on_slab(&loose.id.value, "delamination", &shape, enclosed, loose.shape.span, locator)?;
        Some(Delamination {
            id: loose.id.value.clone(),
            shape,
            part: Region::empty(),
            area_m2: 0.0,
            depth: loose.depth.as_ref().map(|at| at.value.m()),
            treatment: loose.treatment,
            note: loose.note.clone(),
            span: loose.id.span,
        })
    };
    delaminations
        .iter()
        .filter_map(|loose| locator.about(&loose.id.value, |locator| one(loose, locator)))
        .collect()
}

pub(super) fn blemishes<'a>(
    blemishes: &'a [sketch::Blemish],
    enclosed: &Within,
    locator: &mut Locator<'a>,
) -> Vec<Blemish> {
    let one = |blemish: &'a sketch::Blemish, locator: &mut Locator<'a>| {
        let shape = locator.shape(&blemish.id.value, &blemish.shape)?;
        on_slab(&blemish.id.value, "blemish", &shape, enclosed, blemish.shape.span, locator)?;
        Some(Blemish {
            id: blemish.id.value.clone(),
            what: blemish.what.value,
            shape,
            area_m2: 0.0,
            tested: blemish.tested.as_ref().map(|at| at.value),
            tested_on: blemish.tested_on.as_ref().map(|at| at.value.clone()),
            note: blemish.note.clone(),
            span: blemish.id.span,
        })
    };
    blemishes
        .iter()
        .filter_map(|blemish| locator.about(&blemish.id.value, |locator| one(blemish, locator)))
        .collect()
}

/// The part of each blemish in K.
pub(super) fn blemish_areas(blemishes: &mut [Blemish], net: &Region) {
    if blemishes.is_empty() {
        return;
    }
    let net = Within::new(net);
    for blemish in blemishes {
        blemish.area_m2 = counted(&blemish.shape, &net.common(&blemish.shape.region));
    }
}

/// The part of each spall and delamination in K.
pub(super) fn parts(spalls: &mut [Spall], delaminations: &mut [Delamination], net: &Region) {
    if spalls.is_empty() && delaminations.is_empty() {
        return;
    }
    let net = Within::new(net);
    let spalls = spalls.iter_mut().map(|s| (&s.shape, &mut s.part, &mut s.area_m2));
    let loose = delaminations.iter_mut().map(|d| (&d.shape, &mut d.part, &mut d.area_m2));
    for (shape, part, area_m2) in spalls.chain(loose) {
        *part = net.common(&shape.region).into_owned();
        *area_m2 = counted(shape, part);
    }
}

/// The exact area where the whole shape counts; otherwise its clipped, flattened part's.
fn counted(shape: &Shape, part: &Region) -> f64 {
    let flat = shape.region.area();
    if flat > 0.0 { part.area() / flat * shape.area_m2 } else { 0.0 }
}

pub(super) fn levels<'a>(levels: &'a [sketch::Level], locator: &mut Locator<'a>) -> Vec<Level> {
    let one = |level: &'a sketch::Level, locator: &mut Locator<'a>| {
        let at = locator.point(&level.at)?;
        Some(Level { at, height_m: level.height.value.m(), span: level.at.span })
    };
    levels.iter().filter_map(|level| one(level, locator)).collect()
}

pub(super) fn level_rows<'a>(
    rows: &'a [sketch::LevelRow],
    units: Units,
    locator: &mut Locator<'a>,
) -> Vec<LevelRow> {
    let spacing_m = match units {
        Units::Us => ROW_SPACING_US,
        Units::Metric => ROW_SPACING_METRIC,
    };
    let one = |row: &'a sketch::LevelRow, locator: &mut Locator<'a>| {
        let (from, to) = (locator.point(&row.from), locator.point(&row.to));
        let (from, to) = (from?, to?);
        if (to - from).hypot() < 1e-6 {
            locator.found.push(
                Diagnostic::error("zero-length", "this row of heights has no direction")
                    .at(row.span)
                    .hint("`to` is any other point that the row runs towards"),
            );
            return None;
        }
        let heights_m = row.heights.iter().map(|h| h.value.m()).collect();
        let direction = (to - from).normalize();
        Some(LevelRow { from, direction, spacing_m, heights_m, span: row.span })
    };
    rows.iter().filter_map(|row| one(row, locator)).collect()
}

pub(super) fn moisture<'a>(
    tests: &'a [sketch::MoistureTest],
    enclosed: &Clipper,
    locator: &mut Locator<'a>,
) -> Vec<MoistureTest> {
    let one = |test: &'a sketch::MoistureTest, locator: &mut Locator<'a>| {
        let at = locator.point(&test.at)?;
        if !enclosed.contains(at) {
            locator.found.push(
                Diagnostic::error(
                    "outside-slab",
                    format!("moisture test {} lies outside the slab", test.id.value),
                )
                .item(&test.id.value)
                .at(test.at.span)
                .hint("check its coordinates: x runs to the right, y up, both from [0, 0]"),
            );
            return None;
        }
        Some(MoistureTest {
            id: test.id.value.clone(),
            at,
            rh: test.rh.as_ref().map(|r| r.value.one()),
            mver: test.mver.as_ref().map(|m| m.value),
            span: test.id.span,
        })
    };
    tests.iter().filter_map(|test| one(test, locator)).collect()
}

pub(super) fn hardness<'a>(
    tests: &'a [sketch::HardnessTest],
    locator: &mut Locator<'a>,
) -> Vec<(Point, f64, Span)> {
    tests
        .iter()
        .filter_map(|t| locator.point(&t.at).map(|at| (at, t.mohs.value, t.mohs.span)))
        .collect()
}

/// Radius of a cove, m.
pub(super) fn cove_m(cove: Option<sketch::Cove>, shop: &Shop) -> Option<f64> {
    cove.map(|cove| match cove {
        sketch::Cove::Usual => shop.coves.radius.m(),
        sketch::Cove::Radius(radius) => radius.m(),
    })
}

pub(super) fn faces<'a>(
    faces: &'a [sketch::Face],
    shop: &Shop,
    locator: &mut Locator<'a>,
) -> Vec<Face> {
    let one = |face: &'a sketch::Face, locator: &mut Locator<'a>| {
        let path = locator.path(&face.path)?;
        Some(Face {
            name: face.name.clone(),
            path,
            height_m: face.height.value.m(),
            cove_m: cove_m(face.cove, shop),
        })
    };
    faces.iter().filter_map(|face| one(face, locator)).collect()
}

pub(super) fn embedded(embedded: &[sketch::Embedded]) -> Vec<Embedded> {
    embedded
        .iter()
        .map(|e| Embedded {
            what: e.what.clone(),
            cover: e.cover.as_ref().map(|c| c.value.m()),
            span: e.span,
        })
        .collect()
}

/// The side the material is poured from; the material is pulled away from it.
pub(super) fn pour_side(
    from: Option<&At<PourFrom>>,
    outline: &Outline,
    locator: &mut Locator<'_>,
) -> Option<PourSide> {
    let from = from?;
    match from.value {
        PourFrom::Compass(side) => {
            let outward = outward(side);
            let name = side.word().to_owned();
            Some(PourSide { away: -outward, name, compass: Some(side), wall: None })
        }
        PourFrom::Wall(number) => {
            let wall = locator.wall(&At { value: number, span: from.span })?;
            let chord = wall.end() - wall.start();
            if chord.hypot() < 1e-9 {
                locator.found.push(
                    Diagnostic::error(
                        "pour-from-round-wall",
                        format!("wall {number} closes on itself and has no direction to pour from"),
                    )
                    .at(from.span)
                    .hint("name a side of the sheet: N, E, S or W"),
                );
                return None;
            }
            let unit = chord.normalize();
            let left = Vec2::new(-unit.y, unit.x);
            let away = if outline.counter_clockwise { left } else { -left };
            let name = format!("wall {number}");
            Some(PourSide { away, name, compass: None, wall: Some(number) })
        }
    }
}

/// Unit direction of a side of the sheet.
pub(super) const fn outward(side: Compass) -> Vec2 {
    match side {
        Compass::N => Vec2::new(0.0, 1.0),
        Compass::E => Vec2::new(1.0, 0.0),
        Compass::S => Vec2::new(0.0, -1.0),
        Compass::W => Vec2::new(-1.0, 0.0),
    }
}
