//! The sketch as written, one to one with the file format of `docs/sketch.md`.
//!
//! Lengths are read in the units of the sketch; what the estimator left out is `None` here, and
//! the rule that fills it in belongs to a later stage. Ids left out are already given.

use super::{PriceNotes, UsedNotes};
pub use crate::diagnostic::{At, Span};
use crate::quantity::{Length, Ratio, Temperature, Units};
pub use crate::record::{
    BlemishKind, Compass, CrackTreatment, Formed, Hand, HighSide, JointKind, JointTreatment,
    LooseTreatment, Movement, RiserFinish, TestResult,
};

/// One floor as an estimator wrote it down.
#[derive(Clone, Debug, PartialEq)]
pub struct Sketch {
    /// Names and dates for the title block.
    pub job: Job,
    /// Units the sketch is written in.
    pub units: Units,
    /// Path of the shop book, relative to the sketch.
    pub shop: Option<At<String>>,
    /// The slab itself.
    pub slab: SlabNotes,
    /// Joints, in file order.
    pub joints: Vec<Joint>,
    /// Cracks, in file order.
    pub cracks: Vec<Crack>,
    /// Spalls, in file order.
    pub spalls: Vec<Spall>,
    /// Delaminations, in file order.
    pub delaminations: Vec<Delamination>,
    /// Areas that change the preparation, in file order.
    pub blemishes: Vec<Blemish>,
    /// Steps between panels, in file order.
    pub lippage: Vec<Lippage>,
    /// Spot heights.
    pub levels: Vec<Level>,
    /// Rows of readings at 12 in (300 mm) for FF and FL, as in ASTM E1155.
    pub level_rows: Vec<LevelRow>,
    /// Moisture, hardness and air.
    pub tests: Tests,
    /// System, colors, faces and what stays uncoated.
    pub coating: Coating,
    /// Photographs that belong to items.
    pub photos: Vec<Photo>,
    /// What the price of this job hangs on.
    pub price: PriceNotes,
    /// What the job really took.
    pub used: UsedNotes,
}

/// What the title block says. Everything but the name may be missing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Job {
    /// Name of the job.
    pub name: String,
    /// Who it is for.
    pub client: Option<String>,
    /// Address or place.
    pub site: Option<String>,
    /// Day of the survey, `YYYY-MM-DD`.
    pub surveyed: Option<At<String>>,
    /// Who taped it.
    pub surveyor: Option<String>,
    /// The shop's own job number.
    pub number: Option<String>,
    /// Free text, printed on the crew's sheets.
    pub notes: Option<String>,
    /// Whether the floor is part of an accessible route (ADA/ABA section 303).
    pub accessible_route: bool,
    /// Revision of the sketch, as printed in the title block.
    pub revision: Option<String>,
}

/// What a sketch says about post-tensioning.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PostTension {
    /// Known to have none.
    None,
    /// Stamped as post-tensioned.
    Stamped,
    /// Nobody knows (also when left out).
    #[default]
    Unknown,
}

/// Something cast into the slab.
#[derive(Clone, Debug, PartialEq)]
pub struct Embedded {
    /// What it is, in the estimator's words.
    pub what: String,
    /// Concrete over it.
    pub cover: Option<At<Length>>,
    /// The record.
    pub span: Span,
}

/// The `slab:` part.
#[derive(Clone, Debug, PartialEq)]
pub struct SlabNotes {
    /// Thickness; `None` where the sketch gives none.
    pub thickness: Option<At<Length>>,
    /// Whether it is stamped as post-tensioned; unknown when left out.
    pub post_tension: At<PostTension>,
    /// Day the concrete was placed, `YYYY-MM-DD`.
    pub placed: Option<At<String>>,
    /// Services in the slab.
    pub embedded: Vec<Embedded>,
    /// The edge of the slab, by corners or by a walk.
    pub outline: At<Outline>,
    /// Taped diagonals.
    pub checks: Vec<Check>,
    /// Doorways.
    pub openings: Vec<Opening>,
    /// Slab that is not there or is built over.
    pub keep_outs: Vec<KeepOut>,
    /// Parts that lie higher or lower than the rest.
    pub tiers: Vec<Tier>,
}

