//! Writing the sheets of one drawing: to a file, to several, or to standard output.

use std::path::{Path, PathBuf};

use super::{Exit, place, terminal};
use crate::cli::{Drawing, Picture};
use crate::ink::Sheet;
use crate::{png, svg};

/// Dots an inch of a PNG where nothing is said: legible on a screen and on a page.
const DPI: f64 = 150.0;

/// What a command line asks for, checked before anything is read.
#[derive(Clone, Debug)]
pub(super) struct Target {
    format: Picture,
    dpi: f64,
    /// The one sheet that is wanted, counted from 1.
    sheet: Option<usize>,
    out: Option<PathBuf>,
}

impl Target {
    /// Form and place of the file; `or` is the form where neither is said.
    ///
    /// # Errors
    ///
    /// The command line contradicts itself or leaves the form open; it has been said on standard error.
    pub(super) fn of(drawing: &Drawing, or: Picture) -> Result<Self, Exit> {
        let out = drawing.out.clone().filter(|o| o.as_os_str() != "-");
        let format = match (drawing.format, &out) {
            (Some(format), _) => format,
            (None, None) => or,
            (None, Some(path)) => by_ending(path)?,
        };
        if drawing.dpi.is_some() && format != Picture::Png {
            return Err(usage("--dpi is for a PNG", "SVG and PDF hold lines, sharp at any size"));
        }
        if out.is_none() && format != Picture::Svg && terminal::is_seen() {
            let words = "a PDF or PNG would only be noise on a terminal";
            return Err(usage(words, "write it to a file with --out FILE"));
        }
        Ok(Self { format, dpi: drawing.dpi.unwrap_or(DPI), sheet: drawing.sheet, out })
    }

    /// Writes the sheets; `pdf` makes one PDF of them.
    pub(super) fn write(
        &self,
        sheets: &[Sheet],
        pdf: impl FnOnce(&[Sheet]) -> Result<Vec<u8>, crate::pdf::Error>,
    ) -> Exit {
        let sheets = match self.wanted(sheets) {
            Ok(sheets) => sheets,
            Err(exit) => return exit,
        };
        let files = match self.files(sheets, pdf) {
            Ok(files) => files,
            Err(exit) => return exit,
        };
        match (&self.out, files.as_slice()) {
            (Some(out), _) => put(out, files),
            (None, [one]) => terminal::bytes(one),
            (None, several) => usage(
                &format!("the drawing has {} sheets, and standard output holds one", several.len()),
                "--format pdf puts them in one file; --out FILE writes one file a sheet; --sheet 1 takes the first",
            ),
        }
    }

    /// The sheets that are written.
    fn wanted<'a>(&self, sheets: &'a [Sheet]) -> Result<&'a [Sheet], Exit> {
        let Some(n) = self.sheet else {
            return Ok(sheets);
        };
        let one = n.checked_sub(1).and_then(|i| sheets.get(i..n));
        one.ok_or_else(|| {
            let list: Vec<&str> = sheets.iter().map(|s| s.title.as_str()).collect();
            usage(
                &format!("there is no sheet {n}; the drawing has {}", sheets.len()),
                &format!("they are, from 1: {}", list.join("; ")),
            )
        })
    }

    fn files(
        &self,
        sheets: &[Sheet],
        pdf: impl FnOnce(&[Sheet]) -> Result<Vec<u8>, crate::pdf::Error>,
    ) -> Result<Vec<Vec<u8>>, Exit> {
        match self.format {
            Picture::Svg => Ok(sheets.iter().map(|s| svg::write(s).into_bytes()).collect()),
            Picture::Pdf => pdf(sheets).map(|file| vec![file]).map_err(|error| {
                terminal::message(&format!("error: {error}\n"));
                Exit::File
            }),
            Picture::Png => {
                let drawn = sheets.iter().map(|s| png::write(s, self.dpi));
                drawn.collect::<Result<_, _>>().map_err(|error| {
                    terminal::message(&format!("error: {error}\n"));
                    Exit::Usage
                })
            }
        }
    }
}

fn usage(words: &str, hint: &str) -> Exit {
    terminal::message(&format!("error: {words}\nhint: {hint}\n"));
    Exit::Usage
}

fn by_ending(path: &Path) -> Result<Picture, Exit> {
    let ending = path.extension().and_then(|e| e.to_str()).unwrap_or("");
    match ending.to_ascii_lowercase().as_str() {
        "svg" => Ok(Picture::Svg),
        "pdf" => Ok(Picture::Pdf),
        "png" => Ok(Picture::Png),
        _ => Err(usage(
            &format!("the form of {} can't be told from its name", path.display()),
            "end it in .svg, .pdf or .png, or say --format",
        )),
    }
}

/// The name of a further sheet: `map.svg`, `map-2.svg`.
pub(super) fn numbered(path: &Path, i: usize) -> PathBuf {
    if i == 0 {
        return path.to_owned();
    }
    let stem = path.file_stem().map(|s| s.to_string_lossy().into_owned()).unwrap_or_default();
    let ending = path.extension().map_or(String::new(), |e| format!(".{}", e.to_string_lossy()));
    path.with_file_name(format!("{stem}-{}{ending}", i + 1))
}

fn put(out: &Path, contents: Vec<Vec<u8>>) -> Exit {
    let named = contents.into_iter().enumerate();
    let files: Vec<_> = named.map(|(i, bytes)| (numbered(out, i), bytes)).collect();
    match place::files(&files) {
        Ok(()) => {
            let names: Vec<String> = files.iter().map(|f| f.0.display().to_string()).collect();
            terminal::data(&format!("{}\n", names.join(", ")))
        }
        Err((path, error)) => {
            terminal::message(&format!("error: {} can't be written: {error}\n", path.display()));
            Exit::File
        }
    }
}
