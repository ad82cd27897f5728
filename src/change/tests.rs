//! Change orders by hand, and what holds for every one.

use super::*;
use crate::quantity::Money;
use crate::sketch::UnitKind;
use crate::survey::{Survey, survey};

fn floor(sketch: &str) -> Survey {
    let (parsed, found) = crate::sketch::parse(sketch);
    let parsed = parsed.unwrap_or_else(|| panic!("{found:?}\n{sketch}"));
    survey(parsed, crate::shop::built_in(), Vec::new()).expect("a floor")
}

/// A slab of 40 by 30 ft with a joint of 20 ft, sold at round unit prices.
const HEAD: &str = "slabwalk: 1\njob: {name: hall, number: 26-7}\nslab: {post_tension: none, outline: [[0, 0], [40', 0], [40', 30'], [0, 30']]}\nprice: {unit_prices: {joint: 10, joint_open: 4, joint_honor: 7, crack: 9, crack_chase: 12.50, hand_grind: 20, patch: 200, filler: 50, floor: 5}}\n";
const SOLD: &str = "joints: [{id: J1, kind: control, path: [[5', 10'], [25', 10']], width: 1/4, depth: 3/4}]\ncracks: [{id: C1, path: [[5', 20'], [15', 20']], width: 1/16}]\n";

fn changed(items: &str) -> Change {
    let (old, new) = (floor(&format!("{HEAD}{SOLD}")), floor(&format!("{HEAD}{items}")));
    change(&old, &new).expect("a change order")
}

/// The items that changed, with their amounts, and the sum.
fn said(change: &Change) -> Vec<String> {
    let items = change.items.iter();
    items.map(|item| format!("{} {} {}", item.id, item.how.word(), item.amount)).collect()
}

/// V-M3 (FAR 52.211-18): of 200 ft estimated and 260 done, 30 lie beyond 115 %; of 150 done, 20 are
/// short of 85 %; 225 lie within.
#[test]
fn only_the_part_beyond_is_priced_anew() {
    for (name, estimated, actual, over, under) in [
        ("V-M3 over", "200", "260", "30", "0"),
        ("V-M3 under", "200", "150", "0", "20"),
        ("V-M3 within", "200", "225", "0", "0"),
        ("just at the limit", "200", "230", "0", "0"),
        ("just beyond", "200", "230.1", "0.1", "0"),
        ("short at the limit", "200", "170", "0", "0"),
        // Of nothing there is no band: the not-to-exceed holds.
        ("nothing estimated", "0", "12.5", "0", "0"),
        ("all gone", "20", "0", "0", "17"),
    ] {
        let number = |text: &str| text.parse().expect("a number");
        let got = repricing(number(estimated), number(actual));
        assert_eq!(got, (number(over), number(under)), "{name}");
    }
}

