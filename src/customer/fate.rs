//! What becomes of a thing on the floor, in the words of the person who pays for it.

use crate::quantity::write::fixed;
use crate::quantity::{M_PER_FT, M2_PER_FT2, Units};

/// What becomes of a joint, a crack, a spot or an area; in the order of the key.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Fate {
    /// A joint filled and coated over.
    JointFilled,
    /// A joint that moves and is filled all the same.
    JointFilledMoving,
    /// A joint carried through the coating and sealed.
    JointSealed,
    /// A joint under concrete, opened first.
    JointHidden,
    /// A joint nothing is done with.
    JointLeft,
    /// A still crack, filled.
    CrackRepaired,
    /// A still hairline crack under the primer.
    CrackPrimed,
    /// A treated crack nobody knows about.
    CrackMayReturn,
    /// A treated crack that moves.
    CrackReturns,
    /// A crack carried through the coating and sealed.
    CrackSealed,
    /// A crack nothing is done with.
    CrackLeft,
    /// Missing concrete, made good.
    Spot,
    /// Hollow concrete, filled with resin.
    Hollow,
    /// Hollow concrete that nothing is done with.
    HollowLeft,
    /// A step taken down by hand.
    HighEdge,
    /// A step the floor grinder only softens.
    SmallStep,
    /// An area that is cleaned, stripped or ground to sound concrete first.
    Surface,
    /// A place where water is likely to stand.
    LowSpot,
    /// A part of the floor outside the job.
    Uncoated,
}

/// What kind of thing a fate is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Thing {
    Joint,
    Crack,
    Spot,
    Edge,
    Area,
}

impl Fate {
    /// Every fate, in the order of the key.
    #[cfg(test)]
    pub(crate) const ALL: [Self; 19] = [
        Self::JointFilled,
        Self::JointFilledMoving,
        Self::JointSealed,
        Self::JointHidden,
        Self::JointLeft,
        Self::CrackRepaired,
        Self::CrackPrimed,
        Self::CrackMayReturn,
        Self::CrackReturns,
        Self::CrackSealed,
        Self::CrackLeft,
        Self::Spot,
        Self::Hollow,
        Self::HollowLeft,
        Self::HighEdge,
        Self::SmallStep,
        Self::Surface,
        Self::LowSpot,
        Self::Uncoated,
    ];

    /// Its line in the key.
    pub(crate) const fn title(self) -> &'static str {
        match self {
            Self::JointFilled => "Joints filled and coated over",
            Self::JointFilledMoving => "Moving joints filled, will show",
            Self::JointSealed => "Joints kept open and sealed",
            Self::JointHidden => "Hidden joints, opened first",
            Self::JointLeft => "Joints left as they are",
            Self::CrackRepaired => "Cracks repaired",
            Self::CrackPrimed => "Hairline cracks coated over",
            Self::CrackMayReturn => "Repaired cracks that may come back",
            Self::CrackReturns => "Moving cracks that will come back",
            Self::CrackSealed => "Cracks kept open and sealed",
            Self::CrackLeft => "Cracks left, will show",
            Self::Spot => "Damaged spots repaired",
            Self::Hollow => "Hollow spots filled with resin",
            Self::HollowLeft => "Hollow spots left as they are",
            Self::HighEdge => "High edges ground down",
            Self::SmallStep => "Small steps that may be felt",
            Self::Surface => "Areas cleaned or stripped first",
            Self::LowSpot => "Low spots where water may stand",
            Self::Uncoated => "Not coated",
        }
    }

    /// What it is about.
    pub(crate) const fn thing(self) -> Thing {
        match self {
            Self::JointFilled
            | Self::JointFilledMoving
            | Self::JointSealed
            | Self::JointHidden
            | Self::JointLeft => Thing::Joint,
            Self::CrackRepaired
            | Self::CrackPrimed
            | Self::CrackMayReturn
            | Self::CrackReturns
            | Self::CrackSealed
            | Self::CrackLeft => Thing::Crack,
            Self::Spot | Self::Hollow | Self::HollowLeft | Self::LowSpot => Thing::Spot,
            Self::HighEdge | Self::SmallStep => Thing::Edge,
            Self::Surface | Self::Uncoated => Thing::Area,
        }
    }
}

impl Thing {
    /// One of them, or several.
    pub(crate) const fn word(self, count: usize) -> &'static str {
        match (self, count) {
            (Self::Joint, 1) => "joint",
            (Self::Joint, _) => "joints",
            (Self::Crack, 1) => "crack",
            (Self::Crack, _) => "cracks",
            (Self::Spot, 1) => "spot",
            (Self::Spot, _) => "spots",
            (Self::Edge, 1) => "edge",
            (Self::Edge, _) => "edges",
            (Self::Area, 1) => "area",
            (Self::Area, _) => "areas",
        }
    }

    /// So many of them: `3 joints`.
    pub(crate) fn counted(self, count: usize) -> String {
        let number = u32::try_from(count).map_or(f64::INFINITY, f64::from);
        let number = crate::quantity::write::grouped(number, 0);
        format!("{number} {}", self.word(count))
    }
}

/// A length for a customer: whole feet, tenths below ten; tenths of a meter.
pub(crate) fn length(m: f64, units: Units) -> String {
    match units {
        Units::Us => rounded(m / M_PER_FT, "ft"),
        Units::Metric => format!("{} m", fixed(m, 1)),
    }
}

/// An area for a customer: whole square feet, tenths below ten; tenths of a square meter.
pub(crate) fn area(m2: f64, units: Units) -> String {
    match units {
        Units::Us => rounded(m2 / M2_PER_FT2, "ft²"),
        Units::Metric => format!("{} m²", fixed(m2, 1)),
    }
}

fn rounded(value: f64, unit: &str) -> String {
    let decimals = u32::from(value < 9.95);
    format!("{} {unit}", crate::quantity::write::grouped(value, decimals))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_rounded_as_people_say_them() {
        assert_eq!(length(14.0, Units::Us), "46 ft");
        assert_eq!(length(1.0, Units::Us), "3.3 ft");
        assert_eq!(length(14.0, Units::Metric), "14.0 m");
        assert_eq!(area(372.0, Units::Us), "4,004 ft²");
        assert_eq!(Thing::Crack.counted(1), "1 crack");
        assert_eq!(Thing::Crack.counted(2), "2 cracks");
    }

    #[test]
    fn every_fate_has_a_title_of_its_own() {
        let mut titles: Vec<_> = Fate::ALL.iter().map(|f| f.title()).collect();
        titles.sort_unstable();
        titles.dedup();
        assert_eq!(titles.len(), Fate::ALL.len());
    }
}
