//! Cuts drawn marks and the things that tags point at to a window of the sheet.

use crate::ink::{Group, Mark, PaperPoint, PathMark, Step};

use crate::paper::draw;
use crate::paper::mm::{Box2, length, lerp};
use crate::tags::Feature;

/// What remains of a group inside a window; `None` if nothing does.
#[must_use]
pub fn group(group: Group, window: &Box2) -> Option<Group> {
    let marks: Vec<Mark> = group.marks.into_iter().flat_map(|m| mark(m, window)).collect();
    (!marks.is_empty()).then_some(Group { marks, ..group })
}

fn mark(mark: Mark, window: &Box2) -> Vec<Mark> {
    match mark {
        Mark::Group(inner) => group(inner, window).map(Mark::Group).into_iter().collect(),
        Mark::Text(text) if window.contains(text.at) => vec![Mark::Text(text)],
        Mark::Text(_) => Vec::new(),
        Mark::Path(mark) => path(mark, window),
        // A photograph is not cut: it stays where its whole box does.
        Mark::Image(image) => {
            let corner = PaperPoint { x: image.at.x + image.width, y: image.at.y + image.height };
            let inside = window.contains(image.at) && window.contains(corner);
            inside.then_some(Mark::Image(image)).into_iter().collect()
        }
    }
}

/// The points of each subpath and whether it is closed; `None` if there are curves in it.
fn subpaths(steps: &[Step]) -> Option<Vec<(Vec<PaperPoint>, bool)>> {
    let mut out: Vec<(Vec<PaperPoint>, bool)> = Vec::new();
    for step in steps {
        match step {
            Step::Move(p) => out.push((vec![*p], false)),
            Step::Line(p) => out.last_mut()?.0.push(*p),
            Step::Close => out.last_mut()?.1 = true,
            Step::Cubic(..) => return None,
        }
    }
    Some(out)
}

fn all_points(steps: &[Step]) -> Vec<PaperPoint> {
    steps
        .iter()
        .flat_map(|s| match s {
            Step::Move(p) | Step::Line(p) => vec![*p],
            Step::Cubic(a, b, c) => vec![*a, *b, *c],
            Step::Close => Vec::new(),
        })
        .collect()
}

fn path(mark: PathMark, window: &Box2) -> Vec<Mark> {
    let around = Box2::of(&all_points(&mark.steps));
    if window.holds(&around) {
        return vec![Mark::Path(mark)];
    }
    let Some(subpaths) = subpaths(&mark.steps) else {
        // Round marks are small: they stay or go with their middle.
        let stays = window.contains(around.center());
        return stays.then_some(Mark::Path(mark)).into_iter().collect();
    };
    let mut out = Vec::new();
    if let Some(fill) = mark.fill {
        let rings: Vec<_> = subpaths.iter().map(|(r, _)| ring(r, window)).collect();
        let rings: Vec<_> = rings.into_iter().filter(|r| r.len() > 2).collect();
        if !rings.is_empty() {
            out.push(draw::rings(&rings, None, Some(fill)));
        }
    }
    if let Some(stroke) = mark.stroke {
        let mut runs = Vec::new();
        for (mut points, closed) in subpaths {
            if closed {
                points.extend(points.first().copied());
            }
            runs.extend(run(&points, window));
        }
        if !runs.is_empty() {
            out.push(draw::lines(&runs, stroke));
        }
    }
    out
}

/// The shares of a segment between which it lies in a window.
fn shares(a: PaperPoint, b: PaperPoint, w: &Box2) -> Option<(f64, f64)> {
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (start, end, low, high) in [(a.x, b.x, w.left, w.right), (a.y, b.y, w.top, w.bottom)] {
        let d = end - start;
        if d.abs() < 1e-12 {
            if start < low || start > high {
                return None;
            }
            continue;
        }
        let (s, e) = ((low - start) / d, (high - start) / d);
        from = from.max(s.min(e));
        to = to.min(s.max(e));
    }
    (from < to).then_some((from, to))
}

/// The pieces of a polyline inside a window.
#[must_use]
pub fn run(points: &[PaperPoint], window: &Box2) -> Vec<Vec<PaperPoint>> {
    let mut out: Vec<Vec<PaperPoint>> = Vec::new();
    for pair in points.windows(2) {
        let Some((from, to)) = shares(pair[0], pair[1], window) else {
            continue;
        };
        let (a, b) = (lerp(pair[0], pair[1], from), lerp(pair[0], pair[1], to));
        match out.last_mut() {
            Some(last) if last.last().is_some_and(|p| (*p - a).length() < 1e-9) => last.push(b),
            _ => out.push(vec![a, b]),
        }
    }
    out
}

