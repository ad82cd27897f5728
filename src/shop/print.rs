//! The whole book in force as YAML.

use super::merge::merged;
use super::parse::BUILT_IN;
use crate::diagnostic::FileId;
use crate::yaml::{self, Kind, Node};

/// The book in force as YAML that reads back to the same book: the built-in one where nothing overrides it,
/// otherwise every value as it was written, with its source or `this shop's book` beside it.
///
/// An override that can't be read as YAML counts for nothing; [`super::parse`] says what is wrong
/// with it.
#[must_use]
pub fn print(text_of_override: Option<&str>) -> String {
    let own = text_of_override.and_then(|text| yaml::parse(text, FileId::Shop).0);
    let built_in = yaml::parse(BUILT_IN, FileId::BuiltIn).0;
    let (Some(own), Some(built_in)) = (own, built_in) else {
        return BUILT_IN.to_owned();
    };
    let mut out = String::from(
        "# The shop book in force: this shop's own values over the built-in ones. Beside each built-in value\n\
         # stands its source, \"common practice\" (no published source) or \"from memory\" (to be confirmed).\n",
    );
    block(&merged(&built_in, &own), 0, &mut out);
    out
}

/// A mapping, one key a line.
fn block(node: &Node, depth: usize, out: &mut String) {
    let indent = "  ".repeat(depth);
    for (key, value) in node.entries().unwrap_or_default() {
        let name = plain_or_quoted(&key.text, false);
        match &value.kind {
            Kind::Mapping(entries) if !entries.is_empty() => {
                *out += &format!("{indent}{name}:\n");
                block(value, depth + 1, out);
            }
            Kind::Sequence(items) if items.iter().any(|item| item.entries().is_some()) => {
                *out += &format!("{indent}{name}:\n");
                for item in items {
                    *out += &commented(&format!("{indent}  - {}", inline(item)), item);
                }
            }
            _ => *out += &commented(&format!("{indent}{name}: {}", inline(value)), value),
        }
    }
}

/// A line with where its value comes from.
fn commented(line: &str, node: &Node) -> String {
    let comment = match node.place.file {
        FileId::BuiltIn => built_in_comment(node.place.span.end),
        FileId::Sketch | FileId::Shop => "this shop's book",
    };
    if comment.is_empty() {
        return format!("{line}\n");
    }
    format!("{line:<32} # {comment}\n")
}

/// The comment on the line of a built-in value.
fn built_in_comment(end: usize) -> &'static str {
    let line = BUILT_IN[end..].lines().next().unwrap_or("");
    line.split_once('#').map_or("", |(_, comment)| comment.trim())
}

/// A value on one line.
fn inline(node: &Node) -> String {
    match &node.kind {
        Kind::Null => "null".into(),
        Kind::Scalar { text, quoted } => plain_or_quoted(text, *quoted),
        Kind::Sequence(items) => {
            let items: Vec<String> = items.iter().map(inline).collect();
            format!("[{}]", items.join(", "))
        }
        Kind::Mapping(entries) => {
            let entries: Vec<String> = entries
                .iter()
                .map(|(key, value)| {
                    format!("{}: {}", plain_or_quoted(&key.text, false), inline(value))
                })
                .collect();
            format!("{{{}}}", entries.join(", "))
        }
    }
}

/// A text as it was written, in quotes if it was, or if it could be read as something else between brackets.
fn plain_or_quoted(text: &str, quoted: bool) -> String {
    let unsafe_between_brackets = text.contains([',', '[', ']', '{', '}', '\n', '\\'])
        || text.contains(": ")
        || text.contains(" #")
        || text.ends_with(':')
        || text.is_empty()
        || text.chars().any(char::is_control);
    if quoted || unsafe_between_brackets {
        // A JSON string is a double-quoted YAML scalar.
        return serde_json::Value::from(text).to_string();
    }
    text.to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shop::parse;

    #[test]
    fn the_printed_book_reads_back_to_the_same_book() {
        let overrides = [
            "slabwalk_shop: 1\n",
            "slabwalk_shop: 1\nchase: {blade: 3/8\", deepest:}\nfiller: {package: 300 mL}\n",
            "slabwalk_shop: 1\nunits: metric\ngrinding: {head: 650, edge_gap: 50}\n",
            "slabwalk_shop: 1\nbacker_rod: {sizes: [1/2\", 1\"]}\nsystems:\n  \"two, coats: # 2\":\n    layers:\n      - {name: 'it''s, first', dft: 10 mil, solids: 100%, loss: 5%, kit: 2 L}\n",
            "slabwalk_shop: 1\ntooling:\n  - {mohs_below: 11, use: \"whatever \\n fits\"}\n",
        ];
        for text in overrides {
            let (book, faults) = parse(text);
            assert_eq!(faults, [], "{text}");
            let printed = print(Some(text));
            let (again, faults) = parse(&printed);
            assert_eq!(faults, [], "{printed}");
            assert_eq!(again, book, "{printed}");
        }
        assert_eq!(parse(&print(None)).0, Some(crate::shop::built_in()));
    }

    #[test]
    fn every_built_in_value_has_its_source_beside_it() {
        let printed = print(Some("slabwalk_shop: 1\nfiller: {waste: 12%}\n"));
        let own = "  waste: 12%                     # this shop's book\n";
        assert!(printed.contains(own), "{printed}");
        for line in printed.lines().filter(|line| !line.starts_with('#')) {
            let heading = line.ends_with(':') || line.starts_with("slabwalk_shop");
            assert!(heading || line.contains(" # "), "{line}");
        }
    }
}
