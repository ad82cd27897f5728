//! Marks: the letter of a group in a ring, on its line where it can stand there, else beside it on a leader. Where marks would crowd,
//! neighbors of one group share one, which says how many it stands for; what finds no place is counted and told by its color alone.

use std::collections::BTreeMap;

use crate::ink::{Align, Group, Mark, PaperPoint, WHITE};

use super::cluster::{Cluster, SHARE, clusters, most};
use super::fate::Fate;
use super::floor::{Drawn, Shape};
use super::look;
use super::pin::{displaced, pinned, problem};
use crate::paper::clear::{Clear, Slip};
use crate::paper::draw;
use crate::paper::mm::{Box2, at};
use crate::paper::words;
use crate::tags::place;
use crate::tags::place::{Feature, Leader, LeaderEnd, LeaderRule, Placement};

/// Letters of groups: no I and no O, which read as one and zero.
const LETTERS: [&str; 17] =
    ["A", "B", "C", "D", "E", "F", "G", "H", "J", "K", "L", "M", "N", "P", "Q", "R", "S"];
/// Diameter of a mark, mm.
pub(crate) const ROUND: f64 = 6.6;
/// Room beside the words of a mark that stands for several, mm.
const SIDE: f64 = 1.9;
/// Shortest leader, mm.
const SHORTEST: f64 = 3.0;
/// Length and width of an arrow head, mm.
const ARROW: (f64, f64) = (2.4, 1.0);
/// The marks of a floor.
#[derive(Debug, Default)]
pub(crate) struct Marked {
    /// Leaders, below the marks.
    pub leaders: Group,
    pub marks: Group,
    /// Items of each group that are told by color alone.
    pub unmarked: BTreeMap<Fate, usize>,
    /// Whether a mark stands for several.
    pub shared: bool,
}

/// The letter of each group, in the order of the key.
pub(crate) fn letters(fates: impl Iterator<Item = Fate>) -> BTreeMap<Fate, &'static str> {
    fates.zip(LETTERS).collect()
}

/// Finds a place for every mark.
pub(crate) fn mark(
    drawn: &[Drawn],
    letters: &BTreeMap<Fate, &'static str>,
    clear: &Clear,
    floor: &Box2,
) -> Marked {
    let most = most(floor);
    let mut best: Option<(usize, Solved)> = None;
    for share in SHARE {
        let clusters = clusters(drawn, share, most);
        let Some(clusters) = clusters else { continue };
        let solved = solve(drawn, clusters, letters, clear);
        let lost: usize = solved.unmarked(drawn).values().sum();
        if best.as_ref().is_none_or(|(least, _)| lost < *least) {
            best = Some((lost, solved));
        }
        if lost == 0 {
            break;
        }
    }
    best.map_or_else(Marked::default, |(_, solved)| solved.draw(drawn, letters))
}

/// Clusters with their places.
struct Solved {
    clusters: Vec<Cluster>,
    texts: Vec<String>,
    placement: Placement,
    /// Marks that had to go because their leaders cross others.
    dropped: Vec<usize>,
}

fn text(letter: &str, count: usize) -> String {
    if count == 1 { letter.to_owned() } else { format!("{letter} ×{count}") }
}

pub(super) fn size(text: &str) -> (f64, f64) {
    let width = words::width(text, look::strong()) + 2.0 * SIDE;
    (width.max(ROUND), ROUND)
}

/// Id of a tag while its place is sought: its number, so that the order of the key is kept.
fn tag_id(index: usize) -> String {
    format!("{index:05}")
}

fn solve(
    drawn: &[Drawn],
    clusters: Vec<Cluster>,
    letters: &BTreeMap<Fate, &'static str>,
    clear: &Clear,
) -> Solved {
    let letter = |c: &Cluster| letters.get(&c.fate).copied().unwrap_or_default();
    let texts: Vec<String> = clusters.iter().map(|c| text(letter(c), c.count)).collect();
    let pinned = pinned(drawn, &clusters, &texts, clear);
    let mut problem = problem(drawn, &clusters, clear, &pinned);
    for (i, cluster) in clusters.iter().enumerate() {
        let (feature, leader) = match pinned.get(&i) {
            Some(area) => {
                (Feature::Points { at: vec![area.center()], radius: 0.0 }, LeaderRule::Never)
            }
            None => (feature(drawn[cluster.shown].aim()), LeaderRule::AtLeast(SHORTEST)),
        };
        problem.tags.push(place::Tag {
            id: tag_id(i),
            sizes: vec![size(&texts[i])],
            feature,
            leader,
        });
    }
    let placement = place::place(&problem);
    let mut dropped = crossing(&placement);
    dropped.extend(displaced(&placement, &pinned));
    dropped.extend(far(&placement));
    dropped.sort_unstable();
    dropped.dedup();
    Solved { clusters, texts, placement, dropped }
}

fn feature(shape: &Shape) -> Feature {
    match shape {
        Shape::Line(runs) => Feature::Line(runs.clone()),
        Shape::Area(rings) => {
            let around = Box2::of(&rings.iter().flatten().copied().collect::<Vec<_>>());
            let radius = around.width().min(around.height()) / 2.0;
            if around.width().max(around.height()) < 4.0 {
                Feature::Points { at: vec![around.center()], radius }
            } else {
                Feature::Area(rings.clone())
            }
        }
        Shape::Spot(p) => Feature::Points { at: vec![*p], radius: 1.0 },
    }
}

/// Longest leader of a letter, mm: from farther off it is not seen what it means.
const LONGEST: f64 = 25.0;

