use super::*;
use crate::ink::{
    Align, BLACK, Color, Group, Mark, PaperPoint, PathMark, Sheet, Step, Stroke, TextMark, WHITE,
    Weight,
};

fn at(x: f64, y: f64) -> PaperPoint {
    PaperPoint { x, y }
}

fn line(points: &[(f64, f64)], width: f64) -> Mark {
    let steps = points
        .iter()
        .enumerate()
        .map(|(n, &(x, y))| if n == 0 { Step::Move(at(x, y)) } else { Step::Line(at(x, y)) });
    Mark::Path(PathMark {
        steps: steps.collect(),
        stroke: Some(Stroke { width, color: BLACK, round: false }),
        fill: None,
    })
}

fn rectangle(left: f64, top: f64, width: f64, height: f64, pen: f64) -> Mark {
    let Mark::Path(mut path) = line(
        &[(left, top), (left + width, top), (left + width, top + height), (left, top + height)],
        pen,
    ) else {
        unreachable!("a line is a path")
    };
    path.steps.push(Step::Close);
    path.fill = Some(WHITE);
    Mark::Path(path)
}

fn words(x: f64, y: f64, text: &str) -> Mark {
    Mark::Text(TextMark {
        at: at(x, y),
        text: text.into(),
        size: 3.61,
        weight: Weight::Regular,
        align: Align::Start,
        turn: 0.0,
        color: BLACK,
        width: None,
    })
}

fn group(id: &str, class: &str, marks: Vec<Mark>) -> Group {
    Group { id: id.into(), class: class.into(), marks, ..Group::default() }
}

fn tag(item: &str, x: f64, y: f64) -> Group {
    group(
        &format!("tag-{item}"),
        "tag",
        vec![rectangle(x, y, 12.0, 4.4, 0.25), words(x + 1.5, y + 3.4, item)],
    )
}

/// A sheet in order, 200 × 100 mm.
fn good() -> Sheet {
    let hatch = group(
        "",
        "hatch",
        (0..5)
            .map(|n| {
                line(
                    &[(150.0, 20.0 + 2.0 * f64::from(n)), (160.0, 20.0 + 2.0 * f64::from(n))],
                    0.18,
                )
            })
            .collect(),
    );
    let mut patch = group("S3", "patch", vec![rectangle(150.0, 18.0, 10.0, 14.0, 0.35)]);
    patch.marks.push(Mark::Group(hatch));
    let mut turned = words(80.0, 60.0, "24'-0\"");
    if let Mark::Text(text) = &mut turned {
        text.turn = 90.0;
    }
    Sheet {
        name: "good".into(),
        title: "S-101".into(),
        description: "Nothing wrong".into(),
        width: 200.0,
        height: 100.0,
        groups: vec![
            group("border", "frame", vec![rectangle(5.0, 5.0, 190.0, 90.0, 0.7)]),
            group(
                "edge",
                "outline",
                vec![line(&[(20.0, 15.0), (120.0, 15.0), (120.0, 80.0)], 0.7)],
            ),
            group("C1", "crack", vec![line(&[(30.0, 30.0), (40.0, 35.0), (50.0, 30.0)], 0.35)]),
            patch,
            group("dims", "dimension", vec![line(&[(82.0, 30.0), (82.0, 60.0)], 0.25), turned]),
            group("leader-C1", "leader", vec![line(&[(40.0, 35.0), (44.0, 45.0)], 0.25)]),
            group("leader-S3", "leader", vec![line(&[(150.0, 28.0), (146.0, 40.0)], 0.25)]),
            tag("C1", 40.0, 45.0),
            tag("S3", 135.0, 40.0),
            group("row-C1", "row", vec![words(165.0, 50.0, "C1 rout")]),
            group("row-S3", "row", vec![words(165.0, 56.0, "S3 fill")]),
            group("print", "margin", vec![words(10.0, 98.5, "PRINT AT 100 %")]),
        ],
    }
}

fn find<'a>(sheet: &'a mut Sheet, id: &str) -> &'a mut Group {
    sheet.groups.iter_mut().find(|g| g.id == id).expect("the good sheet has this group")
}

fn shift(group: &mut Group, dx: f64, dy: f64) {
    let moved = |p: PaperPoint| at(p.x + dx, p.y + dy);
    for mark in &mut group.marks {
        match mark {
            Mark::Path(path) => path.steps.iter_mut().for_each(|step| match step {
                Step::Move(p) | Step::Line(p) => *p = moved(*p),
                _ => {}
            }),
            Mark::Text(text) => text.at = moved(text.at),
            Mark::Image(image) => image.at = moved(image.at),
            Mark::Group(_) => {}
        }
    }
}

