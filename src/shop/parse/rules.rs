//! The parts of the book that hold rules.

use super::Pass;
use super::wear::FOOT;
use crate::diagnostic::Diagnostic;
use crate::form::{Fields, Rule, Sign};
use crate::quantity::{Length, Units, read, write};
use crate::shop::{
    AgeRules, BackerRod, Chase, CoatingRules, CoveRules, CrackRules, DelaminationRules, Filler,
    Grinding, Kerf, MoistureRules, PanelRules, PatchSizes, Resin, Sealant, SpallRule, SpallRules,
    SurfaceRules,
};
use crate::yaml::Node;

/// No width, depth or gap of a shop's tools and rules is four feet.
const FOUR_FEET: Length = Length::from_in(48.0);
/// Least width and depth of a groove cut along a crack: 1/4 in, in metric 6 mm (ACI 224.1R, rout and seal). The smaller of the
/// two, so that neither is raised.
const LEAST_GROOVE: Length = Length::from_m(0.006);
/// A length that has to be there.
pub(crate) const TOOL: Rule = Rule::small("the length", Sign::Positive, FOUR_FEET);
/// A length that may be nothing.
pub(crate) const LIMIT: Rule = Rule::small("the length", Sign::NotNegative, FOUR_FEET);
/// Sand at the bottom of a chase.
pub(crate) const CHOKE: Rule = Rule::small("the choke", Sign::NotNegative, FOOT);
/// What a product is made of.
pub(crate) const RESINS: [(&str, Resin); 4] = [
    ("epoxy", Resin::Epoxy),
    ("polyurea", Resin::Polyurea),
    ("polyaspartic", Resin::Polyaspartic),
    ("polyurethane", Resin::Polyurethane),
];
/// Steepest and flattest feather that makes sense, run over height.
pub(crate) const FEATHERS: (f64, f64) = (1.0, 100.0);
/// Most that a limit of vapor emission can be, lb per 1000 ft² in 24 h.
pub(crate) const MOST_MVER: f64 = 100.0;

/// The words of `spalls.rule`.
pub(crate) const SPALL_RULES: [(&str, SpallRule); 2] = [
    (SpallRule::Floor.word(), SpallRule::Floor),
    (SpallRule::Pavement.word(), SpallRule::Pavement),
];

