//! `slabwalk quick`: what is said on the telephone, to standard output.

use super::{Exit, load, terminal};
use crate::cli::{QuickArgs, QuickFormat, System};
use crate::price::quick::{self, Call};
use crate::price::report::EXAMPLE_PRICES;
use crate::quantity::Units;
use crate::quantity::read::{self, Bare, ReadError};
use crate::shop::Shop;

pub(super) fn quick(args: &QuickArgs) -> Exit {
    made(args).unwrap_or_else(|exit| exit)
}

fn made(args: &QuickArgs) -> Result<Exit, Exit> {
    let (shop, book) = load::book(args.reading.shop.as_deref())?;
    let call = call(args, &shop)?;
    let quick = quick::quick(call, shop).map_err(|found| {
        terminal::rendered(&load::rendered(&found, None, book.as_ref()));
        Exit::Usage
    })?;
    if quick.example && args.format == QuickFormat::Json {
        terminal::message(&format!("warning: {EXAMPLE_PRICES}\n"));
    }
    Ok(terminal::data(&match args.format {
        QuickFormat::Text => quick.text(),
        QuickFormat::Json => quick.json(),
    }))
}

/// What the command line says of the floor.
fn call(args: &QuickArgs, shop: &Shop) -> Result<Call, Exit> {
    let units = match args.units {
        System::Us => Units::Us,
        System::Metric => Units::Metric,
    };
    let names: Vec<&str> = shop.systems.keys().map(String::as_str).collect();
    let system = args.system.clone().ok_or_else(|| {
        let known = names.join(", ");
        left_out("a coating system", &format!("--system NAME, one of {known}"))
    })?;
    if !shop.systems.contains_key(&system) {
        let near = crate::form::nearest(&system, names.iter().copied());
        let near = near.map_or(String::new(), |name| format!("did you mean {name}? "));
        return Err(terminal::refused(
            "--system",
            &system,
            &ReadError {
                problem: "the shop book has no coating system of that name".into(),
                hint: format!("{near}it has {}", names.join(", ")),
            },
        ));
    }
    let area = args
        .area
        .as_ref()
        .ok_or_else(|| left_out("the area of the floor", "--area \"480 ft2\""))?;
    let area_m2 =
        read::area(area, units).map_err(|error| terminal::refused("--area", area, &error))?;
    Ok(Call {
        system,
        area_m2,
        joint_m: run(args.joint.as_ref(), "--joint", units)?,
        crack_m: run(args.crack.as_ref(), "--crack", units)?,
        units,
    })
}

fn left_out(what: &str, example: &str) -> Exit {
    terminal::message(&format!("error: a quick price needs {what}\nhint: add {example}\n"));
    Exit::Usage
}

/// Meters of joint or crack; none where nothing is said.
fn run(text: Option<&String>, option: &str, units: Units) -> Result<f64, Exit> {
    let Some(text) = text else { return Ok(0.0) };
    let found = read::length(text, Bare::Plan(units)).and_then(|length| {
        if length.m() >= 0.0 {
            return Ok(length.m());
        }
        Err(ReadError {
            problem: "it is negative".into(),
            hint: "write it like 60 ft or 18 m".into(),
        })
    });
    found.map_err(|error| terminal::refused(option, text, &error))
}
