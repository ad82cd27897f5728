//! Hours, machine days and driving.

use rust_decimal::Decimal;

use super::build::{beyond, line};
use super::model::{Line, Section};
use crate::diagnostic::Diagnostic;
use crate::quantity::decimal;
use crate::schedule::{Piece, Plan, tasks};
use crate::shop::{COATS, Equipment};
use crate::survey::Survey;

/// Hours are priced to the hundredth, as printed.
const HOUR_PLACES: u32 = 2;
/// Distances are priced to the tenth of a mile or kilometer, as printed.
const DISTANCE_PLACES: u32 = 1;

/// A line for every task, at the rate of a worker hour.
pub(super) fn labor(floor: &Survey) -> Result<Vec<Line>, Vec<Diagnostic>> {
    let named = floor.sketch.coating.system.as_ref();
    let system = named.and_then(|name| floor.shop.systems.get(&name.value));
    let tasks = tasks(&floor.takeoff, &floor.shop, system);
    let lines: Result<Vec<Option<Line>>, Vec<Diagnostic>> = tasks
        .iter()
        .map(|task| {
            let hours = decimal(task.worker_h, HOUR_PLACES).ok_or_else(|| beyond(&task.name))?;
            let from = format!("days: {}, {hours} worker hours", task.name);
            let rate = &floor.shop.prices.labor;
            // Work of less than half a minute is printed and priced as none.
            if hours.is_zero() {
                return Ok(None);
            }
            Ok(Some(line(
                Section::Labor,
                &task.name,
                (hours, "h"),
                rate,
                from,
            )))
        })
        .collect();
    Ok(lines?.into_iter().flatten().collect())
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
            Some(line(
                Section::Equipment,
                &machine.name,
                count,
                &machine.day,
                from,
            ))
        })
        .collect()
}

fn wanted(machine: &Equipment, piece: &Piece) -> bool {
    let tasks = &machine.tasks;
    tasks.contains(&piece.task) || (piece.coat && tasks.iter().any(|task| task == COATS))
}

/// Trips and the distance driven on them.
pub(super) fn travel(floor: &Survey, plan: &Plan) -> Result<Vec<Line>, Vec<Diagnostic>> {
    let (notes, travel) = (&floor.sketch.price, &floor.shop.prices.travel);
    let (trips, why) = match &notes.trips {
        Some(trips) => (trips.value, "price: trips"),
        None => (plan.days.len(), "days: one for every working day"),
    };
    let count = Decimal::from(trips);
    let mut lines = Vec::new();
    if trips > 0 && !travel.trip.amount.is_zero() {
        let from = why.to_owned();
        lines.push(line(
            Section::Travel,
            "trips",
            (count, "trip"),
            &travel.trip,
            from,
        ));
    }
    if let Some(km) = &notes.travel {
        let unit = if travel.per_km == Decimal::ONE {
            "km"
        } else {
            "mi"
        };
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
        }
    }
    Ok(lines)
}
