//! What stands on the plan beside the joints and their tags.

use super::*;
use crate::ink::{PathMark, Step};
use crate::paper::hatch;
use crate::paper::mm::{at, lerp};
use crate::paper::scale::Scale;
use crate::sheet::fixture::{BOAT_SHOP, KITCHEN, floor, inputs, room};
use crate::slab::directions::Locator;

/// The plan of a floor at a quarter inch to the foot, or smaller.
fn drawn(survey: &crate::floor::Survey, ratio: f64) -> Plan {
    let window = Box2::new(0.0, 0.0, 420.0, 280.0);
    let bounds = survey.slab.outline.path.bounds();
    let view = View::centered(Scale { ratio }, bounds, at(210.0, 140.0));
    draw(&inputs(survey), None, &view, &window, &[])
}

/// Groups of a class, nested ones too.
fn of_class<'a>(groups: &'a [Group], class: &str, out: &mut Vec<&'a Group>) {
    for group in groups {
        if group.class == class {
            out.push(group);
        }
        for mark in &group.marks {
            if let Mark::Group(inner) = mark {
                of_class(std::slice::from_ref(inner), class, out);
            }
        }
    }
}

/// The two numbers that locate an item.
fn located(plan: &Plan, id: &str) -> Vec<String> {
    let found = texts(&plan.groups, "locating");
    let title = format!("Where {id} is");
    found.into_iter().find(|f| f.0 == title).unwrap_or_else(|| panic!("{id} is not located")).1
}

fn texts(groups: &[Group], class: &str) -> Vec<(String, Vec<String>)> {
    let mut found = Vec::new();
    of_class(groups, class, &mut found);
    let words = |g: &&Group| {
        let texts = g.marks.iter().filter_map(|m| match m {
            Mark::Text(t) => Some(t.text.clone()),
            _ => None,
        });
        (g.title.clone(), texts.collect::<Vec<_>>())
    };
    found.iter().map(words).collect()
}

#[test]
fn an_item_inside_the_floor_is_taped_from_a_wall_or_from_a_nearer_joint() {
    let spall = |x: &str, y: &str| {
        format!(
            "spalls:\n  - {{id: S1, circle: {{center: [{x}, {y}], diameter: 4\"}}, depth: 1/4}}\n"
        )
    };
    let joint = "joints:\n  - {id: J1, kind: control, x: 10', width: 1/4, depth: 1}\n";
    for (name, more, station, off) in [
        ("wall", spall("7'", "4'"), "7'-0\"", "4'-0\""),
        ("far wall", spall("16'", "11' 6\""), "11'-6\"", "4'-0\""),
        // 8 ft up the joint and 2 ft beside it; the nearest wall is 8 ft away.
        ("joint", format!("{joint}{}", spall("12'", "8'")), "8'-0\"", "2'-0\""),
    ] {
        let survey = room(&more);
        let plan = drawn(&survey, 48.0);
        assert_eq!(located(&plan, "S1"), [off, station], "{name}");
        assert!(plan.used.contains(&Symbol::Locating), "{name}");
    }
}

