//! A second witness that shares no code with the placing of tags or with the audit: the tags of a demonstration floor drawn alone
//! and the lines of its plan drawn alone, laid over one another as pictures, have no pixel in common.

use crate::ink::{BLACK, Group, Mark, Sheet};
use crate::papers::compose;
use crate::sheet::Audience;
use crate::sheet::fixture::{GARAGE, floor, inputs, options};

/// Dots an inch; the clear space around a tag is three pixels wide.
const DPI: f64 = 150.0;
/// Classes of the lines that no tag may cover.
const LINES: [&str; 6] = ["crack", "outline", "opening", "column", "patch", "dimension"];

/// Groups of a kind with all that is in them, wherever they stand.
fn picked(groups: &[Group], keep: &dyn Fn(&Group) -> bool, out: &mut Vec<Group>) {
    for group in groups {
        if keep(group) {
            out.push(group.clone());
            continue;
        }
        let inner = |m: &Mark| match m {
            Mark::Group(g) => Some(g.clone()),
            _ => None,
        };
        let inner: Vec<Group> = group.marks.iter().filter_map(inner).collect();
        picked(&inner, keep, out);
    }
}

/// Fills in black, so that what a tag's white ground covers is found too; hatches may be covered and go.
fn blackened(group: &mut Group) {
    group.marks.retain(|m| !matches!(m, Mark::Group(g) if g.class == "hatch"));
    for mark in &mut group.marks {
        match mark {
            Mark::Path(path) if path.fill.is_some() => path.fill = Some(BLACK),
            Mark::Group(inner) => blackened(inner),
            _ => {}
        }
    }
}

/// Which pixels are dark on the sheet with these groups alone.
fn mask(sheet: &Sheet, groups: Vec<Group>) -> Vec<bool> {
    let sheet = Sheet { groups, ..sheet.clone() };
    let picture = crate::png::draw(&crate::svg::write_with(&sheet, false), DPI).expect("a picture");
    picture.pixels().iter().map(|p| p.red() < 128).collect()
}

fn tags(sheet: &Sheet) -> Vec<Group> {
    let mut out = Vec::new();
    picked(&sheet.groups, &|g| g.id.starts_with("tag-"), &mut out);
    out.iter_mut().for_each(blackened);
    out
}

fn lines(sheet: &Sheet) -> Vec<Group> {
    let mut out = Vec::new();
    let is_line = |g: &Group| g.class.split(' ').any(|c| LINES.contains(&c));
    picked(&sheet.groups, &is_line, &mut out);
    // A filled patch or column is told by its outline; its fill may lie under nothing but its own tag.
    out.iter_mut().for_each(outlined);
    out
}

/// Lines alone: no fills, no text, no hatches.
fn outlined(group: &mut Group) {
    group.marks.retain(|m| match m {
        Mark::Group(g) => g.class != "hatch",
        Mark::Path(p) => p.stroke.is_some(),
        _ => false,
    });
    for mark in &mut group.marks {
        match mark {
            Mark::Path(path) => path.fill = None,
            Mark::Group(inner) => outlined(inner),
            _ => {}
        }
    }
}

fn shared(a: &[bool], b: &[bool]) -> usize {
    a.iter().zip(b).filter(|&(&a, &b)| a && b).count()
}

#[test]
fn no_pixel_of_a_demonstration_floor_is_both_tag_and_line() {
    let survey = floor(GARAGE);
    let sheet = compose(&inputs(&survey), &options(Audience::Crew)).expect("a map").remove(0);
    let (tags, lines) = (tags(&sheet), lines(&sheet));
    assert!(tags.len() > 10 && lines.len() > 4, "{} {}", tags.len(), lines.len());
    let line_mask = mask(&sheet, lines);
    assert_eq!(shared(&mask(&sheet, tags.clone()), &line_mask), 0);
    // The witness sees: a tag moved by 20 mm lies on something.
    let far = |g: &Group, x: f64, y: f64| {
        crate::paper::draw::moved(g.clone(), crate::paper::mm::by(x, y))
    };
    let moved = |x: f64, y: f64| tags.iter().map(|g| far(g, x, y)).collect::<Vec<_>>();
    assert!(shared(&mask(&sheet, moved(20.0, 20.0)), &line_mask) > 0);
}
