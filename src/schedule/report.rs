//! The plan as text and JSON.

use serde::Serialize;

#[cfg(not(target_family = "wasm"))]
use super::calendar::calendar;
use super::lanes;
use super::model::{Day, Moment, Piece, Plan};
use super::plan::plan;
use super::promise::{GivenBack, ON_WEATHER, ONCE_CLEARED};
use super::silica::{Protection, Tool, collector_cfm};
use crate::floor::Survey;
use crate::hold::{Hold, say};
use crate::quantity::{M_PER_IN, Units, write};
use crate::shop::{Profile, Shop};
use crate::sketch::Site;
use crate::text::clean;
use crate::text::json::document;
use crate::trade::Kind;

/// The files of the plan for a packet: name and text. The calendar is there where the sketch names
/// a first day.
#[must_use]
pub fn pieces(floor: &Survey) -> Vec<(String, String)> {
    let plan = plan(floor);
    let out = vec![
        ("days.txt".to_owned(), text(floor, &plan)),
        ("days.json".to_owned(), json(floor, &plan)),
    ];
    #[cfg(not(target_family = "wasm"))]
    let out = {
        let dates = calendar(floor, &plan).map(|text| ("days.ics".to_owned(), text));
        out.into_iter().chain(dates).collect()
    };
    out
}

/// The plan for people, in the units of the sketch.
#[must_use]
pub fn text(floor: &Survey, plan: &Plan) -> String {
    let mut out = format!("DAYS: {}\n", clean(&floor.sketch.job.name));
    out += &format!(
        "{} workers. {} worker hours of work; {} are paid, from arriving to leaving\nwithout lunch. Times to the quarter of an hour; '.' is nothing to do.\n",
        floor.shop.days.crew,
        write::fixed(plan.worker_h, 1),
        write::fixed(plan.present_h, 1)
    );
    if let Some(finish) = finish(floor) {
        out += &format!("Coating: {finish}.\n");
    }
    out += &say::text(&floor.holds);
    for day in &plan.days {
        day_text(&mut out, day, floor);
    }
    out += "\n";
    for (what, when) in plan.given_back() {
        out += &format!("{what} {}.\n", given_back_text(&when));
    }
    if !floor.holds.is_empty() {
        out += &format!("{ONCE_CLEARED}\n");
    }
    for note in &plan.notes {
        out += &format!("Check: {}\n", clean(note));
    }
    if plan.days.iter().any(|day| !day.shift.tools.is_empty()) {
        out += "Silica: 29 CFR 1926.1153. Keep the written exposure control plan and the competent person's word; joints are \
                vacuumed with a HEPA filter, never blown out. Collectors have a filter of 99 % or better with filter cleaning or a cyclone before it, and blow outdoors.\n";
    }
    out += "The data sheets of the products go before every time and temperature here.\n";
    crate::text::folded(&out)
}

/// What was chosen of the coating, layer by layer, with a line where nothing was.
pub(super) fn finish(floor: &Survey) -> Option<String> {
    let coating = &floor.sketch.coating;
    let system = floor.shop.systems.get(&coating.system.as_ref()?.value)?;
    Some(clean(&crate::order::finish(system, coating)?))
}

fn day_text(out: &mut String, day: &Day, floor: &Survey) {
    let dry = if day.waits() { ", if dry" } else { "" };
    *out += &format!("\nDAY {}{}{dry}\n", day.number, date_text(&day.start));
    *out += &lanes::text(day, floor.shop.days.crew, &floor.holds);
    let mut grinding = day.pieces.iter().filter(|p| p.kind == Kind::GrindFloor);
    if let (Some(_), Some(profile)) = (grinding.next(), floor.profile()) {
        *out += &format!("  Grind to {profile}, the chips of ICRI 310.2R.\n");
    }
    if day.pieces.iter().any(Piece::is_coat) {
        let mut coats = day.pieces.iter().filter(|piece| piece.is_coat());
        let stopped = |p: &Piece| floor.holds.iter().any(|h| h.stops(p.kind, &p.items));
        weather_text(out, day, coats.any(stopped), floor.slab.units);
    }
    if day.shift.tools.is_empty() {
        return;
    }
    let site = match floor.sketch.coating.site {
        Site::Indoors => "indoors",
        Site::Outdoors => "outdoors",
    };
    *out += &format!(
        "  Silica, {site}: {} h of Table 1 tasks in the shift if one worker does them all.\n",
        write::trimmed(day.shift.table_h, 1)
    );
    for (tool, hours, protection) in &day.shift.tools {
        *out += &format!(
            "    {}, {} h: {}\n",
            tool_text(*tool, &floor.shop),
            write::trimmed(*hours, 1),
            protection_text(*protection)
        );
    }
}

