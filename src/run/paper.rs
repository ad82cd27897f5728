//! Papers of a packet that show photographs: the crew's sheets of them.

use std::path::Path;

use super::load::Loaded;
use super::drawings::digest;
use super::packet::Piece;
use crate::photo::Photograph;
use crate::sheet::Inputs;
use crate::sheet::photos::{self, Shot};
use crate::svg;

/// The crew's sheets of photographs, one SVG each.
pub(super) fn photo_sheets(loaded: &Loaded, pictures: &[Option<Photograph>]) -> Vec<Piece> {
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
    let digest = digest(&loaded.sketch.text);
    let sheets = photos::compose(&inputs(loaded, &digest), &shots);
    let written = |s: &crate::ink::Sheet| (format!("{}.svg", s.name), svg::write(s).into_bytes());
    sheets.iter().map(written).collect()
}

/// What the drawings of a floor are made from.
fn inputs<'a>(loaded: &'a Loaded, digest: &'a str) -> Inputs<'a> {
    let floor = &loaded.survey;
    let name = Path::new(&loaded.sketch.name)
        .file_name()
        .and_then(|n| n.to_str());
    Inputs {
        job: &floor.sketch.job,
        slab: &floor.slab,
        takeoff: &floor.takeoff,
        order: Some(&floor.order),
        shop: &floor.shop,
        source_name: name.unwrap_or_default(),
        digest,
    }
}
