//! The outline while it is walked: where the runs lead, how far off the last one ends, corners that are moved, and the sketch
//! of a new floor with its doorways and diagonals.

use kurbo::{Point, Vec2};
use serde::Deserialize;
use serde_json::json;

use super::floor::Floor;
use super::http::Response;
use super::place;
use super::record::{Fault, fault};
use crate::edit::insert_record;
use crate::geometry::path::{Arc, Path, Segment};
use crate::quantity::read::{self, Bare, WalkEntry, walk_entry};
use crate::quantity::{M_PER_IN, Units, write};
use crate::slab::{LEAST_TOLERANCE, TOLERANCE_RATIO};
use crate::starter;

/// Most runs of one outline.
pub(super) const MOST_RUNS: usize = 200;
/// Longest name of a job, characters.
const LONGEST_NAME: usize = 120;
/// A walk that ends nearer to its start than this is closed, m: a quarter of an inch, what the tape is read to.
const CLOSED: f64 = M_PER_IN / 4.0;
/// The last run of a walk is along a side of the sheet where it is nearer to that than this, degrees: the rest is what the tape
/// misses by.
const SAME_DEG: f64 = 0.25;
/// A run to a corner that was moved is along a side of the sheet only if it is that, degrees: what is written of a bearing.
const SQUARE_DEG: f64 = 0.005;

/// Points that an arc is shown with.
const SHOWN: u32 = 24;

/// What the page sends.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Walked {
    metric: bool,
    runs: Vec<String>,
    #[serde(default)]
    name: String,
    /// Taped diagonals.
    #[serde(default)]
    checks: Vec<Check>,
    /// Doorways on walls that were walked.
    #[serde(default)]
    doors: Vec<Door>,
    /// A corner that is elsewhere.
    #[serde(rename = "move")]
    moved: Option<Moved>,
    /// How far corner 1 was moved to the right and up before, m.
    #[serde(default)]
    shift: (f64, f64),
    /// A curved wall by its ends and a point of it.
    bend: Option<Bend>,
}

/// A diagonal between two corners, from 1.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Check {
    from: usize,
    to: usize,
    measured: String,
}

/// A doorway on a wall, from 1.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Door {
    wall: usize,
    from: String,
    to: String,
}

/// A corner, from 1, and by how much it moves, as a run.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Moved {
    corner: usize,
    by: String,
}

/// The straight line between the ends of a curved wall, and from each end to a point of it.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Bend {
    chord: String,
    first: String,
    second: String,
}

impl Walked {
    fn read(body: &[u8]) -> Result<Self, Response> {
        let walked: Self = serde_json::from_slice(body)
            .map_err(|e| Response::refused(400, &format!("this is no walk: {e}"), ""))?;
        walked.checked().map_err(refused)?;
        Ok(walked)
    }

    fn checked(&self) -> Result<(), Fault> {
        if self.runs.len() > MOST_RUNS {
            let words = format!("one outline has at most {MOST_RUNS} runs");
            return Err(fault("", words));
        }
        let mut heading = None;
        for (i, run) in self.runs.iter().enumerate() {
            let (n, field) = (i + 1, format!("run-{}", i + 1));
            let entry = walk_entry(run, self.units()).map_err(|e| {
                fault(&field, format!("run {n} `{run}`: {}; {}", e.problem, e.hint))
            })?;
            let leads = entry.chord(&mut heading).is_some();
            if !leads && entry != WalkEntry::Close {
                let words =
                    format!("run {n} `{run}`: no run before it gives its direction; choose one");
                return Err(fault(&field, words));
            }
            if entry == WalkEntry::Close && n < self.runs.len() {
                return Err(fault(&field, "`close` ends a walk; take it out to go on"));
            }
        }
        for check in &self.checks {
            self.length(&check.measured)?;
            let corners = self.corners().len();
            let there = |corner: usize| (1..=corners).contains(&corner);
            if !there(check.from) || !there(check.to) || check.from == check.to {
                let words = format!("a diagonal runs between two of the corners 1 to {corners}");
                return Err(fault("checks", words));
            }
        }
        for door in &self.doors {
            self.length(&door.from)?;
            self.length(&door.to)?;
        }
        Ok(())
    }

    const fn units(&self) -> Units {
        if self.metric { Units::Metric } else { Units::Us }
    }

    /// A length on the plan, m.
    fn length(&self, text: &str) -> Result<f64, Fault> {
        let read = read::length(text, Bare::Plan(self.units()));
        read.map(crate::quantity::Length::m)
            .map_err(|e| fault("", format!("`{text}`: {}; {}", e.problem, e.hint)))
    }

