//! A value set or taken out, with everything else in the text untouched.

use super::insert::{
    EditError, blank_between, column, dash, end_of_block, entry, is_flow, line_at, newline,
    predecessor, tree,
};
use crate::diagnostic::FileId;
use crate::yaml::{self, Key, Kind, Node};

/// Sets a value of a sketch. Everything else stays byte for byte.
///
/// `path` names the value by keys with points between them; in a list stands the id of a record, or its number from 1:
/// `job.client`, `slab.thickness`, `cracks.C3.width`, `levels.2.height`. Keys that are missing are made. `value` is a value of YAML
/// on one line, as it would stand behind its key.
///
/// # Errors
///
/// The text or the value is not YAML, there is no such record, or the place is written in a form that can't be changed.
///
/// ```
/// let text = "job: {name: Shed}   # ours\ncracks:\n  - id: C1\n    width: 1/8   # at the door\n";
/// let text = slabwalk::edit::set_value(text, "cracks.C1.width", "1/16").unwrap();
/// let text = slabwalk::edit::set_value(&text, "job.client", "A. Sample").unwrap();
/// assert_eq!(
///     text,
///     "job: {name: Shed, client: A. Sample}   # ours\ncracks:\n  - id: C1\n    width: 1/16   # at the door\n",
/// );
/// ```
pub fn set_value(text: &str, path: &str, value: &str) -> Result<String, EditError> {
    let value = value.trim();
    let wanted = value_of(value)?;
    let root = tree(text, "the sketch")?;
    let path: Vec<&str> = path.split('.').collect();
    let (range, new) = setting(text, &root, &path, value)?;
    let mut after = plain(&root);
    put(&mut after, &path, wanted)?;
    finished(text, range, &new, &after)
}

/// What a value on one line means, as it would be read behind a key in brackets.
pub(super) fn value_of(value: &str) -> Result<Plain, EditError> {
    if value.is_empty() || value.contains(['\n', '\r']) {
        return Err(EditError::new("a value stands on one line"));
    }
    let holder = format!("{{v: {value}}}");
    let wanted = match plain(&tree(&holder, "the value")?) {
        Plain::Map(entries) if entries.len() == 1 => entries.into_iter().next().map(|(_, v)| v),
        _ => None,
    };
    wanted.ok_or_else(|| EditError::new("that is more than one value"))
}

/// Takes a value or a record out of a sketch, with the comment behind it. Everything else stays byte for byte. A list or a part of
/// the sketch that has nothing left goes with it.
///
/// `path` is as for [`set_value`].
///
/// # Errors
///
/// There is nothing there, or it is written in a form that can't be changed.
///
/// ```
/// let text = "cracks:\n  - {id: C1, width: 1/8}\n  # the long one\n  - {id: C2, width: 1/4, step: 0}\n";
/// let text = slabwalk::edit::remove(text, "cracks.C1").unwrap();
/// let text = slabwalk::edit::remove(&text, "cracks.C2.step").unwrap();
/// assert_eq!(text, "cracks:\n  # the long one\n  - {id: C2, width: 1/4}\n");
/// ```
pub fn remove(text: &str, path: &str) -> Result<String, EditError> {
    let root = tree(text, "the sketch")?;
    let mut path: Vec<&str> = path.split('.').collect();
    // What would be left empty goes too.
    while path.len() > 1 && only(&root, &path)? {
        path.pop();
    }
    let range = removal(text, &root, &path)?;
    let mut after = plain(&root);
    take(&mut after, &path)?;
    finished(text, range, "", &after)
}

/// A sketch read once, to look up what stands in it.
#[derive(Debug)]
pub struct Reading<'t> {
    pub(super) text: &'t str,
    pub(super) root: Option<Node<'t>>,
}

impl<'t> Reading<'t> {
    /// Reads a text; nothing is found in one that can't be read.
    #[must_use]
    pub fn of(text: &'t str) -> Self {
        Self { text, root: tree(text, "the sketch").ok() }
    }

