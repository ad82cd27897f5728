//! The schedule of joints.

use crate::sketch::{Formed, Span};
use crate::slab::Joint;
use crate::takeoff::{Chase, JointRepair, JointWork};

use super::rows::{Rows, left, note, right, sentences, tagged};
use super::{Row, Table};

impl Rows<'_> {
    pub(super) fn joints(&self) -> Table {
        let (slab, takeoff) = (self.inputs.slab, self.inputs.takeoff);
        let mut told = None;
        let rows = takeoff.joints_of(slab).map(|(j, w)| self.joint(j, w, &mut told)).collect();
        let t = &takeoff.totals;
        let treated = takeoff.joints.iter().filter(|j| !matches!(j.repair, JointRepair::Leave));
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
                if t.hand_ends > 0 { t.hand_ends.to_string() } else { String::new() },
            ],
            words_head: "WHAT AND WHERE",
        }
    }

    /// The row of a joint. Joints of one record say once what they have in common; `told` is the record of the joint before, with the id
    /// of the joint that said it and what it said.
    fn joint<'j>(
        &self,
        joint: &'j Joint,
        work: &JointWork,
        told: &mut Option<(Span, &'j str, String)>,
    ) -> Row {
        let (chase, seal) = (work.chase(), work.seal());
        let size = match &work.repair {
            JointRepair::Leave => "leave".to_owned(),
            JointRepair::Honor(seal) => self.pair(seal.width_m, seal.depth_m),
            JointRepair::Fill(Chase { filling, .. }) => self.pair(filling.width_m, filling.depth_m),
        };
        let ends = chase.map(Chase::hand_ends).filter(|ends| *ends > 0);
        let kind = format!("{}, {}", joint.kind.word(), work.treatment().word());
        let rod = seal.and_then(|seal| seal.rod_m);
        let rod = rod.map_or(String::new(), |rod| format!("rod {}", self.small(rod)));
        let widen = seal.filter(|seal| seal.widen_m > 0.0);
        let widen = widen
            .map_or(String::new(), |seal| format!("widen to {} first", self.small(seal.width_m)));
        let former = if joint.formed == Formed::Strip && chase.is_some() {
            "strip left in: take it out"
        } else {
            ""
        };
        let by_hand = chase.is_some_and(|chase| chase.by_hand);
        let hand = if by_hand { "followed by hand all along" } else { "" };
        let buried = if joint.buried { "buried: open first" } else { "" };
        let at = self.ends(&joint.path, &joint.on_slab, &joint.id);
        let note = note(joint.note.as_deref());
        let others = [&widen, &rod, buried, former, hand, &note];
        let common = sentences(&[&[kind.as_str()], &others[..]].concat());
        let words = match told {
            Some((record, id, said)) if (*record, &*said) == (joint.span, &common) => {
                sentences(&[&format!("as {id}"), &at])
            }
            _ => {
                *told = Some((joint.span, &joint.id, common));
                sentences(&[&[&kind, at.as_str()], &others[..]].concat())
            }
        };
        Row {
            id: tagged(&joint.id, &joint.on_slab),
            cells: vec![
                joint.id.clone(),
                size,
                self.run(work.length_m),
                self.run_or_blank(chase.map_or(0.0, |chase| chase.saw_m)),
                self.run_or_blank(chase.map_or(0.0, Chase::hand_m)),
                ends.map_or(String::new(), |ends| ends.to_string()),
            ],
            words,
            ..Row::default()
        }
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn joints_of_one_record_say_once_what_they_have_in_common() {
        let survey = crate::sheet::fixture::room(
            "joints:\n  - {id: J1, kind: control, x: [5', 10', 15'], width: 1/4, depth: 1, note: by the wall}\n  - {id: J2, kind: control, y: 8', width: 1/4, depth: 1, note: by the wall}\n",
        );
        let tables = crate::sheet::schedule::tables(&crate::sheet::fixture::inputs(&survey));
        let rows = &tables[0].rows;
        let starts =
            |i: usize, with: &str| assert!(rows[i].words.starts_with(with), "{}", rows[i].words);
        let ids: Vec<&str> = rows.iter().map(|row| row.cells[0].as_str()).collect();
        assert_eq!(ids, ["J1.1", "J1.2", "J1.3", "J2"]);
        starts(0, "Control, ");
        assert!(rows[0].words.ends_with("By the wall"));
        starts(1, "As J1.1. ");
        starts(2, "As J1.1. ");
        assert!(!rows[2].words.contains("By the wall"));
        starts(3, "Control, ");
    }
}
