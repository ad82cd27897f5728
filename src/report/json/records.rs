//! The document and the records that belong to the floor as a whole.

use std::io::{self, Write};

use serde::Serialize;

use super::buy::{OrderJson, PourJson};
use super::cuts::{CrackJson, JointJson};
use super::levels::LevelsJson;
use super::members::Members;
use super::works::{DelaminationJson, PatchJson, SpallJson};
use crate::diagnostic::FileId;
use crate::record::Kind;
use crate::report::{Line, Report};
use crate::takeoff::kinds_by_work;
use crate::text::json::{VERSION, sorted};

/// Writes the document of one report.
pub fn write(report: &Report, out: &mut dyn Write) -> io::Result<()> {
    let (slab, takeoff, order) = (report.slab, report.takeoff, report.order);
    let findings: Vec<_> = report.findings().collect();
    let mut out = Members::new(out);
    out.add("slabwalk", &VERSION)?;
    out.add("job", &JobJson::new(&report.sketch.job))?;
    out.add("area", &takeoff.area)?;
    out.add("edge_m", &takeoff.edge_m)?;
    out.add("termination_m", &takeoff.termination_m)?;
    out.add("closure", &takeoff.closure.as_ref().map(ClosureJson::new))?;
    out.add_list("panels", &slab.panels, PanelJson::new)?;
    let (worked, others) = kinds_by_work();
    for kind in worked {
        items(&mut out, report, kind)?;
    }
    out.add("totals", &takeoff.totals)?;
    out.add_list("order", &order.rows, OrderJson::new)?;
    out.add_list("pour_lines", &order.pour_lines, PourJson::new)?;
    out.add("conditions", &ConditionsJson::new(report))?;
    out.add_list("findings", &findings, |f| FindingJson::new(*f))?;
    out.add("holds", &sorted(report.holds))?;
    let system = report.shop.system_of(&report.sketch.coating);
    let profile = system.and_then(|system| system.profile);
    out.add("profile", &profile.map(|profile| profile.to_string()))?;
    out.add("units", &slab.units)?;
    out.add_list("patches", &takeoff.patches, PatchJson::new)?;
    for kind in others {
        items(&mut out, report, kind)?;
    }
    out.add("levels", &takeoff.levels.as_ref().map(LevelsJson::new))?;
    out.add_list("checks", &slab.checks, CheckJson::new)?;
    out.end()
}

/// The list of a kind of item, by the key of the sketch.
fn items(out: &mut Members, report: &Report, kind: Kind) -> io::Result<()> {
    let (slab, takeoff, key) = (report.slab, report.takeoff, kind.key());
    match kind {
        Kind::Joint => out.add_list(key, &takeoff.joints, JointJson::new),
        Kind::Crack => out.add_list(key, &takeoff.cracks, CrackJson::new),
        Kind::Spall => out.add_list(key, &takeoff.spalls, |s| SpallJson::new(report, s)),
        Kind::Delamination => {
            out.add_list(key, &takeoff.delaminations, |d| DelaminationJson::new(report, d))
        }
        Kind::Blemish => out.add_list(key, &slab.blemishes, BlemishJson::new),
        Kind::Lippage => out.add_list(key, &takeoff.lippage, |step| step),
        Kind::KeepOut => out.add_list(key, &slab.keep_outs, ZoneJson::new),
        Kind::Uncoated => out.add_list(key, &slab.uncoated, ZoneJson::new),
        // They stand among the conditions.
        Kind::Moisture => Ok(()),
        Kind::Tier => out.add_list(key, &slab.tiers, |tier| TierJson::new(slab, tier)),
    }
}

#[derive(Serialize)]
struct JobJson<'a> {
    name: &'a str,
    number: Option<&'a str>,
    client: Option<&'a str>,
    site: Option<&'a str>,
    surveyed: Option<&'a str>,
    surveyor: Option<&'a str>,
    revision: Option<&'a str>,
    notes: Option<&'a str>,
}

impl<'a> JobJson<'a> {
    fn new(job: &'a crate::sketch::Job) -> Self {
        Self {
            name: &job.name,
            number: job.number.as_deref(),
            client: job.client.as_deref(),
            site: job.site.as_deref(),
            surveyed: job.surveyed.as_ref().map(|at| at.value.as_str()),
            surveyor: job.surveyor.as_deref(),
            revision: job.revision.as_deref(),
            notes: job.notes.as_deref(),
        }
    }
}

#[derive(Serialize)]
struct ClosureJson {
    misclosure_m: f64,
    ratio: f64,
    east_m: f64,
    north_m: f64,
    walked_m: f64,
    shared_out: bool,
}

impl ClosureJson {
    fn new(closure: &crate::slab::Closure) -> Self {
        Self {
            misclosure_m: closure.misclosure_m,
            ratio: closure.ratio(),
            east_m: closure.east_m,
            north_m: closure.north_m,
            walked_m: closure.walked_m,
            shared_out: closure.shared_out,
        }
    }
}

