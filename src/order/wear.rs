//! Goods that wear: what the works, the batches and the dust of a floor take of each.
//!
//! What wears a good stands in [`crate::trade::Good`], what one is enough for in the shop book.

use serde::Serialize;

use super::dust::dust;
use super::model::Order;
use super::need::whole_packages;
use super::words;
use crate::quantity::{KG_PER_LB, L_PER_FT3, L_PER_M3, Units, write};
use crate::shop::{Charged, Shop};
use crate::slab::Slab;
use crate::takeoff::Takeoff;
use crate::trade::{By, Good, Key, Kind, Measure, Product, Unit, Ware, Wears};
use crate::work::{Facts, Work, works};

/// Bulk weight of dry sand, kg/L: 100 lb/ft³ (from memory).
const SAND_KG_PER_L: f64 = 100.0 * KG_PER_LB / L_PER_FT3;
/// A package of filler up to this many litres is a cartridge and takes a static mixer (common
/// practice; larger ones are mixed in a pail).
const CARTRIDGE_L: f64 = 1.6;
/// Seconds in an hour.
const S_PER_H: f64 = 3600.0;
/// Parts of one good are printed and priced to this many decimals.
pub(crate) const PART_PLACES: u32 = 3;

/// A good to take along.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Carried {
    /// Which.
    #[serde(rename = "item")]
    pub good: Good,
    /// How many are taken along.
    pub count: u64,
    /// How many of them are taken along for nothing but luck.
    pub spare: u64,
    /// How many are worn or used up, parts of one counted.
    pub used: f64,
    /// How it is charged.
    pub charged: Charged,
    /// The rule and the number it was reached from, in the sketch's units.
    pub how: String,
}

/// What one work wears.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Use {
    /// Its kind.
    pub kind: Kind,
    /// Length done, m.
    pub length_m: f64,
    /// Area done, every pass counted, m². Of a coat what is laid.
    pub area_m2: f64,
    /// Time of one machine or worker, set-ups left out, s.
    pub seconds: f64,
    /// How often tools are taken up and cleaned for it: once for a work, never for more of the same.
    pub times: f64,
    /// Workers who are at it, each so often.
    pub hands: f64,
}

/// Everything that wears goods: on a floor, or for one unit of concealed work.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Uses {
    /// Works.
    pub works: Vec<Use>,
    /// Cartridges of joint filler.
    pub cartridges: f64,
    /// Batches that are mixed.
    pub batches: f64,
    /// Sand at the bottom of chases, kg.
    pub sand_kg: f64,
    /// Concrete dust, kg.
    pub dust_kg: f64,
    /// What diamonds last in this concrete, share of what they last in between hard and soft.
    pub life: f64,
}

impl Use {
    /// What a quantity of one key of a kind wears, without set-up and beside a crew that is there.
    pub(crate) fn of(kind: Kind, key: Key, quantity: f64, seconds: f64) -> Self {
        let keys = crate::trade::row(kind).keys;
        let unit = keys.iter().find(|(known, _)| *known == key).map(|k| k.1);
        let laid = !matches!(key, Key::Broadcast | Key::Grit);
        let when = |wanted| if wanted { quantity } else { 0.0 };
        Self {
            kind,
            length_m: when(unit == Some(Unit::Length)),
            area_m2: when(unit == Some(Unit::Area) && laid),
            seconds,
            times: 0.0,
            hands: 0.0,
        }
    }

    fn of_work(work: &Work) -> Self {
        let mut all = Self {
            times: 1.0,
            hands: work.hands as f64,
            ..Self::of(work.kind, Key::SetUp, 0.0, 0.0)
        };
        for part in &work.parts {
            let laid = !matches!(part.key, Key::Broadcast | Key::Grit);
            match part.unit {
                Unit::Length => all.length_m += part.quantity,
                Unit::Area if laid => all.area_m2 += part.quantity,
                _ => {}
            }
            all.seconds += part.seconds();
        }
        all
    }
}

impl Uses {
    fn of(order: &Order, facts: &Facts<'_>) -> Self {
        let (takeoff, shop) = (facts.takeoff, facts.shop);
        let filler = order.rows.iter().find(|row| row.item == Product::JointFiller);
        let cartridges = filler.filter(|_| in_cartridges(shop));
        Self {
            works: works(facts).iter().map(Use::of_work).collect(),
            cartridges: cartridges.map_or(0.0, |row| row.packages as f64),
            batches: order.batches.iter().map(|b| b.list.len() as f64).sum(),
            sand_kg: choked_kg(takeoff, shop),
            dust_kg: dust(takeoff, shop).iter().map(|d| d.mass_kg).sum(),
            life: diamond_life(facts.slab, shop),
        }
    }

