//! The order list against worked answers; each row names its source.

use super::fixture::{filled, honored, order, row, shop, slab, takeoff};
use super::{Order, OrderRow, combine};
use crate::geometry::rectangle::OrientedRect;
use crate::quantity::{
    KG_PER_LB, L_PER_FL_OZ, L_PER_FT3, L_PER_GAL, L_PER_IN3, M_PER_FT, M_PER_IN, M2_PER_FT2, Mass,
    Ratio, Volume,
};
use crate::shop::Shop;
use crate::takeoff::{
    CrackPortion, CrackRepair, CrackWork, Filling, JointRepair, JointWork, Patch, Seal,
    SpallRepair, SpallWork, Takeoff,
};
use crate::trade::Product;

fn filler_row(shop: &Shop, joints: Vec<JointWork>) -> OrderRow {
    let mut takeoff = takeoff(576.0, 0.0);
    takeoff.joints = joints;
    let order = order(&slab(24.0, 24.0), &takeoff, shop, None);
    row(&order, "joint filler").cloned().unwrap_or_else(|| panic!("no filler in {order:?}"))
}

/// Joint filler by length, section, package and waste; every row from LF/gal = 19.25/(w·d).
#[test]
fn joint_filler_packages() {
    let oz = |n: f64| n * L_PER_FL_OZ;
    let cases = [
        ("V-Y7 10.1 oz", 100.0, 3.0 / 16.0, 1.0, 0.0, oz(10.1), 12.344, 13),
        ("V-Y7 600 mL", 100.0, 3.0 / 16.0, 1.0, 0.0, 0.6, 6.145, 7),
        ("V-Y7 22 oz", 100.0, 3.0 / 16.0, 1.0, 0.0, oz(22.0), 5.667, 6),
        ("V-Y8 10.1 oz", 100.0, 3.0 / 16.0, 1.0, 0.1, oz(10.1), 13.579, 14),
        ("V-Y8 600 mL", 100.0, 3.0 / 16.0, 1.0, 0.1, 0.6, 6.760, 7),
        ("V-Y8 22 oz", 100.0, 3.0 / 16.0, 1.0, 0.1, oz(22.0), 6.234, 7),
        ("V-Y9 22 oz", 216.0, 0.25, 1.25, 0.1, oz(22.0), 22.44, 23),
        ("V-Y9 600 mL", 216.0, 0.25, 1.25, 0.1, 0.6, 24.33, 25),
    ];
    for (name, feet, wide, deep, waste, package, share, whole) in cases {
        let mut book = shop();
        book.filler.waste = Ratio::from_one(waste);
        book.filler.package = Volume::from_l(package);
        let row = filler_row(&book, vec![filled("J1", feet, wide, deep)]);
        assert!(
            (row.need / row.package - share).abs() < 0.005,
            "{name}: {}",
            row.need / row.package
        );
        assert_eq!(row.packages, whole, "{name}");
    }
}

/// V-Y10: 48 ft of 3/16 × 1 and 30 ft of 1/4 × 1/2 are 108 + 45 in³; summed first they take five
/// cartridges of 600 mL at 10 % waste, rounded joint by joint they would take four and two.
#[test]
fn joints_are_summed_before_rounding() {
    let joints = vec![filled("J1", 48.0, 3.0 / 16.0, 1.0), filled("J2", 30.0, 0.25, 0.5)];
    let row = filler_row(&shop(), joints);
    assert!((row.need - 153.0 * 1.1 * L_PER_IN3).abs() < 1e-9);
    assert!((row.need / row.package - 4.597).abs() < 0.001);
    assert_eq!(row.packages, 5);
    assert!((row.left_over - (5.0 * 0.6 - row.need)).abs() < 1e-12);
}

