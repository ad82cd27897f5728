//! The sheets of a floor's drawings: the one place where `packet` and `map` get them from.

use std::path::Path;

use sha2::{Digest, Sha256};

use super::load::Loaded;
use super::terminal;
use crate::audit;
use crate::diagnostic::Diagnostic;
use crate::ink::Sheet;
use crate::pdf::{self, Metadata};
use crate::schedule;
use crate::sheet::customer::{Marks, compose_marked};
use crate::sheet::{Audience, Inputs, Options, Paper, Scale, compose, left_off};

/// Paper and scale as asked for; the program's choice where nothing was said.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Wish {
    pub paper: Option<Paper>,
    pub scale: Option<Scale>,
}

/// The sheets of one drawing of a floor.
///
/// # Errors
///
/// Errors if the floor does not fit the paper; warnings alone if the rest of a packet can go on without this drawing.
pub(super) fn sheets(
    loaded: &Loaded,
    audience: Audience,
    wish: Wish,
) -> Result<Vec<Sheet>, Vec<Diagnostic>> {
    let options = Options {
        audience,
        paper: wish.paper,
        scale: wish.scale,
    };
    let sheets = with_inputs(loaded, |inputs| compose(inputs, &options))?;
    let left = left_off(&sheets);
    if !left.is_empty() {
        terminal::rendered(&loaded.render(&[no_room(&left)]));
    }
    Ok(sheets)
}

/// Says which tags stand in a list instead of on the plan.
fn no_room(ids: &[String]) -> Diagnostic {
    Diagnostic::warning(
        "tags-without-room",
        format!(
            "no room on the crew map for {}: {}",
            if ids.len() == 1 { "a tag" } else { "the tags" },
            ids.join(", ")
        ),
    )
    .hint("they stand in a list beside the map; items that lie on top of each other are better one record")
}

/// The customer's drawing with clouds around these items, each with its number.
///
/// # Errors
///
/// Errors if the floor does not fit the paper.
pub(super) fn clouded(
    loaded: &Loaded,
    clouds: &[(String, u32)],
) -> Result<Vec<Sheet>, Vec<Diagnostic>> {
    let options = Options {
        audience: Audience::Customer,
        paper: None,
        scale: None,
    };
    let marks = Marks { clouded: clouds };
    with_inputs(loaded, |inputs| compose_marked(inputs, &options, &marks))
}

/// What a drawing of a floor is made from.
pub(super) fn with_inputs<T>(loaded: &Loaded, draw: impl FnOnce(&Inputs) -> T) -> T {
    let floor = &loaded.survey;
    let name = Path::new(&loaded.sketch.name)
        .file_name()
        .and_then(|n| n.to_str());
    let plan = schedule::plan(floor);
    draw(&Inputs {
        job: &floor.sketch.job,
        slab: &floor.slab,
        takeoff: &floor.takeoff,
        order: Some(&floor.order),
        plan: Some(&plan),
        wanted: None,
        shop: &floor.shop,
        source_name: name.unwrap_or_default(),
        digest: &digest(&loaded.sketch.text),
    })
}

/// Sheets of a floor as one PDF, with the job's name, the surveyor and the day of the survey in it.
///
/// # Errors
///
/// What the PDF writer says.
pub(super) fn pdf(loaded: &Loaded, sheets: &[Sheet]) -> Result<Vec<u8>, pdf::Error> {
    let job = &loaded.survey.sketch.job;
    let titles: Vec<&str> = sheets.iter().map(|s| s.title.as_str()).collect();
    let metadata = Metadata {
        title: titles.first().map(ToString::to_string).unwrap_or_default(),
        author: job.surveyor.clone().unwrap_or_default(),
        subject: titles.join("; "),
        creator: creator(),
        date: job.surveyed.as_ref().and_then(|d| day(&d.value)),
        ..Metadata::default()
    };
    pdf::write(sheets, &metadata)
}

/// What the audit finds on the sheets of one set, as warnings; empty for a set in order.
pub(super) fn faults(sketch: &str, sheets: &[(String, String)]) -> String {
    let set: Vec<(&str, &str)> = sheets
        .iter()
        .map(|(n, t)| (n.as_str(), t.as_str()))
        .collect();
    let found = audit::audit_set(&set);
    if found.is_empty() {
        return String::new();
    }
    let mut out = String::new();
    for fault in found.iter().take(MOST_SAID) {
        out.push_str(&format!("warning[drawing-fault]: {sketch}: {fault}\n"));
    }
    if found.len() > MOST_SAID {
        out.push_str(&format!("and {} faults more\n", found.len() - MOST_SAID));
    }
    out.push_str("hint: this is a fault of the program's drawing, not of the sketch; the quantities are whole, look at the sheet before it is used\n");
    out
}

/// Most faults of one drawing that are said.
const MOST_SAID: usize = 20;

/// The program as a PDF names it.
pub(super) fn creator() -> String {
    format!("slabwalk {}", env!("CARGO_PKG_VERSION"))
}

/// Year, month and day of a date as the sketch writes it.
fn day(text: &str) -> Option<(u16, u8, u8)> {
    let mut parts = text.split('-');
    let day = (
        parts.next()?.parse().ok()?,
        parts.next()?.parse().ok()?,
        parts.next()?.parse().ok()?,
    );
    parts.next().is_none().then_some(day)
}

/// SHA-256 of a text in hexadecimal, so that a print can be matched with the sketch it was made from.
pub(super) fn digest(text: &str) -> String {
    Sha256::digest(text)
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::{day, faults};

    #[test]
    fn a_fault_names_its_sheet_and_a_sound_sheet_says_nothing() {
        let sheet = |size: &str| {
            let svg = format!(
                "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"100mm\" height=\"50mm\" viewBox=\"0 0 100 50\">\
                 <text x=\"10\" y=\"20\" font-size=\"{size}\">NOTES</text></svg>"
            );
            [("crew-map-2.svg".to_owned(), svg)]
        };
        assert_eq!(faults("garage.yaml", &sheet("4")), "");
        let said = faults("garage.yaml", &sheet("2"));
        let start = "warning[drawing-fault]: garage.yaml: crew-map-2.svg: [small-text] \"NOTES\"";
        assert!(said.starts_with(start), "{said}");
        assert!(said.contains("the quantities are whole"), "{said}");
    }

    #[test]
    fn a_day_is_three_numbers() {
        let rows = [
            ("2026-09-14", Some((2026, 9, 14))),
            ("2026-09", None),
            ("2026-09-14-1", None),
            ("soon", None),
        ];
        for (text, wanted) in rows {
            assert_eq!(day(text), wanted, "{text}");
        }
    }
}
