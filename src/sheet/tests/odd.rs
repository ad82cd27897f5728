//! Odd floors, one for each kind of fault that they made: every drawing passes the audit.

use super::*;
use crate::sheet::flow::Content;

const ROOM: &str = "[[0, 0], [20', 0], [20', 16'], [0, 16']]";

fn sketch(units: &str, outline: &str, more: &str) -> String {
    format!(
        "slabwalk: 1\njob: {{name: Odd floor}}\nunits: {units}\nslab:\n  thickness: 5 in\n  post_tension: none\n  outline: {outline}\n{more}"
    )
}

/// Pop-outs so near each other that they share marks.
fn pop_outs() -> String {
    let one = |i: u32| {
        let (x, y) = (300 + 45 * (i % 8), 300 + 50 * (i / 8));
        format!("  - {{circle: {{center: [{x} mm, {y} mm], diameter: 30 mm}}, depth: 10 mm}}\n")
    };
    let all: String = (0..30).map(one).collect();
    format!("spalls:\n{all}")
}

#[test]
fn what_made_a_fault_on_odd_floors_makes_none() {
    let pop_outs = pop_outs();
    let rows = [
        (
            "a step shorter than the spacing of its strokes",
            "us",
            ROOM,
            "joints:\n  - {id: J1, kind: control, x: 12', width: 1/4, depth: 1}\nlippage:\n  - {id: L1, along: J1, high: left, step: 3/8, from: 5', to: 5' 1\"}\n",
        ),
        (
            "a plan too narrow for numbers on its scale bar",
            "metric",
            "[[0, 0], [0.6, 0], [0.6, 24], [0, 24]]",
            "",
        ),
        ("the same in feet", "us", "[[0, 0], [2', 0], [2', 80'], [0, 80']]", ""),
        (
            "a blemish that reaches past the walls",
            "us",
            ROOM,
            "blemishes:\n  - {id: B1, what: oil, box: {corner: [15', 4'], size: [60', 40']}}\n",
        ),
        (
            "a spall that does",
            "us",
            ROOM,
            "spalls:\n  - {id: S1, circle: {center: [20', 8'], diameter: 30'}, depth: 1}\n",
        ),
        (
            "a machine that does",
            "us",
            ROOM,
            "  keep_outs:\n    - {id: K1, what: machine, circle: {center: [20', 8'], diameter: 30'}}\n",
        ),
        (
            "a step read along a line that does",
            "us",
            ROOM,
            "lippage:\n  - {id: L1, along: [[4', 4'], [60', 4']], high: left, step: 3/8, from: 10', to: 50'}\n",
        ),
        (
            "a note on marks beside a scale bar of small blocks",
            "metric",
            "[[0, 0], [2, 0], [2, 1.6], [0, 1.6]]",
            &pop_outs,
        ),
        (
            "a crack, a joint and oil under a machine",
            "us",
            ROOM,
            "  keep_outs:\n    - {id: K1, what: machine, box: {corner: [4', 4'], size: [6', 6']}}\ncracks:\n  - {id: C1, path: [[5', 5'], [8', 8']], width: 1/16}\njoints:\n  - {id: J1, kind: control, path: [[5', 5'], [9', 5']], width: 1/4, depth: 1}\nblemishes:\n  - {id: B1, what: oil, box: {corner: [5', 5'], size: [1', 1']}}\n",
        ),
        (
            "oil past a corner, where the corner's number would stand",
            "us",
            ROOM,
            "blemishes:\n  - {id: B1, what: oil, box: {corner: [-0.6', -0.6'], size: [4', 4']}}\n",
        ),
        (
            "a height whose cross stands before another height",
            "us",
            ROOM,
            "levels:\n  - [8', 8', 1/8]\n  - [9.6', 8.4', 0]\n",
        ),
        (
            "a joint shorter than is seen",
            "us",
            ROOM,
            "joints:\n  - {id: J1, kind: control, path: [[5', 5'], [5' 2\", 5']], width: 1/4, depth: 1}\n",
        ),
        (
            "a floor narrower at its end than the zone along its edges is drawn",
            "us",
            "[[0, 0], [30', 0], [29', 3']]",
            "coating:\n  system: flake\n",
        ),
    ];
    for (name, units, outline, more) in rows {
        let survey = floor(&sketch(units, outline, more));
        for audience in [Audience::Crew, Audience::Customer, Audience::Field] {
            let sheets = drawn(&survey, &options(audience));
            assert_eq!(faults(&sheets), Vec::<String>::new(), "{name}");
            assert_eq!(left_off(&sheets), Vec::<String>::new(), "{name}");
        }
    }
}

/// What lies under a machine has its line in the schedule, and no tag that would point at the machine.
#[test]
fn an_item_under_a_machine_is_listed_and_not_tagged() {
    let more = "  keep_outs:\n    - {id: K1, what: machine, box: {corner: [4', 4'], size: [6', 6']}}\ncracks:\n  - {id: C1, path: [[5', 5'], [8', 8']], width: 1/16}\n  - {id: C2, path: [[12', 5'], [14', 8']], width: 1/16}\n";
    let survey = floor(&sketch("us", ROOM, more));
    let sheets = drawn(&survey, &options(Audience::Crew));
    let all: Vec<&Group> = sheets.iter().flat_map(groups).collect();
    let has = |id: &str| all.iter().any(|g| g.id == id);
    for (id, wanted) in [("tag-C1", false), ("row-C1", false), ("tag-C2", true), ("row-C2", true)] {
        assert_eq!(has(id), wanted, "{id}");
    }
    let said = format!("{all:?}");
    assert!(said.contains("Not on the open slab"), "no word about C1");
}

/// The longest ids there are, in the narrowest strip of text.
#[test]
fn rows_of_long_ids_stay_in_their_column() {
    let joints: String = (1..6)
        .map(|i| {
            let x = 3 * i;
            format!("  - {{id: J10000000000000{i}, kind: control, x: {x}', width: 1/4, depth: 1, wander: 3/4}}\n")
        })
        .collect();
    let cracks = "cracks:\n  - {id: C10000000000000001, path: [[5', 5'], [8', 8']], width: 1/16}\n";
    let cracks = cracks.replace("C10000000000000001", "C100000000000001");
    let survey = floor(&sketch("us", ROOM, &format!("joints:\n{joints}{cracks}")));
    for table in schedule::tables(&inputs(&survey)) {
        for width in [72.0, 84.0, 120.0] {
            let block = table.lay(width);
            let pieces = block.pieces[0].head.as_deref().into_iter().chain(&block.pieces);
            for group in pieces.map(|p| &p.group) {
                for mark in inner(group) {
                    let Mark::Text(text) = mark else { continue };
                    let type_ = style::Type { size: text.size, weight: text.weight };
                    let long = words::width(&text.text, type_);
                    let (left, right) = match text.align {
                        crate::ink::Align::End => (text.at.x - long, text.at.x),
                        _ => (text.at.x, text.at.x + long),
                    };
                    let inside = left >= -1e-6 && right <= width + 1e-6;
                    assert!(inside, "{} at {width}: {}", table.title, text.text);
                }
            }
        }
    }
}

fn inner(group: &Group) -> Vec<&Mark> {
    let own = group.marks.iter();
    own.flat_map(|m| match m {
        Mark::Group(g) => inner(g),
        other => vec![other],
    })
    .collect()
}