fn weather_text(out: &mut String, day: &Day, held: bool, units: Units) {
    let Some(weather) = &day.weather else {
        *out += "  Measure air, humidity and slab before the coat: the slab must be 5 °F (3 °C) above the dew point.\n";
        return;
    };
    let (Some(dew), Some(spread)) = (weather.dew_c, weather.spread_k) else {
        return;
    };
    *out += &format!(
        "  {}: slab {}, dew point {}, spread {} of at least {}.\n",
        match (weather.go(), held) {
            (true, false) => "GO",
            // Good air does not clear what is on hold.
            (true, true) => "AIR GOOD, COAT ON HOLD",
            (false, _) => "WAIT",
        },
        write::temperature(weather.slab_c, units),
        write::temperature(dew, units),
        write::temperature_difference(spread, units),
        write::temperature_difference(weather.wanted_k, units)
    );
}

pub(crate) fn tool_text(tool: Tool, shop: &Shop) -> String {
    match tool {
        Tool::HandheldSawWet => "handheld saw with water".into(),
        Tool::WalkBehindSawWet => "walk-behind saw with water".into(),
        Tool::DrivableSawWet => "drivable saw with water".into(),
        Tool::Drill => "drill with shroud and collector".into(),
        Tool::Chipping => "chipping tool with shroud and collector".into(),
        Tool::HandGrinderWet => "hand grinder with water".into(),
        Tool::HandGrinderDry => format!(
            "hand grinder with shroud and collector of at least {} cfm",
            write::trimmed(collector_cfm(shop.days.wheel.m() / M_PER_IN), 1)
        ),
        Tool::HandCut => format!(
            "joints and cracks cut by hand, with shroud and collector of at least {} cfm",
            write::trimmed(collector_cfm(shop.days.wheel.m() / M_PER_IN), 1)
        ),
        Tool::FloorGrinder => {
            "floor grinder with the collector that its maker asks for; indoors vacuum loose dust with a HEPA filter between passes".into()
        }
        Tool::DrySaw => "joint saw, dry".into(),
    }
}

/// `from 2026-09-26 12:00`, or that it depends on the weather.
pub(crate) fn given_back_text(when: &GivenBack) -> String {
    match when {
        GivenBack::From(moment) => format!("from {}", moment_text(moment)),
        GivenBack::WeatherDecides => ON_WEATHER.into(),
    }
}

pub(crate) const fn protection_text(protection: Protection) -> &'static str {
    match protection {
        Protection::None => "the table asks for no respirator",
        Protection::Apf10 => "respirator, APF 10",
        Protection::Apf10Unassessed => {
            "respirator, APF 10 until exposure is assessed: a cutting wheel, or a shroud that can't seal, is not in Table 1"
        }
        Protection::Assess => "not in Table 1: assess exposure",
    }
}

const fn tool_key(tool: Tool) -> &'static str {
    match tool {
        Tool::HandheldSawWet => "handheld-saw-wet",
        Tool::WalkBehindSawWet => "walk-behind-saw-wet",
        Tool::DrivableSawWet => "drivable-saw-wet",
        Tool::Drill => "drill",
        Tool::Chipping => "chipping-tool",
        Tool::HandGrinderWet => "hand-grinder-wet",
        Tool::HandGrinderDry => "hand-grinder",
        Tool::HandCut => "hand-cut",
        Tool::FloorGrinder => "floor-grinder",
        Tool::DrySaw => "dry-saw",
    }
}

const fn protection_key(protection: Protection) -> &'static str {
    match protection {
        Protection::None => "none",
        Protection::Apf10 => "apf-10",
        Protection::Apf10Unassessed => "apf-10-until-assessed",
        Protection::Assess => "assess",
    }
}

/// `8:00`, `13:30`, to the minute, padded to five characters.
pub(crate) fn hour_text(hour: f64) -> String {
    let minutes = (hour * 60.0).round().max(0.0) as u64;
    format!("{:>2}:{:02}", minutes / 60, minutes % 60)
}

pub(crate) fn date_text(moment: &Moment) -> String {
    moment.date.map_or(String::new(), |date| format!(", {} {date}", weekday(date)))
}

