//! References to ids: whether they are there, are of the right kind, and don't run in circles.

use std::collections::{BTreeMap, BTreeSet};

use super::ids::Ids;
use super::repeat::numbered;
use crate::diagnostic::{Diagnostic, Place};
use crate::form::{Reader, nearest};
use crate::record::Kind;
use crate::sketch::At;

/// Kinds of items that have a path of their own.
const LINES: [Kind; 2] = [Kind::Joint, Kind::Crack];

/// Most different patterns of ids in a sketch: each is held against all ids. Nobody has more kinds of columns (common practice).
const MOST_PATTERNS: usize = 200;

/// Use of an id somewhere in the file.
struct Reference {
    /// Item whose record it stands in.
    owner: Option<String>,
    target: At<String>,
    wanted: Wanted,
}

/// What an id may name where it is used.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Wanted {
    Item,
    /// A joint or crack.
    Line,
    /// What a joint can end at, alone or by a pattern.
    End,
}

/// Kinds of items that a joint can end at.
const ENDS: [Kind; 3] = [Kind::Joint, Kind::KeepOut, Kind::Tier];

/// All uses of ids in a file, checked when the whole file is read, so that they may point forward.
#[derive(Default)]
pub(super) struct References(Vec<Reference>);

impl References {
    /// Notes the use of a joint's or crack's id.
    pub fn line(&mut self, owner: Option<&String>, target: &At<String>) {
        self.add(owner, target, Wanted::Line);
    }

    /// Notes the use of any item's id.
    pub fn item(&mut self, target: &At<String>) {
        self.add(None, target, Wanted::Item);
    }

    /// Notes what a joint ends at, an id or a pattern.
    pub fn end(&mut self, owner: Option<&String>, target: &At<String>) {
        self.add(owner, target, Wanted::End);
    }

    /// Takes the uses of another part of the file.
    pub fn join(&mut self, other: Self) {
        self.0.extend(other.0);
    }

    fn add(&mut self, owner: Option<&String>, target: &At<String>, wanted: Wanted) {
        self.0.push(Reference { owner: owner.cloned(), target: target.clone(), wanted });
    }

    /// Notes references to what isn't there, and joints and cracks placed by each other in a circle.
    pub fn check(&self, ids: &Ids, reader: &mut Reader) {
        let mut patterns: BTreeSet<&str> = BTreeSet::new();
        for reference in &self.0 {
            let id = reference.target.value.as_str();
            // Joints mostly end at the same things, which are looked up once.
            if reference.wanted == Wanted::End && id.contains('*') && !patterns.insert(id) {
                continue;
            }
            if patterns.len() > MOST_PATTERNS {
                reader.note(reference.one_too_many());
                break;
            }
            if let Some(fault) = reference.fault(ids) {
                reader.note(fault);
            }
        }
        self.circles(ids, reader);
    }

    fn circles(&self, ids: &Ids, reader: &mut Reader) {
        let mut edges: BTreeMap<&str, Vec<&At<String>>> = BTreeMap::new();
        for reference in self.0.iter().filter(|r| r.wanted != Wanted::End) {
            let owner = reference.owner.as_deref();
            let placed = owner.filter(|id| ids.kind(id).is_some_and(|kind| LINES.contains(&kind)));
            if let Some(owner) = placed {
                edges.entry(owner).or_default().push(&reference.target);
            }
        }
        let mut settled: BTreeMap<&str, bool> = BTreeMap::new();
        for start in edges.keys() {
            if let Some((id, at, circle)) = find_circle(start, &edges, &mut settled) {
                let message = format!("these lines are placed by each other in a circle: {circle}");
                let fault = Diagnostic::error("circular-line", message)
                    .item(id)
                    .place(Place::sketch(at.span))
                    .hint("give one of them by coordinates, walls or ties");
                reader.note(fault);
            }
        }
    }
}

