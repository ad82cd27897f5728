//! The slab as geometry: meters, x to the right, y up, everything resolved to coordinates.

use kurbo::Point;

use crate::geometry::path::Path;
use crate::geometry::region::Region;
use crate::quantity::{M_PER_IN, Units, write};
use crate::record::LooseTreatment;
use crate::sketch::{
    BlemishKind, Compass, CrackTreatment, Formed, Hand, JointKind, JointTreatment, Movement,
    PostTension, Span, TestResult,
};

/// One floor, resolved.
#[derive(Clone, Debug)]
pub struct Slab {
    /// Units of the sketch; results are printed in them.
    pub units: Units,
    /// Thickness, m; `None` where the sketch gives none.
    pub thickness: Option<f64>,
    /// Post-tensioning, and where the sketch says so.
    pub post_tension: (PostTension, Span),
    /// Services in the slab.
    pub embedded: Vec<Embedded>,
    /// Its edge as one closed path, and wall by wall.
    pub outline: Outline,
    /// Taped diagonals, each held against the outline.
    pub checks: Vec<DiagonalCheck>,
    /// Doorways.
    pub openings: Vec<Opening>,
    /// Keep-outs, in file order.
    pub keep_outs: Vec<Zone>,
    /// Uncoated parts, in file order.
    pub uncoated: Vec<Zone>,
    /// Parts at another height, in file order.
    pub tiers: Vec<Tier>,
    /// Where two heights meet.
    pub risers: Vec<Riser>,
    /// Areas, exact.
    pub areas: Areas,
    /// The outline's inside, arcs flattened.
    pub enclosed: Region,
    /// Inside less keep-outs (R), arcs flattened.
    pub reached: Region,
    /// Reached less uncoated parts (K), arcs flattened.
    pub net: Region,
    /// Boundary of K.
    pub edges: Vec<Edge>,
    /// What stops a machine: walls but for openings, keep-outs that are not flush; open polylines, m.
    pub obstacles: Vec<[Point; 2]>,
    /// Joints, in file order.
    pub joints: Vec<Joint>,
    /// Cracks, in file order.
    pub cracks: Vec<Crack>,
    /// Spalls, in file order.
    pub spalls: Vec<Spall>,
    /// Delaminations, in file order.
    pub delaminations: Vec<Delamination>,
    /// Blemishes, in file order.
    pub blemishes: Vec<Blemish>,
    /// Steps, in file order.
    pub lippage: Vec<Lippage>,
    /// Panels in reading order.
    pub panels: Vec<Panel>,
    /// Spot heights.
    pub levels: Vec<Level>,
    /// Straight rows of heights.
    pub level_rows: Vec<LevelRow>,
    /// Moisture tests, in file order.
    pub moisture: Vec<MoistureTest>,
    /// Mohs hardness readings.
    pub hardness: Vec<(Point, f64, Span)>,
    /// Vertical faces that are coated too.
    pub faces: Vec<Face>,
    /// Side the material is poured from: outward unit direction of that side and its name.
    pub pour_from: Option<PourSide>,
}

impl Slab {
    /// How much higher than the main floor a place lies, m: what the tier there says.
    #[must_use]
    pub fn height_at(&self, p: Point) -> f64 {
        let here = self.tiers.iter().find(|tier| tier.region.contains(p));
        here.map_or(0.0, |tier| tier.height_m)
    }

    /// Length of a tier's risers, m, their area, and what of that is coated, m².
    #[must_use]
    pub fn risers_of(&self, tier: &Tier) -> (f64, f64, f64) {
        let risers = || self.risers.iter().filter(|riser| riser.tier == tier.id);
        // Adding nought makes the sum of none plain nought, not minus nought.
        (
            risers().map(|riser| riser.path.length()).sum::<f64>() + 0.0,
            risers().map(Riser::area_m2).sum::<f64>() + 0.0,
            risers().filter(|r| r.coated).map(Riser::area_m2).sum::<f64>() + 0.0,
        )
    }

    /// Length of risers with coated floor at foot and head, m: the others lie on the boundary of K.
    #[must_use]
    pub fn risers_inside(&self, which: fn(&Riser) -> bool) -> f64 {
        let inside = self.risers.iter().filter(|r| r.foot && r.head && which(r));
        inside.map(|r| r.path.length()).sum::<f64>() + 0.0
    }

