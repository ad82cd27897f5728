//! From a text to the lines of the new one, each with the comments that belong to it.

use super::flow;
use super::line::{Behind, Entry, Own, Plan, Value};
use super::source::{Comment, Source, end_of, is_block_text};
use crate::edit::insert::{column, dash, is_flow};
use crate::keys::{Form, Record};
use crate::sketch::keys as sketch;
use crate::yaml::{Kind, Node};

/// Goes through a text in its order and gives each comment to what it belongs to.
pub(super) struct Planner<'s, 't> {
    source: &'s Source<'t>,
    next: usize,
}

/// Where a container or an entry of one stands.
#[derive(Clone, Copy)]
struct Bounds {
    /// Column of the key or dash it belongs to; nothing at the root.
    above: Option<usize>,
    /// The byte that something else starts with.
    limit: usize,
}

impl<'s, 't> Planner<'s, 't> {
    pub const fn new(source: &'s Source<'t>) -> Self {
        Self { source, next: 0 }
    }

    const fn text(&self) -> &'t str {
        self.source.text
    }

    /// Plans a sketch. Nothing if it is not a block of keys.
    pub fn sketch(mut self, root: &Node) -> Option<Plan> {
        let entries = root.entries().filter(|entries| !entries.is_empty())?;
        let (text, record) = (self.text(), sketch::root());
        let starts: Vec<usize> = entries.iter().map(|(key, _)| key.place.span.start).collect();
        let first = *starts.first()?;
        if text[root.place.span.start..].starts_with('{') || column(text, first) != 0 {
            return None;
        }
        if self.source.foreign.iter().any(|at| *at < first) {
            return None;
        }
        let mut lead = self.owns(first, 0);
        let gap = !lead.is_empty() && self.source.blank_before(first);
        // Comments right above another first key than the version belong to that key.
        let own = match entries.first()?.0.text.as_ref() {
            "slabwalk" => lead.len(),
            _ if gap => lead.len(),
            _ => lead.iter().rposition(|own| own.gap).unwrap_or(0),
        };
        let mut carried = lead.split_off(own);
        let mut sections = Vec::with_capacity(entries.len());
        let mut understood = true;
        for (index, (key, value)) in entries.iter().enumerate() {
            let limit = starts.get(index + 1).copied().unwrap_or(text.len());
            let mut lead = self.owns(key.place.span.start, 0);
            lead.splice(0..0, carried.drain(..));
            let bounds = Bounds { above: Some(0), limit };
            let span = key.place.span;
            let name = &text[span.start..span.end];
            let form = form_of(&record, &key.text);
            let section = self.section(name, span.start, value, bounds, form.as_ref());
            let (mut entry, whole) = section;
            understood &= whole;
            entry.lead = lead;
            entry.rank = rank(&record, &key.text);
            sections.push(entry);
        }
        let tail = self.owns(text.len(), 0);
        if understood {
            sections.sort_by_key(|entry| entry.rank);
        }
        (self.next == self.source.comments.len()).then_some(Plan {
            gap: gap && carried.is_empty(),
            head: lead,
            sections,
            tail,
        })
    }

    /// A key at the root; as it stands, if it holds something that is not understood.
    fn section(
        &mut self,
        name: &str,
        start: usize,
        value: &Node,
        bounds: Bounds,
        form: Option<&Form>,
    ) -> (Entry, bool) {
        let before = self.next;
        let inside = start..bounds.limit;
        let foreign = self.source.foreign.iter().any(|at| inside.contains(at));
        if !foreign {
            let entry = self.entry(Some(name), start, start + name.len(), value, bounds, form);
            if let Some(entry) = entry {
                return (entry, true);
            }
        }
        let end = start + raw_length(&self.text()[start..bounds.limit]);
        self.next = before;
        while self.peek(end).is_some() {
            self.next += 1;
        }
        let lines = self.text()[start..end].to_owned();
        let entry = Entry {
            lead: Vec::new(),
            gap: false,
            key: None,
            value: Value::Text { lines, from: 0 },
            behind: None,
            after: Vec::new(),
            rank: 0,
        };
        (entry, false)
    }

    /// The next comment, if it starts before a byte.
    fn peek(&self, until: usize) -> Option<Comment> {
        let comment = self.source.comments.get(self.next)?;
        (comment.start < until).then_some(*comment)
    }

    /// Comments on lines of their own before a byte, from a column on.
    fn owns(&mut self, until: usize, column: usize) -> Vec<Own> {
        let mut out = Vec::new();
        while let Some(comment) = self.peek(until).filter(|c| c.own && c.column >= column) {
            out.push(Own {
                gap: self.source.blank_before(comment.start),
                text: self.source.word(&comment).to_owned(),
            });
            self.next += 1;
        }
        out
    }

    /// A comment behind a byte on its line.
    fn behind(&mut self, end: usize) -> Option<Behind> {
        let comment = self.peek(self.text().len()).filter(|c| !c.own && c.start >= end)?;
        if self.text()[end..comment.start].contains('\n') {
            return None;
        }
        self.next += 1;
        Some(Behind { column: comment.column, text: self.source.word(&comment).to_owned() })
    }

    /// A comment behind a key or dash whose values stand below.
    fn behind_mark(&mut self, mark: usize, node: &Node) -> Option<Behind> {
        self.peek(node.place.span.start)?;
        self.behind(mark)
    }

    /// A key or a dash that starts at a byte, with what stands behind it. Nothing if a comment stands
    /// where it can't be kept.
    fn entry(
        &mut self,
        key: Option<&str>,
        start: usize,
        mark: usize,
        value: &Node,
        bounds: Bounds,
        form: Option<&Form>,
    ) -> Option<Entry> {
        let own = column(self.text(), start);
        let inside = Bounds { above: Some(own), limit: bounds.limit };
        let gap = self.source.blank_before(start);
        let (value, behind) = self.value(mark, value, inside, key.is_some(), form)?;
        let after = self.owns(bounds.limit, own + 1);
        Some(Entry {
            lead: Vec::new(),
            gap,
            key: key.map(str::to_owned),
            value,
            behind,
            after,
            rank: 0,
        })
    }

    fn value(
        &mut self,
        mark: usize,
        node: &Node,
        bounds: Bounds,
        keyed: bool,
        form: Option<&Form>,
    ) -> Option<(Value, Option<Behind>)> {
        let (text, span) = (self.text(), node.place.span);
        if node.is_null() && span.start == span.end {
            let colon = mark + text[mark..].find(':').filter(|_| keyed).map_or(0, |at| at + 1);
            return Some((Value::Nothing, self.behind(colon)));
        }
        let flow = is_flow(text, node);
        match &node.kind {
            Kind::Mapping(_) if !flow => {
                let behind = self.behind_mark(mark, node);
                // A comment between a dash and its first key has no place.
                if !keyed && behind.is_some() {
                    return None;
                }
                Some((self.keys(node, bounds, form)?, behind))
            }
            Kind::Sequence(_) if !flow => {
                let behind = self.behind_mark(mark, node);
                if !keyed && behind.is_some() {
                    return None;
                }
                Some((self.list(node, bounds, form)?, behind))
            }
            _ => self.single(mark, node, bounds, form),
        }
    }

    /// A value that stays on its lines.
    fn single(
        &mut self,
        mark: usize,
        node: &Node,
        bounds: Bounds,
        form: Option<&Form>,
    ) -> Option<(Value, Option<Behind>)> {
        let text = self.text();
        let end = end_of(text, node);
        let start = if is_block_text(text, node) {
            mark + text[mark..node.place.span.start].find(['|', '>'])?
        } else {
            node.place.span.start
        };
        if self.peek(start).is_some() {
            return None;
        }
        while self.peek(end).is_some() {
            self.next += 1;
        }
        let raw = &text[start..end];
        let lines = if raw.starts_with(['[', '{']) && !raw.contains('\n') {
            flow::canonical(text, node, form)
        } else {
            raw.to_owned()
        };
        let from = bounds.above.unwrap_or(0);
        Some((Value::Text { lines, from }, self.behind(end)))
    }

    fn keys(&mut self, node: &Node, bounds: Bounds, form: Option<&Form>) -> Option<Value> {
        let entries = node.entries()?;
        let record = form.and_then(|form| flow::record_for(form, node));
        let text = self.text();
        let margin = column(text, entries.first()?.0.place.span.start);
        let mut out = Vec::with_capacity(entries.len());
        for (index, (key, value)) in entries.iter().enumerate() {
            let span = key.place.span;
            let next = entries.get(index + 1).map(|(key, _)| key.place.span.start);
            let lead = self.owns(span.start, 0);
            let inner = match (&record, form) {
                (Some(record), _) => form_of(record, &key.text),
                (None, Some(Form::Named(form))) => Some((**form).clone()),
                _ => None,
            };
            let limit = next.unwrap_or(bounds.limit);
            let bounds = Bounds { limit, ..bounds };
            let name = &text[span.start..span.end];
            let entry = self.entry(Some(name), span.start, span.end, value, bounds, inner.as_ref());
            let mut entry = entry?;
            entry.lead = lead;
            entry.rank = record.as_ref().map_or(0, |record| rank(record, &key.text));
            out.push(entry);
        }
        out.sort_by_key(|entry| entry.rank);
        Some(Value::Keys(out, self.tail(margin, bounds)))
    }

    fn list(&mut self, node: &Node, bounds: Bounds, form: Option<&Form>) -> Option<Value> {
        let (text, items) = (self.text(), node.items()?);
        let first = dash(text, node)?;
        let margin = column(text, first);
        let mut dashes = vec![first];
        for item in items.iter().skip(1) {
            dashes.push(dash_before(text, item)?);
        }
        let mut out = Vec::with_capacity(items.len());
        for (index, item) in items.iter().enumerate() {
            let start = dashes[index];
            let lead = self.owns(start, 0);
            let limit = dashes.get(index + 1).copied().unwrap_or(bounds.limit);
            let bounds = Bounds { limit, ..bounds };
            let inner = form.and_then(|form| flow::entry_form(form, index));
            let mut entry = self.entry(None, start, start + 1, item, bounds, inner.as_ref())?;
            entry.lead = lead;
            // Comments above its first key stand above the dash: there is no room between the two.
            if let Value::Keys(entries, _) | Value::List(entries, _) = &mut entry.value
                && let Some(first) = entries.first_mut()
            {
                entry.lead.append(&mut first.lead);
            }
            out.push(entry);
        }
        Some(Value::List(out, self.tail(margin, bounds)))
    }

    /// Comments behind the last entry of a container: at its margin or deeper, and deeper than what it
    /// belongs to.
    fn tail(&mut self, margin: usize, bounds: Bounds) -> Vec<Own> {
        let deeper = bounds.above.map_or(0, |above| above + 1);
        self.owns(bounds.limit, margin.max(deeper))
    }
}

/// The length of a section as it stands: without blank lines and comments at the margin behind it, which
/// belong to what follows.
fn raw_length(region: &str) -> usize {
    let mut length = region.len();
    for line in region.split_inclusive('\n').rev() {
        if line.trim().is_empty() || line.starts_with('#') {
            length -= line.len();
        } else {
            break;
        }
    }
    region[..length].trim_end().len()
}

/// The dash of an entry behind the first.
fn dash_before(text: &str, item: &Node) -> Option<usize> {
    let start = if is_block_text(text, item) {
        text[..item.place.span.start].rfind(['|', '>'])?
    } else {
        item.place.span.start
    };
    let before = text[..start].trim_end();
    before.ends_with('-').then(|| before.len() - 1)
}

fn form_of(record: &Record, name: &str) -> Option<Form> {
    let key = record.keys.iter().find(|key| key.name == name)?;
    Some(key.form.clone())
}

/// The place of a key in the order of its record.
pub(super) fn rank(record: &Record, name: &str) -> usize {
    let found = record.keys.iter().position(|key| key.name == name);
    found.unwrap_or(usize::MAX)
}
