//! Files made of the examples of the description, which together hold every key.

use std::collections::BTreeMap;

use serde_json::{Map, Value, json};

use crate::keys::{Form, Group, Key, Record};
use crate::schema::json::example;

/// A step from a value to one inside it.
#[derive(Clone, Debug)]
pub(super) enum Step {
    Key(String),
    Entry(usize),
}

/// The keys of a path.
pub(super) fn keys(path: &[Step]) -> Vec<&str> {
    let keys = path.iter().filter_map(|step| match step {
        Step::Key(key) => Some(key.as_str()),
        Step::Entry(_) => None,
    });
    keys.collect()
}

/// The value at the end of a path.
pub(super) fn at<'v>(value: &'v mut Value, path: &[Step]) -> &'v mut Value {
    path.iter().fold(value, |value, step| match step {
        Step::Key(key) => &mut value[key.as_str()],
        Step::Entry(index) => &mut value[*index],
    })
}

/// The part of a sample that a path leads into, with what every file has and what others refer to.
pub(super) fn around(sample: &Value, path: &[Step]) -> Value {
    const ALWAYS: [&str; 5] = ["slabwalk", "slabwalk_shop", "job", "slab", "joints"];
    let inside = |key: &str| matches!(path.first(), Some(Step::Key(first)) if first == key);
    let Some(keys) = sample.as_object() else {
        return sample.clone();
    };
    let kept = keys.iter().filter(|(key, _)| ALWAYS.contains(&key.as_str()) || inside(key)).map(
        |(key, value)| match (key.as_str(), inside(key)) {
            ("slab", false) => (key.clone(), json!({"outline": value["outline"]})),
            ("joints", false) => (key.clone(), json!([value[0]])),
            _ => (key.clone(), value.clone()),
        },
    );
    Value::Object(kept.collect())
}

/// Every place of a value but the value itself.
pub(super) fn places(value: &Value) -> Vec<Vec<Step>> {
    let inside: Vec<(Step, &Value)> = match value {
        Value::Object(keys) => {
            keys.iter().map(|(key, value)| (Step::Key(key.clone()), value)).collect()
        }
        Value::Array(entries) => {
            let entries = entries.iter().enumerate();
            entries.map(|(index, value)| (Step::Entry(index), value)).collect()
        }
        _ => Vec::new(),
    };
    let mut out = Vec::new();
    for (step, value) in inside {
        out.push(vec![step.clone()]);
        for path in places(value) {
            out.push([vec![step.clone()], path].concat());
        }
    }
    out
}

/// Files that are right, and together hold every key in every form.
pub(super) fn samples(root: &Record) -> Vec<Value> {
    let mut files = of_record(root);
    // Ids that the examples refer to stand in the first entry of a list only.
    for file in &mut files {
        first_ids_only(file);
    }
    files
}

fn first_ids_only(value: &mut Value) {
    match value {
        Value::Array(entries) => {
            for (index, entry) in entries.iter_mut().enumerate() {
                // The first one can be referred to: it stands for itself alone.
                let dropped = if index == 0 { "repeat" } else { "id" };
                if let Some(object) = entry.as_object_mut() {
                    object.remove(dropped);
                }
                first_ids_only(entry);
            }
        }
        Value::Object(keys) => keys.values_mut().for_each(first_ids_only),
        _ => {}
    }
}

/// Values of a record: one for each way in which its keys go together, and for each form of its keys.
fn of_record(record: &Record) -> Vec<Value> {
    let mut out = Vec::new();
    for keys in ways(record) {
        let values: Vec<(&str, Vec<Value>)> =
            keys.iter().map(|key| (key.name, of_key(key))).collect();
        let most = values.iter().map(|(_, values)| values.len()).max().unwrap_or(1);
        for turn in 0..most {
            let pick = |values: &[Value]| values[turn.min(values.len() - 1)].clone();
            let object: Map<String, Value> =
                values.iter().map(|(name, values)| ((*name).to_owned(), pick(values))).collect();
            out.push(Value::Object(object));
        }
    }
    out
}

