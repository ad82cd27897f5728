//! The shop book as the program uses it. The built-in values and their sources stand in
//! `built_in.yaml` beside this file; a shop's own file overrides them key by key.

use std::collections::BTreeMap;

use crate::quantity::{Coverage, Length, Mass, Ratio, Span, Spread, Temperature, Volume};
use crate::sketch::{BlemishKind, Coating, JointKind, JointTreatment};
use crate::trade::{Good, Key, Kind, Layers, Product};

use super::{Days, Origin, Prices, ProposalWords};

/// Standing data of one shop.
#[derive(Clone, Debug, PartialEq)]
pub struct Shop {
    /// Sawing out of joints.
    pub chase: Chase,
    /// What is done with a joint that names no treatment.
    pub treatments: Treatments,
    /// Rigid joint filler.
    pub filler: Filler,
    /// Flexible sealant for honored joints.
    pub sealant: Sealant,
    /// Backer rod that goes below sealant.
    pub backer_rod: BackerRod,
    /// Which width of a crack gets which repair.
    pub cracks: CrackRules,
    /// Which spalls are patched, and to which sizes.
    pub spalls: SpallRules,
    /// Delaminations.
    pub delaminations: DelaminationRules,
    /// Floor grinding and lippage.
    pub grinding: Grinding,
    /// How panels are found between joints.
    pub panels: PanelRules,
    /// The most moisture that a coating takes, and what goes below it where there is more.
    pub moisture: MoistureRules,
    /// Least ages of the slab.
    pub age: AgeRules,
    /// Which diamonds for which hardness, soft to hard.
    pub tooling: Vec<Tooling>,
    /// Goods that wear, and what each is enough for.
    pub wear: Wear,
    /// The working day and what gets done in an hour.
    pub days: Days,
    /// What things cost and how a price is built.
    pub prices: Prices,
    /// How the need of coats and of broadcast goods varies.
    pub coating: CoatingRules,
    /// The kerf that keys a termination.
    pub termination: Kerf,
    /// Coves at the foot of faces.
    pub coves: CoveRules,
    /// Washing out oil, and what comes off with old coatings.
    pub surface: SurfaceRules,
    /// Coating systems by name.
    pub systems: BTreeMap<String, System>,
    /// The words of the proposal.
    pub proposal: ProposalWords,
    /// The book without the moisture mitigation that [`Shop::of_job`] put below its systems; `None`
    /// where none was put.
    pub plain: Option<Box<Self>>,
}

impl Shop {
    /// Diamonds for concrete of a Mohs hardness; `None` where the book lists none.
    #[must_use]
    pub fn tooling_at(&self, mohs: f64) -> Option<&Tooling> {
        let softer = self.tooling.iter().find(|row| mohs < row.mohs_below);
        softer.or(self.tooling.last())
    }
}

/// Sawing out of joints.
#[derive(Clone, Debug, PartialEq)]
pub struct Chase {
    /// Width of the blade.
    pub blade: Length,
    /// Least depth of a chase.
    pub depth: Length,
    /// Greatest depth of a chase.
    pub deepest: Length,
    /// How far from an obstacle the saw stops.
    pub saw_clearance: Length,
    /// Wander up to which a joint is sawn straight.
    pub saw_wander: Length,
    /// Concrete that has to stay between a cut and what lies in the slab.
    pub cover_margin: Length,
    /// Dry sand at the bottom of a chase, height.
    pub choke: Length,
}

/// Default treatment by kind of joint.
#[derive(Clone, Debug, PartialEq)]
pub struct Treatments {
    /// What is done with a control joint.
    pub control: JointTreatment,
    /// What is done with a construction joint.
    pub construction: JointTreatment,
    /// What is done with an isolation joint.
    pub isolation: JointTreatment,
}

impl Treatments {
    /// What is done with joints of this kind.
    #[must_use]
    pub const fn of(&self, kind: JointKind) -> JointTreatment {
        match kind {
            JointKind::Control => self.control,
            JointKind::Construction => self.construction,
            JointKind::Isolation => self.isolation,
        }
    }
}

