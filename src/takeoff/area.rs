//! Areas, edges, and where the floor grinder doesn't reach.

use super::AreaTotals;
use crate::geometry::opening::unreached;
use crate::geometry::region::Region;
use crate::shop::Shop;
use crate::slab::Slab;

/// K less what a round head covers that stays off every edge that stands up, and off doorways:
/// the threshold is always dressed by hand. So is the floor on both sides of a riser: at its foot it stands up like a wall, and at its
/// head a machine would tip over the edge. Flush keep-outs are run over, so they are no edges.
pub(super) fn hand_edge(slab: &Slab, shop: &Shop) -> Region {
    unreached_beyond(slab, shop, shop.grinding.edge_gap.m())
}

/// The same for a head that stays off by another gap, m: for a drawing on which the true one vanishes under the wall's line.
#[must_use]
pub fn unreached_beyond(slab: &Slab, shop: &Shop, gap_m: f64) -> Region {
    let standing: Vec<Region> = slab
        .keep_outs
        .iter()
        .filter(|zone| !zone.flush)
        .map(|zone| zone.shape.region.clone())
        .collect();
    let all_stand = standing.len() == slab.keep_outs.len();
    let floor = if all_stand {
        slab.reached.clone()
    } else {
        slab.enclosed.difference(&Region::union_all(standing))
    };
    let radius_m = shop.grinding.head.m() / 2.0;
    let parts = slab.by_height(&slab.net).into_iter();
    let parts = parts.zip(slab.by_height(&floor));
    let unreached = parts.map(|(net, floor)| unreached(&net, &floor, gap_m, radius_m));
    let mut unreached: Vec<Region> = unreached.collect();
    match unreached.len() {
        1 => unreached.swap_remove(0),
        _ => Region::union_all(unreached),
    }
}

pub(super) fn totals(slab: &Slab, hand_edge: &Region) -> AreaTotals {
    let areas = &slab.areas;
    // What lies between the arcs of the edge and their chords is next to an edge: nothing of it is reached. So it is the reached
    // part that is measured with chords, where there are none that count.
    let reached = (slab.net.area() - hand_edge.area()).max(0.0);
    AreaTotals {
        gross_m2: areas.gross,
        keep_out_m2: areas.keep_out,
        uncoated_m2: areas.uncoated,
        net_m2: areas.net,
        faces_m2: areas.faces,
        coated_m2: areas.net + areas.faces,
        hand_edge_m2: (areas.net - reached).max(0.0),
    }
}

/// The boundary of K, and foot and head of risers inside it, m.
pub(super) fn edge(slab: &Slab) -> f64 {
    let boundary: f64 = slab.edges.iter().map(|e| e.length_m).sum();
    boundary + 2.0 * slab.risers_inside(|_| true)
}

/// Where the coating ends on open floor, m: also at the head of a riser that is left as it is.
pub(super) fn termination(slab: &Slab) -> f64 {
    let edges = slab.edges.iter().filter(|e| e.kind.is_termination());
    let open: f64 = edges.map(|e| e.length_m).sum();
    open + slab.risers_inside(|riser| !riser.coated)
}
