//! `slabwalk proposal`: the paper that the customer signs.

use std::path::Path;

use super::load::Loaded;
use super::packet::Piece;
use super::{Exit, load, photos, place, terminal};
use crate::cli::{ProposalArgs, ProposalFormat};
use crate::diagnostic::Diagnostic;
use crate::document::{self, Document};
use crate::photo::Photograph;

pub(super) fn proposal(args: &ProposalArgs) -> Exit {
    let format = match format(args) {
        Ok(format) => format,
        Err(exit) => return exit,
    };
    let loaded = match load::load(&args.sketch, &args.reading) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    let (pictures, lost) = photos::photos(&loaded);
    let (document, found) = match loaded.papers().proposal(&pictures) {
        Ok(made) => made,
        Err(found) => {
            terminal::rendered(&loaded.render(&found));
            terminal::message("error: there is no proposal without a price\n");
            return Exit::Sketch;
        }
    };
    loaded.say_stops();
    let found = [lost, found].concat();
    if !found.is_empty() {
        terminal::rendered(&loaded.render(&found));
    }
    let bytes = match written(&loaded, &document, format) {
        Ok(bytes) => bytes,
        Err(exit) => return exit,
    };
    match args.out.as_deref().filter(|out| *out != Path::new("-")) {
        None => terminal::bytes(&bytes),
        Some(out) => put(out, bytes),
    }
}

/// The form asked for, or that of the file's ending; a PDF where neither says.
fn format(args: &ProposalArgs) -> Result<ProposalFormat, Exit> {
    let out = args.out.as_deref().filter(|out| *out != Path::new("-"));
    let ending = out.and_then(Path::extension).map(|e| e.to_string_lossy().to_ascii_lowercase());
    let told = match ending.as_deref() {
        Some("pdf") => Some(ProposalFormat::Pdf),
        Some("html" | "htm") => Some(ProposalFormat::Html),
        _ => None,
    };
    let format = match (args.format, told) {
        (Some(asked), Some(told)) if asked != told => {
            terminal::message(
                "error: --format and the ending of --out say two things\nhint: leave one of them out\n",
            );
            return Err(Exit::Usage);
        }
        (Some(format), _) | (None, Some(format)) => format,
        (None, None) => ProposalFormat::Pdf,
    };
    if out.is_none() && format == ProposalFormat::Pdf && terminal::is_seen() {
        terminal::message(
            "error: a PDF would only be noise on a terminal\nhint: write it to a file with --out proposal.pdf\n",
        );
        return Err(Exit::Usage);
    }
    Ok(format)
}

fn written(loaded: &Loaded, document: &Document, format: ProposalFormat) -> Result<Vec<u8>, Exit> {
    match format {
        ProposalFormat::Html => Ok(document::html(document).into_bytes()),
        ProposalFormat::Pdf => loaded.papers().pages(document).map_err(|error| {
            terminal::message(&format!("error: {error}\n"));
            Exit::File
        }),
    }
}

fn put(out: &Path, bytes: Vec<u8>) -> Exit {
    match place::files(&[(out.to_owned(), bytes)]) {
        Ok(()) => terminal::data(&format!("{}\n", out.display())),
        Err((path, error)) => {
            terminal::message(&format!("error: {} can't be written: {error}\n", path.display()));
            Exit::File
        }
    }
}

/// The proposal for a packet, as PDF and HTML, and what somebody has to look at. Without a price the packet goes without it.
pub(super) fn pieces(
    loaded: &Loaded,
    pictures: &[Option<Photograph>],
) -> Result<(Vec<Piece>, Vec<Diagnostic>), Exit> {
    let Ok((document, found)) = loaded.papers().proposal(pictures) else {
        return Ok((Vec::new(), Vec::new()));
    };
    let pdf = written(loaded, &document, ProposalFormat::Pdf)?;
    let html = written(loaded, &document, ProposalFormat::Html)?;
    let pieces = vec![("proposal.pdf".to_owned(), pdf), ("proposal.html".to_owned(), html)];
    Ok((pieces, found))
}
