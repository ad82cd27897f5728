//! A floor and its placed tags as a sheet, drawn plainly.

use super::floor::{CRACK, EDGE, Floor, Paper};
use slabwalk::font;
use slabwalk::ink::{
    Align, BLACK, Color, Group, Mark, PaperPoint, PathMark, Sheet, Step, Stroke, TextMark, WHITE,
    Weight,
};
use slabwalk::tags::place::{Feature, LeaderEnd, Placed, Placement};

fn at(x: f64, y: f64) -> PaperPoint {
    PaperPoint { x, y }
}

pub fn polyline(points: &[PaperPoint], closed: bool, width: f64, fill: Option<Color>) -> Mark {
    let step = |(n, &p): (usize, &PaperPoint)| if n == 0 { Step::Move(p) } else { Step::Line(p) };
    let mut steps: Vec<Step> = points.iter().enumerate().map(step).collect();
    if closed {
        steps.push(Step::Close);
    }
    let stroke = (width > 0.0).then_some(Stroke { width, color: BLACK, round: false });
    Mark::Path(PathMark { steps, stroke, fill })
}

fn circle(c: PaperPoint, r: f64, width: f64, fill: Option<Color>) -> Mark {
    const K: f64 = 0.552_284_75;
    let p = |dx: f64, dy: f64| at(c.x + dx * r, c.y + dy * r);
    let steps = vec![
        Step::Move(p(1.0, 0.0)),
        Step::Cubic(p(1.0, K), p(K, 1.0), p(0.0, 1.0)),
        Step::Cubic(p(-K, 1.0), p(-1.0, K), p(-1.0, 0.0)),
        Step::Cubic(p(-1.0, -K), p(-K, -1.0), p(0.0, -1.0)),
        Step::Cubic(p(K, -1.0), p(1.0, -K), p(1.0, 0.0)),
        Step::Close,
    ];
    let stroke = (width > 0.0).then_some(Stroke { width, color: BLACK, round: false });
    Mark::Path(PathMark { steps, stroke, fill })
}

fn group(id: &str, class: &str, marks: Vec<Mark>) -> Group {
    Group { id: id.into(), class: class.into(), title: id.into(), marks, ..Group::default() }
}

fn words(p: PaperPoint, text: &str, align: Align) -> Mark {
    let size = font::size_for_cap(2.3813);
    let width = Some(font::text_width(text, size, Weight::Regular));
    Mark::Text(TextMark {
        at: p,
        text: text.into(),
        size,
        weight: Weight::Regular,
        align,
        turn: 0.0,
        color: BLACK,
        width,
    })
}

pub fn draw(floor: &Floor, placement: &Placement) -> Sheet {
    let paper = floor.paper;
    let frame = [
        at(8.0, 8.0),
        at(paper.width - 8.0, 8.0),
        at(paper.width - 8.0, paper.height - 8.0),
        at(8.0, paper.height - 8.0),
    ];
    let joints =
        floor.problem.joints.iter().map(|l| polyline(&[l.from, l.to], false, 0.25, None)).collect();
    let mut groups = vec![
        group("border", "frame", vec![polyline(&frame, true, 0.7, None)]),
        group("joints", "joint", joints),
    ];
    groups.extend(floor.problem.tags.iter().map(|t| feature(&t.id, &t.feature)));
    groups.push(group("slab", "outline", vec![polyline(&floor.outline, true, EDGE, None)]));
    groups.extend(placement.placed.iter().filter_map(leader));
    groups.extend(placement.placed.iter().map(tag));
    groups.extend(placement.placed.iter().enumerate().map(|(n, t)| row(n, &t.id, paper)));
    Sheet {
        name: "floor".into(),
        title: "S-101 Crew map".into(),
        description: format!("{} tags", placement.placed.len()),
        width: paper.width,
        height: paper.height,
        groups,
    }
}

fn feature(id: &str, feature: &Feature) -> Group {
    match feature {
        Feature::Line(runs) => {
            group(id, "crack", runs.iter().map(|run| polyline(run, false, CRACK, None)).collect())
        }
        Feature::Area(rings) | Feature::Cut { rings, .. } => {
            group(id, "patch", rings.iter().map(|ring| polyline(ring, true, 0.25, None)).collect())
        }
        Feature::Points { at, radius } => {
            let mark = |&p: &PaperPoint| circle(p, radius.max(0.8), 0.0, Some(BLACK));
            group(id, "spall", at.iter().map(mark).collect())
        }
    }
}

fn leader(tag: &Placed) -> Option<Group> {
    let leader = tag.leader?;
    let mut marks = vec![polyline(&[leader.from, leader.to], false, 0.25, None)];
    match leader.end {
        LeaderEnd::Dot => marks.push(circle(leader.from, 0.5, 0.0, Some(BLACK))),
        LeaderEnd::Arrow => {
            let (dx, dy) = (leader.to.x - leader.from.x, leader.to.y - leader.from.y);
            let length = dx.hypot(dy);
            let (ux, uy) = (dx / length, dy / length);
            let side =
                |s: f64| at(leader.from.x + 2.4 * ux - s * uy, leader.from.y + 2.4 * uy + s * ux);
            marks.push(polyline(&[leader.from, side(0.4), side(-0.4)], true, 0.0, Some(BLACK)));
        }
    }
    Some(group(&format!("leader-{}", tag.id), "leader", marks))
}

fn tag(tag: &Placed) -> Group {
    // The pen lies inside the box.
    let b = tag.area.grown(-0.125);
    let corners =
        [at(b.left, b.top), at(b.right, b.top), at(b.right, b.bottom), at(b.left, b.bottom)];
    let centre = tag.area.centre();
    let marks = vec![
        polyline(&corners, true, 0.25, Some(WHITE)),
        words(at(centre.x, centre.y + 1.19), &tag.id, Align::Middle),
    ];
    group(&format!("tag-{}", tag.id), "tag", marks)
}

/// Rows in columns beside the plan.
fn row(n: usize, id: &str, paper: Paper) -> Group {
    let lines = ((paper.height - 40.0) / 4.0) as usize;
    let p = at(paper.zone.right + 4.0 + 14.0 * (n / lines) as f64, 20.0 + 4.0 * (n % lines) as f64);
    group(&format!("row-{id}"), "row", vec![words(p, id, Align::Start)])
}
