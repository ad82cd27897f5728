//! Places that are not what they should be: a file, a link, nothing at all; never a file outside the folder that was chosen.

use std::fs;
use std::os::unix::fs::{PermissionsExt, symlink};
use std::path::Path;

use crate::bench::{BIN, Tree, command, hidden, packet, run, said, sketch, tree};
use crate::killed::strace;

/// A folder with a sketch, and beside it one that nothing may be written to.
fn place() -> tempfile::TempDir {
    let dir = tempfile::tempdir().expect("a folder");
    for folder in ["here", "elsewhere"] {
        fs::create_dir(dir.path().join(folder)).expect("made");
    }
    fs::write(dir.path().join("here/floor.yaml"), sketch(10)).expect("written");
    fs::write(dir.path().join("elsewhere/keep.txt"), "mine").expect("written");
    dir
}

fn elsewhere(dir: &Path) -> Tree {
    tree(&dir.join("elsewhere"))
}

/// Runs in `here`; gives the exit code and what was said.
fn at(dir: &Path, arguments: &[&str]) -> (i32, String) {
    let output = run(arguments, &dir.join("here"));
    (output.status.code().unwrap_or(-1), said(&output))
}

#[test]
fn a_link_in_the_way_leads_nobody_elsewhere() {
    let dir = place();
    let here = dir.path().join("here");
    let keep = elsewhere(dir.path());
    fs::create_dir(here.join("out")).expect("made");
    symlink("../../elsewhere", here.join("out/floor")).expect("linked");
    symlink("../elsewhere", here.join("change")).expect("linked");
    symlink("../elsewhere/keep.txt", here.join("map.svg")).expect("linked");
    symlink("../elsewhere/new.txt", here.join("proposal.html")).expect("linked");
    symlink("../elsewhere/new.yaml", here.join("shed.yaml")).expect("linked");
    let rows: &[&[&str]] = &[
        &["packet", "floor.yaml"],
        &["change", "floor.yaml", "floor.yaml", "--out", "change"],
        &["closeout", "floor.yaml", "--out", "change"],
        &["map", "floor.yaml", "--out", "map.svg"],
        &["fieldsheet", "--out", "map.svg"],
        &["proposal", "floor.yaml", "--out", "proposal.html"],
        &["new", "shed", "--size", "24'", "22'"],
    ];
    let before = tree(&here);
    for row in rows {
        let (code, said) = at(dir.path(), row);
        assert_eq!(code, 3, "{row:?}: {said}");
        assert!(said.contains("link") || said.contains("already"), "{row:?}: {said}");
        assert_eq!(elsewhere(dir.path()), keep, "{row:?}");
        assert_eq!(tree(&here), before, "{row:?}");
    }
}

#[test]
fn a_link_among_the_old_files_is_dropped_and_not_followed() {
    let dir = place();
    let here = dir.path().join("here");
    assert_eq!(at(dir.path(), &["packet", "floor.yaml"]).0, 0);
    let keep = elsewhere(dir.path());
    let folder = here.join("out/floor");
    fs::remove_file(folder.join("takeoff.txt")).expect("removed");
    symlink("../../../elsewhere/keep.txt", folder.join("takeoff.txt")).expect("linked");
    symlink("../../../elsewhere", folder.join("plans")).expect("linked");
    // The list of an old packet is a text that anybody may have changed.
    let list = fs::read_to_string(folder.join("contents.txt")).expect("read");
    fs::write(
        folder.join("contents.txt"),
        list + "../../../elsewhere/keep.txt\n..\nplans/keep.txt\n",
    )
    .expect("written");
    let (code, said) = at(dir.path(), &["packet", "floor.yaml"]);
    assert_eq!(code, 0, "{said}");
    assert_eq!(elsewhere(dir.path()), keep);
    let text = fs::symlink_metadata(folder.join("takeoff.txt")).expect("there");
    assert!(text.is_file(), "a file of the packet again");
    let kept = fs::read_link(folder.join("plans")).expect("what is not the packet's stays");
    assert_eq!(kept, Path::new("../../../elsewhere"));
}

#[test]
fn a_file_in_the_way_of_a_folder_stays() {
    let dir = place();
    let here = dir.path().join("here");
    fs::write(here.join("out"), "a file").expect("written");
    let before = tree(&here);
    let rows: &[&[&str]] = &[
        &["packet", "floor.yaml"],
        &["packet", "floor.yaml", "--out", "out/deep"],
        &["change", "floor.yaml", "floor.yaml", "--out", "out"],
        &["map", "floor.yaml", "--out", "out/map.svg"],
        &["map", "floor.yaml", "--out", "missing/map.svg"],
        &["proposal", "floor.yaml", "--out", "missing/p.html"],
        &["new", "missing/shed", "--size", "24'", "22'"],
    ];
    for row in rows {
        let (code, said) = at(dir.path(), row);
        assert_eq!(code, 3, "{row:?}: {said}");
        assert!(said.contains("can't be written"), "{row:?}: {said}");
        assert_eq!(tree(&here), before, "{row:?}");
    }
    // A folder that isn't there is made for a packet, however deep, and only below the one that was named.
    assert_eq!(at(dir.path(), &["packet", "floor.yaml", "--out", "a/b"]).0, 0);
    assert!(here.join("a/b/floor/takeoff.txt").is_file());
    assert_eq!(elsewhere(dir.path()).len(), 1);
}

