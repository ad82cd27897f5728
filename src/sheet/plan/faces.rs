//! Vertical faces that are coated too: curbs, coves, sides of pads.

use crate::geometry::path::Path;
use crate::ink::{Group, PaperPoint};
use crate::slab::Face;

use super::{Drawing, layer};
use crate::paper::draw;
use crate::paper::label::Label;
use crate::paper::mm::lerp;
use crate::paper::style;
use crate::paper::words;
use crate::sheet::legend::Symbol;
use crate::sheet::view::View;

/// Spacing of the strokes of a face, mm of paper.
const APART: f64 = 2.2;
/// Length of a stroke, mm of paper.
const STROKE: f64 = 1.3;
/// How far beside its foot the floor of a face is looked for, m: 1/2 in.
const BESIDE_M: f64 = 0.0127;
/// Most strokes of one face.
const MOST: f64 = 2000.0;

/// Strokes along the foot of a face, on the side of the floor (1) or on the other (−1).
fn face_comb(view: &View, path: &Path, side: f64) -> Vec<Vec<PaperPoint>> {
    let length = path.length();
    let n = (view.length(length) / APART).round().clamp(1.0, MOST);
    let mut runs = Vec::new();
    let mut i = 0.5;
    while i < n {
        let station = length * i / n;
        let foot = view.point(path.point_at(station));
        let out = view.direction(path.direction_at(station)).left() * side;
        runs.push(vec![foot, foot + out * STROKE]);
        i += 1.0;
    }
    runs
}

impl Drawing<'_> {
    pub(super) fn faces(&mut self) -> Group {
        let slab = self.inputs.slab;
        let mut groups = Vec::new();
        for face in &slab.faces {
            self.used.insert(Symbol::Face);
            let side = self.floor_side(&face.path);
            let comb = face_comb(self.view, &face.path, side);
            comb.iter().for_each(|stroke| self.clear.add_soft(stroke));
            let mut group = draw::group("", "face", vec![draw::lines(&comb, style::OBJECT)]);
            group.title = format!(
                "Vertical face, {} high: {}",
                crate::quantity::write::small(face.height_m, slab.units),
                words::clean(face.name.as_deref().unwrap_or("not named"))
            );
            groups.push(group);
        }
        layer("faces", groups)
    }

    /// On which side of the foot of a face the coated floor lies: 1 on the left as its path runs, −1 on the right.
    fn floor_side(&self, path: &Path) -> f64 {
        let half = path.length() / 2.0;
        let along = path.direction_at(half);
        let left = path.point_at(half) + kurbo::Vec2::new(-along.y, along.x) * BESIDE_M;
        if self.inputs.slab.net.contains(left) { 1.0 } else { -1.0 }
    }

    /// Heights of faces on the side of the floor, where there is room; the table has all of them.
    pub(super) fn face_texts(&mut self) {
        let slab = self.inputs.slab;
        for face in &slab.faces {
            let text = format!("FACE {}", self.small(face.height_m));
            let places = self.beside_face(face, &text);
            self.put_beside("", 0.35, places);
        }
    }

    fn beside_face(&self, face: &Face, text: &str) -> Vec<Label> {
        let type_ = style::body();
        let points = self.view.path(&face.path);
        let side = self.floor_side(&face.path);
        let mut pieces: Vec<_> = points.windows(2).map(|p| (p[0], p[1])).collect();
        pieces.sort_by(|a, b| (b.1 - b.0).length().total_cmp(&(a.1 - a.0).length()));
        let mut out = Vec::new();
        for (a, b) in pieces.into_iter().take(4) {
            let along = (b - a).unit();
            for off in [2.2, 3.4, 5.0] {
                for share in [0.5, 0.35, 0.65, 0.2, 0.8] {
                    let middle =
                        lerp(a, b, share) + along.left() * (side * (off + type_.cap() / 2.0));
                    out.push(Label::centered(middle, text, type_, along));
                }
            }
        }
        out
    }
}
