//! Random floors of 10 to 500 tags, from placement to the written and audited file.

#[path = "writers/draw.rs"]
mod draw;
#[path = "writers/floor.rs"]
mod floor;

use draw::draw;
use floor::{ANSI_D, Dice, Floor, Paper, Spread, TABLOID, floor};
use slabwalk::audit::{Code, Fault, audit};
use slabwalk::ink::{PaperPoint, Sheet};
use slabwalk::tags::place::{CLEARANCE, Feature, PaperBox, Placement, Problem, Verdict, place};
use slabwalk::{pdf, png, svg};
use std::sync::OnceLock;

/// Floors of every size, even and clustered, some of them too crowded.
fn floors() -> &'static [(String, Floor, Placement)] {
    static FLOORS: OnceLock<Vec<(String, Floor, Placement)>> = OnceLock::new();
    FLOORS.get_or_init(|| make_floors().collect())
}

fn make_floors() -> impl Iterator<Item = (String, Floor, Placement)> {
    let rows: [(usize, Spread, Paper, u64); 9] = [
        (10, Spread::Even, TABLOID, 4),
        (50, Spread::Even, TABLOID, 4),
        (100, Spread::Even, TABLOID, 4),
        (150, Spread::Even, TABLOID, 3),
        (250, Spread::Even, TABLOID, 2),
        (75, Spread::Clusters(5, 45.0), TABLOID, 4),
        (100, Spread::Clusters(5, 20.0), TABLOID, 3),
        (300, Spread::Even, ANSI_D, 2),
        (500, Spread::Even, ANSI_D, 2),
    ];
    rows.into_iter().flat_map(|(count, spread, paper, seeds)| {
        (0..seeds).map(move |seed| {
            let floor = floor(seed, count, spread, paper);
            let placement = place(&floor.problem);
            (format!("{count} tags, {spread:?}, seed {seed}"), floor, placement)
        })
    })
}

/// The hard rules, by exact comparison of every tag with everything, with nothing of the search in it.
fn check_hard_rules(name: &str, problem: &Problem, placement: &Placement) {
    // The search works on a grid of 1/1024 mm; what it hands out may differ by as much.
    let clear = CLEARANCE - 0.002;
    for tag in &placement.placed {
        let grown = tag.area.grown(clear);
        assert!(
            problem.zone.contains_box(&tag.area.grown(-0.002)),
            "{name}: {} leaves the zone",
            tag.id
        );
        let under = problem.lines.iter().find(|l| grown.is_crossed_by(l.from, l.to));
        assert_eq!(under, None, "{name}: a line under {}", tag.id);
        assert!(
            !problem.boxes.iter().any(|b| grown.overlaps(b)),
            "{name}: a mark under {}",
            tag.id
        );
        for other in placement.placed.iter().filter(|other| other.id != tag.id) {
            assert!(!grown.overlaps(&other.area), "{name}: {} on {}", tag.id, other.id);
            let crossed = other.leader.is_some_and(|l| grown.is_crossed_by(l.from, l.to));
            assert!(!crossed, "{name}: {} on the leader of {}", tag.id, other.id);
        }
    }
}

#[test]
fn hard_rules_hold_and_only_crowded_floors_leave_a_tag_out() {
    for (name, floor, placement) in floors() {
        check_hard_rules(name, &floor.problem, placement);
        assert_eq!(
            placement.placed.len() + placement.unplaced.len(),
            floor.problem.tags.len(),
            "{name}"
        );
        let crowded = placement.fill.verdict() == Verdict::Crowded;
        assert!(
            placement.unplaced.is_empty() || crowded,
            "{name}: fill {} {:?}",
            placement.fill.share,
            placement.unplaced
        );
        if placement.fill.verdict() == Verdict::Roomy {
            assert!(placement.crossings <= 1, "{name}: {} crossings", placement.crossings);
        }
    }
}

#[test]
fn every_floor_audits_clean_but_for_the_crossings_that_were_reported() {
    for (name, floor, placement) in floors() {
        let faults = audit(&svg::write(&draw(floor, placement)));
        let (crossings, others): (Vec<&Fault>, Vec<&Fault>) =
            faults.iter().partition(|f| f.code == Code::LeaderCrossing);
        assert_eq!(others, Vec::<&Fault>::new(), "{name}");
        assert_eq!(crossings.len(), placement.crossings, "{name}");
    }
}

