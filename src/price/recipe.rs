//! What goes into one unit of concealed work, by the shop book's standing sections and rates.

use crate::order::{choke_bags, concrete_kg, in_cartridges, words};
use crate::quantity::{Length, M_PER_FT, M2_PER_FT2, Units, write};
use crate::shop::{Amount, Shop};
use crate::sketch::UnitKind;
use crate::survey::Survey;
use crate::takeoff::{rod_m, sealant_depth_m};
use crate::trade::{Key, Kind};
use crate::work::{scraped, throwing_key};

/// Width that an honored joint is taken to have where nobody has seen it yet (common practice:
/// boards and strips of half an inch).
const HONORED_WIDTH: Length = Length::from_in(0.5);
/// Litres in one cubic meter.
const L_PER_M3: f64 = 1000.0;

/// Time of one kind of work for one unit, without set-up: concealed work is done while the crew is
/// there with its machines.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Effort {
    /// The kind.
    pub kind: Kind,
    /// Hours on the clock; for a machine that is used, its hours.
    pub clock_h: f64,
    /// Workers.
    pub hands: usize,
}

impl Effort {
    /// Hours of all workers.
    pub fn worker_h(&self) -> f64 {
        self.clock_h * self.hands as f64
    }
}

/// A quantity in the unit of its key at the rate of the shop book.
fn effort(shop: &Shop, kind: Kind, key: Key, quantity: f64) -> Effort {
    let thrown = matches!(key, Key::Broadcast | Key::Grit);
    Effort {
        kind,
        clock_h: quantity / shop.days.works.get(kind, key),
        hands: if thrown {
            1
        } else {
            crate::trade::row(kind).hands
        },
    }
}

/// Goods, hours and dust of one unit.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Recipe {
    /// Of what.
    pub kind: UnitKind,
    /// What is taken for granted.
    pub basis: String,
    /// Width that it holds up to, m; `None` where the width plays no part.
    pub widest_m: Option<f64>,
    /// Packages, by the name of the order.
    pub goods: Vec<(String, f64)>,
    /// Works.
    pub efforts: Vec<Effort>,
    /// Concrete dust, kg.
    pub dust_kg: f64,
}

/// One recipe for every kind; the floor only where the job has a coating system, or a price was
/// agreed for it.
pub(super) fn recipes(floor: &Survey) -> Vec<Recipe> {
    let (shop, units) = (&floor.shop, floor.slab.units);
    let (run, square) = match units {
        Units::Us => (M_PER_FT, M2_PER_FT2),
        Units::Metric => (1.0, 1.0),
    };
    let mut all = vec![
        joint(shop, units, run),
        joint_open(shop, run),
        joint_honor(shop, units, run),
        crack(shop, units, run),
        crack_chase(shop, units, run),
        hand_grind(shop, units, square),
        patch(shop, units),
        filler(shop, units),
    ];
    all.extend(coated(floor, square).or_else(|| floor_as_agreed(floor)));
    all
}

/// So many packages of joint filler, each with its mixer where it is a cartridge. What is spare is
/// there for the job already.
fn filler_goods(packages: f64, shop: &Shop) -> Vec<(String, f64)> {
    let mut goods = vec![("joint filler".to_owned(), packages)];
    if in_cartridges(shop) {
        goods.push(("static mixer".into(), packages));
    }
    goods
}

/// The sand at the bottom of a chase; nothing where the shop uses none.
fn sand(run: f64, width: f64, depth: f64, shop: &Shop) -> Option<(String, f64)> {
    let bags = choke_bags(run, width, depth, shop);
    (bags > 0.0).then(|| ("dry sand, bag".into(), bags))
}

