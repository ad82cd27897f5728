//! Orders drawn for the family: how a crew would go about works whose lengths it can only guess.

use super::Network;
use super::serial::Manner;

/// Lengths that works are taken to have, s.
const NOMINAL_S: [i64; 6] = [900, 1800, 3600, 5400, 7200, 10_800];

/// One draw in so many is of a crew that waits.
const WAITING: usize = 5;

/// What orders are drawn from.
pub(super) struct Orders<'a> {
    network: &'a Network,
    /// What comes after each activity, and the wait before it, s.
    after: Vec<Vec<(usize, i64)>>,
}

impl<'a> Orders<'a> {
    pub fn new(network: &'a Network) -> Self {
        let mut after = vec![Vec::new(); network.activities.len()];
        for (index, activity) in network.activities.iter().enumerate() {
            for link in &activity.links {
                after[link.before].push((index, link.opens_s));
            }
        }
        Self { network, after }
    }

    /// The order in which a crew would start the activities if they had lengths drawn by their
    /// keys: a parallel schedule without nights, where whatever is free to start does. In some draws
    /// the crew rather waits for what has the longest chain after it.
    pub fn draw(&self, crew: usize, manners: &[Manner], draw: usize) -> Vec<usize> {
        let activities = &self.network.activities;
        let clocks: Vec<i64> = activities.iter().map(|a| nominal_s(draw, a.key)).collect();
        let ranks = self.ranks(&clocks);
        if draw % WAITING == WAITING - 1 {
            // Every length is positive, so a chain is shorter than the chain of what it waits for.
            let mut order: Vec<usize> = (0..activities.len()).collect();
            order.sort_by_key(|&index| (ranks[index], index));
            return order;
        }
        let hands = |index: usize| manners[index].mode.hands.min(crew);
        let mut missing: Vec<usize> = activities.iter().map(|a| a.links.len()).collect();
        let mut ready = vec![0; activities.len()];
        // What could start, by rank.
        let mut open: Vec<usize> = (0..activities.len()).filter(|&i| missing[i] == 0).collect();
        open.sort_by_key(|&index| (ranks[index], index));
        let mut running: Vec<(i64, usize)> = Vec::new();
        let mut free = (crew, self.network.machines.clone());
        let mut order = Vec::with_capacity(activities.len());
        let mut now = 0;
        while order.len() < activities.len() {
            let (mut next, begun) = (i64::MAX, order.len());
            open.retain(|&index| {
                let machines = &activities[index].effort.machines;
                let units = manners[index].mode.units;
                if ready[index] > now {
                    next = next.min(ready[index]);
                } else if hands(index) <= free.0 && machines.iter().all(|&m| units <= free.1[m]) {
                    free.0 -= hands(index);
                    machines.iter().for_each(|&m| free.1[m] -= units);
                    running.push((now.saturating_add(clocks[index]), index));
                    order.push(index);
                    return false;
                }
                true
            });
            for &index in &order[begun..] {
                for &(later, wait) in &self.after[index] {
                    let opens = now.saturating_add(clocks[index]).saturating_add(wait);
                    ready[later] = ready[later].max(opens);
                    missing[later] -= 1;
                    if missing[later] == 0 {
                        let rank = (ranks[later], later);
                        let place = open.partition_point(|&i| (ranks[i], i) < rank);
                        open.insert(place, later);
                    }
                }
            }
            now = running.iter().fold(next, |next, &(end, _)| next.min(end));
            running.retain(|&(end, index)| {
                if end <= now {
                    free.0 += hands(index);
                    let machines = &activities[index].effort.machines;
                    machines.iter().for_each(|&m| free.1[m] += manners[index].mode.units);
                }
                end > now
            });
        }
        order
    }

    /// What goes first where several activities could start: the longest chain after one.
    fn ranks(&self, clocks: &[i64]) -> Vec<i64> {
        let mut chains = clocks.to_vec();
        for index in (0..chains.len()).rev() {
            let after = self.after[index].iter();
            let longest = after.map(|&(later, wait)| wait.max(0).saturating_add(chains[later]));
            chains[index] = chains[index].saturating_add(longest.max().unwrap_or(0));
        }
        chains.iter().map(|chain| chain.saturating_neg()).collect()
    }
}

/// How long an activity is taken to be in a draw, s.
fn nominal_s(draw: usize, key: usize) -> i64 {
    // The rest of the whole number: a word of 32 bits, as in a browser, would hold another one.
    let drawn = mixed(draw + 1, key) % NOMINAL_S.len() as u64;
    NOMINAL_S[if draw < NOMINAL_S.len() { draw } else { drawn as usize }]
}

/// A number drawn by two others, the same everywhere (splitmix64).
pub(super) fn mixed(draw: usize, key: usize) -> u64 {
    let mut x = (draw as u64) << 32 ^ key as u64;
    x = x.wrapping_add(0x9e37_79b9_7f4a_7c15);
    x = (x ^ (x >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    x = (x ^ (x >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    x ^ (x >> 31)
}
