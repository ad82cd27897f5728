use super::*;

/// Name, text, section, record, wanted.
type Row = (&'static str, &'static str, &'static str, &'static str, &'static str);

const ROWS: &[Row] = &[
    (
        "block list with a comment at its end and one that belongs to the entry",
        "joints:\n  - id: J1\n    x: 3   # taped\n    # or y: 2\n\n# cracks follow\ncracks: []\n",
        "joints",
        "{id: J2, x: 4}",
        "joints:\n  - id: J1\n    x: 3   # taped\n    # or y: 2\n  - {id: J2, x: 4}\n\n# cracks follow\ncracks: []\n",
    ),
    (
        "list at the margin",
        "joints:\n- {id: J1}\ncracks:\n",
        "joints",
        "{id: J2}",
        "joints:\n- {id: J1}\n- {id: J2}\ncracks:\n",
    ),
    (
        "lists in a list at the margin",
        "levels:\n- [0, 0, 0]\ncracks:\n",
        "levels",
        "[1, 1, 0]",
        "levels:\n- [0, 0, 0]\n- [1, 1, 0]\ncracks:\n",
    ),
    (
        "no newline at the end",
        "a: 1\njoints:\n  - {id: J1}",
        "joints",
        "{id: J2}",
        "a: 1\njoints:\n  - {id: J1}\n  - {id: J2}",
    ),
    (
        "empty flow list",
        "spalls: []   # none yet\n",
        "spalls",
        "{depth: 3/8}",
        "spalls: [{depth: 3/8}]   # none yet\n",
    ),
    (
        "flow list over lines with comments and a comma at its end",
        "levels: [ # heights\n  [0, 0, 0], # corner\n  [1, 0, -1/2\"], # door\n]\n",
        "levels",
        "[2, 2, 1/8]",
        "levels: [ # heights\n  [0, 0, 0], # corner\n  [1, 0, -1/2\"], [2, 2, 1/8], # door\n]\n",
    ),
    (
        "nothing behind the key, with a comment",
        "cracks:   # none seen\nlevels: []\n",
        "cracks",
        "{id: C1}",
        "cracks: [{id: C1}]   # none seen\nlevels: []\n",
    ),
    ("null", "cracks: ~ # none\n", "cracks", "{id: C1}", "cracks: [{id: C1}] # none\n"),
    (
        "missing section goes to its place",
        "slabwalk: 1\n\njoints:\n  - {id: J1}   # x\n\n# what it gets\ncoating:\n  system: flake\n",
        "cracks",
        "{id: C1}",
        "slabwalk: 1\n\njoints:\n  - {id: J1}   # x\n\ncracks:\n  - {id: C1}\n\n# what it gets\ncoating:\n  system: flake\n",
    ),
    (
        "missing list inside a part",
        "slab:\n  thickness: 4\"\n  # more\ncoating: {system: flake}\n",
        "slab.keep_outs",
        "{id: K1}",
        "slab:\n  thickness: 4\"\n  # more\n  keep_outs:\n    - {id: K1}\ncoating: {system: flake}\n",
    ),
    (
        "missing list inside a flow part",
        "coating: {system: flake}\n",
        "coating.uncoated",
        "{id: U1}",
        "coating: {system: flake, uncoated: [{id: U1}]}\n",
    ),
    (
        "missing part and list",
        "slabwalk: 1\nlevels: []\ncoating:\n  system: flake\n",
        "tests.moisture",
        "{id: M1}",
        "slabwalk: 1\nlevels: []\ntests:\n  moisture:\n    - {id: M1}\ncoating:\n  system: flake\n",
    ),
    (
        "a part with nothing in it",
        "a: 1\ntests:\n",
        "tests.moisture",
        "{id: M1}",
        "a: 1\ntests: {moisture: [{id: M1}]}\n",
    ),
    (
        "behind a block of text",
        "joints:\n  - id: J1\n    note: |\n      two\n      lines\n\nspalls: []\n",
        "joints",
        "{id: J2}",
        "joints:\n  - id: J1\n    note: |\n      two\n      lines\n  - {id: J2}\n\nspalls: []\n",
    ),
    (
        "line ends of another system",
        "joints:\r\n  - {id: J1}\r\n",
        "joints",
        "{id: J2}",
        "joints:\r\n  - {id: J1}\r\n  - {id: J2}\r\n",
    ),
    (
        "byte order mark",
        "\u{FEFF}joints:\n  - {id: J1}\n",
        "cracks",
        "{id: C1}",
        "\u{FEFF}joints:\n  - {id: J1}\ncracks:\n  - {id: C1}\n",
    ),
    (
        "blocks in blocks",
        "levels:\n  - - 0\n    - 0\n    - 1/8\n",
        "levels",
        "[1, 1, 0]",
        "levels:\n  - - 0\n    - 0\n    - 1/8\n  - [1, 1, 0]\n",
    ),
    (
        "the whole sketch in braces",
        "{slabwalk: 1, joints: [{id: J1}]}\n",
        "cracks",
        "{id: C1}",
        "{slabwalk: 1, joints: [{id: J1}], cracks: [{id: C1}]}\n",
    ),
    (
        "an anchor elsewhere",
        "joints:\n  - &first {id: J1}\n  - *first\n  - {}\n",
        "joints",
        "{id: J3}",
        "joints:\n  - &first {id: J1}\n  - *first\n  - {}\n  - {id: J3}\n",
    ),
];

#[test]
fn a_record_goes_to_its_list_and_nothing_else_changes() {
    for (name, text, section, record, wanted) in ROWS {
        let found = insert_record(text, section, record);
        assert_eq!(found.as_deref(), Ok(*wanted), "{name}");
    }
}

#[test]
fn what_cannot_be_added_to_is_refused() {
    let rows = [
        ("joints: 3\n", "joints", "{id: J1}", "`joints` should be a list"),
        ("slab: [1]\n", "slab.checks", "{from: 1}", "`slab` should be keys and values"),
        ("a: &a [x]\njoints: *a\n", "joints", "{id: J1}", "`joints` is an alias"),
        (
            "joints:\n  - &first {id: J1}\n  - *first\n",
            "joints",
            "{id: J3}",
            "`joints` is written in a form",
        ),
        ("a: [\n", "joints", "{id: J1}", "the sketch can't be read: "),
        ("a: 1\n", "joints", "{id: J1", "the record can't be read: "),
        ("a: 1\n", "joints", "id: J1\nx: 2", "the record is not on one line"),
        ("a: 1\n", "joints", "{id: J1} # note", "`joints` is written in a form"),
    ];
    for (text, section, record, wanted) in rows {
        let found = insert_record(text, section, record);
        // A comment behind the record is harmless in a block list, and would swallow a bracket.
        if record.ends_with("# note") {
            assert!(found.is_ok(), "{text}");
            let flow = insert_record("joints: []\n", section, record);
            assert!(flow.unwrap_err().message.starts_with(wanted));
            continue;
        }
        let message = found.unwrap_err().message;
        assert!(message.starts_with(wanted), "{text}: {message}");
    }
}
