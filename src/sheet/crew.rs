//! The crew map: black and white, everything located with a tape.
//!
//! A floor is drawn whole or in windows ([`super::set`]); crowded windows are drawn again at a larger scale. All maps are drawn before
//! any tag is placed, because which map carries a tag depends on what the others show. Tags that find no place get an enlarged plan;
//! if that does not help, nothing is drawn and the tags are named.

mod finish;
pub mod left_off;
mod map;
mod remarks;
mod strip;
mod tagged;
mod tagging;

use std::collections::BTreeSet;

use kurbo::Rect;

use crate::diagnostic::Diagnostic;
use crate::ink::{Group, Sheet};

use super::census::{self, PLANNED, Spot};
use super::enlarged::{self, Enlarged};
use super::flow::{self, Content, Cursor};
use super::key_plan::KeyPlan;
use super::layout::Layout;
use super::page::{self, Ground};
use super::parallel;
use super::place::{Placement, lines_meet};
use super::plan;
use super::select;
use super::set::{Choice, Set};
use super::tags::{self, Tag};
use super::view::View;
use super::wanted;
use super::{Inputs, Options};
use finish::Raw;
use left_off::LeftOff;
use map::{Drawn, Map, Shows};
use tagged::Tagged;

/// Most sheets of schedules; more would be a mistake.
const MOST_SHEETS: usize = 2000;
/// Most tags named in a message.
const MOST_NAMED: usize = 24;
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
/// One diagnostic if the paper holds nothing at any scale, or if tags find no place even on an enlarged plan.
pub fn compose(inputs: &Inputs, options: &Options) -> Result<Vec<Sheet>, Vec<Diagnostic>> {
    let (slab, takeoff) = select::ordered(inputs.slab, inputs.takeoff);
    let wanted = wanted::tests(&slab, &takeoff);
    let inputs = &Inputs {
        slab: &slab,
        takeoff: &takeoff,
        wanted: Some(&wanted),
        ..*inputs
    };
    let spots = census::spots(&slab, &takeoff, &wanted);
    let serves = |layout: &Layout| spots.len() <= MOST_TRIED && dimensions_fit(inputs, layout);
    let choice = Choice {
        slab: &slab,
        spots: &spots,
        options,
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
        } else if left.len() <= left_off::MOST && fewest.as_ref().is_none_or(|f| left.len() < f.0) {
            fewest = Some((left.len(), attempt, set));
        }
        set = next;
    }
    // Leaders that cross can still be followed, and a few tags in a list are better than no map.
    match crossed.or(fewest.map(|(_, attempt, set)| (attempt, set))) {
        Some((attempt, set)) => Ok(attempt.sheets(inputs, &set)),
        None => Err(vec![no_room(&left)]),
    }
}

/// Ids of tags whose leaders cross.
fn crossing(placement: &Placement) -> Vec<String> {
    if placement.crossings == 0 {
        return Vec::new();
    }
    let led: Vec<_> = placement
        .placed
        .iter()
        .filter_map(|p| Some((&p.id, p.leader?)))
        .collect();
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
    let left_out = |area| plan::draw(inputs, None, &view, &area).left_out();
    left_out(layout.room()) <= left_out(layout.room().grown(AIR))
}

fn no_room(ids: &[String]) -> Diagnostic {
    let named = ids.iter().take(MOST_NAMED).cloned().collect::<Vec<_>>();
    let more = ids.len().saturating_sub(MOST_NAMED);
    let more = if more > 0 {
        format!(" and {more} more")
    } else {
        String::new()
    };
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
            let which: Vec<usize> = (0..spots.len())
                .filter(|&i| ids.contains(&&spots[i].id))
                .collect();
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
    Set {
        frames: enlarged::merged(frames),
        ..set.clone()
    }
}

/// All maps of a set, drawn and tagged.
struct Attempt {
    maps: Vec<Map>,
    drawn: Vec<Drawn>,
    placements: Vec<Placement>,
    enlarged: Vec<Enlarged>,
}

