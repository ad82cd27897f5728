//! The plan of one floor: its works, scheduled with the shop's crew and machines on its days.

use jiff::civil::Date;

use super::activities::{activities, named};
use super::conditions::{Weather, weather};
use super::model::{Day, Moment, Piece, Plan, Wait};
use super::network::{
    self, Calendar, DAY_S, Days, MOST_DAYS, Network, Part, Piece as Stretch, Placement, Schedule,
    Unplannable,
};
use super::silica::{Shift, Tool, shift};
use super::window::between;
use crate::floor::Survey;
use crate::order::PourLine;
use crate::quantity::write;
use crate::shop::{Holidays, System};
use crate::trade::{Key, Kind, Machine};
use crate::work::{ASSUMED_SLAB_C, Batch, Work, works};

/// Hours in a day and seconds in an hour.
const DAY_H: f64 = 24.0;
const S_PER_H: f64 = 3600.0;
/// Rounding of an hour.
const LEAST_H: f64 = 1e-6;
/// How often temperatures are read anew at the ends that they moved.
const ROUNDS: usize = 4;

/// The work on one floor, day by day.
#[must_use]
pub fn plan(floor: &Survey) -> Plan {
    let planner = Planner::new(floor);
    planner.plan()
}

/// What a plan is made from.
struct Planner<'a> {
    floor: &'a Survey,
    system: Option<&'a System>,
    first: Option<Date>,
    works: Vec<Work>,
}

impl<'a> Planner<'a> {
    fn new(floor: &'a Survey) -> Self {
        let facts = floor.facts();
        Self {
            floor,
            system: facts.system.map(|(_, system)| system),
            first: first_day(floor),
            works: works(&facts),
        }
    }

    fn plan(&self) -> Plan {
        let mut plan = Plan { site: self.floor.sketch.coating.site, ..Plan::default() };
        if self.works.is_empty() {
            return plan;
        }
        self.note_assumptions(&mut plan);
        let mut slab_c = vec![self.slab_c(0.0); self.works.len()];
        let mut schedule = network::solve(&self.network(&slab_c));
        for _ in 0..ROUNDS {
            let Ok(found) = &schedule else { break };
            let there: Vec<f64> = self.ends(found).iter().map(|end| self.slab_c(*end)).collect();
            if there == slab_c {
                break;
            }
            slab_c = there;
            schedule = network::solve(&self.network(&slab_c));
        }
        let schedule = match schedule {
            Ok(schedule) => schedule,
            Err(why) => {
                let hours: f64 = self.works.iter().map(|work| work.worker_s(1)).sum();
                plan.worker_h = hours / S_PER_H;
                plan.notes.push(match why {
                    Unplannable::TooLong => {
                        format!("More than {MOST_DAYS} working days; plan this floor in parts.")
                    }
                    Unplannable::NoMachine { activity, .. } => {
                        format!("The shop book has no machine for `{}`.", self.works[activity].name)
                    }
                    Unplannable::NoCrew | Unplannable::Disordered { .. } => {
                        "The works can't be put in an order.".to_owned()
                    }
                });
                return plan;
            }
        };
        self.lay_out(&schedule, &mut plan);
        self.windows(&schedule, &mut plan);
        self.note_late(&schedule, &mut plan);
        plan
    }

    /// When each work ends, hours after midnight of the first day.
    fn ends(&self, schedule: &Schedule) -> Vec<f64> {
        let mut ends = vec![0.0; self.works.len()];
        for run in &schedule.placements {
            if run.part != Part::First {
                ends[run.activity] = run.end_s as f64 / S_PER_H;
            }
        }
        ends
    }

    fn note_assumptions(&self, plan: &mut Plan) {
        let tests = &self.floor.sketch.tests;
        let read = tests.slab_temperature.is_some() || !tests.forecast.is_empty();
        if self.system.is_some() && !read {
            let note = "No slab temperature: windows are read at 70 °F (21 °C). Measure the slab.";
            plan.notes.push(note.into());
        }
    }