    fn node(&self, path: &str) -> Option<&Node<'t>> {
        let mut names = path.split('.').filter(|name| !name.is_empty());
        names.try_fold(self.root.as_ref()?, |node, name| child(node, name).ok())
    }

    /// Where the records of a list stand, in bytes; none where there is no such list.
    #[must_use]
    pub fn records(&self, section: &str) -> Vec<std::ops::Range<usize>> {
        let items = self.node(section).and_then(Node::items).unwrap_or_default();
        let range = |item: &Node| item.place.span.start..item.place.span.end;
        items.iter().map(range).collect()
    }

    /// The values of a record or part, each as it is written; those of more than one line are left out.
    #[must_use]
    pub fn values(&self, path: &str) -> Vec<(String, String)> {
        let written = |(key, value): &(Key, Node)| {
            let span = value.place.span;
            let raw = self.text.get(span.start..span.end)?.trim_end();
            let shown = match &value.kind {
                Kind::Null => return None,
                Kind::Scalar { text, .. } => text.to_string(),
                _ if raw.contains('\n') => return None,
                _ => raw.to_owned(),
            };
            Some((key.text.to_string(), shown))
        };
        let entries = self.node(path).and_then(Node::entries).unwrap_or_default();
        entries.iter().filter_map(written).collect()
    }

    /// A value of a record or part, as it is written.
    #[must_use]
    pub fn value(&self, path: &str, key: &str) -> Option<String> {
        self.values(path).into_iter().find(|(known, _)| known == key).map(|(_, value)| value)
    }
}

/// A tree without places, its keys in order, to compare what is meant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Plain {
    Null,
    Scalar(String),
    List(Vec<Plain>),
    Map(Vec<(String, Plain)>),
}

pub(super) fn plain(node: &Node) -> Plain {
    match &node.kind {
        Kind::Null => Plain::Null,
        Kind::Scalar { text, .. } => Plain::Scalar(text.to_string()),
        Kind::Sequence(items) => Plain::List(items.iter().map(plain).collect()),
        Kind::Mapping(entries) => {
            let pair = |(key, value): &(Key, Node)| (key.text.to_string(), plain(value));
            let mut pairs: Vec<_> = entries.iter().map(pair).collect();
            pairs.sort_by(|a, b| a.0.cmp(&b.0));
            Plain::Map(pairs)
        }
    }
}

/// The text with a part of it replaced, if it then reads as it should.
fn finished(
    text: &str,
    range: std::ops::Range<usize>,
    new: &str,
    wanted: &Plain,
) -> Result<String, EditError> {
    let (Some(before), Some(after)) = (text.get(..range.start), text.get(range.end..)) else {
        return Err(EditError::new("the place was not found"));
    };
    let new = match newline(text) {
        "\n" => new.to_owned(),
        other => new.replace('\n', other),
    };
    let out = format!("{before}{new}{after}");
    let (found, faults) = yaml::parse(&out, FileId::Sketch);
    let found = found.map_or(Plain::Null, |found| plain(&found));
    if faults.is_empty() && found == *wanted {
        return Ok(out);
    }
    Err(EditError::new(
        "this place is written in a form that can't be changed here; change it in the file",
    ))
}

fn nowhere(name: &str) -> EditError {
    EditError::new(format!("there is no `{name}`"))
}

/// Position of a record in a list: by its id, or by its number from 1.
fn position(ids: impl Iterator<Item = Option<String>>, name: &str) -> Option<usize> {
    let ids: Vec<Option<String>> = ids.collect();
    let by_id = ids.iter().position(|id| id.as_deref() == Some(name));
    by_id.or_else(|| name.parse::<usize>().ok()?.checked_sub(1).filter(|i| *i < ids.len()))
}

fn id_of(node: &Node) -> Option<String> {
    node.get("id")?.text().map(ToOwned::to_owned)
}

fn child<'n, 'a>(node: &'n Node<'a>, name: &str) -> Result<&'n Node<'a>, EditError> {
    if let Some(items) = node.items() {
        let at = position(items.iter().map(id_of), name);
        return at.and_then(|i| items.get(i)).ok_or_else(|| nowhere(name));
    }
    entry(node, name).map(|(_, value)| value).ok_or_else(|| nowhere(name))
}

