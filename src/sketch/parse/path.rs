//! Paths: lists of vertices, some of them with an arc.

use super::Pass;
use crate::sketch::{PathForm, PointForm, Vertex};
use crate::yaml::Node;

/// What a path is for.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Use {
    /// An open line.
    Line,
    /// The edge of a shape.
    Shape,
    /// The outline of the slab: corners may only refer to corners before them.
    Outline,
}

impl Pass<'_> {
    /// Reads a path, and notes one with too few points.
    pub(super) fn path(&mut self, node: &Node, what: &str, of: Use) -> Option<PathForm> {
        let Some(items) = node.items() else {
            let hint = "write a list of points: [[0, 0], [4', 2']]";
            self.reader.wrong_type(node, what, "a list of points", hint);
            return None;
        };
        let mut vertices = Vec::with_capacity(items.len());
        let mut complete = true;
        for (index, item) in items.iter().enumerate() {
            self.outline_corner = (of == Use::Outline).then_some(index + 1);
            match self.vertex(item, index, of) {
                Some(vertex) => vertices.push(vertex),
                None => complete = false,
            }
        }
        self.outline_corner = None;
        let path = PathForm { vertices, span: node.place.span };
        self.enough(node, what, of, items.len(), complete.then_some(&path))?;
        complete.then_some(path)
    }

    fn vertex(&mut self, node: &Node, index: usize, of: Use) -> Option<Vertex> {
        if node.get("to").is_none() && node.get("via").is_none() {
            let to = self.point(node)?;
            return Some(Vertex { to, via: None });
        }
        let fields = self.reader.fields(node, "a vertex with an arc", &["to", "via"])?;
        let to = self.reader.required(&fields, "to", "to: [4', 2']");
        let to = to.and_then(|node| self.point(node));
        let via = self.optional(&fields, "via", Self::point);
        if index == 0 && of == Use::Line && fields.get("via").is_some() {
            let message = "an arc can't lead to the first point of a path".into();
            let hint =
                "an arc runs from the point before: put `via` at the point where the arc ends";
            self.reader.error("arc", node.place, message, hint);
            return None;
        }
        if fields.get("via").is_some() && via.is_none() {
            return None;
        }
        Some(Vertex { to: to?, via: via.map(Box::new) })
    }

    fn enough(
        &mut self,
        node: &Node,
        what: &str,
        of: Use,
        count: usize,
        path: Option<&PathForm>,
    ) -> Option<()> {
        let least = if of == Use::Line { 2 } else { 3 };
        let corners = path.map_or(count, PathForm::corners);
        let (message, hint) = if of == Use::Line && count < least {
            (
                format!("{what} has too few points: {count}, and a line needs at least two"),
                "write [[0, 0], [4', 2']]",
            )
        } else if of != Use::Line && corners < least {
            let arcs = path.is_some_and(|path| path.vertices.iter().any(|v| v.via.is_some()));
            (
                format!("{what} has {corners} corners, and an area needs at least three"),
                if arcs {
                    "the point that an arc runs `via` is no corner: make the arcs shorter, a full circle of four quarters with four corners"
                } else {
                    "write [[0, 0], [24', 0], [24', 20']]; it is closed by itself"
                },
            )
        } else if path.is_some_and(|path| path.all_one_point()) {
            (
                format!("{what} has no length: all its points are the same"),
                "give a second point somewhere else",
            )
        } else {
            return Some(());
        };
        let code = if of == Use::Line { "path" } else { "corners" };
        let place = self.reader.first_line(node.place);
        self.reader.error(code, place, message, hint);
        None
    }
}

impl PathForm {
    /// How many corners it has as a closed edge. A last vertex with the coordinates of the first is no corner of its
    /// own: it closes the edge, which is how an arc comes back to its start.
    #[must_use]
    pub fn corners(&self) -> usize {
        let count = self.vertices.len();
        match (self.vertices.first(), self.vertices.last()) {
            (Some(first), Some(last)) if count > 1 && same(&first.to.value, &last.to.value) => {
                count - 1
            }
            _ => count,
        }
    }

    fn all_one_point(&self) -> bool {
        let mut vertices = self.vertices.iter();
        vertices.next().is_some_and(|first| {
            self.vertices.iter().all(|vertex| vertex.via.is_none())
                && vertices.all(|vertex| same(&first.to.value, &vertex.to.value))
        })
    }
}

/// The same coordinates, as written.
fn same(one: &PointForm, other: &PointForm) -> bool {
    matches!((one, other), (PointForm::Xy(..), PointForm::Xy(..)) if one == other)
}
