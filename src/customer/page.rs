//! What stands on the customer's pages beside plan and words: whose drawing it is and of which job, and the scale bar.

use crate::document::{self, Letterhead};
use crate::ink::{Align, Group, Mark, Picture};
use crate::quantity::Units;
use crate::schedule::date;
use crate::shop::ProposalWords;

use super::look;
use crate::paper::draw;
use crate::paper::mm::{Box2, at, by};
use crate::paper::scale::Scale;
use crate::paper::words;
use crate::sheet::Inputs;
use crate::sheet::frame::{Bar, BarLook};

/// From one baseline to the next, mm.
const PITCH: f64 = 4.8;
/// Air within the head of a page, mm.
const PAD: f64 = 3.5;
/// Share of the head that the shop has.
const SHOP: f64 = 0.56;

/// The head of the first page within a width: the shop, and the job; and its height, mm.
pub(crate) fn head(inputs: &Inputs, width: f64) -> (Vec<Mark>, f64) {
    let shop = letterhead(&inputs.shop.proposal, inputs.logo);
    let (mut marks, mut tall) = (Vec::new(), 0.0);
    let mut left = PAD;
    if !shop.is_empty() {
        let (own, height) = document::letterhead(&shop, width * SHOP - 2.0 * PAD);
        marks.extend(draw::moved(draw::group("", "", own), by(PAD, PAD)).marks);
        (left, tall) = (width * SHOP, height);
    }
    let job = inputs.job;
    let text = |t: &Option<String>| t.as_deref().map(words::clean).filter(|t| !t.is_empty());
    let joined =
        |parts: [Option<String>; 3]| parts.into_iter().flatten().collect::<Vec<_>>().join(", ");
    let surveyed = job.surveyed.as_ref().map(|d| format!("Surveyed {}", date::words(&d.value)));
    let number = text(&job.number).map(|n| format!("job {n}"));
    let revision = text(&job.revision).map(|r| format!("revision {r}"));
    let lines = [
        (words::clean(&job.name), look::title()),
        (joined([text(&job.client), text(&job.site), None]), look::small()),
        (joined([surveyed, number, revision]), look::small()),
    ];
    let mut y = PAD;
    for (line, type_) in lines {
        let lines = words::wrap(&line, type_, width - left - PAD);
        let (base, pitch) = (at(left, y + type_.cap()), type_.cap() + PITCH - look::small().cap());
        y += lines.len() as f64 * pitch;
        marks.extend(draw::below(base, lines, type_, pitch));
    }
    let height = (tall + 2.0 * PAD).max(y + PAD - 1.0);
    marks.push(draw::line(at(0.0, height), at(width, height), look::RULE));
    (marks, height)
}

/// What the shop book says of the shop, and its logo.
pub(crate) fn letterhead(words: &ProposalWords, logo: Option<&Picture>) -> Letterhead {
    let license = words.plain("license").map(|number| format!("license {number}"));
    Letterhead {
        logo: logo.cloned(),
        name: words.plain("company").unwrap_or_default(),
        lines: [words.plain("address"), words.plain("phone"), license]
            .into_iter()
            .flatten()
            .collect(),
    }
}

/// The head of a page that goes on.
pub(crate) fn strip(inputs: &Inputs, (number, of): (usize, usize), width: f64) -> (Vec<Mark>, f64) {
    let (small, height) = (look::small(), 8.0);
    let base = height / 2.0 + small.cap() / 2.0;
    let page = format!("page {number} of {of}");
    let room = width - words::width(&page, small) - 3.0 * PAD;
    let name = words::fit(&words::clean(&inputs.job.name), small, room);
    let marks = vec![
        draw::words(at(PAD, base), name, small, Align::Start),
        draw::words(at(width - PAD, base), page, small, Align::End),
        draw::line(at(0.0, height), at(width, height), look::RULE),
    ];
    (marks, height)
}

/// A head in its place.
pub(crate) fn placed((marks, _): (Vec<Mark>, f64), sheet: &Box2) -> Group {
    let group = draw::group("title-block", "frame", marks);
    draw::moved(group, by(sheet.left, sheet.top))
}

/// Longest scale bar, mm.
const LONGEST_BAR: f64 = 60.0;

/// The scale bar: four blocks, its zero at a point of its lower edge, within a width from there; none where the shortest is longer.
pub(crate) fn scale_bar(
    scale: Scale,
    units: Units,
    zero: crate::ink::PaperPoint,
    room: f64,
) -> Option<Group> {
    let look = BarLook {
        tall: 2.4,
        over: 3.9,
        behind: 3.0,
        unit: match units {
            Units::Us => "feet",
            Units::Metric => "meters",
        },
        type_: look::body(),
        pen: look::FINE,
    };
    let most = room - look.behind - words::width(look.unit, look.type_);
    let bar = Bar::within(scale, units, most.min(LONGEST_BAR));
    (bar.length() <= most).then(|| look.draw(bar, zero))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_scale_bar_stays_within_its_room_or_is_none() {
        let bar = |ratio: f64, room: f64| {
            let zero = at(0.0, 0.0);
            let group = scale_bar(Scale { ratio }, Units::Us, zero, room)?;
            let unit = group.marks.iter().find_map(|mark| match mark {
                Mark::Text(text) if text.text == "feet" => Some(text.at.x),
                _ => None,
            });
            Some(unit.expect("the unit") + words::width("feet", look::body()))
        };
        for (name, ratio, room, drawn) in [
            ("a wide plan", 48.0, 150.0, true),
            ("a plan as narrow as its title", 48.0, 60.0, true),
            ("a floor smaller than the shortest bar", 2.0, 60.0, false),
        ] {
            let right = bar(ratio, room);
            assert_eq!(right.is_some(), drawn, "{name}");
            assert!(right.is_none_or(|right| right <= room), "{name}: {right:?}");
        }
    }
}
