//! The crew map: black and white, everything located with a tape.
//!
//! A floor is drawn whole or in windows ([`super::set`]); crowded windows are drawn again at a larger scale. All maps are drawn before
//! any tag is placed, because which map carries a tag depends on what the others show. Tags that find no place get an enlarged plan;
//! if that does not help, a few stand in a list beside the map. With more of them nothing is drawn and the tags are named.

mod attempt;
mod finish;
pub mod left_off;
mod map;
mod remarks;
mod strip;
mod tagged;
mod tagging;

use kurbo::Rect;

use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::ink::Sheet;
use crate::slab::directions::Locator;
use crate::takeoff::wanted;

use super::census::{self, PLANNED, Spot};
use super::enlarged;
use super::layout::Layout;
use super::plan;
use super::select;
use super::set::{Choice, Set};
use super::view::View;
use super::{Inputs, Options};
use crate::tags::place::{Placement, lines_meet};
use attempt::Attempt;
use map::Shows;

/// Most tags named in a message.
const MOST_NAMED: usize = 24;
/// Height of the strip beside a map on A4, over its title block, mm.
const SMALL_STRIP: f64 = 110.0;
/// Air around a floor that lacks no room, mm.
const AIR: f64 = 40.0;
/// Most items with which a tight division is tried out.
const MOST_TRIED: usize = 300;
/// Most items with which leaders that cross are given more than one more try.
const MOST_RETRIED: usize = 600;
/// Share of the planned fill of enlarged plans in each further try, and how many there are.
const TRIES: [f64; 7] = [1.0, 0.8, 0.6, 0.45, 0.45, 0.45, 0.45];
/// Tries after which only leaders that cross are worth another.
const FOR_ROOM: usize = 4;

/// Draws the sheets.
///
/// # Errors
///
/// One diagnostic if the paper holds nothing at any scale, or if more tags than a list takes find no place even on an enlarged plan.
pub fn compose(inputs: &Inputs, options: &Options) -> Result<Vec<Sheet>, Diagnostics> {
    let (slab, takeoff) = select::ordered(inputs.slab, inputs.takeoff);
    let wanted = wanted::tests(&slab, &takeoff);
    let holds = select::by_items(inputs.holds);
    let locator = Locator::new(&slab);
    let inputs = &Inputs {
        locator: Some(&locator),
        slab: &slab,
        takeoff: &takeoff,
        wanted: Some(&wanted),
        holds: &holds,
        ..*inputs
    };
    let spots = census::spots(&slab, &takeoff, &wanted);
    let serves = |layout: &Layout| spots.len() <= MOST_TRIED && dimensions_fit(inputs, layout);
    let choice = Choice {
        slab: &slab,
        spots: &spots,
        options,
        small: strip::holds_mm(inputs) <= SMALL_STRIP,
        serves: &serves,
    };
    let mut set = choice.set()?;
    let floor = slab.outline.path.bounds();
    let mut left = Vec::new();
    let mut crossed: Option<(Attempt, Set)> = None;
    let mut fewest: Option<(usize, Attempt, Set)> = None;
    for (n, planned) in TRIES.map(|t| t * PLANNED).into_iter().enumerate() {
        if crossed.is_none() && n >= FOR_ROOM {
            break;
        }
        if crossed.is_some() && n > 1 && spots.len() > MOST_RETRIED {
            // On a large floor one more try for leaders that cross is enough: they can still be followed.
            break;
        }
        let attempt = Attempt::of(inputs, &set, &spots, planned);
        left = attempt.unplaced();
        let crossing: Vec<Vec<String>> = attempt.placements.iter().map(crossing).collect();
        if left.is_empty() && crossing.iter().all(Vec::is_empty) {
            return Ok(attempt.sheets(inputs, &set));
        }
        let next = more_frames(&set, &spots, (&attempt, &crossing), floor);
        if left.is_empty() {
            crossed = Some((attempt, set));
        } else if left.len() <= left_off::most(spots.len())
            && fewest.as_ref().is_none_or(|f| left.len() < f.0)
        {
            fewest = Some((left.len(), attempt, set));
        }
        set = next;
    }
    // Leaders that cross can still be followed, and a few tags in a list are better than no map.
    match crossed.or(fewest.map(|(_, attempt, set)| (attempt, set))) {
        Some((attempt, set)) => Ok(attempt.sheets(inputs, &set)),
        None => Err(no_room(&left).into()),
    }
}

/// Ids of tags whose leaders cross.
fn crossing(placement: &Placement) -> Vec<String> {
    if placement.crossings == 0 {
        return Vec::new();
    }
    let led: Vec<_> = placement.placed.iter().filter_map(|p| Some((&p.id, p.leader?))).collect();
    let mut out = Vec::new();
    for (i, (id, a)) in led.iter().enumerate() {
        for (other, b) in &led[i + 1..] {
            if lines_meet((a.from, a.to), (b.from, b.to)) {
                out.extend([(*id).clone(), (*other).clone()]);
            }
        }
    }
    out
}

/// Whether dimensions and numbers find as much room in a tight division as in one with air around the floor.
fn dimensions_fit(inputs: &Inputs, layout: &Layout) -> bool {
    let window = inputs.slab.outline.path.bounds();
    let view = View::centered(layout.scale, window, layout.center());
    let left_out = |area| plan::draw(inputs, None, &view, &area, &[]).left_out();
    left_out(layout.room()) <= left_out(layout.room().grown(AIR))
}

fn no_room(ids: &[String]) -> Diagnostic {
    let named = ids.iter().take(MOST_NAMED).cloned().collect::<Vec<_>>();
    let more = ids.len().saturating_sub(MOST_NAMED);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    // A warning, because the rest of a packet is whole without the map.
    Diagnostic::warning(
        "no-room-for-tags",
        format!(
            "no crew map is drawn: no room for the tags of {}, even on an enlarged plan",
            named.join(", ") + &more
        ),
    )
    .hint("merge items that lie on top of each other into one record, or draw on larger paper")
}

/// The set with frames around the tags that found no place on a map or whose leaders cross.
fn more_frames(
    set: &Set,
    spots: &[Spot],
    (attempt, crossing): (&Attempt, &[Vec<String>]),
    floor: Rect,
) -> Set {
    let mut frames = set.frames.clone();
    let maps = attempt.maps.iter().zip(&attempt.placements).zip(crossing);
    for ((map, placement), crossing) in maps.filter(|m| m.0.0.shows != Shows::Enlarged) {
        let k = map.layout.scale.mm_per_m();
        let mut around = |ids: &[&String], mm: f64| {
            let which: Vec<usize> =
                (0..spots.len()).filter(|&i| ids.contains(&&spots[i].id)).collect();
            if !which.is_empty() {
                let half = mm / 2.0 / k;
                let all = census::around(spots, &which);
                frames.push(all.inflate(half, half).intersect(floor));
            }
        };
        for left in &placement.unplaced {
            around(&[&left.id], census::WINDOW / 2.0);
        }
        for pair in crossing.chunks(2) {
            around(&pair.iter().collect::<Vec<_>>(), census::WINDOW / 6.0);
        }
    }
    Set { frames: enlarged::merged(frames), ..set.clone() }
}
