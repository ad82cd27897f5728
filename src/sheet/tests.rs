//! Whole drawings: what every sheet must keep to.

mod odd;

use std::collections::BTreeSet;

use super::fixture::{BOAT_SHOP, GARAGE, KITCHEN, floor, inputs, options, room};
use super::*;
use crate::ink::{Group, Mark, Sheet, Step};
use crate::paper::size::{Paper, Size};
use crate::paper::{clear, mm, scale, style};
use crate::papers::compose;
use crate::record::Kind;

fn drawn(survey: &crate::floor::Survey, options: &Options) -> Vec<Sheet> {
    let plan = crate::schedule::plan(survey);
    let inputs = Inputs { plan: Some(&plan), wanted: None, ..inputs(survey) };
    compose(&inputs, options).expect("a drawing")
}

fn faults(sheets: &[Sheet]) -> Vec<String> {
    let files: Vec<(String, String)> =
        sheets.iter().map(|s| (s.name.clone(), crate::svg::write_with(s, false))).collect();
    let files: Vec<(&str, &str)> = files.iter().map(|(n, f)| (n.as_str(), f.as_str())).collect();
    crate::audit::audit_set(&files).iter().map(ToString::to_string).collect()
}

/// All groups of a sheet, nested ones too.
fn groups(sheet: &Sheet) -> Vec<&Group> {
    fn add<'a>(group: &'a Group, out: &mut Vec<&'a Group>) {
        out.push(group);
        for mark in &group.marks {
            if let Mark::Group(inner) = mark {
                add(inner, out);
            }
        }
    }
    let mut out = Vec::new();
    for group in &sheet.groups {
        add(group, &mut out);
    }
    out
}

fn group<'a>(sheet: &'a Sheet, id: &str) -> &'a Group {
    let found = groups(sheet).into_iter().find(|g| g.id == id);
    found.unwrap_or_else(|| panic!("no group {id}"))
}

/// Points of the paths of a group.
fn points(group: &Group) -> Vec<crate::ink::PaperPoint> {
    group
        .marks
        .iter()
        .filter_map(|m| match m {
            Mark::Path(p) => Some(&p.steps),
            _ => None,
        })
        .flatten()
        .filter_map(|s| match s {
            Step::Move(p) | Step::Line(p) => Some(*p),
            _ => None,
        })
        .collect()
}

/// Width and height of the paths of a group, mm.
fn size(group: &Group) -> (f64, f64) {
    let around = mm::Box2::of(&points(group));
    (around.width(), around.height())
}

#[test]
fn the_demonstration_floors_pass_the_audit() {
    for text in [GARAGE, KITCHEN, BOAT_SHOP] {
        let survey = floor(text);
        let sheets = drawn(&survey, &options(Audience::Crew));
        assert_eq!(faults(&sheets), Vec::<String>::new(), "{}", survey.sketch.job.name);
    }
}

#[test]
fn every_item_of_the_sketch_has_its_group_and_its_row_or_stands_in_a_row() {
    let hollow = "\ndelaminations:
  - {id: D2, box: {corner: [30', 20'], size: [1', 1']}, depth: 3/4}
  - {id: D3, box: {corner: [38', 20'], size: [1', 1']}, depth: 3/4, treatment: leave}
";
    let tier = "\nslab:\n  tiers: [{height: 3\", box: {corner: [26', 26'], size: [4', 4']}}]\n";
    let text = BOAT_SHOP.replace("\ndelaminations:\n", hollow);
    let survey = floor(&text.replace("\nslab:\n", tier));
    let sheets = drawn(&survey, &options(Audience::Crew));
    let rows: Vec<&str> = sheets.iter().flat_map(groups).map(|g| g.id.as_str()).collect();
    let slab = &survey.slab;
    let kinds: BTreeSet<Kind> = slab.items().map(|item| item.kind()).collect();
    let missing: Vec<&Kind> = Kind::ALL.iter().filter(|kind| !kinds.contains(kind)).collect();
    assert!(missing.is_empty(), "a floor of every kind has no {missing:?}");
    // What a patch mends has its row.
    let patched: Vec<&str> = survey.takeoff.patches.iter().flat_map(|p| p.ids()).collect();
    let ids = slab.items().map(|item| item.id());
    for id in ids.filter(|id| !patched.contains(id)) {
        assert!(rows.contains(&id), "{id} is drawn");
        assert!(rows.contains(&&*format!("row-{id}")), "{id} has a row");
        assert!(rows.contains(&&*format!("tag-{id}")), "{id} has a tag");
    }
    assert!(patched.contains(&"D2"));
    for id in patched {
        assert!(rows.contains(&id), "{id} is drawn");
    }
}