fn edit_text(group: &mut Group, edit: impl Fn(&mut TextMark)) {
    for mark in &mut group.marks {
        if let Mark::Text(text) = mark {
            edit(text);
        }
    }
}

#[test]
fn a_sheet_in_order_has_no_faults() {
    assert_eq!(audit(&crate::svg::write(&good())), []);
}

/// A fault planted in the good sheet.
type Plant = fn(&mut Sheet);

#[test]
fn each_planted_fault_is_found_and_nothing_else() {
    let rows: [(Code, &[&str], Plant); 26] = [
        (Code::TagOnTag, &["tag-C1", "tag-S3"], |s| shift(find(s, "tag-S3"), -85.0, 2.0)),
        (Code::TagOnText, &["tag-S3", "row-C1"], |s| shift(find(s, "tag-S3"), 28.0, 6.0)),
        (Code::TagOnLine, &["tag-C1", "C1"], |s| shift(find(s, "tag-C1"), -5.0, -13.0)),
        (Code::TagOnLine, &["tag-C1", "edge"], |s| shift(find(s, "tag-C1"), 79.0, 0.0)),
        (Code::LeaderThroughTag, &["leader-S3", "tag-C1"], |s| {
            find(s, "leader-S3").marks = vec![line(&[(150.0, 28.0), (45.0, 49.0)], 0.25)];
        }),
        (Code::LeaderCrossing, &["leader-C1", "leader-S3"], |s| {
            find(s, "leader-S3").marks.push(line(&[(39.0, 40.0), (46.0, 38.0)], 0.25));
        }),
        (Code::LeaderThroughText, &["leader-S3", "size"], |s| {
            s.groups.push(group("size", "label", vec![words(146.8, 36.0, "7")]));
        }),
        (Code::LongLeader, &["leader-C1"], |s| {
            shift(find(s, "tag-C1"), 0.0, 27.0);
            find(s, "leader-C1").marks = vec![line(&[(40.0, 35.0), (44.0, 72.0)], 0.25)];
        }),
        (Code::StrayLeader, &["leader-C1", "C9"], |s| {
            let other = line(&[(36.0, 38.0), (39.0, 38.0)], 0.35);
            s.groups.push(group("C9", "crack", vec![other]));
            find(s, "leader-C1").marks = vec![line(&[(39.0, 38.5), (44.0, 45.0)], 0.25)];
        }),
        (Code::LineThroughText, &["C9", "row-S3"], |s| {
            let through = line(&[(164.0, 54.8), (174.0, 54.8)], 0.35);
            s.groups.push(group("C9", "crack", vec![through]));
        }),
        (Code::DashAtNumber, &["C9", "size"], |s| {
            let dash = line(&[(96.5, 38.8), (99.0, 38.8)], 0.35);
            s.groups.push(group("C9", "crack", vec![dash]));
            s.groups.push(group("size", "label", vec![words(100.0, 40.0, "7")]));
        }),
        (Code::StrayText, &["text-S3", "S9"], |s| {
            let other = rectangle(100.0, 50.0, 6.0, 6.0, 0.35);
            s.groups.push(group("S9", "patch", vec![other]));
            s.groups.push(group("text-S3", "label", vec![words(98.0, 60.0, "7")]));
        }),
        (Code::SmallMark, &["S9"], |s| {
            let spot = rectangle(100.0, 50.0, 1.2, 1.0, 0.25);
            s.groups.push(group("S9", "spall", vec![spot]));
        }),
        (Code::TextOutsideTag, &["tag-C1"], |s| {
            edit_text(find(s, "tag-C1"), |t| t.text = "C1 LONG".into())
        }),
        (Code::TextOnText, &["row-C1", "row-S3"], |s| shift(find(s, "row-S3"), 2.0, -5.0)),
        (Code::SmallText, &["row-C1"], |s| edit_text(find(s, "row-C1"), |t| t.size = 3.58)),
        (Code::LostText, &[], |s| edit_text(find(s, "row-C1"), |t| t.size = 0.0)),
        (Code::ThinLine, &["C1"], |s| {
            find(s, "C1").marks = vec![line(&[(30.0, 30.0), (50.0, 30.0)], 0.17)]
        }),
        (Code::ThinLine, &["C1"], |s| {
            find(s, "C1").marks = vec![line(&[(30.0, 30.0), (50.0, 30.0)], f64::NAN)]
        }),
        (Code::OffSheet, &["row-S3"], |s| shift(find(s, "row-S3"), 30.0, 0.0)),
        (Code::OutsideBorder, &["row-S3"], |s| shift(find(s, "row-S3"), 23.0, 0.0)),
        (Code::DuplicateId, &["edge"], |s| {
            s.groups.push(group("edge", "", vec![words(20.0, 90.0, "NOTES")]))
        }),
        (Code::TagWithoutRow, &["tag-S3"], |s| find(s, "row-S3").id = "notes".into()),
        (Code::RowWithoutTag, &["row-J9"], |s| {
            s.groups.push(group("row-J9", "row", vec![words(165.0, 62.0, "J9 saw")]))
        }),
        (Code::MarkWithoutKey, &["mark-B-1"], |s| {
            let ring = rectangle(165.0, 70.0, 6.0, 6.0, 0.25);
            s.groups.push(group("mark-B-1", "mark", vec![ring]));
        }),
        (Code::KeyWithoutMark, &["key-B"], |s| {
            s.groups.push(group("key-B", "key", vec![words(165.0, 62.0, "B cracks")]))
        }),
    ];
    for (code, ids, plant) in rows {
        let mut sheet = good();
        plant(&mut sheet);
        let found: Vec<(Code, Vec<String>)> =
            audit(&crate::svg::write(&sheet)).into_iter().map(|f| (f.code, f.ids)).collect();
        let want = vec![(code, ids.iter().map(ToString::to_string).collect::<Vec<_>>())];
        assert_eq!(found, want, "{code}");
    }
}