/// The pieces of a polyline outside a window.
#[must_use]
pub fn run_outside(points: &[PaperPoint], window: &Box2) -> Vec<Vec<PaperPoint>> {
    let mut out: Vec<Vec<PaperPoint>> = Vec::new();
    let mut put = |a: PaperPoint, b: PaperPoint| {
        if (b - a).length() < 1e-9 {
            return;
        }
        match out.last_mut() {
            Some(last) if last.last().is_some_and(|p| (*p - a).length() < 1e-9) => last.push(b),
            _ => out.push(vec![a, b]),
        }
    };
    for pair in points.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        match shares(a, b, window) {
            None => put(a, b),
            Some((from, to)) => {
                put(a, lerp(a, b, from));
                put(lerp(a, b, to), b);
            }
        }
    }
    out
}

/// A ring cut by a window (one side after the other; what remains may run along the window's sides).
#[must_use]
pub fn ring(points: &[PaperPoint], window: &Box2) -> Vec<PaperPoint> {
    // Signed distance inside each side.
    let sides: [&dyn Fn(PaperPoint) -> f64; 4] =
        [&|p| p.x - window.left, &|p| window.right - p.x, &|p| p.y - window.top, &|p| {
            window.bottom - p.y
        }];
    let mut ring = points.to_vec();
    for inside in sides {
        let mut out = Vec::with_capacity(ring.len() + 4);
        for (i, &a) in ring.iter().enumerate() {
            let b = ring[(i + 1) % ring.len()];
            let (da, db) = (inside(a), inside(b));
            if da >= 0.0 {
                out.push(a);
            }
            if (da > 0.0 && db < 0.0) || (da < 0.0 && db > 0.0) {
                out.push(lerp(a, b, da / (da - db)));
            }
        }
        ring = out;
    }
    ring
}

/// What a tag points at, inside a window, and how large that part is, mm; `None` if nothing of it is there.
#[must_use]
pub fn feature(feature: &Feature, window: &Box2) -> Option<(Feature, f64)> {
    match feature {
        Feature::Line(runs) => {
            let kept: Vec<_> = runs.iter().flat_map(|r| run(r, window)).collect();
            let size: f64 = kept.iter().map(|r| length(r)).sum();
            (!kept.is_empty()).then_some((Feature::Line(kept), size))
        }
        Feature::Area(rings) => {
            let closed = |r: &Vec<PaperPoint>| [&r[..], &r[..r.len().min(1)]].concat();
            let (kept, rim, size) = area(rings, rings.iter().map(closed), window)?;
            let whole = rings.iter().all(|r| window.holds(&Box2::of(r)));
            Some((if whole { Feature::Area(kept) } else { Feature::Cut(kept, rim) }, size))
        }
        Feature::Cut(rings, rim) => {
            let (kept, rim, size) = area(rings, rim.iter().cloned(), window)?;
            Some((Feature::Cut(kept, rim), size))
        }
        Feature::Points(points) => {
            let kept = points.iter().filter(|p| window.contains(**p)).copied();
            let mut kept: Vec<_> = kept.collect();
            // What has only its far end outside, as the band of a step, is pointed at where it leaves the window.
            let off = |p: &PaperPoint| (*p - window.nearest(*p)).length();
            let nearest = points.iter().min_by(|a, b| off(a).total_cmp(&off(b)));
            if kept.is_empty() {
                kept.extend(nearest.map(|p| window.nearest(*p)));
            }
            (!kept.is_empty()).then_some((Feature::Points(kept), f64::INFINITY))
        }
    }
}

/// Rings inside a window, what is left of the lines along their rims, and how large that is, mm; `None` if nothing is.
fn area(
    rings: &[Vec<PaperPoint>],
    rim: impl Iterator<Item = Vec<PaperPoint>>,
    window: &Box2,
) -> Option<(Vec<Vec<PaperPoint>>, Vec<Vec<PaperPoint>>, f64)> {
    let kept: Vec<_> = rings.iter().map(|r| ring(r, window)).collect();
    let kept: Vec<_> = kept.into_iter().filter(|r| r.len() > 2).collect();
    let around = Box2::of(&kept.iter().flatten().copied().collect::<Vec<_>>());
    let size = around.width().hypot(around.height());
    let rim = rim.flat_map(|r| run(&r, window)).collect();
    (!kept.is_empty()).then_some((kept, rim, size))
}

