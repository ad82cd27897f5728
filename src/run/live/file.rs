//! The sketch as a file: read again and again, and replaced in one step.

use std::fs::{self, File};
use std::io::{Error, ErrorKind, Read, Result};
use std::path::{Path, PathBuf};

use crate::live::floor::{Floor, book_named};
use crate::run::place;
use crate::yaml::{MOST_BYTES, decode};

/// The folder of photos, beside the sketch.
pub(super) const PHOTOS: &str = "photos";

/// A sketch and its shop book on disk.
#[derive(Debug)]
pub(super) struct Paper {
    sketch: PathBuf,
    shop: Option<PathBuf>,
}

/// What both files hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Contents {
    pub sketch: String,
    pub book: Option<String>,
}

impl Contents {
    pub(super) fn floor(&self) -> Floor {
        Floor::read(self.sketch.clone(), self.book.as_deref())
    }
}

impl Paper {
    /// Looks once, so that a wrong name is told at once.
    pub(super) fn open(sketch: &Path, shop: Option<&Path>) -> Result<Self> {
        let paper = Self { sketch: sketch.to_owned(), shop: shop.map(Path::to_owned) };
        paper.contents()?;
        Ok(paper)
    }

    /// The file name of the sketch.
    pub(super) fn name(&self) -> String {
        let name = self.sketch.file_name().unwrap_or_default();
        name.to_string_lossy().into_owned()
    }

    /// Where the sketch is.
    pub(super) fn path(&self) -> &Path {
        &self.sketch
    }

    /// Reads both files.
    pub(super) fn contents(&self) -> Result<Contents> {
        let sketch = text(&self.sketch)?;
        let book = self.book(&sketch);
        let said = |path: &Path, e: Error| {
            Error::new(e.kind(), format!("the shop book {} can't be read: {e}", path.display()))
        };
        let book = book.map(|path| text(&path).map_err(|e| said(&path, e))).transpose()?;
        Ok(Contents { sketch, book })
    }

    /// Where the shop book of a sketch is, if it has one.
    pub(super) fn book(&self, sketch: &str) -> Option<PathBuf> {
        let named = || book_named(sketch).map(|named| self.folder().join(named));
        self.shop.clone().or_else(named)
    }

    fn folder(&self) -> &Path {
        let parent = self.sketch.parent().filter(|p| !p.as_os_str().is_empty());
        parent.unwrap_or(Path::new("."))
    }

    /// Keeps a photo in the folder `photos` beside the sketch, whole or not at all. What is there under that name stays: sent again it is
    /// the same photo, and another one is refused.
    pub(super) fn keep_photo(&self, name: &str, bytes: &[u8]) -> Result<()> {
        let folder = self.folder().join(PHOTOS);
        match fs::create_dir(&folder) {
            Err(e) if e.kind() == ErrorKind::AlreadyExists => {}
            made => made?,
        }
        if !fs::symlink_metadata(&folder)?.is_dir() {
            return Err(Error::other("`photos` beside the sketch is no folder"));
        }
        let path = folder.join(name);
        match place::appear(&path, bytes) {
            Err(e) if e.kind() == ErrorKind::AlreadyExists => {
                let file = fs::symlink_metadata(&path)?.is_file();
                if file && fs::read(&path)? == bytes {
                    return Ok(());
                }
                let words =
                    format!("there is another photo {PHOTOS}/{name} already; take it again");
                Err(Error::new(ErrorKind::AlreadyExists, words))
            }
            written => written,
        }
    }

    /// Puts `after` in the place of `before`: whole, in one step, and only if the file holds `before`
    /// at that moment. `Ok(false)` if it holds something else, which is then untouched.
    pub(super) fn replace(&self, before: &str, after: &str) -> Result<bool> {
        let meta = fs::symlink_metadata(&self.sketch)?;
        if !meta.is_file() {
            return Err(Error::new(
                ErrorKind::InvalidInput,
                "the sketch is a link; open the file that it leads to",
            ));
        }
        let as_read = |path: &Path| Ok(text(path)? == before);
        place::replace(&self.sketch, after.as_bytes(), as_read)
    }
}

/// The text of a file, with the limits of every sketch.
fn text(path: &Path) -> Result<String> {
    if path.is_dir() {
        return Err(Error::other("it is a folder"));
    }
    let mut bytes = Vec::new();
    let most = MOST_BYTES as u64 + 1;
    File::open(path)?.take(most).read_to_end(&mut bytes)?;
    match decode(&bytes) {
        Ok(text) => Ok(text.to_owned()),
        Err(fault) => Err(Error::new(ErrorKind::InvalidData, fault.message)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_replaced_only_if_it_holds_what_was_read() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("a.yaml");
        fs::write(&path, "one").expect("written");
        let paper = Paper::open(&path, None).expect("opened");
        assert!(!paper.replace("another", "two").expect("looked"));
        assert_eq!(fs::read_to_string(&path).expect("read"), "one");
        assert!(paper.replace("one", "two").expect("replaced"));
        assert_eq!(fs::read_to_string(&path).expect("read"), "two");
        let left = fs::read_dir(folder.path()).expect("a folder").count();
        assert_eq!(left, 1, "nothing is left beside the sketch");
    }

    #[test]
    fn a_photo_is_kept_once_and_over_nothing() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("a.yaml");
        fs::write(&path, "one").expect("written");
        let paper = Paper::open(&path, None).expect("opened");
        paper.keep_photo("a.jpg", b"first").expect("kept");
        paper.keep_photo("a.jpg", b"first").expect("the same again");
        let said = paper.keep_photo("a.jpg", b"second").expect_err("another").to_string();
        assert!(said.contains("another photo photos/a.jpg"), "{said}");
        let photos = folder.path().join("photos");
        assert_eq!(fs::read(photos.join("a.jpg")).expect("read"), b"first");
        assert_eq!(fs::read_dir(&photos).expect("a folder").count(), 1, "nothing beside it");
        fs::remove_dir_all(&photos).expect("removed");
        fs::write(&photos, "no folder").expect("written");
        assert!(paper.keep_photo("a.jpg", b"first").is_err());
    }

    #[cfg(unix)]
    #[test]
    fn a_link_is_read_and_not_replaced() {
        let folder = tempfile::tempdir().expect("a folder");
        let (path, link) = (folder.path().join("a.yaml"), folder.path().join("b.yaml"));
        fs::write(&path, "one").expect("written");
        std::os::unix::fs::symlink(&path, &link).expect("linked");
        let paper = Paper::open(&link, None).expect("opened");
        assert!(paper.replace("one", "two").is_err());
        assert_eq!(fs::read_to_string(&path).expect("read"), "one");
    }
}
