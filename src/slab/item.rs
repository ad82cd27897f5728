//! One walk over everything that is recorded on a floor.

use std::collections::{BTreeMap, BTreeSet};

use kurbo::Point;

use super::{
    Blemish, Crack, Delamination, Joint, Lippage, MoistureTest, Shape, Slab, Spall, Tier, Zone,
};
use crate::geometry::path::Path;
use crate::record::Kind;
use crate::sketch::Span;

/// An item of a floor. Whatever must treat its kinds differently has a `match` with an arm for each.
#[derive(Clone, Copy, Debug)]
pub enum Item<'a> {
    /// A line along which the slab was parted on purpose.
    Joint(&'a Joint),
    /// A line along which the concrete broke.
    Crack(&'a Crack),
    /// Missing concrete.
    Spall(&'a Spall),
    /// A layer of the slab that has come loose.
    Delamination(&'a Delamination),
    /// An area that changes the preparation.
    Blemish(&'a Blemish),
    /// A step between panels.
    Lippage(&'a Lippage),
    /// Slab that is not there, or is built over.
    KeepOut(&'a Zone),
    /// Slab outside the job.
    Uncoated(&'a Zone),
    /// A place where moisture was measured.
    Moisture(&'a MoistureTest),
    /// A part that lies higher or lower than the rest.
    Tier(&'a Tier),
}

/// Where an item lies, as a line, an area or a point.
#[derive(Clone, Copy, Debug)]
pub enum Place<'a> {
    /// Along a path.
    Line(&'a Path),
    /// In a shape.
    Area(&'a Shape),
    /// At a point.
    Point(Point),
}

impl<'a> Item<'a> {
    /// The kind whose list in the sketch it comes from.
    #[must_use]
    pub const fn kind(self) -> Kind {
        match self {
            Self::Joint(_) => Kind::Joint,
            Self::Crack(_) => Kind::Crack,
            Self::Spall(_) => Kind::Spall,
            Self::Delamination(_) => Kind::Delamination,
            Self::Blemish(_) => Kind::Blemish,
            Self::Lippage(_) => Kind::Lippage,
            Self::KeepOut(_) => Kind::KeepOut,
            Self::Uncoated(_) => Kind::Uncoated,
            Self::Moisture(_) => Kind::Moisture,
            Self::Tier(_) => Kind::Tier,
        }
    }

    /// Its id, and where the sketch has it.
    const fn named(self) -> (&'a String, Span) {
        match self {
            Self::Joint(joint) => (&joint.id, joint.span),
            Self::Crack(crack) => (&crack.id, crack.span),
            Self::Spall(spall) => (&spall.id, spall.span),
            Self::Delamination(loose) => (&loose.id, loose.span),
            Self::Blemish(blemish) => (&blemish.id, blemish.span),
            Self::Lippage(step) => (&step.id, step.span),
            Self::KeepOut(zone) | Self::Uncoated(zone) => (&zone.id, zone.span),
            Self::Moisture(test) => (&test.id, test.span),
            Self::Tier(tier) => (&tier.id, tier.span),
        }
    }

    /// As written or given in the sketch: `J1`.
    #[must_use]
    pub const fn id(self) -> &'a str {
        self.named().0.as_str()
    }

    /// Where the sketch has its id.
    #[must_use]
    pub const fn span(self) -> Span {
        self.named().1
    }

    /// The note that papers give with it; those of zones and tests stay in the sketch.
    #[must_use]
    pub fn note(self) -> Option<&'a str> {
        match self {
            Self::Joint(joint) => joint.note.as_deref(),
            Self::Crack(crack) => crack.note.as_deref(),
            Self::Spall(spall) => spall.note.as_deref(),
            Self::Delamination(loose) => loose.note.as_deref(),
            Self::Blemish(blemish) => blemish.note.as_deref(),
            Self::Lippage(step) => step.note.as_deref(),
            Self::Tier(tier) => tier.note.as_deref(),
            Self::KeepOut(_) | Self::Uncoated(_) | Self::Moisture(_) => None,
        }
    }

    /// Where it lies on the floor.
    #[must_use]
    pub const fn place(self) -> Place<'a> {
        match self {
            Self::Joint(joint) => Place::Line(&joint.path),
            Self::Crack(crack) => Place::Line(&crack.path),
            Self::Spall(spall) => Place::Area(&spall.shape),
            Self::Delamination(loose) => Place::Area(&loose.shape),
            Self::Blemish(blemish) => Place::Area(&blemish.shape),
            Self::Lippage(step) => Place::Line(&step.path),
            Self::KeepOut(zone) | Self::Uncoated(zone) => Place::Area(&zone.shape),
            Self::Moisture(test) => Place::Point(test.at),
            Self::Tier(tier) => Place::Area(&tier.shape),
        }
    }
}

impl Slab {
    /// The items of a kind, in file order.
    #[must_use]
    pub fn of(&self, kind: Kind) -> Vec<Item<'_>> {
        match kind {
            Kind::Joint => self.joints.iter().map(Item::Joint).collect(),
            Kind::Crack => self.cracks.iter().map(Item::Crack).collect(),
            Kind::Spall => self.spalls.iter().map(Item::Spall).collect(),
            Kind::Delamination => self.delaminations.iter().map(Item::Delamination).collect(),
            Kind::Blemish => self.blemishes.iter().map(Item::Blemish).collect(),
            Kind::Lippage => self.lippage.iter().map(Item::Lippage).collect(),
            Kind::KeepOut => self.keep_outs.iter().map(Item::KeepOut).collect(),
            Kind::Uncoated => self.uncoated.iter().map(Item::Uncoated).collect(),
            Kind::Moisture => self.moisture.iter().map(Item::Moisture).collect(),
            Kind::Tier => self.tiers.iter().map(Item::Tier).collect(),
        }
    }

    /// All items, kind by kind in the order of `Kind::ALL`, each in file order.
    pub fn items(&self) -> impl Iterator<Item = Item<'_>> {
        Kind::ALL.iter().flat_map(|&kind| self.of(kind))
    }

    /// All items by their ids.
    #[must_use]
    pub fn by_id(&self) -> BTreeMap<&str, Item<'_>> {
        self.items().map(|item| (item.id(), item)).collect()
    }

    /// The ids of all items.
    #[must_use]
    pub fn ids(&self) -> BTreeSet<&str> {
        self.items().map(Item::id).collect()
    }
}