/// Walks from line to line without recursion; `settled` is false for lines on the way, true for
/// lines that lead to no circle or are already reported.
fn find_circle<'r>(
    start: &'r str,
    edges: &BTreeMap<&'r str, Vec<&'r At<String>>>,
    settled: &mut BTreeMap<&'r str, bool>,
) -> Option<(String, &'r At<String>, String)> {
    if settled.contains_key(start) {
        return None;
    }
    settled.insert(start, false);
    let mut way: Vec<(&str, usize)> = vec![(start, 0)];
    let mut found = None;
    while let Some((id, next)) = way.last_mut() {
        let id = *id;
        let target = edges.get(id).and_then(|targets| targets.get(*next)).copied();
        *next += 1;
        let Some(target) = target else {
            settled.insert(id, true);
            way.pop();
            continue;
        };
        match settled.get(target.value.as_str()) {
            Some(true) => {}
            Some(false) if found.is_none() => {
                let from = way.iter().position(|(on, _)| *on == target.value).unwrap_or(0);
                let mut names: Vec<&str> = way[from..].iter().map(|(on, _)| *on).collect();
                names.push(&target.value);
                found = Some((id.to_owned(), target, names.join(" → ")));
            }
            Some(false) => {}
            None => {
                settled.insert(&target.value, false);
                way.push((&target.value, 0));
            }
        }
    }
    found
}

impl Reference {
    fn fault(&self, ids: &Ids) -> Option<Diagnostic> {
        let id = &self.target.value;
        let (wanted, kinds): (&str, &[Kind]) = match self.wanted {
            Wanted::Item => ("item", &[]),
            Wanted::Line => ("joint or crack", &LINES),
            Wanted::End => ("keep-out, tier or joint", &ENDS),
        };
        if self.wanted == Wanted::End {
            // The id of a repeated record names all that it stands for.
            if ids.names_any(id, kinds) {
                return None;
            }
        } else if let Some(items) = ids.several(id) {
            let (first, last) = (numbered(id, 1), numbered(id, items));
            let message = format!("`{id}` stands for several items, {first} to {last}");
            let fault = Diagnostic::error("unknown-id", message)
                .place(Place::sketch(self.target.span))
                .hint(format!("name one of them: {first}"));
            return Some(self.put_down(fault));
        }
        let message = match ids.kind(id) {
            None if id.contains('*') => {
                format!("no {wanted} has an id of the pattern `{}`", crate::text::excerpt(id))
            }
            None => format!("there is no {wanted} `{}`", crate::text::excerpt(id)),
            Some(kind) if !kinds.is_empty() && !kinds.contains(&kind) => {
                format!("`{id}` is {}, not a {wanted}", kind.a())
            }
            Some(_) => return None,
        };
        // Of short ids nearly all are near each other; the list says more.
        let long = id.chars().count() > 3;
        let hint = match nearest(id, ids.all(kinds)) {
            Some(near) if long && near != id => format!("did you mean `{near}`?"),
            _ => few(ids.all(kinds), wanted),
        };
        let fault = Diagnostic::error("unknown-id", message)
            .place(Place::sketch(self.target.span))
            .hint(hint);
        Some(self.put_down(fault))
    }

    fn one_too_many(&self) -> Diagnostic {
        let message = format!("more than {MOST_PATTERNS} different patterns are beyond belief");
        let fault = Diagnostic::error("beyond-belief", message)
            .place(Place::sketch(self.target.span))
            .hint("name many by one pattern: ends_at: K*");
        self.put_down(fault)
    }

    /// A fault put down to the item in whose record the reference stands.
    fn put_down(&self, fault: Diagnostic) -> Diagnostic {
        match &self.owner {
            Some(owner) => fault.item(owner),
            None => fault,
        }
    }
}

/// The first few of what there is.
fn few<'i>(ids: impl Iterator<Item = &'i str>, wanted: &str) -> String {
    const MOST: usize = 12;
    let mut ids: Vec<&str> = ids.take(MOST + 1).collect();
    if ids.is_empty() {
        return format!("the sketch has no {wanted} with an id");
    }
    if ids.len() > MOST {
        ids[MOST] = "…";
    }
    format!("there are {}", ids.join(", "))
}
