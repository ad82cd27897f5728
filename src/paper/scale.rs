//! Standard scales. A drawing is made at one of these and never "fitted to the page".

use crate::quantity::Units;
use crate::quantity::write::trimmed;

/// A drawing scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    /// Length on the floor over length on paper: 48 for 1/4 in to the foot, 50 for 1:50.
    pub ratio: f64,
}

/// Architect's scales, then engineer's: 1/4, 3/16, 1/8, 3/32, 1/16 in to the foot; 1 in = 20, 30 … 60 ft. One inch to ten
/// feet (1:120) stands between 1/8 and 3/32.
const US: [f64; 11] = [48.0, 64.0, 96.0, 120.0, 128.0, 192.0, 240.0, 360.0, 480.0, 600.0, 720.0];
/// Metric scales (ISO 5455, and 1:25 as building sites use it).
const METRIC: [f64; 6] = [20.0, 25.0, 50.0, 100.0, 200.0, 500.0];
/// Scales for the enlarged plan of a crowded window: 3, 1 1/2, 1, 3/4, 1/2, 3/8 in to the foot.
const US_DETAIL: [f64; 6] = [4.0, 8.0, 12.0, 16.0, 24.0, 32.0];
/// Scales for the enlarged plan of a crowded window (ISO 5455).
const METRIC_DETAIL: [f64; 3] = [2.0, 5.0, 10.0];

/// Coarsest scale at which a crew can still read a plan at arm's length, us: 1/16 in to the foot.
pub const COARSEST_READABLE_US: f64 = 192.0;
/// Coarsest scale at which a crew can still read a plan at arm's length, metric.
pub const COARSEST_READABLE_METRIC: f64 = 200.0;

impl Scale {
    /// Millimeters on paper for one meter of floor.
    #[must_use]
    pub fn mm_per_m(self) -> f64 {
        1000.0 / self.ratio
    }

    /// As written on the sheet: `1/8" = 1'-0"`, `1" = 20'`, `1:50`.
    #[must_use]
    pub fn text(self, units: Units) -> String {
        match units {
            Units::Metric => format!("1:{}", trimmed(self.ratio, 2)),
            Units::Us => us_text(self.ratio),
        }
    }

    /// Standard scales of a system of units, largest drawing first.
    #[must_use]
    pub fn standard(units: Units) -> Vec<Self> {
        let list: &[f64] = match units {
            Units::Us => &US,
            Units::Metric => &METRIC,
        };
        list.iter().map(|&ratio| Self { ratio }).collect()
    }

    /// Scales for enlarged plans, largest drawing first.
    #[must_use]
    pub fn detail(units: Units) -> Vec<Self> {
        let list: &[f64] = match units {
            Units::Us => &US_DETAIL,
            Units::Metric => &METRIC_DETAIL,
        };
        let own = list.iter().map(|&ratio| Self { ratio });
        own.chain(Self::standard(units)).collect()
    }

    /// Whether a crew can read a plan at this scale.
    #[must_use]
    pub fn is_readable(self, units: Units) -> bool {
        self.ratio
            <= match units {
                Units::Us => COARSEST_READABLE_US,
                Units::Metric => COARSEST_READABLE_METRIC,
            }
    }

    /// Reads `1/8`, `1/8"`, `1/8" = 1'-0"`, `1/8 in = 1 ft`, `1" = 20'`, `1:50`; `None` for anything that is no standard scale.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let wanted = squeezed(text);
        let us = Self::detail(Units::Us).into_iter().map(|s| (s, Units::Us));
        let metric = Self::detail(Units::Metric);
        let all = us.chain(metric.into_iter().map(|s| (s, Units::Metric)));
        all.map(|(scale, units)| (scale, squeezed(&scale.text(units))))
            .find(|(_, full)| {
                let short = full.strip_suffix("=1'").unwrap_or(full);
                wanted == *full || wanted == short || format!("{wanted}\"") == short
            })
            .map(|(scale, _)| scale)
    }
}

/// A scale without spaces, its marks and words in one form, and a whole foot without its inches.
fn squeezed(text: &str) -> String {
    let marks = text.to_lowercase().replace(['″', '”', '“'], "\"").replace(['′', '’', '‘'], "'");
    let mut out: String = marks.split_whitespace().collect();
    for (words, mark) in [
        ("inches", "\""),
        ("inch", "\""),
        ("in.", "\""),
        ("in", "\""),
        ("feet", "'"),
        ("foot", "'"),
        ("ft.", "'"),
        ("ft", "'"),
    ] {
        out = out.replace(words, mark);
    }
    out.strip_suffix("-0\"").map(str::to_owned).unwrap_or(out)
}

fn us_text(ratio: f64) -> String {
    let architect = [
        (4.0, "3"),
        (8.0, "1 1/2"),
        (12.0, "1"),
        (16.0, "3/4"),
        (24.0, "1/2"),
        (32.0, "3/8"),
        (48.0, "1/4"),
        (64.0, "3/16"),
        (96.0, "1/8"),
        (128.0, "3/32"),
        (192.0, "1/16"),
    ];
    architect.iter().find(|(r, _)| *r == ratio).map_or_else(
        || format!("1\" = {}'", trimmed(ratio / 12.0, 2)),
        |(_, inches)| format!("{inches}\" = 1'-0\""),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_and_back() {
        let rows = [
            (48.0, Units::Us, "1/4\" = 1'-0\"", "1/4"),
            (64.0, Units::Us, "3/16\" = 1'-0\"", "3/16\""),
            (120.0, Units::Us, "1\" = 10'", "1\"=10'"),
            (720.0, Units::Us, "1\" = 60'", "1\" = 60'"),
            (8.0, Units::Us, "1 1/2\" = 1'-0\"", "1 1/2"),
            (4.0, Units::Us, "3\" = 1'-0\"", "3\""),
            (2.0, Units::Metric, "1:2", "1:2"),
            (50.0, Units::Metric, "1:50", "1 : 50"),
        ];
        for (ratio, units, text, short) in rows {
            let scale = Scale { ratio };
            assert_eq!(scale.text(units), text);
            assert_eq!(Scale::parse(text), Some(scale), "{text}");
            assert_eq!(Scale::parse(short), Some(scale), "{short}");
        }
        let quarter = Some(Scale { ratio: 48.0 });
        for text in [
            "1/4 in = 1 ft",
            "1/4in",
            "1/4\" = 1'",
            "1/4\"=1'-0\"",
            "1/4 inch = 1 foot",
            "1/4″ = 1′-0″",
        ] {
            assert_eq!(Scale::parse(text), quarter, "{text}");
        }
        assert_eq!(Scale::parse("1 in = 20 ft"), Some(Scale { ratio: 240.0 }));
        assert_eq!(Scale::parse("1\""), Some(Scale { ratio: 12.0 }));
        assert_eq!(Scale::parse("1\" = 37'"), None);
        assert_eq!(Scale::parse("1:37"), None);
        assert_eq!(Scale::parse("fit"), None);
    }

    #[test]
    fn a_foot_drawn_is_a_foot_over_the_scale() {
        let quarter_inch = Scale { ratio: 48.0 };
        assert!((0.3048 * quarter_inch.mm_per_m() - 6.35).abs() < 1e-12);
    }

    #[test]
    fn lists_go_from_large_to_small() {
        for units in [Units::Us, Units::Metric] {
            for list in [Scale::standard(units), Scale::detail(units)] {
                assert!(list.windows(2).all(|p| p[0].ratio < p[1].ratio));
            }
        }
    }
}
