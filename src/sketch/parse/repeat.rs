//! Records that stand for several things alike: `repeat:`, and lists of `x:` or `y:` of a joint. Here, and nowhere else, one such
//! record becomes as many items; what comes after sees items that could have been written one by one.

use super::Pass;
use crate::diagnostic::Diagnostic;
use crate::form::Fields;
use crate::quantity::{Length, read};
use crate::record::limits::COORDINATE;
use crate::sketch::{
    At, Joint, KeepOut, LineForm, MoistureTest, PathForm, PointForm, ShapeForm, Spall, Span,
};
use crate::yaml::Node;

/// Keys of a row of copies.
const ROW: [&str; 2] = ["count", "by"];
/// Keys of a grid of copies.
const GRID: [&str; 2] = ["x", "y"];
/// Most items that one record stands for. Nobody walks past more without a pencil (common practice).
pub(crate) const MOST: usize = 1000;
/// Most items that the repeated records of a file stand for together.
pub(super) const MOST_OF_ALL: usize = 20_000;
/// Places nearer to each other are one, m: less than a tape shows.
const ONE_SPOT: f64 = 1e-4;

/// To the right, and up.
type Shift = (Length, Length);

/// Where the items of a repeated record stand.
enum Repeat {
    /// So many, each so far from the one before.
    Row(usize, Shift),
    /// At each of these x and each of these y; at the place as written where there are none.
    Grid(Vec<At<Length>>, Vec<At<Length>>),
}

/// How many items a record stands for as it is written; nothing where it stands for itself, or where the number can't be told.
/// The lengths in it are not read: [`Pass::repeated`] does that.
pub(super) fn items_of(record: &Node) -> Option<usize> {
    let listed = |node: Option<&Node>| node.and_then(Node::items).map(<[Node]>::len);
    let lines = listed(record.get("x")).or(listed(record.get("y")));
    let repeat = record.get("repeat").filter(|node| !node.is_null());
    let Some(repeat) = repeat else {
        return lines;
    };
    let along = |key| listed(repeat.get(key)).unwrap_or(1);
    let count = match repeat.get("count").filter(|count| !count.is_null()) {
        Some(count) => read::count(count.text()?).ok()?,
        None => along("x").checked_mul(along("y"))?,
    };
    lines.unwrap_or(1).checked_mul(count)
}

