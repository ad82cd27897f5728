//! What is done: quantities from the takeoff, joints and cracks in plain words, the coating layer by layer.

use super::voice::Voice;
use super::{Inputs, date};
use crate::document::{Block, Column, Figure, Picturing, Row, Table, Text};
use crate::hold::Code;
use crate::order::chosen;
use crate::quantity::{Units, write};
use crate::shop::{Amount, Layer};
use crate::sketch::{JointKind, Movement, Treatment};
use crate::slab::Blemish;
use crate::survey::Survey;
use crate::takeoff::words::{blemish, clean};
use crate::takeoff::{JointWork, SpallRepair};
use crate::work::Kind;

/// The work with its quantities, and how joints and cracks are treated.
pub(super) fn work(voice: &mut Voice) -> Vec<Block> {
    let mut out = vec![heading(2, "What is done")];
    out.extend(voice.paragraph("preparation"));
    out.push(Block::Table(quantities(voice.inputs.floor)));
    out.extend(drawing(voice.inputs));
    out.extend(voice.paragraph("tags"));
    out.extend(joints(voice));
    out.extend(cracks(voice));
    out.extend(rest(voice));
    out
}

/// The drawing for the customer, beside the quantities.
fn drawing(inputs: &Inputs) -> Option<Block> {
    let sheet = inputs.drawing.as_ref()?;
    let job = &inputs.floor.sketch.job;
    let day = job.surveyed.as_ref().map_or(String::new(), |d| {
        format!(", surveyed {}", date::words(&d.value))
    });
    let revision = job
        .revision
        .as_deref()
        .map_or("first issue".to_owned(), |r| {
            format!("revision {}", clean(r))
        });
    Some(Block::Figure(Figure {
        words: "Drawing of the floor: what is mended, what is carried through, and what may still show."
            .into(),
        caption: Text::from(format!(
            "Drawing of the floor, {revision}{day}. It belongs to this proposal."
        )),
        width: sheet.width,
        shows: Picturing::Drawing(Box::new(sheet.clone())),
        float: true,
    }))
}

pub(super) fn heading(level: u8, text: &str) -> Block {
    Block::Heading {
        level,
        text: text.into(),
    }
}

/// Feet or meters of the portions of cracks with a treatment, m.
pub(super) fn crack_m(floor: &Survey, treatment: Treatment) -> f64 {
    let portions = floor.takeoff.cracks.iter().flat_map(|c| &c.portions);
    let of_it = portions.filter(|p| p.treatment == treatment);
    of_it.map(|p| p.length_m).sum()
}

/// Feet or meters of joints with a treatment, m.
fn joint_m(floor: &Survey, treatment: Treatment) -> f64 {
    let joints = floor.takeoff.joints.iter();
    joints
        .filter(|j| j.treatment == treatment)
        .map(|j| j.length_m)
        .sum()
}

