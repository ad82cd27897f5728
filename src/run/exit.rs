//! Exit codes, a contract with scripts.

use std::process::ExitCode;

/// How a command ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Exit {
    /// Done, also with warnings.
    Done = 0,
    /// The sketch has errors and nothing was written; for `check` also a stop.
    Sketch = 1,
    /// The command line is wrong.
    Usage = 2,
    /// A file can't be read or written.
    File = 3,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit as u8)
    }
}
