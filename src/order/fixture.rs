//! Shop, slab and takeoff written by hand for the tests of the order and the schedule.

use std::collections::BTreeMap;

use kurbo::Point;

use crate::geometry::path::Path;
use crate::geometry::region::Region;
use crate::quantity::{
    Coverage, KG_PER_LB, L_PER_FL_OZ, L_PER_FT3, L_PER_GAL, Length, M_PER_FT, M2_PER_FT2, Mass,
    Ratio, Spread, Units, Volume,
};
use crate::shop::*;
use crate::sketch::{JointKind, JointTreatment, PostTension, Span};
use crate::slab::{Areas, Outline, Slab};
use crate::takeoff::Chase;
use crate::takeoff::*;

/// Litres in one gallon per square foot of coverage.
fn per_gal(ft2: f64) -> Coverage {
    Coverage::from_m2_per_l(ft2 * M2_PER_FT2 / L_PER_GAL)
}

fn liquid(name: &str, ft2_per_gal: f64, one_lot: bool) -> Layer {
    Layer {
        name: name.into(),
        amount: Amount::Coverage {
            coverage: per_gal(ft2_per_gal),
            loss: Ratio::from_one(0.05),
            kit: Volume::from_l(3.0 * L_PER_GAL),
        },
        one_lot,
        charged: None,
        chosen: Vec::new(),
        mix: Some("2:1".into()),
        into: None,
        recoat: Vec::new(),
        resin: None,
        solvent: None,
        batch: None,
        pot_life: PotLife::default(),
    }
}

fn broadcast(name: &str, lb_per_ft2: f64, lb: f64, into: &str) -> Layer {
    Layer {
        name: name.into(),
        amount: Amount::Broadcast {
            rate: Spread::from_kg_per_m2(lb_per_ft2 * KG_PER_LB / M2_PER_FT2),
            waste: Ratio::default(),
            reclaimed: Ratio::default(),
            package: Mass::from_kg(lb * KG_PER_LB),
        },
        one_lot: name == "flake",
        charged: None,
        chosen: Vec::new(),
        mix: None,
        into: Some(into.into()),
        recoat: Vec::new(),
        resin: None,
        solvent: None,
        batch: None,
        pot_life: PotLife::default(),
    }
}

/// What a floor takes in a system of the book.
pub(crate) fn order(
    slab: &Slab,
    takeoff: &Takeoff,
    shop: &Shop,
    system: Option<&str>,
) -> crate::order::Order {
    let named = system.and_then(|name| shop.systems.get_key_value(name));
    super::order(&crate::work::Facts {
        slab,
        takeoff,
        shop,
        system: named.map(|(name, system)| (name.as_str(), system)),
        crew: shop.days.crew,
        slab_c: crate::work::ASSUMED_SLAB_C,
    })
}

/// The system of the shop book's example.
pub(crate) fn flake() -> System {
    System {
        layers: vec![
            liquid("primer", 200.0, false),
            liquid("base coat", 160.0, true),
            broadcast("flake", 0.1, 25.0, "base coat"),
            liquid("top coat", 150.0, false),
            broadcast("grit", 0.002, 5.0, "top coat"),
        ],
        ..System::default()
    }
}

/// The shop book of the design, with its one system.
pub(crate) fn shop() -> Shop {
    let inch = Length::from_in;
    let share = Ratio::from_one;
    let built_in = crate::shop::built_in();
    let buying = built_in.coating.buying;
    Shop {
        chase: crate::shop::Chase {
            blade: inch(0.25),
            depth: inch(0.75),
            deepest: inch(2.0),
            saw_clearance: inch(3.0),
            saw_wander: inch(0.25),
            cover_margin: inch(0.75),
            choke: built_in.chase.choke,
        },
        treatments: Treatments {
            control: JointTreatment::Fill,
            construction: JointTreatment::Fill,
            isolation: JointTreatment::Honor,
        },
        filler: Filler {
            package: Volume::from_l(0.6),
            waste: share(0.1),
            width_sd: inch(1.0 / 32.0),
            depth_sd: inch(1.0 / 16.0),
            yield_sd: share(0.08),
            resin: Resin::Polyurea,
            buying,
        },
        sealant: Sealant {
            package: Volume::from_l(20.0 * L_PER_FL_OZ),
            waste: share(0.1),
            least_width: inch(0.25),
            resin: Resin::Polyurethane,
            buying,
        },
        backer_rod: BackerRod {
            sizes: [0.25, 0.375, 0.5, 0.625, 0.75, 0.875, 1.0, 1.25].map(inch).to_vec(),
            waste: share(0.05),
            buying,
        },
        cracks: CrackRules {
            prime_below: inch(1.0 / 64.0),
            chase_from: inch(0.125),
            chase_width: inch(0.25),
            chase_depth: inch(0.5),
            fill_depth: inch(1.0),
            engineer_from: inch(0.25),
            engineer_step: inch(0.125),
            package: Volume::from_l(L_PER_GAL),
            waste: share(0.15),
            resin: Resin::Polyurethane,
            buying,
        },
        spalls: SpallRules {
            rule: SpallRule::Pavement,
            sizes: PatchSizes {
                extend: inch(3.0),
                length: inch(12.0),
                width: inch(4.0),
                apart: inch(12.0),
                pop_out: inch(0.0),
            },
            largest_m2: 16.0 * M2_PER_FT2,
            filled: share(0.5),
            cut_out_from: inch(0.5),
            least_depth: inch(0.75),
            package: Mass::from_kg(50.0 * KG_PER_LB),
            yield_: Volume::from_l(0.4 * L_PER_FT3),
            waste: share(0.1),
            buying,
        },
        delaminations: DelaminationRules {
            extend: inch(3.0),
            apart: inch(12.0),
            depth: inch(0.75),
            spacing: inch(12.0),
            gap: inch(1.0 / 32.0),
            hole: inch(0.375),
            package: Volume::from_l(L_PER_GAL),
            waste: share(0.25),
            resin: Resin::Epoxy,
            buying,
        },
        grinding: Grinding {
            hand_from: inch(3.0 / 16.0),
            feather: 12.0,
            head: inch(30.0),
            edge_gap: inch(2.0),
            depth: inch(1.0 / 64.0),
            hand_most: inch(0.5),
            least_slab: inch(3.5),
        },
        coating: CoatingRules { coverage_sd: share(0.08), rate_sd: share(0.1), buying },
        panels: PanelRules { snap: inch(2.0) },
        moisture: built_in.moisture,
        age: built_in.age,
        tooling: Vec::new(),
        wear: built_in.wear,
        days: built_in.days,
        proposal: crate::shop::ProposalWords::default(),
        termination: built_in.termination,
        coves: built_in.coves,
        surface: built_in.surface,
        plain: None,
        prices: built_in.prices,
        systems: BTreeMap::from([("flake".into(), flake())]),
    }
}

