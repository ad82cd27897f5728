//! Why a photograph can't be shown, and how that is said.

use std::fmt;

use super::{MOST_PIXELS, MOST_SIDE};
use crate::diagnostic::Diagnostic;
use crate::sketch::Photo;

/// Why a photograph can't be shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fault {
    /// There is no such file; the text is what the system says.
    Missing(String),
    /// The path leads out of the sketch's folder.
    Outside,
    /// The file is larger than this many MiB.
    FileTooLarge(u64),
    /// Neither JPEG nor PNG.
    NotAPhoto,
    /// So many pixels across and down.
    TooLarge(usize, usize),
    /// The sketch names so many photographs, of which so many are opened.
    TooMany(usize, usize),
    /// Damaged; the text says what the decoder stumbled over.
    Broken(String),
}

impl Fault {
    /// Stable code of the finding.
    #[must_use]
    pub const fn code(&self) -> &'static str {
        match self {
            Self::Missing(_) => "photo-missing",
            Self::Outside => "photo-outside",
            Self::FileTooLarge(_) | Self::TooLarge(..) => "photo-too-large",
            Self::TooMany(..) => "photo-too-many",
            Self::NotAPhoto | Self::Broken(_) => "photo-broken",
        }
    }

    /// What to do about it.
    #[must_use]
    const fn hint(&self) -> &'static str {
        match self {
            Self::Missing(_) => "the path is taken from the sketch's own folder: photos/crack.jpg",
            Self::Outside => {
                "put the photo into the sketch's folder or one below it, and name it from there: photos/crack.jpg"
            }
            Self::FileTooLarge(_) | Self::TooLarge(..) => {
                "save a smaller copy; no print shows that many pixels"
            }
            Self::TooMany(..) => {
                "name the photos that somebody has to see, and leave the others out"
            }
            Self::NotAPhoto => "save it as JPEG or PNG",
            Self::Broken(_) => "copy it from the camera again, or save it anew as JPEG or PNG",
        }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Missing(said) => write!(f, "can't be read: {said}"),
            Self::Outside => write!(f, "lies outside the sketch's folder and is not opened"),
            Self::FileTooLarge(most) => write!(f, "is larger than {most} MiB and is not opened"),
            Self::NotAPhoto => write!(f, "is neither JPEG nor PNG"),
            Self::TooLarge(width, height) => write!(
                f,
                "has {width} x {height} pixels; {MOST_SIDE} a side and {} million in all are read",
                MOST_PIXELS / 1_000_000
            ),
            Self::TooMany(named, most) => {
                write!(f, "is one of {named}; the first {most} are opened")
            }
            Self::Broken(said) => write!(f, "can't be decoded: {said}"),
        }
    }
}

/// The finding about a photograph that can't be shown: a warning at its line of the sketch.
#[must_use]
pub fn finding(photo: &Photo, fault: &Fault) -> Diagnostic {
    Diagnostic::warning(
        fault.code(),
        format!("the photo {} {fault}", crate::text::excerpt(&photo.file.value)),
    )
    .item(photo.item.value.clone())
    .at(photo.file.span)
    .hint(fault.hint())
    .source("how a sketch is read: docs/sketch.md")
}
