//! Areas: hand-edge zones, blemishes, delaminations, uncoated parts, keep-outs.

use crate::ink::{Group, Mark, PaperPoint};
use crate::quantity::write;
use crate::slab::{Blemish, Delamination, Form, Tier, Zone};

use super::steps::{seen, seen_runs};
use super::{Drawing, layer};
use crate::geometry::region::Region;
use crate::paper::clear::Slip;
use crate::paper::dash;
use crate::paper::draw;
use crate::paper::hatch;
use crate::paper::mm::{Box2, by};
use crate::paper::style;
use crate::paper::words;
use crate::sheet::legend::Symbol;
use crate::tags;
use crate::tags::{Outline, Tag};
use crate::takeoff::{DelaminationWork, unreached_beyond};

/// Longest words in a tag, mm; the schedule has all of them.
const TAG_WORDS: f64 = 37.0;

/// How far the zone along edges is seen beyond the wall's line, mm.
const LEAST_BAND: f64 = 1.05;

/// Hollow concrete on paper: its outline, and upright hatch in the rings that are to have it.
#[must_use]
pub fn hollow_marks(rings: &[Vec<PaperPoint>], hatched: &[Vec<PaperPoint>]) -> Vec<Mark> {
    let mut marks = vec![draw::hatch(&hatch::lines(hatched, 90.0, style::HOLLOW_SPACING))];
    for ring in rings {
        let closed: Vec<PaperPoint> = ring.iter().chain(ring.first()).copied().collect();
        marks.push(draw::lines(&dash::cut(&closed, dash::HOLLOW), style::OBJECT));
    }
    marks
}

