//! From a path to a surveyed floor, or to messages and an exit code.

use std::fs::File;
use std::io::Read;
use std::path::Path;
use std::sync::OnceLock;

use super::{Exit, photos, terminal};
use crate::cli::Reading;
use crate::diagnostic::{Diagnostic, Place, Severity, Told, told};
use crate::ink::Picture;
use crate::papers::Papers;
use crate::shop::Shop;
use crate::sketch::{self, Span};
use crate::survey::{Survey, with_book};
use crate::{render, shop};

/// Largest file that is read, bytes.
const LARGEST: u64 = crate::yaml::MOST_BYTES as u64;

/// A text and the name it goes by in messages.
#[derive(Clone, Debug)]
pub(super) struct Source {
    pub name: String,
    pub text: String,
}

/// A surveyed floor and the texts it came from.
#[derive(Debug)]
pub(super) struct Loaded {
    pub sketch: Source,
    pub shop: Option<Source>,
    pub survey: Survey,
    /// The shop's logo, read when a paper wants it, and what is wrong with it.
    pub logo: OnceLock<(Option<Picture>, Option<Diagnostic>)>,
}

impl Loaded {
    /// The shop's logo, and what is wrong with it.
    pub(super) fn logo(&self) -> &(Option<Picture>, Option<Diagnostic>) {
        self.logo.get_or_init(|| photos::logo(self))
    }

    /// The findings as messages for a terminal.
    pub(super) fn rendered(&self) -> String {
        self.render(&self.survey.takeoff.findings)
    }

    /// A stop must be seen even where the data goes to a script or a file: says every stop on standard error.
    pub(super) fn say_stops(&self) {
        let stops = |told: &&Told| told.first.severity == Severity::Stop;
        for stop in told(&self.survey.takeoff.findings).iter().filter(stops) {
            let code = stop.first.code;
            terminal::message(&format!("stop[{code}]: {}\n", stop.headline()));
        }
    }

    /// What its papers are made from.
    pub(super) fn papers(&self) -> Papers<'_> {
        let name = Path::new(&self.sketch.name).file_name();
        Papers {
            floor: &self.survey,
            name: name.and_then(|n| n.to_str()).unwrap_or_default(),
            text: &self.sketch.text,
            book: self.shop.as_ref().map(|s| s.text.as_str()),
            logo: self.logo().0.as_ref(),
        }
    }

    /// Any diagnostics about this floor as messages for a terminal.
    pub(super) fn render(&self, found: &[Diagnostic]) -> String {
        rendered(found, Some(&self.sketch), self.shop.as_ref())
    }
}

/// The shop book of this path, with its text, or the built-in one; what is wrong has been said on
/// standard error.
pub(super) fn book(path: Option<&Path>) -> Result<(Shop, Option<Source>), Exit> {
    let Some(path) = path else {
        return Ok((shop::built_in(), None));
    };
    let book = read(path, "shop book")?;
    let (parsed, found) = shop::parse(&book.text);
    if !found.is_empty() {
        terminal::rendered(&rendered(&found, None, Some(&book)));
    }
    parsed.map(|shop| (shop, Some(book))).ok_or(Exit::Sketch)
}

/// Reads and surveys a sketch; what is wrong has been said on standard error.
pub(super) fn load(path: &Path, reading: &Reading) -> Result<Loaded, Exit> {
    let sketch = read(path, "sketch")?;
    let parsed = sketch::parse(&sketch.text);
    let named = parsed.0.as_ref().and_then(|s| s.shop.clone());
    let book = match (&reading.shop, named) {
        (Some(path), _) => Some(read(path, "shop book")?),
        (None, Some(named)) => {
            let beside = path.parent().unwrap_or(Path::new("")).join(&named.value);
            Some(read_named(&beside, named.span, &sketch)?)
        }
        (None, None) => None,
    };
    match with_book(parsed, book.as_ref().map(|book| book.text.as_str())) {
        Ok(floor) => {
            Ok(Loaded { sketch, shop: book, survey: floor.survey(), logo: OnceLock::new() })
        }
        Err(found) => {
            terminal::rendered(&rendered(&found, Some(&sketch), book.as_ref()));
            Err(Exit::Sketch)
        }
    }
}