    fn entries(&self) -> impl Iterator<Item = WalkEntry> {
        let entry = |run: &String| walk_entry(run, self.units()).ok();
        self.runs.iter().filter_map(entry)
    }

    fn closes(&self) -> bool {
        self.entries().last() == Some(WalkEntry::Close)
    }

    /// The points between the runs, m.
    fn corners(&self) -> Vec<Point> {
        let corners = starter::corners(&self.runs, self.units());
        corners.into_iter().map(Point::from).collect()
    }

    /// The walk with a corner elsewhere: the two runs that meet there lead to it and from it.
    fn with(mut self, moved: &Moved) -> Result<Self, Fault> {
        let corners = self.corners();
        let units = self.units();
        let by = walk_entry(&moved.by, units).ok();
        let Some((deg, length)) = by.and_then(|by| by.chord(&mut None)) else {
            return Err(fault("", format!("`{}` says not by how much", moved.by)));
        };
        let i = moved.corner.wrapping_sub(1);
        let Some(at) = corners.get(i).copied() else {
            return Err(fault("", format!("there is no corner {}", moved.corner)));
        };
        let by = length.m() * Vec2::from_angle(deg.to_radians());
        let at = at + by;
        let entries: Vec<WalkEntry> = self.entries().collect();
        let ends = |j: usize| Some((*corners.get(j)?, *corners.get(j + 1)?));
        // Behind the two runs an arc without a direction would follow another heading than before.
        let follows = |entry: Option<&WalkEntry>| {
            matches!(entry, Some(WalkEntry::Arc { direction_deg: None, .. }))
        };
        let mut put = |j: usize, ends: Option<(Point, Point)>| {
            if let (Some(run), Some((from, to))) = (self.runs.get_mut(j), ends) {
                *run = leading(run, to - from, units);
            }
        };
        put(i, ends(i).map(|(_, to)| (at, to)));
        if follows(entries.get(i + 1)) {
            put(i + 1, ends(i + 1));
        }
        if i > 0 {
            put(i - 1, ends(i - 1).map(|(from, _)| (from, at)));
        } else {
            // The walk starts there, and where it came back to its start its last run comes back to the new one. What it misses by stays.
            let last = entries.len().saturating_sub(1);
            let misses = corners.last().map_or(0.0, |last| last.to_vec2().hypot());
            let walked: f64 =
                entries.iter().filter_map(|e| e.chord(&mut Some(0.0))).map(|(_, l)| l.m()).sum();
            let back = misses <= LEAST_TOLERANCE.max(walked * TOLERANCE_RATIO);
            if back && last > 1 && entries.last() != Some(&WalkEntry::Close) {
                put(last, ends(last).map(|(from, to)| (from, to + by)));
            }
            self.shift = (self.shift.0 + by.x, self.shift.1 + by.y);
        }
        self.moved = None;
        self.checked()?;
        Ok(self)
    }
}

fn refused(fault: Fault) -> Response {
    Response::refused(422, &fault.message, &fault.field)
}

/// A run that leads elsewhere; an arc keeps its radius or rise, and its hand.
fn leading(run: &str, chord: Vec2, units: Units) -> String {
    let straight = run_along(chord, units, SQUARE_DEG);
    let lower = run.to_ascii_lowercase();
    let bend = lower.starts_with("arc").then(|| lower.find(" r")).flatten();
    match bend {
        Some(at) => format!("arc {straight}{}", &run[at..]),
        None => straight,
    }
}

/// The points of a run on the plan, m: its ends, and of an arc some between.
fn shown(entry: &WalkEntry, a: Point, b: Point) -> Vec<(f64, f64)> {
    let path = match *entry {
        WalkEntry::Arc { chord, rise, left, .. } => {
            let bow = rise.m() / chord.m() * if left { 1.0 } else { -1.0 };
            let chord = b - a;
            let via = a.midpoint(b) + bow * Vec2::new(chord.y, -chord.x);
            Arc::through(a, via, b).map(|arc| Path::new(vec![Segment::Arc(arc)]))
        }
        _ => None,
    };
    path.map_or_else(|| vec![a.into(), b.into()], |path| line(&path))
}

/// The points of a wall: its ends, and of a curve some between.
pub(super) fn line(path: &Path) -> Vec<(f64, f64)> {
    let straight = path.segments().iter().all(|part| matches!(part, Segment::Line { .. }));
    let share = |i: u32| path.length() * f64::from(i) / f64::from(SHOWN);
    let between = if straight { 0 } else { SHOWN - 1 };
    let points = (1..=between).map(|i| path.point_at(share(i)));
    let all = std::iter::once(path.start()).chain(points).chain(std::iter::once(path.end()));
    all.map(Into::into).collect()
}

