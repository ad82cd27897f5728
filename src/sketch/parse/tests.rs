//! What is accepted, and what it becomes.

use super::parse;
use crate::quantity::Length;
use crate::sketch::{
    AlongForm, Compass, Hand, HighSide, LineForm, Outline, PointForm, PourFrom, ShapeForm, Sketch,
};

const SQUARE: &str = "[[0, 0], [24', 0], [24', 20'], [0, 20']]";

/// A sketch that must be without any fault.
fn good(text: &str) -> Sketch {
    let (sketch, faults) = parse(text);
    assert_eq!(faults, [], "{text}");
    sketch.expect(text)
}

/// A sketch of a square slab with more keys.
fn square(more: &str) -> Sketch {
    good(&format!("slabwalk: 1\njob: {{name: shed}}\nslab: {{outline: {SQUARE}}}\n{more}"))
}

fn ft(feet: f64) -> Length {
    Length::from_m((feet * 3048.0).round() / 10_000.0)
}

#[test]
fn the_example_is_read_whole() {
    let sketch = good(include_str!("../../../tests/reading/example.yaml"));
    assert_eq!(sketch.job.number.as_deref(), Some("26-041"));
    assert_eq!(sketch.shop.map(|shop| shop.value).as_deref(), Some("shop.yaml"));
    assert_eq!(sketch.slab.outline.value.corners(), 6);
    assert_eq!(sketch.slab.keep_outs.len(), 2);
    let joint = &sketch.joints[0];
    assert_eq!(joint.chase.depth.as_ref().map(|depth| depth.value), Some(Length::from_m(0.0381)));
    assert!(
        matches!(&joint.line.value, LineForm::X { x, from: None, to: None } if x.value == ft(12.0))
    );
    assert_eq!(joint.note.as_deref(), Some("strip broke off in the middle third"));
    assert_eq!(sketch.lippage[0].readings.len(), 4);
    assert_eq!(sketch.levels[1].height.value, Length::from_m(-0.0127));
    assert_eq!(sketch.tests.moisture[0].rh.as_ref().map(|rh| rh.value.one()), Some(0.72));
    assert_eq!(sketch.tests.moisture[1].mver.as_ref().map(|mver| mver.value), Some(2.5));
    assert_eq!(
        sketch.coating.pour_from.map(|side| side.value),
        Some(PourFrom::Compass(Compass::N))
    );
    assert_eq!(sketch.photos[0].note.as_deref(), Some("runs under the door"));
}

#[test]
fn every_value_knows_its_place() {
    let text = include_str!("../../../tests/reading/example.yaml");
    let sketch = good(text);
    let marked = |span: crate::sketch::Span| &text[span.start..span.end];
    assert_eq!(marked(sketch.joints[0].line.span), "12'");
    assert_eq!(marked(sketch.spalls[0].depth.span), "3/8");
    assert_eq!(marked(sketch.lippage[0].readings[1].station.span), "4'");
    assert!(marked(sketch.cracks[0].span).starts_with("id: C1\n"));
    assert!(marked(sketch.cracks[0].span).ends_with("treatment: fill"));
}

#[test]
fn ids_left_out_are_the_next_free_ones() {
    let sketch = square(
        "joints:\n  - {kind: control, x: 1'}\n  - {id: J1, kind: control, x: 2'}\n  - {kind: control, x: 3'}\n  - {id: J4, kind: control, x: 4'}\n  - {kind: control, x: 5'}\ncracks:\n  - {id: J3, path: [[0, 0], [1', 1']], width: 1/8}\n",
    );
    let ids: Vec<&str> = sketch.joints.iter().map(|joint| joint.id.value.as_str()).collect();
    assert_eq!(ids, ["J2", "J1", "J5", "J4", "J6"]);
    let text = "spalls: [{circle: {center: [6', 6'], diameter: 5\"}, depth: 3/8}]\nphotos: [{item: S1, file: a.jpg}]\n";
    assert_eq!(square(text).photos[0].item.value, "S1", "a given id can be referred to");
}

