//! Putting a packet in its place.
//!
//! The files are written to a new folder beside the old one, and the two change names. What the old folder held that is no part of
//! a packet moves over; what an older packet left is dropped. Nothing that is not listed as a packet's own is ever removed.

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::{Error, ErrorKind, Result, Write};
use std::path::{Path, PathBuf};

use super::beside::{OLD, left_behind, made};
use super::turn::Turn;
use super::{folder_of, swap};
use crate::run::hold;
use crate::run::packet::Piece;
use crate::run::picture::numbered;

/// Lists the files of a packet, so that the next one knows which are its own to drop.
const CONTENTS: &str = "contents.txt";

/// Most files that are open at a time.
const OPEN: usize = 64;

/// Before a line of the list that names no file.
const REMARK: &str = "# ";

/// Writes the pieces to `folder`, with remarks at the top of its list of files.
///
/// # Errors
///
/// Whatever the file system says; the old packet is then as it was. If it says so only after the new packet took its place, the
/// message says that too.
pub(in crate::run) fn place(folder: &Path, pieces: &[Piece], remarks: &[String]) -> Result<()> {
    let _hold = hold::hold();
    let parent = folder_of(folder);
    fs::create_dir_all(parent)?;
    in_the_way(folder, pieces)?;
    let mut fresh = Fresh::new(parent, folder)?;
    let listed = contents(pieces, remarks);
    // The list comes first: what is left of a killed run is known by it.
    let listed = [(CONTENTS, listed.as_bytes())].into_iter();
    let named = pieces.iter().map(|(name, bytes)| (name.as_str(), bytes.as_slice()));
    let all: Vec<(&str, &[u8])> = listed.chain(named).collect();
    for some in all.chunks(OPEN) {
        let write = |(name, bytes): &(&str, &[u8])| write(&fresh.path.join(name), bytes);
        let written: Vec<File> = some.iter().map(write).collect::<Result<_>>()?;
        // Only once they are written: the first call then carries most of what the others wait for.
        written.iter().try_for_each(File::sync_all)?;
    }
    fresh.lock.sync_all()?;
    let _turn = Turn::take(parent)?;
    in_the_way(folder, pieces)?;
    if let Ok(meta) = fs::symlink_metadata(folder) {
        fs::set_permissions(&fresh.path, meta.permissions())?;
        let old = exchange(&mut fresh, folder)?;
        finish(&old, folder).map_err(|error| aftermath(&old, &error))
    } else {
        fs::rename(&fresh.path, folder)
    }
}

/// Whether something stands where the packet or a file of it goes that must not be replaced.
fn in_the_way(folder: &Path, pieces: &[Piece]) -> Result<()> {
    match fs::symlink_metadata(folder) {
        Ok(meta) if meta.is_symlink() => return Err(Error::other("its folder is a link")),
        Ok(meta) if !meta.is_dir() => {
            return Err(Error::other("a file of that name is in the way"));
        }
        Ok(meta) if meta.permissions().readonly() => {
            return Err(Error::other("its folder may not be written to"));
        }
        _ => {}
    }
    let names = pieces.iter().map(|p| p.0.as_str()).chain([CONTENTS]);
    for name in names {
        if fs::symlink_metadata(folder.join(name)).is_ok_and(|meta| meta.is_dir()) {
            return Err(Error::other(format!("a folder {name} in it is in the way")));
        }
    }
    Ok(())
}

fn aftermath(old: &Path, error: &Error) -> Error {
    let old = old.display();
    Error::other(format!(
        "the new one is in its place, but what else was in its folder is still in {old}: {error}"
    ))
}

fn write(path: &Path, bytes: &[u8]) -> Result<File> {
    let mut file = File::create_new(path)?;
    file.write_all(bytes)?;
    Ok(file)
}

fn contents(pieces: &[Piece], remarks: &[String]) -> String {
    let mut names: Vec<&str> = pieces.iter().map(|p| p.0.as_str()).collect();
    names.push(CONTENTS);
    names.sort_unstable();
    let remarks: String = remarks.iter().map(|r| format!("{REMARK}{r}\n")).collect();
    remarks + &names.join("\n") + "\n"
}

/// A folder under way, removed again unless it took its place. It is locked while its writer lives.
#[derive(Debug)]
struct Fresh {
    path: PathBuf,
    lock: File,
    /// Whether what stands at the path is what this run wrote.
    own: bool,
}

