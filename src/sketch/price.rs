//! What a sketch says about the price of its job.

use rust_decimal::Decimal;

use super::{At, JointTreatment, Span};

/// The `price:` part.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PriceNotes {
    /// Driven on one trip, there and back, km.
    pub travel: Option<At<Decimal>>,
    /// Trips; left out = one for every working day of the plan.
    pub trips: Option<At<usize>>,
    /// `false`: no tax on this job's materials.
    pub tax: Option<bool>,
    /// Other ways to do the job, each with its price.
    pub alternates: Vec<Alternate>,
    /// Unit prices that were agreed, in place of computed ones.
    pub unit_prices: Vec<AgreedPrice>,
}

/// Another way to do the job.
#[derive(Clone, Debug, PartialEq)]
pub struct Alternate {
    /// What it is called.
    pub name: At<String>,
    /// Another coating system.
    pub system: Option<At<String>>,
    /// Moisture mitigation below the system.
    pub mitigation: bool,
    /// Another treatment for all joints of a kind that are in the job.
    pub treatments: KindTreatments,
    /// Floor that is not in the sketch, coated as well, m².
    pub area_m2: Option<At<f64>>,
}

/// Treatments by kind of joint; what is left out stays as it is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct KindTreatments {
    /// What is done with control joints instead.
    pub control: Option<JointTreatment>,
    /// What is done with construction joints instead.
    pub construction: Option<JointTreatment>,
    /// What is done with isolation joints instead.
    pub isolation: Option<JointTreatment>,
}

/// A kind of work that has a price of its own per foot, square foot, bag or package.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum UnitKind {
    /// A foot (meter) of joint, cut, filled and shaved.
    Joint,
    /// A foot of buried joint opened.
    JointOpen,
    /// A foot of joint honored with rod and sealant.
    JointHonor,
    /// A foot of crack filled with thin resin.
    Crack,
    /// A foot of crack cut open and filled.
    CrackChase,
    /// A square foot ground by hand.
    HandGrind,
    /// A bag of patch mortar, placed.
    Patch,
    /// A square foot of delamination drilled and injected.
    Inject,
    /// A package of joint filler more, placed, where a cut is deeper or wider.
    Filler,
    /// A square foot of floor, ground and coated.
    Floor,
}

crate::text::in_json_by!(UnitKind, key);

impl UnitKind {
    /// All kinds, in the order they are printed.
    pub const ALL: [Self; 10] = [
        Self::Joint,
        Self::JointOpen,
        Self::JointHonor,
        Self::Crack,
        Self::CrackChase,
        Self::HandGrind,
        Self::Patch,
        Self::Inject,
        Self::Filler,
        Self::Floor,
    ];

    /// Its key in a sketch and in JSON.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Joint => "joint",
            Self::JointOpen => "joint_open",
            Self::JointHonor => "joint_honor",
            Self::Crack => "crack",
            Self::CrackChase => "crack_chase",
            Self::HandGrind => "hand_grind",
            Self::Patch => "patch",
            Self::Inject => "inject",
            Self::Filler => "filler",
            Self::Floor => "floor",
        }
    }
}

/// A unit price that was agreed.
#[derive(Clone, Debug, PartialEq)]
pub struct AgreedPrice {
    /// Which work it is the price of.
    pub kind: UnitKind,
    /// Per foot or square foot (meter or square meter under metric), bag or package.
    pub amount: At<Decimal>,
}

/// What the job really took.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct UsedNotes {
    /// The `used:` key; `None` where the job has no record.
    pub span: Option<Span>,
    /// Packages opened, by the name of the order; layers as `flake: base coat`. Parts of a
    /// package count as parts.
    pub packages: Vec<(At<String>, f64)>,
    /// Worker hours, by the name of the task in the plan.
    pub hours: Vec<(At<String>, f64)>,
    /// Moisture in the slab on the day, share of one.
    pub rh: Option<f64>,
    /// Photographs of the finished work, paths relative to the sketch.
    pub photos: Vec<At<String>>,
    /// Free note.
    pub note: Option<String>,
}
