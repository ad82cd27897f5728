//! Killed, interrupted, or out of room at every step.

use std::collections::BTreeMap;
use std::os::unix::process::ExitStatusExt;
use std::path::Path;
use std::process::{Command, Output};
use std::sync::OnceLock;

use crate::bench::{BIN, Job, change, command, hidden, others, packet, said, tree};

/// Calls by which a program changes what lies on a disk, and waits for its turn; a question mark where not every machine has one.
const CALLS: &str = "?mkdir,?mkdirat,?write,?fsync,?rename,?renameat,?renameat2,?unlink,?unlinkat,?rmdir,?link,?linkat,?flock,?fchmod,?chmod,?fchmodat";

const KILL: i32 = 9;
const INTERRUPT: i32 = 2;
/// A file grew beyond its limit.
const TOO_LARGE: i32 = 25;

/// Whether strace is here and may watch.
pub fn strace() -> bool {
    static HERE: OnceLock<bool> = OnceLock::new();
    *HERE.get_or_init(|| {
        let tried = command("strace", &["-o", "/dev/null", "true"], Path::new("/")).output();
        let here = tried.is_ok_and(|o| o.status.success());
        if !here {
            eprintln!(
                "passed over: strace is not here, or may not watch; nothing was killed step by step"
            );
        }
        here
    })
}

/// One step of a program: a call, and which of its calls of that name.
type Step = (String, usize);

/// The steps of a job, heard by strace in an undisturbed run.
fn steps(job: &Job) -> Vec<Step> {
    let dir = job.planted();
    let trace = format!("trace={CALLS}");
    let mut arguments = vec!["-f", "-qq", "-o", "steps.txt", "-e", &trace, BIN];
    arguments.extend(&job.arguments);
    let output = command("strace", &arguments, dir.path()).output().expect("strace runs");
    assert!(output.status.success(), "{}: {}", job.name, said(&output));
    let text = std::fs::read_to_string(dir.path().join("steps.txt")).expect("what was heard");
    // The thread stands first on every line, then the call: `17  fsync(3) = 0`. Calls are counted for every thread by itself.
    let calls = text.lines().filter_map(|line| {
        let (thread, rest) = line.split_once(' ')?;
        Some((thread.to_owned(), rest.trim().split_once('(')?.0.to_owned()))
    });
    let mut counts = BTreeMap::new();
    let mut out = Vec::new();
    for (thread, call) in calls {
        let count = counts.entry((thread, call.clone())).or_insert(0);
        *count += 1;
        if !out.contains(&(call.clone(), *count)) {
            out.push((call, *count));
        }
    }
    out
}

/// Of many writes and waits in a row the first and the last two: what happens at the others happens at those.
fn telling(steps: Vec<Step>) -> Vec<Step> {
    let last = |call: &str| steps.iter().filter(|s| s.0 == call).map(|s| s.1).max().unwrap_or(0);
    let (writes, waits) = (last("write"), last("fsync"));
    let dull = |(call, number): &Step| {
        let last = if call == "write" { writes } else { waits };
        ["write", "fsync"].contains(&call.as_str()) && *number > 2 && number + 2 <= last
    };
    steps.iter().filter(|step| !dull(step)).cloned().collect()
}

/// The program with a signal at a step: the how-manieth call of a name. `more` are options of strace itself.
pub fn signalled(
    more: &[&str],
    (call, number): (&str, usize),
    signal: &str,
    program: &[&str],
    at: &Path,
) -> Command {
    let inject = format!("inject={call}:signal={signal}:when={number}");
    let trace = format!("trace={call}");
    let mut arguments = more.to_vec();
    arguments.extend(["-f", "-qq", "-o", "/dev/null", "-e", &trace, "-e", &inject]);
    arguments.push(BIN);
    arguments.extend(program);
    command("strace", &arguments, at)
}

/// The job with a signal at a step.
fn at_step(job: &Job, (call, number): &Step, signal: &str, at: &Path) -> Output {
    signalled(&[], (call, *number), signal, &job.arguments, at).output().expect("strace runs")
}

/// Kills a job at each of these steps.
fn killed(job: &Job, steps: &[Step]) {
    for step in steps {
        let dir = job.planted();
        let output = at_step(job, step, "KILL", dir.path());
        let when = format!("killed at {} {}", step.0, step.1);
        assert_eq!(output.status.signal(), Some(KILL), "{}, {when}: {}", job.name, said(&output));
        job.is_whole(&tree(dir.path()), &when);
        job.recovers(dir.path(), &when);
    }
}