/// What an enlarged plan cuts off: nobody finds the edge of its window on the floor, so no tape is hooked there.
#[test]
fn an_enlarged_plan_tapes_from_corners_and_joints_of_the_whole_floor() {
    let text = "slabwalk: 1\njob: {name: Test}\nunits: us\nslab:\n  outline: [[0, 0], [40', 0], [40', 30'], [0, 30']]\n\
        joints:\n  - {id: J1, kind: control, y: 15', width: 1/4, depth: 1}\n  - {id: J2, kind: control, x: 30', width: 1/4, depth: 1}\n\
        spalls:\n  - {id: S1, circle: {center: [27', 17'], diameter: 4\"}, depth: 1/4}\n  - {id: S2, circle: {center: [35', 28'], diameter: 4\"}, depth: 1/4}\n\
        cracks:\n  - {id: C1, path: [[22', 20'], [26', 22']], width: 1/16}\n";
    let survey = floor(text);
    let ft = 0.3048;
    let window = Rect::new(24.0 * ft, 12.0 * ft, 38.0 * ft, 30.0 * ft);
    let (slab, takeoff) =
        crate::sheet::split::part::part(&survey.slab, &survey.takeoff, window, 0.0);
    let own = crate::sheet::Inputs { slab: &slab, takeoff: &takeoff, ..inputs(&survey) };
    let view = View::centered(Scale { ratio: 24.0 }, window, at(210.0, 140.0));
    let part = Part { whole: &survey.slab, window, framed: true, sides: &[] };
    let paper = Box2::new(0.0, 0.0, 420.0, 280.0);
    let plan = draw(&own, Some(part), &view, &paper, &[]);
    // 27 ft along J1 from its end at the west wall, which is not in the window.
    assert_eq!(located(&plan, "S1"), ["2'-0\"", "27'-0\""]);
    // Wall 3→4 is taped from its west end, which is not in the window, as wall 1→2 is: 30 ft to J2, 35 ft to S2.
    assert_eq!(located(&plan, "S2"), ["2'-0\"", "35'-0\""]);
    let walls = texts(&plan.groups, "dimension");
    let numbers: Vec<&str> = walls.iter().flat_map(|w| &w.1).map(|t| &**t).collect();
    assert_eq!(numbers, ["30'-0\""]);
    // The crack is located by its own end in the window, not where the window cuts it.
    let cracks = texts(&plan.groups, "locating");
    let of_crack = cracks.iter().filter(|c| c.0 == "Where C1 is").count();
    assert!(of_crack <= 1, "{cracks:?}");
}

#[test]
fn a_tape_does_not_run_through_what_stands_on_the_floor() {
    // Straight below the spall stands a machine; the next wall is 9 ft to the W.
    let survey =
        room("spalls:\n  - {id: S1, circle: {center: [9', 6'], diameter: 4\"}, depth: 1/4}\n");
    let free = located(&drawn(&survey, 48.0), "S1");
    assert_eq!(free[0], "6'-0\"");
    let survey = floor(
        "slabwalk: 1\njob: {name: Test}\nunits: us\nslab:\n  outline: [[0, 0], [20', 0], [20', 16'], [0, 16']]\n  keep_outs:\n    - {id: K1, box: {corner: [7', 1'], size: [4', 3']}}\nspalls:\n  - {id: S1, circle: {center: [9', 6'], diameter: 4\"}, depth: 1/4}\n",
    );
    let blocked = located(&drawn(&survey, 48.0), "S1");
    // From the south end of the wall, as the wall across from it.
    assert_eq!(blocked, ["9'-0\"", "6'-0\""]);
    // A drain is run over.
    let survey = floor(
        "slabwalk: 1\njob: {name: Test}\nunits: us\nslab:\n  outline: [[0, 0], [20', 0], [20', 16'], [0, 16']]\n  keep_outs:\n    - {id: K1, flush: true, box: {corner: [8', 1'], size: [2', 1']}}\nspalls:\n  - {id: S1, circle: {center: [9', 6'], diameter: 4\"}, depth: 1/4}\n",
    );
    let center = kurbo::Point::new(9.0 * 0.3048, 6.0 * 0.3048);
    let said = Locator::new(&survey.slab).point(center, "S1");
    assert_eq!(said, "1→2 9'-0\", out 6'-0\"");
}

