use super::*;
use crate::schedule::plan as planned;
use crate::sheet::fixture::{GARAGE, KITCHEN, floor, inputs};
use crate::sheet::paper::{Paper, Size};
use crate::survey::Survey;

fn tabloid() -> Ground {
    Ground::new(Paper::landscape(Size::Tabloid))
}

fn drawn(survey: &Survey, plan: &Plan) -> (Vec<Page>, day::Bars) {
    let mut inputs = inputs(survey);
    inputs.plan = Some(plan);
    (pages(&inputs, &tabloid()), day::Bars::new(&inputs, plan))
}

#[test]
fn every_piece_of_every_day_has_its_row() {
    let survey = floor(GARAGE);
    let plan = planned(&survey);
    let (_, bars) = drawn(&survey, &plan);
    assert_eq!(plan.days.len(), 3);
    for day in &plan.days {
        let rows = bars.rows(day);
        for piece in &day.pieces {
            assert!(rows.iter().any(|r| r.name == piece.task), "{}", piece.task);
        }
    }
}

/// The primer ends at 11:36. At 66 °F its window opens 8 + (14 − 8) · 4/20 = 9.2 h later, at 20:48, and closes
/// 24 + (48 − 24) · 4/20 = 28.8 h later, at 16:24 on the next day.
#[test]
fn a_window_is_drawn_on_the_day_it_opens_and_on_the_day_it_closes() {
    let survey = floor(GARAGE);
    let plan = planned(&survey);
    let (_, bars) = drawn(&survey, &plan);
    let figures = |day: usize| -> Vec<(String, String)> {
        let rows = bars.rows(&plan.days[day]).into_iter();
        rows.filter(|r| r.name.starts_with("window"))
            .map(|r| (r.name, r.figures))
            .collect()
    };
    assert_eq!(
        figures(0),
        [("window on primer".into(), "from 20:48".into())]
    );
    let second = figures(1);
    assert_eq!(second[0], ("window on primer".into(), "to 16:24".into()));
    assert_eq!(second[1].0, "window on base coat, flake");
    // Waiting is drawn otherwise than work and than the open window.
    let text = format!("{:?}", bars.rows(&plan.days[0]));
    assert!(text.contains("Wait") && text.contains("Work"), "{text}");
    assert!(format!("{:?}", bars.rows(&plan.days[1])).contains("Window"));
}

#[test]
fn each_coat_has_go_or_wait_with_the_number() {
    let survey = floor(GARAGE);
    let plan = planned(&survey);
    let (_, bars) = drawn(&survey, &plan);
    let said = |day: usize| format!("{:?}", bars.words(&plan.days[day]));
    assert!(said(0).contains("GO, primer"), "{}", said(0));
    assert!(said(0).contains("spread 8.3 °F of at least 5 °F"));
    assert!(said(2).contains("WAIT, top coat, grit"), "{}", said(2));
    assert!(said(2).contains("dew point 62.3 °F, spread 1.7 °F"));
    // Without a forecast it says what to measure.
    let bare = floor(&GARAGE.replace("  start: 2026-09-23\n", ""));
    let plan = planned(&bare);
    let (_, bars) = drawn(&bare, &plan);
    let said = format!("{:?}", bars.words(&plan.days[0]));
    assert!(said.contains("No forecast") && said.contains("5 °F above the dew point"));
}

#[test]
fn dust_stands_below_the_day_with_respirator_and_collector() {
    let survey = floor(GARAGE);
    let plan = planned(&survey);
    let (_, bars) = drawn(&survey, &plan);
    let said = bars.words(&plan.days[0]);
    let rest = |lead: &str| {
        let found = said.iter().filter(|(l, _)| l == lead);
        found.map(|(_, r)| r.clone()).collect::<Vec<_>>().join(" ")
    };
    assert!(rest("Silica, indoors").starts_with("3.9 h of Table 1 tasks"));
    assert!(rest("Respirator, APF 10").contains("Chipping tool"));
    assert!(rest("Not in Table 1: assess exposure").contains("Joint saw, dry"));
    assert!(rest("No respirator by the table").contains("at least 175 cfm"));
    // A day of coats alone has no dust.
    assert!(!format!("{:?}", bars.words(&plan.days[1])).contains("Silica"));
    let outdoors = floor(&GARAGE.replace("site: indoors", "site: outdoors"));
    let plan = planned(&outdoors);
    let (_, bars) = drawn(&outdoors, &plan);
    let said = format!("{:?}", bars.words(&plan.days[0]));
    assert!(said.contains("Silica, outdoors"));
    // Chipping outdoors up to four hours needs none by the table; what is cut by hand does not follow it.
    assert!(!said.contains("\"Respirator, APF 10\""), "{said}");
    assert!(said.contains("Respirator, APF 10 until exposure is assessed"));
}

#[test]
fn what_stops_the_work_stands_over_the_days() {
    let survey = floor(KITCHEN);
    let (pages, _) = drawn(&survey, &planned(&survey));
    let text = format!("{:?}", pages[0].groups);
    let stop = text
        .find("HOLD: CLEAR THIS BEFORE WORK STARTS")
        .expect("a hold");
    assert!(stop < text.find("DAY 1").expect("a day"));
    // With three tests of one kind nothing on this floor is on hold.
    let survey = floor(&GARAGE.replace("mver: 2.5", "rh: 70%"));
    let (pages, _) = drawn(&survey, &planned(&survey));
    assert!(!format!("{:?}", pages[0].groups).contains("HOLD"));
}

#[test]
fn no_plan_no_sheet() {
    let survey = floor(GARAGE);
    assert!(pages(&inputs(&survey), &tabloid()).is_empty());
    let (pages, _) = drawn(&survey, &planned(&survey));
    assert_eq!(pages.len(), 1);
    let text = format!("{:?}", pages[0].groups);
    for words in [
        "DAY 1, Wednesday 2026-09-23",
        "On foot.",
        "Vehicles.",
        "data sheets of the products",
    ] {
        assert!(text.contains(words), "{words}");
    }
}
