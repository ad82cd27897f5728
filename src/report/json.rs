//! The quantities as JSON, for scripts. Always SI, each key with its unit as a suffix. The keys of
//! the contract come first and in its order; what else a script may want follows after them.

mod buy;
mod cuts;
mod levels;
mod members;
mod records;
mod works;

use std::io::{self, Write};

use serde::Serialize;

use super::Report;
use crate::floor::Survey;
use crate::hold::Hold;

/// What stands at the head of the other documents of a floor.
#[derive(Serialize)]
pub(crate) struct Head<'a> {
    job: JobName<'a>,
    holds: &'a [Hold],
}

/// The job that a document of another kind is about.
#[derive(Serialize)]
pub(crate) struct JobNumber<'a> {
    pub name: &'a str,
    pub number: Option<&'a str>,
}

/// The job of a document by its name.
#[derive(Serialize)]
struct JobName<'a> {
    name: &'a str,
}

impl<'a> Head<'a> {
    /// The head of a document of this floor.
    pub(crate) fn of(floor: &'a Survey) -> Self {
        Self { job: JobName { name: &floor.sketch.job.name }, holds: &floor.holds }
    }
}

/// The takeoff as pretty-printed JSON, with a line feed at its end.
#[must_use]
pub fn takeoff(report: &Report) -> Vec<u8> {
    let mut out = Vec::new();
    // Writing plain structs to memory has no way to fail; an empty document would say so.
    if write(report, &mut out).is_err() {
        out.clear();
    }
    out
}