/// Each kind of line that no tag may cover; joints and hatches may be.
#[test]
fn a_tag_on_a_line_is_found_for_every_kind_of_line() {
    let rows = [
        ("crack", true),
        ("outline", true),
        ("opening", true),
        ("column", true),
        ("patch", true),
        ("dimension", true),
        ("joint control", false),
        ("hatch", false),
    ];
    for (class, found) in rows {
        let mut sheet = good();
        let across = line(&[(41.0, 46.0), (51.0, 47.0)], 0.35);
        sheet.groups.insert(1, group("X1", class, vec![across]));
        let faults = audit(&crate::svg::write(&sheet));
        let codes: Vec<Code> = faults.iter().map(|f| f.code).collect();
        let wanted = if found { vec![Code::TagOnLine] } else { Vec::new() };
        assert_eq!(codes, wanted, "{class}");
    }
}

/// What strikes through a number, and what stands too near before or behind it.
#[test]
fn dashes_and_lines_at_a_number() {
    let seven = || words(100.0, 40.0, "7");
    let ground = || {
        let Mark::Path(mut path) = rectangle(99.6, 37.0, 2.8, 3.5, 0.25) else {
            unreachable!("a rectangle is a path")
        };
        path.stroke = None;
        Mark::Path(path)
    };
    let (minus, struck) = (Code::DashAtNumber, Code::LineThroughText);
    let rows: [(&str, Vec<Mark>, &[Code]); 10] = [
        ("a dash 1 mm before it", vec![line(&[(96.0, 38.8), (99.0, 38.8)], 0.25)], &[minus]),
        ("a dash 1 mm behind it", vec![line(&[(102.8, 38.8), (105.0, 38.8)], 0.25)], &[minus]),
        ("a dash more than 2 mm before it", vec![line(&[(94.0, 38.8), (97.9, 38.8)], 0.25)], &[]),
        ("a long line", vec![line(&[(84.0, 38.8), (99.0, 38.8)], 0.25)], &[]),
        (
            "what a ground leaves of a dash",
            vec![line(&[(97.0, 38.8), (105.0, 38.8)], 0.25), ground()],
            &[minus],
        ),
        ("an upright stroke", vec![line(&[(99.0, 36.8), (99.0, 40.8)], 0.25)], &[]),
        ("a dash under it", vec![line(&[(99.0, 41.0), (102.0, 41.0)], 0.25)], &[]),
        ("a line through it", vec![line(&[(90.0, 36.0), (112.0, 42.0)], 0.25)], &[struck]),
        (
            "a line under its ground",
            vec![line(&[(101.0, 30.0), (101.2, 50.0)], 0.25), ground()],
            &[],
        ),
        ("a frame", vec![rectangle(99.0, 36.5, 3.0, 4.5, 0.25)], &[]),
    ];
    for (name, mut marks, wanted) in rows {
        marks.push(seven());
        let mut sheet = good();
        sheet.groups.push(group("size", "label", marks));
        let faults = audit(&crate::svg::write(&sheet));
        let codes: Vec<Code> = faults.iter().map(|f| f.code).collect();
        assert_eq!(codes, wanted, "{name}: {faults:?}");
    }
}

