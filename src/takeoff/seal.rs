//! Rod and sealant in honored joints and cracks, and the groove that is cut for them.
//!
//! An honored joint or crack keeps the width it was found with where sealant and some stock rod fit
//! it. A narrower one is widened by hand to the least width that takes both. One that concrete was run
//! over is opened at the width it is sealed with, so it isn't widened again.

use super::told::{Say, Told};
use crate::quantity::{L_PER_M3, M_PER_IN};
use crate::shop::Shop;

/// Sealant is half as deep as it is wide, m: at least 1/4 in (architectural detailing text).
const SEALANT_LEAST: f64 = 0.25 * M_PER_IN;
/// Sealant is half as deep as it is wide, m: at most 1/2 in (architectural detailing text).
const SEALANT_MOST: f64 = 0.5 * M_PER_IN;
/// Backer rod is this much thicker than its joint, so that it holds by itself (from memory; the
/// rod maker's sheet decides).
const ROD_OVER_WIDTH: f64 = 1.25;
/// Rounding, m: a rod too thin or a joint too narrow by so little still fits.
const GUARD: f64 = 1e-9;

/// What goes into a stretch of one width, and what is cut for it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Seal {
    /// Width sealed, m.
    pub width_m: f64,
    /// Depth of the sealant, m.
    pub depth_m: f64,
    /// Sealant in place, L.
    pub sealant_l: f64,
    /// Stock rod, m; `None` if no stock size is thick enough.
    pub rod_m: Option<f64>,
    /// Widened by hand, m.
    pub widen_m: f64,
    /// Depth of what is cut for rod and sealant, m; 0 if nothing is cut.
    pub groove_m: f64,
    /// Concrete removed for it, L.
    pub removed_l: f64,
}

/// A stretch of `length` that was found so wide (`None`: not noted), both m. `opened`: concrete was
/// run over it.
pub(super) fn seal(
    length: f64,
    noted: Option<f64>,
    opened: bool,
    shop: &Shop,
    told: &mut Told,
) -> Seal {
    let (least, rod) = least_width(shop);
    // A width that nobody noted is taken as the least, and nothing is cut for it.
    let found = noted.unwrap_or(least);
    let narrow = found + GUARD < least;
    let width_m = if narrow { least } else { found };
    told.line(|say| {
        let width = say.small(width_m);
        let least = match rod {
            Some(rod) => format!(
                "{} / {ROD_OVER_WIDTH} for the thinnest rod (backer_rod.sizes)",
                say.small(rod)
            ),
            None => format!("{} (sealant.least_width)", say.small(least)),
        };
        match noted {
            Some(found) => {
                format!(
                    "Seal width = the larger of found {} and {least} = {width}.",
                    say.small(found)
                )
            }
            None => format!("Seal width = {least} = {width}, as no width was noted."),
        }
    });
    let depth_m = sealant_depth_m(width_m);
    told.line(|say| {
        let (width, depth) = (say.small(width_m), say.small(depth_m));
        let (least, most) = (say.small(SEALANT_LEAST), say.small(SEALANT_MOST));
        format!("Seal depth = the larger of {width} / 2 and {least}, at most {most} = {depth}.")
    });
    let sealant_l = told.volume("Sealant in place", [length, width_m, depth_m], "", Say::liquid);
    told.what_to_buy(sealant_l, "sealant", shop.sealant.waste.one());
    let rod_m = rod_m(width_m, shop);
    told.line(|say| {
        let (width, least) = (say.small(width_m), say.small(width_m * ROD_OVER_WIDTH));
        let size = match rod_m {
            Some(rod) => format!("the next stock size (backer_rod.sizes) is {}", say.small(rod)),
            None => "no stock size (backer_rod.sizes) is that thick".to_owned(),
        };
        format!("Least backer rod = {ROD_OVER_WIDTH} × {width} = {least}; {size}.")
    });
    let (widened, removed) = match (opened, narrow) {
        (true, _) => (false, width_m),
        (false, true) => (true, width_m - found),
        (false, false) => (false, 0.0),
    };
    let groove_m =
        if removed > 0.0 { depth_m + rod_m.unwrap_or(ROD_OVER_WIDTH * width_m) } else { 0.0 };
    let removed_l = if opened {
        let what = "Concrete cut out for rod and sealant where it is opened";
        told.volume(what, [length, removed, groove_m], "", Say::solid)
    } else {
        length * removed * groove_m * L_PER_M3
    };
    if widened {
        told.line(|say| {
            let (length, width, groove) =
                (say.length(length), say.small(width_m), say.small(groove_m));
            format!(
                "Too narrow for rod and sealant: widen to {width} with a hand grinder, {length}, {groove} deep for both; concrete cut out = {length} × ({width} − {}) × {groove} = {}.",
                say.small(found),
                say.solid(removed_l)
            )
        });
    }
    Seal {
        width_m,
        depth_m,
        sealant_l,
        rod_m,
        widen_m: if widened { length } else { 0.0 },
        groove_m,
        removed_l,
    }
}

