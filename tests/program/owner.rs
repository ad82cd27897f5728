//! The papers of a floor's owner, read back from the finished files: his names and no others, the shop at their head, nothing of the printer's,
//! and as few pages as hold them.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::Command;

use super::common::slabwalk;

/// A floor with every kind of record, under ids that could not be mistaken for a word.
const EVERY_KIND: &str = "slabwalk: 1
job: {name: Hall, client: A. Sample, site: 1 Example Street, surveyed: 2026-09-14}
slab:
  thickness: 4\"
  post_tension: unknown
  embedded: [{what: heating tubes, cover: 1 in}]
  outline: [[0, 0], [40', 0], [40', 30'], [0, 30']]
  keep_outs: [{id: KX1, what: post, box: {corner: [20', 15'], size: [1', 1']}}]
joints:
  - {id: JX1, kind: control, x: 10', width: 1/4, depth: 1}
  - {id: JX2, kind: isolation, y: 10', width: 1/2, depth: 4, treatment: fill}
  - {id: JX3, kind: isolation, x: 30', width: 1/2, depth: 4, buried: true}
  - {id: JX4, kind: control, y: 20', width: 1/4, depth: 1, treatment: leave}
cracks:
  - {id: CX1, path: [[2', 2'], [8', 5']], width: 3/8, movement: dormant}
  - {id: CX2, path: [[12', 12'], [18', 14']], width: 1/16}
  - {id: CX3, path: [[22', 22'], [28', 24']], width: 1/8, movement: active}
spalls:
  - {id: SX1, circle: {center: [5', 15'], diameter: 5\"}, depth: 3/4}
  - {id: SX2, circle: {center: [15', 25'], diameter: 4\"}, depth: 1/8}
blemishes:
  - {id: BX1, what: oil, box: {corner: [12', 2'], size: [2', 2']}}
  - {id: BX2, what: paint, box: {corner: [2', 22'], size: [3', 3']}}
  - {id: BX3, what: adhesive, box: {corner: [32', 2'], size: [3', 3']}, tested: asbestos, tested_on: 2026-09-12}
lippage:
  - {id: LX1, along: [[20', 2'], [20', 8']], high: W, step: 3/4}
  - {id: LX2, along: [[5', 25'], [9', 25']], high: N, step: 1/16}
tests:
  moisture: [{id: MX1, at: [6', 6'], rh: 92%}, {id: MX2, at: [26', 6'], rh: 60%}]
coating:
  system: flake
  pour_from: W
  uncoated: [{id: UX1, what: under the stair, box: {corner: [36', 26'], size: [4', 4']}}]
";

/// Ids of the records of a sketch, as they are written in it.
fn ids(text: &str) -> BTreeSet<String> {
    let parts = text.split("id: ").skip(1);
    let id = |part: &str| part.split([',', '}', '\n', ' ']).next().unwrap_or_default().to_owned();
    // Pour lines, patches and panels are numbered by the program.
    let own = ["P1", "P2", "R1", "R2", "G1", "V1"].map(String::from);
    parts.map(id).chain(own).filter(|id| id.chars().any(|c| c.is_ascii_digit())).collect()
}

fn words(text: &str) -> BTreeSet<String> {
    let word = |c: char| !(c.is_alphanumeric() || c == '-' || c == '_');
    text.split(word).map(|w| w.trim_matches('-').to_owned()).collect()
}

/// The text of SVG or HTML, with its attributes, which a reader sees as titles; without fonts and pictures.
fn shown(text: &str) -> String {
    let without = |text: &str, from: &str, to: &[char]| {
        let mut out = String::new();
        let mut parts = text.split(from);
        out += parts.next().unwrap_or_default();
        for part in parts {
            out.push(' ');
            out += part.split_once(to).map_or("", |(_, rest)| rest);
        }
        out
    };
    let text = without(text, "base64,", &[')', '"']);
    let text = without(&text, " d=\"", &['"']);
    // The body of a page; a drawing has none.
    text.split("<body").last().unwrap_or_default().to_owned()
}

fn pdf(path: &Path) -> Option<(String, usize)> {
    let out = Command::new("pdftotext").arg("-layout").arg(path).arg("-").output().ok()?;
    let text = String::from_utf8_lossy(&out.stdout).into_owned();
    let pages = text.matches('\u{c}').count();
    out.status.success().then_some((text, pages))
}

/// The owner's papers of a sketch: their names and what they say, and how many pages the PDFs have.
fn papers(sketch: &Path, at: &Path) -> (Vec<(String, String)>, [Option<usize>; 2]) {
    let run = |arguments: &[&str]| {
        let run = slabwalk()
            .args(arguments)
            .arg(sketch)
            .current_dir(at)
            .output()
            .expect("the program runs");
        assert_eq!(
            run.status.code(),
            Some(0),
            "{arguments:?}: {}",
            String::from_utf8_lossy(&run.stderr)
        );
    };
    run(&["proposal", "--out", "p.html"]);
    run(&["proposal", "--out", "p.pdf"]);
    run(&["map", "--for", "customer", "--out", "d.svg"]);
    run(&["map", "--for", "customer", "--out", "d.pdf"]);
    let mut out = Vec::new();
    for entry in fs::read_dir(at).expect("a folder").flatten() {
        let name = entry.file_name().to_string_lossy().into_owned();
        if name.starts_with('d') && name.ends_with(".svg") || name == "p.html" {
            out.push((name, shown(&fs::read_to_string(entry.path()).expect("read"))));
        }
    }
    let pdfs = ["p.pdf", "d.pdf"].map(|name| (name, pdf(&at.join(name))));
    let pages = [0, 1].map(|i| pdfs[i].1.as_ref().map(|(_, pages)| *pages));
    out.extend(pdfs.into_iter().filter_map(|(name, read)| Some((name.to_owned(), read?.0))));
    (out, pages)
}

#[test]
fn the_owners_papers_have_the_names_of_his_drawing_and_nothing_of_the_printers() {
    let sketches = Path::new(env!("CARGO_MANIFEST_DIR")).join("sketches");
    let dir = tempfile::tempdir().expect("a folder for the test");
    let own = dir.path().join("every-kind.yaml");
    fs::write(&own, EVERY_KIND).expect("written");
    let mut all = vec![(own, [9, 3])];
    // A garage has at most four pages to sign and one page of drawing.
    for (name, most) in [
        ("harrow-lane-garage", [4, 1]),
        ("mill-street-kitchen", [6, 2]),
        ("dock-road-boat-shop", [6, 3]),
    ] {
        all.push((sketches.join(format!("{name}.yaml")), most));
    }
    for (sketch, most) in all {
        let text = fs::read_to_string(&sketch).expect("the sketch");
        let ids = ids(&text);
        assert!(ids.len() > 10, "{ids:?}");
        let folder = tempfile::tempdir().expect("a folder for the papers");
        let (papers, pages) = papers(&sketch, folder.path());
        for (name, said) in &papers {
            let words = words(said);
            let leaked: Vec<&String> = ids.iter().filter(|id| words.contains(*id)).collect();
            assert_eq!(leaked, [""; 0], "{}: {name}", sketch.display());
            for printed in ["digest", "Drawn from", "PRINT AT", "first issue", "—"] {
                assert!(!said.contains(printed), "{}: {name}: {printed}", sketch.display());
            }
        }
        for (pages, most) in pages.into_iter().zip(most) {
            assert!(pages.is_none_or(|pages| pages <= most), "{}: {pages:?}", sketch.display());
        }
    }
}

const FLOOR: &str = "slabwalk: 1
shop: books/book.yaml
job: {name: Room, client: A. Sample, site: 1 Example Street, surveyed: 2026-09-14}
slab: {thickness: 4\", post_tension: none, outline: [[0, 0], [20', 0], [20', 16'], [0, 16']]}
coating: {system: flake}
";

const SIGN: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 30 10\"><rect width=\"30\" height=\"10\" fill=\"#036\"/></svg>";

/// A floor whose shop book names this logo.
fn with_logo(named: &str, content: Option<&[u8]>) -> tempfile::TempDir {
    let dir = tempfile::tempdir().expect("a folder for the test");
    fs::create_dir(dir.path().join("books")).expect("a folder");
    let book = format!(
        "slabwalk_shop: 1\nproposal:\n  company: Sample Floors\n  logo: \"{named}\"\n  address: 1 Example Street\n  phone: 555-0100\n  license: \"000000\"\n"
    );
    fs::write(dir.path().join("books/book.yaml"), book).expect("written");
    fs::write(dir.path().join("floor.yaml"), FLOOR).expect("written");
    fs::write(dir.path().join("secret.svg"), SIGN).expect("written");
    if let Some(content) = content {
        fs::write(dir.path().join("books").join(named), content).expect("written");
    }
    dir
}

#[test]
fn the_shop_heads_the_proposal_and_the_drawing() {
    let dir = with_logo("sign.svg", Some(SIGN.as_bytes()));
    let (papers, _) = papers(Path::new("floor.yaml"), dir.path());
    for (name, said) in &papers {
        for part in ["Sample Floors", "1 Example Street", "555-0100", "license 000000"] {
            assert!(said.contains(part), "{name}: {part}");
        }
    }
    for name in ["p.html", "d.svg"] {
        let file = fs::read_to_string(dir.path().join(name)).expect("read");
        assert!(file.contains("data:image/jpeg;base64,"), "{name}");
    }
    for name in ["p.pdf", "d.pdf"] {
        let file = fs::read(dir.path().join(name)).expect("read");
        assert!(file.windows(9).any(|w| w == b"DCTDecode"), "{name}");
    }
}

#[test]
fn a_logo_that_cannot_be_shown_is_one_message_at_its_line_and_the_papers_are_whole() {
    let large = vec![b' '; (4 << 20) + 1];
    let rows: [(&str, &str, Option<&[u8]>); 7] = [
        ("none.svg", "logo-missing", None),
        ("../secret.svg", "logo-outside", None),
        ("/etc/hostname", "logo-outside", None),
        ("sign.gif", "logo-type", Some(b"GIF89a")),
        ("half.png", "logo-broken", Some(b"\x89PNG\r\n\x1a\n no more")),
        ("large.svg", "logo-too-large", Some(&large)),
        ("use.svg", "logo-broken", Some(b"<svg xmlns=\"http://www.w3.org/2000/svg\"><use href=\"http://example.com/a.svg#b\"/></svg>")),
    ];
    for (named, code, content) in rows {
        let dir = with_logo(named, content);
        for arguments in [
            &["check", "floor.yaml"][..],
            &["packet", "floor.yaml"],
            &["map", "floor.yaml", "--for", "customer", "--out", "d.svg"],
        ] {
            let run = slabwalk()
                .args(arguments)
                .current_dir(dir.path())
                .output()
                .expect("the program runs");
            let said = String::from_utf8_lossy(&run.stderr).into_owned();
            assert_eq!(run.status.code(), Some(0), "{named}: {said}");
            assert_eq!(said.matches("logo-").count(), 1, "{named}: {said}");
            assert!(said.contains(&format!("warning[{code}]")), "{named}: {said}");
            assert!(said.contains("book.yaml:4:"), "{named}: {said}");
        }
        let html = fs::read_to_string(dir.path().join("out/floor/proposal.html")).expect("read");
        assert!(html.contains("Sample Floors") && !html.contains("<img"), "{named}");
    }
}

/// Letters that the font lacks, written from right to left or not, are named in one message; the papers hold a box for each, and the HTML the letters.
#[test]
fn letters_that_the_font_lacks_are_named_once() {
    let dir = with_logo("sign.svg", Some(SIGN.as_bytes()));
    let name = "\u{5e9}\u{5dc}\u{5d5}\u{5dd}";
    fs::write(dir.path().join("floor.yaml"), FLOOR.replace("A. Sample", name)).expect("written");
    let run = slabwalk()
        .args(["packet", "floor.yaml"])
        .current_dir(dir.path())
        .output()
        .expect("the program runs");
    let said = String::from_utf8_lossy(&run.stderr).into_owned();
    assert_eq!(run.status.code(), Some(0), "{said}");
    assert!(said.contains(&format!("lacks {name};")), "{said}");
    let html = fs::read_to_string(dir.path().join("out/floor/proposal.html")).expect("read");
    assert!(html.contains(name));
}
