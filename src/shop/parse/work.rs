//! Small goods, the working day and its rates.

use super::Pass;
use crate::form::{Fields, Rule, Sign};
use crate::quantity::read::{self, ReadError};
use crate::quantity::{Length, M_PER_FT, M2_PER_FT2, Span};
use crate::shop::{Days, Rates, Sundries};
use crate::yaml::Node;

/// No wheel, choke or roll is longer than this.
const MILE: Length = Length::from_m(1609.344);
/// A length of work or of a roll.
pub(crate) const RUN: Rule = Rule::plan("the length", Sign::Positive, MILE);
/// Largest wheel of a hand grinder, and highest choke.
pub(crate) const FOOT: Length = Length::from_in(12.0);
/// Hours in a day.
const DAY_S: f64 = 86_400.0;

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

    pub(super) fn days(&mut self, node: &Node) -> Option<Days> {
        let keys = ["hours", "starts", "crew", "weekends", "wheel", "rates"];
        let fields = self.reader.fields(node, "the days", &keys)?;
        let hours = self.positive(&fields, "hours", "a time", read::span);
        let starts = self.reader.required(&fields, "starts", "starts: 8 h");
        let starts =
            starts.and_then(|node| self.reader.quantity(node, "`starts`", "a time", read::span));
        let crew = self.positive(&fields, "crew", "a number", read::count);
        let weekends = self.reader.required(&fields, "weekends", "weekends: false");
        let weekends = weekends.and_then(|node| self.reader.truth(node, "weekends"));
        let wheel = Rule::small("the wheel", Sign::Positive, FOOT);
        let wheel = self.length(&fields, "wheel", &wheel);
        let rates = self.part(&fields, "rates", Self::rates);
        let (hours, starts) = (hours?, starts?.value);
        self.within_a_day(&fields, hours, starts)?;
        Some(Days {
            hours,
            starts,
            crew: crew?,
            weekends: weekends?,
            wheel: wheel?,
            rates: rates?,
        })
    }

    fn within_a_day(&mut self, fields: &Fields, hours: Span, starts: Span) -> Option<()> {
        if starts.s() >= 0.0 && hours.s() > 0.0 && starts.s() + hours.s() <= DAY_S {
            return Some(());
        }
        let message = "the working day does not end before midnight".into();
        let hint = "write starts: 8 h and hours: 8 h";
        let place = fields.key_place("hours");
        self.reader.error("beyond-belief", place, message, hint);
        None
    }

    fn rates(&mut self, node: &Node) -> Option<Rates> {
        let keys = [
            "floor_grind",
            "hand_edge",
            "hand_grind",
            "saw",
            "hand_cut",
            "open",
            "crack_chase",
            "crack_fill",
            "fill",
            "shave",
            "patch",
            "honor",
            "coat",
            "broadcast",
        ];
        let fields = self.reader.fields(node, "the rates", &keys)?;
        let mut area = |key: &str| self.positive(&fields, key, "an area an hour", area_per_hour);
        let (floor_grind, hand_edge) = (area("floor_grind"), area("hand_edge"));
        let (patch, coat, broadcast) = (area("patch"), area("coat"), area("broadcast"));
        let mut run = |key: &str| self.positive(&fields, key, "a length an hour", length_per_hour);
        let (hand_grind, saw, hand_cut) = (run("hand_grind"), run("saw"), run("hand_cut"));
        let (open, crack_chase, crack_fill) = (run("open"), run("crack_chase"), run("crack_fill"));
        let (fill, shave, honor) = (run("fill"), run("shave"), run("honor"));
        Some(Rates {
            floor_grind: floor_grind?,
            hand_edge: hand_edge?,
            hand_grind: hand_grind?,
            saw: saw?,
            hand_cut: hand_cut?,
            open: open?,
            crack_chase: crack_chase?,
            crack_fill: crack_fill?,
            fill: fill?,
            shave: shave?,
            patch: patch?,
            honor: honor?,
            coat: coat?,
            broadcast: broadcast?,
        })
    }
}

/// `250 ft2/h`, `20 m2/h`, in m²/h.
fn area_per_hour(text: &str) -> Result<f64, ReadError> {
    let hint = "write it like 250 ft2/h or 20 m2/h";
    per_hour(text, [("ft2", M2_PER_FT2), ("m2", 1.0)], hint)
}

/// `150 ft/h`, `40 m/h`, in m/h.
fn length_per_hour(text: &str) -> Result<f64, ReadError> {
    let hint = "write it like 150 ft/h or 40 m/h";
    per_hour(text, [("ft", M_PER_FT), ("m", 1.0)], hint)
}

fn per_hour(text: &str, units: [(&str, f64); 2], hint: &str) -> Result<f64, ReadError> {
    let fault = |problem: String| ReadError {
        problem,
        hint: hint.to_owned(),
    };
    let Some(amount) = text.trim().strip_suffix("/h") else {
        return Err(fault("it does not end in /h".into()));
    };
    let split = amount
        .find(|c: char| c.is_alphabetic())
        .unwrap_or(amount.len());
    let (number, unit) = (amount[..split].trim(), amount[split..].trim());
    let Some((_, one)) = units.iter().find(|(name, _)| *name == unit) else {
        let [(first, _), (second, _)] = units;
        return Err(fault(format!(
            "the unit `{unit}` is none of {first} and {second}"
        )));
    };
    let value = read::number(number).map_err(|error| fault(error.problem))?;
    if value < 0.0 {
        return Err(fault("it is negative".into()));
    }
    Ok(value * one)
}