#[test]
fn the_plan_is_true_to_scale() {
    let survey = room("");
    let sheets = drawn(&survey, &options(Audience::Crew));
    // 20 ft by 16 ft at 1/4 in to the foot.
    let (w, h) = size(group(&sheets[0], "slab-edge"));
    assert!((w - 20.0 * 6.35).abs() < 1e-9 && (h - 16.0 * 6.35).abs() < 1e-9, "{w} {h}");
    let eighth = Options { scale: Some(Scale { ratio: 96.0 }), ..options(Audience::Crew) };
    let (w, _) = size(group(&drawn(&survey, &eighth)[0], "slab-edge"));
    assert!((w - 20.0 * 3.175).abs() < 1e-9, "{w}");
}

#[test]
fn the_same_floor_gives_the_same_sheets() {
    let once = drawn(&floor(KITCHEN), &options(Audience::Crew));
    assert_eq!(once, drawn(&floor(KITCHEN), &options(Audience::Crew)));
}

#[test]
fn a_post_tensioned_slab_shows_the_stop() {
    let joint = "joints:\n  - {id: J1, kind: control, x: 10', width: 1/4, depth: 1}\n";
    let survey = floor(&format!(
        "slabwalk: 1\njob: {{name: Test}}\nunits: us\nslab:\n  post_tension: stamped\n  outline: [[0, 0], [20', 0], [20', 16'], [0, 16']]\n{joint}"
    ));
    let text = format!("{:?}", drawn(&survey, &options(Audience::Crew))[0]);
    assert!(text.contains("HOLD: CLEAR BEFORE THE WORK NAMED"));
    assert!(text.contains("Post-tensioned slab: J1."));
    let tests = "tests: {moisture: [{at: [4', 4'], rh: 70%}, {at: [4', 9'], rh: 70%}, {at: [15', 9'], rh: 70%}]}\n";
    let free = room(&format!("{joint}{tests}"));
    let free = format!("{:?}", drawn(&free, &options(Audience::Crew))[0]);
    assert!(!free.contains("HOLD"));
}

#[test]
fn a_floor_that_does_not_fit_is_divided() {
    let survey = floor(BOAT_SHOP);
    let letter = Options {
        paper: Some(Paper::landscape(Size::Letter)),
        scale: Some(Scale { ratio: 48.0 }),
        ..options(Audience::Crew)
    };
    let sheets = drawn(&survey, &letter);
    assert_eq!(faults(&sheets), Vec::<String>::new());
    let maps = |s: &&Sheet| s.title.contains("REPAIR MAP");
    assert!(sheets.iter().filter(maps).count() > 4);
    assert!(sheets.iter().all(|s| s.width < 280.0));
}

#[test]
fn names_that_would_break_a_file_do_not() {
    let name = "\\u0007Bell \\u202Eturned \\u05D0\\u05D1\\u05D2 & <b> \\\"quoted\\\" ".repeat(12);
    let survey = floor(&format!(
        "slabwalk: 1\njob: {{name: \"{name}\", notes: \"{name}\"}}\nunits: us\nslab:\n  outline: [[0, 0], [20', 0], [20', 16'], [0, 16']]\nspalls:\n  - {{id: S1, circle: {{center: [5', 5'], diameter: 6\"}}, depth: 1/4, note: \"{name}\"}}\n"
    ));
    let sheets = drawn(&survey, &options(Audience::Crew));
    assert_eq!(faults(&sheets), Vec::<String>::new());
}

