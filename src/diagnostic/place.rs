//! Where something stands in the texts that were read.

/// Bytes `start..end` of the text a value was read from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Span {
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

/// A value and where it stands in the file.
#[derive(Clone, Debug, PartialEq)]
pub struct At<T> {
    /// What was read.
    pub value: T,
    /// Its bytes in the file.
    pub span: Span,
}

/// Which text a place lies in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FileId {
    /// The file that describes the floor.
    Sketch,
    /// The shop book named by the sketch or the command line.
    Shop,
    /// The shop book that comes with the program; never wrong, so nothing is ever marked in it.
    BuiltIn,
}

/// A stretch of one of the texts that were read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// The text.
    pub file: FileId,
    /// Bytes of that text.
    pub span: Span,
}

impl Place {
    /// A place in the sketch.
    #[must_use]
    pub const fn sketch(span: Span) -> Self {
        Self { file: FileId::Sketch, span }
    }
}
