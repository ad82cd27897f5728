//! What is under way: its name, that it is alive, and clearing what killed writers left.

use std::ffi::{OsStr, OsString};
use std::fs::{self, File};
use std::io::{Error, ErrorKind, Result, Write};
use std::path::{Path, PathBuf};

use super::folder_of;
use super::turn::Turn;

/// Ending of what is being written.
pub(super) const NEW: &str = "new";
/// Ending of an old folder that stepped aside, where two folders can't change names in one step.
pub(super) const OLD: &str = "old";

/// A file that is being written beside its place; removed again unless it took that place.
///
/// It is locked while its writer lives, so no other writer takes it for something left behind.
#[derive(Debug)]
pub(super) struct Beside {
    path: PathBuf,
    file: File,
}

impl Beside {
    /// Writes a file beside the place it will take.
    ///
    /// # Errors
    ///
    /// Whatever the file system says; then nothing is left.
    pub(super) fn write(
        place: &Path,
        bytes: &[u8],
        permissions: Option<fs::Permissions>,
    ) -> Result<Self> {
        let mut beside = {
            let _turn = Turn::take(folder_of(place))?;
            clear(place)?;
            let (path, file) = made(place, |path| File::create_new(path))?;
            let beside = Self { path, file };
            // Where files can't be locked there is nothing to clear by.
            let _ = beside.file.try_lock();
            beside
        };
        if let Some(permissions) = permissions {
            beside.file.set_permissions(permissions)?;
        }
        beside.file.write_all(bytes)?;
        Ok(beside)
    }

    pub(super) fn path(&self) -> &Path {
        &self.path
    }

    /// Waits until the bytes are on the disk.
    pub(super) fn sync(&self) -> Result<()> {
        self.file.sync_all()
    }
}

impl Drop for Beside {
    fn drop(&mut self) {
        // After a rename there is nothing left of that name; nothing can be done about a file that won't go.
        let _ = fs::remove_file(&self.path);
    }
}

/// Makes something beside a place, under the number of this process: `.NAME.NUMBER.new`. Where that name is taken, one of the next is
/// tried: a process on another machine may have the same number, or something there can't be cleared.
pub(super) fn made<T>(place: &Path, make: impl Fn(&Path) -> Result<T>) -> Result<(PathBuf, T)> {
    let own = std::process::id();
    for number in own..own.saturating_add(NAMES) {
        let path = place.with_file_name(name(place, number)?);
        match make(&path) {
            Err(error) if error.kind() == ErrorKind::AlreadyExists => {}
            made => return made.map(|made| (path, made)),
        }
    }
    Err(Error::other("too much was left beside it that can't be cleared"))
}

/// How many names are tried.
const NAMES: u32 = 100;

fn name(place: &Path, number: u32) -> Result<OsString> {
    let own = place.file_name().ok_or_else(|| Error::other("it is no name for a file"))?;
    let mut name = OsString::from(".");
    name.push(own);
    name.push(format!(".{number}.{NEW}"));
    Ok(name)
}

/// Clears what killed writers of a file left beside its place; whoever asks has the turn in that folder.
pub(super) fn clear(place: &Path) -> Result<()> {
    let left = left_behind(place)?;
    for file in left.iter().filter(|l| !l.is_dir && l.ending == NEW) {
        // One that won't go is in nobody's way, unless it has the very name that is needed.
        let _ = fs::remove_file(&file.path);
    }
    Ok(())
}

/// Something that a killed writer left beside a place. It is locked: of two that clear the folder, one removes it.
#[derive(Debug)]
pub(super) struct Left {
    pub path: PathBuf,
    pub is_dir: bool,
    pub ending: &'static str,
    _lock: File,
}

/// What killed writers left beside a place; whoever asks has the turn in that folder. What belongs to a living writer is left out. So is
/// everything where nothing can be locked, because there the two can't be told apart.
pub(super) fn left_behind(place: &Path) -> Result<Vec<Left>> {
    let own = place.file_name().ok_or_else(|| Error::other("it is no name for a file"))?;
    // A folder that can't be listed is cleared of nothing.
    let Ok(entries) = fs::read_dir(folder_of(place)) else {
        return Ok(Vec::new());
    };
    let mut out = Vec::new();
    for entry in entries.flatten() {
        let Some(ending) = ending(&entry.file_name(), own) else {
            continue;
        };
        let plain = entry.file_type().is_ok_and(|t| t.is_dir() || t.is_file());
        let lock = plain.then(|| File::open(entry.path()).ok()).flatten();
        if let Some(lock) = lock.filter(|file| file.try_lock().is_ok()) {
            out.push(Left {
                is_dir: entry.file_type().is_ok_and(|t| t.is_dir()),
                path: entry.path(),
                ending,
                _lock: lock,
            });
        }
    }
    // In the same order wherever it runs.
    out.sort_by(|a, b| a.path.cmp(&b.path));
    Ok(out)
}

/// Whether a name is one of something under way to `own`, of whatever process, and its ending.
fn ending(found: &OsStr, own: &OsStr) -> Option<&'static str> {
    let rest = found.as_encoded_bytes().strip_prefix(b".")?;
    let rest = rest.strip_prefix(own.as_encoded_bytes())?.strip_prefix(b".")?;
    let (process, ending) = std::str::from_utf8(rest).ok()?.split_once('.')?;
    let number = !process.is_empty() && process.bytes().all(|b| b.is_ascii_digit());
    [NEW, OLD].into_iter().find(|e| number && *e == ending)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_under_way_are_told_from_all_others() {
        let own = OsStr::new("map.svg");
        let rows = [
            (".map.svg.12.new", Some(NEW)),
            (".map.svg.12.old", Some(OLD)),
            (".map.svg..new", None),
            (".map.svg.12", None),
            (".map.svg.1x.new", None),
            (".map.svg.12.new.new", None),
            (".map.svg-2.12.new", None),
            ("map.svg.12.new", None),
            ("map.svg", None),
        ];
        for (found, wanted) in rows {
            assert_eq!(ending(OsStr::new(found), own), wanted, "{found}");
        }
        let made = name(Path::new("a/map.svg"), 12).expect("a name");
        assert_eq!(ending(&made, own), Some(NEW));
    }

    #[test]
    fn what_is_left_is_cleared_and_what_lives_is_not() {
        let folder = tempfile::tempdir().expect("a folder");
        let place = folder.path().join("map.svg");
        let left = folder.path().join(".map.svg.1.new");
        fs::write(&left, "half").expect("written");
        // Alive, and with the very number of this process: on another machine, say.
        let number = std::process::id();
        let alive = folder.path().join(format!(".map.svg.{number}.new"));
        let writer = File::create(&alive).expect("made");
        writer.lock().expect("locked");
        let beside = Beside::write(&place, b"whole", None).expect("written");
        assert!(!left.exists() && alive.exists());
        assert!(beside.path().exists());
        drop(beside);
        assert_eq!(fs::read_dir(folder.path()).expect("listed").count(), 1);
    }
}
