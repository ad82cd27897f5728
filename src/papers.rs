//! The papers of a floor: its drawings, photographs and proposal, composed from one set of texts and written as
//! PDF. The program and the page on a phone make them here, so that both make the same bytes.

use sha2::{Digest, Sha256};

use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::document::{self, Document, Paper};
use crate::floor::Survey;
use crate::ink::{Picture, Sheet};
use crate::pdf::{self, Metadata};
use crate::photo::Photograph;
use crate::report::Report;
use crate::sheet::photos::{self, Shot};
use crate::sheet::{Audience, Inputs, Options};
use crate::{customer, field, price, proposal, schedule, sheet};

/// Draws the sheets of one drawing.
///
/// # Errors
///
/// Diagnostics if the floor can't be drawn on the paper at the scale that was asked for, or at any standard scale.
pub fn compose(inputs: &Inputs, options: &Options) -> Result<Vec<Sheet>, Diagnostics> {
    match options.audience {
        Audience::Crew => sheet::crew::compose(inputs, options),
        Audience::Field => field::compose(inputs, options),
        Audience::Customer => customer::compose(inputs, options),
    }
}

/// A surveyed floor and the texts it came from.
#[derive(Clone, Copy, Debug)]
pub struct Papers<'a> {
    /// What was read, placed and measured.
    pub floor: &'a Survey,
    /// File name of the sketch, without its folder.
    pub name: &'a str,
    /// Text of the sketch.
    pub text: &'a str,
    /// Text of the shop book, where it is not the built-in one.
    pub book: Option<&'a str>,
    /// The shop's logo, where it is at hand.
    pub logo: Option<&'a Picture>,
}

impl<'a> Papers<'a> {
    /// What a drawing of the floor is made from.
    pub fn with_inputs<T>(&self, draw: impl FnOnce(&Inputs) -> T) -> T {
        let plan = schedule::plan(self.floor);
        draw(&Inputs {
            plan: Some(&plan),
            logo: self.logo,
            ..Inputs::of(self.floor, self.name, &digest(self.text))
        })
    }

    /// The sheets of a drawing.
    ///
    /// # Errors
    ///
    /// The floor does not fit the paper.
    pub fn sheets(&self, options: &Options) -> Result<Vec<Sheet>, Diagnostics> {
        self.with_inputs(|inputs| compose(inputs, options))
    }

    /// As [`Papers::sheets`], on the paper and at the scale that the program chooses.
    ///
    /// # Errors
    ///
    /// The floor does not fit any paper.
    pub fn drawing(&self, audience: Audience) -> Result<Vec<Sheet>, Diagnostics> {
        self.sheets(&Options { audience, paper: None, scale: None })
    }

    /// Sheets as one PDF, with the job's name, the surveyor and the day of the survey in it.
    ///
    /// # Errors
    ///
    /// What the PDF writer says.
    pub fn pdf(&self, sheets: &[Sheet]) -> Result<Vec<u8>, pdf::Error> {
        let job = &self.floor.sketch.job;
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

    /// Everything that a report of quantities reads.
    #[must_use]
    pub fn report(&self) -> Report<'a> {
        Report::new(self.floor, self.text, self.book)
    }

    /// The crew's sheets of photographs on a paper, one picture for each photo of the sketch; none where it names none.
    #[must_use]
    pub fn photo_sheets(&self, pictures: &[Option<Photograph>], paper: sheet::Paper) -> Vec<Sheet> {
        let named = self.floor.sketch.photos.iter().zip(pictures);
        let shots: Vec<Shot> = named
            .map(|(photo, picture)| Shot {
                item: &photo.item.value,
                note: photo.note.as_deref(),
                file: &photo.file.value,
                picture: picture.as_ref().map(|p| &p.gray),
            })
            .collect();
        self.with_inputs(|inputs| photos::compose(inputs, &shots, paper))
    }

    /// The proposal, and what somebody has to look at before it is signed.
    ///
    /// # Errors
    ///
    /// There is no price: a product that is bought has none in the shop book, or the job can't be planned. A paper to sign
    /// without a price is not made.
    pub fn proposal(
        &self,
        pictures: &[Option<Photograph>],
    ) -> Result<(Document, Vec<Diagnostic>), Diagnostics> {
        let floor = self.floor;
        let price = price::price(floor)?.for_customer();
        let plan = schedule::plan(floor);
        let width = document::text_width(Paper::office(floor.slab.units));
        let (told, lacking) = self.with_inputs(|inputs| proposal::told(inputs, width));
        let (document, mut found) = proposal::proposal(&proposal::Inputs {
            floor,
            price: &price,
            plan: &plan,
            told,
            photos: pictures,
            logo: self.logo,
        });
        found.extend(lacking.into_iter().map(Diagnostic::softened));
        Ok((document, found))
    }

    /// The proposal as pages in a PDF: Letter, or A4 for a metric sketch.
    ///
    /// # Errors
    ///
    /// What the PDF writer says.
    pub fn pages(&self, document: &Document) -> Result<Vec<u8>, pdf::Error> {
        let sheets = document::pages(document, Paper::office(self.floor.slab.units));
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
}

/// The program as a PDF names it.
#[must_use]
pub fn creator() -> String {
    format!("slabwalk {}", env!("CARGO_PKG_VERSION"))
}

/// Year, month and day of a date as the sketch writes it.
fn day(text: &str) -> Option<(u16, u8, u8)> {
    let mut parts = text.split('-');
    let day =
        (parts.next()?.parse().ok()?, parts.next()?.parse().ok()?, parts.next()?.parse().ok()?);
    parts.next().is_none().then_some(day)
}

/// SHA-256 of a text in hexadecimal, so that a print can be matched with the sketch it was made from.
#[must_use]
pub fn digest(text: &str) -> String {
    Sha256::digest(text).iter().map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests {
    use super::day;

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