/// Writes what [`takeoff`] gives, a part at a time.
///
/// # Errors
///
/// What the writer says.
pub fn write(report: &Report, out: &mut dyn Write) -> io::Result<()> {
    records::write(report, out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::FileId;
    use crate::floor::Survey;
    use crate::report::sample::{demonstrations, report, us};
    use serde_json::Value;

    fn parsed(sample: &Survey) -> Value {
        serde_json::from_slice(&takeoff(&report(sample))).expect("JSON")
    }

    /// The keys of the contract, as paths; `0` is the first of a list.
    const CONTRACT: &[(&str, &[&str])] = &[
        (
            "",
            &[
                "slabwalk",
                "job",
                "area",
                "edge_m",
                "termination_m",
                "closure",
                "panels",
                "joints",
                "cracks",
                "spalls",
                "lippage",
                "totals",
                "order",
                "pour_lines",
                "conditions",
                "findings",
            ],
        ),
        ("/job", &["name"]),
        (
            "/area",
            &[
                "gross_m2",
                "keep_out_m2",
                "uncoated_m2",
                "net_m2",
                "faces_m2",
                "coated_m2",
                "hand_edge_m2",
            ],
        ),
        ("/closure", &["misclosure_m", "ratio"]),
        ("/panels/0", &["id", "area_m2", "length_m", "width_m", "aspect", "joints", "items"]),
        (
            "/joints/0",
            &[
                "id",
                "kind",
                "treatment",
                "length_m",
                "saw_m",
                "hand_m",
                "hand_ends",
                "chase_width_mm",
                "chase_depth_mm",
                "fill_l",
                "sealant_l",
                "rod_mm",
            ],
        ),
        ("/cracks/0", &["id", "length_m", "portions"]),
        (
            "/cracks/0/portions/0",
            &["from_m", "to_m", "length_m", "width_mm", "treatment", "fill_l"],
        ),
        ("/spalls/0", &["id", "area_m2", "volume_l", "patch"]),
        ("/spalls/0/patch", &["id", "length_m", "width_m", "area_m2", "depth_mm", "spalls"]),
        (
            "/lippage/0",
            &["id", "max_step_mm", "hand_length_m", "hand_area_m2", "removed_l", "stretches"],
        ),
        ("/lippage/0/stretches/0", &["from_m", "to_m"]),
        (
            "/totals",
            &[
                "chase_m",
                "saw_m",
                "hand_cut_m",
                "fill_l",
                "honor_m",
                "crack_m",
                "hand_grind_m",
                "hand_grind_m2",
            ],
        ),
        ("/order/0", &["item", "need", "unit", "package", "packages", "packages_p90"]),
        ("/pour_lines/0", &["layer", "lines"]),
        (
            "/pour_lines/0/lines/0",
            &[
                "batch",
                "distance_m",
                "area_behind_m2",
                "volume_l",
                "part_a_l",
                "part_b_l",
                "lay_min",
                "pot_life_min",
            ],
        ),
        ("/conditions", &["dew_point_c", "spread_c", "moisture_tests_wanted"]),
        ("/findings/0", &["severity", "code", "item", "line", "message", "source"]),
    ];

    #[test]
    fn every_key_of_the_contract_is_there() {
        let json = parsed(&us());
        for (at, keys) in CONTRACT {
            let object = json.pointer(at).and_then(Value::as_object);
            let object = object.unwrap_or_else(|| panic!("no object at {at}"));
            for key in *keys {
                assert!(object.contains_key(*key), "{at} has no {key}");
            }
        }
    }

    #[test]
    fn keys_of_the_contract_come_first_and_in_its_order() {
        let text = String::from_utf8(takeoff(&report(&us()))).expect("UTF-8");
        let (_, keys) = CONTRACT[0];
        let mut last = 0;
        for key in keys {
            let at = text.find(&format!("\n  \"{key}\":"));
            let at = at.unwrap_or_else(|| panic!("no {key}"));
            assert!(at >= last, "{key} is out of order");
            last = at;
        }
    }

    #[test]
    fn values_are_those_of_the_takeoff() {
        let json = parsed(&us());
        let rows = [
            ("/slabwalk", 1.0),
            ("/area/net_m2", 53.179_248_48),
            ("/joints/0/length_m", 7.3152),
            ("/joints/0/hand_ends", 2.0),
            ("/joints/0/chase_width_mm", 9.525),
            ("/joints/0/fill_l", 2.212_253_64),
            ("/cracks/0/portions/1/width_mm", 4.7625),
            ("/spalls/0/patch/area_m2", 0.069_677_28),
            ("/totals/saw_m", 7.1628),
            ("/findings/0/line", 12.0),
        ];
        for (at, want) in rows {
            let got = json.pointer(at).and_then(Value::as_f64);
            assert_eq!(got, Some(want), "{at}");
        }
        let rows = [
            ("/job/name", "Harrow Lane workshop"),
            ("/joints/0/kind", "control"),
            ("/joints/1/treatment", "honor"),
            ("/spalls/0/patch/spalls/0", "S1"),
            ("/findings/0/severity", "stop"),
        ];
        for (at, want) in rows {
            assert_eq!(json.pointer(at).and_then(Value::as_str), Some(want), "{at}");
        }
    }

    #[test]
    fn what_is_not_there_is_null() {
        let mut sample = us();
        sample.takeoff.closure = None;
        sample.takeoff.conditions.dew_point_c = None;
        let json = parsed(&sample);
        for at in ["/closure", "/conditions/dew_point_c", "/joints/0/rod_mm", "/spalls/1/patch"] {
            assert_eq!(json.pointer(at), Some(&Value::Null), "{at}");
        }
    }

    #[test]
    fn only_a_place_in_the_sketch_is_a_line_of_it() {
        let mut sample = us();
        let shop = sample.takeoff.findings[1].place.as_mut().expect("a place");
        shop.file = FileId::Shop;
        let shop_text = "123456789\n".repeat(40);
        let report = Report::new(&sample, &shop_text, Some(&shop_text));
        let json: Value = serde_json::from_slice(&takeoff(&report)).expect("JSON");
        let line = |at: &str| json.pointer(at).and_then(Value::as_u64);
        assert_eq!((line("/findings/0/line"), line("/findings/0/shop_line")), (Some(12), None));
        assert_eq!((line("/findings/1/line"), line("/findings/1/shop_line")), (None, Some(21)));
        assert_eq!((line("/findings/2/line"), line("/findings/2/shop_line")), (None, None));
    }

    #[test]
    fn the_demonstration_floors_add_up() {
        for (name, survey) in demonstrations() {
            let json = parsed(survey);
            let number = |at: &str| json.pointer(at).and_then(Value::as_f64).unwrap_or(f64::NAN);
            let sum = |list: &str, key: &str| -> f64 {
                let rows = json.pointer(list).and_then(Value::as_array).expect("a list");
                rows.iter().map(|row| row[key].as_f64().unwrap_or(f64::NAN)).sum()
            };
            let reached = number("/area/gross_m2") - number("/area/keep_out_m2");
            let rows = [
                ("panels", sum("/panels", "area_m2"), reached, 1e-5),
                ("net", number("/area/net_m2"), reached - number("/area/uncoated_m2"), 1e-8),
                ("saw", sum("/joints", "saw_m"), number("/totals/saw_m"), 1e-8),
                ("hand", sum("/joints", "hand_m"), number("/totals/hand_cut_m"), 1e-8),
                ("filler", sum("/joints", "fill_l"), number("/totals/fill_l"), 1e-8),
                ("by hand", sum("/lippage", "hand_length_m"), number("/totals/hand_grind_m"), 1e-8),
            ];
            for (what, got, want, tolerance) in rows {
                assert!(
                    (got - want).abs() <= tolerance * want.max(1.0),
                    "{name} {what}: {got} {want}"
                );
            }
        }
    }

    #[test]
    fn the_same_report_gives_the_same_bytes() {
        let sample = us();
        assert_eq!(takeoff(&report(&sample)), takeoff(&report(&sample)));
    }
}
