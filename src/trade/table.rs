//! What each kind of work takes: hands, a machine, and which numbers the shop book has for it.

use super::{Kind, Machine};

/// A number that the shop book has for a kind of work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Key {
    /// Time before the work itself starts.
    SetUp,
    /// The least time it takes, whatever the quantity.
    Least,
    /// What one unit gets done in an hour.
    Rate,
    /// The same in joints with a former strip left in.
    WithStrip,
    /// Filled joint topped off in one round.
    TopOff,
    /// Spalls skimmed, not cut out.
    Skim,
    /// Concrete ground off, where that is the slower.
    Volume,
    /// Area done by hand, where that is the slower.
    Area,
    /// Passes over the floor, with a change of tooling between.
    Passes,
    /// Time for a change of tooling.
    Change,
    /// Share of the rate lost on hard concrete.
    HardLess,
    /// Time a cleaner is left to work.
    Dwell,
    /// Time after the work itself.
    CleanUp,
    /// Flakes or sand thrown into a coat, by one worker.
    Broadcast,
    /// Grit thrown into the last coat by who rolls it.
    Grit,
    /// On the first day.
    First,
    /// On every later day.
    Later,
    /// On the last day.
    Last,
    /// On every other day.
    Other,
    /// Passes that old paint or coating takes.
    Paint,
    /// Passes that adhesive takes.
    Adhesive,
    /// Passes that a sealer takes.
    Sealer,
    /// Passes that curing compound takes.
    CuringCompound,
}

/// What a number of the shop book is, and the unit it is kept in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// A time, s.
    Time,
    /// Length an hour, m/h.
    Length,
    /// Area an hour, m²/h.
    Area,
    /// Volume an hour, L/h.
    Volume,
    /// A share of one.
    Share,
    /// A whole number from 1.
    Count,
}

crate::text::in_json_by!(Key, word);

impl Key {
    /// How it is written in the shop book.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::SetUp => "set_up",
            Self::Least => "least",
            Self::Rate => "rate",
            Self::WithStrip => "with_strip",
            Self::TopOff => "top_off",
            Self::Skim => "skim",
            Self::Volume => "volume",
            Self::Area => "area",
            Self::Passes => "passes",
            Self::Change => "change",
            Self::HardLess => "hard_less",
            Self::Dwell => "dwell",
            Self::CleanUp => "clean_up",
            Self::Broadcast => "broadcast",
            Self::Grit => "grit",
            Self::First => "first",
            Self::Later => "later",
            Self::Last => "last",
            Self::Other => "other",
            Self::Paint => "paint",
            Self::Adhesive => "adhesive",
            Self::Sealer => "sealer",
            Self::CuringCompound => "curing_compound",
        }
    }

    /// What it says, for who writes a shop book.
    #[must_use]
    pub const fn about(self) -> &'static str {
        match self {
            Self::SetUp => "Time before the work itself starts.",
            Self::Least => "The least time it takes.",
            Self::Rate => "What one worker or machine gets done in an hour.",
            Self::WithStrip => "The same where a former strip was left in.",
            Self::TopOff => "Filled joint topped off in an hour.",
            Self::Skim => "Spalls skimmed in an hour.",
            Self::Volume => "Concrete ground off in an hour; the slower counts.",
            Self::Area => "Area done by hand in an hour; the slower counts.",
            Self::Passes => "Passes over the floor.",
            Self::Change => "Time for a change of tooling between passes.",
            Self::HardLess => "Share of the rate lost on hard concrete.",
            Self::Dwell => "Time the cleaner is left to work.",
            Self::CleanUp => "Time after the work itself.",
            Self::Broadcast => "Flakes or sand thrown in an hour, by one worker.",
            Self::Grit => "Grit thrown in an hour, by who rolls the coat.",
            Self::First => "On the first day.",
            Self::Later => "On every later day.",
            Self::Last => "On the last day.",
            Self::Other => "On every other day.",
            Self::Paint => "Passes that old paint or coating takes.",
            Self::Adhesive => "Passes that adhesive takes.",
            Self::Sealer => "Passes that a sealer takes.",
            Self::CuringCompound => "Passes that curing compound takes.",
        }
    }
}

/// What a kind of work takes.
#[derive(Clone, Copy, Debug)]
pub struct Row {
    /// Workers of one unit.
    pub hands: usize,
    /// Machine of one unit.
    pub machine: Option<Machine>,
    /// Most units side by side, where not the shop's machines say so.
    pub most: usize,
    /// May be broken off in the evening and taken up in the morning.
    pub cut: bool,
    /// Its numbers in the shop book.
    pub keys: &'static [(Key, Unit)],
}