#[test]
fn the_further_sheets_are_sound_on_every_paper() {
    let survey = floor(GARAGE);
    for paper in [
        Paper::portrait(Size::Letter),
        Paper::landscape(Size::Letter),
        Paper::portrait(Size::A4),
        Paper::landscape(Size::AnsiD),
    ] {
        let sheets = drawn(&survey, &Options { paper: Some(paper), ..options(Audience::Crew) });
        for title in ["POURING", "FILLING", "DAYS"] {
            let named = |s: &Sheet| s.title.contains(title);
            assert!(sheets.iter().any(named), "{paper:?}: {title}");
        }
        let mut found = faults(&sheets);
        found.retain(|f| !f.starts_with("crew-map"));
        assert_eq!(found, Vec::<String>::new(), "{paper:?}");
    }
}

#[test]
fn one_of_a_thing_is_not_called_several() {
    let survey = room("joints:\n  - {id: J1, kind: control, x: 10', width: 1/4, depth: 1}\n");
    let sheets = drawn(&survey, &options(Audience::Crew));
    let map = &sheets[0].description;
    assert!(map.contains("1 joint, 0 cracks, 0 patches"), "{map}");
}

/// 150 panels of half an inch on paper: nearly all have their numbers, the list has the others, and nothing runs off the paper.
#[test]
fn small_panels_in_a_close_grid_have_their_numbers() {
    let joints = |axis: &str, n: usize| -> String {
        (1..n)
            .map(|i| format!("  - {{kind: control, {axis}: {}', width: 1/4, depth: 1}}\n", 8 * i))
            .collect()
    };
    let survey = floor(&format!(
        "slabwalk: 1\njob: {{name: Grid}}\nunits: us\nslab:\n  post_tension: none\n  outline: [[0, 0], [120', 0], [120', 80'], [0, 80']]\njoints:\n{}{}",
        joints("x", 15),
        joints("y", 10)
    ));
    let sheets = drawn(&survey, &options(Audience::Crew));
    assert_eq!(faults(&sheets), Vec::<String>::new());
    let all: Vec<&Group> = sheets.iter().flat_map(groups).collect();
    let said = format!("{sheets:?}");
    let panels = &survey.slab.panels;
    assert_eq!(panels.len(), 150);
    let shown = |id: &str| all.iter().any(|g| g.class == "panel" && g.id == id);
    let missing: Vec<&str> = panels.iter().map(|p| &*p.id).filter(|id| !shown(id)).collect();
    assert!(missing.len() <= 12, "{missing:?}");
    assert_eq!(said.contains("PANELS WITHOUT A NUMBER"), missing.len() > 2);
    for id in missing.iter().filter(|_| missing.len() > 2) {
        assert!(said.contains(&format!("\"{id}.\"")), "{id} is in the list");
    }
    // No leader runs through a number of its own sheet.
    for sheet in &sheets {
        let own = groups(sheet);
        for leader in own.iter().filter(|g| g.class == "leader") {
            let line = points(leader);
            for panel in own.iter().filter(|g| g.class == "panel") {
                let text = panel.marks.iter().find_map(|m| match m {
                    Mark::Text(t) => Some(t.at),
                    _ => None,
                });
                let at = text.expect("a number");
                let near = clear::Slip::upright(&mm::Box2::around(at, 2.0, 2.0));
                let crossed = near.meets_segment(line[0], line[1]);
                assert!(!crossed, "{}: {} {}", sheet.name, leader.id, panel.id);
            }
        }
    }
}

