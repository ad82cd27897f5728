//! What is handed over as a sketch and is none: too large, too deep, no text, no file.

use std::fs::File;

use super::common::{SLAB, check, folder, run, with};

/// Aliases of which each stands for nine of the one before.
fn aliases(levels: usize) -> String {
    let level =
        |i: usize| format!("a{i}: &a{i} [{}]\n", vec![format!("*a{}", i - 1); 9].join(", "));
    let all: String = (1..levels).map(level).collect();
    format!("{SLAB}a0: &a0 [x, x, x]\n{all}")
}

#[test]
fn aliases_that_multiply_end_at_a_limit() {
    check(aliases(9)).is(1, &["aliases-multiply", "more than 200000 values", "floor.yaml:"]);
    // Short of the limit they are what they are: keys that nobody knows.
    check(aliases(4)).is(1, &["unknown-key"]);
    check(format!("{SLAB}a: &a [*a]\n")).is(1, &["floor.yaml:"]);
    let merged = format!("{SLAB}a: &a {{x: 1}}\nb: {{<<: *a}}\n");
    check(merged).is(1, &["floor.yaml:"]);
}

#[test]
fn aliases_in_every_part_of_a_long_list_end_at_a_limit_too() {
    // Each entry stays below the limit and is long enough to be read by itself; all together would be 30 million values.
    let entry = format!(
        "  - [&a [x{}], *a{}, {}]\n",
        ", x".repeat(9_499),
        ", *a".repeat(18),
        "y".repeat(40_000)
    );
    let text = format!("{SLAB}joints:\n{}", entry.repeat(160));
    check(text).is(1, &["aliases-multiply", "more than 200000 values"]);
}

#[test]
fn nesting_ends_at_a_limit() {
    let depth = 10_000;
    let lists = format!("{SLAB}joints: {}{}\n", "[".repeat(depth), "]".repeat(depth));
    check(lists).is(1, &["nest", "64", "floor.yaml:4"]);
    let open = format!("{SLAB}joints: {}\n", "[".repeat(depth));
    check(open).is(1, &["floor.yaml:4"]);
    let braces = format!("{SLAB}joints: {}\n", "{a: ".repeat(depth));
    check(braces).is(1, &["floor.yaml:4"]);
    let dashes = format!("{SLAB}joints:\n  {}x\n", "- ".repeat(depth));
    check(dashes).is(1, &["64", "floor.yaml:5"]);
    let blocks: String = (0..depth).map(|i| format!("{}a:\n", " ".repeat(i))).collect();
    check(format!("{SLAB}joints:\n{blocks}")).is(1, &["floor.yaml:"]);
}

#[test]
fn a_gigabyte_is_not_read() {
    let folder = folder();
    let file = File::create(folder.path().join("floor.yaml")).expect("a file");
    file.set_len(1 << 30).expect("a sparse file");
    for command in ["check", "takeoff", "packet", "format", "proposal"] {
        let said = run(folder.path(), &[command, "floor.yaml"]);
        said.is(1, &["floor.yaml", "64 MiB"]);
    }
    run(folder.path(), &["audit", "floor.yaml"]).is(3, &["floor.yaml", "64 MiB"]);
    std::fs::write(folder.path().join("a.yaml"), SLAB).expect("a sketch");
    let book = ["takeoff", "a.yaml", "--shop", "floor.yaml"];
    run(folder.path(), &book).is(1, &["shop book", "64 MiB"]);
    run(folder.path(), &["shop", "floor.yaml"]).is(1, &["64 MiB"]);
}

