//! The runs or corners of an outline changed, with everything that counts its walls and corners counted anew.

use std::ops::Range;

use super::change::{Plain, Reading, plain, put, value_of};
use super::insert::{EditError, column, dash, end_of_block, is_flow, newline, tree};
use crate::diagnostic::FileId;
use crate::yaml::{self, Kind, Node};

/// Where the runs of a walk stand.
const WALK: [&str; 3] = ["slab", "outline", "walk"];
/// Where the corners stand, if it is no walk.
const CORNERS: [&str; 2] = ["slab", "outline"];

/// A run of a walk, or a corner, that is to be written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Leg {
    /// As it is written: `E 24'`, or `[24', 0]`.
    pub run: String,
    /// Number of the wall or corner that it is already, from 1; none for a new one.
    pub was: Option<usize>,
}

impl Reading<'_> {
    /// The runs of the outline as they are written; `None` where it is no walk.
    #[must_use]
    pub fn runs(&self) -> Option<Vec<String>> {
        let runs = list(self.root.as_ref()?, &WALK)?.items()?.iter().map(Node::text);
        runs.map(|run| run.map(ToOwned::to_owned)).collect()
    }

    /// The corners of the outline as they are written; `None` where it is no list of them, or one stands on several lines.
    #[must_use]
    pub fn corners(&self) -> Option<Vec<String>> {
        let items = list(self.root.as_ref()?, &CORNERS)?.items()?.iter();
        let written = items.map(|item| raw(self.text, item));
        written.map(|raw| (!raw.contains('\n')).then(|| raw.to_owned())).collect()
    }
}

fn list<'n, 'a>(root: &'n Node<'a>, path: &[&str]) -> Option<&'n Node<'a>> {
    path.iter().try_fold(root, |node, key| node.get(key))
}

/// An entry of a list as it is written.
fn raw<'t>(text: &'t str, item: &Node) -> &'t str {
    let span = item.place.span;
    text.get(span.start..span.end).unwrap_or_default().trim_end()
}

/// Changes the runs of the outline, or its corners where it is a list of them. What stays as it is stays byte for byte. Where some are put
/// in or taken out, every `wall:` and every number of a corner in the sketch is counted anew: what was taped from a wall still is.
///
/// # Errors
///
/// Its walls would change places, something is taped from a wall that goes, or the place is written in a form that can't be changed.
///
/// ```
/// use slabwalk::edit::{Leg, set_outline};
/// let text = "slab:\n  outline: {walk: [E 24', N 20', W 24', close]}\n  openings: [{wall: 3, from: 2', to: 5'}]\n";
/// let leg = |run: &str, was| Leg { run: run.into(), was };
/// let legs = [leg("E 24'", Some(1)), leg("N 18'", Some(2)), leg("N45W 2'", None), leg("W 22'", Some(3)), leg("close", Some(4))];
/// assert_eq!(
///     set_outline(text, &legs).unwrap(),
///     "slab:\n  outline: {walk: [E 24', N 18', N45W 2', W 22', close]}\n  openings: [{wall: 4, from: 2', to: 5'}]\n",
/// );
/// ```
pub fn set_outline(text: &str, legs: &[Leg]) -> Result<String, EditError> {
    let root = tree(text, "the sketch")?;
    let path: &[&str] = if list(&root, &WALK).is_some() { &WALK } else { &CORNERS };
    let found = list(&root, path).and_then(|list| Some((list, list.items()?)));
    let (list, items) = found.filter(|(_, items)| !items.is_empty()).ok_or_else(unchangeable)?;
    let kept: Vec<usize> = legs.iter().filter_map(|leg| leg.was).collect();
    let known = |was: &usize| (1..=items.len()).contains(was);
    if !kept.is_sorted_by(|a, b| a < b) || !kept.iter().all(known) {
        return Err(EditError::new("the walls of an outline keep their order"));
    }
    let mut after = plain(&root);
    let wanted = legs.iter().map(|leg| match staying(text, items, leg) {
        Some(item) => Ok(plain(item)),
        None => value_of(&leg.run),
    });
    put(&mut after, path, Plain::List(wanted.collect::<Result<_, _>>()?))?;
    let whole = rewritten(text, list, items, legs)?;
    let inside = whole.0.clone();
    let mut changes = vec![whole];
    for counted in counted(&root) {
        let now = legs.iter().position(|leg| leg.was == Some(counted.number));
        let Some(now) = now.map(|i| i + 1) else {
            return Err(counted.gone(text, items.len()));
        };
        if now == counted.number {
            continue;
        }
        if inside.contains(&counted.span.start) {
            let words = "a corner is tied to others, whose numbers would change; change the outline in the file";
            return Err(EditError::new(words));
        }
        let written = counted.written.replace(&counted.number.to_string(), &now.to_string());
        let path: Vec<&str> = counted.path.iter().map(String::as_str).collect();
        put(&mut after, &path, Plain::Scalar(written.clone()))?;
        changes.push((counted.span, written));
    }
    changes.sort_by_key(|(range, _)| std::cmp::Reverse(range.start));
    let mut out = text.to_owned();
    for (range, new) in changes {
        out.replace_range(range, &new);
    }
    let (found, faults) = yaml::parse(&out, FileId::Sketch);
    if faults.is_empty() && found.is_some_and(|found| plain(&found) == after) {
        return Ok(out);
    }
    Err(unchangeable())
}