/// A floor drawn in parts: every corner and every panel is on one of the sheets, so that no note says that one is missing.
#[test]
fn what_one_sheet_of_a_set_shows_is_missing_on_none() {
    let survey = floor(BOAT_SHOP);
    let in_parts = Options {
        paper: Paper::parse("letter"),
        scale: Some(scale::Scale { ratio: 96.0 }),
        ..options(Audience::Crew)
    };
    let sheets = drawn(&survey, &in_parts);
    let all: Vec<&Group> = sheets.iter().flat_map(groups).collect();
    let said = format!("{sheets:?}");
    for corner in 1..=survey.slab.outline.corners.len() {
        let shown = all.iter().any(|g| g.id == format!("corner-{corner}"));
        let missing =
            said.contains(&format!("Corner {corner}, which")) || said.contains("Corners that");
        assert!(shown != missing, "corner {corner}: shown {shown}, said missing {missing}");
    }
}

fn texts(sheet: &Sheet) -> Vec<&str> {
    let marks = groups(sheet).into_iter().flat_map(|g| &g.marks);
    marks
        .filter_map(|m| match m {
            Mark::Text(t) => Some(t.text.as_str()),
            _ => None,
        })
        .collect()
}

/// A legend too long for the column it begins in goes on in a wider one, with all its symbols and its notes.
#[test]
fn what_has_a_star_in_the_legend_is_explained_in_the_set() {
    let mut starred = 0;
    for text in [GARAGE, KITCHEN, BOAT_SHOP] {
        let survey = floor(text);
        let sheets = drawn(&survey, &options(Audience::Crew));
        let all: Vec<&str> = sheets.iter().flat_map(texts).collect();
        let has = |test: &dyn Fn(&str) -> bool| all.iter().any(|t| test(t));
        for (star, note) in [("**", "** The number at the foot"), ("*", "* Ticks run to the")] {
            let entry = |t: &str| {
                ["Square off", "Feather by hand", "Step"].iter().any(|name| {
                    t.strip_prefix(name).is_some_and(|rest| rest.split(',').next() == Some(star))
                })
            };
            if has(&entry) {
                starred += 1;
                assert!(
                    has(&|t| t.starts_with(note)),
                    "{star} is not explained: {}",
                    survey.sketch.job.name
                );
            }
        }
    }
    assert!(starred > 3, "{starred}");
}

/// A crowd of cracks that takes an enlarged plan, about the middle of a joint with a step.
fn crowd_beside(step: &str) -> String {
    let cracks: String = (0..36)
        .map(|i| {
            let (x, y) = (25.25 + 0.7 * f64::from(i % 6), 13.5 + 0.6 * f64::from(i / 6));
            let (far, up) = (x + 0.3, y + 0.15);
            format!("  - {{path: [[{x:.2}', {y:.2}'], [{far:.2}', {up:.2}']], width: 1/16, movement: dormant}}\n")
        })
        .collect();
    format!(
        "slabwalk: 1\njob: {{name: Crowded bay}}\nunits: us\nslab:\n  thickness: 4\"\n  post_tension: none\n  \
         outline: [[0, 0], [40', 0], [40', 30'], [0, 30']]\njoints:\n  \
         - {{id: J1, kind: control, formed: sawn, x: 27', width: 1/4, depth: 1}}\ncracks:\n{cracks}\
         lippage:\n  - {{id: L1, along: J1, high: left, {step}}}\n"
    )
}

/// The joint that a step was read along runs through the enlarged window; the step itself does not, or does.
#[test]
fn a_step_has_its_tag_where_it_lies_and_not_where_its_joint_runs() {
    for (step, enlarged) in [
        ("step: 1/4, from: 2', to: 6'", Some(false)),
        ("step: 1/4, from: 14', to: 16'", Some(true)),
        ("readings: [[0, 1/16], [4', 3/16], [6', 1/4], [9', 3/16]]", None),
        ("readings: [[2', 1/32], [6', 1/32]]", Some(false)),
    ] {
        let survey = floor(&crowd_beside(step));
        let sheets = drawn(&survey, &options(Audience::Crew));
        assert_eq!(faults(&sheets), Vec::<String>::new(), "{step}");
        let large = sheets.iter().any(|s| s.name.starts_with("crew-enlarged"));
        assert!(large, "{step}: no enlarged plan");
        let with: Vec<bool> = sheets
            .iter()
            .filter(|s| groups(s).iter().any(|g| g.id == "tag-L1"))
            .map(|s| s.name.starts_with("crew-enlarged"))
            .collect();
        assert_eq!(with.len(), 1, "{step}: one tag");
        if let Some(enlarged) = enlarged {
            assert_eq!(with, [enlarged], "{step}");
        }
    }
}

