//! Floors as sketches, from fixed seeds.

use slabwalk::ink::Sheet;
use slabwalk::papers::compose;
use slabwalk::sheet::{Audience, Inputs, Options, Paper, Scale};
use slabwalk::survey::{Survey, survey};
use slabwalk::{audit, svg};

/// Pseudo-random numbers, the same everywhere (SplitMix64).
pub struct Chance(pub u64);

impl Chance {
    pub fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// Roughly normal.
    fn about(&mut self, middle: f64, spread: f64) -> f64 {
        let sum: f64 = (0..6).map(|_| self.unit()).sum();
        middle + (sum - 3.0) * spread * 1.4
    }
}

/// A rectangular floor in feet with a grid of joints and items, uniform or in clusters. Blocks of records come one by one.
pub struct Plan {
    pub head: String,
    pub blocks: Vec<(&'static str, Vec<String>)>,
}

impl Plan {
    pub fn new(seed: u64, (w, h): (f64, f64), items: usize, clusters: usize) -> Self {
        let mut chance = Chance(seed);
        let head = format!(
            "slabwalk: 1\njob: {{name: Floor {seed}}}\nunits: us\nslab:\n  thickness: 6\"\n  post_tension: none\n  outline: [[0, 0], [{w:.2}', 0], [{w:.2}', {h:.2}'], [0, {h:.2}']]\n"
        );
        let middles: Vec<(f64, f64)> = (0..clusters)
            .map(|_| (chance.between(0.15, 0.85) * w, chance.between(0.15, 0.85) * h))
            .collect();
        let spread = w.min(h) / 9.0;
        let (mut cracks, mut spalls) = (Vec::new(), Vec::new());
        for i in 0..items {
            let (x, y) = match middles.get(i % clusters.max(1)) {
                Some(m) => (chance.about(m.0, spread), chance.about(m.1, spread)),
                None => (chance.unit() * w, chance.unit() * h),
            };
            let (x, y) = (x.clamp(1.5, w - 1.5), y.clamp(1.5, h - 1.5));
            if i % 5 < 3 {
                let to = (
                    (x + chance.between(1.0, 7.0)).min(w - 0.5),
                    (y + chance.between(-4.0, 4.0)).clamp(0.5, h - 0.5),
                );
                let n = cracks.len() + 1;
                cracks.push(format!(
                    "  - {{id: C{n}, path: [[{x:.2}', {y:.2}'], [{:.2}', {:.2}']], width: 1/16}}\n",
                    to.0, to.1
                ));
            } else {
                let n = spalls.len() + 1;
                spalls.push(format!(
                    "  - {{id: S{n}, circle: {{center: [{x:.2}', {y:.2}'], diameter: 5\"}}, depth: 1/8}}\n"
                ));
            }
        }
        let blocks = vec![("joints", joints(w, h)), ("cracks", cracks), ("spalls", spalls)];
        Self { head, blocks }
    }

    pub fn text(&self) -> String {
        let mut out = self.head.clone();
        for (name, records) in self.blocks.iter().filter(|b| !b.1.is_empty()) {
            out.push_str(&format!("{name}:\n{}", records.concat()));
        }
        out
    }

    /// Every list of records in another order.
    pub fn shuffle(&mut self, seed: u64) {
        let mut chance = Chance(seed);
        for (_, records) in &mut self.blocks {
            for i in (1..records.len()).rev() {
                let j = (chance.unit() * (i + 1) as f64) as usize;
                records.swap(i, j.min(i));
            }
        }
        self.blocks.reverse();
    }
}

/// Joints every 20 ft, as long as they stay a foot off the walls.
fn joints(w: f64, h: f64) -> Vec<String> {
    let mut out = Vec::new();
    for (axis, length) in [("x", w), ("y", h)] {
        let mut at = 20.0;
        while at < length - 1.0 {
            let n = out.len() + 1;
            out.push(format!(
                "  - {{id: J{n}, kind: control, {axis}: {at}', width: 1/4, depth: 1}}\n"
            ));
            at += 20.0;
        }
    }
    out
}

pub fn surveyed(text: &str) -> Survey {
    let (sketch, found) = slabwalk::sketch::parse(text);
    let sketch = sketch.unwrap_or_else(|| panic!("{found:#?}"));
    survey(sketch, slabwalk::shop::built_in(), found).unwrap_or_else(|found| panic!("{found:#?}"))
}

pub fn composed(survey: &Survey, paper: Option<Paper>, scale: Option<Scale>) -> Vec<Sheet> {
    drawn(survey, paper, scale).unwrap_or_else(|found| panic!("{found}"))
}

/// The crew map, or why there is none.
pub fn drawn(
    survey: &Survey,
    paper: Option<Paper>,
    scale: Option<Scale>,
) -> Result<Vec<Sheet>, String> {
    let inputs = Inputs { order: None, ..Inputs::of(survey, "test.yaml", "0123456789abcdef0123") };
    let options = Options { audience: Audience::Crew, paper, scale };
    compose(&inputs, &options).map_err(|found| format!("{found:#?}"))
}

/// Every drawing of a packet, sheet by sheet, or why there is none: the crew's, the customer's, the form, and the one in the proposal.
pub fn packet(survey: &Survey) -> Vec<Result<Vec<Sheet>, String>> {
    let plan = slabwalk::schedule::plan(survey);
    let inputs =
        Inputs { plan: Some(&plan), ..Inputs::of(survey, "test.yaml", "0123456789abcdef0123") };
    let drawn = |audience| {
        let options = Options { audience, paper: None, scale: None };
        compose(&inputs, &options).map_err(|found| format!("{audience:?}: {found:#?}"))
    };
    let mut out: Vec<_> = [Audience::Crew, Audience::Customer, Audience::Field].map(drawn).into();
    let paper = slabwalk::document::Paper::office(survey.slab.units);
    let width = slabwalk::document::text_width(paper);
    let (signed, found) = slabwalk::proposal::told(&inputs, width);
    let sheet = signed.sheet.map(|sheet| vec![sheet]);
    out.push(sheet.ok_or_else(|| format!("proposal: {found:#?}")));
    out
}

/// Sheets as files.
pub fn written(sheets: &[Sheet]) -> Vec<(String, String)> {
    let write = |s: &Sheet| (s.name.clone(), svg::write_with(s, false));
    sheets.iter().map(write).collect()
}

/// What the audit says of a set.
pub fn faults(files: &[(String, String)]) -> Vec<String> {
    let set: Vec<(&str, &str)> = files.iter().map(|(n, f)| (&**n, &**f)).collect();
    let found = audit::audit_set(&set);
    // The plan of a proposal has its key as text beside it.
    let alone = set.iter().all(|(name, _)| *name == "customer-plan");
    let without_key = |f: &&audit::Fault| alone && f.code == audit::Code::MarkWithoutKey;
    let found = found.iter().filter(|f| !without_key(f));
    found.map(ToString::to_string).collect()
}

/// Ids of the groups that start so, over all sheets, with the sheet's name.
pub fn ids(files: &[(String, String)], start: &str) -> Vec<(String, String)> {
    let mut out = Vec::new();
    let opening = format!("id=\"{start}");
    for (name, file) in files {
        for rest in file.split(&opening).skip(1) {
            let id = rest.split('"').next().unwrap_or_default();
            out.push((name.clone(), id.to_owned()));
        }
    }
    out
}
