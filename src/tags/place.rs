//! Places tags on a sheet so that nothing overlaps: no tag on a tag, on a line of the plan, on text, on another tag's leader.
//!
//! Point-feature label placement is NP-hard (Christensen, Marks and Shieber, ACM Transactions on Graphics 14(3), 1995), so this is a
//! search: greedy with the scarcest first, ejection of what is in the way, a descent, and the uncrossing of leaders, over a fixed list of
//! candidates. There is no chance in it, and the order in which things are given does not matter. The hard rules are never broken;
//! what can happen is that a tag finds no place, and then it is named in [`Placement::unplaced`].
//!
//! The module knows ids, boxes and lines, nothing of floors. All lengths are millimeters of paper, y down.

mod anchors;
mod candidates;
mod fill;
mod free;
mod interior;
mod raster;
mod rest;
mod shape;
mod solve;

pub use fill::{Fill, Verdict};
pub use shape::{PaperBox, lines_meet};

use crate::ink::PaperPoint;
use anchors::{Anchor, anchors};
use raster::Raster;
use shape::{snap, snap_point};
use solve::{Seat, Solver};

/// Free space kept around a tag, mm.
pub const CLEARANCE: f64 = 0.5;

/// A leader longer than this leads across half a plan, mm; it is drawn only where no shorter one has room.
pub const LONG: f64 = 25.0;

/// Share of a window from which no place is looked for: half of the floors measured fail above 0.60, and a search takes seconds.
const HOPELESS: f64 = 0.80;

/// Longest side of a zone, mm; a larger one is a mistake. ANSI E has 1118 mm.
const LONGEST_SIDE: f64 = 5000.0;

/// What is to be placed, and what is in the way.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Problem {
    /// Tags and leaders stay inside.
    pub zone: PaperBox,
    /// Lines that no tag may cover: edges, cracks, patch outlines, dimension lines. A leader may cross them, at a price.
    pub lines: Vec<Line>,
    /// Boxes that no tag may touch: symbols, legends. A leader through one is dearer than through a line.
    pub boxes: Vec<PaperBox>,
    /// Text, as closed rings around its letters: no tag touches it and no leader runs through it.
    pub texts: Vec<Vec<PaperPoint>>,
    /// Filled shapes that no tag may touch, as closed rings: columns, openings.
    pub solids: Vec<Vec<PaperPoint>>,
    /// Tags that stand already. No leader runs through them; what may not stand on them is told by [`Problem::boxes`].
    pub standing: Vec<PaperBox>,
    /// Where tags stand only if everywhere else leads them far off: windows that are drawn larger on another sheet.
    pub reserved: Vec<PaperBox>,
    /// Lines that a tag may cover where nothing else is free: joints.
    pub joints: Vec<Line>,
    pub tags: Vec<Tag>,
}

/// A straight line on the plan.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Line {
    /// One end.
    pub from: PaperPoint,
    /// The other end.
    pub to: PaperPoint,
    /// Width of the pen, mm.
    pub width: f64,
}

/// Something that needs a tag.
#[derive(Clone, Debug, PartialEq)]
pub struct Tag {
    /// Its id, unique in the problem.
    pub id: String,
    /// Width and height of its box, mm, outline included; the first that fits is taken, so the full text comes first.
    pub sizes: Vec<(f64, f64)>,
    /// What it names.
    pub feature: Feature,
    /// Whether a leader may lead to it.
    pub leader: LeaderRule,
}

/// The thing on the plan that a tag names.
#[derive(Clone, Debug, PartialEq)]
pub enum Feature {
    /// Points or round things; a leader ends at the rim of any of them, of the first if nothing speaks against it.
    Points {
        /// Centers.
        at: Vec<PaperPoint>,
        /// Radius of each, mm; 0 for a point.
        radius: f64,
    },
    /// Open polylines; a leader ends on one of them, on the longest if nothing speaks against it.
    Line(Vec<Vec<PaperPoint>>),
    /// Closed rings, holes by the even-odd rule; the tag goes inside if it fits, else a leader ends inside or on the rim.
    Area(Vec<Vec<PaperPoint>>),
    /// An area that goes on where the drawing ends: a leader to its rim ends on what is drawn of that.
    Cut {
        /// What is left of it, as closed rings.
        rings: Vec<Vec<PaperPoint>>,
        /// What is left of its rim, as open polylines.
        rim: Vec<Vec<PaperPoint>>,
    },
}