impl Drawing<'_> {
    pub(super) fn areas(&mut self) -> Group {
        let (slab, takeoff) = (self.inputs.slab, self.inputs.takeoff);
        let mut groups = Vec::new();
        let hand_edge = self.hand_edge();
        let edge = self.view.region(&hand_edge);
        if !edge.is_empty() {
            self.used.insert(Symbol::HandEdge);
            let mut group = draw::group(
                "hand-edge",
                "hand-edge",
                vec![draw::rings(&edge, None, Some(style::HAND_EDGE_FILL))],
            );
            group.title = format!(
                "Ground by hand along edges: {}",
                write::area(takeoff.area.hand_edge_m2, slab.units)
            );
            groups.push(group);
        }
        groups.extend(slab.tiers.iter().map(|t| self.tier(t, &hand_edge)));
        groups.extend(slab.blemishes.iter().map(|b| self.blemish(b)));
        let hollow = takeoff.delaminations_of(slab);
        groups.extend(hollow.map(|(d, work)| self.delamination(d, work)));
        groups.extend(slab.uncoated.iter().map(|z| self.uncoated(z)));
        groups.extend(slab.keep_outs.iter().map(|z| self.keep_out(z)));
        layer("areas", groups)
    }

    /// The zone along edges that is ground by hand, wide enough to be seen beside the wall's line.
    fn hand_edge(&self) -> Region {
        let (shop, takeoff) = (self.inputs.shop, self.inputs.takeoff);
        let least_m = self.view.floor_length(style::OUTLINE.width / 2.0 + LEAST_BAND);
        if takeoff.hand_edge.is_empty() || shop.grinding.edge_gap.m() >= least_m {
            return takeoff.hand_edge.clone();
        }
        let wide = unreached_beyond(self.whole(), shop, least_m);
        match self.part {
            Some(part) => wide.intersection(&Region::rectangle(part.window)),
            None => wide,
        }
    }

    fn closed(points: &[PaperPoint]) -> Vec<PaperPoint> {
        let mut closed = points.to_vec();
        closed.extend(points.first().copied());
        closed
    }

    /// Everything that stands on the slab.
    pub(super) fn standing(&self) -> Region {
        Region::union_all(
            self.inputs.slab.keep_outs.iter().map(|k| k.shape.region.clone()).collect(),
        )
    }

    /// The part of an area that its tag points at: what nothing stands on, or all of it.
    fn open_part(&self, area: &Region) -> Vec<Vec<PaperPoint>> {
        let open = self.view.region(&area.difference(&self.standing()));
        if open.is_empty() { self.view.region(area) } else { open }
    }

    fn blemish(&mut self, blemish: &Blemish) -> Group {
        self.used.insert(Symbol::Blemish);
        let rings = seen_runs(blemish.shape.rings.iter().map(|r| self.view.path(r)).collect());
        let mut marks = Vec::new();
        let region = self.view.region(&blemish.shape.region);
        if !hatch::too_narrow(&region, style::BLEMISH_SPACING) {
            marks.push(draw::hatch(&hatch::dashes(&region, style::BLEMISH_SPACING, 1.6, 2.6)));
        }
        for ring in &rings {
            self.clear.add_soft(ring);
            marks.push(draw::lines(&dash::cut(ring, dash::BLEMISH), style::OBJECT));
        }
        let name = blemish.what.name();
        let mut group = draw::group(&*blemish.id, "blemish", marks);
        group.title =
            format!("{}: {name}, {}", blemish.id, write::area(blemish.area_m2, self.units()));
        let region = seen_runs(self.open_part(&blemish.shape.region));
        self.tags.push(Tag::area(
            &blemish.id,
            format!("{} {}", blemish.id, name.to_uppercase()),
            Outline::Hexagon,
            &region,
        ));
        group
    }

    /// Hollow concrete. What a patch mends has its outline alone: hatch, tag and row are the patch's.
    fn delamination(&mut self, loose: &Delamination, work: &DelaminationWork) -> Group {
        self.used.insert(Symbol::Hollow);
        let rings = seen_runs(loose.shape.rings.iter().map(|r| self.view.path(r)).collect());
        let open = seen_runs(self.open_part(&loose.shape.region));
        for ring in &rings {
            self.clear.add_soft(ring);
        }
        let plain = work.in_patch() || hatch::too_narrow(&open, style::HOLLOW_SPACING);
        let marks = hollow_marks(&rings, if plain { &[] } else { &open });
        let mut group = draw::group(&*loose.id, "delamination", marks);
        group.title = format!(
            "{}: delamination, {}, {} deep",
            loose.id,
            write::area(loose.area_m2, self.units()),
            write::small(work.depth_m, self.units())
        );
        if !work.in_patch() {
            let what = work.repair.treatment().word().to_uppercase();
            let text = format!("{} {what}", loose.id);
            self.tags.push(Tag::area(&loose.id, text, Outline::Slanted, &open));
        }
        group
    }

    /// A part at another height: its riser, and its height in it. The zone ground by hand, `under` it, stays seen.
    pub(super) fn tier(&mut self, tier: &Tier, under: &Region) -> Group {
        self.used.insert(Symbol::Riser);
        let slab = self.inputs.slab;
        let ground = self.view.region(&tier.region);
        let mut marks = vec![draw::rings(&ground, None, Some(crate::ink::WHITE))];
        let edge = self.view.region(&tier.region.intersection(under));
        if !edge.is_empty() {
            marks.push(draw::rings(&edge, None, Some(style::HAND_EDGE_FILL)));
        }
        for riser in slab.risers.iter().filter(|riser| riser.tier == tier.id) {
            let points = self.view.path(&riser.path);
            self.clear.add_soft(&points);
            marks.push(draw::lines(&[points], style::RISER));
        }
        let rise = tier.rise(self.units());
        let mut group = draw::group(&*tier.id, "tier", marks);
        group.title = format!(
            "{}: {} than the main floor, {}",
            tier.id,
            tier.higher(self.units()),
            words::clean(tier.what.as_deref().unwrap_or(""))
        );
        let region = self.open_part(&tier.region);
        let text = format!("{} {}", tier.id, rise.to_uppercase());
        let tag = Tag::area(&tier.id, text, Outline::Octagon, &region);
        self.own_tags.push((tag, region));
        group
    }

    pub(super) fn uncoated(&mut self, zone: &Zone) -> Group {
        self.used.insert(Symbol::Uncoated);
        let region = self.view.region(&zone.shape.region);
        let mut marks = vec![draw::rings(&region, None, Some(crate::ink::WHITE))];
        marks.push(draw::hatch(&hatch::lines(&region, 135.0, style::UNCOATED_SPACING)));
        for ring in &region {
            self.clear.add_soft(&Self::closed(ring));
            marks.push(draw::lines(&dash::cut(&Self::closed(ring), dash::OPENING), style::OBJECT));
        }
        let mut group = draw::group(&*zone.id, "uncoated", marks);
        group.title = format!(
            "{}: not coated, {}",
            zone.id,
            words::clean(zone.what.as_deref().unwrap_or(""))
        );
        let region = self.open_part(&zone.shape.region);
        self.tags.push(Tag::area(
            &zone.id,
            format!("{} NOT COATED", zone.id),
            Outline::Octagon,
            &region,
        ));
        group
    }

    pub(super) fn keep_out(&mut self, zone: &Zone) -> Group {
        self.used.insert(if zone.flush { Symbol::Flush } else { Symbol::KeepOut });
        let rings = zone.shape.rings.iter().map(|r| seen(self.view.path(r)));
        let rings: Vec<_> = rings.collect();
        let fill = if zone.flush { crate::ink::WHITE } else { style::OBJECT_FILL };
        let mut marks = vec![draw::rings(&rings, Some(style::OBJECT), Some(fill))];
        if zone.flush {
            let center = Box2::of(&rings.iter().flatten().copied().collect::<Vec<_>>()).center();
            // That of a trench that bends may lie beside it.
            let middle = Some(center)
                .filter(|c| hatch::contains(&rings, *c))
                .or_else(|| Some(self.view.point(zone.shape.region.middle()?)));
            for stroke in middle.map_or_else(Vec::new, |m| flush_cross(&rings, m)) {
                self.clear.add_soft(&stroke);
                marks.push(draw::line(stroke[0], stroke[1], style::FINE));
            }
        }
        for ring in &rings {
            self.clear.add_line(&Self::closed(ring));
        }
        let region: Vec<_> = self.view.region(&zone.shape.region);
        let region: Vec<_> = region.into_iter().map(seen).collect();
        let what = words::clean(zone.what.as_deref().unwrap_or("keep-out"));
        let mut group = draw::group(
            &*zone.id,
            if zone.flush { "keep-out flush" } else { "keep-out column" },
            marks,
        );
        group.title = format!("{}: {what}{}", zone.id, form_words(&zone.shape.form, self.units()));
        let text = format!(
            "{} {}",
            zone.id,
            words::first_words(&what.to_uppercase(), style::strong(), TAG_WORDS)
        )
        .trim_end()
        .to_owned();
        self.solids.extend(region.iter().cloned());
        let tag = Tag::area(&zone.id, text, Outline::Octagon, &region);
        self.own_tags.push((tag, region));
        group
    }

    /// Tags of things that stand on the slab go inside them where they fit.
    pub(super) fn tags_inside(&mut self) {
        for (tag, region) in std::mem::take(&mut self.own_tags) {
            let free = tag
                .inside(&region)
                .filter(|(_, area)| self.clear.is_free(&Slip::upright(area), style::TAG_CLEAR));
            match free {
                Some((text, area)) => {
                    self.clear.add(Slip::upright(&area));
                    self.fixed.push(tags::tag_group(&tag, &text, &area));
                    self.fixed_areas.push(area);
                }
                None => self.tags.push(tag),
            }
        }
    }
}

fn form_words(form: &Form, units: crate::quantity::Units) -> String {
    match form {
        Form::Box { width, height } => {
            format!(", {} × {}", write::length(*width, units), write::length(*height, units))
        }
        Form::Circle { diameter, .. } => format!(", {} across", write::length(*diameter, units)),
        Form::Polygon | Form::Band { .. } => String::new(),
    }
}

/// Two strokes through a drain or a cover, as long as it is there: the machine runs over it.
fn flush_cross(rings: &[Vec<PaperPoint>], middle: PaperPoint) -> Vec<Vec<PaperPoint>> {
    let directions = [by(1.0, 0.0), by(0.0, 1.0)].into_iter();
    let strokes = directions.filter_map(|along| hatch::chord(rings, middle, along));
    strokes.collect()
}
