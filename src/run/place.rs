//! Putting files in their place: whole or not at all, and in one step.
//!
//! A packet: the files are written to a new folder beside the old one, and the two change names. What the
//! old folder held that is no part of a packet moves over; what an older packet left is dropped.

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::{Error, Result, Write};
use std::path::{Path, PathBuf};

use super::packet::Piece;

/// Lists the files of a packet, so that the next one knows which are its own to drop.
const CONTENTS: &str = "contents.txt";

/// Writes files, replacing those of their names. All are written beside their places before the first takes it.
///
/// # Errors
///
/// A folder, a link or a device of that name; whatever the file system says. Then no file was touched, unless a rename failed.
pub(super) fn files(files: &[(PathBuf, Vec<u8>)]) -> std::result::Result<(), (PathBuf, Error)> {
    let mut written = Vec::with_capacity(files.len());
    for (path, bytes) in files {
        let under_way = UnderWay::write(path, bytes).map_err(|e| (path.clone(), e))?;
        written.push((under_way, path));
    }
    for (under_way, path) in written {
        fs::rename(&under_way.0, path).map_err(|e| (path.clone(), e))?;
    }
    Ok(())
}

/// A file under way beside its place, removed again unless it took it.
struct UnderWay(PathBuf);

impl UnderWay {
    fn write(path: &Path, bytes: &[u8]) -> Result<Self> {
        match fs::symlink_metadata(path) {
            Ok(meta) if meta.is_symlink() => return Err(Error::other("it is a link")),
            Ok(meta) if meta.is_dir() => {
                return Err(Error::other("a folder of that name is in the way"));
            }
            Ok(meta) if !meta.is_file() => return Err(Error::other("it is no ordinary file")),
            _ => {}
        }
        let Some(name) = path.file_name() else {
            return Err(Error::other("it is no name for a file"));
        };
        let name = format!(".{}.{}.new", name.to_string_lossy(), std::process::id());
        let beside = path.with_file_name(name);
        if fs::symlink_metadata(&beside).is_ok_and(|meta| meta.is_file()) {
            // Left by a process of the same number that was ended while writing.
            fs::remove_file(&beside)?;
        }
        let under_way = Self(beside);
        write(&under_way.0, bytes)?.sync_all()?;
        Ok(under_way)
    }
}

impl Drop for UnderWay {
    fn drop(&mut self) {
        // After the rename there is nothing left of that name.
        let _ = fs::remove_file(&self.0);
    }
}

/// Writes the pieces to `folder`.
///
/// # Errors
///
/// Whatever the file system says; the old packet is then as it was.
pub(super) fn place(folder: &Path, pieces: &[Piece]) -> Result<()> {
    let parent = folder
        .parent()
        .filter(|p| !p.as_os_str().is_empty())
        .unwrap_or(Path::new("."));
    fs::create_dir_all(parent)?;
    match fs::symlink_metadata(folder) {
        Ok(meta) if meta.is_symlink() => return Err(Error::other("its folder is a link")),
        Ok(meta) if !meta.is_dir() => {
            return Err(Error::other("a file of that name is in the way"));
        }
        _ => {}
    }
    let fresh = Fresh::new(parent, folder)?;
    let listed = contents(pieces);
    let all = pieces
        .iter()
        .map(|(name, bytes)| (name.as_str(), bytes.as_slice()));
    let mut written = Vec::with_capacity(pieces.len() + 1);
    for (name, bytes) in all.chain([(CONTENTS, listed.as_bytes())]) {
        written.push(write(&fresh.0.join(name), bytes)?);
    }
    // Only once all are written: the first call then carries most of what the others wait for.
    for file in &written {
        file.sync_all()?;
    }
    File::open(&fresh.0)?.sync_all()?;
    if folder.is_dir() {
        exchange(&fresh.0, folder)?;
        carry_over(&fresh.0, folder)
    } else {
        fs::rename(&fresh.0, folder)
    }
}

fn write(path: &Path, bytes: &[u8]) -> Result<File> {
    let mut file = File::create_new(path)?;
    file.write_all(bytes)?;
    Ok(file)
}

fn contents(pieces: &[Piece]) -> String {
    let mut names: Vec<&str> = pieces.iter().map(|p| p.0.as_str()).collect();
    names.push(CONTENTS);
    names.sort_unstable();
    names.join("\n") + "\n"
}

/// A folder under way, removed again unless it took its place.
struct Fresh(PathBuf);

impl Fresh {
    fn new(parent: &Path, folder: &Path) -> Result<Self> {
        let name = folder
            .file_name()
            .map(|n| n.to_string_lossy().into_owned())
            .unwrap_or_default();
        let path = parent.join(format!(".{name}.{}.new", std::process::id()));
        if path.exists() {
            // Left by a process of the same number that was ended while writing.
            fs::remove_dir_all(&path)?;
        }
        fs::create_dir(&path)?;
        Ok(Self(path))
    }
}

impl Drop for Fresh {
    fn drop(&mut self) {
        // Nothing can be done about a folder that won't go; the packet is in place or untouched.
        let _ = fs::remove_dir_all(&self.0);
    }
}

/// Lets two folders change names, in one step where the system can.
fn exchange(fresh: &Path, folder: &Path) -> Result<()> {
    #[cfg(any(target_os = "linux", target_os = "macos"))]
    {
        use rustix::fs::{CWD, RenameFlags, renameat_with};
        use rustix::io::Errno;
        match renameat_with(CWD, fresh, CWD, folder, RenameFlags::EXCHANGE) {
            Err(Errno::INVAL | Errno::NOSYS | Errno::NOTSUP) => {}
            other => return other.map_err(Error::from),
        }
    }
    in_two_steps(fresh, folder)
}

/// Where folders can't change names in one step: the old one steps aside for the new one, and
/// comes back if that fails.
fn in_two_steps(fresh: &Path, folder: &Path) -> Result<()> {
    let aside = fresh.with_extension("old");
    fs::rename(folder, &aside)?;
    if let Err(error) = fs::rename(fresh, folder) {
        fs::rename(&aside, folder)?;
        return Err(error);
    }
    fs::rename(&aside, fresh)
}

/// Moves what the old folder held beside its packet into the new one.
fn carry_over(old: &Path, new: &Path) -> Result<()> {
    let listed = fs::read_to_string(old.join(CONTENTS)).unwrap_or_default();
    let own: BTreeSet<&str> = listed.lines().collect();
    for entry in fs::read_dir(old)? {
        let entry = entry?;
        let name = entry.file_name();
        let target = new.join(&name);
        let stale = name
            .to_str()
            .is_some_and(|n| own.contains(n) || n == CONTENTS);
        if !stale && fs::symlink_metadata(&target).is_err() {
            fs::rename(entry.path(), target)?;
        }
    }
    Ok(())
}