impl Feature {
    /// The rings of an area.
    const fn rings(&self) -> Option<&Vec<Vec<PaperPoint>>> {
        match self {
            Self::Area(rings) | Self::Cut { rings, .. } => Some(rings),
            Self::Points { .. } | Self::Line(_) => None,
        }
    }
}

/// Whether a tag may stand off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LeaderRule {
    /// It stands on its feature or right beside it, without a leader: panel numbers, symbols.
    Never,
    /// It stands off on a leader at least this long, mm: arrow head and a little line. Inside its own area it has none.
    AtLeast(f64),
}

/// Where everything went.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Placement {
    /// Tags that found a place, by id.
    pub placed: Vec<Placed>,
    /// Tags that found none, by id. Empty when [`Fill::verdict`] is not crowded, as far as measured.
    pub unplaced: Vec<Unplaced>,
    /// How crowded the most crowded part of the sheet is.
    pub fill: Fill,
    /// Pairs of leaders that cross.
    pub crossings: usize,
}

/// A tag in its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    pub id: String,
    /// Which of its sizes was taken.
    pub size: usize,
    pub area: PaperBox,
    /// Its leader, if it stands off.
    pub leader: Option<Leader>,
}

/// A straight leader.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leader {
    /// The end at the feature.
    pub from: PaperPoint,
    /// The end at the rim of the tag's box; the line points to the box's center.
    pub to: PaperPoint,
    /// What is drawn at the feature.
    pub end: LeaderEnd,
}

/// How a leader ends at its feature.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeaderEnd {
    /// On a line, a point or a rim: an arrow head.
    Arrow,
    /// Inside an area: a dot.
    Dot,
}

/// A tag without a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Unplaced {
    pub id: String,
    /// Why.
    pub reason: Reason,
}

/// Why a tag found no place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reason {
    /// Nothing free within reach.
    NoRoom,
    /// Its feature is not in the zone.
    OutsideZone,
    /// A number that is none, no size, or a box larger than the zone.
    BadInput,
}

/// Places all tags of a problem.
///
/// Deterministic; the same whatever the order of lines and tags; moved with the plan when everything moves by whole millimeters.
/// About 10 ms for 100 tags and 50 ms for 500 on a sheet that has room; on one that has not, the time stays bounded, because ejections are
/// counted.
///
/// ```
/// use slabwalk::ink::PaperPoint;
/// use slabwalk::tags::place::{Feature, LeaderRule, PaperBox, Problem, Tag, place};
/// let at = PaperPoint { x: 50.0, y: 50.0 };
/// let tag = Tag {
///     id: "S-1".into(),
///     sizes: vec![(11.0, 4.4)],
///     feature: Feature::Points { at: vec![at], radius: 0.0 },
///     leader: LeaderRule::AtLeast(3.0),
/// };
/// let problem = Problem { zone: PaperBox::new(0.0, 0.0, 100.0, 100.0), tags: vec![tag], ..Problem::default() };
/// let placement = place(&problem);
/// assert!(placement.unplaced.is_empty());
/// assert!(placement.placed[0].leader.is_some());
/// ```
#[must_use]
pub fn place(problem: &Problem) -> Placement {
    let zone = problem.zone.snapped();
    let lines = [&problem.lines[..], &problem.joints].concat();
    let (mut jobs, mut unplaced) = jobs(zone, &problem.tags, &lines);
    let fill = fill::measure(zone, &jobs);
    unplaced.extend(hopeless(zone, &mut jobs, &fill));
    let raster = Raster::of(zone, problem);
    let lists = candidates::lists(&raster, &jobs);
    let mut solver = Solver::new(&raster, lists, &problem.standing);
    solver.run();
    let dense = |tag: usize, size| candidates::dense(&raster, &jobs[tag], size);
    solver.run_wider(|tag| dense(tag, 0));
    rest::place_rest(&mut solver, &raster, &jobs);
    solver.untangle();
    solver.descend();
    solver.draw_near(dense);
    let crossings = solver.crossings();
    let mut placed = Vec::new();
    for (job, seat) in jobs.iter().zip(solver.into_seats()) {
        match seat {
            Some(seat) => placed.push(job.placed(&seat)),
            None => unplaced.push(Unplaced { id: job.tag.id.clone(), reason: Reason::NoRoom }),
        }
    }
    unplaced.sort_by(|a, b| a.id.cmp(&b.id));
    Placement { placed, unplaced, fill, crossings }
}

