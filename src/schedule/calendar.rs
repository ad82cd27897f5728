//! The plan as an iCalendar file (RFC 5545), in local time without a zone.
//!
//! Time stamp and identifiers come from the sketch, never from the clock, so that the same sketch
//! gives the same bytes.

use icalendar::{Calendar, Component, Event, Property};

use super::model::{Day, Moment, Plan};
use crate::survey::Survey;
use crate::takeoff::words::clean;

/// The calendar; `None` where the sketch names no first day, or nothing is to be done.
#[must_use]
pub fn calendar(floor: &Survey, plan: &Plan) -> Option<String> {
    let first = plan.days.first()?.start.date?;
    let stamp = format!("{}T000000Z", first.to_string().replace('-', ""));
    let name = clean(&floor.sketch.job.name);
    let mut calendar = Calendar::new();
    calendar.properties = vec![
        Property::new("VERSION", "2.0"),
        Property::new("PRODID", "-//slabwalk//days//EN"),
    ];
    for day in &plan.days {
        calendar.push(event(day, &name, &stamp)?);
    }
    for (what, moment) in [("On foot", &plan.foot), ("Vehicles", &plan.wheels)] {
        if let Some(moment) = moment {
            let key = what.to_lowercase().replace(' ', "-");
            let at = time(moment, moment.hour)?;
            let mut event = blank(&format!("{key}-{at}"), &stamp);
            event.summary(&format!("{what}: {name}"));
            event.add_property("DTSTART", &at);
            calendar.push(event.done());
        }
    }
    Some(calendar.to_string())
}

fn event(day: &Day, name: &str, stamp: &str) -> Option<Event> {
    let (from, to) = (day.pieces.first()?.from_h, day.pieces.last()?.to_h);
    let start = time(&day.start, from)?;
    let tasks: Vec<String> = day.pieces.iter().map(|piece| clean(&piece.task)).collect();
    let mut event = blank(&format!("day-{}-{start}", day.number), stamp);
    event.summary(&format!("{name}, day {}", day.number));
    event.description(&tasks.join("\n"));
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
