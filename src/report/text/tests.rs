use super::*;
use crate::floor::Survey;
use crate::report::sample::{demonstrations, ft, metric, report, us};
use crate::takeoff::JointRepair;

fn text(sample: &Survey) -> String {
    takeoff(&report(sample), 80)
}

#[test]
fn the_whole_text_in_feet_and_inches() {
    insta::assert_snapshot!("us", text(&us()));
}

#[test]
fn the_whole_text_in_metres() {
    insta::assert_snapshot!("metric", text(&metric()));
}

#[test]
fn nothing_is_wider_than_the_page() {
    for (name, sample) in [("us", us()), ("metric", metric())] {
        for width in [80, 100] {
            let text = takeoff(&report(&sample), width);
            for line in text.lines() {
                assert!(line.chars().count() <= width, "{name} at {width}: {line}");
                assert_eq!(line.trim_end(), line, "blanks at the end");
            }
        }
    }
}

#[test]
fn long_joints_are_given_to_the_inch_where_the_page_is_too_narrow() {
    let mut sample = us();
    for joint in &mut sample.takeoff.joints {
        joint.length_m = ft(112.0) + 0.0127;
        if let JointRepair::Fill(chase) = &mut joint.repair {
            chase.saw_m = ft(111.5) + 0.0127;
        }
    }
    let text = text(&sample);
    assert!(text.contains("Lengths to the nearest inch."), "{text}");
    assert!(text.contains(" 112'-1\""), "{text}");
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
    let wide = takeoff(&report(&sample), 120);
    assert!(wide.contains("112'-0 1/2\""), "{wide}");
}

#[test]
fn sections_with_nothing_in_them_are_left_out() {
    let mut sample = us();
    let full = text(&sample);
    let titles = |text: &str| {
        let title = |line: &&str| line.chars().all(|c| !c.is_lowercase()) && line.len() > 3;
        let real = |line: &&str| !line.starts_with('─') && line.chars().any(char::is_alphabetic);
        text.lines().filter(title).filter(real).map(str::to_owned).collect::<Vec<_>>()
    };
    assert_eq!(titles(&full).len(), 16, "{:#?}", titles(&full));
    let (takeoff, slab) = (&mut sample.takeoff, &mut sample.slab);
    takeoff.joints.clear();
    takeoff.cracks.clear();
    takeoff.spalls.clear();
    takeoff.patches.clear();
    takeoff.lippage.clear();
    takeoff.findings.clear();
    takeoff.totals = crate::takeoff::Totals::default();
    slab.joints.clear();
    slab.cracks.clear();
    slab.spalls.clear();
    slab.lippage.clear();
    slab.panels.clear();
    slab.blemishes.clear();
    sample.order = crate::order::Order::default();
    sample.holds.clear();
    assert_eq!(titles(&text(&sample)), ["TOTALS", "FLOOR", "CONDITIONS"]);
}

#[test]
fn findings_come_last_and_say_what_they_weigh() {
    let text = text(&us());
    let at = text.find("FINDINGS: 1 STOP, 1 WARNING, 1 NOTE").expect("a title");
    let rest = &text[at..];
    assert!(rest.find("TOTALS").is_none() && text.find("TOTALS").is_some());
    for lead in ["\nstop     line 12: J1 is cut", "\nwarning  line 21: M1", "\nnote     3 tests"] {
        assert!(rest.contains(lead), "{lead:?} in {rest}");
    }
}

#[test]
fn findings_that_call_for_the_same_are_told_together() {
    let mut sample = us();
    let mut again = sample.takeoff.findings[0].clone();
    again.message = "J3 is cut deep too".to_owned();
    sample.takeoff.findings.insert(1, again);
    let told = text(&sample);
    assert_eq!(told.matches("What to do: have the tubes located").count(), 1, "{told}");
    assert!(told.contains("tubes at 1\"\n         line 12: J1: J3 is cut deep too"), "{told}");
    sample.takeoff.findings[1].hint = None;
    assert_eq!(text(&sample).matches("(source: common practice, chase-cover)").count(), 2);
}

#[test]
fn text_of_the_sketch_moves_no_cursor() {
    let mut sample = us();
    sample.sketch.job.name = "shop\u{1b}[2J\nJ9".to_owned();
    sample.slab.joints[0].note = Some("one\ttwo\u{7}".to_owned());
    sample.takeoff.findings[0].message = "a\u{1b}[31mred".to_owned();
    let text = text(&sample);
    assert!(!text.chars().any(|c| c.is_control() && c != '\n'), "{text:?}");
    assert!(text.starts_with("shop [2J J9\n"), "{text}");
}

#[test]
fn numbers_that_are_none_do_not_panic() {
    let mut sample = us();
    sample.takeoff.area.gross_m2 = f64::NAN;
    sample.takeoff.joints[0].length_m = f64::INFINITY;
    sample.takeoff.totals.saw_m = f64::MAX;
    assert!(text(&sample).contains('?'));
    assert!(takeoff(&report(&sample), 0).contains('?'));
    assert!(takeoff(&report(&sample), usize::MAX).contains('?'));
}

#[test]
fn the_demonstration_floors_fit_a_page() {
    for (name, survey) in demonstrations() {
        let text = text(survey);
        for line in text.lines() {
            assert!(line.chars().count() <= 80, "{name}: {line}");
        }
        for joint in &survey.takeoff.joints {
            assert!(text.contains(&joint.id), "{name} leaves out {}", joint.id);
        }
    }
}
