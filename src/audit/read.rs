//! A finished SVG as marks on paper, each with the groups it belongs to.

use super::flatten::{letters, runs};
use super::turned::{self, Turned};
use super::{Code, Report, bounds, contained, lost};
use crate::ink::PaperPoint;
use crate::record::Kind;
use crate::tags::place::PaperBox;
use crate::{font, svg};
use std::collections::BTreeMap;
use usvg::roxmltree::{Document, Node as XmlNode};
use usvg::tiny_skia_path::Transform;

/// Millimeters in a pixel of the reader, which counts 96 to the inch.
pub(super) const MM: f64 = 25.4 / 96.0;

/// Prefix of the ids that are given for the time of the reading to groups that have a class but no id.
pub(super) const GIVEN: &str = "given-";

/// Classes of lines that no tag may cover.
const PLAN_LINES: [&str; 8] =
    ["crack", "outline", "opening", "column", "patch", "dimension", "cartridge", "pour"];

/// Class of the groups that draw items of a kind under their own ids, and whether such an item is an area that a leader may end in.
const fn class(kind: Kind) -> (&'static str, bool) {
    match kind {
        Kind::Joint => ("joint", false),
        Kind::Crack => ("crack", false),
        Kind::Spall => ("spall", true),
        Kind::Delamination => ("delamination", true),
        Kind::Blemish => ("blemish", true),
        Kind::Lippage => ("step", false),
        Kind::KeepOut => ("keep-out", true),
        Kind::Uncoated => ("uncoated", true),
        Kind::Moisture => ("moisture", true),
        Kind::Tier => ("tier", true),
    }
}

/// The same of what is no item of the sketch.
const OTHERS: [(&str, bool); 3] = [("face", false), ("patch", true), ("low-spot", true)];

/// The class of an item among those of a group.
fn item_class(name: &str) -> Option<(&'static str, bool)> {
    let mut all = Kind::ALL.iter().map(|&kind| class(kind)).chain(OTHERS);
    all.find(|(known, _)| *known == name)
}

/// Classes of marks of no item that somebody has to find on the floor all the same.
const MARKS: [&str; 3] = ["height", "hardness", "order"];

/// An item of the floor that a group draws.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Item {
    pub id: String,
    /// Its kind: the class.
    pub kind: &'static str,
    pub area: bool,
}

/// Red, green and blue, 0 to 255.
pub(super) type Rgb = [f64; 3];

/// The color of lines, leaders' ends among them.
const BLACK: Rgb = [0.0; 3];

/// What a group says about the marks in it.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Place {
    /// Nearest id.
    pub id: String,
    /// Item whose tag this is.
    pub tag: Option<String>,
    /// Item whose leader this is.
    pub leader: Option<String>,
    /// Item whose schedule row this is.
    pub row: Option<String>,
    /// Group whose mark this is; a mark is a tag too, one of several of its group.
    pub mark: Option<String>,
    /// Group whose line of the key this is.
    pub key: Option<String>,
    /// Item of the floor that this is.
    pub item: Option<Item>,
    /// Item that this text says something of, as `text-R1` or, for one of several, `text-L1-2`.
    pub said_of: Option<String>,
    /// Whether it is a mark that has to be seen.
    pub sign: bool,
    /// Whether it is the zone along edges that is ground by hand.
    pub hand_edge: bool,
    /// Whether it is the edge of the slab, or that of a window of it.
    pub edge: bool,
    /// Whether it is the edge of a window.
    pub frame: bool,
    /// Whether no tag may cover its lines.
    pub plan_line: bool,
    pub hatch: bool,
    pub border: bool,
    /// Whether it may lie outside the border.
    pub margin: bool,
}

/// A drawn path.
pub(super) struct Shape {
    pub place: usize,
    /// Polylines, curves cut into straight pieces.
    pub runs: Vec<Vec<PaperPoint>>,
    /// Whether it has no curves.
    pub straight: bool,
    /// Width of its line; `None` for a filled shape without one.
    pub stroke: Option<f64>,
    /// Color of its fill on white paper; `None` for a line alone.
    pub fill: Option<Rgb>,
    /// Box with the line's width.
    pub area: PaperBox,
}

