//! Parties, days, terms, notices and the place to sign.

use super::scope::heading;
use super::voice::{Voice, count};
use super::{Inputs, date};
use crate::document::{Block, Column, Row, Signature, Table, Text};
use crate::schedule::{Day, ON_WEATHER, Plan};
use crate::takeoff::words::clean;
use crate::trade::Kind;

/// Noon, hours after midnight; a morning may run an hour beyond it.
const NOON_H: f64 = 12.0;

/// Says that example prices are nobody's.
pub(super) fn not_to_be_signed(inputs: &Inputs) -> Option<Block> {
    inputs.price.example.then(|| Block::Notice {
        title: "Not to be signed: example prices".into(),
        paragraphs: vec!["Built-in example prices went into this paper. They are nobody's prices; the shop puts its own into its shop book.".into()],
    })
}

/// Who, for whom, where, when.
pub(super) fn parties(voice: &mut Voice) -> Vec<(String, Text)> {
    let job = &voice.inputs.floor.sketch.job;
    let blank = || "____________".to_owned();
    let mut from: Vec<String> = ["company", "address", "phone"]
        .iter()
        .filter_map(|key| voice.say(key))
        .collect();
    if let Some(license) = voice.say("license") {
        from.push(format!("license {license}"));
    }
    let from = if from.is_empty() {
        blank()
    } else {
        from.join(", ")
    };
    let text = |t: Option<&String>| t.map_or_else(blank, |t| clean(t));
    let day = job
        .surveyed
        .as_ref()
        .map_or_else(blank, |d| date::words(&d.value));
    let mut out: Vec<(String, Text)> = vec![
        ("From".into(), from.into()),
        ("For".into(), text(job.client.as_ref()).into()),
        ("Site".into(), text(job.site.as_ref()).into()),
        (
            "Date".into(),
            format!("{day}, the day of the survey").into(),
        ),
    ];
    if let Some(number) = &job.number {
        out.push(("Job number".into(), clean(number).into()));
    }
    if let Some(revision) = &job.revision {
        out.push(("Revision".into(), clean(revision).into()));
    }
    let price = voice.inputs.price;
    out.push((
        "Price".into(),
        Text::strong(price.total.with(&price.currency)),
    ));
    out
}

/// Days of work, and when the floor is given back.
pub(super) fn schedule(voice: &mut Voice) -> Vec<Block> {
    let plan = voice.inputs.plan;
    let mut out = vec![heading(2, "Schedule")];
    if !plan.days.is_empty() {
        out.extend(voice.paragraph("schedule"));
        if !voice.inputs.floor.holds.is_empty() {
            out.extend(voice.paragraph("schedule_holds"));
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
            let task = clean(&piece.task);
            let every_day = matches!(piece.kind, Kind::SetUp | Kind::PackUp);
            if !every_day && !tasks.contains(&task) {
                tasks.push(task);
            }
        }
        // A day that waits for the weather, and every day behind it, may come later.
        let when = format!("{}{}", date::day(&day.start), half(day));
        let cells = match plan.is_certain(day) {
            true => vec![when, tasks.join(", ")],
            false => vec![
                format!("{when}, if\u{a0}dry"),
                format!("{} ({ON_WEATHER})", tasks.join(", ")),
            ],
        };
        Row {
            cells,
            total: false,
        }
    };
    Table {
        caption: String::new(),
        columns: vec![Column::left("Day"), Column::left("Work")],
        rows: plan.days.iter().map(row).collect(),
        whole: plan.days.len() < 12,
    }
}

/// Half a day, where the work of a day takes no more: before noon or after it.
fn half(day: &Day) -> &'static str {
    let ends = day
        .pieces
        .iter()
        .map(|piece| piece.to_h)
        .fold(0.0, f64::max);
    let starts = day
        .pieces
        .iter()
        .map(|piece| piece.from_h)
        .fold(f64::MAX, f64::min);
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
    let text = voice.say(key).unwrap_or_else(|| {
        voice.notice_missing(key);
        format!(
            "The shop puts its own text here before this is signed: {what}. Such notices differ by state and some are prescribed word for word."
        )
    });
    Block::Notice {
        title: title.into(),
        paragraphs: vec![text.into()],
    }
}

/// The last words and the places to sign.
pub(super) fn acceptance(voice: &mut Voice) -> Vec<Block> {
    let mut out = vec![heading(2, "Acceptance")];
    out.extend(voice.paragraph("acceptance"));
    let alternates = voice.inputs.price.alternates.len();
    if alternates > 0 {
        let many = count(alternates, "alternate");
        out.push(Block::Paragraph(
            format!("{many} offered under Price; accepted: ____________").into(),
        ));
    }
    let client = voice.inputs.floor.sketch.job.client.as_deref().map(clean);
    let lines = || vec!["Signature".to_owned(), "Name".into(), "Date".into()];
    let owner = client.map_or("For the owner".into(), |c| format!("For the owner, {c}"));
    let shop = voice
        .say("company")
        .map_or("For the shop".into(), |c| format!("For {c}"));
    out.push(Block::Signatures(vec![
        Signature {
            party: owner,
            lines: lines(),
        },
        Signature {
            party: shop,
            lines: lines(),
        },
    ]));
    out
}