#[test]
fn the_cross_of_a_flush_keep_out_lies_in_it() {
    // A drain, a trench whose bends leave the middle of its box beside it, and a round cover.
    let survey = floor(
        "slabwalk: 1\njob: {name: Test}\nunits: us\nslab:\n  outline: [[0, 0], [20', 0], [20', 16'], [0, 16']]\n  keep_outs:\n    - {id: K1, flush: true, box: {corner: [1', 1'], size: [2', 1']}}\n    - {id: K2, flush: true, band: {path: [[6', 2'], [6', 8'], [17', 8'], [17', 12']], width: 8\"}}\n    - {id: K3, flush: true, circle: {center: [3', 12'], diameter: 1'}}\n",
    );
    let plan = drawn(&survey, 48.0);
    let mut found = Vec::new();
    of_class(&plan.groups, "keep-out flush", &mut found);
    assert_eq!(found.len(), 3);
    for group in found {
        let paths: Vec<&PathMark> = group
            .marks
            .iter()
            .filter_map(|m| match m {
                Mark::Path(path) => Some(path),
                _ => None,
            })
            .collect();
        let points = |path: &PathMark| -> Vec<PaperPoint> {
            let end = |step: &Step| match step {
                Step::Move(p) | Step::Line(p) => Some(*p),
                _ => None,
            };
            path.steps.iter().filter_map(end).collect()
        };
        let shape = vec![points(paths[0])];
        assert_eq!(paths.len(), 3, "{}: two strokes", group.id);
        for stroke in &paths[1..] {
            let [a, b] = points(stroke)[..] else {
                panic!("{}: a stroke", group.id);
            };
            for share in [0.001, 0.2, 0.5, 0.8, 0.999] {
                let inside = hatch::contains(&shape, lerp(a, b, share));
                assert!(inside, "{}: {share} of {a:?} to {b:?}", group.id);
            }
        }
    }
}

#[test]
fn tests_taken_carry_their_reading_and_tests_wanted_say_so() {
    let survey = floor(KITCHEN);
    let plan = drawn(&survey, 50.0);
    let tags: Vec<&str> = plan.tags.iter().map(|t| t.texts[0].as_str()).collect();
    for text in ["M1 78%", "M2 83%", "T1 WANTED"] {
        assert!(tags.contains(&text), "{text} in {tags:?}");
    }
    assert!(plan.used.contains(&Symbol::Moisture) && plan.used.contains(&Symbol::Wanted));
}

#[test]
fn faces_rows_and_low_spots_are_drawn_where_there_are_some() {
    let survey = floor(BOAT_SHOP);
    let plan = drawn(&survey, 96.0);
    let count = |class: &str| {
        let mut found = Vec::new();
        of_class(&plan.groups, class, &mut found);
        found.len()
    };
    assert_eq!(count("face"), survey.slab.faces.len());
    assert_eq!(count("level-row"), 1);
    let low = survey.takeoff.levels.as_ref().map_or(0, |l| l.ponding.len());
    assert_eq!(count("low-spot"), low);
    assert!(low > 0);
    let text = format!("{:?}", plan.groups);
    assert!(text.contains("FF 48 FL 114") && text.contains("FACE 4\\\""), "labels");
    let bare = drawn(&room(""), 48.0);
    for symbol in [Symbol::Face, Symbol::Row, Symbol::Low] {
        assert!(plan.used.contains(&symbol), "{symbol:?}");
        assert!(!bare.used.contains(&symbol), "{symbol:?}");
    }
}

/// Nine joints across the room.
fn narrow_panels() -> crate::floor::Survey {
    let joints: String = (1..10)
        .map(|i| format!("  - {{id: J{i}, kind: control, x: {}', width: 1/4, depth: 1}}\n", 2 * i))
        .collect();
    room(&format!("joints:\n{joints}"))
}

#[test]
fn what_finds_no_room_is_a_remark() {
    // A dozen panels on a plan of a few millimeters.
    let mut plan = drawn(&narrow_panels(), 720.0);
    assert!(plan.left_out() > 0);
    plan.number_rest(&crate::tags::place::Placement::default());
    let panels = plan.remarks.iter().filter(|r| matches!(r, Remark::Panel(_)));
    assert!(panels.count() > 0, "{:?}", plan.remarks);
    assert!(plan.unnumbered.is_empty());
    assert!(plan.remarks.is_disjoint(&plan.shown));
}

