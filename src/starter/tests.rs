use super::*;
use crate::diagnostic::Severity;
use crate::quantity::read::{WalkEntry, walk_entry};

fn floor(name: &str, units: Units, walk: &[&str]) -> Floor {
    let mut corners = vec![(0.0, 0.0)];
    for run in walk {
        if let Ok(WalkEntry::Run { direction_deg, length }) = walk_entry(run, units) {
            let (x, y) = corners[corners.len() - 1];
            let (sin, cos) = direction_deg.to_radians().sin_cos();
            corners.push((x + length.m() * cos, y + length.m() * sin));
        }
    }
    Floor {
        name: name.to_owned(),
        units,
        walk: walk.iter().map(|run| (*run).to_owned()).collect(),
        corners,
    }
}

fn floors() -> Vec<Floor> {
    vec![
        floor("Harrow Lane", Units::Us, &["E 24'", "N 22'", "W 24'", "S 22'"]),
        floor("Ell", Units::Us, &["E 24'", "N 10'", "W 8'", "N 12'", "W 16'", "close"]),
        floor("#1: hall", Units::Metric, &["E 7.3", "N 6.7", "W 7.3", "close"]),
        floor("closet", Units::Us, &["E 5'", "N 4'", "W 5'", "S 4'"]),
        floor("hangar", Units::Metric, &["E 60", "N 40", "W 60", "S 40"]),
    ]
}

/// Errors, and whether there is a stop.
fn faults(text: &str) -> Vec<String> {
    let (sketch, found) = crate::sketch::parse(text);
    let found = match sketch {
        Some(sketch) => match crate::survey::survey(sketch, crate::shop::built_in(), found) {
            Ok(survey) => survey.takeoff.findings,
            Err(found) => found.0,
        },
        None => found,
    };
    let heavy =
        found.into_iter().filter(|f| matches!(f.severity, Severity::Error | Severity::Stop));
    heavy.map(|fault| fault.message).collect()
}

/// Whether a line is an example: a record of a list or a key behind `# `.
fn example(line: &str) -> bool {
    let Some(text) = line.trim_start().strip_prefix("# ") else {
        return false;
    };
    let key = text.split(':').next().unwrap_or("");
    let is_key = text.contains(": ") && key.chars().all(|c| c.is_ascii_lowercase() || c == '_');
    // These two explain words; they stand at the margin, where no example stands.
    let prose = !line.starts_with(' ') && key != "shop";
    !prose && (text.starts_with("- ") || is_key)
}

fn without_mark(line: &str) -> String {
    line.replacen("# ", "", 1)
}

#[test]
fn every_example_is_valid_alone_and_all_of_them_together() {
    for floor in floors() {
        let text = sketch(&floor);
        assert_eq!(faults(&text), [""; 0], "{text}");
        let lines: Vec<&str> = text.lines().collect();
        let examples: Vec<usize> = (0..lines.len()).filter(|n| example(lines[*n])).collect();
        assert_eq!(examples.len(), 45, "{text}");
        for one in &examples {
            // A photograph needs its item; a cut needs somebody who knows of tendons.
            let with = |line: &str| {
                let item = lines[*one].contains("item: J1") && line.contains("id: J1");
                example(line) && (item || line.contains("post_tension: none"))
            };
            let changed: Vec<String> =
                lines
                    .iter()
                    .enumerate()
                    .map(|(n, line)| {
                        if n == *one || with(line) {
                            without_mark(line)
                        } else {
                            (*line).to_owned()
                        }
                    })
                    .collect();
            assert_eq!(faults(&changed.join("\n")), [""; 0], "{}: {}", floor.name, lines[*one]);
        }
        let all: Vec<String> = lines
            .iter()
            .map(|line| if example(line) { without_mark(line) } else { (*line).to_owned() })
            .collect();
        assert_eq!(faults(&all.join("\n")), [""; 0], "{}", all.join("\n"));
        assert!(!all.join("\n").contains('<'), "every mark is filled in");
    }
}

#[test]
fn every_section_is_there_and_the_text_is_in_canonical_form() {
    for floor in floors() {
        let text = sketch(&floor);
        for key in crate::sketch::parse::KEYS {
            assert!(
                text.contains(&format!("\n{key}:")) || text.contains(&format!("\n# {key}:")),
                "{key}"
            );
        }
        assert_eq!(crate::edit::format(&text).as_deref(), Ok(text.as_str()));
    }
}

#[test]
fn names_come_back_as_they_were() {
    for name in [
        "Harrow Lane",
        "#1: hall",
        "true",
        "a \"b\" \\c",
        "26-041",
        "- x",
        "Café 2",
        "null",
        "é: b",
    ] {
        let text = sketch(&floor(name, Units::Us, &["E 24'", "N 22'", "W 24'", "S 22'"]));
        let (read, faults) = crate::sketch::parse(&text);
        assert_eq!(faults, [], "{text}");
        assert_eq!(read.map(|sketch| sketch.job.name).as_deref(), Some(name));
    }
}
