//! Small goods.

use super::Pass;
use crate::form::{Rule, Sign};
use crate::quantity::{Length, read};
use crate::shop::Sundries;
use crate::yaml::Node;

/// No wheel, choke or roll is longer than this.
const MILE: Length = Length::from_m(1609.344);
/// A length of work or of a roll.
pub(crate) const RUN: Rule = Rule::plan("the length", Sign::Positive, MILE);
/// Largest wheel of a hand grinder, and highest choke.
pub(crate) const FOOT: Length = Length::from_in(12.0);

impl Pass<'_> {
    pub(super) fn sundries(&mut self, node: &Node) -> Option<Sundries> {
        let keys = [
            "mixer_spares",
            "choke",
            "sand",
            "blade",
            "wheel",
            "tape",
            "dust_bag",
        ];
        let fields = self.reader.fields(node, "the sundries", &keys)?;
        let spares = self
            .reader
            .required(&fields, "mixer_spares", "mixer_spares: 2")
            .and_then(|node| self.reader.number(node, "`mixer_spares`", 0.0, 100.0));
        let choke = Rule::small("the choke", Sign::NotNegative, FOOT);
        let choke = self.length(&fields, "choke", &choke);
        let sand = self.positive(&fields, "sand", "a weight", read::mass);
        let blade = self.length(&fields, "blade", &RUN);
        let wheel = self.length(&fields, "wheel", &RUN);
        let tape = self.length(&fields, "tape", &RUN);
        let dust_bag = self.positive(&fields, "dust_bag", "a weight", read::mass);
        Some(Sundries {
            mixer_spares: spares?.value.ceil() as usize,
            choke: choke?,
            sand: sand?,
            blade: blade?,
            wheel: wheel?,
            tape: tape?,
            dust_bag: dust_bag?,
        })
    }
}
