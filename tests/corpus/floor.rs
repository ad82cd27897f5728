//! A sketch whose every choice is a byte: whatever the bytes, it is YAML, and mostly a floor.

use super::checks::quoted;
use super::choices::{Bytes, outline, path, point, shape};

/// A floor by which shop books are tried.
pub const PLAIN: &str = "\
slabwalk: 1
job: {name: plain, surveyed: 2026-09-14}
slab: {thickness: 4\", post_tension: none, outline: [[0, 0], [24', 0], [24', 22'], [0, 22']]}
joints:
  - {id: J1, kind: control, x: 12', width: 1/4, depth: 1/2}
  - {id: J2, kind: isolation, y: 11', width: 1/2, depth: 4}
cracks: [{id: C1, path: [[3', 0], [4', 5'], [3', 9']], width: 1/8, movement: dormant}]
spalls: [{id: S1, box: {corner: [2', 12'], size: [8\", 5\"]}, depth: 3/4}]
lippage: [{id: L1, along: J1, high: left, readings: [[0, 1/16], [8', 1/4]]}]
coating: {system: flake, pour_from: N, start: 2026-09-21}
price: {travel: 40 mi, alternates: [{name: other, system: quartz}]}
used: {packages: {joint filler: 9}, hours: {saw joints: 2.5}}
";

/// Some of these keys, each with its value.
fn keys(b: &mut Bytes, of: &[(&str, &[&str])]) -> String {
    let mut out = String::new();
    for (key, values) in of {
        if b.byte() % 3 == 1 {
            let value = if values.is_empty() { b.small() } else { (*b.pick(values)).to_owned() };
            out += &format!(", {key}: {value}");
        }
    }
    out
}

fn joint(b: &mut Bytes) -> String {
    let kind = *b.pick(&["control", "construction", "isolation"]);
    let course = match b.byte() % 6 {
        0 => format!("path: {}", path(b, 2, point)),
        1 => format!("x: {}, {}", b.place(), b.stretch()),
        2 | 3 => format!("y: {}", b.place()),
        _ => format!("x: {}", b.place()),
    };
    let rest = keys(
        b,
        &[
            ("formed", &["sawn", "tooled", "strip", "board", "keyed", "unknown"]),
            ("width", &[]),
            ("depth", &[]),
            ("strip_depth", &[]),
            ("wander", &[]),
            ("buried", &["true", "false"]),
            ("treatment", &["fill", "honor", "leave"]),
            ("chase", &["{width: 3/8}", "{depth: 2}", "{width: 1, depth: 1/8}"]),
        ],
    );
    format!("{{kind: {kind}, {course}{rest}, note: {}}}", b.name())
}

fn crack(b: &mut Bytes) -> String {
    let course = path(b, 2, point);
    let width = if b.once_in(4) {
        format!("widths: [[0, {}], [{}, {}]]", b.small(), b.place(), b.small())
    } else {
        format!("width: {}", b.small())
    };
    let rest = keys(
        b,
        &[
            ("step", &[]),
            ("movement", &["dormant", "active", "unknown"]),
            ("treatment", &["prime", "fill", "chase", "honor", "leave"]),
        ],
    );
    format!("{{path: {course}, {width}{rest}}}")
}

fn spall(b: &mut Bytes) -> String {
    format!("{{{}, depth: {}, note: {}}}", shape(b), b.small(), b.name())
}

fn delamination(b: &mut Bytes) -> String {
    let treatment = *b.pick(&["cut-out", "inject", "leave"]);
    format!("{{{}, treatment: {treatment}, depth: {}}}", shape(b), b.small())
}

fn blemish(b: &mut Bytes) -> String {
    let what = *b.pick(&[
        "oil",
        "sealer",
        "paint",
        "adhesive",
        "scaling",
        "efflorescence",
        "curing-compound",
    ]);
    format!("{{what: {what}, {}}}", shape(b))
}

fn lippage(b: &mut Bytes) -> String {
    let along = if b.once_in(3) || !b.has_joints() { path(b, 2, point) } else { b.joint() };
    let high = *b.pick(&["left", "right", "N", "E", "S", "W"]);
    let readings = if b.once_in(3) {
        format!("step: {}, {}", b.small(), b.stretch())
    } else {
        let rows: Vec<String> = (0..1 + b.below(5))
            .map(|i| {
                if b.once_in(5) {
                    format!("[{}', null]", i * 2)
                } else {
                    format!("[{}', {}]", i * 2, b.small())
                }
            })
            .collect();
        format!("readings: [{}]", rows.join(", "))
    };
    format!("{{along: {along}, high: {high}, {readings}}}")
}

fn level(b: &mut Bytes) -> String {
    match b.byte() % 4 {
        0 => {
            let heights: Vec<String> = (0..2 + b.below(30)).map(|_| b.small()).collect();
            format!("{{from: {}, to: {}, heights: [{}]}}", point(b), point(b), heights.join(", "))
        }
        1 => format!("{{at: {}, height: {}}}", point(b), b.small()),
        _ => format!("[{}, {}, {}]", b.place(), b.place(), b.small()),
    }
}

fn keep_out(b: &mut Bytes) -> String {
    format!("{{what: {}, flush: {}, {}}}", b.name(), b.pick(&["true", "false"]), shape(b))
}

fn tier(b: &mut Bytes) -> String {
    let height = *b.pick(&["7\"", "-3\"", "150 mm", "24\"", "1/4\""]);
    let riser = *b.pick(&["", ", riser: leave", ", cove: 1\""]);
    format!("{{what: {}, height: {height}{riser}, {}}}", b.name(), shape(b))
}

fn uncoated(b: &mut Bytes) -> String {
    format!("{{what: {}, {}}}", b.name(), shape(b))
}

fn face(b: &mut Bytes) -> String {
    format!(
        "{{name: {}, path: {}, height: {}, cove: {}}}",
        b.name(),
        path(b, 2, point),
        b.small(),
        b.pick(&["false", "true", "1\"", "2 1/2"])
    )
}

fn opening(b: &mut Bytes) -> String {
    format!("{{name: {}, wall: {}, {}}}", b.name(), b.corner(), b.stretch())
}

fn check(b: &mut Bytes) -> String {
    let (from, to) = b.corners();
    format!("{{from: {from}, to: {to}, measured: {}}}", b.place())
}

fn moisture(b: &mut Bytes) -> String {
    let value = if b.once_in(3) {
        format!("mver: {}.5", b.byte() % 24)
    } else {
        format!("rh: {}%", b.byte() % 101)
    };
    format!("{{at: {}, {value}}}", point(b))
}

fn hardness(b: &mut Bytes) -> String {
    format!("{{at: {}, mohs: {}}}", point(b), 1 + b.byte() % 10)
}

fn forecast(b: &mut Bytes) -> String {
    format!(
        "{{day: 2026-09-{:02}, air: {} F, humidity: {}%, slab: {} F}}",
        1 + b.byte() % 30,
        b.byte(),
        b.byte() % 101,
        b.byte()
    )
}

fn alternate(b: &mut Bytes) -> String {
    let what = b.pick(&[
        "system: quartz",
        "system: two-coat",
        "treatments: {isolation: fill}",
        "treatments: {control: leave}",
        "area: 120 ft2",
    ]);
    format!("{{name: {}, {what}}}", quoted(what))
}

/// A list under its key, of up to `most` records; nothing for none.
fn list(b: &mut Bytes, key: &str, most: u8, record: fn(&mut Bytes) -> String) -> String {
    let count = b.below(most + 1);
    let records: Vec<String> = (0..count).map(|_| format!("  - {}\n", record(b))).collect();
    if records.is_empty() { String::new() } else { format!("{key}:\n{}", records.concat()) }
}

/// The same, one level in.
fn inner(b: &mut Bytes, key: &str, most: u8, record: fn(&mut Bytes) -> String) -> String {
    let list = list(b, key, most, record);
    list.lines().map(|line| format!("  {line}\n")).collect()
}

/// The sketch that these bytes stand for.
pub fn sketch(data: &[u8]) -> String {
    let b = &mut Bytes { left: data.iter(), wild: false, side: 8, joints: 0, corners: 4 };
    b.wild = b.once_in(8);
    b.joints = b.below(6);
    let mut out = String::from("slabwalk: 1\njob:\n  name: fuzz\n  surveyed: 2026-09-14\n");
    if b.once_in(4) {
        out += &format!("  client: {}\n  site: {}\n  accessible_route: true\n", b.name(), b.name());
    }
    out += &format!("units: {}\n", b.pick(&["us", "metric"]));
    out += &format!(
        "slab:\n  outline: {}\n  post_tension: {}\n",
        outline(b),
        b.pick(&["none", "none", "stamped", "unknown"])
    );
    if b.once_in(3) {
        out += &format!(
            "  thickness: {}\n  embedded: [{{what: tube, cover: {}}}]\n",
            b.small(),
            b.small()
        );
    }
    out += &inner(b, "openings", 2, opening);
    out += &inner(b, "checks", 2, check);
    out += &inner(b, "keep_outs", 3, keep_out);
    let of_slab = out.len();
    let joints: Vec<String> = (0..b.joints).map(|_| format!("  - {}\n", joint(b))).collect();
    if !joints.is_empty() {
        out += &format!("joints:\n{}", joints.concat());
    }
    out += &list(b, "cracks", 4, crack);
    out += &list(b, "spalls", 4, spall);
    out += &list(b, "lippage", 2, lippage);
    out += &list(b, "blemishes", 2, blemish);
    out += &coating(b);
    if b.once_in(3) {
        out += &tests(b);
        out += &list(b, "levels", 3, level);
    }
    if b.once_in(3) {
        out +=
            &format!("price:\n  travel: {} mi\n  tax: {}\n", b.byte(), b.pick(&["true", "false"]));
        out += &inner(b, "alternates", 2, alternate);
        out += &format!(
            "used: {{packages: {{joint filler: {}}}, hours: {{saw joints: {}}}, moisture: 70%}}\n",
            b.byte(),
            b.byte()
        );
    }
    // Chosen last, so that the bytes of the corpus go on standing for what they were kept for.
    out += &list(b, "delaminations", 3, delamination);
    let tiers = inner(b, "tiers", 3, tier);
    if !tiers.is_empty() && b.once_in(2) {
        out = out.replace("{kind: control, ", "{kind: control, ends_at: V*, ");
    }
    out.insert_str(of_slab, &tiers);
    out
}

fn coating(b: &mut Bytes) -> String {
    let mut out = format!(
        "coating:\n  system: {}\n",
        b.pick(&["flake", "quartz", "two-coat", "partial-flake", "none such"])
    );
    if b.once_in(3) {
        out += "  mitigation: true\n";
    }
    if b.once_in(2) {
        out += &format!("  pour_from: {}\n", b.pick(&["N", "E", "S", "W", "1", "2", "wall 3"]));
    }
    if b.once_in(2) {
        out += &format!(
            "  start: 2026-09-{:02}\n  site: {}\n",
            1 + b.byte() % 30,
            b.pick(&["indoors", "outdoors"])
        );
    }
    out += &inner(b, "uncoated", 2, uncoated);
    out += &inner(b, "faces", 2, face);
    out
}

fn tests(b: &mut Bytes) -> String {
    let mut out = format!(
        "tests:\n  slab_temperature: {} F\n  air: {{temperature: {} F, humidity: {}%}}\n",
        b.byte(),
        b.byte(),
        b.byte() % 101
    );
    out += &inner(b, "moisture", 3, moisture);
    out += &inner(b, "hardness", 2, hardness);
    out += &inner(b, "forecast", 3, forecast);
    out
}