fn joint(shop: &Shop, units: Units, run: f64) -> Recipe {
    let (width, depth) = (shop.chase.blade.m(), shop.chase.depth.m());
    let volume_l = run * width * depth * L_PER_M3;
    let bought_l = volume_l * (1.0 + shop.filler.waste.one());
    let mut goods = filler_goods(bought_l / shop.filler.package.l(), shop);
    goods.extend(sand(run, width, depth, shop));
    goods.push(("joint saw blade".into(), run / shop.sundries.blade.m()));
    Recipe {
        kind: UnitKind::Joint,
        widest_m: None,
        basis: format!(
            "cut {} wide and {} deep with the saw",
            write::small(width, units),
            write::small(depth, units)
        ),
        goods,
        efforts: vec![
            effort(shop, Kind::SawJoints, Key::Rate, run),
            effort(shop, Kind::CleanCuts, Key::Rate, run),
            effort(shop, Kind::FillJoints, Key::Rate, bought_l),
            effort(shop, Kind::FillJoints, Key::TopOff, run),
            effort(shop, Kind::Shave, Key::Rate, run),
        ],
        dust_kg: concrete_kg(volume_l),
    }
}

fn joint_open(shop: &Shop, run: f64) -> Recipe {
    Recipe {
        kind: UnitKind::JointOpen,
        widest_m: None,
        basis: "opened by hand; filling or honoring it is charged beside it".into(),
        goods: vec![("hand grinder wheel".into(), run / shop.sundries.wheel.m())],
        efforts: vec![effort(shop, Kind::OpenBuried, Key::Rate, run)],
        dust_kg: 0.0,
    }
}

fn joint_honor(shop: &Shop, units: Units, run: f64) -> Recipe {
    let width = HONORED_WIDTH.m();
    let (depth, rod) = (sealant_depth_m(width), rod_m(width, shop));
    let volume_l = run * width * depth * L_PER_M3;
    let mut goods = vec![(
        "sealant".into(),
        volume_l * (1.0 + shop.sealant.waste.one()) / shop.sealant.package.l(),
    )];
    if let Some(rod) = rod {
        goods.push((
            format!("backer rod {}", words::size(rod)),
            run * (1.0 + shop.backer_rod.waste.one()) / crate::order::ROD_COIL_M,
        ));
    }
    goods.push((
        "masking tape, roll".into(),
        2.0 * run / shop.sundries.tape.m(),
    ));
    Recipe {
        kind: UnitKind::JointHonor,
        widest_m: Some(width),
        basis: format!(
            "up to {} wide, and wide enough that it need not be widened",
            write::small(width, units)
        ),
        goods,
        efforts: vec![
            effort(shop, Kind::CleanCuts, Key::Rate, run),
            effort(shop, Kind::RodAndSealant, Key::Rate, run),
        ],
        dust_kg: 0.0,
    }
}

fn crack(shop: &Shop, units: Units, run: f64) -> Recipe {
    let (width, depth) = (shop.cracks.chase_from.m(), shop.cracks.fill_depth.m());
    let packages =
        run * width * depth * L_PER_M3 * (1.0 + shop.cracks.waste.one()) / shop.cracks.package.l();
    Recipe {
        kind: UnitKind::Crack,
        widest_m: Some(width),
        basis: format!(
            "up to {} wide, resin {} down",
            write::small(width, units),
            write::small(depth, units)
        ),
        goods: vec![("crack resin".into(), packages)],
        efforts: vec![
            effort(shop, Kind::CleanCuts, Key::Rate, run),
            effort(shop, Kind::FillCracks, Key::Rate, run),
        ],
        dust_kg: 0.0,
    }
}

fn crack_chase(shop: &Shop, units: Units, run: f64) -> Recipe {
    let (width, depth) = (shop.cracks.chase_width.m(), shop.cracks.chase_depth.m());
    let volume_l = run * width * depth * L_PER_M3;
    let mut goods = vec![
        (
            "crack resin".into(),
            volume_l * (1.0 + shop.cracks.waste.one()) / shop.cracks.package.l(),
        ),
        ("hand grinder wheel".into(), run / shop.sundries.wheel.m()),
    ];
    goods.extend(sand(run, width, depth, shop));
    Recipe {
        kind: UnitKind::CrackChase,
        widest_m: Some(width),
        basis: format!(
            "cut {} wide and {} deep",
            write::small(width, units),
            write::small(depth, units)
        ),
        goods,
        efforts: vec![
            effort(shop, Kind::ChaseCracks, Key::Rate, run),
            effort(shop, Kind::CleanCuts, Key::Rate, run),
            effort(shop, Kind::FillCracks, Key::Rate, run),
        ],
        dust_kg: concrete_kg(volume_l),
    }
}