impl Pass<'_> {
    pub(super) fn chase(&mut self, node: &Node) -> Option<Chase> {
        let keys =
            ["blade", "depth", "deepest", "saw_clearance", "saw_wander", "cover_margin", "choke"];
        let fields = self.reader.fields(node, "the chase", &keys)?;
        let blade = self.length(&fields, "blade", &TOOL.called("the width of the blade"));
        let depth = self.length(&fields, "depth", &TOOL.called("the depth of a chase"));
        let deepest = self.length(&fields, "deepest", &TOOL.called("the greatest depth"));
        let saw_clearance = self.length(&fields, "saw_clearance", &LIMIT.called("the clearance"));
        let saw_wander = self.length(&fields, "saw_wander", &LIMIT.called("the wander"));
        let cover_margin = self.length(&fields, "cover_margin", &LIMIT.called("the margin"));
        let choke = self.length(&fields, "choke", &CHOKE);
        let (depth, deepest) = (depth?, deepest?);
        self.not_more(&fields, ("depth", depth), ("deepest", deepest))?;
        Some(Chase {
            blade: blade?,
            depth,
            deepest,
            saw_clearance: saw_clearance?,
            saw_wander: saw_wander?,
            cover_margin: cover_margin?,
            choke: choke?,
        })
    }

    /// Notes two lengths of which the first should not be more than the second.
    fn not_more(
        &mut self,
        fields: &Fields,
        small: (&str, Length),
        large: (&str, Length),
    ) -> Option<()> {
        if small.1 <= large.1 {
            return Some(());
        }
        let (small, large) = (small.0, large.0);
        let own = [small, large].into_iter().find(|key| {
            let place = fields.key_place(key);
            place.file == crate::diagnostic::FileId::Shop
        });
        let place = own.map_or(fields.place, |key| fields.key_place(key));
        let message = format!("`{small}` is more than `{large}`");
        let hint = format!("give both, `{large}` the larger");
        self.reader.error("out-of-order", place, message, &hint);
        None
    }

    pub(super) fn filler(&mut self, node: &Node) -> Option<Filler> {
        let keys =
            ["package", "waste", "width_sd", "depth_sd", "yield_sd", "resin", "reserve", "charged"];
        let fields = self.reader.fields(node, "the filler", &keys)?;
        let package = self.positive(&fields, "package", "a volume", read::volume);
        let waste = self.percent(&fields, "waste");
        let buying = self.buying(&fields);
        let width_sd = self.length(&fields, "width_sd", &LIMIT.called("`width_sd`"));
        let depth_sd = self.length(&fields, "depth_sd", &LIMIT.called("`depth_sd`"));
        let yield_sd = self.percent(&fields, "yield_sd");
        let resin = self.resin(&fields);
        Some(Filler {
            package: package?,
            waste: waste?,
            buying: buying?,
            width_sd: width_sd?,
            depth_sd: depth_sd?,
            yield_sd: yield_sd?,
            resin: resin?,
        })
    }

    /// Reads what a product is made of, which the merged book says.
    fn resin(&mut self, fields: &Fields) -> Option<Resin> {
        let node = self.reader.required(fields, "resin", "resin: polyurea")?;
        let resin = self.reader.word(node, "the resin", &RESINS)?;
        Some(resin.value)
    }

    pub(super) fn sealant(&mut self, node: &Node) -> Option<Sealant> {
        let keys = ["package", "waste", "least_width", "resin", "reserve", "charged"];
        let fields = self.reader.fields(node, "the sealant", &keys)?;
        let package = self.positive(&fields, "package", "a volume", read::volume);
        let waste = self.percent(&fields, "waste");
        let buying = self.buying(&fields);
        let least_width = self.length(&fields, "least_width", &TOOL.called("the least width"));
        let resin = self.resin(&fields);
        Some(Sealant {
            package: package?,
            waste: waste?,
            buying: buying?,
            least_width: least_width?,
            resin: resin?,
        })
    }

    pub(super) fn backer_rod(&mut self, node: &Node) -> Option<BackerRod> {
        let fields = self.reader.fields(
            node,
            "the backer rod",
            &["sizes", "waste", "reserve", "charged"],
        )?;
        let waste = self.percent(&fields, "waste");
        let buying = self.buying(&fields);
        let list = self.reader.required(&fields, "sizes", "sizes: [1/4\", 3/8\"]")?;
        let entries = self.reader.list(Some(list), "sizes");
        let rule = TOOL.called("the diameter");
        let sizes: Vec<Option<Length>> = entries
            .iter()
            .map(|entry| self.reader.length(entry, &rule).map(|size| size.value))
            .collect();
        let sizes = sizes.into_iter().collect::<Option<Vec<_>>>()?;
        if sizes.is_empty() || sizes.windows(2).any(|pair| pair[0] >= pair[1]) {
            let message = "the sizes of backer rod are out of order".into();
            let hint = "list at least one, from thin to thick, each once";
            self.reader.error("out-of-order", list.place, message, hint);
            return None;
        }
        Some(BackerRod { sizes, waste: waste?, buying: buying? })
    }

    pub(super) fn cracks(&mut self, node: &Node) -> Option<CrackRules> {
        let keys = [
            "prime_below",
            "chase_from",
            "chase",
            "fill_depth",
            "engineer_from",
            "engineer_step",
            "package",
            "waste",
            "resin",
            "reserve",
            "charged",
        ];
        let fields = self.reader.fields(node, "the cracks", &keys)?;
        let prime_below = self.length(&fields, "prime_below", &LIMIT.called("the width"));
        let chase_from = self.length(&fields, "chase_from", &LIMIT.called("the width"));
        let chase = self.part(&fields, "chase", Self::crack_chase);
        let fill_depth = self.length(&fields, "fill_depth", &TOOL.called("the depth"));
        let engineer_from = self.length(&fields, "engineer_from", &LIMIT.called("the width"));
        let engineer_step = self.length(&fields, "engineer_step", &LIMIT.called("the step"));
        let package = self.positive(&fields, "package", "a volume", read::volume);
        let waste = self.percent(&fields, "waste");
        let buying = self.buying(&fields);
        let resin = self.resin(&fields);
        let (prime_below, chase_from) = (prime_below?, chase_from?);
        self.not_more(&fields, ("prime_below", prime_below), ("chase_from", chase_from))?;
        let (chase_width, chase_depth) = chase?;
        Some(CrackRules {
            prime_below,
            chase_from,
            chase_width,
            chase_depth,
            fill_depth: fill_depth?,
            engineer_from: engineer_from?,
            engineer_step: engineer_step?,
            package: package?,
            waste: waste?,
            buying: buying?,
            resin: resin?,
        })
    }

    fn crack_chase(&mut self, node: &Node) -> Option<(Length, Length)> {
        let fields = self.reader.fields(node, "the chase of cracks", &["width", "depth"])?;
        let width = self.groove(&fields, "width", &TOOL.called("the width of the chase"));
        let depth = self.groove(&fields, "depth", &TOOL.called("the depth of the chase"));
        Some((width?, depth?))
    }

    /// A side of the groove along a crack, raised to the least that is published, with a warning.
    fn groove(&mut self, fields: &Fields, key: &str, rule: &Rule) -> Option<Length> {
        let found = self.length(fields, key, rule)?;
        if found >= LEAST_GROOVE {
            return Some(found);
        }
        let units = self.reader.units;
        let node = fields.get(key)?;
        let (name, least) = (rule.name, write::small(LEAST_GROOVE.m(), units));
        let message =
            format!("{name} of cracks, {}, is raised to {least}", write::small(found.m(), units));
        let hint = match units {
            Units::Us => format!("write {key}: 1/4\""),
            Units::Metric => format!("write {key}: 6"),
        };
        let fault = Diagnostic::warning("groove-raised", message)
            .place(node.place)
            .hint(hint)
            .source("ACI 224.1R, rout and seal: at least 1/4 in (6 mm) wide and deep");
        self.reader.note(fault);
        Some(LEAST_GROOVE)
    }

    pub(super) fn spalls(&mut self, node: &Node) -> Option<SpallRules> {
        let keys = [
            "rule",
            "floor",
            "pavement",
            "largest",
            "filled",
            "cut_out_from",
            "extend",
            "least_depth",
            "package",
            "yield",
            "waste",
            "reserve",
            "charged",
        ];
        let fields = self.reader.fields(node, "the spalls", &keys)?;
        let rule = self.reader.required(&fields, "rule", "rule: floor");
        let rule = rule.and_then(|node| self.reader.word(node, "the rule", &SPALL_RULES));
        let floor = self.part(&fields, "floor", Self::patch_sizes);
        let pavement = self.part(&fields, "pavement", Self::patch_sizes);
        let units = self.reader.units;
        let largest = self.positive(&fields, "largest", "an area", |text| read::area(text, units));
        let filled = self.percent(&fields, "filled");
        let cut_out_from = self.length(&fields, "cut_out_from", &LIMIT.called("the depth"));
        let extend = fields
            .get("extend")
            .map(|node| self.reader.length(node, &LIMIT.called("the extension")));
        let least_depth = self.length(&fields, "least_depth", &LIMIT.called("the depth"));
        let package = self.positive(&fields, "package", "a weight", read::mass);
        let yield_ = self.positive(&fields, "yield", "a volume", read::volume);
        let waste = self.percent(&fields, "waste");
        let buying = self.buying(&fields);
        let (floor, pavement) = (floor?, pavement?);
        let rule = rule?.value;
        let mut sizes = match rule {
            SpallRule::Floor => floor,
            SpallRule::Pavement => pavement,
        };
        if let Some(extend) = extend {
            sizes.extend = extend?.value;
        }
        Some(SpallRules {
            rule,
            sizes,
            largest_m2: largest?,
            filled: filled?,
            cut_out_from: cut_out_from?,
            least_depth: least_depth?,
            package: package?,
            yield_: yield_?,
            waste: waste?,
            buying: buying?,
        })
    }

    pub(super) fn delaminations(&mut self, node: &Node) -> Option<DelaminationRules> {
        let keys = [
            "extend", "apart", "depth", "spacing", "gap", "hole", "package", "waste", "resin",
            "reserve", "charged",
        ];
        let fields = self.reader.fields(node, "the delaminations", &keys)?;
        let extend = self.length(&fields, "extend", &LIMIT.called("the extension"));
        let apart = self.length(&fields, "apart", &LIMIT.called("the distance"));
        let depth = self.length(&fields, "depth", &TOOL.called("the depth"));
        let spacing = self.length(&fields, "spacing", &TOOL.called("the distance of the ports"));
        let gap = self.length(&fields, "gap", &TOOL.called("the gap"));
        let hole = self.length(&fields, "hole", &TOOL.called("the diameter of the hole"));
        let package = self.positive(&fields, "package", "a volume", read::volume);
        let waste = self.percent(&fields, "waste");
        let buying = self.buying(&fields);
        let resin = self.resin(&fields);
        Some(DelaminationRules {
            extend: extend?,
            apart: apart?,
            depth: depth?,
            spacing: spacing?,
            gap: gap?,
            hole: hole?,
            package: package?,
            waste: waste?,
            resin: resin?,
            buying: buying?,
        })
    }

    fn patch_sizes(&mut self, node: &Node) -> Option<PatchSizes> {
        let keys = ["extend", "length", "width", "apart", "pop_out"];
        let fields = self.reader.fields(node, "the sizes of patches", &keys)?;
        let extend = self.length(&fields, "extend", &LIMIT.called("the extension"));
        let length = self.length(&fields, "length", &LIMIT.called("the length"));
        let width = self.length(&fields, "width", &LIMIT.called("the width"));
        let apart = self.length(&fields, "apart", &LIMIT.called("the distance"));
        let pop_out = self.length(&fields, "pop_out", &LIMIT.called("the pop-out"));
        let (length, width) = (length?, width?);
        self.not_more(&fields, ("width", width), ("length", length))?;
        Some(PatchSizes { extend: extend?, length, width, apart: apart?, pop_out: pop_out? })
    }

    pub(super) fn grinding(&mut self, node: &Node) -> Option<Grinding> {
        let keys = ["hand_from", "feather", "head", "edge_gap", "depth", "hand_most", "least_slab"];
        let fields = self.reader.fields(node, "the grinding", &keys)?;
        let hand_from = self.length(&fields, "hand_from", &TOOL.called("the step"));
        let feather = self.reader.required(&fields, "feather", "feather: 12");
        let feather = feather
            .and_then(|node| self.reader.number(node, "the feather", FEATHERS.0, FEATHERS.1));
        let head = self.length(&fields, "head", &TOOL.called("the diameter of the head"));
        let edge_gap = self.length(&fields, "edge_gap", &LIMIT.called("the gap"));
        let depth = self.length(&fields, "depth", &LIMIT.called("the depth"));
        let hand_most = self.length(&fields, "hand_most", &TOOL.called("the step"));
        let least_slab = self.length(&fields, "least_slab", &LIMIT.called("the thickness"));
        Some(Grinding {
            hand_from: hand_from?,
            feather: feather?.value,
            head: head?,
            edge_gap: edge_gap?,
            depth: depth?,
            hand_most: hand_most?,
            least_slab: least_slab?,
        })
    }

    /// Reads the least ages of the slab.
    pub(super) fn age(&mut self, node: &Node) -> Option<AgeRules> {
        let fields = self.reader.fields(node, "the age", &["filler", "coating"])?;
        let mut span = |key: &str| {
            let example = format!("{key}: 28 d");
            let node = self.reader.required(&fields, key, &example)?;
            let what = format!("`{key}`");
            let span = self.reader.quantity(node, &what, "a time", read::span)?;
            Some(span.value)
        };
        let (filler, coating) = (span("filler"), span("coating"));
        Some(AgeRules { filler: filler?, coating: coating? })
    }

    pub(super) fn coating(&mut self, node: &Node) -> Option<CoatingRules> {
        let keys = ["coverage_sd", "rate_sd", "reserve", "charged"];
        let fields = self.reader.fields(node, "the coating", &keys)?;
        let coverage_sd = self.percent(&fields, "coverage_sd");
        let rate_sd = self.percent(&fields, "rate_sd");
        let buying = self.buying(&fields);
        Some(CoatingRules { coverage_sd: coverage_sd?, rate_sd: rate_sd?, buying: buying? })
    }

    pub(super) fn termination(&mut self, node: &Node) -> Option<Kerf> {
        let fields = self.reader.fields(node, "the termination", &["width", "depth"])?;
        let width = self.length(&fields, "width", &TOOL.called("the width of the kerf"));
        let depth = self.length(&fields, "depth", &TOOL.called("the depth of the kerf"));
        Some(Kerf { width: width?, depth: depth? })
    }

    pub(super) fn coves(&mut self, node: &Node) -> Option<CoveRules> {
        let keys = ["radius", "package", "yield", "waste"];
        let fields = self.reader.fields(node, "the coves", &keys)?;
        let radius = self.length(&fields, "radius", &TOOL.called("the radius of a cove"));
        let package = self.positive(&fields, "package", "a weight", read::mass);
        let yield_ = self.positive(&fields, "yield", "a volume", read::volume);
        let waste = self.percent(&fields, "waste");
        Some(CoveRules { radius: radius?, package: package?, yield_: yield_?, waste: waste? })
    }

    pub(super) fn surface(&mut self, node: &Node) -> Option<SurfaceRules> {
        let keys = ["degreaser", "coverage", "paint", "adhesive", "sealer", "curing_compound"];
        let fields = self.reader.fields(node, "the surface", &keys)?;
        let degreaser = self.positive(&fields, "degreaser", "a volume", read::volume);
        let coverage = self.positive(&fields, "coverage", "a coverage", read::coverage);
        let mut off = |key: &str| self.positive(&fields, key, "a spread rate", read::spread);
        let (paint, adhesive) = (off("paint"), off("adhesive"));
        let (sealer, curing_compound) = (off("sealer"), off("curing_compound"));
        Some(SurfaceRules {
            degreaser: degreaser?,
            coverage: coverage?,
            paint: paint?,
            adhesive: adhesive?,
            sealer: sealer?,
            curing_compound: curing_compound?,
        })
    }

    pub(super) fn panels(&mut self, node: &Node) -> Option<PanelRules> {
        let fields = self.reader.fields(node, "the panels", &["snap"])?;
        let snap = self.length(&fields, "snap", &LIMIT.called("the distance"));
        Some(PanelRules { snap: snap? })
    }

    pub(super) fn moisture(&mut self, node: &Node) -> Option<MoistureRules> {
        let keys = ["rh_limit", "mver_limit", "mitigation"];
        let fields = self.reader.fields(node, "the moisture", &keys)?;
        let limits = self.moisture_limits(&fields, "moisture");
        let mitigation = self.part(&fields, "mitigation", Self::mitigation);
        Some(MoistureRules { limits: limits?, mitigation: mitigation? })
    }
}