/// V-Y1 to V-Y6: what 1 gallon or 1 package fills, from the volume of a foot of joint.
#[test]
fn feet_filled_by_a_package() {
    for (name, package, wide, deep, want, tolerance) in [
        ("V-Y1", L_PER_GAL, 0.25, 0.25, 308.0, 0.05),
        ("V-Y2", L_PER_GAL, 3.0 / 16.0, 1.0, 102.67, 0.01),
        ("V-Y3", L_PER_GAL, 0.5, 0.5, 77.0, 0.01),
        ("V-Y4 square", L_PER_GAL, 0.375, 0.375, 136.89, 0.01),
        ("V-Y5", 10.1 * L_PER_FL_OZ, 3.0 / 16.0, 1.0, 8.10, 0.01),
        ("V-Y6", 0.6, 0.25, 1.0, 12.20, 0.01),
    ] {
        let got = package / filled("J1", 1.0, wide, deep).filling().expect("filled").volume_l;
        assert!((got - want).abs() <= tolerance, "{name}: {got}");
    }
}

/// V-Y11, FHWA-RD-99-146 section 3.10: 12 mm by 12 mm by 1000 m flush with 20 % wastage is 172.8 L.
#[test]
fn sealant_of_a_long_joint() {
    let mut book = shop();
    book.sealant.waste = Ratio::from_one(0.2);
    let mut joint = honored("J1", 1000.0 / M_PER_FT, 0.5, None);
    joint.repair =
        JointRepair::Honor(Seal { sealant_l: 0.012 * 0.012 * 1000.0 * 1000.0, ..Seal::default() });
    let mut takeoff = takeoff(576.0, 0.0);
    takeoff.joints = vec![joint];
    let order = order(&slab(24.0, 24.0), &takeoff, &book, None);
    let need = row(&order, "sealant").map_or(0.0, |r| r.need);
    assert!((need - 172.8).abs() < 0.01, "{need}");
}

#[test]
fn rod_is_ordered_by_size_and_coil() {
    let mut takeoff = takeoff(576.0, 0.0);
    takeoff.joints = vec![
        honored("J1", 60.0, 0.5, Some(0.625)),
        honored("J2", 40.0, 0.5, Some(0.625)),
        honored("J3", 20.0, 0.25, Some(0.375)),
        honored("J4", 10.0, 2.0, None),
    ];
    let order = order(&slab(24.0, 24.0), &takeoff, &shop(), None);
    let rods: Vec<(String, u64)> = order
        .rows
        .iter()
        .filter(|r| matches!(r.item, Product::BackerRod(_)))
        .map(|r| (r.item.to_string(), r.packages))
        .collect();
    // 20 ft + 5 % fit one coil of 100 ft; 100 ft + 5 % need a second.
    let [three, five] = ["backer rod 3/8 in", "backer rod 5/8 in"].map(String::from);
    assert_eq!(rods, [(three, 1), (five, 2)]);
    let sealant = row(&order, "sealant").map(|r| r.how.join(" ")).unwrap_or_default();
    assert!(sealant.contains("10.0 ft is too wide for any stock rod"), "{sealant}");
}

fn patch(volume_in3: f64) -> Patch {
    Patch {
        id: "R1".into(),
        rect: OrientedRect {
            center: kurbo::Point::ZERO,
            half_length: 0.2,
            half_width: 0.1,
            angle: 0.0,
        },
        around: Vec::new(),
        length_m: 0.4,
        width_m: 0.2,
        area_m2: 0.08,
        depth_mm: 2.0 * M_PER_IN * 1000.0,
        volume_l: volume_in3 * L_PER_IN3,
    }
}

/// Bags by volume in place and yield of a bag, no waste.
#[test]
fn patch_mortar_bags() {
    for (name, in3, yield_ft3, bags, share) in [
        ("V-P6", 12.0 * 9.0 * 2.0, 0.45, 1, 0.125 / 0.45),
        ("V-P7", 24.0 * 11.0 * 2.0, 0.375, 1, 0.815),
        ("V-P8", 64.0 * 1728.0, 0.30, 214, 213.33),
    ] {
        let mut book = shop();
        book.spalls.waste = Ratio::from_one(0.0);
        book.spalls.yield_ = Volume::from_l(yield_ft3 * L_PER_FT3);
        let mut takeoff = takeoff(576.0, 0.0);
        takeoff.patches = vec![patch(in3)];
        let order = order(&slab(24.0, 24.0), &takeoff, &book, None);
        let mortar = row(&order, "patch mortar").map(|r| (r.packages, r.need / r.package));
        let Some((packages, got)) = mortar else { panic!("{name}: no mortar") };
        assert_eq!(packages, bags, "{name}");
        assert!((got - share).abs() < 0.01, "{name}: {got}");
    }
}