fn weekday(date: jiff::civil::Date) -> &'static str {
    use jiff::civil::Weekday;
    match date.weekday() {
        Weekday::Monday => "Monday",
        Weekday::Tuesday => "Tuesday",
        Weekday::Wednesday => "Wednesday",
        Weekday::Thursday => "Thursday",
        Weekday::Friday => "Friday",
        Weekday::Saturday => "Saturday",
        Weekday::Sunday => "Sunday",
    }
}

/// A moment as it is said on a day: by its weekday if they are less than a week apart.
pub(crate) fn said_on(day: &Moment, moment: &Moment) -> String {
    match moment.date {
        Some(date) if moment.after.abs_diff(day.after) < 7 => {
            format!("{} {}", weekday(date), hour_text(moment.hour).trim())
        }
        _ => moment_text(moment),
    }
}

pub(crate) fn moment_text(moment: &Moment) -> String {
    let hour = hour_text(moment.hour);
    match moment.date {
        Some(date) => format!("{date} {}", hour.trim()),
        None => format!("{} on calendar day {}", hour.trim(), moment.after + 1),
    }
}

/// The plan for scripts: hours, dates as `YYYY-MM-DD`, temperatures in °C.
#[must_use]
pub fn json(floor: &Survey, plan: &Plan) -> String {
    #[derive(Serialize)]
    struct Document<'a> {
        holds: &'a [Hold],
        coating: Option<String>,
        profile: Option<Profile>,
        worker_h: f64,
        crew_h: f64,
        days: Vec<DayJson<'a>>,
        foot: Option<MomentJson>,
        vehicles: Option<MomentJson>,
        depends_on_weather: bool,
        notes: &'a [String],
    }
    let depends_on_weather = plan.first_wait().is_some();
    // What waits for the weather has no time yet.
    let promised = |moment: &Option<Moment>| {
        moment.as_ref().filter(|_| !depends_on_weather).map(MomentJson::new)
    };
    document(&Document {
        holds: &floor.holds,
        coating: finish(floor),
        profile: floor.profile(),
        worker_h: plan.worker_h,
        crew_h: plan.crew_h,
        days: plan.days.iter().map(DayJson::new).collect(),
        foot: promised(&plan.foot),
        vehicles: promised(&plan.wheels),
        depends_on_weather,
        notes: &plan.notes,
    })
}

#[derive(Serialize)]
struct DayJson<'a> {
    day: usize,
    date: Option<String>,
    pieces: Vec<PieceJson<'a>>,
    silica_h: f64,
    tools: Vec<ToolJson>,
    conditions: Option<WeatherJson>,
}

#[derive(Serialize)]
struct PieceJson<'a> {
    task: &'a str,
    from_h: f64,
    to_h: f64,
    worker_h: f64,
    hands: usize,
    machines: Vec<&'static str>,
    items: &'a [String],
}

#[derive(Serialize)]
struct ToolJson {
    tool: &'static str,
    hours: f64,
    respirator: &'static str,
}

#[derive(Serialize)]
struct WeatherJson {
    slab_c: f64,
    dew_point_c: Option<f64>,
    spread_c: Option<f64>,
    go: bool,
}

impl<'a> DayJson<'a> {
    fn new(day: &'a Day) -> Self {
        let piece = |piece: &'a Piece| PieceJson {
            task: &piece.task,
            from_h: piece.from_h,
            to_h: piece.to_h,
            worker_h: piece.worker_h,
            hands: piece.workers.len(),
            machines: piece.machines.iter().map(|(machine, _)| machine.name()).collect(),
            items: &piece.items,
        };
        let tool = |&(tool, hours, protection): &(Tool, f64, Protection)| ToolJson {
            tool: tool_key(tool),
            hours,
            respirator: protection_key(protection),
        };
        Self {
            day: day.number,
            date: day.start.date.map(|date| date.to_string()),
            pieces: day.pieces.iter().map(piece).collect(),
            silica_h: day.shift.table_h,
            tools: day.shift.tools.iter().map(tool).collect(),
            conditions: day.weather.map(|weather| WeatherJson {
                slab_c: weather.slab_c,
                dew_point_c: weather.dew_c,
                spread_c: weather.spread_k,
                go: weather.go(),
            }),
        }
    }
}

#[derive(Serialize)]
struct MomentJson {
    date: Option<String>,
    calendar_day: usize,
    hour: f64,
}

impl MomentJson {
    fn new(moment: &Moment) -> Self {
        Self {
            date: moment.date.map(|date| date.to_string()),
            calendar_day: moment.after + 1,
            hour: moment.hour,
        }
    }
}
