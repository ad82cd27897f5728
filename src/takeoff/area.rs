//! Areas, edges, and where the floor grinder doesn't reach.

use super::AreaTotals;
use super::told::{Told, sum};
use crate::geometry::opening::unreached;
use crate::geometry::region::Region;
use crate::quantity::L_PER_M3;
use crate::shop::Shop;
use crate::slab::{EdgeKind, Face, Slab, Zone};

/// Share of the square over the radius that a cove fills: all but the quarter of a circle.
const COVE_SHARE: f64 = 1.0 - std::f64::consts::FRAC_PI_4;
/// Arcs are flattened: areas of zones may be off by this share.
const FLATTENED: f64 = 1e-5;

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

/// What of K is ground by hand, m².
pub(crate) fn by_hand(slab: &Slab, shop: &Shop, hand_edge: &Region, told: &mut Told) -> f64 {
    let (net_m2, rules) = (slab.areas.net, &shop.grinding);
    // What lies between the arcs of the edge and their chords is next to an edge: nothing of it is reached. So it is the reached
    // part that is measured with chords, where there are none that count.
    let reached_m2 = (slab.net.area() - hand_edge.area()).max(0.0);
    let by_hand_m2 = (net_m2 - reached_m2).max(0.0);
    told.line(|say| {
        let (head, gap) = (say.small(rules.head.m()), say.small(rules.edge_gap.m()));
        let risers = match slab.risers.is_empty() {
            true => "",
            false => ", and off both sides of every riser",
        };
        format!(
            "The grinder's round head, {head} across (grinding.head), stays {gap} (grinding.edge_gap) off every wall, doorway and keep-out that isn't flush{risers}."
        )
    });
    told.line(|say| {
        let [net, reached, by_hand] = [net_m2, reached_m2, by_hand_m2].map(|m2| say.area(m2));
        format!(
            "It reaches {reached} of the net {net}; the rest is hand work: {net} − {reached} = {by_hand}."
        )
    });
    by_hand_m2
}

/// All areas, of which so much is ground by hand, m².
pub(crate) fn totals(slab: &Slab, hand_edge_m2: f64, told: &mut Told) -> AreaTotals {
    let areas = &slab.areas;
    told.line(|say| format!("Gross = area inside the outline = {}.", say.area(areas.gross)));
    taken_out("Keep-outs", &slab.keep_outs, areas.keep_out, told);
    taken_out("Uncoated", &slab.uncoated, areas.uncoated, told);
    told.line(|say| {
        let [gross, keep_out, uncoated, net] =
            [areas.gross, areas.keep_out, areas.uncoated, areas.net].map(|m2| say.area(m2));
        format!("Net = {gross} − {keep_out} − {uncoated} = {net}.")
    });
    for face in &slab.faces {
        told.line(|say| {
            let name = face.name.as_deref().unwrap_or("without a name");
            let (length, height) = (say.length(face.path.length()), say.small(face.height_m));
            format!("Face {name} = {length} × {height} = {}.", say.area(face.area_m2()))
        });
        cove(face, told);
    }
    let coated_m2 = areas.net + areas.faces;
    told.line(|say| {
        let [net, faces, coated] = [areas.net, areas.faces, coated_m2].map(|m2| say.area(m2));
        format!("Coated = net {net} + faces {faces} = {coated}.")
    });
    AreaTotals {
        gross_m2: areas.gross,
        keep_out_m2: areas.keep_out,
        uncoated_m2: areas.uncoated,
        net_m2: areas.net,
        faces_m2: areas.faces,
        coated_m2,
        hand_edge_m2,
    }
}

/// What some zones take out of the floor, m², beside the sum of their own areas; nothing is said of what is nothing.
fn taken_out(name: &str, zones: &[Zone], taken_m2: f64, told: &mut Told) {
    if taken_m2 == 0.0 {
        return;
    }
    told.line(|say| {
        let parts = sum(zones.iter().map(|z| (z.id.as_str(), z.shape.area_m2)), |a| say.area(a));
        let whole_m2: f64 = zones.iter().map(|z| z.shape.area_m2).sum();
        let plain = (whole_m2 - taken_m2).abs() <= FLATTENED * whole_m2;
        let note = if plain { "" } else { ", less what overlaps or lies outside" };
        format!("{name} = {parts}{note} = {}.", say.area(taken_m2))
    });
}

/// Length of a face's cove, m, and mortar in it, L; nothing of a face without one. It runs along the whole foot, as the face is
/// coated along the whole of it.
pub(super) fn cove(face: &Face, told: &mut Told) -> (f64, f64) {
    let Some(radius_m) = face.cove_m else {
        return (0.0, 0.0);
    };
    let length_m = face.path.length();
    let volume_l = length_m * (COVE_SHARE * radius_m * radius_m) * L_PER_M3;
    told.line(|say| {
        let (radius, length) = (say.small(radius_m), say.length(length_m));
        format!("Cove at its foot = (1 − π/4) × {radius}² × {length} = {}.", say.solid(volume_l))
    });
    (length_m, volume_l)
}

