//! Floors for these tests.

use slabwalk::survey::Survey;

/// A floor of 24 by 24 ft with these further lines of the sketch.
pub fn text(more: &str) -> String {
    format!(
        "slabwalk: 1\njob: {{name: test floor}}\nslab:\n  thickness: 6\"\n  post_tension: none\n  \
         outline: [[0, 0], [24', 0], [24', 24'], [0, 24']]\n{more}"
    )
}

/// The same, surveyed by the built-in shop book.
pub fn survey(more: &str) -> Survey {
    let (sketch, faults) = slabwalk::sketch::parse(&text(more));
    let sketch = sketch.unwrap_or_else(|| panic!("{faults:?}"));
    slabwalk::survey::survey(sketch, slabwalk::shop::built_in(), faults)
        .unwrap_or_else(|faults| panic!("{faults:?}"))
}
