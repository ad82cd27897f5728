//! Invented floors for the tests.

use std::collections::BTreeMap;
use std::fmt::Write;

/// Whole numbers that look random and are the same in every run (a linear congruence of Knuth's MMIX).
struct Dice(u64);

impl Dice {
    fn below(&mut self, bound: u64) -> u64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % bound
    }
}

/// An invented floor of 120 by 80 ft with so many items of every kind, its records forward or backward.
pub(super) fn random(seed: u64, count: usize, backward: bool) -> String {
    let mut dice = Dice(seed);
    let kinds = ["joints", "cracks", "spalls", "blemishes", "lippage"];
    let mut records: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for n in 0..count {
        let kind = kinds[usize::try_from(dice.below(5)).expect("small")];
        let (x, y) = (dice.below(108) + 2, dice.below(68) + 2);
        let (w, h) = (dice.below(9) + 1, dice.below(9) + 1);
        let end = format!("[[{x}, {y}], [{}, {}]]", x + w, y + h);
        let record = match kind {
            "joints" => {
                let treatment =
                    ["fill", "honor", "leave"][usize::try_from(dice.below(3)).expect("small")];
                format!(
                    "{{id: J{n}, kind: control, path: {end}, width: 1/4, depth: 1, treatment: {treatment}}}"
                )
            }
            "cracks" => {
                let movement = ["dormant", "active", "unknown"]
                    [usize::try_from(dice.below(3)).expect("small")];
                format!(
                    "{{id: C{n}, path: [[{x}, {y}], [{}, {}.5], [{}, {}]], width: 1/16, movement: {movement}}}",
                    x + 1,
                    y + 1,
                    x + w + 1,
                    y + h
                )
            }
            "spalls" => format!(
                "{{id: S{n}, circle: {{center: [{x}.5, {y}.5], diameter: {}\"}}, depth: {}/8}}",
                dice.below(8) + 3,
                dice.below(7) + 1
            ),
            "blemishes" => {
                format!("{{id: B{n}, what: oil, box: {{corner: [{x}, {y}], size: [{w}, {h}]}}}}")
            }
            _ => format!("{{id: L{n}, along: {end}, high: left, step: 1/4, from: 0, to: 1}}"),
        };
        records.entry(kind).or_default().push(record);
    }
    let mut text = "slabwalk: 1\njob: {name: Random floor}\nunits: us\nslab:\n  post_tension: none\n  outline: [[0, 0], [120', 0], [120', 80'], [0, 80']]\n".to_owned();
    for (kind, mut list) in records {
        if backward {
            list.reverse();
        }
        writeln!(text, "{kind}:").expect("a string");
        for record in list {
            writeln!(text, "  - {record}").expect("a string");
        }
    }
    text
}
