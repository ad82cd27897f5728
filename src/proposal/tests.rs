use std::sync::OnceLock;

use super::*;
use crate::document::{self, Paper};
use crate::price::{Price, price};
use crate::quantity::Money;
use crate::schedule::plan;
use crate::{customer, sheet};

const GARAGE: &str = include_str!("../../sketches/harrow-lane-garage.yaml");
const KITCHEN: &str = include_str!("../../sketches/mill-street-kitchen.yaml");
const BOAT_SHOP: &str = include_str!("../../sketches/dock-road-boat-shop.yaml");
const SHOP: &str = include_str!("../../sketches/shop/demo.yaml");
const ALL: [(&str, &str); 3] = [("garage", GARAGE), ("kitchen", KITCHEN), ("boat shop", BOAT_SHOP)];

fn floor_with(text: &str, book: &str) -> Survey {
    let (sketch, found) = crate::sketch::parse(text);
    let sketch = sketch.unwrap_or_else(|| panic!("{found:#?}"));
    let (shop, faults) = crate::shop::parse(book);
    let shop = shop.unwrap_or_else(|| panic!("{faults:#?}"));
    crate::survey::survey(sketch, shop, found).unwrap_or_else(|found| panic!("{found:#?}"))
}

fn floor(text: &str) -> Survey {
    let book = if text.contains("\nshop:") { SHOP } else { "slabwalk_shop: 1\n" };
    floor_with(text, book)
}

/// A plain room with more records after its outline.
fn room(job: &str, more: &str) -> String {
    format!(
        "slabwalk: 1\njob: {{name: Room{job}}}\nslab: {{thickness: 4\", post_tension: none, outline: [[0, 0], [20', 0], [20', 16'], [0, 16']]}}\n{more}"
    )
}

fn told_of(floor: &Survey, width: f64) -> Told {
    let inputs = sheet::Inputs::of(floor, "test.yaml", "0123456789abcdef");
    let (told, found) = told(&inputs, width);
    assert_eq!(found, []);
    told
}

struct Made {
    floor: Survey,
    price: Price,
    document: Document,
    found: Vec<Diagnostic>,
}

fn made(floor: Survey) -> Made {
    let price = price(&floor).unwrap_or_else(|found| panic!("{found:#?}"));
    let plan = plan(&floor);
    let width = document::text_width(Paper::office(floor.slab.units));
    let (document, found) = proposal(&Inputs {
        floor: &floor,
        price: &price.for_customer(),
        plan: &plan,
        told: told_of(&floor, width),
        photos: &[],
        logo: None,
    });
    Made { floor, price, document, found }
}

/// The demonstration floors, made once for all tests.
fn demos() -> impl Iterator<Item = (&'static str, &'static Made)> {
    static MADE: [OnceLock<Made>; 3] = [const { OnceLock::new() }; 3];
    let all = ALL.iter().zip(&MADE);
    all.map(|((name, text), slot)| (*name, slot.get_or_init(|| made(floor(text)))))
}

fn demo(wanted: &str) -> &'static Made {
    demos().find(|(name, _)| *name == wanted).unwrap().1
}

impl Made {
    fn text(&self) -> String {
        self.document.texts().join("\n")
    }

    fn codes(&self) -> Vec<&'static str> {
        self.found.iter().map(|f| f.code).collect()
    }

    /// The second cell of the row that begins with these words.
    fn row(&self, first: &str) -> Option<String> {
        let inner = self.document.blocks.iter().flat_map(|b| match b {
            Block::Plan(_, with) => with.as_slice(),
            other => std::slice::from_ref(other),
        });
        let mut rows = inner.filter_map(|b| match b {
            Block::Table(table) => Some(&table.rows),
            _ => None,
        });
        let mut rows = rows.by_ref().flatten();
        rows.find(|r| r.cells[0].starts_with(first)).map(|r| r.cells[1].clone())
    }
}

