//! `slabwalk phone`: the page for a phone, with the core in it.

use std::fs;
use std::path::{Path, PathBuf};

use super::{Exit, place, terminal};
use crate::cli::PhoneArgs;
use crate::live::bundle;

pub(super) fn phone(args: &PhoneArgs) -> Exit {
    if !bundle::ready() {
        terminal::message(
            "error: this program was built without the core for a phone\nhint: .ci/phone builds it, and a program with it\n",
        );
        return Exit::File;
    }
    let out = args.out.as_path();
    let page = out.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("html"));
    let files: Vec<(PathBuf, Vec<u8>)> = if page {
        vec![(out.to_owned(), bundle::file().into_bytes())]
    } else {
        if let Err(error) = fs::create_dir_all(out) {
            return unwritten(out, &error);
        }
        let folder = bundle::folder().into_iter();
        folder.map(|(name, bytes)| (out.join(name), bytes)).collect()
    };
    match place::files(&files) {
        Ok(()) => terminal::data(&format!("{}\n", out.display())),
        Err((path, error)) => unwritten(&path, &error),
    }
}

fn unwritten(path: &Path, error: &std::io::Error) -> Exit {
    terminal::message(&format!("error: {} can't be written: {error}\n", path.display()));
    Exit::File
}