/// The zone along an edge is seen beside the wall's line of 0.7 mm, or it isn't; where another wall ends the floor, it ends too.
#[test]
fn a_band_under_the_wall_is_found() {
    let rows: [(f64, Option<(f64, &str)>, &[Code]); 6] = [
        (1.0, None, &[Code::ThinBand]),
        (1.4, None, &[]),
        (5.0, None, &[]),
        (1.0, Some((1.0, "outline")), &[]),
        (1.0, Some((3.0, "outline")), &[Code::ThinBand]),
        // The frame of a window is no wall that a zone has to be seen beside.
        (5.0, Some((4.0, "frame outline")), &[]),
    ];
    for (across, other, wanted) in rows {
        let mut sheet = good();
        let band = rectangle(20.0, 15.0, 60.0, across, 0.25);
        let band = match band {
            Mark::Path(path) => {
                Mark::Path(PathMark { stroke: None, fill: Some(Color(0xE8, 0xE8, 0xE8)), ..path })
            }
            other => other,
        };
        let zone = group("hand-edge", "hand-edge", vec![band]);
        sheet.groups.insert(1, zone);
        if let Some((off, class)) = other {
            let wall = line(&[(20.0, 15.0 + off), (80.0, 15.0 + off)], 0.7);
            sheet.groups.insert(1, group("", class, vec![wall]));
        }
        let codes: Vec<Code> = audit(&crate::svg::write(&sheet)).iter().map(|f| f.code).collect();
        assert_eq!(codes, wanted, "{across} mm, another line at {other:?}");
    }
}

/// A long leader is a fault only where a tag had room nearer.
#[test]
fn a_long_leader_through_crowded_paper_is_none() {
    let mut sheet = good();
    shift(find(&mut sheet, "tag-C1"), 0.0, 27.0);
    find(&mut sheet, "leader-C1").marks = vec![line(&[(40.0, 35.0), (44.0, 72.0)], 0.25)];
    // Columns of a mat of cracks everywhere about the crack but along the leader.
    let rows = (0..14).map(|i| 16.0 + 4.0 * f64::from(i));
    let (left, right): (Vec<Mark>, Vec<Mark>) = rows
        .map(|y| {
            let beside = 40.0 + 4.0 * (y - 35.0) / 37.0;
            (
                line(&[(20.5, y), (beside - 1.0, y)], 0.25),
                line(&[(beside + 1.0, y), (78.0, y)], 0.25),
            )
        })
        .unzip();
    sheet.groups.push(group("C9", "crack", left.into_iter().chain(right).collect()));
    let faults = audit(&crate::svg::write(&sheet));
    assert!(!faults.iter().any(|f| f.code == Code::LongLeader), "{faults:?}");
}

/// Text along a slanting wall: what counts is the ink's own rectangle, not the upright box around it.
#[test]
fn slanting_text_is_measured_as_it_lies() {
    let slanting = |x: f64, y: f64, text: &str| {
        let mut mark = words(x, y, text);
        if let Mark::Text(text) = &mut mark {
            text.turn = 45.0;
        }
        mark
    };
    let long = "ARC 31'-5\", R 20'-0\"";
    let rows: [(&str, Vec<Mark>, &[Code]); 4] = [
        // Tag C1 is about 12 by 5 mm from (40, 45).
        ("a tag in the empty corner of its box", vec![slanting(46.0, 62.0, long)], &[]),
        (
            "a tag on it, and its leader",
            vec![slanting(40.0, 52.0, long)],
            &[Code::TagOnText, Code::LeaderThroughText],
        ),
        ("beside one another", vec![slanting(60.0, 40.0, long), slanting(67.0, 40.0, long)], &[]),
        (
            "on one another",
            vec![slanting(60.0, 40.0, long), slanting(61.0, 40.0, long)],
            &[Code::TextOnText],
        ),
    ];
    for (name, marks, wanted) in rows {
        let mut sheet = good();
        sheet.groups.push(group("arc", "", marks));
        let faults = audit(&crate::svg::write(&sheet));
        let codes: Vec<Code> = faults.iter().map(|f| f.code).collect();
        assert_eq!(codes, wanted, "{name}: {faults:?}");
    }
}

#[test]
fn what_was_looked_at_is_counted() {
    let good = crate::svg::write(&good());
    let set = audit_counted(&[("one", &good), ("two", &good), ("three", "<svg")]);
    assert_eq!((set.sheets, set.tags, set.faults.len()), (2, 4, 1));
}

