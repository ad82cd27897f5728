//! What is done: quantities from the takeoff, joints and cracks in plain words, the coating layer by layer.

use super::Inputs;
use super::voice::Voice;
use crate::customer;
use crate::customer::{Fate, Row};
use crate::document::{Block, Column, Entry, Figure, Picturing, Row as Line, Table, Text};
use crate::floor::Survey;
use crate::hold::Code;
use crate::order::chosen;
use crate::quantity::{Units, write};
use crate::schedule::date;
use crate::shop::{Amount, Layer};
use crate::sketch::{CrackTreatment, JointTreatment};
use crate::takeoff::{CrackPortion, Patch, SpallRepair};
use crate::text::clean;
use crate::work::Kind;

/// The work with its quantities, the drawing with the photographs, and for every letter on it what is done.
pub(super) fn work(voice: &mut Voice, photos: Option<Block>) -> Vec<Block> {
    let mut out = vec![heading(2, "What is done")];
    let said: Vec<String> =
        ["preparation", "tags"].into_iter().filter_map(|key| voice.say(key)).collect();
    if !said.is_empty() {
        out.push(Block::Paragraph(said.join(" ").into()));
    }
    let table = Block::Table(quantities(voice.inputs.floor));
    match drawing(voice.inputs) {
        Some(figure) => {
            out.push(Block::Plan(figure, std::iter::once(table).chain(photos).collect()))
        }
        None => out.extend(std::iter::once(table).chain(photos)),
    }
    out.push(Block::Key(key(voice)));
    out
}

/// The drawing for the customer.
fn drawing(inputs: &Inputs) -> Option<Figure> {
    let sheet = inputs.told.sheet.as_ref()?;
    let job = &inputs.floor.sketch.job;
    let surveyed = job.surveyed.as_ref();
    let day = surveyed.map(|d| format!("surveyed {}", date::words(&d.value)));
    let revision = job.revision.as_deref().map(|r| format!("revision {}", clean(r)));
    let parts = [Some("Drawing of the floor".to_owned()), revision, day];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    Some(Figure {
        words: "Drawing of the floor: what is mended, what is carried through, and what may still show."
            .into(),
        caption: Text::from(format!("{}. It belongs to this proposal.", parts.join(", "))),
        width: sheet.width,
        shows: Picturing::Drawing(Box::new(sheet.clone())),
        float: true,
    })
}

/// The key as text, each line with the shop's words for what is done; with the drawing's own where the shop has none.
fn key(voice: &mut Voice) -> Vec<Entry> {
    let inputs = voice.inputs;
    let rows = inputs.told.of.rows.iter();
    rows.map(|row| {
        let said: Vec<String> =
            texts(voice, row).into_iter().filter_map(|key| voice.say(key)).collect();
        match (row.fate(), said.is_empty()) {
            (None, _) => row.short(),
            (_, true) => row.long(true),
            (_, false) => row.entry(&said.join(" ")),
        }
    })
    .collect()
}

