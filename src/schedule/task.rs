//! Tasks with their hours, in the order of the work.

use super::silica::{Tool, tool};
use crate::shop::{Amount, Shop, System, Times};
use crate::takeoff::Takeoff;
use crate::work::Kind;

/// Workers that a coat or a broadcast takes; its rate is theirs together (common practice).
const COAT_HANDS: f64 = 2.0;

/// One task.
#[derive(Clone, Debug, PartialEq)]
pub struct Task {
    /// What is done.
    pub name: String,
    /// Quantity over rate, times the workers it takes, h.
    pub worker_h: f64,
    /// Tool that makes silica dust.
    pub tool: Option<Tool>,
    /// Set for a coat: the window of the next coat by slab temperature. What is thrown into a coat
    /// belongs to it.
    pub coat: Option<Vec<Times>>,
}

/// Everything to be done on one floor, in order; what takes no time is left out.
#[must_use]
pub fn tasks(takeoff: &Takeoff, shop: &Shop, system: Option<&System>) -> Vec<Task> {
    let mut all = preparation(takeoff, shop);
    if let Some(system) = system {
        all.extend(coats(takeoff, shop, system));
    }
    let honor = takeoff.totals.honor_m / shop.days.rates.honor;
    all.push(task("rod and sealant in honored joints", honor, None));
    all.retain(|task| task.worker_h.is_finite() && task.worker_h > 0.0);
    all
}

fn task(name: &str, worker_h: f64, tool: Option<Tool>) -> Task {
    Task {
        name: name.into(),
        worker_h,
        tool,
        coat: None,
    }
}

/// What comes before the first coat: opened, sawn, cut, patched and filled first, then ground, so
/// that filler that stands proud is ground with the floor.
fn preparation(takeoff: &Takeoff, shop: &Shop) -> Vec<Task> {
    let (totals, rates) = (&takeoff.totals, &shop.days.rates);
    let patched: f64 = takeoff.patches.iter().map(|p| p.area_m2).sum();
    let machine = (takeoff.area.net_m2 - takeoff.area.hand_edge_m2).max(0.0);
    vec![
        task(
            "open buried joints",
            totals.buried_m / rates.open,
            tool(Kind::OpenBuried),
        ),
        task(
            "saw joints",
            totals.saw_m / rates.saw,
            tool(Kind::SawJoints),
        ),
        task(
            "cut joint ends by hand",
            totals.hand_cut_m / rates.hand_cut,
            tool(Kind::DetailJoints),
        ),
        task(
            "cut cracks open",
            totals.crack_chase_m / rates.crack_chase,
            tool(Kind::ChaseCracks),
        ),
        task(
            "cut out and patch spalls",
            patched / rates.patch,
            tool(Kind::Patch),
        ),
        task(
            "take steps down by hand",
            totals.hand_grind_m / rates.hand_grind,
            tool(Kind::GrindSteps),
        ),
        task("fill joints", totals.chase_m / rates.fill, None),
        task("fill cracks", totals.crack_m / rates.crack_fill, None),
        task("shave filler", totals.chase_m / rates.shave, None),
        task(
            "grind edges by hand",
            takeoff.area.hand_edge_m2 / rates.hand_edge,
            tool(Kind::GrindEdges),
        ),
        task(
            "grind the floor",
            machine / rates.floor_grind,
            tool(Kind::GrindFloor),
        ),
    ]
}

/// A task for every liquid, with what is thrown into it.
fn coats(takeoff: &Takeoff, shop: &Shop, system: &System) -> Vec<Task> {
    let (coated, rates) = (takeoff.area.coated_m2, &shop.days.rates);
    let liquids = system
        .layers
        .iter()
        .filter(|layer| !matches!(layer.amount, Amount::Broadcast { .. }));
    liquids
        .map(|layer| {
            let thrown = system
                .layers
                .iter()
                .filter(|other| other.into.as_deref() == Some(layer.name.as_str()));
            let (mut name, mut hours) = (layer.name.clone(), coated / rates.coat);
            for goods in thrown {
                name = format!("{name}, {}", goods.name);
                hours += coated / rates.broadcast;
            }
            Task {
                name,
                worker_h: hours * COAT_HANDS,
                tool: None,
                coat: Some(layer.recoat.clone()),
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::order::fixture::{flake, shop, takeoff};
    use crate::quantity::M_PER_FT;

    /// V-M4's form: quantity over rate. 900 ft² at 450 ft²/h by two are 4 worker hours; flake at
    /// 600 ft²/h by two adds 3. 300 ft of saw cut at 150 ft/h are 2 h.
    #[test]
    fn hours_are_quantity_over_rate() {
        let mut floor = takeoff(900.0, 0.0);
        floor.totals.saw_m = 300.0 * M_PER_FT;
        let all = tasks(&floor, &shop(), Some(&flake()));
        let hours = |name: &str| all.iter().find(|t| t.name == name).map(|t| t.worker_h);
        for (name, want) in [
            ("saw joints", 2.0),
            ("grind the floor", 3.6),
            ("primer", 4.0),
            ("base coat, flake", 7.0),
            ("top coat, grit", 7.0),
        ] {
            let got = hours(name).unwrap_or(f64::NAN);
            assert!((got - want).abs() < 1e-9, "{name}: {got}");
        }
        assert_eq!(all.len(), 5);
        assert_eq!(all[1].tool, Some(Tool::FloorGrinder));
    }
}