impl Fresh {
    /// Makes the folder, after what killed runs left has been cleared.
    fn new(parent: &Path, folder: &Path) -> Result<Self> {
        let _turn = Turn::take(parent)?;
        clear(folder)?;
        let (path, ()) = made(folder, |path| fs::create_dir(path))?;
        match File::open(&path) {
            Ok(lock) => {
                // Where folders can't be locked there is nothing to clear by.
                let _ = lock.try_lock();
                let own = true;
                Ok(Self { path, lock, own })
            }
            Err(error) => {
                let _ = fs::remove_dir(&path);
                Err(error)
            }
        }
    }
}

impl Drop for Fresh {
    fn drop(&mut self) {
        if self.own {
            // After a rename there is nothing there. Nothing can be done about a folder that won't go; the next run clears it.
            let _ = discard(&self.path);
        }
    }
}

/// Clears what killed runs left: the old packet comes back if it was just stepping aside, what is no packet's own moves over.
fn clear(folder: &Path) -> Result<()> {
    for left in left_behind(folder)?.into_iter().filter(|l| l.is_dir) {
        if left.ending == OLD && fs::symlink_metadata(folder).is_err() {
            fs::rename(&left.path, folder)?;
        } else {
            finish(&left.path, folder).map_err(|error| {
                let path = left.path.display();
                Error::other(format!("{path} was left by another run: {error}"))
            })?;
        }
    }
    Ok(())
}

/// Lets the new folder take the place of the old one, in one step where the system can. Gives the path of the old one.
fn exchange(fresh: &mut Fresh, folder: &Path) -> Result<PathBuf> {
    if swap(&fresh.path, folder)? {
        // The old folder now stands at that path, with what others put there.
        fresh.own = false;
        return Ok(fresh.path.clone());
    }
    in_two_steps(&fresh.path, folder)
}

/// Where folders can't change names in one step: the old one steps aside for the new one, and comes back if that fails.
fn in_two_steps(fresh: &Path, folder: &Path) -> Result<PathBuf> {
    let aside = fresh.with_extension(OLD);
    fs::rename(folder, &aside)?;
    if let Err(error) = fs::rename(fresh, folder) {
        fs::rename(&aside, folder)?;
        return Err(error);
    }
    Ok(aside)
}

/// Moves what an old folder held beside its packet into the new one, and removes the rest of it.
fn finish(old: &Path, new: &Path) -> Result<()> {
    let (own, replaced) = (listed(old), listed(new));
    for entry in fs::read_dir(old)?.collect::<Result<Vec<_>>>()? {
        let name = entry.file_name();
        let text = name.to_str().unwrap_or_default();
        let of_packet = own.contains(text) || replaced.contains(text);
        if text == CONTENTS {
            continue;
        }
        if of_packet && !entry.file_type()?.is_dir() {
            remove(&entry.path())?;
        } else {
            fs::rename(entry.path(), free(&new.join(&name)))?;
        }
    }
    emptied(old)
}

/// Removes a folder that this run wrote.
fn discard(folder: &Path) -> Result<()> {
    for entry in fs::read_dir(folder)?.collect::<Result<Vec<_>>>()? {
        if entry.file_name() != CONTENTS {
            remove(&entry.path())?;
        }
    }
    emptied(folder)
}

/// Removes a folder that holds nothing but the list. The list goes last: until then it tells whose the rest is.
fn emptied(folder: &Path) -> Result<()> {
    remove(&folder.join(CONTENTS))?;
    fs::remove_dir(folder)
}

fn remove(path: &Path) -> Result<()> {
    match fs::remove_file(path) {
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(()),
        other => other,
    }
}

/// What the packet in a folder lists as its own.
fn listed(folder: &Path) -> BTreeSet<String> {
    let text = fs::read_to_string(folder.join(CONTENTS)).unwrap_or_default();
    let names = text.lines().filter(|line| !line.starts_with(REMARK));
    names.map(str::to_owned).collect()
}

/// A path, with a number where it is taken: `notes.txt`, `notes-2.txt`.
fn free(path: &Path) -> PathBuf {
    let mut paths = (0..).map(|i| numbered(path, i));
    let free = paths.find(|p| fs::symlink_metadata(p).is_err());
    free.unwrap_or_else(|| path.to_owned())
}

#[cfg(test)]
#[path = "folder_tests.rs"]
mod tests;
