//! The commands that help to write a sketch, from outside: what they write, and what they never touch.

use std::fs;
use std::path::Path;
use std::process::Stdio;

use crate::common::{folder, slabwalk};

const ROUGH: &str = "slabwalk:   1
# the job
slab:
    post_tension: none   # no stamp
    outline: {walk: [E 20',N 20',W 20',S 20'],start: [0,0]}
job: {name: Small garage}
";
const SMOOTH: &str = "slabwalk: 1

job: {name: Small garage}

# the job
slab:
  post_tension: none     # no stamp
  outline: {start: [0, 0], walk: [E 20', N 20', W 20', S 20']}
";

/// What a run printed and how it ended.
fn run(arguments: &[&str], at: &Path) -> (i32, String, String) {
    let output = slabwalk().current_dir(at).args(arguments).output().expect("the program runs");
    (
        output.status.code().expect("an exit code"),
        String::from_utf8(output.stdout).expect("text"),
        String::from_utf8(output.stderr).expect("text"),
    )
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("a folder");
    let mut names: Vec<String> = entries
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

#[test]
fn a_sketch_is_put_in_order_in_its_place() {
    let (dir, path) = folder(ROUGH);
    let at = dir.path();
    assert_eq!(run(&["format", "floor.yaml", "--check"], at).0, 1);
    let (code, out, _) = run(&["format", "floor.yaml", "--stdout"], at);
    assert_eq!((code, out.as_str()), (0, SMOOTH));
    assert_eq!(fs::read_to_string(&path).unwrap(), ROUGH, "nothing is written yet");
    assert_eq!(run(&["format", "floor.yaml"], at).0, 0);
    assert_eq!(fs::read_to_string(&path).unwrap(), SMOOTH);
    assert_eq!(run(&["format", "floor.yaml", "--check"], at).0, 0);
    let (code, out, err) = run(&["format", "floor.yaml"], at);
    assert_eq!((code, out, err), (0, String::new(), String::new()));
    assert_eq!(names(at), ["floor.yaml"], "nothing is left beside it");
}

/// A sketch with comments everywhere, and its parts in an order of its own.
const COMMENTED: &str = "# by hand\nslabwalk: 1\ncracks:   # the wet ones\n  # at the door\n  - {id: C1,  path: [[1', 1'], [4', 5']], width: 1/16}   # card\n  - id: C2\n    path: [[6', 1'], [8', 5']]\n    width: 1/8   # wide\n\njob: {name: Shed}   # ours\nslab: {outline: [[0, 0], [12', 0], [12', 10'], [0, 10']]}\n\n# none yet\nspalls:\nkeep_outs_of_old: 1\n";

#[test]
fn an_edit_changes_what_it_names_and_no_byte_beside_it() {
    let text = COMMENTED.replace("keep_outs_of_old: 1\n", "");
    let rows: [(&str, &[&str], &str, &str); 8] = [
        (
            "a value",
            &["--set", "cracks.C1.width", "1/4"],
            "width: 1/16}   # card",
            "width: 1/4}   # card",
        ),
        (
            "a value by number",
            &["--set", "cracks.2.note", "wet"],
            "    width: 1/8   # wide\n",
            "    width: 1/8   # wide\n    note: wet\n",
        ),
        (
            "a value in a block",
            &["--set", "cracks.C2.width", "3/16"],
            "width: 1/8   # wide",
            "width: 3/16   # wide",
        ),
        (
            "a key that is missing",
            &["--set", "job.client", "A. Sample"],
            "{name: Shed}   # ours",
            "{name: Shed, client: A. Sample}   # ours",
        ),
        (
            "words with a colon",
            &["--set", "cracks.C1.note", "\"wet: north\""],
            "width: 1/16}   # card",
            "width: 1/16, note: \"wet: north\"}   # card",
        ),
        (
            "a record",
            &["--add", "spalls", "{id: S1, circle: {center: [3', 3'], diameter: 5\"}, depth: 3/8}"],
            "spalls:\n",
            "spalls: [{id: S1, circle: {center: [3', 3'], diameter: 5\"}, depth: 3/8}]\n",
        ),
        (
            "a record behind others",
            &["--add", "cracks", "{id: C3, path: [[1', 8'], [4', 8']], width: 1/8}"],
            "    width: 1/8   # wide\n",
            "    width: 1/8   # wide\n  - {id: C3, path: [[1', 8'], [4', 8']], width: 1/8}\n",
        ),
        (
            "a record gone",
            &["--remove", "cracks.C2"],
            "  - id: C2\n    path: [[6', 1'], [8', 5']]\n    width: 1/8   # wide\n",
            "",
        ),
    ];
    for (name, change, old, new) in rows {
        assert!(text.contains(old), "{name}");
        let wanted = text.replacen(old, new, 1);
        let (dir, path) = folder(&text);
        let with = |more: &[&'static str]| -> Vec<String> {
            let all = [&["edit", "floor.yaml"], change, more].concat();
            all.into_iter().map(str::to_owned).collect()
        };
        let ask = |more: &[&'static str]| {
            let arguments = with(more);
            run(&arguments.iter().map(String::as_str).collect::<Vec<_>>(), dir.path())
        };
        assert_eq!(ask(&["--stdout"]), (0, wanted.clone(), String::new()), "{name}");
        assert_eq!(fs::read_to_string(&path).unwrap(), text, "{name}: not written yet");
        let said = (0, String::new(), "floor.yaml: changed\n".to_owned());
        assert_eq!(ask(&[]), said, "{name}");
        assert_eq!(fs::read_to_string(&path).unwrap(), wanted, "{name}");
        assert_eq!(names(dir.path()), ["floor.yaml"], "{name}: nothing is left beside it");
    }
}

#[test]
fn an_edit_of_what_is_not_there_says_so_and_leaves_the_file() {
    let text = COMMENTED.replace("keep_outs_of_old: 1\n", "");
    let rows: [(&[&str], i32, &str); 10] = [
        (
            &["--set", "cracks.C9.width", "1/4"],
            1,
            "error: floor.yaml was left as it is: there is no `C9`\n",
        ),
        (
            &["--set", "cracks.3.width", "1/4"],
            1,
            "error: floor.yaml was left as it is: there is no `3`\n",
        ),
        (&["--remove", "cracks.C9"], 1, "error: floor.yaml was left as it is: there is no `C9`\n"),
        (
            &["--remove", "coating"],
            1,
            "error: floor.yaml was left as it is: there is no `coating`\n",
        ),
        (
            &["--remove", "cracks.C1.note"],
            1,
            "error: floor.yaml was left as it is: there is no `note`\n",
        ),
        (
            &["--set", "job.name.first", "A"],
            1,
            "error: floor.yaml was left as it is: there are no keys to stand beside\n",
        ),
        (
            &["--add", "job", "{id: C3}"],
            1,
            "error: floor.yaml was left as it is: `job` should be a list\n",
        ),
        (&["--set", "job.client", "[A"], 1, ""),
        (&["--set", "cracks.C1.width", "thin"], 1, ""),
        (&["--set", "cracks.C1.width"], 2, ""),
    ];
    for (change, wanted, message) in rows {
        let (dir, path) = folder(&text);
        let (code, out, err) = run(&[&["edit", "floor.yaml"], change].concat(), dir.path());
        assert_eq!((code, out.as_str()), (wanted, ""), "{change:?}: {err}");
        assert!(!err.is_empty() && !err.contains("panicked"), "{change:?}");
        if !message.is_empty() {
            assert_eq!(err, message, "{change:?}");
        }
        assert_eq!(fs::read_to_string(&path).unwrap(), text, "{change:?}");
    }
    let (dir, _) = folder(&text);
    let (code, _, err) = run(&["edit", "nowhere.yaml", "--remove", "job"], dir.path());
    assert_eq!(code, 3, "{err}");
    // A change that would put an error into the sketch is shown at its place.
    let (_, _, err) = run(&["edit", "floor.yaml", "--set", "cracks.C1.width", "thin"], dir.path());
    assert!(err.contains("floor.yaml (not written)") && err.contains("width: thin}"), "{err}");
}

#[test]
fn a_sketch_with_errors_is_mended_in_steps() {
    let (dir, path) = folder(COMMENTED);
    let (code, _, err) =
        run(&["edit", "floor.yaml", "--set", "cracks.C1.width", "1/4"], dir.path());
    assert_eq!(code, 0, "{err}");
    let (code, _, err) = run(&["edit", "floor.yaml", "--remove", "keep_outs_of_old"], dir.path());
    assert_eq!(code, 0, "{err}");
    let wanted =
        COMMENTED.replace("keep_outs_of_old: 1\n", "").replace("width: 1/16}", "width: 1/4}");
    assert_eq!(fs::read_to_string(&path).unwrap(), wanted);
}

#[test]
fn a_sketch_with_errors_is_left_as_it_is() {
    let (dir, path) = folder(&ROUGH.replace("name:", "nam:"));
    let before = fs::read(&path).unwrap();
    let (code, _, err) = run(&["format", "floor.yaml"], dir.path());
    assert_eq!(code, 1);
    assert!(err.contains("`nam` is not a key of the job"), "{err}");
    assert_eq!(fs::read(&path).unwrap(), before);
    assert_eq!(run(&["format", "missing.yaml"], dir.path()).0, 3);
}

#[cfg(unix)]
#[test]
fn permissions_and_links_stay() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let (dir, path) = folder(ROUGH);
    fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).unwrap();
    symlink("floor.yaml", dir.path().join("link.yaml")).unwrap();
    assert_eq!(run(&["format", "link.yaml"], dir.path()).0, 0);
    let mode = fs::metadata(&path).unwrap().permissions().mode();
    assert_eq!(mode & 0o777, 0o640);
    assert_eq!(fs::read_to_string(&path).unwrap(), SMOOTH);
    assert!(fs::symlink_metadata(dir.path().join("link.yaml")).unwrap().is_symlink());
    fs::write(&path, ROUGH).unwrap();
    fs::set_permissions(&path, fs::Permissions::from_mode(0o440)).unwrap();
    assert_eq!(run(&["format", "floor.yaml"], dir.path()).0, 3);
    assert_eq!(fs::read_to_string(&path).unwrap(), ROUGH);
}