    /// A region in parts, each of one height: a machine doesn't pass a riser.
    #[must_use]
    pub fn by_height(&self, region: &Region) -> Vec<Region> {
        let tiers = self.tiers.iter().map(|tier| &tier.region);
        let mut parts: Vec<Region> = tiers.clone().map(|t| region.intersection(t)).collect();
        parts.push(if parts.is_empty() {
            region.clone()
        } else {
            region.difference(&Region::union_all(tiers.cloned().collect()))
        });
        parts
    }

    /// Mean Mohs hardness of all readings; `None` where nobody scratched the floor.
    #[must_use]
    pub fn mean_hardness(&self) -> Option<f64> {
        let sum: f64 = self.hardness.iter().map(|reading| reading.1).sum();
        (!self.hardness.is_empty()).then(|| sum / self.hardness.len() as f64)
    }
}

/// Something cast into the slab.
#[derive(Clone, Debug)]
pub struct Embedded {
    /// What it is, in the estimator's words.
    pub what: String,
    /// Concrete over it, m.
    pub cover: Option<f64>,
    /// The record.
    pub span: Span,
}

/// The edge of the slab: one closed path, and the same wall by wall.
#[derive(Clone, Debug)]
pub struct Outline {
    /// Closed path, counter-clockwise or clockwise as written.
    pub path: Path,
    /// Corners 1, 2, … as written.
    pub corners: Vec<Point>,
    /// Wall n runs from corner n to corner n + 1: its own path.
    pub walls: Vec<Path>,
    /// Whether the outline runs counter-clockwise (the slab is on the left of a wall).
    pub counter_clockwise: bool,
    /// How a walk closed; `None` for an outline given by corners.
    pub closure: Option<Closure>,
    /// Where the outline stands in the sketch.
    pub span: Span,
}

/// How a walk closed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Closure {
    /// Gap between the end and the start, m.
    pub misclosure_m: f64,
    /// Gap east, m.
    pub east_m: f64,
    /// Gap north, m.
    pub north_m: f64,
    /// Length walked, m.
    pub walked_m: f64,
    /// Whether the gap was shared out along the runs (more than 1/4 in).
    pub shared_out: bool,
}

impl Closure {
    /// Misclosure over the length walked.
    #[must_use]
    pub fn ratio(&self) -> f64 {
        if self.walked_m > 0.0 { self.misclosure_m / self.walked_m } else { 0.0 }
    }
}

/// A taped diagonal held against the outline.
#[derive(Clone, Debug)]
pub struct DiagonalCheck {
    /// Corners, from 1.
    pub from: usize,
    /// Corners, from 1.
    pub to: usize,
    /// What the tape said, m.
    pub measured_m: f64,
    /// What the outline says, m.
    pub computed_m: f64,
    /// The record.
    pub span: Span,
}

/// A taped diagonal may be off by this much, m: 1/2 in (common practice) …
const DIAGONAL_LEAST: f64 = 0.5 * M_PER_IN;
/// … or by this share of its length, whichever is more (common practice).
const DIAGONAL_SHARE: f64 = 1.0 / 500.0;

impl DiagonalCheck {
    /// What the tape said less what the outline says, m.
    #[must_use]
    pub fn difference_m(&self) -> f64 {
        self.measured_m - self.computed_m
    }

    /// Whether the two are further apart than a tape may be off.
    #[must_use]
    pub fn is_flagged(&self) -> bool {
        self.difference_m().abs() > DIAGONAL_LEAST.max(self.computed_m * DIAGONAL_SHARE)
    }
}

/// A doorway.
#[derive(Clone, Debug)]
pub struct Opening {
    /// What it is called.
    pub name: Option<String>,
    /// Wall number, from 1.
    pub wall: usize,
    /// Stations on the wall, m.
    pub from_m: f64,
    /// Stations on the wall, m.
    pub to_m: f64,
    /// The stretch of the wall line.
    pub path: Path,
    /// The record.
    pub span: Span,
}

/// A keep-out or an uncoated part.
#[derive(Clone, Debug)]
pub struct Zone {
    /// As written, or the next free number: `K1`, `U1`.
    pub id: String,
    /// In the estimator's words: `floor drain`.
    pub what: Option<String>,
    /// Machines run over it.
    pub flush: bool,
    /// Where it lies, as it was written.
    pub shape: Shape,
    /// The record.
    pub span: Span,
}

