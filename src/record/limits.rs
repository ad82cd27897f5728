//! What the lengths of a sketch may be. Beyond these limits nobody believes the number: it is a slip
//! of the pen, and an error costs less than a wrong order. Within them a number without a unit that something of its kind
//! seldom has is asked about: most such numbers were meant in another unit. All limits are common practice.

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

pub(crate) const COORDINATE: Rule = Rule::plan("the coordinate", Sign::Any, MILE);
/// A distance along a line or from a corner.
pub(crate) const STATION: Rule = Rule::plan("the station", Sign::NotNegative, MILE);
pub(crate) const SIZE: Rule = Rule::plan("the size", Sign::Positive, MILE);
/// A size of missing concrete.
pub(crate) const SPALL_SIZE: Rule =
    SIZE.usually("the size of a spall", Length::from_in(0.25), Length::from_in(48.0));
/// A width of a joint.
pub(crate) const WIDTH: Rule = Rule::small("the width", Sign::NotNegative, FOOT).usually(
    "the width of a joint",
    Length::from_in(1.0 / 32.0),
    Length::from_in(2.0),
);
pub(crate) const CRACK_WIDTH: Rule = Rule::small("the width", Sign::NotNegative, FOOT).usually(
    "the width of a crack",
    Length::from_in(0.001),
    Length::from_in(1.0),
);
/// A width to cut.
pub(crate) const CHASE_WIDTH: Rule = Rule::small("the width of the chase", Sign::Positive, FOOT)
    .usually("the width of a chase", Length::from_in(1.0 / 16.0), Length::from_in(2.0));
/// A depth to cut.
pub(crate) const CHASE_DEPTH: Rule = Rule::small(
    "the depth of the chase",
    Sign::Positive,
    TWO_FEET,
)
.usually("the depth of a chase", Length::from_in(1.0 / 8.0), Length::from_in(6.0));
/// A depth of a joint.
pub(crate) const DEPTH: Rule = Rule::small("the depth", Sign::NotNegative, TWO_FEET).usually(
    "the depth of a joint",
    Length::from_in(1.0 / 16.0),
    FOOT,
);
/// A depth of missing concrete.
pub(crate) const SPALL_DEPTH: Rule = Rule::small("the depth", Sign::Positive, TWO_FEET).usually(
    "the depth of a spall",
    Length::from_in(1.0 / 32.0),
    Length::from_in(8.0),
);
/// A thickness of a layer that has come loose.
pub(crate) const DELAMINATION_DEPTH: Rule = Rule::small("the depth", Sign::Positive, TWO_FEET)
    .usually("the depth of a delamination", Length::from_in(1.0 / 16.0), Length::from_in(8.0));
pub(crate) const WANDER: Rule = Rule::small("the wander", Sign::NotNegative, FOOT).usually(
    "the wander of a joint",
    Length::from_in(0.0),
    Length::from_in(4.0),
);
/// A step between panels or across a crack.
pub(crate) const STEP: Rule = Rule::small("the step", Sign::NotNegative, FOOT).usually(
    "a step",
    Length::from_in(0.0),
    Length::from_in(4.0),
);
/// A thickness of a slab.
pub(crate) const THICKNESS: Rule = Rule::small("the thickness", Sign::Positive, FIVE_FEET).usually(
    "the thickness of a slab",
    Length::from_in(1.5),
    TWO_FEET,
);
/// Concrete over something.
pub(crate) const COVER: Rule = Rule::small("the cover", Sign::NotNegative, FIVE_FEET).usually(
    "the cover over something in a slab",
    Length::from_in(0.25),
    TWO_FEET,
);
pub(crate) const FACE_HEIGHT: Rule = Rule::small("the height", Sign::Positive, TWENTY_FEET)
    .usually("the height of a face", Length::from_in(0.75), Length::from_in(120.0));
pub(crate) const COVE: Rule = Rule::small("the radius of a cove", Sign::Positive, TWO_FEET)
    .usually("the radius of a cove", Length::from_in(0.25), Length::from_in(6.0));
/// A spot height.
pub(crate) const LEVEL: Rule = Rule::small("the height", Sign::Any, TWENTY_FEET);
/// How much a tier lies higher or lower than the rest of the floor. A loading dock is four feet high; no floor of one job is over five.
pub(crate) const TIER_HEIGHT: Rule = Rule::small("the height of the tier", Sign::Any, FIVE_FEET)
    .usually("the height of a tier", Length::from_in(0.5), TWO_FEET);
