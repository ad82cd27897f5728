//! The outline while it is walked: where the runs lead, how far off the last one ends, and the sketch of a new floor.

use serde::Deserialize;

use super::floor::Floor;
use super::http::Response;
use super::place;
use crate::quantity::read::{WalkEntry, walk_entry};
use crate::quantity::{M_PER_IN, Units, write};
use crate::starter;

/// Most runs of one outline.
const MOST_RUNS: usize = 200;
/// Longest name of a job, characters.
const LONGEST_NAME: usize = 120;
/// A walk that ends nearer to its start than this is closed, m: a quarter of an inch, what the tape is read to.
const CLOSED: f64 = M_PER_IN / 4.0;
/// Two directions nearer than this are one, degrees.
const SAME_DEG: f64 = 0.25;

/// What the page sends.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Walked {
    metric: bool,
    runs: Vec<String>,
    #[serde(default)]
    name: String,
}

impl Walked {
    fn read(body: &[u8]) -> Result<Self, Response> {
        let walked: Self = serde_json::from_slice(body)
            .map_err(|e| Response::refused(400, &format!("this is no walk: {e}"), ""))?;
        if walked.runs.len() > MOST_RUNS {
            let words = format!("one outline has at most {MOST_RUNS} runs");
            return Err(Response::refused(422, &words, ""));
        }
        for (i, run) in walked.runs.iter().enumerate() {
            walk_entry(run, walked.units()).map_err(|e| {
                let words = format!("run {} `{run}`: {}; {}", i + 1, e.problem, e.hint);
                Response::refused(422, &words, &format!("run-{}", i + 1))
            })?;
        }
        Ok(walked)
    }

    const fn units(&self) -> Units {
        if self.metric {
            Units::Metric
        } else {
            Units::Us
        }
    }

    fn closes(&self) -> bool {
        let entry = |run: &String| walk_entry(run, self.units());
        matches!(self.runs.last().map(entry), Some(Ok(WalkEntry::Close)))
    }
}

/// Where the runs lead: corners in meters, x to the right and y up, what is still missing to the start, and the run
/// that would close it.
#[must_use]
pub fn trace(body: &[u8]) -> Response {
    let walked = match Walked::read(body) {
        Ok(walked) => walked,
        Err(refused) => return refused,
    };
    let units = walked.units();
    let corners = starter::corners(&walked.runs, units);
    let (x, y) = corners.last().copied().unwrap_or_default();
    let gap = x.hypot(y);
    let enough = corners.len() > 2;
    let closed = enough && (walked.closes() || gap <= CLOSED);
    let closing = (enough && !closed).then(|| closing_run(-x, -y, units));
    let answer = serde_json::json!({
        "corners": corners,
        "closed": closed,
        "gap": write::length(gap, units),
        "closing": closing,
    });
    Response::json(200, answer.to_string())
}

/// The run from a point that lies so far from the start.
fn closing_run(dx: f64, dy: f64, units: Units) -> String {
    let length = place::text(dx.hypot(dy), units);
    let deg = dy.atan2(dx).to_degrees().rem_euclid(360.0);
    for (letter, at) in [
        ("E", 0.0),
        ("N", 90.0),
        ("W", 180.0),
        ("S", 270.0),
        ("E", 360.0),
    ] {
        if (deg - at).abs() < SAME_DEG {
            return format!("{letter} {length}");
        }
    }
    let from = if dy > 0.0 { "N" } else { "S" };
    let toward = if dx > 0.0 { "E" } else { "W" };
    let angle = dx.abs().atan2(dy.abs()).to_degrees();
    format!("{from}{}{toward} {length}", write::trimmed(angle, 1))
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
        walk: walked.runs,
    });
    let floor = Floor::read(text, None);
    if floor.survey.is_none() {
        let why: Vec<&str> = floor.errors().map(|d| d.message.as_str()).collect();
        return Response::refused(422, &why.join("; "), "runs");
    }
    Response::json(200, serde_json::json!({"text": floor.text}).to_string())
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn answer(response: &Response) -> (u16, Value) {
        let body = serde_json::from_slice(&response.body).expect("JSON");
        (response.status, body)
    }

    fn traced(runs: &[&str], metric: bool) -> (u16, Value) {
        answer(&trace(
            json!({"metric": metric, "runs": runs})
                .to_string()
                .as_bytes(),
        ))
    }

    #[test]
    fn the_run_that_closes_is_offered_as_it_would_be_taped() {
        let rows: [(&str, &[&str], bool, Value); 6] = [
            ("nothing yet", &[], false, Value::Null),
            ("one run", &["E 24'"], false, Value::Null),
            (
                "two runs",
                &["E 24'", "N 24'"],
                false,
                json!("S45W 33' 11 1/4\""),
            ),
            (
                "three sides",
                &["E 24'", "N 22'", "W 24'"],
                false,
                json!("S 22'"),
            ),
            (
                "back",
                &["E 24'", "N 22'", "W 24'", "S 22'"],
                false,
                Value::Null,
            ),
            ("meters", &["E 7.3", "N 6", "W 7.3"], true, json!("S 6 m")),
        ];
        for (name, runs, metric, wanted) in rows {
            let (status, body) = traced(runs, metric);
            assert_eq!((status, &body["closing"]), (200, &wanted), "{name}");
        }
        assert_eq!(
            traced(&["E 24'", "N 22'", "close"], false).1["closed"],
            true
        );
        assert_eq!(
            traced(&["E 24'", "N 22'", "W 23' 11\""], false).1["gap"],
            "22'-0\""
        );
        let (status, body) = traced(&["E 24'", "NE 3'"], false);
        assert_eq!((status, &body["field"]), (422, &json!("run-2")));
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
