//! `slabwalk shop`: the whole shop book in force.

use super::{Exit, load, terminal};
use crate::cli::ShopArgs;
use crate::diagnostic::Severity;
use crate::{render, shop};

pub(super) fn shop(args: &ShopArgs) -> Exit {
    let Some(path) = &args.file else {
        return terminal::data(&shop::print(None));
    };
    let book = match load::read(path, "shop book") {
        Ok(book) => book,
        Err(exit) => return exit,
    };
    let (parsed, found) = shop::parse(&book.text);
    if !found.is_empty() {
        let texts = Some((book.name.as_str(), book.text.as_str()));
        terminal::rendered(&render::render(&found, ("", ""), texts, terminal::color()));
    }
    if parsed.is_none() || found.iter().any(|d| d.severity == Severity::Error) {
        return Exit::Sketch;
    }
    terminal::data(&shop::print(Some(&book.text)))
}