/// The boundary of K, and foot and head of risers inside it, m.
pub(crate) fn edge(slab: &Slab, told: &mut Told) -> f64 {
    let risers = ("foot and head of risers", 2.0 * slab.risers_inside(|_| true));
    let parts = edges(slab, |_| true).chain([risers]);
    told.lengths("Edge = the whole boundary of the coated floor: ", parts)
}

/// Where the coating ends on open floor, m: also at the head of a riser that is left as it is.
pub(crate) fn termination(slab: &Slab, told: &mut Told) -> f64 {
    let heads = ("heads of risers left as they are", slab.risers_inside(|riser| !riser.coated));
    let parts = edges(slab, EdgeKind::is_termination).chain([heads]);
    let total = told.lengths("Termination, where the coating ends on open floor: ", parts);
    if total == 0.0 {
        told.line(|_| "Termination: the coating ends nowhere on open floor.".to_owned());
    }
    total
}

/// The edges that count, by what they lie on, m.
fn edges(
    slab: &Slab,
    counts: fn(EdgeKind) -> bool,
) -> impl Iterator<Item = (&'static str, f64)> + Clone {
    let on = |kind: EdgeKind| match kind {
        EdgeKind::Wall => "walls",
        EdgeKind::Opening(_) => "openings",
        EdgeKind::KeepOut(_) => "keep-outs",
        EdgeKind::Uncoated(_) => "uncoated parts",
    };
    ["walls", "openings", "keep-outs", "uncoated parts"].into_iter().map(move |name| {
        let these = slab.edges.iter().filter(|edge| on(edge.kind) == name && counts(edge.kind));
        (name, these.map(|edge| edge.length_m).sum())
    })
}

#[cfg(test)]
mod tests {
    use crate::quantity::{M_PER_FT, M2_PER_FT2};
    use crate::sheet::fixture::floor;
    use crate::takeoff::{Chase, JointWork};

    /// A floor of 20 ft by 20 ft whose back strip of 6 ft lies 7 in higher, with a joint from wall to wall.
    fn takeoff(riser: &str, height: &str) -> crate::takeoff::Takeoff {
        let survey = floor(&format!(
            "slabwalk: 1\njob: {{name: Garage}}\nslab:\n  post_tension: none\n  outline: [[0, 0], [20', 0], [20', 20'], [0, 20']]\n  tiers: [{{height: {height}, riser: {riser}, box: {{corner: [0, 14'], size: [20', 6']}}}}]\njoints: [{{kind: control, x: 10'}}, {{kind: construction, path: [[0, 14'], [20', 14']]}}]\n"
        ));
        survey.takeoff
    }

    fn near(name: &str, found: f64, wanted: f64) {
        assert!((found - wanted).abs() < 2e-4, "{name}: {found} for {wanted}");
    }

    /// By hand. A head of 30 in stays 2 in off both sides of the riser: it covers 19' 8" × 13' 8" and 19' 8" × 5' 8", each less its
    /// corners, (4 − π) × 1.25²: 268.778 + 111.444 − 2 × 1.341 = 377.540 of 400 ft².
    #[test]
    fn both_sides_of_a_riser_are_ground_by_hand() {
        let corners = (4.0 - std::f64::consts::PI) * 1.25_f64.powi(2);
        let covered = (20.0 - 1.0 / 3.0) * (14.0 - 1.0 / 3.0 + 6.0 - 1.0 / 3.0) - 2.0 * corners;
        // Walls 80 ft, foot and head of the riser 40 ft. Left as it is, the coating ends at its head.
        for (riser, faces, termination) in [("coat", 20.0 * 7.0 / 12.0, 0.0), ("leave", 0.0, 20.0)]
        {
            let t = takeoff(riser, "7\"");
            near(riser, t.area.hand_edge_m2 / M2_PER_FT2, 400.0 - covered);
            near(riser, t.edge_m / M_PER_FT, 120.0);
            near(riser, t.termination_m / M_PER_FT, termination);
            near(riser, t.area.faces_m2 / M2_PER_FT2, faces);
            near(riser, t.area.coated_m2 / M2_PER_FT2, 400.0 + faces);
        }
    }

    /// The joint across has 3 in by hand at each wall and at the foot, whichever side that is; at the head the saw runs out. The joint along
    /// the riser is cut by hand all along.
    #[test]
    fn the_saw_stops_at_the_foot_alone() {
        for height in ["7\"", "-7\""] {
            let t = takeoff("coat", height);
            let chases: Vec<&Chase> = t.joints.iter().filter_map(JointWork::chase).collect();
            let [across, along] = chases[..] else {
                panic!("two joints, filled");
            };
            near(height, across.hand_m() / M_PER_FT, 0.75);
            assert_eq!(across.hand_ends(), 3, "{height}");
            let foot_m = across.hand[1];
            let (from, to) = (foot_m.from_m / M_PER_FT, foot_m.to_m / M_PER_FT);
            let wanted = if height.starts_with('-') { 14.0 } else { 13.75 };
            near(height, from, wanted);
            near(height, to, wanted + 0.25);
            near(height, along.hand_m() / M_PER_FT, 20.0);
        }
    }
}
