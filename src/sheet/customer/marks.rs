//! Marks: the letter of a group in a ring, on its line where it can stand there, else beside it on a leader. Where marks would crowd,
//! neighbors of one group share one, which says how many it stands for; what finds no place is counted and told by its color alone.

use std::collections::BTreeMap;

use crate::ink::{Align, Group, Mark, PaperPoint, WHITE};

use super::super::clear::{Clear, Slip, Thing};
use super::super::draw;
use super::super::hatch;
use super::super::mm::{Box2, at, length, lerp};
use super::super::place::{
    self, Feature, Leader, LeaderEnd, LeaderRule, PaperBox, Placement, Problem,
};
use super::super::words;
use super::fate::Fate;
use super::floor::{Drawn, Shape};
use super::look;

/// Letters of groups: no I and no O, which read as one and zero.
const LETTERS: [&str; 17] = [
    "A", "B", "C", "D", "E", "F", "G", "H", "J", "K", "L", "M", "N", "P", "Q", "R", "S",
];
/// Diameter of a mark, mm.
pub(crate) const ROUND: f64 = 6.6;
/// Room beside the words of a mark that stands for several, mm.
const SIDE: f64 = 1.9;
/// Distances within which neighbors share a mark, mm, tried in this order.
const SHARE: [f64; 7] = [0.0, 9.0, 14.0, 20.0, 28.0, 40.0, 60.0];
/// Paper for one mark, mm², below which neighbors share.
const PAPER_A_MARK: f64 = 190.0;
/// Shortest leader, mm.
const SHORTEST: f64 = 3.0;
/// Length and width of an arrow head, mm.
const ARROW: (f64, f64) = (2.4, 1.0);
/// Share of a line's length at which its mark may stand, best first.
const STATIONS: [f64; 13] = [
    0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.45, 0.55, 0.35, 0.65, 0.12, 0.88,
];

/// A mark and what it stands for.
#[derive(Clone, Debug)]
struct Cluster {
    fate: Fate,
    /// Index of the item it points at.
    shown: usize,
    /// How many it stands for.
    count: usize,
    at: PaperPoint,
}

/// The marks of a floor.
#[derive(Debug, Default)]
pub(crate) struct Marked {
    /// Leaders, below the marks.
    pub leaders: Group,
    /// Marks.
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
    let most = (floor.width() * floor.height() / PAPER_A_MARK).max(24.0);
    let mut best: Option<(usize, Solved)> = None;
    for share in SHARE {
        let clusters = clusters(drawn, share, most);
        let Some(clusters) = clusters else { continue };
        let solved = solve(drawn, clusters, letters, clear);
        let lost = solved.lost();
        if best.as_ref().is_none_or(|(least, _)| lost < *least) {
            best = Some((lost, solved));
        }
        if lost == 0 {
            break;
        }
    }
    best.map_or_else(Marked::default, |(_, solved)| solved.draw(letters))
}

/// Neighbors of one group within a distance, mm; `None` if that leaves more than `most` marks.
fn clusters(drawn: &[Drawn], share: f64, most: f64) -> Option<Vec<Cluster>> {
    let mut out: Vec<Cluster> = Vec::new();
    let last = share >= SHARE[SHARE.len() - 1];
    for (shown, d) in drawn.iter().enumerate() {
        let Some(p) = middle(d.aim()) else { continue };
        let near = out
            .iter_mut()
            .find(|c| share > 0.0 && c.fate == d.fate && (c.at - p).length() <= share);
        if let Some(cluster) = near {
            cluster.count += 1;
            continue;
        }
        #[expect(clippy::cast_precision_loss, reason = "a count of items")]
        if !last && out.len() as f64 >= most {
            return None;
        }
        out.push(Cluster {
            fate: d.fate,
            shown,
            count: 1,
            at: p,
        });
    }
    Some(out)
}

/// The middle of the longest run, or of the box of an area.
fn middle(shape: &Shape) -> Option<PaperPoint> {
    match shape {
        Shape::Line(runs) => longest(runs).map(|run| station(run, 0.5)),
        Shape::Area(rings) => Some(Box2::of(rings.first()?).center()),
        Shape::Spot(p) => Some(*p),
    }
}

fn longest(runs: &[Vec<PaperPoint>]) -> Option<&Vec<PaperPoint>> {
    runs.iter()
        .max_by(|a, b| length(a).total_cmp(&length(b)))
        .filter(|r| r.len() > 1)
}

fn station(run: &[PaperPoint], share: f64) -> PaperPoint {
    let mut left = share * length(run);
    for pair in run.windows(2) {
        let long = (pair[1] - pair[0]).length();
        if left <= long && long > 0.0 {
            return lerp(pair[0], pair[1], left / long);
        }
        left -= long;
    }
    run.last().copied().unwrap_or_default()
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
    if count == 1 {
        letter.to_owned()
    } else {
        format!("{letter} ×{count}")
    }
}

