//! Writing to standard output and standard error.

use std::io::{ErrorKind, IsTerminal, Write};

use super::Exit;

/// Whether messages may be coloured: standard error is a terminal and `NO_COLOR` is not set.
pub(super) fn color() -> bool {
    let choice = anstream::AutoStream::choice(&std::io::stderr());
    !matches!(choice, anstream::ColorChoice::Never)
}

/// Writes data to standard output. A reader that went away early is no error: that is what
/// `head` does.
pub(super) fn data(text: &str) -> Exit {
    bytes(text.as_bytes())
}

/// Whether standard output is a terminal, where a picture would only be noise.
pub(super) fn is_seen() -> bool {
    std::io::stdout().is_terminal()
}

/// Writes bytes to standard output, as [`data`].
pub(super) fn bytes(bytes: &[u8]) -> Exit {
    let mut out = std::io::stdout().lock();
    match out.write_all(bytes).and_then(|()| out.flush()) {
        Ok(()) => Exit::Done,
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Exit::Done,
        Err(error) => {
            message(&format!(
                "error: standard output can't be written: {error}\n"
            ));
            Exit::File
        }
    }
}

/// Writes a message to standard error, as far as it takes it.
pub(super) fn message(text: &str) {
    let mut err = anstream::stderr().lock();
    // There is nowhere left to complain to.
    let _ = err.write_all(text.as_bytes()).and_then(|()| err.flush());
}