    fn sum(&self, kinds: &[Kind], of: impl Fn(&Use) -> f64) -> f64 {
        let named = self.works.iter().filter(|work| kinds.contains(&work.kind));
        named.map(of).sum::<f64>() + 0.0
    }

    /// How much wears a good, in the unit of its measure.
    fn amount(&self, by: By) -> f64 {
        match by {
            By::Cartridge => self.cartridges,
            By::Chase => self.sand_kg,
            By::Run(kinds) => kinds
                .iter()
                .map(|(kind, times)| times * self.sum(&[*kind], |work| work.length_m))
                .sum(),
            By::Time(kinds) => self.sum(kinds, |work| work.seconds),
            By::Area(kinds) | By::Hardness(kinds) => self.sum(kinds, |work| work.area_m2),
            By::Coat => self.sum(&[Kind::Coat], |work| work.area_m2),
            By::Batch => self.batches,
            By::Worker(kinds) => self.sum(kinds, |work| work.hands),
            By::Work(kinds) => self.sum(kinds, |work| work.times),
            By::Dust => self.dust_kg,
        }
    }

    /// What one is enough for here.
    fn each(&self, wears: Wears, shop: &Shop) -> f64 {
        let life = match wears.by {
            By::Hardness(_) => self.life,
            _ => 1.0,
        };
        shop.wear.of(wears.good).each * life
    }

    /// How many of a good are worn or used up on a floor.
    fn used(&self, wears: Wears, shop: &Shop) -> f64 {
        let each = self.each(wears, shop);
        match wears.by {
            By::Coat => {
                let coats = self.works.iter().filter(|work| work.kind == Kind::Coat);
                coats.map(|coat| whole_packages(coat.area_m2, each) as f64).sum()
            }
            by => self.amount(by) / each,
        }
    }

    /// What one unit more of a work wears, nothing rounded.
    pub(crate) fn marginal(&self, shop: &Shop) -> Vec<(Ware, f64)> {
        let part = |wears: Wears| self.amount(wears.by) / self.each(wears, shop);
        Good::all()
            .map(|wears| (wears.good.into(), part(wears)))
            .filter(|(_, part)| part.is_finite() && *part > 0.0)
            .collect()
    }
}

/// Goods that wear to take along to one floor; what the floor does not call for is left out.
#[must_use]
pub fn carried(order: &Order, facts: &Facts) -> Vec<Carried> {
    let uses = Uses::of(order, facts);
    let units = facts.slab.units;
    Good::all().filter_map(|wears| one(wears, &uses, facts.shop, units)).collect()
}

fn one(wears: Wears, uses: &Uses, shop: &Shop, units: Units) -> Option<Carried> {
    let book = shop.wear.of(wears.good);
    let used = uses.used(wears, shop);
    if !used.is_finite() || used <= 0.0 {
        return None;
    }
    let layers = uses.works.iter().filter(|work| work.kind == Kind::Coat);
    let own = if wears.own { layers.map(|work| work.hands as u64).max().unwrap_or(0) } else { 0 };
    Some(Carried {
        good: wears.good,
        count: whole_packages(used, 1.0).max(own) + book.spare,
        spare: book.spare,
        used,
        charged: book.charged,
        how: how(wears, uses, used, shop, units),
    })
}

/// `48.6 ft sawn, 600.0 ft each: 0.08 used.`
fn how(wears: Wears, uses: &Uses, used: f64, shop: &Shop, units: Units) -> String {
    let book = shop.wear.of(wears.good);
    let say = |value: f64| match wears.by.unit() {
        Measure::Length => write::run(value, units),
        Measure::Area => write::area(value, units),
        Measure::Time => format!("{} h", write::trimmed(value / S_PER_H, 2)),
        Measure::Mass => write::mass(value, units),
        Measure::Count => write::trimmed(value, 1),
    };
    let each = match wears.by.unit() {
        Measure::Mass => words::package(book.each, "kg", units),
        _ => say(book.each),
    };
    let mut out = format!("{} {}, {each} each", say(uses.amount(wears.by)), wears.what);
    if matches!(wears.by, By::Hardness(_)) && uses.life < 1.0 {
        let life = write::percent(uses.life);
        out += &format!(", {life} of that in this concrete");
    }
    out += &format!(": {} used", part_words(used));
    if wears.own {
        out += "; a pair for each who is in it";
    }
    if book.spare > 0 {
        out += &format!("; {} spare", book.spare);
    }
    out += match book.charged {
        Charged::Used => ".",
        Charged::Whole => "; charged whole.",
    };
    out
}

