//! A small floor made by hand for the tests of the reports: 24 ft by 24 ft, with at least one of
//! every kind of record and the quantities worked out in inches beside them.

mod slab;
mod work;

use std::sync::LazyLock;

use super::Report;
use crate::diagnostic::Diagnostic;
use crate::hold::{Code, Hold};
use crate::order::{Order, OrderRow, PourLine, PourLines};
use crate::quantity::{
    KG_PER_LB, L_PER_GAL, L_PER_IN3, M_PER_FT, M_PER_IN, M2_PER_FT2, Ratio, Temperature, Units,
};
use crate::shop;
use crate::sketch::{
    self, At, Coating, Job, Outline, PathForm, PostTension, Sketch, SlabNotes, Span, Tests,
};
use crate::survey::{Survey, survey};
use crate::trade::{Layers, Product};
use crate::work::Kind;
use crate::work::{Batch, Batches};

/// Feet in metres.
pub fn ft(feet: f64) -> f64 {
    feet * M_PER_FT
}

/// Inches in metres.
fn inch(inches: f64) -> f64 {
    inches * M_PER_IN
}

/// Inches in millimetres.
fn mm(inches: f64) -> f64 {
    inches * 25.4
}

/// Square inches in square metres.
fn in2(square: f64) -> f64 {
    square * M_PER_IN * M_PER_IN
}

/// Cubic inches in litres.
fn in3(cubic: f64) -> f64 {
    cubic * L_PER_IN3
}

/// The floor, written in feet and inches.
pub fn us() -> Survey {
    Survey {
        sketch: sketch(),
        slab: slab::slab(),
        takeoff: work::takeoff(),
        shop: shop::built_in(),
        order: order(),
        holds: vec![hold()],
    }
}

/// The same floor from a sketch in metres.
pub fn metric() -> Survey {
    let mut sample = us();
    sample.sketch.units = Units::Metric;
    sample.slab.units = Units::Metric;
    sample
}

/// The three demonstration floors, surveyed from their sketches once for all tests.
pub fn demonstrations() -> &'static [(&'static str, Survey)] {
    static ALL: LazyLock<Vec<(&'static str, Survey)>> = LazyLock::new(surveyed);
    &ALL
}

fn surveyed() -> Vec<(&'static str, Survey)> {
    let book = include_str!("../../sketches/shop/demo.yaml");
    let texts = [
        ("garage", include_str!("../../sketches/harrow-lane-garage.yaml")),
        ("kitchen", include_str!("../../sketches/mill-street-kitchen.yaml")),
        ("boat shop", include_str!("../../sketches/dock-road-boat-shop.yaml")),
    ];
    let one = |(name, text): (&'static str, &str)| {
        let (sketch, mut found) = sketch::parse(text);
        let sketch = sketch.unwrap_or_else(|| panic!("{name}: {found:#?}"));
        let named = sketch.shop.as_ref().map(|_| shop::parse(book));
        let (shop, of_shop) = named.unwrap_or_else(|| (Some(shop::built_in()), Vec::new()));
        found.extend(of_shop);
        let survey = survey(sketch, shop.expect("a shop book"), found);
        (name, survey.unwrap_or_else(|errors| panic!("{name}: {errors:#?}")))
    };
    texts.into_iter().map(one).collect()
}

/// The report, from a text whose lines are all ten bytes long.
pub fn report(sample: &Survey) -> Report<'_> {
    Report::new(sample, &"123456789\n".repeat(40), None)
}

fn at<T>(value: T) -> At<T> {
    At { value, span: Span::default() }
}

fn job() -> Job {
    Job {
        name: "Harrow Lane workshop".to_owned(),
        client: Some("A. Sample".to_owned()),
        site: Some("14 Harrow Lane".to_owned()),
        surveyed: Some(at("2026-09-14".to_owned())),
        surveyor: Some("M. Example".to_owned()),
        number: Some("26-041".to_owned()),
        notes: Some("Key under the mat; driveway too steep for the trailer.".to_owned()),
        ..Job::default()
    }
}

