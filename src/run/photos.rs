//! The photographs that a sketch names, and the logo of the shop: opened only below the folder of the file that names them, and only files
//! of a bounded size.

use std::fs::{self, File};
use std::io::Read;
use std::path::Path;

use super::load::Loaded;
use crate::diagnostic::Diagnostic;
use crate::ink::Picture;
use crate::photo::{
    Fault, LARGEST_MIB, Photograph, check, develop, logo, opened, small_enough, within,
};
use crate::shop::Shop;
use crate::sketch::Photo;

/// Reads every photograph of a sketch, in its order, and what is wrong with them and with the logo.
pub(super) fn photos(loaded: &Loaded) -> (Vec<Option<Photograph>>, Vec<Diagnostic>) {
    let (pictures, found) = beside(&loaded.sketch.name, &loaded.survey.sketch.photos);
    let of_logo = loaded.logo().1.iter().cloned();
    (pictures, of_logo.chain(found).collect())
}

/// Reads the photographs that a sketch of this path names.
pub(super) fn beside(sketch: &str, named: &[Photo]) -> (Vec<Option<Photograph>>, Vec<Diagnostic>) {
    let folder = folder(Path::new(sketch));
    opened(named, |file| bytes(folder, file, LARGEST_MIB).and_then(|b| develop(&b)))
}

/// What is wrong with the photographs that a sketch of this path names.
pub(super) fn unshown(sketch: &str, named: &[Photo]) -> Vec<Diagnostic> {
    let folder = folder(Path::new(sketch));
    opened(named, |file| bytes(folder, file, LARGEST_MIB).and_then(|b| check(&b))).1
}

/// The logo that the shop book names, and what is wrong with it.
pub(super) fn logo(loaded: &Loaded) -> (Option<Picture>, Option<Diagnostic>) {
    logo_beside(&loaded.survey.shop, loaded.shop.as_ref().map(|book| Path::new(&book.name)))
}

/// The logo that the shop book of this path names.
pub(super) fn logo_beside(
    shop: &Shop,
    book: Option<&Path>,
) -> (Option<Picture>, Option<Diagnostic>) {
    let Some(book) = book else {
        return (None, None);
    };
    logo::opened(shop, |named| bytes(folder(book), named, logo::LARGEST_MIB))
}

fn folder(file: &Path) -> &Path {
    let folder = file.parent();
    folder.filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// The bytes of a file of at most so many MiB, named from `folder`, which the path must not leave: neither by its words nor by links.
fn bytes(folder: &Path, named: &str, largest_mib: u64) -> Result<Vec<u8>, Fault> {
    within(named)?;
    let missing = |e: std::io::Error| Fault::Missing(e.to_string());
    let folder = fs::canonicalize(folder).map_err(missing)?;
    let path = fs::canonicalize(folder.join(named)).map_err(missing)?;
    if !path.starts_with(&folder) {
        return Err(Fault::Outside);
    }
    let meta = fs::metadata(&path).map_err(missing)?;
    if !meta.is_file() {
        return Err(Fault::Missing("it is no file".into()));
    }
    let most = largest_mib << 20;
    let mut out = Vec::new();
    let file = File::open(&path).map_err(missing)?;
    file.take(most + 1).read_to_end(&mut out).map_err(missing)?;
    small_enough(out.len(), largest_mib)?;
    Ok(out)
}
