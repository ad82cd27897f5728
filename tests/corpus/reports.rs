//! Everything that the program makes of a floor, and what must hold of it.

use serde_json::Value;

use slabwalk::closeout;
use slabwalk::diagnostic::{Diagnostic, Severity};
use slabwalk::explain::Explanations;
use slabwalk::papers::compose;
use slabwalk::report::{self, Report};
use slabwalk::sheet::{Audience, Inputs, Options};
use slabwalk::shop::Shop;
use slabwalk::sketch::Sketch;
use slabwalk::survey::{Survey, survey};
use slabwalk::{audit, change, document, pdf, price, proposal, schedule, svg};

/// Measures a floor and writes all its reports, and its drawings too if they are wanted, which cost some thousand times as much;
/// gives whether there was a floor.
pub fn measured(
    text: &str,
    sketch: Sketch,
    faults: Vec<Diagnostic>,
    shop: Shop,
    drawn: bool,
) -> bool {
    let floor = match survey(sketch, shop, faults) {
        Ok(floor) => floor,
        Err(found) => {
            assert!(found.iter().any(|f| f.severity == Severity::Error), "refused without a word");
            return false;
        }
    };
    let json = tables(text, &floor);
    holds(&json, text);
    money(&floor);
    let explanations = Explanations::new(&floor);
    for id in explanations.ids() {
        assert!(explanations.of(&id).is_some(), "{id} is listed and not explained");
    }
    if drawn {
        papers(&floor);
    }
    true
}

fn tables(text: &str, floor: &Survey) -> Value {
    let report = Report::new(floor, text, None);
    let json = report::json::takeoff(&report);
    for width in [20, 80] {
        plain(&report::text::takeoff(&report, width));
    }
    plain(&report::csv::takeoff(&report));
    for (name, text) in report::order::pieces(floor).into_iter().chain(schedule::pieces(floor)) {
        if name.ends_with("json") {
            let read: Result<Value, _> = serde_json::from_str(&text);
            assert!(read.is_ok(), "{name}: {text}");
        } else {
            plain(&text);
        }
    }
    serde_json::from_slice(&json).expect("the takeoff is JSON")
}

/// No control character but ends of lines and tabs reaches a table; they would be obeyed by a terminal.
fn plain(text: &str) {
    let bad = text.chars().find(|c| c.is_control() && !matches!(c, '\n' | '\r' | '\t'));
    assert_eq!(bad, None, "{text}");
}

/// Numbers that hang together on any floor.
fn holds(json: &Value, text: &str) {
    let number = |pointer: &str| {
        let found = json.pointer(pointer).and_then(Value::as_f64);
        let found = found.unwrap_or_else(|| panic!("{pointer} is no number\n{text}"));
        assert!(found.is_finite() && found >= -1e-9, "{pointer} is {found}\n{text}");
        found
    };
    let (gross, keep) = (number("/area/gross_m2"), number("/area/keep_out_m2"));
    let (uncoated, net) = (number("/area/uncoated_m2"), number("/area/net_m2"));
    let close = |what: &str, a: f64, b: f64| {
        assert!((a - b).abs() <= 1e-6 + 1e-9 * gross, "{what}: {a} and {b}\n{text}");
    };
    close("net area", gross - keep - uncoated, net);
    close("coated area", net + number("/area/faces_m2"), number("/area/coated_m2"));
    let panels = json["panels"].as_array().expect("panels");
    let sum: f64 = panels.iter().filter_map(|p| p["area_m2"].as_f64()).sum();
    close("panels", sum, gross - keep);
    for (key, value) in json["totals"].as_object().expect("totals") {
        assert!(
            value.as_f64().is_some_and(|v| v.is_finite() && v >= -1e-9),
            "{key} is {value}\n{text}"
        );
    }
    for joint in json["joints"].as_array().expect("joints") {
        let of = |key: &str| joint[key].as_f64().expect("a number");
        if joint["treatment"] == "fill" {
            close("a joint is sawn or cut by hand", of("saw_m") + of("hand_m"), of("length_m"));
        }
    }
}

fn money(floor: &Survey) {
    if let Ok(priced) = price::price(floor) {
        plain(&price::report::text(floor, &priced));
        plain(&price::report::csv(floor, &priced));
        let _ = price::report::json(floor, &priced);
    }
    if let Ok(changed) = change::change(floor, floor) {
        assert!(changed.items.is_empty(), "a floor differs from itself: {:?}", changed.items);
    }
    if let Ok(job) = closeout::close_out(floor) {
        let jobs = [job.clone(), job.clone(), job];
        let verdicts = closeout::suggest(&jobs);
        plain(&closeout::report::text(&jobs, &verdicts));
        let _ = closeout::plot::sheet(&jobs);
    }
}

/// Drawings and the proposal, written and read back.
fn papers(floor: &Survey) {
    let plan = schedule::plan(floor);
    let inputs = Inputs { plan: Some(&plan), ..Inputs::of(floor, "fuzz.yaml", "0") };
    for audience in [Audience::Crew, Audience::Customer, Audience::Field] {
        let options = Options { audience, paper: None, scale: None };
        let Ok(sheets) = compose(&inputs, &options) else {
            continue;
        };
        let texts: Vec<(String, String)> =
            sheets.iter().map(|s| (s.name.clone(), svg::write(s))).collect();
        let named: Vec<(&str, &str)> =
            texts.iter().map(|(n, t)| (n.as_str(), t.as_str())).collect();
        let faults = audit::audit_set(&named);
        let unread = faults.iter().find(|f| f.code == audit::Code::Unreadable);
        assert!(unread.is_none(), "a drawing of ours can't be read: {unread:?}");
        assert!(pdf::write(&sheets, &pdf::Metadata::default()).is_ok());
    }
    let Ok(priced) = price::price(floor) else {
        return;
    };
    let (document, _) = proposal::proposal(&proposal::Inputs {
        floor,
        price: &priced.for_customer(),
        plan: &plan,
        told: proposal::told(&inputs, 100.0).0,
        logo: None,
        photos: &[],
    });
    let _ = document::html(&document);
    let _ = document::pages(&document, document::Paper::office(floor.slab.units));
}
