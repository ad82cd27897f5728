//! The proposal and the photographs from outside: files, folders, messages, exit codes.

use std::fs;
use std::path::Path;

use super::common::slabwalk;

const FLOOR: &str = "slabwalk: 1\njob: {name: Room, client: A. Sample, site: 1 Example Street, surveyed: 2026-09-14}\nslab: {thickness: 4\", post_tension: none, outline: [[0, 0], [20', 0], [20', 16'], [0, 16']]}\njoints: [{id: J1, kind: control, x: 10', width: 1/4, depth: 1}]\ncoating: {system: flake}\n";

fn run(arguments: &[&str], at: &Path) -> (i32, Vec<u8>, String) {
    let run = slabwalk().args(arguments).current_dir(at).output().expect("the program runs");
    let err = String::from_utf8_lossy(&run.stderr).into_owned();
    (run.status.code().expect("an exit code"), run.stdout, err)
}

/// A sketch with one photograph of J1, and a folder for it.
fn with_photo(named: &str) -> tempfile::TempDir {
    let dir = tempfile::tempdir().expect("a folder for the test");
    let sketch = format!(
        "{FLOOR}photos:\n  - {{item: J1, file: \"{named}\", note: seen, proposal: true}}\n"
    );
    fs::create_dir_all(dir.path().join("job/photos")).expect("a folder");
    fs::write(dir.path().join("job/floor.yaml"), sketch).expect("the sketch is written");
    dir
}

fn demo_photo() -> Vec<u8> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("sketches/photos/step-at-six-feet.jpg");
    fs::read(path).expect("a demonstration photograph")
}

#[test]
fn a_photograph_comes_into_the_packet_and_the_proposal() {
    let dir = with_photo("photos/a.jpg");
    fs::write(dir.path().join("job/photos/a.jpg"), demo_photo()).unwrap();
    let (code, _, err) = run(&["packet", "job/floor.yaml"], dir.path());
    assert_eq!(code, 0, "{err}");
    assert!(!err.contains("photo-"), "{err}");
    let packet = dir.path().join("out/floor");
    let sheet = fs::read_to_string(packet.join("photos.svg")).unwrap();
    assert_eq!(sheet.matches("<image").count(), 1);
    assert!(sheet.contains(">J1<") && sheet.contains("seen"));
    let pdf = fs::read(packet.join("photos.pdf")).unwrap();
    assert!(pdf.windows(9).any(|w| w == b"DCTDecode"));
    let html = fs::read_to_string(packet.join("proposal.html")).unwrap();
    // The camera lay on its side; the picture stands upright.
    assert!(html.contains("width=\"480\" height=\"640\""));
    let pdf = fs::read(packet.join("proposal.pdf")).unwrap();
    assert!(pdf.starts_with(b"%PDF-"));
    assert!(pdf.windows(9).any(|w| w == b"DCTDecode"));
}

/// Width and height of a drawing, as its SVG says them.
fn paper(file: &Path) -> (String, String) {
    let svg = fs::read_to_string(file).expect("a drawing");
    let value = |name: &str| {
        let rest = svg.split_once(&format!("{name}=\"")).expect(name).1;
        rest.split('"').next().unwrap_or_default().to_owned()
    };
    (value("width"), value("height"))
}

#[test]
fn the_drawings_of_a_packet_are_on_one_paper() {
    let dir = with_photo("photos/a.jpg");
    fs::write(dir.path().join("job/photos/a.jpg"), demo_photo()).unwrap();
    for (asked, want) in [
        (&[][..], ("279.4mm", "215.9mm")),
        (&["--paper", "a3"], ("420mm", "297mm")),
        (&["--paper", "tabloid-portrait"], ("279.4mm", "431.8mm")),
    ] {
        let arguments = [&["packet", "job/floor.yaml", "--out", "o"], asked].concat();
        let (code, _, said) = run(&arguments, dir.path());
        assert_eq!(code, 0, "{asked:?}: {said}");
        let packet = dir.path().join("o/floor");
        for name in ["crew-map.svg", "photos.svg"] {
            let (width, height) = paper(&packet.join(name));
            assert_eq!((&*width, &*height), want, "{asked:?}: {name}");
        }
    }
}

#[test]
fn a_photograph_that_is_not_marked_stays_out_of_the_proposal() {
    let dir = with_photo("photos/a.jpg");
    fs::write(dir.path().join("job/photos/a.jpg"), demo_photo()).unwrap();
    let path = dir.path().join("job/floor.yaml");
    let sketch = fs::read_to_string(&path).unwrap().replace(", proposal: true", "");
    fs::write(&path, sketch).unwrap();
    let (code, html, _) = run(&["proposal", "job/floor.yaml", "--format", "html"], dir.path());
    let html = String::from_utf8(html).unwrap();
    assert_eq!(code, 0);
    assert!(!html.contains("<img") && !html.contains("Photographs"));
}

