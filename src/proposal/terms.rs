//! Parties, days, terms, notices and the place to sign.

use super::Inputs;
use super::scope::heading;
use super::voice::{Voice, count};
use crate::document::{Block, Column, Row, Signature, Table, Text};
use crate::hold::say::capital;
use crate::schedule::{Day, ON_WEATHER, Plan, date};
use crate::text::clean;
use crate::trade::Kind;

/// Noon, hours after midnight; a morning may run an hour beyond it.
const NOON_H: f64 = 12.0;

/// Says that example prices are nobody's.
pub(super) fn not_to_be_signed(inputs: &Inputs) -> Option<Block> {
    inputs.price.example.then(|| Block::Notice {
        title: "Not to be signed: example prices".into(),
        paragraphs: vec!["The prices in this proposal are examples, made up to show what it looks like. The shop puts in its own before anybody signs.".into()],
    })
}

/// Who, for whom, where, when.
pub(super) fn parties(voice: &mut Voice) -> Vec<(String, Text)> {
    let job = &voice.inputs.floor.sketch.job;
    let blank = || "____________".to_owned();
    let text = |t: Option<&String>| t.map_or_else(blank, |t| clean(t));
    let surveyed = job.surveyed.as_ref();
    let day = surveyed.map_or_else(blank, |d| date::words(&d.value));
    let number = job.number.as_ref().map(|n| format!(", job {}", clean(n)));
    let revision = job.revision.as_ref().map(|r| format!(", revision {}", clean(r)));
    let mut out: Vec<(String, Text)> = Vec::new();
    if voice.say("company").is_none() {
        out.push(("From".into(), blank().into()));
    }
    let whom = [text(job.client.as_ref()), text(job.site.as_ref())].join(", ");
    let when = format!(
        "{day}, the day of the survey{}{}",
        number.unwrap_or_default(),
        revision.unwrap_or_default()
    );
    out.extend([("For".to_owned(), whom.into()), ("Date".to_owned(), when.into())]);
    let price = voice.inputs.price;
    out.push(("Price".into(), Text::strong(price.total.with(&price.currency))));
    out
}

/// Days of work, and when the floor is given back.
pub(super) fn schedule(voice: &mut Voice) -> Vec<Block> {
    let plan = voice.inputs.plan;
    let mut out = vec![heading(2, "Schedule")];
    if !plan.days.is_empty() {
        let holds = !voice.inputs.floor.holds.is_empty();
        let keys = [Some("schedule"), holds.then_some("schedule_holds")];
        let said: Vec<String> =
            keys.into_iter().flatten().filter_map(|key| voice.say(key)).collect();
        if !said.is_empty() {
            out.push(Block::Paragraph(said.join(" ").into()));
        }
        out.push(Block::Table(days(plan)));
    }
    let key = match plan.first_wait() {
        None => "return_to_service",
        Some(_) => "return_weather",
    };
    out.extend(voice.paragraph(key));
    out
}

fn days(plan: &Plan) -> Table {
    let row = |day: &Day| {
        let mut tasks: Vec<String> = Vec::new();
        for piece in &day.pieces {
            let task = in_plain_words(piece.kind).map_or_else(|| clean(&piece.task), String::from);
            let every_day = matches!(piece.kind, Kind::SetUp | Kind::PackUp);
            if !every_day && !tasks.contains(&task) {
                tasks.push(task);
            }
        }
        // A day that waits for the weather, and every day behind it, may come later.
        let when = format!("{}{}", date::day(&day.start), half(day));
        let cells = match plan.is_certain(day) {
            true => vec![when, capital(&tasks.join(", "))],
            false => vec![
                format!("{when}, if\u{a0}dry"),
                format!("{} ({ON_WEATHER})", capital(&tasks.join(", "))),
            ],
        };
        Row { cells, total: false }
    };
    Table {
        caption: String::new(),
        columns: vec![Column::left("Day"), Column::left("Work")],
        rows: plan.days.iter().map(row).collect(),
        whole: false,
    }
}

