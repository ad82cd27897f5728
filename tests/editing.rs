//! The canonical form of a sketch: it means the same, keeps every comment, and is its own canonical form.

use std::path::PathBuf;

use proptest::prelude::*;

use slabwalk::diagnostic::Severity;
use slabwalk::edit::{format, insert_record};
use slabwalk::sketch::{self, Sketch};

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Every sketch of a folder, with its name.
fn sketches(folder: &str) -> Vec<(String, String)> {
    let mut out = Vec::new();
    for entry in std::fs::read_dir(root().join(folder)).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.extension().is_some_and(|e| e == "yaml") {
            let text = std::fs::read_to_string(&path).expect("a sketch");
            out.push((path.display().to_string(), text));
        }
    }
    out.sort();
    out
}

/// What a text says, without the places it says it at; nothing if it has errors.
fn meaning(text: &str) -> Option<String> {
    let (sketch, faults) = sketch::parse(text);
    let good = faults.iter().all(|fault| fault.severity != Severity::Error);
    sketch.filter(|_| good).map(|sketch| without_places(&sketch))
}

fn without_places(sketch: &Sketch) -> String {
    let text = format!("{sketch:?}");
    let mut parts = text.split("Span { start: ");
    let mut out = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        out += part.split_once('}').map_or("", |(_, rest)| rest);
    }
    out
}

/// All that is behind `#` at the start of a line or behind a blank, sorted. Texts of the cases hold no
/// other `#`.
fn comments(text: &str) -> Vec<String> {
    let mut out: Vec<String> = text
        .lines()
        .filter_map(|line| {
            let at = line.match_indices('#').find(|(at, _)| {
                line[..*at].trim_matches(['\u{FEFF}', ' ', '\t']).is_empty()
                    || line[..*at].ends_with([' ', '\t'])
            });
            at.map(|(at, _)| line[at..].trim_end().to_owned())
        })
        .collect();
    out.sort();
    out
}

/// Holds the canonical form of a text against the text.
fn check(name: &str, text: &str) -> String {
    let before = meaning(text);
    let new = format(text).unwrap_or_else(|error| panic!("{name}: {error}\n{text}"));
    assert_eq!(meaning(&new), before, "{name}: another meaning\n{text}\n=>\n{new}");
    assert_eq!(comments(&new), comments(text), "{name}: other comments\n{text}\n=>\n{new}");
    let again = format(&new).expect("the canonical form is YAML");
    assert_eq!(again, new, "{name}: another form of the form\n{text}");
    new
}

#[test]
fn the_demonstration_floors_are_in_canonical_form() {
    for (name, text) in sketches("sketches") {
        let new = check(&name, &text);
        assert_eq!(new, text, "{name}: run `slabwalk format`");
    }
}

#[test]
fn sketches_of_the_messages_keep_their_meaning() {
    let mut read = 0;
    for (name, text) in sketches("tests/messages") {
        if meaning(&text).is_some() && !name.contains("lost_to_a_comment") {
            check(&name, &text);
            read += 1;
        }
    }
    assert!(read > 20, "{read} sketches were good");
}

#[test]
fn ends_of_lines_and_byte_order_marks_stay() {
    let text = include_str!("reading/example.yaml");
    let plain = check("the example", text);
    let other = check("ends of lines", &text.replace('\n', "\r\n"));
    assert_eq!(other, plain.replace('\n', "\r\n"));
    let marked = check("a mark", &format!("\u{FEFF}{text}"));
    assert_eq!(marked, format!("\u{FEFF}{plain}"));
    let shut = check("no end", text.trim_end());
    assert_eq!(shut, plain);
}

