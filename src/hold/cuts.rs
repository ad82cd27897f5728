//! Every cut of the job into the slab.

use crate::sketch::Span;
use crate::slab::Slab;
use crate::takeoff::{CrackRepair, JointRepair, Takeoff};
use crate::work::Kind;

/// A cut into the slab.
#[derive(Clone, Debug)]
pub struct Cut<'a> {
    /// Whose cut it is.
    pub id: &'a str,
    /// Where that is noted.
    pub span: Span,
    /// How deep, m; 0 where a buried joint is opened and nobody knows how deep.
    pub depth: f64,
    /// Works that cut it.
    pub works: Vec<Kind>,
}

impl Cut<'_> {
    /// What is done there: a joint that is only opened is opened, holes are drilled.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self.works.as_slice() {
            [Kind::OpenBuried] => "opened",
            [Kind::Inject] => "drilled",
            _ => "cut",
        }
    }
}

/// Joints sawn and opened, cracks chased, both widened for rod and sealant, patches cut out, holes drilled for injection.
#[must_use]
pub fn cuts<'a>(slab: &'a Slab, takeoff: &'a Takeoff) -> Vec<Cut<'a>> {
    let mut out = Vec::new();
    for (joint, work) in takeoff.joints_of(slab) {
        let (chase, seal) = (work.chase(), work.seal());
        let opened = work.buried_m > 0.0;
        let works = [
            (Kind::SawJoints, chase.is_some_and(|chase| chase.saw_m > 0.0)),
            (Kind::DetailJoints, chase.is_some_and(|chase| chase.hand_m() > 0.0)),
            (Kind::OpenBuried, opened),
            (Kind::Widen, seal.is_some_and(|seal| seal.widen_m > 0.0)),
        ];
        let works: Vec<Kind> = works.iter().filter(|w| w.1).map(|w| w.0).collect();
        if !works.is_empty() {
            let found = joint.depth.filter(|_| opened).unwrap_or(0.0);
            let cut = match &work.repair {
                JointRepair::Leave => 0.0,
                JointRepair::Fill(chase) => chase.filling.depth_m,
                JointRepair::Honor(seal) => seal.groove_m,
            };
            out.push(Cut { id: &joint.id, span: joint.span, depth: found.max(cut), works });
        }
    }
    for (crack, work) in takeoff.cracks_of(slab) {
        let portions = || work.portions.iter().filter(|p| p.length_m > 0.0);
        let deep = portions().map(|p| match &p.repair {
            CrackRepair::Chase(groove) => groove.depth_m,
            CrackRepair::Honor(seal) => seal.groove_m,
            CrackRepair::Leave | CrackRepair::Prime | CrackRepair::Fill(_) => 0.0,
        });
        let depth = deep.fold(0.0, f64::max);
        let works = [
            (Kind::ChaseCracks, portions().any(|p| p.chased().is_some())),
            (Kind::Widen, portions().any(|p| p.seal().is_some_and(|seal| seal.widen_m > 0.0))),
        ];
        let works = works.iter().filter(|w| w.1).map(|w| w.0).collect();
        if depth > 0.0 {
            out.push(Cut { id: &crack.id, span: crack.span, depth, works });
        }
    }
    for (loose, work) in takeoff.delaminations_of(slab) {
        if work.injection().is_some() {
            let (id, span, depth) = (&*loose.id, loose.span, work.depth_m);
            out.push(Cut { id, span, depth, works: vec![Kind::Inject] });
        }
    }
    let items = slab.by_id();
    for patch in &takeoff.patches {
        if let Some(first) = patch.ids().next().and_then(|id| items.get(id)) {
            out.push(Cut {
                id: &patch.id,
                span: first.span(),
                depth: patch.depth_mm / 1000.0,
                works: vec![Kind::Patch],
            });
        }
    }
    out
}
