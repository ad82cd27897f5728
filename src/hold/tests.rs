//! What is on hold and what is not, on small floors.

use super::*;
use crate::diagnostic::Diagnostic;

/// A room of 20 by 20 ft with three tests of one kind, and what is added to a part of its sketch.
fn floor(slab: &str, more: &str) -> crate::floor::Survey {
    let text = format!(
        "slabwalk: 1\njob: {{name: Room, surveyed: 2026-09-14}}\nslab:\n  outline: [[0, 0], [20', 0], [20', 20'], [0, 20']]\n  {slab}\n{more}"
    );
    let (sketch, faults) = crate::sketch::parse(&text);
    assert_eq!(faults, [], "{text}");
    let survey =
        crate::survey::survey(sketch.expect("a sketch"), crate::shop::built_in(), Vec::new());
    survey.unwrap_or_else(|faults| panic!("{faults:?}"))
}

const NONE: &str = "post_tension: none";
const DRY: &str = "tests: {moisture: [{at: [5', 5'], rh: 70%}, {at: [9', 5'], rh: 70%}, {at: [5', 9'], rh: 70%}]}\n";
const JOINT: &str = "joints: [{id: J1, kind: control, x: 10', width: 1/4, depth: 1}]\n";

fn codes(floor: &crate::floor::Survey) -> Vec<&'static str> {
    floor.holds.iter().map(|hold| hold.code.word()).collect()
}

#[test]
fn codes_stand_in_their_own_places() {
    for (place, (code, word, _)) in Code::ALL.iter().enumerate() {
        assert_eq!(*code as usize, place, "{word}");
        assert_eq!(code.word(), *word);
    }
}