#[test]
fn a_folder_that_is_killed_at_any_step_is_the_old_or_the_new() {
    if strace() {
        let steps = telling(steps(change()));
        assert!(steps.len() > 12, "{steps:?}");
        killed(change(), &steps);
    }
}

#[test]
fn a_packet_that_is_killed_at_any_eighteenth_step_is_the_old_or_the_new() {
    if strace() {
        let steps = steps(packet());
        assert!(steps.len() > 70, "{steps:?}");
        let some: Vec<Step> = steps.into_iter().step_by(18).collect();
        killed(packet(), &some);
    }
}

#[test]
#[ignore = "one of the ten that take longest: .ci/run asks for them"]
fn every_other_file_that_is_killed_at_any_step_is_the_old_or_the_new() {
    if strace() {
        for job in others() {
            let steps = telling(steps(job));
            assert!(steps.len() > 5, "{}: {steps:?}", job.name);
            killed(job, &steps);
        }
    }
}

#[test]
fn what_is_interrupted_at_any_step_is_whole_and_leaves_nothing() {
    if !strace() {
        return;
    }
    let job = change();
    for step in telling(steps(job)) {
        let dir = job.planted();
        let output = at_step(job, &step, "INT", dir.path());
        let (found, when) = (tree(dir.path()), format!("interrupted at {step:?}"));
        assert_eq!(output.status.signal(), Some(INTERRUPT), "{when}: {}", said(&output));
        job.is_whole(&found, &when);
        assert!(hidden(&found).is_empty(), "{when}: {:?}", hidden(&found));
    }
}

/// The job under a limit to the size of a file, bytes; beyond it the program is killed, or told so.
fn limited(job: &Job, bytes: usize, told: bool, at: &Path) -> Option<Output> {
    let ignore = if told { "trap '' XFSZ; " } else { "" };
    let line = format!("{ignore}exec prlimit --core=0 --fsize={bytes} \"$@\"");
    let mut arguments = vec!["-c", &line, "sh", BIN];
    arguments.extend(&job.arguments);
    let output = command("sh", &arguments, at).output().ok()?;
    let missing = said(&output).contains("prlimit");
    if missing {
        eprintln!("passed over: prlimit is not here; no file was limited");
    }
    (!missing).then_some(output)
}

/// Limits at which one file of the job after another is the one that fails: one byte short of each.
fn limits(job: &Job) -> Vec<usize> {
    let folder = job.folder.unwrap_or_default();
    let new =
        job.after.iter().filter(|(n, b)| n.starts_with(folder) && job.before.get(*n) != Some(b));
    let mut all: Vec<usize> = new.flat_map(|(_, b)| [b.len() / 2, b.len() - 1]).collect();
    all.sort_unstable();
    all.dedup();
    all
}

fn limited_everywhere(job: &Job, limits: &[usize]) {
    for &bytes in limits {
        for told in [false, true] {
            let dir = job.planted();
            let when = format!("files of at most {bytes} bytes, told: {told}");
            let Some(output) = limited(job, bytes, told, dir.path()) else {
                return;
            };
            let found = tree(dir.path());
            if told {
                assert_eq!(
                    output.status.code(),
                    Some(3),
                    "{}, {when}: {}",
                    job.name,
                    said(&output)
                );
                assert!(said(&output).contains("File too large"), "{}", said(&output));
                assert!(found == job.before, "{}, {when}: {:?}", job.name, found.keys());
            } else {
                assert_eq!(output.status.signal(), Some(TOO_LARGE), "{}, {when}", job.name);
                job.is_whole(&found, &when);
                job.recovers(dir.path(), &when);
            }
        }
    }
}

#[test]
fn a_file_that_grows_beyond_its_limit_leaves_everything_as_it_was() {
    limited_everywhere(change(), &limits(change()));
    for job in others() {
        limited_everywhere(job, &limits(job));
    }
}

#[test]
fn a_packet_beyond_a_limit_leaves_everything_as_it_was() {
    // Of the tables and of the drawings one.
    let all = limits(packet());
    let some: Vec<usize> = all.iter().copied().skip(2).step_by(12).take(2).collect();
    limited_everywhere(packet(), &some);
}
