//! The text of a sketch to a [`Sketch`], with every fault of the file found in one pass.

pub(crate) mod coating;
pub(crate) mod conditions;
pub(crate) mod crack;
pub(crate) mod date;
pub(crate) mod ids;
mod job;
pub(crate) mod joint;
mod level;
pub(crate) mod lippage;
mod order;
mod outline;
mod path;
mod photo;
pub(crate) mod point;
pub(crate) mod price;
mod references;
pub(crate) mod repeat;
pub(crate) mod shape;
pub(crate) mod slab;
pub(crate) mod spall;
#[cfg(test)]
mod tests;
pub(crate) mod used;

use std::sync::Arc;

use self::ids::Ids;
use self::references::References;
use self::repeat::Repeated;
use super::{At, Sketch};
use crate::diagnostic::{Diagnostic, FileId, Severity};
use crate::form::{Fields, Reader, Rule};
use crate::parallel;
use crate::quantity::{Length, Units};
use crate::record::Kind;
use crate::yaml::{self, Node};

/// Version of the sketch format that this program reads.
pub const VERSION: usize = 1;

/// Most characters that are named where the font lacks some.
const MOST_NAMED: usize = 12;

/// Keys at the top of a sketch.
pub(crate) const KEYS: [&str; 17] = [
    "slabwalk",
    "job",
    "units",
    "shop",
    "slab",
    Kind::Joint.described().list,
    Kind::Crack.described().list,
    Kind::Spall.described().list,
    Kind::Delamination.described().list,
    Kind::Blemish.described().list,
    Kind::Lippage.described().list,
    "levels",
    "tests",
    "coating",
    "photos",
    "price",
    "used",
];

/// Reads a sketch. There is a [`Sketch`] exactly when no diagnostic is an error.
///
/// Diagnostics come in the order of the file. What can only be said with geometry (an outline
/// that crosses itself, a station beyond a path's end) belongs to a later stage.
///
/// ```
/// let text = "slabwalk: 1\njob: {name: shed}\nslab:\n  outline: [[0, 0], [12', 0], [12', 10'], [0, 10']]\n";
/// let (sketch, faults) = slabwalk::sketch::parse(text);
/// assert!(sketch.is_some() && faults.is_empty());
/// let (sketch, faults) = slabwalk::sketch::parse("slabwalk: 1\njob: {nam: shed}\nslab: {outline: [[0, 0], [12', 0], [12', 10']]}\n");
/// assert!(sketch.is_none());
/// assert_eq!(faults[0].message, "`nam` is not a key of the job");
/// ```
#[must_use]
pub fn parse(text: &str) -> (Option<Sketch>, Vec<Diagnostic>) {
    let (root, faults) = yaml::parse(text, FileId::Sketch);
    let reader = Reader::new(FileId::Sketch, text, faults, super::keys::belongs);
    let (sketch, mut faults) = match root {
        Some(root) => Pass::over(&root, reader),
        None => (None, reader.faults),
    };
    faults.sort_by_key(|fault| fault.place.map(|place| place.span));
    let failed = faults.iter().any(|fault| fault.severity == Severity::Error);
    (sketch.filter(|_| !failed), faults)
}

/// One pass over a sketch.
struct Pass<'t> {
    reader: Reader<'t>,
    ids: Arc<Ids>,
    references: References,
    /// How many corners the outline has, once that is known.
    corners: Option<usize>,
    /// While the outline is read: the number of the corner being read.
    outline_corner: Option<usize>,
}

impl<'t> Pass<'t> {
    fn over(root: &Node, mut reader: Reader<'t>) -> (Option<Sketch>, Vec<Diagnostic>) {
        let ids = Ids::collect(root, &mut reader);
        let mut pass = Pass {
            reader,
            ids: Arc::new(ids),
            references: References::default(),
            corners: None,
            outline_corner: None,
        };
        let sketch = pass.sketch(root);
        pass.references.check(&pass.ids, &mut pass.reader);
        (sketch, pass.reader.faults)
    }

    fn sketch(&mut self, root: &Node) -> Option<Sketch> {
        let fields = self.reader.fields(root, "a sketch", &KEYS)?;
        self.version(&fields);
        self.reader.units = self.units(&fields);
        let shop = self.reader.text(&fields, "shop");
        let job = self.job(&fields);
        let slab = self.slab(&fields);
        let joints = self.several(&fields, Kind::Joint.key(), Self::joint);
        let cracks = self.items(&fields, Kind::Crack.key(), Self::crack);
        let spalls =
            self.several(&fields, Kind::Spall.key(), |pass, node| Some(vec![pass.spall(node)?]));
        let delaminations = self.items(&fields, Kind::Delamination.key(), Self::delamination);
        let blemishes = self.items(&fields, Kind::Blemish.key(), Self::blemish);
        let lippage = self.items(&fields, Kind::Lippage.key(), Self::lippage);
        let (levels, level_rows) = self.levels(&fields);
        let tests = self.tests(&fields);
        let coating = self.coating(&fields);
        let photos = self.items(&fields, "photos", Self::photo);
        let price = self.price(&fields);
        let used = self.used(&fields);
        Some(Sketch {
            job: job?,
            units: self.reader.units,
            shop,
            slab: slab?,
            joints,
            cracks,
            spalls,
            delaminations,
            blemishes,
            lippage,
            levels,
            level_rows,
            tests,
            coating,
            photos,
            price,
            used,
        })
    }

