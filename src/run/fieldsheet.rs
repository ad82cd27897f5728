//! `slabwalk fieldsheet`: a blank form to take along to a slab.

use super::picture::Target;
use super::{Exit, load, terminal};
use crate::cli::{FieldsheetArgs, Picture, System};
use crate::field;
use crate::field::{Blank, Expected};
use crate::papers;
use crate::pdf::{self, Metadata};
use crate::quantity::Units;
use crate::quantity::read;

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
    let (shop, _) = load::book(args.reading.shop.as_deref())?;
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
        subject: sheets.first().map(|s| s.description.clone()).unwrap_or_default(),
        creator: papers::creator(),
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
            ("--size", text, size.map(|(w, h)| Expected::Size(w.m(), h.m())))
        }
        (None, None) => return Ok(Expected::Unknown),
    };
    let found = found.map_err(|error| terminal::refused(option, text, &error))?;
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
