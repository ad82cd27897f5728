//! Air and slab of a day: dew point, spread, go or wait.

use crate::quantity::Units;
use crate::sketch::Forecast;
use crate::takeoff::dew_point_c;

/// Least spread of slab over dew point in US units, K: 5 °F (UFC 3-190-06).
const SPREAD_US_K: f64 = 5.0 / 1.8;
/// Least spread under metric units, K (practice after ISO 8502-4).
const SPREAD_METRIC_K: f64 = 3.0;
/// What the last bits of a spread may be off, K.
const GUARD: f64 = 1e-9;

/// What the air of a day means for a coat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weather {
    /// Temperature of the slab, °C.
    pub slab_c: f64,
    /// Dew point, °C; `None` for air without moisture.
    pub dew_c: Option<f64>,
    /// Slab less dew point, K.
    pub spread_k: Option<f64>,
    /// Spread that is wanted, K.
    pub wanted_k: f64,
}

impl Weather {
    /// Whether a coat can go down: the slab is far enough above the dew point.
    #[must_use]
    pub fn go(&self) -> bool {
        self.spread_k.is_none_or(|spread| spread + GUARD >= self.wanted_k)
    }
}

/// What the forecast of a day means for a coat. The units decide which spread is wanted.
#[must_use]
pub fn weather(day: &Forecast, units: Units) -> Weather {
    let slab_c = day.slab.value.c();
    let dew_c = dew_point_c(day.air.value.c(), day.humidity.value.one());
    Weather {
        slab_c,
        dew_c,
        spread_k: dew_c.map(|dew| slab_c - dew),
        wanted_k: match units {
            Units::Us => SPREAD_US_K,
            Units::Metric => SPREAD_METRIC_K,
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Ratio, Temperature};
    use crate::sketch::{At, Span};

    fn at<T>(value: T) -> At<T> {
        At { value, span: Span::default() }
    }

    fn day(air_c: f64, rh: f64, slab_c: f64) -> Forecast {
        Forecast {
            day: at("2026-09-21".into()),
            air: at(Temperature::from_c(air_c)),
            humidity: at(Ratio::from_one(rh)),
            slab: at(Temperature::from_c(slab_c)),
        }
    }

    /// V-D4 to V-D6: Magnus after Alduchov and Eskridge 1996; 5 °F after UFC 3-190-06.
    #[test]
    fn go_or_wait() {
        let f = |t: f64| (t - 32.0) / 1.8;
        for (name, units, found, spread_k, go) in [
            ("V-D4", Units::Metric, day(16.0, 0.71, 13.0), 2.26, false),
            ("V-D5 62 F", Units::Us, day(f(70.0), 0.65, f(62.0)), 4.30 / 1.8, false),
            ("V-D5 64 F", Units::Us, day(f(70.0), 0.65, f(64.0)), 6.30 / 1.8, true),
            ("V-D6", Units::Us, day(f(80.0), 0.5, f(58.0)), -1.7 / 1.8, false),
        ] {
            let weather = weather(&found, units);
            let spread = weather.spread_k.unwrap_or(f64::NAN);
            assert!((spread - spread_k).abs() < 0.03, "{name}: {spread}");
            assert_eq!(weather.go(), go, "{name}");
        }
    }
}