#[test]
fn what_holds_which_work() {
    let step = |height: &str| {
        format!("lippage: [{{id: L1, along: [[4', 4'], [4', 12']], high: W, step: {height}}}]\n")
    };
    let blemish = |what: &str| {
        format!("blemishes: [{{id: B1, box: {{corner: [2', 2'], size: [3', 3']}}, {what}}}]\n")
    };
    let crack = |more: &str| {
        format!("cracks: [{{id: C1, path: [[2', 2'], [6', 9']], movement: dormant, {more}}}]\n")
    };
    let tests = |list: &str| format!("tests: {{moisture: [{list}]}}\n");
    let rh = |n: usize| vec!["{at: [5', 5'], rh: 70%}"; n].join(", ");
    let both = |n: usize| format!("{}, {{at: [9', 9'], mver: 2.5}}", rh(n));
    let tube = |cover: &str| format!("{NONE}\n  embedded: [{{what: tubes{cover}}}]");
    let young = |day: &str| format!("{NONE}\n  placed: {day}");
    let start = "coating: {system: flake, start: 2026-10-01}\n";
    let rows: [(&str, &str, String, &[(&str, &[&str])]); 34] = [
        ("nothing cut", "thickness: 4", DRY.into(), &[]),
        ("a cut, no tendons", NONE, format!("{JOINT}{DRY}"), &[]),
        (
            "a cut, nobody knows",
            "thickness: 4",
            format!("{JOINT}{DRY}"),
            &[("post-tension-unknown", &["J1"])],
        ),
        (
            "a cut, stamped",
            "post_tension: stamped",
            format!("{JOINT}{DRY}"),
            &[("post-tension", &["J1"])],
        ),
        (
            "buried, honored, stamped",
            "post_tension: stamped",
            format!(
                "joints: [{{id: J1, kind: isolation, x: 10', width: 1/2, buried: true}}]\n{DRY}"
            ),
            &[("post-tension", &["J1"])],
        ),
        // The chase is 1 in deep: 0.01 in above tubes was no finding; 3/4 in has to stay.
        (
            "tubes 0.01 in below",
            &tube(", cover: 1.01 in"),
            format!("{JOINT}{DRY}"),
            &[("chase-cover", &["J1"])],
        ),
        (
            "tubes just under the margin",
            &tube(", cover: 1.74 in"),
            format!("{JOINT}{DRY}"),
            &[("chase-cover", &["J1"])],
        ),
        ("tubes at the margin", &tube(", cover: 1 3/4 in"), format!("{JOINT}{DRY}"), &[]),
        (
            "tubes reached",
            &tube(", cover: 3/4 in"),
            format!("{JOINT}{DRY}"),
            &[("chase-cover", &["J1"])],
        ),
        ("tubes somewhere", &tube(""), format!("{JOINT}{DRY}"), &[("cover-unknown", &["J1"])]),
        ("tubes and no cut", &tube(""), DRY.into(), &[]),
        // A step of 3 in on a stamped slab, its joint on `leave`, was ground by hand without a word.
        (
            "3 in, stamped",
            "post_tension: stamped\n  thickness: 5",
            format!(
                "joints: [{{id: J1, kind: control, x: 10', treatment: leave}}]\nlippage: [{{id: L1, along: J1, high: left, step: 3}}]\n{DRY}"
            ),
            &[("step-post-tension", &["L1"]), ("step-thin", &["L1"]), ("step-high", &["L1"])],
        ),
        ("1/4 in", NONE, format!("{}{DRY}", step("1/4")), &[]),
        ("1/2 in", NONE, format!("{}{DRY}", step("1/2")), &[]),
        ("9/16 in", NONE, format!("{}{DRY}", step("9/16")), &[("step-high", &["L1"])]),
        (
            "1/4 in on 3 3/4 in",
            &format!("{NONE}\n  thickness: 3.75"),
            format!("{}{DRY}", step("1/4")),
            &[],
        ),
        (
            "1/4 in on 3 5/8 in",
            &format!("{NONE}\n  thickness: 3.625"),
            format!("{}{DRY}", step("1/4")),
            &[("step-thin", &["L1"])],
        ),
        (
            "1/8 in, never ground by hand",
            "post_tension: stamped\n  thickness: 3",
            format!("{}{DRY}", step("1/8")),
            &[],
        ),
        (
            "paint",
            NONE,
            format!("{}{DRY}", blemish("what: paint")),
            &[("test-before-grinding", &["B1"])],
        ),
        (
            "adhesive",
            NONE,
            format!("{}{DRY}", blemish("what: adhesive")),
            &[("test-before-grinding", &["B1"])],
        ),
        ("oil", NONE, format!("{}{DRY}", blemish("what: oil")), &[]),
        (
            "paint, clear",
            NONE,
            format!("{}{DRY}", blemish("what: paint, tested: clear, tested_on: 2026-09-12")),
            &[],
        ),
        (
            "paint, lead",
            NONE,
            format!("{}{DRY}", blemish("what: paint, tested: lead")),
            &[("abatement", &["B1"])],
        ),
        (
            "sealer, asbestos",
            NONE,
            format!("{}{DRY}", blemish("what: sealer, tested: asbestos")),
            &[("abatement", &["B1"])],
        ),
        ("no test", NONE, String::new(), &[("moisture-tests-wanted", &[])]),
        ("two and one", NONE, tests(&both(2)), &[("moisture-tests-wanted", &[])]),
        ("three and one", NONE, tests(&both(3)), &[]),
        (
            "over the limit",
            NONE,
            tests(&format!("{}, {{id: M9, at: [9', 9'], rh: 76%}}", rh(2))),
            &[("moisture-over-limit", &["M9"])],
        ),
        (
            "wide crack",
            NONE,
            format!("{}{DRY}", crack("width: 5/16")),
            &[("engineer-wanted", &["C1"])],
        ),
        (
            "wide crack, stamped",
            "post_tension: stamped",
            format!("{}{DRY}", crack("width: 5/16, treatment: leave")),
            &[("engineer-wanted", &["C1"])],
        ),
        ("27 days", &young("2026-09-04"), format!("{DRY}{start}"), &[("slab-age", &[])]),
        ("28 days", &young("2026-09-03"), format!("{DRY}{start}"), &[]),
        (
            "59 days, filled",
            &young("2026-08-03"),
            format!("{JOINT}{DRY}{start}"),
            &[("slab-age", &[])],
        ),
        ("60 days, filled", &young("2026-08-02"), format!("{JOINT}{DRY}{start}"), &[]),
    ];
    for (name, slab, more, want) in rows {
        let floor = floor(slab, &more);
        let found: Vec<(&str, Vec<&str>)> = floor
            .holds
            .iter()
            .map(|hold| (hold.code.word(), hold.items.iter().map(String::as_str).collect()))
            .collect();
        let want: Vec<(&str, Vec<&str>)> = want.iter().map(|(c, i)| (*c, i.to_vec())).collect();
        assert_eq!(found, want, "{name}");
    }
}