#[derive(Serialize)]
struct CheckJson {
    from: usize,
    to: usize,
    measured_m: f64,
    computed_m: f64,
    difference_m: f64,
    flagged: bool,
}

impl CheckJson {
    fn new(check: &crate::slab::DiagonalCheck) -> Self {
        Self {
            from: check.from,
            to: check.to,
            measured_m: check.measured_m,
            computed_m: check.computed_m,
            difference_m: check.difference_m(),
            flagged: check.is_flagged(),
        }
    }
}

#[derive(Serialize)]
struct PanelJson<'a> {
    id: &'a str,
    area_m2: f64,
    length_m: f64,
    width_m: f64,
    aspect: f64,
    joints: &'a [String],
    items: &'a [String],
    crack_m: f64,
}

impl<'a> PanelJson<'a> {
    fn new(panel: &'a crate::slab::Panel) -> Self {
        Self {
            id: &panel.id,
            area_m2: panel.area_m2,
            length_m: panel.length_m,
            width_m: panel.width_m,
            aspect: panel.aspect(),
            joints: &panel.joints,
            items: &panel.items,
            crack_m: panel.crack_m,
        }
    }
}

#[derive(Serialize)]
struct ConditionsJson<'a> {
    dew_point_c: Option<f64>,
    spread_c: Option<f64>,
    moisture_tests_wanted: usize,
    /// Of the kind of which more were taken.
    moisture_tests_taken: usize,
    f2170_tests_taken: usize,
    f1869_tests_taken: usize,
    moisture_tests: Vec<MoistureJson<'a>>,
}

#[derive(Serialize)]
struct MoistureJson<'a> {
    id: &'a str,
    rh_percent: Option<f64>,
    mver_lb_per_1000ft2_24h: Option<f64>,
}

impl<'a> ConditionsJson<'a> {
    fn new(report: &Report<'a>) -> Self {
        let conditions = &report.takeoff.conditions;
        let test = |test: &'a crate::slab::MoistureTest| MoistureJson {
            id: &test.id,
            rh_percent: test.rh.map(|rh| rh * 100.0),
            mver_lb_per_1000ft2_24h: test.mver,
        };
        Self {
            dew_point_c: conditions.dew_point_c,
            spread_c: conditions.spread_c,
            moisture_tests_wanted: conditions.moisture_tests_wanted,
            moisture_tests_taken: conditions.moisture_tests_taken(),
            f2170_tests_taken: conditions.rh_tests,
            f1869_tests_taken: conditions.mver_tests,
            moisture_tests: report.slab.moisture.iter().map(test).collect(),
        }
    }
}

#[derive(Serialize)]
struct FindingJson<'a> {
    severity: &'static str,
    code: &'static str,
    item: Option<&'a str>,
    line: Option<usize>,
    message: &'a str,
    source: Option<&'static str>,
    hint: Option<&'a str>,
    shop_line: Option<usize>,
}

impl<'a> FindingJson<'a> {
    fn new((finding, line): (&'a crate::diagnostic::Diagnostic, Option<Line>)) -> Self {
        let in_file = |file: FileId| line.filter(|l| l.file == file).map(|l| l.number);
        Self {
            severity: finding.severity.word(),
            code: finding.code,
            item: finding.item.as_deref(),
            line: in_file(FileId::Sketch),
            message: &finding.message,
            source: finding.source,
            hint: finding.hint.as_deref(),
            shop_line: in_file(FileId::Shop),
        }
    }
}

#[derive(Serialize)]
struct BlemishJson<'a> {
    id: &'a str,
    what: &'static str,
    area_m2: f64,
}

impl<'a> BlemishJson<'a> {
    fn new(blemish: &'a crate::slab::Blemish) -> Self {
        Self { id: &blemish.id, what: blemish.what.word(), area_m2: blemish.area_m2 }
    }
}

#[derive(Serialize)]
struct ZoneJson<'a> {
    id: &'a str,
    what: Option<&'a str>,
    flush: bool,
    area_m2: f64,
}

impl<'a> ZoneJson<'a> {
    fn new(zone: &'a crate::slab::Zone) -> Self {
        Self {
            id: &zone.id,
            what: zone.what.as_deref(),
            flush: zone.flush,
            area_m2: zone.shape.area_m2,
        }
    }
}

#[derive(Serialize)]
struct TierJson<'a> {
    id: &'a str,
    what: Option<&'a str>,
    height_m: f64,
    area_m2: f64,
    riser_m: f64,
    riser_m2: f64,
    riser_coated_m2: f64,
    note: Option<&'a str>,
}

impl<'a> TierJson<'a> {
    fn new(slab: &crate::slab::Slab, tier: &'a crate::slab::Tier) -> Self {
        let (riser_m, riser_m2, riser_coated_m2) = slab.risers_of(tier);
        Self {
            id: &tier.id,
            what: tier.what.as_deref(),
            height_m: tier.height_m,
            area_m2: tier.area_m2,
            riser_m,
            riser_m2,
            riser_coated_m2,
            note: tier.note.as_deref(),
        }
    }
}