/// A number of goods with the part of one that is used.
pub(crate) fn part_words(used: f64) -> String {
    match write::trimmed(used, PART_PLACES) {
        nothing if nothing == "0" => "less than 0.001".into(),
        part => part,
    }
}

/// Whether the joint filler comes in cartridges, each with a static mixer.
pub(crate) fn in_cartridges(shop: &Shop) -> bool {
    shop.filler.package.l() <= CARTRIDGE_L
}

/// Sand that chokes the bottom of a chase, kg; all lengths in meters.
pub(crate) fn choke_kg(length: f64, width: f64, depth: f64, shop: &Shop) -> f64 {
    length * width * depth.min(shop.chase.choke.m()) * L_PER_M3 * SAND_KG_PER_L
}

/// Sand at the bottom of every chase of a floor, kg.
fn choked_kg(takeoff: &Takeoff, shop: &Shop) -> f64 {
    let joints = takeoff.joints.iter().filter_map(|j| Some((j.length_m, j.filling()?)));
    let portions = takeoff.cracks.iter().flat_map(|c| &c.portions);
    let chased = joints.chain(portions.filter_map(|p| Some((p.length_m, p.chased()?))));
    chased.map(|(length_m, cut)| choke_kg(length_m, cut.width_m, cut.depth_m, shop)).sum()
}