#[test]
fn a_small_panel_takes_a_narrow_oval_in_what_the_tags_leave() {
    // Panels 8.5 mm wide: too narrow for the usual oval.
    let survey = narrow_panels();
    let mut plan = drawn(&survey, 72.0);
    let waiting = plan.unnumbered.len();
    assert!(waiting > 0, "{:?}", plan.shown);
    plan.number_rest(&crate::tags::place::Placement::default());
    let mut found = Vec::new();
    of_class(&plan.groups, "panel", &mut found);
    assert_eq!(found.len(), survey.slab.panels.len(), "{:?}", plan.remarks);
    let all: Vec<Remark> = survey.slab.panels.iter().map(|p| Remark::Panel(p.id.clone())).collect();
    assert!(all.iter().all(|p| plan.shown.contains(p)));
}

/// The half of a floor says nothing of the corners in the other half.
#[test]
fn a_part_of_a_floor_has_no_remark_about_what_lies_outside() {
    let survey = room("");
    let ft = 0.3048;
    let window = Rect::new(0.0, 0.0, 10.0 * ft, 16.0 * ft);
    let (slab, takeoff) =
        crate::sheet::split::part::part(&survey.slab, &survey.takeoff, window, 0.0);
    let own = crate::sheet::Inputs { slab: &slab, takeoff: &takeoff, ..inputs(&survey) };
    let view = View::centered(Scale { ratio: 24.0 }, window, at(100.0, 140.0));
    let part = Part { whole: &survey.slab, window, framed: false, sides: &[] };
    // Corners 2 and 3 would lie off the paper.
    let paper = Box2::new(0.0, 0.0, 200.0, 280.0);
    let plan = draw(&own, Some(part), &view, &paper, &[]);
    assert!(plan.remarks.is_empty(), "{:?}", plan.remarks);
    for (corner, here) in [(1, true), (2, false), (3, false), (4, true)] {
        assert_eq!(plan.shown.contains(&Remark::Corner(corner)), here, "{corner}");
    }
}

/// Dimensions in a window that ends near them: strokes, extension lines and rings stay in it.
#[test]
fn dimensions_stay_in_their_window() {
    let survey = room("joints:\n  - {id: J1, kind: control, x: 10', width: 1/4, depth: 1}\n");
    let bounds = survey.slab.outline.path.bounds();
    let view = View::centered(Scale { ratio: 48.0 }, bounds, at(210.0, 140.0));
    for tenth in 80..240 {
        let window = view.rectangle(bounds).grown(f64::from(tenth) / 10.0);
        let plan = draw(&inputs(&survey), None, &view, &window, &[]);
        let mut found = Vec::new();
        of_class(&plan.groups, "dimension", &mut found);
        for path in found.iter().flat_map(|g| &g.marks) {
            let Mark::Path(PathMark { steps, stroke: Some(stroke), .. }) = path else {
                continue;
            };
            for step in steps {
                let (Step::Move(p) | Step::Line(p) | Step::Cubic(_, _, p)) = step else {
                    continue;
                };
                let inner = window.grown(-stroke.width / 2.0);
                assert!(inner.contains(*p), "{tenth}: {p:?} in {window:?}");
            }
        }
    }
}

/// A row of heights runs on past the walls, and so does a step: neither has its words out there.
#[test]
fn words_stand_beside_the_floor() {
    let survey = room(
        "lippage:\n  - {id: L1, along: [[4', 4'], [60', 4']], high: left, step: 3/8, from: 10', to: 50'}\nlevels:\n  - {from: [18', 8'], to: [40', 8'], heights: [0, 0.03\", 0.05\", 0.04\", 0.06\", 0.05\", 0.02\", 0.03\", 0.05\", 0.08\", 0.06\", 0.04\", 0.05\"]}\n",
    );
    let plan = drawn(&survey, 48.0);
    let bounds = survey.slab.outline.path.bounds();
    let view = View::centered(Scale { ratio: 48.0 }, bounds, at(210.0, 140.0));
    let near = view.rectangle(bounds).grown(OVERHANG + BESIDE);
    let mut found = Vec::new();
    of_class(&plan.groups, "label", &mut found);
    assert!(!found.is_empty());
    for mark in found.iter().flat_map(|g| &g.marks) {
        if let Mark::Text(text) = mark {
            assert!(near.contains(text.at), "{} at {:?}", text.text, text.at);
        }
    }
}