/// Takes out the tags of windows so full that searching for places would take long and find none.
fn hopeless(zone: PaperBox, jobs: &mut Vec<Job>, fill: &Fill) -> Vec<Unplaced> {
    let mut out = Vec::new();
    let mut fill = fill.clone();
    while fill.share > HOPELESS {
        let full: std::collections::BTreeSet<String> = fill.ids.iter().cloned().collect();
        jobs.retain(|job| !full.contains(&job.tag.id));
        out.extend(full.into_iter().map(|id| Unplaced { id, reason: Reason::NoRoom }));
        fill = fill::measure(zone, jobs);
    }
    out
}

/// The tags that can be placed, by id, and those that cannot.
fn jobs<'a>(zone: PaperBox, tags: &'a [Tag], lines: &[Line]) -> (Vec<Job<'a>>, Vec<Unplaced>) {
    let mut order: Vec<&Tag> = tags.iter().collect();
    // Two tags of one id are a mistake, but they too must come out the same in any order.
    order.sort_by(|a, b| a.id.cmp(&b.id).then_with(|| format!("{a:?}").cmp(&format!("{b:?}"))));
    let mut jobs = Vec::new();
    let mut unplaced = Vec::new();
    for tag in order {
        match Job::of(tag, zone, lines) {
            Ok(job) => jobs.push(job),
            Err(reason) => unplaced.push(Unplaced { id: tag.id.clone(), reason }),
        }
    }
    (jobs, unplaced)
}

/// A tag that can be placed: checked, on the fine grid, with its anchors.
struct Job<'a> {
    tag: &'a Tag,
    feature: Feature,
    anchors: Vec<Anchor>,
}

impl<'a> Job<'a> {
    fn of(tag: &'a Tag, zone: PaperBox, lines: &[Line]) -> Result<Job<'a>, Reason> {
        let sound_zone = zone.width() <= LONGEST_SIDE && zone.height() <= LONGEST_SIDE;
        let fits =
            |&(w, h): &(f64, f64)| w > 0.0 && h > 0.0 && w <= zone.width() && h <= zone.height();
        if !sound_zone
            || tag.sizes.is_empty()
            || !tag.sizes.iter().all(fits)
            || !is_sound(&tag.feature)
        {
            return Err(Reason::BadInput);
        }
        if let LeaderRule::AtLeast(length) = tag.leader
            && !(0.0..=60.0).contains(&length)
        {
            return Err(Reason::BadInput);
        }
        let feature = snapped(&tag.feature);
        let anchors: Vec<Anchor> =
            anchors(&feature, lines).into_iter().filter(|a| zone.contains(a.at)).collect();
        if anchors.is_empty() {
            return Err(Reason::OutsideZone);
        }
        Ok(Job { tag, feature, anchors })
    }

    fn placed(&self, seat: &Seat) -> Placed {
        let (width, height) = self.tag.sizes.get(seat.size).copied().unwrap_or_default();
        Placed {
            id: self.tag.id.clone(),
            size: seat.size,
            area: PaperBox::around(seat.area.centre(), width, height),
            leader: seat.leader,
        }
    }
}

fn is_sound(feature: &Feature) -> bool {
    let sound = |p: &PaperPoint| p.x.abs() < 1e5 && p.y.abs() < 1e5;
    let parts = |parts: &[Vec<PaperPoint>], least: usize| {
        !parts.is_empty() && parts.iter().all(|part| part.len() >= least && part.iter().all(sound))
    };
    match feature {
        Feature::Points { at, radius } => {
            !at.is_empty() && at.iter().all(sound) && (0.0..1e4).contains(radius)
        }
        Feature::Line(runs) => parts(runs, 2),
        Feature::Area(rings) => parts(rings, 3),
        Feature::Cut { rings, rim } => parts(rings, 3) && (rim.is_empty() || parts(rim, 2)),
    }
}

fn snapped(feature: &Feature) -> Feature {
    let all = |points: &[PaperPoint]| points.iter().map(|&p| snap_point(p)).collect();
    let parts = |parts: &[Vec<PaperPoint>]| parts.iter().map(|part| all(part)).collect();
    match feature {
        Feature::Points { at, radius } => Feature::Points { at: all(at), radius: snap(*radius) },
        Feature::Line(runs) => Feature::Line(parts(runs)),
        Feature::Area(rings) => Feature::Area(parts(rings)),
        Feature::Cut { rings, rim } => Feature::Cut { rings: parts(rings), rim: parts(rim) },
    }
}

#[cfg(test)]
mod tests;