/// The outline, by corners or by a walk.
#[derive(Clone, Debug, PartialEq)]
pub enum Outline {
    /// Corners, closed by itself.
    Path(PathForm),
    /// Runs taped one after another.
    Walk {
        /// Where the walk starts, coordinates.
        start: (Length, Length),
        /// In the order in which they were taped.
        runs: Vec<At<Run>>,
        /// Ends with `close`: the last run back to the start was not taped.
        close: bool,
    },
}

/// One taped run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Run {
    /// Direction, degrees counter-clockwise from east (the sheet's right); `N` is 90. Of an arc, that of its chord.
    pub direction_deg: f64,
    /// Length; of an arc, that of its chord.
    pub length: Length,
    /// For an arc: how it bends.
    pub bend: Option<Bend>,
}

/// How an arc leaves its chord.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bend {
    /// Greatest distance of the arc from its chord.
    pub rise: Length,
    /// To which hand it turns, walked from its first point.
    pub to: Hand,
}

/// A taped diagonal between two numbered corners.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// Corner, from 1.
    pub from: At<usize>,
    /// Corner, from 1.
    pub to: At<usize>,
    /// What the tape said.
    pub measured: At<Length>,
    /// The record.
    pub span: Span,
}

/// A stretch of a wall line with no wall on it.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    /// What it is called.
    pub name: Option<String>,
    /// Wall number, from 1.
    pub wall: At<usize>,
    /// Station on the wall.
    pub from: At<Length>,
    /// Station on the wall.
    pub to: At<Length>,
    /// The record.
    pub span: Span,
}

/// A point, in one of the four forms.
#[derive(Clone, Debug, PartialEq)]
pub enum PointForm {
    /// `[x, y]`.
    Xy(Length, Length),
    /// `{wall, along, out}`.
    Wall {
        /// Wall number, from 1.
        wall: At<usize>,
        /// Station on the wall from its first corner.
        along: At<Length>,
        /// Square into the slab.
        out: Length,
    },
    /// `{line, at}`.
    Line {
        /// Id of a joint or crack.
        line: At<String>,
        /// Station on its path.
        at: At<Length>,
    },
    /// `{ties: [[corner, distance], [corner, distance]], side}`.
    Ties {
        /// The two corners (from 1), each with the distance from it. Boxed, or each `[x, y]` of a large floor would take
        /// as much room as these.
        ties: Box<[(At<usize>, At<Length>); 2]>,
        /// Side of the line from the first-named corner to the second.
        side: Hand,
    },
    /// A point of a copy of a repeated record: off the point as it was written.
    Off {
        /// The point as written.
        from: Box<At<PointForm>>,
        /// How far to the right, and up.
        by: (Length, Length),
    },
}

/// A point of a path, and how the path gets there.
#[derive(Clone, Debug, PartialEq)]
pub struct Vertex {
    /// The point itself.
    pub to: At<PointForm>,
    /// For a circular arc from the vertex before: a point the arc runs through. Boxed, because few vertices have one.
    pub via: Option<Box<At<PointForm>>>,
}

/// A list of vertices.
#[derive(Clone, Debug, PartialEq)]
pub struct PathForm {
    /// From the first point of the path to the last.
    pub vertices: Vec<Vertex>,
    /// The list.
    pub span: Span,
}

/// A path, or one of the short forms for a straight joint that runs right across.
#[derive(Clone, Debug, PartialEq)]
pub enum LineForm {
    /// `path:`.
    Path(PathForm),
    /// `x:` with `from:`/`to:` as limits of y.
    X {
        /// The coordinate.
        x: At<Length>,
        /// Lower or upper limit.
        from: Option<At<Length>>,
        /// The other limit.
        to: Option<At<Length>>,
    },
    /// `y:` with `from:`/`to:` as limits of x.
    Y {
        /// The coordinate.
        y: At<Length>,
        /// Lower or upper limit.
        from: Option<At<Length>>,
        /// The other limit.
        to: Option<At<Length>>,
    },
}

