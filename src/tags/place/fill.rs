//! How crowded a sheet is where it is most crowded.

use super::shape::PaperBox;
use super::{CLEARANCE, Job};

/// Side of the window looked through, mm.
const WINDOW: f64 = 60.0;

/// Side of a bin, mm: windows are tried at every whole millimeter.
const BIN: f64 = 1.0;

/// Most bins; a zone with more is a mistake and is not measured.
const MOST_BINS: f64 = 4_000_000.0;

/// Share of a window from which leaders begin to cross (measured on random floors).
pub const TIGHT: f64 = 0.40;

/// Share of a window from which tags begin to find no place (measured on random floors).
pub const CROWDED: f64 = 0.50;

/// The most crowded window of a sheet.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Fill {
    /// Share of the window that its tags would cover, clearance included.
    pub share: f64,
    pub window: PaperBox,
    /// Ids of the tags whose features lie in it.
    pub ids: Vec<String>,
}

/// What to make of a fill.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Place.
    Roomy,
    /// Place, and say that it is tight.
    Tight,
    /// Draw this window larger, take a larger sheet or split, before placing.
    Crowded,
}

impl Fill {
    /// What to make of it.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        match self.share {
            s if s < TIGHT => Verdict::Roomy,
            s if s < CROWDED => Verdict::Tight,
            _ => Verdict::Crowded,
        }
    }
}

/// Measures the fullest window: tags count where their features are, each with its first size and the clearance on every side.
pub(super) fn measure(zone: PaperBox, jobs: &[Job]) -> Fill {
    let bins = |length: f64| (length / BIN).ceil().max(0.0);
    if jobs.is_empty() || bins(zone.width()) * bins(zone.height()) > MOST_BINS {
        return Fill::default();
    }
    let (columns, rows) = (bins(zone.width()) as usize, bins(zone.height()) as usize);
    let spots: Vec<Spot> = jobs.iter().filter_map(|job| Spot::of(zone, job)).collect();
    let sums = running_sums(&spots, columns, rows);
    let side = (WINDOW / BIN) as usize;
    let (wide, high) = (side.min(columns), side.min(rows));
    let width = columns + 1;
    let within = |x: usize, y: usize| {
        sums[(y + high) * width + x + wide] + sums[y * width + x]
            - sums[y * width + x + wide]
            - sums[(y + high) * width + x]
    };
    let mut best = (0, 0, 0);
    for y in 0..=rows - high {
        for x in 0..=columns - wide {
            let covered = within(x, y);
            if covered > best.0 {
                best = (covered, x, y);
            }
        }
    }
    let (covered, x, y) = best;
    let (left, top) = (zone.left + x as f64 * BIN, zone.top + y as f64 * BIN);
    let inside = |s: &&Spot| (x..x + wide).contains(&s.x) && (y..y + high).contains(&s.y);
    Fill {
        share: covered as f64 / PER_MM2 / (wide as f64 * high as f64 * BIN * BIN),
        window: PaperBox::new(left, top, left + wide as f64 * BIN, top + high as f64 * BIN),
        ids: spots.iter().filter(inside).map(|s| s.id.to_string()).collect(),
    }
}

/// Parts of a square millimeter in which areas are summed, so that the sum does not depend on its order.
const PER_MM2: f64 = 1000.0;

/// A tag's feature in its bin.
struct Spot<'a> {
    id: &'a str,
    x: usize,
    y: usize,
    /// Area of the tag, in thousandths of a square millimeter.
    area: u64,
}

impl<'a> Spot<'a> {
    fn of(zone: PaperBox, job: &Job<'a>) -> Option<Spot<'a>> {
        let at = job.anchors.first()?.at;
        let &(w, h) = job.tag.sizes.first()?;
        let bin = |offset: f64, length: f64| {
            ((offset / BIN).floor().max(0.0) as usize)
                .min(((length / BIN).ceil() as usize).max(1) - 1)
        };
        let area = ((w + 2.0 * CLEARANCE) * (h + 2.0 * CLEARANCE) * PER_MM2).round() as u64;
        Some(Spot {
            id: &job.tag.id,
            x: bin(at.x - zone.left, zone.width()),
            y: bin(at.y - zone.top, zone.height()),
            area,
        })
    }
}

/// Summed-area table of the tags' areas.
fn running_sums(spots: &[Spot], columns: usize, rows: usize) -> Vec<u64> {
    let width = columns + 1;
    let mut sums = vec![0_u64; width * (rows + 1)];
    for spot in spots {
        sums[(spot.y + 1) * width + spot.x + 1] += spot.area;
    }
    for y in 1..=rows {
        let mut line = 0;
        for x in 1..=columns {
            line += sums[y * width + x];
            sums[y * width + x] = sums[(y - 1) * width + x] + line;
        }
    }
    sums
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ink::PaperPoint;
    use crate::tags::place::{Feature, LeaderRule, Problem, Tag, place};

    /// Tags of 11 × 4 mm on a lattice of this step in a zone of 200 × 100 mm, all within 60 × 60 mm.
    fn fill_of(step: f64) -> Fill {
        let count = (59.0 / step) as usize + 1;
        let tags = (0..count * count).map(|n| Tag {
            id: format!("T-{n}"),
            sizes: vec![(11.0, 4.0)],
            feature: Feature::Points {
                at: vec![PaperPoint {
                    x: 70.5 + step * (n % count) as f64,
                    y: 30.5 + step * (n / count) as f64,
                }],
                radius: 0.0,
            },
            leader: LeaderRule::AtLeast(2.0),
        });
        let zone = PaperBox::new(0.0, 0.0, 200.0, 100.0);
        place(&Problem { zone, tags: tags.collect(), ..Problem::default() }).fill
    }

    #[test]
    fn the_fullest_window_holds_all_of_a_cluster() {
        for (step, count, verdict) in [
            (20.0, 9.0, Verdict::Roomy),
            (12.0, 25.0, Verdict::Tight),
            (10.0, 36.0, Verdict::Crowded),
        ] {
            let fill = fill_of(step);
            assert!(
                (fill.share - count * 12.0 * 5.0 / 3600.0).abs() < 1e-9,
                "{step}: {}",
                fill.share
            );
            assert_eq!((fill.ids.len() as f64, fill.verdict()), (count, verdict));
            assert!(fill.window.contains(PaperPoint { x: 70.5, y: 30.5 }));
        }
    }

    #[test]
    fn a_zone_smaller_than_the_window_is_one_window() {
        let tag = Tag {
            id: "T".into(),
            sizes: vec![(9.0, 4.0)],
            feature: Feature::Points { at: vec![PaperPoint { x: 10.0, y: 10.0 }], radius: 0.0 },
            leader: LeaderRule::Never,
        };
        let zone = PaperBox::new(0.0, 0.0, 20.0, 20.0);
        let fill = place(&Problem { zone, tags: vec![tag], ..Problem::default() }).fill;
        assert!((fill.share - 0.125).abs() < 1e-9);
        assert_eq!(fill.window, zone);
    }
}