/// The least width that sealant and the thinnest stock rod fit, m, and that rod, m, where it is the rod that asks for so much.
fn least_width(shop: &Shop) -> (f64, Option<f64>) {
    let least = shop.sealant.least_width.m();
    let rod = shop.backer_rod.sizes.iter().map(|size| size.m()).min_by(f64::total_cmp);
    let rod = rod.filter(|rod| rod / ROD_OVER_WIDTH > least);
    (rod.map_or(least, |rod| rod / ROD_OVER_WIDTH), rod)
}

/// Depth of sealant in a joint of this width, m: half the width, at least 1/4 in, at most 1/2 in
/// (architectural detailing text).
#[must_use]
pub fn sealant_depth_m(width_m: f64) -> f64 {
    (width_m / 2.0).clamp(SEALANT_LEAST, SEALANT_MOST)
}

/// The thinnest stock rod of at least 1.25 times the width, m; `None` if there is none.
#[must_use]
pub fn rod_m(width_m: f64, shop: &Shop) -> Option<f64> {
    let sizes = shop.backer_rod.sizes.iter().map(|s| s.m());
    sizes.filter(|size| *size + GUARD >= ROD_OVER_WIDTH * width_m).min_by(f64::total_cmp)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::order::fixture::shop;
    use crate::quantity::Length;

    /// 24 ft with the built-in rods and a least width of 1/4 in, by hand. A groove takes the sealant,
    /// 1/4 in deep, and its rod.
    #[test]
    fn narrow_ones_are_widened_and_the_others_keep_their_width() {
        let inch = |inches: f64| Length::from_in(inches).m();
        for (name, found, opened, rods, width, rod, widened, removed_in3) in [
            ("as wide as can be sealed", Some(0.25), false, None, 0.25, 0.375, false, 0.0),
            ("between blade and half an inch", Some(0.3125), false, None, 0.3125, 0.5, false, 0.0),
            // 288 × (1/4 − 1/8) × (1/4 + 3/8).
            ("a saw cut of an eighth", Some(0.125), false, None, 0.25, 0.375, true, 22.5),
            // 288 × (1/4 − 1/64) × 5/8.
            ("a hairline that moves", Some(1.0 / 64.0), false, None, 0.25, 0.375, true, 42.1875),
            ("width not noted", None, false, None, 0.25, 0.375, false, 0.0),
            // Opened at the width it is sealed with: 288 × 1/4 × 5/8, and 288 × 1/2 × (1/4 + 5/8).
            ("buried and narrow", Some(0.125), true, None, 0.25, 0.375, false, 45.0),
            ("buried and wide", Some(0.5), true, None, 0.5, 0.625, false, 126.0),
            // The thinnest rod in stock is 1/2 in thick and wants 0.4 in: 288 × 0.15 × 3/4.
            ("narrower than the thinnest rod", Some(0.25), false, Some(0.5), 0.4, 0.5, true, 32.4),
        ] {
            let mut book = shop();
            if let Some(only) = rods {
                book.backer_rod.sizes = vec![Length::from_in(only)];
            }
            let got = seal(inch(288.0), found.map(inch), opened, &book, &mut Told::default());
            let near = |a: f64, b: f64| (a - b).abs() < 1e-9;
            assert!(near(got.width_m, inch(width)), "{name}: {got:?}");
            assert!(near(got.rod_m.unwrap_or(0.0), inch(rod)), "{name}: {got:?}");
            let wanted = if widened { inch(288.0) } else { 0.0 };
            assert!(near(got.widen_m, wanted), "{name}: {got:?}");
            let removed = removed_in3 * crate::quantity::L_PER_IN3;
            assert!(near(got.removed_l, removed), "{name}: {got:?}");
        }
    }
}