/// How far the middle of a curved wall stands off the line between its ends, m.
fn rise(chord: f64, first: f64, second: f64) -> Option<f64> {
    let half = f64::midpoint(chord, first) + second / 2.0;
    let area = (half * (half - chord) * (half - first) * (half - second)).sqrt();
    let radius = chord * first * second / (4.0 * area);
    let to_center = (radius.powi(2) - chord.powi(2) / 4.0).max(0.0).sqrt();
    // Seen from a point of less than half a circle its ends stand more than square apart.
    let less_than_half = first.powi(2) + second.powi(2) < chord.powi(2);
    let rise = if less_than_half { radius - to_center } else { radius + to_center };
    (area > 0.0 && rise.is_finite()).then_some(rise)
}

/// Where the runs lead: corners in meters, x to the right and y up, the points of each wall, what is still missing to the start,
/// the run that would close it, and what the diagonals are by the walk. A corner is moved before, and a bend answered beside.
#[must_use]
pub fn trace(body: &[u8]) -> Response {
    Walked::read(body)
        .and_then(|walked| traced(walked).map_err(refused))
        .unwrap_or_else(|refused| refused)
}

fn traced(mut walked: Walked) -> Result<Response, Fault> {
    if let Some(moved) = walked.moved.take() {
        walked = walked.with(&moved)?;
    }
    let units = walked.units();
    let corners = walked.corners();
    let last = corners.last().copied().unwrap_or_default();
    let gap = last.to_vec2().hypot();
    let enough = corners.len() > 2;
    let closed = enough && (walked.closes() || gap <= CLOSED);
    let closing = (enough && !closed).then(|| run_along(-last.to_vec2(), units, SAME_DEG));
    let ends = corners.windows(2).map(|pair| (pair[0], pair[1]));
    let ends = ends.chain(walked.closes().then_some((last, Point::ORIGIN)));
    let walls = walked.entries().zip(ends);
    let bend = match &walked.bend {
        Some(Bend { chord, first, second }) => {
            let lengths = (walked.length(chord)?, walked.length(first)?, walked.length(second)?);
            let rise = rise(lengths.0, lengths.1, lengths.2);
            let words = "these three lengths are no triangle; tape from both ends to one point of the wall again";
            Some(rise.ok_or_else(|| fault("", words))?)
        }
        None => None,
    };
    let diagonal = |check: &Check| {
        write::length((corners[check.from - 1] - corners[check.to - 1]).hypot(), units)
    };
    let answer = json!({
        "runs": walked.runs,
        "shift": walked.shift,
        "corners": corners.iter().map(|at| (at.x, at.y)).collect::<Vec<_>>(),
        "walls": walls.map(|(entry, (a, b))| shown(&entry, a, b)).collect::<Vec<_>>(),
        "closed": closed,
        "gap": write::length(gap, units),
        "closing": closing,
        "diagonals": walked.checks.iter().map(diagonal).collect::<Vec<_>>(),
        "rise": bend.map(|rise| place::text(rise, units)),
    });
    Ok(Response::json(200, answer.to_string()))
}

/// The run from a point to one that lies so far from it; along a side of the sheet where it is nearer to that than `same_deg`.
fn run_along(chord: Vec2, units: Units, same_deg: f64) -> String {
    let (dx, dy) = (chord.x, chord.y);
    let length = place::text(dx.hypot(dy), units);
    let deg = dy.atan2(dx).to_degrees().rem_euclid(360.0);
    for (letter, at) in [("E", 0.0), ("N", 90.0), ("W", 180.0), ("S", 270.0), ("E", 360.0)] {
        if (deg - at).abs() < same_deg {
            return format!("{letter} {length}");
        }
    }
    let from = if dy > 0.0 { "N" } else { "S" };
    let toward = if dx > 0.0 { "E" } else { "W" };
    let angle = dx.abs().atan2(dy.abs()).to_degrees();
    format!("{from}{}{toward} {length}", write::trimmed(angle, 2))
}

