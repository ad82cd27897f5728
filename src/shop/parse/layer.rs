//! Coating systems and their layers.

use std::collections::BTreeMap;

use super::Pass;
use crate::diagnostic::FileId;
use crate::form::Fields;
use crate::quantity::{Ratio, Volume, read};
use crate::shop::{
    Amount, Choice, Layer, Mitigation, MoistureLimits, Origin, PotLife, Profile, System,
};
use crate::text::excerpt;
use crate::yaml::Node;

/// The roughest chip of ICRI 310.2R.
const ROUGHEST: u8 = 10;

const KEYS: [&str; 20] = [
    "name",
    "coverage",
    "dft",
    "solids",
    "loss",
    "kit",
    "mix",
    "batch",
    "pot_life",
    "rate",
    "package",
    "one_lot",
    "into",
    "recoat",
    "resin",
    "solvent",
    "waste",
    "reclaimed",
    "charged",
    "chosen",
];
/// Keys of a liquid, and keys of goods that are broadcast.
const LIQUID: [&str; 10] =
    ["solids", "loss", "kit", "mix", "batch", "pot_life", "dft", "recoat", "resin", "solvent"];
const BROADCAST: [&str; 3] = ["package", "waste", "reclaimed"];
/// The words of `chosen`.
pub(crate) const CHOICES: [(&str, Choice); 3] = [
    (Choice::Color.word(), Choice::Color),
    (Choice::Blend.word(), Choice::Blend),
    (Choice::Sheen.word(), Choice::Sheen),
];

/// `CSP 3`, `CSP 2-3`.
fn profile(text: &str) -> Option<Profile> {
    let chips = text.strip_prefix("CSP ")?;
    let (from, to) = chips.split_once('-').unwrap_or((chips, chips));
    let chip = |digits: &str| {
        let plain = digits.bytes().all(|b| b.is_ascii_digit()) && !digits.starts_with('0');
        digits.parse().ok().filter(|n| plain && *n <= ROUGHEST)
    };
    let (from, to) = (chip(from)?, chip(to)?);
    (from <= to).then_some(Profile { to, from })
}

