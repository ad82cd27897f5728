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
    /// The last number tried for each letter.
    last: BTreeMap<char, usize>,
}

impl Ids {
    /// Collects the ids written in the file, and notes those that are there twice or unusable.
    pub fn collect(root: &Node, reader: &mut Reader) -> Self {
        let mut written: Vec<(Place, String, &'static str)> = Vec::new();
        for (path, _, what) in LISTS {
            let list = path.iter().try_fold(root, |node, key| node.get(key));
            for item in list.and_then(Node::items).unwrap_or_default() {
                let Some(id) = item.get("id").filter(|id| !id.is_null()) else {
                    continue;
                };
                match id.text() {
                    Some(text) => written.push((id.place, text.to_owned(), what)),
                    None => reader.wrong_type(id, "`id`", "a text", "write it like J1"),
                }
            }
        }
        written.sort_by_key(|(place, ..)| place.span);
        let mut known: BTreeMap<String, (&'static str, Place)> = BTreeMap::new();
        for (place, id, what) in written {
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
        Self {
            known,
            last: BTreeMap::new(),
        }
    }

    /// The id of an item: the one written, or the next free one of its letter.
    pub fn of(&mut self, record: &Node, letter: char) -> At<String> {
        let written = record
            .get("id")
            .and_then(|node| Some((node.text()?, node.place)));
        if let Some((id, place)) = written {
            return At {
                value: id.to_owned(),
                span: place.span,
            };
        }
        let what = LISTS
            .iter()
            .find(|(_, of, _)| *of == letter)
            .map_or("an item", |(.., what)| what);
        let number = self.last.entry(letter).or_insert(0);
        let id = loop {
            *number += 1;
            if let Entry::Vacant(free) = self.known.entry(format!("{letter}{number}")) {
                let id = free.key().clone();
                free.insert((what, record.place));
                break id;
            }
        };
        At {
            value: id,
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
