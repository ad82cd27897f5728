//! What a length may be.

use crate::quantity::read::Bare;
use crate::quantity::{Length, Units};

/// Which values a length may have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sign {
    /// Coordinates and heights.
    Any,
    /// Widths, stations, steps.
    NotNegative,
    /// Sizes of things that are there.
    Positive,
}

/// What is expected of a length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Rule {
    /// What it is called in messages: `the width`.
    pub name: &'static str,
    /// On the plan, so that a bare number is feet or meters rather than inches or millimeters.
    pub plan: bool,
    /// Which values it may have.
    pub sign: Sign,
    /// Beyond this nobody believes it.
    pub most: Length,
    /// What it mostly is; a number without a unit that lies outside is asked about.
    pub usual: Option<Usual>,
}

/// What a length mostly is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Usual {
    /// Of what: `the width of a joint`.
    pub of: &'static str,
    /// Seldom less.
    pub least: Length,
    /// Seldom more.
    pub most: Length,
}

impl Rule {
    /// A length on the plan.
    pub const fn plan(name: &'static str, sign: Sign, most: Length) -> Self {
        Self { name, plan: true, sign, most, usual: None }
    }

    /// A width, depth, step, thickness or height.
    pub const fn small(name: &'static str, sign: Sign, most: Length) -> Self {
        Self { name, plan: false, sign, most, usual: None }
    }

    /// The same rule, asking about what is seldom.
    pub const fn usually(self, of: &'static str, least: Length, most: Length) -> Self {
        let usual = Some(Usual { of, least, most });
        Self { usual, ..self }
    }

    /// The same rule for something with another name.
    pub const fn called(self, name: &'static str) -> Self {
        Self { name, ..self }
    }

    /// What a bare number means.
    pub const fn bare(&self, units: Units) -> Bare {
        if self.plan { Bare::Plan(units) } else { Bare::Small(units) }
    }
}