/// Words in a tag are dropped before they cost it a long leader.
#[test]
fn no_words_stand_far_from_their_area() {
    for text in [GARAGE, KITCHEN, BOAT_SHOP] {
        let survey = floor(text);
        let sheets = drawn(&survey, &options(Audience::Crew));
        let all: Vec<&Group> = sheets.iter().flat_map(groups).collect();
        for leader in all.iter().filter(|g| g.class == "leader") {
            let line = points(leader);
            let id = leader.id.replace("leader-", "tag-");
            let tag = all.iter().find(|g| g.id == id).expect("its tag");
            let words =
                tag.marks.iter().any(|m| matches!(m, Mark::Text(t) if t.text.contains(' ')));
            let length = (line[1] - line[0]).length();
            assert!(!words || length <= 15.0, "{id}: {length} mm");
        }
    }
}

/// A garage whose back strip lies 7 in higher, with a stage on it, and a sunken wash bay.
fn heights(tiers: [&str; 3]) -> crate::floor::Survey {
    floor(&format!(
        "slabwalk: 1\njob: {{name: Two heights}}\nslab:\n  post_tension: none\n  outline: [[0, 0], [20', 0], [20', 20'], [0, 20']]\n  openings: [{{name: overhead door, wall: 1, from: 2', to: 18'}}]\n  keep_outs: [{{what: drain, flush: true, circle: {{center: [5', 7' 9\"], diameter: 8\"}}}}]\n  tiers:\n    - {}\n    - {}\n    - {}\njoints: [{{id: J1, kind: control, x: 10', to: 14', width: 1/4}}]\ncoating: {{system: flake}}\n",
        tiers[0], tiers[1], tiers[2]
    ))
}

#[test]
fn a_floor_of_two_heights_is_drawn_and_said() {
    let back = "{id: V1, what: back slab, height: 7\", box: {corner: [-1', 14'], size: [16', 8']}}";
    let stage = "{id: V2, what: stage, height: 14\", box: {corner: [15', 14'], size: [8', 8']}}";
    let bay = "{id: V3, what: wash bay, height: -3\", riser: leave, circle: {center: [5', 7'], diameter: 5'}}";
    let survey = heights([back, stage, bay]);
    for audience in [Audience::Crew, Audience::Customer, Audience::Field] {
        let sheets = drawn(&survey, &options(audience));
        assert_eq!(faults(&sheets), Vec::<String>::new());
        let shuffled = drawn(&heights([bay, stage, back]), &options(audience));
        let svg = |sheets: &[Sheet]| sheets.iter().map(crate::svg::write).collect::<Vec<_>>();
        assert!(svg(&sheets) == svg(&shuffled), "records in another order");
        let said = sheets.iter().flat_map(texts).collect::<Vec<_>>().join(" ");
        let wanted: &[&str] = match audience {
            Audience::Crew => &[
                "V1 +7\"",
                "V2 +14\"",
                "V3 −3\"",
                "Riser, two heights",
                "7\" higher",
                "3\" lower",
                "Wash bay. Riser 15.7, left as it is",
            ],
            Audience::Customer => &[
                "Step in the floor.",
                "The back slab lies 7\" higher; its",
                "The wash bay lies 3\" lower",
            ],
            Audience::Field => &[],
        };
        for words in wanted {
            assert!(said.contains(words), "no {words} in: {said}");
        }
    }
    let sheets = drawn(&survey, &options(Audience::Crew));
    assert!(group(&sheets[0], "V1").title.contains("7\" higher"));
}