/// Each row: what was found, what the change order says, its words, its sum. By hand at the unit
/// prices above.
#[test]
fn what_changed_and_what_it_costs() {
    let joint = |more: &str| SOLD.replace("depth: 3/4", more);
    for (name, items, want, words, sum) in [
        ("nothing", SOLD.to_owned(), vec![], "", "0.00"),
        // 5 ft more at 10.
        ("longer joint", SOLD.replace("[25', 10']", "[30', 10']"), vec!["J1 grown 50.00"], "Joint J1 was found longer: 25.0 ft instead of 20.0 ft.", "50.00"),
        // 4 ft less at 9.
        ("shorter crack", SOLD.replace("[15', 20']", "[11', 20']"), vec!["C1 shrunk -36.00"], "Crack C1 was found shorter: 6.0 ft instead of 10.0 ft.", "-36.00"),
        // Twice as deep: 20 × 12 × 1/4 × 3/4 = 45 in³ more, with 10 % waste 49.5 of 36.614 a
        // package, 1.35 at 50.
        ("deeper joint", joint("depth: 1 1/2"), vec!["J1 grown 67.50"], "Joint J1 was found deeper: cut 1/4\" wide and 1 1/2\" deep instead of 1/4\" and 3/4\".", "67.50"),
        // 20 ft opened at 4.
        ("buried joint", joint("buried: true"), vec!["J1 grown 80.00"], "Joint J1 was found buried: 20.0 ft to be opened.", "80.00"),
        // 20 ft honored at 7 less 20 ft filled at 10.
        ("other treatment", joint("treatment: honor"), vec!["J1 changed treatment -60.00"], "Joint J1 is treated otherwise: 20.0 ft 1/4\" wide, honored with rod and sealant instead of 20.0 ft cut 1/4\" wide and 3/4\" deep, filled and shaved.", "-60.00"),
        // 10 ft at 12.50 instead of 9.
        ("wider crack", SOLD.replace("1/16", "3/16"), vec!["C1 changed treatment 35.00"], "Now 10.0 ft cut open and filled; before 10.0 ft filled.", "35.00"),
        // 10 ft at 9 gone.
        ("no crack", SOLD.split("cracks").next().unwrap_or("").to_owned(), vec!["C1 removed -90.00"], "Crack C1 is no longer in the job: 10.0 ft less.", "-90.00"),
        // A buried isolation joint of 19.7 ft: opened at 4 and honored at 7.
        ("a buried joint found", SOLD.replace("}]\ncracks", "}, {id: J5, kind: isolation, path: [[5', 25'], [24.7', 25']], width: 1/2, buried: true, note: under the mat}]\ncracks"), vec!["J5 added 216.70"], "Joint J5 was found buried: 19.7 ft opened, 1/2\" wide, honored with rod and sealant. The sketch notes: “under the mat”", "216.70"),
        // A step of 1/4 in over 10 ft at 1:12 is a band of 3 in: 2.5 ft² at 20.
        ("a step", format!("{SOLD}lippage: [{{id: L1, along: J1, high: N, step: 1/4, from: 2', to: 12'}}]\n"), vec!["L1 added 50.00"], "Offset L1 was found: to be ground by hand 2.5 ft² over 10.0 ft, up to 1/4\" high.", "50.00"),
        // Skimmed: 24 × 12 × 1/4 = 72 in³ = 0.041667 ft³, with 10 % waste ÷ 0.4 = 0.1146 bag: 0.11 at 200.
        ("a spall", format!("{SOLD}spalls: [{{id: S1, box: {{corner: [30', 5'], size: [2', 1']}}, depth: 1/4}}]\n"), vec!["S1 added 22.00"], "Spall S1 was found: 2.0 ft²", "22.00"),
        // Cut out 3 in beyond on every side: 18 × 18 × 3/4 = 243 in³ = 0.140625 ft³, with 10 % waste ÷ 0.4 = 0.3867 bag: 0.39 at 200.
        ("a hollow spot", format!("{SOLD}delaminations: [{{id: D1, box: {{corner: [30', 5'], size: [1', 1']}}, depth: 3/4}}]\n"), vec!["D1 added 78.00"], "Delamination D1 was found: 1.0 ft²", "78.00"),
        ("a hollow spot left", format!("{SOLD}delaminations: [{{id: D1, box: {{corner: [30', 5'], size: [1', 1']}}, depth: 3/4, treatment: leave}}]\n"), vec!["D1 added 0.00"], "Delamination D1 was found: 1.0 ft², left.", "0.00"),
    ] {
        let change = changed(&items);
        assert_eq!(said(&change), want, "{name}");
        assert_eq!(change.amount.to_string(), sum, "{name}");
        let found = change.items.iter().map(|item| item.words.as_str()).collect::<Vec<_>>().join(" ");
        assert!(found.contains(words), "{name}: {found}");
    }
}

/// A hollow spot that is injected where none was sold has the unit price of the second sketch: 4 ft² at what a square foot costs.
#[test]
fn concealed_injection_has_a_unit_price() {
    let change = changed(&format!(
        "{SOLD}delaminations: [{{id: D1, box: {{corner: [30', 5'], size: [2', 2']}}, depth: 1, treatment: inject}}]\n"
    ));
    let [item] = change.items.as_slice() else { panic!("{:?}", change.items) };
    let [part] = item.parts.as_slice() else { panic!("{:?}", item.parts) };
    assert_eq!((part.kind, part.after.to_string().as_str()), (UnitKind::Inject, "4"));
    assert!(
        item.words.contains("Delamination D1 was found: 4.0 ft², 4.0 ft² injected"),
        "{}",
        item.words
    );
}

