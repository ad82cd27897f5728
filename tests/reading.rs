//! Reading under arbitrary input: nothing panics, and what is written reads back.

use proptest::prelude::*;

use slabwalk::quantity::read::{self, Bare, length, walk_entry};
use slabwalk::quantity::{Units, write};
use slabwalk::render::render;
use slabwalk::{shop, sketch};

/// The example of the format's description, every key of it.
const EXAMPLE: &str = include_str!("reading/example.yaml");

/// Reads a text as a sketch and as a shop book, and renders all that is wrong with it.
fn read_and_render(text: &str) {
    for color in [false, true] {
        let (_, faults) = sketch::parse(text);
        let _ = render(&faults, ("sketch.yaml", text), None, color);
        let (_, faults) = shop::parse(text);
        let _ = render(&faults, ("sketch.yaml", ""), Some(("shop.yaml", text)), color);
    }
    let _ = shop::print(Some(text));
}

/// One change of the example: bytes taken out, replaced or put in.
fn changed(at: usize, length: usize, insert: &str) -> String {
    let start = EXAMPLE.floor_char_boundary(at % EXAMPLE.len());
    let end = EXAMPLE.floor_char_boundary((start + length).min(EXAMPLE.len()));
    format!("{}{insert}{}", &EXAMPLE[..start], &EXAMPLE[end.max(start)..])
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 250,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    #[test]
    fn any_text_is_read_without_panic(text in any::<String>()) {
        read_and_render(&text);
    }

    #[test]
    fn text_that_looks_like_yaml_is_read_without_panic(
        text in "([ \\n\t]|[a-z]{1,6}: |- |[\\[\\]{},#&*!|>'\"%@`½′\u{FEFF}\r]|[0-9]{1,3}|~|<<: |--- ){0,60}",
    ) {
        read_and_render(&text);
    }

    #[test]
    fn a_changed_example_is_read_without_panic(
        at in any::<usize>(),
        length in 0_usize..40,
        insert in "([-0-9'\" \\n\t:,#\\[\\]{}½é\u{1F9F1}]|[a-z]{1,4}){0,5}",
    ) {
        read_and_render(&changed(at, length, &insert));
    }

    #[test]
    fn any_text_is_no_quantity_or_a_finite_one(text in "[-+0-9./'\"½⅛ ′″eEminftcNSWE%°,]{0,24}") {
        for units in [Units::Us, Units::Metric] {
            for bare in [Bare::Plan(units), Bare::Small(units)] {
                if let Ok(length) = length(&text, bare) {
                    prop_assert!(length.m().is_finite());
                }
            }
            let _ = walk_entry(&text, units);
            let _ = read::temperature(&text, units);
        }
        let _ = (read::percent(&text), read::number(&text), read::count(&text));
        let _ = (read::volume(&text), read::mass(&text), read::span(&text), read::film(&text));
        let _ = (read::coverage(&text), read::spread(&text));
    }

    #[test]
    fn feet_and_inches_read_back(sixteenths in -20_000_i32..2_000_000) {
        let metres = f64::from(sixteenths) * 0.0254 / 16.0;
        let text = write::feet_inches(metres, 16);
        let read = length(&text, Bare::Plan(Units::Us));
        prop_assert!(read.is_ok(), "{text}: {read:?}");
        let found = read.unwrap_or_default().m();
        prop_assert!((found - metres).abs() <= 1e-12 * metres.abs().max(1.0), "{text}");
    }

    #[test]
    fn any_length_written_reads_back_to_its_step(metres in -1000.0_f64..1000.0) {
        for units in [Units::Us, Units::Metric] {
            let floor = write::length(metres, units);
            let found = length(&floor, Bare::Plan(units)).map(|length| length.m());
            let step = if units == Units::Us { 0.0254 / 16.0 } else { 0.005 };
            prop_assert!(found.clone().is_ok_and(|found| (found - metres).abs() <= step * 1.000_001), "{floor}");
            let small = write::small(metres, units);
            let found = length(&small, Bare::Small(units)).map(|length| length.m());
            let step = if units == Units::Us { 0.0254 / 128.0 } else { 0.000_05 };
            prop_assert!(found.clone().is_ok_and(|found| (found - metres).abs() <= step * 1.000_001), "{small}");
        }
    }

    #[test]
    fn numbers_are_never_printed_as_minus_nothing(value in -1e-3_f64..1e-3, decimals in 0_u32..4) {
        let text = write::fixed(value, decimals);
        prop_assert!(!text.starts_with('-') || text.contains(|c: char| ('1'..='9').contains(&c)), "{text}");
    }
}

#[test]
fn a_line_of_a_megabyte_gives_a_short_message() {
    let joints = vec!["{kind: control, x: 12', widht: 1/4}"; 30_000].join(", ");
    let text = format!(
        "slabwalk: 1\njob: {{name: shed}}\nslab: {{outline: [[0, 0], [24', 0], [24', 20']]}}\njoints: [{joints}]\n"
    );
    let (sketch, faults) = sketch::parse(&text);
    assert!(sketch.is_none());
    assert_eq!(faults.len(), 30_000);
    let found = render(&faults, ("sketch.yaml", &text), None, false);
    assert!(found.len() < 200_000, "{} bytes", found.len());
    assert!(found.ends_with("29800 more not shown\n30000 errors\n"), "the rest is counted");
    let line = text.lines().last().unwrap_or_default();
    let (byte, _) = line.match_indices("widht").nth(199).unwrap_or_default();
    let last = format!("sketch.yaml:4:{}\n", byte + 1);
    assert!(found.contains(&last), "columns are those of the file");
}

