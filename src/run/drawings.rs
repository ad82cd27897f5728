//! The sheets of a floor's drawings: the one place where `packet` and `map` get them from.

use super::load::Loaded;
use super::terminal;
use crate::audit;
use crate::customer::{Marks, compose_marked, letterhead};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::ink::{Group, Mark, Sheet};
use crate::paper::words;
use crate::parallel;
use crate::proposal::characters;
use crate::sheet::{Audience, Options, Paper, Scale, left_off};
use crate::svg;

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
) -> Result<Vec<Sheet>, Diagnostics> {
    let options = Options { audience, paper: wish.paper, scale: wish.scale };
    let sheets = loaded.papers().sheets(&options)?;
    if audience == Audience::Customer {
        let mut texts = Vec::new();
        sheets.iter().flat_map(|s| &s.groups).for_each(|g| text(g, &mut texts));
        // The composer of the words puts a box in the place of what the font lacks.
        let floor = &loaded.survey;
        let head = letterhead(&floor.shop.proposal, None);
        let zones = floor.slab.keep_outs.iter().chain(&floor.slab.uncoated);
        let tiers = floor.slab.tiers.iter().map(|tier| &tier.what);
        let names = zones.map(|zone| &zone.what).chain(tiers);
        let names = names.filter_map(Option::as_deref);
        let shop = head.lines.iter().chain([&head.name]).map(String::as_str);
        if let Some(note) = characters(texts.into_iter().chain(names).chain(shop)) {
            terminal::rendered(&loaded.render(&[note]));
        }
    }
    let left = left_off(&sheets);
    if !left.is_empty() {
        terminal::rendered(&loaded.render(&[no_room(&left)]));
    }
    Ok(sheets)
}

/// Every line of text of a group.
fn text<'a>(group: &'a Group, out: &mut Vec<&'a str>) {
    for mark in &group.marks {
        match mark {
            Mark::Group(inner) => text(inner, out),
            Mark::Text(line) => out.push(&line.text),
            Mark::Path(_) | Mark::Image(_) => {}
        }
    }
}

/// Says which tags stand in a list instead of on the plan.
fn no_room(ids: &[String]) -> Diagnostic {
    let named = ids.iter().take(MOST_SAID).cloned().collect::<Vec<_>>();
    let more = ids.len() - named.len();
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    Diagnostic::warning(
        "tags-without-room",
        format!(
            "no room on the crew map for {}: {}{more}",
            if ids.len() == 1 { "a tag" } else { "the tags" },
            named.join(", ")
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
) -> Result<Vec<Sheet>, Diagnostics> {
    let options = Options { audience: Audience::Customer, paper: None, scale: None };
    let marks = Marks { clouded: clouds };
    let papers = loaded.papers();
    papers.with_inputs(|inputs| compose_marked(inputs, &options, &marks))
}

/// Sheets as SVG, each with the name of its file; with the font inside (`embed`) or without.
pub(super) fn files(sheets: &[Sheet], embed: bool) -> Vec<(String, String)> {
    let file = |s: &Sheet| (format!("{}.svg", s.name), svg::write_with(s, embed));
    parallel::each(sheets.len(), |i| file(&sheets[i]))
}

/// What is said about the sheets of one drawing and their files once they are made: what the audit finds on them, on standard error, and
/// what of the job's name they cut off.
///
/// A fault of the drawing is a fault of this program and not of the sketch, and the numbers are whole. So it is said, and the drawing is
/// written all the same.
pub(super) fn looked_over(
    loaded: &Loaded,
    sheets: &[Sheet],
    files: &[(String, String)],
) -> Option<Diagnostic> {
    terminal::message(&faults(&loaded.sketch.name, files));
    cut_name(&loaded.survey.sketch.job.name, sheets)
}

/// A note that the job's name is cut on some sheet.
fn cut_name(name: &str, sheets: &[Sheet]) -> Option<Diagnostic> {
    let name = words::clean(name);
    let groups = sheets.iter().flat_map(|s| &s.groups);
    let stem = groups.filter_map(|g| stem(&name, g)).min_by_key(|s| s.len())?;
    let n = stem.chars().count();
    let message = format!("the name of the job is cut on the drawings: {stem}…");
    let hint = format!("the first {n} letters have room; put the rest into `site` or `notes`");
    Some(Diagnostic::note("name-cut", message).hint(hint))
}

/// The shortest beginning of a name that stands in a group with … behind it.
fn stem<'a>(name: &str, group: &'a Group) -> Option<&'a str> {
    let found = group.marks.iter().filter_map(|mark| match mark {
        Mark::Group(inner) => stem(name, inner),
        Mark::Text(text) => {
            let stem = text.text.strip_suffix('…')?.trim_end();
            (stem.chars().count() >= LEAST_STEM && name.starts_with(stem)).then_some(stem)
        }
        Mark::Path(_) | Mark::Image(_) => None,
    });
    found.min_by_key(|s| s.len())
}

/// What the audit finds on the sheets of one set, as warnings; empty for a set in order.
pub(super) fn faults(sketch: &str, sheets: &[(String, String)]) -> String {
    let set: Vec<(&str, &str)> = sheets.iter().map(|(n, t)| (n.as_str(), t.as_str())).collect();
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

/// Fewer letters before … may be the beginning of something else than the job's name.
const LEAST_STEM: usize = 8;

#[cfg(test)]
mod tests {
    use super::{cut_name, faults};
    use crate::papers::compose;
    use crate::sheet::Audience;
    use crate::sheet::fixture::{floor, inputs, options};

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
    fn a_name_that_is_cut_is_said_once_and_a_short_one_is_not() {
        let said = |name: &str| {
            let survey = floor(&format!(
                "slabwalk: 1\njob: {{name: {name}}}\nslab:\n  outline: [[0, 0], [20', 0], [20', 16'], [0, 16']]\n"
            ));
            let sheets = compose(&inputs(&survey), &options(Audience::Crew)).expect("a drawing");
            cut_name(&survey.sketch.job.name, &sheets)
        };
        assert_eq!(said("Small garage"), None);
        let long =
            "Warehouse behind the old mill with the two loading docks and the long ramp ".repeat(3);
        let note = said(&long).expect("a note");
        assert!(note.message.contains("cut on the drawings: Warehouse behind"), "{note:?}");
    }
}