fn spall(id: &str, repair: SpallRepair) -> SpallWork {
    SpallWork { id: id.into(), area_m2: 0.01, repair }
}

/// A spall on a joint takes filler, a skimmed one mortar; one in a patch is not counted beside it.
#[test]
fn spalls_go_to_their_product() {
    let mut takeoff = takeoff(576.0, 0.0);
    takeoff.joints = vec![filled("J1", 10.0, 0.25, 0.75)];
    takeoff.spalls = vec![
        spall("S1", SpallRepair::WithJoint { id: "J1".into(), in_patches_m2: 0.0, volume_l: 0.1 }),
        spall("S2", SpallRepair::Skim { in_patches_m2: 0.0, volume_l: 0.2 }),
        spall("S3", SpallRepair::Patch { id: "R1".into(), volume_l: 5.0 }),
    ];
    takeoff.patches = vec![Patch { volume_l: 5.0, ..patch(0.0) }];
    let order = order(&slab(24.0, 24.0), &takeoff, &shop(), None);
    let in_joint = takeoff.joints[0].filling().expect("filled").volume_l;
    let filler = row(&order, "joint filler").map_or(0.0, |r| r.need);
    assert!((filler - (in_joint + 0.1) * 1.1).abs() < 1e-12);
    let mortar = row(&order, "patch mortar").map_or(0.0, |r| r.need);
    let bag = 50.0 * KG_PER_LB;
    assert!((mortar - 5.2 * 1.1 / (0.4 * L_PER_FT3) * bag).abs() < 1e-9);
}

#[test]
fn cracks_take_resin_and_sealant() {
    let portion =
        |repair| CrackPortion { from_m: 0.0, to_m: 2.0, length_m: 2.0, width_m: 0.002, repair };
    let filling = Filling { width_m: 0.002, depth_m: 0.025, volume_l: 0.1 };
    let seal = Seal { sealant_l: 0.3, rod_m: Some(0.009_525), ..Seal::default() };
    let mut takeoff = takeoff(576.0, 0.0);
    takeoff.cracks = vec![CrackWork {
        id: "C1".into(),
        length_m: 6.0,
        portions: vec![
            portion(CrackRepair::Prime),
            portion(CrackRepair::Fill(filling)),
            portion(CrackRepair::Honor(seal)),
        ],
    }];
    let order = order(&slab(24.0, 24.0), &takeoff, &shop(), None);
    let need = |item| row(&order, item).map_or(0.0, |r| r.need);
    assert!((need("crack resin") - 0.115).abs() < 1e-12);
    assert!((need("sealant") - 0.33).abs() < 1e-12);
    assert!((need("backer rod 3/8 in") - 2.1).abs() < 1e-12);
}

/// The system of the example on V-G1's 496 ft² and 20 ft² of curb (V-G7): 516 ft² coated.
/// Primer 516/(200 × 0.95) = 2.716 gal, one 3 gal kit. Base coat 516/(160 × 0.95) = 3.395 gal, two
/// kits. Flake 0.1 × 516 = 51.6 lb, three bags of 25 lb. Top coat 516/(150 × 0.95) = 3.621 gal,
/// two kits. Grit 0.002 × 516 = 1.032 lb, one bag of 5 lb.
#[test]
fn a_system_layer_by_layer() {
    let order = order(&slab(24.0, 24.0), &takeoff(496.0, 20.0), &shop(), Some("flake"));
    let names: Vec<String> = order.rows.iter().map(|r| r.item.to_string()).collect();
    let got: Vec<(&str, u64)> =
        names.iter().zip(&order.rows).map(|(name, r)| (name.as_str(), r.packages)).collect();
    assert_eq!(
        got,
        [
            ("flake: primer", 1),
            ("flake: base coat", 2),
            ("flake: flake", 3),
            ("flake: top coat", 2),
            ("flake: grit", 1)
        ]
    );
    let gallons = |item| row(&order, item).map_or(0.0, |r| r.need / L_PER_GAL);
    assert!((gallons("flake: primer") - 2.716).abs() < 0.001);
    assert!((gallons("flake: base coat") - 3.395).abs() < 0.001);
    assert!((gallons("flake: top coat") - 3.621).abs() < 0.001);
    let pounds = row(&order, "flake: flake").map_or(0.0, |r| r.need / KG_PER_LB);
    assert!((pounds - 51.6).abs() < 1e-9);
}

