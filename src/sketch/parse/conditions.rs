//! The `tests:` part: moisture, hardness, air and slab temperature.

use super::Pass;
use crate::form::Fields;
use crate::record::{Kind, MOST_MVER};
use crate::sketch::{Forecast, HardnessTest, MoistureTest, Tests};
use crate::yaml::Node;

const KEYS: [&str; 5] = ["moisture", "hardness", "air", "slab_temperature", "forecast"];
/// Mohs' scale runs from talc to diamond.
pub(crate) const MOHS: (f64, f64) = (1.0, 10.0);

/// Concrete is seldom drier, relative humidity as a share of one (common practice: a probe that reads less is faulty).
const USUAL_RH: f64 = 0.2;
/// Air is seldom drier, as a share of one (common practice).
const USUAL_HUMIDITY: f64 = 0.05;

impl Pass<'_> {
    /// Reads the `tests:` part of a sketch.
    pub(super) fn tests(&mut self, sketch: &Fields) -> Tests {
        let node = sketch.get("tests");
        let Some(fields) = node.and_then(|node| self.reader.fields(node, "the tests", &KEYS))
        else {
            return Tests::default();
        };
        let moisture = self
            .several(&fields, Kind::Moisture.key(), |pass, node| Some(vec![pass.moisture(node)?]));
        let hardness = self.items(&fields, "hardness", Self::hardness);
        let air = fields
            .get("air")
            .and_then(|node| self.reader.fields(node, "the air", &["temperature", "humidity"]));
        let air_temperature = air.and_then(|air| {
            let node = air.get("temperature")?;
            self.reader.temperature(node, "the temperature of the air")
        });
        let air_humidity = air.and_then(|air| {
            let node = air.get("humidity")?;
            self.reader.percent_from(node, "the humidity", USUAL_HUMIDITY)
        });
        let slab_temperature = self.optional(&fields, "slab_temperature", |pass, node| {
            pass.reader.temperature(node, "the temperature of the slab")
        });
        let forecast = self.items(&fields, "forecast", Self::forecast);
        Tests { forecast, moisture, hardness, air_temperature, air_humidity, slab_temperature }
    }

    fn moisture(&mut self, node: &Node) -> Option<MoistureTest> {
        self.item(node, Kind::Moisture, |pass, fields, id| {
            let at = pass.reader.required(fields, "at", "at: [6', 6']");
            let at = at.and_then(|node| pass.point(node));
            let rh = pass.optional(fields, "rh", |pass, node| {
                pass.reader.percent_from(node, "the relative humidity", USUAL_RH)
            });
            let mver = pass.optional(fields, "mver", |pass, node| {
                pass.reader.number(node, "the vapour emission", 0.0, MOST_MVER)
            });
            if fields.get("rh").is_none() && fields.get("mver").is_none() {
                let place = pass.reader.first_line(fields.place);
                let message = "a moisture test needs a result".into();
                let hint = "add rh: 72% (in the slab), or mver: 2.5 (lb per 1000 ft² in 24 h)";
                pass.reader.error("missing-key", place, message, hint);
            }
            Some(MoistureTest { id, at: at?, rh, mver, span: node.place.span })
        })
    }

    fn forecast(&mut self, node: &Node) -> Option<Forecast> {
        let keys = ["day", "air", "humidity", "slab"];
        let fields = self.reader.fields(node, "a day of the forecast", &keys)?;
        self.reader.required(&fields, "day", "day: 2026-09-21")?;
        let day = self.day(&fields, "day");
        let air = self.reader.required(&fields, "air", "air: 70 F");
        let air = air.and_then(|node| self.reader.temperature(node, "the temperature of the air"));
        let humidity = self.reader.required(&fields, "humidity", "humidity: 50%");
        let humidity = humidity
            .and_then(|node| self.reader.percent_from(node, "the humidity", USUAL_HUMIDITY));
        let slab = self.reader.required(&fields, "slab", "slab: 66 F");
        let slab =
            slab.and_then(|node| self.reader.temperature(node, "the temperature of the slab"));
        Some(Forecast { day: day?, air: air?, humidity: humidity?, slab: slab? })
    }

    fn hardness(&mut self, node: &Node) -> Option<HardnessTest> {
        let fields = self.reader.fields(node, "a hardness test", &["at", "mohs"])?;
        let at = self.reader.required(&fields, "at", "at: [6', 6']");
        let at = at.and_then(|node| self.point(node));
        let mohs = self.reader.required(&fields, "mohs", "mohs: 5");
        let mohs = mohs.and_then(|node| self.reader.number(node, "the hardness", MOHS.0, MOHS.1));
        Some(HardnessTest { at: at?, mohs: mohs? })
    }
}