/// Rigid joint filler.
#[derive(Clone, Debug, PartialEq)]
pub struct Filler {
    /// Contents of one package.
    pub package: Volume,
    /// Bought on top.
    pub waste: Ratio,
    /// Standard deviation of a width, per joint.
    pub width_sd: Length,
    /// Standard deviation of a depth, per joint.
    pub depth_sd: Length,
    /// Standard deviation of the yield, common to all joints.
    pub yield_sd: Ratio,
    /// What it is made of.
    pub resin: Resin,
    /// How it is bought and charged.
    pub buying: Buying,
}

/// Flexible sealant for honored joints and cracks.
#[derive(Clone, Debug, PartialEq)]
pub struct Sealant {
    /// Contents of one package.
    pub package: Volume,
    /// Bought on top.
    pub waste: Ratio,
    /// Least width that is sealed; narrower joints and cracks are widened.
    pub least_width: Length,
    /// What it is made of.
    pub resin: Resin,
    /// How it is bought and charged.
    pub buying: Buying,
}

/// Rod that goes below sealant, in its stock diameters.
#[derive(Clone, Debug, PartialEq)]
pub struct BackerRod {
    /// Stock diameters, ascending.
    pub sizes: Vec<Length>,
    /// Bought on top.
    pub waste: Ratio,
    /// How it is bought and charged.
    pub buying: Buying,
}

/// Which width of a crack gets which repair, and the resin for it.
#[derive(Clone, Debug, PartialEq)]
pub struct CrackRules {
    /// Narrower than this: the primer is enough.
    pub prime_below: Length,
    /// From this on: cut open, then filled.
    pub chase_from: Length,
    /// Width the crack is cut open to.
    pub chase_width: Length,
    /// Depth the crack is cut open to.
    pub chase_depth: Length,
    /// Depth thin resin is taken to reach.
    pub fill_depth: Length,
    /// Wider than this: a licensed engineer's opinion is wanted.
    pub engineer_from: Length,
    /// Step above which a licensed engineer's opinion is wanted.
    pub engineer_step: Length,
    /// One package of crack resin.
    pub package: Volume,
    /// Bought on top.
    pub waste: Ratio,
    /// What the crack resin is made of.
    pub resin: Resin,
    /// How it is bought and charged.
    pub buying: Buying,
}

/// Whose sizes patches are cut to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SpallRule {
    /// Those of a floor that is coated: no wider than what is broken wants.
    Floor,
    /// Those of partial-depth repairs of highways.
    Pavement,
}

impl SpallRule {
    /// Its word in the shop book, and the key of its sizes.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Floor => "floor",
            Self::Pavement => "pavement",
        }
    }
}

/// How large patches are under one rule.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PatchSizes {
    /// Added to the patch on every side.
    pub extend: Length,
    /// Least length of a patch.
    pub length: Length,
    /// Least width of a patch.
    pub width: Length,
    /// Patches nearer to each other than this may become one.
    pub apart: Length,
    /// A spall no longer than this is skimmed or cored, however deep.
    pub pop_out: Length,
}

/// Which spalls are patched, to which sizes, and the mortar for them.
#[derive(Clone, Debug, PartialEq)]
pub struct SpallRules {
    /// Whose sizes are in force.
    pub rule: SpallRule,
    /// The sizes in force.
    pub sizes: PatchSizes,
    /// Patches don't become one that is larger than this, m².
    pub largest_m2: f64,
    /// Nor one of which they fill less than this share.
    pub filled: Ratio,
    /// From this depth on: squared and cut out.
    pub cut_out_from: Length,
    /// Least depth of a patch.
    pub least_depth: Length,
    /// One bag of patching mortar.
    pub package: Mass,
    /// Mortar in place from one bag.
    pub yield_: Volume,
    /// Bought on top.
    pub waste: Ratio,
    /// How it is bought and charged.
    pub buying: Buying,
}

