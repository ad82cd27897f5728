//! The description as JSON Schema.

use std::collections::BTreeMap;

use serde_json::{Map, Value, json};

use crate::form::{Rule, Sign};
use crate::keys::{Form, Group, Key, Need, Record, pattern};

/// Definitions by name, made once each.
struct Definitions(BTreeMap<String, Value>);

/// A whole schema as text.
pub(super) fn document(title: &str, about: &str, root: Record) -> String {
    let mut definitions = Definitions(BTreeMap::new());
    let mut schema = definitions.record(&root);
    let Some(object) = schema.as_object_mut() else {
        return String::new();
    };
    object.insert("$schema".into(), "https://json-schema.org/draft/2020-12/schema".into());
    object.insert("title".into(), title.into());
    object.insert("description".into(), about.into());
    object.insert("$defs".into(), json!(definitions.0));
    let text = serde_json::to_string_pretty(&schema).unwrap_or_default();
    text + "\n"
}

impl Definitions {
    fn record(&mut self, record: &Record) -> Value {
        let mut properties = Map::new();
        for key in &record.keys {
            properties.insert(key.name.into(), self.key(key));
        }
        let required: Vec<&str> = record
            .keys
            .iter()
            .filter(|key| key.need == Need::Required)
            .map(|key| key.name)
            .collect();
        let mut schema = json!({
            "type": "object",
            "title": record.what,
            "description": record.about.text(),
            "properties": properties,
            "additionalProperties": false,
        });
        if !required.is_empty() {
            schema["required"] = json!(required);
        }
        let groups: Vec<Value> = record.groups.iter().map(group).collect();
        if !groups.is_empty() {
            schema["allOf"] = json!(groups);
        }
        schema
    }

    fn key(&mut self, key: &Key) -> Value {
        let mut schema = match (key.need, &key.form) {
            (Need::Optional, form) => self.form_or_null(form),
            (Need::Required, form) => self.form(form),
        };
        let about = match unit(&key.form) {
            Some(unit) => format!("{} {unit}", key.about.text()),
            None => key.about.text().to_owned(),
        };
        schema["description"] = about.into();
        if let Some(example) = example(key) {
            schema["examples"] = json!([example]);
        }
        schema
    }

    fn form(&mut self, form: &Form) -> Value {
        match form {
            Form::Text => json!({"type": ["string", "number", "boolean"]}),
            Form::Id => json!({"type": ["string", "number"], "pattern": pattern::ID}),
            Form::Ids => json!({"type": ["string", "number"], "pattern": pattern::IDS}),
            Form::Version => json!({"enum": [1, "1"]}),
            Form::Day => json!({"type": "string", "pattern": pattern::DAY}),
            Form::Truth => json!({"type": ["boolean", "string"], "pattern": pattern::TRUTH}),
            Form::Count => json!({
                "type": ["integer", "string"], "minimum": 1, "pattern": "^0*[1-9][0-9]*$",
            }),
            Form::Number(least, most) => json!({
                "type": ["number", "string"], "minimum": least, "maximum": most,
                "pattern": pattern::bare(),
            }),
            Form::Money => json!({
                "type": ["number", "string"], "minimum": 0, "maximum": 1_000_000,
                "pattern": pattern::MONEY,
            }),
            Form::Length(rule) => self.length(rule, false),
            Form::Words(words) => json!({"enum": words}),
            Form::Pattern(pattern) => {
                json!({"type": bare_types(pattern), "pattern": pattern})
            }
            Form::List(entry, least) => {
                let mut schema = json!({"type": "array", "items": self.form(entry)});
                if *least > 0 {
                    schema["minItems"] = json!(least);
                }
                schema
            }
            Form::Tuple(entries) => json!({
                "type": "array",
                "prefixItems": entries.iter().map(|entry| self.form(entry)).collect::<Vec<_>>(),
                "items": false,
                "minItems": entries.len(),
            }),
            Form::Record(record) => self.reference(record()),
            Form::Named(value) => {
                let value = self.form_or_null(value);
                json!({"type": "object", "additionalProperties": value})
            }
            Form::Any(forms) => {
                let forms: Vec<Value> = forms.iter().map(|form| self.form(form)).collect();
                json!({"anyOf": forms})
            }
            Form::OrNothing(form) => self.form_or_null(form),
        }
    }

    fn reference(&mut self, record: Record) -> Value {
        // Names of works have blanks, which a reference can't.
        let name = record.name.replace(' ', "_");
        if !self.0.contains_key(&name) {
            // The name is taken first, so that a record may hold itself.
            self.0.insert(name.clone(), Value::Null);
            let schema = self.record(&record);
            self.0.insert(name.clone(), schema);
        }
        json!({"$ref": format!("#/$defs/{name}")})
    }

