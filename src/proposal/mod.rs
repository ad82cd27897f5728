//! The paper that a customer signs: what is done and what is not, what it costs, what more would cost.
//!
//! Quantities come from the takeoff, times from the plan, prices from [`CustomerPrice`], which has no room for a cost; words come from the
//! shop book. [`proposal()`] makes the content once; [`crate::document`] writes it as pages and as HTML.

mod conditions;
mod date;
mod drawing;
mod found;
mod money;
mod scope;
mod terms;
mod voice;

pub use drawing::drawing;

use crate::diagnostic::Diagnostic;
use crate::document::{Block, Document, Figure, Picturing, Text};
use crate::ink::Sheet;
use crate::photo::Photograph;
use crate::price::CustomerPrice;
use crate::schedule::Plan;
use crate::survey::Survey;
use crate::takeoff::words::clean;

use voice::Voice;

/// Everything that a proposal is made from.
#[derive(Clone, Debug)]
pub struct Inputs<'a> {
    /// The surveyed floor.
    pub floor: &'a Survey,
    /// What the customer may see of the price.
    pub price: &'a CustomerPrice,
    /// The plan by days.
    pub plan: &'a Plan,
    /// The drawing for the customer, at the size it has on the page; `None` where there is none.
    pub drawing: Option<Sheet>,
    /// The photographs that the sketch names, in its order; `None` for those that can't be shown.
    pub photos: &'a [Option<Photograph>],
}

/// Makes the content, and what somebody has to look at before it is signed.
#[must_use]
pub fn proposal(inputs: &Inputs) -> (Document, Vec<Diagnostic>) {
    let mut voice = Voice::new(inputs);
    let job = &inputs.floor.sketch.job;
    let title = voice.say("title").unwrap_or_else(|| "Proposal".into());
    let mut blocks = Vec::new();
    blocks.extend(terms::not_to_be_signed(inputs));
    blocks.push(Block::Facts(terms::parties(&mut voice)));
    blocks.extend(voice.paragraph("intro"));
    blocks.extend(conditions::holds(&mut voice));
    blocks.extend(scope::work(&mut voice));
    blocks.extend(scope::coating(&mut voice));
    blocks.extend(found::tests(&mut voice));
    blocks.extend(photos(inputs));
    blocks.extend(conditions::excluded(&mut voice));
    blocks.extend(conditions::duties(&mut voice));
    blocks.extend(terms::schedule(&mut voice));
    blocks.extend(money::prices(&mut voice));
    blocks.extend(terms::terms(&mut voice));
    blocks.extend(conditions::safety(&mut voice));
    blocks.extend(terms::acceptance(&mut voice));
    let document = Document {
        subtitle: subtitle(inputs),
        subject: format!(
            "{title} for {}: scope, drawing, prices and terms.",
            clean(&job.name)
        ),
        title: format!("{title}: {}", clean(&job.name)),
        author: voice.say("company").unwrap_or_default(),
        running: running(inputs),
        date: date::numbers(job.surveyed.as_ref().map(|d| d.value.as_str())),
        blocks,
    };
    let mut found = voice.findings();
    found.extend(characters(&document));
    (document, found)
}

/// Client, place and day under the title.
fn subtitle(inputs: &Inputs) -> String {
    let job = &inputs.floor.sketch.job;
    let day = job.surveyed.as_ref().map(|d| date::words(&d.value));
    let parts = [
        job.client.as_deref().map(clean),
        job.site.as_deref().map(clean),
        day,
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// Job and revision for the foot of every page.
fn running(inputs: &Inputs) -> String {
    let job = &inputs.floor.sketch.job;
    let number = job.number.as_deref().map(|n| format!("job {}", clean(n)));
    let revision = job
        .revision
        .as_deref()
        .map(|r| format!("revision {}", clean(r)));
    let parts = [Some(clean(&job.name)), number, revision];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// Width of a photograph on paper, mm.
const PHOTO_MM: f64 = 92.0;

/// The photographs marked for the proposal.
fn photos(inputs: &Inputs) -> Vec<Block> {
    let named = inputs.floor.sketch.photos.iter().zip(inputs.photos);
    let marked = named.filter(|(photo, _)| photo.proposal);
    let figures: Vec<Block> = marked
        .filter_map(|(photo, picture)| Some((photo, picture.as_ref()?)))
        .map(|(photo, picture)| {
            let note = photo.note.as_deref().map_or(String::new(), clean);
            let item = clean(&photo.item.value);
            Block::Figure(Figure {
                shows: Picturing::Photo(picture.color.clone()),
                words: format!("Photograph of {item}. {note}").trim().to_owned(),
                caption: Text::strong(item).then(note),
                width: PHOTO_MM,
                float: false,
            })
        })
        .collect();
    if figures.is_empty() {
        return figures;
    }
    let heading = Block::Heading {
        level: 2,
        text: "Photographs".into(),
    };
    std::iter::once(heading).chain(figures).collect()
}

/// Characters that the font of the pages lacks.
fn characters(document: &Document) -> Option<Diagnostic> {
    let mut missing: Vec<char> = Vec::new();
    for text in document.texts() {
        for c in crate::font::clean(&text).missing {
            if !missing.contains(&c) {
                missing.push(c);
            }
        }
    }
    let listed: String = missing.iter().collect();
    (!missing.is_empty()).then(|| {
        Diagnostic::note(
            "proposal-characters",
            format!("the font of the PDF lacks {listed}; □ stands in the place"),
        )
        .hint(
            "the HTML shows them in the reader's own font; spell the names in letters for the PDF",
        )
        .source("docs/proposal.md")
    })
}

#[cfg(test)]
mod tests;