impl Attempt {
    fn of(inputs: &Inputs, set: &Set, spots: &[Spot], planned: f64) -> Self {
        let units = inputs.slab.units;
        let mut enlarged: Vec<Enlarged> = Vec::new();
        if let Some(layout) = set.layouts.first() {
            for frame in &set.frames {
                let to = (layout.scale, planned);
                enlarged.extend(enlarged::enlarge(spots, *frame, to, layout.paper, units));
            }
        }
        let maps = maps(inputs, set, &enlarged);
        let numbers: Vec<String> = maps.iter().map(|m| m.number.clone()).collect();
        let mut drawn = parallel::each(maps.len(), |i| {
            maps[i].draw(inputs, set.grid.as_ref(), &numbers)
        });
        tagging::share(&maps, &mut drawn, spots);
        let placed = parallel::each(maps.len(), |i| Tagged::of(&drawn[i].plan));
        let mut placements = Vec::new();
        for (d, tagged) in drawn.iter_mut().zip(placed) {
            d.plan.tags = tagged.tags;
            d.plan.number_rest(&tagged.placement);
            placements.push(tagged.placement);
        }
        Self {
            maps,
            drawn,
            placements,
            enlarged,
        }
    }

    /// Ids of the tags that found no place on some map.
    fn unplaced(&self) -> Vec<String> {
        let all = self.placements.iter().flat_map(|p| &p.unplaced);
        let mut ids: Vec<String> = all.map(|u| u.id.clone()).collect();
        ids.sort_by_cached_key(|id| crate::takeoff::id_key(id));
        ids.dedup();
        ids
    }

    /// Tags that found a place on no map, by id.
    fn without_place(&self) -> Vec<Tag> {
        let placed = self.placements.iter().flat_map(|p| &p.placed);
        let placed: BTreeSet<&str> = placed.map(|p| &*p.id).collect();
        let nowhere = |id: &String| !placed.contains(&**id);
        let all = || self.drawn.iter().flat_map(|d| &d.plan.tags);
        let ids = self.unplaced().into_iter().filter(nowhere);
        ids.filter_map(|id| all().find(|t| t.id == id).cloned())
            .collect()
    }

    fn key_plan(&self, inputs: &Inputs, map: &Map) -> Option<KeyPlan> {
        let windows: Vec<(Rect, String)> = self
            .maps
            .iter()
            .filter(|m| matches!(m.shows, Shows::Window(_)))
            .map(|m| (m.window, m.number.clone()))
            .collect();
        match map.shows {
            Shows::Whole => None,
            Shows::Window(i) => Some(KeyPlan::new(inputs.slab, windows, Some(i))),
            Shows::Enlarged => {
                let mut all = windows;
                all.push((map.window, map.number.clone()));
                let own = all.len() - 1;
                Some(KeyPlan::new(inputs.slab, all, Some(own)))
            }
        }
    }

    /// Maps, schedules, enlarged plans: the sheets of the set.
    fn sheets(mut self, inputs: &Inputs, set: &Set) -> Vec<Sheet> {
        let division = strip::division(inputs, set.grid.as_ref(), &self.enlarged);
        let missing = remarks::missing(&self.drawn);
        let mut shared = strip::shared(inputs, &missing, division);
        let tags = self.without_place();
        if !tags.is_empty() {
            shared.insert(0, Box::new(LeftOff { tags }));
        }
        let shared = flow::once(shared);
        let mut at_shared = Cursor::default();
        let mut rests: Vec<(Vec<Box<dyn Content>>, Cursor)> = Vec::new();
        let (mut main, mut large) = (Vec::new(), Vec::new());
        for i in 0..self.maps.len() {
            let map = &self.maps[i];
            let is_large = map.shows == Shows::Enlarged;
            let key = self.key_plan(inputs, map);
            let own = strip::own(inputs, map, &self.drawn[i], key, i == 0);
            let more = (!is_large && rests.is_empty()).then_some((&*shared, &mut at_shared));
            let (groups, cursor) = beside(&map.layout, &own, more);
            if cursor.content < own.len() {
                rests.push((own, cursor));
            }
            let groups = self.map_groups(i, groups);
            if is_large { &mut large } else { &mut main }.push((i, groups));
        }
        let lists = lists(&self.maps[0].layout, rests, (&shared, at_shared));
        self.numbered(inputs, main, lists, large)
    }

    fn map_groups(&mut self, i: usize, strip: Vec<Group>) -> Vec<Group> {
        let plan = &mut self.drawn[i].plan;
        let fixed = std::mem::take(&mut plan.fixed);
        let (leaders, tags) = tags::draw(&plan.tags, fixed, &self.placements[i]);
        let mut groups = std::mem::take(&mut plan.groups);
        groups.push(leaders);
        groups.push(tags);
        groups.extend(strip);
        groups
    }

