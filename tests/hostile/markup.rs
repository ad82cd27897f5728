//! Texts that mean something to what reads the files: none of them gets there as more than text.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use usvg::roxmltree::Document;

use super::common::{Said, folder, moves, names, run};
use super::sample::{all_texts, schema, shop, sketch, used_texts};

/// A field's text that is markup in every language that a packet is written in.
fn markup(field: &str) -> String {
    format!(
        "{field} </text></title></style></svg><script>alert(1)</script>\"'onload='x' &amp;&#60; ]]><!-- ) /JS (x) {{{{x}}}} \\"
    )
}

/// A field's text that is a formula, obeyed by a terminal, turned round, and several lines.
fn control(field: &str) -> String {
    format!(
        "=cmd|'/C x'!A0 {field} \u{1b}[2J\u{9b}2J\u{202e}\u{7}\u{2028}\u{0}\nEND:VCALENDAR\r\nBEGIN:VEVENT, ; \\n"
    )
}

/// As long as a text may be that is a key too: YAML ends a key on its line at 1024 characters.
fn long(field: &str) -> String {
    format!("{field} {} {}", "w".repeat(300), "lorem ".repeat(20).trim_end())
}

fn harmless(field: &str) -> String {
    field.to_owned()
}

/// A value as JSON, which is YAML too, in ASCII: YAML takes control characters only where they are escaped.
fn escaped(value: &serde_json::Value) -> String {
    let escape = |c: char| match c {
        ' '..='~' => c.to_string(),
        c => format!("\\u{:04x}", u32::from(c)),
    };
    value.to_string().chars().map(escape).collect()
}

/// A packet made of texts, and what was said.
fn packet(word: fn(&str) -> String) -> (tempfile::TempDir, Said) {
    let folder = folder();
    let write =
        |name: &str, text: String| fs::write(folder.path().join(name), text).expect("a file");
    write("floor.yaml", escaped(&sketch(&word)));
    write("shop.yaml", escaped(&shop(&word)));
    let photo = Path::new(env!("CARGO_MANIFEST_DIR")).join("sketches/photos/step-at-six-feet.jpg");
    fs::copy(photo, folder.path().join("a.jpg")).expect("a photograph");
    let said = run(folder.path(), &["packet", "floor.yaml"]);
    said.is(0, &[]);
    (folder, said)
}

#[test]
fn the_sample_uses_every_text_of_both_schemas() {
    for (name, value) in [("sketch", sketch(&harmless)), ("shop", shop(&harmless))] {
        let schema = schema(name);
        let (mut all, mut used) = (BTreeSet::new(), BTreeSet::new());
        all_texts(&schema, "", &mut all);
        used_texts(&schema, &schema, "", &value, &mut used);
        let missing: Vec<_> = all.difference(&used).collect();
        assert!(missing.is_empty(), "{name}: {missing:?}");
        assert!(used.len() > 5);
    }
}

/// Element and attribute names of a document, each kind of element once.
fn shapes(folder: &Path, ending: &str) -> BTreeSet<String> {
    let mut out = BTreeSet::new();
    for name in files(folder, ending) {
        let text = fs::read_to_string(folder.join(&name)).expect("text");
        let found = match ending {
            "svg" => xml_shapes(&text),
            _ => html_shapes(&text),
        };
        out.extend(found);
    }
    out
}

fn files(folder: &Path, ending: &str) -> Vec<String> {
    let all = names(folder).into_iter();
    let found: Vec<String> = all.filter(|n| n.ends_with(&format!(".{ending}"))).collect();
    assert!(!found.is_empty(), "no {ending}");
    found
}

fn xml_shapes(text: &str) -> Vec<String> {
    let document = Document::parse(text).expect("the SVG is XML");
    let shape = |node: usvg::roxmltree::Node| {
        let mut names: Vec<&str> = node.attributes().map(|a| a.name()).collect();
        names.sort_unstable();
        format!("{} {}", node.tag_name().name(), names.join(" "))
    };
    let comments = document.descendants().filter(|n| n.is_comment() || n.is_pi()).count();
    assert_eq!(comments, 0);
    document.descendants().filter(|n| n.is_element()).map(shape).collect()
}