#[test]
fn every_part_that_a_proposal_needs_is_there() {
    let headings = [
        "What is done",
        "The coating, from the slab up",
        "What the tests say",
        "Not included",
        "What we ask of you, and safety",
        "Schedule",
        "Price",
        "If more is found",
        "Terms",
        "Acceptance",
    ];
    for (name, made) in demos() {
        let said = made.text();
        for heading in headings {
            assert!(said.lines().any(|l| l == heading), "{name}: {heading}");
        }
        let job = &made.floor.sketch.job;
        for part in [&job.client, &job.site, &job.number].into_iter().flatten() {
            assert!(said.contains(part.as_str()), "{name}: {part}");
        }
        for words in [
            "Pilot lights",
            "Power for the grinder",
            "The room is empty",
            "air and slab are kept as warm as the data sheet asks",
            "Structural repair",
            "Slope and flatness",
            "Cracks that move",
            "Damage from moisture",
            "may show through",
            "Color and texture",
            "within 15% of the estimate",
            "good for 30 days",
            "We repair, at our cost",
            "Right to cancel",
            "differ by state",
            "Deposit and payments",
            "isocyanates|resins can irritate",
            "Nothing in this proposal is an engineering opinion",
            "the day of the survey",
        ] {
            let any = words.split('|').any(|w| said.contains(w));
            assert!(any, "{name}: {words}");
        }
        assert!(
            made.document.blocks.iter().any(|b| matches!(b, Block::Signatures(s) if s.len() == 2))
        );
        let caption = made.document.blocks.iter().find_map(|b| match b {
            Block::Plan(figure, _) => Some(figure.caption.plain()),
            _ => None,
        });
        let revision = job
            .revision
            .as_ref()
            .map_or("of the floor, surveyed".into(), |r| format!("revision {r}"));
        assert!(caption.is_some_and(|c| c.contains(&revision)), "{name}");
        let system = made.floor.sketch.coating.system.as_ref().unwrap();
        let layers = made.floor.shop.systems[&system.value].layers.len();
        let ordered = made.document.blocks.iter().find_map(|b| match b {
            Block::List { ordered: true, items } => Some(items.len()),
            _ => None,
        });
        assert_eq!(ordered, Some(layers), "{name}");
    }
}

#[test]
fn quantities_are_those_of_the_takeoff() {
    for (name, made) in demos() {
        let (t, units) = (&made.floor.takeoff, made.floor.slab.units);
        let run = |m: f64| (m > 0.0).then(|| customer::length(m, units));
        let area = |m2: f64| (m2 > 0.0).then(|| customer::area(m2, units));
        let rows = [
            ("Floor ground and coated", area(t.area.net_m2)),
            ("of it, by hand", area(t.area.hand_edge_m2)),
            ("Upright faces", area(t.area.faces_m2)),
            ("Joints cut open", run(t.totals.chase_m)),
            ("Buried joints", run(t.totals.buried_m)),
            ("Steps ground down", run(t.totals.hand_grind_m)),
        ];
        for (row, wanted) in rows {
            assert_eq!(made.row(row), wanted, "{name}: {row}");
        }
        let treated = [
            crate::sketch::CrackTreatment::Prime,
            crate::sketch::CrackTreatment::Fill,
            crate::sketch::CrackTreatment::Chase,
            crate::sketch::CrackTreatment::Honor,
        ];
        let sum: f64 = treated.map(|t| scope::crack_m(&made.floor, t)).iter().sum();
        assert!((sum - t.totals.crack_m).abs() < 1e-9, "{name}: {sum}");
    }
}

