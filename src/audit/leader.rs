//! Leaders that are long where there was room nearby: a place is looked for afresh, with nothing but blank paper under it.

use std::f64::consts::TAU;

use super::apart::tips;
use super::overlap::{Tag, tags};
use super::read::{Drawing, Piece, mm};
use super::turned::{self, Own};
use super::{Code, LONG_LEADER, Report};
use crate::ink::PaperPoint;
use crate::tags::place::{PaperBox, lines_meet};

/// Lengths of leader that are tried, mm.
const LENGTHS: [f64; 5] = [4.0, 7.0, 10.0, 14.0, 19.0];

/// Directions that are tried.
const DIRECTIONS: usize = 24;

/// Blank paper around a place, mm.
const BLANK: f64 = 0.8;

/// What a leader starts on is within this of its end, mm.
const START: f64 = 1.5;

pub(super) fn check(drawing: &Drawing, report: &mut Report) {
    let tags = tags(drawing);
    for (tip, (id, item)) in tips(drawing) {
        let Some(tag) = tags.iter().find(|t| t.item == item) else {
            continue;
        };
        let length = from_box(&tag.area, tip);
        if length > LONG_LEADER
            && let Some(nearer) = room(drawing, &tags, tag, tip)
        {
            let message = format!(
                "the leader of {item} is {} long; there is room at {}",
                mm(length),
                mm(nearer)
            );
            report.fault(Code::LongLeader, &[id], message);
        }
    }
}

/// From a box to a point outside it.
fn from_box(area: &PaperBox, p: PaperPoint) -> f64 {
    let dx = (area.left - p.x).max(p.x - area.right).max(0.0);
    let dy = (area.top - p.y).max(p.y - area.bottom).max(0.0);
    dx.hypot(dy)
}

/// The plan: what its lines and items fill.
fn plan(drawing: &Drawing) -> Option<PaperBox> {
    let of_plan = drawing.shapes.iter().filter(|s| {
        let place = drawing.place(s.place);
        place.plan_line || place.item.is_some()
    });
    of_plan.map(|s| s.area).reduce(|a, b| a.joined(&b))
}

/// The length of a leader to a blank place nearby.
fn room(drawing: &Drawing, tags: &[Tag], tag: &Tag, tip: PaperPoint) -> Option<f64> {
    let plan = plan(drawing)?;
    let reach = LONG_LEADER + tag.area.width();
    let around = PaperBox::around(tip, 2.0 * reach, 2.0 * reach);
    let others = drawing.shapes.iter().filter(|s| {
        let place = drawing.place(s.place);
        let own =
            place.tag.as_deref() == Some(tag.item) || place.leader.as_deref() == Some(tag.item);
        !own && s.area.overlaps(&around)
    });
    let (lines, solids): (Vec<_>, Vec<_>) = others.partition(|s| s.stroke.is_some());
    let in_item =
        |s: &&&super::read::Shape| drawing.place(s.place).item.is_some() && s.fill.is_some();
    let standing: Vec<_> = lines.iter().chain(&solids).filter(in_item).collect();
    let lines: Vec<Piece> = lines.iter().flat_map(|s| s.pieces()).collect();
    let (w, h) = (tag.area.width() / 2.0, tag.area.height() / 2.0);
    let free = |area: &PaperBox, leader: Piece| {
        let wide = area.grown(BLANK);
        let clear_of = |other: &PaperBox| !wide.overlaps(other);
        plan.contains_box(&wide)
            && !standing.iter().any(|s| s.holds(area.centre()))
            && lines.iter().all(|l| {
                let met = wide.is_crossed_by(l.0, l.1) || lines_meet(leader, *l);
                !met || (turned::from_piece(tip, *l) < START && !wide.is_crossed_by(l.0, l.1))
            })
            && tags.iter().filter(|t| t.item != tag.item).all(|t| {
                clear_of(&t.area) && !t.area.grown(BLANK).is_crossed_by(leader.0, leader.1)
            })
            && drawing.words.iter().all(|w| {
                let own = Own::of(&w.frame);
                let sides = ((-BLANK, own.length + BLANK), (-BLANK, own.height + BLANK));
                drawing.place(w.place).tag.as_deref() == Some(tag.item)
                    || (clear_of(&w.ink) && own.clipped(leader, sides).is_none())
            })
    };
    LENGTHS.into_iter().find(|&length| {
        (0..DIRECTIONS).any(|n| {
            let (sin, cos) = (TAU * n as f64 / DIRECTIONS as f64).sin_cos();
            let far = length + (w / cos.abs()).min(h / sin.abs());
            let at = |d: f64| PaperPoint { x: tip.x + d * cos, y: tip.y + d * sin };
            free(&PaperBox::around(at(far), 2.0 * w, 2.0 * h), (tip, at(length)))
        })
    })
}
