//! What had no room on any map of the set, in words.

use crate::quantity::tape::tape;
use crate::slab::directions::Locator;

use std::collections::BTreeSet;

use super::map::Drawn;
use crate::paper::words;
use crate::sheet::Inputs;
use crate::sheet::flow::Notes;
use crate::sheet::plan::Remark;

/// Most panels that are said in a sentence; more get a list.
const MOST_PANELS: usize = 2;

/// What could not be written on any map: what one sheet shows is not missing on another.
#[must_use]
pub fn missing(drawn: &[Drawn]) -> BTreeSet<Remark> {
    let shown: BTreeSet<&Remark> = drawn.iter().flat_map(|d| &d.plan.shown).collect();
    let missing = drawn.iter().flat_map(|d| &d.plan.remarks);
    missing.filter(|r| !shown.contains(r)).cloned().collect()
}

/// The remarks as sentences, one for each kind of thing.
#[must_use]
pub fn sentences(inputs: &Inputs, missing: &BTreeSet<Remark>) -> Vec<String> {
    let (slab, locator) = (inputs.slab, Locator::new(inputs.slab));
    let (mut out, mut corners, mut walls) = (Vec::new(), Vec::new(), Vec::new());
    let n = slab.outline.corners.len().max(1);
    for what in missing {
        match what {
            Remark::Opening(i) => out.extend(opening(inputs, &locator, *i)),
            Remark::Corner(i) => corners.push((*i, (i + n - 2) % n + 1, i % n + 1)),
            Remark::Wall(i) => {
                let wall = i.checked_sub(1).and_then(|i| slab.outline.walls.get(i));
                if let Some(wall) = wall {
                    walls.push((locator.taped_name(i - 1), tape(wall.length(), slab.units)));
                }
            }
            Remark::Panel(_) => {}
        }
    }
    match corners.as_slice() {
        [] => {}
        [(i, a, b)] => out.push(format!(
            "Corner {i}, which had no room for its number, lies between corners {a} and {b}."
        )),
        many => out.push(format!(
            "Corners that had no room for their numbers: {}.",
            listed(many.iter().map(|(i, a, b)| format!("{i} between {a} and {b}")))
        )),
    }
    match walls.as_slice() {
        [] => {}
        [(wall, length)] => {
            out.push(format!("Wall {wall}, which had no room for its dimension, is {length} long."))
        }
        many => out.push(format!(
            "Lengths of walls that had no room for their dimensions: {}.",
            listed(many.iter().map(|(wall, length)| format!("{wall} {length}")))
        )),
    }
    let panels = panels(inputs, missing);
    if panels.len() <= MOST_PANELS {
        out.extend(panels.into_iter().map(|(id, place)| {
            format!("Panel {id}, which had no room for its number: middle {place}.")
        }));
    }
    out
}

/// Where panels are that have no number on any map, if they are too many for a sentence.
#[must_use]
pub fn panel_list(inputs: &Inputs, missing: &BTreeSet<Remark>) -> Option<Notes> {
    let panels = panels(inputs, missing).into_iter();
    let paragraphs: Vec<_> = panels.map(|(id, place)| (id, format!("Middle {place}"))).collect();
    (paragraphs.len() > MOST_PANELS).then(|| Notes {
        title: "PANELS WITHOUT A NUMBER".into(),
        paragraphs,
        framed: false,
    })
}

/// Id and middle of panels without a number, in the order of the floor.
fn panels(inputs: &Inputs, missing: &BTreeSet<Remark>) -> Vec<(String, String)> {
    let locator = Locator::new(inputs.slab);
    let panels = inputs.slab.panels.iter();
    panels
        .filter(|p| missing.contains(&Remark::Panel(p.id.clone())))
        .map(|p| (p.id.clone(), locator.point(p.label, "")))
        .collect()
}

fn opening(inputs: &Inputs, locator: &Locator, index: usize) -> Option<String> {
    let opening = inputs.slab.openings.get(index)?;
    let index = opening.wall.saturating_sub(1);
    let mut ends = [opening.from_m, opening.to_m].map(|s| locator.taped(index, s));
    ends.sort_by(f64::total_cmp);
    let [from, to] = ends.map(|s| tape(s, inputs.slab.units));
    let wall = locator.taped_name(index);
    let name = words::clean(opening.name.as_deref()?);
    Some(format!("The opening in wall {wall} from {from} to {to} is: {name}."))
}

fn listed(items: impl Iterator<Item = String>) -> String {
    items.collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::fixture::{floor, inputs};

    /// Four panels in a row, a doorway with a name.
    fn row() -> crate::floor::Survey {
        floor(
            "slabwalk: 1\njob: {name: Row}\nunits: us\nslab:\n  outline: [[0, 0], [40', 0], [40', 10'], [0, 10']]\n  openings:\n    - {wall: 1, from: 2', to: 12', name: Bay door}\n\
            joints:\n  - {kind: control, x: 10', width: 1/4, depth: 1}\n  - {kind: control, x: 20', width: 1/4, depth: 1}\n  - {kind: control, x: 30', width: 1/4, depth: 1}\n",
        )
    }

    #[test]
    fn one_thing_is_a_sentence_and_several_are_a_list() {
        let survey = row();
        let inputs = inputs(&survey);
        let said = |all: &[Remark]| sentences(&inputs, &all.iter().cloned().collect());
        let rows: [(&[Remark], &str); 6] = [
            (&[Remark::Opening(0)], "The opening in wall 1→2 from 2'-0\" to 12'-0\" is: Bay door."),
            (
                &[Remark::Corner(1)],
                "Corner 1, which had no room for its number, lies between corners 4 and 2.",
            ),
            (
                &[Remark::Corner(4), Remark::Corner(2)],
                "Corners that had no room for their numbers: 2 between 1 and 3, 4 between 3 and 1.",
            ),
            (&[Remark::Wall(4)], "Wall 1→4, which had no room for its dimension, is 10'-0\" long."),
            (
                &[Remark::Wall(1), Remark::Wall(2)],
                "Lengths of walls that had no room for their dimensions: 1→2 40'-0\", 2→3 10'-0\".",
            ),
            (
                &[Remark::Panel("P1".into())],
                "Panel P1, which had no room for its number: middle 1→2 5'-0\", out 5'-0\".",
            ),
        ];
        for (missing, text) in rows {
            assert_eq!(said(missing), [text], "{missing:?}");
        }
        // What is on no floor says nothing.
        let none = [Remark::Opening(9), Remark::Wall(99), Remark::Panel("P99".into())];
        assert!(said(&none).is_empty());
    }

    #[test]
    fn many_panels_are_a_list_that_breaks() {
        let survey = row();
        let inputs = inputs(&survey);
        let missing = (1..=4).map(|i| Remark::Panel(format!("P{i}"))).collect();
        assert!(sentences(&inputs, &missing).is_empty());
        let list = panel_list(&inputs, &missing).expect("a list");
        assert_eq!(list.paragraphs.len(), 4);
        assert_eq!(list.paragraphs[3].0, "P4");
        assert!(!list.framed);
    }
}