#[test]
fn prices_are_the_customers_and_no_cost_is_shown() {
    for (name, made) in demos() {
        let customer = made.price.for_customer();
        let shown = |amount: Money| amount.with(&customer.currency);
        let said = made.text();
        let total = format!("The whole job, as described above: {}", shown(customer.total));
        assert!(said.contains(&total), "{name}");
        for alternate in &customer.alternates {
            assert!(said.contains(&shown(alternate.total)), "{name}: {}", alternate.name);
        }
        for unit in &customer.unit_prices {
            assert!(said.contains(&shown(unit.amount)), "{name}: {}", unit.name);
        }
        let mut open: Vec<Money> = vec![customer.total];
        open.extend(customer.alternates.iter().flat_map(|a| [a.total, a.difference]));
        open.extend(customer.unit_prices.iter().map(|u| u.amount));
        let open: Vec<String> = open.into_iter().map(shown).collect();
        let base = &made.price.base;
        let mut secret = vec![base.cost, base.direct, base.margin, base.asked];
        secret.extend(base.lines.iter().map(|l| l.amount));
        let file = document::html(&made.document);
        for amount in secret.into_iter().map(shown).filter(|a| !open.contains(a)) {
            // A dollar and cents as a whole, not as the end of a longer amount.
            let found =
                said.split([' ', '\n']).any(|word| word.trim_end_matches(['.', ',']) == amount);
            assert!(!found, "{name}: {amount}");
        }
        let said = said.to_lowercase().replace("overhead door", "door");
        let file = file.to_lowercase().replace("overhead door", "door");
        for word in ["margin", "overhead", "markup", "labor rate"] {
            assert!(!said.contains(word), "{name}: {word}");
            let body = file.split("<main>").nth(1).unwrap_or_default();
            assert!(!body.contains(word), "{name}: {word}");
        }
    }
}

#[test]
fn what_the_floor_has_decides_what_is_excluded_and_said() {
    let boat = demo("boat shop");
    let said = boat.text();
    assert!(said.contains("licensed engineer's opinion comes first on crack G."), "{said}");
    assert!(said.contains("where water is likely to stand"));
    assert!(said.contains("At least one reading is above the limit"));
    assert!(said.contains("It is not known whether the slab is post-tensioned"));
    let garage = demo("garage").text();
    assert!(!garage.contains("engineer's opinion"));
    assert!(garage.contains("The readings are within the limits"));
    let kitchen = demo("kitchen").text();
    assert!(
        kitchen.contains("On hold until this is cleared")
            && kitchen.contains("stamped as post-tensioned")
    );
    assert!(kitchen.contains("2 moisture tests of one kind made, 3 are usual"), "{kitchen}");
    assert!(
        kitchen.contains("Moving joints filled, will show. These joints move. We fill and coat over them all the same")
    );
    assert!(said.contains("If they do, they will come back through the coating."), "{said}");
    let plain = made(floor(&room(
        ", client: A, site: B, surveyed: 2026-09-14",
        "coating: {system: two-coat, site: outdoors}\n",
    )))
    .text();
    for absent in [
        "Cracks that move",
        "may show through the finished floor",
        "Pilot lights",
        "post-tensioned",
    ] {
        assert!(!plain.contains(absent), "{absent}");
    }
    assert!(plain.contains("No moisture test was made") && plain.contains("On hold"));
    let test = "{at: [3', 3'], rh: 70%}";
    let tested = made(floor(&room(
        ", client: A, site: B, surveyed: 2026-09-14",
        &format!("tests: {{moisture: [{test}, {test}, {test}]}}\ncoating: {{system: two-coat}}\n"),
    )));
    assert!(!tested.text().contains("On hold"));
}

#[test]
fn a_missing_value_is_a_blank_line_and_a_finding() {
    let made = made(floor(&room("", "coating: {system: flake}\n")));
    let missing: Vec<&str> = made
        .found
        .iter()
        .filter(|f| f.code == "proposal-value-missing")
        .map(|f| f.message.as_str())
        .collect();
    assert_eq!(
        missing,
        [
            "the text `intro` of the proposal asks for {site}, and there is none; a blank line stands in its place"
        ]
    );
    assert!(made.text().contains("concrete floor at ____________."));
    let hint = made.found[0].hint.as_deref();
    assert_eq!(hint, Some("add site: to the job of the sketch"));
}