/// An isolation joint of 20 ft, sold as wide as given, found as wide as given: what the change order says
/// of it, and what of it lies beyond the agreed unit, which holds up to 1/2 in.
#[test]
fn a_joint_found_wider_is_named_and_marked_where_its_unit_price_ends() {
    let joint = |width: &str| {
        let line = format!(
            "joints: [{{id: J2, kind: isolation, path: [[5', 10'], [25', 10']], width: {width}}}]\n"
        );
        floor(&format!("{HEAD}{line}"))
    };
    let marked = |beyond: &str| {
        format!(
            "     BEYOND THE AGREED UNIT (joint, honored with rod and sealant, {beyond} TO BE PRICED ANEW; until then what changes stands here at the unit price."
        )
    };
    for (name, sold, found, words, beyond) in [
        (
            "twice as wide",
            "1/2",
            "1",
            "Joint J2 was found wider: sealed 1\" wide instead of 1/2\".",
            Some("up to 1/2\" wide): 20.0 ft are 1\" wide."),
        ),
        (
            "within the unit",
            "1/4",
            "1/2",
            "Joint J2 was found wider: sealed 1/2\" wide instead of 1/4\".",
            None,
        ),
        // Widened to 1/4 in: not wider than was sold, and 20 ft to be cut by hand.
        (
            "too narrow for its rod",
            "1/4",
            "1/8",
            "20.0 ft widened by hand; before none of it.",
            Some("as wide as it is): 20.0 ft have to be widened first."),
        ),
        (
            "no longer so wide",
            "1",
            "1/2",
            "Joint J2 was found narrower: sealed 1/2\" wide instead of 1\".",
            Some("up to 1/2\" wide): 0.0 ft instead of 20.0 ft are 1\" wide."),
        ),
    ] {
        let change = change(&joint(sold), &joint(found)).expect("a change order");
        assert_eq!(said(&change), ["J2 found otherwise 0.00"], "{name}");
        assert!(change.items[0].words.contains(words), "{name}: {}", change.items[0].words);
        let text = report::text(&change);
        let unbroken = text.split_whitespace().collect::<Vec<_>>().join(" ");
        match beyond {
            Some(beyond) => {
                assert!(unbroken.contains(marked(beyond).trim()), "{name}: {text}");
                let not_all = "changes by +$0.00. What lies beyond an agreed unit is not in it yet, but for its unit price.";
                assert!(unbroken.contains(not_all), "{name}: {text}");
            }
            None => assert!(!text.contains("BEYOND"), "{name}: {text}"),
        }
        let csv = report::csv(&change);
        assert_eq!(csv.contains("\nbeyond,1,J2,"), beyond.is_some(), "{name}: {csv}");
    }
}

/// Nothing honored and nothing opened was sold: what is found goes at the unit prices, held against a
/// tenth of the price of the job as sold, and no band of 15 % is said to be left.
#[test]
fn what_was_not_estimated_has_a_not_to_exceed_and_no_band() {
    let sold = floor(&format!("{HEAD}{SOLD}"));
    let most =
        crate::price::not_to_exceed(&sold, crate::price::build_up(&sold).expect("a price").price);
    let buried = |feet: f64| {
        let line = format!(
            "}}, {{id: J5, kind: isolation, path: [[1', 25'], [{}', 25']], width: 1/2, buried: true}}]\ncracks",
            1.0 + feet
        );
        changed(&SOLD.replace("}]\ncracks", &line))
    };
    // The job was sold at 2,155.00; a tenth of it, 215.50, is 215.00 as the shop rounds its prices. 10 ft opened at 4 and honored at
    // 7 are 110.00; 19.7 ft 216.70.
    assert_eq!(most.to_string(), "215.00");
    let within = buried(10.0);
    let concealed = within.concealed.expect("not estimated");
    assert_eq!(concealed.amount.to_string(), "110.00");
    assert_eq!((concealed.not_to_exceed, concealed.over), (Some(most), None));
    let text = report::text(&within);
    let unbroken = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(!text.contains("TO BE PRICED ANEW"), "{text}");
    let sentence = format!(
        "Of kinds of which nothing was estimated: $110.00 at the agreed unit prices, not to exceed {} in all without a new signature.",
        most.with("$")
    );
    assert!(unbroken(&text).contains(&sentence), "{text}");
    let beyond = buried(19.7);
    let over = beyond.concealed.and_then(|concealed| concealed.over);
    let over = over.expect("19.7 ft are beyond it");
    assert_eq!(over, "216.70".parse().map(Money::rounded).expect("money") - most);
    let text = unbroken(&report::text(&beyond));
    let sentence =
        format!("BEYOND THE NOT-TO-EXCEED by {}: sign for it before it is done.", over.with("$"));
    assert!(text.contains(&sentence), "{text}");
    // What was estimated keeps its band, and nothing is said of a not-to-exceed.
    let longer = changed(&SOLD.replace("[25', 10']", "[35', 10']"));
    assert_eq!(longer.concealed, None);
    assert!(!report::text(&longer).contains("exceed"));
}