/// Which texts of the shop book speak of a line of the key.
fn texts(voice: &Voice, row: &Row) -> Vec<&'static str> {
    let floor = voice.inputs.floor;
    let here = |id: &String| row.count(std::slice::from_ref(id)) > 0;
    let held = |code: Code| {
        let holds = floor.holds.iter().filter(|hold| hold.code == code);
        holds.flat_map(|hold| &hold.items).filter(|id| here(id)).count()
    };
    let cracks = || {
        let works = floor.takeoff.cracks.iter().filter(|crack| here(&crack.id));
        let portions: Vec<CrackTreatment> = works
            .flat_map(|crack| &crack.portions)
            .filter(|p| p.length_m > 0.0)
            .map(CrackPortion::treatment)
            .collect();
        let ways = [
            (CrackTreatment::Prime, "crack_prime"),
            (CrackTreatment::Fill, "crack_fill"),
            (CrackTreatment::Chase, "crack_chase"),
        ];
        let used = ways.into_iter().filter(|(way, _)| portions.contains(way));
        used.map(|(_, key)| key).collect::<Vec<_>>()
    };
    match row.fate() {
        Some(Fate::JointFilled) => vec!["joint_fill"],
        Some(Fate::JointFilledMoving) => vec!["joint_fill_moving"],
        Some(Fate::JointSealed) => vec!["joint_honor"],
        Some(Fate::JointHidden) => vec!["joint_buried"],
        Some(Fate::JointLeft) => vec!["joint_leave"],
        Some(Fate::CrackRepaired | Fate::CrackPrimed) => cracks(),
        Some(Fate::CrackMayReturn) => [cracks(), vec!["crack_may_return"]].concat(),
        Some(Fate::CrackReturns) => [cracks(), vec!["crack_returns"]].concat(),
        Some(Fate::CrackSealed) => vec!["crack_honor"],
        Some(Fate::CrackLeft) => vec!["crack_leave"],
        Some(Fate::Spot) => {
            let loose = |id: &&str| floor.takeoff.delaminations.iter().any(|d| d.id == **id);
            let mended =
                floor.takeoff.patches.iter().filter(|p| p.ids().any(|id| here(&id.into())));
            let all: Vec<&str> = mended.flat_map(Patch::ids).collect();
            let hollow = all.iter().filter(|id| loose(id)).count();
            let some =
                [(hollow < all.len() || all.is_empty(), "spall"), (hollow > 0, "delamination")];
            some.into_iter().filter(|(said, _)| *said).map(|(_, key)| key).collect()
        }
        Some(Fate::Hollow) => vec!["delamination_inject"],
        Some(Fate::HollowLeft) => vec!["delamination_leave"],
        Some(Fate::HighEdge) => {
            let high = held(Code::StepHigh);
            let some = [(high < row.ids.len(), "step"), (high > 0, "step_high")];
            some.into_iter().filter(|(said, _)| *said).map(|(_, key)| key).collect()
        }
        Some(Fate::Surface) => {
            let (untested, hazard) = (held(Code::TestBeforeGrinding), held(Code::Abatement));
            let some = [
                (untested + hazard < row.ids.len(), "blemish"),
                (untested > 0, "blemish_untested"),
                (hazard > 0, "blemish_hazard"),
            ];
            some.into_iter().filter(|(said, _)| *said).map(|(_, key)| key).collect()
        }
        Some(Fate::SmallStep | Fate::LowSpot | Fate::Uncoated) | None => Vec::new(),
    }
}

pub(super) fn heading(level: u8, text: &str) -> Block {
    Block::Heading { level, text: text.into() }
}

/// Feet or meters of the portions of cracks with a treatment, m.
pub(super) fn crack_m(floor: &Survey, treatment: CrackTreatment) -> f64 {
    let portions = floor.takeoff.cracks.iter().flat_map(|c| &c.portions);
    let of_it = portions.filter(|p| p.treatment() == treatment);
    of_it.map(|p| p.length_m).sum()
}

/// Feet or meters of joints with a treatment, m.
fn joint_m(floor: &Survey, treatment: JointTreatment) -> f64 {
    let joints = floor.takeoff.joints.iter();
    joints.filter(|j| j.treatment() == treatment).map(|j| j.length_m).sum()
}

fn quantities(floor: &Survey) -> Table {
    let (units, t) = (floor.slab.units, &floor.takeoff);
    let run = |m: f64| (m > 0.0).then(|| customer::length(m, units));
    let area = |m2: f64| (m2 > 0.0).then(|| customer::area(m2, units));
    let skims = t
        .spalls
        .iter()
        .filter(|s| !matches!(s.repair, SpallRepair::Patch { .. } | SpallRepair::Leave));
    let spots = t.patches.len() + skims.count();
    // What holds lead or asbestos is somebody else's work.
    let surface = floor.slab.blemishes.iter().filter(|b| !b.is_hazardous());
    let surface = surface.map(|b| b.area_m2).sum();
    let rows: [(&str, &[Kind], Option<String>); 15] = [
        ("Floor ground and coated", &[Kind::GrindFloor, Kind::Coat], area(t.area.net_m2)),
        ("of it, by hand along the edges", &[Kind::GrindEdges], area(t.area.hand_edge_m2)),
        ("Upright faces coated", &[Kind::PrepareFaces, Kind::Coat], area(t.area.faces_m2)),
        ("Coves formed at the foot of upright faces", &[Kind::FormCoves], run(t.totals.cove_m)),
        (
            "Joints cut open, filled and coated over",
            &[Kind::SawJoints, Kind::DetailJoints, Kind::FillJoints],
            run(joint_m(floor, JointTreatment::Fill)),
        ),
        (
            "Joints carried through the coating",
            &[Kind::RodAndSealant],
            run(joint_m(floor, JointTreatment::Honor)),
        ),
        ("Buried joints opened first", &[Kind::OpenBuried], run(t.totals.buried_m)),
        ("Cracks sealed by the primer", &[Kind::Coat], run(crack_m(floor, CrackTreatment::Prime))),
        (
            "Cracks filled with thin resin",
            &[Kind::FillCracks],
            run(crack_m(floor, CrackTreatment::Fill)),
        ),
        (
            "Cracks cut open and filled",
            &[Kind::ChaseCracks],
            run(crack_m(floor, CrackTreatment::Chase)),
        ),
        (
            "Cracks carried through the coating",
            &[Kind::RodAndSealant],
            run(crack_m(floor, CrackTreatment::Honor)),
        ),
        ("Spots patched or skimmed", &[Kind::Patch], (spots > 0).then(|| spots.to_string())),
        ("Hollow concrete filled with resin", &[Kind::Inject], area(t.totals.inject_m2)),
        ("Steps ground down by hand", &[Kind::GrindSteps], run(t.totals.hand_grind_m)),
        ("Oil, old coating and the like taken off", &[Kind::RemoveCoating], area(surface)),
    ];
    let held = |kinds: &[Kind]| {
        let mut waiting = floor.holds.iter().flat_map(|hold| &hold.works);
        waiting.any(|work| kinds.contains(work))
    };
    Table {
        caption: "Work and quantities, as surveyed".into(),
        columns: vec![Column::left("Work"), Column::right("Quantity")],
        rows: rows
            .into_iter()
            .filter_map(|(what, kinds, amount)| Some((what, kinds, amount?)))
            .map(|(what, kinds, amount)| Line {
                cells: vec![
                    match held(kinds) {
                        true => format!("{what} (on hold)"),
                        false => what.into(),
                    },
                    amount,
                ],
                total: false,
            })
            .collect(),
        whole: false,
    }
}

