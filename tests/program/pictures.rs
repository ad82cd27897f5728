//! Drawings as pictures: what is rendered is what was rendered when somebody last looked at it.
//!
//! The expected pictures are `tests/pictures/NAME.png`, gray, 40 dots an inch. Where one differs, the expected, the actual and the
//! difference are written to the build folder, and the message says where. `UPDATE_DRAWINGS=1` writes all expected pictures anew;
//! look at them before they are committed. The golden SVGs are the committed packets in `out/`, which a fresh machine makes again.

use std::fs;
use std::path::{Path, PathBuf};

use crate::common::slabwalk;

/// Dots an inch: an eye sees that something moved, and a set of sheets is small.
const DPI: &str = "40";
/// A pixel differs if its gray does by more than this of 255: edges may be rounded otherwise on another machine.
const LEVELS: i32 = 40;
/// Rows at the foot that are not compared: the line below the border names the sketch's digest and the program's version, and changes
/// with every word of a sketch.
const FOOT: usize = 19;
/// Share of the pixels that may differ.
const SHARE: f64 = 0.000_2;

/// A drawing whose sheets are compared: its name, the arguments that draw it, and how many of its sheets, from the first; a set of all
/// would be large, and the rest are tables.
const DRAWINGS: [(&str, &[&str], usize); 14] = [
    ("garage-crew", &["map", "sketches/harrow-lane-garage.yaml"], 4),
    ("kitchen-crew", &["map", "sketches/mill-street-kitchen.yaml"], 4),
    ("boat-shop-crew", &["map", "sketches/dock-road-boat-shop.yaml"], 4),
    ("garage-customer", &["map", "sketches/harrow-lane-garage.yaml", "--for", "customer"], 2),
    ("kitchen-customer", &["map", "sketches/mill-street-kitchen.yaml", "--for", "customer"], 2),
    ("boat-shop-customer", &["map", "sketches/dock-road-boat-shop.yaml", "--for", "customer"], 2),
    ("garage-field", &["map", "sketches/harrow-lane-garage.yaml", "--for", "field"], 5),
    ("kitchen-field", &["map", "sketches/mill-street-kitchen.yaml", "--for", "field"], 1),
    ("boat-shop-field", &["map", "sketches/dock-road-boat-shop.yaml", "--for", "field"], 1),
    ("blank-us", &["fieldsheet", "--size", "24' x 22'"], 5),
    ("blank-metric", &["fieldsheet", "--units", "metric", "--area", "60 m2"], 2),
    ("blank-tabloid", &["fieldsheet", "--paper", "tabloid", "--area", "4000 ft2"], 2),
    ("blank-a4-level", &["fieldsheet", "--units", "metric", "--paper", "a4"], 2),
    ("blank-large", &["fieldsheet", "--paper", "ansi-d", "--scale", "1/4"], 1),
];

/// A gray picture.
#[derive(Clone, PartialEq)]
struct Gray {
    width: u32,
    height: u32,
    levels: Vec<u8>,
}