/// Diagnostics as messages for a terminal; without a sketch none of them is marked in one.
pub(super) fn rendered(
    found: &[Diagnostic],
    sketch: Option<&Source>,
    shop: Option<&Source>,
) -> String {
    let sketch = sketch.map_or(("", ""), |s| (s.name.as_str(), s.text.as_str()));
    let shop = shop.map(|s| (s.name.as_str(), s.text.as_str()));
    render::render(found, sketch, shop, terminal::color())
}

/// Reads a text file, with a limit.
pub(super) fn read(path: &Path, what: &str) -> Result<Source, Exit> {
    let name = path.display().to_string();
    match bytes(path) {
        Err(error) => {
            terminal::message(&format!("error: the {what} {name} can't be read: {error}\n"));
            Err(Exit::File)
        }
        Ok(bytes) if bytes.len() as u64 > LARGEST => {
            terminal::message(&format!(
                "error: the {what} {name} is larger than {} MiB; no floor needs that much\n",
                LARGEST >> 20
            ));
            Err(Exit::Sketch)
        }
        Ok(bytes) => String::from_utf8(bytes)
            .map(|text| Source { name: name.clone(), text })
            .map_err(|error| not_text(&name, what, &error)),
    }
}

/// At most one byte more than the limit, so that a device can't fill the memory.
fn bytes(path: &Path) -> std::io::Result<Vec<u8>> {
    if path.is_dir() {
        return Err(std::io::Error::other("it is a folder"));
    }
    let mut out = Vec::new();
    File::open(path)?.take(LARGEST + 1).read_to_end(&mut out)?;
    Ok(out)
}

fn not_text(name: &str, what: &str, error: &std::string::FromUtf8Error) -> Exit {
    let bytes = error.as_bytes();
    let good = &bytes[..error.utf8_error().valid_up_to()];
    let line = 1 + good.iter().filter(|b| **b == b'\n').count();
    let byte = 1 + good.iter().rev().take_while(|b| **b != b'\n').count();
    let wide = bytes.starts_with(&[0xFF, 0xFE]) || bytes.starts_with(&[0xFE, 0xFF]);
    let found = if wide {
        "it is saved as UTF-16".to_owned()
    } else {
        format!("byte {byte} of line {line} belongs to another encoding")
    };
    terminal::message(&format!(
        "error[not-utf-8]: the {what} is not UTF-8 text\n --> {name}:{line}:{byte}\n\
         hint: save it as UTF-8; {found}\n"
    ));
    Exit::Sketch
}

/// Whether a path that a file names can be opened and is a file: nobody asked for a pipe or a device, and either could
/// keep the program waiting.
fn ordinary(path: &Path) -> std::io::Result<()> {
    let meta = std::fs::metadata(path)?;
    if meta.is_dir() {
        return Err(std::io::Error::other("it is a folder"));
    }
    if !meta.is_file() {
        return Err(std::io::Error::other("it is no ordinary file"));
    }
    File::open(path).map(drop)
}

/// A shop book that the sketch names: what goes wrong is said at that place of the sketch.
fn read_named(path: &Path, span: Span, sketch: &Source) -> Result<Source, Exit> {
    match ordinary(path) {
        Ok(()) => read(path, "shop book"),
        Err(error) => {
            let found = Diagnostic {
                place: Some(Place::sketch(span)),
                ..Diagnostic::new(
                    Severity::Error,
                    "shop-book-missing",
                    format!("the shop book {} can't be read: {error}", path.display()),
                )
                .hint("the path is taken from the sketch's own folder; leave `shop:` out for the built-in book")
            };
            terminal::rendered(&rendered(&[found], Some(sketch), None));
            Err(Exit::File)
        }
    }
}
