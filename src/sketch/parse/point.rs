//! A point, in one of its four forms.

use super::Pass;
use crate::form::{Rule, Sign};
use crate::quantity::Length;
use crate::record::limits::{COORDINATE, STATION};
use crate::sketch::{At, Hand, PointForm};
use crate::yaml::Node;

const HINT: &str = "write [x, y], {wall: 3, along: 5', out: 2'}, {line: J1, at: 6'} or {ties: [[1, 12'], [4, 9']], side: left}";
/// A distance from a corner.
pub(crate) const TIE: Rule = Rule { sign: Sign::Positive, ..STATION.called("the distance") };

impl Pass<'_> {
    pub(super) fn point(&mut self, node: &Node) -> Option<At<PointForm>> {
        let value = if let Some(items) = node.items() {
            self.coordinates(node, items)?
        } else if node.get("wall").is_some() {
            self.wall_point(node)?
        } else if node.get("line").is_some() {
            self.line_point(node)?
        } else if node.get("ties").is_some() {
            self.tied_point(node)?
        } else {
            self.reader.wrong_type(node, "this", "a point", HINT);
            return None;
        };
        Some(At { value, span: node.place.span })
    }

    fn coordinates(&mut self, node: &Node, items: &[Node]) -> Option<PointForm> {
        let [x, y] = items else {
            let message = format!("a point has two coordinates, and this has {}", items.len());
            let commas = items.len() > 2 && items.iter().all(|item| item.text().is_some());
            let hint = if commas {
                "write [x, y]; a decimal has a point, not a comma: 7.3"
            } else {
                "write [x, y], or a list of points with a bracket around each"
            };
            self.reader.error("point", node.place, message, hint);
            return None;
        };
        let x = self.reader.length(x, &COORDINATE);
        let y = self.reader.length(y, &COORDINATE);
        Some(PointForm::Xy(x?.value, y?.value))
    }

    fn wall_point(&mut self, node: &Node) -> Option<PointForm> {
        let fields = self.reader.fields(node, "a point on a wall", &["wall", "along", "out"])?;
        let wall = self.reader.required(&fields, "wall", "wall: 3");
        let wall = wall.and_then(|node| self.wall(node, "the wall"));
        let along = self.needed_length(&fields, "along", &STATION, "along: 5'");
        let out = STATION.called("the distance out from the wall");
        let out = self.length(&fields, "out", &out);
        if self.outline_corner.is_some() {
            let message = "a corner of the outline can't be placed from a wall".into();
            let hint = "give it by coordinates, or by ties to corners before it";
            self.reader.error("outline-point", node.place, message, hint);
            return None;
        }
        Some(PointForm::Wall {
            wall: wall?,
            along: along?,
            out: out.map_or(Length::default(), |out| out.value),
        })
    }

    fn line_point(&mut self, node: &Node) -> Option<PointForm> {
        let fields = self.reader.fields(node, "a point on a line", &["line", "at"])?;
        self.reader.required(&fields, "line", "line: J1");
        let line = self.reader.text(&fields, "line");
        let at = self.needed_length(&fields, "at", &STATION, "at: 6'");
        let line = line?;
        if self.outline_corner.is_some() {
            let message = "a corner of the outline can't be placed from a joint or crack".into();
            let hint = "give it by coordinates, or by ties to corners before it";
            self.reader.error("outline-point", node.place, message, hint);
            return None;
        }
        self.references.line(self.reader.item.as_ref(), &line);
        Some(PointForm::Line { line, at: at? })
    }

    fn tied_point(&mut self, node: &Node) -> Option<PointForm> {
        let fields = self.reader.fields(node, "a point by ties", &["ties", "side"])?;
        let ties = self.reader.required(&fields, "ties", "ties: [[1, 12' 3\"], [4, 9' 2\"]]");
        let ties = ties.and_then(|node| {
            let [first, second] = node.items().unwrap_or_default() else {
                let hint = "write ties: [[1, 12' 3\"], [4, 9' 2\"]]";
                self.reader.wrong_type(node, "`ties`", "two of corner and distance", hint);
                return None;
            };
            let first = self.tie(first);
            let second = self.tie(second);
            Some((first?, second?))
        });
        let side = self.reader.required(&fields, "side", "side: left");
        let side = side.and_then(|node| self.reader.word(node, "the side", Hand::WORDS));
        let (first, second) = ties?;
        if first.0.value == second.0.value {
            let message = format!("both ties are taken from corner {}", first.0.value);
            let hint = "a point needs ties to two different corners";
            self.reader.error("ties", node.place, message, hint);
            return None;
        }
        Some(PointForm::Ties { ties: Box::new([first, second]), side: side?.value })
    }

    fn tie(&mut self, node: &Node) -> Option<(At<usize>, At<Length>)> {
        let [corner, distance] = node.items().unwrap_or_default() else {
            let hint = "write [1, 12' 3\"]";
            self.reader.wrong_type(node, "a tie", "a corner and a distance", hint);
            return None;
        };
        let corner = self.corner(corner, "the corner");
        let distance = self.reader.length(distance, &TIE);
        Some((corner?, distance?))
    }

    /// Reads the number of a corner of the outline.
    pub(super) fn corner(&mut self, node: &Node, what: &str) -> Option<At<usize>> {
        self.outline_number(node, what, "corner")
    }

    /// Reads the number of a wall of the outline.
    pub(super) fn wall(&mut self, node: &Node, what: &str) -> Option<At<usize>> {
        self.outline_number(node, what, "wall")
    }

    fn outline_number(&mut self, node: &Node, what: &str, kind: &str) -> Option<At<usize>> {
        let number = self.reader.count(node, what)?;
        if let Some(own) = self.outline_corner {
            if number.value < own {
                return Some(number);
            }
            let message = format!("corner {own} is placed from corner {}", number.value);
            let hint = "a corner can only be placed from corners before it";
            self.reader.error("outline-point", node.place, message, hint);
            return None;
        }
        let Some(corners) = self.corners.filter(|corners| number.value > *corners) else {
            return Some(number);
        };
        let message =
            format!("there is no {kind} {}: the outline has {corners} {kind}s", number.value);
        let hint = match kind {
            "wall" => "wall 1 runs from corner 1 to corner 2, the last one back to corner 1",
            _ => "corners are counted from 1, in the order of the outline",
        };
        self.reader.error("unknown-corner", node.place, message, hint);
        None
    }
}