#[test]
fn a_new_sketch_passes_the_check() {
    let rows: &[(&[&str], &str)] = &[
        (&["new", "garage", "--size", "24'", "22'"], "garage.yaml"),
        (
            &["new", "Harrow Lane", "--walk", "E 24', N 22', W 10', S 2', W 14', close"],
            "Harrow-Lane.yaml",
        ),
        (&["new", "hall.yaml", "--size", "7.3", "670 cm", "--units", "metric"], "hall.yaml"),
    ];
    for (arguments, file) in rows {
        let dir = tempfile::tempdir().unwrap();
        let (code, out, err) = run(arguments, dir.path());
        assert_eq!(code, 0, "{arguments:?}\n{err}");
        assert!(out.contains(file), "{out}");
        assert_eq!(names(dir.path()), [*file]);
        let (code, _, err) = run(&["check", file], dir.path());
        assert_eq!(code, 0, "{err}");
        assert_eq!(run(&["format", file, "--check"], dir.path()).0, 0);
        assert_eq!(run(&["packet", file], dir.path()).0, 0);
    }
}

#[test]
fn a_new_sketch_never_writes_over_anything() {
    let dir = tempfile::tempdir().unwrap();
    let at = dir.path();
    fs::write(at.join("garage.yaml"), "mine").unwrap();
    let new = |name: &str| run(&["new", name, "--size", "24", "22"], at);
    let (code, _, err) = new("garage");
    assert_eq!(code, 3);
    assert!(err.contains("garage.yaml is there already"), "{err}");
    assert_eq!(fs::read_to_string(at.join("garage.yaml")).unwrap(), "mine");
    fs::create_dir(at.join("shed.yaml")).unwrap();
    assert_eq!(new("shed").0, 3);
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink("nowhere.yaml", at.join("link.yaml")).unwrap();
        assert_eq!(new("link").0, 3);
        assert!(!at.join("nowhere.yaml").exists());
    }
}