/// Elements that HTML doesn't close.
const VOID: [&str; 5] = ["meta", "br", "img", "hr", "!DOCTYPE"];
/// Elements inside which HTML reads no markup.
const RAW: &str = "style";

fn html_shapes(text: &str) -> Vec<String> {
    let (mut out, mut open, mut rest) = (Vec::new(), Vec::new(), text);
    while let Some(start) = rest.find('<') {
        rest = &rest[start + 1..];
        let end = tag_end(rest);
        let tag = &rest[..end];
        rest = &rest[end + 1..];
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop(), Some(name.to_owned()), "closed out of order");
            continue;
        }
        let shape = tag_shape(tag);
        let name = shape.split(' ').next().unwrap_or_default().to_owned();
        if name == RAW {
            let raw = rest.find("</style>").expect("an end of the style");
            assert!(!rest[..raw].contains('<'), "markup in the style");
            rest = &rest[raw..];
        }
        if !VOID.contains(&name.as_str()) && !tag.ends_with('/') {
            open.push(name);
        }
        out.push(shape);
    }
    assert_eq!(open, [""; 0], "left open");
    out
}

/// Where a tag ends, outside of its quotes.
fn tag_end(rest: &str) -> usize {
    let mut quote = None;
    for (i, c) in rest.char_indices() {
        match (quote, c) {
            (None, '>') => return i,
            (None, '"' | '\'') => quote = Some(c),
            (Some(open), c) if c == open => quote = None,
            _ => {}
        }
    }
    panic!("a tag without end: {}", &rest[..rest.len().min(80)]);
}

/// A tag's name and the names of its attributes, their values left out.
fn tag_shape(tag: &str) -> String {
    let (mut out, mut quote) = (String::new(), None);
    for c in tag.chars() {
        match (quote, c) {
            (None, '"' | '\'') => quote = Some(c),
            (Some(open), c) if c == open => quote = None,
            (None, '=' | '/') => {}
            (None, c) => out.push(c),
            (Some(_), _) => {}
        }
    }
    out.trim().to_owned()
}

fn holds(word: fn(&str) -> String, plain: &Path) {
    let (folder, said) = packet(word);
    let packet = folder.path().join("out/floor");
    // Further sheets may be needed for longer texts; their names are the program's, after what stands on them first.
    let own = |name: &String| {
        name.trim_end_matches(|c: char| c != '.')
            .replace(|c: char| c == '-' || c.is_ascii_digit(), "")
            .replace("crewfilling", "crewmap")
            .replace("crewpouring", "crewmap")
    };
    let (found, wanted): (BTreeSet<String>, BTreeSet<String>) =
        (names(&packet).iter().map(own).collect(), names(plain).iter().map(own).collect());
    assert_eq!(found, wanted);
    assert_eq!(names(folder.path()).iter().filter(|n| !n.starts_with("out")).count(), 3);
    for ending in ["svg", "html"] {
        let (found, wanted) = (shapes(&packet, ending), shapes(plain, ending));
        let strange: Vec<_> = found.difference(&wanted).collect();
        assert!(strange.is_empty(), "{ending}: {strange:?}");
        for name in files(&packet, ending) {
            let text = fs::read_to_string(packet.join(name)).expect("text");
            assert!(!text.contains("<script") && !text.contains("]]>"));
        }
    }
    tables(&packet);
    calendar(&packet, plain);
    pdfs(&packet);
    assert!(!said.messages.contains('\u{1b}'));
    for command in [
        &["check"][..],
        &["takeoff"],
        &["takeoff", "--explain", "all"],
        &["order"],
        &["days"],
        &["price"],
        &["closeout"],
    ] {
        let mut arguments = command.to_vec();
        arguments.insert(1, "floor.yaml");
        let said = run(folder.path(), &arguments);
        assert!(said.code <= 1, "{command:?}: {}", said.messages);
        let bad = said.text().chars().find(|c| moves(*c) && *c != '\n');
        assert_eq!(bad, None, "{command:?}");
    }
    let shop = run(folder.path(), &["shop", "shop.yaml"]);
    shop.is(0, &[]);
}