/// A record that can be repeated: its id, and by what it is placed.
pub(super) trait Repeated: Clone {
    fn parts(&mut self) -> (&mut At<String>, Form<'_>);
}

/// By what a record is placed.
pub(super) enum Form<'r> {
    Line(&'r mut LineForm),
    Shape(&'r mut ShapeForm),
    Point(&'r mut At<PointForm>),
}

impl Pass<'_> {
    /// Reads a record with all the items that it stands for. `read` gives one item, or one for each of a list of lines.
    pub(super) fn repeated<T: Repeated>(
        &mut self,
        node: &Node,
        read: impl FnOnce(&mut Self, &Node) -> Option<Vec<T>>,
    ) -> Option<Vec<T>> {
        let id = self.ids.of(node);
        self.reader.item = Some(id.value.clone());
        let repeat = node.get("repeat").filter(|node| !node.is_null());
        let layout = repeat.map(|repeat| self.repeat(repeat));
        self.reader.item = None;
        let written = read(self, node)?;
        let lines = written.len() > 1 || ["x", "y"].iter().any(|k| is_list(node.get(k)));
        if layout.is_none() && !lines {
            return Some(written);
        }
        self.reader.item = Some(id.value.clone());
        let shifts = match (&layout, repeat) {
            (Some(layout), Some(repeat)) => layout
                .as_ref()
                .and_then(|layout| self.shifts(layout, written.first()?.clone(), repeat)),
            _ => Some(vec![Shift::default()]),
        };
        let shifts = shifts.and_then(|shifts| {
            self.believed(repeat.unwrap_or(node), shifts.len() * written.len())?;
            Some(shifts)
        });
        self.reader.item = None;
        let shifts = shifts?;
        // Where there are too many, or an id too long, that was said when the ids were given.
        if self.ids.items(node) != Some(shifts.len() * written.len()) {
            return None;
        }
        let moved = shifts.iter().flat_map(|&by| {
            written.iter().cloned().map(move |mut item| {
                item.parts().1.shift(by);
                item
            })
        });
        let numbered = moved.zip(1..).map(|(mut item, number)| {
            item.parts().0.value = numbered(&id.value, number);
            item
        });
        Some(numbered.collect())
    }

    /// What stands behind `repeat:`.
    fn repeat(&mut self, node: &Node) -> Option<Repeat> {
        let has = |keys: [&'static str; 2]| {
            let there = |key: &&str| node.get(key).is_some_and(|value| !value.is_null());
            keys.into_iter().find(there)
        };
        if let (Some(row), Some(grid)) = (has(ROW), has(GRID)) {
            let message = format!("the copies are placed twice, by `{row}` and by `{grid}`");
            let hint =
                "keep count and by for a row at equal distances, or x and y for places as taped";
            self.reader.error("placed-twice", node.place, message, hint);
            return None;
        }
        if has(GRID).is_some() {
            let fields = self.reader.fields(node, "a grid of copies", &GRID)?;
            let x = self.lines(&fields, "x");
            let y = self.lines(&fields, "y");
            let (x, y) = (x?, y?);
            self.believed(node, x.len().max(1) * y.len().max(1))?;
            return Some(Repeat::Grid(x, y));
        }
        let fields = self.reader.fields(node, "a row of copies", &ROW)?;
        let count = self.reader.required(&fields, "count", "count: 6");
        let count = count.and_then(|node| {
            let count = self.reader.count(node, "the count")?.value;
            self.believed(node, count)?;
            Some(count)
        });
        let by = self.reader.required(&fields, "by", "by: [20', 0]");
        let by = by.and_then(|node| self.step(node));
        Some(Repeat::Row(count?, by?))
    }

    fn believed(&mut self, node: &Node, count: usize) -> Option<()> {
        if count <= MOST {
            return Some(());
        }
        let message = format!("{count} items of one record are beyond belief: more than {MOST}");
        let hint = "the count is how many there are in all, the first one included";
        self.reader.error("beyond-belief", node.place, message, hint);
        None
    }

    /// How far each copy stands from the one before.
    fn step(&mut self, node: &Node) -> Option<Shift> {
        let [x, y] = node.items().unwrap_or_default() else {
            let hint = "write by: [20', 0], to the right and up";
            self.reader.wrong_type(node, "`by`", "two lengths", hint);
            return None;
        };
        let x = self.reader.length(x, &COORDINATE.called("the distance"));
        let y = self.reader.length(y, &COORDINATE.called("the distance"));
        let (x, y) = (x?.value, y?.value);
        if x.m().abs() < ONE_SPOT && y.m().abs() < ONE_SPOT {
            let message = "all copies would stand in one spot: `by` is no distance".into();
            let hint =
                "write how far each stands from the one before, to the right and up: by: [20', 0]";
            self.reader.error("zero", node.place, message, hint);
            return None;
        }
        Some((x, y))
    }

    /// A coordinate, or a list of different ones; an empty list where the key is left out.
    pub(super) fn lines(&mut self, fields: &Fields, key: &str) -> Option<Vec<At<Length>>> {
        let Some(node) = fields.get(key) else {
            return Some(Vec::new());
        };
        let Some(items) = node.items() else {
            return Some(vec![self.reader.length(node, &COORDINATE)?]);
        };
        if items.is_empty() {
            let message = format!("the list behind `{key}` is empty");
            let hint = format!("write {key}: [10', 20', 30'], or {key}: 10'");
            self.reader.error("missing-key", node.place, message, &hint);
            return None;
        }
        self.believed(node, items.len())?;
        let mut out: Vec<At<Length>> = Vec::with_capacity(items.len());
        let mut complete = true;
        for item in items {
            let Some(length) = self.reader.length(item, &COORDINATE) else {
                complete = false;
                continue;
            };
            let same =
                |before: &&At<Length>| (before.value.m() - length.value.m()).abs() < ONE_SPOT;
            if out.iter().any(|before| same(&before)) {
                let message = format!(
                    "{key} = {} is there twice: two copies would stand in one spot",
                    item.text().unwrap_or_default()
                );
                self.reader.error("repeat", item.place, message, "take one of them out");
                complete = false;
            }
            out.push(length);
        }
        complete.then_some(out)
    }

    /// How far each item stands from the record as written.
    fn shifts(
        &mut self,
        layout: &Repeat,
        mut first: impl Repeated,
        node: &Node,
    ) -> Option<Vec<Shift>> {
        let (xs, ys) = match layout {
            Repeat::Row(count, by) => {
                let times = |n: usize, by: Length| Length::from_m(by.m() * n as f64);
                return Some((0..*count).map(|n| (times(n, by.0), times(n, by.1))).collect());
            }
            Repeat::Grid(xs, ys) => (xs, ys),
        };
        let (x, y) = first.parts().1.own_point();
        let from = |at: Option<Length>, key: &'static str, list: &[At<Length>]| {
            if list.is_empty() {
                return Ok::<Vec<f64>, &str>(vec![0.0]);
            }
            let at = at.ok_or(key)?;
            Ok(list.iter().map(|to| to.value.m() - at.m()).collect())
        };
        let (dx, dy) = match (from(x, "x", xs), from(y, "y", ys)) {
            (Ok(dx), Ok(dy)) => (dx, dy),
            (Err(key), _) | (_, Err(key)) => {
                let message = format!(
                    "`{key}` says where copies stand, and the record as written has no {key} of its own"
                );
                let hint =
                    "place it by coordinates, [x, y], or repeat it by {count: 6, by: [20', 0]}";
                self.reader.error("repeat", node.place, message, hint);
                return None;
            }
        };
        let here = |list: &[f64]| list.iter().any(|d| d.abs() < ONE_SPOT);
        if !(here(&dx) && here(&dy)) {
            let message =
                "nothing stands where the record is written: that place is not among the copies";
            let hint = "x and y are coordinates of its own point, the first place among them: center of a circle, corner of a box, first point of a path";
            let fault = Diagnostic::warning("repeat", message);
            self.reader.note(fault.place(node.place).hint(hint));
        }
        let place = |&y: &f64| dx.iter().map(move |&x| (Length::from_m(x), Length::from_m(y)));
        Some(dy.iter().flat_map(place).collect())
    }
}

/// The id of the item of this number, from 1, of a repeated record.
pub(super) fn numbered(id: &str, number: usize) -> String {
    format!("{id}.{number}")
}

fn is_list(node: Option<&Node>) -> bool {
    node.is_some_and(|node| node.items().is_some())
}

impl Repeated for Joint {
    fn parts(&mut self) -> (&mut At<String>, Form<'_>) {
        (&mut self.id, Form::Line(&mut self.line.value))
    }
}

impl Repeated for KeepOut {
    fn parts(&mut self) -> (&mut At<String>, Form<'_>) {
        (&mut self.id, Form::Shape(&mut self.shape.value))
    }
}

impl Repeated for Spall {
    fn parts(&mut self) -> (&mut At<String>, Form<'_>) {
        (&mut self.id, Form::Shape(&mut self.shape.value))
    }
}

impl Repeated for MoistureTest {
    fn parts(&mut self) -> (&mut At<String>, Form<'_>) {
        (&mut self.id, Form::Point(&mut self.at))
    }
}

impl Form<'_> {
    /// The coordinates of the point by which it is placed, as far as it has any as written.
    fn own_point(&self) -> (Option<Length>, Option<Length>) {
        let value = |at: &Option<At<Length>>| at.as_ref().map(|at| at.value);
        let first = |path: &PathForm| path.vertices.first().map(|vertex| vertex.to.clone());
        let point = match self {
            Form::Line(LineForm::X { x, from, .. }) => return (Some(x.value), value(from)),
            Form::Line(LineForm::Y { y, from, .. }) => return (value(from), Some(y.value)),
            Form::Line(LineForm::Path(path)) => first(path),
            Form::Shape(ShapeForm::Box { corner, .. }) => Some(corner.clone()),
            Form::Shape(ShapeForm::Circle { center, .. }) => Some(center.clone()),
            Form::Shape(ShapeForm::Polygon(path) | ShapeForm::Band { path, .. }) => first(path),
            Form::Point(at) => Some((*at).clone()),
        };
        match point.map(|point| point.value) {
            Some(PointForm::Xy(x, y)) => (Some(x), Some(y)),
            _ => (None, None),
        }
    }

