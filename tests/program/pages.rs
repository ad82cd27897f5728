//! The pages that a new user follows: every command on them runs, and prints what the page shows.

use std::fs;
use std::path::Path;

use crate::common::slabwalk;

/// A block of a page between lines of three backquotes.
struct Block {
    language: String,
    text: String,
}

fn blocks(page: &str) -> Vec<Block> {
    let text = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(page)).expect(page);
    let parts: Vec<&str> = text.split("```").collect();
    // Every second part stands between two marks.
    let inside = parts.iter().skip(1).step_by(2);
    inside
        .filter_map(|part| part.split_once('\n'))
        .map(|(language, text)| Block {
            language: language.trim().to_owned(),
            text: text.to_owned(),
        })
        .collect()
}

/// Everything that a command of a page prints.
fn printed(line: &str, at: &Path) -> String {
    let words = line.strip_prefix("slabwalk ").expect("a command of the program");
    let (words, file) = match words.split_once(" > ") {
        Some((words, file)) => (words, Some(file)),
        None => (words, None),
    };
    let output =
        slabwalk().current_dir(at).args(words.split(' ')).output().expect("the program runs");
    let stdout = String::from_utf8(output.stdout).expect("text");
    if let Some(file) = file {
        fs::write(at.join(file), &stdout).expect("a file");
    }
    stdout + &String::from_utf8(output.stderr).expect("text")
}

/// The pieces of a block between lines of `…` stand in what was printed, whole lines in this order.
fn stands_in(shown: &str, printed: &str, what: &str) {
    let lines = |text: &str| -> Vec<String> {
        text.lines().map(|line| line.trim_end().to_owned()).collect()
    };
    let printed_lines = lines(printed);
    let mut from = 0;
    for piece in shown.split("…\n") {
        let piece = lines(piece.trim_matches('\n'));
        if piece.is_empty() {
            continue;
        }
        let found = printed_lines[from..].windows(piece.len()).position(|window| window == piece);
        let at = found.unwrap_or_else(|| {
            panic!(
                "{what}: the page shows\n{}\nand the program prints\n{printed}",
                piece.join("\n")
            )
        });
        from += at + piece.len();
    }
}

/// The sketch of the first hour as it stands at its end: the parts of the page in the order of the page,
/// with the coating part changed where it stood.
fn whole(sketches: &[&Block]) -> String {
    let [first, joints, lippage, coating, ..] = sketches else {
        panic!("the page has fewer sketches than before");
    };
    let before = first.text.split("coating:").next().unwrap_or_default();
    [before, &coating.text, "\n", &joints.text, "\n", &lippage.text].concat()
}

#[test]
fn the_first_hour_prints_what_it_shows() {
    let blocks = blocks("docs/first-hour.md");
    let sketches: Vec<&Block> = blocks.iter().filter(|b| b.language == "yaml").collect();
    let dir = tempfile::tempdir().unwrap();
    let at = dir.path();
    let file = at.join("garage.yaml");
    fs::write(&file, &sketches[0].text).unwrap();
    let whole = whole(&sketches);
    let mistakes = [
        ("error[misclosure]", "W 14'", "W 13'"),
        ("error[unknown-key]", "width: 1/4", "widht: 1/4"),
    ];
    let mut last = String::new();
    let (mut commands, mut shown) = (0, 0);
    let mut seen = 0;
    for block in &blocks {
        match block.language.as_str() {
            "yaml" => {
                seen += 1;
                if seen == 4 {
                    fs::write(&file, &whole).unwrap();
                }
                if block.text.starts_with("slabwalk_shop") {
                    fs::write(at.join("my-shop.yaml"), &block.text).unwrap();
                }
            }
            "text" => {
                let slip = mistakes.iter().find(|(start, ..)| block.text.starts_with(start));
                if let Some((_, right, wrong)) = slip {
                    fs::write(&file, whole.replacen(right, wrong, 1)).unwrap();
                    last = printed("slabwalk check garage.yaml", at);
                    fs::write(&file, &whole).unwrap();
                }
                stands_in(&block.text, &last, "docs/first-hour.md");
                shown += 1;
            }
            _ => {
                for line in block.text.lines() {
                    last = printed(line, at);
                    commands += 1;
                }
            }
        }
    }
    assert!(commands >= 7 && shown >= 8, "{commands} commands, {shown} outputs");
    let with_shop = format!("{whole}shop: my-shop.yaml\n");
    fs::write(&file, with_shop).unwrap();
    let takeoff = printed("slabwalk takeoff garage.yaml", at);
    stands_in(
        "Hand edging      10.8 ft²  where the floor grinder doesn't reach\n",
        &takeoff,
        "the shop book",
    );
}

#[test]
fn the_sketch_of_the_readme_is_right_and_has_its_warnings() {
    let blocks = blocks("README.md");
    let sketch = blocks.iter().find(|block| block.language == "yaml").expect("a sketch");
    let dir = tempfile::tempdir().unwrap();
    fs::write(dir.path().join("my-garage.yaml"), &sketch.text).unwrap();
    let said = printed("slabwalk check my-garage.yaml", dir.path());
    assert!(said.ends_with("3 warnings\n"), "{said}");
    let packet = printed("slabwalk packet my-garage.yaml", dir.path());
    assert!(packet.contains("out/my-garage"), "{packet}");
    assert!(dir.path().join("out/my-garage/crew-map.svg").is_file());
}
