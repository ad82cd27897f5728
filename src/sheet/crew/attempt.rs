//! All maps of a set, drawn and tagged, and the sheets that are made of them.

use std::collections::BTreeSet;

use kurbo::Rect;

use crate::ink::{Group, Mark, Sheet};

use super::finish::{self, Raw};
use super::left_off::LeftOff;
use super::map::{Drawn, Map, STRIP, Shows};
use super::tagged::Tagged;
use super::{remarks, strip, tagging};
use crate::parallel;
use crate::sheet::Inputs;
use crate::sheet::census::Spot;
use crate::sheet::days;
use crate::sheet::enlarged;
use crate::sheet::enlarged::Enlarged;
use crate::sheet::filling;
use crate::sheet::flow;
use crate::sheet::flow::{Content, Cursor};
use crate::sheet::key_plan::KeyPlan;
use crate::sheet::layout;
use crate::sheet::layout::Layout;
use crate::sheet::legend::Symbol;
use crate::sheet::page;
use crate::sheet::page::{Ground, Names, Page, Section};
use crate::sheet::pouring;
use crate::sheet::set::Set;
use crate::tags;
use crate::tags::Tag;
use crate::tags::place::Placement;

/// All maps of a set, drawn and tagged.
pub struct Attempt {
    /// The maps, enlarged plans last.
    pub maps: Vec<Map>,
    drawn: Vec<Drawn>,
    /// Where the tags of each map went.
    pub placements: Vec<Placement>,
    enlarged: Vec<Enlarged>,
}

impl Attempt {
    /// Draws the maps of a set and places their tags; enlarged plans are filled no more than `planned`.
    pub fn of(inputs: &Inputs, set: &Set, spots: &[Spot], planned: f64) -> Self {
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
        let mut drawn =
            parallel::each(maps.len(), |i| maps[i].draw(inputs, set.grid.as_ref(), &numbers));
        tagging::share(&maps, &mut drawn, spots, set.strips);
        let placed = parallel::each(maps.len(), |i| Tagged::of(&drawn[i].plan));
        let mut placements = Vec::new();
        for (d, tagged) in drawn.iter_mut().zip(placed) {
            d.plan.tags = tagged.tags;
            d.plan.without(&tagged.given_way);
            d.plan.number_rest(&tagged.placement);
            placements.push(tagged.placement);
        }
        Self { maps, drawn, placements, enlarged }
    }