/// What diamonds last on a floor, share of what they last in between hard and soft; all of it where
/// nobody scratched the floor.
pub(crate) fn diamond_life(slab: &Slab, shop: &Shop) -> f64 {
    let row = slab.mean_hardness().and_then(|mohs| shop.tooling_at(mohs));
    row.map_or(1.0, |row| row.life.one())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{M_PER_FT, M2_PER_FT2};

    fn floor(sketch: &str, book: &str) -> crate::floor::Survey {
        let (parsed, found) = crate::sketch::parse(sketch);
        let (shop, faults) = crate::shop::parse(&format!("slabwalk_shop: 1\n{book}"));
        let (Some(parsed), Some(shop)) = (parsed, shop) else {
            panic!("{found:?} {faults:?}\n{sketch}\n{book}");
        };
        crate::survey::survey(parsed, shop, Vec::new()).unwrap_or_else(|found| panic!("{found:?}"))
    }

    const SLAB: &str = "slabwalk: 1\njob: {name: shed}\nslab: {post_tension: none, outline: [[0, 0], [40', 0], [40', 30'], [0, 30']]}\n";
    /// Two joints of 30 and 40 ft, one of them twice as wide as the blade, a honored one, a chased
    /// crack of 8 ft; 1,200 ft² of a system of two coats.
    const WORK: &str = "joints: [{id: J1, kind: control, x: 10', width: 1/4\", depth: 3/4\"}, \
{id: J2, kind: control, y: 15', width: 1/2\", depth: 3/4\"}, {id: J3, kind: isolation, x: 30', width: 1/2\"}]\n\
cracks: [{id: C1, path: [[2', 20'], [8', 20']], width: 3/16, movement: dormant}]\n\
coating: {system: two}\ntests: {hardness: [{at: [5', 5'], mohs: 7}]}\n";
    /// Nothing is left to the hand along walls, and the saw reaches them.
    const BOOK: &str = "chase: {saw_clearance: 0\"}\n\
systems: {two: {layers: [{name: first, coverage: 100 ft2/gal, loss: 0%, kit: 5 gal, recoat: [[50 F, 8 h, 24 h]]}, {name: second, coverage: 200 ft2/gal, loss: 0%, kit: 5 gal}]}}\n";

    /// Reckoned by hand from the built-in lives: what is used, and how many are taken along.
    #[test]
    fn what_a_floor_wears_by_hand() {
        let floor = floor(&format!("{SLAB}{WORK}"), BOOK);
        let filler = floor.order.rows.iter().find(|r| r.item == Product::JointFiller);
        let cartridges = filler.map_or(0, |row| row.packages);
        let rows = carried(&floor.order, &floor.facts());
        // Joint filled: 30 ft of 1/4 by 3/4 in are 67.5 in³, 40 ft of 1/2 by 3/4 in 180 in³; with a
        // tenth more 272.25 in³ of 36.614 in³ a cartridge, 7.44: eight.
        assert_eq!(cartridges, 8);
        // Sand 1/8 in deep: 11.25 + 30 in³ of the joints, 2.25 in³ of 6 ft of crack 1/4 in wide: 43.5 in³
        // at 100 lb/ft³ are 2.517 lb of 50. Sawn: 30 ft, and 40 ft in two passes, 110 of 600. By hand: 6 ft
        // of crack of 100. Along 140 ft of wall 140/50 = 2.8 h, or by area; taken from the list below.
        // Ground 1,200 ft² less the edges at 70 % of 8,000: below. Taped: both sides of J3, 60 of 180.
        // Coated 1,200 ft² twice: 3 brushes and rollers a coat, one rubber. Batches: 12 gal and 6 gal, 3 gal
        // at once, 4 and 2. Two in each coat: 4 of 60 for the shoes; with one who fills joints, one who
        // fills cracks and one who seals 7 of 12 for the gloves. Two coats of 4 for a can.
        for (good, used, count) in [
            (Good::Mixer, 8.0, 10),
            (Good::Sand, 43.5 / 1728.0 * 100.0 / 50.0, 1),
            (Good::SawBlade, 110.0 / 600.0, 1),
            (Good::Wheel, 6.0 / 100.0, 1),
            (Good::Tape, 60.0 / 180.0, 1),
            (Good::Brush, 6.0, 6),
            (Good::Roller, 6.0, 6),
            (Good::Squeegee, 2.0, 2),
            (Good::Pail, 6.0, 6),
            (Good::Paddle, 6.0 / 30.0, 1),
            (Good::Shoes, 4.0 / 60.0, 2),
            (Good::Gloves, 7.0 / 12.0, 1),
            (Good::Solvent, 2.0 / 4.0, 1),
        ] {
            let row = rows.iter().find(|row| row.good == good);
            let row = row.unwrap_or_else(|| panic!("{good:?} is missing from {rows:#?}"));
            assert!((row.used - used).abs() < 1e-4, "{good:?}: {row:?}");
            assert_eq!(row.count, count, "{good:?}: {row:?}");
        }
        let goods: Vec<Good> = rows.iter().map(|row| row.good).collect();
        assert!(!goods.contains(&Good::RemovalSet) && !goods.contains(&Good::Film));
    }

    /// Diamonds by area, pass by pass, and by hardness; cup wheels by the hours that the list of works
    /// has; a set for old paint; bags and filters by the weight of the dust.
    #[test]
    fn what_grinding_wears_follows_the_list_of_works() {
        let paint = "blemishes: [{id: B1, what: paint, tested: clear, box: {corner: [2', 2'], size: [10', 10']}}]\n";
        let sketch = |mohs: &str| {
            format!(
                "{SLAB}{paint}coating: {{system: two}}\ntests: {{hardness: [{{at: [5', 5'], mohs: {mohs}}}]}}\n"
            )
        };
        for (mohs, passes, life) in
            [("3", 1.0, 0.6), ("5", 1.0, 1.0), ("7", 1.0, 0.7), ("9", 1.0, 0.5), ("5", 2.0, 1.0)]
        {
            let book =
                format!("{BOOK}days: {{works: {{grind the floor: {{passes: {passes}}}}}}}\n");
            let floor = floor(&sketch(mohs), &book);
            let rows = carried(&floor.order, &floor.facts());
            let used = |good| rows.iter().find(|r| r.good == good).map_or(0.0, |r| r.used);
            let ground_m2 = floor.takeoff.area.net_m2 - floor.takeoff.area.hand_edge_m2;
            let sets = ground_m2 * passes / (8000.0 * M2_PER_FT2 * life);
            assert!((used(Good::Diamonds) - sets).abs() < 1e-9, "{mohs}: {rows:?}");
            // 100 ft² of paint in two passes: 200 of 3,000.
            assert!((used(Good::RemovalSet) - 200.0 / 3000.0).abs() < 1e-9);
            let by_length = floor.takeoff.edge_m / (50.0 * M_PER_FT);
            let by_area = floor.takeoff.area.hand_edge_m2 / (25.0 * M2_PER_FT2);
            let hours = by_length.max(by_area);
            assert!((used(Good::CupWheel) - hours / 20.0).abs() < 1e-9, "{rows:?}");
            let kg = dust(&floor.takeoff, &floor.shop).iter().map(|d| d.mass_kg).sum::<f64>();
            assert!((used(Good::DustBag) - kg / (40.0 * KG_PER_LB)).abs() < 1e-9);
            assert!((used(Good::Filter) - kg / (2000.0 * KG_PER_LB)).abs() < 1e-9);
        }
    }

    #[test]
    fn nothing_to_do_takes_nothing() {
        let book = "days: {works: {grind the floor: {rate: 250 ft2/h}}}\ngrinding: {depth: 0\"}\n";
        let text = "slabwalk: 1\njob: {name: shed}\nslab: {outline: [[0, 0], [40', 0], [40', 30'], [0, 30']]}\n";
        let rows = {
            let floor = floor(text, book);
            carried(&floor.order, &floor.facts())
        };
        let goods: Vec<Good> = rows.iter().map(|row| row.good).collect();
        assert_eq!(goods, [Good::CupWheel, Good::Diamonds]);
    }
}
