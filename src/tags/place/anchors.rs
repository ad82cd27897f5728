//! Places on a feature where a leader may end.

use super::interior::{Rings, deep_point, depth, way_out};
use super::shape::{distance, snap, snap_point};
use super::{Feature, LeaderEnd, Line, free};
use crate::ink::PaperPoint;

/// Shares of a line's length at which a leader may end, best first.
const STATIONS: [f64; 5] = [0.5, 0.3, 0.7, 0.12, 0.88];

/// How far a corner is pulled in for an anchor, mm: room for a dot and a little more.
const PULLED_IN: f64 = 3.0;

/// Room that a dot needs on every side, mm: a dot of 1.2 mm and a hair.
const DOT_ROOM: f64 = 0.8;

/// Corners of an area, runs of a line or points used as anchors, at most.
const MOST_PARTS: usize = 6;

/// A place where a leader may end.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Anchor {
    /// The point that directions are taken from.
    pub at: PaperPoint,
    /// Direction of the feature here, radians modulo π; `None` if it has none.
    pub grain: Option<f64>,
    /// Where the leader ends, seen from `at`.
    rim: Rim,
}

#[derive(Clone, Debug, PartialEq)]
enum Rim {
    /// On a line.
    Here,
    /// Inside an area.
    Inside,
    /// At this distance, mm.
    Round(f64),
    /// Where the rings are left.
    Rings(Vec<Vec<PaperPoint>>),
}

impl Anchor {
    /// Where a leader that leaves in a direction starts, as an offset from `at`.
    pub fn start(&self, (ux, uy): (f64, f64)) -> (f64, f64) {
        let far = match &self.rim {
            Rim::Here | Rim::Inside => return (0.0, 0.0),
            Rim::Round(radius) => *radius,
            Rim::Rings(rings) => way_out(rings, self.at, (ux, uy)),
        };
        (snap(ux * far), snap(uy * far))
    }

    /// What is drawn at the end.
    pub fn end(&self) -> LeaderEnd {
        if self.rim == Rim::Inside { LeaderEnd::Dot } else { LeaderEnd::Arrow }
    }
}

/// Anchors of a feature, best first; `lines` are what an arrow must not be taken to point at.
pub(super) fn anchors(feature: &Feature, lines: &[Line]) -> Vec<Anchor> {
    match feature {
        Feature::Points { at, radius } => {
            at.iter().take(MOST_PARTS).map(|&at| round(at, *radius)).collect()
        }
        Feature::Line(runs) => on_lines(runs, lines),
        Feature::Area(rings) => in_area(rings, None),
        Feature::Cut { rings, rim } => in_area(rings, Some(on_lines(rim, lines))),
    }
}

fn round(at: PaperPoint, radius: f64) -> Anchor {
    Anchor { at, grain: None, rim: Rim::Round(radius) }
}

/// Stations of the longest run, then the middles of the others, each moved off what crosses it there.
fn on_lines(runs: &[Vec<PaperPoint>], lines: &[Line]) -> Vec<Anchor> {
    let length = |run: &Vec<PaperPoint>| run.windows(2).map(|p| distance(p[0], p[1])).sum::<f64>();
    let mut longest_first: Vec<(f64, &Vec<PaperPoint>)> =
        runs.iter().map(|run| (length(run), run)).collect();
    longest_first.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut anchors: Vec<Anchor> = Vec::new();
    for (rank, &(length, run)) in longest_first.iter().take(MOST_PARTS).enumerate() {
        let shares = if rank == 0 { &STATIONS[..] } else { &STATIONS[..1] };
        let free = free::stretches(run, length, lines);
        for share in shares {
            let (at, grain) = station(run, free::station(&free, share * length));
            if anchors.iter().all(|a| a.at != at) {
                anchors.push(Anchor { at, grain, rim: Rim::Here });
            }
        }
    }
    anchors
}

/// Point and direction at a distance along a polyline.
pub(super) fn station(points: &[PaperPoint], along: f64) -> (PaperPoint, Option<f64>) {
    let mut left = along;
    let mut last = (points.first().copied().unwrap_or_default(), None);
    for pair in points.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let length = distance(a, b);
        if length == 0.0 {
            continue;
        }
        let share = (left / length).min(1.0);
        // The offset is put on the fine grid before it is added, so that a moved line has moved anchors.
        let at =
            PaperPoint { x: a.x + snap(share * (b.x - a.x)), y: a.y + snap(share * (b.y - a.y)) };
        last = (at, Some((b.y - a.y).atan2(b.x - a.x).rem_euclid(std::f64::consts::PI)));
        if left <= length {
            break;
        }
        left -= length;
    }
    last
}