/// A part of the floor that lies higher or lower than the rest.
#[derive(Clone, Debug)]
pub struct Tier {
    /// As written, or the next free number: `V1`.
    pub id: String,
    /// In the estimator's words: `back slab`.
    pub what: Option<String>,
    /// How much higher than the main floor, m; negative for a lower one.
    pub height_m: f64,
    /// Whether its riser is to be coated.
    pub coat: bool,
    /// Radius of the cove at the foot of its riser, m.
    pub cove_m: Option<f64>,
    /// Shape as written; it may run past the walls.
    pub shape: Shape,
    /// What of it lies inside the outline, arcs flattened.
    pub region: Region,
    /// Coated floor on it, m².
    pub area_m2: f64,
    /// The estimator's own words, printed in the schedule.
    pub note: Option<String>,
    /// The id in the sketch.
    pub span: Span,
}

impl Tier {
    /// Its height as a sign and a measure: `+7"`, `−3"`.
    #[must_use]
    pub fn rise(&self, units: Units) -> String {
        let sign = if self.height_m < 0.0 { "−" } else { "+" };
        format!("{sign}{}", write::small(self.height_m.abs(), units))
    }

    /// Its height in words: `7" higher`, `3" lower`.
    #[must_use]
    pub fn higher(&self, units: Units) -> String {
        let word = if self.height_m < 0.0 { "lower" } else { "higher" };
        format!("{} {word}", write::small(self.height_m.abs(), units))
    }
}

/// A riser: the upright face where two heights of the floor meet.
#[derive(Clone, Debug)]
pub struct Riser {
    /// Id of its tier; of two that adjoin, of the higher one.
    pub tier: String,
    /// Its foot; the lower floor is on the left.
    pub path: Path,
    /// Its height, m.
    pub step_m: f64,
    /// Whether its tier is the higher side.
    pub tier_high: bool,
    /// Whether the floor at its foot is coated.
    pub foot: bool,
    /// Whether the floor at its head is coated.
    pub head: bool,
    /// Whether it is coated itself.
    pub coated: bool,
}

impl Riser {
    /// Area, m².
    #[must_use]
    pub fn area_m2(&self) -> f64 {
        self.path.length() * self.step_m
    }
}

/// A closed shape: boundary, inside and area.
#[derive(Clone, Debug)]
pub struct Shape {
    /// What it was written as.
    pub form: Form,
    /// Boundary: closed paths (one; a band that overlaps itself is merged into its rings).
    pub rings: Vec<Path>,
    /// The inside, arcs flattened.
    pub region: Region,
    /// Area, exact (arcs not flattened), m².
    pub area_m2: f64,
}

/// What a shape was written as, with the sizes a drawing prints.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Form {
    /// Width to the right and height up, m.
    Box {
        /// To the right, m.
        width: f64,
        /// Up, m.
        height: f64,
    },
    /// By its center and its width from side to side.
    Circle {
        /// Center, m.
        center: Point,
        /// Diameter, m.
        diameter: f64,
    },
    /// By its corners.
    Polygon,
    /// By its center line: a strip along it.
    Band {
        /// Width, m.
        width: f64,
    },
}

/// Areas of the slab, m², exact.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Areas {
    /// area(P).
    pub gross: f64,
    /// area(P) − area(R).
    pub keep_out: f64,
    /// area(R) − area(K).
    pub uncoated: f64,
    /// area(K).
    pub net: f64,
    /// Σ path length × height.
    pub faces: f64,
}

/// A piece of the boundary of K.
#[derive(Clone, Debug)]
pub struct Edge {
    /// Ends; K is on the left.
    pub ends: [Point; 2],
    /// Length along the true curve, m.
    pub length_m: f64,
    /// What it lies on.
    pub kind: EdgeKind,
}

/// What a piece of the boundary of K lies on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EdgeKind {
    /// A wall outside its doorways.
    Wall,
    /// A doorway, by its index.
    Opening(usize),
    /// A keep-out, by its index.
    KeepOut(usize),
    /// An uncoated part, by its index.
    Uncoated(usize),
}

impl EdgeKind {
    /// Whether the coating ends on open floor there: it is cut in and keyed.
    #[must_use]
    pub const fn is_termination(self) -> bool {
        matches!(self, Self::Opening(_) | Self::Uncoated(_))
    }
}

/// Stations `from..to` of a path, m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// Lower station, m.
    pub from_m: f64,
    /// Upper station, m.
    pub to_m: f64,
}

impl Stretch {
    /// Length, m.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.to_m - self.from_m
    }
}