/// The system from the slab up.
pub(super) fn coating(voice: &mut Voice) -> Vec<Block> {
    let floor = voice.inputs.floor;
    let named = floor.sketch.coating.system.as_ref();
    let Some((name, system)) =
        named.and_then(|n| Some((clean(&n.value), floor.shop.systems.get(&n.value)?)))
    else {
        return Vec::new();
    };
    let units = floor.slab.units;
    let items = system
        .layers
        .iter()
        .map(|layer| {
            let words = voice.layer(&layer.name);
            let words = match words.split_once(':') {
                Some((lead, rest)) => Text::strong(format!("{lead}:")).then(rest.trim()),
                None => Text::from(words),
            };
            let words = match chosen(layer, &floor.sketch.coating).with_lines() {
                Some(chosen) => words.then(format!("Chosen: {}.", clean(&chosen))),
                None => words,
            };
            match amount(layer, units) {
                Some(amount) => words.then(amount),
                None => words,
            }
        })
        .collect();
    vec![
        heading(2, "The coating, from the slab up"),
        Block::Paragraph(format!("System {name}, on {}.", coated(floor)).into()),
        Block::List { ordered: true, items },
    ]
}

/// What is coated, and why it is more than the floor: `561 ft², with the 6 in curb`.
fn coated(floor: &Survey) -> String {
    let units = floor.slab.units;
    let all = customer::area(floor.takeoff.area.coated_m2, units);
    if floor.takeoff.area.faces_m2 <= 0.0 {
        return all;
    }
    let mut faces: Vec<String> = Vec::new();
    for face in &floor.slab.faces {
        let name = face.name.as_deref().map(clean).filter(|name| !name.is_empty());
        let name = name.unwrap_or_else(|| "upright face".to_owned());
        let said = format!("the {} {name}", write::small(face.height_m, units));
        if !faces.contains(&said) {
            faces.push(said);
        }
    }
    match faces.len() {
        1..=3 => format!("{all}, with {}", faces.join(", ")),
        n => format!("{all}, with {n} upright faces"),
    }
}

/// How much goes on the floor, as the shop book has it: a film by its thickness, the rest as it is.
fn amount(layer: &Layer, units: Units) -> Option<String> {
    /// Meters in a thousandth of an inch, the trade's unit of films.
    const M_PER_MIL: f64 = 25.4e-6;
    match &layer.amount {
        Amount::Film { dft, .. } => Some(match units {
            Units::Us => format!("Dry film {} mil.", write::trimmed(dft.m() / M_PER_MIL, 1)),
            Units::Metric => format!("Dry film {} mm.", write::trimmed(dft.m() * 1000.0, 2)),
        }),
        Amount::Coverage { .. } | Amount::Broadcast { .. } => None,
    }
}
