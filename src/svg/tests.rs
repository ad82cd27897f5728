use super::*;
use crate::ink::{BLACK, PaperPoint, Stroke};

fn sheet(marks: Vec<Mark>) -> Sheet {
    let group = Group {
        id: "J1".into(),
        class: "joint control".into(),
        title: "Joint J1".into(),
        marks,
        ..Group::default()
    };
    Sheet {
        name: "crew-map".into(),
        title: "S-101 Crew map".into(),
        description: "Scale 1/8 in".into(),
        width: 431.8,
        height: 279.4,
        groups: vec![group],
    }
}

fn line_of_text(text: &str) -> TextMark {
    TextMark {
        at: PaperPoint { x: 10.0, y: 20.0 },
        text: text.into(),
        size: 3.608,
        weight: Weight::Regular,
        align: Align::Start,
        turn: 0.0,
        color: BLACK,
        width: None,
    }
}

#[test]
fn a_small_sheet_in_full() {
    let steps = vec![
        Step::Move(PaperPoint { x: 1.0, y: 2.0 }),
        Step::Line(PaperPoint { x: 3.5, y: -0.0 }),
        Step::Cubic(
            PaperPoint { x: 1.0, y: 1.0 },
            PaperPoint { x: 2.0, y: 2.0 },
            PaperPoint { x: 1.0 / 3.0, y: 3.0 },
        ),
        Step::Close,
    ];
    let path = PathMark {
        steps,
        stroke: Some(Stroke { width: 0.25, color: BLACK, round: true }),
        fill: Some(Color(0, 114, 178)),
    };
    let text = TextMark {
        turn: 90.0,
        align: Align::Middle,
        weight: Weight::Semibold,
        width: Some(12.0),
        ..line_of_text("C-12")
    };
    let want = r##"<svg aria-labelledby="t d" fill="none" font-family="&apos;Slabwalk Sans&apos;, &apos;Source Sans 3&apos;, sans-serif" height="279.4mm" lang="en" role="img" viewBox="0 0 431.8 279.4" width="431.8mm" xmlns="http://www.w3.org/2000/svg">
<title id="t">S-101 Crew map</title>
<desc id="d">Scale 1/8 in</desc>
<path d="M0 0 L431.8 0 L431.8 279.4 L0 279.4 Z" fill="#ffffff"/>
<g class="joint control" id="J1">
<title>Joint J1</title>
<path d="M1 2 L3.5 0 C1 1 2 2 0.333 3 Z" fill="#0072b2" stroke="#000000" stroke-linecap="round" stroke-linejoin="round" stroke-width="0.25"/>
<text fill="#000000" font-size="3.608" font-weight="600" text-anchor="middle" textLength="12" transform="rotate(-90 10 20)" x="10" y="20">C-12</text>
</g>
</svg>
"##;
    assert_eq!(write_with(&sheet(vec![Mark::Path(path), Mark::Text(text)]), false), want);
}

#[test]
fn hostile_text_stays_text() {
    let mut hostile = sheet(vec![Mark::Text(line_of_text(
        "<script>alert(1)</script> & \"x\" \u{0}\u{202e}--> ]]>",
    ))]);
    hostile.title = "a <b> \u{8}& c".into();
    hostile.groups[0].id = "J 1\"><x".into();
    hostile.groups[0].class = "a\u{1}\"b".into();
    let out = write(&hostile);
    let document = usvg::roxmltree::Document::parse(&out).unwrap();
    let text = document.descendants().find(|n| n.has_tag_name("text")).and_then(|n| n.text());
    assert_eq!(text, Some("<script>alert(1)</script> & \"x\" --> ]]>"));
    assert!(document.descendants().all(|n| !n.has_tag_name("script")));
    let group = document.descendants().find(|n| n.has_tag_name("g")).unwrap();
    assert_eq!(group.attribute("id"), Some("J_1___x"));
}

#[test]
fn numbers_that_are_none_do_not_break_the_file() {
    let steps = vec![
        Step::Move(PaperPoint { x: f64::NAN, y: 1e300 }),
        Step::Line(PaperPoint { x: f64::INFINITY, y: -0.0 }),
    ];
    let path = PathMark {
        steps,
        stroke: Some(Stroke { width: f64::NAN, color: BLACK, round: false }),
        fill: None,
    };
    let out = write(&sheet(vec![Mark::Path(path)]));
    assert!(!out.contains("NaN") && !out.contains("inf"));
    assert!(usvg::Tree::from_str(&out, &font::reading_options()).is_ok());
}

#[test]
fn the_font_is_inside_once_for_each_style_used() {
    let plain = write(&sheet(vec![Mark::Text(line_of_text("C-1"))]));
    assert_eq!(plain.matches("@font-face").count(), 1);
    let none = write(&sheet(Vec::new()));
    assert_eq!(none.matches("@font-face").count(), 0);
    assert!(plain.len() < 26_000, "{}", plain.len());
    // The name of the SVG namespace is the only address in the file.
    assert_eq!(plain.matches("http").count(), 1);
}

#[test]
fn what_is_drawn_is_as_wide_as_what_is_measured() {
    for (text, weight) in [
        ("12'-6 1⁄2\" TYP", Weight::Semibold),
        ("AVATAR To", Weight::Regular),
        ("Łódź Ж Δ", Weight::Regular),
    ] {
        let mark = TextMark { weight, ..line_of_text(text) };
        let out = write(&sheet(vec![Mark::Text(mark.clone())]));
        let tree = usvg::Tree::from_str(&out, &font::reading_options()).unwrap();
        let drawn =
            f64::from(find_text(tree.root()).unwrap().abs_bounding_box().width()) * 25.4 / 96.0;
        let measured = font::text_width(text, mark.size, weight);
        assert!((drawn - measured).abs() < 0.01, "{text}: {drawn} {measured}");
    }
}

fn find_text(group: &usvg::Group) -> Option<&usvg::Text> {
    group.children().iter().find_map(|node| match node {
        usvg::Node::Text(text) => Some(text.as_ref()),
        usvg::Node::Group(inner) => find_text(inner),
        _ => None,
    })
}