/// A text with comments and blank lines put in, and levels set in by other widths.
fn disturbed(text: &str, places: &[(usize, u8, usize)], wide: bool) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    if wide {
        for line in &mut lines {
            let blanks = line.len() - line.trim_start().len();
            *line = format!("{}{}", " ".repeat(blanks), line);
        }
    }
    for (number, (line, kind, indent)) in places.iter().enumerate() {
        let at = line % lines.len();
        match kind {
            0 => lines[at] += &format!("{}# c{number}\tx", " ".repeat(indent + 1)),
            1 => lines.insert(at, format!("{}# own {number}", " ".repeat(*indent))),
            2 => lines.insert(at, String::new()),
            3 => lines[at] += &" ".repeat(*indent),
            4 => lines[at] = lines[at].replacen(", ", &format!(",{}", " ".repeat(*indent)), 1),
            5 => {
                lines[at] = lines[at].replacen(", ", &format!(",\n{}", " ".repeat(12 + indent)), 1)
            }
            _ => {
                lines[at] = lines[at].replacen(
                    ", ",
                    &format!(", # in {number}\n{}", " ".repeat(12 + indent)),
                    1,
                )
            }
        }
    }
    lines.join("\n") + "\n"
}

#[test]
fn spacing_alone_has_one_form() {
    for (name, text) in sketches("sketches") {
        // Between brackets only: elsewhere a comma belongs to a text or a comment.
        let bracketed = |line: &str| {
            let open = line.find(['[', '{']);
            !line.trim_start().starts_with('#') && open.is_some() && open < line.find(", ")
        };
        let blanks: Vec<(usize, u8, usize)> = text
            .lines()
            .enumerate()
            .filter(|(_, line)| bracketed(line))
            .map(|(line, _)| (line, 4, line % 5))
            .collect();
        let found = disturbed(&text, &blanks, false);
        assert_ne!(found, text, "{name}");
        assert_eq!(format(&found).as_deref(), Ok(text.as_str()), "{name}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn comments_at_odd_places_stay(
        which in 0_usize..4,
        wide in any::<bool>(),
        places in prop::collection::vec((0_usize..400, 0_u8..7, 0_usize..9), 0..12),
    ) {
        let texts = sketches("sketches");
        let text = texts.get(which).map_or(include_str!("reading/example.yaml"), |(_, text)| text);
        let text = disturbed(text, &places, wide);
        // Some changes break a sketch; those texts only must not make the formatter fall.
        if meaning(&text).is_some() {
            check("disturbed", &text);
        } else {
            let _ = format(&text);
        }
    }

    #[test]
    fn any_text_is_formatted_to_one_form(text in "[ -~\n#:{}\\[\\],|>&*!\"'-]{0,60}") {
        if let Ok(new) = format(&text) {
            let again = format(&new);
            prop_assert_eq!(again.as_deref(), Ok(new.as_str()));
        }
    }

    #[test]
    fn a_record_changes_nothing_else(which in 0_usize..4, section in 0_usize..4, places in prop::collection::vec((0_usize..400, 0_u8..4, 0_usize..9), 0..8)) {
        let texts = sketches("sketches");
        let text = texts.get(which).map_or(include_str!("reading/example.yaml"), |(_, text)| text);
        let text = disturbed(text, &places, false);
        let (section, record) = [
            ("joints", "{id: JZ, kind: control, x: 1'}"),
            ("slab.keep_outs", "{id: KZ, circle: {center: [2', 2'], diameter: 8\"}}"),
            ("tests.moisture", "{id: MZ, at: [1', 1'], rh: 70%}"),
            ("levels", "[1', 1', 1/8\"]"),
        ][section];
        if meaning(&text).is_some() {
            let new = insert_record(&text, section, record).expect("a record fits in");
            prop_assert_eq!(new.replace(record, "").len() + record.len(), new.len());
            prop_assert!(meaning(&new).is_some(), "{}", new);
            prop_assert_eq!(comments(&new), comments(&text));
            // Only whole lines, or a piece of one, are put in.
            let kept = text.lines().filter(|line| new.contains(line.trim_end())).count();
            prop_assert!(kept + 2 >= text.lines().count());
        }
    }
}
