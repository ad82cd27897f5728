//! The price on the telephone: a plain floor of which only the area and rough feet of joint and crack
//! are known, through the same survey, plan and build-up as any sketch.

use serde::Serialize;

use super::build::{build_up, example};
use super::model::BuildUp;
use super::report::EXAMPLE_PRICES;
use crate::diagnostic::{Diagnostic, Diagnostics, FileId, Severity};
use crate::quantity::{Money, Units, write};
use crate::schedule::plan;
use crate::shop::{Allowance, Shop};
use crate::survey::{Survey, survey};
use crate::text::clean;

/// How many times as long as wide the plain floor is (common practice: a garage for two cars is about
/// 24 ft by 18 to 22 ft).
const LONG: f64 = 4.0 / 3.0;
/// Largest floor that is priced without a sketch, m²: about 100,000 ft².
const LARGEST_M2: f64 = 1e4;
/// Closest that joints and cracks of a plain floor lie, m: about a foot.
const CLOSEST_M: f64 = 0.3;
/// Shorter ends of joint or crack are not worth a line of their own, m.
const LEAST_M: f64 = 0.01;

/// What is known on the telephone.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Call {
    /// Coating system of the shop book.
    pub system: String,
    /// Area of the floor, m².
    pub area_m2: f64,
    /// Joint to be cut, filled and coated over, m.
    pub joint_m: f64,
    /// Crack to be filled, m.
    pub crack_m: f64,
    /// Units of the answer.
    #[serde(skip)]
    pub units: Units,
}

/// What can be said on the telephone. Holds no cost.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Quick {
    /// What was known.
    #[serde(flatten)]
    pub call: Call,
    /// Sign before every amount.
    pub currency: String,
    /// Packages that are enough in half of such jobs, nothing for contingency.
    pub low: Money,
    /// Packages that are enough in nine of ten, and the shop's contingency.
    pub high: Money,
    /// Least charge for a job.
    pub minimum: Money,
    /// Whether the least charge goes before the lower price.
    pub at_minimum: bool,
    /// Working days.
    pub days: usize,
    /// Workers.
    pub crew: usize,
    /// What is taken for granted, sentences.
    #[serde(rename = "taken_for_granted")]
    pub granted: Vec<String>,
    /// Built-in examples went into it: nobody's prices.
    #[serde(rename = "example_prices")]
    pub example: bool,
}

/// Prices a plain floor.
///
/// # Errors
///
/// The shop book has no such system or no price for one of its goods; the floor is larger than is
/// priced without a sketch, or has no room for so much joint and crack.
pub fn quick(call: Call, shop: Shop) -> Result<Quick, Diagnostics> {
    let floor = floor(&call, shop)?;
    let priced = |allowance: Allowance, contingency: bool| -> Result<BuildUp, Diagnostics> {
        let mut floor = floor.clone();
        floor.shop.prices.allowance = allowance;
        if !contingency {
            floor.shop.prices.contingency.amount = rust_decimal::Decimal::ZERO;
        }
        build_up(&floor).map_err(nowhere)
    };
    let low = priced(Allowance::Half, false)?;
    let high = priced(Allowance::NineInTen, true)?;
    let prices = &floor.shop.prices;
    Ok(Quick {
        currency: prices.currency.clone(),
        low: low.price,
        high: high.price,
        minimum: Money::rounded(prices.minimum.amount),
        at_minimum: low.to_minimum != Money::ZERO,
        days: plan(&floor).days.len(),
        crew: floor.shop.days.crew,
        granted: granted(&call, &floor),
        example: example(&low, prices) || example(&high, prices),
        call,
    })
}

/// Nobody wrote the plain floor's sketch, so nothing is marked in it.
fn nowhere(found: Diagnostics) -> Diagnostics {
    let errors = found.into_iter().filter(|f| f.severity == Severity::Error);
    let unmarked = |fault: Diagnostic| Diagnostic {
        place: fault.place.filter(|place| place.file != FileId::Sketch),
        related: None,
        ..fault
    };
    errors.map(unmarked).collect()
}

/// The plain floor, surveyed.
fn floor(call: &Call, shop: Shop) -> Result<Survey, Diagnostics> {
    if call.area_m2 > LARGEST_M2 {
        let message = format!(
            "a floor of {} is larger than is priced without a sketch",
            write::area(call.area_m2, call.units)
        );
        let hint = "write a sketch of it: slabwalk new";
        return Err(Diagnostic::error("beyond-belief", message).hint(hint).into());
    }
    let text = sketch(call, &shop)?;
    let (parsed, found) = crate::sketch::parse(&text);
    let Some(parsed) = parsed else {
        return Err(nowhere(found.into()));
    };
    survey(parsed, shop, found).map_err(nowhere)
}

/// Length and width of the plain floor, m, down to a tenth of a millimeter: no kit is opened for a
/// rounding.
fn sides(area_m2: f64) -> (f64, f64) {
    let down = |m: f64| (m * 1e4).floor() / 1e4;
    let width = (area_m2 / LONG).sqrt();
    (down(width * LONG), down(width))
}