fn size(text: &str) -> (f64, f64) {
    let width = words::width(text, look::strong()) + 2.0 * SIDE;
    (width.max(ROUND), ROUND)
}

/// Id of a tag of the problem: its number, so that the order stays that of the key.
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
    let mut problem = problem(clear, &pinned);
    for (i, cluster) in clusters.iter().enumerate() {
        let (feature, leader) = match pinned.get(&i) {
            Some(area) => (
                Feature::Points {
                    at: vec![area.center()],
                    radius: 0.0,
                },
                LeaderRule::Never,
            ),
            None => (
                feature(drawn[cluster.shown].aim()),
                LeaderRule::AtLeast(SHORTEST),
            ),
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
    dropped.sort_unstable();
    dropped.dedup();
    Solved {
        clusters,
        texts,
        placement,
        dropped,
    }
}

fn feature(shape: &Shape) -> Feature {
    match shape {
        Shape::Line(runs) => Feature::Line(runs.clone()),
        Shape::Area(rings) => {
            let around = Box2::of(&rings.iter().flatten().copied().collect::<Vec<_>>());
            let radius = around.width().min(around.height()) / 2.0;
            if around.width().max(around.height()) < 4.0 {
                Feature::Points {
                    at: vec![around.center()],
                    radius,
                }
            } else {
                Feature::Area(rings.clone())
            }
        }
        Shape::Spot(p) => Feature::Points {
            at: vec![*p],
            radius: 1.0,
        },
    }
}

/// Marks of joints and steps that stand on their own line, clear of every other thing.
fn pinned(
    drawn: &[Drawn],
    clusters: &[Cluster],
    texts: &[String],
    clear: &Clear,
) -> BTreeMap<usize, Box2> {
    let mut out: BTreeMap<usize, Box2> = BTreeMap::new();
    // Steps lie on the very line of a joint; its mark had better not hide them.
    let steps = drawn
        .iter()
        .filter(|d| matches!(d.fate, Fate::HighEdge | Fate::SmallStep));
    let steps: Vec<&Vec<PaperPoint>> = steps
        .filter_map(|d| match &d.shape {
            Shape::Line(runs) => Some(runs),
            _ => None,
        })
        .flatten()
        .collect();
    for (i, cluster) in clusters.iter().enumerate() {
        let on_line = matches!(
            cluster.fate,
            Fate::JointFilled
                | Fate::JointFilledMoving
                | Fate::JointSealed
                | Fate::JointHidden
                | Fate::JointLeft
        );
        let Shape::Line(runs) = &drawn[cluster.shown].shape else {
            continue;
        };
        let Some(run) = longest(runs).filter(|r| on_line && length(r) > 3.0 * ROUND) else {
            continue;
        };
        let (w, h) = size(&texts[i]);
        let found = STATIONS
            .iter()
            .map(|&s| Box2::around(station(run, s), w, h))
            .find(|area| {
                let wide = Slip::upright(&area.grown(1.7));
                clear.bounds().holds(&area.grown(1.0))
                    && out.values().all(|other| !other.grown(1.5).meets(area))
                    && clear.touched(&wide).all(|thing| is_own(thing, runs))
                    && !steps.iter().any(|run| meets(&wide, run))
            });
        out.extend(found.map(|area| (i, area)));
    }
    out
}

/// Whether a run touches a rectangle.
fn meets(area: &Slip, run: &[PaperPoint]) -> bool {
    run.windows(2).any(|p| area.meets_segment(p[0], p[1]))
}

/// Whether something on the sheet is a piece of a line itself.
fn is_own(thing: &Thing, runs: &[Vec<PaperPoint>]) -> bool {
    let Thing::Line(a, b) = thing else {
        return false;
    };
    let on = |p: PaperPoint| {
        runs.iter()
            .flat_map(|r| r.windows(2))
            .any(|s| hatch::from_segment(p, s[0], s[1]) < 1e-6)
    };
    on(*a) && on(*b)
}

/// The sheet as the placement sees it: every line is out of bounds, but for the piece that a mark on its line hides.
fn problem(clear: &Clear, pinned: &BTreeMap<usize, Box2>) -> Problem {
    let b = clear.bounds();
    let mut problem = Problem {
        zone: PaperBox::new(b.left, b.top, b.right, b.bottom),
        ..Problem::default()
    };
    let hidden: Vec<Slip> = pinned
        .values()
        .map(|area| Slip::upright(&area.grown(2.0)))
        .collect();
    for thing in clear.things() {
        match thing {
            Thing::Line(from, to) | Thing::Edge(from, to) => {
                for (from, to) in pieces(*from, *to, &hidden) {
                    problem.lines.push(place::Line {
                        from,
                        to,
                        width: 0.9,
                    });
                }
            }
            Thing::Soft(from, to) => {
                for (from, to) in pieces(*from, *to, &hidden) {
                    problem.joints.push(place::Line {
                        from,
                        to,
                        width: 0.3,
                    });
                }
            }
            Thing::Slip(slip) if slip.along.x.abs() < 1e-9 || slip.along.y.abs() < 1e-9 => {
                let a = slip.bounds();
                problem
                    .boxes
                    .push(PaperBox::new(a.left, a.top, a.right, a.bottom));
            }
            Thing::Slip(slip) => problem.solids.push(slip.corners().to_vec()),
        }
    }
    problem
}

/// A line without what some rectangles hide.
fn pieces(from: PaperPoint, to: PaperPoint, hidden: &[Slip]) -> Vec<(PaperPoint, PaperPoint)> {
    let over: Vec<&Slip> = hidden
        .iter()
        .filter(|s| s.meets_segment(from, to))
        .collect();
    if over.is_empty() {
        return vec![(from, to)];
    }
    let n = ((to - from).length() / 0.5).ceil().clamp(1.0, 400.0);
    let mut out = Vec::new();
    let mut k = 0.0;
    while k < n {
        let (p, q) = (lerp(from, to, k / n), lerp(from, to, (k + 1.0) / n));
        if over.iter().all(|s| !s.meets_segment(p, q)) {
            out.push((p, q));
        }
        k += 1.0;
    }
    out
}

/// Marks meant for a place on their line that stand beside it: nothing would say to which line they belong.
fn displaced(placement: &Placement, pinned: &BTreeMap<usize, Box2>) -> Vec<usize> {
    let is_off = |placed: &place::Placed| {
        let meant = placed.id.parse().ok().and_then(|i: usize| pinned.get(&i));
        meant.is_some_and(|meant| (placed.area.centre() - meant.center()).length() > 0.5)
    };
    let placed = placement.placed.iter().enumerate();
    placed.filter(|(_, p)| is_off(p)).map(|(i, _)| i).collect()
}

/// Marks whose leaders cross another or run through another mark, fewest first found.
fn crossing(placement: &Placement) -> Vec<usize> {
    let placed = &placement.placed;
    let mut dropped: Vec<usize> = Vec::new();
    for (i, one) in placed.iter().enumerate() {
        let Some(a) = one.leader else { continue };
        let meets = placed.iter().enumerate().any(|(j, two)| {
            if i == j || dropped.contains(&j) {
                return false;
            }
            let b = &two.area;
            let area = Slip::upright(&Box2::new(b.left, b.top, b.right, b.bottom));
            area.grown(0.3).meets_segment(a.from, a.to)
                || two
                    .leader
                    .is_some_and(|b| place::lines_meet((a.from, a.to), (b.from, b.to)))
        });
        if meets {
            dropped.push(i);
        }
    }
    dropped
}

impl Solved {
    /// Items that get no mark.
    fn lost(&self) -> usize {
        let unplaced = self
            .placement
            .unplaced
            .iter()
            .filter_map(|u| u.id.parse::<usize>().ok());
        let crossing = self.dropped.iter().filter_map(|&i| self.index(i));
        let lost = unplaced.chain(crossing);
        lost.filter_map(|i| self.clusters.get(i))
            .map(|c| c.count)
            .sum()
    }

    /// Cluster of a placed mark.
    fn index(&self, placed: usize) -> Option<usize> {
        self.placement.placed.get(placed)?.id.parse().ok()
    }

    fn draw(&self, letters: &BTreeMap<Fate, &'static str>) -> Marked {
        let (mut leaders, mut marks) = (Vec::new(), Vec::new());
        let mut unmarked: BTreeMap<Fate, usize> = BTreeMap::new();
        let mut numbers: BTreeMap<Fate, usize> = BTreeMap::new();
        let mut seen = vec![false; self.clusters.len()];
        for (i, placed) in self.placement.placed.iter().enumerate() {
            let Some(index) = self.index(i).filter(|_| !self.dropped.contains(&i)) else {
                continue;
            };
            let (Some(cluster), Some(text)) = (self.clusters.get(index), self.texts.get(index))
            else {
                continue;
            };
            seen[index] = true;
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
        for (cluster, _) in self.clusters.iter().zip(&seen).filter(|(_, s)| !**s) {
            *unmarked.entry(cluster.fate).or_default() += cluster.count;
        }
        Marked {
            leaders: draw::group("leaders", "", leaders),
            marks: draw::group("marks", "", marks),
            unmarked,
            shared: self.clusters.iter().any(|c| c.count > 1),
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
