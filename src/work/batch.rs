//! Batches: how much of a liquid is mixed at once.
//!
//! What was mixed has to be on the floor before it sets. A batch is never more than the shop mixes at
//! once, and never more than the crew lays in a share of its pot life; what a floor takes is divided
//! into equal batches of a volume that a pail shows.

use super::coat;
use super::list::Facts;
use crate::quantity::{L_PER_GAL, Units};
use crate::shop::Layer;
use crate::trade::{Key, Kind};

/// Share of the pot life in which a batch has to be laid; the rest is for mixing and for what goes
/// wrong (common practice).
pub const LAID_WITHIN: f64 = 0.8;
/// The most that is mixed at once where the shop book doesn't say, L: 3 gal, in a 5-gallon pail with a
/// drill (common practice).
const MOST_L: f64 = 3.0 * L_PER_GAL;
/// Batches that come within this share of a whole kit are whole kits: nothing is measured then (common
/// practice).
const WHOLE_KIT: f64 = 0.15;
/// What a pail shows: a quart or a liter.
const QUART_L: f64 = L_PER_GAL / 4.0;
/// Rounding of volumes against each other, share.
const GUARD: f64 = 1e-9;
/// More batches than this are not listed one by one: the floor is laid by a pump, not from pails.
const MOST_BATCHES: f64 = 1000.0;
const S_PER_H: f64 = 3600.0;

/// The batches of one layer.
#[derive(Clone, Debug, PartialEq)]
pub struct Batches {
    /// The layer, by index.
    pub layer: usize,
    pub name: String,
    /// Slab temperature that its pot life is read at, °C.
    pub slab_c: f64,
    /// How long a batch can be worked with, s; `None` where the shop book doesn't say.
    pub pot_life_s: Option<f64>,
    /// What one batch after the other takes. None where the floor takes more than can be listed.
    pub list: Vec<Batch>,
    /// Why a batch can't be laid in time.
    pub fault: Option<Unlayable>,
}

/// What is mixed at once.
#[derive(Clone, Debug, PartialEq)]
pub struct Batch {
    /// All of it, L.
    pub volume_l: f64,
    /// Parts A, B and further ones, L; empty where the layer is not mixed of parts.
    pub parts_l: Vec<f64>,
    /// Net floor that it covers, m².
    pub area_m2: f64,
    /// Time to lay it, s.
    pub lay_s: f64,
    /// Whether it is a whole kit, of which nothing is measured.
    pub whole_kit: bool,
}

/// A batch that sets before it is laid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unlayable {
    /// The batch that the shop book asks for, or the least that a pail shows, L.
    pub volume_l: f64,
    /// Time to lay it, s.
    pub lay_s: f64,
    /// Its pot life, s.
    pub pot_life_s: f64,
    /// What can be laid within its share of the pot life, L.
    pub layable_l: f64,
    /// Whether the shop book asks for this batch.
    pub asked: bool,
}

/// Batches of every liquid of the system on the net floor, bottom up. Faces are laid by hand and their
/// material is no part of it.
#[must_use]
pub fn batches(facts: &Facts<'_>) -> Vec<Batches> {
    let Some((_, system)) = facts.system else {
        return Vec::new();
    };
    let layers = system.layers.iter().enumerate();
    layers.filter_map(|(place, layer)| of_layer(facts, place, layer)).collect()
}