/// Rules for delaminations.
#[derive(Clone, Debug, PartialEq)]
pub struct DelaminationRules {
    /// Added to the patch on every side.
    pub extend: Length,
    /// Patches around them nearer to another than this may become one with it.
    pub apart: Length,
    /// Thickness of the loose layer where the sketch gives none.
    pub depth: Length,
    /// Distance from port to port.
    pub spacing: Length,
    /// Thickness of the gap that is filled.
    pub gap: Length,
    /// Diameter of the hole under a port.
    pub hole: Length,
    /// One package of injection resin.
    pub package: Volume,
    /// Bought on top.
    pub waste: Ratio,
    /// What the injection resin is made of.
    pub resin: Resin,
    /// How it is bought and charged.
    pub buying: Buying,
}

/// A kerf along the end of a coating on open floor: cut by hand, filled with the base coat.
#[derive(Clone, Debug, PartialEq)]
pub struct Kerf {
    /// Width of the cut.
    pub width: Length,
    /// Depth of the cut.
    pub depth: Length,
}

/// Coves at the foot of faces.
#[derive(Clone, Debug, PartialEq)]
pub struct CoveRules {
    /// Radius where the sketch gives none.
    pub radius: Length,
    /// One bag of cove mortar.
    pub package: Mass,
    /// Mortar in place from one bag.
    pub yield_: Volume,
    /// Bought on top.
    pub waste: Ratio,
}

/// Goods for washing out oil, and what comes off with old coatings.
#[derive(Clone, Debug, PartialEq)]
pub struct SurfaceRules {
    /// One can of degreaser.
    pub degreaser: Volume,
    /// Oily floor that it washes.
    pub coverage: Coverage,
    /// What comes off with paint.
    pub paint: Spread,
    /// What comes off with adhesive.
    pub adhesive: Spread,
    /// What comes off with a sealer.
    pub sealer: Spread,
    /// What comes off with curing compound.
    pub curing_compound: Spread,
}

impl SurfaceRules {
    /// What comes off with a surface that is ground away, kg/m²; nothing of what is not.
    #[must_use]
    pub const fn comes_off(&self, what: BlemishKind) -> f64 {
        match what {
            BlemishKind::Paint => self.paint.kg_per_m2(),
            BlemishKind::Adhesive => self.adhesive.kg_per_m2(),
            BlemishKind::Sealer => self.sealer.kg_per_m2(),
            BlemishKind::CuringCompound => self.curing_compound.kg_per_m2(),
            _ => 0.0,
        }
    }
}

/// Grinding of the floor, and of steps between panels.
#[derive(Clone, Debug, PartialEq)]
pub struct Grinding {
    /// Step from which a hand grinder goes first.
    pub hand_from: Length,
    /// Run of the feather over its height.
    pub feather: f64,
    /// Diameter of the floor grinder's head.
    pub head: Length,
    /// How far the head stays off an edge.
    pub edge_gap: Length,
    /// Depth taken off the whole floor.
    pub depth: Length,
    /// Step above which grinding is not the repair.
    pub hand_most: Length,
    /// Slab that has to be left under a step that is ground down.
    pub least_slab: Length,
}

/// How panels are found between joints.
#[derive(Clone, Debug, PartialEq)]
pub struct PanelRules {
    /// A joint end this close to another joint or an edge is taken to reach it.
    pub snap: Length,
}

/// The most moisture that a coating takes, and what goes below it where there is more.
#[derive(Clone, Debug, PartialEq)]
pub struct MoistureRules {
    /// What the coating of the job takes: by itself, or with mitigation below it.
    pub limits: MoistureLimits,
    /// What is put below a coating on a slab that is moister.
    pub mitigation: Mitigation,
}

