//! Four hard floors: a shop full of columns, cracks and spalls; a long corridor; a round room with radial joints; steps along joints
//! that cross. Every drawing of theirs is clean.

use std::f64::consts::TAU;

use super::floor::{Chance, Plan, composed, faults, packet, surveyed, written};

/// Doors in the walls of the corridor, on either side.
const DOORS: usize = 6;

/// A floor in feet.
fn plan(name: &str, slab: &str, blocks: Vec<(&'static str, Vec<String>)>) -> Plan {
    let head = format!(
        "slabwalk: 1\njob: {{name: {name}}}\nunits: us\nslab:\n  thickness: 6\"\n  post_tension: none\n{slab}"
    );
    Plan { head, blocks }
}

fn rectangle(w: f64, h: f64) -> String {
    format!("  outline: [[0, 0], [{w}', 0], [{w}', {h}'], [0, {h}']]\n")
}

/// Joints at every so many feet both ways.
fn grid(w: f64, h: f64, every: f64) -> Vec<String> {
    let mut out = Vec::new();
    for (axis, length) in [("x", w), ("y", h)] {
        let mut at = every;
        while at < length - 1.0 {
            let n = out.len() + 1;
            let record = format!("kind: control, {axis}: {at}', width: 1/4, depth: 1");
            out.push(format!("  - {{id: J{n}, {record}}}\n"));
            at += every;
        }
    }
    out
}

/// Cracks of a few feet that stay on a rectangle.
fn cracks(chance: &mut Chance, (w, h): (f64, f64), count: usize) -> Vec<String> {
    let crack = |n: usize| {
        let (x, y) = (chance.between(1.0, w - 1.0), chance.between(1.0, h - 1.0));
        let to = (
            (x + chance.between(-6.0, 6.0)).clamp(0.4, w - 0.4),
            (y + chance.between(-4.0, 4.0)).clamp(0.4, h - 0.4),
        );
        let width = ["1/64", "1/16", "1/8", "3/16"][n % 4];
        let path = format!("[[{x:.2}', {y:.2}'], [{:.2}', {:.2}']]", to.0, to.1);
        format!("  - {{id: C{n}, path: {path}, width: {width}}}\n")
    };
    (1..=count).map(crack).collect()
}

/// Spalls of one to eight inches.
fn spalls(chance: &mut Chance, (w, h): (f64, f64), count: usize) -> Vec<String> {
    let spall = |n: usize| {
        let (x, y) = (chance.between(1.0, w - 1.0), chance.between(1.0, h - 1.0));
        let across = chance.between(1.0, 8.0);
        let depth = ["1/8", "1/2", "1"][n % 3];
        format!(
            "  - {{id: S{n}, circle: {{center: [{x:.2}', {y:.2}'], diameter: {across:.1}\"}}, depth: {depth}}}\n"
        )
    };
    (1..=count).map(spall).collect()
}

/// 40 × 60 ft, 24 columns on the crossings of its joints, 60 cracks, 80 spalls.
fn shop() -> Plan {
    let mut chance = Chance(41);
    let (w, h) = (60.0, 40.0);
    let columns = (0..24).map(|n| {
        let (x, y) = (f64::from(n % 6 + 1) * 60.0 / 7.0, f64::from(n / 6 + 1) * 8.0);
        let (x, y) = (x - 0.5, y - 0.5);
        format!(
            "    - {{id: K{}, what: column, box: {{corner: [{x:.3}', {y:.3}'], size: [1', 1']}}}}\n",
            n + 1
        )
    });
    let slab = format!("{}  keep_outs:\n{}", rectangle(w, h), columns.collect::<String>());
    let mut joints = Vec::new();
    for (axis, count, every) in [("x", 6, 60.0 / 7.0), ("y", 4, 8.0)] {
        for i in 1..=count {
            let n = joints.len() + 1;
            let at = f64::from(i) * every;
            let record = format!("kind: control, {axis}: {at:.3}', width: 1/4, depth: 1");
            joints.push(format!("  - {{id: J{n}, {record}}}\n"));
        }
    }
    let blocks = vec![
        ("joints", joints),
        ("cracks", cracks(&mut chance, (w, h), 60)),
        ("spalls", spalls(&mut chance, (w, h), 80)),
    ];
    plan("Shop", &slab, blocks)
}

/// 8 × 150 ft with doors on both sides.
fn corridor() -> Plan {
    let mut chance = Chance(43);
    let (w, h) = (150.0, 8.0);
    let doors = (0..2 * DOORS).map(|n| {
        let wall = if n < DOORS { 1 } else { 3 };
        let from = 6.0 + 24.0 * (n % DOORS) as f64;
        format!(
            "    - {{name: Door {}, wall: {wall}, from: {from}', to: {}'}}\n",
            n + 1,
            from + 3.0
        )
    });
    let slab = format!("{}  openings:\n{}", rectangle(w, h), doors.collect::<String>());
    let steps = (0..5).map(|n| {
        let (id, joint) = (n + 1, 2 * n + 2);
        format!("  - {{id: L{id}, along: J{joint}, high: left, step: 1/4, from: 1', to: 5'}}\n")
    });
    let blocks = vec![
        ("joints", grid(w, h, 12.0)),
        ("cracks", cracks(&mut chance, (w, h), 24)),
        ("spalls", spalls(&mut chance, (w, h), 24)),
        ("lippage", steps.collect()),
    ];
    plan("Corridor", &slab, blocks)
}

/// 44 ft across, with twelve joints from a ring about its middle to the wall.
fn round() -> Plan {
    let mut chance = Chance(47);
    let r = 22.0;
    let at = |share: f64, radius: f64| {
        let (sin, cos) = (share * TAU).sin_cos();
        format!("[{:.4}', {:.4}']", r + radius * cos, r + radius * sin)
    };
    let arcs = (1..=4).map(|i| {
        let share = f64::from(i) / 4.0;
        format!("{{to: {}, via: {}}}", at(share, r), at(share - 0.125, r))
    });
    let outline: Vec<String> = std::iter::once(at(0.0, r)).chain(arcs).collect();
    let slab = format!("  outline: [{}]\n", outline.join(", "));
    let joints = (0..12).map(|i| {
        let share = (f64::from(i) + 0.5) / 12.0;
        let path = format!("[{}, {}]", at(share, 3.0), at(share, r));
        format!("  - {{id: J{}, kind: control, path: {path}, width: 1/4, depth: 1}}\n", i + 1)
    });
    let mut cracks = Vec::new();
    let mut spalls = Vec::new();
    for n in 1..=18 {
        let (share, far) = (chance.unit(), chance.between(4.0, 19.0));
        let to = (share + chance.between(-0.06, 0.06), far + chance.between(-3.0, 2.0));
        let path = format!("[{}, {}]", at(share, far), at(to.0, to.1));
        cracks.push(format!("  - {{id: C{n}, path: {path}, width: 1/16}}\n"));
        let (share, far) = (chance.unit(), chance.between(2.0, 20.0));
        spalls.push(format!(
            "  - {{id: S{n}, circle: {{center: {}, diameter: 4\"}}, depth: 1/2}}\n",
            at(share, far)
        ));
    }
    let blocks = vec![("joints", joints.collect()), ("cracks", cracks), ("spalls", spalls)];
    plan("Round room", &slab, blocks)
}

/// 40 × 40 ft, joints at every 8 ft, 30 steps of 18 in beside their crossings.
fn steps() -> Plan {
    let (w, h) = (40.0, 40.0);
    let mut records = Vec::new();
    for n in 0..30 {
        let (joint, crossing) = (n % 8 + 1, n / 8 + 1);
        let from = 8.0 * crossing as f64 + if n % 2 == 0 { 0.25 } else { -1.75 };
        let high = if n % 3 == 0 { "left" } else { "right" };
        let step = ["1/8", "3/16", "1/4", "3/8"][n % 4];
        records.push(format!(
            "  - {{id: L{}, along: J{joint}, high: {high}, step: {step}, from: {from}', to: {}'}}\n",
            n + 1,
            from + 1.5
        ));
    }
    let blocks = vec![("joints", grid(w, h, 8.0)), ("lippage", records)];
    plan("Steps", &rectangle(w, h), blocks)
}

/// What is wrong with the drawings of a floor.
fn wrong(plan: &Plan) -> Vec<String> {
    let mut wrong = Vec::new();
    for sheets in packet(&surveyed(&plan.text())) {
        match sheets {
            Ok(sheets) => wrong.extend(faults(&written(&sheets))),
            Err(found) => wrong.push(found),
        }
    }
    wrong
}

#[test]
fn hard_floors_audit_clean() {
    let floors =
        [("shop", shop()), ("corridor", corridor()), ("round", round()), ("steps", steps())];
    let mut all = Vec::new();
    // Sizes give way to tags before a floor that is not crowded needs an enlarged plan.
    let survey = surveyed(&round().text());
    let sheets = composed(&survey, None, None);
    let large = |s: &slabwalk::ink::Sheet| s.name.contains("enlarged");
    assert!(!sheets.iter().any(large), "the round room has an enlarged plan");
    for (name, plan) in floors {
        all.extend(wrong(&plan).into_iter().map(|w| format!("{name}: {w}")));
    }
    assert!(all.is_empty(), "{} faults:\n{}", all.len(), all.join("\n"));
}

/// A corridor of 8 by 150 ft is 476 mm long at 1/8" = 1'-0": two strips of 75 ft on one sheet, where it would lie whole at half the
/// scale. No tag and no dimension is lost with the division.
#[test]
fn a_corridor_is_drawn_in_strips_on_one_sheet() {
    let joints: String = (1..10)
        .map(|i| format!("  - {{id: J{i}, kind: control, x: {}', width: 1/4, depth: 1}}\n", 15 * i))
        .collect();
    for (name, outline) in [
        ("level", "[[0, 0], [150', 0], [150', 8'], [0, 8']]"),
        ("upright", "[[0, 0], [8', 0], [8', 150'], [0, 150']]"),
    ] {
        let joints = match name {
            "level" => joints.clone(),
            _ => joints.replace("x:", "y:"),
        };
        let text = format!(
            "slabwalk: 1\njob: {{name: Corridor}}\nunits: us\nslab: {{outline: {outline}}}\njoints:\n{joints}"
        );
        let sheets = composed(&surveyed(&text), None, None);
        let files = written(&sheets);
        assert_eq!(faults(&files), [""; 0], "{name}");
        let maps = files.iter().filter(|(_, f)| f.contains("REPAIR MAP"));
        let maps: Vec<&String> = maps.map(|(_, f)| f).collect();
        assert_eq!(maps.len(), 1, "{name}");
        for said in [">STRIP 1<", ">STRIP 2<", "SEE STRIP 2", "SEE STRIP 1"] {
            assert!(maps[0].contains(said), "{name}: {said}");
        }
        // The joint that the match line lies on is taped from where all others are.
        assert!(maps[0].contains(">75'-0\"<"), "{name}");
        for i in 1..10 {
            assert_eq!(maps[0].matches(&format!("id=\"tag-J{i}\"")).count(), 1, "{name}: J{i}");
        }
    }
    // A room that is not long stays whole.
    let room = "slabwalk: 1\njob: {name: Room}\nunits: us\nslab: {outline: [[0, 0], [60', 0], [60', 40'], [0, 40']]}\n";
    let files = written(&composed(&surveyed(room), None, None));
    assert!(!files[0].1.contains("STRIP"));
}
