//! Files that somebody could hand to the audit: each ends soon, with one fault, and without a crash.

use super::{Code, audit};

const HEAD: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"100mm\" height=\"50mm\" viewBox=\"0 0 100 50\">";

fn sheet(inside: &str) -> String {
    format!("{HEAD}{inside}</svg>")
}

/// Entities that each stand for ten of the one before.
fn entities() -> String {
    let define = |i: usize| format!("<!ENTITY e{i} \"{}\">", format!("&e{};", i - 1).repeat(10));
    let all: String = (1..10).map(define).collect();
    format!("<!DOCTYPE svg [<!ENTITY e0 \"<g/>\">{all}]>{}", sheet("&e9;"))
}

/// Copies that each hold ten of the one before.
fn copies() -> String {
    let group = |i: usize| {
        let used = format!("<use href=\"#g{}\"/>", i - 1).repeat(10);
        format!("<g id=\"g{i}\">{used}</g>")
    };
    let all: String = (1..12).map(group).collect();
    sheet(&format!("<g id=\"g0\"><path d=\"M0 0 L9 9\" stroke=\"#000\"/></g>{all}"))
}

#[test]
fn hostile_files_end_soon_and_say_why() {
    let deep = |n: usize| sheet(&format!("{}{}", "<g>".repeat(n), "</g>".repeat(n)));
    let tag =
        |i: usize| format!("<g id=\"tag-C{i}\"><path d=\"M1 1 L9 1 L9 5 Z\" stroke=\"#000\"/></g>");
    let rows: Vec<(&str, String, &str)> = vec![
        ("nothing", String::new(), ""),
        ("no XML", "\u{0}\u{1}PNG".into(), ""),
        ("a page of HTML", "<!DOCTYPE html><html><body/></html>".into(), ""),
        ("half a file", format!("{HEAD}<g><path d=\"M0 0"), ""),
        ("entities that multiply", entities(), "DTD"),
        ("copies that multiply", copies(), "<use>"),
        ("deep nesting", deep(100_000), "nests deeper than 64"),
        ("deep nesting left open", "<g>".repeat(300_000), "nests deeper than 64"),
        ("an SVG in an SVG", sheet(HEAD) + "</svg>", ""),
        ("a nested SVG", sheet(&sheet("<g/>")), "<svg>"),
        ("a filter", sheet("<filter id=\"f\"/>"), "<filter>"),
        ("a pattern", sheet("<defs><pattern id=\"p\"/></defs>"), "<pattern>"),
        ("an animation", sheet("<animate/>"), "<animate>"),
        ("too large", sheet(&" ".repeat(33 << 20)), "larger than 32 MiB"),
        ("too many elements", sheet(&"<g/>".repeat(400_001)), "nodes limit"),
        ("too many tags", sheet(&(0..4001).map(tag).collect::<String>()), "4001 tags"),
    ];
    for (name, svg, why) in rows {
        let faults = audit(&svg);
        assert_eq!(faults.len(), 1, "{name}: {:?}", &faults[..faults.len().min(4)]);
        assert_eq!(faults[0].code, Code::Unreadable, "{name}");
        assert!(faults[0].message.contains(why), "{name}: {}", faults[0].message);
    }
}

#[test]
fn numbers_that_are_none_crash_nothing() {
    for d in ["M1e999 0 L0 1e999", "MNaN NaN", "M0 0 L", "M0 0 C1 1 1 1", "M1e38 1e38 L-1e38 -1e38"]
    {
        let path = format!(
            "<g id=\"tag-C1\" class=\"crack hatch\"><path d=\"{d}\" stroke=\"#000\" stroke-width=\"0.3\"/></g>"
        );
        let transforms =
            ["scale(0)", "scale(1e30)", "matrix(0 0 0 0 0 0)", "rotate(1e308)", "skewX(90)"];
        for transform in transforms {
            let _ = audit(&sheet(&format!(
                "<g transform=\"{transform}\">{path}<text x=\"1e30\" font-size=\"1e30\">x</text></g>"
            )));
        }
    }
    for size in ["0", "-1", "1e30", "NaN"] {
        let _ = audit(
            &HEAD
                .replace("100mm", &format!("{size}mm"))
                .replace("0 0 100 50", &format!("0 0 {size} {size}"))
                .replace('>', "/>"),
        );
    }
}

/// A sheet full of overlapping words would give a fault for every two of them.
#[test]
fn faults_are_counted_up_to_a_thousand() {
    let words = "<text x=\"5\" y=\"20\" font-size=\"4\">OVER</text>".repeat(200);
    let found = audit(&sheet(&words));
    assert!(!found.is_empty() && found.len() <= 1001, "{}", found.len());
}

#[test]
fn what_refers_outside_is_found() {
    let text = "<text x=\"5\" y=\"20\" font-size=\"4\">NOTES</text>";
    let rows = [
        ("a style from elsewhere", sheet("<style>@import 'http://example.org/a.css';</style>"), 1),
        (
            "a font from elsewhere",
            sheet("<style>@font-face{src:url(\"http://example.org/a.ttf\")}</style>"),
            1,
        ),
        (
            "a fill from elsewhere",
            sheet("<path d=\"M0 0 L9 9 L0 9 Z\" fill=\"url(http://example.org/#p)\"/>"),
            1,
        ),
        ("a style sheet", format!("<?xml-stylesheet href=\"a.css\"?>{}", sheet(text)), 1),
        ("a link", sheet(&format!("<a href=\"http://example.org\">{text}</a>")), 1),
        (
            "a font within",
            sheet("<style>@font-face{src:url(data:font/ttf;base64,AAAA)}</style>"),
            0,
        ),
        ("words about it", sheet(text), 0),
    ];
    for (name, svg, wanted) in rows {
        let found: Vec<Code> = audit(&svg).into_iter().map(|f| f.code).collect();
        assert_eq!(found, vec![Code::NotSelfContained; wanted], "{name}");
    }
}