/// The most moisture that something takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MoistureLimits {
    /// Where they stand in the shop book: `moisture`, `moisture.mitigation`.
    pub key: &'static str,
    /// Relative humidity in the slab (ASTM F2170).
    pub rh: Ratio,
    /// Vapor emission, lb per 1000 ft² in 24 h (ASTM F1869).
    pub mver: f64,
}

/// Moisture mitigation: layers that go below any coating system.
#[derive(Clone, Debug, PartialEq)]
pub struct Mitigation {
    /// The most moisture that it takes.
    pub limits: MoistureLimits,
    /// Profile that it wants; `None` where the book does not say.
    pub profile: Option<Profile>,
    /// Least passes of the floor grinder for that profile; `None` where the book does not say.
    pub passes: Option<usize>,
    /// Its layers, from the slab up.
    pub layers: Vec<Layer>,
}

impl Mitigation {
    /// What it is made of: `moisture-mitigation primer`.
    #[must_use]
    pub fn in_words(&self) -> String {
        let names: Vec<&str> = self.layers.iter().map(|layer| layer.name.as_str()).collect();
        names.join(" and ")
    }
}

/// Roughness of the ground concrete: the chips of ICRI 310.2R, from 1 to 10.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Profile {
    /// The roughest that is wanted.
    pub to: u8,
    /// The smoothest that is wanted.
    pub from: u8,
}

crate::text::in_json_by!(Profile);

impl std::fmt::Display for Profile {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match (self.from, self.to) {
            (from, to) if from == to => write!(f, "CSP {to}"),
            (from, to) => write!(f, "CSP {from}-{to}"),
        }
    }
}

/// Least ages of the slab when work on it starts.
#[derive(Clone, Debug, PartialEq)]
pub struct AgeRules {
    /// For rigid joint filler: joints go on opening while the slab shrinks.
    pub filler: Span,
    /// For the first coat.
    pub coating: Span,
}

/// What a liquid product is made of, as far as it decides how people are protected.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Resin {
    /// Epoxy with an amine hardener.
    Epoxy,
    /// Polyurea; one part holds isocyanates.
    Polyurea,
    /// Polyaspartic; one part holds isocyanates.
    Polyaspartic,
    /// Polyurethane; one part holds isocyanates.
    Polyurethane,
}

impl Resin {
    /// Whether a part of it holds isocyanates.
    #[must_use]
    pub const fn has_isocyanates(self) -> bool {
        !matches!(self, Self::Epoxy)
    }
}

/// Diamonds for a range of hardness.
#[derive(Clone, Debug, PartialEq)]
pub struct Tooling {
    /// For a Mohs hardness below this (and not below the row before).
    pub mohs_below: f64,
    /// Which diamonds, in the shop's words.
    pub use_: String,
    /// What a set of them lasts here, share of what it lasts in concrete of middling hardness.
    pub life: Ratio,
}

/// How the need of coats and of broadcast goods varies: each layer for itself, all of a layer together.
#[derive(Clone, Debug, PartialEq)]
pub struct CoatingRules {
    /// Standard deviation of the volume that an area takes of a liquid, share of it.
    pub coverage_sd: Ratio,
    /// Standard deviation of the weight that an area takes of broadcast goods, share of it.
    pub rate_sd: Ratio,
    /// How it is bought and charged.
    pub buying: Buying,
}

/// A coating system: its layers, and when it can be walked and driven on.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct System {
    /// Layers, from the slab up.
    pub layers: Vec<Layer>,
    /// First foot and first vehicle after the last coat, by slab temperature, cold to warm; empty
    /// where the book does not say.
    pub cure: Vec<Times>,
    /// Profile that it wants; `None` where the book does not say.
    pub profile: Option<Profile>,
    /// Passes of the floor grinder; `None`: those of the work.
    pub passes: Option<usize>,
    /// How many of the layers, from the slab up, are moisture mitigation.
    pub mitigating: usize,
}