/// A sheet of a split floor says the numbers of the unsplit one, and of the schedule: no tape is hooked on a match line.
#[test]
fn a_part_of_a_floor_has_the_numbers_of_the_whole() {
    let text = "slabwalk: 1\njob: {name: Test}\nunits: us\nslab:\n  outline: [[0, 0], [40', 0], [40', 30'], [0, 30']]\n\
        joints:\n  - {id: J1, kind: control, y: 15', width: 1/4, depth: 1}\n  - {id: J2, kind: control, x: 20', width: 1/4, depth: 1}\n\
        spalls:\n  - {id: S1, circle: {center: [33' 8\", 17'], diameter: 4\"}, depth: 1/4}\n";
    let survey = floor(text);
    let whole = located(&drawn(&survey, 48.0), "S1");
    let ft = 0.3048;
    let window = Rect::new(20.0 * ft, 0.0, 40.0 * ft, 30.0 * ft);
    let (slab, takeoff) =
        crate::sheet::split::part::part(&survey.slab, &survey.takeoff, window, 0.0);
    let own = crate::sheet::Inputs { slab: &slab, takeoff: &takeoff, ..inputs(&survey) };
    let view = View::centered(Scale { ratio: 48.0 }, window, at(210.0, 140.0));
    let part = Part { whole: &survey.slab, window, framed: false, sides: &[] };
    let paper = Box2::new(0.0, 0.0, 420.0, 280.0);
    let plan = draw(&own, Some(part), &view, &paper, &[]);
    assert_eq!(whole, ["2'-0\"", "33'-8\""]);
    assert_eq!(located(&plan, "S1"), whole);
    let center = kurbo::Point::new(33.0 * ft + 8.0 * ft / 12.0, 17.0 * ft);
    let said = Locator::new(&survey.slab).point(center, "S1");
    assert_eq!(said, "33'-8\" along J1 from its W end, 2'-0\" N of it");
}

/// Both walls of a pair are taped from the same end, and what lies on a crossing of joints or in a corner is said to.
#[test]
fn places_are_said_as_a_tape_finds_them() {
    let survey = floor(
        "slabwalk: 1\njob: {name: Test}\nunits: us\nslab:\n  outline: [[0, 0], [40', 0], [40', 30'], [0, 30']]\n\
        joints:\n  - {id: J1, kind: control, y: 15', width: 1/4, depth: 1}\n  - {id: J2, kind: control, x: 20', width: 1/4, depth: 1}\n",
    );
    let locator = Locator::new(&survey.slab);
    let at = |x: f64, y: f64| kurbo::Point::new(x * 0.3048, y * 0.3048);
    let rows = [
        ("the south wall", at(5.0, 0.0), "1→2 5'-0\""),
        ("the north wall", at(5.0, 30.0), "4→3 5'-0\""),
        ("the east wall", at(40.0, 5.0), "2→3 5'-0\""),
        ("the west wall", at(0.0, 5.0), "1→4 5'-0\""),
        ("off the north wall", at(5.0, 28.0), "4→3 5'-0\", out 2'-0\""),
        ("a crossing", at(20.0, 15.0), "at J1 × J2"),
        ("a corner", at(40.0, 30.0), "corner 3"),
    ];
    for (name, p, wanted) in rows {
        assert_eq!(locator.point(p, ""), wanted, "{name}");
    }
    assert_eq!(locator.point(at(20.0, 15.0), "J2"), "20'-0\" along J1 from its W end");
}