/// As [`child`], for what is meant.
fn slot<'p>(node: &'p mut Plain, name: &str) -> Option<&'p mut Plain> {
    match node {
        Plain::List(items) => {
            let ids = items.iter().map(|item| match item {
                Plain::Map(entries) => entries.iter().find_map(|(key, value)| match value {
                    Plain::Scalar(text) if key == "id" => Some(text.clone()),
                    _ => None,
                }),
                _ => None,
            });
            let i = position(ids, name)?;
            items.get_mut(i)
        }
        Plain::Map(entries) => {
            entries.iter_mut().find(|(key, _)| key == name).map(|(_, value)| value)
        }
        _ => None,
    }
}

pub(super) fn put(node: &mut Plain, path: &[&str], value: Plain) -> Result<(), EditError> {
    let [name, rest @ ..] = path else {
        *node = value;
        return Ok(());
    };
    if *node == Plain::Null {
        *node = Plain::Map(Vec::new());
    }
    if slot(node, name).is_none() {
        let Plain::Map(entries) = node else {
            return Err(nowhere(name));
        };
        entries.push(((*name).to_owned(), Plain::Null));
        entries.sort_by(|a, b| a.0.cmp(&b.0));
    }
    match slot(node, name) {
        Some(slot) => put(slot, rest, value),
        None => Err(nowhere(name)),
    }
}

fn take(node: &mut Plain, path: &[&str]) -> Result<(), EditError> {
    match path {
        [] => Err(EditError::new("no value is named")),
        [name] => match node {
            Plain::Map(entries) => {
                entries.retain(|(key, _)| key != name);
                Ok(())
            }
            Plain::List(_) => {
                let wanted = slot(node, name).map(|slot| std::mem::replace(slot, Plain::Null));
                let Plain::List(items) = node else {
                    return Err(nowhere(name));
                };
                let at = items.iter().position(|item| *item == Plain::Null);
                match (wanted, at) {
                    (Some(_), Some(at)) => {
                        items.remove(at);
                        Ok(())
                    }
                    _ => Err(nowhere(name)),
                }
            }
            _ => Err(nowhere(name)),
        },
        [name, rest @ ..] => take(slot(node, name).ok_or_else(|| nowhere(name))?, rest),
    }
}

/// Whether the record or list that holds the value holds nothing else.
fn only(root: &Node, path: &[&str]) -> Result<bool, EditError> {
    let mut node = root;
    for name in &path[..path.len() - 1] {
        node = child(node, name)?;
    }
    child(node, path[path.len() - 1])?;
    let count = node.items().map(<[Node]>::len).or_else(|| node.entries().map(<[_]>::len));
    Ok(count == Some(1))
}

type Replaced = (std::ops::Range<usize>, String);

fn setting(text: &str, root: &Node, path: &[&str], value: &str) -> Result<Replaced, EditError> {
    let mut node = root;
    for (depth, name) in path.iter().enumerate() {
        let rest = &path[depth + 1..];
        if node.items().is_some() {
            node = child(node, name)?;
            if rest.is_empty() {
                return over(text, node, value);
            }
            continue;
        }
        let Some((key, found)) = entry(node, name) else {
            return adding(text, node, &path[depth..], depth, value);
        };
        if found.is_null() {
            return filling(text, key, found, &wrapped(rest, value));
        }
        if rest.is_empty() {
            return over(text, found, value);
        }
        node = found;
    }
    Err(EditError::new("no value is named"))
}

/// A value below keys that are not there yet, in brackets.
fn wrapped(keys: &[&str], value: &str) -> String {
    keys.iter().rev().fold(value.to_owned(), |inner, key| format!("{{{key}: {inner}}}"))
}

/// In the place of a value.
fn over(text: &str, node: &Node, value: &str) -> Result<Replaced, EditError> {
    let span = node.place.span;
    let old = text.get(span.start..span.end).unwrap_or_default();
    let kept = old.trim_end();
    if kept.contains('\n') && kept.contains('#') {
        return Err(EditError::new("comments stand inside; change it in the file"));
    }
    Ok((span.start..span.start + kept.len(), value.to_owned()))
}