    fn numbered(
        &self,
        inputs: &Inputs,
        main: Vec<(usize, Vec<Group>)>,
        lists: Vec<Vec<Group>>,
        large: Vec<(usize, Vec<Group>)>,
    ) -> Vec<Sheet> {
        let of_large = large.len();
        let mut raw: Vec<Raw> = Vec::new();
        let name = |i: usize| {
            if i == 0 {
                String::new()
            } else {
                format!("-{}", i + 1)
            }
        };
        for (i, groups) in main {
            let map = &self.maps[i];
            let title = "REPAIR MAP";
            let (name, number) = (format!("crew-map{}", name(i)), map.number.clone());
            raw.push(Raw {
                name,
                number,
                title,
                layout: &map.layout,
                map: true,
                groups,
            });
        }
        for groups in lists {
            let i = raw.len();
            let (name, number) = (format!("crew-map{}", name(i)), format!("S-{}", 101 + i));
            let layout = &self.maps[0].layout;
            raw.push(Raw {
                name,
                number,
                title: "SCHEDULES",
                layout,
                map: false,
                groups,
            });
        }
        for (n, (i, groups)) in large.into_iter().enumerate() {
            let map = &self.maps[i];
            let title = "ENLARGED PLAN";
            let (name, number) = (format!("crew-enlarged{}", name(n)), map.number.clone());
            raw.push(Raw {
                name,
                number,
                title,
                layout: &map.layout,
                map: true,
                groups,
            });
        }
        let ground = Ground::new(self.maps[0].layout.paper);
        let pages = page::all(inputs, &ground);
        let n = raw.len() + pages.len();
        let large = raw.split_off(raw.len() - of_large);
        let put = |(i, raw): (usize, Raw)| finish::finish(inputs, raw, (i + 1, n));
        let mut out: Vec<Sheet> = raw.into_iter().enumerate().map(put).collect();
        for page in pages {
            let at = (out.len(), n);
            out.push(page.finish(inputs, &ground, at));
        }
        let before = out.len();
        out.extend(
            large
                .into_iter()
                .enumerate()
                .map(|(i, raw)| put((before + i, raw))),
        );
        out
    }
}

/// The maps of a set with their numbers, enlarged plans last.
fn maps(inputs: &Inputs, set: &Set, enlarged: &[Enlarged]) -> Vec<Map> {
    let floor = inputs.slab.outline.path.bounds();
    let large = |i: usize| format!("S-{}", 401 + i);
    let mut out = Vec::new();
    for (i, layout) in set.layouts.iter().enumerate() {
        let window = set.grid.as_ref().map(|g| g.windows[i].rect);
        let own = window.unwrap_or(floor);
        let framed = enlarged.iter().enumerate().filter_map(|(n, e)| {
            let part = e.window.intersect(own);
            (!part.is_zero_area()).then(|| (part, large(n)))
        });
        out.push(Map {
            shows: window.map_or(Shows::Whole, |_| Shows::Window(i)),
            window: own,
            layout: layout.clone(),
            number: format!("S-{}", 101 + i),
            frames: framed.collect(),
        });
    }
    out.extend(enlarged.iter().enumerate().map(|(n, e)| Map {
        shows: Shows::Enlarged,
        window: e.window,
        layout: e.layout.clone(),
        number: large(n),
        frames: Vec::new(),
    }));
    out
}

/// Fills the strip of a map: what belongs to it, then what still wants a place.
fn beside(
    layout: &Layout,
    own: &[Box<dyn Content>],
    more: Option<(&[Box<dyn Content>], &mut Cursor)>,
) -> (Vec<Group>, Cursor) {
    let mut columns = layout.columns.clone();
    let mut cursor = Cursor::default();
    columns.reverse();
    let mut groups = flow::fill(own, &mut cursor, &mut columns);
    columns.reverse();
    if let Some((shared, at)) = more.filter(|_| cursor.content >= own.len()) {
        groups.extend(flow::fill(shared, at, &mut columns));
    }
    (groups, cursor)
}

/// Sheets of schedules with everything that found no place beside a map.
fn lists(
    layout: &Layout,
    mut rests: Vec<(Vec<Box<dyn Content>>, Cursor)>,
    (shared, mut at): (&[Box<dyn Content>], Cursor),
) -> Vec<Vec<Group>> {
    let mut out = Vec::new();
    let open = |rests: &[(Vec<Box<dyn Content>>, Cursor)], at: &Cursor| {
        rests.iter().any(|(own, c)| c.content < own.len()) || at.content < shared.len()
    };
    while open(&rests, &at) && out.len() < MOST_SHEETS {
        let mut columns = layout.text_columns();
        let mut groups = Vec::new();
        for (own, cursor) in &mut rests {
            groups.extend(flow::fill(own, cursor, &mut columns));
        }
        groups.extend(flow::fill(shared, &mut at, &mut columns));
        out.push(groups);
    }
    out
}
