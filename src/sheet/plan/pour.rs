//! Pour lines over the floor: where each batch of one layer should be used up.

use crate::ink::{Group, Mark, PaperPoint};
use crate::order::taped::{Batches, Tape};

use super::{Drawing, layer};
use crate::paper::clear::Slip;
use crate::paper::dash;
use crate::paper::draw;
use crate::paper::label::Label;
use crate::paper::mm::{Box2, length, lerp};
use crate::paper::style;
use crate::paper::words;
use crate::sheet::Inputs;
use crate::sheet::dimensions;
use crate::sheet::legend::Symbol;
use crate::sheet::view::View;
use std::collections::BTreeSet;

/// Radius of the ring around a batch's number, mm.
const NUMBER: f64 = 2.3;

/// The line at which a batch is used up.
#[must_use]
pub fn pour_line(run: &[PaperPoint]) -> Mark {
    draw::lines(&dash::cut(run, dash::POUR), style::POUR)
}

/// The floor with the lines of one layer, in a window of the sheet, the symbols used, and the walls whose tape had room.
#[must_use]
pub fn pour(
    inputs: &Inputs,
    view: &View,
    window: &Box2,
    batches: &Batches,
) -> (Vec<Group>, BTreeSet<Symbol>, BTreeSet<usize>) {
    let mut d = Drawing::new(inputs, None, view, window);
    let mut groups = d.floor();
    let lines = d.pour_lines(batches);
    let (dims, taped) = d.pour_dimensions(&batches.tapes);
    let corners = d.corners();
    groups.push(layer("pour", lines));
    groups.push(layer("dims", corners.into_iter().chain(dims).collect()));
    groups.push(layer("labels", std::mem::take(&mut d.labels)));
    (groups, d.used, taped)
}

impl Drawing<'_> {
    fn pour_lines(&mut self, batches: &Batches) -> Vec<Group> {
        let mut groups = Vec::new();
        for line in &batches.lines {
            let runs: Vec<Vec<PaperPoint>> = line
                .chords
                .iter()
                .map(|(a, b)| vec![self.view.point(*a), self.view.point(*b)])
                .collect();
            if runs.is_empty() {
                continue;
            }
            self.used.insert(Symbol::Pour);
            let marks = runs.iter().map(|r| pour_line(r)).collect();
            let mut group = draw::group(format!("pour-{}", line.batch), "pour", marks);
            group.title = format!("Batch {} is used up here", line.batch);
            groups.push(group);
            self.batch_number(&runs, line.batch);
        }
        groups
    }

    /// The number of a batch on its line, in the longest piece that has room.
    fn batch_number(&mut self, runs: &[Vec<PaperPoint>], batch: usize) {
        let type_ = style::strong();
        let text = batch.to_string();
        let radius = NUMBER.max(words::width(&text, type_) / 2.0 + 0.9);
        let mut pieces: Vec<&Vec<PaperPoint>> = runs.iter().collect();
        pieces.sort_by(|a, b| length(b).total_cmp(&length(a)));
        let places = pieces.iter().flat_map(|p| {
            [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8].map(|share| lerp(p[0], p[p.len() - 1], share))
        });
        // Beside the line where nothing on it is free.
        let beside = pieces.iter().flat_map(|p| {
            let (a, b) = (p[0], p[p.len() - 1]);
            let off = (b - a).unit().left() * (radius + 0.5);
            [0.5, 0.3, 0.7, 0.15, 0.85, 0.0, 1.0]
                .into_iter()
                .flat_map(move |share| [off, -off].map(|o| lerp(a, b, share) + o))
        });
        let slip = |p: PaperPoint| Slip::upright(&Box2::around(p, 2.0 * radius, 2.0 * radius));
        let Some(p) = places.chain(beside).find(|p| self.clear.is_free(&slip(*p), 0.3)) else {
            return;
        };
        self.clear.add(slip(p));
        let marks = vec![
            draw::circle(p, radius, Some(style::FINE), Some(crate::ink::WHITE)),
            Mark::Text(Label::level(p, &text, type_).mark),
        ];
        self.labels.push(draw::group("", "label", marks));
    }

    /// Stations of the lines along the walls they meet, from the corner on the pouring side.
    fn pour_dimensions(&mut self, tapes: &[Tape]) -> (Vec<Group>, BTreeSet<usize>) {
        let (mut groups, mut taped) = (Vec::new(), BTreeSet::new());
        for tape in tapes {
            let stations: Vec<f64> = tape.marks.iter().map(|m| m.1).collect();
            let running = dimensions::from_end(
                self.inputs.slab,
                tape.wall,
                tape.backward,
                &stations,
                self.view,
            );
            if let Some(marks) = running.place(&mut self.clear) {
                self.used.insert(Symbol::Running);
                let id = format!("dim-pour-{}", tape.wall + 1);
                groups.push(draw::group(id, "dimension", marks));
                taped.insert(tape.wall);
            }
        }
        (groups, taped)
    }
}
