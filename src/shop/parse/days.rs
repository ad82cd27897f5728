//! The working day, the crew, its machines, what it waits for and how long works take.

use std::collections::BTreeMap;

use jiff::civil::Date;

use super::Pass;
use super::wear::FOOT;
use crate::diagnostic::Place;
use crate::form::{Fields, Rule, Sign};
use crate::quantity::read::{self, ReadError};
use crate::quantity::{M_PER_FT, M2_PER_FT2, Span};
use crate::shop::{Days, Holidays, Origin, Waits, Works};
use crate::sketch::parse::date::is_day;
use crate::text::excerpt;
use crate::trade::{Key, Kind, Machine, Unit, Wait, row};
use crate::yaml::Node;

const DAY_S: f64 = 86_400.0;
/// Most machines of one kind that are believed.
const MOST_MACHINES: f64 = 100.0;
const KEYS: [&str; 12] = [
    "hours", "starts", "lunch", "overtime", "crew", "weekends", "holidays", "off", "wheel",
    "machines", "waits", "works",
];
/// The word for computed holidays.
pub(crate) const HOLIDAYS: [(&str, ()); 1] = [("us", ())];
/// Keys of `rates:`, as books had it before works had set-ups, and where each number stands now.
const RATES: [(&str, Kind, Key); 14] = [
    ("floor_grind", Kind::GrindFloor, Key::Rate),
    ("hand_edge", Kind::GrindEdges, Key::Area),
    ("hand_grind", Kind::GrindSteps, Key::Rate),
    ("saw", Kind::SawJoints, Key::Rate),
    ("hand_cut", Kind::DetailJoints, Key::Rate),
    ("open", Kind::OpenBuried, Key::Rate),
    ("crack_chase", Kind::ChaseCracks, Key::Rate),
    ("crack_fill", Kind::FillCracks, Key::Rate),
    ("fill", Kind::FillJoints, Key::Rate),
    ("shave", Kind::Shave, Key::Rate),
    ("patch", Kind::Patch, Key::Rate),
    ("honor", Kind::RodAndSealant, Key::Rate),
    ("coat", Kind::Coat, Key::Rate),
    ("broadcast", Kind::Coat, Key::Broadcast),
];

