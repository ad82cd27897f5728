//! A sketch and a shop book with a text in every field that takes one, and the schema that says which those are.

use std::collections::BTreeSet;

use serde_json::{Map, Value, json};

/// What a field is given, by its name: a text that is harmless, or one that is not.
pub type Word<'a> = &'a dyn Fn(&str) -> String;

/// The sketch.
pub fn sketch(word: Word) -> Value {
    let mut whole = head(word);
    let rest = items(word);
    if let (Value::Object(whole), Value::Object(rest)) = (&mut whole, rest) {
        whole.extend(rest);
    }
    whole
}

fn head(w: Word) -> Value {
    json!({
        "slabwalk": 1,
        "shop": "shop.yaml",
        "job": {
            "name": w("job name"), "client": w("client"), "site": w("site"), "surveyed": "2026-09-14",
            "surveyor": w("surveyor"), "number": w("number"), "revision": w("revision"), "notes": w("notes"),
        },
        "slab": {
            "thickness": "6\"",
            "embedded": [{"what": w("embedded"), "cover": "1\""}],
            "outline": [["0", "0"], ["24'", "0"], ["24'", "22'"], ["0", "22'"]],
            "openings": [{"name": w("opening"), "wall": 1, "from": "4'", "to": "8'"}],
            "keep_outs": [
                {"id": "K1", "what": w("keep-out"), "note": w("note of K1"), "box": {"corner": ["18'", "12'"], "size": ["6\"", "6\""]}},
            ],
            "tiers": [
                {"id": "V1", "what": w("tier"), "note": w("note of V1"), "height": "6\"", "box": {"corner": ["18'", "16'"], "size": ["6'", "6'"]}},
            ],
        },
        "tests": {
            "moisture": [{"id": "M1", "at": ["6'", "6'"], "rh": "80%"}],
            "hardness": [{"at": ["6'", "6'"], "mohs": 5}],
        },
        "coating": {
            "system": w("system"),
            "color": w("color"),
            "blend": w("blend"),
            "flake_size": w("flake size"),
            "uncoated": [{"id": "U1", "what": w("uncoated"), "box": {"corner": ["4'", "0"], "size": ["4'", "5\""]}}],
            "faces": [{"name": w("face"), "path": [["0", "22'"], ["8'", "22'"]], "height": "6\""}],
            "start": "2026-09-21",
        },
    })
}

fn items(w: Word) -> Value {
    json!({
        "joints": [
            {"id": "J1", "kind": "control", "x": "12'", "width": "1/4", "depth": "1/2", "note": w("note of J1")},
            {"id": "J2", "kind": "isolation", "y": "11'", "width": "1/2", "depth": "4", "note": w("note of J2")},
        ],
        "cracks": [{"id": "C1", "path": [["3'", "0"], ["4'", "5'"]], "width": "1/8", "movement": "active", "note": w("note of C1")}],
        "spalls": [{"id": "S1", "box": {"corner": ["2'", "14'"], "size": ["8\"", "5\""]}, "depth": "3/4", "note": w("note of S1")}],
        "delaminations": [{"id": "D1", "box": {"corner": ["5'", "14'"], "size": ["8\"", "5\""]}, "depth": "3/4", "note": w("note of D1")}],
        "blemishes": [{"id": "B1", "what": "oil", "box": {"corner": ["15'", "4'"], "size": ["3'", "4'"]}, "note": w("note of B1")}],
        "lippage": [{"id": "L1", "along": "J1", "high": "left", "readings": [["0", "1/16"], ["8'", "1/4"]], "note": w("note of L1")}],
        "photos": [
            {"item": "C1", "file": "a.jpg", "note": w("note of a photo"), "proposal": true},
            {"item": "J1", "file": w("photo"), "note": w("note of a lost photo"), "proposal": true},
        ],
        "price": {
            "alternates": [
                {"name": w("alternate"), "system": w("other system")},
                {"name": w("alternate area"), "area": "100 ft2"},
            ],
        },
        "used": {
            "packages": packages(w), "hours": {"saw joints": 2.5}, "photos": [w("photo of use")], "note": w("note of use"),
        },
    })
}

