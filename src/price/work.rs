//! Hours, machine days and driving.

use rust_decimal::Decimal;

use super::build::{beyond, line};
use super::model::{Line, Section};
use crate::diagnostic::Diagnostics;
use crate::floor::Survey;
use crate::quantity::decimal;
use crate::schedule::{Piece, Plan};
use crate::shop::Equipment;

/// Hours are priced to the hundredth, as printed.
const HOUR_PLACES: u32 = 2;
/// Distances are priced to the tenth of a mile or kilometer, as printed.
const DISTANCE_PLACES: u32 = 1;

/// A line for every work of the plan at the rate of a worker hour, and one for the hours that are
/// paid while something sets or only one pair of hands has work.
pub(super) fn labor(floor: &Survey, plan: &Plan) -> Result<Vec<Line>, Diagnostics> {
    let mut lines = Vec::new();
    for work in plan.spent() {
        let from = |hours| format!("days: {}, {hours} worker hours", work.name);
        lines.extend(paid(floor, &work.name, work.worker_h, from)?);
    }
    let idle = plan.present_h - plan.worker_h;
    let from = |hours| {
        format!(
            "days: {hours} worker hours on the floor beside all works: what sets, and hands without work"
        )
    };
    lines.extend(paid(floor, "waiting", idle, from)?);
    Ok(lines)
}

/// A line of worker hours. Work of less than half a minute is printed and priced as none.
fn paid(
    floor: &Survey,
    name: &str,
    worker_h: f64,
    from: impl Fn(Decimal) -> String,
) -> Result<Option<Line>, Diagnostics> {
    let hours = decimal(worker_h, HOUR_PLACES).ok_or_else(|| beyond(name))?;
    let rate = &floor.shop.prices.labor;
    let line = || line(Section::Labor, name, (hours, "h"), rate, from(hours));
    Ok((!hours.is_zero() && !hours.is_sign_negative()).then(line))
}

/// A line for every machine that is there on some day of the plan.
pub(super) fn equipment(floor: &Survey, plan: &Plan) -> Vec<Line> {
    let machines = floor.shop.prices.equipment.iter();
    machines
        .filter_map(|machine| {
            let days: Vec<String> = plan
                .days
                .iter()
                .filter(|day| day.pieces.iter().any(|piece| wanted(machine, piece)))
                .map(|day| day.number.to_string())
                .collect();
            if days.is_empty() || machine.day.amount.is_zero() {
                return None;
            }
            let word = if days.len() == 1 { "day" } else { "days" };
            let from = format!("days: {word} {}", days.join(", "));
            let count = (Decimal::from(days.len()), "day");
            Some(line(Section::Equipment, &machine.name, count, &machine.day, from))
        })
        .collect()
}

fn wanted(machine: &Equipment, piece: &Piece) -> bool {
    machine.tasks.contains(&piece.kind)
}

/// Trips and the distance driven on them.
pub(super) fn travel(floor: &Survey, plan: &Plan) -> Result<Vec<Line>, Diagnostics> {
    let (notes, travel) = (&floor.sketch.price, &floor.shop.prices.travel);
    let (trips, why) = match &notes.trips {
        Some(trips) => (trips.value, "price: trips"),
        None => (plan.days.len(), "days: one for every working day"),
    };
    let count = Decimal::from(trips);
    let mut lines = Vec::new();
    if trips > 0 && !travel.trip.amount.is_zero() {
        let from = why.to_owned();
        lines.push(line(Section::Travel, "trips", (count, "trip"), &travel.trip, from));
    }
    if let Some(km) = &notes.travel {
        let unit = if travel.per_km == Decimal::ONE { "km" } else { "mi" };
        let once = km.value / travel.per_km;
        let far = (count * once).round_dp_with_strategy(
            DISTANCE_PLACES,
            rust_decimal::RoundingStrategy::MidpointAwayFromZero,
        );
        let from = format!(
            "price: travel {} {unit} there and back × {trips}",
            once.round_dp(DISTANCE_PLACES)
        );
        if !far.is_zero() {
            lines.push(line(
                Section::Travel,
                "driving",
                (far.normalize(), unit),
                &travel.distance,
                from,
            ));
            lines.extend(on_the_way(floor, far * travel.per_km)?);
        }
    }
    Ok(lines)
}

/// The crew is paid on the way.
fn on_the_way(floor: &Survey, km: Decimal) -> Result<Option<Line>, Diagnostics> {
    let (days, travel) = (&floor.shop.days, &floor.shop.prices.travel);
    let name = "driving, paid hours";
    let crew = Decimal::from(days.crew);
    let hours = km
        .checked_div(travel.km_h)
        .and_then(|hours| hours.checked_mul(crew))
        .ok_or_else(|| beyond(name))?
        .round_dp_with_strategy(HOUR_PLACES, rust_decimal::RoundingStrategy::MidpointAwayFromZero);
    let speed = (travel.km_h / travel.per_km).round_dp(DISTANCE_PLACES).normalize();
    let unit = if travel.per_km == Decimal::ONE { "km" } else { "mi" };
    let workers = if days.crew == 1 { "worker" } else { "workers" };
    let from = format!("price: travel at {speed} {unit}/h × {crew} {workers}");
    let rate = &floor.shop.prices.labor;
    let line = || line(Section::Labor, name, (hours.normalize(), "h"), rate, from);
    Ok((!hours.is_zero()).then(line))
}
