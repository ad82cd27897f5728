//! Whose turn it is to change names in a folder.

use std::fs::{File, TryLockError};
use std::io::{Error, Result};
use std::path::Path;
use std::thread;
use std::time::{Duration, Instant};

/// How long a writer waits for its turn. A turn lasts as long as some renames; whoever holds one for longer was halted.
const PATIENCE: Duration = Duration::from_secs(30);
/// How often it looks whether the turn is free.
const TICK: Duration = Duration::from_millis(5);

/// The turn in a folder: held by one writer at a time, given back when it is dropped or the process ends, however it ends.
///
/// It is a lock of the folder itself, so that nothing has to be made or cleared for it. Where a file system locks no folder,
/// everybody has a turn at once: packets are whole all the same, but then what a killed writer left stays.
#[derive(Debug)]
pub(super) struct Turn {
    _lock: Option<File>,
}

impl Turn {
    /// Waits for the turn in a folder.
    ///
    /// # Errors
    ///
    /// Another writer does not end.
    pub(super) fn take(folder: &Path) -> Result<Self> {
        Self::within(folder, PATIENCE)
    }

    fn within(folder: &Path, patience: Duration) -> Result<Self> {
        // A folder that may be written to and not listed can't be opened; then there is no turn to take.
        let Ok(file) = File::open(folder) else {
            return Ok(Self { _lock: None });
        };
        let start = Instant::now();
        loop {
            match file.try_lock() {
                Ok(()) => return Ok(Self { _lock: Some(file) }),
                Err(TryLockError::Error(_)) => return Ok(Self { _lock: None }),
                Err(TryLockError::WouldBlock) if start.elapsed() >= patience => {
                    return Err(Error::other(
                        "another run is writing there and does not end; end it and try again",
                    ));
                }
                Err(TryLockError::WouldBlock) => thread::sleep(TICK),
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_has_the_turn_and_another_waits_for_it() {
        let folder = tempfile::tempdir().expect("a folder");
        let first = Turn::take(folder.path()).expect("free");
        let short = Duration::from_millis(20);
        let refused = Turn::within(folder.path(), short).expect_err("taken");
        assert!(refused.to_string().contains("another run"), "{refused}");
        drop(first);
        Turn::within(folder.path(), short).expect("free again");
    }
}