#[test]
fn what_is_closed_to_writing_is_left_whoever_asks() {
    let dir = place();
    let here = dir.path().join("here");
    assert_eq!(at(dir.path(), &["packet", "floor.yaml"]).0, 0);
    assert_eq!(at(dir.path(), &["map", "floor.yaml", "--out", "map.svg"]).0, 0);
    let close = |path: &str, mode| {
        fs::set_permissions(here.join(path), fs::Permissions::from_mode(mode)).expect("set");
    };
    close("out/floor", 0o555);
    close("map.svg", 0o444);
    fs::write(here.join("floor.yaml"), sketch(13)).expect("written");
    let before = tree(&here);
    for row in [&["packet", "floor.yaml"][..], &["map", "floor.yaml", "--out", "map.svg"]] {
        let (code, said) = at(dir.path(), row);
        assert_eq!(code, 3, "{row:?}: {said}");
        assert!(said.contains("may not be written to"), "{row:?}: {said}");
        assert_eq!(tree(&here), before, "{row:?}");
    }
    // What may be written to keeps its permissions.
    close("out/floor", 0o750);
    close("map.svg", 0o640);
    for row in [&["packet", "floor.yaml"][..], &["map", "floor.yaml", "--out", "map.svg"]] {
        assert_eq!(at(dir.path(), row).0, 0, "{row:?}");
    }
    let mode =
        |path: &str| fs::metadata(here.join(path)).expect("there").permissions().mode() & 0o777;
    assert_eq!((mode("out/floor"), mode("map.svg")), (0o750, 0o640));
}

#[test]
fn what_killed_runs_left_is_cleared_and_nothing_else() {
    let job = packet();
    let dir = job.planted();
    let out = dir.path().join("out");
    let left = [
        (".floor.999999999.new/contents.txt", "contents.txt\ntakeoff.txt\n"),
        (".floor.999999999.new/takeoff.txt", "half"),
        (".floor.999999998.new/contents.txt", ""),
    ];
    // Of other packets, and of nobody: none of this run's.
    let others = [
        (".floor-2.999999999.new/contents.txt", "contents.txt\n"),
        (".floor.new/mine.txt", "mine"),
        (".floor.x.new/mine.txt", "mine"),
        (".floor.12.txt", "mine"),
    ];
    for (path, text) in left.iter().chain(&others) {
        let path = out.join(path);
        fs::create_dir_all(path.parent().expect("a folder")).expect("made");
        fs::write(path, text).expect("written");
    }
    assert!(run(&job.arguments, dir.path()).status.success());
    let found = tree(dir.path());
    let mut wanted: Vec<String> = others.iter().map(|(p, _)| format!("out/{p}")).collect();
    wanted.sort();
    assert_eq!(hidden(&found).into_iter().cloned().collect::<Vec<_>>(), wanted);
}

#[test]
fn every_name_that_is_made_or_removed_lies_in_the_chosen_folder() {
    if !strace() {
        return;
    }
    let dir = packet().planted();
    let calls = "trace=?mkdir,?mkdirat,?open,?openat,?creat,?rename,?renameat,?renameat2,?unlink,?unlinkat,?rmdir,?link,?linkat,?symlink,?symlinkat,?truncate,?chmod,?fchmodat";
    let mut arguments = vec!["-f", "-qq", "-s", "4096", "-o", "calls.txt", "-e", calls, BIN];
    arguments.extend(&packet().arguments);
    let output = command("strace", &arguments, dir.path()).output().expect("it runs");
    assert!(output.status.success(), "{}", said(&output));
    let text = fs::read_to_string(dir.path().join("calls.txt")).expect("what was heard");
    // What is opened to be read may lie anywhere.
    let writes = |line: &&str| {
        !line.contains("open") || !line.contains("O_RDONLY") || line.contains("O_CREAT")
    };
    let (mut named, mut wrong) = (0, Vec::new());
    for line in text.lines().filter(writes) {
        for path in line.split('"').skip(1).step_by(2) {
            named += 1;
            if path != "out" && !path.starts_with("out/") || path.contains("..") {
                wrong.push(line);
            }
        }
    }
    assert!(named > 40, "{named} names are too few to be all");
    assert!(wrong.is_empty(), "{wrong:#?}");
}