fn of_layer(facts: &Facts<'_>, place: usize, layer: &Layer) -> Option<Batches> {
    let covers = layer.amount.covers()?;
    let kit_l = layer.amount.kit_l()?;
    let net_m2 = facts.slab.areas.net;
    let rate = facts.book().get(Kind::Coat, Key::Rate) * coat::laid_by(facts.crew);
    let lay_s = |area_m2: f64| area_m2 / rate * S_PER_H;
    let whole_l = net_m2 / covers;
    let pot_life_s = layer.pot_life.at(facts.slab_c);
    let layable_l =
        pot_life_s.map_or(f64::INFINITY, |life| LAID_WITHIN * life / S_PER_H * rate / covers);
    let asked = layer.batch.map(|(most, _)| most.l());
    let most_l = asked.unwrap_or_else(|| kit_l.min(MOST_L)).min(layable_l);
    let pail_l = match facts.slab.units {
        Units::Us => QUART_L,
        Units::Metric => 1.0,
    };
    let ratio = ratio(layer);
    let volumes = divide(whole_l, most_l, kit_l, pail_l, ratio.iter().sum());
    let mut left_m2 = net_m2;
    let list = volumes
        .into_iter()
        .map(|volume_l| {
            let area_m2 = (volume_l * covers).min(left_m2);
            left_m2 -= area_m2;
            Batch {
                volume_l,
                parts_l: parts(volume_l, &ratio),
                area_m2,
                lay_s: lay_s(area_m2),
                whole_kit: (volume_l - kit_l).abs() <= GUARD * kit_l,
            }
        })
        .collect();
    let too_much = asked
        .map(|most| most.min(whole_l))
        .filter(|most| pot_life_s.is_some_and(|life| lay_s(most * covers) > life * (1.0 + GUARD)));
    let too_little = (whole_l > layable_l && layable_l < pail_l).then_some(pail_l);
    let fault = too_much.or(too_little).zip(pot_life_s);
    Some(Batches {
        layer: place,
        name: layer.name.clone(),
        slab_c: facts.slab_c,
        pot_life_s,
        list,
        fault: fault.map(|(volume_l, pot_life_s)| Unlayable {
            volume_l,
            lay_s: lay_s(volume_l * covers),
            pot_life_s,
            layable_l,
            asked: too_much.is_some(),
        }),
    })
}

/// Volumes of the batches that a need is divided into, none more than `most_l`.
///
/// Whole kits where an equal batch comes near to one. Otherwise as many steps of `pail_l` as are needed, dealt out evenly. If that
/// takes no more batches, and at most one step more of liquid, all are equal and a pail shows each of their parts too. Where
/// even one step is more than may be mixed at once, all batches are equal. `parts` is the sum of the mixing ratio, or 0.
fn divide(whole_l: f64, most_l: f64, kit_l: f64, pail_l: f64, parts: f64) -> Vec<f64> {
    let up = |count: f64| (count - GUARD).ceil().max(1.0);
    let count = up(whole_l / most_l);
    if !(whole_l > 0.0 && count <= MOST_BATCHES) {
        return Vec::new();
    }
    let equal = whole_l / count;
    if kit_l <= most_l * (1.0 + GUARD) && (kit_l - equal).abs() <= WHOLE_KIT * kit_l {
        let kits = up(whole_l / kit_l);
        let last = whole_l - (kits - 1.0) * kit_l;
        let whole = kit_l - last <= WHOLE_KIT * kit_l;
        let last = if whole { kit_l } else { up(last / pail_l) * pail_l };
        let mut all = vec![kit_l; kits as usize - 1];
        all.push(last.min(kit_l));
        return all;
    }
    let dealt = |step_l: f64| {
        let each = (most_l / step_l + GUARD).floor();
        let steps = up(whole_l / step_l);
        (each >= 1.0).then(|| (steps, up(steps / each)))
    };
    let Some((pails, count)) = dealt(pail_l) else {
        return vec![equal; count as usize];
    };
    let by_parts = pail_l * parts;
    let even = dealt(by_parts).filter(|(steps, among)| {
        let more_l = steps * by_parts - whole_l;
        parts > 0.0 && *among == count && steps % among == 0.0 && more_l <= pail_l * (1.0 + GUARD)
    });
    if let Some((steps, among)) = even {
        return vec![steps / among * by_parts; among as usize];
    }
    let (least, more) = ((pails / count).floor(), pails % count);
    let each = |i: usize| (least + if (i as f64) < more { 1.0 } else { 0.0 }) * pail_l;
    (0..count as usize).map(each).collect()
}

/// The numbers of a mixing ratio; none for a liquid that is not mixed of parts.
fn ratio(layer: &Layer) -> Vec<f64> {
    let mix = layer.mix.as_deref().unwrap_or_default();
    let numbers: Vec<f64> = mix.split(':').filter_map(|n| n.parse().ok()).collect();
    let sum: f64 = numbers.iter().sum();
    if sum.is_finite() && sum > 0.0 { numbers } else { Vec::new() }
}