/// A kind that the whole crew does, once a day.
const fn daily(keys: &'static [(Key, Unit)]) -> Row {
    Row { hands: 0, machine: None, most: 1, cut: false, keys }
}

/// A kind that one worker does by hand, at most so many at a time.
const fn hands(most: usize, keys: &'static [(Key, Unit)]) -> Row {
    Row { hands: 1, machine: None, most, cut: true, keys }
}

/// A kind that one worker does with a machine, as many at a time as there are machines.
const fn with(machine: Machine, keys: &'static [(Key, Unit)]) -> Row {
    Row { hands: 1, machine: Some(machine), most: usize::MAX, cut: true, keys }
}

/// What a kind of work takes. Hands and machines: common practice.
#[must_use]
pub const fn row(kind: Kind) -> Row {
    use Key as K;
    use Unit::{Area, Count, Length, Share, Time, Volume};
    match kind {
        Kind::SetUp => daily(&[(K::First, Time), (K::Later, Time)]),
        Kind::PackUp => daily(&[(K::Last, Time), (K::Other, Time)]),
        Kind::Mask => hands(2, &[(K::Least, Time), (K::Rate, Length)]),
        Kind::RemoveCoating => with(
            Machine::FloorGrinder,
            &[
                (K::SetUp, Time),
                (K::Rate, Area),
                (K::Paint, Count),
                (K::Adhesive, Count),
                (K::Sealer, Count),
                (K::CuringCompound, Count),
            ],
        ),
        Kind::Degrease => hands(2, &[(K::SetUp, Time), (K::Dwell, Time), (K::Rate, Area)]),
        Kind::SawJoints => {
            with(Machine::JointSaw, &[(K::SetUp, Time), (K::Rate, Length), (K::WithStrip, Length)])
        }
        Kind::DetailJoints => {
            with(Machine::HandGrinder, &[(K::Rate, Length), (K::WithStrip, Length)])
        }
        Kind::OpenBuried | Kind::ChaseCracks | Kind::Widen | Kind::CutTermination => {
            with(Machine::HandGrinder, &[(K::SetUp, Time), (K::Rate, Length)])
        }
        Kind::Patch => with(
            Machine::ChippingHammer,
            &[(K::SetUp, Time), (K::Least, Time), (K::Rate, Area), (K::Skim, Area)],
        ),
        Kind::Inject => hands(2, &[(K::SetUp, Time), (K::Rate, Area)]),
        Kind::CleanCuts => with(Machine::Vacuum, &[(K::Rate, Length)]),
        Kind::FillJoints => {
            with(Machine::FillingGun, &[(K::SetUp, Time), (K::Rate, Volume), (K::TopOff, Length)])
        }
        Kind::FillCracks => hands(1, &[(K::Least, Time), (K::Rate, Length)]),
        Kind::Shave => hands(2, &[(K::Rate, Length)]),
        Kind::GrindSteps => {
            with(Machine::HandGrinder, &[(K::SetUp, Time), (K::Rate, Length), (K::Volume, Volume)])
        }
        Kind::GrindEdges => with(Machine::HandGrinder, &[(K::Rate, Length), (K::Area, Area)]),
        Kind::GrindFloor => with(
            Machine::FloorGrinder,
            &[
                (K::SetUp, Time),
                (K::Rate, Area),
                (K::Passes, Count),
                (K::Change, Time),
                (K::HardLess, Share),
            ],
        ),
        // At the rate of the floor, of which it is the last part.
        Kind::GrindOver => with(Machine::FloorGrinder, &[]),
        Kind::FormCoves => hands(2, &[(K::SetUp, Time), (K::Rate, Length)]),
        Kind::PrepareFaces => with(Machine::HandGrinder, &[(K::SetUp, Time), (K::Rate, Area)]),
        Kind::Vacuum => with(Machine::Vacuum, &[(K::Rate, Area)]),
        Kind::Coat => Row {
            hands: 2,
            machine: None,
            most: 1,
            cut: false,
            keys: &[
                (K::SetUp, Time),
                (K::Rate, Area),
                (K::Broadcast, Area),
                (K::Grit, Area),
                (K::CleanUp, Time),
            ],
        },
        Kind::Abrade => with(Machine::FloorGrinder, &[(K::SetUp, Time), (K::Rate, Area)]),
        Kind::Scrape => hands(2, &[(K::SetUp, Time), (K::Rate, Area)]),
        Kind::RodAndSealant => hands(2, &[(K::SetUp, Time), (K::Rate, Length)]),
    }
}