#[test]
fn points_in_four_forms_and_arcs() {
    let sketch = square(
        "joints: [{id: J1, kind: control, x: 12'}]\ncracks:\n  - width: 1/8\n    path:\n      - [3', -1']\n      - {wall: 4, along: 5', out: 2'}\n      - {wall: 4, along: 5'}\n      - {line: J1, at: 6' 4\"}\n      - {ties: [[1, 12' 3\"], [4, 9' 2\"]], side: left}\n      - {to: [6', 6'], via: {line: J1, at: 3'}}\n",
    );
    let vertices = &sketch.cracks[0].path.vertices;
    let point = |index: usize| &vertices[index].to.value;
    assert_eq!(*point(0), PointForm::Xy(ft(3.0), ft(-1.0)));
    assert!(
        matches!(point(1), PointForm::Wall { wall, out, .. } if wall.value == 4 && *out == ft(2.0))
    );
    assert!(matches!(point(2), PointForm::Wall { out, .. } if out.m() == 0.0));
    assert!(matches!(point(3), PointForm::Line { line, .. } if line.value == "J1"));
    assert!(matches!(point(4), PointForm::Ties { ties, side: Hand::Left } if ties[1].0.value == 4));
    assert!(vertices[5].via.is_some() && vertices[4].via.is_none());
}

/// The centers of the circles of keep-outs, with their ids.
fn centers(repeat: &str) -> Vec<(String, PointForm)> {
    let text = format!(
        "slabwalk: 1\njob: {{name: shed}}\nslab:\n  outline: {SQUARE}\n  keep_outs:\n    - {{id: K3, circle: {{center: {repeat}}}}}\n"
    );
    let keep_outs = good(&text).slab.keep_outs.into_iter();
    keep_outs
        .map(|keep_out| match keep_out.shape.value {
            ShapeForm::Circle { center, .. } => (keep_out.id.value, center.value),
            other => panic!("{other:?}"),
        })
        .collect()
}

#[test]
fn a_record_stands_for_a_row_or_a_grid() {
    let at = |n: usize, x: f64, y: f64| (format!("K3.{n}"), PointForm::Xy(ft(x), ft(y)));
    assert_eq!(
        centers("[2', 3'], diameter: 8\"}, repeat: {count: 3, by: [5', -1']"),
        [at(1, 2.0, 3.0), at(2, 7.0, 2.0), at(3, 12.0, 1.0)]
    );
    assert_eq!(
        centers("[2', 3'], diameter: 8\"}, repeat: {x: [2', 7'], y: [3', 9']"),
        [at(1, 2.0, 3.0), at(2, 7.0, 3.0), at(3, 2.0, 9.0), at(4, 7.0, 9.0)]
    );
    assert_eq!(
        centers("[2', 3'], diameter: 8\"}, repeat: {x: [2', 7']"),
        [at(1, 2.0, 3.0), at(2, 7.0, 3.0)]
    );
    assert_eq!(
        centers("[2', 3'], diameter: 8\"}, repeat: {count: 1, by: [5', 0]"),
        [at(1, 2.0, 3.0)]
    );
    let on_wall =
        centers("{wall: 1, along: 2', out: 3'}, diameter: 8\"}, repeat: {count: 2, by: [5', 0]");
    assert!(matches!(&on_wall[0].1, PointForm::Wall { .. }));
    assert!(matches!(&on_wall[1].1, PointForm::Off { by, .. } if *by == (ft(5.0), ft(0.0))));
}