    /// The entries of a list of records, a long list on all cores. Those that can't be read are left out; each has left an
    /// error.
    fn items<T: Send>(
        &mut self,
        fields: &Fields,
        key: &str,
        read: impl Fn(&mut Self, &Node) -> Option<T> + Sync,
    ) -> Vec<T> {
        let list = self.reader.list(fields.get(key), key);
        let runs = parallel::runs(list.len(), |run| {
            let mut pass = self.fork();
            let read = list[run].iter().filter_map(|node| read(&mut pass, node));
            (read.collect::<Vec<T>>(), pass)
        });
        let mut out = Vec::with_capacity(list.len());
        for (read, pass) in runs {
            out.extend(read);
            self.reader.faults.extend(pass.reader.faults);
            self.references.join(pass.references);
        }
        out
    }

    /// The items of a list of records that may be repeated.
    fn several<T: Repeated + Send>(
        &mut self,
        fields: &Fields,
        key: &str,
        read: impl Fn(&mut Self, &Node) -> Option<Vec<T>> + Sync,
    ) -> Vec<T> {
        let items = self.items(fields, key, |pass, node| pass.repeated(node, &read));
        items.into_iter().flatten().collect()
    }

    /// A pass over some records of the same sketch, with nothing found yet.
    fn fork(&self) -> Self {
        Self {
            reader: self.reader.fork(),
            ids: Arc::clone(&self.ids),
            references: References::default(),
            ..*self
        }
    }

    fn version(&mut self, fields: &Fields) {
        let example = "slabwalk: 1 as the first line";
        let Some(node) = self.reader.required(fields, "slabwalk", example) else {
            return;
        };
        if node.text() == Some("1") {
            return;
        }
        let message = format!(
            "this sketch is of version {}, and this program reads version {VERSION}",
            node.describe()
        );
        self.reader.error("version", node.place, message, "write slabwalk: 1");
    }

    fn units(&mut self, fields: &Fields) -> Units {
        let words = [("us", Units::Us), ("metric", Units::Metric)];
        fields
            .get("units")
            .and_then(|node| self.reader.word(node, "the units", &words))
            .map_or(Units::Us, |units| units.value)
    }

    /// Reads a value that may be left out.
    fn optional<T>(
        &mut self,
        fields: &Fields,
        key: &str,
        read: impl Fn(&mut Self, &Node) -> Option<T>,
    ) -> Option<T> {
        fields.get(key).and_then(|node| read(self, node))
    }

    /// Reads a length that may be left out.
    fn length(&mut self, fields: &Fields, key: &str, rule: &Rule) -> Option<At<Length>> {
        self.optional(fields, key, |pass, node| pass.reader.length(node, rule))
    }

    /// Reads a length that must be there; `example` is a line that would do.
    fn needed_length(
        &mut self,
        fields: &Fields,
        key: &str,
        rule: &Rule,
        example: &str,
    ) -> Option<At<Length>> {
        let node = self.reader.required(fields, key, example)?;
        self.reader.length(node, rule)
    }

    /// Reads a text that may be left out, without its place.
    fn words(&mut self, fields: &Fields, key: &str) -> Option<String> {
        let text = self.reader.text(fields, key)?.value;
        let missing = crate::font::clean(&text).missing;
        if let Some(node) = fields.get(key).filter(|_| !missing.is_empty()) {
            let mut listed: String = missing.iter().take(MOST_NAMED).collect();
            if missing.len() > MOST_NAMED {
                listed.push_str(" and others");
            }
            let message = format!(
                "the font of the drawings lacks {listed} of `{key}`; □ stands in the place"
            );
            let fault = Diagnostic::note("characters", message).place(node.place);
            self.reader
                .note(fault.hint(
                    "spell it in Latin, Greek or Cyrillic letters, and the drawings show it",
                ));
        }
        Some(text)
    }

    /// Reads the record of an item with an id: all faults inside are put down to it.
    fn item<T>(
        &mut self,
        node: &Node,
        kind: Kind,
        read: impl FnOnce(&mut Self, &Fields, At<String>) -> Option<T>,
    ) -> Option<T> {
        let id = self.ids.of(node);
        self.reader.item = Some(id.value.clone());
        let fields = self.reader.fields(node, kind.a(), kind.described().names);
        let item = fields.and_then(|fields| read(self, &fields, id));
        self.reader.item = None;
        item
    }
}
