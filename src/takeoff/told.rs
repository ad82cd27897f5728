//! What is said of a number by the code that reaches it.

mod say;

pub(crate) use say::{Say, Show, sum};

use std::collections::BTreeMap;

use crate::quantity::{L_PER_M3, write};

/// Hears how numbers are reached, in sentences. While a whole floor is measured nobody listens, and no sentence is made; to explain
/// an item the takeoff reckons it once more and is listened to.
#[derive(Default)]
pub(crate) struct Told {
    say: Option<Say>,
    /// Id of what is spoken of, where several are reckoned together.
    of: String,
    lines: BTreeMap<String, Vec<String>>,
}

impl Told {
    /// The sentences that are said while something is reckoned.
    pub fn by<T>(say: Say, reckon: impl FnOnce(&mut Self) -> T) -> Vec<String> {
        Self::by_id(say, reckon).remove("").unwrap_or_default()
    }

    /// The same of items that are reckoned together: the sentences on each, by its id.
    pub fn by_id<T>(
        say: Say,
        reckon: impl FnOnce(&mut Self) -> T,
    ) -> BTreeMap<String, Vec<String>> {
        let mut told = Self { say: Some(say), ..Self::default() };
        reckon(&mut told);
        told.lines
    }

    /// What is said from here on is said of the item with this id.
    pub fn of(&mut self, id: &str) {
        if self.say.is_some() {
            id.clone_into(&mut self.of);
        }
    }

    /// A sentence.
    pub fn line(&mut self, line: impl FnOnce(Say) -> String) {
        if let Some(say) = self.say {
            self.lines.entry(self.of.clone()).or_default().push(line(say));
        }
    }

    /// Part of a sentence that is said later.
    pub fn part(&self, part: impl FnOnce(Say) -> String) -> String {
        self.say.map(part).unwrap_or_default()
    }

    /// Length × width × depth from metres, L. The key is that of the depth, behind a space.
    pub fn volume(
        &mut self,
        what: &str,
        [length, width, depth]: [f64; 3],
        key: &str,
        show: Show,
    ) -> f64 {
        let volume_l = length * width * depth * L_PER_M3;
        self.line(|say| {
            let (length, width, depth) = (say.length(length), say.small(width), say.small(depth));
            format!("{what} = {length} × {width} × {depth}{key} = {}.", show(say, volume_l))
        });
        volume_l
    }

    /// Area × depth, L. The key is that of the depth, behind a space.
    pub fn layer(
        &mut self,
        what: &str,
        [area_m2, depth_m]: [f64; 2],
        key: &str,
        show: Show,
    ) -> f64 {
        let volume_l = area_m2 * depth_m * L_PER_M3;
        self.line(|say| {
            let (area, depth) = (say.spot(area_m2), say.small(depth_m));
            format!("{what} = {area} × {depth}{key} = {}.", show(say, volume_l))
        });
        volume_l
    }

    /// What waste adds, for a product whose waste is `<key>.waste` in the shop book.
    pub fn what_to_buy(&mut self, in_place_l: f64, key: &str, waste: f64) {
        let others = "needs before rounding to packages";
        self.line(|say| say.to_buy(in_place_l, key, waste, [Say::bought; 2], others));
    }

    /// The sum of what has a name: `Joint sawn = J1 23'-6" + J2 23'-6" = 47'-0".`, the parts shown one way and the sum another.
    /// Nothing is said of a sum that is nothing.
    pub fn sum<'a>(
        &mut self,
        lead: &str,
        parts: impl Iterator<Item = (&'a str, f64)> + Clone,
        show_part: Show,
        show: Show,
    ) -> f64 {
        // Adding nought makes the sum of none plain nought: in floating point it is minus nought.
        let total = parts.clone().map(|(_, value)| value).sum::<f64>() + 0.0;
        if total != 0.0 {
            self.line(|say| {
                let parts = sum(parts, |value| show_part(say, value));
                format!("{lead}{parts} = {}.", show(say, total))
            });
        }
        total
    }

    /// The same for lengths, m.
    pub fn lengths<'a>(
        &mut self,
        lead: &str,
        parts: impl Iterator<Item = (&'a str, f64)> + Clone,
    ) -> f64 {
        self.sum(lead, parts, Say::length, Say::length)
    }

    /// The same for filler, resin and sealant, L.
    pub fn liquids<'a>(
        &mut self,
        lead: &str,
        parts: impl Iterator<Item = (&'a str, f64)> + Clone,
    ) -> f64 {
        self.sum(lead, parts, Say::cubic, Say::liquid)
    }

    /// The same for what is counted.
    pub fn count<'a>(
        &mut self,
        lead: &str,
        parts: impl Iterator<Item = (&'a str, usize)> + Clone,
    ) -> usize {
        let shown = |_, n| write::trimmed(n, 0);
        self.sum(lead, parts.map(|(id, n)| (id, n as f64)), shown, shown) as usize
    }

    /// The same for mortar and concrete, L.
    pub fn solids<'a>(
        &mut self,
        lead: &str,
        parts: impl Iterator<Item = (&'a str, f64)> + Clone,
    ) -> f64 {
        self.sum(lead, parts, Say::cubic, Say::solid)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Units;

    fn reckon(told: &mut Told) -> (f64, f64) {
        let parts = [("J1", 2.0), ("J2", 0.0), ("J3", 1.0)];
        let chased_m = told.lengths("Chased = ", parts.into_iter());
        (chased_m, told.volume("Filler", [chased_m, 0.01, 0.02], " (chase.depth)", Say::liquid))
    }

    #[test]
    fn what_is_heard_is_what_is_reckoned() {
        assert_eq!(reckon(&mut Told::default()), (3.0, 0.6));
        let heard = Told::by(Say(Units::Metric), reckon);
        let wanted = [
            "Chased = J1 2 m + J3 1 m = 3 m.",
            "Filler = 3 m × 10 mm × 20 mm (chase.depth) = 0.6 L.",
        ];
        assert_eq!(heard, wanted);
    }

    #[test]
    fn what_is_reckoned_together_is_told_apart() {
        let both = |told: &mut Told| {
            for (id, part) in [("R1", "cut"), ("R2", "cut"), ("R1", "filled")] {
                told.of(id);
                told.line(|_| format!("{id} {part}"));
            }
        };
        let heard = Told::by_id(Say(Units::Metric), both);
        assert_eq!(heard["R1"], ["R1 cut", "R1 filled"]);
        assert_eq!(heard["R2"], ["R2 cut"]);
    }

    #[test]
    fn nothing_is_said_of_a_sum_that_is_nothing() {
        let none = |told: &mut Told| told.solids("Mortar = ", [("R1", 0.0)].into_iter());
        assert!(Told::by(Say(Units::Us), none).is_empty());
    }
}