    fn form_or_null(&mut self, form: &Form) -> Value {
        match form {
            Form::Length(rule) => self.length(rule, true),
            form => or_null(self.form(form)),
        }
    }

    /// A length by its definition: the pattern is long, and there are only a few kinds of lengths.
    fn length(&mut self, rule: &Rule, or_nothing: bool) -> Value {
        let place = if rule.plan { "plan" } else { "small" };
        let sign = match rule.sign {
            Sign::Any => "of_any_sign",
            Sign::NotNegative => "not_negative",
            Sign::Positive => "positive",
        };
        let nothing = if or_nothing { "_or_nothing" } else { "" };
        let most = most(rule);
        let name = format!("length_{place}_{sign}_up_to_{most}{nothing}");
        let schema = match or_nothing {
            true => or_null(length(rule)),
            false => length(rule),
        };
        self.0.entry(name.clone()).or_insert(schema);
        json!({"$ref": format!("#/$defs/{name}")})
    }
}

/// A number is a value of this form where a text of digits would be one.
fn bare_types(pattern: &str) -> Value {
    let bare = pattern.ends_with("|)$") || pattern.contains("(?:wall");
    if bare || pattern.starts_with("^[0-9.]+(?::") {
        return json!(["string", "number"]);
    }
    json!("string")
}

/// The largest number without a unit. It is in one of two units: the larger of the two limits holds for both.
fn most(rule: &Rule) -> f64 {
    let most =
        if rule.plan { rule.most.m() / crate::quantity::M_PER_FT } else { rule.most.m() * 1000.0 };
    most.round()
}

fn length(rule: &Rule) -> Value {
    let mut schema = json!({"type": ["number", "string"], "pattern": pattern::length(rule)});
    let most = most(rule);
    match rule.sign {
        Sign::Any => schema["minimum"] = json!(-most),
        Sign::NotNegative => schema["minimum"] = json!(0),
        Sign::Positive => schema["exclusiveMinimum"] = json!(0),
    }
    schema["maximum"] = json!(most);
    schema
}

/// What a number without a unit means.
fn unit(form: &Form) -> Option<&'static str> {
    match form {
        Form::Length(rule) if rule.plan => {
            Some("Without a unit: feet, or meters under units: metric.")
        }
        Form::Length(_) => Some("Without a unit: inches, or millimeters under units: metric."),
        Form::Tuple(forms) => forms.iter().find_map(unit),
        Form::Any(forms) => match forms.first() {
            Some(length @ Form::Length(_)) => unit(length),
            _ => None,
        },
        _ => None,
    }
}

/// The same schema, or nothing: a key with nothing behind it counts as left out.
fn or_null(mut schema: Value) -> Value {
    if let Some(words) = schema.get_mut("enum").and_then(Value::as_array_mut) {
        words.push(Value::Null);
        return schema;
    }
    match schema.get_mut("type") {
        Some(Value::Array(types)) => types.push("null".into()),
        Some(Value::String(one)) => {
            let both = json!([one.as_str(), "null"]);
            schema["type"] = both;
        }
        _ => return json!({"anyOf": [schema, {"type": "null"}]}),
    }
    schema
}

/// The schema that says a key is there, with something behind it.
fn there(key: &str) -> Value {
    json!({"required": [key], "properties": {key: {"not": {"type": "null"}}}})
}

fn group(group: &Group) -> Value {
    let all = |keys: &[&str]| keys.iter().map(|key| there(key)).collect::<Vec<_>>();
    match group {
        Group::One(keys) => json!({"oneOf": all(keys)}),
        Group::Some(keys) => json!({"anyOf": all(keys)}),
        Group::Both(a, b) => json!({
            "if": {"anyOf": all(&[a, b])}, "then": {"allOf": all(&[a, b])},
        }),
        Group::Without(key, others) => json!({
            "if": there(key), "then": {"not": {"anyOf": all(others)}},
        }),
        Group::With(key, others) => json!({"if": there(key), "then": {"allOf": all(others)}}),
    }
}

/// The example of a key, as the value that YAML reads it as.
pub(super) fn example(key: &Key) -> Option<Value> {
    use crate::diagnostic::FileId;
    let text = key.example.text();
    if text.is_empty() {
        return None;
    }
    let node = crate::yaml::parse(text, FileId::Sketch).0?;
    Some(crate::yaml::value(&node))
}