/// V-Q8, V-Q9 and V-Q11: films by the gallon and flake by the pound.
#[test]
fn films_and_flake() {
    use crate::quantity::{Length, Spread};
    use crate::shop::Amount;
    let film = |mils: f64, loss: f64| Amount::Film {
        dft: Length::from_in(mils / 1000.0),
        solids: Ratio::from_one(1.0),
        loss: Ratio::from_one(loss),
        kit: Volume::from_l(3.0 * L_PER_GAL),
    };
    let flake = Amount::Broadcast {
        waste: crate::quantity::Ratio::default(),
        reclaimed: crate::quantity::Ratio::default(),
        rate: Spread::from_kg_per_m2(0.1 * KG_PER_LB / M2_PER_FT2),
        package: Mass::from_kg(25.0 * KG_PER_LB),
    };
    for (name, amount, ft2, per_unit, want, packages) in [
        ("V-Q8", film(8.0, 0.1), 1000.0, L_PER_GAL, 5.541, 2),
        ("V-Q9", film(10.0, 0.05), 496.0, L_PER_GAL, 3.255, 2),
        ("V-Q11", flake, 500.0, KG_PER_LB, 50.0, 2),
    ] {
        let mut book = shop();
        let system = book.systems.get_mut("flake").unwrap_or_else(|| panic!("no flake"));
        system.layers.truncate(1);
        system.layers[0].amount = amount;
        let order = order(&slab(24.0, 24.0), &takeoff(ft2, 0.0), &book, Some("flake"));
        let got = order.rows[0].need / per_unit;
        assert!((got - want).abs() < 0.001, "{name}: {got}");
        assert_eq!(order.rows[0].packages, packages, "{name}");
    }
}

#[test]
fn nine_of_ten_jobs_take_more_than_half() {
    // One joint of 100 ft, 1/4 in by 1 in: 300 in³, sd of the section 1/16 and 1/32, of yield 8 %.
    let row = filler_row(&shop(), vec![filled("J1", 100.0, 0.25, 1.0)]);
    let (width_sd, depth_sd): (f64, f64) = (1.0 / 32.0, 1.0 / 16.0);
    let section = (0.25 * depth_sd).powi(2) + width_sd.powi(2) + (width_sd * depth_sd).powi(2);
    let sd_in3 = (1200.0_f64.powi(2) * section + (300.0_f64 * 0.08).powi(2)).sqrt() * 1.1;
    assert!((row.sd - sd_in3 * L_PER_IN3).abs() < 1e-9, "{}", row.sd / L_PER_IN3);
    // 330 in³ are 9.01 cartridges; 330 + 1.2816 × 49.9 = 394 in³ are 10.8.
    assert_eq!((row.packages, row.packages_p50, row.packages_p90), (10, 10, 11));
    assert!(row.how.iter().any(|s| s.contains("nine of ten")), "{:?}", row.how);
}

#[test]
fn a_sure_product_takes_the_same_in_any_job() {
    let order = order(&slab(24.0, 24.0), &takeoff(576.0, 0.0), &shop(), Some("flake"));
    for row in &order.rows {
        assert_eq!(row.packages, row.packages_p90, "{}", row.item);
        assert_eq!(row.packages, row.packages_p50, "{}", row.item);
    }
}

#[test]
fn floors_share_packages_unless_one_lot() {
    let floor = || order(&slab(20.0, 10.0), &takeoff(200.0, 0.0), &shop(), Some("flake"));
    let both = combine(&[floor(), floor()]);
    let packages = |item| row(&both, item).map_or(0, |r| r.packages);
    // 200 ft² take 1.05 gal of primer: one kit does both floors. Base coat is one lot: a kit each.
    assert_eq!(packages("flake: primer"), 1);
    assert_eq!(packages("flake: base coat"), 2);
}

