//! The words for what is done.

use super::SpallRepair;

/// The word for what is done with a spall.
#[must_use]
pub const fn spall_repair(repair: &SpallRepair) -> &'static str {
    match repair {
        SpallRepair::Leave => "leave",
        SpallRepair::Skim { .. } => "skim",
        SpallRepair::Patch { .. } => "patch",
        SpallRepair::WithJoint { .. } => "with-joint",
    }
}