fn packages(w: Word) -> Value {
    json!({"joint filler": 9, w("system"): {w("layer"): 2}})
}

/// The shop book.
pub fn shop(w: Word) -> Value {
    let layers = |liquid: &str, thrown: &str| {
        json!({"layers": [
            {"name": w(liquid), "chosen": ["color"], "coverage": "160 ft2/gal", "loss": "5%", "kit": "3 gal"},
            {"name": w(thrown), "chosen": ["blend"], "rate": "0.1 lb/ft2", "package": "25 lb", "into": w(liquid)},
        ]})
    };
    let goods = json!({w("layer"): 100, w("goods"): 20});
    let below = json!({w("mitigation"): 100, w("sand"): 20});
    let words: Map<String, Value> =
        phrases().iter().map(|key| (key.clone(), json!(w(key)))).collect();
    let mut proposal = Value::Object(words);
    proposal["layers"] =
        json!({w("layer"): w("words of a layer"), w("goods"): w("words of goods")});
    json!({
        "slabwalk_shop": 1,
        "tooling": [{"mohs_below": 11, "use": w("tooling")}],
        "moisture": {"mitigation": layers("mitigation", "sand")},
        "systems": {w("system"): layers("layer", "goods"), w("other system"): layers("layer", "goods")},
        "prices": {
            "goods": {w("system"): goods, w("other system"): goods, "moisture mitigation": below},
            "equipment": {w("machine"): {"day": 40, "tasks": ["saw joints"]}},
        },
        "proposal": proposal,
    })
}

/// The keys of the proposal that hold a text.
fn phrases() -> Vec<String> {
    let schema = schema("shop");
    let keys = schema["$defs"]["proposal"]["properties"].as_object().expect("keys");
    keys.iter().filter(|(_, key)| is_text(key)).map(|(name, _)| name.clone()).collect()
}

/// A schema of the program.
pub fn schema(of: &str) -> Value {
    let path = format!("{}/docs/schema/{of}.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).expect("a schema");
    serde_json::from_str(&text).expect("JSON")
}

/// Whether a key takes any text: no pattern, no list of words.
fn is_text(node: &Value) -> bool {
    let types = &node["type"];
    let string =
        types == "string" || types.as_array().is_some_and(|t| t.contains(&json!("string")));
    string && node.get("pattern").is_none() && node.get("enum").is_none()
}

/// The texts of a whole schema, each by its place.
pub fn all_texts(node: &Value, at: &str, found: &mut BTreeSet<String>) {
    if is_text(node) {
        found.insert(at.to_owned());
    }
    let inside: Vec<(String, &Value)> = match node {
        Value::Object(keys) => {
            keys.iter().map(|(key, value)| (format!("{at}/{key}"), value)).collect()
        }
        Value::Array(items) => {
            items.iter().enumerate().map(|(i, value)| (format!("{at}/{i}"), value)).collect()
        }
        _ => Vec::new(),
    };
    inside.into_iter().for_each(|(at, value)| all_texts(value, &at, found));
}

/// The texts of a schema that a value uses.
pub fn used_texts(
    root: &Value,
    node: &Value,
    at: &str,
    value: &Value,
    found: &mut BTreeSet<String>,
) {
    if let Some(reference) = node["$ref"].as_str() {
        let pointer = reference.trim_start_matches('#');
        let target = root.pointer(pointer).expect("a definition");
        return used_texts(root, target, pointer, value, found);
    }
    if is_text(node) && !value.is_null() {
        found.insert(at.to_owned());
    }
    for (i, one) in node["anyOf"].as_array().into_iter().flatten().enumerate() {
        used_texts(root, one, &format!("{at}/anyOf/{i}"), value, found);
    }
    for (key, inner) in value.as_object().into_iter().flatten() {
        let known = format!("{at}/properties/{key}");
        match (node["properties"].get(key), node.get("additionalProperties")) {
            (Some(next), _) => used_texts(root, next, &known, inner, found),
            (None, Some(next)) => {
                used_texts(root, next, &format!("{at}/additionalProperties"), inner, found)
            }
            (None, None) => {}
        }
    }
    for inner in value.as_array().into_iter().flatten() {
        used_texts(root, &node["items"], &format!("{at}/items"), inner, found);
    }
}