/// Tables: no control character, no formula, as many cells in every row.
fn tables(packet: &Path) {
    for ending in ["txt", "csv"] {
        for name in files(packet, ending) {
            let text = fs::read_to_string(packet.join(&name)).expect("text");
            let bad = text.chars().find(|c| moves(*c) && *c != '\n');
            assert_eq!(bad, None, "{name}");
        }
    }
    for name in files(packet, "csv") {
        let mut reader = csv::ReaderBuilder::new().from_path(packet.join(&name)).expect("a table");
        for record in reader.records() {
            for cell in record.expect("as many cells as the head").iter() {
                let formula = cell.starts_with(['=', '+', '@', '-', '\t', '\r']);
                assert!(!formula || cell.parse::<f64>().is_ok(), "{name}: {cell}");
            }
        }
    }
    for name in files(packet, "json") {
        let text = fs::read(packet.join(&name)).expect("bytes");
        let read: Result<serde_json::Value, _> = serde_json::from_slice(&text);
        assert!(read.is_ok(), "{name}");
    }
}

/// The calendar has the same properties in the same order, whatever is in them.
fn calendar(packet: &Path, plain: &Path) {
    let properties = |folder: &Path| -> Vec<String> {
        let text = fs::read_to_string(folder.join("days.ics")).expect("a calendar");
        let bad = text.chars().find(|c| moves(*c) && !matches!(c, '\r' | '\n'));
        assert_eq!(bad, None);
        // RFC 5545, section 3.1: lines should have at most 75 octets. The library counts them without the blank that starts
        // the last piece of a folded line.
        assert!(text.lines().all(|line| line.len() <= 76), "lines are folded");
        let unfolded = text.replace("\r\n ", "").replace("\r\n\t", "");
        let name = |line: &str| line.split([':', ';']).next().unwrap_or_default().to_owned();
        unfolded.lines().map(name).collect()
    };
    assert_eq!(properties(packet), properties(plain));
}

/// A PDF without its metadata, and the metadata, which is XML.
fn without_metadata(bytes: &[u8]) -> (Vec<u8>, String) {
    let find = |word: &[u8]| bytes.windows(word.len()).position(|w| w == word);
    let start = find(b"<x:xmpmeta").expect("metadata");
    let end = find(b"</x:xmpmeta>").expect("its end") + b"</x:xmpmeta>".len();
    let metadata = String::from_utf8(bytes[start..end].to_vec()).expect("text");
    ([&bytes[..start], &bytes[end..]].concat(), metadata)
}

/// Nothing in a PDF runs, opens or links.
fn pdfs(packet: &Path) {
    for name in files(packet, "pdf") {
        let bytes = fs::read(packet.join(&name)).expect("bytes");
        for word in
            ["/JavaScript", "/OpenAction", "/AA", "/Launch", "/URI", "/EmbeddedFile", "/SubmitForm"]
        {
            let found = bytes.windows(word.len()).any(|w| w == word.as_bytes());
            assert!(!found, "{name}: {word}");
        }
        // `/JS` is in the texts; where it is not escaped, it would follow a closed string.
        let (outside, metadata) = without_metadata(&bytes);
        assert!(Document::parse(&metadata).is_ok(), "{name}: {metadata}");
        let open = b") /JS";
        let found = outside.windows(open.len() + 1).any(|w| w.ends_with(open) && w[0] != b'\\');
        assert!(!found, "{name}: a string was closed");
        let Ok(said) = std::process::Command::new("pdfinfo").arg(packet.join(&name)).output()
        else {
            continue;
        };
        let said = String::from_utf8_lossy(&said.stdout).into_owned();
        assert!(
            said.contains("JavaScript:      no") && said.contains("Form:            none"),
            "{name}: {said}"
        );
    }
}

#[test]
fn texts_stay_texts_in_every_file() {
    let (plain, _) = packet(harmless);
    let plain = plain.path().join("out/floor");
    // At once, because each makes a packet of many sheets.
    std::thread::scope(|scope| {
        for word in [markup, control, long] {
            let plain = &plain;
            scope.spawn(move || holds(word, plain));
        }
    });
}
