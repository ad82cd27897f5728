//! The words for kinds and treatments, the same in the sketch and in every report.

use super::SpallRepair;
use crate::sketch::{BlemishKind, JointKind, Treatment};

/// The word for a kind of joint.
#[must_use]
pub const fn joint_kind(kind: JointKind) -> &'static str {
    match kind {
        JointKind::Control => "control",
        JointKind::Construction => "construction",
        JointKind::Isolation => "isolation",
    }
}

/// The word for a treatment.
#[must_use]
pub const fn treatment(treatment: Treatment) -> &'static str {
    match treatment {
        Treatment::Prime => "prime",
        Treatment::Fill => "fill",
        Treatment::Chase => "chase",
        Treatment::Honor => "honor",
        Treatment::Leave => "leave",
    }
}

/// The word for a blemish.
#[must_use]
pub const fn blemish(kind: BlemishKind) -> &'static str {
    match kind {
        BlemishKind::Oil => "oil",
        BlemishKind::Sealer => "sealer",
        BlemishKind::Paint => "paint",
        BlemishKind::Adhesive => "adhesive",
        BlemishKind::Scaling => "scaling",
        BlemishKind::Efflorescence => "efflorescence",
        BlemishKind::CuringCompound => "curing-compound",
    }
}

/// The word for what is done with a spall.
#[must_use]
pub const fn spall_repair(repair: SpallRepair) -> &'static str {
    match repair {
        SpallRepair::Skim => "skim",
        SpallRepair::Patch(_) => "patch",
        SpallRepair::WithJoint(_) => "with-joint",
    }
}

/// Text from the sketch for a line of plain text. Control characters would move the cursor of a
/// terminal or break a table, and marks of direction would turn numbers round: each becomes a
/// space.
#[must_use]
pub fn clean(text: &str) -> String {
    let turns = |c: char| matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    let plain = |c: char| if c.is_control() || turns(c) { ' ' } else { c };
    text.chars()
        .map(plain)
        .collect::<String>()
        .trim()
        .to_owned()
}

#[cfg(test)]
mod tests {
    use super::clean;

    #[test]
    fn nothing_moves_the_cursor() {
        let rows = [
            ("a\u{1b}[2Jb", "a [2Jb"),
            ("line\nline", "line line"),
            (" \tx\u{202e}1 ", "x 1"),
            ("½ of Müller's", "½ of Müller's"),
        ];
        for (text, want) in rows {
            assert_eq!(clean(text), want, "{text:?}");
        }
    }
}