/// A straight piece of a line.
pub(super) type Piece = (PaperPoint, PaperPoint);

impl Shape {
    /// Its straight pieces.
    pub fn pieces(&self) -> impl Iterator<Item = Piece> + '_ {
        let pairs = self.runs.iter().flat_map(|run| run.windows(2));
        pairs.map(|p| (p[0], p[1]))
    }

    /// Whether a point is inside (even-odd rule).
    pub fn holds(&self, p: PaperPoint) -> bool {
        let crosses = |run: &Vec<PaperPoint>| {
            let ends = (0..run.len()).map(|i| (run[i], run[(i + 1) % run.len()]));
            ends.filter(|(a, b)| {
                (a.y > p.y) != (b.y > p.y) && p.x - a.x < (p.y - a.y) * (b.x - a.x) / (b.y - a.y)
            })
            .count()
        };
        self.runs.iter().map(crosses).sum::<usize>() % 2 == 1
    }
}

/// A drawn line of text.
pub(super) struct Words {
    pub place: usize,
    pub text: String,
    /// Box around the ink.
    pub ink: PaperBox,
    /// Rectangle around the ink, turned with the text.
    pub frame: Turned,
    /// Whether the text runs level or upright, so that its box is a fair measure.
    pub upright: bool,
    /// Height of capitals.
    pub cap: f64,
    /// Points of the letters' outlines.
    pub outline: Vec<PaperPoint>,
    /// Whether a character was drawn as the missing-glyph box.
    pub lacking: bool,
    /// Its color on white paper, that of its first part; `None` for text without ink.
    pub color: Option<Rgb>,
    /// Number of shapes drawn before it.
    pub after: usize,
}

/// A sheet as read.
pub(super) struct Drawing {
    pub sheet: PaperBox,
    pub places: Vec<Place>,
    pub shapes: Vec<Shape>,
    pub words: Vec<Words>,
    pub pictures: Vec<Picture>,
}

/// A drawn photograph.
pub(super) struct Picture {
    pub place: usize,
    pub area: PaperBox,
}

impl Drawing {
    pub fn place(&self, index: usize) -> &Place {
        &self.places[index]
    }

    /// Whether something filled that was drawn after a shape lies over it at a point and hides it; black hides no line.
    pub fn is_covered(&self, shape: usize, p: PaperPoint) -> bool {
        let after = self.shapes.iter().skip(shape + 1);
        after
            .filter(|s| s.fill.is_some_and(|f| f != BLACK) && s.area.contains(p))
            .any(|s| s.holds(p))
    }
}

/// Reads a file. Faults of the file itself are reported here; `None` if there is nothing to look at.
pub(super) fn read(text: &str, report: &mut Report) -> Option<Drawing> {
    let unreadable = |error: String| (Code::Unreadable, format!("not readable as SVG: {error}"));
    let parsed = bounds::of_text(text)
        .map_or(Ok(()), |fault| Err(unreadable(fault)))
        .and_then(|()| {
            Document::parse_with_options(text, bounds::parsing())
                .map_err(|e| unreadable(e.to_string()))
        })
        .and_then(|document| {
            if let Some(fault) = bounds::of_document(&document) {
                return Err(unreadable(fault));
            }
            check_file(&document, report);
            let (with_ids, classes) = name_groups(text, &document);
            let tree = usvg::Tree::from_str(&with_ids, &font::reading_options());
            tree.map(|tree| (document, classes, tree)).map_err(|e| unreadable(e.to_string()))
        });
    let (document, classes, tree) = match parsed {
        Ok(parsed) => parsed,
        Err((code, message)) => {
            report.fault(code, &[], message);
            return None;
        }
    };
    let side = |pixels: f32| f64::from(pixels) * MM;
    let sheet = PaperBox::new(0.0, 0.0, side(tree.size().width()), side(tree.size().height()));
    let places = vec![Place::default()];
    let drawing =
        Drawing { sheet, places, shapes: Vec::new(), words: Vec::new(), pictures: Vec::new() };
    let mut reader = Reader { drawing, classes };
    reader.group(tree.root(), 0);
    if let Some(fault) = bounds::of_drawing(&reader.drawing) {
        report.fault(Code::Unreadable, &[], format!("not readable as a sheet: {fault}"));
        return None;
    }
    lost::check(&document, &reader.drawing, report);
    Some(reader.drawing)
}

