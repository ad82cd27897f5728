//! Whether text stands out from what it is written on.

use super::read::{Drawing, Rgb, Words, shown};
use super::{Code, LEAST_CONTRAST, Report};
use crate::ink::PaperPoint;

/// Paper.
const WHITE: Rgb = [255.0, 255.0, 255.0];

pub(super) fn check(drawing: &Drawing, report: &mut Report) {
    for words in &drawing.words {
        let ground = ground(drawing, words);
        let found = words.color.map_or(1.0, |color| contrast(color, ground));
        if found < LEAST_CONTRAST {
            let id = drawing.place(words.place).id.as_str();
            let message = format!(
                "\"{}\" of {} has a contrast of {found:.1} to 1 with its ground, less than {LEAST_CONTRAST}",
                words.text,
                shown(id)
            );
            report.fault(Code::FaintText, &[id], message);
        }
    }
}

/// What the middle of a line of text is written on: the last filled shape that was drawn there before it.
fn ground(drawing: &Drawing, words: &Words) -> Rgb {
    let middle = PaperPoint {
        x: (words.ink.left + words.ink.right) / 2.0,
        y: (words.ink.top + words.ink.bottom) / 2.0,
    };
    let before = drawing.shapes[..words.after].iter().rev();
    let filled = before.filter_map(|s| s.fill.map(|fill| (s, fill)));
    let mut under = filled.filter(|(s, _)| s.area.contains(middle) && s.holds(middle));
    under.next().map_or(WHITE, |(_, fill)| fill)
}

/// Contrast of two colors, 1 to 21 (WCAG 2.1, contrast ratio).
fn contrast(a: Rgb, b: Rgb) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// Relative luminance of a color, 0 to 1 (WCAG 2.1, relative luminance).
fn luminance(color: Rgb) -> f64 {
    let linear = |v: f64| {
        let v = v / 255.0;
        if v <= 0.040_45 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
    };
    let [r, g, b] = color.map(linear);
    0.2126 * r + 0.7152 * g + 0.0722 * b
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::audit::audit;

    /// Values of the colors' table of the drawings, each computed on white.
    #[test]
    fn contrasts_on_white() {
        let rows = [
            ([0.0, 0.0, 0.0], 21.0),
            ([0.0, 114.0, 178.0], 5.19),
            ([213.0, 94.0, 0.0], 3.87),
            ([0.0, 158.0, 115.0], 3.42),
            ([240.0, 228.0, 66.0], 1.32),
        ];
        for (color, wanted) in rows {
            let found = contrast(color, WHITE);
            assert!((found - wanted).abs() < 0.01, "{color:?}: {found}");
        }
    }

    #[test]
    fn faint_text_is_found_on_its_own_ground() {
        let rows = [
            ("black on paper", "", "#000000", 0),
            ("gray on paper", "", "#999999", 1),
            ("white on paper", "", "#ffffff", 1),
            (
                "white on black",
                "<path d=\"M5 5 L60 5 L60 30 L5 30 Z\" fill=\"#000000\"/>",
                "#ffffff",
                0,
            ),
            (
                "black on black",
                "<path d=\"M5 5 L60 5 L60 30 L5 30 Z\" fill=\"#000000\"/>",
                "#000000",
                1,
            ),
            (
                "black beside a black shape whose box holds it",
                "<path d=\"M5 5 L60 5 L60 8 L8 8 L8 30 L5 30 Z\" fill=\"#000000\"/>",
                "#000000",
                0,
            ),
            (
                "black in the hole of a black frame",
                "<path d=\"M1 1 L90 1 L90 45 L1 45 Z M5 5 L60 5 L60 30 L5 30 Z\" fill=\"#000000\" fill-rule=\"evenodd\"/>",
                "#000000",
                0,
            ),
            (
                "black on blue",
                "<path d=\"M5 5 L60 5 L60 30 L5 30 Z\" fill=\"#0072b2\"/>",
                "#000000",
                1,
            ),
            (
                "a shade too clear to see",
                "<path d=\"M5 5 L60 5 L60 30 L5 30 Z\" fill=\"#000000\" fill-opacity=\"0.05\"/>",
                "#000000",
                0,
            ),
        ];
        for (name, under, color, wanted) in rows {
            let svg = format!(
                "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"100mm\" height=\"50mm\" viewBox=\"0 0 100 50\">\
                 {under}<text x=\"12\" y=\"20\" font-size=\"4\" fill=\"{color}\">NOTES</text></svg>"
            );
            let found: Vec<Code> = audit(&svg).into_iter().map(|f| f.code).collect();
            assert_eq!(found, vec![Code::FaintText; wanted], "{name}");
        }
    }
}
