//! A full disk, and one that may not be written to: a small file system in memory, seen by the program alone.

use std::collections::BTreeSet;
use std::path::Path;
use std::process::Output;
use std::sync::OnceLock;

use crate::bench::{BIN, Job, change, command, others, packet, said, tree};

/// Runs the job in a file system of its own with these options of mount, set to read only if asked; what it holds afterwards is in
/// `copy` below the folder.
fn mounted(job: &Job, options: &str, read_only: bool, at: &Path) -> Option<Output> {
    if !may_mount() {
        return None;
    }
    let close = if read_only { "mount -o remount,ro small" } else { "true" };
    let line = format!(
        "mount -t tmpfs -o {options} none small && cp -a before/. small && {close} || exit 99\n\
         (cd small && exec \"$@\"); code=$?\ncp -a small/. copy; exit $code"
    );
    for folder in ["before", "small", "copy"] {
        std::fs::create_dir(at.join(folder)).expect("made");
    }
    crate::bench::plant(&job.before, &at.join("before"));
    let mut arguments = vec!["-m", "sh", "-c", &line, "sh", BIN];
    arguments.extend(&job.arguments);
    let output = command("unshare", &arguments, at).output().expect("it runs");
    assert_ne!(output.status.code(), Some(99), "{}: {}", job.name, said(&output));
    Some(output)
}

/// Whether this machine lets us have a file system of our own.
fn may_mount() -> bool {
    static MAY: OnceLock<bool> = OnceLock::new();
    *MAY.get_or_init(|| {
        let dir = tempfile::tempdir().expect("a folder");
        let line = "mount -t tmpfs -o size=64k none . && cd . && echo full > test";
        let tried = command("unshare", &["-m", "sh", "-c", line], dir.path()).output();
        let may = tried.is_ok_and(|o| o.status.success());
        if !may {
            eprintln!(
                "passed over: nothing may be mounted here; no disk was filled or set to read only"
            );
        }
        may
    })
}

/// The job on disks that are full after more and more files; every one but the last must leave everything as it was.
fn filled(job: &Job, every: usize) {
    // A file or a folder is one node, and so is the root.
    let folders: BTreeSet<&Path> =
        job.before.keys().flat_map(|n| Path::new(n).ancestors().skip(1)).collect();
    let held = job.before.len() + folders.len();
    let mut failed = 0;
    for more in (0..).step_by(every) {
        let dir = tempfile::tempdir().expect("a folder");
        let nodes = format!("size=64m,nr_inodes={}", held + more);
        let Some(output) = mounted(job, &nodes, false, dir.path()) else {
            return;
        };
        let (found, when) = (tree(&dir.path().join("copy")), format!("{more} nodes"));
        if output.status.success() {
            assert!(found == job.after, "{}, {when}: {:?}", job.name, found.keys());
            break;
        }
        failed += 1;
        assert_eq!(output.status.code(), Some(3), "{}, {when}: {}", job.name, said(&output));
        assert!(said(&output).contains("No space left"), "{}", said(&output));
        assert!(found == job.before, "{}, {when}: {:?}", job.name, found.keys());
    }
    assert!(failed > 0, "{}: no disk was full", job.name);
}

#[test]
fn a_disk_that_is_full_after_any_file_leaves_everything_as_it_was() {
    filled(change(), 1);
    filled(packet(), 11);
    for job in others() {
        filled(job, 1);
    }
}

#[test]
fn a_disk_that_is_full_within_a_file_leaves_the_old_packet() {
    let job = packet();
    let pages = |t: &crate::bench::Tree| t.values().map(|b| b.len().div_ceil(4096)).sum::<usize>();
    let (old, new) = (pages(&job.before), pages(&job.after));
    for part in [1, 3] {
        let dir = tempfile::tempdir().expect("a folder");
        let size = format!("size={}", 4096 * (old + 4 + new * part / 4));
        let Some(output) = mounted(job, &size, false, dir.path()) else {
            return;
        };
        assert_eq!(output.status.code(), Some(3), "{size}: {}", said(&output));
        assert!(said(&output).contains("No space left"), "{}", said(&output));
        let found = tree(&dir.path().join("copy"));
        assert!(found == job.before, "{size}: {:?}", found.keys());
    }
}

#[test]
fn a_folder_that_may_not_be_written_to_is_told_and_left() {
    for job in [packet(), change()].into_iter().chain(others()) {
        let dir = tempfile::tempdir().expect("a folder");
        let Some(output) = mounted(job, "size=64m", true, dir.path()) else {
            return;
        };
        assert_eq!(output.status.code(), Some(3), "{}: {}", job.name, said(&output));
        assert!(said(&output).contains("Read-only"), "{}: {}", job.name, said(&output));
        let found = tree(&dir.path().join("copy"));
        assert!(found == job.before, "{}: {:?}", job.name, found.keys());
    }
}