    /// Puts it so far to the right, and up.
    fn shift(self, by: Shift) {
        let limits = |ends: [&mut Option<At<Length>>; 2], by| {
            for end in ends.into_iter().flatten() {
                add(&mut end.value, by);
            }
        };
        match self {
            Form::Line(LineForm::X { x, from, to }) => {
                add(&mut x.value, by.0);
                limits([from, to], by.1);
            }
            Form::Line(LineForm::Y { y, from, to }) => {
                add(&mut y.value, by.1);
                limits([from, to], by.0);
            }
            Form::Shape(
                ShapeForm::Box { corner: point, .. } | ShapeForm::Circle { center: point, .. },
            )
            | Form::Point(point) => shift_point(point, by),
            Form::Line(LineForm::Path(path))
            | Form::Shape(ShapeForm::Polygon(path) | ShapeForm::Band { path, .. }) => {
                shift_path(path, by);
            }
        }
    }
}

/// Adds to a length. The sum is rounded to a billionth of a meter, so that it is the length that one would have written.
fn add(length: &mut Length, by: Length) {
    const TO_THE_METER: f64 = 1e9;
    let sum = (length.m() + by.m()) * TO_THE_METER;
    *length = Length::from_m(sum.round() / TO_THE_METER);
}

fn shift_path(path: &mut PathForm, by: Shift) {
    for vertex in &mut path.vertices {
        shift_point(&mut vertex.to, by);
        if let Some(via) = vertex.via.as_deref_mut() {
            shift_point(via, by);
        }
    }
}

fn shift_point(point: &mut At<PointForm>, by: Shift) {
    if let PointForm::Xy(x, y) = &mut point.value {
        add(x, by.0);
        add(y, by.1);
        return;
    }
    if by == Shift::default() {
        return;
    }
    let span: Span = point.span;
    let nowhere = At { value: PointForm::Xy(Length::default(), Length::default()), span };
    let from = Box::new(std::mem::replace(point, nowhere));
    point.value = PointForm::Off { from, by };
}