impl Pass<'_> {
    pub(super) fn system(&mut self, node: &Node) -> Option<System> {
        let keys = ["profile", "passes", "layers", "cure"];
        let fields = self.reader.fields(node, "a system", &keys)?;
        let cure = self.times(&fields, "cure");
        let profile = self.profile(&fields);
        let passes = self.passes(&fields);
        let layers = self.layers(&fields, "the system");
        Some(System {
            layers: layers?,
            cure: cure?,
            profile: profile?,
            passes: passes?,
            mitigating: 0,
        })
    }

    /// Reads what goes below a system on a moist slab.
    pub(super) fn mitigation(&mut self, node: &Node) -> Option<Mitigation> {
        let keys = ["rh_limit", "mver_limit", "profile", "passes", "layers"];
        let fields = self.reader.fields(node, "the mitigation", &keys)?;
        let limits = self.moisture_limits(&fields, "moisture.mitigation");
        let profile = self.profile(&fields);
        let passes = self.passes(&fields);
        let layers = self.layers(&fields, "the mitigation");
        Some(Mitigation { limits: limits?, profile: profile?, passes: passes?, layers: layers? })
    }

    pub(super) fn moisture_limits(
        &mut self,
        fields: &Fields,
        key: &'static str,
    ) -> Option<MoistureLimits> {
        let rh = self.percent(fields, "rh_limit");
        let mver = self.reader.required(fields, "mver_limit", "mver_limit: 3");
        let most = super::rules::MOST_MVER;
        let mver = mver.and_then(|node| self.reader.number(node, "the vapour emission", 0.0, most));
        Some(MoistureLimits { key, rh: rh?, mver: mver?.value })
    }

    /// A layer of the mitigation must not be taken for one of the system above it: broadcast goods name
    /// the coat they go into.
    pub(super) fn told_apart(
        &mut self,
        fields: &Fields,
        mitigation: &Mitigation,
        systems: &BTreeMap<String, System>,
    ) {
        let both = systems.iter().find_map(|(name, system)| {
            let below = mitigation.layers.iter().map(|layer| &layer.name);
            let mut above = system.layers.iter().map(|layer| &layer.name);
            let layer = below.into_iter().find(|below| above.any(|l| l == *below))?;
            Some((name, layer))
        });
        let Some((system, layer)) = both else { return };
        let parts = ["systems", "moisture"].map(|key| fields.key_place(key));
        let own = parts.into_iter().find(|place| place.file == FileId::Shop);
        let message = format!(
            "a layer of the moisture mitigation and a layer of system `{}` are both named `{}`",
            excerpt(system),
            excerpt(layer)
        );
        let hint = "give one of them another name, such as moisture-mitigation primer";
        self.reader.error("layers", own.unwrap_or(fields.place), message, hint);
    }

    fn passes(&mut self, fields: &Fields) -> Option<Option<usize>> {
        let Some(node) = fields.get("passes") else {
            return Some(None);
        };
        let found = self.reader.count(node, "`passes`")?;
        Some(Some(found.value))
    }

    fn profile(&mut self, fields: &Fields) -> Option<Option<Profile>> {
        let Some(node) = fields.get("profile") else {
            return Some(None);
        };
        let profile = node.text().and_then(profile);
        if profile.is_none() {
            let message = format!("the profile {} is no range of CSP 1 to 10", node.describe());
            let hint =
                "write profile: CSP 2-3, or profile: CSP 3; the chips are those of ICRI 310.2R";
            self.reader.error("unknown-value", node.place, message, hint);
        }
        profile.map(Some)
    }

    fn layers(&mut self, fields: &Fields, of: &str) -> Option<Vec<Layer>> {
        let list = self.reader.required(fields, "layers", "layers: with a list of layers")?;
        let entries = self.reader.list(Some(list), "layers");
        if entries.is_empty() && list.items().is_some() {
            let message = format!("{of} has no layers");
            let hint = "write - {name: primer, coverage: 200 ft2/gal, loss: 5%, kit: 3 gal}";
            self.reader.error("layers", list.place, message, hint);
            return None;
        }
        let mut layers: Vec<Layer> = Vec::with_capacity(entries.len());
        let mut complete = true;
        for entry in entries {
            match self.layer(entry, &layers) {
                Some(layer) => layers.push(layer),
                None => complete = false,
            }
        }
        complete.then_some(layers)
    }

    fn layer(&mut self, node: &Node, below: &[Layer]) -> Option<Layer> {
        let fields = self.reader.fields(node, "a layer", &KEYS)?;
        self.reader.required(&fields, "name", "name: primer")?;
        let name = self.reader.text(&fields, "name")?.value;
        let amount = self.amount(&fields, &name);
        let one_lot = fields.get("one_lot");
        let one_lot = one_lot.map_or(Some(false), |node| self.reader.truth(node, "one_lot"));
        let charged = fields.get("charged").map(|_| self.charged(&fields));
        let chosen = self.reader.list(fields.get("chosen"), "chosen");
        let chosen: Vec<Option<Choice>> = chosen
            .iter()
            .map(|word| {
                let word = self.reader.word(word, "the choice", &CHOICES)?;
                Some(word.value)
            })
            .collect();
        let mix = self.mix(&fields);
        let batch = self.batch(&fields);
        let pot_life = self.pot_life(&fields);
        let into = self.target_layer(&fields, &name, below);
        let recoat = self.times(&fields, "recoat");
        let resin = fields.get("resin");
        let resin = resin.map(|node| self.reader.word(node, "the resin", &super::rules::RESINS));
        let solvent = fields.get("solvent");
        let solvent = solvent.map(|node| self.reader.truth(node, "solvent"));
        Some(Layer {
            amount: amount?,
            one_lot: one_lot?,
            charged: charged.map_or(Some(None), |charged| charged.map(Some))?,
            chosen: chosen.into_iter().collect::<Option<_>>()?,
            mix: mix?,
            batch: batch?,
            pot_life: pot_life?,
            into: into?,
            recoat: recoat?,
            resin: resin.map_or(Some(None), |word| word.map(|word| Some(word.value)))?,
            solvent: solvent.map_or(Some(None), |truth| truth.map(Some))?,
            name,
        })
    }

    fn amount(&mut self, fields: &Fields, name: &str) -> Option<Amount> {
        let ways = ["coverage", "dft", "rate"];
        let given: Vec<&str> = ways.into_iter().filter(|key| fields.get(key).is_some()).collect();
        match given[..] {
            ["coverage"] => self.covering(fields),
            ["dft"] => self.film(fields),
            [_] => self.broadcast(fields),
            [] => {
                let message = format!("layer `{}` has no amount", excerpt(name));
                let hint = "add coverage: 160 ft2/gal, or dft: 10 mil with solids: 100%, or rate: 0.1 lb/ft2";
                let place = self.reader.first_line(fields.place);
                self.reader.error("layers", place, message, hint);
                None
            }
            [first, second, ..] => {
                let message =
                    format!("layer `{}` has two amounts, {first} and {second}", excerpt(name));
                self.reader.error("layers", fields.key_place(second), message, "keep one of them");
                None
            }
        }
    }

    fn covering(&mut self, fields: &Fields) -> Option<Amount> {
        self.none_of(
            fields,
            &[&BROADCAST[..], &["solids"]].concat(),
            "a liquid given by its coverage",
        );
        let coverage = self.positive(fields, "coverage", "a coverage", read::coverage);
        let (loss, kit) = self.loss_and_kit(fields);
        Some(Amount::Coverage { coverage: coverage?, loss: loss?, kit: kit? })
    }

    fn film(&mut self, fields: &Fields) -> Option<Amount> {
        self.none_of(fields, &BROADCAST, "a liquid");
        let dft = self.positive(fields, "dft", "a film thickness", read::film);
        let solids = self.percent(fields, "solids");
        let (loss, kit) = self.loss_and_kit(fields);
        let solids = solids?;
        if solids.one() <= 0.0 {
            let message = "a liquid without solids leaves no film".into();
            let hint = "write solids: 100% for one that has no solvent";
            self.reader.error("zero", fields.key_place("solids"), message, hint);
            return None;
        }
        Some(Amount::Film { dft: dft?, solids, loss: loss?, kit: kit? })
    }

    fn loss_and_kit(&mut self, fields: &Fields) -> (Option<Ratio>, Option<Volume>) {
        let loss = self.percent(fields, "loss");
        let kit = self.positive(fields, "kit", "a volume", read::volume);
        let all = loss.filter(|loss| loss.one() >= 1.0);
        if all.is_some() {
            let message = "a loss of all the material leaves nothing for the floor".into();
            self.reader.error("beyond-belief", fields.key_place("loss"), message, "write loss: 5%");
            return (None, kit);
        }
        (loss, kit)
    }

    fn broadcast(&mut self, fields: &Fields) -> Option<Amount> {
        self.none_of(fields, &LIQUID, "goods that are broadcast");
        let rate = self.positive(fields, "rate", "a spread rate", read::spread);
        let package = self.positive(fields, "package", "a weight", read::mass);
        let waste = self.share_or_none(fields, "waste");
        let reclaimed = self.share_or_none(fields, "reclaimed");
        Some(Amount::Broadcast {
            rate: rate?,
            waste: waste?,
            reclaimed: reclaimed?,
            package: package?,
        })
    }

    /// A share that may be left out: nothing.
    fn share_or_none(&mut self, fields: &Fields, key: &str) -> Option<Ratio> {
        match fields.get(key) {
            Some(_) => self.percent(fields, key),
            None => Some(Ratio::default()),
        }
    }

    /// Notes keys that do not go with the way the amount is given.
    fn none_of(&mut self, fields: &Fields, keys: &[&str], what: &str) {
        for key in keys {
            if fields.get(key).is_some() {
                let message = format!("`{key}` does not belong to {what}");
                self.reader.error("layers", fields.key_place(key), message, "take it out");
            }
        }
    }

    fn mix(&mut self, fields: &Fields) -> Option<Option<String>> {
        let Some(node) = fields.get("mix") else {
            return Some(None);
        };
        let mix = self.reader.text(fields, "mix")?.value;
        let part =
            |part: &str| !part.is_empty() && part.chars().all(|c| c.is_ascii_digit() || c == '.');
        if mix.split(':').count() >= 2 && mix.split(':').all(part) {
            return Some(Some(mix));
        }
        let message = format!("the mix `{}` is no ratio", excerpt(&mix));
        self.reader.error("layers", node.place, message, "write mix: \"2:1\"");
        None
    }

    fn batch(&mut self, fields: &Fields) -> Option<Option<(Volume, Origin)>> {
        if fields.get("batch").is_none() {
            return Some(None);
        }
        let most = self.positive(fields, "batch", "a volume", read::volume)?;
        Some(Some((most, Origin(fields.key_place("batch")))))
    }

    /// What is warmer cures faster: a table that says otherwise runs backwards.
    fn pot_life(&mut self, fields: &Fields) -> Option<PotLife> {
        let rows = self.waits_table(fields, "pot_life")?;
        let at = (!rows.is_empty()).then(|| Origin(fields.key_place("pot_life")));
        let place = fields.key_place("pot_life");
        if rows.iter().any(|row| row.last.s().is_finite()) {
            let message = "a row of `pot_life` has two times".into();
            let hint = "write a temperature and one time: [70 F, 30 min]";
            self.reader.error("unreadable", place, message, hint);
            return None;
        }
        if rows.iter().any(|row| row.first.s() <= 0.0) {
            let message = "a pot life of nothing leaves no time to lay anything".into();
            self.reader.error("zero", place, message, "write pot_life: [[70 F, 30 min]]");
            return None;
        }
        if rows.windows(2).any(|pair| pair[0].first < pair[1].first) {
            let message = "the rows of `pot_life` grow with the temperature".into();
            let hint = "a warm batch sets sooner: [[50 F, 45 min], [70 F, 30 min], [90 F, 15 min]]";
            self.reader.error("out-of-order", place, message, hint);
            return None;
        }
        Some(PotLife { rows, at })
    }

    fn target_layer(
        &mut self,
        fields: &Fields,
        name: &str,
        below: &[Layer],
    ) -> Option<Option<String>> {
        let wet = |layer: &&Layer| !matches!(layer.amount, Amount::Broadcast { .. });
        let Some(node) = fields.get("into") else {
            if fields.get("rate").is_none() {
                return Some(None);
            }
            // Without it nobody knows with which coat the goods are thrown, and their hours would be lost.
            let message = format!(
                "layer `{}` is broadcast, and `into` does not say into which layer",
                excerpt(name)
            );
            let hint = below.iter().rev().find(wet).map_or_else(
                || {
                    "list the liquid it is thrown into before it, and name it with `into`"
                        .to_owned()
                },
                |last| format!("add into: {}", last.name),
            );
            let place = self.reader.first_line(fields.place);
            self.reader.error("layers", place, message, &hint);
            return None;
        };
        let into = self.reader.text(fields, "into")?.value;
        if below.iter().filter(wet).any(|layer| layer.name == into) {
            return Some(Some(into));
        }
        let message = format!(
            "layer `{}` goes into `{}`, and no layer below it has that name",
            excerpt(name),
            excerpt(&into)
        );
        let known: Vec<&str> = below.iter().filter(wet).map(|layer| layer.name.as_str()).collect();
        let hint = match known[..] {
            [] => "list the liquid it is thrown into before it".to_owned(),
            _ => format!("the liquids before it are {}", known.join(", ")),
        };
        self.reader.error("layers", node.place, message, &hint);
        None
    }
}
