//! A plan as text.

use super::line::{Behind, Entry, Own, Plan, Value};

/// Spaces that a level is set in.
const STEP: usize = 2;
/// Fewest spaces before a comment behind something.
const BEFORE_COMMENT: usize = 2;

/// The text of a plan.
pub(super) fn write(plan: &Plan) -> String {
    let mut page = Page::default();
    page.owns(&plan.head, 0);
    let mut before = "";
    for (index, section) in plan.sections.iter().enumerate() {
        let key = section.key.as_deref().unwrap_or("");
        let together = before == "units" && key == "shop" && section.lead.is_empty();
        let gap = if index == 0 { plan.gap } else { !together };
        page.fresh = false;
        if gap && !page.out.is_empty() {
            page.out.push('\n');
            page.fresh = true;
        }
        page.entry(section, 0, None, true);
        before = key;
    }
    page.fresh = false;
    page.owns(&plan.tail, 0);
    page.out
}

/// The text so far.
#[derive(Default)]
struct Page {
    out: String,
    /// No blank line may come next.
    fresh: bool,
}

impl Page {
    fn blank(&mut self, gap: bool) {
        if gap && !self.fresh && !self.out.is_empty() {
            self.out.push('\n');
        }
        self.fresh = false;
    }

    fn owns(&mut self, owns: &[Own], indent: usize) {
        for own in owns {
            self.blank(own.gap);
            self.out += &format!("{}{}\n", " ".repeat(indent), own.text);
        }
    }

    /// A line with a comment behind it, at its old column if there is room.
    fn line(&mut self, line: &str, behind: Option<&Behind>) {
        let line = line.trim_end();
        self.out += line;
        if let Some(behind) = behind {
            let width = line.rsplit('\n').next().map_or(0, |last| last.chars().count());
            let blanks = behind.column.saturating_sub(width).max(BEFORE_COMMENT);
            self.out += &" ".repeat(blanks);
            self.out += &behind.text;
        }
        self.out.push('\n');
    }

    /// A key or an entry of a list. `opening` is what stands on its line already: the dashes before it.
    fn entry(&mut self, entry: &Entry, indent: usize, opening: Option<&str>, section: bool) {
        if opening.is_none() {
            self.owns(&entry.lead, indent);
            let gap = entry.gap && !(section && entry.lead.is_empty());
            self.blank(gap);
        }
        let start = opening.map_or_else(|| " ".repeat(indent), str::to_owned);
        match (&entry.key, &entry.value) {
            // A section that stays as it is.
            (None, Value::Text { lines, .. }) if section => self.line(lines, None),
            (None, Value::Keys(entries, tail) | Value::List(entries, tail)) => {
                let opening = format!("{start}- ");
                self.container(entries, tail, indent + STEP, Some(&opening));
            }
            (Some(key), Value::Keys(entries, tail) | Value::List(entries, tail)) => {
                self.line(&format!("{start}{key}:"), entry.behind.as_ref());
                self.container(entries, tail, indent + STEP, None);
            }
            (key, value) => {
                let mark = key.as_ref().map_or_else(|| "-".to_owned(), |key| format!("{key}:"));
                let text = match value {
                    Value::Text { lines, from } => moved(lines, *from, indent),
                    _ => String::new(),
                };
                self.line(&format!("{start}{mark} {text}"), entry.behind.as_ref());
            }
        }
        self.owns(&entry.after, indent + STEP);
    }

    fn container(&mut self, entries: &[Entry], tail: &[Own], indent: usize, opening: Option<&str>) {
        self.fresh = true;
        for (index, entry) in entries.iter().enumerate() {
            self.entry(entry, indent, opening.filter(|_| index == 0), false);
            if index == 0 {
                self.fresh = false;
            }
        }
        self.owns(tail, indent);
    }
}

/// The later lines of a value, set in as far from its key as before.
fn moved(lines: &str, from: usize, to: usize) -> String {
    let mut out = String::with_capacity(lines.len());
    for (index, line) in lines.split('\n').enumerate() {
        if index == 0 {
            out += line;
            continue;
        }
        out.push('\n');
        let blanks = line.len() - line.trim_start_matches(' ').len();
        let new = (blanks + to).saturating_sub(from);
        if !line.trim().is_empty() {
            out += &" ".repeat(new);
            out += &line[blanks..];
        }
    }
    out
}
