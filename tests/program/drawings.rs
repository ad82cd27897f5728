//! Drawings from outside: `map`, `fieldsheet` and `audit`, and the drawings of a packet.

mod forms;

use std::fs;
use std::path::Path;

use crate::common::{folder, slabwalk};

const GOOD: &str = "slabwalk: 1
job: {name: Small garage, surveyed: 2026-09-14, surveyor: M. Example}
slab:
  post_tension: none
  outline: {start: [0, 0], walk: [E 20', N 20', W 20', S 20']}
joints: [{kind: control, x: 10, formed: sawn}]
cracks: [{path: [[2, 2], [4, 5]], width: 1/16}]
";

/// What a run gave: exit code, standard output, messages.
fn run(arguments: &[&str], at: &Path) -> (i32, Vec<u8>, String) {
    let output = slabwalk().current_dir(at).args(arguments).output().expect("the program runs");
    (
        output.status.code().expect("an exit code"),
        output.stdout,
        String::from_utf8(output.stderr).expect("text"),
    )
}

fn sketch(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("sketches");
    path.join(format!("{name}.yaml")).display().to_string()
}

/// Names in a folder.
fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("a folder").flatten();
    let mut names: Vec<String> =
        entries.map(|e| e.file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

fn has(bytes: &[u8], text: &str) -> bool {
    bytes.windows(text.len()).any(|w| w == text.as_bytes())
}

#[test]
fn exit_codes_of_the_drawing_commands() {
    let (dir, _) = folder(GOOD);
    fs::write(dir.path().join("bad.yaml"), GOOD.replace("kind: control", "kind: controll"))
        .unwrap();
    fs::create_dir(dir.path().join("taken.svg")).unwrap();
    fs::write(dir.path().join("note.svg"), "call first").unwrap();
    fs::create_dir(dir.path().join("empty")).unwrap();
    let boat = sketch("dock-road-boat-shop");
    let rows: &[(&[&str], i32, &str)] = &[
        (&["map", "floor.yaml", "--out", "m.pdf"], 0, ""),
        (&["map", "floor.yaml", "--for", "field", "--out", "f.pdf"], 0, ""),
        (&["map", "floor.yaml", "--for", "boss"], 2, "possible values"),
        (&["map", "floor.yaml", "--paper", "napkin"], 2, "letter, tabloid"),
        (&["map", "floor.yaml", "--scale", "1:37"], 2, "standard scale"),
        (&["map", "floor.yaml", "--out", "m.txt"], 2, "--format"),
        (&["map", "floor.yaml", "--dpi", "200", "--out", "m.pdf"], 2, "PNG"),
        (&["map", "floor.yaml", "--dpi", "5", "--out", "m.png"], 2, "10 to 2400"),
        (&["map", "floor.yaml", "--dpi", "NaN", "--out", "m.png"], 2, "10 to 2400"),
        (&["map", "floor.yaml", "--dpi", "2400", "--out", "m.png"], 2, "fewer dots"),
        (&["map", "floor.yaml", "--out", "taken.svg"], 3, "a folder of that name is in the way"),
        (&["map", "floor.yaml", "--out", "nowhere/m.svg"], 3, "can't be written"),
        (&["map", "missing.yaml", "--out", "m.svg"], 3, "can't be read"),
        (&["map", "bad.yaml", "--out", "m.svg"], 1, "controll"),
        (
            // The crew's map is divided over sheets; the customer's overview is not.
            &[
                "map", &boat, "--for", "customer", "--paper", "letter", "--scale", "1/4", "--out",
                "m.svg",
            ],
            1,
            "does not fit",
        ),
        (&["map", "floor.yaml", "--sheet", "0"], 2, "there is no sheet 0"),
        (&["map", "floor.yaml", "--for", "field", "--sheet", "99"], 2, "Field sheet 1 of"),
        (&["fieldsheet", "--out", "s.pdf"], 0, ""),
        (&["fieldsheet", "--area", "500 ft2", "--out", "s.svg"], 0, ""),
        (&["fieldsheet", "--area", "500 acres", "--out", "s.pdf"], 2, "no unit of an area"),
        (&["fieldsheet", "--size", "24'", "--out", "s.pdf"], 2, "24' x 22'"),
        (
            &["fieldsheet", "--size", "1 x 1", "--area", "5", "--out", "s.pdf"],
            2,
            "cannot be used with",
        ),
        (&["fieldsheet", "--size", "99999999 x 2", "--out", "s.pdf"], 2, "no floor is that large"),
        (
            &[
                "fieldsheet",
                "--paper",
                "letter",
                "--scale",
                "1/4",
                "--size",
                "90 x 90",
                "--out",
                "s.pdf",
            ],
            2,
            "does not fit",
        ),
        (&["fieldsheet", "--shop", "missing.yaml", "--out", "s.pdf"], 3, "can't be read"),
        (&["audit", "note.svg"], 3, "1 fault"),
        (&["audit", "missing.svg"], 3, "can't be read"),
        (&["audit", "empty"], 3, "no SVG file"),
        (&["audit"], 2, "required"),
    ];
    for (arguments, code, says) in rows {
        let (found, out, err) = run(arguments, dir.path());
        assert_eq!(found, *code, "{arguments:?}\n{err}");
        assert!(err.contains(says), "{arguments:?}\n{err}");
        assert!(
            *code == 0 || arguments[0] == "audit" || out.is_empty(),
            "{arguments:?} printed data"
        );
    }
    let left = names(dir.path());
    assert!(
        !left
            .iter()
            .any(|n| n.starts_with('.') || n.starts_with("m.svg") || n.starts_with("m.png")),
        "{left:?}"
    );
}

#[test]
fn one_sheet_goes_to_standard_output_and_several_do_not() {
    let (dir, _) = folder(GOOD);
    let first: &[&str] = &["map", "floor.yaml", "--sheet", "1"];
    let (code, svg, _) = run(first, dir.path());
    assert_eq!(code, 0);
    assert!(svg.starts_with(b"<svg ") && has(&svg, "Small garage"));
    assert_eq!(run(&["map", "floor.yaml", "--out", "m.svg"], dir.path()).0, 0);
    assert_eq!(fs::read(dir.path().join("m.svg")).unwrap(), svg);
    let (code, pdf, _) = run(
        &["map", "floor.yaml", "--sheet", "2", "--format", "pdf", "--for", "field"],
        dir.path(),
    );
    assert!(code == 0 && has(&pdf, "/Count 1"), "one page");
    let boat = sketch("dock-road-boat-shop");
    let (code, out, err) = run(&["map", &boat], dir.path());
    assert_eq!(code, 2, "{err}");
    assert!(
        out.is_empty() && err.contains("standard output holds one") && err.contains("--format pdf"),
        "{err}"
    );
    let (code, pdf, _) = run(&["map", &boat, "--format", "pdf"], dir.path());
    assert!(code == 0 && pdf.starts_with(b"%PDF-"));
    assert_eq!(
        pdf,
        run(&["map", &boat, "--format", "pdf"], dir.path()).1,
        "the same bytes each time"
    );
    let (code, _, err) = run(&["map", &boat, "--out", "boat.svg"], dir.path());
    assert_eq!(code, 0, "{err}");
    let written = names(dir.path());
    assert!(
        written.contains(&"boat.svg".into()) && written.contains(&"boat-2.svg".into()),
        "{written:?}"
    );
}

#[test]
fn a_file_is_replaced_in_one_step_and_a_link_is_left_alone() {
    let (dir, _) = folder(GOOD);
    fs::write(dir.path().join("m.svg"), "old").unwrap();
    assert_eq!(run(&["map", "floor.yaml", "--out", "m.svg"], dir.path()).0, 0);
    assert!(fs::read(dir.path().join("m.svg")).unwrap().starts_with(b"<svg"));
    #[cfg(unix)]
    {
        fs::write(dir.path().join("mine.txt"), "mine").unwrap();
        std::os::unix::fs::symlink("mine.txt", dir.path().join("link.svg")).unwrap();
        let (code, _, err) = run(&["map", "floor.yaml", "--out", "link.svg"], dir.path());
        assert!(code == 3 && err.contains("it is a link"), "{err}");
        assert_eq!(fs::read_to_string(dir.path().join("mine.txt")).unwrap(), "mine");
        let (code, _, err) =
            run(&["map", "floor.yaml", "--out", "/dev/full", "--format", "svg"], dir.path());
        assert!(code == 3 && err.contains("no ordinary file"), "{err}");
    }
}

#[test]
fn paper_and_scale_are_as_asked() {
    let (dir, _) = folder(GOOD);
    let rows: &[(&str, &str, &str, &str)] = &[
        ("tabloid", "1/4\" = 1'-0\"", "width=\"431.8mm\"", "SCALE 1/4"),
        ("tabloid", "1/4", "height=\"279.4mm\"", "SCALE 1/4"),
        ("ansi-d", "1/8", "width=\"863.6mm\"", "SCALE 1/8"),
        ("a3", "1\" = 10'", "width=\"420mm\"", "SCALE 1&quot; = 10"),
    ];
    for (paper, scale, size, said) in rows {
        for reader in ["crew", "field"] {
            let (code, _, err) = run(
                &[
                    "map",
                    "floor.yaml",
                    "--for",
                    reader,
                    "--paper",
                    paper,
                    "--scale",
                    scale,
                    "--out",
                    "m.svg",
                ],
                dir.path(),
            );
            assert_eq!(code, 0, "{paper} {scale} {err}");
            let svg = fs::read_to_string(dir.path().join("m.svg")).unwrap();
            assert!(svg.contains(size), "{paper}");
            assert!(
                svg.replace('"', "&quot;").contains(&said.replace('"', "&quot;")),
                "{scale} {reader}"
            );
        }
    }
    let (_, _, _) = run(
        &["map", "floor.yaml", "--for", "field", "--paper", "a4-portrait", "--out", "p.svg"],
        dir.path(),
    );
    assert!(fs::read_to_string(dir.path().join("p.svg")).unwrap().contains("width=\"210mm\""));
}

#[test]
fn a_png_has_the_pixels_asked_for() {
    let (dir, _) = folder(GOOD);
    assert_eq!(
        run(
            &["map", "floor.yaml", "--paper", "tabloid", "--dpi", "40", "--out", "m.png"],
            dir.path()
        )
        .0,
        0
    );
    let file = fs::File::open(dir.path().join("m.png")).unwrap();
    let reader = png::Decoder::new(std::io::BufReader::new(file)).read_info().unwrap();
    assert_eq!((reader.info().width, reader.info().height), (680, 440));
}