/// A joint, with the stretches of it that count.
#[derive(Clone, Debug)]
pub struct Joint {
    /// As written, or the next free number: `J1`.
    pub id: String,
    /// Control, construction or isolation.
    pub kind: JointKind,
    /// How it was made.
    pub formed: Formed,
    /// Its path, with true stations; may run past the slab.
    pub path: Path,
    /// Width as found, m.
    pub width: Option<f64>,
    /// Open depth as found, m.
    pub depth: Option<f64>,
    /// Reach of a former left in, m.
    pub strip_depth: Option<f64>,
    /// Sideways wander, m.
    pub wander: Option<f64>,
    /// Has to be opened first.
    pub buried: bool,
    /// Override of the rule.
    pub treatment: Option<JointTreatment>,
    /// Chase width in place of the rule's, m.
    pub chase_width: Option<f64>,
    /// Chase depth in place of the rule's, m.
    pub chase_depth: Option<f64>,
    /// The estimator's own words, printed in the schedule.
    pub note: Option<String>,
    /// Stretches of its path where it is not, because they lie inside what it ends at.
    pub gaps: Vec<Stretch>,
    /// Stretches in K, each counted once over all joints.
    pub in_scope: Vec<Stretch>,
    /// Stretches in the reached slab (R), for drawing.
    pub on_slab: Vec<Stretch>,
    /// Stretches in K that lie on an earlier joint, with that joint's id.
    pub on_top: Vec<(Stretch, String)>,
    /// The id in the sketch.
    pub span: Span,
}

/// A crack, with the stretches of it that count.
#[derive(Clone, Debug)]
pub struct Crack {
    /// As written, or the next free number: `C1`.
    pub id: String,
    /// Where it runs, from its first point.
    pub path: Path,
    /// Width from a station on, m; ascending stations, the first 0.
    pub widths: Vec<(f64, f64)>,
    /// Whether the sketch gave any width.
    pub width_known: bool,
    /// Height difference across it, m.
    pub step: Option<f64>,
    /// Whether it moves.
    pub movement: Movement,
    /// Override of the rule.
    pub treatment: Option<CrackTreatment>,
    /// The estimator's own words, printed in the schedule.
    pub note: Option<String>,
    /// Stretches in K, each counted once over all joints and cracks.
    pub in_scope: Vec<Stretch>,
    /// Stretches in R, for drawing.
    pub on_slab: Vec<Stretch>,
    /// Stretches in K that lie on a joint or an earlier crack, with its id.
    pub on_top: Vec<(Stretch, String)>,
    /// Whether too many lines are near it for it to be held against them.
    pub crowded: bool,
    /// The id in the sketch.
    pub span: Span,
}

/// Missing concrete.
#[derive(Clone, Debug)]
pub struct Spall {
    /// As written, or the next free number: `S1`.
    pub id: String,
    /// Where it lies, as it was written.
    pub shape: Shape,
    /// Its part in K, arcs flattened.
    pub part: Region,
    /// Area of its part in K, m².
    pub area_m2: f64,
    /// Depth, m.
    pub depth: f64,
    /// The estimator's own words, printed in the schedule.
    pub note: Option<String>,
    /// The id in the sketch.
    pub span: Span,
}

/// A layer of the slab that has come loose.
#[derive(Clone, Debug)]
pub struct Delamination {
    /// Id.
    pub id: String,
    /// Shape.
    pub shape: Shape,
    /// Its part in K, arcs flattened.
    pub part: Region,
    /// Area of its part in K, m².
    pub area_m2: f64,
    /// Thickness of the loose layer, m; `None` where nobody knows.
    pub depth: Option<f64>,
    /// What is done with it.
    pub treatment: LooseTreatment,
    /// Note.
    pub note: Option<String>,
    /// The id in the sketch.
    pub span: Span,
}

/// An area that changes the preparation.
#[derive(Clone, Debug)]
pub struct Blemish {
    /// As written, or the next free number: `B1`.
    pub id: String,
    /// What covers or damages the surface there.
    pub what: BlemishKind,
    /// Where it lies, as it was written.
    pub shape: Shape,
    /// Its part in K, m².
    pub area_m2: f64,
    /// What the laboratory found; `None` where nobody had it tested.
    pub tested: Option<TestResult>,
    /// Day of the laboratory's report, `YYYY-MM-DD`.
    pub tested_on: Option<String>,
    /// The estimator's own words, printed in the schedule.
    pub note: Option<String>,
    /// The id in the sketch.
    pub span: Span,
}

impl Blemish {
    /// Whether it holds lead or asbestos: a licensed firm takes it off under its own contract, so it is no work of this job.
    #[must_use]
    pub fn is_hazardous(&self) -> bool {
        matches!(self.tested, Some(TestResult::Lead | TestResult::Asbestos))
    }
}

