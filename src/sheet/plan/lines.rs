//! Joints and cracks, and what is written beside a joint.

use crate::ink::{Group, Mark, PaperPoint};
use crate::quantity::write;
use crate::sketch::{JointKind, Movement};
use crate::slab::{Crack, Joint};
use crate::takeoff::{Chase, JointRepair, JointWork};

use super::nearest::Kin;
use super::steps::{growth, seen_runs};
use super::{Drawing, layer};
use crate::paper::dash;
use crate::paper::draw;
use crate::paper::label::Label;
use crate::paper::mm::{Box2, length, lerp};
use crate::paper::style;
use crate::sheet::legend::Symbol;
use crate::tags::{Outline, Tag};

/// Shortest bar that marks a hand-cut end, mm of paper: a true three inches would vanish at small scales.
const SHORTEST_BAR: f64 = 1.6;

/// Index of the line weight for a crack width.
#[must_use]
pub fn width_class(width_m: f64) -> usize {
    // Widths are read off a gauge in sixty-fourths; a nanometer keeps a converted sixteenth in its class.
    style::CRACK_CLASS_M.iter().filter(|&&limit| width_m > limit + 1e-9).count()
}

impl Drawing<'_> {
    pub(super) fn joints(&mut self) -> Group {
        let (slab, takeoff) = (self.inputs.slab, self.inputs.takeoff);
        let groups = takeoff.joints_of(slab).map(|(j, work)| self.joint(j, work)).collect();
        layer("joints", groups)
    }

    /// A joint on paper, no shorter than is seen.
    pub(super) fn joint_runs(&self, joint: &Joint) -> Vec<Vec<PaperPoint>> {
        seen_runs(self.view.stretches(&joint.path, &joint.on_slab))
    }

    fn joint(&mut self, joint: &Joint, work: &JointWork) -> Group {
        let runs = self.joint_runs(joint);
        let mut marks = Vec::new();
        for run in &runs {
            self.clear.add_soft(run);
            marks.push(joint_line(run, joint.kind));
        }
        self.used.insert(Symbol::joint(joint.kind));
        let by_stretches = work.chase().filter(|_| !mostly_by_hand(work));
        for stretch in by_stretches.map_or(&[][..], |chase| &chase.hand) {
            self.used.insert(Symbol::HandCut);
            marks.push(self.bar(&joint.path, stretch.from_m, stretch.to_m));
        }
        let mut group = draw::group(&*joint.id, format!("joint {}", joint.kind.word()), marks);
        group.title = format!(
            "{}: {} joint, {}, {}",
            joint.id,
            joint.kind.word(),
            work.treatment().word(),
            write::run(work.length_m, self.units())
        );
        self.tags.push(Tag::line(&joint.id, joint.id.clone(), Outline::Square, &runs));
        group
    }

    /// A bar over the stretch of a joint that is cut by hand.
    fn bar(&self, path: &crate::geometry::path::Path, from: f64, to: f64) -> Mark {
        let least = self.view.floor_length(SHORTEST_BAR);
        let short = (least - (to - from)).max(0.0);
        // A short bar grows away from the obstacle it ends at, which is the nearer end of the joint.
        let (from, to) =
            if from < path.length() - to { (from, to + short) } else { (from - short, to) };
        draw::lines(&[self.view.path(&path.part(from, to))], style::HAND_CUT)
    }

    pub(super) fn cracks(&mut self) -> Group {
        let slab = self.inputs.slab;
        let groups = slab.cracks.iter().map(|c| self.crack(c)).collect();
        layer("cracks", groups)
    }

    fn crack(&mut self, crack: &Crack) -> Group {
        let mut marks = Vec::new();
        let runs = self.view.stretches(&crack.path, &crack.on_slab);
        let all: Vec<PaperPoint> = runs.iter().flatten().copied().collect();
        let (middle, factor) = growth(&Box2::of(&all));
        let grown = |run: Vec<PaperPoint>| -> Vec<PaperPoint> {
            let points = run.into_iter();
            points.map(|p| middle + (p - middle) * factor).collect()
        };
        for stretch in &crack.on_slab {
            for (i, &(from, width)) in crack.widths.iter().enumerate() {
                let until = crack.widths.get(i + 1).map_or(f64::INFINITY, |w| w.0);
                let (from, to) = (from.max(stretch.from_m), until.min(stretch.to_m));
                if to <= from {
                    continue;
                }
                let class = width_class(width);
                self.used.insert(Symbol::Crack(class));
                let run = grown(self.view.path(&crack.path.part(from, to)));
                self.clear.add_line(&run);
                marks.push(draw::lines(&[run], style::CRACK[class]));
            }
        }
        let runs = seen_runs(runs);
        let mut group = draw::group(&*crack.id, "crack", marks);
        let movement = match crack.movement {
            Movement::Dormant => "dormant",
            Movement::Active => "moves",
            Movement::Unknown => "movement unknown",
        };
        group.title = format!(
            "{}: crack, {movement}, {}",
            crack.id,
            write::run(crack.path.length(), self.units())
        );
        self.tags.push(Tag::line(&crack.id, crack.id.clone(), Outline::Pill, &runs));
        group
    }

    /// What is cut and how far, along each joint.
    pub(super) fn joint_texts(&mut self, kin: &Kin) {
        for (joint, work) in self.inputs.takeoff.joints_of(self.inputs.slab) {
            if work.length_m <= 0.0 {
                continue;
            }
            let texts = self.joint_words(joint, work);
            let runs = self.joint_runs(joint);
            let off =
                if joint.kind == JointKind::Isolation { style::ISOLATION_APART / 2.0 } else { 0.0 };
            for text in texts {
                let mut places = beside_line(&runs, &text, 1.0 + off);
                places.retain(|l| kin.is_nearest(&joint.id, &l.slip));
                if self.put_label(&format!("text-{}", joint.id), 0.35, places) {
                    break;
                }
            }
        }
    }

    /// The text beside a joint, longest form first.
    fn joint_words(&self, joint: &Joint, work: &JointWork) -> Vec<String> {
        let run = self.run(work.length_m);
        let (full, short) = match &work.repair {
            JointRepair::Honor(seal) => {
                let words = format!("SEAL {}", self.pair(seal.width_m, seal.depth_m));
                let rod =
                    seal.rod_m.map_or(String::new(), |rod| format!(", ROD {}", self.small(rod)));
                (format!("{words}{rod}, {run}"), format!("{words}, {run}"))
            }
            JointRepair::Leave => (format!("LEAVE, {run}"), "LEAVE".to_owned()),
            JointRepair::Fill(Chase { filling, .. }) => {
                let words = self.pair(filling.width_m, filling.depth_m);
                (format!("{words}, {run}"), words)
            }
        };
        let mut extra = String::new();
        if work.seal().is_some_and(|seal| seal.widen_m > 0.0) {
            extra.push_str(", WIDEN FIRST");
        }
        if mostly_by_hand(work) {
            extra.push_str(", BY HAND");
        }
        if joint.buried {
            extra.push_str(", OPEN FIRST");
        }
        if extra.is_empty() {
            vec![full, short]
        } else {
            vec![format!("{full}{extra}"), full, short]
        }
    }
}

