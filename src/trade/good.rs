//! Goods that wear: blades, diamonds, rollers, gloves. A good is an identity; its name is for printing.

use super::Kind;

/// A good that is worn or used up by the work and becomes no part of the floor.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Good {
    /// Static mixer of a cartridge.
    Mixer,
    /// Dry sand that chokes the bottom of a chase.
    Sand,
    /// Blade of the joint saw.
    SawBlade,
    /// Cutting wheel of the hand grinder.
    Wheel,
    /// Cup wheel of the hand grinder.
    CupWheel,
    /// A set of diamonds for the floor grinder.
    Diamonds,
    /// A set of segments that take old coatings off.
    RemovalSet,
    /// Masking tape.
    Tape,
    /// Masking film.
    Film,
    /// Brush that cuts in along edges.
    Brush,
    /// Roller cover.
    Roller,
    /// Rubber of a squeegee.
    Squeegee,
    /// Pail in which a batch is mixed.
    Pail,
    /// Mixing paddle.
    Paddle,
    /// Spiked shoes.
    Shoes,
    /// Gloves that resins don't go through.
    Gloves,
    /// Solvent that tools are cleaned with.
    Solvent,
    DustBag,
    /// Filter cartridge of the vacuum.
    Filter,
}

/// What wears a good.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum By {
    /// Every cartridge of joint filler.
    Cartridge,
    /// The bottom of every chase, by weight.
    Chase,
    /// The length of these works, each counted so many times: both sides of a joint are taped.
    Run(&'static [(Kind, f64)]),
    /// The time of these works, set-ups left out.
    Time(&'static [Kind]),
    /// The area of these works, pass by pass.
    Area(&'static [Kind]),
    /// The same, as hard or soft concrete wears diamonds.
    Hardness(&'static [Kind]),
    /// The area of every coat, each for itself: what has set in it lays no other.
    Coat,
    /// Every batch that is mixed.
    Batch,
    /// Every worker at each of these works.
    Worker(&'static [Kind]),
    /// Each of these works.
    Work(&'static [Kind]),
    /// Concrete dust, by weight.
    Dust,
}

/// What one good is enough for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// m.
    Length,
    /// m².
    Area,
    /// s.
    Time,
    /// kg.
    Mass,
    /// A whole number from 1.
    Count,
}

impl By {
    /// What the shop book says one good is enough for.
    #[must_use]
    pub const fn unit(self) -> Measure {
        match self {
            Self::Run(_) => Measure::Length,
            Self::Time(_) => Measure::Time,
            Self::Area(_) | Self::Hardness(_) | Self::Coat => Measure::Area,
            Self::Chase | Self::Dust => Measure::Mass,
            Self::Cartridge | Self::Batch | Self::Worker(_) | Self::Work(_) => Measure::Count,
        }
    }
}

/// A good with what wears it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wears {
    pub good: Good,
    /// What it is called in the shop book, among the prices and in every output.
    pub name: &'static str,
    /// What wears it.
    pub by: By,
    /// The same in words, after the quantity: `11.2 ft sawn`.
    pub what: &'static str,
    /// Every worker who lays a coat has one, however little it wears.
    pub own: bool,
}

/// Works at which resin is on the hands.
const RESIN: &[Kind] = &[
    Kind::Patch,
    Kind::Inject,
    Kind::FillJoints,
    Kind::FillCracks,
    Kind::FormCoves,
    Kind::Coat,
    Kind::RodAndSealant,
];

const fn wears(good: Good, name: &'static str, by: By, what: &'static str) -> Wears {
    Wears { good, name, by, what, own: false }
}

/// Every good, in the order of use. One entry adds one; what one is enough for stands in the shop book.
const GOODS: [Wears; 19] = [
    wears(Good::Mixer, "static mixer", By::Cartridge, "cartridges"),
    wears(
        Good::Sand,
        "dry sand, bag",
        By::Chase,
        "at the bottom of every chase of a joint or crack",
    ),
    wears(
        Good::SawBlade,
        "joint saw blade",
        By::Run(&[(Kind::SawJoints, 1.0)]),
        "sawn, every pass counted",
    ),
    wears(
        Good::Wheel,
        "hand grinder wheel",
        By::Run(&[
            (Kind::DetailJoints, 1.0),
            (Kind::OpenBuried, 1.0),
            (Kind::ChaseCracks, 1.0),
            (Kind::Widen, 1.0),
            (Kind::CutTermination, 1.0),
        ]),
        "cut, opened, widened and keyed by hand",
    ),
    wears(
        Good::CupWheel,
        "cup wheel",
        By::Time(&[Kind::GrindEdges, Kind::GrindSteps, Kind::PrepareFaces]),
        "of edges, offsets and faces ground by hand",
    ),
    wears(
        Good::Diamonds,
        "diamond set",
        By::Hardness(&[Kind::GrindFloor, Kind::GrindOver]),
        "ground by machine, every pass counted",
    ),
    wears(
        Good::RemovalSet,
        "removal segment set",
        By::Area(&[Kind::RemoveCoating]),
        "of old coating or adhesive taken off, every pass counted",
    ),
    wears(
        Good::Tape,
        "masking tape, roll",
        By::Run(&[(Kind::Mask, 1.0), (Kind::RodAndSealant, 2.0)]),
        "of edges kept clean and of both sides of honored joints and cracks",
    ),
    wears(Good::Film, "masking film, roll", By::Run(&[(Kind::Mask, 1.0)]), "of edges kept clean"),
    wears(Good::Brush, "brush", By::Coat, "of coats, each by itself"),
    wears(Good::Roller, "roller cover", By::Coat, "of coats, each by itself"),
    wears(Good::Squeegee, "squeegee rubber", By::Coat, "of coats, each by itself"),
    wears(Good::Pail, "mixing pail", By::Batch, "batches mixed"),
    wears(Good::Paddle, "mixing paddle", By::Batch, "batches mixed"),
    Wears {
        own: true,
        ..wears(
            Good::Shoes,
            "spiked shoes, pair",
            By::Worker(&[Kind::Coat]),
            "times that a worker is in a wet coat",
        )
    },
    wears(
        Good::Gloves,
        "gloves, box",
        By::Worker(RESIN),
        "times that a worker takes up a coat, filler, mortar or sealant",
    ),
    wears(
        Good::Solvent,
        "solvent, can",
        By::Work(&[Kind::Coat]),
        "coats after which tools are cleaned",
    ),
    wears(Good::DustBag, "dust bag", By::Dust, "of dust and rubble"),
    wears(Good::Filter, "vacuum filter", By::Dust, "of dust and rubble"),
];

crate::text::in_json_by!(Good, name);

impl Good {
    /// Every good with what wears it, in the order of use.
    pub fn all() -> impl Iterator<Item = Wears> {
        GOODS.into_iter()
    }

    /// Its entry.
    #[must_use]
    pub const fn wears(self) -> Wears {
        GOODS[self as usize]
    }

    /// What it is called in the shop book, among the prices and in every output.
    #[must_use]
    pub const fn name(self) -> &'static str {
        GOODS[self as usize].name
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_good_stands_in_its_own_place() {
        for (place, wears) in Good::all().enumerate() {
            assert_eq!(wears.good as usize, place, "{}", wears.name);
        }
    }
}
