//! The photographs that a sketch names: opened only below the sketch's own folder, and only files of a bounded size.

use std::fs::{self, File};
use std::io::Read;
use std::path::{Component, Path};

use super::load::Loaded;
use crate::diagnostic::Diagnostic;
use crate::photo::{Fault, Photograph, develop, finding};
use crate::sketch::Photo;

/// Largest photograph that is opened, MiB.
const LARGEST_MIB: u64 = 32;
/// Most photographs that are opened for one floor: each takes a tenth of a second, and a hundred sheets of them is more than
/// anybody looks through.
const MOST: usize = 400;

/// Reads every photograph of a sketch, in its order, and what is wrong with them.
pub(super) fn photos(loaded: &Loaded) -> (Vec<Option<Photograph>>, Vec<Diagnostic>) {
    let sketch = Path::new(&loaded.sketch.name);
    beside(sketch, &loaded.survey.sketch.photos)
}

/// Reads the photographs that a sketch at this path names.
pub(super) fn beside(sketch: &Path, named: &[Photo]) -> (Vec<Option<Photograph>>, Vec<Diagnostic>) {
    let folder = sketch
        .parent()
        .filter(|p| !p.as_os_str().is_empty())
        .unwrap_or(Path::new("."));
    let mut out = Vec::new();
    let mut found = Vec::new();
    if let Some(first) = named.first().filter(|_| named.len() > MOST) {
        found.push(finding(first, &Fault::TooMany(named.len(), MOST)));
    }
    for (i, photo) in named.iter().enumerate() {
        if i >= MOST {
            out.push(None);
            continue;
        }
        match bytes(folder, &photo.file.value).and_then(|b| develop(&b)) {
            Ok(picture) => out.push(Some(picture)),
            Err(fault) => {
                found.push(finding(photo, &fault));
                out.push(None);
            }
        }
    }
    (out, found)
}

/// The bytes of a file named from `folder`, which the path must not leave: neither by its words nor by links.
fn bytes(folder: &Path, named: &str) -> Result<Vec<u8>, Fault> {
    let path = Path::new(named);
    let plain = |c: Component| matches!(c, Component::Normal(_) | Component::CurDir);
    // A backslash would be a step on one system and a letter on another.
    if !path.components().all(plain) || named.contains('\\') {
        return Err(Fault::Outside);
    }
    let missing = |e: std::io::Error| Fault::Missing(e.to_string());
    let folder = fs::canonicalize(folder).map_err(missing)?;
    let path = fs::canonicalize(folder.join(path)).map_err(missing)?;
    if !path.starts_with(&folder) {
        return Err(Fault::Outside);
    }
    let meta = fs::metadata(&path).map_err(missing)?;
    if !meta.is_file() {
        return Err(Fault::Missing("it is no file".into()));
    }
    let most = LARGEST_MIB << 20;
    let mut out = Vec::new();
    let file = File::open(&path).map_err(missing)?;
    file.take(most + 1).read_to_end(&mut out).map_err(missing)?;
    if out.len() as u64 > most {
        return Err(Fault::FileTooLarge(LARGEST_MIB));
    }
    Ok(out)
}