#[test]
fn what_is_wrong_with_a_size_or_walk_is_marked() {
    let dir = tempfile::tempdir().unwrap();
    let rows: &[(&[&str], &str)] = &[
        (&["--size", "24x", "22"], "1 | 24x\n  | ^^^"),
        (&["--size", "24", "0"], "a floor has a size"),
        (&["--walk", "E 24', X 22', close"], "1 | E 24', X 22', close\n  |        ^^^^^"),
        (&["--walk", "E 24', N 22', W 13', S 22'"], "likely misread"),
        (&["--walk", "E 24', close"], "at least three"),
        (&["--walk", ""], "is not a run of a walk"),
        (&[], "give --size WIDTH DEPTH, or --walk RUNS"),
    ];
    for (arguments, said) in rows {
        let all = [&["new", "floor"], *arguments].concat();
        let output = slabwalk().current_dir(dir.path()).args(&all).output().unwrap();
        let err = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(2), "{all:?}\n{err}");
        assert!(err.contains(said), "{all:?}\n{err}");
        assert_eq!(names(dir.path()), [""; 0], "{all:?}");
    }
}

/// Names of all commands, from the list in the help.
fn commands() -> Vec<String> {
    let (_, help, _) = run(&["--help"], Path::new("."));
    let list = help.split("Commands:\n").nth(1).expect("a list of commands");
    let list = list.lines().take_while(|line| !line.is_empty());
    let names = list.filter_map(|line| line.strip_prefix("  ")?.split(' ').next());
    names.filter(|name| !name.is_empty() && *name != "help").map(str::to_owned).collect()
}

#[test]
fn every_command_is_in_the_completions_and_the_manual() {
    let commands = commands();
    assert!(commands.len() >= 11, "{commands:?}");
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        let (code, script, _) = run(&["completions", shell], Path::new("."));
        assert_eq!(code, 0);
        for command in &commands {
            assert!(script.contains(command.as_str()), "{shell} does not know {command}");
        }
    }
    let (code, page, _) = run(&["manual"], Path::new("."));
    assert_eq!(code, 0);
    for command in &commands {
        let heading = format!(".SH \"{}\"", command.to_uppercase());
        assert!(page.contains(&heading), "{command} is not in the manual");
    }
}

