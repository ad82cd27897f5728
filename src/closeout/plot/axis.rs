//! A logarithmic axis between two numbers of the row 1, 2, 5, 10, 20 …

/// Decades beyond which only powers of ten are numbered.
const FEW_DECADES: f64 = 2.6;
/// Smallest and largest amount on an axis, packages or hours; what lies beyond is drawn at the end.
const LIMITS: (f64, f64) = (0.01, 1e6);

/// An axis from one round number to another.
pub(super) struct Axis {
    low: f64,
    high: f64,
    round: Vec<f64>,
}

impl Axis {
    /// An axis over all amounts; `None` where there is none above zero.
    pub(super) fn over(amounts: impl Iterator<Item = f64>) -> Option<Self> {
        let held = amounts
            .filter(|amount| amount.is_finite() && *amount > 0.0)
            .map(|amount| amount.clamp(LIMITS.0, LIMITS.1));
        let (least, most) = held.fold((f64::INFINITY, 0.0_f64), |(a, b), v| (a.min(v), b.max(v)));
        if most <= 0.0 {
            return None;
        }
        let all: Vec<f64> = (-2..=6)
            .flat_map(|power| [1.0, 2.0, 5.0].map(|digit| digit * 10f64.powi(power)))
            .collect();
        let low = all.iter().copied().filter(|v| *v < least * 0.95).fold(LIMITS.0, f64::max);
        let high = all.iter().copied().filter(|v| *v > most * 1.05).fold(f64::INFINITY, f64::min);
        let high = if high.is_finite() { high } else { 2.0 * LIMITS.1 };
        let round = all.into_iter().filter(|v| (low..=high).contains(v)).collect();
        Some(Self { low, high, round })
    }

    /// The two ends.
    pub(super) const fn ends(&self) -> (f64, f64) {
        (self.low, self.high)
    }

    /// Where an amount lies, from 0 at the low end to 1.
    pub(super) fn share(&self, amount: f64) -> f64 {
        let held = amount.clamp(self.low, self.high);
        (held / self.low).ln() / (self.high / self.low).ln()
    }

    /// Round numbers, and whether each is written beside the axis.
    pub(super) fn ticks(&self) -> impl Iterator<Item = (f64, bool)> {
        let few = (self.high / self.low).log10() <= FEW_DECADES;
        self.round.iter().map(move |value| {
            let tens = value.log10();
            (*value, few || (tens - tens.round()).abs() < 1e-9)
        })
    }
}