/// What the owner of the floor is told of a kind of work; nothing for a coat, which goes by its layers' names.
const fn in_plain_words(kind: Kind) -> Option<&'static str> {
    Some(match kind {
        Kind::RemoveCoating | Kind::Degrease => "clean the concrete and take off what is on it",
        Kind::SawJoints
        | Kind::DetailJoints
        | Kind::OpenBuried
        | Kind::Widen
        | Kind::ChaseCracks
        | Kind::CleanCuts => "cut and clean joints and cracks",
        Kind::FillJoints | Kind::FillCracks | Kind::Shave => "fill joints and cracks",
        Kind::Patch => "patch",
        Kind::Inject => "fill hollow places with resin",
        Kind::GrindFloor
        | Kind::GrindEdges
        | Kind::GrindSteps
        | Kind::GrindOver
        | Kind::PrepareFaces
        | Kind::CutTermination => "grind the floor and its edges",
        Kind::Mask | Kind::Vacuum => "mask and vacuum",
        Kind::FormCoves => "form coves",
        Kind::Abrade => "sand between coats",
        Kind::Scrape => "scrape and vacuum",
        Kind::RodAndSealant => "seal the joints that stay open",
        Kind::SetUp | Kind::Coat | Kind::PackUp => return None,
    })
}

/// Half a day, where the work of a day takes no more: before noon or after it.
fn half(day: &Day) -> &'static str {
    let ends = day.pieces.iter().map(|piece| piece.to_h).fold(0.0, f64::max);
    let starts = day.pieces.iter().map(|piece| piece.from_h).fold(f64::MAX, f64::min);
    match (starts, ends) {
        (_, ends) if ends <= NOON_H + 1.0 => "\u{a0}morning",
        (starts, _) if starts >= NOON_H => "\u{a0}afternoon",
        _ => "",
    }
}

/// Validity, payment, changes, warranty, and the notices that the law may ask for.
pub(super) fn terms(voice: &mut Voice) -> Vec<Block> {
    let mut out = vec![heading(2, "Terms")];
    let parts = [
        ("Validity.", "validity"),
        ("Payment.", "payment"),
        ("Changes.", "changes"),
        ("Warranty.", "warranty"),
    ];
    for (lead, key) in parts {
        let said = voice.say(key);
        out.extend(said.map(|said| Block::Paragraph(Text::strong(lead).then(said))));
    }
    out.push(notice(
        voice,
        "Right to cancel",
        "right_to_cancel",
        "the notice of the right to cancel, and the form that goes with it",
    ));
    out.push(notice(
        voice,
        "Deposit and payments",
        "deposit_notice",
        "what the law says of deposits and progress payments, where it caps them",
    ));
    out
}

/// The shop's own text, or its place with what belongs there.
fn notice(voice: &mut Voice, title: &str, key: &'static str, what: &str) -> Block {
    if let Some(text) = voice.say(key) {
        return Block::Notice { title: title.into(), paragraphs: vec![text.into()] };
    }
    voice.notice_missing(key);
    Block::Paragraph(Text::strong(format!("{title}.")).then(format!(
        "The shop puts its own text here before this is signed: {what}. Such notices differ by state, some word for word."
    )))
}

/// The last words and the places to sign.
pub(super) fn acceptance(voice: &mut Voice) -> Vec<Block> {
    let mut out = vec![heading(2, "Acceptance")];
    let mut said: Vec<String> = voice.say("acceptance").into_iter().collect();
    let alternates = voice.inputs.price.alternates.len();
    if alternates > 0 {
        let many = count(alternates, "alternate");
        said.push(format!("{many} offered under Price. Accepted: ____________"));
    }
    if !said.is_empty() {
        out.push(Block::Paragraph(said.join(" ").into()));
    }
    let client = voice.inputs.floor.sketch.job.client.as_deref().map(clean);
    let lines = || vec!["Signature".to_owned(), "Name".into(), "Date".into()];
    let owner = client.map_or("For the owner".into(), |c| format!("For the owner, {c}"));
    let shop = voice.say("company").map_or("For the shop".into(), |c| format!("For {c}"));
    out.push(Block::Signatures(vec![
        Signature { party: owner, lines: lines() },
        Signature { party: shop, lines: lines() },
    ]));
    out
}