/// A closed shape.
#[derive(Clone, Debug, PartialEq)]
pub enum ShapeForm {
    /// `box:`.
    Box {
        /// Lower left corner.
        corner: At<PointForm>,
        /// To the right.
        width: At<Length>,
        /// Up.
        height: At<Length>,
    },
    /// `circle:`.
    Circle {
        /// Center, in any form of a point.
        center: At<PointForm>,
        /// The whole way across.
        diameter: At<Length>,
    },
    /// `polygon:`.
    Polygon(PathForm),
    /// `band:`.
    Band {
        /// Center line.
        path: PathForm,
        /// Whole width.
        width: At<Length>,
    },
}

/// Slab that is not there, or is built over.
#[derive(Clone, Debug, PartialEq)]
pub struct KeepOut {
    /// As written, or the next free number: `K1`.
    pub id: At<String>,
    /// In the estimator's words: `floor drain`.
    pub what: Option<String>,
    /// Machines run over it (a drain, a cover).
    pub flush: bool,
    /// Where it lies.
    pub shape: At<ShapeForm>,
    /// Free note.
    pub note: Option<String>,
}

/// A part of the slab that lies higher or lower than the rest, with a riser where they meet.
#[derive(Clone, Debug, PartialEq)]
pub struct Tier {
    /// As written, or the next free number: `V1`.
    pub id: At<String>,
    /// In the estimator's words: `back slab`.
    pub what: Option<String>,
    /// How much higher than the rest of the floor; negative for a lower one.
    pub height: At<Length>,
    /// Whether its riser is coated.
    pub riser: Option<At<RiserFinish>>,
    /// The cove at the foot of its riser, where one is formed.
    pub cove: Option<Cove>,
    /// Its shape; it may run past the walls.
    pub shape: At<ShapeForm>,
    /// Free note.
    pub note: Option<String>,
}

/// `chase:` on a joint.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ChaseOverride {
    /// Width in place of the rule's.
    pub width: Option<At<Length>>,
    /// Depth in place of the rule's.
    pub depth: Option<At<Length>>,
}

/// A joint as it was found on the floor.
#[derive(Clone, Debug, PartialEq)]
pub struct Joint {
    /// As written, or the next free number: `J1`.
    pub id: At<String>,
    /// Control, construction or isolation.
    pub kind: At<JointKind>,
    /// How it was made.
    pub formed: Formed,
    /// Where it runs.
    pub line: At<LineForm>,
    /// Ids, or patterns with `*`, of what it ends at: closed joints, and keep-outs or the closed joints round them.
    pub ends_at: Vec<At<String>>,
    /// Width as found, at the top.
    pub width: Option<At<Length>>,
    /// Open depth as found.
    pub depth: Option<At<Length>>,
    /// How deep a former left in the slab reaches.
    pub strip_depth: Option<At<Length>>,
    /// Total sideways wander off the straight line.
    pub wander: Option<At<Length>>,
    /// Concrete was run over the filler.
    pub buried: bool,
    /// Override of the shop's rule.
    pub treatment: Option<At<JointTreatment>>,
    /// Sizes to chase in place of the rule's.
    pub chase: ChaseOverride,
    /// Free note.
    pub note: Option<String>,
}

/// A crack as it was found on the floor.
#[derive(Clone, Debug, PartialEq)]
pub struct Crack {
    /// As written, or the next free number: `C1`.
    pub id: At<String>,
    /// Where it runs.
    pub path: PathForm,
    /// Width from a station on, until the next; one entry at station 0 for `width:`.
    pub widths: Vec<(At<Length>, At<Length>)>,
    /// Height difference across it.
    pub step: Option<At<Length>>,
    /// Whether it moves.
    pub movement: Movement,
    /// Override of the rule.
    pub treatment: Option<At<CrackTreatment>>,
    /// Free note.
    pub note: Option<String>,
    /// The record.
    pub span: Span,
}

/// Missing concrete.
#[derive(Clone, Debug, PartialEq)]
pub struct Spall {
    /// As written, or the next free number: `S1`.
    pub id: At<String>,
    /// Where it lies.
    pub shape: At<ShapeForm>,
    /// How deep.
    pub depth: At<Length>,
    /// Free note.
    pub note: Option<String>,
}

