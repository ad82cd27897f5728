//! How far a quantity may differ before the part beyond is priced anew.

use rust_decimal::Decimal;

use crate::price::UNIT_PRICE_TOLERANCE_PERCENT;

/// The part above 115 % and the part short of 85 % of the estimate; one of them is nothing (FAR
/// 52.211-18: only the part beyond is adjusted). Where nothing was estimated there is no band that
/// could be left, and both are nothing.
///
/// ```
/// use slabwalk::change::repricing;
/// assert_eq!(repricing(200.into(), 260.into()), (30.into(), 0.into()));
/// assert_eq!(repricing(200.into(), 150.into()), (0.into(), 20.into()));
/// assert_eq!(repricing(0.into(), 12.into()), (0.into(), 0.into()));
/// ```
#[must_use]
pub fn repricing(estimated: Decimal, actual: Decimal) -> (Decimal, Decimal) {
    if estimated.is_zero() {
        return (Decimal::ZERO, Decimal::ZERO);
    }
    let tolerance = estimated * Decimal::new(UNIT_PRICE_TOLERANCE_PERCENT, 2);
    let over = (actual - estimated - tolerance).max(Decimal::ZERO);
    let under = (estimated - tolerance - actual).max(Decimal::ZERO);
    (over.normalize(), under.normalize())
}