fn quantities(floor: &Survey) -> Table {
    let (units, t) = (floor.slab.units, &floor.takeoff);
    let run = |m: f64| (m > 0.0).then(|| write::run(m, units));
    let area = |m2: f64| (m2 > 0.0).then(|| write::area(m2, units));
    let skims = t
        .spalls
        .iter()
        .filter(|s| !matches!(s.repair, SpallRepair::Patch(_) | SpallRepair::Leave));
    let spots = t.patches.len() + skims.count();
    // What holds lead or asbestos is somebody else's work.
    let surface = floor.slab.blemishes.iter().filter(|b| !b.is_hazardous());
    let surface = surface.map(|b| b.area_m2).sum();
    let rows: [(&str, &[Kind], Option<String>); 14] = [
        (
            "Floor ground and coated",
            &[Kind::GrindFloor, Kind::Coat],
            area(t.area.net_m2),
        ),
        (
            "of which ground by hand along edges",
            &[Kind::GrindEdges],
            area(t.area.hand_edge_m2),
        ),
        (
            "Upright faces coated",
            &[Kind::PrepareFaces, Kind::Coat],
            area(t.area.faces_m2),
        ),
        (
            "Coves formed at the foot of upright faces",
            &[Kind::FormCoves],
            run(t.totals.cove_m),
        ),
        (
            "Joints cut open, filled and coated over",
            &[Kind::SawJoints, Kind::DetailJoints, Kind::FillJoints],
            run(joint_m(floor, Treatment::Fill)),
        ),
        (
            "Joints carried through the coating",
            &[Kind::RodAndSealant],
            run(joint_m(floor, Treatment::Honor)),
        ),
        (
            "Buried joints opened first",
            &[Kind::OpenBuried],
            run(t.totals.buried_m),
        ),
        (
            "Cracks sealed by the primer",
            &[Kind::Coat],
            run(crack_m(floor, Treatment::Prime)),
        ),
        (
            "Cracks filled with thin resin",
            &[Kind::FillCracks],
            run(crack_m(floor, Treatment::Fill)),
        ),
        (
            "Cracks cut open and filled",
            &[Kind::ChaseCracks],
            run(crack_m(floor, Treatment::Chase)),
        ),
        (
            "Cracks carried through the coating",
            &[Kind::RodAndSealant],
            run(crack_m(floor, Treatment::Honor)),
        ),
        (
            "Spots patched or skimmed",
            &[Kind::Patch],
            (spots > 0).then(|| spots.to_string()),
        ),
        (
            "Steps ground down by hand",
            &[Kind::GrindSteps],
            run(t.totals.hand_grind_m),
        ),
        (
            "Surface with oil, old coating or the like",
            &[Kind::RemoveCoating],
            area(surface),
        ),
    ];
    let held = |kinds: &[Kind]| {
        let mut waiting = floor.holds.iter().flat_map(|hold| &hold.works);
        waiting.any(|work| kinds.contains(work))
    };
    Table {
        caption: "Work and quantities, by the survey".into(),
        columns: vec![Column::left("Work"), Column::right("Quantity")],
        rows: rows
            .into_iter()
            .filter_map(|(what, kinds, amount)| Some((what, kinds, amount?)))
            .map(|(what, kinds, amount)| Row {
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
        whole: true,
    }
}

/// Tags with their length behind: `J1 26.0 ft`.
fn tagged(found: impl Iterator<Item = (String, f64)>, units: Units) -> String {
    let each = found.filter(|(_, m)| *m > 0.0);
    let words: Vec<String> = each
        .map(|(id, m)| {
            format!(
                "{} {}",
                clean(&id),
                write::run(m, units).replace(' ', "\u{a0}")
            )
        })
        .collect();
    words.join(", ")
}

fn joints(voice: &mut Voice) -> Vec<Block> {
    let floor = voice.inputs.floor;
    let units = floor.slab.units;
    let filled = |j: &JointWork| j.treatment == Treatment::Fill;
    let moves = |j: &JointWork| j.kind == JointKind::Isolation;
    let kinds: [(&str, &str, &dyn Fn(&JointWork) -> bool); 4] = [
        ("Filled and coated over", "joint_fill", &|j| {
            filled(j) && !moves(j)
        }),
        ("Filled although they move", "joint_fill_moving", &|j| {
            filled(j) && moves(j)
        }),
        ("Carried through", "joint_honor", &|j| {
            j.treatment == Treatment::Honor
        }),
        ("Left as they are", "joint_leave", &|j| {
            j.treatment == Treatment::Leave
        }),
    ];
    let mut out = Vec::new();
    for (lead, key, of_it) in kinds {
        let joints = floor.takeoff.joints.iter().filter(|j| of_it(j));
        let tags = tagged(joints.map(|j| (j.id.clone(), j.length_m)), units);
        out.extend(sentence(voice, lead, &tags, key));
    }
    let buried = floor.takeoff.joints.iter().filter(|j| j.buried_m > 0.0);
    let tags = tagged(buried.map(|j| (j.id.clone(), j.buried_m)), units);
    out.extend(sentence(voice, "Opened first", &tags, "joint_buried"));
    titled("Joints", out)
}

fn cracks(voice: &mut Voice) -> Vec<Block> {
    let floor = voice.inputs.floor;
    let units = floor.slab.units;
    let kinds = [
        ("Sealed by the primer", "crack_prime", Treatment::Prime),
        ("Filled", "crack_fill", Treatment::Fill),
        ("Cut open and filled", "crack_chase", Treatment::Chase),
        ("Carried through", "crack_honor", Treatment::Honor),
        ("Left as they are", "crack_leave", Treatment::Leave),
    ];
    let mut out = Vec::new();
    for (lead, key, treatment) in kinds {
        let tags = tagged(crack_lengths(floor, |_, t| t == treatment), units);
        out.extend(sentence(voice, lead, &tags, key));
    }
    let rigid = |t| matches!(t, Treatment::Prime | Treatment::Fill | Treatment::Chase);
    for (lead, key, movement) in [
        ("May come back", "crack_may_return", Movement::Unknown),
        ("Will come back", "crack_returns", Movement::Active),
    ] {
        let tags = tagged(
            crack_lengths(floor, |m, t| m == movement && rigid(t)),
            units,
        );
        out.extend(sentence(voice, lead, &tags, key));
    }
    titled("Cracks", out)
}

/// Each crack with the length of its portions that are meant, m.
fn crack_lengths(
    floor: &Survey,
    meant: impl Fn(Movement, Treatment) -> bool,
) -> impl Iterator<Item = (String, f64)> {
    let cracks = floor.slab.cracks.iter().zip(&floor.takeoff.cracks);
    cracks.map(move |(crack, work)| {
        let portions = work.portions.iter();
        let of_it = portions.filter(|p| meant(crack.movement, p.treatment));
        (work.id.clone(), of_it.map(|p| p.length_m).sum())
    })
}

/// Spalls, steps and what lies on the surface.
fn rest(voice: &mut Voice) -> Vec<Block> {
    let floor = voice.inputs.floor;
    let units = floor.slab.units;
    let ids = |ids: Vec<&String>| ids.iter().map(|i| clean(i)).collect::<Vec<_>>().join(", ");
    let spalls = ids(floor.slab.spalls.iter().map(|s| &s.id).collect());
    let held = |codes: &[Code], id: &String| {
        let mut holds = floor.holds.iter();
        holds.any(|hold| codes.contains(&hold.code) && hold.items.contains(id))
    };
    let steps = |high: bool| {
        let steps = floor.takeoff.lippage.iter();
        let steps = steps.filter(|l| held(&[Code::StepHigh], &l.id) == high);
        tagged(steps.map(|l| (l.id.clone(), l.hand_length_m)), units)
    };
    let surface = |meant: &dyn Fn(&Blemish) -> bool| {
        let here = floor.slab.blemishes.iter().filter(|b| meant(b));
        let words = |b: &Blemish| format!("{} {}", clean(&b.id), blemish(b.what).replace('-', " "));
        here.map(words).collect::<Vec<_>>().join(", ")
    };
    let untested = |b: &Blemish| held(&[Code::TestBeforeGrinding], &b.id);
    let plain = surface(&|b| !untested(b) && !b.is_hazardous());
    let (untested, hazardous) = (surface(&untested), surface(&Blemish::is_hazardous));
    let mut out = Vec::new();
    for (lead, tags, key) in [
        ("Mended spots", spalls, "spall"),
        ("Steps", steps(false), "step"),
        ("Steps too high to be ground", steps(true), "step_high"),
        ("On the surface", plain, "blemish"),
        ("On the surface, not tested", untested, "blemish_untested"),
        (
            "On the surface, lead or asbestos",
            hazardous,
            "blemish_hazard",
        ),
    ] {
        out.extend(sentence(voice, lead, &tags, key));
    }
    titled("Surface", out)
}

/// `Filled: J1 26.0 ft, J2 22.5 ft.` and what that means.
fn sentence(voice: &mut Voice, lead: &str, tags: &str, key: &str) -> Option<Block> {
    if tags.is_empty() {
        return None;
    }
    let said = voice.say(key).unwrap_or_default();
    let text = Text::strong(format!("{lead}:")).then(format!("{tags}. {said}").trim().to_owned());
    Some(Block::Paragraph(text))
}

fn titled(title: &str, blocks: Vec<Block>) -> Vec<Block> {
    if blocks.is_empty() {
        return blocks;
    }
    std::iter::once(heading(3, title)).chain(blocks).collect()
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
        Block::Paragraph(
            format!(
                "System: {name}, on {}.",
                write::area(floor.takeoff.area.coated_m2, units)
            )
            .into(),
        ),
        Block::List {
            ordered: true,
            items,
        },
    ]
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