/// Behind a key with nothing behind it, or `~`.
fn filling(text: &str, key: &Key, found: &Node, value: &str) -> Result<Replaced, EditError> {
    let behind = &text[key.place.span.end..];
    let colon = behind.find(':').ok_or_else(|| EditError::new("a key has no colon"))?;
    let after = key.place.span.end + colon + 1;
    let span = found.place.span;
    if span.start > after && span.end > span.start {
        return Ok((span.start..span.end, value.to_owned()));
    }
    Ok((after..after, format!(" {value}")))
}

/// A key that is missing from `node`.
fn adding(
    text: &str,
    node: &Node,
    path: &[&str],
    depth: usize,
    value: &str,
) -> Result<Replaced, EditError> {
    let Some(entries) = node.entries() else {
        return Err(EditError::new("there are no keys to stand beside"));
    };
    let start = node.place.span.start;
    let written = format!("{}: {}", path[0], wrapped(&path[1..], value));
    if is_flow(text, node) {
        return Ok(match entries.last() {
            Some((_, last)) => (last.place.span.end..last.place.span.end, format!(", {written}")),
            None => (start + 1..start + 1, written),
        });
    }
    let before = if depth == 0 { predecessor(entries, path[0]) } else { entries.last() };
    let Some((key, last)) = before else {
        return Err(EditError::new("there are no keys to stand beside"));
    };
    let indent = column(text, start);
    let end = last.place.span.end.max(key.place.span.end);
    let margin = if depth == 0 { indent } else { indent.saturating_sub(1) };
    let at = end_of_block(text, end, margin);
    let mut new = format!("{}{written}\n", " ".repeat(indent));
    if depth == 0 && blank_between(text, entries) {
        new = format!("\n{new}");
    }
    let line = line_at(text, at, &new);
    Ok((line.at..line.at + line.over, line.new))
}

fn removal(text: &str, root: &Node, path: &[&str]) -> Result<std::ops::Range<usize>, EditError> {
    let mut node = root;
    for name in &path[..path.len() - 1] {
        node = child(node, name)?;
    }
    let name = path[path.len() - 1];
    let spans: Vec<(usize, usize)> = if let Some(items) = node.items() {
        items.iter().map(|item| (item.place.span.start, item.place.span.end)).collect()
    } else {
        let entries = node.entries().unwrap_or_default();
        let span = |(key, value): &(Key, Node)| {
            let start = key.place.span.start;
            (start, value.place.span.end.max(key.place.span.end))
        };
        entries.iter().map(span).collect()
    };
    let at = match node.items() {
        Some(items) => position(items.iter().map(id_of), name),
        None => node.entries().unwrap_or_default().iter().position(|(key, _)| key.text == name),
    };
    let at = at.ok_or_else(|| nowhere(name))?;
    let (start, end) = spans[at];
    if is_flow(text, node) {
        return Ok(match (at.checked_sub(1).and_then(|i| spans.get(i)), spans.get(at + 1)) {
            (Some((_, before)), _) => *before..end,
            (None, Some((next, _))) => start..*next,
            (None, None) => start..end,
        });
    }
    // Whole lines, from the dash or the key on.
    let first = match node.items() {
        Some(_) => {
            let before = text[..start].trim_end_matches([' ', '\t']);
            let listed = before.ends_with('-').then(|| before.len() - 1);
            listed
                .or_else(|| text[start..].starts_with('-').then_some(start))
                .or_else(|| dash(text, node).filter(|_| at == 0))
                .ok_or_else(|| EditError::new("the record has no dash"))?
        }
        None => start,
    };
    let line = text[..first].rfind('\n').map_or(0, |newline| newline + 1);
    if !text[line..first].trim().is_empty() {
        return Err(EditError::new(
            "it shares its line with something else; change it in the file",
        ));
    }
    Ok(line..end_of_block(text, end, column(text, first)))
}

#[cfg(test)]
mod tests;