#[test]
fn joints_in_lists_and_repeated() {
    let sketch = square(
        "joints:\n  - {kind: control, x: [6', 12'], ends_at: J9}\n  - {id: J7, kind: control, y: 5', from: 1', to: 3', repeat: {count: 2, by: [4', 5']}}\n  - {kind: control, y: 1'}\n  - {id: J9, kind: isolation, path: [[1', 1'], [2', 2']], repeat: {x: [1', 3']}}\n",
    );
    let ids: Vec<&str> = sketch.joints.iter().map(|j| j.id.value.as_str()).collect();
    assert_eq!(ids, ["J1.1", "J1.2", "J7.1", "J7.2", "J2", "J9.1", "J9.2"]);
    assert!(matches!(&sketch.joints[1].line.value, LineForm::X { x, .. } if x.value == ft(12.0)));
    assert!(matches!(
        &sketch.joints[3].line.value,
        LineForm::Y { y, from: Some(from), to: Some(to) }
            if (y.value, from.value, to.value) == (ft(10.0), ft(5.0), ft(7.0))
    ));
    assert!(matches!(
        &sketch.joints[6].line.value,
        LineForm::Path(path) if path.vertices[1].to.value == PointForm::Xy(ft(4.0), ft(2.0))
    ));
    let span = sketch.joints[1].line.span;
    assert_ne!(sketch.joints[0].line.span, span, "each line has the place of its own coordinate");
    assert_eq!(sketch.joints[0].ends_at[0].value, "J9");
}

#[test]
fn outlines_count_their_corners() {
    let rows = [
        (SQUARE, 4),
        ("[[0, 0], [24', 0], [24', 20'], [0, 20'], [0, 0]]", 4),
        ("[[0, 0], [24', 0], [24', 20'], [0, 20'], {to: [0, 0], via: [-3', 10']}]", 4),
        ("[{to: [0, 0], via: [-3', 10']}, [24', 0], [24', 20'], [0, 20']]", 4),
        ("[[0, 0], [24', 0], {ties: [[1, 30'], [2, 20']], side: left}]", 3),
        ("{walk: [E 24', N 20', W 24', S 20']}", 4),
        ("{start: [1', 1'], walk: [E 24', N 20', W 24', close]}", 4),
        ("{start: [0, 0], walk: [E 24', N45E 3', N 20', S 80 W 4', close]}", 5),
    ];
    for (outline, corners) in rows {
        let text = format!("slabwalk: 1\njob: {{name: shed}}\nslab:\n  outline: {outline}\n");
        assert_eq!(good(&text).slab.outline.value.corners(), corners, "{outline}");
    }
    let text =
        "slabwalk: 1\njob: {name: shed}\nslab: {outline: {walk: [E 24', N 20', W 24', close]}}\n";
    let Outline::Walk { runs, close, start } = good(text).slab.outline.value else {
        panic!("a walk");
    };
    assert_eq!((runs.len(), close, start), (3, true, (ft(0.0), ft(0.0))));
}

#[test]
fn shapes_joints_and_sides() {
    let sketch = square(
        "joints:\n  - {kind: isolation, y: 10', from: 12', to: 2'}\n  - {kind: construction, path: [[0, 0], [4', 2'], {wall: 2, along: 6'}]}\nblemishes:\n  - {what: curing-compound, polygon: [[0, 0], [4', 0], [4', 3']]}\n  - {what: oil, band: {path: [[0, 0], [4', 0]], width: 18\"}}\ncoating: {pour_from: wall 3}\n",
    );
    assert!(
        matches!(&sketch.joints[0].line.value, LineForm::Y { from: Some(from), .. } if from.value == ft(12.0))
    );
    assert!(
        matches!(&sketch.joints[1].line.value, LineForm::Path(path) if path.vertices.len() == 3)
    );
    assert!(matches!(&sketch.blemishes[0].shape.value, ShapeForm::Polygon(_)));
    assert!(
        matches!(&sketch.blemishes[1].shape.value, ShapeForm::Band { width, .. } if width.value == ft(1.5))
    );
    assert_eq!(sketch.coating.pour_from.map(|side| side.value), Some(PourFrom::Wall(3)));
    let from = square("coating: {pour_from: 3}\n").coating.pour_from;
    assert_eq!(from.map(|side| side.value), Some(PourFrom::Wall(3)));
}