#[test]
fn the_shop_says_it_in_its_own_words() {
    let book = "slabwalk_shop: 1\nproposal:\n  company: Sample Floors\n  warranty: \"{company} stands by its work for {valid_days} days at {price}.\"\n  exclude_color: \"\"\n  right_to_cancel: The text of our state.\n  deposit_notice: No deposit is taken.\n  valid_days: 14\n  layers: {flake: \"Chips: as chosen.\"}\n";
    let made = made(floor_with(GARAGE, book));
    let said = made.text();
    let total = made.price.base.price.with("$");
    assert!(said.contains(&format!("Sample Floors stands by its work for 14 days at {total}.")));
    assert!(!said.contains("Color and texture"));
    assert!(said.contains("The text of our state.") && !said.contains("differ by state"));
    assert!(said.contains("Chips: as chosen."));
    assert!(!made.codes().contains(&"proposal-notice-missing"));
    let builtin = demo("garage");
    let notices = builtin.codes().iter().filter(|c| **c == "proposal-notice-missing").count();
    assert_eq!(notices, 2);
}

#[test]
fn example_prices_are_not_to_be_signed() {
    let made = demo("garage");
    assert!(made.price.example && made.text().contains("Not to be signed: example prices"));
    assert!(made.codes().contains(&"proposal-example-prices"));
}

#[test]
fn markup_in_names_stays_text() {
    let evil = room(
        ", client: \"<script>alert(1)</script>\", site: \"{client} & \\\"x\\\"\", surveyed: 2026-09-14",
        "coating: {system: flake}\njoints: [{id: J1, kind: control, x: 5', width: 1/4, note: \"<b>\"}]\n",
    );
    let made = made(floor(&evil));
    let file = document::html(&made.document);
    assert!(!file.contains("<script>") && file.contains("&lt;script&gt;alert(1)&lt;/script&gt;"));
    // A value is never read for places of its own.
    assert!(file.contains("floor at {client} &amp; &quot;x&quot;"), "{file}");
    let lacking = room(", client: 字, site: B, surveyed: 2026-09-14", "coating: {system: flake}\n");
    let made = self::made(floor(&lacking));
    let note = made.found.iter().find(|f| f.code == "proposal-characters");
    assert!(note.is_some_and(|n| n.message.contains('字')));
    assert!(document::html(&made.document).contains('字'));
}

#[test]
fn pages_of_the_demonstration_floors_pass_the_audit_and_are_the_same_each_time() {
    for (name, made) in demos() {
        let paper = Paper::office(made.floor.slab.units);
        let sheets = document::pages(&made.document, paper);
        assert!(
            (3..=6).contains(&sheets.len()) && (*name != *"garage" || sheets.len() <= 4),
            "{name}: {} pages",
            sheets.len()
        );
        assert_eq!(sheets, document::pages(&made.document, paper));
        // Nobody signs on a page that holds nothing else, and nothing else stands alone on one.
        for sheet in &sheets {
            let words = sheet.groups.iter().filter(|g| g.id != "foot");
            let low = words.flat_map(|g| &g.marks).filter_map(|m| match m {
                crate::ink::Mark::Text(t) => Some(t.at.y),
                _ => None,
            });
            assert!(low.fold(0.0, f64::max) > 0.3 * sheet.height, "{name} {}", sheet.name);
        }
        for sheet in &sheets {
            let with_drawing = sheet
                .groups
                .iter()
                .any(|g| g.marks.iter().any(|m| matches!(m, crate::ink::Mark::Group(_))));
            let faults = crate::audit::audit(&crate::svg::write_with(sheet, false));
            let own: Vec<String> = faults
                .iter()
                // The foot is smaller on purpose; a drawing is judged where it is made.
                .filter(|f| f.ids != ["foot"] && !with_drawing)
                .map(ToString::to_string)
                .collect();
            assert_eq!(own, [""; 0], "{name}");
        }
    }
}

/// What was chosen stands beside its layer, and a line to write on where nothing was.
#[test]
fn the_coating_says_what_was_chosen_of_it() {
    let garage = demo("garage").text();
    for said in ["Chosen: slate.", "Chosen: river stone, 1/4 in flakes."] {
        assert!(garage.contains(said), "{said}\n{garage}");
    }
    let open = made(floor(&room("", "coating: {system: flake}\n"))).text();
    for said in ["Chosen: color ________.", "Chosen: blend ________."] {
        assert!(open.contains(said), "{said}\n{open}");
    }
}