/// What the XML alone shows: references outside, code, ids used twice, lines without width.
fn check_file(document: &Document, report: &mut Report) {
    contained::check(document, report);
    let mut seen = BTreeMap::new();
    for node in document.descendants().filter(XmlNode::is_element) {
        if let Some(id) = node.attribute("id") {
            *seen.entry(id).or_insert(0) += 1;
        }
        if let Some(width) = node.attribute("stroke-width")
            && !width.parse::<f64>().is_ok_and(|w| w > 0.0)
        {
            let id = nearest_id(node);
            report.fault(
                Code::ThinLine,
                &[id],
                format!("a line of {} has the width {width}", shown(id)),
            );
        }
    }
    for (id, count) in seen.into_iter().filter(|(_, count)| *count > 1) {
        report.fault(Code::DuplicateId, &[id], format!("the id {id} is used {count} times"));
    }
}

fn nearest_id<'a>(node: XmlNode<'a, '_>) -> &'a str {
    node.ancestors().find_map(|n| n.attribute("id")).unwrap_or_default()
}

/// An id for a message.
pub(super) fn shown(id: &str) -> &str {
    if id.is_empty() || id.starts_with(GIVEN) { "a group without id" } else { id }
}

/// The file with an id on every group that has a class, and the classes by id. The SVG reader keeps ids but no classes.
fn name_groups(text: &str, document: &Document) -> (String, BTreeMap<String, String>) {
    let mut classes = BTreeMap::new();
    let mut out = String::with_capacity(text.len() + 64);
    let mut copied = 0;
    let groups = document.descendants().filter(|n| n.tag_name().name() == "g");
    for (n, group) in groups.enumerate() {
        let Some(class) = group.attribute("class") else {
            continue;
        };
        let id = if let Some(id) = group.attribute("id") {
            id.to_string()
        } else {
            let id = format!("{GIVEN}{n}");
            // Right behind "<g", whatever its prefix or attributes.
            let end =
                group.range().start + text[group.range()].find(char::is_whitespace).unwrap_or(2);
            out.push_str(&text[copied..end]);
            out.push_str(&format!(" id=\"{id}\""));
            copied = end;
            id
        };
        classes.insert(id, class.to_string());
    }
    out.push_str(&text[copied..]);
    (out, classes)
}

struct Reader {
    drawing: Drawing,
    classes: BTreeMap<String, String>,
}

impl Reader {
    fn group(&mut self, group: &usvg::Group, place: usize) {
        let place = if group.id().is_empty() { place } else { self.enter(group.id(), place) };
        for node in group.children() {
            match node {
                usvg::Node::Group(inner) => self.group(inner, place),
                usvg::Node::Path(path) => self.path(path, place),
                usvg::Node::Text(text) => self.text(text, place),
                usvg::Node::Image(image) => self
                    .drawing
                    .pictures
                    .push(Picture { place, area: area(image.abs_bounding_box()) }),
            }
        }
    }

    fn enter(&mut self, id: &str, parent: usize) -> usize {
        let mut place = Place { id: id.to_string(), ..self.drawing.places[parent].clone() };
        let item = |prefix: &str| {
            id.strip_prefix(prefix).filter(|rest| !rest.is_empty()).map(str::to_string)
        };
        place.tag = item("tag-").or(place.tag);
        place.leader = item("leader-").or(place.leader);
        place.row = item("row-").or(place.row);
        place.key = item("key-").or(place.key);
        if let Some((group, number)) = item("mark-").as_deref().and_then(|m| m.rsplit_once('-')) {
            place.tag = Some(format!("{group}-{number}"));
            place.mark = Some(group.to_string());
        }
        place.said_of = item("text-").or(place.said_of);
        place.border |= id == "border";
        for class in self.classes.get(id).map_or("", String::as_str).split_whitespace() {
            place.plan_line |= PLAN_LINES.contains(&class);
            place.hatch |= class == "hatch";
            place.hand_edge |= class == "hand-edge";
            place.edge |= class == "outline";
            place.frame |= class == "frame" || class == "match-line";
            place.sign |= MARKS.contains(&class);
            let kind = item_class(class);
            if let Some((kind, area)) = kind.filter(|_| !id.starts_with(GIVEN)) {
                let id = id.to_string();
                place.item = Some(Item { id, kind, area });
            }
            place.margin |= class == "margin";
        }
        place.plan_line &= !place.hatch;
        self.drawing.places.push(place);
        self.drawing.places.len() - 1
    }

