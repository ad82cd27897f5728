//! `slabwalk takeoff`: the quantities, to standard output.

use super::load::Loaded;
use super::{Exit, load, terminal};
use crate::cli::{Format, TakeoffArgs};
use crate::explain::Explanations;
use crate::report;
use crate::text;

pub(super) fn takeoff(args: &TakeoffArgs) -> Exit {
    let loaded = match load::load(&args.sketch, &args.reading) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    if !args.explain.is_empty() {
        return explained(&loaded, &args.explain);
    }
    let report = loaded.papers().report();
    if args.format != Format::Text {
        loaded.say_stops();
    }
    let exit = match args.format {
        Format::Json => terminal::written(|out| report::json::write(&report, out)),
        Format::Csv => terminal::data(&report::csv::takeoff(&report)),
        Format::Text => terminal::data(&report::text::takeoff(&report, text::COLUMNS.into())),
    };
    // The process ends here: taking a large floor apart piece by piece would only cost time.
    std::mem::forget(loaded);
    exit
}

fn explained(loaded: &Loaded, items: &[String]) -> Exit {
    let explanations = Explanations::new(&loaded.survey);
    let known = explanations.ids();
    let asked: Vec<String> =
        if items.iter().any(|i| i == "all") { known.clone() } else { items.to_vec() };
    let mut text = String::new();
    for id in &asked {
        match explanations.of(id) {
            Some(lines) => {
                text.push_str(&format!("{}\n", crate::text::clean(id)));
                for line in lines {
                    text.push_str(&format!("  {line}\n"));
                }
            }
            None => {
                terminal::message(&format!(
                    "error: there is no item `{id}` on this floor\nhint: it has {}\n",
                    known.join(", ")
                ));
                return Exit::Usage;
            }
        }
    }
    terminal::data(&crate::text::folded(&text))
}