    /// Windows that close before the next can start, and coats that no day holds.
    fn note_late(&self, schedule: &Schedule, plan: &mut Plan) {
        for run in schedule.placements.iter().filter(|run| run.part != Part::First) {
            let work = &self.works[run.activity];
            let late_h = run.late_s as f64 / S_PER_H;
            match (work.kind, run.part) {
                (Kind::Coat, _) if run.late_s > 0 => plan.notes.push(format!(
                    "The window for {} closes {late_h:.1} h before it can start: the coat below is abraded first.",
                    work.name
                )),
                (_, Part::Instead) => plan.notes.push(
                    "The filler has gone hard before it can be shaved: it is ground flush by hand.".into(),
                ),
                _ => {}
            }
            if run.divided {
                plan.notes.push(self.wet_edges(work, run));
            }
        }
    }

    /// Where a coat that no day holds stops in the evening: at the last pour line, or the last whole
    /// batch, that it reaches.
    fn wet_edges(&self, work: &Work, run: &Placement) -> String {
        let order = &self.floor.order;
        let name = &work.name;
        let batches = order.batches.iter().find(|b| Some(b.layer) == work.layer);
        let lines = batches.and_then(|b| order.pour_lines.iter().find(|l| l.layer == b.name));
        let area: f64 = batches.map_or(0.0, |b| b.list.iter().map(|b| b.area_m2).sum());
        let laid_s =
            |pieces: &[Stretch]| -> i64 { pieces.iter().map(|p| p.end_s - p.start_s).sum() };
        let whole_s = laid_s(&run.pieces).max(1);
        let day = |piece: &Stretch| piece.start_s.div_euclid(DAY_S);
        let nights =
            (1..run.pieces.len()).filter(|i| day(&run.pieces[i - 1]) != day(&run.pieces[*i]));
        let evenings = nights.filter_map(|before| {
            let share = laid_s(&run.pieces[..before]) as f64 / whole_s as f64;
            if let Some(lines) = lines {
                let reached = |line: &&PourLine| line.area_behind_m2 <= share * area;
                let line = lines.lines.iter().rfind(reached)?;
                let at = write::length(line.distance_m, self.floor.slab.units);
                return Some(format!("pour line {}, {at} from the pouring side", line.batch));
            }
            let mut done = 0.0;
            let fits = |batch: &&Batch| {
                done += batch.area_m2;
                done <= share * area
            };
            let count = batches?.list.iter().take_while(fits).count();
            (count > 0).then(|| format!("the joint nearest to the end of batch {count}"))
        });
        let evenings: Vec<String> = evenings.collect();
        if evenings.is_empty() {
            return format!(
                "{name} takes longer than a day: divide the floor at a joint, or bring more workers."
            );
        }
        format!(
            "{name} takes longer than a day: its wet edge stops at {} in the evening. Tape the line, and lay up to it in the morning.",
            evenings.join(", then at ")
        )
    }

    fn network(&self, slab_c: &[f64]) -> Network {
        let shop = &self.floor.shop;
        let owned = |machine: &Machine| shop.days.machines.get(machine).copied().unwrap_or(0);
        Network {
            activities: activities(&self.works, slab_c, shop, self.system),
            crew: shop.days.crew.max(1),
            machines: Machine::ALL.iter().map(owned).collect(),
            calendar: Calendar::new(&self.days()),
        }
    }

    fn days(&self) -> Days {
        let days = &self.floor.shop.days;
        let seconds = |kind, key| days.works.get(kind, key).round() as i64;
        let span = |span: crate::quantity::Span| span.s().round() as i64;
        Days {
            first: self.first,
            starts_s: span(days.starts),
            hours_s: span(days.hours),
            lunch_s: span(days.lunch),
            overtime_s: span(days.overtime),
            arrive_s: [seconds(Kind::SetUp, Key::First), seconds(Kind::SetUp, Key::Later)],
            pack_up_s: seconds(Kind::PackUp, Key::Other),
            weekends: days.weekends,
            holidays: match &days.holidays {
                Holidays::Us => network::Holidays::Federal,
                Holidays::Listed(dates) => network::Holidays::Dates(dates.clone()),
            },
            off: days.off.clone(),
            blocked: self.wet_days(),
        }
    }

    /// Days of the forecast on which no coat may go down.
    fn wet_days(&self) -> Vec<Date> {
        let forecast = self.floor.sketch.tests.forecast.iter();
        forecast
            .filter(|day| !weather(day, self.floor.sketch.units).go())
            .filter_map(|day| day.day.value.parse().ok())
            .collect()
    }