fn unchangeable() -> EditError {
    EditError::new(
        "the outline is written in a form that can't be changed here; change it in the file",
    )
}

/// What a run or corner is in the sketch already, if it stays as it is.
fn staying<'n, 'a>(text: &str, items: &'n [Node<'a>], leg: &Leg) -> Option<&'n Node<'a>> {
    let item = items.get(leg.was?.checked_sub(1)?)?;
    let written = item.text().unwrap_or_else(|| raw(text, item));
    (written == leg.run).then_some(item)
}

/// A number of a wall or of a corner somewhere in the sketch.
struct Counted {
    path: Vec<String>,
    /// As it is written; `wall 3` or `3`.
    written: String,
    number: usize,
    corner: bool,
    span: Range<usize>,
}

impl Counted {
    fn gone(&self, text: &str, walls: usize) -> EditError {
        let (name, number) = (if self.corner { "corner" } else { "wall" }, self.number);
        if number > walls {
            return EditError::new(format!("there is no {name} {number} in the outline"));
        }
        let line = text[..self.span.start].matches('\n').count() + 1;
        EditError::new(format!(
            "{name} {number} would go, and line {line} of the sketch is taped from it; place that again first, or remove it"
        ))
    }
}

/// Every number of a wall or corner in a sketch.
fn counted(root: &Node) -> Vec<Counted> {
    let mut out = Vec::new();
    visit(root, &mut Vec::new(), &mut out);
    out
}

fn visit(node: &Node, path: &mut Vec<String>, out: &mut Vec<Counted>) {
    let names: Vec<&str> = path.iter().map(String::as_str).collect();
    let corner = match names[..] {
        [.., "wall"] | ["coating", "pour_from"] => Some(false),
        ["slab", "checks", _, "from" | "to"] | [.., "ties", _, "1"] => Some(true),
        _ => None,
    };
    match (&node.kind, corner) {
        (Kind::Scalar { text, .. }, Some(corner)) => {
            let number = text.trim_start_matches(|c: char| !c.is_ascii_digit());
            if let Ok(number) = number.parse() {
                out.push(Counted {
                    path: path.clone(),
                    written: text.to_string(),
                    number,
                    corner,
                    span: node.place.span.start..node.place.span.end,
                });
            }
        }
        (Kind::Mapping(entries), _) => {
            for (key, value) in entries {
                path.push(key.text.to_string());
                visit(value, path, out);
                path.pop();
            }
        }
        (Kind::Sequence(items), _) => {
            for (i, item) in items.iter().enumerate() {
                path.push((i + 1).to_string());
                visit(item, path, out);
                path.pop();
            }
        }
        _ => {}
    }
}

/// The list with other runs, and what it replaces.
fn rewritten(
    text: &str,
    list: &Node,
    items: &[Node],
    legs: &[Leg],
) -> Result<(Range<usize>, String), EditError> {
    let commented = || EditError::new("comments stand between its parts; change it in the file");
    let span = |i: usize| {
        let start = items[i].place.span.start;
        start..start + raw(text, &items[i]).len()
    };
    let written = |leg: &Leg| match staying(text, items, leg) {
        Some(item) => raw(text, item).to_owned(),
        None => leg.run.clone(),
    };
    let last = items.len() - 1;
    if is_flow(text, list) {
        // What stands before a run stays before it.
        let before = |was: usize| &text[span(was - 1).end..span(was).start];
        let gone = |i: &usize| !legs.iter().skip(1).any(|leg| leg.was == Some(i + 1));
        if (1..=last).filter(gone).any(|i| before(i).contains('#')) {
            return Err(commented());
        }
        let mut new = String::new();
        for (i, leg) in legs.iter().enumerate() {
            if i > 0 {
                new += leg.was.filter(|was| *was > 1).map_or(", ", |was| before(was - 1));
            }
            new += &written(leg);
        }
        return Ok((span(0).start..span(last).end, new));
    }
    let dash = dash(text, list)
        .ok_or_else(|| EditError::new("the first part of the outline was not found"))?;
    let indent = column(text, dash);
    let line = |i: usize| text[..span(i).start].rfind('\n').map_or(0, |at| at + 1);
    let end = end_of_block(text, span(last).end, indent);
    let block = |i: usize| line(i)..if i < last { line(i + 1) } else { end };
    let gone = |i: &usize| !legs.iter().any(|leg| leg.was == Some(i + 1));
    if (0..=last).filter(gone).any(|i| text[block(i)].contains('#')) {
        return Err(commented());
    }
    let mut new = String::new();
    for leg in legs {
        if let Some(i) = leg.was.map(|was| was - 1) {
            let at = span(i);
            new += &text[block(i).start..at.start];
            new += &written(leg);
            new += &text[at.end..block(i).end];
        } else {
            new += &format!("{}- {}", " ".repeat(indent), leg.run);
        }
        if !new.ends_with('\n') {
            new += newline(text);
        }
    }
    let whole = line(0)..end;
    if !text[whole.clone()].ends_with('\n') {
        new.truncate(new.trim_end_matches(['\r', '\n']).len());
    }
    Ok((whole, new))
}

#[cfg(test)]
mod tests;
