//! `slabwalk fieldsheet`: a blank form to take along to a slab.

use super::picture::Target;
use super::{Exit, drawings, load, terminal};
use crate::cli::{FieldsheetArgs, Picture, Reading, System};
use crate::pdf::{self, Metadata};
use crate::quantity::Units;
use crate::quantity::read::{self, ReadError};
use crate::sheet::field::{self, Blank, Expected};
use crate::shop::{self, Shop};

/// Largest floor that is taken for one, m²: a thousand hectares, ten times the largest building.
const LARGEST_M2: f64 = 1e7;

pub(super) fn fieldsheet(args: &FieldsheetArgs) -> Exit {
    made(args).unwrap_or_else(|exit| exit)
}

fn made(args: &FieldsheetArgs) -> Result<Exit, Exit> {
    let target = Target::of(&args.drawing, Picture::Pdf)?;
    let units = match args.units {
        System::Us => Units::Us,
        System::Metric => Units::Metric,
    };
    let expected = expected(args, units)?;
    let shop = book(&args.reading)?;
    let asked = Blank {
        units,
        paper: args.drawing.paper,
        scale: args.drawing.scale,
        expected,
        shop: &shop,
    };
    let sheets = field::blank(&asked).map_err(|found| {
        for fault in found {
            let hint = fault.hint.unwrap_or_default();
            terminal::message(&format!("error: {}\nhint: {hint}\n", fault.message));
        }
        Exit::Usage
    })?;
    let metadata = Metadata {
        title: "Field sheet".into(),
        subject: sheets
            .first()
            .map(|s| s.description.clone())
            .unwrap_or_default(),
        creator: drawings::creator(),
        ..Metadata::default()
    };
    Ok(target.write(&sheets, |sheets| pdf::write(sheets, &metadata)))
}

/// Size of the floor as the command line gives it.
fn expected(args: &FieldsheetArgs, units: Units) -> Result<Expected, Exit> {
    let (option, text, found) = match (&args.area, &args.size) {
        (Some(text), _) => ("--area", text, read::area(text, units).map(Expected::Area)),
        (None, Some(text)) => {
            let size = read::size(text, units);
            (
                "--size",
                text,
                size.map(|(w, h)| Expected::Size(w.m(), h.m())),
            )
        }
        (None, None) => return Ok(Expected::Unknown),
    };
    let refused = |error: ReadError| {
        terminal::message(&format!(
            "error: {option} `{text}`: {}\nhint: {}\n",
            error.problem, error.hint
        ));
        Exit::Usage
    };
    let found = found.map_err(refused)?;
    if believable(found) {
        return Ok(found);
    }
    terminal::message(&format!(
        "error: {option} `{text}`: no floor is that large\nhint: write it like 500 ft2 or 24' x 22'\n"
    ));
    Err(Exit::Usage)
}

fn believable(expected: Expected) -> bool {
    match expected {
        Expected::Unknown => true,
        Expected::Area(area) => area <= LARGEST_M2,
        Expected::Size(w, h) => w * h <= LARGEST_M2 && w.max(h) <= LARGEST_M2.sqrt(),
    }
}

/// The shop book asked for, or the built-in one.
fn book(reading: &Reading) -> Result<Shop, Exit> {
    let Some(path) = &reading.shop else {
        return Ok(shop::built_in());
    };
    let text = load::read(path, "shop book")?;
    let (parsed, found) = shop::parse(&text.text);
    if !found.is_empty() {
        let texts = Some((text.name.as_str(), text.text.as_str()));
        terminal::rendered(&crate::render::render(
            &found,
            ("", ""),
            texts,
            terminal::color(),
        ));
    }
    parsed.ok_or(Exit::Sketch)
}
