//! The paper that a customer signs: what is done and what is not, what it costs, what more would cost.
//!
//! Quantities come from the takeoff, times from the plan, prices from [`CustomerPrice`], which has no room for a cost; words come from the
//! shop book. [`proposal()`] makes the content once; [`crate::document`] writes it as pages and as HTML.

mod conditions;
mod drawing;
mod found;
mod money;
mod scope;
mod terms;
mod voice;

pub use drawing::{Told, told};

use crate::customer::letterhead;
use crate::diagnostic::Diagnostic;
use crate::document::{Block, Document, Figure, Picturing, Text};
use crate::floor::Survey;
use crate::hold::say::capital;
use crate::ink::Picture;
use crate::photo::Photograph;
use crate::price::CustomerPrice;
use crate::schedule::{Plan, date};
use crate::text::clean;

use voice::Voice;

/// Everything that a proposal is made from.
#[derive(Clone, Debug)]
pub struct Inputs<'a> {
    pub floor: &'a Survey,
    /// What the customer may see of the price.
    pub price: &'a CustomerPrice,
    /// The plan by days.
    pub plan: &'a Plan,
    /// The drawing for the customer, and what its letters stand for.
    pub told: Told,
    /// The photographs that the sketch names, in its order; `None` for those that can't be shown.
    pub photos: &'a [Option<Photograph>],
    /// The shop's logo.
    pub logo: Option<&'a Picture>,
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
    let photos = photos(&voice);
    blocks.extend(scope::work(&mut voice, photos));
    blocks.extend(scope::coating(&mut voice));
    blocks.extend(found::tests(&mut voice));
    blocks.extend(conditions::excluded(&mut voice));
    blocks.extend(terms::schedule(&mut voice));
    blocks.extend(money::prices(&mut voice));
    blocks.extend(terms::terms(&mut voice));
    blocks.extend(conditions::duties(&mut voice));
    blocks.extend(terms::acceptance(&mut voice));
    let document = Document {
        head: letterhead(&inputs.floor.shop.proposal, inputs.logo),
        subject: format!("{title} for {}: scope, drawing, prices and terms.", clean(&job.name)),
        title: format!("{title}: {}", clean(&job.name)),
        author: voice.say("company").unwrap_or_default(),
        running: running(inputs),
        date: date::numbers(job.surveyed.as_ref().map(|d| d.value.as_str())),
        blocks,
    };
    let mut found = voice.findings();
    found.extend(characters(document.texts().iter().map(String::as_str)));
    (document, found)
}

/// Job and revision for the foot of every page.
fn running(inputs: &Inputs) -> String {
    let job = &inputs.floor.sketch.job;
    let number = job.number.as_deref().map(|n| format!("job {}", clean(n)));
    let revision = job.revision.as_deref().map(|r| format!("revision {}", clean(r)));
    let parts = [Some(clean(&job.name)), number, revision];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// Width of a photograph on paper, mm: three stand beside each other.
const PHOTO_MM: f64 = 56.0;

/// The photographs marked for the proposal.
fn photos(voice: &Voice) -> Option<Block> {
    let named = voice.inputs.floor.sketch.photos.iter().zip(voice.inputs.photos);
    let marked = named.filter(|(photo, _)| photo.proposal);
    let figures: Vec<Figure> = marked
        .filter_map(|(photo, picture)| Some((photo, picture.as_ref()?)))
        .map(|(photo, picture)| {
            let note = photo.note.as_deref().map_or(String::new(), |note| voice.plain(note));
            let item = capital(&voice.named(std::slice::from_ref(&photo.item.value)));
            let lead = if item.is_empty() { item } else { format!("{item}:") };
            Figure {
                shows: Picturing::Photo(picture.color.clone()),
                words: format!("Photograph. {lead} {note}").trim().to_owned(),
                caption: Text::strong(lead).then(note),
                width: PHOTO_MM,
                float: false,
            }
        })
        .collect();
    (!figures.is_empty()).then_some(Block::Figures(figures))
}

/// Characters of some texts of the owner's papers that the font lacks.
pub(crate) fn characters<'a>(texts: impl IntoIterator<Item = &'a str>) -> Option<Diagnostic> {
    let mut missing: Vec<char> = Vec::new();
    for text in texts {
        for c in crate::font::clean(text).missing {
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
