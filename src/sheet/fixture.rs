//! Floors for the tests of the sheets: the demonstration sketches, and sketches written in a test.

use crate::survey::{Survey, survey};

use super::{Audience, Inputs, Options};

pub(crate) const GARAGE: &str = include_str!("../../sketches/harrow-lane-garage.yaml");
pub(crate) const KITCHEN: &str = include_str!("../../sketches/mill-street-kitchen.yaml");
pub(crate) const BOAT_SHOP: &str = include_str!("../../sketches/dock-road-boat-shop.yaml");
/// The shop book of the demonstration floors.
const SHOP: &str = include_str!("../../sketches/shop/demo.yaml");

/// A floor from the text of its sketch.
pub(crate) fn floor(text: &str) -> Survey {
    let (sketch, found) = crate::sketch::parse(text);
    let sketch = sketch.unwrap_or_else(|| panic!("{found:#?}"));
    let shop = match &sketch.shop {
        Some(_) => crate::shop::parse(SHOP).0.expect("the demonstration shop book is good"),
        None => crate::shop::built_in(),
    };
    survey(sketch, shop, found).unwrap_or_else(|found| panic!("{found:#?}"))
}

/// A plain room, 20 ft by 16 ft, with more records after its outline.
pub(crate) fn room(more: &str) -> Survey {
    floor(&format!(
        "slabwalk: 1\njob: {{name: Test room}}\nunits: us\nslab:\n  thickness: 4\"\n  post_tension: none\n  outline: [[0, 0], [20', 0], [20', 16'], [0, 16']]\n{more}"
    ))
}

/// What a drawing is made from.
pub(crate) fn inputs(survey: &Survey) -> Inputs<'_> {
    Inputs::of(survey, "test.yaml", "0123456789abcdef0123")
}

/// Nothing chosen.
pub(crate) const fn options(audience: Audience) -> Options {
    Options { audience, paper: None, scale: None }
}