fn parts(volume_l: f64, ratio: &[f64]) -> Vec<f64> {
    let sum: f64 = ratio.iter().sum();
    ratio.iter().map(|part| volume_l * part / sum).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::M2_PER_FT2;
    use proptest::prelude::*;

    /// Quarts, of a need, the most at once and a kit of 12 quarts, mixed 2:1.
    fn quarts(whole: f64, most: f64) -> Vec<f64> {
        let all = divide(whole * QUART_L, most * QUART_L, 12.0 * QUART_L, QUART_L, 3.0);
        all.iter().map(|l| (l / QUART_L * 1e6).round() / 1e6).collect()
    }

    #[test]
    fn equal_batches_that_a_pail_shows() {
        for (name, whole, most, want) in [
            ("whole quarts, dealt out evenly", 14.74, 8.4, vec![8.0, 7.0]),
            ("no dribble at the end", 25.26, 5.9, vec![5.0, 5.0, 4.0, 4.0, 4.0, 4.0]),
            // 6 are 4 of A and 2 of B.
            ("quarts of both parts", 11.4, 8.4, vec![6.0, 6.0]),
            ("but none for the bin", 10.0, 8.4, vec![5.0, 5.0]),
            // The last lacks a sixth of a kit, more than 15 %.
            ("near whole kits", 22.0, 12.0, vec![12.0, 10.0]),
            ("nearer whole kits", 23.0, 12.0, vec![12.0, 12.0]),
            ("one kit does it", 11.0, 12.0, vec![12.0]),
            ("a kit is too much at once", 11.0, 8.0, vec![6.0, 6.0]),
            ("less than a quart at once", 1.0, 0.4, vec![0.333_333, 0.333_333, 0.333_333]),
            ("a little", 0.3, 8.0, vec![1.0]),
        ] {
            assert_eq!(quarts(whole, most), want, "{name}");
        }
        assert!(divide(1e9, 1.0, 1.0, 1.0, 3.0).is_empty());
        assert!(divide(0.0, 1.0, 1.0, 1.0, 3.0).is_empty());
        assert!(divide(f64::NAN, 1.0, 1.0, 1.0, 3.0).is_empty());
    }

    /// 900 ft² of a liquid that covers 152 ft² a gallon: 5.921 gal. Two lay 800 ft² an hour; in 0.8 of half
    /// an hour 320 ft², 2.105 gal or 8.42 quarts. So three batches: 23.68 ÷ 3 = 7.89, 8 quarts, laid in
    /// 8 ÷ 4 × 152 ÷ 800 h = 22.8 min. One worker lays half: 4.21 quarts at once, six batches of 4.
    #[test]
    fn a_batch_is_laid_in_its_pot_life() {
        let shop = crate::shop::built_in();
        let mut slab = crate::order::fixture::slab(30.0, 30.0);
        slab.areas.net = 900.0 * M2_PER_FT2;
        let takeoff = crate::order::fixture::takeoff(900.0, 0.0);
        for (crew, each, minutes) in [(2, vec![8.0, 8.0, 8.0], 22.8), (1, vec![4.0; 6], 22.8)] {
            let facts = Facts {
                slab: &slab,
                takeoff: &takeoff,
                shop: &shop,
                system: shop.systems.get_key_value("flake").map(|(n, s)| (n.as_str(), s)),
                crew,
                slab_c: 38.0 / 1.8,
            };
            let all = batches(&facts);
            let base = all.iter().find(|b| b.name == "base coat").expect("a base coat");
            let found: Vec<f64> =
                base.list.iter().map(|b| (b.volume_l / QUART_L).round()).collect();
            assert_eq!(found, each, "{crew}");
            assert!((base.list[0].lay_s / 60.0 - minutes).abs() < 1e-9, "{crew}");
            assert_eq!(base.pot_life_s, Some(1800.0));
            assert_eq!(base.fault, None);
            let area: f64 = base.list.iter().map(|b| b.area_m2).sum();
            assert!((area - 900.0 * M2_PER_FT2).abs() < 1e-9);
        }
    }

    proptest! {
        #[test]
        fn batches_are_enough_and_never_too_much(
            whole in 0.01..500.0_f64, most in 0.05..60.0_f64, kit in 0.5..60.0_f64, parts in 0.0..6.0_f64,
        ) {
            let all = divide(whole, most, kit, 1.0, parts);
            prop_assume!(whole / most <= MOST_BATCHES);
            let sum: f64 = all.iter().sum();
            prop_assert!(sum >= whole * (1.0 - 1e-6));
            for volume in &all {
                prop_assert!(*volume > 0.0 && *volume <= most * (1.0 + 1e-6));
            }
            // No batch for nothing.
            prop_assert!(sum - all.last().unwrap_or(&0.0) < whole);
        }
    }
}
