//! What goes into one unit of concealed work, by the shop book's standing sections and rates.

use crate::floor::Survey;
use crate::order::{Use, Uses, choke_kg, concrete_kg, diamond_life, in_cartridges, words};
use crate::quantity::measure::solid;
use crate::quantity::{L_PER_M3, Length, M_PER_FT, M2_PER_FT2, Units, write};
use crate::shop::{Amount, Shop};
use crate::sketch::UnitKind;
use crate::takeoff::{rod_m, sealant_depth_m};
use crate::trade::{Key, Kind, Product, Ware};
use crate::work::{scraped, throwing_key};

/// Width that an honored joint is taken to have where nobody has seen it yet (common practice:
/// boards and strips of half an inch).
const HONORED_WIDTH: Length = Length::from_in(0.5);
/// Seconds in an hour.
const S_PER_H: f64 = 3600.0;

/// Time of one kind of work for one unit, without set-up: concealed work is done while the crew is
/// there with its machines.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Effort {
    pub kind: Kind,
    /// Which of its rates it goes at.
    pub key: Key,
    /// How much of it, in the unit of that rate.
    pub quantity: f64,
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
        key,
        quantity,
        clock_h: quantity / shop.days.works.get(kind, key),
        hands: if thrown { 1 } else { crate::trade::row(kind).hands },
    }
}

/// Goods, hours and dust of one unit.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Recipe {
    pub kind: UnitKind,
    /// What is taken for granted.
    pub basis: String,
    /// Width that it holds up to, m; `None` where the width plays no part.
    pub widest_m: Option<f64>,
    /// Packages of what is bought.
    pub goods: Vec<(Ware, f64)>,
    /// Works.
    pub efforts: Vec<Effort>,
    /// Cartridges of joint filler.
    pub cartridges: f64,
    /// Batches that are mixed.
    pub batches: f64,
    /// Sand at the bottom of the chase, kg.
    pub sand_kg: f64,
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
    all.extend(inject(floor, square));
    all.extend(coated(floor, square).or_else(|| floor_as_agreed(floor)));
    for recipe in &mut all {
        let worn = recipe.worn(floor);
        recipe.goods.extend(worn);
    }
    all
}

/// Cartridges of so many packages of joint filler; what is spare is there for the job already.
fn cartridges(packages: f64, shop: &Shop) -> f64 {
    if in_cartridges(shop) { packages } else { 0.0 }
}

impl Recipe {
    /// A recipe of which nothing is known but for what it is.
    fn of(kind: UnitKind, basis: String) -> Self {
        Self {
            kind,
            basis,
            widest_m: None,
            goods: Vec::new(),
            efforts: Vec::new(),
            cartridges: 0.0,
            batches: 0.0,
            sand_kg: 0.0,
            dust_kg: 0.0,
        }
    }

    /// What it wears while the crew is there.
    fn worn(&self, floor: &Survey) -> Vec<(Ware, f64)> {
        let used = |e: &Effort| Use::of(e.kind, e.key, e.quantity, e.clock_h * S_PER_H);
        let uses = Uses {
            works: self.efforts.iter().map(used).collect(),
            cartridges: self.cartridges,
            batches: self.batches,
            sand_kg: self.sand_kg,
            dust_kg: self.dust_kg,
            life: diamond_life(&floor.slab, &floor.shop),
        };
        uses.marginal(&floor.shop)
    }
}

fn joint(shop: &Shop, units: Units, run: f64) -> Recipe {
    let (width, depth) = (shop.chase.blade.m(), shop.chase.depth.m());
    let volume_l = run * width * depth * L_PER_M3;
    let bought_l = volume_l * (1.0 + shop.filler.waste.one());
    let packages = bought_l / shop.filler.package.l();
    let basis = format!(
        "cut {} wide and {} deep with the saw",
        write::small(width, units),
        write::small(depth, units)
    );
    Recipe {
        goods: vec![(Product::JointFiller.into(), packages)],
        cartridges: cartridges(packages, shop),
        sand_kg: choke_kg(run, width, depth, shop),
        efforts: vec![
            effort(shop, Kind::SawJoints, Key::Rate, run),
            effort(shop, Kind::CleanCuts, Key::Rate, run),
            effort(shop, Kind::FillJoints, Key::Rate, bought_l),
            effort(shop, Kind::FillJoints, Key::TopOff, run),
            effort(shop, Kind::Shave, Key::Rate, run),
        ],
        dust_kg: concrete_kg(volume_l),
        ..Recipe::of(UnitKind::Joint, basis)
    }
}