#[test]
#[cfg(unix)]
fn a_device_a_folder_and_nothing_are_no_sketch() {
    let folder = folder();
    std::fs::create_dir(folder.path().join("floor.yaml")).expect("a folder");
    for command in ["check", "takeoff", "packet", "format", "days", "price", "map"] {
        run(folder.path(), &[command, "floor.yaml"]).is(3, &["floor.yaml", "folder"]);
        run(folder.path(), &[command, "none.yaml"]).is(3, &["none.yaml"]);
    }
    // Without an end: at most the limit is read of it.
    run(folder.path(), &["check", "/dev/zero"]).is(1, &["/dev/zero", "64 MiB"]);
    run(folder.path(), &["check", "/dev/null"]).is(1, &["empty"]);
}

#[test]
#[cfg(unix)]
fn a_pipe_is_read_as_a_file() {
    let folder = folder();
    let pipe = folder.path().join("floor.yaml");
    let made = std::process::Command::new("mkfifo").arg(&pipe).status();
    assert!(made.is_ok_and(|status| status.success()), "a pipe");
    let writer = std::thread::spawn(move || std::fs::write(pipe, SLAB));
    run(folder.path(), &["check", "floor.yaml"]).is(0, &["moisture"]);
    assert!(writer.join().is_ok());
}

#[test]
#[cfg(unix)]
fn a_sketch_can_name_no_pipe_and_no_device_as_its_shop_book() {
    let folder = folder();
    let at = folder.path();
    let made = std::process::Command::new("mkfifo").arg(at.join("pipe")).status();
    assert!(made.is_ok_and(|status| status.success()), "a pipe");
    for named in ["pipe", "/dev/zero", "/dev/tty", "/dev/stdin"] {
        std::fs::write(at.join("floor.yaml"), format!("{SLAB}shop: {named}\n")).expect("a sketch");
        run(at, &["check", "floor.yaml"]).is(3, &["shop-book-missing", "floor.yaml:4"]);
    }
}

#[test]
fn bytes_that_are_no_text_are_said_with_their_line() {
    let mut bytes = SLAB.as_bytes().to_vec();
    bytes.extend(b"# caf\xE9\n");
    check(&bytes).is(1, &["not-utf-8", "floor.yaml:4:6"]);
    // An overlong slash, half a surrogate, and a character beyond the last.
    for bad in [&b"\xC0\xAF"[..], b"\xED\xA0\x80", b"\xF4\x90\x80\x80", b"\xFF"] {
        check([SLAB.as_bytes(), bad].concat()).is(1, &["not-utf-8", "floor.yaml:4:1"]);
    }
    check(b"\xFF\xFEs\0l\0").is(1, &["not-utf-8", "UTF-16"]);
    let wide: Vec<u8> = SLAB.encode_utf16().flat_map(u16::to_le_bytes).collect();
    check(wide).is(1, &[]);
    check(b"\0").is(1, &[]);
    check("").is(1, &["empty"]);
}

#[test]
fn one_line_of_megabytes_gives_a_short_message() {
    let long = "w".repeat(8 << 20);
    let said = check(format!("{SLAB}{long}: 1\n"));
    said.is(1, &["floor.yaml:4"]);
    assert!(said.messages.len() < 2000, "{} bytes", said.messages.len());
    let said = check(format!("{SLAB}joints: [{{id: {long}, x: 12'}}]\n"));
    said.is(1, &["floor.yaml:4"]);
    assert!(said.messages.len() < 4000, "{} bytes", said.messages.len());
    let said = check(format!("{SLAB}cracks: [{{path: [[{long}, 0], [1, 1]], width: 1/8}}]\n"));
    assert!(said.messages.len() < 4000, "{} bytes", said.messages.len());
}

#[test]
fn keys_by_the_thousand_are_looked_up_soon() {
    let keys: String = (0..100_000).map(|i| format!("  k{i}: 1\n")).collect();
    let said = check(format!("{SLAB}job2:\n{keys}"));
    said.is(1, &["unknown-key"]);
    let same = "  name: a\n".repeat(100_000);
    let said = run(with(format!("slabwalk: 1\njob:\n{same}")).path(), &["check", "floor.yaml"]);
    said.is(1, &["duplicate-key", "more not shown"]);
}
