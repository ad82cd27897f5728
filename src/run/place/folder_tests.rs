//! What no run from outside can bring about on every machine: two steps instead of one, and what is left of old runs.

use super::*;

fn pieces(text: &str) -> Vec<Piece> {
    vec![("a.txt".into(), text.into()), ("b.txt".into(), text.into())]
}

/// Every name in a folder with its text.
fn tree(folder: &Path) -> Vec<(String, String)> {
    let mut out: Vec<_> = fs::read_dir(folder)
        .expect("listed")
        .flatten()
        .map(|e| {
            let text = fs::read_to_string(e.path()).unwrap_or_else(|_| "folder".into());
            (e.file_name().to_string_lossy().into_owned(), text)
        })
        .collect();
    out.sort();
    out
}

fn names(folder: &Path) -> Vec<String> {
    tree(folder).into_iter().map(|(name, _)| name).collect()
}

#[test]
fn in_two_steps_the_old_one_comes_back_if_the_run_is_killed_between() {
    let dir = tempfile::tempdir().expect("a folder");
    let folder = dir.path().join("floor");
    place(&folder, &pieces("old"), &[]).expect("placed");
    fs::write(folder.join("notes.txt"), "call first").expect("written");
    let old = tree(&folder);
    // Killed after the first of the two steps: the packet is away, and so is the lock of the folder under way.
    let aside = dir.path().join(".floor.1.old");
    fs::rename(&folder, &aside).expect("aside");
    let fresh = dir.path().join(".floor.1.new");
    fs::create_dir(&fresh).expect("made");
    fs::write(fresh.join(CONTENTS), "a.txt\nb.txt\ncontents.txt\n").expect("written");
    fs::write(fresh.join("a.txt"), "half").expect("written");
    clear(&folder).expect("cleared");
    assert_eq!(tree(&folder), old);
    assert_eq!(names(dir.path()), ["floor"]);

    // Killed after the second: the new one is in its place, the old one beside it with the notes.
    fs::rename(&folder, &aside).expect("aside");
    let new = dir.path().join("new");
    place(&new, &pieces("new"), &[]).expect("placed");
    fs::rename(&new, &folder).expect("in its place");
    clear(&folder).expect("cleared");
    let all = ["a.txt", "b.txt", "contents.txt", "notes.txt"];
    assert_eq!(names(&folder), all);
    assert_eq!(tree(&folder)[0].1, "new");
    assert_eq!(names(dir.path()), ["floor"]);
}

#[test]
fn the_two_steps_give_the_old_folder_back_to_be_finished() {
    let dir = tempfile::tempdir().expect("a folder");
    let (folder, fresh) = (dir.path().join("floor"), dir.path().join(".floor.1.new"));
    place(&folder, &pieces("old"), &[]).expect("placed");
    fs::write(folder.join("notes.txt"), "call first").expect("written");
    place(&fresh, &pieces("new"), &[]).expect("placed");
    let aside = in_two_steps(&fresh, &folder).expect("exchanged");
    finish(&aside, &folder).expect("finished");
    let all = ["a.txt", "b.txt", "contents.txt", "notes.txt"];
    assert_eq!(names(&folder), all);
    assert_eq!(names(dir.path()), ["floor"]);
}

#[test]
fn what_others_put_there_is_kept_whatever_happened() {
    let dir = tempfile::tempdir().expect("a folder");
    let folder = dir.path().join("floor");
    place(&folder, &pieces("new"), &[]).expect("placed");
    fs::write(folder.join("notes.txt"), "later notes").expect("written");
    // An old packet that a run killed after the exchange left, with notes and a folder in it.
    let left = dir.path().join(".floor.1.new");
    place(&left, &pieces("old"), &[]).expect("placed");
    fs::write(left.join("notes.txt"), "first notes").expect("written");
    fs::create_dir(left.join("pictures")).expect("made");
    place(&folder, &pieces("newer"), &[]).expect("placed");
    assert_eq!(names(dir.path()), ["floor"]);
    let found = tree(&folder);
    let of = |name: &str| found.iter().find(|f| f.0 == name).map(|f| f.1.as_str());
    assert_eq!(of("a.txt"), Some("newer"));
    assert_eq!(of("notes.txt"), Some("later notes"));
    assert_eq!(of("notes-2.txt"), Some("first notes"));
    assert_eq!(of("pictures"), Some("folder"));
}

#[test]
fn a_folder_of_a_files_name_and_a_folder_closed_to_writing_are_in_the_way() {
    let dir = tempfile::tempdir().expect("a folder");
    let folder = dir.path().join("floor");
    fs::create_dir_all(folder.join("a.txt/deep")).expect("made");
    let error = place(&folder, &pieces("new"), &[]).expect_err("in the way");
    assert!(error.to_string().contains("a.txt"), "{error}");
    assert_eq!(names(&folder), ["a.txt"]);
    fs::remove_dir_all(folder.join("a.txt")).expect("removed");
    place(&folder, &pieces("old"), &[]).expect("placed");
    let open = fs::metadata(&folder).expect("there").permissions();
    let mut closed = open.clone();
    closed.set_readonly(true);
    fs::set_permissions(&folder, closed).expect("closed");
    let error = place(&folder, &pieces("new"), &[]).expect_err("closed");
    assert!(error.to_string().contains("not be written"), "{error}");
    fs::set_permissions(&folder, open).expect("opened");
    assert_eq!(tree(&folder)[0].1, "old");
    assert_eq!(names(dir.path()), ["floor"]);
}
