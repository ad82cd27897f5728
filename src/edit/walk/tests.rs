use super::*;

fn runs(text: &str) -> Option<Vec<String>> {
    Reading::of(text).runs()
}

/// Legs of a walk: the text of a run, and the wall that it was.
fn legs(runs: &[(&str, usize)]) -> Vec<Leg> {
    let leg = |&(run, was): &(&str, usize)| Leg { run: run.into(), was: (was > 0).then_some(was) };
    runs.iter().map(leg).collect()
}

#[test]
fn only_what_was_changed_is_another_text_and_walls_are_counted_anew() {
    let rows: [(&str, &str, &[(&str, usize)], &str); 12] = [
        (
            "one length",
            "slab: {outline: {walk: [E 24',  \"N 20'\", W 24', S 20']}}   # wet\n",
            &[("E 24'", 1), ("N 20'", 2), ("W 24' 1\"", 3), ("S 20'", 4)],
            "slab: {outline: {walk: [E 24',  \"N 20'\", W 24' 1\", S 20']}}   # wet\n",
        ),
        (
            "an arc put in, over lines",
            "slab:\n  outline:\n    walk: [E 24', N 20',  # the door\n           W 24', close]\n",
            &[("E 24'", 1), ("N 20'", 2), ("arc W 6' rise 1' left", 0), ("W 18'", 3), ("close", 4)],
            "slab:\n  outline:\n    walk: [E 24', N 20', arc W 6' rise 1' left,  # the door\n           W 18', close]\n",
        ),
        (
            "lines with comments",
            "slab:\n  outline:\n    walk:\n      - E 24'   # curb\n      - N 20'\n      - W 24'\n      - close\n  openings: [{wall: 3, from: 1', to: 2'}]\n",
            &[("E 24'", 1), ("N 18'", 2), ("N45W 3'", 0), ("W 22'", 3), ("close", 4)],
            "slab:\n  outline:\n    walk:\n      - E 24'   # curb\n      - N 18'\n      - N45W 3'\n      - W 22'\n      - close\n  openings: [{wall: 4, from: 1', to: 2'}]\n",
        ),
        (
            "at the margin of the key, without an end",
            "slab:\n  outline:\n    walk:\n    - E 24'\n    - N 20'\n    - close",
            &[("E 24'", 1), ("N 20'", 2), ("W 9'", 0), ("close", 3)],
            "slab:\n  outline:\n    walk:\n    - E 24'\n    - N 20'\n    - W 9'\n    - close",
        ),
        (
            "points, ties, diagonals and the side that is poured from",
            "slab:\n  outline: {walk: [E 9', N 9', W 9', S 9']}\n  checks: [{from: 1, to: 3, measured: 12'}]\ncracks:\n  - {path: [{wall: 3, along: 3'}, {ties: [[1, 3'], [4, 4']], side: left}]}\ncoating: {pour_from: wall 4}\n",
            &[("E 9'", 1), ("N 1'", 0), ("N 8'", 2), ("W 9'", 3), ("S 9'", 4)],
            "slab:\n  outline: {walk: [E 9', N 1', N 8', W 9', S 9']}\n  checks: [{from: 1, to: 4, measured: 12'}]\ncracks:\n  - {path: [{wall: 4, along: 3'}, {ties: [[1, 3'], [5, 4']], side: left}]}\ncoating: {pour_from: wall 5}\n",
        ),
        (
            "the first one gone",
            "slab: {outline: {walk: [E 9', N 9', W 9', S 9', close]}, openings: [{wall: 2, from: 1', to: 2'}]}\n",
            &[("N 9'", 2), ("W 9'", 3), ("S 9'", 4), ("close", 5)],
            "slab: {outline: {walk: [N 9', W 9', S 9', close]}, openings: [{wall: 1, from: 1', to: 2'}]}\n",
        ),
        (
            "two gone, at the end",
            "slab: {outline: {walk: [E 9', N 9', W 4', W 5', S 9']}}\n",
            &[("E 9'", 1), ("N 9'", 2), ("close", 0)],
            "slab: {outline: {walk: [E 9', N 9', close]}}\n",
        ),
        (
            "a corner elsewhere",
            "slab:\n  outline: [[0, 0], [9', 0],   # the post\n    {to: [9', 9'], via: [10', 5']}, [0, 9']]\n",
            &[
                ("[0, 0]", 1),
                ("[9' 6\", 0]", 2),
                ("{to: [9', 9'], via: [10', 5']}", 3),
                ("[0, 9']", 4),
            ],
            "slab:\n  outline: [[0, 0], [9' 6\", 0],   # the post\n    {to: [9', 9'], via: [10', 5']}, [0, 9']]\n",
        ),
        (
            "corners in lines, one put in, walls counted anew",
            "slab:\n  outline:\n    - [0, 0]   # curb\n    - [9', 0]\n    - [9', 9']\n    - [0, 9']\n  openings: [{wall: 3, from: 1', to: 2'}]\ncracks:\n  - {path: [{wall: 1, along: 3'}, [1', 1']]}\n",
            &[("[0, 0]", 1), ("[9', 0]", 2), ("[9', 4']", 0), ("[9', 9']", 3), ("[0, 9']", 4)],
            "slab:\n  outline:\n    - [0, 0]   # curb\n    - [9', 0]\n    - [9', 4']\n    - [9', 9']\n    - [0, 9']\n  openings: [{wall: 4, from: 1', to: 2'}]\ncracks:\n  - {path: [{wall: 1, along: 3'}, [1', 1']]}\n",
        ),
        (
            "a corner gone",
            "slab: {outline: [[0, 0], [9', 0], [9', 4'], [9', 9'], [0, 9']], checks: [{from: 1, to: 4, measured: 12'}]}\n",
            &[("[0, 0]", 1), ("[9', 0]", 2), ("[9', 9']", 4), ("[0, 9']", 5)],
            "slab: {outline: [[0, 0], [9', 0], [9', 9'], [0, 9']], checks: [{from: 1, to: 3, measured: 12'}]}\n",
        ),
        (
            "corners tied to the first ones",
            "slab: {outline: [[0, 0], [9', 0], {ties: [[1, 12'], [2, 9']], side: left}, [0, 9']]}\n",
            &[
                ("[0, 0]", 1),
                ("[9', 0]", 2),
                ("{ties: [[1, 12'], [2, 9']], side: left}", 3),
                ("[1', 9']", 4),
            ],
            "slab: {outline: [[0, 0], [9', 0], {ties: [[1, 12'], [2, 9']], side: left}, [1', 9']]}\n",
        ),
        (
            "nothing",
            "slab: {outline: {walk: [ E 9' , N 9' , close ]}}\r\n",
            &[("E 9'", 1), ("N 9'", 2), ("close", 3)],
            "slab: {outline: {walk: [ E 9' , N 9' , close ]}}\r\n",
        ),
    ];
    for (name, text, runs, wanted) in rows {
        let found = set_outline(text, &legs(runs));
        assert_eq!(found.as_deref().map_err(|e| &*e.message), Ok(wanted), "{name}");
    }
}