fn joint_open(shop: &Shop, run: f64) -> Recipe {
    let basis = "opened by hand; filling or honoring it is charged beside it".into();
    Recipe {
        efforts: vec![effort(shop, Kind::OpenBuried, Key::Rate, run)],
        ..Recipe::of(UnitKind::JointOpen, basis)
    }
}

fn joint_honor(shop: &Shop, units: Units, run: f64) -> Recipe {
    let width = HONORED_WIDTH.m();
    let (depth, rod) = (sealant_depth_m(width), rod_m(width, shop));
    let volume_l = run * width * depth * L_PER_M3;
    let mut goods = vec![(
        Product::Sealant.into(),
        volume_l * (1.0 + shop.sealant.waste.one()) / shop.sealant.package.l(),
    )];
    if let Some(rod) = rod {
        goods.push((
            Product::backer_rod(rod).into(),
            run * (1.0 + shop.backer_rod.waste.one()) / crate::order::ROD_COIL_M,
        ));
    }
    let basis = format!(
        "up to {} wide, and wide enough that it need not be widened",
        write::small(width, units)
    );
    Recipe {
        widest_m: Some(width),
        goods,
        efforts: vec![
            effort(shop, Kind::CleanCuts, Key::Rate, run),
            effort(shop, Kind::RodAndSealant, Key::Rate, run),
        ],
        ..Recipe::of(UnitKind::JointHonor, basis)
    }
}

fn crack(shop: &Shop, units: Units, run: f64) -> Recipe {
    let (width, depth) = (shop.cracks.chase_from.m(), shop.cracks.fill_depth.m());
    let packages =
        run * width * depth * L_PER_M3 * (1.0 + shop.cracks.waste.one()) / shop.cracks.package.l();
    let basis = format!(
        "up to {} wide, resin {} down",
        write::small(width, units),
        write::small(depth, units)
    );
    Recipe {
        widest_m: Some(width),
        goods: vec![(Product::CrackResin.into(), packages)],
        efforts: vec![
            effort(shop, Kind::CleanCuts, Key::Rate, run),
            effort(shop, Kind::FillCracks, Key::Rate, run),
        ],
        ..Recipe::of(UnitKind::Crack, basis)
    }
}

fn crack_chase(shop: &Shop, units: Units, run: f64) -> Recipe {
    let (width, depth) = (shop.cracks.chase_width.m(), shop.cracks.chase_depth.m());
    let volume_l = run * width * depth * L_PER_M3;
    let packages = volume_l * (1.0 + shop.cracks.waste.one()) / shop.cracks.package.l();
    let basis =
        format!("cut {} wide and {} deep", write::small(width, units), write::small(depth, units));
    Recipe {
        widest_m: Some(width),
        goods: vec![(Product::CrackResin.into(), packages)],
        sand_kg: choke_kg(run, width, depth, shop),
        efforts: vec![
            effort(shop, Kind::ChaseCracks, Key::Rate, run),
            effort(shop, Kind::CleanCuts, Key::Rate, run),
            effort(shop, Kind::FillCracks, Key::Rate, run),
        ],
        dust_kg: concrete_kg(volume_l),
        ..Recipe::of(UnitKind::CrackChase, basis)
    }
}

/// The mean depth of the wedge at the least step that is taken down by hand is half that step.
fn hand_grind(shop: &Shop, units: Units, square: f64) -> Recipe {
    let mean = shop.grinding.hand_from.m() / 2.0;
    let basis = format!("{} off on the average", write::small(mean, units));
    Recipe {
        efforts: vec![effort(shop, Kind::GrindEdges, Key::Area, square)],
        dust_kg: concrete_kg(square * mean * L_PER_M3),
        ..Recipe::of(UnitKind::HandGrind, basis)
    }
}

fn patch(shop: &Shop, units: Units) -> Recipe {
    let area = shop.spalls.yield_.l() / L_PER_M3 / shop.spalls.least_depth.m();
    let basis = format!(
        "a bag makes {}, at {} deep {}",
        solid(shop.spalls.yield_.l(), units),
        write::small(shop.spalls.least_depth.m(), units),
        write::area(area, units)
    );
    Recipe {
        goods: vec![(Product::PatchMortar.into(), 1.0)],
        efforts: vec![effort(shop, Kind::Patch, Key::Rate, area)],
        // What a bag fills was concrete before.
        dust_kg: concrete_kg(shop.spalls.yield_.l()),
        ..Recipe::of(UnitKind::Patch, basis)
    }
}

