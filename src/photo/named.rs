//! The photographs that a sketch names: which are opened, and what is said of those that can't be shown. Where the bytes come from, a folder
//! or the storage of a phone, is for whoever asks.

use std::path::{Component, Path};

use super::{Fault, finding};
use crate::diagnostic::Diagnostic;
use crate::sketch::Photo;

/// Largest photograph that is opened, MiB.
pub const LARGEST_MIB: u64 = 32;
/// Most photographs that are opened for one floor: each takes a tenth of a second, and a hundred sheets of them is more than
/// anybody looks through.
pub const MOST: usize = 400;

/// Opens every photograph of a sketch, in its order: what `open` makes of each, and the findings about those that can't be shown.
pub fn opened<T>(
    named: &[Photo],
    mut open: impl FnMut(&str) -> Result<T, Fault>,
) -> (Vec<Option<T>>, Vec<Diagnostic>) {
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
        match open(&photo.file.value) {
            Ok(picture) => out.push(Some(picture)),
            Err(fault) => {
                found.push(finding(photo, &fault));
                out.push(None);
            }
        }
    }
    (out, found)
}

/// Whether a name stays within the folder that it is taken from, by its words.
///
/// # Errors
///
/// [`Fault::Outside`].
pub fn within(named: &str) -> Result<(), Fault> {
    let plain = |c: Component| matches!(c, Component::Normal(_) | Component::CurDir);
    // A backslash would be a step on one system and a letter on another.
    if Path::new(named).components().all(plain) && !named.contains('\\') {
        Ok(())
    } else {
        Err(Fault::Outside)
    }
}

/// Whether a file of so many bytes is opened, where so many MiB are the most.
///
/// # Errors
///
/// [`Fault::FileTooLarge`].
pub fn small_enough(bytes: usize, largest_mib: u64) -> Result<(), Fault> {
    if bytes as u64 <= largest_mib << 20 { Ok(()) } else { Err(Fault::FileTooLarge(largest_mib)) }
}
