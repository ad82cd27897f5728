//! Hatches as real lines clipped to their area: no tile seams, and the same in every viewer.

use crate::ink::{Group, Mark, PaperPoint, Step};

use crate::paper::clear::Clear;
use crate::paper::mm::{Box2, Shift, at, by, length, lerp};

/// Most lines of one hatch; beyond it the area is left to its outline.
const MOST_LINES: f64 = 4000.0;

/// Lines of one direction (degrees counter-clockwise from the right) and spacing (mm) inside rings, by the even-odd rule. The lines
/// hang on one grid for the whole sheet, so neighboring areas match.
#[must_use]
pub fn lines(rings: &[Vec<PaperPoint>], degrees: f64, spacing: f64) -> Vec<Vec<PaperPoint>> {
    let angle = degrees.to_radians();
    let along = by(angle.cos(), -angle.sin());
    let across = along.left();
    let level = |p: &PaperPoint| across.dot(*p - at(0.0, 0.0));
    let all = || rings.iter().flatten();
    let low = all().map(level).fold(f64::INFINITY, f64::min);
    let high = all().map(level).fold(f64::NEG_INFINITY, f64::max);
    let mut out = Vec::new();
    if !(high - low).is_finite() || (high - low) / spacing > MOST_LINES {
        return out;
    }
    let mut n = (low / spacing).ceil();
    while n * spacing < high {
        out.extend(inside(rings, along, across, n * spacing));
        n += 1.0;
    }
    out
}

/// The stretch inside the rings of a line through a point inside them, in that direction; `None` where the point is not inside.
#[must_use]
pub fn chord(rings: &[Vec<PaperPoint>], p: PaperPoint, along: Shift) -> Option<Vec<PaperPoint>> {
    let across = along.left();
    let from = |q: PaperPoint| along.dot(q - p);
    inside(rings, along, across, across.dot(p - at(0.0, 0.0)))
        .into_iter()
        .find(|part| from(part[0]) <= 0.0 && from(part[1]) >= 0.0)
}

/// Parts inside the rings of the line `across · p = level`.
fn inside(
    rings: &[Vec<PaperPoint>],
    along: Shift,
    across: Shift,
    level: f64,
) -> Vec<Vec<PaperPoint>> {
    let zero = at(0.0, 0.0);
    let mut hits = Vec::new();
    for ring in rings {
        for (i, &a) in ring.iter().enumerate() {
            let b = ring[(i + 1) % ring.len()];
            let (u, v) = (across.dot(a - zero) - level, across.dot(b - zero) - level);
            // Half-open, so that a line through a corner is counted once.
            if (u < 0.0) != (v < 0.0) {
                hits.push(along.dot(lerp(a, b, u / (u - v)) - zero));
            }
        }
    }
    hits.sort_by(f64::total_cmp);
    let place = |s: f64| zero + along * s + across * level;
    let pairs = hits.chunks_exact(2).filter(|p| p[1] - p[0] > 0.05);
    pairs.map(|p| vec![place(p[0]), place(p[1])]).collect()
}

/// Level dashes in staggered rows.
#[must_use]
pub fn dashes(
    rings: &[Vec<PaperPoint>],
    spacing: f64,
    dash: f64,
    gap: f64,
) -> Vec<Vec<PaperPoint>> {
    let period = dash + gap;
    let mut out = Vec::new();
    for row in lines(rings, 0.0, spacing) {
        let (a, b) = (row[0], row[1]);
        let odd = (a.y / spacing).round().rem_euclid(2.0);
        let mut x = ((a.x - odd * period / 2.0) / period).floor() * period + odd * period / 2.0;
        while x < b.x {
            let (from, to) = (x.max(a.x), (x + dash).min(b.x));
            if to - from > 0.3 * dash {
                out.push(vec![at(from, a.y), at(to, a.y)]);
            }
            x += period;
        }
    }
    out
}

/// Shortest piece of a hatch line that is left beside a text, mm.
const LEAST_PIECE: f64 = 0.6;

/// Breaks hatches behind text, with clear space before and behind it, so that no stroke reads as a minus.
pub fn break_behind(groups: &mut [Group], clear: &Clear) {
    for group in groups {
        let is_hatch = group.class == "hatch";
        for mark in &mut group.marks {
            match mark {
                Mark::Group(inner) => break_behind(std::slice::from_mut(inner), clear),
                Mark::Path(path) if is_hatch && path.stroke.is_some() => {
                    path.steps = broken(&path.steps, clear);
                }
                _ => {}
            }
        }
    }
}

/// Straight lines without what lies behind text.
fn broken(steps: &[Step], clear: &Clear) -> Vec<Step> {
    let mut out = Vec::new();
    let mut from = None;
    for step in steps {
        match (*step, from) {
            (Step::Line(to), Some(start)) => {
                for (a, b) in clear.off_text(start, to) {
                    if (b - a).length() >= LEAST_PIECE.min((to - start).length()) {
                        out.extend([Step::Move(a), Step::Line(b)]);
                    }
                }
                from = Some(to);
            }
            (Step::Move(to), _) => from = Some(to),
            (other, _) => out.push(other),
        }
    }
    out
}

/// Whether a point lies inside rings, by the even-odd rule.
#[must_use]
pub fn contains(rings: &[Vec<PaperPoint>], p: PaperPoint) -> bool {
    let edges = rings
        .iter()
        .flat_map(|ring| (0..ring.len()).map(move |i| (ring[i], ring[(i + 1) % ring.len()])));
    edges.fold(false, |inside, (a, b)| {
        let crosses =
            (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x);
        inside != crosses
    })
}

