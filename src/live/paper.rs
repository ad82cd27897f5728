//! Finished papers that the page hands out: PDF to print and share, HTML, and the quantities as data.

use super::http::Response;
use super::views::in_words;
use crate::document;
use crate::paper::size;
use crate::papers::Papers;
use crate::photo::Photograph;
use crate::report::json;
use crate::sheet::{Audience, Paper as Size};
use crate::svg;

/// A kind of paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// A drawing as PDF.
    Drawing(Audience),
    /// A drawing as SVG, one sheet behind the other.
    Sheets(Audience),
    /// The proposal as PDF.
    Proposal,
    /// The proposal as HTML.
    ProposalPage,
    /// The crew's photographs as PDF.
    Photos,
    /// The quantities as JSON.
    Takeoff,
}

/// File names of the papers.
const PAPERS: &[(&str, Paper)] = &[
    ("crew-map.pdf", Paper::Drawing(Audience::Crew)),
    ("customer-drawing.pdf", Paper::Drawing(Audience::Customer)),
    ("field-sheet.pdf", Paper::Drawing(Audience::Field)),
    ("crew-map.svg", Paper::Sheets(Audience::Crew)),
    ("proposal.pdf", Paper::Proposal),
    ("proposal.html", Paper::ProposalPage),
    ("photos.pdf", Paper::Photos),
    ("takeoff.json", Paper::Takeoff),
];

impl Paper {
    /// The paper of a file name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        let found = PAPERS.iter().find(|(known, _)| *known == name);
        found.map(|(_, paper)| *paper)
    }

    /// Whether it shows photographs.
    #[must_use]
    pub const fn shows_photos(self) -> bool {
        matches!(self, Self::Proposal | Self::ProposalPage | Self::Photos)
    }

    /// Makes it, with a picture for each photo of the sketch that could be read.
    #[must_use]
    pub fn answer(self, papers: &Papers, pictures: &[Option<Photograph>]) -> Response {
        match self.bytes(papers, pictures) {
            Ok((kind, bytes)) => Response::new(200, kind, bytes),
            Err(why) => Response::refused(422, &why, ""),
        }
    }

    fn bytes(
        self,
        papers: &Papers,
        pictures: &[Option<Photograph>],
    ) -> Result<(&'static str, Vec<u8>), String> {
        const PDF: &str = "application/pdf";
        let pdf = |made: Result<Vec<u8>, crate::pdf::Error>| {
            made.map(|bytes| (PDF, bytes)).map_err(|e| e.to_string())
        };
        let drawn = |audience| papers.drawing(audience).map_err(|found| in_words(&found));
        let written = || {
            let made = papers.proposal(pictures);
            made.map(|(document, _)| document).map_err(|found| in_words(&found))
        };
        match self {
            Self::Drawing(audience) => pdf(papers.pdf(&drawn(audience)?)),
            Self::Sheets(audience) => {
                let sheets: Vec<String> = drawn(audience)?.iter().map(svg::write).collect();
                Ok(("image/svg+xml", sheets.concat().into_bytes()))
            }
            Self::Proposal => pdf(papers.pages(&written()?)),
            Self::ProposalPage => Ok(("text/html", document::html(&written()?).into_bytes())),
            Self::Photos => {
                // On the paper of the crew map, as in a packet.
                let map = drawn(Audience::Crew)?;
                let of_map = map.first().and_then(|s| Size::of(s.width, s.height));
                let paper = of_map.unwrap_or(Size::landscape(size::Size::Letter));
                match papers.photo_sheets(pictures, paper) {
                    sheets if sheets.is_empty() => Err("there are no photos yet".into()),
                    sheets => pdf(papers.pdf(&sheets)),
                }
            }
            Self::Takeoff => Ok(("application/json", json::takeoff(&papers.report()))),
        }
    }
}
