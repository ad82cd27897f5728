use super::*;

const TEXT: &str = "# head\nslabwalk: 1\njob:\n  name: Shed   # ours\nslab: {outline: [[0, 0], [12', 0], [12', 10']], thickness: 4\"}\n\ncracks:\n  # by hand\n  - id: C1\n    path: [[1, 1], [4, 5]]   # long\n    width: 1/16\n    # inside\n    movement: dormant\n  - {id: C2, path: [[1, 2], [3, 4]], width: 1/8}   # short\n\n# about levels\nlevels: [{at: [0, 0], height: 0}, {at: [1, 1], height: 1/4}]\ntests:\n  moisture:\n    - {id: M1, at: [1, 1], rh: 75%}\n";

#[test]
fn a_value_is_set_and_nothing_else_changes() {
    let rows: [(&str, &str, &str, &str, &str); 9] = [
        ("scalar in a block", "cracks.C1.width", "1/4", "width: 1/16\n", "width: 1/4\n"),
        (
            "scalar in brackets",
            "cracks.C2.width",
            "1/4",
            "width: 1/8}   # short",
            "width: 1/4}   # short",
        ),
        ("by number", "levels.2.height", "1/2", "height: 1/4", "height: 1/2"),
        (
            "a new key of a block",
            "cracks.C1.note",
            "\"wide: here\"",
            "    movement: dormant\n",
            "    movement: dormant\n    note: \"wide: here\"\n",
        ),
        ("a new key in brackets", "cracks.C2.step", "0", "width: 1/8}", "width: 1/8, step: 0}"),
        (
            "a new key of a part",
            "job.client",
            "A. Sample",
            "  name: Shed   # ours\n",
            "  name: Shed   # ours\n  client: A. Sample\n",
        ),
        (
            "a list on one line",
            "cracks.C1.path",
            "[[2, 2], [4, 5]]",
            "[[1, 1], [4, 5]]",
            "[[2, 2], [4, 5]]",
        ),
        ("a key deep down", "slab.outline.walk", "[E 12']", "", ""),
        (
            "a part that is missing",
            "coating.system",
            "flake",
            "1/8}   # short\n",
            "1/8}   # short\n",
        ),
    ];
    for (name, path, value, old, new) in rows {
        match set_value(TEXT, path, value) {
            Ok(out) if path.starts_with("coating") => {
                assert!(out.contains("coating: {system: flake}\n"), "{name}: {out}");
                assert_eq!(
                    out.replacen("\ncoating: {system: flake}\n", "", 1).len(),
                    TEXT.len(),
                    "{name}"
                );
            }
            Ok(out) => assert_eq!(out, TEXT.replacen(old, new, 1), "{name}"),
            Err(_) => assert_eq!(old, "", "{name}"),
        }
    }
    let windows = TEXT.replace('\n', "\r\n");
    let out = set_value(&windows, "job.client", "A. Sample").expect("set");
    assert_eq!(out, set_value(TEXT, "job.client", "A. Sample").expect("set").replace('\n', "\r\n"));
}

#[test]
fn a_record_or_a_value_is_taken_out_and_nothing_else_changes() {
    let rows = [
        (
            "a block record",
            "cracks.C1",
            "  - id: C1\n    path: [[1, 1], [4, 5]]   # long\n    width: 1/16\n    # inside\n    movement: dormant\n",
        ),
        (
            "a record in brackets",
            "cracks.2",
            "  - {id: C2, path: [[1, 2], [3, 4]], width: 1/8}   # short\n",
        ),
        ("the first of a list in brackets", "levels.1", "{at: [0, 0], height: 0}, "),
        ("the last of a list in brackets", "levels.2", ", {at: [1, 1], height: 1/4}"),
        ("a key of a block", "cracks.C1.width", "    width: 1/16\n    # inside\n"),
        ("a key in brackets", "slab.thickness", ", thickness: 4\""),
        (
            "the only record, with what held it",
            "tests.moisture.M1",
            "tests:\n  moisture:\n    - {id: M1, at: [1, 1], rh: 75%}\n",
        ),
    ];
    for (name, path, gone) in rows {
        let out = remove(TEXT, path).unwrap_or_else(|e| panic!("{name}: {e}"));
        let kept = if name == "a key of a block" { "    # inside\n" } else { "" };
        let wanted = TEXT.replacen(gone, kept, 1);
        assert_eq!(out, wanted, "{name}");
    }
    for path in ["cracks.C9", "levels.3", "job.site", "", "cracks..width"] {
        assert!(remove(TEXT, path).is_err(), "{path}");
    }
}

#[test]
fn records_and_values_are_found() {
    let starts: Vec<&str> = Reading::of(TEXT)
        .records("cracks")
        .into_iter()
        .map(|r| &TEXT[r.start..r.start + 6])
        .collect();
    assert_eq!(starts, ["id: C1", "{id: C"]);
    assert_eq!(
        (
            Reading::of(TEXT).records("tests.moisture").len(),
            Reading::of(TEXT).records("spalls").len()
        ),
        (1, 0)
    );
    let of = Reading::of(TEXT).values("cracks.1");
    assert_eq!(of[2], ("width".to_owned(), "1/16".to_owned()));
    assert_eq!(Reading::of(TEXT).values("job"), [("name".to_owned(), "Shed".to_owned())]);
}