impl Pass<'_> {
    pub(super) fn days(&mut self, node: &Node) -> Option<Days> {
        let fields = self.reader.fields(node, "the days", &KEYS)?;
        let hours = self.positive(&fields, "hours", "a time", read::span);
        let starts = self.time(&fields, "starts", "starts: 8 h");
        let lunch = self.time(&fields, "lunch", "lunch: 30 min");
        let overtime = self.time(&fields, "overtime", "overtime: 30 min");
        let crew = self.positive(&fields, "crew", "a number", read::count);
        let weekends = self.reader.required(&fields, "weekends", "weekends: false");
        let weekends = weekends.and_then(|node| self.reader.truth(node, "weekends"));
        let holidays = self.part(&fields, "holidays", Self::holidays);
        let off = self.part(&fields, "off", Self::dates);
        let wheel = Rule::small("the wheel", Sign::Positive, FOOT);
        let wheel = self.length(&fields, "wheel", &wheel);
        let machines = self.part(&fields, "machines", Self::machines);
        let waits = self.part(&fields, "waits", Self::waits);
        let works = self.part(&fields, "works", Self::works);
        let (hours, starts, lunch, overtime) = (hours?, starts?, lunch?, overtime?);
        let longest = starts.s() + hours.s() + lunch.s() + overtime.s();
        if longest > DAY_S {
            let message = "the working day does not end before midnight".into();
            let hint = "write starts: 8 h and hours: 8 h";
            let place = fields.key_place("hours");
            self.reader.error("beyond-belief", place, message, hint);
            return None;
        }
        Some(Days {
            hours,
            starts,
            lunch,
            overtime,
            crew: crew?,
            weekends: weekends?,
            holidays: holidays?,
            off: off?,
            wheel: wheel?,
            machines: machines?,
            machines_at: Origin(fields.key_place("machines")),
            waits: waits?,
            works: works?,
        })
    }

    /// Says where the rates of an older book stand now.
    pub(super) fn old_rates(&mut self, days: &Node) {
        let entries = days.entries().unwrap_or_default();
        let Some((key, rates)) = entries.iter().find(|(key, _)| key.text == "rates") else {
            return;
        };
        let written = rates.entries().unwrap_or_default();
        let known = |(key, node): &(_, Node)| {
            let key: &crate::yaml::Key = key;
            let new = RATES.iter().find(|(old, ..)| *old == key.text)?;
            Some((*new, node.text().unwrap_or_default().to_owned()))
        };
        let now: Vec<String> = written
            .iter()
            .filter_map(known)
            .map(|((_, kind, key), value)| {
                let value = match kind {
                    Kind::FillJoints => "9 L/h",
                    _ => &value,
                };
                format!("{}: {{{}: {value}}}", kind.name(), key.word())
            })
            .collect();
        let now =
            if now.is_empty() { "saw joints: {rate: 120 ft/h}".to_owned() } else { now.join(", ") };
        let message = "`rates` is now `works`, where every work has its set-up beside its rate";
        self.now_called(key.place, message, &format!("write works: {{{now}}}"));
    }

    /// Says at a key that is known no more what it is called now.
    pub(super) fn now_called(&mut self, key: Place, message: &str, hint: &str) {
        let said = self.reader.faults.iter_mut();
        for fault in said.filter(|fault| fault.place == Some(key)) {
            fault.message = message.into();
            fault.hint = Some(hint.into());
        }
    }

    fn time(&mut self, fields: &Fields, key: &str, example: &str) -> Option<Span> {
        let node = self.reader.required(fields, key, example)?;
        self.not_negative(node, &format!("`{key}`"))
    }

    fn not_negative(&mut self, node: &Node, what: &str) -> Option<Span> {
        let span = self.reader.quantity(node, what, "a time", read::span)?;
        if (0.0..=DAY_S).contains(&span.value.s()) {
            return Some(span.value);
        }
        let message = format!("{what} is longer than a day");
        self.reader.error("beyond-belief", node.place, message, "write it like 30 min");
        None
    }

    fn holidays(&mut self, node: &Node) -> Option<Holidays> {
        if node.items().is_some() {
            return self.dates(node).map(Holidays::Listed);
        }
        self.reader.word(node, "the holidays", &HOLIDAYS).map(|_| Holidays::Us)
    }

    fn dates(&mut self, node: &Node) -> Option<Vec<Date>> {
        let days = self.reader.list(Some(node), "days off");
        let read: Vec<Option<Date>> = days
            .iter()
            .map(|day| {
                let text = day.text().unwrap_or_default();
                let date = is_day(text).then(|| text.parse().ok()).flatten();
                if date.is_none() {
                    let message = format!("`{}` is no day of the calendar", excerpt(text));
                    let hint = "write it as year, month and day: 2026-12-24";
                    self.reader.error("no-such-day", day.place, message, hint);
                }
                date
            })
            .collect();
        read.into_iter().collect()
    }

    fn machines(&mut self, node: &Node) -> Option<BTreeMap<Machine, usize>> {
        let names = Machine::ALL.map(Machine::name);
        let fields = self.reader.fields(node, "the machines", &names)?;
        let read: Vec<Option<(Machine, usize)>> = Machine::ALL
            .iter()
            .map(|machine| {
                let name = machine.name();
                let node = self.reader.required(&fields, name, &format!("{name}: 1"))?;
                let what = format!("`{name}`");
                let count = self.reader.number(node, &what, 0.0, MOST_MACHINES)?;
                if count.value.fract() != 0.0 {
                    let message = format!("{what} is no whole number of machines");
                    self.reader.error("unreadable", node.place, message, "write it like 1");
                    return None;
                }
                Some((*machine, count.value as usize))
            })
            .collect();
        read.into_iter().collect()
    }

    fn waits(&mut self, node: &Node) -> Option<Waits> {
        let keys: Vec<&str> = Wait::all().map(Wait::key).collect();
        let fields = self.reader.fields(node, "the waits", &keys)?;
        let read: Vec<Option<_>> = Wait::all()
            .map(|wait| {
                self.reader.required(
                    &fields,
                    wait.key(),
                    &format!("{}: [[70 F, 1 h]]", wait.key()),
                )?;
                Some((wait, self.waits_table(&fields, wait.key())?))
            })
            .collect();
        Some(Waits(read.into_iter().collect::<Option<_>>()?))
    }

    fn works(&mut self, node: &Node) -> Option<Works> {
        let kinds: Vec<Kind> = Kind::all().filter(|kind| kind.has_numbers()).collect();
        let names: Vec<&str> = kinds.iter().map(|kind| kind.name()).collect();
        let fields = self.reader.fields(node, "the works", &names)?;
        let mut works = Works::default();
        let mut complete = true;
        for kind in kinds {
            let name = kind.name();
            let node = self.reader.required(&fields, name, &format!("{name}:"));
            self.reader.item = Some(name.to_owned());
            complete &= node.and_then(|node| self.work(kind, node, &mut works)).is_some();
            self.reader.item = None;
        }
        complete.then_some(works)
    }

    fn work(&mut self, kind: Kind, node: &Node, works: &mut Works) -> Option<()> {
        let keys = row(kind).keys;
        let words: Vec<&str> = keys.iter().map(|(key, _)| key.word()).collect();
        let fields = self.reader.fields(node, kind.name(), &words)?;
        let mut complete = true;
        for (key, unit) in keys {
            let value = self.number_of(&fields, key.word(), *unit);
            complete &= value.map(|value| works.set(kind, *key, value)).is_some();
        }
        complete.then_some(())
    }

    fn number_of(&mut self, fields: &Fields, key: &str, unit: Unit) -> Option<f64> {
        match unit {
            Unit::Time => self.time(fields, key, &format!("{key}: 15 min")).map(Span::s),
            Unit::Length => self.positive(fields, key, "a length an hour", length_per_hour),
            Unit::Area => self.positive(fields, key, "an area an hour", area_per_hour),
            Unit::Volume => self.positive(fields, key, "a volume an hour", volume_per_hour),
            Unit::Share => self.percent(fields, key).map(crate::quantity::Ratio::one),
            Unit::Count => {
                self.positive(fields, key, "a number", read::count).map(|count| count as f64)
            }
        }
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

/// `9 L/h`, `100 in3/h`, in L/h.
fn volume_per_hour(text: &str) -> Result<f64, ReadError> {
    let fault = |problem: String| ReadError {
        problem,
        hint: "write it like 9 L/h, 2.4 gal/h or 100 in3/h".to_owned(),
    };
    let Some(amount) = text.trim().strip_suffix("/h") else {
        return Err(fault("it does not end in /h".into()));
    };
    let volume = read::volume(amount.trim()).map_err(|error| fault(error.problem))?;
    Ok(volume.l())
}

fn per_hour(text: &str, units: [(&str, f64); 2], hint: &str) -> Result<f64, ReadError> {
    let fault = |problem: String| ReadError { problem, hint: hint.to_owned() };
    let Some(amount) = text.trim().strip_suffix("/h") else {
        return Err(fault("it does not end in /h".into()));
    };
    let split = amount.find(|c: char| c.is_alphabetic()).unwrap_or(amount.len());
    let (number, unit) = (amount[..split].trim(), amount[split..].trim());
    let Some((_, one)) = units.iter().find(|(name, _)| *name == unit) else {
        let [(first, _), (second, _)] = units;
        return Err(fault(format!("the unit `{unit}` is none of {first} and {second}")));
    };
    let value = read::number(number).map_err(|error| fault(error.problem))?;
    if value < 0.0 {
        return Err(fault("it is negative".into()));
    }
    Ok(value * one)
}