#[test]
fn a_large_floor_is_read() {
    let joints: String = (0..100_000)
        .map(|n| {
            format!(
                "  - {{kind: control, path: [[{}', 0], [{}', 20' 3 1/2\"]], width: 1/4}}\n",
                n % 400,
                n % 300
            )
        })
        .collect();
    let text = format!(
        "slabwalk: 1\njob: {{name: shed}}\nslab: {{outline: [[0, 0], [400', 0], [400', 20']]}}\njoints:\n{joints}"
    );
    let (sketch, faults) = sketch::parse(&text);
    assert_eq!(faults, []);
    let joints = sketch.map(|sketch| sketch.joints).unwrap_or_default();
    assert_eq!(joints.last().map(|joint| joint.id.value.as_str()), Some("J100000"));
}

/// The demonstration floors, which the description of the format says use every key of it.
const DEMONSTRATIONS: [&str; 3] = [
    include_str!("../sketches/harrow-lane-garage.yaml"),
    include_str!("../sketches/mill-street-kitchen.yaml"),
    include_str!("../sketches/dock-road-boat-shop.yaml"),
];

/// Whether a sketch writes a key, in a line of its own or between braces.
fn writes(sketch: &str, key: &str) -> bool {
    let starts = |i: usize| {
        let before = sketch[..i].chars().next_back();
        before.is_none_or(|c| c.is_whitespace() || "{[,(".contains(c))
    };
    sketch.match_indices(&format!("{key}:")).any(|(i, _)| starts(i))
}

#[test]
fn the_demonstration_floors_use_every_key_of_the_description() {
    let page = include_str!("../docs/sketch.md");
    let mut keys = std::collections::BTreeSet::new();
    let mut in_keys = false;
    for line in page.lines() {
        let cells: Vec<&str> = line.split('|').map(str::trim).collect();
        match cells.get(1) {
            // Tables of keys have "key" in the head of their first column.
            Some(head) if head.starts_with("key") => in_keys = true,
            Some(cell) if in_keys => {
                let names = cell.split('`').skip(1).step_by(2);
                let words = names.flat_map(str::split_whitespace);
                let keys_of = words.map(|w| w.trim_end_matches(':'));
                keys.extend(keys_of.filter(|w| w.starts_with(|c: char| c.is_alphabetic())));
            }
            _ => in_keys = false,
        }
    }
    assert!(keys.len() > 60, "only {} keys were found: {keys:?}", keys.len());
    let missing: Vec<&&str> =
        keys.iter().filter(|key| !DEMONSTRATIONS.iter().any(|text| writes(text, key))).collect();
    assert!(missing.is_empty(), "no demonstration floor uses {missing:?}");
}

/// A floor of 12,000 ft² as one man writes it: 24 columns in diamonds, joints at 10 ft that stop at them, dock doors, 15 cracks, 40 spalls.
const COLUMNS: &str = include_str!("reading/columns.yaml");

#[test]
fn a_floor_of_columns_takes_few_lines_and_its_joints_stop_at_the_diamonds() {
    assert!(COLUMNS.lines().count() <= 75);
    let (sketch, faults) = sketch::parse(COLUMNS);
    assert_eq!(faults, []);
    let sketch = sketch.expect("it is good");
    assert_eq!(sketch.slab.keep_outs.len(), 24);
    assert_eq!((sketch.cracks.len(), sketch.spalls.len()), (15, 40));
    let ids: Vec<&str> = sketch.slab.keep_outs.iter().map(|k| k.id.value.as_str()).collect();
    assert_eq!((ids[0], ids[6], ids[23]), ("K1.1", "K1.7", "K1.24"));
    let survey = slabwalk::survey::survey(sketch, shop::built_in(), faults).expect("it is whole");
    let feet = |kind: sketch::JointKind| {
        let joints = survey.takeoff.joints.iter().filter(|j| j.kind == kind);
        joints.map(|j| j.length_m).sum::<f64>() / 0.3048
    };
    // By hand: 14 lines of 80' up the sheet and 7 of 150' across it are 1,120' and 1,050'. A diamond is 4' from corner to corner. 6 of
    // the lines up the sheet run through 4 of them and 4 of those across through 6, so 24 times 4', 96', drop out each way:
    // 2,170' less 192' are 1,978'.
    let control = feet(sketch::JointKind::Control);
    assert!((control - 1978.0).abs() < 1e-3, "{control}");
    // A side of a diamond is the root of 2' squared and 2' squared, 2.828', and there are 24 times 4.
    let isolation = feet(sketch::JointKind::Isolation);
    assert!((isolation - 96.0 * 8.0_f64.sqrt()).abs() < 1e-3, "{isolation}");
    // 15 by 8 panels between the joints, and each diamond is one more, not cut through by them.
    assert_eq!(survey.slab.panels.len(), 15 * 8 + 24);
    let explanations = slabwalk::explain::Explanations::new(&survey);
    let explained = |id: &str| explanations.of(id).unwrap_or_else(|| panic!("{id} is not known"));
    // J1.2 is the line x = 20', of 80' less four diamonds of 4'.
    assert!(
        explained("J1.2").iter().any(|line| {
            line.starts_with("16'-0\" of it (8'-0\" to 12'-0\"")
                && line.contains("inside what it ends at")
        }),
        "{:#?}",
        explained("J1.2")
    );
    assert_eq!(
        explained("k1"),
        ["One record stands for 24: K1.1 to K1.24. Each is explained by its own id."]
    );
    // 14 lines of 80' less 24 times 4'.
    assert_eq!(explained("J1")[1], "Together they run 1024'-0\" on the coated floor.");
}