/// A hold is decided once: its findings are those of its code, and it has one for everything it is about.
#[test]
fn findings_come_from_holds() {
    let more = format!(
        "{JOINT}blemishes: [{{id: B1, what: paint, box: {{corner: [2', 2'], size: [3', 3']}}}}]\n"
    );
    let floor = floor("post_tension: stamped", &more);
    assert_eq!(codes(&floor), ["post-tension", "test-before-grinding", "moisture-tests-wanted"]);
    for hold in &floor.holds {
        let of_it = |f: &&Diagnostic| f.code == hold.code.word();
        let found: Vec<&Diagnostic> = floor.takeoff.findings.iter().filter(of_it).collect();
        assert_eq!(found.len(), hold.cases.len(), "{hold:?}");
        for finding in found {
            assert_eq!(finding.severity, hold.code.severity());
            let hint = finding.hint.as_deref().unwrap_or_default();
            assert!(hint.contains(&hold.clears), "{hint}");
        }
    }
}

/// What is planned after the survey waits too, and a slab without a day of work says from when on.
#[test]
fn a_young_slab_says_from_which_day_on() {
    let young = format!("{NONE}\n  placed: 2026-08-30");
    let found = floor(&young, &format!("{DRY}coating: {{system: flake, start: 2026-09-20}}\n"));
    let hold = &found.holds[0];
    assert_eq!(
        hold.sentence(),
        "The slab, placed 2026-08-30, is 21 days old when the work starts; the coating wants 28 days. Do not coat until 2026-09-27."
    );
    let found = floor(&young, &format!("{DRY}coating: {{system: flake}}\n"));
    assert!(found.holds[0].message.contains("15 days old at the survey"));
}

#[test]
fn of_very_many_items_the_first_are_named_and_the_rest_counted() {
    let ids: Vec<String> = (1..=250).map(|n| format!("J{n}")).collect();
    assert_eq!(say::named(&ids[..2]), "J1, J2");
    assert!(say::named(&ids[..100]).ends_with("J99, J100"));
    assert!(say::named(&ids).ends_with("J99, J100 and 150 more"));
}

#[test]
fn the_price_leaves_hazardous_material_out_and_says_so() {
    let paint = |tested: &str| {
        let blemish = format!(
            "blemishes: [{{id: B1, what: paint, box: {{corner: [2', 2'], size: [3', 3']}}{tested}}}]\n"
        );
        say::not_priced(&floor(NONE, &format!("{blemish}{DRY}")).holds, &say::by_id)
    };
    assert_eq!(
        paint(", tested: lead"),
        [
            "Lead and asbestos are no part of this price: B1, taken off by a licensed abatement firm under its own contract."
        ]
    );
    assert_eq!(
        paint(""),
        [
            "The price holds for B1 only if the laboratory finds neither lead nor asbestos: hazardous material is excluded."
        ]
    );
    assert!(paint(", tested: clear").is_empty());
}