impl System {
    /// The coat that fills the kerf of a termination, by index: the first into which something is
    /// thrown, else the first above moisture mitigation.
    #[must_use]
    pub fn base_coat(&self) -> Option<usize> {
        let liquid = |layer: &Layer| !matches!(layer.amount, Amount::Broadcast { .. });
        let thrown_into = |name: &str| self.layers.iter().any(|l| l.into.as_deref() == Some(name));
        let above = || self.layers.iter().enumerate().skip(self.mitigating);
        let coats = || above().filter(|(_, layer)| liquid(layer));
        let broadcast = coats().find(|(_, layer)| thrown_into(&layer.name));
        broadcast.or_else(|| coats().next()).map(|(place, _)| place)
    }

    /// The layers with what each is to the order: a layer of the system, or of moisture mitigation.
    pub fn products<'a>(&'a self, name: &'a str) -> impl Iterator<Item = (Product, &'a Layer)> {
        self.layers.iter().enumerate().map(move |(place, layer)| {
            let under = if place < self.mitigating {
                Layers::Mitigation
            } else {
                Layers::System(name.to_owned())
            };
            (Product::Layer(under, layer.name.clone()), layer)
        })
    }
}

impl Shop {
    /// The coating system of a job, where it names one of the book.
    #[must_use]
    pub fn system_of(&self, coating: &Coating) -> Option<&System> {
        self.systems.get(&coating.system.as_ref()?.value)
    }

    /// Passes of the floor grinder under a system.
    #[must_use]
    pub fn passes(&self, system: Option<&System>) -> f64 {
        let of_work = self.days.works.get(Kind::GrindFloor, Key::Passes);
        let own = system.and_then(|system| system.passes);
        own.map_or(of_work, |own| own as f64)
    }

    /// Whether moisture mitigation lies below the systems of this book.
    #[must_use]
    pub const fn is_mitigated(&self) -> bool {
        self.plain.is_some()
    }

    /// The book of a job, with moisture mitigation or without it. With it every system lies on its layers and takes
    /// as much moisture as they do, with the rougher of both profiles and the more passes of both.
    #[must_use]
    pub fn of_job(self, mitigation: bool) -> Self {
        match (self.plain, mitigation) {
            (Some(plain), false) => *plain,
            (plain, true) if plain.is_none() => Self { plain, ..self }.mitigated(),
            (plain, _) => Self { plain, ..self },
        }
    }

    fn mitigated(self) -> Self {
        let plain = Some(Box::new(self.clone()));
        let mut book = Self { plain, ..self };
        let below = &book.moisture.mitigation;
        let of_work = book.days.works.get(Kind::GrindFloor, Key::Passes) as usize;
        for system in book.systems.values_mut() {
            system.layers.splice(0..0, below.layers.iter().cloned());
            system.mitigating = below.layers.len();
            system.profile = system.profile.max(below.profile);
            let own = system.passes.unwrap_or(of_work);
            system.passes = below.passes.map_or(system.passes, |least| Some(own.max(least)));
        }
        book.moisture.limits = book.moisture.mitigation.limits;
        book
    }
}

/// What the customer chooses of a layer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choice {
    /// The color of a coat.
    Color,
    /// The blend of what is broadcast, with its size.
    Blend,
    /// The sheen of a coat.
    Sheen,
}

crate::text::in_json_by!(Choice, word);

impl Choice {
    /// Its word in the shop book, its key in the sketch, and its name in every output.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Color => "color",
            Self::Blend => "blend",
            Self::Sheen => "sheen",
        }
    }

    /// How it is written in a sketch.
    #[must_use]
    pub const fn example(self) -> &'static str {
        match self {
            Self::Color => "color: slate",
            Self::Blend => "blend: river stone",
            Self::Sheen => "sheen: satin",
        }
    }
}

