//! Writing to standard output and standard error.

use std::cell::RefCell;
use std::io::{ErrorKind, IsTerminal, Write};

use super::Exit;
use crate::quantity::read::ReadError;
use crate::text;

/// Something said while several things are done at a time, kept until it is its turn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Said {
    /// For standard output.
    Data(Vec<u8>),
    /// For standard error.
    Message(String),
}

thread_local! {
    /// What this thread has said and not yet written; none where it writes at once.
    static KEPT: RefCell<Option<Vec<Said>>> = const { RefCell::new(None) };
}

/// Does something and keeps what it says on this thread: work that is done at the same time must not be said at the same time.
pub(super) fn kept<T>(work: impl FnOnce() -> T) -> (T, Vec<Said>) {
    let before = KEPT.replace(Some(Vec::new()));
    let done = work();
    let said = KEPT.replace(before);
    (done, said.unwrap_or_default())
}

/// Says what was kept.
pub(super) fn say(said: Vec<Said>) -> Exit {
    let one = |said| match said {
        Said::Data(data) => bytes(&data),
        Said::Message(text) => {
            rendered(&text);
            Exit::Done
        }
    };
    said.into_iter().map(one).max().unwrap_or(Exit::Done)
}

/// Keeps something, if this thread keeps what it says.
fn keep(said: impl FnOnce() -> Said) -> bool {
    KEPT.with_borrow_mut(|kept| match kept {
        Some(kept) => {
            kept.push(said());
            true
        }
        None => false,
    })
}

/// Whether messages may be colored: standard error is a terminal and `NO_COLOR` is not set.
pub(super) fn color() -> bool {
    let choice = anstream::AutoStream::choice(&std::io::stderr());
    !matches!(choice, anstream::ColorChoice::Never)
}

/// Whether a line on standard error can be written over: it is a terminal, and one that can go back.
pub(super) fn is_watched() -> bool {
    let dumb = std::env::var_os("TERM").is_none_or(|term| term == "dumb");
    std::io::stderr().is_terminal() && !dumb
}

/// Writes data to standard output. A reader that went away early is no error: that is what
/// `head` does. On a terminal, what would move its cursor becomes a space; a file or a pipe gets every byte.
pub(super) fn data(text: &str) -> Exit {
    if is_seen() {
        return bytes(still(text).as_bytes());
    }
    bytes(text.as_bytes())
}

/// Whether standard output is a terminal, where a picture would only be noise.
pub(super) fn is_seen() -> bool {
    std::io::stdout().is_terminal()
}

/// Writes a text that is too large to be kept as a whole, as [`data`].
pub(super) fn written(write: impl Fn(&mut dyn Write) -> std::io::Result<()>) -> Exit {
    let is_kept = KEPT.with_borrow(Option::is_some);
    if is_kept || is_seen() {
        let mut whole = Vec::new();
        return match write(&mut whole) {
            Ok(()) => data(&String::from_utf8_lossy(&whole)),
            Err(error) => unwritable(&error),
        };
    }
    let mut out = std::io::stdout().lock();
    let done = write(&mut out).and_then(|()| out.flush());
    drop(out);
    done.map_or_else(|error| unwritable(&error), |()| Exit::Done)
}

/// Writes bytes to standard output, as [`data`].
pub(super) fn bytes(bytes: &[u8]) -> Exit {
    if keep(|| Said::Data(bytes.to_vec())) {
        return Exit::Done;
    }
    let mut out = std::io::stdout().lock();
    let done = out.write_all(bytes).and_then(|()| out.flush());
    drop(out);
    done.map_or_else(|error| unwritable(&error), |()| Exit::Done)
}

fn unwritable(error: &std::io::Error) -> Exit {
    if error.kind() == ErrorKind::BrokenPipe {
        return Exit::Done;
    }
    message(&format!("error: standard output can't be written: {error}\n"));
    Exit::File
}

/// Writes a message to standard error, as far as it takes it, in lines that a terminal shows whole. Names of files and texts of
/// sketches in it can't move the cursor.
pub(super) fn message(text: &str) {
    rendered(&crate::text::folded(&still(text)));
}

/// A text that moves no cursor beyond the end of its lines.
fn still(text: &str) -> String {
    let moves = |c: char| !matches!(c, '\n' | '\t') && text::moves(c);
    text.chars().map(|c| if moves(c) { ' ' } else { c }).collect()
}

/// Says what is wrong with the text of an option, and what would be right.
pub(super) fn refused(option: &str, text: &str, error: &ReadError) -> Exit {
    let text = crate::text::excerpt(text);
    message(&format!("error: {option} `{text}`: {}\nhint: {}\n", error.problem, error.hint));
    Exit::Usage
}

/// Writes messages that [`crate::render`] made, and the line of progress. The program itself put the color in them, or the return to the
/// start of the line; nothing else in them moves the cursor.
pub(super) fn rendered(text: &str) {
    if text.is_empty() || keep(|| Said::Message(text.to_owned())) {
        return;
    }
    let mut err = anstream::stderr().lock();
    // There is nowhere left to complain to.
    let _ = err.write_all(text.as_bytes()).and_then(|()| err.flush());
}
