use super::*;

const SHED: &str = "slabwalk: 1\njob: {name: Shed}   # ours\nslab:\n  outline:\n    start: [0, 0]\n    walk: [E 24', N 20', W 24', S 20']\njoints:\n  - {id: J1, kind: control, x: 12'}\ncracks:\n  # by the door\n  - id: C1\n    path: [[1', 1'], [4', 5']]\n    width: 1/16   # card\n  - {path: [[6', 1'], [8', 5']], width: 1/8}\nlevels: [{at: [1', 1'], height: 0}, {at: [2', 2'], height: 1/4}]\n";

fn done(asked: serde_json::Value) -> Result<(String, String), Fault> {
    let floor = Floor::read(SHED.into(), None);
    let slab = &floor.resolved().expect("a floor").slab;
    let mut asked = asked;
    asked["version"] = floor.version.clone().into();
    asked["ground"] = floor::ground(slab).into();
    amended(&floor, slab, &serde_json::from_value(asked).expect("an amendment"))
}

#[test]
fn every_record_is_listed_with_the_id_that_the_drawings_show() {
    let floor = Floor::read(SHED.into(), None);
    let slab = &floor.resolved().expect("a floor").slab;
    let found = records(&floor.text, &Reading::of(&floor.text), slab);
    let found: Vec<(&str, &str, usize)> =
        found.iter().map(|l| (l.path.as_str(), l.label.as_str(), l.line)).collect();
    let wanted = [
        ("cracks.1", "Crack C1", 11),
        ("cracks.2", "Crack C2", 14),
        ("joints.1", "Joint J1", 8),
        ("levels.1", "Spot height 1", 15),
        ("levels.2", "Spot height 2", 15),
    ];
    assert_eq!(found, wanted);
}

#[test]
fn what_is_changed_is_all_that_changes() {
    let rows = [
        (
            "a width",
            serde_json::json!({"path": "cracks.1", "values": {"width": "1/4\""}}),
            "Crack C1 changed",
            "width: 1/16 ",
            "width: 1/4\" ",
        ),
        (
            "a note more",
            serde_json::json!({"path": "cracks.2", "values": {"note": "wet"}}),
            "Crack C2 changed",
            "width: 1/8}",
            "width: 1/8, note: wet}",
        ),
        (
            "another place",
            serde_json::json!({"path": "cracks.2", "points": [{"x": "6'", "y": "2'"}, {"line": "J1", "at": "3'"}]}),
            "Crack C2 changed",
            "[[6', 1'], [8', 5']]",
            "[[6', 2'], {line: J1, at: 3'}]",
        ),
        (
            "another way",
            serde_json::json!({"path": "joints.1", "way": "across-level", "points": [{"x": "6'", "y": "2'"}]}),
            "Joint J1 changed",
            "x: 12'",
            "y: 2'",
        ),
        (
            "a height",
            serde_json::json!({"path": "levels.2", "values": {"height": "-1/8\""}}),
            "Spot height 2 changed",
            "height: 1/4",
            "height: -1/8\"",
        ),
        (
            "a record gone",
            serde_json::json!({"path": "cracks.2", "remove": true}),
            "Crack C2 removed",
            "  - {path: [[6', 1'], [8', 5']], width: 1/8}\n",
            "",
        ),
        (
            "the job",
            serde_json::json!({"path": "job", "values": {"job.client": "A. Sample", "job.site": ""}}),
            "Job",
            "{name: Shed}",
            "{name: Shed, client: A. Sample}",
        ),
        (
            "the outline",
            serde_json::json!({"path": "outline", "runs": ["E 25'", "N 20'", "W 25'", "S 20'"], "was": [1, 2, 3, 4]}),
            "Outline",
            "[E 24', N 20', W 24', S 20']",
            "[E 25', N 20', W 25', S 20']",
        ),
    ];
    for (name, asked, label, old, new) in rows {
        let (text, said) = done(asked).unwrap_or_else(|f| panic!("{name}: {}", f.message));
        assert_eq!((text, said.as_str()), (SHED.replacen(old, new, 1), label), "{name}");
    }
}

