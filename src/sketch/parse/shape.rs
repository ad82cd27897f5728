//! Closed shapes.

use super::Pass;
use super::path::Use;
use crate::form::{Fields, Rule};
use crate::record::SHAPES;
use crate::sketch::{At, ShapeForm};
use crate::yaml::Node;

const HINT: &str = "give one of box: {corner: [1', 2'], size: [3', 4']}, circle: {center: [1', 2'], diameter: 8\"}, polygon: [[0, 0], [4', 0], [4', 3']], band: {path: [[0, 0], [4', 0]], width: 18\"}";

impl Pass<'_> {
    /// The one key that gives an item its shape.
    fn shape_key(&mut self, fields: &Fields) -> Option<&'static str> {
        let given: Vec<&str> = SHAPES.into_iter().filter(|key| fields.get(key).is_some()).collect();
        let [key] = given[..] else {
            if given.is_empty() && self.reader.has_misspelt(fields, &SHAPES) {
                return None;
            }
            let (place, message) = match given[..] {
                [] => {
                    (self.reader.first_line(fields.place), format!("{} needs a shape", fields.what))
                }
                [first, second, ..] => (
                    fields.key_place(second),
                    format!("{} has two shapes, {first} and {second}", fields.what),
                ),
                [_] => return None,
            };
            let hint = if given.is_empty() { HINT } else { "keep one of them" };
            self.reader.error("shape", place, message, hint);
            return None;
        };
        Some(key)
    }

    /// Reads the one shape an item must have; its sizes follow the rule.
    pub(super) fn shape(&mut self, fields: &Fields, size: &Rule) -> Option<At<ShapeForm>> {
        let key = self.shape_key(fields)?;
        let node = fields.get(key)?;
        let value = match key {
            "box" => self.rectangle(node, size),
            "circle" => self.circle(node, size),
            "polygon" => self.path(node, "the polygon", Use::Shape).map(ShapeForm::Polygon),
            _ => self.band(node, size),
        }?;
        Some(At { value, span: node.place.span })
    }

    fn rectangle(&mut self, node: &Node, rule: &Rule) -> Option<ShapeForm> {
        let fields = self.reader.fields(node, "a box", &["corner", "size"])?;
        let corner = self.reader.required(&fields, "corner", "corner: [1', 2']");
        let corner = corner.and_then(|node| self.point(node));
        let size = self.reader.required(&fields, "size", "size: [3', 4']")?;
        let [width, height] = size.items().unwrap_or_default() else {
            let hint = "write size: [3', 4'], to the right and up";
            self.reader.wrong_type(size, "`size`", "two lengths", hint);
            return None;
        };
        let width = self.reader.length(width, &rule.called("the width of the box"));
        let height = self.reader.length(height, &rule.called("the height of the box"));
        Some(ShapeForm::Box { corner: corner?, width: width?, height: height? })
    }

    fn circle(&mut self, node: &Node, rule: &Rule) -> Option<ShapeForm> {
        let fields = self.reader.fields(node, "a circle", &["center", "diameter"])?;
        let center = self.reader.required(&fields, "center", "center: [1', 2']");
        let center = center.and_then(|node| self.point(node));
        let rule = rule.called("the diameter");
        let diameter = self.needed_length(&fields, "diameter", &rule, "diameter: 8\"");
        Some(ShapeForm::Circle { center: center?, diameter: diameter? })
    }

    fn band(&mut self, node: &Node, rule: &Rule) -> Option<ShapeForm> {
        let fields = self.reader.fields(node, "a band", &["path", "width"])?;
        let path = self.reader.required(&fields, "path", "path: [[0, 0], [4', 0]]");
        let path = path.and_then(|node| self.path(node, "the path of the band", Use::Line));
        let rule = rule.called("the width of the band");
        let width = self.needed_length(&fields, "width", &rule, "width: 18\"");
        Some(ShapeForm::Band { path: path?, width: width? })
    }
}
