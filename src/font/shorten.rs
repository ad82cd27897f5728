//! Text cut to a width.

use super::{clean, text_width};
use crate::ink::Weight;

/// The text, or as much of its beginning as fits in `width` mm with `…` behind it. Empty if not even `…` fits.
#[must_use]
pub fn shorten(text: &str, width: f64, size: f64, weight: Weight) -> String {
    let cleaned = clean(text).text.into_owned();
    if text_width(&cleaned, size, weight) <= width {
        return cleaned;
    }
    let ends: Vec<usize> = cleaned.char_indices().map(|(at, _)| at).collect();
    let cut = |end: usize| format!("{}…", cleaned[..end].trim_end());
    // Width grows with every character, so the cut can be found by halving.
    let fitting = ends.partition_point(|&end| text_width(&cut(end), size, weight) <= width);
    fitting.checked_sub(1).and_then(|last| ends.get(last)).map_or_else(String::new, |&end| cut(end))
}

#[cfg(test)]
mod tests {
    use super::*;

    const SIZE: f64 = 3.6;

    fn width(text: &str) -> f64 {
        text_width(text, SIZE, Weight::Regular)
    }

    #[test]
    fn shortened_text_fits() {
        let text = "Unit 4, Riverside Trade Park, north bay";
        for limit in [5.0, 12.0, 30.0, 50.0] {
            let short = shorten(text, limit, SIZE, Weight::Regular);
            assert!(short.ends_with('…') && width(&short) <= limit, "{short}");
        }
        assert_eq!(shorten(text, 100.0, SIZE, Weight::Regular), text);
        assert_eq!(shorten(text, 0.5, SIZE, Weight::Regular), "");
    }
}