#[test]
fn what_is_taped_from_a_wall_that_goes_is_named() {
    let rows: [(&str, &[(&str, usize)], &str); 7] = [
        (
            "slab:\n  outline: {walk: [E 9', N 9', W 9', S 9']}\n  openings: [{wall: 2, from: 1', to: 2'}]\n",
            &[("E 9'", 1), ("W 9'", 3), ("S 9'", 4)],
            "wall 2 would go, and line 3 of the sketch is taped from it; place that again first, or remove it",
        ),
        (
            "slab:\n  outline: {walk: [E 9', N 9', W 9', S 9']}\n  checks:\n    - {from: 1, to: 3, measured: 12'}\n",
            &[("E 9'", 1), ("N 9'", 2), ("S 9'", 4)],
            "corner 3 would go, and line 4 of the sketch is taped from it; place that again first, or remove it",
        ),
        (
            "slab: {outline: {walk: [E 9', N 9', close]}}\n",
            &[("N 9'", 2), ("E 9'", 1), ("close", 3)],
            "the walls of an outline keep their order",
        ),
        (
            "slab:\n  outline:\n    walk:\n      - E 9'   # curb\n      - N 9'\n      - close\n",
            &[("N 9'", 2), ("W 9'", 0), ("close", 3)],
            "comments stand between its parts; change it in the file",
        ),
        (
            "slab: {outline: hall}\n",
            &[("E 9'", 1)],
            "the outline is written in a form that can't be changed here; change it in the file",
        ),
        (
            "slab: {outline: [[0, 0], [9', 0], [9', 9'], [0, 9']], checks: [{from: 1, to: 3, measured: 12'}]}\n",
            &[("[0, 0]", 1), ("[9', 0]", 2), ("[0, 9']", 4)],
            "corner 3 would go, and line 1 of the sketch is taped from it; place that again first, or remove it",
        ),
        (
            "slab: {outline: [[0, 0], [9', 0], {ties: [[1, 12'], [2, 9']], side: left}, [0, 9']]}\n",
            &[
                ("[0, 0]", 1),
                ("[4', 0]", 0),
                ("[9', 0]", 2),
                ("{ties: [[1, 12'], [2, 9']], side: left}", 3),
                ("[0, 9']", 4),
            ],
            "a corner is tied to others, whose numbers would change; change the outline in the file",
        ),
    ];
    for (text, runs, wanted) in rows {
        let fault = set_outline(text, &legs(runs)).expect_err(wanted);
        assert_eq!(fault.message, wanted);
    }
    assert_eq!(runs("slab: {outline: [[0, 0]]}"), None);
    let quoted = runs("slab:\n  outline:\n    walk:\n    - \"arc E 12' R 8' left\"\n    - close\n");
    assert_eq!(quoted, Some(vec!["arc E 12' R 8' left".to_owned(), "close".to_owned()]));
}
