//! The description against the readers: the same keys, the same words, the same refusals.

mod files;
mod sample;

use std::collections::{BTreeMap, BTreeSet};

use jsonschema::Validator;
use serde_json::{Value, json};

use self::sample::{at, places, samples};
use super::{shop_schema, sketch_schema};
use crate::diagnostic::Severity;
use crate::form::heard;
use crate::keys::{Form, Record};
use crate::record::Kind;
use crate::{shop, sketch};

/// A file format: its description, its schema, and whether its reader takes a text.
struct Format {
    name: &'static str,
    root: fn() -> Record,
    schema: fn() -> String,
    refuses: fn(&str) -> Option<String>,
}

const FORMATS: [Format; 2] = [
    Format {
        name: "sketch",
        root: sketch::keys::root,
        schema: sketch_schema,
        refuses: |text| first_error(crate::sketch::parse(text).1),
    },
    Format {
        name: "shop",
        root: shop::keys::root,
        schema: shop_schema,
        refuses: |text| first_error(crate::shop::parse(text).1),
    },
];

fn first_error(faults: Vec<crate::diagnostic::Diagnostic>) -> Option<String> {
    let error = faults.into_iter().find(|f| f.severity == Severity::Error)?;
    Some(format!("{}: {}", error.code, error.message))
}

fn validator(schema: &str) -> Validator {
    let schema: Value = serde_json::from_str(schema).expect("the schema is JSON");
    jsonschema::draft202012::new(&schema).expect("the schema is a schema")
}

#[test]
fn every_sample_made_of_the_examples_is_read_and_valid() {
    for format in &FORMATS {
        let validator = validator(&(format.schema)());
        for sample in samples(&(format.root)()) {
            let text = sample.to_string();
            assert_eq!((format.refuses)(&text), None, "{}: {text}", format.name);
            let errors: Vec<String> =
                validator.iter_errors(&sample).map(|e| e.to_string()).collect();
            assert_eq!(errors, [""; 0], "{}: {text}", format.name);
        }
    }
}

/// What the readers call a record, with its keys, as they were heard while the samples were read.
#[test]
fn every_key_of_the_readers_is_described_and_the_other_way_round() {
    for format in &FORMATS {
        let mut described = BTreeMap::new();
        sample::records(&(format.root)(), &mut described);
        heard::start();
        for sample in samples(&(format.root)()) {
            let _ = (format.refuses)(&sample.to_string());
        }
        let known = heard::stop();
        assert_eq!(known, described, "{}", format.name);
    }
}

/// A list whose records have ids is one of items, and so of a kind: what walks over the kinds misses none.
#[test]
fn every_list_of_records_with_ids_is_of_a_kind() {
    fn lists(record: &Record, way: &str, out: &mut BTreeSet<String>) {
        for key in &record.keys {
            let way = format!("{way}.{}", key.name);
            match &key.form {
                Form::Record(inner) => lists(&inner(), &way, out),
                Form::List(entry, _) => {
                    if let Form::Record(entry) = &**entry
                        && entry().keys.iter().any(|key| key.name == "id")
                    {
                        out.insert(way.trim_start_matches('.').to_owned());
                    }
                }
                _ => {}
            }
        }
    }
    let mut found = BTreeSet::new();
    lists(&sketch::keys::root(), "", &mut found);
    let known = Kind::ALL.iter().map(|kind| kind.described().list.to_owned());
    assert_eq!(found, known.collect());
}

/// Changes a sample and asks whether the change matters to the reader and to the schema alike.
#[test]
#[ignore = "one of the ten that take longest: .ci/run asks for them"]
fn what_the_reader_refuses_for_its_form_the_schema_refuses_and_nothing_else() {
    let changes: [(&str, fn(&Value) -> Value); 6] = [
        ("unknown key", |value| match value {
            Value::Object(keys) => {
                let mut keys = keys.clone();
                keys.insert("zzzz".into(), json!(1));
                Value::Object(keys)
            }
            other => other.clone(),
        }),
        ("nothing", |_| Value::Null),
        ("keys where there should be none", |_| json!({"qqqq": 1})),
        ("an odd word", |_| json!("?!")),
        ("below nothing", |value| match value {
            Value::Array(_) | Value::Object(_) => value.clone(),
            _ => json!("-1'"),
        }),
        ("a list of lists", |_| json!([[[]]])),
    ];
    for format in &FORMATS {
        let validator = validator(&(format.schema)());
        let mut seen = BTreeSet::new();
        for mut sample in samples(&(format.root)()) {
            for path in places(&sample) {
                // The same value under the same keys says nothing new in another entry of a list.
                let value = at(&mut sample, &path).to_string();
                if !seen.insert(format!("{:?} {value}", sample::keys(&path))) {
                    continue;
                }
                for (name, change) in changes {
                    let mut changed = sample::around(&sample, &path);
                    let slot = at(&mut changed, &path);
                    *slot = change(slot);
                    same_answer(format, &validator, &changed, &format!("{path:?}, {name}"));
                }
            }
        }
    }
}

#[test]
fn keys_that_are_taken_out_are_missed_alike() {
    for format in &FORMATS {
        let validator = validator(&(format.schema)());
        let mut seen = BTreeSet::new();
        for mut sample in samples(&(format.root)()) {
            for path in places(&sample) {
                let Some((sample::Step::Key(key), parent)) = path.split_last() else {
                    continue;
                };
                // The same key taken out of the same record says nothing new in another entry of a list.
                let record = at(&mut sample, parent).to_string();
                if !seen.insert(format!("{:?} {record}", sample::keys(&path))) {
                    continue;
                }
                let mut changed = sample::around(&sample, &path);
                if let Some(object) = at(&mut changed, parent).as_object_mut() {
                    object.remove(key);
                }
                same_answer(format, &validator, &changed, &format!("{path:?} taken out"));
            }
        }
    }
}

/// The reader and the schema agree, but for what only the reader can know: what other items there are, and
/// how values stand to each other.
fn same_answer(format: &Format, validator: &Validator, value: &Value, what: &str) {
    let only_the_reader = [
        "unknown-id",
        "unknown-corner",
        "out-of-order",
        "duplicate-id",
        "outline-point",
        "circular-line",
        "beyond-belief",
        // Whether a record has a place that copies can be counted from.
        "repeat:",
        "layers: layer `",
        // A machine of the built-in book may be priced alone.
        "missing-key: a machine needs",
        "missing-key: nothing stands behind `day`",
        "missing-key: nothing stands behind `tasks`",
        "wrong-type: a machine should be keys and values, and nothing",
        // Of a system that the built-in book has, everything may be left out.
        "missing-key: a system needs",
        "missing-key: nothing stands behind `layers`",
        "wrong-type: a system should be keys and values, and nothing",
    ];
    let text = value.to_string();
    let refused = (format.refuses)(&text);
    if refused
        .as_deref()
        .is_some_and(|why| only_the_reader.iter().any(|code| why.starts_with(code)))
    {
        return;
    }
    let valid = validator.is_valid(value);
    assert_eq!(
        valid,
        refused.is_none(),
        "{}: {what}: the reader says {refused:?}\n{text}",
        format.name
    );
}
