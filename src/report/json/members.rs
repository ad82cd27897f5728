//! A JSON object written member by member, pretty-printed, its long lists on all cores.

use std::io::{self, Write};

use serde::Serialize;

use crate::parallel;
use crate::text::json::print;

/// Entries of a list that are printed before they are written: enough for all cores, and few beside the whole list.
const AT_A_TIME: usize = 1 << 15;

/// An object that is being written.
pub struct Members<'w> {
    out: &'w mut dyn Write,
    any: bool,
}

impl<'w> Members<'w> {
    /// An object without members so far.
    pub fn new(out: &'w mut dyn Write) -> Self {
        Self { out, any: false }
    }

    /// Writes a member.
    pub fn add(&mut self, key: &str, value: &impl Serialize) -> io::Result<()> {
        self.start(key)?;
        let mut text = Vec::new();
        print(&mut text, value, 1)?;
        self.out.write_all(&text)
    }

    /// Writes a list, whose entries are made only then.
    pub fn add_list<'s, S: Sync, T: Serialize>(
        &mut self,
        key: &str,
        from: &'s [S],
        entry: impl Fn(&'s S) -> T + Sync,
    ) -> io::Result<()> {
        self.start(key)?;
        if from.is_empty() {
            return self.out.write_all(b"[]");
        }
        let mut before: &[u8] = b"[\n    ";
        for some in from.chunks(AT_A_TIME) {
            let printed = parallel::runs(some.len(), |run| -> io::Result<Vec<u8>> {
                let mut text = Vec::new();
                for (i, one) in some[run].iter().enumerate() {
                    text.extend(if i == 0 { b"" } else { &b",\n    "[..] });
                    print(&mut text, &entry(one), 2)?;
                }
                Ok(text)
            });
            for text in printed {
                self.out.write_all(before)?;
                self.out.write_all(&text?)?;
                before = b",\n    ";
            }
        }
        self.out.write_all(b"\n  ]")
    }

    fn start(&mut self, key: &str) -> io::Result<()> {
        let before = if self.any { "," } else { "{" };
        self.any = true;
        write!(self.out, "{before}\n  \"{key}\": ")
    }

    /// Ends the object, with a line feed behind it.
    pub fn end(self) -> io::Result<()> {
        self.out.write_all(b"\n}\n")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    #[test]
    fn members_are_printed_as_the_whole_object_would_be() {
        let many: Vec<usize> = (0..50_000).collect();
        let mut out = Vec::new();
        let mut members = Members::new(&mut out);
        let entry = |i: &usize| json!({"id": format!("J{i}\"\n"), "at": [i, {}], "none": []});
        // In the order of the alphabet, in which the whole object is printed.
        members.add("a", &json!({"x": {"y": [1, 2.5, null]}, "z": "{\n"})).expect("written");
        members.add_list("b", &many[..0], entry).expect("written");
        members.add_list("c", &many[..1], entry).expect("written");
        members.add_list("d", &many, entry).expect("written");
        members.add("e", &Value::Null).expect("written");
        let list = |n: usize| many[..n].iter().map(entry).collect::<Value>();
        let whole = json!({
            "a": {"x": {"y": [1, 2.5, null]}, "z": "{\n"},
            "b": [], "c": list(1), "d": list(many.len()), "e": null,
        });
        let wanted = serde_json::to_string_pretty(&whole).expect("JSON") + "\n";
        members.end().expect("written");
        let found = String::from_utf8(out).expect("UTF-8");
        assert!(found == wanted, "{}", &found[..1000]);
    }
}
