//! Packets of many sketches: in order, past bad ones, the same on any number of threads.

use std::fs;
use std::os::unix::process::ExitStatusExt;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use crate::bench::{BIN, Tree, below, command, hidden, run, said, sketch, tree};

const NAMES: [&str; 4] = ["one.yaml", "two.yaml", "three.yaml", "four.yaml"];

/// A folder with four floors; the third has a stop.
fn floors() -> tempfile::TempDir {
    let dir = tempfile::tempdir().expect("a folder");
    for (i, name) in (6..).zip(NAMES) {
        let text = match name {
            "three.yaml" => sketch(i).replace("slab:\n", "slab:\n  post_tension: stamped\n"),
            _ => sketch(i).replace("slab:\n", "slab:\n  post_tension: none\n"),
        };
        fs::write(dir.path().join(name), text).expect("written");
    }
    fs::write(dir.path().join("bad.yaml"), sketch(7).replace("control", "controll"))
        .expect("written");
    dir
}

#[test]
fn what_is_said_comes_in_order_and_the_last_lines_sum_it_up() {
    let dir = floors();
    let [one, two, three, four] = NAMES;
    let mut before: Option<(Vec<u8>, String)> = None;
    for jobs in ["1", "7"] {
        let arguments =
            ["packet", one, "bad.yaml", two, "missing.yaml", three, four, "--jobs", jobs];
        let output = run(&arguments, dir.path());
        assert_eq!(output.status.code(), Some(3), "the worst: {}", said(&output));
        let words = said(&output);
        let summary = "4 of 6 packets made; 4 with findings, 1 with a stop\n\
                       not made: bad.yaml: errors in the sketch\n\
                       not made: missing.yaml: a file can't be read or written\n";
        assert!(words.ends_with(summary), "{words}");
        // A line for each that was made, and what is wrong with the others, each in the order of the sketches.
        let made = String::from_utf8(output.stdout.clone()).expect("text");
        let made = format!("\n{made}");
        let of_made = [
            "\none.yaml: ",
            "\ntwo.yaml: ",
            "\nthree.yaml: ",
            "\nfour.yaml: ",
            "\nThe packets are in out/one, out/two",
        ];
        for (text, names) in
            [(&made, &of_made[..]), (&words, &[" bad.yaml:", " missing.yaml can't"][..])]
        {
            let places: Vec<Option<usize>> = names.iter().map(|name| text.find(name)).collect();
            assert!(places.iter().all(Option::is_some) && places.is_sorted(), "{places:?}\n{text}");
        }
        assert!(
            !words.contains("under way") && !words.contains('\r'),
            "no progress where nobody watches"
        );
        let now = (output.stdout, words);
        assert!(before.is_none_or(|before| before == now), "--jobs {jobs} says something else");
        before = Some(now);
    }
    let made: Vec<String> = fs::read_dir(dir.path().join("out"))
        .expect("listed")
        .flatten()
        .map(|e| e.file_name().to_string_lossy().into_owned())
        .collect();
    assert_eq!(made.len(), 4, "{made:?}");
}

#[test]
fn one_sketch_needs_no_summary_and_a_bad_one_alone_gives_its_code() {
    let dir = floors();
    let output = run(&["packet", "one.yaml"], dir.path());
    assert_eq!(output.status.code(), Some(0));
    assert!(!said(&output).contains("packets made"), "{}", said(&output));
    let output = run(&["packet", "one.yaml", "bad.yaml"], dir.path());
    assert_eq!(output.status.code(), Some(1), "{}", said(&output));
    assert!(said(&output).contains("1 of 2 packets made"), "{}", said(&output));
    for jobs in ["0", "257", "many"] {
        let output = run(&["packet", "one.yaml", "--jobs", jobs], dir.path());
        assert_eq!(output.status.code(), Some(2), "{jobs}");
    }
}

#[test]
fn the_same_bytes_on_any_number_of_threads_and_cores() {
    let dir = floors();
    let [one, two, ..] = NAMES;
    let packets = |jobs: &str, out: &str| -> Tree {
        let arguments = ["packet", one, two, "--jobs", jobs, "--out", out];
        let output = run(&arguments, dir.path());
        assert!(output.status.success(), "{}", said(&output));
        below(&tree(dir.path()), out)
    };
    let wanted = packets("1", "a");
    assert!(wanted.len() > 40, "{:?}", wanted.keys());
    assert!(wanted == packets("4", "b"), "two at a time");
    // One core for all of it; the number of cores is what decides how a sketch by itself is shared out.
    let mut bound = command("taskset", &["-c", "0", BIN, "packet", "--out", "c"], dir.path());
    let bound = bound.args([one, two]).stdout(Stdio::null()).stderr(Stdio::null());
    match bound.status() {
        Ok(status) if status.success() => {
            assert!(wanted == below(&tree(dir.path()), "c"), "one core")
        }
        _ => eprintln!("passed over: taskset is not here; cores were not taken away"),
    }
}

