//! A tree as the values that a reader of JSON sees in it.

use serde_json::{Map, Number, Value};

use super::{Kind, Node};

/// The values of a tree under the core schema of YAML 1.2: plain numbers and `true` are what they look
/// like, everything else is a text.
pub(crate) fn value(node: &Node) -> Value {
    match &node.kind {
        Kind::Null => Value::Null,
        Kind::Scalar { text, quoted: true } => Value::String(text.to_string()),
        Kind::Scalar { text, .. } => plain(text),
        Kind::Sequence(items) => items.iter().map(value).collect(),
        Kind::Mapping(entries) => {
            let entries = entries.iter().map(|(key, node)| (key.text.to_string(), value(node)));
            Value::Object(entries.collect::<Map<_, _>>())
        }
    }
}

fn plain(text: &str) -> Value {
    match text {
        "true" | "True" | "TRUE" => return true.into(),
        "false" | "False" | "FALSE" => return false.into(),
        _ => {}
    }
    let numeric = |c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | '+' | 'e' | 'E');
    if text.chars().all(numeric) {
        if let Ok(whole) = text.parse::<i64>() {
            return whole.into();
        }
        let number = text.parse::<f64>().ok().and_then(Number::from_f64);
        if let Some(number) = number {
            return Value::Number(number);
        }
    }
    Value::String(text.to_owned())
}

#[cfg(test)]
mod tests {
    use crate::diagnostic::FileId;
    use serde_json::json;

    #[test]
    fn plain_values_are_what_they_look_like() {
        let text = "[1, -2.5, .25, 1/4, 12', true, \"1\", null, 26-041, {a: b}, 1e3]";
        let (node, _) = crate::yaml::parse(text, FileId::Sketch);
        let wanted =
            json!([1, -2.5, 0.25, "1/4", "12'", true, "1", null, "26-041", {"a": "b"}, 1000.0]);
        assert_eq!(super::value(&node.unwrap()), wanted);
    }
}