/// A patch that reaches under a column is cut up to it.
#[test]
fn the_hatch_of_a_patch_leaves_out_what_stands_on_the_floor() {
    let survey = floor(
        "slabwalk: 1\njob: {name: Test}\nunits: us\nslab:\n  outline: [[0, 0], [20', 0], [20', 16'], [0, 16']]\n  keep_outs:\n    - {id: K1, what: column, box: {corner: [7', 7'], size: [1', 1']}}\nspalls:\n  - {id: S1, box: {corner: [6', 6'], size: [3', 3']}, depth: 1}\n",
    );
    let plan = drawn(&survey, 24.0);
    let view =
        View::centered(Scale { ratio: 24.0 }, survey.slab.outline.path.bounds(), at(210.0, 140.0));
    let ft = 0.3048;
    let column = view.rectangle(Rect::new(7.0 * ft, 7.0 * ft, 8.0 * ft, 8.0 * ft));
    let mut patches = Vec::new();
    of_class(&plan.groups, "patch", &mut patches);
    assert!(!patches.is_empty());
    let mut hatches = Vec::new();
    for patch in patches {
        of_class(std::slice::from_ref(patch), "hatch", &mut hatches);
    }
    assert!(!hatches.is_empty());
    let inner = crate::paper::clear::Slip::upright(&column.grown(-0.05));
    for mark in hatches.iter().flat_map(|g| &g.marks) {
        let Mark::Path(path) = mark else { continue };
        for pair in path.steps.chunks(2) {
            if let [Step::Move(a), Step::Line(b)] = pair {
                assert!(!inner.meets_segment(*a, *b), "{a:?} to {b:?}");
            }
        }
    }
}

/// An area begins right before the end of the tick: the height stands on the other side of the joint.
#[test]
fn the_height_of_a_step_stands_on_its_low_side_where_it_must() {
    let plan = drawn(&floor(KITCHEN), 50.0);
    let mut labels = Vec::new();
    of_class(&plan.groups, "label", &mut labels);
    let heights = labels.iter().filter(|g| g.id.starts_with("text-L1-"));
    let said: Vec<String> =
        heights.flat_map(|g| texts(std::slice::from_ref(*g), "label")).flat_map(|t| t.1).collect();
    assert!(said.iter().any(|t| t == "8 MM"), "{said:?}");
}

/// Of a step that runs on beyond a match line, the tag points at the tick that is drawn.
#[test]
fn a_step_that_a_window_cuts_is_pointed_at_where_it_is_drawn() {
    let survey = room(
        "joints:\n  - {id: J1, kind: control, y: 8', width: 1/4, depth: 1}\nlippage:\n  - {id: L1, along: J1, high: N, step: 1/32, from: 8', to: 18'}\n",
    );
    let ft = 0.3048;
    // The window ends a millimeter of paper past the first tick.
    let window = Rect::new(0.0, 0.0, 8.0 * ft + 0.048, 16.0 * ft);
    let (slab, takeoff) =
        crate::sheet::split::part::part(&survey.slab, &survey.takeoff, window, 0.0);
    let own = crate::sheet::Inputs { slab: &slab, takeoff: &takeoff, ..inputs(&survey) };
    let view = View::centered(Scale { ratio: 48.0 }, window, at(210.0, 140.0));
    let part = Part { whole: &survey.slab, window, framed: true, sides: &[] };
    let plan = draw(&own, Some(part), &view, &Box2::new(0.0, 0.0, 420.0, 280.0), &[]);
    let tag = plan.tags.iter().find(|t| t.id == "L1").expect("a tag");
    let foot = view.point(Point::new(8.0 * ft, 8.0 * ft));
    assert!((tag.around().center() - foot).length() < 0.1, "{tag:?}");
}
