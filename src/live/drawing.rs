//! The bare floor as SVG for a screen: one unit is a millimeter of floor, x to the right, y down.
//!
//! Colors, line weights and the size of text are the page's (`page/live.css`): on a screen they
//! stay as they are while the floor is enlarged. Every item is a group with its id.

use std::fmt::Write;

use kurbo::Point;

use crate::geometry::path::{Path, Segment};
use crate::record::Kind;
use crate::slab::{Item, Shape, Slab, Stretch};

/// Room around the slab, as a share of its longer side.
const AROUND: f64 = 0.07;

/// Draws the floor.
#[must_use]
pub fn floor(slab: &Slab) -> String {
    let mut out = String::new();
    let b = slab.outline.path.bounds();
    let m = b.width().max(b.height()) * AROUND;
    let size = [b.x0 - m, -b.y1 - m, b.width() + 2.0 * m, b.height() + 2.0 * m];
    let [x, y, w, h] = size.map(mm);
    put(
        &mut out,
        &format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"floor\" viewBox=\"{x} {y} {w} {h}\" role=\"img\" aria-label=\"The floor\">\n"
        ),
    );
    put(&mut out, &format!("<path class=\"slab\" d=\"{}\"/>\n", closed(&slab.outline.path)));
    panels(&mut out, slab);
    let mut all: Vec<Item> = slab.items().collect();
    all.sort_by_key(|item| layer(item.kind()));
    let (below, above) = all.split_at(all.partition_point(|item| layer(item.kind()) < WALLS));
    below.iter().for_each(|&item| draw(&mut out, slab, item));
    walls(&mut out, slab);
    above.iter().for_each(|&item| draw(&mut out, slab, item));
    put(&mut out, "</svg>\n");
    out
}

fn put(out: &mut String, text: &str) {
    out.push_str(text);
}

/// Whole millimeters from meters.
fn mm(v: f64) -> String {
    let rounded = (v * 1000.0).round();
    format!("{}", if rounded == 0.0 { 0.0 } else { rounded })
}

fn xy(p: Point) -> String {
    format!("{} {}", mm(p.x), mm(-p.y))
}

/// A path as SVG steps; arcs stay arcs.
fn steps(path: &Path) -> String {
    let mut d = String::new();
    for (i, segment) in path.segments().iter().enumerate() {
        if i == 0 {
            d += &format!("M{}", xy(segment.start()));
        }
        match segment {
            Segment::Line { b, .. } => d += &format!("L{}", xy(*b)),
            Segment::Arc(arc) => {
                // Halves, because the two ends of a full circle are one point. Paper turns the other way round.
                let turn = u8::from(arc.sweep < 0.0);
                let half = arc.start + arc.sweep / 2.0;
                let middle = arc.center + kurbo::Vec2::from_angle(half) * arc.radius;
                let r = mm(arc.radius);
                for end in [middle, arc.b] {
                    d += &format!("A{r} {r} 0 0 {turn} {}", xy(end));
                }
            }
        }
    }
    d
}

fn closed(path: &Path) -> String {
    steps(path) + "Z"
}

fn shape(shape: &Shape) -> String {
    shape.rings.iter().map(closed).collect()
}

fn parts(path: &Path, stretches: &[Stretch]) -> String {
    let part = |s: &Stretch| steps(&path.part(s.from_m, s.to_m));
    stretches.iter().map(part).collect()
}

/// How far a tag stands from its point, in heights of its letters, y down.
type Off = (f64, f64);
/// Inside an area that is large enough.
const INSIDE: Off = (0.0, 0.0);
/// Beside something small.
const BESIDE: Off = (1.0, -0.9);
/// Beside a joint, on the other side than a step's tag.
const BEFORE: Off = (-1.1, -0.9);
/// Beside a step.
const BEHIND: Off = (1.2, 1.0);
/// An area wider than this holds its own tag, m.
const HOLDS_A_TAG: f64 = 0.9;

/// A group with a mark that is seen, a wider one that is hit, and its tag.
fn item(out: &mut String, id: &str, class: &str, d: &str, (tag, off): (Point, Off)) {
    let id = escaped(id);
    let (dx, dy) = off;
    let _ = writeln!(
        out,
        "<g id=\"{id}\" class=\"item {class}\"><path class=\"hit\" d=\"{d}\"/><path class=\"mark\" d=\"{d}\"/><text class=\"tag\" x=\"{}\" y=\"{}\" dx=\"{dx}em\" dy=\"{dy}em\">{id}</text></g>",
        mm(tag.x),
        mm(-tag.y)
    );
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('"', "&quot;")
}

fn middle(s: &Shape) -> (Point, Off) {
    let Some(b) = s.rings.first().map(Path::bounds) else {
        return (Point::ORIGIN, INSIDE);
    };
    let holds = b.width().min(b.height()) > HOLDS_A_TAG;
    (b.center(), if holds { INSIDE } else { BESIDE })
}

/// Panels are not seen until one is marked; a tap on bare floor hits them.
fn panels(out: &mut String, slab: &Slab) {
    for panel in &slab.panels {
        let ring = |r: &Vec<Point>| closed(&Path::polygon(r));
        let d: String = panel.rings.iter().map(ring).collect();
        let id = escaped(&panel.id);
        let _ = writeln!(
            out,
            "<g id=\"{id}\" class=\"panel\"><path fill-rule=\"evenodd\" d=\"{d}\"/></g>"
        );
    }
}

