//! What the slab holds of places: its outline, zones, tiers, panels, blemishes and tests.

use super::{Explanations, Say};
use crate::quantity::write;
use crate::slab::{Blemish, MoistureTest, Panel, Tier, Zone};

impl Explanations<'_> {
    pub(super) fn closure(&self) -> Vec<String> {
        let (Some(closure), say) = (self.floor.takeoff.closure, self.say) else {
            return Vec::new();
        };
        let mut lines = vec![
            format!(
                "The walk of {} comes back {} east and {} north of its start.",
                say.length(closure.walked_m),
                say.small(closure.east_m),
                say.small(closure.north_m)
            ),
            format!(
                "Misclosure = the square root of ({})² + ({})² = {}.",
                say.small(closure.east_m),
                say.small(closure.north_m),
                say.small(closure.misclosure_m)
            ),
        ];
        if closure.ratio() > 0.0 {
            lines.push(format!(
                "Ratio = {} / {} = 1 in {}.",
                say.small(closure.misclosure_m),
                say.length(closure.walked_m),
                write::grouped(1.0 / closure.ratio(), 0)
            ));
        }
        lines.push(if closure.shared_out {
            "It is shared out along the runs in proportion to their length.".to_owned()
        } else {
            "That is too little to be shared out along the runs.".to_owned()
        });
        lines
    }

    pub(super) fn keep_out(&self, zone: &Zone) -> Vec<String> {
        let what = zone.what.as_deref().unwrap_or("keep-out");
        let flush = if zone.flush {
            "It is flush: machines run over it."
        } else {
            "It stands up: the saw and the grinder keep off it."
        };
        vec![
            format!("{} ({what}): {}.", zone.id, self.say.shape(&zone.shape, "", Say::length)),
            flush.to_owned(),
            format!(
                "All keep-outs together take {} out of the floor; overlaps count once.",
                self.say.area(self.floor.takeoff.area.keep_out_m2)
            ),
        ]
    }

    pub(super) fn uncoated(&self, zone: &Zone) -> Vec<String> {
        let what = zone.what.as_deref().unwrap_or("uncoated part");
        vec![
            format!("{} ({what}): {}.", zone.id, self.say.shape(&zone.shape, "", Say::length)),
            format!(
                "All uncoated parts together take {} out of the floor; overlaps count once.",
                self.say.area(self.floor.takeoff.area.uncoated_m2)
            ),
        ]
    }

    pub(super) fn tier(&self, tier: &Tier) -> Vec<String> {
        let (say, slab) = (self.say, &self.floor.slab);
        let what = tier.what.as_deref().unwrap_or("tier");
        let mut lines = vec![format!(
            "{} ({what}) lies {} than the main floor; {} of it are coated.",
            tier.id,
            tier.higher(slab.units),
            say.area(tier.area_m2)
        )];
        for riser in slab.risers.iter().filter(|riser| riser.tier == tier.id) {
            let is = if riser.coated { "coated" } else { "left as it is" };
            lines.push(format!(
                "Riser, {is} = {} × {} = {}.",
                say.length(riser.path.length()),
                say.small(riser.step_m),
                say.area(riser.area_m2())
            ));
        }
        lines.push(
            "Foot and head of a riser are ground by hand; the saw stops short of its foot.".into(),
        );
        lines
    }

    pub(super) fn blemish(&self, blemish: &Blemish) -> Vec<String> {
        let say = self.say;
        let shape = say.shape(&blemish.shape, "", Say::length);
        vec![
            format!("{} ({}): {shape}.", blemish.id, blemish.what.word()),
            format!("Of it on the coated floor: {}.", say.area(blemish.area_m2)),
        ]
    }

    pub(super) fn panel(&self, panel: &Panel) -> Vec<String> {
        let say = self.say;
        let mut lines = vec![
            format!("{} holds {} of floor.", panel.id, say.area(panel.area_m2)),
            format!(
                "Its smallest rectangle is {} × {}: aspect = {} / {} = {}.",
                say.length(panel.length_m),
                say.length(panel.width_m),
                say.length(panel.length_m),
                say.length(panel.width_m),
                write::trimmed(panel.aspect(), 3)
            ),
        ];
        if !panel.joints.is_empty() {
            lines.push(format!("Bounded by {}.", panel.joints.join(", ")));
        }
        if !panel.items.is_empty() {
            lines.push(format!("Recorded in it: {}.", panel.items.join(", ")));
        }
        if panel.crack_m > 0.0 {
            lines.push(format!("Crack in it: {}.", say.length(panel.crack_m)));
        }
        lines
    }

    pub(super) fn moisture(&self, test: &MoistureTest) -> Vec<String> {
        let limits = &self.floor.shop.moisture.limits;
        let key = limits.key;
        let mut lines = Vec::new();
        if let Some(rh) = test.rh {
            let (read, limit) = (write::percent(rh), write::percent(limits.rh.one()));
            lines.push(format!(
            "{} reads {read} relative humidity in the slab; the limit is {limit} ({key}.rh_limit).",
            test.id
        ));
        }
        if let Some(mver) = test.mver {
            let (read, limit) = (write::trimmed(mver, 2), write::trimmed(limits.mver, 2));
            lines.push(format!(
            "{} reads {read} lb per 1000 ft² in 24 h; the limit is {limit} lb ({key}.mver_limit).",
            test.id
        ));
        }
        if lines.is_empty() {
            lines.push(format!("{} has no reading.", test.id));
        }
        lines
    }
}