/// A step between panels.
#[derive(Clone, Debug)]
pub struct Lippage {
    /// As written, or the next free number: `L1`.
    pub id: String,
    /// The joint or crack it runs along, if it names one.
    pub along: Option<String>,
    /// The line it runs along.
    pub path: Path,
    /// High side of the path.
    pub high: Hand,
    /// Station and step, m; ascending stations; `None` where it could not be read.
    pub readings: Vec<(f64, Option<f64>)>,
    /// The estimator's own words, printed in the schedule.
    pub note: Option<String>,
    /// The id in the sketch.
    pub span: Span,
}

impl Lippage {
    /// The first and the last station at which its step was read, m; 0 and 0 if none was.
    #[must_use]
    pub fn read_between(&self) -> (f64, f64) {
        let mut read = self.readings.iter().filter(|r| r.1.is_some()).map(|r| r.0);
        let first = read.next().unwrap_or(0.0);
        (first, read.next_back().unwrap_or(first))
    }
}

/// A panel between joints.
#[derive(Clone, Debug)]
pub struct Panel {
    /// `P1`, `P2` … in reading order.
    pub id: String,
    /// Area, m².
    pub area_m2: f64,
    /// Longer side of the smallest bounding rectangle, m.
    pub length_m: f64,
    /// Shorter side, m.
    pub width_m: f64,
    /// Rings: outer counter-clockwise, holes clockwise.
    pub rings: Vec<Vec<Point>>,
    /// Ids of the joints that bound it, in file order.
    pub joints: Vec<String>,
    /// Ids of everything recorded in it, in file order by kind.
    pub items: Vec<String>,
    /// Crack length in it, m.
    pub crack_m: f64,
    /// A point well inside, for its number.
    pub label: Point,
}

impl Panel {
    /// Longer over shorter side.
    #[must_use]
    pub fn aspect(&self) -> f64 {
        if self.width_m > 0.0 { self.length_m / self.width_m } else { 1.0 }
    }
}

/// A spot height.
#[derive(Clone, Copy, Debug)]
pub struct Level {
    /// Where it was read, m.
    pub at: Point,
    /// Over the datum of the survey, m.
    pub height_m: f64,
    /// The record.
    pub span: Span,
}

/// Heights read in a straight row, at equal spacing.
#[derive(Clone, Debug)]
pub struct LevelRow {
    /// Where the first was read, m.
    pub from: Point,
    /// Direction of the row, unit.
    pub direction: kurbo::Vec2,
    /// Spacing of the readings, m.
    pub spacing_m: f64,
    /// Over the datum of the survey, m, from the first point on.
    pub heights_m: Vec<f64>,
    /// The record.
    pub span: Span,
}

impl LevelRow {
    /// Where the last was read, m.
    #[must_use]
    pub fn end(&self) -> Point {
        let last = self.heights_m.len().saturating_sub(1);
        self.from + self.direction * (self.spacing_m * last as f64)
    }
}

/// A moisture test: `rh`, `mver` or both were read.
#[derive(Clone, Debug)]
pub struct MoistureTest {
    /// As written, or the next free number: `M1`.
    pub id: String,
    /// Where it was taken, m.
    pub at: Point,
    /// Relative humidity in the slab, share of one.
    pub rh: Option<f64>,
    /// Vapor emission, lb per 1000 ft² in 24 h.
    pub mver: Option<f64>,
    /// The record.
    pub span: Span,
}

/// A vertical face that is coated too.
#[derive(Clone, Debug)]
pub struct Face {
    /// What it is called.
    pub name: Option<String>,
    /// Its foot.
    pub path: Path,
    /// Height, m.
    pub height_m: f64,
    /// Radius of the cove at its foot, m; `None` without one.
    pub cove_m: Option<f64>,
}

impl Face {
    /// Area, m².
    #[must_use]
    pub fn area_m2(&self) -> f64 {
        self.path.length() * self.height_m
    }
}

/// Side the material is poured from.
#[derive(Clone, Debug, PartialEq)]
pub struct PourSide {
    /// Unit direction in which the material is pulled, away from that side.
    pub away: kurbo::Vec2,
    /// How a person would name the side: `N`, `wall 3`.
    pub name: String,
    /// Set when it is a side of the sheet.
    pub compass: Option<Compass>,
    /// Set when it is a wall, from 1.
    pub wall: Option<usize>,
}