/// Distance of a point from a segment, mm.
#[must_use]
pub fn from_segment(p: PaperPoint, a: PaperPoint, b: PaperPoint) -> f64 {
    let d = b - a;
    let n = d.dot(d);
    let share = if n > 0.0 { ((p - a).dot(d) / n).clamp(0.0, 1.0) } else { 0.0 };
    (p - lerp(a, b, share)).length()
}

/// Whether an area is too narrow for a hatch to read: less than three spacings across its narrower side, judged by its box and by
/// its area over half its boundary.
#[must_use]
pub fn too_narrow(rings: &[Vec<PaperPoint>], spacing: f64) -> bool {
    let all: Vec<_> = rings.iter().flatten().copied().collect();
    let around = Box2::of(&all);
    let area: f64 = rings.iter().map(|r| ring_area(r)).sum::<f64>().abs();
    let boundary: f64 = rings.iter().map(|r| length(r)).sum();
    let across = if boundary > 0.0 { 2.0 * area / boundary } else { 0.0 };
    around.width().min(around.height()).min(2.0 * across) < 3.0 * spacing
}

/// Signed area of a ring, mm².
#[must_use]
pub fn ring_area(ring: &[PaperPoint]) -> f64 {
    let Some(&first) = ring.first() else {
        return 0.0;
    };
    ring.windows(2).map(|p| (p[0] - first).cross(p[1] - first)).sum::<f64>() / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square() -> Vec<Vec<PaperPoint>> {
        vec![
            Box2::new(0.5, 0.5, 20.5, 20.5).corners().to_vec(),
            Box2::new(8.5, 8.5, 12.5, 12.5).corners().to_vec(),
        ]
    }

    #[test]
    fn lines_stay_inside_and_leave_holes_free() {
        let lines = lines(&square(), 45.0, 2.0);
        assert!(lines.len() > 12);
        for line in &lines {
            let middle = lerp(line[0], line[1], 0.5);
            assert!(Box2::new(0.5, 0.5, 20.5, 20.5).contains(middle));
            assert!(!Box2::new(8.6, 8.6, 12.4, 12.4).contains(middle));
        }
    }

    #[test]
    fn a_chord_ends_where_the_shape_does() {
        let angle = vec![vec![
            at(0.0, 0.0),
            at(10.0, 0.0),
            at(10.0, 8.0),
            at(9.0, 8.0),
            at(9.0, 1.0),
            at(0.0, 1.0),
        ]];
        let rows = [
            ("along the foot", at(3.0, 0.5), by(1.0, 0.0), Some((0.0, 10.0))),
            ("across the foot", at(3.0, 0.5), by(0.0, 1.0), Some((0.0, 1.0))),
            ("across the leg", at(9.5, 4.0), by(1.0, 0.0), Some((9.0, 10.0))),
            ("outside", at(5.0, 4.0), by(1.0, 0.0), None),
            ("outside, level with the leg", at(5.0, 4.0), by(0.0, 1.0), None),
        ];
        for (name, p, along, wanted) in rows {
            let found = chord(&angle, p, along).map(|c| {
                let place = |q: PaperPoint| along.dot(q - at(0.0, 0.0));
                (place(c[0]), place(c[1]))
            });
            assert_eq!(found, wanted, "{name}");
        }
    }

    #[test]
    fn hatch_gap_is_the_spacing() {
        let lines = lines(&square()[..1], 45.0, 2.0);
        let across = by(1.0, -1.0).unit().left();
        let mut levels: Vec<_> = lines.iter().map(|l| across.dot(l[0] - at(0.0, 0.0))).collect();
        levels.sort_by(f64::total_cmp);
        for pair in levels.windows(2) {
            assert!((pair[1] - pair[0] - 2.0).abs() < 1e-9);
        }
    }

    #[test]
    fn hatch_lines_break_behind_text() {
        use crate::paper::clear::{Clear, Slip};
        let mut clear = Clear::new(Box2::new(0.0, 0.0, 100.0, 100.0));
        clear.add(Slip::upright(&Box2::new(40.0, 40.0, 50.0, 43.0)));
        let line = |y: f64, from: f64, to: f64| [Step::Move(at(from, y)), Step::Line(at(to, y))];
        let rows: [(&str, [Step; 2], &[[Step; 2]]); 3] = [
            ("through", line(41.0, 0.0, 100.0), &[line(41.0, 0.0, 37.9), line(41.0, 52.1, 100.0)]),
            ("a dash beside it", line(41.0, 38.5, 39.8), &[]),
            ("above it", line(39.0, 0.0, 100.0), &[line(39.0, 0.0, 100.0)]),
        ];
        for (name, steps, wanted) in rows {
            let found: Vec<String> =
                broken(&steps, &clear).iter().map(|s| format!("{s:.2?}")).collect();
            let wanted: Vec<String> = wanted.iter().flatten().map(|s| format!("{s:.2?}")).collect();
            assert_eq!(found, wanted, "{name}");
        }
    }

    #[test]
    fn narrow_areas_are_told() {
        let strip = vec![Box2::new(0.0, 0.0, 40.0, 3.0).corners().to_vec()];
        assert!(too_narrow(&strip, 2.0));
        assert!(!too_narrow(&square()[..1], 2.0));
    }
}