/// The keys of a record, less those that don't go together, in every way.
fn ways(record: &Record) -> Vec<Vec<&Key>> {
    let choices = record.groups.iter().find_map(|group| match group {
        Group::One(keys) => Some(*keys),
        _ => None,
    });
    let Some(choices) = choices else {
        return vec![record.keys.iter().collect()];
    };
    let way = |choice: &str| {
        let dropped = |name: &str| {
            let other = choices.contains(&name) && name != choice;
            let without = record.groups.iter().any(|group| match group {
                Group::Without(key, others) => *key == choice && others.contains(&name),
                _ => false,
            });
            // Goods that are broadcast go into a liquid before them; liquids go nowhere.
            let alone = name == "into" && choice != "rate";
            other || without || alone
        };
        record.keys.iter().filter(|key| !dropped(key.name)).collect()
    };
    choices.iter().map(|choice| way(choice)).collect()
}

fn of_key(key: &Key) -> Vec<Value> {
    // Not every form of a point may be a corner of the outline.
    if let ("outline", Form::Any(forms)) = (key.name, &key.form) {
        let corners = json!([[0, 0], ["24'", 0], {"to": [24, 20], "via": [30, 8]}, [0, "20 ft"]]);
        let walk = forms.last().map(of_form).unwrap_or_default();
        return [vec![corners], walk].concat();
    }
    // The places of a grid are counted from coordinates, which only the first two forms of a point have.
    if key.name == "repeat" {
        let forms = of_form(&key.form);
        let (grid, row) = (forms.first(), forms.last());
        return [row, grid, row].into_iter().flatten().cloned().collect();
    }
    let points = matches!(key.form, Form::Any(_)) || key.name == "polygon";
    if let (Some(value), true) = (example(key), points) {
        return [vec![value], of_form(&key.form)].concat();
    }
    example(key).map_or_else(|| of_form(&key.form), |value| vec![value])
}

fn of_form(form: &Form) -> Vec<Value> {
    match form {
        Form::Record(record) => of_record(&record()),
        Form::List(entry, _) => vec![Value::Array(of_form(entry))],
        Form::Named(value) => {
            let values = of_form(value).into_iter().enumerate();
            vec![Value::Object(values.map(|(n, value)| (format!("name {n}"), value)).collect())]
        }
        Form::Any(forms) => forms.iter().flat_map(of_form).collect(),
        Form::OrNothing(form) => of_form(form),
        Form::Tuple(forms) => {
            vec![forms.iter().filter_map(|form| of_form(form).into_iter().next()).collect()]
        }
        Form::Truth => vec![json!(true)],
        Form::Length(_) | Form::Count | Form::Number(..) | Form::Money => vec![json!(1)],
        Form::Id => vec![json!("J1")],
        Form::Ids => vec![json!("J*")],
        Form::Day => vec![json!("2026-12-24")],
        Form::Words(words) => words.iter().map(|word| json!(word)).collect(),
        _ => vec![json!("E 4'")],
    }
}

/// What the readers call each record, with its keys in the order of the alphabet.
pub(super) fn records(record: &Record, out: &mut BTreeMap<String, Vec<String>>) {
    let mut keys: Vec<String> = record.keys.iter().map(|key| key.name.to_owned()).collect();
    keys.sort();
    if out.insert(record.what.to_owned(), keys).is_some() {
        return;
    }
    for key in &record.keys {
        of_forms(&key.form, out);
    }
}

fn of_forms(form: &Form, out: &mut BTreeMap<String, Vec<String>>) {
    match form {
        Form::Record(record) => records(&record(), out),
        Form::List(form, _) | Form::Named(form) | Form::OrNothing(form) => of_forms(form, out),
        Form::Tuple(forms) | Form::Any(forms) => forms.iter().for_each(|form| of_forms(form, out)),
        _ => {}
    }
}
