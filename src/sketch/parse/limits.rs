//! What the lengths of a sketch may be. Beyond these limits nobody believes the number: it is a slip
//! of the pen, and an error costs less than a wrong order. All limits are common practice.

use crate::form::{Rule, Sign};
use crate::quantity::Length;

/// No floor is longer than a mile, 5280 ft.
const MILE: Length = Length::from_ft(5280.0);
/// No joint or crack is a foot wide.
const FOOT: Length = Length::from_in(12.0);
/// No chase, spall or former is two feet deep.
const TWO_FEET: Length = Length::from_in(24.0);
/// No floor slab is five feet thick.
const FIVE_FEET: Length = Length::from_in(60.0);
/// No curb or spot height of a floor is twenty feet.
const TWENTY_FEET: Length = Length::from_in(240.0);

/// A coordinate.
pub(crate) const COORDINATE: Rule = Rule::plan("the coordinate", Sign::Any, MILE);
/// A distance along a line or from a corner.
pub(crate) const STATION: Rule = Rule::plan("the station", Sign::NotNegative, MILE);
/// A size on the plan.
pub(crate) const SIZE: Rule = Rule::plan("the size", Sign::Positive, MILE);
/// A width of a joint or crack.
pub(crate) const WIDTH: Rule = Rule::small("the width", Sign::NotNegative, FOOT);
/// A width to cut.
pub(crate) const CHASE_WIDTH: Rule = Rule::small("the width of the chase", Sign::Positive, FOOT);
/// A depth to cut.
pub(crate) const CHASE_DEPTH: Rule =
    Rule::small("the depth of the chase", Sign::Positive, TWO_FEET);
/// A depth of a joint.
pub(crate) const DEPTH: Rule = Rule::small("the depth", Sign::NotNegative, TWO_FEET);
/// A depth of missing concrete.
pub(crate) const SPALL_DEPTH: Rule = Rule::small("the depth", Sign::Positive, TWO_FEET);
/// A sideways wander.
pub(crate) const WANDER: Rule = Rule::small("the wander", Sign::NotNegative, FOOT);
/// A step between panels or across a crack.
pub(crate) const STEP: Rule = Rule::small("the step", Sign::NotNegative, FOOT);
/// A thickness of a slab.
pub(crate) const THICKNESS: Rule = Rule::small("the thickness", Sign::Positive, FIVE_FEET);
/// Concrete over something.
pub(crate) const COVER: Rule = Rule::small("the cover", Sign::NotNegative, FIVE_FEET);
/// A height of a face.
pub(crate) const FACE_HEIGHT: Rule = Rule::small("the height", Sign::Positive, TWENTY_FEET);
/// A spot height.
pub(crate) const LEVEL: Rule = Rule::small("the height", Sign::Any, TWENTY_FEET);
