//! A need of one product, and the rounding to whole packages.

use super::chosen::Chosen;
use super::confidence::Z_NINE_IN_TEN;
use super::model::OrderRow;
use crate::shop::Buying;
use crate::trade::Product;

/// Share of one package below which an excess is rounding noise: 6.0000000001 packages are six.
const GUARD: f64 = 1e-9;

/// Whole packages that hold `need`, both in the same unit. Zero for no need. A package size that
/// is not a positive number holds nothing; the shop book refuses it before it gets here, and zero
/// is returned.
#[must_use]
pub fn whole_packages(need: f64, package: f64) -> u64 {
    let count = need / package;
    if !count.is_finite() || package <= 0.0 || count <= GUARD {
        return 0;
    }
    // Far above a million packages the guard would drown in the last bit of the quotient, so it
    // grows with the count there.
    let guard = GUARD.max(count * 1e-15);
    (count - guard).ceil().max(0.0) as u64
}

/// How much of one product one kind of work takes.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Need {
    /// The product; its needs are added up.
    pub product: Product,
    /// Amount, waste included, in `unit`.
    pub amount: f64,
    /// Standard deviation of the amount, in `unit`; 0 where the shop book gives none.
    pub sd: f64,
    /// Why it varies, a clause; empty where the shop book gives no deviation.
    pub varies: &'static str,
    /// `L`, `kg`, `m` or `each`.
    pub unit: &'static str,
    /// One package in `unit`.
    pub package: f64,
    /// Must come from one lot.
    pub one_lot: bool,
    /// How it is bought and charged.
    pub buying: Buying,
    /// Part of it that can be thrown again, in `unit`.
    pub reclaimed: f64,
    /// How the amount was reached.
    pub how: Vec<String>,
}

/// Needs in the order of first use, one per product.
#[derive(Clone, Debug, Default)]
pub(crate) struct Needs(Vec<Need>);

impl Needs {
    /// Adds a need to what the product already has; nothing is added for an amount of zero.
    /// Uses vary independently of each other, so their variances add.
    pub(crate) fn add(&mut self, need: Need) {
        if !need.amount.is_finite() || need.amount <= 0.0 {
            return;
        }
        let same = |n: &&mut Need| n.product == need.product && n.unit == need.unit;
        if let Some(known) = self.0.iter_mut().find(same) {
            known.amount += need.amount;
            known.sd = known.sd.hypot(need.sd);
            known.one_lot |= need.one_lot;
            known.reclaimed += need.reclaimed;
            known.how.extend(need.how);
        } else {
            self.0.push(need);
        }
    }

    /// The order rows, each product rounded up once.
    pub(crate) fn into_rows(
        self,
        sentence: impl Fn(&Need, &OrderRow) -> Vec<String>,
    ) -> Vec<OrderRow> {
        self.0
            .into_iter()
            .map(|need| {
                let mut row = round_up(&need);
                let closing = sentence(&need, &row);
                row.how.extend(closing);
                row
            })
            .collect()
    }
}

fn round_up(need: &Need) -> OrderRow {
    let reserve = need.buying.reserve.one();
    let packages = whole_packages(need.amount * (1.0 + reserve), need.package);
    OrderRow {
        item: need.product.clone(),
        need: need.amount,
        unit: need.unit,
        package: need.package,
        packages,
        sd: need.sd,
        packages_p50: whole_packages(need.amount, need.package),
        packages_p90: whole_packages(need.amount + Z_NINE_IN_TEN * need.sd, need.package),
        left_over: packages as f64 * need.package - need.amount,
        one_lot: need.one_lot,
        reserve,
        charged: need.buying.charged,
        reclaimed: need.reclaimed,
        chosen: Chosen::default(),
        how: need.how.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn packages_are_whole_and_enough() {
        for (name, need, package, want) in [
            ("nothing", 0.0, 0.6, 0),
            ("a drop", 0.001, 0.6, 1),
            ("exactly six", 6.0, 1.0, 6),
            ("six and a rounding error", 6.000_000_000_1, 1.0, 6),
            ("six and a bit", 6.000_001, 1.0, 7),
            ("sum of tenths", 0.1 + 0.2, 0.1, 3),
            ("a million and a bit", 1_000_000.5, 1.0, 1_000_001),
            ("package of nothing", 5.0, 0.0, 0),
            ("not a number", f64::NAN, 0.6, 0),
        ] {
            assert_eq!(whole_packages(need, package), want, "{name}");
        }
    }

    #[test]
    fn the_same_product_is_rounded_once() {
        let need = |amount| Need {
            product: Product::JointFiller,
            amount,
            sd: 0.0,
            varies: "",
            unit: "L",
            package: 0.6,
            one_lot: false,
            buying: crate::shop::built_in().filler.buying,
            reclaimed: 0.0,
            how: vec![],
        };
        let mut needs = Needs::default();
        needs.add(need(0.7));
        needs.add(need(0.7));
        needs.add(need(0.0));
        let rows = needs.into_rows(|_, _| vec![]);
        assert_eq!(rows.len(), 1);
        // Two uses of 1.17 packages each are 2.33 together: three, not two and two.
        assert_eq!(rows[0].packages, 3);
        assert!((rows[0].left_over - 0.4).abs() < 1e-12);
    }
}