    /// Slab temperature at so many hours after midnight of the first day: its forecast, the reading
    /// of the survey, or what is assumed, °C.
    fn slab_c(&self, hours: f64) -> f64 {
        let tests = &self.floor.sketch.tests;
        let forecast = self.weather(moment(self.first, hours).date).map(|w| w.slab_c);
        let read = tests.slab_temperature.as_ref().map(|t| t.value.c());
        forecast.or(read).unwrap_or(ASSUMED_SLAB_C)
    }

    fn weather(&self, date: Option<Date>) -> Option<Weather> {
        let date = date?.to_string();
        let forecast = &self.floor.sketch.tests.forecast;
        let day = forecast.iter().find(|f| f.day.value == date)?;
        Some(weather(day, self.floor.sketch.units))
    }

    /// Whether the last day of the forecast lies before a day.
    fn beyond_forecast(&self, date: Option<Date>) -> bool {
        let days = self.floor.sketch.tests.forecast.iter();
        let last = days.filter_map(|day| day.day.value.parse::<Date>().ok()).max();
        date.zip(last).is_some_and(|(date, last)| last < date)
    }

    /// Puts the works on their days, with setting up before them and packing up after them.
    fn lay_out(&self, schedule: &Schedule, plan: &mut Plan) {
        let mut pieces: Vec<(usize, Piece)> = Vec::new();
        for run in &schedule.placements {
            let work = &self.works[run.activity];
            let (kind, task) = named(work, run.part);
            for stretch in &run.pieces {
                let (from, to) = (stretch.start_s as f64 / S_PER_H, stretch.end_s as f64 / S_PER_H);
                let day = (from / DAY_H).floor().max(0.0) as usize;
                let midnight = day as f64 * DAY_H;
                let machine =
                    |&(index, number): &(usize, usize)| Some((*Machine::ALL.get(index)?, number));
                pieces.push((
                    day,
                    Piece {
                        kind,
                        layer: work.layer,
                        task: task.clone(),
                        items: work.items.clone(),
                        from_h: from - midnight,
                        to_h: to - midnight,
                        worker_h: (to - from) * run.workers.len() as f64,
                        workers: run.workers.clone(),
                        machines: run.machines.iter().filter_map(machine).collect(),
                    },
                ));
            }
        }
        pieces.sort_by(|(d, p), (e, q)| d.cmp(e).then(p.from_h.total_cmp(&q.from_h)));
        let last = pieces.last().map(|(day, _)| *day);
        while let Some(&(day, _)) = pieces.first() {
            let rest = pieces.iter().position(|(other, _)| *other != day).unwrap_or(pieces.len());
            let of_day: Vec<Piece> = pieces.drain(..rest).map(|(_, piece)| piece).collect();
            let done = self.day(day, plan.days.len() + 1, of_day, Some(day) == last);
            plan.add(done, self.floor);
        }
    }

    /// One day with its first and last quarter of an hour.
    fn day(&self, after: usize, number: usize, works: Vec<Piece>, is_last: bool) -> Day {
        let days = &self.floor.shop.days;
        let book = |kind, key| days.works.get(kind, key) / S_PER_H;
        let crew: Vec<usize> = (0..days.crew.max(1)).collect();
        let starts_h = days.starts.s() / S_PER_H;
        let daily = |kind: Kind, from_h: f64, hours: f64| Piece {
            kind,
            layer: None,
            task: kind.name().into(),
            items: Vec::new(),
            from_h,
            to_h: from_h + hours,
            worker_h: hours * crew.len() as f64,
            workers: crew.clone(),
            machines: Vec::new(),
        };
        let arrive = if number == 1 { Key::First } else { Key::Later };
        let leave = if is_last { Key::Last } else { Key::Other };
        let ends_h = works.iter().map(|piece| piece.to_h).fold(starts_h, f64::max);
        let mut pieces = vec![daily(Kind::SetUp, starts_h, book(Kind::SetUp, arrive))];
        pieces.extend(works);
        pieces.push(daily(Kind::PackUp, ends_h, book(Kind::PackUp, leave)));
        pieces.retain(|piece| piece.to_h - piece.from_h > LEAST_H);
        let start = moment(self.first, after as f64 * DAY_H + starts_h);
        let hours_h = days.hours.s() / S_PER_H;
        let dusty: Vec<(Tool, f64)> =
            pieces.iter().filter_map(|piece| Some((piece.tool()?, piece.worker_h))).collect();
        Day {
            number,
            start,
            shift: at_most(shift(&dusty, self.floor.sketch.coating.site), hours_h),
            weather: self.weather(start.date),
            beyond_forecast: self.beyond_forecast(start.date),
            pieces,
        }
    }