/// 20 ft sold, 30 ft found: 7 ft lie beyond 115 %, 23 ft; all ten feet stand at the unit price.
#[test]
fn the_excess_is_marked_and_no_more() {
    let change = changed(&SOLD.replace("[25', 10']", "[35', 10']"));
    let total = &change.totals[0];
    assert_eq!((total.kind, total.over.to_string().as_str()), (UnitKind::Joint, "7"));
    assert_eq!(total.amount.to_string(), "100.00");
    let text = report::text(&change);
    let marked = "TO BE PRICED ANEW: 7 ft, the part beyond 23 ft (115% of 20).";
    assert!(text.contains(marked), "{text}");
    let within = changed(&SOLD.replace("[25', 10']", "[28', 10']"));
    assert!(!report::text(&within).contains("TO BE PRICED ANEW"));
}

#[test]
fn different_jobs_are_no_change_order() {
    let old = floor(&format!("{HEAD}{SOLD}"));
    for (name, from, to, said) in [
        ("name", "name: hall", "name: garage", "the names are `hall` and `garage`"),
        ("number", "number: 26-7", "number: 26-8", "the job numbers are `26-7` and `26-8`"),
        ("both", "name: hall, number: 26-7", "name: x, number: y", "the job numbers"),
    ] {
        let new = floor(&format!("{HEAD}{SOLD}").replace(from, to));
        let faults = change(&old, &new).expect_err(name);
        assert!(faults[0].message.contains(said), "{name}: {}", faults[0].message);
    }
    for (name, from, to) in [
        ("case and blanks", "name: hall", "name: \"Hall \""),
        ("no number", ", number: 26-7", ""),
        ("a revision", "name: hall", "name: hall, revision: B"),
    ] {
        let new = floor(&format!("{HEAD}{SOLD}").replace(from, to));
        assert!(change(&old, &new).is_ok(), "{name}");
    }
}

#[test]
fn another_system_and_blemishes_are_not_priced_here() {
    let coated = format!(
        "{SOLD}coating: {{system: quartz}}\nblemishes: [{{what: oil, box: {{corner: [1', 1'], size: [4', 4']}}}}]\n"
    );
    let change = changed(&coated);
    assert_eq!(change.unpriced.len(), 3, "{:?}", change.unpriced);
    let days = "The work takes 4 working days instead of 1: driving and machines by the day have no unit price.";
    assert_eq!(change.unpriced[2], days);
    assert!(change.unpriced[0].contains("quartz instead of none"));
    assert!(change.unpriced[1].contains("16.0 ft² instead of 0.0 ft²"));
}

/// Items add up to the sum, kinds of work add up to the sum, and the change back is its negative.
#[test]
fn sums_agree_whichever_way_they_are_added() {
    let found = "joints: [{id: J1, kind: control, path: [[5', 10'], [31.37', 11.9']], width: 3/8, depth: 1}, {id: J2, kind: isolation, path: [[1', 2'], [39', 3']], width: 1/2, buried: true}]\ncracks: [{id: C2, path: [[5', 20'], [15.3', 22.7']], widths: [[0, 1/16], [4', 3/16]]}]\nspalls: [{id: S1, box: {corner: [30', 15'], size: [5\", 9\"]}, depth: 3/4}]\n";
    let (old, new) = (floor(&format!("{HEAD}{SOLD}")), floor(&format!("{HEAD}{found}")));
    let there = change(&old, &new).expect("a change order");
    let back = change(&new, &old).expect("a change order");
    let items: Money = there.items.iter().map(|item| item.amount).sum();
    let kinds: Money = there.totals.iter().map(|total| total.amount).sum();
    assert_eq!((items, kinds), (there.amount, there.amount));
    assert_eq!(there.amount, -back.amount);
    assert!(there.items.len() >= 4, "{:?}", said(&there));
    let numbers: Vec<usize> = there.items.iter().map(|item| item.number).collect();
    assert_eq!(numbers, (1..=there.items.len()).collect::<Vec<_>>());
}
