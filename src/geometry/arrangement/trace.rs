//! Border rings of groups of faces.

use super::edge::Edges;
use super::face::{Faces, Fans, origin, target};
use crate::geometry::lattice::{Site, cross, doubled_area};
use kurbo::Point;

/// A border ring with its group on the left: counter-clockwise on the outside, clockwise around a hole.
pub(super) struct Ring {
    pub group: u32,
    pub points: Vec<Point>,
    hole: bool,
    first: Site,
}

/// Traces the border of every group; faces without a group are left out.
///
/// A border that touches itself at a site is split there, so that each ring visits a site once. Sites in the middle of a
/// straight stretch are left out. The order is by group, outer rings before holes, then by the first site.
pub(super) fn rings(
    sites: &[Site],
    edges: &Edges,
    fans: &Fans,
    faces: &Faces,
    groups: &[Option<u32>],
) -> Vec<Ring> {
    let group = |half: u32| groups.get(faces.of_half[half as usize] as usize).copied().flatten();
    let is_border =
        |half: u32, wanted: u32| group(half) == Some(wanted) && group(half ^ 1) != Some(wanted);
    let mut seen = vec![false; faces.of_half.len()];
    let mut found = Vec::new();
    for start in 0..seen.len() as u32 {
        let Some(wanted) = group(start).filter(|g| is_border(start, *g) && !seen[start as usize])
        else {
            continue;
        };
        let path = walk(edges, fans, start, &mut seen, |half| is_border(half, wanted));
        for ring in split(&path) {
            found.extend(finish(wanted, ring.iter().map(|s| sites[*s as usize]).collect()));
        }
    }
    found.sort_by_key(|ring: &Ring| (ring.group, ring.hole, ring.first));
    found
}

/// Follows a border from a half-edge until it closes; at each site it turns as sharply to the left as the border does.
fn walk(
    edges: &Edges,
    fans: &Fans,
    start: u32,
    seen: &mut [bool],
    is_border: impl Fn(u32) -> bool,
) -> Vec<u32> {
    let mut path = Vec::new();
    let mut half = start;
    while !seen[half as usize] {
        seen[half as usize] = true;
        path.push(origin(edges, half));
        let turn = target(edges, half);
        let mut next = fans.clockwise(turn, half ^ 1);
        while !is_border(next) {
            next = fans.clockwise(turn, next);
        }
        half = next;
    }
    path
}

/// Cuts a closed walk at every site that it visits more than once.
fn split(path: &[u32]) -> Vec<Vec<u32>> {
    let mut sorted = path.to_vec();
    sorted.sort_unstable();
    if sorted.windows(2).all(|w| w[0] != w[1]) {
        return vec![path.to_vec()];
    }
    let mut open: Vec<u32> = Vec::new();
    let mut places = std::collections::BTreeMap::new();
    let mut rings = Vec::new();
    for site in path.iter().chain(path.first()) {
        if let Some(place) = places.get(site).copied() {
            let ring = open.split_off(place);
            for passed in &ring {
                places.remove(passed);
            }
            rings.push(ring);
        }
        places.insert(*site, open.len());
        open.push(*site);
    }
    rings
}

/// Leaves out the sites on straight stretches and begins at the first site.
fn finish(group: u32, sites: Vec<Site>) -> Option<Ring> {
    let count = sites.len();
    let mut kept: Vec<Site> = (0..count)
        .filter(|i| cross(sites[(i + count - 1) % count], sites[*i], sites[(i + 1) % count]) != 0)
        .map(|i| sites[i])
        .collect();
    let (place, first) = kept.iter().copied().enumerate().min_by_key(|(_, site)| *site)?;
    kept.rotate_left(place);
    let turned = kept.iter().copied().skip(1).chain([first]);
    let hole = doubled_area(kept.iter().copied().zip(turned)) < 0;
    Some(Ring { group, points: kept.into_iter().map(Site::to_point).collect(), hole, first })
}
