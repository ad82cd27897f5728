//! Papers of a packet that people read or sign: the crew's photographs and the proposal.

use super::drawings::{self, creator};
use super::load::Loaded;
use super::packet::Piece;
use crate::diagnostic::Diagnostic;
use crate::document::{self, Document, Paper};
use crate::ink::Sheet;
use crate::pdf::{self, Metadata};
use crate::photo::Photograph;
use crate::sheet::Paper as Sheets;
use crate::sheet::photos::{self, Shot};
use crate::{price, proposal, schedule, svg};

/// The crew's sheets of photographs on a paper, one SVG each, and all in one PDF; nothing where the sketch names none.
pub(super) fn photo_sheets(
    loaded: &Loaded,
    pictures: &[Option<Photograph>],
    paper: Sheets,
) -> Result<Vec<Piece>, pdf::Error> {
    let floor = &loaded.survey;
    let named = floor.sketch.photos.iter().zip(pictures);
    let shots: Vec<Shot> = named
        .map(|(photo, picture)| Shot {
            item: &photo.item.value,
            note: photo.note.as_deref(),
            file: &photo.file.value,
            picture: picture.as_ref().map(|p| &p.gray),
        })
        .collect();
    let sheets = drawings::with_inputs(loaded, |inputs| photos::compose(inputs, &shots, paper));
    if sheets.is_empty() {
        return Ok(Vec::new());
    }
    let written = |s: &Sheet| (format!("{}.svg", s.name), svg::write(s).into_bytes());
    let mut out: Vec<Piece> = sheets.iter().map(written).collect();
    out.insert(
        0,
        ("photos.pdf".to_owned(), drawings::pdf(loaded, &sheets)?),
    );
    Ok(out)
}

/// The proposal of a floor, and what somebody has to look at before it is signed.
///
/// # Errors
///
/// There is no price: a product that is bought has none in the shop book, or the job can't be planned. A paper to sign without a price is
/// not made.
pub(super) fn proposal(
    loaded: &Loaded,
    pictures: &[Option<Photograph>],
) -> Result<(Document, Vec<Diagnostic>), Vec<Diagnostic>> {
    let floor = &loaded.survey;
    let price = price::price(floor)?.for_customer();
    let plan = schedule::plan(floor);
    let width = document::text_width(Paper::office(floor.slab.units));
    let (told, lacking) = drawings::with_inputs(loaded, |inputs| proposal::told(inputs, width));
    let (document, mut found) = proposal::proposal(&proposal::Inputs {
        floor,
        price: &price,
        plan: &plan,
        told,
        photos: pictures,
        logo: loaded.logo().0.as_ref(),
    });
    found.extend(lacking.into_iter().map(Diagnostic::softened));
    Ok((document, found))
}

/// The proposal as pages: Letter, or A4 for a metric sketch.
pub(super) fn pages(loaded: &Loaded, document: &Document) -> Result<Vec<u8>, pdf::Error> {
    let sheets = document::pages(document, Paper::office(loaded.survey.slab.units));
    let metadata = Metadata {
        title: document.title.clone(),
        author: document.author.clone(),
        subject: document.subject.clone(),
        creator: creator(),
        date: document.date,
        ..Metadata::default()
    };
    pdf::write(&sheets, &metadata)
}