#[test]
fn lippage_in_three_forms() {
    let sketch = square(
        "joints: [{id: J1, kind: control, x: 12'}]\nlippage:\n  - {along: J1, high: N, step: 1/4, from: 5', to: 7'}\n  - {along: J1, high: right, step: 3/8}\n  - {along: [[0, 0], [4', 0]], high: left, readings: [[0, 1/16], [2', null], [4', 1/8]]}\n",
    );
    let [stretch, whole, read] = &sketch.lippage[..] else {
        panic!("three of them");
    };
    assert_eq!(stretch.high.value, HighSide::Compass(Compass::N));
    let stations: Vec<f64> =
        stretch.readings.iter().map(|reading| reading.station.value.m()).collect();
    assert_eq!(stations, [1.524, 2.1336]);
    assert!(whole.readings.is_empty() && whole.everywhere.is_some());
    assert!(read.everywhere.is_none() && read.readings[1].step.is_none());
    assert!(matches!(read.along.value, AlongForm::Path(_)));
}

#[test]
fn levels_in_three_forms() {
    let sketch = square(
        "levels:\n  - [1', 2', -1/4]\n  - {at: {wall: 1, along: 2'}, height: 1/8\"}\n  - {from: [0, 0], to: [20', 0], heights: [0, 1/16, -1/8]}\n",
    );
    assert_eq!((sketch.levels.len(), sketch.level_rows.len()), (2, 1));
    assert_eq!(sketch.level_rows[0].heights[2].value, Length::from_m(-0.003_175));
}

#[test]
fn widths_of_a_crack() {
    let sketch = square(
        "cracks:\n  - {path: [[0, 0], [9', 9']], widths: [[0, 1/16], [4', 3/16]]}\n  - {path: [[0, 0], [9', 9']], width: 1/8}\n",
    );
    let widths: Vec<usize> = sketch.cracks.iter().map(|crack| crack.widths.len()).collect();
    assert_eq!(widths, [2, 1]);
    assert_eq!(sketch.cracks[1].widths[0].0.value.m(), 0.0);
}

#[test]
fn metric_sketches() {
    let sketch = good(
        "slabwalk: 1\nunits: metric\njob: {name: Halle, accessible_route: true, revision: B}\nslab: {thickness: 150, outline: [[0, 0], [7.3, 0], [730 cm, 6.1 m], [0, 20']]}\njoints: [{kind: control, x: 3.65, width: 6, depth: 1/4\"}]\ntests: {slab_temperature: 18.5}\n",
    );
    assert_eq!(sketch.slab.thickness.map(|thickness| thickness.value.m()), Some(0.15));
    assert_eq!(sketch.joints[0].width.as_ref().map(|width| width.value.m()), Some(0.006));
    assert_eq!(sketch.joints[0].depth.as_ref().map(|depth| depth.value.m()), Some(0.00635));
    assert_eq!(sketch.tests.slab_temperature.map(|t| t.value.c()), Some(18.5));
    assert!(sketch.job.accessible_route && sketch.job.revision.as_deref() == Some("B"));
}

#[test]
fn a_form_left_blank_is_left_out() {
    let sketch = square(
        "joints:\n  - kind: control\n    x: 12'\n    width:\n    treatment: ~\n    note:\ncracks:\ntests:\ncoating:\n",
    );
    assert!(sketch.joints[0].width.is_none() && sketch.cracks.is_empty());
}

#[test]
fn comments_that_are_meant_are_no_lost_text() {
    square("joints:\n  - kind: control\n    x: 12'\n    note: strip broke off   # look again\n");
    square("joints:\n  - kind: control\n    x: 12'\n    note: 'see room #3'\n");
    square("joints:\n  - kind: control\n    x: 12'\n    note: room#3\n");
    let lost = ["note: see room #3", "note: #3", "note: lot # 3"];
    for note in lost {
        let text = format!(
            "slabwalk: 1\njob: {{name: shed}}\nslab: {{outline: {SQUARE}}}\njoints:\n  - kind: control\n    x: 12'\n    {note}\n"
        );
        let (sketch, faults) = parse(&text);
        assert!(sketch.is_some(), "{note}");
        let codes: Vec<&str> = faults.iter().map(|fault| fault.code).collect();
        assert_eq!(codes, ["lost-text"], "{note}");
    }
}
