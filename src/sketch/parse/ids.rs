//! Ids: unique over the file, given where they are left out.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

use super::repeat::{self, MOST, MOST_OF_ALL, numbered};
use crate::diagnostic::{Diagnostic, Place};
use crate::form::Reader;
use crate::record::Kind;
use crate::sketch::{At, matches};
use crate::yaml::Node;

/// Longest id: it has to fit a tag on the drawing.
const LONGEST: usize = 16;

/// All ids of a file.
pub(super) struct Ids {
    /// Ids written in the file or given so far, and what they name.
    known: BTreeMap<String, Named>,
    /// Ids of records that have none written, by where the record lies in memory: an alias repeats its place in the file.
    given: BTreeMap<usize, String>,
    /// How many items the repeated records stand for, by where the record lies in memory.
    items: BTreeMap<usize, usize>,
}

/// What an id names.
struct Named {
    kind: Kind,
    place: Place,
    /// Of a repeated record, which is no item itself: how many it stands for.
    items: Option<usize>,
}

impl Ids {
    /// Collects the ids written in the file, notes those that are there twice or unusable, and gives the others theirs: the
    /// next free number of their letter. A repeated record has an id for each of its items.
    pub fn collect(root: &Node, reader: &mut Reader) -> Self {
        let mut ids =
            Self { known: BTreeMap::new(), given: BTreeMap::new(), items: BTreeMap::new() };
        let mut found: Vec<(Place, &str, Kind, &Node)> = Vec::new();
        for &kind in Kind::ALL {
            for item in records(root, kind) {
                let Some(id) = item.get("id").filter(|id| !id.is_null()) else {
                    continue;
                };
                match id.text() {
                    Some(text) => found.push((id.place, text, kind, item)),
                    None => reader.wrong_type(id, "`id`", "a text", "write it like J1"),
                }
            }
        }
        found.sort_by_key(|(place, ..)| place.span);
        let mut all = 0;
        for (place, id, kind, record) in found {
            let good = check_form(place, id, reader);
            let items = items_of(record, kind).filter(|_| good);
            let items = items.and_then(|items| ids.many(items, id, place, &mut all, reader));
            ids.take(id.to_owned(), Named { kind, place, items }, reader);
            ids.number(record, id, kind, place, items, reader);
        }
        for &kind in Kind::ALL {
            let mut number = 0;
            for record in records(root, kind).iter().filter(|r| written(r).is_none()) {
                let id = loop {
                    number += 1;
                    let id = format!("{}{number}", kind.letter());
                    if !ids.known.contains_key(&id) {
                        break id;
                    }
                };
                let place = record.place;
                let items = items_of(record, kind);
                let items = items.and_then(|items| ids.many(items, &id, place, &mut all, reader));
                ids.take(id.clone(), Named { kind, place, items }, reader);
                ids.number(record, &id, kind, place, items, reader);
                ids.given.insert(address(record), id);
            }
        }
        ids
    }

    /// Gives each item of a repeated record its id.
    fn number(
        &mut self,
        record: &Node,
        id: &str,
        kind: Kind,
        place: Place,
        items: Option<usize>,
        reader: &mut Reader,
    ) {
        let Some(items) = items else {
            return;
        };
        self.items.insert(address(record), items);
        for n in 1..=items {
            let named = Named { kind, place, items: None };
            if !self.take(numbered(id, n), named, reader) {
                break;
            }
        }
    }

    /// Takes an id, and notes one that is taken already.
    fn take(&mut self, id: String, named: Named, reader: &mut Reader) -> bool {
        match self.known.entry(id) {
            Entry::Vacant(free) => {
                free.insert(named);
                true
            }
            Entry::Occupied(taken) => {
                let (id, before) = (taken.key(), taken.get());
                let fault =
                    Diagnostic::error("duplicate-id", format!("the id `{id}` is used twice"))
                        .item(id)
                        .place(named.place)
                        .label("again")
                        .related(before.place, "first used here")
                        .hint("give one of them another id, or leave it out");
                reader.note(fault);
                false
            }
        }
    }