/// A layer of the slab that has come loose.
#[derive(Clone, Debug, PartialEq)]
pub struct Delamination {
    /// Id.
    pub id: At<String>,
    /// Its shape.
    pub shape: At<ShapeForm>,
    /// How thick the loose layer is; `None` where nobody knows.
    pub depth: Option<At<Length>>,
    /// What is done with it.
    pub treatment: LooseTreatment,
    /// Free note.
    pub note: Option<String>,
}

/// An area that changes the preparation.
#[derive(Clone, Debug, PartialEq)]
pub struct Blemish {
    /// As written, or the next free number: `B1`.
    pub id: At<String>,
    /// What covers or damages the surface there.
    pub what: At<BlemishKind>,
    /// Where it lies.
    pub shape: At<ShapeForm>,
    /// What the laboratory found; `None` where nobody had it tested.
    pub tested: Option<At<TestResult>>,
    /// Day of the laboratory's report, `YYYY-MM-DD`.
    pub tested_on: Option<At<String>>,
    /// Free note.
    pub note: Option<String>,
}

/// The line a step runs along.
#[derive(Clone, Debug, PartialEq)]
pub enum AlongForm {
    /// Id of a joint or crack.
    Item(At<String>),
    /// A path of its own.
    Path(PathForm),
}

/// A step between panels.
#[derive(Clone, Debug, PartialEq)]
pub struct Lippage {
    /// As written, or the next free number: `L1`.
    pub id: At<String>,
    /// The line it runs along.
    pub along: At<AlongForm>,
    /// Which side stands higher: of the line, or of the sheet.
    pub high: At<HighSide>,
    /// Station and step; `None` where it could not be read.
    pub readings: Vec<Reading>,
    /// The same step all along the line, where `step:` was given without `from:` and `to:`; then
    /// there are no readings.
    pub everywhere: Option<At<Length>>,
    /// Free note.
    pub note: Option<String>,
}

/// One reading of a step.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// Station on the line.
    pub station: At<Length>,
    /// Step; `None` where it could not be read.
    pub step: Option<At<Length>>,
}

/// Whether an id is the one that is named, is an item of the repeated record that is named, or fits the pattern: a `*` stands for any
/// characters, or none.
///
/// ```
/// use slabwalk::sketch::matches;
/// assert!(matches("K1", "K1") && matches("K1", "K1.12") && !matches("K1", "K12"));
/// assert!(matches("K*", "K12") && matches("K*.1", "K2.1") && !matches("K*", "J1"));
/// ```
#[must_use]
pub fn matches(pattern: &str, id: &str) -> bool {
    let Some((start, rest)) = pattern.split_once('*') else {
        let after = id.strip_prefix(pattern);
        return after.is_some_and(|after| after.is_empty() || after.starts_with('.'));
    };
    let Some(mut id) = id.strip_prefix(start) else {
        return false;
    };
    // Each part between two stars is taken where it comes first; the last one has to end the id.
    let mut parts = rest.split('*').peekable();
    while let Some(part) = parts.next() {
        if parts.peek().is_none() {
            return id.ends_with(part);
        }
        match id.find(part) {
            Some(at) => id = &id[at + part.len()..],
            None => return false,
        }
    }
    true
}

/// A spot height.
#[derive(Clone, Debug, PartialEq)]
pub struct Level {
    /// Where it was read.
    pub at: At<PointForm>,
    /// Height over the datum of the survey.
    pub height: At<Length>,
}

/// Heights in a row at 12 in (300 mm), ASTM E1155.
#[derive(Clone, Debug, PartialEq)]
pub struct LevelRow {
    /// First point of the row.
    pub from: At<PointForm>,
    /// A point the row runs toward.
    pub to: At<PointForm>,
    /// Heights over the datum of the survey, from the first point on.
    pub heights: Vec<At<Length>>,
    /// The record.
    pub span: Span,
}

/// A moisture test: `rh`, `mver` or both.
#[derive(Clone, Debug, PartialEq)]
pub struct MoistureTest {
    /// As written, or the next free number: `M1`.
    pub id: At<String>,
    /// Where it was taken.
    pub at: At<PointForm>,
    /// Relative humidity in the slab (ASTM F2170).
    pub rh: Option<At<Ratio>>,
    /// Vapor emission in lb per 1000 ft² in 24 h (ASTM F1869).
    pub mver: Option<At<f64>>,
    /// The record.
    pub span: Span,
}

