//! Packages that are bought for very little of what is in them: the buyer asks before he buys.

use super::model::{Order, OrderRow};
use super::words;
use crate::quantity::{Units, write};
use crate::trade::Product;
use crate::trade::words::said;

/// The last package is a near miss where no more of it is needed than a tenth (common practice).
const OF_THE_PACKAGE: f64 = 0.10;
/// And no more of the need than a twentieth: so far a coat is spread without anybody seeing it (common practice).
const OF_THE_NEED: f64 = 0.05;
/// A need that fills a package to its last drop is no near miss: what is beyond is the rounding of a sum, share of a package.
const ROUNDING: f64 = 1e-6;

/// What is needed of the last package, in the unit of the row, where that is so little that it should be asked about.
#[must_use]
pub fn over(row: &OrderRow) -> Option<f64> {
    let wanted = row.need * (1.0 + row.reserve);
    let before = row.packages.checked_sub(1).filter(|n| *n > 0)? as f64 * row.package;
    let over = wanted - before;
    let little = over <= OF_THE_PACKAGE * row.package && over <= OF_THE_NEED * wanted;
    (over > ROUNDING * row.package && little).then_some(over)
}

/// What to ask about each near miss of an order, a sentence each.
pub fn near_misses(order: &Order, units: Units) -> impl Iterator<Item = String> + '_ {
    order.rows.iter().filter_map(move |row| sentence(row, units))
}

/// `flake: base coat: 6.17 gal buys a third kit for 21.8 fl oz: ask whether …`
fn sentence(row: &OrderRow, units: Units) -> Option<String> {
    let over = over(row)?;
    let wanted = row.need * (1.0 + row.reserve);
    let amount = |value| words::amount(value, row.unit, units);
    let (packed, fewer) = (words::packed(row), row.packages - 1);
    let plural = if fewer == 1 { "" } else { "s" };
    let ask = match &row.item {
        Product::Layer(..) => {
            let further = write::percent((over / (wanted - over) * 1000.0).ceil() / 1000.0);
            let left =
                if row.one_lot { "" } else { ", or whether that much is left from another job" };
            format!(
                "whether {fewer} {packed}{plural} may be spread {further} further by the data sheet{left}"
            )
        }
        _ => "whether that much is left from another job".to_owned(),
    };
    Some(crate::text::clean(&format!(
        "{}: {} buys {} {packed} for {}: ask {ask}.",
        said(&row.item.to_string()),
        amount(wanted),
        nth(row.packages),
        amount(over)
    )))
}

/// `a second`, `a third`; of very many `one more`.
fn nth(n: u64) -> &'static str {
    const NTH: [&str; 9] = [
        "a second",
        "a third",
        "a fourth",
        "a fifth",
        "a sixth",
        "a seventh",
        "an eighth",
        "a ninth",
        "a tenth",
    ];
    let place = usize::try_from(n).ok().and_then(|n| n.checked_sub(2));
    place.and_then(|place| NTH.get(place)).copied().unwrap_or("one more")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::order::Chosen;
    use crate::quantity::L_PER_GAL;
    use crate::shop::Charged;
    use crate::trade::Layers;

    /// A row of kits of 3 gal of which so many gallons are needed.
    fn kits(gallons: f64, one_lot: bool) -> OrderRow {
        let packages = (gallons / 3.0 - 1e-9).ceil();
        OrderRow {
            item: Product::Layer(Layers::System("flake".to_owned()), "base coat".to_owned()),
            need: gallons * L_PER_GAL,
            unit: "L",
            package: 3.0 * L_PER_GAL,
            packages: packages as u64,
            sd: 0.0,
            packages_p90: packages as u64,
            packages_p50: packages as u64,
            left_over: (packages * 3.0 - gallons) * L_PER_GAL,
            one_lot,
            reserve: 0.0,
            charged: Charged::Whole,
            reclaimed: 0.0,
            chosen: Chosen::default(),
            how: Vec::new(),
        }
    }

    #[test]
    fn a_kit_for_a_cupful_is_asked_about() {
        let rows = [
            (
                "a third kit for little",
                6.17,
                Some(
                    "flake: base coat: 6.17 gal buys a third kit for 21.8 fl oz: ask whether 2 kits may be spread 2.9% further by the data sheet, or whether that much is left from another job.",
                ),
            ),
            ("more than a tenth of a kit", 6.31, None),
            ("more than a twentieth of the need", 3.2, None),
            ("the first kit, however little", 0.1, None),
            ("to the last drop", 6.0, None),
            (
                "a thirteenth",
                36.1,
                Some(
                    "flake: base coat: 36.10 gal buys one more kit for 12.8 fl oz: ask whether 12 kits may be spread 0.3% further by the data sheet, or whether that much is left from another job.",
                ),
            ),
        ];
        for (name, gallons, want) in rows {
            assert_eq!(sentence(&kits(gallons, false), Units::Us).as_deref(), want, "{name}");
        }
        let lot = sentence(&kits(6.17, true), Units::Us).unwrap_or_default();
        assert!(lot.ends_with("further by the data sheet."), "{lot}");
    }
}