/// One layer of a system.
#[derive(Clone, Debug, PartialEq)]
pub struct Layer {
    /// What it is called.
    pub name: String,
    /// How much of it goes on.
    pub amount: Amount,
    /// Must come from one lot, so it is rounded per floor.
    pub one_lot: bool,
    /// How it is charged; `None`: as the coats of the book are.
    pub charged: Option<Charged>,
    /// What the customer chooses of it.
    pub chosen: Vec<Choice>,
    /// Mixing ratio by volume, as printed: `2:1`.
    pub mix: Option<String>,
    /// The most of a liquid that is mixed at once, and where the book says so; `None` where it does not.
    pub batch: Option<(Volume, Origin)>,
    /// How long a batch can be worked with after mixing, by slab temperature, cold to warm; empty where
    /// the book does not say.
    pub pot_life: PotLife,
    /// Broadcast into this layer.
    pub into: Option<String>,
    /// What a liquid is made of; `None` where the book does not say.
    pub resin: Option<Resin>,
    /// Whether a liquid holds solvent; `None` where the book does not say.
    pub solvent: Option<bool>,
    /// When the next coat may go on, by slab temperature, cold to warm; empty where the book does
    /// not say.
    pub recoat: Vec<Times>,
}

/// How long a batch can be worked with after mixing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PotLife {
    /// By slab temperature, cold to warm; the second time of a row is not used.
    pub rows: Vec<Times>,
    /// Where it is written.
    pub at: Option<Origin>,
}

/// How much of a layer goes on an area, and what it is bought in.
#[derive(Clone, Debug, PartialEq)]
pub enum Amount {
    /// A liquid by its coverage.
    Coverage {
        /// Area per volume on the can, before loss.
        coverage: Coverage,
        /// Share that never reaches the floor.
        loss: Ratio,
        /// Contents of one kit.
        kit: Volume,
    },
    /// A liquid by its dry film.
    Film {
        /// Dry film thickness.
        dft: Length,
        /// Solids by volume.
        solids: Ratio,
        /// Share that never reaches the floor.
        loss: Ratio,
        /// Contents of one kit.
        kit: Volume,
    },
    /// Goods thrown into a wet coat.
    Broadcast {
        /// Mass per area.
        rate: Spread,
        /// Thrown beside the floor or swept off it, bought on top.
        waste: Ratio,
        /// Share of what is thrown that is scraped off clean and can be thrown again.
        reclaimed: Ratio,
        /// Contents of one package.
        package: Mass,
    },
}

/// Two times counted from the end of a coat, at one slab temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Times {
    /// Temperature of the slab.
    pub at: Temperature,
    /// Window opens; or first foot.
    pub first: Span,
    /// Window closes; or first vehicle.
    pub last: Span,
}

/// How a good is charged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Charged {
    /// Every package that is bought: what is left over is of no use to the next job.
    Whole,
    /// The part that is used: the rest goes into the next job.
    Used,
}

crate::text::in_json_by!(Charged, word);

impl Charged {
    /// Its word in the shop book and in every output.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Whole => "whole",
            Self::Used => "used",
        }
    }
}

/// How a product is bought and charged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Buying {
    /// Bought on top of the need, share of it, because it can't be fetched in the middle of the work.
    pub reserve: Ratio,
    /// How it is charged.
    pub charged: Charged,
}

impl Buying {
    /// Whole packages, and no reserve.
    pub const WHOLE: Self = Self { reserve: Ratio::from_one(0.0), charged: Charged::Whole };
}

/// What one of a good that wears is enough for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worn {
    /// In the unit of what wears it: m, m², s, kg or a count.
    pub each: f64,
    /// Taken along on top.
    pub spare: u64,
    /// How it is charged.
    pub charged: Charged,
}

/// The goods that wear, all of them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Wear(pub BTreeMap<Good, Worn>);

impl Wear {
    /// What one of a good is enough for; without end where the book does not say.
    #[must_use]
    pub fn of(&self, good: Good) -> Worn {
        self.0.get(&good).copied().unwrap_or(Worn {
            each: f64::INFINITY,
            spare: 0,
            charged: Charged::Used,
        })
    }
}
