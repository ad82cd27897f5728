//! The plan as an iCalendar file (RFC 5545), in local time without a zone.
//!
//! Time stamp and identifiers come from the sketch, never from the clock, so that the same sketch
//! gives the same bytes.

use crate::trade::words::said;
use icalendar::{Calendar, Component, Event, Property};
use jiff::civil::Date;

use super::model::{Day, Moment, Piece, Plan};
use super::promise::{GivenBack, ON_WEATHER};
use super::report::finish;
use crate::floor::Survey;
use crate::hold::{Hold, say};
use crate::text::clean;

/// The calendar; `None` where the sketch names no first day, or nothing is to be done.
#[must_use]
pub fn calendar(floor: &Survey, plan: &Plan) -> Option<String> {
    let first = plan.days.first()?.start.date?;
    let stamp = format!("{}T000000Z", first.to_string().replace('-', ""));
    let name = clean(&floor.sketch.job.name);
    let mut calendar = Calendar::new();
    calendar.properties =
        vec![Property::new("VERSION", "2.0"), Property::new("PRODID", "-//slabwalk//days//EN")];
    let holds = &floor.holds;
    if !holds.is_empty() {
        calendar.push(on_hold(holds, &name, first, &stamp));
    }
    let until = if holds.is_empty() { "" } else { ", once the holds are cleared" };
    for day in &plan.days {
        calendar.push(event(day, plan, floor, &name, &stamp)?);
    }
    for (what, when) in plan.given_back() {
        // What depends on the weather has no day in a calendar yet.
        if let GivenBack::From(moment) = when {
            let key = what.to_lowercase().replace(' ', "-");
            let at = time(&moment, moment.hour)?;
            let mut event = blank(&format!("{key}-{at}"), &stamp);
            event.summary(&format!("{what}{until}: {name}"));
            event.add_property("DTSTART", &at);
            calendar.push(event.done());
        }
    }
    Some(calendar.to_string())
}

/// All day on the first day: what must be cleared before it.
fn on_hold(holds: &[Hold], name: &str, first: Date, stamp: &str) -> Event {
    let day = first.to_string().replace('-', "");
    let mut event = blank(&format!("hold-{day}"), stamp);
    event.summary(&format!("HOLD, clear this before work starts: {name}"));
    event.description(&say::remarks(holds).join("\n"));
    event.append_property(Property::new("DTSTART", &day).add_parameter("VALUE", "DATE").done());
    event.done()
}

fn event(day: &Day, plan: &Plan, floor: &Survey, name: &str, stamp: &str) -> Option<Event> {
    let (from, to) = (day.pieces.first()?.from_h, day.pieces.last()?.to_h);
    let start = time(&day.start, from)?;
    let tasks: Vec<String> = day.pieces.iter().map(|piece| clean(&said(&piece.task))).collect();
    let mut event = blank(&format!("day-{}-{start}", day.number), stamp);
    let waits = plan.first_wait().filter(|wait| wait.number <= day.number);
    let may = if waits.is_some() {
        event.add_property("STATUS", "TENTATIVE");
        ", depends on the weather"
    } else {
        ""
    };
    event.summary(&format!("{name}, day {}{may}", day.number));
    // Every later work waits for those before it, so a hold stands on every day.
    let mut lines = say::remarks(&floor.holds);
    lines.extend(waits.map(|wait| format!("WAIT: the coat of day {} {ON_WEATHER}.", wait.number)));
    lines.extend(tasks);
    if day.pieces.iter().any(Piece::is_coat) {
        lines.extend(finish(floor).map(|finish| format!("Coating: {finish}.")));
    }
    event.description(&lines.join("\n"));
    event.add_property("DTSTART", &start);
    event.add_property("DTEND", time(&day.start, to)?);
    Some(event.done())
}

fn blank(uid: &str, stamp: &str) -> Event {
    let mut event = Event::new();
    event.uid(&format!("{uid}@slabwalk"));
    event.add_property("DTSTAMP", stamp);
    event
}

/// `20260921T083000`, to the minute.
fn time(day: &Moment, hour: f64) -> Option<String> {
    let minutes = (hour * 60.0).round().max(0.0) as u64;
    let minutes = minutes.min(24 * 60 - 1);
    let date = day.date?.to_string().replace('-', "");
    Some(format!("{date}T{:02}{:02}00", minutes / 60, minutes % 60))
}
