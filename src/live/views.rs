//! The drawings that the page can show, made when they are asked for.

use crate::diagnostic::Diagnostic;
use crate::floor::Survey;
use crate::ink::Sheet;
use crate::papers::Papers;
use crate::quantity::write;
use crate::sheet::Audience;
use crate::slab::Slab;
use crate::svg;

use super::drawing;
use super::floor::Floor;

/// Names of the drawings, what the page calls them, and whom they are for; the bare floor comes first.
pub const VIEWS: &[(&str, &str, Option<Audience>)] = &[
    ("floor", "Floor", None),
    ("crew", "Crew", Some(Audience::Crew)),
    ("customer", "Customer", Some(Audience::Customer)),
    ("field", "Field", Some(Audience::Field)),
];

/// Most items that a sheet is drawn with while somebody waits for it.
const MOST_ITEMS: usize = 3000;

/// Sheets of a drawing as SVG, without the fonts, which the page has already.
///
/// # Errors
///
/// In words: no such drawing, or none that can be made of this floor.
pub fn sheets(floor: &Floor, source: &str, name: &str) -> Result<Vec<String>, String> {
    let view = VIEWS.iter().find(|(known, ..)| *known == name);
    let (_, _, audience) = view.ok_or_else(|| format!("there is no drawing `{name}`"))?;
    let placed = floor.resolved().ok_or("there is no floor yet")?;
    let Some(audience) = audience else {
        return Ok(vec![drawing::floor(&placed.slab)]);
    };
    few_enough(&placed.slab)?;
    let survey = floor.survey().ok_or("there is no floor yet")?;
    let papers = Papers { floor: survey, name: source, text: &floor.text, book: None, logo: None };
    let written = |sheet: &Sheet| svg::write_with(sheet, false);
    papers
        .drawing(*audience)
        .map(|sheets| sheets.iter().map(written).collect())
        .map_err(|found| in_words(&found))
}

/// Diagnostics as one sentence for the page.
pub(super) fn in_words(found: &[Diagnostic]) -> String {
    let messages: Vec<&str> = found.iter().map(|d| d.message.as_str()).collect();
    messages.join("; ")
}

/// Whether sheets of a floor can be drawn while somebody waits.
fn few_enough(slab: &Slab) -> Result<(), String> {
    let items = super::record::ids(slab).len();
    if items > MOST_ITEMS {
        return Err(format!(
            "this floor has {items} items, and a sheet is drawn here with {MOST_ITEMS} at most: draw it with `slabwalk map`; the bare floor shows them all"
        ));
    }
    Ok(())
}

/// Quantities that run along, each with what the page calls it and the item that explains it.
#[must_use]
pub fn quantities(survey: &Survey) -> Vec<(String, String, String)> {
    let (t, units) = (&survey.takeoff, survey.slab.units);
    let joints: f64 = t.joints.iter().map(|j| j.length_m).sum();
    let row = |label: &str, value: String, item: &str| (label.to_owned(), value, item.to_owned());
    let mut out = vec![
        row("Coated floor", write::area(t.area.net_m2, units), "area"),
        row("Edge", write::run(t.edge_m, units), "edge"),
        row("Joints", write::run(joints, units), "totals"),
        row("Cracks", write::run(t.totals.crack_m, units), "totals"),
        row("Patches", t.patches.len().to_string(), "totals"),
        row("Ground by hand at offsets", write::run(t.totals.hand_grind_m, units), "totals"),
    ];
    out.extend(survey.order.rows.iter().map(|r| {
        let word = if r.packages == 1 { "package" } else { "packages" };
        (r.item.to_string(), format!("{} {word}", r.packages), r.item.to_string())
    }));
    out
}