/// What a tag points at, without the parts of lines inside a frame.
#[must_use]
pub fn feature_outside(feature: Feature, frame: &Box2) -> Feature {
    match feature {
        Feature::Line(runs) => {
            let kept: Vec<_> = runs.iter().flat_map(|r| run_outside(r, frame)).collect();
            Feature::Line(if kept.is_empty() { runs } else { kept })
        }
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::mm::at;

    const WINDOW: Box2 = Box2::new(10.0, 10.0, 30.0, 20.0);

    #[test]
    fn lines_end_at_the_window_and_come_back() {
        let zigzag =
            [at(0.0, 15.0), at(20.0, 15.0), at(20.0, 40.0), at(25.0, 40.0), at(25.0, 15.0)];
        let kept = run(&zigzag, &WINDOW);
        assert_eq!(kept.len(), 2);
        assert_eq!(kept[0], [at(10.0, 15.0), at(20.0, 15.0), at(20.0, 20.0)]);
        let outside = run_outside(&zigzag, &WINDOW);
        assert_eq!(outside[0], [at(0.0, 15.0), at(10.0, 15.0)]);
        let total = length(&zigzag);
        let parts: f64 = kept.iter().chain(&outside).map(|r| length(r)).sum();
        assert!((total - parts).abs() < 1e-9);
    }

    #[test]
    fn a_ring_is_cut_on_all_sides() {
        let square = [at(0.0, 0.0), at(20.0, 0.0), at(20.0, 15.0), at(0.0, 15.0)];
        let around = Box2::of(&ring(&square, &WINDOW));
        assert_eq!(around, Box2::new(10.0, 10.0, 20.0, 15.0));
        assert!(ring(&[at(0.0, 0.0), at(5.0, 0.0), at(5.0, 5.0)], &WINDOW).len() < 3);
    }

    #[test]
    fn an_area_that_is_cut_keeps_the_rim_that_is_drawn() {
        let square = |x: f64| vec![at(x, 12.0), at(x + 8.0, 12.0), at(x + 8.0, 15.0), at(x, 15.0)];
        let whole = feature(&Feature::Area(vec![square(12.0)]), &WINDOW);
        assert!(matches!(whole, Some((Feature::Area(_), _))), "{whole:?}");
        let once = feature(&Feature::Area(vec![square(5.0)]), &WINDOW);
        let Some((Feature::Cut(rings, rim), _)) = &once else { panic!("{once:?}") };
        assert_eq!(Box2::of(&rings.concat()), Box2::new(10.0, 12.0, 13.0, 15.0));
        // The side along the window is no rim.
        let along = |p: &[PaperPoint]| p[0].x == 10.0 && p[1].x == 10.0;
        assert!(!rim.iter().any(|r| r.windows(2).any(along)), "{rim:?}");
        let drawn: f64 = rim.iter().map(|r| length(r)).sum();
        assert!((drawn - 9.0).abs() < 1e-9, "{rim:?}");
        // Cut again, it has no more rim than before.
        let again = feature(&once.as_ref().expect("cut").0, &WINDOW);
        assert_eq!(again, once);
        assert!(feature(&Feature::Area(vec![square(40.0)]), &WINDOW).is_none());
    }

    #[test]
    fn a_group_with_nothing_left_is_gone() {
        let far = draw::group(
            "J1",
            "joint",
            vec![draw::line(at(0.0, 0.0), at(5.0, 5.0), crate::paper::style::FINE)],
        );
        assert!(group(far, &WINDOW).is_none());
    }

    #[test]
    fn a_point_outside_is_pointed_at_where_the_window_ends() {
        let points = |all: &[(f64, f64)]| {
            let all = all.iter().map(|p| at(p.0, p.1)).collect();
            match feature(&Feature::Points(all), &WINDOW) {
                Some((Feature::Points(kept), _)) => kept,
                other => panic!("{other:?}"),
            }
        };
        let rows = [
            ("inside", vec![(12.0, 12.0)], vec![at(12.0, 12.0)]),
            ("one of two", vec![(5.0, 15.0), (12.0, 12.0)], vec![at(12.0, 12.0)]),
            ("the nearer", vec![(0.0, 15.0), (20.0, 22.0)], vec![at(20.0, 20.0)]),
        ];
        for (name, given, wanted) in rows {
            assert_eq!(points(&given), wanted, "{name}");
        }
        assert!(feature(&Feature::Points(Vec::new()), &WINDOW).is_none());
    }
}