/// What clears moisture over the limit: mitigation where it takes the reading, nothing but a data sheet
/// and time where it does not.
#[test]
fn moisture_over_the_limit_names_the_alternate_that_the_price_has() {
    let readings = |system: &str, third: &str| {
        format!(
            "tests: {{moisture: [{{at: [5', 5'], mver: 2}}, {{at: [9', 5'], mver: 2}}, {{at: [5', 9'], mver: {third}}}]}}\n{system}"
        )
    };
    let (bare, mitigated) =
        ("coating: {system: flake}\n", "coating: {system: flake, mitigation: true}\n");
    let offered = "moisture mitigation is agreed (the price has the alternate with moisture-mitigation primer)";
    let none = "moisture mitigation takes no more than 100% RH or 25 lb per 1000 ft² in 24 h, so the price has no alternate with it";
    let rows = [
        ("dry", bare, "3", None),
        ("moist", bare, "3.1", Some(("over the limit of 3 lb", offered, true))),
        (
            "as much as mitigation takes",
            bare,
            "25",
            Some(("over the limit of 3 lb", offered, true)),
        ),
        ("more than mitigation takes", bare, "25.1", Some(("over the limit of 3 lb", none, false))),
        (
            "nothing is coated",
            "",
            "4",
            Some(("over the limit of 3 lb", "moisture mitigation is agreed, or", false)),
        ),
        ("mitigated", mitigated, "25", None),
        (
            "mitigated, more than it takes",
            mitigated,
            "25.1",
            Some((
                "over the limit of 25 lb with moisture mitigation",
                "the data sheet of the moisture mitigation allows the reading",
                false,
            )),
        ),
    ];
    for (name, system, third, want) in rows {
        let floor = floor(NONE, &readings(system, third));
        let hold = floor.holds.first();
        assert_eq!(hold.is_some(), want.is_some(), "{name}: {hold:?}");
        let Some((hold, (message, clears, offers))) = hold.zip(want) else {
            continue;
        };
        assert_eq!(hold.code, Code::MoistureOverLimit, "{name}");
        assert!(hold.message.ends_with(message), "{name}: {}", hold.message);
        assert!(hold.clears.contains(clears), "{name}: {}", hold.clears);
        let coating = &floor.sketch.coating;
        let found = mitigation_offered(coating, &floor.slab, &floor.shop);
        assert_eq!(found, offers, "{name}");
        assert_eq!(!hold.note.is_empty(), offers, "{name}");
    }
}

/// Where the coating ends on open floor a kerf is cut: on a slab with tendons it waits like every other cut, and alone is a hold too.
#[test]
fn the_kerf_of_a_termination_is_a_cut() {
    let door = "openings: [{wall: 1, from: 4', to: 14'}]\n  post_tension:";
    let coated = format!("{DRY}coating: {{system: flake}}\n");
    for (known, joint, says) in [
        ("stamped", JOINT, Some("1 cut and the kerf where the coating ends go")),
        ("stamped", "", Some("the kerf where the coating ends goes")),
        ("unknown", JOINT, Some("1 cut and the kerf where the coating ends go")),
        ("none", JOINT, None),
    ] {
        let floor = floor(&format!("{door} {known}"), &format!("{joint}{coated}"));
        let hold = floor.holds.iter().find(|hold| hold.message.contains("kerf"));
        let Some(says) = says else {
            assert_eq!(hold, None, "{known}");
            continue;
        };
        let hold = hold.unwrap_or_else(|| panic!("{known}: {:?}", floor.holds));
        assert!(hold.message.contains(says), "{}", hold.message);
        assert!(hold.stops(Kind::CutTermination, &[]), "{known}");
        assert!(hold.findings().next().is_some(), "{known}");
    }
    // Without a door nothing ends on open floor.
    let floor = floor("post_tension: stamped", &coated);
    assert_eq!(floor.holds, []);
}