    /// Ids of the tags that found no place on some map.
    pub fn unplaced(&self) -> Vec<String> {
        let all = self.placements.iter().flat_map(|p| &p.unplaced);
        let mut ids: Vec<String> = all.map(|u| u.id.clone()).collect();
        ids.sort_by_cached_key(|id| crate::text::id_key(id));
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
        ids.filter_map(|id| all().find(|t| t.id == id).cloned()).collect()
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
    pub fn sheets(mut self, inputs: &Inputs, set: &Set) -> Vec<Sheet> {
        let division = strip::division(inputs, set, &self.enlarged);
        let missing = remarks::missing(&self.drawn);
        let mut shared = strip::shared(inputs, &missing, division);
        let tags = self.without_place();
        if !tags.is_empty() {
            shared.insert(0, Box::new(LeftOff::of(tags, inputs)));
        }
        let shared = flow::once(shared);
        let mut at_shared = Cursor::default();
        let mut rests: Vec<(Vec<Box<dyn Content>>, Cursor)> = Vec::new();
        let (mut main, mut large) = (Vec::new(), Vec::new());
        for i in 0..self.maps.len() {
            let map = &self.maps[i];
            let is_large = map.shows == Shows::Enlarged;
            let key = match set.strips && !is_large {
                true => None,
                false => self.key_plan(inputs, map),
            };
            let used = match i {
                0 => self.used(),
                _ => self.drawn[i].plan.used.clone(),
            };
            let own = flow::once(strip::own(inputs, map, used, key, i == 0));
            let more = (!is_large && rests.is_empty()).then_some((&*shared, &mut at_shared));
            let (groups, cursor) = beside(&map.layout, &own, more);
            // A key plan or a legend says nothing away from its map; the legend of the first explains all of them.
            if i == 0 && cursor.content < own.len() {
                rests.push((own, cursor));
            }
            let mut groups = self.map_groups(i, groups);
            if set.strips && !is_large {
                groups.push(self.maps[i].strip_name());
            }
            if is_large { &mut large } else { &mut main }.push((i, groups));
        }
        rests.push((shared, at_shared));
        let strips = if set.strips { layout::of_strips(&set.layouts) } else { None };
        if strips.is_some() {
            main = vec![(0, on_one_sheet(main))];
        }
        self.numbered(inputs, (main, strips), rests, large)
    }

    /// Symbols on all maps.
    fn used(&self) -> BTreeSet<Symbol> {
        let used = self.drawn.iter().flat_map(|d| &d.plan.used);
        used.copied().collect()
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
        (main, strips): (Vec<(usize, Vec<Group>)>, Option<Layout>),
        rests: Vec<(Vec<Box<dyn Content>>, Cursor)>,
        large: Vec<(usize, Vec<Group>)>,
    ) -> Vec<Sheet> {
        let mut named = Names::default();
        let mut of_map = |name, title, (i, groups): (usize, Vec<Group>)| {
            let map = &self.maps[i];
            let strips = strips.as_ref().filter(|_| map.shows != Shows::Enlarged);
            Raw {
                name: named.next(name),
                number: strips.map_or_else(|| map.number.clone(), |_| page::number(0)),
                title,
                layout: strips.unwrap_or(&map.layout),
                groups,
            }
        };
        let main: Vec<Raw> =
            main.into_iter().map(|drawn| of_map("crew-map", "REPAIR MAP", drawn)).collect();
        let large: Vec<Raw> = large
            .into_iter()
            .map(|drawn| of_map("crew-enlarged", "ENLARGED PLAN", drawn))
            .collect();
        let ground = Ground::new(self.maps[0].layout.paper);
        let pages = self.pages(inputs, &ground, rests, (main.len(), &mut named));
        let n = main.len() + pages.len() + large.len();
        let put = |(i, raw): (usize, Raw)| finish::finish(inputs, raw, (i + 1, n));
        let mut out: Vec<Sheet> = main.into_iter().enumerate().map(put).collect();
        for page in pages {
            let at = (out.len(), n);
            out.push(page.finish(inputs, &ground, at));
        }
        let before = out.len();
        out.extend(large.into_iter().enumerate().map(|(i, raw)| put((before + i, raw))));
        out
    }
}

impl Attempt {
    /// What follows the maps: what found no place beside them, schedules, pouring, filling, days.
    fn pages(
        &self,
        inputs: &Inputs,
        ground: &Ground,
        rests: Vec<(Vec<Box<dyn Content>>, Cursor)>,
        (before, named): (usize, &mut Names),
    ) -> Vec<Page> {
        let about = finish::about(inputs);
        let rest = |(contents, cursor)| Section {
            name: "crew-map",
            title: "SCHEDULES".into(),
            about: about.clone(),
            least: page::TEXT,
            reminder: None,
            contents,
            cursor,
        };
        let sections: Vec<Section<'_>> = rests.into_iter().map(rest).collect();
        let mut pages = Vec::new();
        let mut works = Vec::new();
        // Plans that fill sheets follow the maps, whose numbers are known; all that flows comes behind them.
        let mut known = self.used();
        let poured = pouring::symbols(inputs);
        if let Some(filling) = filling::filling(inputs, ground, before, (&known, &poured), named) {
            pages.extend(filling.sheets);
            works.push(filling.section);
            known.extend(poured.into_iter().filter(|_| filling.explains_behind));
        }
        works.extend(pouring::sections(inputs, ground, &known));
        let works = page::joined(works);
        let (bars, notes) =
            days::sections(inputs).map_or((None, None), |[b, n]| (Some(b), Some(n)));
        // What holds for all days stands before the filling, before the days or behind them: where it takes the fewest sheets.
        let flow = |at: usize| {
            let notes_at = |n| notes.iter().filter(move |_| n == at);
            let all = sections.iter().chain(notes_at(0)).chain(&works).chain(notes_at(1));
            let all = all.chain(&bars).chain(notes_at(2)).map(Section::borrowed);
            let mut named = named.clone();
            let pages = page::flowed(ground, all.collect(), &mut named);
            (pages, named)
        };
        let (flowed, names) = [1, 0, 2]
            .map(flow)
            .into_iter()
            .min_by_key(|(pages, _)| pages.len())
            .unwrap_or_default();
        *named = names;
        pages.extend(flowed);
        pages
    }
}

/// The maps of a set with their numbers, enlarged plans last.
fn maps(inputs: &Inputs, set: &Set, enlarged: &[Enlarged]) -> Vec<Map> {
    let floor = inputs.slab.outline.path.bounds();
    let large = page::enlarged_number;
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
            number: if set.strips { format!("{STRIP} {}", i + 1) } else { page::number(i) },
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

/// The groups of several maps on one sheet. Those with the same id become one, which keeps what all maps draw of it.
fn on_one_sheet(maps: Vec<(usize, Vec<Group>)>) -> Vec<Group> {
    let mut out: Vec<Group> = Vec::new();
    for (_, groups) in maps {
        join(&mut out, groups);
    }
    out
}

fn join(known: &mut Vec<Group>, more: Vec<Group>) {
    for mut group in more {
        let same = |k: &&mut Group| !group.id.is_empty() && k.id == group.id;
        let Some(into) = known.iter_mut().find(same) else {
            known.push(group);
            continue;
        };
        let (mut groups, mut marks) = (Vec::new(), Vec::new());
        for mark in into.marks.drain(..).chain(std::mem::take(&mut group.marks)) {
            match mark {
                Mark::Group(inner) => join(&mut groups, vec![inner]),
                other => marks.push(other),
            }
        }
        into.marks = marks;
        into.marks.extend(groups.into_iter().map(Mark::Group));
    }
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