#[test]
fn two_sketches_of_one_folder_are_told_before_anything_is_written() {
    let dir = floors();
    fs::create_dir(dir.path().join("deep")).expect("made");
    fs::write(dir.path().join("deep/one.yaml"), sketch(9)).expect("written");
    for second in ["deep/one.yaml", "./one.yaml", "one.yaml"] {
        let output = run(&["packet", "two.yaml", "one.yaml", second], dir.path());
        assert_eq!(output.status.code(), Some(2));
        assert!(said(&output).contains("would both be written to out/one"), "{}", said(&output));
        assert!(!dir.path().join("out").exists());
    }
}

/// What a run writes to a terminal.
fn on_terminal(line: &str, at: &Path) -> Option<String> {
    let output = command("script", &["-qec", line, "/dev/null"], at).stdin(Stdio::null()).output();
    match output {
        Ok(output) if output.status.success() => {
            Some(String::from_utf8_lossy(&output.stdout).into_owned())
        }
        _ => {
            eprintln!("passed over: script is not here; nothing was shown on a terminal");
            None
        }
    }
}

#[test]
fn progress_is_one_line_on_a_terminal_and_only_there() {
    let dir = floors();
    let line =
        |before: &str, after: &str| format!("{before} {BIN} packet one.yaml two.yaml {after}");
    let Some(shown) = on_terminal(&line("TERM=xterm", ""), dir.path()) else {
        return;
    };
    assert!(shown.contains("\r0 of 2 done; under way: "), "{shown:?}");
    assert!(shown.contains("\r1 of 2 done; under way: "), "{shown:?}");
    let parts = shown.split(['\r', '\n']);
    for part in parts.filter(|part| part.contains("under way")) {
        assert!(part.chars().count() <= 80 && !part.contains('\u{1b}'), "{part:?}");
    }
    let last = shown.trim_end().lines().last().unwrap_or_default();
    assert!(last.ends_with("2 of 2 packets made; 2 with findings"), "{last:?}");
    for (before, after) in [("TERM=dumb", ""), ("TERM=xterm", "2>said.txt")] {
        let shown = on_terminal(&line(before, after), dir.path()).expect("as before");
        assert!(!shown.contains("under way"), "{before} {after}: {shown:?}");
    }
    let piped = fs::read_to_string(dir.path().join("said.txt")).expect("read");
    assert!(!piped.contains("under way"), "{piped}");
}

#[test]
fn ctrl_c_among_many_leaves_whole_packets_and_nothing_else() {
    let dir = floors();
    let names = &NAMES[..2];
    let mut arguments = vec!["packet", "--jobs", "2"];
    arguments.extend(names);
    assert!(run(&arguments, dir.path()).status.success());
    let old = tree(&dir.path().join("out"));
    for (i, name) in (11..).zip(names) {
        fs::write(dir.path().join(name), sketch(i)).expect("written");
    }
    arguments.extend(["--out", "new"]);
    assert!(run(&arguments, dir.path()).status.success());
    let new = tree(&dir.path().join("new"));
    arguments.truncate(3 + names.len());
    for (delay, signal) in [(100, 2), (300, 15), (500, 2)] {
        let mut child = command(BIN, &arguments, dir.path())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("started");
        std::thread::sleep(Duration::from_millis(delay));
        let (id, number) = (child.id().to_string(), format!("-{signal}"));
        let _ = Command::new("kill").args([&number, &id]).stderr(Stdio::null()).status();
        let status = child.wait().expect("ended");
        assert!(status.success() || status.signal() == Some(signal), "{status:?}");
        let now = tree(&dir.path().join("out"));
        assert!(hidden(&now).is_empty(), "after {delay} ms: {:?}", hidden(&now));
        for name in names {
            let stem = name.trim_end_matches(".yaml");
            let found = below(&now, stem);
            let whole = found == below(&old, stem) || found == below(&new, stem);
            assert!(whole, "after {delay} ms: {stem}");
        }
    }
}