#[test]
fn what_can_not_be_is_refused_at_its_field() {
    let rows = [
        (serde_json::json!({"path": "cracks.1", "values": {"width": "thin"}}), "width"),
        (serde_json::json!({"path": "cracks.1", "values": {"width": ""}}), "width"),
        (serde_json::json!({"path": "cracks.9", "remove": true}), ""),
        (serde_json::json!({"path": "job", "values": {"job.name": " "}}), "job.name"),
    ];
    for (asked, field) in rows {
        let fault = done(asked.clone()).expect_err(&asked.to_string());
        assert_eq!(fault.field, field, "{asked}");
    }
}

const HALL: &str = "slabwalk: 1\njob: {name: Hall}\nslab:\n  outline: [[0, 0], [60', 0], [60', 40'], [0, 40']]\n  keep_outs:\n    - {id: K1, what: column, circle: {center: [10', 10'], diameter: 8\"}, repeat: {count: 3, by: [15', 0]}}   # steel\n    - {what: column, circle: {center: [10', 30'], diameter: 8\"}, repeat: {x: [10', 25'], y: [30', 35']}}\n    - {what: post, circle: {center: {wall: 1, along: 50', out: 5'}, diameter: 8\"}}\n    - {what: post, circle: {center: [5', 20'], diameter: 8\"}, repeat: {x: [5', 25', 40']}}\njoints:\n  - {id: J1, kind: control, x: [20', 40'], width: 1/8}\n  - {id: J2, kind: control, y: 20'}\n";

