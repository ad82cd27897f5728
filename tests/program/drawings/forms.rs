//! The form to take along, the audit, the PDFs of a packet, and what is said about finished sheets.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use super::{GOOD, has, run};
use crate::common::folder;

/// Text of a PDF, where the machine can read one.
fn text_of(pdf: &Path) -> Option<String> {
    let output = Command::new("pdftotext").arg("-layout").arg(pdf).arg("-").output().ok()?;
    output.status.success().then(|| String::from_utf8_lossy(&output.stdout).into_owned())
}

/// A page of the form as SVG.
fn field_sheet(more: &[&str], at: &Path) -> (Vec<String>, String) {
    let mut arguments = vec!["fieldsheet", "--out", "s.svg"];
    arguments.extend(more);
    let (code, out, err) = run(&arguments, at);
    assert_eq!(code, 0, "{err}");
    let list = String::from_utf8(out).expect("names");
    let files: Vec<String> = list.trim().split(", ").map(str::to_owned).collect();
    let text = files.iter().map(|f| fs::read_to_string(at.join(f)).expect("a sheet")).collect();
    (files, text)
}

#[test]
fn the_form_is_sound_true_to_scale_and_asks_what_must_be_asked() {
    let (dir, _) = folder(GOOD);
    let (files, us) = field_sheet(&["--size", "24' x 22'"], dir.path());
    let mut audit = vec!["audit"];
    audit.extend(files.iter().map(String::as_str));
    let (code, out, err) = run(&audit, dir.path());
    assert_eq!(code, 0, "{}{err}", String::from_utf8_lossy(&out));
    assert!(
        us.contains("One square is 1 ft, a heavy line every 5 ft")
            && us.contains("MOISTURE: 3 TESTS WANTED")
    );
    for asked in [
        "Post-tension",
        "means stop",
        "Heating",
        "buried",
        "Asbestos and lead",
        "Power",
        "Water",
        "Access",
    ] {
        assert!(us.contains(asked), "{asked}");
    }
    let (_, metric) = field_sheet(
        &["--units", "metric", "--scale", "1:50", "--area", "400 m2", "--paper", "ansi-d"],
        dir.path(),
    );
    assert!(
        metric.contains("One square is 0.5 m, a heavy line every 1 m")
            && metric.contains("SCALE 1:50")
    );
    assert!(metric.contains("MOISTURE: 7 TESTS WANTED"), "4,306 ft²: 3 and 4 more");
    fs::write(dir.path().join("ours.yaml"), "slabwalk_shop: 1\nmoisture: {rh_limit: 85%}\n")
        .unwrap();
    let (_, ours) = field_sheet(&["--shop", "ours.yaml"], dir.path());
    assert!(ours.contains("85% RH"));
}

#[test]
fn an_audit_names_the_sheet_and_the_fault() {
    let (dir, _) = folder(GOOD);
    assert_eq!(run(&["packet", "floor.yaml"], dir.path()).0, 0);
    let (code, out, err) = run(&["audit", "out/floor"], dir.path());
    let out = String::from_utf8(out).expect("names");
    assert!(code == 0 && out.starts_with("sound: ") && out.contains(" sheet"), "{out}{err}");
    // The rows stand on the sheet behind the map.
    let path = dir.path().join("out/floor/crew-map-2.svg");
    let svg = fs::read_to_string(&path).unwrap();
    assert!(svg.contains("id=\"row-C1\""), "the crack has its row");
    fs::write(&path, svg.replace("id=\"row-C1\"", "id=\"notes-C1\"")).unwrap();
    let (code, out, err) = run(&["audit", "out/floor"], dir.path());
    let out = String::from_utf8(out).expect("names");
    assert_eq!(code, 1, "{out}{err}");
    assert!(out.contains("crew-map.svg: [tag-without-row] tag C1"), "{out}");
    assert_eq!(out.lines().count(), 1, "{out}");
    assert!(err.contains("1 fault"), "{err}");
}

/// The PDFs of a packet: pages of true size, the font inside, no clock, text that can be searched.
#[test]
fn the_packets_pdfs_print_at_true_size_and_can_be_searched() {
    let (dir, _) = folder(GOOD);
    let (code, _, err) = run(&["packet", "floor.yaml"], dir.path());
    assert_eq!(code, 0, "{err}");
    assert!(!err.contains("drawing-fault"), "{err}");
    let packet: PathBuf = dir.path().join("out/floor");
    let crew = fs::read(packet.join("crew-map.pdf")).unwrap();
    let field = fs::read(packet.join("field-sheet.pdf")).unwrap();
    assert!(has(&crew, "/MediaBox[0 0 792 612]"), "11 x 8 1/2 in");
    assert!(has(&field, "/MediaBox[0 0 612 792]"), "8 1/2 x 11 in");
    for pdf in [&crew, &field] {
        assert!(
            has(pdf, "+SlabwalkSans-Regular") && has(pdf, "/ToUnicode"),
            "the font is inside, with its characters"
        );
        assert!(!has(pdf, "/Subtype/Image"), "lines are lines");
        assert!(has(pdf, "D:20260914"), "the day of the survey, not of the clock");
    }
    if let Some(text) = text_of(&packet.join("crew-map.pdf")) {
        assert!(
            text.contains("Small garage") && text.contains("J1") && text.contains("C1"),
            "{text}"
        );
        let form = text_of(&packet.join("field-sheet.pdf")).unwrap_or_default();
        assert!(
            form.contains("ASK AND LOOK BEFORE ANYTHING IS CUT") && form.contains("J2"),
            "{form}"
        );
    }
    assert_eq!(run(&["fieldsheet", "--out", "blank.pdf"], dir.path()).0, 0);
    let blank = fs::read(dir.path().join("blank.pdf")).unwrap();
    assert!(!has(&blank, "CreationDate") && !has(&blank, "D:20"), "a blank form has no day");
    if let Ok(info) = Command::new("pdfinfo").arg(packet.join("crew-map.pdf")).output() {
        let info = String::from_utf8_lossy(&info.stdout).into_owned();
        assert!(info.contains("792 x 612 pts") && info.contains("Small garage"), "{info}");
    }
}

/// `map` looks its sheets over as `packet` does; what it finds is said beside the drawing and does not stop it.
#[test]
fn a_map_says_what_of_the_name_it_cuts_and_what_it_cannot_show() {
    let name = "Warehouse behind the old mill with two docks ".repeat(4);
    let (dir, path) = folder(&GOOD.replace("Small garage", &format!("{name} \u{5d0}\u{5d1}")));
    let file = path.display().to_string();
    for reader in ["crew", "customer"] {
        let (code, out, err) = run(&["map", &file, "--for", reader, "--sheet", "1"], dir.path());
        assert!(code == 0 && has(&out, "<svg"), "{reader}: {code} {err}");
        // The head of the customer drawing grows with the name; a title block doesn't.
        assert_eq!(err.contains("note[name-cut]"), reader == "crew", "{reader}: {err}");
        assert!(!err.contains("drawing-fault"), "{reader}: {err}");
    }
    let (code, _, err) = run(&["check", &file], dir.path());
    assert_eq!(code, 0);
    assert!(err.contains("note[characters]"), "{err}");
}
