//! How long works take in one shop, what it works with, and what it waits for.

use std::collections::BTreeMap;

use jiff::civil::Date;

use super::{Origin, PotLife, Times};
use crate::quantity::{Length, Span};
use crate::trade::{Key, Kind, Machine, Wait};

/// The working day, the crew, its machines and how fast it works.
#[derive(Clone, Debug, PartialEq)]
pub struct Days {
    /// Hours worked in a day, lunch not counted.
    pub hours: Span,
    /// Start of the day after midnight.
    pub starts: Span,
    /// Break in the middle of the day.
    pub lunch: Span,
    /// Work that would spill over the end of a day by no more than this is finished.
    pub overtime: Span,
    /// Workers.
    pub crew: usize,
    /// Whether Saturdays and Sundays are worked.
    pub weekends: bool,
    /// Holidays on which nobody works.
    pub holidays: Holidays,
    /// Further days on which nobody works.
    pub off: Vec<Date>,
    /// Diameter of the hand grinder's wheel.
    pub wheel: Length,
    /// Machines, by kind; every kind is there, with a count that may be nought.
    pub machines: BTreeMap<Machine, usize>,
    /// Where the machines are counted.
    pub machines_at: Origin,
    /// What sets, cures and dries.
    pub waits: Waits,
    /// How long works take.
    pub works: Works,
}

/// Holidays of a shop.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Holidays {
    /// Federal holidays of the United States (5 U.S.C. 6103), computed.
    Us,
    /// The dates that the book lists; none for an empty list.
    Listed(Vec<Date>),
}

/// The numbers of the shop book for every kind of work.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Works(BTreeMap<(Kind, Key), f64>);

impl Works {
    /// Sets a number: seconds; m, m² or L an hour; a share of one; a count.
    pub fn set(&mut self, kind: Kind, key: Key, value: f64) {
        self.0.insert((kind, key), value);
    }

    /// The number of a kind in the unit of its key; nought where the kind has no such key.
    #[must_use]
    pub fn get(&self, kind: Kind, key: Key) -> f64 {
        self.0.get(&(kind, key)).copied().unwrap_or(0.0)
    }
}

/// Tables of waits by slab temperature.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Waits(pub BTreeMap<Wait, Vec<Times>>);

impl Waits {
    /// Seconds from the end of a work until the next may start, and until it is too late for what must be
    /// done in time. Straight between the rows of the table. Outside the table its nearest row holds:
    /// these times are the shop's, no data sheet's.
    #[must_use]
    pub fn at(&self, wait: Wait, slab_c: f64) -> (f64, Option<f64>) {
        let table = self.0.get(&wait).map_or(&[][..], Vec::as_slice);
        nearest(table, slab_c).unwrap_or((0.0, None))
    }
}

/// The times of a table at a slab temperature, s; outside the table those of its nearest row. `None`
/// for an empty one.
fn nearest(table: &[Times], slab_c: f64) -> Option<(f64, Option<f64>)> {
    let (cold, warm) = (table.first()?, table.last()?);
    let slab_c = slab_c.clamp(cold.at.c(), warm.at.c());
    let pair = table.windows(2).find(|pair| (pair[0].at.c()..=pair[1].at.c()).contains(&slab_c));
    let [low, high] = pair.map_or([cold, cold], |pair| [&pair[0], &pair[1]]);
    let span = high.at.c() - low.at.c();
    let share = if span > 0.0 { (slab_c - low.at.c()) / span } else { 0.0 };
    let mix = |a: Span, b: Span| a.s() + (b.s() - a.s()) * share;
    let last = low.last.s().is_finite() && high.last.s().is_finite();
    Some((mix(low.first, high.first), last.then(|| mix(low.last, high.last))))
}

/// A reaction runs twice as fast for so many degrees more, K: 10 K or 18 °F (rule of thumb of
/// reaction kinetics; common practice for pot lives).
const TWICE_AS_FAST_K: f64 = 10.0;

impl PotLife {
    /// How long a batch can be worked with on a slab of this temperature, s: straight between the
    /// rows. On one colder than the table its first row holds; warmer, half for every 10 K more. `None`
    /// where the book does not say.
    #[must_use]
    pub fn at(&self, slab_c: f64) -> Option<f64> {
        let (life, _) = nearest(&self.rows, slab_c)?;
        let beyond = slab_c - self.rows.last()?.at.c();
        Some(life * (-beyond.max(0.0) / TWICE_AS_FAST_K).exp2())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Temperature;

    #[test]
    fn a_batch_sets_sooner_on_a_warm_slab() {
        let row = |c: f64, minutes: f64| Times {
            at: Temperature::from_c(c),
            first: Span::from_s(minutes * 60.0),
            last: Span::from_s(f64::INFINITY),
        };
        let life =
            PotLife { rows: vec![row(10.0, 45.0), row(20.0, 30.0), row(30.0, 15.0)], at: None };
        for (name, c, minutes) in [
            ("colder than the table", 0.0, 45.0),
            ("half way", 15.0, 37.5),
            ("on the last row", 30.0, 15.0),
            ("ten degrees beyond it", 40.0, 7.5),
        ] {
            let found = life.at(c).map(|s| s / 60.0);
            assert!(found.is_some_and(|m| (m - minutes).abs() < 1e-9), "{name}: {found:?}");
        }
        assert_eq!(PotLife::default().at(20.0), None);
    }

    #[test]
    fn waits_run_straight_between_rows_and_hold_outside() {
        let row = |c: f64, first: f64, last: f64| Times {
            at: Temperature::from_c(c),
            first: Span::from_s(first),
            last: Span::from_s(last),
        };
        let mut waits = Waits::default();
        waits.0.insert(Wait::Shave, vec![row(10.0, 40.0, 300.0), row(20.0, 20.0, 180.0)]);
        waits.0.insert(Wait::Patch, vec![row(20.0, 120.0, f64::INFINITY)]);
        for (name, wait, c, want) in [
            ("on a row", Wait::Shave, 20.0, (20.0, Some(180.0))),
            // Half way from 40 to 20 and from 300 to 180.
            ("half way", Wait::Shave, 15.0, (30.0, Some(240.0))),
            ("colder than the table", Wait::Shave, 0.0, (40.0, Some(300.0))),
            ("no last time", Wait::Patch, 5.0, (120.0, None)),
            ("no table", Wait::Dry, 20.0, (0.0, None)),
        ] {
            assert_eq!(waits.at(wait, c), want, "{name}");
        }
    }
}