#[test]
fn a_record_for_several_alike_is_changed_as_one_or_says_why_not() {
    let floor = Floor::read(HALL.into(), None);
    let slab = &floor.resolved().expect("a floor").slab;
    let found = records(&floor.text, &Reading::of(&floor.text), slab);
    let found: Vec<(&str, &str, Vec<&str>, bool)> = found
        .iter()
        .map(|l| {
            let items = l.items.iter().map(String::as_str).collect();
            (l.path.as_str(), l.label.as_str(), items, l.placed)
        })
        .collect();
    let wanted = [
        ("joints.1", "Joint J1", vec!["J1.1", "J1.2"], true),
        ("joints.2", "Joint J2", vec![], false),
        ("slab.keep_outs.1", "Keep-out K1", vec!["K1.1", "K1.2", "K1.3"], false),
        ("slab.keep_outs.2", "Keep-out K2", vec!["K2.1", "K2.2", "K2.3", "K2.4"], false),
        ("slab.keep_outs.3", "Keep-out K3", vec![], false),
        ("slab.keep_outs.4", "Keep-out K4", vec!["K4.1", "K4.2", "K4.3"], true),
    ];
    assert_eq!(found, wanted);
    let all = records(&floor.text, &Reading::of(&floor.text), slab);
    let grid = all.iter().find(|l| l.path == "slab.keep_outs.2").map(|l| &l.values);
    let said = |key: &str| grid.and_then(|values| values.get(key)).map_or("", String::as_str);
    assert_eq!(
        ["count", "right", "up", "rows", "apart"].map(said),
        ["2", "15'", "0", "2", "5'"],
        "a grid at equal distances"
    );
    let done = |asked: serde_json::Value| {
        let mut asked = asked;
        asked["version"] = floor.version.clone().into();
        asked["ground"] = floor::ground(slab).into();
        amended(&floor, slab, &serde_json::from_value(asked).expect("an amendment"))
    };
    let rows = [
        (
            "one more, nearer together",
            serde_json::json!({"path": "slab.keep_outs.1", "values": {"count": "4", "right": "12'"}}),
            "{count: 3, by: [15', 0]}",
            "{count: 4, by: [12', 0]}",
        ),
        (
            "the other way",
            serde_json::json!({"path": "slab.keep_outs.1", "values": {"right": "", "up": "6'"}}),
            "{count: 3, by: [15', 0]}",
            "{count: 3, by: [0, 6']}",
        ),
        (
            "one alone",
            serde_json::json!({"path": "slab.keep_outs.1", "values": {"count": ""}}),
            ", repeat: {count: 3, by: [15', 0]}",
            "",
        ),
        (
            "one becomes several",
            serde_json::json!({"path": "joints.2", "values": {"count": "2", "up": "10'"}}),
            "y: 20'}",
            "y: 20', repeat: {count: 2, by: [0, 10']}}",
        ),
        (
            "a grid, and one more row of it",
            serde_json::json!({"path": "slab.keep_outs.2", "values": {"rows": "3", "apart": "4'"}}),
            "{x: [10', 25'], y: [30', 35']}",
            "{x: [10', 25'], y: [30', 34', 38']}",
        ),
        (
            "a grid becomes a row",
            serde_json::json!({"path": "slab.keep_outs.2", "values": {"rows": "", "apart": ""}}),
            "{x: [10', 25'], y: [30', 35']}",
            "{count: 2, by: [15', 0]}",
        ),
        (
            "a row becomes a grid",
            serde_json::json!({"path": "slab.keep_outs.1", "values": {"rows": "2", "apart": "12'"}}),
            "{count: 3, by: [15', 0]}",
            "{x: [10', 25', 40'], y: [10', 22']}",
        ),
        (
            "a grid elsewhere",
            serde_json::json!({"path": "slab.keep_outs.2", "values": {"diameter": "8\""}, "way": "round", "points": [{"wall": 1, "along": "12'", "out": "31'"}]}),
            "{center: [10', 30'], diameter: 8\"}, repeat: {x: [10', 25'], y: [30', 35']}",
            "{center: [12', 31'], diameter: 8\"}, repeat: {x: [12', 27'], y: [31', 36']}",
        ),
        (
            "one that is taped from a wall becomes a grid",
            serde_json::json!({"path": "slab.keep_outs.3", "values": {"count": "2", "right": "4'", "rows": "2", "apart": "3'"}}),
            "{center: {wall: 1, along: 50', out: 5'}, diameter: 8\"}",
            "{center: [50', 5'], diameter: 8\"}, repeat: {x: [50', 54'], y: [5', 8']}",
        ),
        (
            "a width of all of a list",
            serde_json::json!({"path": "joints.1", "values": {"width": "1/4\""}}),
            "width: 1/8",
            "width: 1/4\"",
        ),
    ];
    for (name, asked, old, new) in rows {
        let (text, _) = done(asked).unwrap_or_else(|f| panic!("{name}: {}", f.message));
        assert_eq!(text, HALL.replacen(old, new, 1), "{name}");
    }
    let words = "they stand at the places of a list; place them in the file, or remove this record and record them anew";
    for (asked, field) in [
        (serde_json::json!({"path": "joints.1", "points": [{"x": "6'", "y": "2'"}]}), "points"),
        (serde_json::json!({"path": "slab.keep_outs.4", "values": {"count": "2"}}), "count"),
    ] {
        let refused = done(asked.clone()).expect_err(&asked.to_string());
        assert_eq!((refused.field.as_str(), refused.message.as_str()), (field, words));
    }
}

#[test]
fn where_a_walk_starts_is_written_with_its_runs() {
    let legs = serde_json::json!(["E 22'", "N 20'", "W 24'", "S5.71E 20' 1 1/4\""]);
    let asked = |shift: (f64, f64)| serde_json::json!({"path": "outline", "runs": legs, "was": [1, 2, 3, 4], "shift": shift});
    let moved = SHED.replace(
        "walk: [E 24', N 20', W 24', S 20']",
        "walk: [E 22', N 20', W 24', S5.71E 20' 1 1/4\"]",
    );
    let (text, label) = done(asked((0.6096, 0.0))).expect("moved");
    assert_eq!(
        (text, label.as_str()),
        (moved.replace("start: [0, 0]", "start: [2', 0]"), "Outline")
    );
    let (text, _) = done(asked((0.0, 0.0))).expect("in its place");
    assert_eq!(text, moved);
}