    /// Recoat windows, and when the floor is walked and driven on.
    fn windows(&self, schedule: &Schedule, plan: &mut Plan) {
        let ends = self.ends(schedule);
        let coats: Vec<usize> =
            (0..self.works.len()).filter(|i| self.works[*i].kind == Kind::Coat).collect();
        let Some(system) = self.system else { return };
        for pair in coats.windows(2) {
            let (under, over) = (&self.works[pair[0]], &self.works[pair[1]]);
            let ended = ends[pair[0]];
            let slab_c = self.slab_c(ended);
            let layer = under.layer.and_then(|l| system.layers.get(l));
            let window = layer.and_then(|layer| between(&layer.recoat, slab_c));
            let Some((opens, closes)) = window else {
                plan.notes.push(format!(
                    "The shop book has no recoat window for {} at {}: the data sheet decides.",
                    under.name,
                    write::temperature(slab_c, self.floor.slab.units)
                ));
                continue;
            };
            plan.waits.push(Wait {
                under: under.name.clone(),
                over: over.name.clone(),
                ended: moment(self.first, ended),
                opens: moment(self.first, ended + opens),
                closes: moment(self.first, ended + closes),
            });
        }
        if let Some(last) = coats.last() {
            let ended = ends[*last];
            let (foot, wheels) = between(&system.cure, self.slab_c(ended)).unzip();
            plan.foot = foot.map(|h| moment(self.first, whole_hour(ended + h)));
            plan.wheels = wheels.map(|h| moment(self.first, whole_hour(ended + h)));
            if foot.is_none() {
                let note = "The shop book has no cure for this system: the data sheet says when to walk and drive on it.";
                plan.notes.push(note.into());
            }
        }
    }
}

impl Plan {
    /// Adds a day with its hours.
    fn add(&mut self, day: Day, floor: &Survey) {
        let days = &floor.shop.days;
        let (lunch_h, hours_h) = (days.lunch.s() / S_PER_H, days.hours.s() / S_PER_H);
        let starts_h = days.starts.s() / S_PER_H;
        let ends_h = day.pieces.iter().map(|piece| piece.to_h).fold(starts_h, f64::max);
        // Who worked through lunch ate after it, or went home: only time in which nobody works is lunch.
        let noon_h = starts_h + hours_h / 2.0;
        let eaten = if ends_h > noon_h { lunch_h.min(idle_h(&day.pieces, starts_h)) } else { 0.0 };
        let there = ends_h - starts_h - eaten;
        self.crew_h += there;
        self.present_h += there * days.crew.max(1) as f64;
        self.worker_h += day.pieces.iter().map(|piece| piece.worker_h).sum::<f64>();
        self.days.push(day);
    }
}

/// Hours of a day in which nobody works, from its start to the end of the last piece.
fn idle_h(pieces: &[Piece], starts_h: f64) -> f64 {
    let mut spans: Vec<(f64, f64)> = pieces.iter().map(|p| (p.from_h, p.to_h)).collect();
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut until, mut idle) = (starts_h, 0.0);
    for (from, to) in spans {
        idle += (from - until).max(0.0);
        until = until.max(to);
    }
    idle
}

/// One worker may do all the dusty work of a day. So silica hours are worker hours, but no more than
/// the day is long.
fn at_most(mut shift: Shift, hours: f64) -> Shift {
    shift.table_h = shift.table_h.min(hours);
    for tool in &mut shift.tools {
        tool.1 = tool.1.min(hours);
    }
    shift
}

/// The next whole hour: nobody should be on the floor a minute early.
fn whole_hour(hours: f64) -> f64 {
    (hours - LEAST_H).ceil()
}

fn moment(first: Option<Date>, hours: f64) -> Moment {
    let after = (hours / DAY_H).floor().max(0.0) as usize;
    let date = first.and_then(|first| {
        let days = jiff::Span::new().try_days(i64::try_from(after).ok()?).ok()?;
        first.checked_add(days).ok()
    });
    Moment { date, after, hour: hours - after as f64 * DAY_H }
}

/// The first day the sketch names.
fn first_day(floor: &Survey) -> Option<Date> {
    let start = floor.sketch.coating.start.as_ref()?;
    start.value.parse().ok()
}