#[test]
fn an_unknown_system_coats_nothing() {
    let order = order(&slab(24.0, 24.0), &takeoff(576.0, 0.0), &shop(), Some("none such"));
    assert_eq!(order, Order::default());
}

#[test]
fn the_working_is_told_in_the_units_of_the_sketch() {
    let row =
        filler_row(&shop(), vec![filled("J1", 48.0, 0.25, 0.75), filled("J2", 24.0, 0.25, 0.75)]);
    // 72 ft × 12 × 1/4 × 3/4 = 162 in³ = 2.805 qt of 57.75 in³; 178.2 in³ with waste.
    assert_eq!(
        row.how[..3],
        [
            "J1 and J2: 72.0 ft long, chased 1/4\" wide and 3/4\" deep: 2.81 qt.",
            "In place 2.81 qt; with 10% waste 3.09 qt.",
            "3.09 qt in packages of 600 mL: 4.87, rounded up once to 5; 2.7 fl oz left over.",
        ]
    );
}

/// Package counts never fall when a joint grows.
#[test]
fn packages_never_fall_with_length() {
    let mut before = 0;
    for step in 1..400 {
        let row = filler_row(&shop(), vec![filled("J1", f64::from(step) * 0.37, 0.25, 0.75)]);
        assert!(row.packages >= before && row.packages_p90 >= row.packages, "at step {step}");
        before = row.packages;
    }
    let sure: Takeoff = takeoff(0.0, 0.0);
    assert_eq!(order(&slab(1.0, 1.0), &sure, &shop(), Some("flake")).rows.len(), 0);
}

/// By hand, 500 ft² of flake at 0.1 lb/ft², 50 lb thrown. With a tenth of waste 55 lb: three boxes of
/// 25. A fifth of what is thrown, 10 lb, comes back on scraping and is not taken off the 55. Grit in
/// the last coat is not scraped, so nothing of it comes back.
#[test]
fn broadcast_goods_have_waste_and_come_back() {
    for (name, layer, waste, share, need, packages, back) in [
        ("as thrown", 2, 0.0, 0.0, 50.0, 2, 0.0),
        ("with waste", 2, 0.1, 0.0, 55.0, 3, 0.0),
        ("with waste, scraped", 2, 0.1, 0.2, 55.0, 3, 10.0),
        ("grit", 4, 0.0, 0.2, 1.0, 1, 0.0),
    ] {
        let mut book = shop();
        let system = book.systems.get_mut("flake").expect("the system");
        if let crate::shop::Amount::Broadcast { waste: wasted, reclaimed, .. } =
            &mut system.layers[layer].amount
        {
            *wasted = Ratio::from_one(waste);
            *reclaimed = Ratio::from_one(share);
        }
        let item = format!("flake: {}", system.layers[layer].name);
        let order = order(&slab(1.0, 1.0), &takeoff(500.0, 0.0), &book, Some("flake"));
        let row = row(&order, &item).expect(name);
        assert!((row.need / KG_PER_LB - need).abs() < 1e-6, "{name}: {row:?}");
        assert_eq!(row.packages, packages, "{name}");
        assert!((row.reclaimed / KG_PER_LB - back).abs() < 1e-6, "{name}");
        let said = row
            .how
            .iter()
            .any(|how| how.contains("thrown again, but all of it must be on site first"));
        assert_eq!(said, back > 0.0, "{name}: {:?}", row.how);
    }
}

/// 456 ft² of base coat take one kit of 3 gal to the last drop; with 5 % in reserve two are bought, and
/// half of such floors still take no more than the one.
#[test]
fn a_reserve_is_bought_on_top() {
    let mut book = shop();
    book.coating.buying.reserve = Ratio::from_one(0.05);
    let order = order(&slab(1.0, 1.0), &takeoff(456.0, 0.0), &book, Some("flake"));
    let base = row(&order, "flake: base coat").expect("a base coat");
    assert_eq!((base.packages_p50, base.packages), (1, 2));
    let said = "With 5% in reserve, which can't be fetched in the middle of the work, 3.15 gal.";
    assert!(base.how.iter().any(|how| how == said), "{:?}", base.how);
}