/// The deepest point, corners pulled in, then the rim, whole or what is drawn of it. An area too thin for a dot has its rim only.
fn in_area(rings: &Rings, drawn: Option<Vec<Anchor>>) -> Vec<Anchor> {
    // Worked out about a corner of its own, so that a moved area has moved anchors.
    let origin = rings.iter().flatten().next().copied().unwrap_or_default();
    let local = shifted(rings, -origin.x, -origin.y);
    let (deep, room) = deep_point(&local);
    let mut inside = Vec::new();
    if room >= DOT_ROOM {
        inside.push(deep);
        let corners = local.iter().flatten().filter_map(|&c| pulled_in(&local, c, deep));
        inside.extend(corners.take(MOST_PARTS));
    }
    let anchor =
        |p: PaperPoint, rim: Rim| Anchor { at: moved(p, origin.x, origin.y), grain: None, rim };
    let mut anchors: Vec<Anchor> = inside.into_iter().map(|p| anchor(p, Rim::Inside)).collect();
    match drawn {
        Some(drawn) if !drawn.is_empty() => anchors.extend(drawn),
        // Nothing is drawn of the rim: where there is no room for a dot either, the leader ends where the drawing does.
        Some(_) if !anchors.is_empty() => {}
        _ => anchors.push(anchor(deep, Rim::Rings(rings.to_vec()))),
    }
    anchors
}

fn moved(p: PaperPoint, dx: f64, dy: f64) -> PaperPoint {
    PaperPoint { x: p.x + dx, y: p.y + dy }
}

fn shifted(rings: &Rings, dx: f64, dy: f64) -> Vec<Vec<PaperPoint>> {
    rings.iter().map(|ring| ring.iter().map(|&p| moved(p, dx, dy)).collect()).collect()
}

/// A corner moved toward the deepest point, if there is room for a dot.
fn pulled_in(rings: &Rings, corner: PaperPoint, deep: PaperPoint) -> Option<PaperPoint> {
    let far = distance(corner, deep);
    let share = PULLED_IN / far;
    let p = snap_point(PaperPoint {
        x: corner.x + share * (deep.x - corner.x),
        y: corner.y + share * (deep.y - corner.y),
    });
    (far > PULLED_IN && depth(rings, p) >= DOT_ROOM).then_some(p)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: f64, y: f64) -> PaperPoint {
        PaperPoint { x, y }
    }

    #[test]
    fn stations_of_a_bent_line() {
        let found = anchors(
            &Feature::Line(vec![
                vec![at(50.0, 50.0), at(52.0, 50.0)],
                vec![at(0.0, 0.0), at(10.0, 0.0), at(10.0, 10.0)],
            ]),
            &[],
        );
        assert_eq!((found.len(), found[5].at), (6, at(51.0, 50.0)));
        assert_eq!((found[0].at, found[0].grain), (at(10.0, 0.0), Some(0.0)));
        assert_eq!((found[1].at, found[1].grain), (at(6.0, 0.0), Some(0.0)));
        assert!((found[2].at.y - 4.0).abs() < 1e-3 && found[2].end() == LeaderEnd::Arrow);
    }

    #[test]
    fn arrows_keep_off_what_crosses_a_line() {
        let piece = |x0, y0, x1, y1| Line { from: at(x0, y0), to: at(x1, y1), width: 0.25 };
        // A joint in its own pieces, and others across it every 8 mm, one of them at each station.
        let mut lines: Vec<Line> =
            (0..10).map(|i| f64::from(i) * 8.0).map(|x| piece(x, 20.0, x + 8.0, 20.0)).collect();
        lines.extend((0..=10).map(|i| piece(f64::from(i) * 8.0, 0.0, f64::from(i) * 8.0, 40.0)));
        let joint = Feature::Line(vec![vec![at(0.0, 20.0), at(80.0, 20.0)]]);
        let found = anchors(&joint, &lines);
        assert_eq!(found.len(), 5);
        for a in &found {
            let off = (a.at.x / 8.0).fract() * 8.0;
            assert!((3.0..=5.0).contains(&off), "{a:?}");
        }
        // Where there is no such place, as far off as may be; where nothing crosses, nothing moves.
        lines.extend(
            (0..10).map(|i| piece(f64::from(i) * 8.0 + 4.0, 0.0, f64::from(i) * 8.0 + 4.0, 40.0)),
        );
        let off = (anchors(&joint, &lines)[0].at.x / 4.0).fract() * 4.0;
        assert!((off - 2.0).abs() < 0.5, "{off}");
        assert_eq!(anchors(&joint, &lines[..10])[0].at, at(40.0, 20.0));
    }

    #[test]
    fn an_area_has_a_dot_inside_and_a_thin_one_its_rim() {
        let wide = anchors(
            &Feature::Area(vec![vec![at(0.0, 0.0), at(20.0, 0.0), at(20.0, 10.0), at(0.0, 10.0)]]),
            &[],
        );
        assert_eq!(wide[0].end(), LeaderEnd::Dot);
        assert_eq!(wide.len(), 6);
        let thin = anchors(
            &Feature::Area(vec![vec![at(0.0, 0.0), at(20.0, 0.0), at(20.0, 1.0), at(0.0, 1.0)]]),
            &[],
        );
        assert_eq!((thin.len(), thin[0].end()), (1, LeaderEnd::Arrow));
        assert!((thin[0].start((0.0, 1.0)).1 - 0.5).abs() < 0.1);
    }

    #[test]
    fn a_round_thing_is_met_at_its_rim() {
        let found = anchors(&Feature::Points { at: vec![at(5.0, 5.0)], radius: 2.0 }, &[]);
        assert_eq!(found[0].start((1.0, 0.0)), (2.0, 0.0));
    }

    #[test]
    fn a_line_without_length_has_one_anchor() {
        assert_eq!(anchors(&Feature::Line(vec![vec![at(1.0, 1.0), at(1.0, 1.0)]]), &[]).len(), 1);
    }
}