/// A square foot of delamination, of a floor that has some or for which a price was agreed.
fn inject(floor: &Survey, square: f64) -> Option<Recipe> {
    let (rules, units) = (&floor.shop.delaminations, floor.slab.units);
    let mut agreed = floor.sketch.price.unit_prices.iter();
    if floor.slab.delaminations.is_empty() && !agreed.any(|price| price.kind == UnitKind::Inject) {
        return None;
    }
    let (spacing, gap) = (rules.spacing.m(), rules.gap.m());
    let (ports, volume_l) = (square / (spacing * spacing), square * gap * L_PER_M3);
    let hole_m2 = std::f64::consts::FRAC_PI_4 * rules.hole.m() * rules.hole.m();
    let basis = format!(
        "a port every {} both ways, a gap of {}, holes {} deep",
        write::small(spacing, units),
        write::small(gap, units),
        write::small(rules.depth.m(), units)
    );
    let resin = volume_l * (1.0 + rules.waste.one()) / rules.package.l();
    Some(Recipe {
        goods: vec![
            (Product::InjectionPort.into(), ports),
            (Product::InjectionResin.into(), resin),
        ],
        efforts: vec![effort(&floor.shop, Kind::Inject, Key::Rate, square)],
        dust_kg: concrete_kg(ports * hole_m2 * rules.depth.m() * L_PER_M3),
        ..Recipe::of(UnitKind::Inject, basis)
    })
}

fn filler(shop: &Shop, units: Units) -> Recipe {
    let package = words::package(shop.filler.package.l(), "L", units);
    Recipe {
        goods: vec![(Product::JointFiller.into(), 1.0)],
        cartridges: cartridges(1.0, shop),
        efforts: vec![effort(shop, Kind::FillJoints, Key::Rate, shop.filler.package.l())],
        ..Recipe::of(UnitKind::Filler, format!("a package holds {package}"))
    }
}

/// A floor without a system, at the price that was agreed.
fn floor_as_agreed(floor: &Survey) -> Option<Recipe> {
    let mut agreed = floor.sketch.price.unit_prices.iter();
    let found = agreed.any(|price| price.kind == UnitKind::Floor);
    found.then(|| Recipe::of(UnitKind::Floor, "as agreed".into()))
}

/// Batches of a layer that a liter of it makes on this floor.
fn batches_a_litre(floor: &Survey, place: usize) -> f64 {
    let layer = floor.order.batches.iter().find(|b| b.layer == place);
    let list = layer.map_or(&[][..], |layer| &layer.list);
    let litres: f64 = list.iter().map(|batch| batch.volume_l).sum();
    if litres > 0.0 { list.len() as f64 / litres } else { 0.0 }
}

/// A square foot more of floor in the job's system, ground by machine: what it adds while the crew is
/// there, without set-up, edges or repairs.
fn coated(floor: &Survey, square: f64) -> Option<Recipe> {
    let shop = &floor.shop;
    let name = &floor.sketch.coating.system.as_ref()?.value;
    let system = shop.system_of(&floor.sketch.coating)?;
    let (mut goods, mut batches) = (Vec::new(), 0.0);
    let passes = shop.passes(Some(system));
    let mut efforts = vec![
        effort(shop, Kind::GrindFloor, Key::Rate, square * passes),
        effort(shop, Kind::Vacuum, Key::Rate, square),
    ];
    for (place, (product, layer)) in system.products(name).enumerate() {
        let (amount, package, key) = match &layer.amount {
            Amount::Broadcast { rate, waste, package, .. } => {
                let kg = square * rate.kg_per_m2() * (1.0 + waste.one());
                (kg, package.kg(), throwing_key(system, layer))
            }
            liquid => {
                let practical = liquid.covers()?;
                let kit = liquid.kit_l()?;
                batches += square / practical * batches_a_litre(floor, place);
                (square / practical, kit, Key::Rate)
            }
        };
        goods.push((product.into(), amount / package));
        efforts.push(effort(shop, Kind::Coat, key, square));
        if scraped(system, place) {
            efforts.push(effort(shop, Kind::Scrape, Key::Rate, square));
        }
    }
    let basis = format!("system {name}, ground by machine, while the crew is here");
    Some(Recipe {
        goods,
        efforts,
        batches,
        dust_kg: concrete_kg(square * shop.grinding.depth.m() * L_PER_M3),
        ..Recipe::of(UnitKind::Floor, basis)
    })
}