#[test]
fn what_is_wrong_with_a_photograph_is_a_finding_at_its_line_and_the_packet_is_written() {
    let rows: [(&str, &str, Option<&[u8]>); 7] = [
        ("photos/none.jpg", "photo-missing", None),
        ("photos", "photo-missing", None),
        ("photos/broken.jpg", "photo-broken", Some(b"\xFF\xD8\xFF\xE0 no more")),
        ("photos/text.jpg", "photo-broken", Some(b"a text")),
        ("../secret.jpg", "photo-outside", None),
        ("photos/../../secret.jpg", "photo-outside", None),
        ("/etc/hostname", "photo-outside", None),
    ];
    for (named, code, content) in rows {
        let dir = with_photo(named);
        fs::write(dir.path().join("secret.jpg"), demo_photo()).unwrap();
        if let Some(content) = content {
            fs::write(dir.path().join("job").join(named), content).unwrap();
        }
        let (exit, _, err) = run(&["check", "job/floor.yaml"], dir.path());
        assert_eq!(exit, 0, "{named}: {err}");
        assert!(err.contains(&format!("warning[{code}]")), "{named}: {err}");
        assert!(err.contains("floor.yaml:7:"), "{named}: {err}");
        let (exit, _, err) = run(&["packet", "job/floor.yaml"], dir.path());
        assert_eq!(exit, 0, "{named}: {err}");
        assert!(err.contains(&format!("warning[{code}]")), "{named}: {err}");
        let sheet = fs::read_to_string(dir.path().join("out/floor/photos.svg")).unwrap();
        assert!(sheet.contains("PHOTO CAN'T BE SHOWN") && !sheet.contains("<image"), "{named}");
    }
}

#[cfg(unix)]
#[test]
fn a_link_out_of_the_folder_is_not_followed() {
    let dir = with_photo("photos/link.jpg");
    fs::write(dir.path().join("secret.jpg"), demo_photo()).unwrap();
    std::os::unix::fs::symlink("../../secret.jpg", dir.path().join("job/photos/link.jpg")).unwrap();
    let (_, _, err) = run(&["check", "job/floor.yaml"], dir.path());
    assert!(err.contains("photo-outside"), "{err}");
    // A link that stays in the folder is an ordinary way to keep photographs once.
    let dir = with_photo("photos/link.jpg");
    fs::write(dir.path().join("job/real.jpg"), demo_photo()).unwrap();
    std::os::unix::fs::symlink("../real.jpg", dir.path().join("job/photos/link.jpg")).unwrap();
    let (_, _, err) = run(&["check", "job/floor.yaml"], dir.path());
    assert!(!err.contains("photo-"), "{err}");
}

#[test]
fn a_proposal_goes_to_a_file_or_to_standard_output_in_the_form_asked_for() {
    let dir = tempfile::tempdir().unwrap();
    fs::write(dir.path().join("floor.yaml"), FLOOR).unwrap();
    let (code, pdf, _) = run(&["proposal", "floor.yaml"], dir.path());
    assert!(code == 0 && pdf.starts_with(b"%PDF-"));
    let (code, out, _) = run(&["proposal", "floor.yaml", "--out", "p.html"], dir.path());
    assert_eq!((code, out), (0, b"p.html\n".to_vec()));
    let html = fs::read(dir.path().join("p.html")).unwrap();
    assert!(html.starts_with(b"<!DOCTYPE html>"));
    let (_, again, _) = run(&["proposal", "floor.yaml", "--format", "html"], dir.path());
    assert_eq!(html, again, "the same bytes each time");
    let wrong = ["proposal", "floor.yaml", "--format", "pdf", "--out", "p.html"];
    assert_eq!(run(&wrong, dir.path()).0, 2);
    let nowhere = ["proposal", "floor.yaml", "--out", "no/such/p.pdf"];
    assert_eq!(run(&nowhere, dir.path()).0, 3);
}

#[test]
fn without_a_price_there_is_no_proposal_and_the_packet_says_so() {
    let dir = tempfile::tempdir().unwrap();
    let book = "slabwalk_shop: 1\nsystems: {own: {layers: [{name: paint, coverage: 200 ft2/gal, loss: 5%, kit: 1 gal}]}}\n";
    fs::write(dir.path().join("shop.yaml"), book).unwrap();
    let sketch = FLOOR.replace("system: flake", "system: own") + "shop: shop.yaml\n";
    fs::write(dir.path().join("floor.yaml"), sketch).unwrap();
    let (code, out, err) = run(&["proposal", "floor.yaml", "--out", "p.pdf"], dir.path());
    assert_eq!((code, out.len()), (1, 0), "{err}");
    assert!(err.contains("there is no proposal without a price"), "{err}");
    assert!(!dir.path().join("p.pdf").exists());
    let (code, _, err) = run(&["packet", "floor.yaml"], dir.path());
    assert_eq!(code, 0, "{err}");
    assert!(err.contains("not made: ") && err.contains("proposal.pdf"), "{err}");
    assert!(!dir.path().join("out/floor/proposal.pdf").exists());
    assert!(dir.path().join("out/floor/crew-map.svg").exists());
}

#[test]
fn a_placeholder_that_is_none_is_an_error_at_its_line() {
    let dir = tempfile::tempdir().unwrap();
    let book = "slabwalk_shop: 1\nproposal:\n  company: Sample\n  payment: \"Half of {pirce} at the start.\"\n";
    fs::write(dir.path().join("shop.yaml"), book).unwrap();
    fs::write(dir.path().join("floor.yaml"), FLOOR.to_owned() + "shop: shop.yaml\n").unwrap();
    let (code, out, err) = run(&["proposal", "floor.yaml"], dir.path());
    assert_eq!((code, out.len()), (1, 0));
    assert!(err.contains("error[unknown-placeholder]"), "{err}");
    assert!(err.contains("shop.yaml:4:") && err.contains("did you mean `{price}`?"), "{err}");
}