    /// How many items a repeated record may stand for; nothing, with the reason noted, where they are too many for the file or their
    /// ids too long. What is wrong with the number itself is noted where the record is read.
    fn many(
        &self,
        items: usize,
        id: &str,
        place: Place,
        all: &mut usize,
        reader: &mut Reader,
    ) -> Option<usize> {
        if items == 0 || items > MOST {
            return None;
        }
        *all += items;
        if *all > MOST_OF_ALL {
            // Said once, at the record that is one too many.
            if *all - items <= MOST_OF_ALL {
                let message = format!(
                    "with this record repeated records stand for {all} items, and a sketch has at most {MOST_OF_ALL} of them"
                );
                reader.error("beyond-belief", place, message, "check the counts");
            }
            return None;
        }
        if numbered(id, items).chars().count() > LONGEST {
            let message = format!("the id `{id}` is too long to be numbered up to {items}");
            let hint =
                format!("an id has at most {LONGEST} characters, the number included: J1.12");
            reader.error("id-form", place, message, &hint);
            return None;
        }
        Some(items)
    }

    /// The id of an item: the one written, or the one given.
    pub fn of(&self, record: &Node) -> At<String> {
        if let Some((id, place)) = written(record) {
            return At { value: id.to_owned(), span: place.span };
        }
        At {
            value: self.given.get(&address(record)).cloned().unwrap_or_default(),
            span: record.place.span,
        }
    }

    /// How many items a repeated record stands for, as far as they have ids.
    pub fn items(&self, record: &Node) -> Option<usize> {
        self.items.get(&address(record)).copied()
    }

    /// The kind of item that an id names.
    pub fn kind(&self, id: &str) -> Option<Kind> {
        self.known.get(id).map(|named| named.kind)
    }

    /// How many items stand behind the id of a repeated record, which is none itself.
    pub fn several(&self, id: &str) -> Option<usize> {
        self.known.get(id)?.items
    }

    /// Whether there is an item of one of the given kinds that a pattern names.
    pub fn names_any(&self, pattern: &str, kinds: &[Kind]) -> bool {
        let start = pattern.split('*').next().unwrap_or_default();
        let from = self.known.range(start.to_owned()..);
        let mut like = from.take_while(|(id, _)| id.starts_with(start));
        like.any(|(id, named)| {
            named.items.is_none() && kinds.contains(&named.kind) && matches(pattern, id)
        })
    }

    /// All ids of items of one of the given kinds; of all kinds if none is given.
    pub fn all<'s>(&'s self, kinds: &'s [Kind]) -> impl Iterator<Item = &'s str> {
        self.known
            .iter()
            .filter(|(_, named)| named.items.is_none())
            .filter(move |(_, named)| kinds.is_empty() || kinds.contains(&named.kind))
            .map(|(id, _)| id.as_str())
    }
}

fn records<'n, 'a>(root: &'n Node<'a>, kind: Kind) -> &'n [Node<'a>] {
    let list = kind.path().try_fold(root, |node, key| node.get(key));
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

/// Whether an id can be used; notes one that can't, or that is better not.
fn check_form(place: Place, id: &str, reader: &mut Reader) -> bool {
    let usable = |c: char| c.is_alphanumeric() || matches!(c, '-' | '_' | '.');
    if id.is_empty() || id.chars().count() > LONGEST || !id.chars().all(usable) {
        let message = format!("the id `{}` can't be used", crate::text::excerpt(id));
        let hint = format!("an id has letters, digits, - _ or . and at most {LONGEST} of them: J1");
        reader.error("id-form", place, message, &hint);
        return false;
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
    true
}

/// How many items a record stands for, if records of its kind can be repeated.
fn items_of(record: &Node, kind: Kind) -> Option<usize> {
    kind.repeats().then(|| repeat::items_of(record))?
}
