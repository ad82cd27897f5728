//! Machines that a shop has one or a few of.

/// A machine; a shop that has one works with one at a time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Machine {
    /// Walk-behind floor grinder.
    FloorGrinder,
    /// Walk-behind joint saw.
    JointSaw,
    /// Hand grinder with its shroud.
    HandGrinder,
    ChippingHammer,
    /// Filling gun or pump.
    FillingGun,
    /// Vacuum with its wand.
    Vacuum,
}

/// Every machine with its name.
const NAMES: [(Machine, &str); 6] = [
    (Machine::FloorGrinder, "floor grinder"),
    (Machine::JointSaw, "joint saw"),
    (Machine::HandGrinder, "hand grinder"),
    (Machine::ChippingHammer, "chipping hammer"),
    (Machine::FillingGun, "filling gun"),
    (Machine::Vacuum, "vacuum"),
];

impl Machine {
    /// All machines.
    pub const ALL: [Self; NAMES.len()] = {
        let mut all = [Self::FloorGrinder; NAMES.len()];
        let mut i = 0;
        while i < NAMES.len() {
            all[i] = NAMES[i].0;
            i += 1;
        }
        all
    };

    /// What it is called in the shop book and in every output.
    #[must_use]
    pub const fn name(self) -> &'static str {
        NAMES[self as usize].1
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_machine_stands_in_its_own_place() {
        for (place, machine) in Machine::ALL.iter().enumerate() {
            assert_eq!(*machine as usize, place, "{}", machine.name());
        }
    }
}