/// What lies below the walls is drawn before them.
const WALLS: u8 = 4;

/// The place of a kind from the lowest: what is small comes last, so that it is seen and hit.
const fn layer(kind: Kind) -> u8 {
    match kind {
        Kind::Tier => 0,
        Kind::Uncoated => 1,
        Kind::Blemish => 2,
        Kind::KeepOut => 3,
        Kind::Joint => WALLS,
        Kind::Crack => 5,
        Kind::Lippage => 6,
        Kind::Delamination => 7,
        Kind::Spall => 8,
        Kind::Moisture => 9,
    }
}

fn draw(out: &mut String, slab: &Slab, of: Item) {
    let at = |path: &Path, shown: &[Stretch], share: f64| {
        shown
            .iter()
            .max_by(|a, b| a.length().total_cmp(&b.length()))
            .map_or(path.start(), |s| path.point_at(s.from_m + s.length() * share))
    };
    let area = |out: &mut String, class: &str, s: &Shape| {
        item(out, of.id(), class, &shape(s), middle(s));
    };
    match of {
        Item::Joint(j) => {
            let class = format!("joint {}", j.kind.word());
            // Off the middle, where another joint often crosses.
            let tag = (at(&j.path, &j.on_slab, 0.3), BEFORE);
            item(out, &j.id, &class, &parts(&j.path, &j.on_slab), tag);
        }
        Item::Crack(c) => {
            let tag = (at(&c.path, &c.on_slab, 0.5), BESIDE);
            item(out, &c.id, "crack", &parts(&c.path, &c.on_slab), tag);
        }
        Item::Lippage(l) => {
            let ends = l.readings.first().zip(l.readings.last());
            let (from, to) = ends.map_or((0.0, l.path.length()), |(a, b)| (a.0, b.0));
            let d = steps(&l.path.part(from, to));
            let middle = l.path.point_at((from + to) / 2.0);
            item(out, &l.id, "step", &d, (middle, BEHIND));
        }
        Item::Spall(s) => area(out, "spall", &s.shape),
        Item::Delamination(d) => area(out, "delamination", &d.shape),
        Item::Blemish(b) => area(out, "blemish", &b.shape),
        Item::KeepOut(z) => {
            area(out, if z.flush { "keep-out flush" } else { "keep-out" }, &z.shape);
        }
        Item::Uncoated(z) => area(out, "uncoated", &z.shape),
        Item::Moisture(m) => {
            item(out, &m.id, "moisture", &closed(&Path::circle(m.at, 0.15)), (m.at, BESIDE));
        }
        // Of a tier only its riser is hit: a tap on it is one on the floor.
        Item::Tier(t) => {
            let risers = slab.risers.iter().filter(|riser| riser.tier == t.id);
            let d: String = risers.map(|riser| steps(&riser.path)).collect();
            let tag = t.region.interior_point().unwrap_or_default();
            item(out, &t.id, "tier", &d, (tag, INSIDE));
        }
    }
}

fn walls(out: &mut String, slab: &Slab) {
    put(out, &format!("<path class=\"wall\" d=\"{}\"/>\n", closed(&slab.outline.path)));
    for opening in &slab.openings {
        put(
            out,
            &format!(
                "<path class=\"opening\" d=\"{0}\"/><path class=\"door\" d=\"{0}\"/>\n",
                steps(&opening.path)
            ),
        );
    }
    for (i, corner) in slab.outline.corners.iter().enumerate() {
        let away = outward(slab, i);
        let _ = writeln!(
            out,
            "<text class=\"corner\" x=\"{}\" y=\"{}\" dx=\"{:.2}em\" dy=\"{:.2}em\">{}</text>",
            mm(corner.x),
            mm(-corner.y),
            away.x,
            -away.y,
            i + 1
        );
    }
}

/// The direction out of the slab at a corner, unit.
fn outward(slab: &Slab, corner: usize) -> kurbo::Vec2 {
    let corners = &slab.outline.corners;
    let n = corners.len().max(1);
    let at = corners[corner];
    let toward = |i: usize| {
        let d = corners[i % n] - at;
        if d.hypot() > 1e-9 { d.normalize() } else { d }
    };
    let sum = toward(corner + n - 1) + toward(corner + 1);
    let along = toward(corner + 1);
    let way =
        if sum.hypot() > 0.05 { sum.normalize() } else { kurbo::Vec2::new(-along.y, along.x) };
    if slab.enclosed.contains(at + way * 0.05) { -way } else { way }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::live::floor::tests::slab_of;

    #[test]
    fn every_item_has_its_group_and_y_points_down() {
        let slab = slab_of(
            "slabwalk: 1\njob: {name: a}\nslab: {outline: [[0, 0], [10 m, 0], [10 m, 5 m], [0, 5 m]]}\njoints: [{id: J1, kind: control, x: 4 m}]\nspalls: [{id: S1, circle: {center: [2 m, 1 m], diameter: 100 mm}, depth: 1/4}]\n",
        );
        let svg = floor(&slab);
        assert!(svg.contains("viewBox=\"-700 -5700 11400 6400\""), "{svg}");
        assert!(svg.contains("d=\"M4000 0L4000 -5000\""), "{svg}");
        assert!(svg.contains("<g id=\"S1\" class=\"item spall\">"), "{svg}");
        assert!(svg.contains("A50 50 0 0 0"), "a circle stays round: {svg}");
        assert!(usvg::Tree::from_str(&svg, &usvg::Options::default()).is_ok());
    }
}