/// Whether most of a joint is cut by hand: then the words say so instead of a bar all along it.
fn mostly_by_hand(work: &JointWork) -> bool {
    work.chase().is_some_and(|chase| chase.by_hand || chase.hand_m() > work.length_m / 2.0)
}

/// A joint's own line pattern.
#[must_use]
pub fn joint_line(run: &[PaperPoint], kind: JointKind) -> Mark {
    match kind {
        JointKind::Control => draw::lines(&dash::cut(run, dash::CONTROL), style::CONTROL),
        JointKind::Construction => {
            draw::lines(&dash::cut(run, dash::CONSTRUCTION), style::CONSTRUCTION)
        }
        JointKind::Isolation => {
            let half = style::ISOLATION_APART / 2.0;
            draw::lines(&[draw::beside(run, half), draw::beside(run, -half)], style::ISOLATION)
        }
    }
}

/// Places for text along the straight pieces of a line, longest piece first, from a third of each piece outward.
fn beside_line(runs: &[Vec<PaperPoint>], text: &str, off: f64) -> Vec<Label> {
    let type_ = style::body();
    let mut pieces: Vec<(PaperPoint, PaperPoint)> =
        runs.iter().flat_map(|r| r.windows(2).map(|p| (p[0], p[1]))).collect();
    pieces.sort_by(|a, b| length(&[b.0, b.1]).total_cmp(&length(&[a.0, a.1])));
    let width = crate::paper::words::width(text, type_);
    let mut places = Vec::new();
    for (a, b) in pieces.into_iter().take(6) {
        let span = length(&[a, b]);
        if span < width * 0.6 {
            continue;
        }
        let along = crate::paper::label::reading(b - a);
        for share in
            [0.30, 0.70, 0.25, 0.75, 0.36, 0.64, 0.42, 0.58, 0.2, 0.8, 0.15, 0.85, 0.5, 0.1, 0.9]
        {
            if (share * span).min((1.0 - share) * span) < width / 2.0 + 0.5 {
                continue;
            }
            for side in [1.0, -1.0] {
                let middle = lerp(a, b, share) + along.left() * (side * (off + type_.cap() / 2.0));
                places.push(Label::centered(middle, text, type_, along));
            }
        }
    }
    places
}