#[test]
fn the_manual_renders_without_warnings() {
    let (_, page, _) = run(&["manual"], Path::new("."));
    let dir = tempfile::tempdir().unwrap();
    let file = dir.path().join("slabwalk.1");
    fs::write(&file, page).unwrap();
    let groff = std::process::Command::new("groff")
        .args(["-man", "-Tutf8", "-ww", "-z"])
        .arg(&file)
        .stdin(Stdio::null())
        .output();
    // Where there is no groff there is nothing to render with.
    if let Ok(output) = groff {
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(said, "");
        assert!(output.status.success());
    }
}

/// Every example in the help is a command that works, run as it stands in a folder with two demonstration
/// floors and a shop book.
#[test]
#[ignore = "one of the ten that take longest: .ci/run asks for them"]
fn every_example_of_the_help_works() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let binary = assert_cmd::cargo::cargo_bin("slabwalk");
    let path = std::env::var("PATH").unwrap_or_default();
    let path = format!("{}:{path}", binary.parent().expect("a folder").display());
    for command in commands() {
        let (_, help, _) = run(&[&command, "--help"], Path::new("."));
        let examples: Vec<&str> =
            help.lines().filter_map(|line| line.strip_prefix("  slabwalk ")).collect();
        assert!(!examples.is_empty(), "the help of {command} shows no example");
        let dir = tempfile::tempdir().unwrap();
        let demo = |from: &str, to: &str| {
            let text = fs::read_to_string(root.join(from)).expect(from);
            fs::write(dir.path().join(to), text.replace("shop/demo.yaml", "my-shop.yaml")).unwrap();
        };
        demo("sketches/harrow-lane-garage.yaml", "garage.yaml");
        demo("sketches/harrow-lane-garage.yaml", "garage-b.yaml");
        demo("sketches/mill-street-kitchen.yaml", "kitchen.yaml");
        demo("sketches/shop/demo.yaml", "my-shop.yaml");
        if command == "closeout" {
            // A job that is done says what it took.
            let used = "\nused:\n  hours: {grind the floor: 3 h}\n";
            let done = fs::read_to_string(dir.path().join("garage.yaml")).unwrap() + used;
            fs::create_dir(dir.path().join("jobs")).unwrap();
            fs::copy(dir.path().join("my-shop.yaml"), dir.path().join("jobs/my-shop.yaml"))
                .unwrap();
            for path in ["garage.yaml", "jobs/one.yaml", "jobs/two.yaml"] {
                fs::write(dir.path().join(path), &done).unwrap();
            }
        }
        if command == "audit" {
            // Its examples read what other commands have drawn.
            assert_eq!(run(&["packet", "garage.yaml"], dir.path()).0, 0);
            let map = ["map", "garage.yaml", "--paper", "letter", "--out", "map.svg"];
            assert_eq!(run(&map, dir.path()).0, 0);
        }
        for example in examples {
            let words = example.split("  ").next().unwrap_or(example);
            // A page is served until Ctrl-C ends it, cleanly. In the foreground: otherwise `timeout` signals its whole group as
            // well, and a second Ctrl-C ends the program at once.
            let served = if command == "live" {
                "timeout --foreground --preserve-status -s INT 2 "
            } else {
                ""
            };
            // The address in an example is not this machine's.
            let words = words.replace("192.168.1.20", "127.0.0.1");
            let line = format!("{served}slabwalk {words}");
            let output = std::process::Command::new("sh")
                .args(["-c", &line])
                .current_dir(dir.path())
                .env("PATH", &path)
                .stdin(Stdio::null())
                .output()
                .expect("a shell");
            // The kitchen prints a stop, and `check` says so with its exit code.
            let stop = command == "check" && words.contains("kitchen");
            let wanted = i32::from(stop);
            let said = String::from_utf8_lossy(&output.stderr).into_owned();
            assert_eq!(output.status.code(), Some(wanted), "{line}\n{said}");
        }
    }
}

#[test]
fn color_is_for_terminals_only_and_never_alone() {
    let (dir, _) = folder(&ROUGH.replace("name:", "nam:"));
    // Not a terminal: no escape, with and without NO_COLOR.
    for unset in [false, true] {
        let mut command = slabwalk();
        if unset {
            command.env_remove("NO_COLOR");
        }
        for arguments in [&["check", "floor.yaml"][..], &["--help"], &["chek"]] {
            let output = command.current_dir(dir.path()).args(arguments).output().unwrap();
            for text in [output.stdout, output.stderr] {
                assert!(!text.contains(&0x1b), "{arguments:?}");
            }
            command = slabwalk();
        }
    }
}