/// Marks that stand too far from what they mean.
fn far(placement: &Placement) -> Vec<usize> {
    let placed = placement.placed.iter().enumerate();
    let long = |l: &Leader| (l.to - l.from).length() > LONGEST;
    placed.filter(|(_, p)| p.leader.as_ref().is_some_and(long)).map(|(i, _)| i).collect()
}

/// Marks whose leaders cross another or run through another mark; the one in most others' way goes first.
fn crossing(placement: &Placement) -> Vec<usize> {
    let placed = &placement.placed;
    let through = |a: &Leader, two: &place::Placed| {
        let b = &two.area;
        let area = Slip::upright(&Box2::new(b.left, b.top, b.right, b.bottom));
        area.grown(0.3).meets_segment(a.from, a.to)
    };
    let clash = |one: &place::Placed, two: &place::Placed| match (&one.leader, &two.leader) {
        (Some(a), Some(b)) => {
            place::lines_meet((a.from, a.to), (b.from, b.to)) || through(a, two) || through(b, one)
        }
        (Some(a), None) => through(a, two),
        (None, Some(b)) => through(b, one),
        (None, None) => false,
    };
    let mut clashes: Vec<(usize, usize)> = Vec::new();
    for (i, one) in placed.iter().enumerate() {
        let after = placed.iter().enumerate().skip(i + 1);
        clashes.extend(after.filter(|(_, two)| clash(one, two)).map(|(j, _)| (i, j)));
    }
    let mut dropped = Vec::new();
    while !clashes.is_empty() {
        let mut ways = vec![0_usize; placed.len()];
        for &(i, j) in &clashes {
            ways[i] += 1;
            ways[j] += 1;
        }
        let worst = (0..ways.len()).rev().max_by_key(|&i| ways[i]);
        let Some(worst) = worst else { break };
        dropped.push(worst);
        clashes.retain(|&(i, j)| i != worst && j != worst);
    }
    dropped
}

impl Solved {
    /// Clusters whose mark stands on the plan.
    fn standing(&self) -> impl Iterator<Item = &Cluster> {
        let kept = (0..self.placement.placed.len()).filter(|i| !self.dropped.contains(i));
        kept.filter_map(|i| self.clusters.get(self.index(i)?))
    }

    /// Items of each group without a mark.
    fn unmarked(&self, drawn: &[Drawn]) -> BTreeMap<Fate, usize> {
        let mut out: BTreeMap<Fate, usize> = BTreeMap::new();
        for d in drawn {
            *out.entry(d.fate).or_default() += 1;
        }
        for cluster in self.standing() {
            if let Some(count) = out.get_mut(&cluster.fate) {
                *count = count.saturating_sub(cluster.count);
            }
        }
        out.retain(|_, count| *count > 0);
        out
    }

    /// Cluster of a placed mark.
    fn index(&self, placed: usize) -> Option<usize> {
        self.placement.placed.get(placed)?.id.parse().ok()
    }

    fn draw(&self, drawn: &[Drawn], letters: &BTreeMap<Fate, &'static str>) -> Marked {
        let (mut leaders, mut marks) = (Vec::new(), Vec::new());
        let mut numbers: BTreeMap<Fate, usize> = BTreeMap::new();
        for (i, placed) in self.placement.placed.iter().enumerate() {
            let Some(index) = self.index(i).filter(|_| !self.dropped.contains(&i)) else {
                continue;
            };
            let (Some(cluster), Some(text)) = (self.clusters.get(index), self.texts.get(index))
            else {
                continue;
            };
            let number = numbers.entry(cluster.fate).or_default();
            *number += 1;
            let letter = letters.get(&cluster.fate).copied().unwrap_or_default();
            let id = format!("{letter}-{number}");
            if let Some(leader) = &placed.leader {
                let group = draw::group(format!("leader-{id}"), "leader", leader_marks(leader));
                leaders.push(Mark::Group(group));
            }
            let a = &placed.area;
            let area = Box2::new(a.left, a.top, a.right, a.bottom);
            let group = draw::group(format!("mark-{id}"), "mark", ring(&area, text));
            marks.push(Mark::Group(group));
        }
        Marked {
            leaders: draw::group("leaders", "", leaders),
            marks: draw::group("marks", "", marks),
            unmarked: self.unmarked(drawn),
            shared: self.standing().any(|c| c.count > 1),
        }
    }
}

/// Words in a ring.
pub(crate) fn ring(area: &Box2, text: &str) -> Vec<Mark> {
    let type_ = look::strong();
    // The pen lies inside the box.
    let inner = area.grown(-look::RING.width / 2.0);
    let half = inner.height() / 2.0;
    let base = at(area.center().x, area.center().y + type_.cap() / 2.0);
    vec![
        draw::rounded(&inner, half, half, Some(look::RING), Some(WHITE)),
        Mark::Text(draw::text(base, text, type_, Align::Middle)),
    ]
}

/// The ring of a letter, its middle at a point.
pub(crate) fn letter(p: PaperPoint, text: &str) -> Vec<Mark> {
    ring(&Box2::around(p, ROUND, ROUND), text)
}

fn leader_marks(leader: &Leader) -> Vec<Mark> {
    let black = Some(crate::ink::BLACK);
    let end = match leader.end {
        LeaderEnd::Dot => draw::circle(leader.from, 0.8, None, black),
        LeaderEnd::Arrow => {
            let back = (leader.to - leader.from).unit();
            let foot = leader.from + back * ARROW.0;
            let side = back.left() * (ARROW.1 / 2.0);
            draw::polygon(&[leader.from, foot + side, foot + (-side)], None, black)
        }
    };
    vec![draw::line(leader.from, leader.to, look::FINE), end]
}