fn sketch() -> Sketch {
    let path = PathForm { vertices: Vec::new(), span: Span::default() };
    Sketch {
        job: job(),
        units: Units::Us,
        shop: None,
        slab: SlabNotes {
            thickness: None,
            placed: None,
            post_tension: at(PostTension::Unknown),
            embedded: Vec::new(),
            outline: at(Outline::Path(path)),
            checks: Vec::new(),
            openings: Vec::new(),
            keep_outs: Vec::new(),
            tiers: Vec::new(),
        },
        joints: Vec::new(),
        cracks: Vec::new(),
        spalls: Vec::new(),
        delaminations: Vec::new(),
        blemishes: Vec::new(),
        lippage: Vec::new(),
        levels: Vec::new(),
        level_rows: Vec::new(),
        tests: Tests {
            air_temperature: Some(at(Temperature::from_c(21.0))),
            air_humidity: Some(at(Ratio::from_one(0.48))),
            slab_temperature: Some(at(Temperature::from_c(19.0))),
            ..Tests::default()
        },
        coating: Coating::default(),
        photos: Vec::new(),
        price: crate::sketch::PriceNotes::default(),
        used: crate::sketch::UsedNotes::default(),
    }
}

/// The hold that the stop below comes from.
fn hold() -> Hold {
    Hold {
        code: Code::ChaseCover,
        items: vec!["J1".into()],
        works: vec![Kind::SawJoints, Kind::DetailJoints],
        message: "tubes lie under 1\" of concrete, and cuts go up to 1 1/4\" deep".into(),
        clears: "they are located and a licensed engineer agrees to the depth".into(),
        note: "",
        source: "common practice",
        cases: Vec::new(),
    }
}

fn findings() -> Vec<Diagnostic> {
    let here = |start: usize| Span { start, end: start + 2 };
    vec![
        Diagnostic::stop("chase-cover", "J1 is cut 1 1/4\" deep over tubes at 1\"")
            .item("J1")
            .at(here(110))
            .hint("have the tubes located, and ask a licensed engineer")
            .source("common practice"),
        Diagnostic::warning("moisture-over", "M1 reads 78 % RH, over the limit of 75 %")
            .item("M1")
            .at(here(200)),
        Diagnostic::note("moisture-tests", "3 tests are wanted, 1 was taken").source("ASTM F2170"),
    ]
}

fn order() -> Order {
    let row =
        |item: Product, need: f64, unit: &'static str, package: f64, packages: u64| OrderRow {
            how: vec![format!("{item}: as it was reckoned")],
            item,
            need,
            unit,
            package,
            packages,
            sd: 0.1 * need,
            one_lot: false,
            reserve: 0.0,
            charged: crate::shop::Charged::Whole,
            reclaimed: 0.0,
            chosen: crate::order::Chosen::default(),
            packages_p90: packages + 1,
            packages_p50: packages,
            left_over: package * packages as f64 - need,
        };
    let base = Product::Layer(Layers::System("flake".to_owned()), "base coat".to_owned());
    Order {
        rows: vec![
            row(Product::JointFiller, 1.1 * in3(135.0 + 33.75), "L", 0.6, 6),
            row(Product::PatchMortar, 10.0 * KG_PER_LB, "kg", 50.0 * KG_PER_LB, 1),
            row(base, 3.7 * L_PER_GAL, "L", 3.0 * L_PER_GAL, 2),
        ],
        batches: vec![Batches {
            layer: 0,
            name: "base coat".to_owned(),
            slab_c: 20.0,
            pot_life_s: Some(1800.0),
            list: vec![batch()],
            fault: None,
        }],
        pour_lines: vec![PourLines {
            layer: "base coat".to_owned(),
            pot_life_s: Some(1800.0),
            lines: vec![PourLine {
                batch: 1,
                mixed: batch(),
                distance_m: ft(19.0),
                area_behind_m2: 456.0 * M2_PER_FT2,
                chords: Vec::new(),
            }],
        }],
    }
}

fn batch() -> Batch {
    Batch {
        volume_l: 3.0 * L_PER_GAL,
        parts_l: vec![2.0 * L_PER_GAL, L_PER_GAL],
        area_m2: 456.0 * M2_PER_FT2,
        lay_s: 456.0 / 800.0 * 3600.0,
        whole_kit: true,
    }
}
