//! The schedules among which the best is chosen: orders, and units at work.
//!
//! Which they are depends on the list of activities, its waits and the machines, and for every crew
//! on those of all smaller crews; never on a duration. So the best finish of the family is a least
//! of monotone finishes, and monotone itself: more material never ends earlier, another worker
//! never later.

use std::ops::ControlFlow;

use super::Network;
use super::activity::{Effort, Mode};
use super::orders::{Orders, mixed};
use super::serial::{Manner, Variant};

/// Sizes of crew that units and orders are reckoned for; larger ones than the crew itself are left out.
const CREWS: [usize; 12] = [1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 24, 32];
/// Placements of one solution, about: what bounds the time that it takes.
const DRAWN_PLACEMENTS: usize = 3600;
/// Fewest and most orders that are drawn for a crew.
const FEWEST_DRAWN: usize = 4;
const MOST_DRAWN: usize = 160;

/// Gives every member of the family, those in the order of the trade first.
pub(super) fn each(
    network: &Network,
    mut visit: impl FnMut(Variant) -> ControlFlow<()>,
) -> ControlFlow<()> {
    let holds: &[bool] = if network.has_closing() { &[false, true] } else { &[false] };
    let mut visit = |order: &[usize], manners: &[Manner]| {
        holds.iter().try_for_each(|&hold| visit(Variant { order, manners, hold }))
    };
    let crews = || CREWS.iter().rev().copied().filter(|&c| c <= network.crew);
    let trade: Vec<usize> = (0..network.activities.len()).collect();
    for crew in crews() {
        visit(&trade, &manners(network, crew, true, |_| usize::MAX))?;
        if network.activities.iter().any(|activity| activity.beside) {
            visit(&trade, &manners(network, crew, false, |_| usize::MAX))?;
        }
        visit(&trade, &manners(network, crew, true, |_| 1))?;
    }
    let orders = Orders::new(network);
    let most = DRAWN_PLACEMENTS / trade.len().max(1);
    for draw in 0..most.clamp(FEWEST_DRAWN, MOST_DRAWN) {
        for crew in crews().filter(|&crew| draw * 6 < most * draws(crew)) {
            let manners = manners(network, crew, draw.is_multiple_of(2), |key| cap(draw, key));
            visit(&orders.draw(crew, &manners, draw), &manners)?;
        }
    }
    ControlFlow::Continue(())
}

/// How the activities run with the units that a part of the crew makes, each with no more than `cap`
/// of its key.
pub(super) fn manners(
    network: &Network,
    share: usize,
    leave: bool,
    cap: impl Fn(usize) -> usize,
) -> Vec<Manner> {
    let activities = network.activities.iter().enumerate();
    let manner = activities.map(|(index, activity)| {
        let after = network.activities.get(index + 1);
        let left = after.filter(|_| leave && activity.beside).map_or(0, |next| next.effort.hands);
        let cap = cap(activity.key);
        let mode =
            |effort: &Effort, share| effort.mode(network.crew, share, cap, &network.machines);
        Manner {
            mode: mode(&activity.effort, share.saturating_sub(left)),
            late: activity
                .late
                .as_ref()
                .map_or_else(Mode::default, |late| mode(&late.effort, share)),
        }
    });
    manner.collect()
}

/// How many draws a share of the crew has, in sixths: a worker alone has little to choose.
fn draws(crew: usize) -> usize {
    [6, 1, 3, 6, 6, 2].get(crew).copied().unwrap_or(2)
}

/// How many units an activity may have in one draw.
fn cap(draw: usize, key: usize) -> usize {
    match draw % 4 {
        0 => usize::MAX,
        _ => [1, 1, 2, 2, 3, usize::MAX][(mixed(draw, key) % 6) as usize],
    }
}