/// The plain floor as a sketch: joints, then cracks, straight across and evenly apart. Each is as long
/// as the floor is wide; the last joint and the last crack are as long as is left.
fn sketch(call: &Call, shop: &Shop) -> Result<String, Diagnostics> {
    let (long, wide) = sides(call.area_m2);
    let pieces = |m: f64| ((m - LEAST_M) / wide).ceil().max(0.0);
    let (joints, cracks) = (pieces(call.joint_m), pieces(call.crack_m));
    let apart = long / (joints + cracks + 1.0);
    if joints + cracks > 0.0 && (apart.is_nan() || apart < CLOSEST_M) {
        let units = call.units;
        let message = format!(
            "a floor of {} has no room for {} of joint and crack",
            write::area(call.area_m2, units),
            write::run(call.joint_m + call.crack_m, units)
        );
        let most = (long / CLOSEST_M - 2.0).floor().max(0.0) * wide;
        let hint = format!(
            "it has room for about {}; give the feet that are there, or write a sketch",
            write::run(most, units)
        );
        return Err(Diagnostic::error("beyond-belief", message).hint(hint).into());
    }
    let across = |count: f64, first: f64, total: f64, more: &str| -> String {
        let line = |index: usize| {
            let x = (first + index as f64 + 1.0) * apart;
            let y = (total - index as f64 * wide).min(wide);
            format!("  - {{path: [[{x:.4} m, 0 m], [{x:.4} m, {y:.4} m]], {more}}}\n")
        };
        (0..count as usize).map(line).collect()
    };
    let mm = |length: crate::quantity::Length| format!("{:.4} mm", length.mm());
    let cut =
        format!("kind: control, width: {}, depth: {}", mm(shop.chase.blade), mm(shop.chase.depth));
    let narrow = f64::midpoint(shop.cracks.prime_below.mm(), shop.cracks.chase_from.mm());
    let of = |name: &str, lines: String| {
        if lines.is_empty() {
            return lines;
        }
        format!("{name}:\n{lines}")
    };
    let units = match call.units {
        Units::Us => "us",
        Units::Metric => "metric",
    };
    // A JSON string is a double-quoted YAML scalar.
    let system = serde_json::Value::from(call.system.as_str());
    Ok(format!(
        "slabwalk: 1\nunits: {units}\njob: {{name: quick price}}\n\
         slab: {{post_tension: none, outline: [[0 m, 0 m], [{long:.4} m, 0 m], [{long:.4} m, {wide:.4} m], [0 m, {wide:.4} m]]}}\n\
         {}{}coating: {{system: {system}}}\n",
        of("joints", across(joints, 0.0, call.joint_m, &cut)),
        of("cracks", across(cracks, joints, call.crack_m, &format!("width: {narrow:.4} mm"))),
    ))
}

/// What is taken for granted, because nobody has seen the floor.
fn granted(call: &Call, floor: &Survey) -> Vec<String> {
    let (units, shop) = (call.units, &floor.shop);
    let (long, wide) = sides(call.area_m2);
    let mut all = vec![format!(
        "One plain rectangle, {} by {}, with walls around it; edges ground by hand, the floor by machine.",
        write::run(long, units),
        write::run(wide, units)
    )];
    if call.joint_m > 0.0 {
        all.push(format!(
            "Joints sawn {} wide and {} deep, filled, shaved and coated over.",
            write::small(shop.chase.blade.m(), units),
            write::small(shop.chase.depth.m(), units)
        ));
    }
    if call.crack_m > 0.0 {
        all.push(format!(
            "Cracks up to {} wide, filled and none cut open.",
            write::small(shop.cracks.chase_from.m(), units)
        ));
    }
    all.push("A sound, dry, bare slab: no spalls, offsets, oil, old coating or adhesive.".into());
    all.push("Not post-tensioned; no pipes, cables or heating where it is cut.".into());
    let slab = write::temperature(crate::work::ASSUMED_SLAB_C, units);
    all.push(format!(
        "The slab at {slab}, no day lost to the weather, one trip on every working day, no distance driven."
    ));
    all
}

impl Quick {
    /// What is asked, in one line: `480.0 ft² of flake, 60.0 ft of joint`.
    fn asked(&self) -> String {
        let (call, units) = (&self.call, self.call.units);
        let area = write::area(call.area_m2, units);
        let mut out = format!("{area} of {}", clean(&call.system));
        for (m, what) in [(call.joint_m, "joint"), (call.crack_m, "crack")] {
            if m > 0.0 {
                out += &format!(", {} of {what}", write::run(m, units));
            }
        }
        out
    }

    /// For people. It shows no cost.
    #[must_use]
    pub fn text(&self) -> String {
        let money = |amount: Money| amount.with(&self.currency);
        let mut out = format!("QUICK PRICE: {}\n", self.asked());
        if self.example {
            out += &format!("\n{EXAMPLE_PRICES}\n");
        }
        let range = if self.low == self.high {
            money(self.low)
        } else {
            format!("{} to {}", money(self.low), money(self.high))
        };
        let reached = if self.at_minimum { ", which goes before the lower price" } else { "" };
        let days = if self.days == 1 { "day" } else { "days" };
        let workers = if self.crew == 1 { "worker" } else { "workers" };
        out += &format!(
            "\n  {range}\n  {} working {days} with {} {workers}\n  Least charge for a job: {}{reached}.\n",
            self.days,
            self.crew,
            money(self.minimum)
        );
        out += "\nTAKEN FOR GRANTED\n";
        for sentence in &self.granted {
            out += &format!("  {sentence}\n");
        }
        out += "\nThe lower price has the packages that are enough in half of such jobs and nothing for contingency; the higher one \
                those that are enough in nine of ten, and the shop's contingency. A range for the telephone, no offer: see the floor \
                and write its sketch before anything is promised.\n";
        crate::text::folded(&out)
    }

    /// For scripts, in SI. Money is text, as in the price.
    #[must_use]
    pub fn json(&self) -> String {
        crate::text::json::document(self)
    }
}
