//! Two at once on the same folder, and on the same sketch.

use std::fs;
use std::path::Path;
use std::process::Stdio;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;

use crate::bench::{BIN, Job, Tree, change, command, hidden, packet, run, said, sketch, tree};

/// Runs the job and its counterpart on another sketch at the same time, again and again. At the end of every round the folder holds
/// what one of the two writes, and all along it is there.
fn rounds(job: &Job, rounds: usize, each: usize) {
    let dir = job.planted();
    fs::write(dir.path().join("floor.yaml"), sketch(13)).expect("written");
    let other = dir.path().join("other");
    fs::create_dir(&other).expect("made");
    fs::write(other.join("agreed.yaml"), sketch(8)).expect("written");
    fs::write(other.join("floor.yaml"), sketch(15)).expect("written");
    let folder = dir.path().join(job.folder.expect("a folder"));
    assert!(run(&job.arguments, &other).status.success());
    let (one, two) = (below(job, &job.after), below(job, &tree(&other)));
    assert_ne!(one, two);

    let path = |arguments: &[&str]| -> Vec<String> {
        // The other sketch, written to the same folder.
        let there = |a: &&str| match *a {
            "floor.yaml" => "other/floor.yaml".to_owned(),
            a => a.to_owned(),
        };
        arguments.iter().map(there).collect()
    };
    let counterpart = path(&job.arguments);
    let over = AtomicBool::new(false);
    thread::scope(|scope| {
        let watch = scope.spawn(|| {
            let mut looks = 0_u32;
            while !over.load(Ordering::Relaxed) {
                assert!(fs::symlink_metadata(&folder).is_ok(), "the folder is gone");
                looks += 1;
                thread::yield_now();
            }
            looks
        });
        for round in 0..rounds {
            together(job, &counterpart, each, dir.path());
            let found = tree(dir.path());
            let now = below(job, &found);
            assert!(now == one || now == two, "{}, round {round}: {:?}", job.name, now.keys());
            assert!(hidden(&found).is_empty(), "{:?}", hidden(&found));
            let notes = format!("{}/notes.txt", job.folder.unwrap_or_default());
            assert_eq!(found.get(&notes).map(Vec::as_slice), Some(&b"call first"[..]));
        }
        over.store(true, Ordering::Relaxed);
        assert!(watch.join().expect("it was there all along") > 0);
    });
}

/// The files of a packet in a tree, without what others put beside them.
fn below(job: &Job, tree: &Tree) -> Tree {
    let mut own = crate::bench::below(tree, job.folder.unwrap_or_default());
    own.retain(|n, _| n != "notes.txt" && !n.starts_with("pictures/"));
    own
}

/// So many of both at the same time; all must succeed.
fn together(job: &Job, counterpart: &[String], each: usize, at: &Path) {
    let counterpart: Vec<&str> = counterpart.iter().map(String::as_str).collect();
    let mut children = Vec::new();
    for arguments in [job.arguments.as_slice(), &counterpart].repeat(each) {
        let mut command = command(BIN, arguments, at);
        let command = command.stdout(Stdio::null()).stderr(Stdio::piped());
        children.push(command.spawn().expect("started"));
    }
    for child in children {
        let output = child.wait_with_output().expect("ended");
        assert!(output.status.success(), "{}: {}", job.name, said(&output));
    }
}

#[test]
fn folders_written_at_once_are_one_or_the_other() {
    rounds(change(), 8, 2);
}

#[test]
fn packets_written_at_once_are_one_or_the_other() {
    rounds(packet(), 2, 1);
}

#[test]
fn of_two_new_sketches_of_one_name_one_is_made() {
    let dir = tempfile::tempdir().expect("a folder");
    for round in 0..10 {
        let name = format!("shed-{round}");
        let start = |width: &'static str| {
            command(BIN, &["new", &name, "--size", width, "22'"], dir.path())
                .stdout(Stdio::null())
                .stderr(Stdio::piped())
                .spawn()
                .expect("started")
        };
        let both = [start("24'"), start("30'")];
        let ends = both.map(|child| child.wait_with_output().expect("ended"));
        let made = ends.iter().filter(|o| o.status.success()).count();
        assert_eq!(made, 1, "{}{}", said(&ends[0]), said(&ends[1]));
        let late = ends.iter().find(|o| !o.status.success()).expect("one was late");
        assert!(said(late).contains("is there already"), "{}", said(late));
        let text = fs::read_to_string(dir.path().join(format!("{name}.yaml"))).expect("read");
        let first = if ends[0].status.success() { "24'" } else { "30'" };
        assert!(text.contains(&format!("E {first}")), "{text}");
    }
    assert_eq!(fs::read_dir(dir.path()).expect("listed").count(), 10);
}