#[test]
fn close_hatch_lines_are_found() {
    let mut sheet = good();
    let close = group(
        "",
        "hatch",
        vec![
            line(&[(152.0, 21.0), (158.0, 21.0)], 0.18),
            line(&[(154.0, 21.5), (160.0, 21.5)], 0.18),
        ],
    );
    find(&mut sheet, "S3").marks.push(Mark::Group(close));
    let faults = audit(&crate::svg::write(&sheet));
    assert_eq!(faults.len(), 1, "{faults:?}");
    assert_eq!(faults[0].code, Code::CloseHatch);
    assert_eq!(
        faults[0].message,
        "hatch lines of a group without id are 0.5 mm apart, less than 0.7 mm"
    );
}

#[test]
fn files_that_are_no_drawing_of_ours() {
    let good = crate::svg::write(&good());
    let rows = [
        ("not XML", "<svg".to_string(), Code::Unreadable),
        ("not SVG", "<html/>".to_string(), Code::Unreadable),
        ("a script", good.replace("</svg>", "<script>1</script></svg>"), Code::NotSelfContained),
        (
            "a handler",
            good.replace("<g class=\"crack\"", "<g onclick=\"x()\" class=\"crack\""),
            Code::NotSelfContained,
        ),
        (
            "a picture from elsewhere",
            good.replace("</svg>", "<image href=\"http://example.org/a.png\"/></svg>"),
            Code::NotSelfContained,
        ),
        (
            "a character that the font lacks",
            good.replace(">S3 fill<", ">S3 \u{5b57}<"),
            Code::LostText,
        ),
    ];
    for (name, svg, code) in rows {
        let codes: Vec<Code> = audit(&svg).into_iter().map(|f| f.code).collect();
        assert_eq!(codes, [code], "{name}");
    }
}

#[test]
fn a_set_shares_its_rows() {
    let mut plan = good();
    let rows: Vec<Group> =
        plan.groups.iter().filter(|g| g.id.starts_with("row-")).cloned().collect();
    plan.groups.retain(|g| !g.id.starts_with("row-"));
    let mut table = good();
    table.groups.truncate(1);
    table.groups.extend(rows);
    let (plan, table) = (crate::svg::write(&plan), crate::svg::write(&table));
    assert_eq!(audit_set(&[("plan", &plan), ("table", &table)]), []);
    let alone: Vec<String> =
        audit_set(&[("plan", &plan)]).iter().map(ToString::to_string).collect();
    assert_eq!(
        alone,
        [
            "plan: [tag-without-row] tag C1 has no row in the schedule",
            "plan: [tag-without-row] tag S3 has no row in the schedule"
        ]
    );
}

#[test]
fn marks_of_one_group_share_a_line_of_the_key_and_no_place() {
    let mark = |id: &str, x: f64| {
        let marks = vec![rectangle(x, 70.0, 6.0, 6.0, 0.25), words(x + 1.8, 74.2, "B")];
        group(id, "mark", marks)
    };
    let mut sheet = good();
    sheet.groups.push(mark("mark-B-1", 150.0));
    sheet.groups.push(mark("mark-B-2", 160.0));
    let key = vec![words(165.0, 62.0, "B cracks")];
    sheet.groups.push(group("key-B", "key", key));
    assert_eq!(audit(&crate::svg::write(&sheet)), []);
    shift(find(&mut sheet, "mark-B-2"), -7.0, 0.0);
    let codes: Vec<Code> = audit(&crate::svg::write(&sheet)).into_iter().map(|f| f.code).collect();
    assert!(codes.contains(&Code::TagOnTag), "{codes:?}");
}

#[test]
fn messages_carry_numbers() {
    let mut sheet = good();
    shift(find(&mut sheet, "tag-S3"), -85.0, 2.0);
    let faults = audit(&crate::svg::write(&sheet));
    assert_eq!(faults[0].message, "tags C1 and S3 overlap by 2.25 mm x 1.65 mm");
}

#[test]
fn no_tag_covers_a_cartridge_mark_or_a_pour_line() {
    for (class, found) in [
        ("crack", true),
        ("cartridge", true),
        ("pour", true),
        // A joint may lie under a tag where nothing else is free.
        ("joint", false),
    ] {
        let mut sheet = good();
        find(&mut sheet, "C1").class = class.into();
        shift(find(&mut sheet, "tag-C1"), -5.0, -13.0);
        let codes: Vec<Code> = audit(&crate::svg::write(&sheet)).iter().map(|f| f.code).collect();
        assert_eq!(codes.contains(&Code::TagOnLine), found, "{class}: {codes:?}");
    }
}
