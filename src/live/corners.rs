//! An outline that is a list of corners, while it is changed: a corner moved, put in or typed anew.

use kurbo::{Point, Vec2};
use serde::Deserialize;
use serde_json::json;

use super::floor::Floor;
use super::http::Response;
use super::place;
use super::record::{Fault, fault, length};
use super::walk::{MOST_RUNS, line};
use crate::edit::{self, Reading};
use crate::quantity::Units;
use crate::quantity::read::{Bare, walk_entry};

/// Shorter moves change no coordinate, m.
const STAYS: f64 = 1e-6;

/// What the page sends.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Listed {
    metric: bool,
    /// The corners as a sketch has them: `[24', 0]`.
    corners: Vec<String>,
    change: Option<Change>,
}

/// What is changed of a corner, from 1.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Change {
    corner: usize,
    /// By how much it moves, or how far off a new one lies, as a run: `E 2'`.
    by: Option<String>,
    /// Its coordinates, typed.
    to: Option<[String; 2]>,
    /// A new one behind it, instead of the corner itself.
    #[serde(default)]
    new: bool,
}

/// Where the corners lie, in meters, x to the right and y up, and the points of each wall; a corner is changed before.
#[must_use]
pub fn trace(body: &[u8]) -> Response {
    let listed: Listed = match serde_json::from_slice(body) {
        Ok(listed) => listed,
        Err(e) => return Response::refused(400, &format!("this is no outline: {e}"), ""),
    };
    traced(listed).unwrap_or_else(|fault| Response::refused(422, &fault.message, &fault.field))
}

fn traced(mut listed: Listed) -> Result<Response, Fault> {
    if let Some(change) = listed.change.take() {
        listed.change(&change)?;
    }
    let floor = listed.floor()?;
    let Some(placed) = floor.resolved() else {
        return Err(fault("", floor.errors()));
    };
    let outline = &placed.slab.outline;
    let answer = json!({
        "runs": listed.corners,
        "corners": outline.corners.iter().map(|at| (at.x, at.y)).collect::<Vec<_>>(),
        "walls": outline.walls.iter().map(line).collect::<Vec<_>>(),
        "diagonals": [],
        "closed": true,
    });
    Ok(Response::json(200, answer.to_string()))
}

impl Listed {
    const fn units(&self) -> Units {
        if self.metric { Units::Metric } else { Units::Us }
    }

    /// A floor with this outline and nothing on it.
    fn floor(&self) -> Result<Floor, Fault> {
        if self.corners.len() > MOST_RUNS {
            return Err(fault("", format!("one outline has at most {MOST_RUNS} corners")));
        }
        if self.corners.iter().any(|corner| corner.contains(['\n', '\r', '#'])) {
            return Err(fault("", "a corner is written on one line"));
        }
        let units = if self.metric { "metric" } else { "us" };
        let corners = self.corners.join(", ");
        let text = format!(
            "slabwalk: 1\njob: {{name: outline}}\nunits: {units}\nslab: {{outline: [{corners}]}}\n"
        );
        Ok(Floor::read(text, None))
    }

    fn change(&mut self, change: &Change) -> Result<(), Fault> {
        let floor = self.floor()?;
        let Some(placed) = floor.resolved() else {
            return Err(fault("", floor.errors()));
        };
        let corners = &placed.slab.outline.corners;
        let i = change.corner.wrapping_sub(1);
        let at = corners.get(i).copied();
        let at = at.ok_or_else(|| fault("", format!("there is no corner {}", change.corner)))?;
        let units = self.units();
        let written = match (&change.by, &change.to) {
            (Some(by), None) => {
                let way = walk_entry(by, units).ok().and_then(|by| by.chord(&mut None));
                let (deg, far) =
                    way.ok_or_else(|| fault("", format!("`{by}` says not by how much")))?;
                let to = at + far.m() * Vec2::from_angle(deg.to_radians());
                moved(at, to, units)
            }
            (None, Some(to)) => {
                let one = |text: &String| {
                    let wrong = |e: crate::quantity::read::ReadError| {
                        fault("", format!("`{text}`: {}; {}", e.problem, e.hint))
                    };
                    length(text, Bare::Plan(units)).map(Some).map_err(wrong)
                };
                [one(&to[0])?, one(&to[1])?]
            }
            _ => return Err(fault("", "say where the corner goes")),
        };
        if change.new {
            let [x, y] = written;
            let own =
                |typed: Option<String>, m: f64| typed.unwrap_or_else(|| place::text(m, units));
            self.corners.insert(i + 1, format!("[{}, {}]", own(x, at.x), own(y, at.y)));
            return Ok(());
        }
        if let Some(corner) = self.corners.get_mut(i) {
            *corner = put(corner, at, written, units)?;
        }
        Ok(())
    }
}

