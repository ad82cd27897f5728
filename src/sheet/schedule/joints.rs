//! The schedule of joints.

use crate::sketch::{Formed, Treatment};
use crate::slab::Joint;
use crate::takeoff::JointWork;

use super::super::plan::{kind_name, treatment_name};
use super::rows::{Rows, left, note, right, sentences, tagged};
use super::{Row, Table};

impl Rows<'_> {
    pub(super) fn joints(&self) -> Table {
        let (slab, takeoff) = (self.inputs.slab, self.inputs.takeoff);
        let rows = slab
            .joints
            .iter()
            .zip(&takeoff.joints)
            .map(|(j, w)| self.joint(j, w))
            .collect();
        let t = &takeoff.totals;
        let treated = takeoff
            .joints
            .iter()
            .filter(|j| j.treatment != Treatment::Leave);
        Table {
            title: "JOINTS".into(),
            columns: vec![
                left("TAG"),
                left("CUT OR SEAL"),
                right(self.run_unit()),
                right("SAW"),
                right("HAND"),
                right("ENDS"),
            ],
            rows,
            total: vec![
                "ALL".into(),
                String::new(),
                self.run(treated.map(|j| j.length_m).sum()),
                self.run_or_blank(t.saw_m),
                self.run_or_blank(t.hand_cut_m),
                if t.hand_ends > 0 {
                    t.hand_ends.to_string()
                } else {
                    String::new()
                },
            ],
            words_head: "WHAT AND WHERE",
        }
    }

    fn joint(&self, joint: &Joint, work: &JointWork) -> Row {
        let size = match work.treatment {
            Treatment::Leave => "leave".to_owned(),
            Treatment::Honor => self.pair(work.sealant_width_mm, work.sealant_depth_mm),
            _ => self.pair(work.chase_width_mm, work.chase_depth_mm),
        };
        let ends = if work.hand_ends > 0 {
            work.hand_ends.to_string()
        } else {
            String::new()
        };
        let kind = format!(
            "{}, {}",
            kind_name(joint.kind),
            treatment_name(work.treatment)
        );
        let rod = work
            .rod_mm
            .map_or(String::new(), |r| format!("rod {}", self.small(r)));
        let widen = match work.widen_m > 0.0 {
            true => format!("widen to {} first", self.small(work.sealant_width_mm)),
            false => String::new(),
        };
        let former = if joint.formed == Formed::Strip && work.treatment == Treatment::Fill {
            "strip left in: take it out"
        } else {
            ""
        };
        let hand = if work.by_hand {
            "followed by hand all along"
        } else {
            ""
        };
        let buried = if joint.buried {
            "buried: open first"
        } else {
            ""
        };
        let at = self.ends(&joint.path, &joint.on_slab, &joint.id);
        Row {
            id: tagged(&joint.id, &joint.on_slab),
            cells: vec![
                joint.id.clone(),
                size,
                self.run(work.length_m),
                self.run_or_blank(work.saw_m),
                self.run_or_blank(work.hand_m),
                ends,
            ],
            words: sentences(&[
                &kind,
                &at,
                &widen,
                &rod,
                buried,
                former,
                hand,
                &note(joint.note.as_deref()),
            ]),
            ..Row::default()
        }
    }
}
