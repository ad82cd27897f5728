use super::*;

const SHED: &str = "slabwalk: 1\njob: {name: Shed}   # ours\nslab:\n  outline:\n    start: [0, 0]\n    walk: [E 24', N 20', W 24', S 20']\njoints:\n  - {id: J1, kind: control, x: 12'}\ncracks:\n  # by the door\n  - id: C1\n    path: [[1', 1'], [4', 5']]\n    width: 1/16   # card\n  - {path: [[6', 1'], [8', 5']], width: 1/8}\nlevels: [{at: [1', 1'], height: 0}, {at: [2', 2'], height: 1/4}]\n";

fn done(asked: serde_json::Value) -> Result<(String, String), Fault> {
    let floor = Floor::read(SHED.into(), None);
    let survey = floor.survey.as_ref().expect("a floor");
    let mut asked = asked;
    asked["version"] = floor.version.clone().into();
    asked["ground"] = floor::ground(&survey.slab).into();
    amended(
        &floor,
        survey,
        &serde_json::from_value(asked).expect("an amendment"),
    )
}

#[test]
fn every_record_is_listed_with_the_id_that_the_drawings_show() {
    let floor = Floor::read(SHED.into(), None);
    let survey = floor.survey.as_ref().expect("a floor");
    let found = records(&floor, survey);
    let found: Vec<(&str, &str, usize)> = found
        .iter()
        .map(|l| (l.path.as_str(), l.label.as_str(), l.line))
        .collect();
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
            serde_json::json!({"path": "outline", "runs": ["E 25'", "N 20'", "W 25'", "S 20'"]}),
            "Outline",
            "[E 24', N 20', W 24', S 20']",
            "[E 25', N 20', W 25', S 20']",
        ),
    ];
    for (name, asked, label, old, new) in rows {
        let (text, said) = done(asked).unwrap_or_else(|f| panic!("{name}: {}", f.message));
        assert_eq!(
            (text, said.as_str()),
            (SHED.replacen(old, new, 1), label),
            "{name}"
        );
    }
}

#[test]
fn what_can_not_be_is_refused_at_its_field() {
    let rows = [
        (
            serde_json::json!({"path": "cracks.1", "values": {"width": "thin"}}),
            "width",
        ),
        (
            serde_json::json!({"path": "cracks.1", "values": {"width": ""}}),
            "width",
        ),
        (serde_json::json!({"path": "cracks.9", "remove": true}), ""),
        (
            serde_json::json!({"path": "job", "values": {"job.name": " "}}),
            "job.name",
        ),
    ];
    for (asked, field) in rows {
        let fault = done(asked.clone()).expect_err(&asked.to_string());
        assert_eq!(fault.field, field, "{asked}");
    }
}
