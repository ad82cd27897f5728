//! The customer's drawing over the width of a page of a proposal, and what its letters stand for.

use crate::customer;
use crate::diagnostic::Diagnostic;
use crate::document::{BESIDE, LEAST_BESIDE};
use crate::ink::Sheet;
use crate::sheet::Inputs;

/// Highest drawing, mm: three fifths of a page.
const TALLEST: f64 = 150.0;
/// A drawing at least so wide, as a share of the text, has the page's width to itself.
const WIDE: f64 = 0.9;

/// The floor as its customer is told of it.
#[derive(Clone, Debug, Default)]
pub struct Told {
    /// The drawing, at the size it has on the page; `None` where there is none.
    pub sheet: Option<Sheet>,
    pub(super) of: customer::Told,
}

/// The drawing for a text `width` mm wide, at that width. A floor that would be too high then is drawn as high as a page has room for, and
/// leaves the words beside it their column. It has a scale bar and no standard scale: nobody lays a ruler on it. Without a drawing, why.
#[must_use]
pub fn told(inputs: &Inputs, width: f64) -> (Told, Vec<Diagnostic>) {
    let beside = width - BESIDE - LEAST_BESIDE;
    let made = customer::plan_alone(inputs, (width, TALLEST)).and_then(|(sheet, of)| {
        let between = sheet.width > beside && sheet.width < WIDE * width;
        match between {
            true => customer::plan_alone(inputs, (beside, TALLEST)),
            false => Ok((sheet, of)),
        }
    });
    match made {
        Ok((sheet, of)) => {
            let sheet = Some(sheet);
            (Told { sheet, of }, Vec::new())
        }
        Err(found) => {
            let of = customer::told(inputs);
            (Told { sheet: None, of }, found.0)
        }
    }
}