/// The mean depth of the wedge at the least step that is taken down by hand is half that step.
fn hand_grind(shop: &Shop, units: Units, square: f64) -> Recipe {
    let mean = shop.grinding.hand_from.m() / 2.0;
    Recipe {
        kind: UnitKind::HandGrind,
        widest_m: None,
        basis: format!("{} off on the average", write::small(mean, units)),
        goods: Vec::new(),
        efforts: vec![effort(shop, Kind::GrindEdges, Key::Area, square)],
        dust_kg: concrete_kg(square * mean * L_PER_M3),
    }
}

fn patch(shop: &Shop, units: Units) -> Recipe {
    let area = shop.spalls.yield_.l() / L_PER_M3 / shop.spalls.least_depth.m();
    Recipe {
        kind: UnitKind::Patch,
        widest_m: None,
        basis: format!(
            "a bag makes {}, at {} deep {}",
            write::volume(shop.spalls.yield_.l(), units),
            write::small(shop.spalls.least_depth.m(), units),
            write::area(area, units)
        ),
        goods: vec![("patch mortar".into(), 1.0)],
        efforts: vec![effort(shop, Kind::Patch, Key::Rate, area)],
        // What a bag fills was concrete before.
        dust_kg: concrete_kg(shop.spalls.yield_.l()),
    }
}

fn filler(shop: &Shop, units: Units) -> Recipe {
    Recipe {
        kind: UnitKind::Filler,
        widest_m: None,
        basis: format!(
            "a package holds {}",
            words::package(shop.filler.package.l(), "L", units)
        ),
        goods: filler_goods(1.0, shop),
        efforts: vec![effort(
            shop,
            Kind::FillJoints,
            Key::Rate,
            shop.filler.package.l(),
        )],
        dust_kg: 0.0,
    }
}

/// A floor without a system, at the price that was agreed.
fn floor_as_agreed(floor: &Survey) -> Option<Recipe> {
    let mut agreed = floor.sketch.price.unit_prices.iter();
    let found = agreed.any(|price| price.kind == UnitKind::Floor);
    found.then(|| Recipe {
        kind: UnitKind::Floor,
        widest_m: None,
        basis: "as agreed".into(),
        goods: Vec::new(),
        efforts: Vec::new(),
        dust_kg: 0.0,
    })
}

/// A square foot more of floor in the job's system, ground by machine: what it adds while the crew is
/// there, without set-up, edges or repairs.
fn coated(floor: &Survey, square: f64) -> Option<Recipe> {
    let shop = &floor.shop;
    let name = &floor.sketch.coating.system.as_ref()?.value;
    let system = shop.system_of(&floor.sketch.coating)?;
    let mut goods = Vec::new();
    let passes = shop.passes(Some(system));
    let mut efforts = vec![
        effort(shop, Kind::GrindFloor, Key::Rate, square * passes),
        effort(shop, Kind::Vacuum, Key::Rate, square),
    ];
    for (place, (product, layer)) in system.products(name).enumerate() {
        let (amount, package, key) = match &layer.amount {
            Amount::Broadcast { rate, package } => {
                let kg = square * rate.kg_per_m2();
                (kg, package.kg(), throwing_key(system, layer))
            }
            liquid => {
                let practical = crate::order::practical_coverage(liquid)?;
                let kit = crate::order::kit_l(liquid)?;
                (square / practical, kit, Key::Rate)
            }
        };
        goods.push((product, amount / package));
        efforts.push(effort(shop, Kind::Coat, key, square));
        if scraped(system, place) {
            efforts.push(effort(shop, Kind::Scrape, Key::Rate, square));
        }
    }
    Some(Recipe {
        kind: UnitKind::Floor,
        widest_m: None,
        basis: format!("system {name}, ground by machine, while the crew is here"),
        goods,
        efforts,
        dust_kg: concrete_kg(square * shop.grinding.depth.m() * L_PER_M3),
    })
}