/// The coordinates that another place has anew.
fn moved(from: Point, to: Point, units: Units) -> [Option<String>; 2] {
    let one = |from: f64, to: f64| ((to - from).abs() > STAYS).then(|| place::text(to, units));
    [one(from.x, to.x), one(from.y, to.y)]
}

/// A corner with other coordinates. Of a curved wall the point between its ends stays; one that was taped by ties has coordinates then.
fn put(
    corner: &str,
    at: Point,
    written: [Option<String>; 2],
    units: Units,
) -> Result<String, Fault> {
    let mut text = format!("at: {corner}\n");
    let reading = Reading::of(&text);
    let holder = if reading.value("at", "to").is_some() {
        "at.to"
    } else if corner.starts_with('[') {
        "at"
    } else {
        let [x, y] = written;
        let own = |typed: Option<String>, m: f64| typed.unwrap_or_else(|| place::text(m, units));
        return Ok(format!("[{}, {}]", own(x, at.x), own(y, at.y)));
    };
    for (n, value) in [1, 2].into_iter().zip(written) {
        if let Some(value) = value {
            let path = format!("{holder}.{n}");
            text = edit::set_value(&text, &path, &value).map_err(|e| fault("", e.message))?;
        }
    }
    Ok(text.trim_start_matches("at: ").trim_end().to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::Value;

    const SQUARE: [&str; 4] = ["[0, 0]", "[24', 0]", "[24', 20']", "[0, 20']"];

    fn asked(corners: &[&str], change: Value) -> (u16, Value) {
        let sent = json!({"metric": false, "corners": corners, "change": change});
        let answer = trace(sent.to_string().as_bytes());
        (answer.status, serde_json::from_slice(&answer.body).expect("JSON"))
    }

    #[test]
    fn a_corner_is_moved_typed_or_put_in_and_what_is_not_changed_stays_as_written() {
        let arc = ["[0, 0]", "[24', 0]", "{to: [24', 20'], via: [27', 10']}", "[0, 20']"];
        let tied = ["[0, 0]", "[24', 0]", "{ties: [[1, 30'], [2, 20']], side: left}", "[0, 20']"];
        let rows: [(&str, &[&str], Value, usize, &str); 8] = [
            ("nothing", &SQUARE, Value::Null, 2, "[24', 0]"),
            ("right", &SQUARE, json!({"corner": 2, "by": "E 1' 6\""}), 2, "[25' 6\", 0]"),
            (
                "the first one",
                &SQUARE,
                json!({"corner": 1, "by": "N45E 2'"}),
                1,
                "[1' 5\", 1' 5\"]",
            ),
            (
                "typed",
                &SQUARE,
                json!({"corner": 4, "to": ["1/2\"", "19' 11\""]}),
                4,
                "[1/2\", 19' 11\"]",
            ),
            ("a new one", &SQUARE, json!({"corner": 2, "by": "N 4'", "new": true}), 3, "[24', 4']"),
            (
                "behind the last",
                &SQUARE,
                json!({"corner": 4, "by": "S 4'", "new": true}),
                5,
                "[0, 16']",
            ),
            (
                "the end of a curve",
                &arc,
                json!({"corner": 3, "by": "W 1'"}),
                3,
                "{to: [23', 20'], via: [27', 10']}",
            ),
            // 30 and 20 ft from two corners 24 ft apart: 22.417 ft along, 19.937 ft off.
            ("a tied one", &tied, json!({"corner": 3, "by": "N 1'"}), 3, "[22' 5\", 20' 11 1/4\"]"),
        ];
        for (name, corners, change, n, wanted) in rows {
            let (status, body) = asked(corners, change);
            assert_eq!((status, &body["runs"][n - 1]), (200, &json!(wanted)), "{name}: {body}");
            assert_eq!(
                body["corners"].as_array().map(Vec::len),
                body["walls"].as_array().map(Vec::len)
            );
        }
    }

    #[test]
    fn what_is_no_outline_is_said() {
        let rows: [(&str, &[&str], Value, &str); 5] = [
            (
                "crossing",
                &["[0, 0]", "[9', 9']", "[9', 0]", "[0, 9']"],
                Value::Null,
                "crosses itself",
            ),
            ("no corner", &SQUARE, json!({"corner": 9, "by": "E 1'"}), "there is no corner 9"),
            ("no way", &SQUARE, json!({"corner": 1, "by": "far"}), "`far` says not by how much"),
            ("no length", &SQUARE, json!({"corner": 1, "to": ["1'", "?"]}), "`?`"),
            ("more than a corner", &["[0, 0]]}\nx: [{y: 1", "[9', 0]"], Value::Null, "on one line"),
        ];
        for (name, corners, change, wanted) in rows {
            let (status, body) = asked(corners, change);
            let said = body["message"].as_str().unwrap_or_default();
            assert!(status == 422 && said.contains(wanted), "{name}: {body}");
        }
    }
}