/// A bare rectangular slab, feet.
pub(crate) fn slab(wide_ft: f64, deep_ft: f64) -> Slab {
    let at = |x: f64, y: f64| Point::new(x * M_PER_FT, y * M_PER_FT);
    let corners = vec![at(0.0, 0.0), at(wide_ft, 0.0), at(wide_ft, deep_ft), at(0.0, deep_ft)];
    let area = wide_ft * deep_ft * M2_PER_FT2;
    let pairs = corners.iter().zip(corners.iter().cycle().skip(1));
    Slab {
        units: Units::Us,
        thickness: None,
        post_tension: (PostTension::None, Span::default()),
        embedded: Vec::new(),
        outline: Outline {
            path: Path::polygon(&corners),
            walls: pairs.map(|(a, b)| Path::polyline(&[*a, *b])).collect(),
            corners,
            counter_clockwise: true,
            closure: None,
            span: Span::default(),
        },
        checks: Vec::new(),
        openings: Vec::new(),
        keep_outs: Vec::new(),
        uncoated: Vec::new(),
        areas: Areas { gross: area, net: area, ..Areas::default() },
        enclosed: Region::empty(),
        reached: Region::empty(),
        net: Region::empty(),
        edges: Vec::new(),
        tiers: Vec::new(),
        risers: Vec::new(),
        obstacles: Vec::new(),
        joints: Vec::new(),
        cracks: Vec::new(),
        spalls: Vec::new(),
        delaminations: Vec::new(),
        blemishes: Vec::new(),
        lippage: Vec::new(),
        panels: Vec::new(),
        levels: Vec::new(),
        level_rows: Vec::new(),
        moisture: Vec::new(),
        hardness: Vec::new(),
        faces: Vec::new(),
        pour_from: None,
    }
}

/// A takeoff of a floor with nothing to mend, square feet.
pub(crate) fn takeoff(net_ft2: f64, faces_ft2: f64) -> Takeoff {
    let (net, faces) = (net_ft2 * M2_PER_FT2, faces_ft2 * M2_PER_FT2);
    Takeoff {
        area: AreaTotals {
            gross_m2: net,
            net_m2: net,
            faces_m2: faces,
            coated_m2: net + faces,
            ..AreaTotals::default()
        },
        edge_m: 0.0,
        termination_m: 0.0,
        closure: None,
        hand_edge: Region::empty(),
        joints: Vec::new(),
        cracks: Vec::new(),
        spalls: Vec::new(),
        delaminations: Vec::new(),
        patches: Vec::new(),
        lippage: Vec::new(),
        hand_grind: Region::empty(),
        totals: Totals::default(),
        conditions: Conditions::default(),
        levels: None,
        findings: Vec::new(),
    }
}

/// A filled joint: feet long, inches wide and deep.
pub(crate) fn filled(id: &str, feet: f64, wide_in: f64, deep_in: f64) -> JointWork {
    let [length_m, width_m, depth_m] =
        [Length::from_ft(feet), Length::from_in(wide_in), Length::from_in(deep_in)].map(Length::m);
    let filling = Filling { width_m, depth_m, volume_l: length_m * width_m * depth_m * 1000.0 };
    JointWork {
        id: id.into(),
        kind: JointKind::Control,
        length_m,
        buried_m: 0.0,
        repair: JointRepair::Fill(Chase { filling, saw_m: length_m, ..Chase::default() }),
    }
}

/// An honored joint: feet long, inches wide; sealant half as deep, rod as given.
pub(crate) fn honored(id: &str, feet: f64, wide_in: f64, rod_in: Option<f64>) -> JointWork {
    let length_m = Length::from_ft(feet).m();
    let (wide, deep) = (Length::from_in(wide_in), (wide_in / 2.0).clamp(0.25, 0.5));
    let deep = Length::from_in(deep);
    JointWork {
        id: id.into(),
        kind: JointKind::Isolation,
        length_m,
        buried_m: 0.0,
        repair: JointRepair::Honor(Seal {
            width_m: wide.m(),
            depth_m: deep.m(),
            sealant_l: length_m * wide.m() * deep.m() * 1000.0,
            rod_m: rod_in.map(|inches| Length::from_in(inches).m()),
            ..Seal::default()
        }),
    }
}

/// The row of this product.
pub(crate) fn row<'a>(
    order: &'a crate::order::Order,
    item: &str,
) -> Option<&'a crate::order::OrderRow> {
    order.rows.iter().find(|r| r.item.to_string() == item)
}