/// A scratch-hardness test.
#[derive(Clone, Debug, PartialEq)]
pub struct HardnessTest {
    /// Where the floor was scratched.
    pub at: At<PointForm>,
    /// Mohs hardness.
    pub mohs: At<f64>,
}

/// The `tests:` part.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tests {
    /// How much moisture the slab holds or gives off, in file order.
    pub moisture: Vec<MoistureTest>,
    /// How hard the slab is, in file order.
    pub hardness: Vec<HardnessTest>,
    /// Air temperature.
    pub air_temperature: Option<At<Temperature>>,
    /// Relative humidity of the air.
    pub air_humidity: Option<At<Ratio>>,
    /// Temperature of the slab.
    pub slab_temperature: Option<At<Temperature>>,
    /// What was forecast or measured for the days of the work.
    pub forecast: Vec<Forecast>,
}

/// Air and slab of one day.
#[derive(Clone, Debug, PartialEq)]
pub struct Forecast {
    /// The day, `YYYY-MM-DD`.
    pub day: At<String>,
    /// Temperature of the air; with the humidity it gives the dew point.
    pub air: At<Temperature>,
    /// Relative humidity of the air.
    pub humidity: At<Ratio>,
    /// Temperature of the slab, held against the dew point.
    pub slab: At<Temperature>,
}

/// Where the work is done.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Site {
    /// Indoors or in an enclosed place.
    #[default]
    Indoors,
    /// In the open air: the less strict case.
    Outdoors,
}

/// A part of the slab outside the job.
#[derive(Clone, Debug, PartialEq)]
pub struct Uncoated {
    /// As written, or the next free number: `U1`.
    pub id: At<String>,
    /// In the estimator's words: `sill strip outside the door`.
    pub what: Option<String>,
    /// Where it lies.
    pub shape: At<ShapeForm>,
}

/// A vertical face that is coated too.
#[derive(Clone, Debug, PartialEq)]
pub struct Face {
    /// What it is called.
    pub name: Option<String>,
    /// Its foot on the floor.
    pub path: PathForm,
    /// From its foot to its top.
    pub height: At<Length>,
    /// The cove at its foot, where one is formed.
    pub cove: Option<Cove>,
}

/// A cove: mortar with a hollow, round surface between floor and face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cove {
    /// Of the radius in the shop book.
    Usual,
    /// Of this radius.
    Radius(Length),
}

/// The `coating:` part.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Coating {
    /// Name of a system in the shop book.
    pub system: Option<At<String>>,
    /// Color that the customer chose.
    pub color: Option<String>,
    /// Blend of flakes or sand that the customer chose.
    pub blend: Option<String>,
    /// Size of the flakes.
    pub flake_size: Option<String>,
    /// Sheen that the customer chose.
    pub sheen: Option<Sheen>,
    /// Whether moisture mitigation goes below it.
    pub mitigation: bool,
    /// Parts of the slab outside the job.
    pub uncoated: Vec<Uncoated>,
    /// Vertical faces that are coated too.
    pub faces: Vec<Face>,
    /// Side from which the mixed material is poured out.
    pub pour_from: Option<At<PourFrom>>,
    /// First day of the work, `YYYY-MM-DD`.
    pub start: Option<At<String>>,
    /// Where the work is done; indoors when left out, which is the stricter case.
    pub site: Site,
}

/// How much a coat shines.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sheen {
    /// Hardly at all.
    Matte,
    /// A little.
    Satin,
    /// Like a mirror.
    Gloss,
}

impl Sheen {
    /// Its word in the sketch and in every output.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Matte => "matte",
            Self::Satin => "satin",
            Self::Gloss => "gloss",
        }
    }
}

/// Side the material is poured from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PourFrom {
    /// A side of the sheet.
    Compass(Compass),
    /// A numbered wall, from 1.
    Wall(usize),
}

/// A photograph that belongs to an item.
#[derive(Clone, Debug, PartialEq)]
pub struct Photo {
    /// Id of the item.
    pub item: At<String>,
    /// Path relative to the sketch.
    pub file: At<String>,
    /// Free note.
    pub note: Option<String>,
    /// Shown to the customer too, in the proposal.
    pub proposal: bool,
}
