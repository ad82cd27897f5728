//! Walls less their openings.

use std::collections::BTreeMap;

use super::{Opening, Outline, Stretch};
use crate::geometry::path::Path;

/// Pieces of a wall shorter than this are rounding, m.
const ROUNDING: f64 = 1e-9;

/// A stretch of a wall that is wall from end to end, or one opening.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WallPiece {
    /// Stations on the wall.
    pub on: Stretch,
    /// The opening, by its index; `None` where there is wall.
    pub opening: Option<usize>,
}

/// Each wall with its pieces in the order of their stations. Where openings lie over each other, the one listed first holds.
pub fn wall_pieces<'a>(
    outline: &'a Outline,
    openings: &'a [Opening],
) -> impl Iterator<Item = (&'a Path, Vec<WallPiece>)> {
    let mut by_wall: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (i, opening) in openings.iter().enumerate() {
        by_wall.entry(opening.wall).or_default().push(i);
    }
    outline.walls.iter().enumerate().map(move |(i, wall)| {
        let on_wall = by_wall.get(&(i + 1)).map_or(&[][..], Vec::as_slice);
        (wall, pieces(wall.length(), on_wall, openings))
    })
}

fn pieces(length: f64, on_wall: &[usize], openings: &[Opening]) -> Vec<WallPiece> {
    let mut cuts = vec![0.0, length];
    for &o in on_wall {
        cuts.extend([openings[o].from_m, openings[o].to_m]);
    }
    cuts.sort_by(f64::total_cmp);
    let mut out: Vec<WallPiece> = Vec::with_capacity(cuts.len());
    for pair in cuts.windows(2).filter(|pair| pair[1] - pair[0] > ROUNDING) {
        let (from_m, to_m) = (pair[0], pair[1]);
        let middle = (from_m + to_m) / 2.0;
        let holds = |&&o: &&usize| openings[o].from_m < middle && middle < openings[o].to_m;
        let opening = on_wall.iter().find(holds).copied();
        match out.last_mut() {
            Some(last) if last.opening == opening => last.on.to_m = to_m,
            _ => out.push(WallPiece { on: Stretch { from_m, to_m }, opening }),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sketch::Span;

    #[test]
    fn no_wall_stands_in_an_opening() {
        type Row<'a> = (&'a str, &'a [(f64, f64)], &'a [(f64, f64, Option<usize>)]);
        let rows: [Row<'_>; 6] = [
            ("none", &[], &[(0.0, 9.0, None)]),
            ("one", &[(2.0, 4.0)], &[(0.0, 2.0, None), (2.0, 4.0, Some(0)), (4.0, 9.0, None)]),
            (
                "one within another",
                &[(1.0, 8.0), (3.0, 4.0)],
                &[(0.0, 1.0, None), (1.0, 8.0, Some(0)), (8.0, 9.0, None)],
            ),
            (
                "the inner one first",
                &[(3.0, 4.0), (1.0, 8.0)],
                &[
                    (0.0, 1.0, None),
                    (1.0, 3.0, Some(1)),
                    (3.0, 4.0, Some(0)),
                    (4.0, 8.0, Some(1)),
                    (8.0, 9.0, None),
                ],
            ),
            (
                "over each other",
                &[(0.0, 5.0), (4.0, 9.0)],
                &[(0.0, 5.0, Some(0)), (5.0, 9.0, Some(1))],
            ),
            (
                "end to end",
                &[(5.0, 7.0), (2.0, 5.0)],
                &[(0.0, 2.0, None), (2.0, 5.0, Some(1)), (5.0, 7.0, Some(0)), (7.0, 9.0, None)],
            ),
        ];
        for (name, openings, wanted) in rows {
            let openings: Vec<Opening> = openings
                .iter()
                .map(|&(from_m, to_m)| Opening {
                    name: None,
                    wall: 1,
                    from_m,
                    to_m,
                    path: Path::default(),
                    span: Span::default(),
                })
                .collect();
            let on_wall: Vec<usize> = (0..openings.len()).collect();
            let found: Vec<_> = pieces(9.0, &on_wall, &openings)
                .iter()
                .map(|p| (p.on.from_m, p.on.to_m, p.opening))
                .collect();
            assert_eq!(found, wanted, "{name}");
        }
    }
}
