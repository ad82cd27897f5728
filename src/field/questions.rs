//! The questions of the field sheet: what decides whether work may start, and what is wanted.

use crate::quantity::Units;

use super::block::{Block, Body, Question};

fn ask(ask: &'static str, choices: &[&'static str], write: &[&'static str]) -> Question {
    Question { ask, choices: choices.to_vec(), write: write.to_vec() }
}

/// What decides whether work may start, before anything is measured.
pub fn before_cutting(units: Units) -> Block {
    let power: [&'static str; 2] = match units {
        Units::Us => ["120 V", "240 V"],
        Units::Metric => ["230 V", "400 V"],
    };
    let questions = vec![
        ask(
            "Post-tension: stamp, plugs at the edge, plans?",
            &["none", "stamped", "unknown"],
            &["seen by"],
        ),
        ask("Heating, conduit or pipe in the slab?", &["none", "unknown"], &["what", "cover"]),
        ask("Joints buried under concrete or topping?", &["none", "unknown"], &["where"]),
        ask("Old coating, paint, tile, adhesive?", &["none"], &["what", "age"]),
        ask(
            "Asbestos and lead tested before grinding?",
            &["asbestos", "lead", "not yet"],
            &["result"],
        ),
        ask("Pilot light or flame near by?", &["none"], &["what", "put out by"]),
        ask("Slab", &["vapor barrier"], &["thickness", "placed in"]),
        ask("Power", &power, &["amps", "distance"]),
        ask("Water", &["hose", "drain"], &["distance"]),
        ask("Access", &["steps", "trailer"], &["door", "hours"]),
        ask("Route that must stay accessible (ADA)?", &["yes", "no"], &["where"]),
    ];
    Block {
        id: "before-cutting",
        title: "ASK AND LOOK BEFORE ANYTHING IS CUT".into(),
        note: "Stamped or unknown post-tension means stop: a cut tendon can kill. No sawing and no drilling before the tendons \
               are located and a licensed engineer agrees."
            .into(),
        body: Body::Questions(questions),
    }
}

/// What is wanted on the floor, and from which side.
pub fn coating() -> Block {
    let questions = vec![
        ask("Coating wanted", &[], &["system", "color"]),
        ask("Pour side", &["N", "E", "S", "W"], &["or wall"]),
        ask("Faces: curbs, steps", &[], &["which", "length", "height"]),
        ask("When", &[], &["first day", "free until"]),
    ];
    Block {
        id: "coating",
        title: "COATING".into(),
        note: String::new(),
        body: Body::Questions(questions),
    }
}
