//! The `price:` part.

use super::Pass;
use crate::form::Fields;
use crate::quantity::read;
use crate::sketch::{AgreedPrice, Alternate, JointTreatment, KindTreatments, PriceNotes, UnitKind};
use crate::text::excerpt;
use crate::yaml::Node;

const KEYS: [&str; 5] = ["travel", "trips", "tax", "alternates", "unit_prices"];
/// Largest floor that is added without a sketch, m²: it would be a sketch of its own.
const MOST_AREA_M2: f64 = 100_000.0;
/// Most trips that are believed.
const MOST_TRIPS: usize = 1000;

impl Pass<'_> {
    /// Reads the `price:` part of a sketch.
    pub(super) fn price(&mut self, sketch: &Fields) -> PriceNotes {
        let node = sketch.get("price");
        let Some(fields) = node.and_then(|node| self.reader.fields(node, "the price", &KEYS))
        else {
            return PriceNotes::default();
        };
        let trips = self.optional(&fields, "trips", |pass, node| {
            let trips = pass.reader.count(node, "`trips`")?;
            if trips.value <= MOST_TRIPS {
                return Some(trips);
            }
            let message = format!("`trips` is beyond belief: more than {MOST_TRIPS}");
            let hint = "leave it out for one trip on every day of the plan";
            pass.reader.error("beyond-belief", node.place, message, hint);
            None
        });
        PriceNotes {
            travel: self.optional(&fields, "travel", |pass, node| {
                pass.reader.quantity(node, "`travel`", "a distance", read::distance)
            }),
            trips,
            tax: self.optional(&fields, "tax", |pass, node| pass.reader.truth(node, "tax")),
            alternates: self.items(&fields, "alternates", Self::alternate),
            unit_prices: self.unit_prices(&fields),
        }
    }

    fn alternate(&mut self, node: &Node) -> Option<Alternate> {
        let keys = ["name", "system", "mitigation", "treatments", "area"];
        let fields = self.reader.fields(node, "an alternate", &keys)?;
        self.reader.required(&fields, "name", "name: quartz instead of flake")?;
        let name = self.reader.text(&fields, "name")?;
        if keys[1..].iter().all(|key| fields.get(key).is_none()) {
            if !self.reader.has_misspelt(&fields, &keys[1..]) {
                let place = self.reader.first_line(fields.place);
                let message = format!("alternate `{}` changes nothing", excerpt(&name.value));
                let hint = "add system: quartz, or treatments: {isolation: fill}, or area: 120 ft2";
                self.reader.error("missing-key", place, message, hint);
            }
            return None;
        }
        let treatments = self.optional(&fields, "treatments", Self::kind_treatments);
        Some(Alternate {
            name,
            system: self.reader.text(&fields, "system"),
            mitigation: self
                .optional(&fields, "mitigation", |pass, node| pass.reader.truth(node, "mitigation"))
                .unwrap_or(false),
            treatments: treatments.unwrap_or_default(),
            area_m2: self.optional(&fields, "area", |pass, node| {
                let units = pass.reader.units;
                let read = |text: &str| read::area(text, units);
                let area = pass.reader.quantity(node, "`area`", "an area", read)?;
                if area.value <= MOST_AREA_M2 {
                    return Some(area);
                }
                let message = "`area` is beyond belief".into();
                let hint = "write it like 120 ft2 or 11 m2; a large floor gets a sketch of its own";
                pass.reader.error("beyond-belief", node.place, message, hint);
                None
            }),
        })
    }

    fn kind_treatments(&mut self, node: &Node) -> Option<KindTreatments> {
        let keys = ["control", "construction", "isolation"];
        let fields = self.reader.fields(node, "the treatments", &keys)?;
        let mut read = |key: &str| {
            self.optional(&fields, key, |pass, node| {
                pass.reader.word(node, "the treatment", JointTreatment::WORDS)
            })
            .map(|word| word.value)
        };
        Some(KindTreatments {
            control: read("control"),
            construction: read("construction"),
            isolation: read("isolation"),
        })
    }

    fn unit_prices(&mut self, price: &Fields) -> Vec<AgreedPrice> {
        let Some(node) = price.get("unit_prices") else {
            return Vec::new();
        };
        let keys = UnitKind::ALL.map(UnitKind::key);
        let Some(fields) = self.reader.fields(node, "the unit prices", &keys) else {
            return Vec::new();
        };
        let mut agreed = Vec::new();
        for kind in UnitKind::ALL {
            let amount = self.optional(&fields, kind.key(), |pass, node| {
                let what = format!("the price of `{}`", kind.key());
                pass.reader.quantity(node, &what, "a price", read::money)
            });
            agreed.extend(amount.map(|amount| AgreedPrice { kind, amount }));
        }
        agreed
    }
}