/// The sketch of a new floor.
#[must_use]
pub fn begin(body: &[u8]) -> Response {
    let walked = match Walked::read(body) {
        Ok(walked) => walked,
        Err(refused) => return refused,
    };
    let name: String = walked.name.trim().chars().take(LONGEST_NAME).collect();
    if name.is_empty() {
        return Response::refused(422, "give the job a name", "name");
    }
    let text = starter::sketch(&starter::Floor {
        name,
        units: walked.units(),
        corners: starter::corners(&walked.runs, walked.units()),
        walk: walked.runs.clone(),
    });
    let checks = walked.checks.iter().map(|check| {
        let Check { from, to, measured } = check;
        ("slab.checks", format!("{{from: {from}, to: {to}, measured: {measured}}}"))
    });
    let doors = walked.doors.iter().map(|door| {
        let Door { wall, from, to } = door;
        ("slab.openings", format!("{{wall: {wall}, from: {from}, to: {to}}}"))
    });
    let put =
        |text: String, (section, record): (&str, String)| insert_record(&text, section, &record);
    let text = match checks.chain(doors).try_fold(text, put) {
        Ok(text) => text,
        Err(why) => return Response::refused(422, &why.message, ""),
    };
    let floor = Floor::read(text, None);
    if floor.resolved().is_none() {
        return Response::refused(422, &floor.errors(), "runs");
    }
    Response::json(200, serde_json::json!({"text": floor.text}).to_string())
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::Value;

    fn answer(response: &Response) -> (u16, Value) {
        let body = serde_json::from_slice(&response.body).expect("JSON");
        (response.status, body)
    }

    fn traced(runs: &[&str], metric: bool) -> (u16, Value) {
        answer(&trace(json!({"metric": metric, "runs": runs}).to_string().as_bytes()))
    }

    #[test]
    fn the_run_that_closes_is_offered_as_it_would_be_taped() {
        let rows: [(&str, &[&str], bool, Value); 6] = [
            ("nothing yet", &[], false, Value::Null),
            ("one run", &["E 24'"], false, Value::Null),
            ("two runs", &["E 24'", "N 24'"], false, json!("S45W 33' 11 1/4\"")),
            ("three sides", &["E 24'", "N 22'", "W 24'"], false, json!("S 22'")),
            ("back", &["E 24'", "N 22'", "W 24'", "S 22'"], false, Value::Null),
            ("meters", &["E 7.3", "N 6", "W 7.3"], true, json!("S 6 m")),
        ];
        for (name, runs, metric, wanted) in rows {
            let (status, body) = traced(runs, metric);
            assert_eq!((status, &body["closing"]), (200, &wanted), "{name}");
        }
        assert_eq!(traced(&["E 24'", "N 22'", "close"], false).1["closed"], true);
        assert_eq!(traced(&["E 24'", "N 22'", "W 23' 11\""], false).1["gap"], "22'-0\"");
        let (status, body) = traced(&["E 24'", "NE 3'"], false);
        assert_eq!((status, &body["field"]), (422, &json!("run-2")));
    }

    #[test]
    fn curved_walls_are_shown_as_they_run() {
        let sent = json!({"metric": false, "runs": ["E 12'", "arc N 8' rise 2' left", "arc 4' R 2' left"]});
        let (_, body) = answer(&trace(sent.to_string().as_bytes()));
        let wall = body["walls"][1].as_array().expect("a wall");
        let middle = &wall[wall.len() / 2];
        let at = |i: usize| middle[i].as_f64().unwrap_or(f64::NAN) / 0.3048;
        // To the left as it is walked lies the floor; the wall stands out to the right.
        assert!((at(0) - 14.0).abs() < 1e-9 && (at(1) - 4.0).abs() < 1e-9, "{middle}");
        assert_eq!(body["walls"][0].as_array().map(Vec::len), Some(2));
        let (status, body) = traced(&["arc 4' R 2' left"], false);
        assert_eq!((status, &body["field"]), (422, &json!("run-1")));
        // Of half a circle, of less and of more; the third side of a triangle is the chord.
        for (lengths, rise) in
            [(["10'", "6'", "8'"], "5'"), (["8'", "5'", "5'"], "3'"), (["6'", "5'", "5'"], "4'")]
        {
            let [chord, first, second] = lengths;
            let bend = json!({"chord": chord, "first": first, "second": second});
            let (_, body) = answer(&trace(
                json!({"metric": false, "runs": [], "bend": bend}).to_string().as_bytes(),
            ));
            assert_eq!(body["rise"], rise, "{lengths:?}");
        }
        let bend = json!({"chord": "10'", "first": "2'", "second": "3'"});
        let (status, body) = answer(&trace(
            json!({"metric": false, "runs": [], "bend": bend}).to_string().as_bytes(),
        ));
        assert_eq!(status, 422, "{body}");
    }

    #[test]
    fn a_corner_that_moves_takes_both_walls_with_it() {
        let square = ["E 24'", "N 20'", "W 24'", "S 20'"];
        let rows: [(&[&str], usize, &str, &[&str]); 9] = [
            (&square, 3, "E 2'", &["E 24'", "N5.71E 20' 1 1/4\"", "W 26'", "S 20'"]),
            (
                &["E 24'", "N 20'", "W 6'", "N 4'", "W 18'", "S 24'"],
                4,
                "E 2'",
                &["E 24'", "N 20'", "W 4'", "N26.57W 4' 5 5/8\"", "W 18'", "S 24'"],
            ),
            (
                &["E 24'", "N 20'", "W 24'", "close"],
                4,
                "N 1'",
                &["E 24'", "N 20'", "N87.61W 24' 0 1/4\"", "close"],
            ),
            // An arc keeps its radius, and the one behind it the direction in which it left.
            (
                &["E 10'", "arc N 8' rise 2' left", "arc 4' R 3' left"],
                2,
                "E 1'",
                &["E 11'", "arc N7.13W 8' 0 3/4\" rise 2' left", "arc S85.06W 4' R 3' left"],
            ),
            (&["E 24'", "N 20'", "W 24'"], 4, "S 20'", &["E 24'", "N 20'", "S50.19W 31' 2 7/8\""]),
            // The walk starts at corner 1: its first run and its last one.
            (&square, 1, "E 2'", &["E 22'", "N 20'", "W 24'", "S5.71E 20' 1 1/4\""]),
            (
                &["E 24'", "N 20'", "W 24'", "close"],
                1,
                "E 2'",
                &["E 22'", "N 20'", "W 24'", "close"],
            ),
            (
                &["E 24'", "N 20'", "W 24'", "S 19' 11\""],
                1,
                "E 2'",
                &["E 22'", "N 20'", "W 24'", "S5.73E 20' 0 1/4\""],
            ),
            (&["E 24'", "N 20'"], 1, "S 1'", &["N87.61E 24' 0 1/4\"", "N 20'"]),
        ];
        for (runs, corner, by, wanted) in rows {
            let sent = json!({"metric": false, "runs": runs, "move": {"corner": corner, "by": by}});
            let (status, body) = answer(&trace(sent.to_string().as_bytes()));
            assert_eq!((status, &body["runs"]), (200, &json!(wanted)), "{body}");
        }
        for corner in [0, 6] {
            let sent =
                json!({"metric": false, "runs": square, "move": {"corner": corner, "by": "E 1'"}});
            assert_eq!(answer(&trace(sent.to_string().as_bytes())).0, 422, "{corner}");
        }
    }

    #[test]
    fn doorways_and_diagonals_go_into_a_new_floor() {
        let mut sent = json!({"metric": false, "name": "Shed", "runs": ["E 24'", "N 7'", "W 24'", "close"],
            "doors": [{"wall": 1, "from": "4'", "to": "20'"}], "checks": [{"from": 1, "to": 3, "measured": "25'"}]});
        let (status, body) = answer(&begin(sent.to_string().as_bytes()));
        assert_eq!(status, 200, "{body}");
        let text = body["text"].as_str().unwrap_or_default();
        for line in
            ["    - {from: 1, to: 3, measured: 25'}\n", "    - {wall: 1, from: 4', to: 20'}\n"]
        {
            assert!(text.contains(line), "{text}");
        }
        sent["checks"][0]["to"] = json!(9);
        assert_eq!(answer(&begin(sent.to_string().as_bytes())).0, 422);
        sent["checks"] = json!([]);
        sent["doors"][0]["to"] = json!("30'");
        let (status, body) = answer(&begin(sent.to_string().as_bytes()));
        assert_eq!(status, 422, "{body}");
    }

    #[test]
    fn a_new_floor_is_sound_or_says_what_is_missing() {
        let ask = |name: &str, runs: &[&str]| {
            let body = json!({"metric": false, "name": name, "runs": runs});
            answer(&begin(body.to_string().as_bytes()))
        };
        let square: &[&str] = &["E 24'", "N 22'", "W 24'", "S 22'"];
        let (status, body) = ask("Shed: the new one", square);
        assert_eq!(status, 200);
        let text = body["text"].as_str().expect("a text").to_owned();
        assert!(
            text.contains("name: \"Shed: the new one\"")
                && text.contains("walk: [E 24', N 22', W 24', S 22']")
        );
        assert_eq!(ask(" ", square).1["field"], "name");
        let (status, body) = ask("Shed", &square[..3]);
        assert_eq!(status, 422, "{body}");
    }
}
