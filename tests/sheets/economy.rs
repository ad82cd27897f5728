//! Paper: how many sheets a floor takes, and how much of each is used.

use slabwalk::ink::{Group, Mark, PaperPoint, Sheet, Step};
use slabwalk::survey::{Survey, survey};
use slabwalk::{png, svg};

use super::floor::packet;

/// A cell, half an inch, in pixels of the picture that is looked at.
const CELL: usize = 20;
/// Pixels in an inch.
const DPI: f64 = 40.0;
/// Margin around the border of a drawing, pixels: half an inch and the border's own line. On sheets of text the border lies within it.
const MARGIN: usize = 22;
/// Millimeters in an inch.
const MM_PER_IN: f64 = 25.4;
/// Least share of cells with ink, or under a plan, on every sheet but the last.
const LEAST: f64 = 0.6;
/// Darker than this is ink; the lightest shade of a plan is darker than paper, and so are thin lines at this resolution.
const INK: u8 = 235;

fn demonstration(name: &str) -> Survey {
    let root = env!("CARGO_MANIFEST_DIR");
    let read = |path: String| std::fs::read_to_string(&path).expect(&path);
    let (sketch, found) = slabwalk::sketch::parse(&read(format!("{root}/sketches/{name}.yaml")));
    let sketch = sketch.expect(name);
    let shop = match &sketch.shop {
        Some(_) => slabwalk::shop::parse(&read(format!("{root}/sketches/shop/demo.yaml"))).0,
        None => Some(slabwalk::shop::built_in()),
    };
    survey(sketch, shop.expect("a shop book"), found).expect(name)
}

fn reach(area: &mut [f64; 4], p: PaperPoint) {
    let [l, t, r, b] = *area;
    *area = [l.min(p.x), t.min(p.y), r.max(p.x), b.max(p.y)];
}

/// Boxes around everything of a group, mm: left, top, right, bottom.
fn around(group: &Group, area: &mut [f64; 4]) {
    for mark in &group.marks {
        match mark {
            Mark::Group(inner) => around(inner, area),
            Mark::Text(text) => reach(area, text.at),
            Mark::Image(_) => {}
            Mark::Path(path) => path.steps.iter().for_each(|step| {
                if let Step::Move(p) | Step::Line(p) = step {
                    reach(area, *p);
                }
            }),
        }
    }
}

/// Places of the plans that stand in columns.
fn figures(groups: &[Group], out: &mut Vec<[f64; 4]>) {
    for group in groups {
        if group.class == "figure" {
            let mut area = [f64::MAX, f64::MAX, f64::MIN, f64::MIN];
            around(group, &mut area);
            out.push(area);
        }
        let inner = group.marks.iter().filter_map(|mark| match mark {
            Mark::Group(inner) => Some(inner.clone()),
            _ => None,
        });
        figures(&inner.collect::<Vec<_>>(), out);
    }
}

/// Share of the cells inside the border that hold ink or belong to a plan.
fn used(sheet: &Sheet) -> f64 {
    let picture = png::draw(&svg::write(sheet), DPI).expect(&sheet.name);
    let (width, height) = (picture.width() as usize, picture.height() as usize);
    let dark = |x: usize, y: usize| {
        let pixel = picture.pixel(x as u32, y as u32);
        pixel.is_some_and(|p| p.red().min(p.green()).min(p.blue()) < INK)
    };
    let mut plans = Vec::new();
    figures(&sheet.groups, &mut plans);
    let mm = |pixels: usize| pixels as f64 / DPI * MM_PER_IN;
    let (mut all, mut full) = (0.0, 0.0);
    for top in (MARGIN..=height - MARGIN - CELL).step_by(CELL) {
        for left in (MARGIN..=width - MARGIN - CELL).step_by(CELL) {
            let middle = (mm(left + CELL / 2), mm(top + CELL / 2));
            let planned = plans
                .iter()
                .any(|[l, t, r, b]| (*l..=*r).contains(&middle.0) && (*t..=*b).contains(&middle.1));
            let inked = (left..left + CELL).any(|x| (top..top + CELL).any(|y| dark(x, y)));
            all += 1.0;
            full += f64::from(u8::from(planned || inked));
        }
    }
    full / all
}

/// What a crew prints: no more sheets than these, and none but the last half empty.
#[test]
fn a_floor_takes_few_sheets_and_fills_them() {
    for (name, most) in
        [("harrow-lane-garage", 4), ("mill-street-kitchen", 4), ("dock-road-boat-shop", 8)]
    {
        let drawings = packet(&demonstration(name));
        let crew = drawings[0].as_ref().expect(name);
        assert!(crew.len() <= most, "{name}: {} sheets", crew.len());
        let shares: Vec<f64> = crew.iter().map(used).collect();
        let kept = &shares[..shares.len() - 1];
        assert!(kept.iter().all(|s| *s >= LEAST), "{name}: {shares:.2?}");
    }
}
