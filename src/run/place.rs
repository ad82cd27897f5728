//! Putting files in their place: whole or not at all, and in one step.
//!
//! What is written stands first beside its place, under a name that begins with a dot and holds the number of
//! the process. Names change only while the writer has its [`turn::Turn`] in that folder, so that two writers never
//! mix. What a killed one left is cleared by the next. `docs/writing.md` says it at length.

mod beside;
mod folder;
mod turn;

use std::fs;
use std::io::{Error, Result};
use std::path::{Path, PathBuf};

use beside::Beside;
use turn::Turn;

pub(super) use folder::place;

/// Writes files of one folder, replacing those of their names. All are written beside their places before the first takes it.
///
/// # Errors
///
/// A folder, a link or a device of that name, a file that may not be written to; whatever the file system says. Then no file was
/// touched, unless a rename failed.
pub(super) fn files(files: &[(PathBuf, Vec<u8>)]) -> std::result::Result<(), (PathBuf, Error)> {
    let _hold = super::hold::hold();
    let mut written = Vec::with_capacity(files.len());
    for (path, bytes) in files {
        let at = |e: Error| (path.clone(), e);
        let permissions = replaceable(path).map_err(at)?;
        let beside = Beside::write(path, bytes, permissions).map_err(at)?;
        beside.sync().map_err(at)?;
        written.push((beside, path));
    }
    let Some((_, first)) = written.first() else {
        return Ok(());
    };
    let _turn = Turn::take(folder_of(first)).map_err(|e| (first.to_path_buf(), e))?;
    for (beside, path) in written {
        // Looked at again: meanwhile it may have become something else.
        replaceable(path)
            .and_then(|_| fs::rename(beside.path(), path))
            .map_err(|e| (path.clone(), e))?;
    }
    Ok(())
}

/// The permissions of a file that may be replaced; none where there is no file yet.
fn replaceable(path: &Path) -> Result<Option<fs::Permissions>> {
    match fs::symlink_metadata(path) {
        Ok(meta) if meta.is_symlink() => Err(Error::other("it is a link")),
        Ok(meta) if meta.is_dir() => Err(Error::other("a folder of that name is in the way")),
        Ok(meta) if !meta.is_file() => Err(Error::other("it is no ordinary file")),
        Ok(meta) if meta.permissions().readonly() => Err(Error::other("it may not be written to")),
        Ok(meta) => Ok(Some(meta.permissions())),
        // A name below a file or a folder that isn't there is told when the file is written.
        Err(_) => Ok(None),
    }
}

/// Writes a file that is not there yet: it appears whole.
///
/// # Errors
///
/// `AlreadyExists` if there is something of that name; whatever the file system says.
pub(super) fn new_file(path: &Path, bytes: &[u8]) -> Result<()> {
    let _hold = super::hold::hold();
    appear(path, bytes)
}

/// As [`new_file`], for a program that hears Ctrl-C in its own way.
pub(super) fn appear(path: &Path, bytes: &[u8]) -> Result<()> {
    let beside = Beside::write(path, bytes, None)?;
    beside.sync()?;
    let _turn = Turn::take(folder_of(path))?;
    #[cfg(any(target_os = "linux", target_os = "macos"))]
    {
        use rustix::fs::{CWD, RenameFlags, renameat_with};
        use rustix::io::Errno;
        match renameat_with(CWD, beside.path(), CWD, path, RenameFlags::NOREPLACE) {
            Err(Errno::INVAL | Errno::NOSYS | Errno::NOTSUP) => {}
            other => return other.map_err(Error::from),
        }
    }
    // A second name for the same file: it is refused where the name is taken, and the first name goes with `beside`.
    fs::hard_link(beside.path(), path)
}

/// Puts `new` in the place of a file: whole, in one step, with its permissions, and only if `same` says that the file at a path
/// still is what was read. `Ok(false)` if it is something else, which is then untouched.
///
/// # Errors
///
/// The file may not be written to, or what the file system says. The old file is then as it was.
pub(super) fn replace(
    path: &Path,
    new: &[u8],
    same: impl Fn(&Path) -> Result<bool>,
) -> Result<bool> {
    let permissions = replaceable(path)?;
    let beside = Beside::write(path, new, permissions)?;
    beside.sync()?;
    let _turn = Turn::take(folder_of(path))?;
    if !same(path)? {
        return Ok(false);
    }
    exchange_if(beside.path(), path, same)
}

/// Clears what killed runs left beside a file that needs no writing.
pub(super) fn clear(path: &Path) {
    // Nothing is lost where it can't be cleared.
    let _ = Turn::take(folder_of(path)).and_then(|_turn| beside::clear(path));
}

/// The two files change names, and what stood there is looked at once more: an editor may have saved in between, and then they
/// change back.
fn exchange_if(fresh: &Path, path: &Path, same: impl Fn(&Path) -> Result<bool>) -> Result<bool> {
    if !swap(fresh, path)? {
        // Where two files can't change names in one step, the new one takes the place of the old.
        fs::rename(fresh, path)?;
        return Ok(true);
    }
    if same(fresh)? {
        return Ok(true);
    }
    swap(fresh, path)?;
    Ok(false)
}

/// Lets two files or folders change names in one step; `Ok(false)` where the system or the file system can't.
fn swap(one: &Path, other: &Path) -> Result<bool> {
    #[cfg(any(target_os = "linux", target_os = "macos"))]
    {
        use rustix::fs::{CWD, RenameFlags, renameat_with};
        use rustix::io::Errno;
        match renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE) {
            Ok(()) => Ok(true),
            Err(Errno::INVAL | Errno::NOSYS | Errno::NOTSUP) => Ok(false),
            Err(error) => Err(error.into()),
        }
    }
    #[cfg(not(any(target_os = "linux", target_os = "macos")))]
    Ok(false)
}

/// The folder that holds a path.
fn folder_of(path: &Path) -> &Path {
    let parent = path.parent().filter(|p| !p.as_os_str().is_empty());
    parent.unwrap_or(Path::new("."))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_save_between_the_last_look_and_the_exchange_is_kept() {
        let folder = tempfile::tempdir().expect("a folder");
        let (path, fresh) = (folder.path().join("a.yaml"), folder.path().join("fresh"));
        fs::write(&path, "saved by an editor").expect("written");
        fs::write(&fresh, "new").expect("written");
        let as_read = |p: &Path| Ok(fs::read(p)? == b"as read");
        assert!(!exchange_if(&fresh, &path, as_read).expect("changed back"));
        assert_eq!(fs::read_to_string(&path).expect("read"), "saved by an editor");
        let saved = |p: &Path| Ok(fs::read(p)? == b"saved by an editor");
        assert!(replace(&path, b"new", saved).expect("replaced"));
        assert!(!replace(&path, b"newer", saved).expect("looked"));
        assert_eq!(fs::read_to_string(&path).expect("read"), "new");
        fs::remove_file(&fresh).expect("removed");
        let left = fs::read_dir(folder.path()).expect("a folder").count();
        assert_eq!(left, 1, "nothing is left beside it");
    }

    #[test]
    fn a_new_file_takes_no_name_that_is_taken() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("a.yaml");
        new_file(&path, b"one").expect("written");
        let error = new_file(&path, b"two").expect_err("taken");
        assert_eq!(error.kind(), std::io::ErrorKind::AlreadyExists);
        assert_eq!(fs::read(&path).expect("read"), b"one");
        let left = fs::read_dir(folder.path()).expect("a folder").count();
        assert_eq!(left, 1, "nothing is left beside it");
    }
}