    fn path(&mut self, path: &usvg::Path, place: usize) {
        if !path.is_visible() || (path.fill().is_none() && path.stroke().is_none()) {
            return;
        }
        let (runs, straight) = runs(path.data(), path.abs_transform());
        let stroke =
            path.stroke().map(|s| f64::from(s.width().get()) * scale(path.abs_transform()));
        let area = area(path.abs_stroke_bounding_box());
        self.drawing.shapes.push(Shape {
            place,
            runs,
            straight,
            stroke,
            fill: path.fill().and_then(color),
            area,
        });
    }

    fn text(&mut self, text: &usvg::Text, place: usize) {
        let spans = || text.chunks().iter().flat_map(usvg::TextChunk::spans);
        let size = spans().map(|s| f64::from(s.font_size().get())).fold(f64::INFINITY, f64::min);
        let turn = text.abs_transform();
        let mut outline = Vec::new();
        letters(text.flattened(), turn, &mut outline);
        let lacking =
            text.layouted().iter().flat_map(|s| &s.positioned_glyphs).any(|g| g.id.0 == 0);
        let ink = around(&outline).unwrap_or_else(|| area(text.abs_bounding_box()));
        let along = (f64::from(turn.sx), f64::from(turn.ky));
        self.drawing.words.push(Words {
            place,
            text: text.chunks().iter().map(usvg::TextChunk::text).collect(),
            ink,
            frame: turned::around(&outline, along).unwrap_or_else(|| turned::corners(&ink)),
            upright: turn.sx.abs().max(turn.sy.abs()) < 1e-3
                || turn.kx.abs().max(turn.ky.abs()) < 1e-3,
            cap: font::cap_height(size * scale(turn)),
            outline,
            lacking,
            color: spans().filter_map(usvg::TextSpan::fill).find_map(color),
            after: self.drawing.shapes.len(),
        });
    }
}

/// Color of a fill as it looks on white; `None` for gradients and patterns, which no sheet of this program has.
fn color(fill: &usvg::Fill) -> Option<Rgb> {
    let usvg::Paint::Color(c) = fill.paint() else {
        return None;
    };
    let share = f64::from(fill.opacity().get());
    let mixed = |v: u8| f64::from(v) * share + 255.0 * (1.0 - share);
    Some([mixed(c.red), mixed(c.green), mixed(c.blue)])
}

/// The one factor by which a transform without skew enlarges, times the size of a pixel.
fn scale(transform: Transform) -> f64 {
    let (sx, sy) = transform.get_scale();
    f64::from(sx).min(f64::from(sy)) * MM
}

fn area(area: usvg::Rect) -> PaperBox {
    let [left, top, right, bottom] =
        [area.left(), area.top(), area.right(), area.bottom()].map(|v| f64::from(v) * MM);
    PaperBox::new(left, top, right, bottom)
}

/// Smallest box around points; `None` for none.
pub(super) fn around(points: &[PaperPoint]) -> Option<PaperBox> {
    let first = points.first()?;
    let start = PaperBox::new(first.x, first.y, first.x, first.y);
    Some(points.iter().fold(start, |b, p| {
        PaperBox::new(b.left.min(p.x), b.top.min(p.y), b.right.max(p.x), b.bottom.max(p.y))
    }))
}

/// Millimeters for a message.
pub(super) fn mm(value: f64) -> String {
    format!("{} mm", svg::number((value * 100.0).round() / 100.0))
}
