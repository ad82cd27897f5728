//! Where the lines at which a batch is used up meet the walls, for who marks them on the floor before anything is mixed.

use kurbo::Point;

use crate::geometry::sweep::Sweep;
use crate::slab::{PourSide, Slab};

use super::{PourLine, PourLines};

/// A wall is taken if a line on the floor ends this close to it, m: 2 ft bridge a sill strip that stays uncoated.
const REACH_M: f64 = 0.609_6;
/// A wall that leans less than this from the line (sine of about 12°) is not taped along: a small error would move the line far.
const LEAST_SLOPE: f64 = 0.2;
/// A line this close to the corner it is taped from has nothing to tape, m: half an inch.
const AT_CORNER_M: f64 = 0.012_7;

/// A wall along which lines are taped.
#[derive(Clone, Debug, PartialEq)]
pub struct Tape {
    /// Index of the wall.
    pub wall: usize,
    /// Whether it is taped from its second corner, which is then the nearer to the pouring side.
    pub backward: bool,
    /// Batch, and the distance along the wall at which its line meets it, m; ascending.
    pub marks: Vec<(usize, f64)>,
}

/// The lines of one layer, or of several layers with the same lines.
#[derive(Clone, Debug, PartialEq)]
pub struct Batches {
    /// Names of the layers.
    pub layers: Vec<String>,
    /// How long each can be worked with, s; `None` where the shop book doesn't say.
    pub pot_life_s: Option<f64>,
    /// All of them; the last ends with the floor.
    pub all: Vec<PourLine>,
    /// Lines at which a batch is used up: of all but the last.
    pub lines: Vec<PourLine>,
    /// Walls that the lines meet.
    pub tapes: Vec<Tape>,
}

/// Lines of all layers, bottom up; layers with the same lines together.
#[must_use]
pub fn batches(slab: &Slab, all: &[PourLines]) -> Vec<Batches> {
    let Some(side) = &slab.pour_from else {
        return Vec::new();
    };
    let start = Sweep::new(&slab.net, side.away).start();
    let mut out: Vec<Batches> = Vec::new();
    for layer in all {
        let same = |b: &&mut Batches| b.all == layer.lines && b.pot_life_s == layer.pot_life_s;
        if let Some(known) = out.iter_mut().find(same) {
            known.layers.push(layer.layer.clone());
            continue;
        }
        let lines: Vec<PourLine> =
            layer.lines.iter().filter(|l| !l.chords.is_empty()).cloned().collect();
        out.push(Batches {
            layers: vec![layer.layer.clone()],
            pot_life_s: layer.pot_life_s,
            all: layer.lines.clone(),
            tapes: tapes(slab, side, start, &lines),
            lines,
        });
    }
    out
}

/// Where lines meet straight walls.
fn tapes(slab: &Slab, side: &PourSide, start: f64, lines: &[PourLine]) -> Vec<Tape> {
    let mut out = Vec::new();
    for (wall, path) in slab.outline.walls.iter().enumerate() {
        if path.is_curved() {
            continue;
        }
        let behind = |p: Point| p.to_vec2().dot(side.away) - start;
        let (a, b) = (behind(path.start()), behind(path.end()));
        let backward = b < a;
        let (near, far) = if backward { (b, a) } else { (a, b) };
        if far - near < LEAST_SLOPE * path.length() {
            continue;
        }
        let mut marks = Vec::new();
        for line in lines {
            let share = (line.distance_m - near) / (far - near);
            let station = share * path.length();
            if !(0.0..=1.0).contains(&share) || station < AT_CORNER_M {
                continue;
            }
            let at = path.point_at(if backward { path.length() - station } else { station });
            let ends = line.chords.iter().flat_map(|(p, q)| [*p, *q]);
            if ends.into_iter().any(|p| p.distance(at) <= REACH_M) {
                marks.push((line.batch, station));
            }
        }
        if !marks.is_empty() {
            marks.sort_by(|a, b| a.1.total_cmp(&b.1));
            out.push(Tape { wall, backward, marks });
        }
    }
    out
}
