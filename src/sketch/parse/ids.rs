//! Ids: unique over the file, given where they are left out.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

use crate::diagnostic::{Diagnostic, Place};
use crate::form::Reader;
use crate::sketch::At;
use crate::yaml::Node;

/// Where items with ids stand, with the letter and the name of their kind.
const LISTS: [(&[&str], char, &str); 8] = [
    (&["joints"], 'J', "a joint"),
    (&["cracks"], 'C', "a crack"),
    (&["spalls"], 'S', "a spall"),
    (&["blemishes"], 'B', "a blemish"),
    (&["lippage"], 'L', "a lippage"),
    (&["slab", "keep_outs"], 'K', "a keep-out"),
    (&["coating", "uncoated"], 'U', "an uncoated part"),
    (&["tests", "moisture"], 'M', "a moisture test"),
];
/// Longest id: it has to fit a tag on the drawing.
const LONGEST: usize = 16;

/// All ids of a file.
pub(super) struct Ids {
    /// Ids written in the file or given so far, what they name and where that is.
    known: BTreeMap<String, (&'static str, Place)>,
    /// Ids of records that have none written, by where the record lies in memory: an alias repeats its place in the file.
    given: BTreeMap<usize, String>,
}

impl Ids {
    /// Collects the ids written in the file, notes those that are there twice or unusable, and gives the others theirs: the
    /// next free number of their letter.
    pub fn collect(root: &Node, reader: &mut Reader) -> Self {
        let mut found: Vec<(Place, String, &'static str)> = Vec::new();
        for (path, _, what) in LISTS {
            for item in records(root, path) {
                let Some(id) = item.get("id").filter(|id| !id.is_null()) else {
                    continue;
                };
                match id.text() {
                    Some(text) => found.push((id.place, text.to_owned(), what)),
                    None => reader.wrong_type(id, "`id`", "a text", "write it like J1"),
                }
            }
        }
        found.sort_by_key(|(place, ..)| place.span);
        let mut known: BTreeMap<String, (&'static str, Place)> = BTreeMap::new();
        for (place, id, what) in found {
            check_form(place, &id, reader);
            match known.entry(id) {
                Entry::Vacant(free) => {
                    free.insert((what, place));
                }
                Entry::Occupied(taken) => {
                    let (id, (_, before)) = (taken.key(), taken.get());
                    let fault =
                        Diagnostic::error("duplicate-id", format!("the id `{id}` is used twice"))
                            .item(id)
                            .place(place)
                            .label("again")
                            .related(*before, "first used here")
                            .hint("give one of them another id, or leave it out");
                    reader.note(fault);
                }
            }
        }
        let mut given = BTreeMap::new();
        for (path, letter, what) in LISTS {
            let mut number = 0;
            for record in records(root, path).iter().filter(|r| written(r).is_none()) {
                let id = loop {
                    number += 1;
                    if let Entry::Vacant(free) = known.entry(format!("{letter}{number}")) {
                        let id = free.key().clone();
                        free.insert((what, record.place));
                        break id;
                    }
                };
                given.insert(address(record), id);
            }
        }
        Self { known, given }
    }

    /// The id of an item: the one written, or the one given.
    pub fn of(&self, record: &Node) -> At<String> {
        if let Some((id, place)) = written(record) {
            return At {
                value: id.to_owned(),
                span: place.span,
            };
        }
        At {
            value: self
                .given
                .get(&address(record))
                .cloned()
                .unwrap_or_default(),
            span: record.place.span,
        }
    }

    /// What an id names, with its article.
    pub fn what(&self, id: &str) -> Option<&'static str> {
        self.known.get(id).map(|(what, _)| *what)
    }

    /// All ids of one of the given kinds; of all kinds if none is given.
    pub fn all<'s>(&'s self, kinds: &'s [&str]) -> impl Iterator<Item = &'s str> {
        self.known
            .iter()
            .filter(move |(_, (what, _))| kinds.is_empty() || kinds.contains(what))
            .map(|(id, _)| id.as_str())
    }
}

/// The records of a list.
fn records<'n, 'a>(root: &'n Node<'a>, path: &[&str]) -> &'n [Node<'a>] {
    let list = path.iter().try_fold(root, |node, key| node.get(key));
    list.and_then(Node::items).unwrap_or_default()
}

/// The id that is written in a record.
fn written<'n>(record: &'n Node) -> Option<(&'n str, Place)> {
    let id = record.get("id")?;
    Some((id.text()?, id.place))
}

/// What tells a node from every other one.
fn address(record: &Node) -> usize {
    std::ptr::from_ref(record).addr()
}

fn check_form(place: Place, id: &str, reader: &mut Reader) {
    let usable = |c: char| c.is_alphanumeric() || matches!(c, '-' | '_' | '.');
    if id.is_empty() || id.chars().count() > LONGEST || !id.chars().all(usable) {
        let message = format!("the id `{}` can't be used", crate::yaml::excerpt(id));
        let hint = format!("an id has letters, digits, - _ or . and at most {LONGEST} of them: J1");
        reader.error("id-form", place, message, &hint);
        return;
    }
    let panel = id
        .strip_prefix('P')
        .is_some_and(|number| !number.is_empty() && number.chars().all(|c| c.is_ascii_digit()));
    if panel {
        let message = format!("the id `{id}` looks like the number of a panel");
        let fault = Diagnostic::warning("id-form", message)
            .item(id)
            .place(place)
            .hint("panels are numbered P1, P2 … by the program; another letter avoids mistakes");
        reader.note(fault);
    }
}