impl Gray {
    /// Reads a PNG, gray or in color.
    fn read(path: &Path) -> Self {
        let file = fs::File::open(path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
        let mut reader =
            png::Decoder::new(std::io::BufReader::new(file)).read_info().expect("a PNG");
        let mut bytes = vec![0; reader.output_buffer_size().expect("a size")];
        let info = reader.next_frame(&mut bytes).expect("a picture");
        let samples = info.color_type.samples();
        let gray = |p: &[u8]| (p.iter().map(|&v| u32::from(v)).sum::<u32>() / p.len() as u32) as u8;
        Self {
            width: info.width,
            height: info.height,
            levels: bytes[..info.buffer_size()].chunks(samples).map(gray).collect(),
        }
    }

    fn write(&self, path: &Path) {
        let file = fs::File::create(path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
        let mut encoder = png::Encoder::new(file, self.width, self.height);
        encoder.set_color(png::ColorType::Grayscale);
        encoder.set_compression(png::Compression::High);
        let mut writer = encoder.write_header().expect("a head");
        writer.write_image_data(&self.levels).expect("a picture");
    }

    /// White where two pictures of one size agree, darker the more they differ.
    fn difference(&self, other: &Self) -> Self {
        let off = |(a, b): (&u8, &u8)| 255 - a.abs_diff(*b);
        Self { levels: self.levels.iter().zip(&other.levels).map(off).collect(), ..self.clone() }
    }
}

/// What is wrong between two pictures; `None` if they agree within the tolerance.
fn compare(expected: &Gray, actual: &Gray) -> Option<String> {
    if (expected.width, expected.height) != (actual.width, actual.height) {
        return Some(format!(
            "{} x {} pixels, not {} x {}",
            actual.width, actual.height, expected.width, expected.height
        ));
    }
    let differs = |(a, b): (&u8, &u8)| (i32::from(*a) - i32::from(*b)).abs() > LEVELS;
    let compared = expected.levels.len().saturating_sub(FOOT * expected.width as usize);
    let pairs = expected.levels.iter().zip(&actual.levels).take(compared);
    let count = pairs.filter(|&p| differs(p)).count();
    let allowed = expected.levels.len() as f64 * SHARE;
    (count as f64 > allowed).then(|| format!("{count} pixels differ, {allowed:.0} may"))
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Draws the sheets of a drawing into a folder and gives their files in order.
fn drawn(name: &str, arguments: &[&str], most: usize, into: &Path) -> Vec<PathBuf> {
    let first = into.join(format!("{name}.png"));
    let mut command = slabwalk();
    command.current_dir(root()).args(arguments).args(["--dpi", DPI]);
    command.arg("--out").arg(&first);
    let output = command.output().expect("the program runs");
    assert!(output.status.success(), "{name}: {}", String::from_utf8_lossy(&output.stderr));
    let list = String::from_utf8(output.stdout).expect("names");
    list.trim().split(", ").take(most).map(PathBuf::from).collect()
}

/// The committed pictures of a drawing: its first sheet and its further ones.
fn committed(name: &str, folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let own = |file: &String| {
        let rest = file.strip_suffix(".png").and_then(|f| f.strip_prefix(name));
        rest.is_some_and(|r| {
            r.is_empty() || r.strip_prefix('-').is_some_and(|n| n.parse::<u32>().is_ok())
        })
    };
    let mut names: Vec<String> =
        entries.map(|e| e.file_name().to_string_lossy().into_owned()).filter(own).collect();
    names.sort();
    names
}

/// Compares one drawing, sheet by sheet; what is wrong is said, and the pictures are put where somebody can look at them.
///
/// A drawing of which no sheet is committed is not compared: it is added with `UPDATE_DRAWINGS=1`.
fn check(name: &str, arguments: &[&str], most: usize, folder: &Path) -> Vec<String> {
    let expected = committed(name, folder);
    let update = std::env::var_os("UPDATE_DRAWINGS").is_some();
    if expected.is_empty() && !update {
        return Vec::new();
    }
    let into = tempfile::tempdir().expect("a folder");
    let files = drawn(name, arguments, most, into.path());
    let made: Vec<String> = files
        .iter()
        .map(|f| f.file_name().unwrap_or_default().to_string_lossy().into_owned())
        .collect();
    let mut wrong = Vec::new();
    for gone in expected.iter().filter(|e| !made.contains(e)) {
        wrong.push(format!("{gone}: the drawing has no such sheet any more"));
        if update {
            fs::remove_file(folder.join(gone)).expect("it can be removed");
        }
    }
    for (file, own) in files.iter().zip(&made) {
        let actual = Gray::read(file);
        let fault = if expected.contains(own) {
            compare(&Gray::read(&folder.join(own)), &actual)
        } else {
            Some("there is no expected picture of this sheet".to_owned())
        };
        if let Some(fault) = fault {
            let shown = show(own, &folder.join(own), &actual);
            wrong.push(format!("{own}: {fault}; see {}", shown.display()));
            if update {
                actual.write(&folder.join(own));
            }
        }
    }
    wrong
}

/// Puts the expected, the actual and the difference of a sheet into the build folder.
fn show(name: &str, expected: &Path, actual: &Gray) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("pictures");
    fs::create_dir_all(&folder).expect("a folder in the build folder");
    let stem = name.trim_end_matches(".png");
    actual.write(&folder.join(format!("{stem}-actual.png")));
    if expected.exists() {
        let expected = Gray::read(expected);
        expected.write(&folder.join(format!("{stem}-expected.png")));
        if (expected.width, expected.height) == (actual.width, actual.height) {
            expected.difference(actual).write(&folder.join(format!("{stem}-difference.png")));
        }
    }
    folder
}

#[test]
fn drawings_look_as_they_did() {
    let folder = root().join("tests/pictures");
    let wrong: Vec<String> = DRAWINGS
        .iter()
        .flat_map(|(name, arguments, most)| check(name, arguments, *most, &folder))
        .collect();
    assert!(
        wrong.is_empty(),
        "{}\nafter looking at them, write the expected pictures anew with UPDATE_DRAWINGS=1",
        wrong.join("\n")
    );
}

#[test]
fn a_moved_line_is_seen_and_shown() {
    let page = |x: usize| {
        let mut levels = vec![255; 200 * 100];
        for y in 1..81 {
            levels[y * 200 + x] = 0;
        }
        Gray { width: 200, height: 100, levels }
    };
    assert_eq!(compare(&page(20), &page(20)), None);
    let fault = compare(&page(20), &page(21)).expect("a fault");
    assert_eq!(fault, "160 pixels differ, 4 may");
    let mut faint = page(20);
    faint.levels.iter_mut().for_each(|v| *v = v.saturating_sub(20));
    assert_eq!(compare(&page(20), &faint), None, "a shade lighter is no difference");
    let folder = tempfile::tempdir().expect("a folder");
    let expected = folder.path().join("a-test-of-the-comparison.png");
    page(20).write(&expected);
    let shown = show("a-test-of-the-comparison.png", &expected, &page(21));
    for kind in ["expected", "actual", "difference"] {
        let file = shown.join(format!("a-test-of-the-comparison-{kind}.png"));
        assert!(file.exists(), "{kind}");
    }
    let difference = Gray::read(&shown.join("a-test-of-the-comparison-difference.png"));
    assert_eq!(difference.levels.iter().filter(|v| **v < 128).count(), 160);
}

#[test]
fn the_expected_pictures_are_small() {
    let entries = fs::read_dir(root().join("tests/pictures")).into_iter().flatten().flatten();
    let bytes: u64 = entries.filter_map(|e| e.metadata().ok()).map(|m| m.len()).sum();
    assert!(bytes < 1 << 20, "{bytes} bytes");
}
