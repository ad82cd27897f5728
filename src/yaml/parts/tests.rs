use super::*;
use crate::yaml::engine::whole;
use proptest::prelude::*;

/// Wherever parts give a tree, it is the one that the whole text gives, to the last place.
fn same(text: &str, size: usize) -> bool {
    let sections = sections(text, size);
    let tree = in_parts(text, FileId::Sketch, &sections);
    let Some(tree) = tree.filter(|_| !sections.is_empty()) else {
        return false;
    };
    let (wanted, faults) = whole(text, FileId::Sketch);
    assert_eq!(faults, [], "{text}");
    assert_eq!(Some(tree), wanted, "{text}");
    true
}

#[test]
fn the_demonstration_sketches_in_parts_of_any_size() {
    let sketches = [
        include_str!("../../../sketches/harrow-lane-garage.yaml"),
        include_str!("../../../sketches/mill-street-kitchen.yaml"),
        include_str!("../../../sketches/dock-road-boat-shop.yaml"),
    ];
    let mut cut = 0;
    for text in sketches {
        let sizes = [1, 40, 200, 1000];
        cut += sizes.iter().filter(|size| same(text, **size)).count();
    }
    assert!(cut > 0);
}

#[test]
fn what_is_cut_and_what_is_not() {
    let rows: &[(&str, bool, &str)] = &[
        ("a list", true, "a:\n  - 1\n  - 2\n"),
        ("two lists", true, "a:\n  - 1\n  - 2\nb:\n  - {x: 1}\n  - {x: 2}\nc: 3\n"),
        ("last of its mapping", true, "t:\n  m:\n    - 1\n    - 2\n"),
        ("between others", true, "t:\n  k: 1\n  m:\n    - 1\n    - 2\n  n: 3\nu: 4\n"),
        ("comments and blank lines", true, "a: # all\n\n  # one\n  - 1\n# two\n\n  - 2\n"),
        ("no line feed at the end", true, "a:\n  - 1\n  - 2"),
        ("carriage returns", true, "a:\r\n  - 1\r\n  - 2\r\nb: 3\r\n"),
        ("a byte order mark", true, "\u{FEFF}a: 0\nb:\n  - 1\n  - 2\n"),
        ("blocks in entries", false, "a:\n  - |\n    - x\n    y\n  - k:\n      - 1\n      - 2\n"),
        ("two lines of a value", true, "a:\n  - one\n    - two\n  - three\n"),
        ("anchors of one part", true, "a:\n  - &x 1\n  - *x\n  - &y 2\n"),
        ("an entry each line", false, "a: [1,\n  2]\nb: {c:\n  - 1\n  - 2\n}\n"),
        ("a block of text", false, "a: |\n  b:\n    - 1\n    - 2\n"),
        ("a text in quotes", false, "a: \"\n  b:\n    - 1\n    - 2\"\n"),
        ("quotes over entries", true, "a:\n  - \"1\n  - 2\"\n  - 3\n"),
        ("brackets over entries", false, "a:\n  - [1,\n  - 2]\n"),
        ("a key twice", false, "a:\n  - 1\n  - 2\na:\n  - 3\n  - 4\n"),
        ("a list and a value", false, "a:\n  - 1\n  - 2\n b\n"),
        ("a list and another list", false, "a:\n  - 1\n  - 2\n- 3\n"),
        ("two documents", false, "a:\n  - 1\n  - 2\n---\na:\n  - 3\n  - 4\n"),
        ("an alias of elsewhere", false, "k: &x 1\na:\n  - *x\n  - *x\n"),
        ("a bare return", false, "a:\n  - 1\rb: 1\n  - 2\n"),
        ("an entry that is none", false, "a:\n  - 1\n  -2\n"),
        ("entries at the key", false, "a:\n- 1\n- 2\n"),
        ("an anchor above a list", false, "t: &x\n  m:\n    - 1\n    - 2\nu: *x\n"),
        ("an anchor on a key", false, "a: &x:\n  - 1\n  - 2\nb: *x:\n"),
        ("a return in a key", false, "a:\rb:\n  - 1\n  - 2\n"),
        ("a return in a comment", false, "a:\n# c\rb:\n  - 1\n  - 2\n"),
        ("nothing, said so", false, "a: ~\t# x:\n  - 1\n  - 2\n"),
        (
            "a directive",
            false,
            "%TAG !! tag:example.com,2000:\n---\na:\n  - !!str 1\n  - !!str 2\n",
        ),
        ("a key without a value", false, "a:\n  - ? x\n  - 2\n"),
        ("a tag", false, "a:\n  - !x 1\n  - 2\n"),
    ];
    for (name, wanted, text) in rows {
        let cut = [1, 4, 10, 18, 30].map(|size| same(text, size)).contains(&true);
        assert_eq!(cut, *wanted, "{name}");
    }
}

#[test]
fn a_part_may_be_as_deep_as_it_likes_within_the_limit() {
    for depth in [1, 20, 30, 31, 40, 61, 62, 63, 70] {
        let entry = format!("  - {}{}\n", "[".repeat(depth), "]".repeat(depth));
        same(&format!("a:\n{entry}{entry}"), 1);
    }
}

#[test]
fn a_large_text_is_read_in_parts() {
    let text = "a:\n".to_owned() + &"  - {id: J1, x: 12' 6\"}\n".repeat(20_000);
    assert!(text.len() > LARGE);
    assert!(same(&text, PART));
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(4000) })]

    /// Lines as they come, most of them at home in a sketch.
    #[test]
    fn any_lines(lines in prop::collection::vec(prop::sample::select(LINES), 1..14), size in 1_usize..30) {
        let mut text = lines.concat();
        same(&text, size);
        text.pop();
        same(&text, size);
    }
}

const LINES: &[&str] = &[
    "a:\n",
    "b:\n",
    "  c:\n",
    "    d:\n",
    "a: 1\n",
    "  - 1\n",
    "  - 2\n",
    "  - {x: 1}\n",
    "    - 3\n",
    "- 4\n",
    "  - k: 1\n",
    "    l: 2\n",
    "    m:\n",
    "      - 5\n",
    "  -\n",
    "  - |\n",
    "    text\n",
    "  - \"q\n",
    "  q\"\n",
    "  - [1,\n",
    "  2]\n",
    "# c\n",
    "  # c\n",
    "\n",
    "  \n",
    "  x\n",
    "x\n",
    "---\n",
    "...\n",
    "  - &a 1\n",
    "  - *a\n",
    "a: {\n",
    "}\n",
    "  - - 1\n",
    "  - a: b: c\n",
    "  - 'x'\n",
    "  - ''\r\n",
    "\t- 1\n",
    "  -\t1\n",
    "  ? x\n",
    "  : y\n",
    "a: # n\n",
    "a: |\n",
    "a: >-\n",
    "a: &k\n",
    "\"a\":\n",
    "  -  - 2\n",
    "   - 6\n",
    " - 7\n",
    "%YAML 1.2\n",
    "a:\r",
    "a: &x\n",
    "a: *x\n",
    "a: &x:\n",
    "b: *x:\n",
    "  - ? x\n",
    "a: ~\t# x:\n",
    "# c\rb:\n",
    "%TAG !! tag:example.com,2000:\n",
    "  - !!str 1\n",
];