#[test]
fn the_order_of_the_records_does_not_matter() {
    for (count, spread) in [(60, Spread::Even), (120, Spread::Clusters(4, 25.0))] {
        let floor = floor(7, count, spread, TABLOID);
        let first = place(&floor.problem);
        let mut dice = Dice::new(99);
        let mut shuffled = floor.problem.clone();
        shuffle(&mut shuffled.tags, &mut dice);
        shuffle(&mut shuffled.lines, &mut dice);
        shuffle(&mut shuffled.boxes, &mut dice);
        shuffle(&mut shuffled.joints, &mut dice);
        assert_ne!(shuffled, floor.problem);
        assert_eq!(place(&shuffled), first);
        assert_eq!(place(&floor.problem), first);
    }
}

fn shuffle<T>(list: &mut [T], dice: &mut Dice) {
    for n in (1..list.len()).rev() {
        list.swap(n, dice.below(n + 1));
    }
}

#[test]
fn a_plan_moved_by_whole_millimetres_is_labelled_the_same() {
    let floor = floor(3, 120, Spread::Clusters(4, 30.0), TABLOID);
    let first = place(&floor.problem);
    let (dx, dy) = (37.0, -11.0);
    let moved = place(&moved(&floor.problem, dx, dy));
    assert_eq!(moved.placed.len(), first.placed.len());
    for (was, is) in first.placed.iter().zip(&moved.placed) {
        let (a, b) = (was.area.centre(), is.area.centre());
        assert!(
            (b.x - a.x - dx).abs() < 1e-9 && (b.y - a.y - dy).abs() < 1e-9,
            "{} {:?} {:?}",
            was.id,
            a,
            b
        );
    }
}

fn moved(problem: &Problem, dx: f64, dy: f64) -> Problem {
    let point = |p: &mut PaperPoint| *p = PaperPoint { x: p.x + dx, y: p.y + dy };
    let area = |b: &PaperBox| PaperBox::new(b.left + dx, b.top + dy, b.right + dx, b.bottom + dy);
    let mut out = problem.clone();
    out.zone = area(&out.zone);
    out.boxes = out.boxes.iter().map(area).collect();
    out.reserved = out.reserved.iter().map(area).collect();
    for line in out.lines.iter_mut().chain(&mut out.joints) {
        point(&mut line.from);
        point(&mut line.to);
    }
    for tag in &mut out.tags {
        match &mut tag.feature {
            Feature::Points { at, .. } => at.iter_mut().for_each(point),
            Feature::Line(parts) | Feature::Area(parts) => {
                parts.iter_mut().flatten().for_each(point)
            }
            Feature::Cut { rings, rim } => rings.iter_mut().chain(rim).flatten().for_each(point),
        }
    }
    out
}

/// A second witness that knows neither the search nor the audit: tags drawn alone and plan lines drawn alone have no pixel in common.
#[test]
fn no_pixel_is_both_tag_and_plan_line() {
    let floor = floor(5, 100, Spread::Even, TABLOID);
    let sheet = draw(&floor, &place(&floor.problem));
    let part = |keep: &dyn Fn(&str) -> bool| {
        let groups = sheet.groups.iter().filter(|g| keep(g.class.as_str())).cloned().collect();
        png::draw(&svg::write_with(&Sheet { groups, ..sheet.clone() }, false), 200.0)
            .expect("the sheet can be drawn")
    };
    let tags = part(&|class| class == "tag");
    let lines = part(&|class| ["crack", "patch", "outline", "spall"].contains(&class));
    let dark = |picture: &resvg::tiny_skia::Pixmap| {
        picture.pixels().iter().map(|p| p.red() < 128).collect::<Vec<_>>()
    };
    let (tags, lines) = (dark(&tags), dark(&lines));
    let count = |mask: &[bool]| mask.iter().filter(|&&dark| dark).count();
    assert!(count(&tags) > 20_000 && count(&lines) > 20_000);
    assert_eq!(tags.iter().zip(&lines).filter(|&(&a, &b)| a && b).count(), 0);
}

#[test]
fn a_pdf_has_true_pages_and_the_bundled_font() {
    let floor = floor(1, 40, Spread::Even, TABLOID);
    let sheet = draw(&floor, &place(&floor.problem));
    let letter = Sheet { width: 215.9, height: 279.4, groups: Vec::new(), ..sheet.clone() };
    let metadata = pdf::Metadata {
        title: "Repair map".into(),
        date: Some((2026, 5, 4)),
        ..pdf::Metadata::default()
    };
    let sheets = [sheet, letter];
    let out = pdf::write(&sheets, &metadata).expect("two sheets make a PDF");
    let has = |text: &str| out.windows(text.len()).any(|w| w == text.as_bytes());
    assert!(has("/MediaBox[0 0 1224 792]") && has("/MediaBox[0 0 612 792]"));
    assert!(has("/Count 2") && has("+SlabwalkSans-Regular") && has("/ToUnicode"));
    assert!(has("D:20260504") && !has("/Subtype/Image"));
    assert_eq!(out, pdf::write(&sheets, &metadata).expect("and do so again"));
}
