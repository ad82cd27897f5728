//! The keys of a shop book, in their canonical order.

mod money;
mod works;

use std::sync::LazyLock;

use crate::form::Belongs;
use crate::keys::{Form, Group, Homes, Key, Record, keys, may, must, pattern, words};
use crate::record::JointTreatment;
use crate::shop::parse::MOST_MOHS;
use crate::shop::parse::layer::CHOICES;
use crate::shop::parse::rules::{CHOKE, FEATHERS, LIMIT, MOST_MVER, RESINS, SPALL_RULES, TOOL};
use crate::shop::parse::wear::{CHARGED, MOST_SPARE, RUN};
use crate::sketch::keys::{UNITS, percent, temperature};
use crate::trade::{Good, Measure};

fn amount(units: &str) -> Form {
    Form::Pattern(pattern::amount(units))
}

fn tool(name: &'static str, about: &'static str, example: &'static str) -> Key {
    may(name, Form::Length(TOOL), about, example)
}

fn limit(name: &'static str, about: &'static str, example: &'static str) -> Key {
    may(name, Form::Length(LIMIT), about, example)
}

fn share(name: &'static str, about: &'static str, example: &'static str) -> Key {
    may(name, percent(), about, example)
}

fn volume(name: &'static str, about: &'static str, example: &'static str) -> Key {
    may(name, amount(pattern::VOLUME), about, example)
}

fn mass(name: &'static str, about: &'static str, example: &'static str) -> Key {
    may(name, amount(pattern::MASS), about, example)
}

fn part(name: &'static str, record: fn() -> Record, about: &'static str) -> Key {
    may(name, Form::Record(record), about, "")
}

/// Where a key belongs that stands in the record `what` and is none of its keys.
pub(crate) fn belongs(key: &str, what: &str) -> Option<Belongs> {
    static HOMES: LazyLock<Homes> = LazyLock::new(|| Homes::below(&root()));
    HOMES.belongs(key, what)
}

/// The whole book.
pub(crate) fn root() -> Record {
    let tooling_rows = Form::List(Box::new(Form::Record(tooling)), 0);
    let systems = Form::Named(Box::new(Form::Record(system)));
    Record::new(
        "shop",
        "a shop book",
        "Standing data of one shop.",
        keys! {
            must("slabwalk_shop", Form::Version, "Version of this format.", "1");
            may("units", words(&UNITS), "What numbers without a unit mean.", "us");
            part("chase", chase, "How joints are chased.");
            part("treatments", treatments, "What is done with joints, by kind.");
            part("filler", filler, "Joint filler.");
            part("sealant", sealant, "Flexible sealant for joints that move.");
            part("backer_rod", backer_rod, "Backer rod.");
            part("cracks", cracks, "How cracks are mended.");
            part("spalls", spalls, "How spalls are mended.");
            part("delaminations", delaminations, "How delaminations are mended.");
            part("grinding", grinding, "How the floor is ground.");
            part("panels", panels, "How panels are found.");
            part("moisture", moisture, "Limits of moisture.");
            part("age", age, "Least ages of the slab.");
            may("tooling", tooling_rows, "Tooling by hardness, from soft to hard.", "");
            part("wear", wear, "Goods that wear, and what one of each is enough for.");
            part("days", works::days, "The working day, the crew and how fast it works.");
            part("prices", money::prices, "What things cost.");
            part("proposal", money::proposal, "The words of the paper that a customer signs.");
            part("coating", coating, "How the need of coats varies.");
            part("termination", termination, "The kerf that keys the end of a coating on open floor.");
            part("coves", coves, "Coves at the foot of faces.");
            part("surface", surface, "Washing out oil, and what comes off with old coatings.");
            may("systems", systems, "Coating systems by name.", "");
        },
    )
}

fn chase() -> Record {
    Record::new(
        "shop_chase",
        "the chase",
        "How joints are chased.",
        keys! {
            tool("blade", "Width that one cut leaves.", "1/4\"");
            tool("depth", "Least depth of a chase.", "3/4\"");
            tool("deepest", "What the saw reaches.", "2\"");
            limit("saw_clearance", "How far short of a wall the saw stops.", "3\"");
            limit("saw_wander", "Wander that a straight cut can take in.", "1/4\"");
            limit("cover_margin", "Concrete that has to stay between a cut and what lies in the slab.", "3/4\"");
            may("choke", Form::Length(CHOKE), "Dry sand at the bottom of a chase.", "1/8\"");
        },
    )
}

fn treatments() -> Record {
    let key = |name, about| may(name, words(JointTreatment::WORDS), about, "fill");
    Record::new(
        "treatments",
        "the treatments",
        "What is done with joints, by kind.",
        keys! {
            key("control", "Control joints.");
            key("construction", "Construction joints.");
            key("isolation", "Isolation joints.");
        },
    )
}

fn filler() -> Record {
    Record::new(
        "filler",
        "the filler",
        "Joint filler.",
        keys! {
            volume("package", "What one package holds.", "600 mL");
            share("waste", "What is lost.", "10%");
            limit("width_sd", "Standard deviation of a width read on site.", "1/32\"");
            limit("depth_sd", "Standard deviation of a depth read on site.", "1/16\"");
            share("yield_sd", "Standard deviation of the yield, common to all joints.", "8%");
            may("resin", words(&RESINS), "What it is made of.", "polyurea");
            reserve();
            charged();
        },
    )
}

fn sealant() -> Record {
    Record::new(
        "sealant",
        "the sealant",
        "Flexible sealant.",
        keys! {
            volume("package", "What one package holds.", "20 fl oz");
            share("waste", "What is lost.", "10%");
            tool("least_width", "Narrower joints and cracks are widened to it.", "1/4\"");
            may("resin", words(&RESINS), "What it is made of.", "polyurethane");
            reserve();
            charged();
        },
    )
}

fn backer_rod() -> Record {
    let sizes = Form::List(Box::new(Form::Length(TOOL)), 1);
    Record::new(
        "backer_rod",
        "the backer rod",
        "Backer rod.",
        keys! {
            may("sizes", sizes, "Diameters in stock, from thin to thick.", "[1/4\", 3/8\"]");
            share("waste", "What is lost.", "5%");
            reserve();
            charged();
        },
    )
}

fn cracks() -> Record {
    Record::new(
        "crack_rules",
        "the cracks",
        "How cracks are mended.",
        keys! {
            limit("prime_below", "Narrower cracks are only primed.", "1/64\"");
            limit("chase_from", "From this width on they are cut open.", "1/8\"");
            part("chase", crack_chase, "Size of the chase.");
            tool("fill_depth", "Depth that thin resin is taken to reach.", "1\"");
            limit("engineer_from", "From this width on an engineer is asked.", "1/4\"");
            limit("engineer_step", "From this step on an engineer is asked.", "1/8\"");
            volume("package", "What one package of resin holds.", "1 gal");
            share("waste", "What is lost.", "15%");
            may("resin", words(&RESINS), "What the crack resin is made of.", "polyurethane");
            reserve();
            charged();
        },
    )
}

fn crack_chase() -> Record {
    Record::new(
        "crack_chase",
        "the chase of cracks",
        "Size of the chase of a crack.",
        keys! {
            tool("width", "Its width.", "1/4\"");
            tool("depth", "Its depth.", "1/2\"");
        },
    )
}

fn spalls() -> Record {
    Record::new(
        "spall_rules",
        "the spalls",
        "How spalls are mended.",
        keys! {
            may("rule", words(&SPALL_RULES), "Whose sizes patches are cut to.", "floor");
            part("floor", patch_sizes, "Sizes on a floor that is coated.");
            part("pavement", patch_sizes, "Sizes of partial-depth repairs of highways.");
            may("largest", amount(pattern::AREA), "Patches don't become one that is larger.", "16 ft2");
            share("filled", "Patches don't become one of which less than this is what they were.", "50%");
            limit("cut_out_from", "From this depth on they are cut out square.", "1/2\"");
            limit("extend", "How far beyond the spall the cut goes; left out, as the rule has it.", "1\"");
            limit("least_depth", "Least depth of a patch.", "3/4\"");
            mass("package", "What one bag of mortar weighs.", "50 lb");
            volume("yield", "What one bag fills.", "0.4 ft3");
            share("waste", "What is lost.", "10%");
            reserve();
            charged();
        },
    )
}

fn delaminations() -> Record {
    Record::new(
        "delamination_rules",
        "the delaminations",
        "How delaminations are mended.",
        keys! {
            limit("extend", "How far beyond the delamination the cut goes.", "3\"");
            limit("apart", "Patches around them nearer to another than this may become one with it.", "12\"");
            tool("depth", "Thickness of the loose layer where the sketch gives none.", "3/4\"");
            tool("spacing", "Distance from port to port.", "12\"");
            tool("gap", "Thickness of the gap that is filled.", "1/32\"");
            tool("hole", "Diameter of the hole under a port.", "3/8\"");
            volume("package", "What one package of resin holds.", "1 gal");
            share("waste", "What is lost.", "25%");
            may("resin", words(&RESINS), "What the injection resin is made of.", "epoxy");
            reserve();
            charged();
        },
    )
}

fn patch_sizes() -> Record {
    Record::new(
        "patch_sizes",
        "the sizes of patches",
        "Sizes that patches are cut to.",
        keys! {
            limit("extend", "How far beyond the spall the cut goes.", "1\"");
            limit("length", "Least length of a patch.", "4\"");
            limit("width", "Least width of a patch.", "4\"");
            limit("apart", "Patches nearer to each other than this may become one.", "2\"");
            limit("pop_out", "A spall no longer than this is skimmed or cored, however deep.", "2\"");
        },
    )
}

fn grinding() -> Record {
    Record::new(
        "grinding",
        "the grinding",
        "How the floor is ground.",
        keys! {
            tool("hand_from", "From this step on it is taken down by hand.", "3/16\"");
            may("feather", Form::Number(FEATHERS.0, FEATHERS.1), "Run of the feather over its height.", "12");
            tool("head", "Diameter of the floor grinder's head.", "30\"");
            limit("edge_gap", "What its shroud leaves along a wall.", "2\"");
            limit("depth", "What is taken off the whole floor.", "1/64\"");
            tool("hand_most", "Above this step grinding is not the repair.", "1/2\"");
            limit("least_slab", "Slab that has to be left under a step that is ground down.", "3 1/2\"");
        },
    )
}

fn coating() -> Record {
    Record::new(
        "coating_rules",
        "the coating",
        "How the need of coats varies.",
        keys! {
            share("coverage_sd", "Standard deviation of what an area takes of a liquid, common to all of a layer.", "8%");
            share("rate_sd", "Standard deviation of what an area takes of broadcast goods, common to all of a layer.", "10%");
            reserve();
            charged();
        },
    )
}

fn panels() -> Record {
    Record::new(
        "panels",
        "the panels",
        "How panels are found.",
        keys! {
            limit("snap", "A joint end this close is taken to reach.", "2\"");
        },
    )
}

fn moisture() -> Record {
    Record::new(
        "moisture",
        "the moisture",
        "Limits of moisture.",
        keys! {
            share("rh_limit", "Relative humidity in the slab (ASTM F2170).", "75%");
            may("mver_limit", Form::Number(0.0, MOST_MVER), "Vapor emission, lb per 1000 ft2 in 24 h (ASTM F1869).", "3");
            part("mitigation", mitigation, "What goes below any system on a slab that is moister.");
        },
    )
}

fn mitigation() -> Record {
    let layers = Form::List(Box::new(Form::Record(mitigation_layer)), 1);
    Record::new(
        "mitigation",
        "the mitigation",
        "What goes below any coating system on a moist slab.",
        keys! {
            share("rh_limit", "The most that it takes: relative humidity in the slab (ASTM F2170).", "100%");
            may("mver_limit", Form::Number(0.0, MOST_MVER), "The most that it takes: vapor emission, lb per 1000 ft2 in 24 h (ASTM F1869).", "25");
            may("profile", profile(), PROFILE, "CSP 3");
            may("passes", Form::Count, "Least passes of the floor grinder.", "2");
            may("layers", layers, "Its layers, from the slab up.", "");
        },
    )
}

const PROFILE: &str = "Roughness that it wants: chips of ICRI 310.2R.";

fn profile() -> Form {
    let chip = "(?:[1-9]|10)";
    Form::Pattern(format!("^CSP {chip}(?:-{chip})?$"))
}

fn termination() -> Record {
    Record::new(
        "termination",
        "the termination",
        "The kerf that keys the end of a coating on open floor.",
        keys! {
            tool("width", "Its width.", "1/4\"");
            tool("depth", "Its depth.", "1/4\"");
        },
    )
}

fn coves() -> Record {
    Record::new(
        "coves",
        "the coves",
        "Coves at the foot of faces.",
        keys! {
            tool("radius", "Radius where a sketch gives none.", "1\"");
            mass("package", "What one bag of mortar weighs.", "50 lb");
            volume("yield", "Mortar in place from one bag.", "0.4 ft3");
            share("waste", "What is lost.", "15%");
        },
    )
}

fn surface() -> Record {
    let spread = |name, about, example| may(name, amount(pattern::SPREAD), about, example);
    Record::new(
        "surface",
        "the surface",
        "Washing out oil, and what comes off with old coatings.",
        keys! {
            volume("degreaser", "What one can of degreaser holds.", "1 gal");
            may("coverage", amount(pattern::COVERAGE), "Oily floor that it washes.", "100 ft2/gal");
            spread("paint", "What comes off with paint.", "0.1 lb/ft2");
            spread("adhesive", "What comes off with adhesive.", "0.25 lb/ft2");
            spread("sealer", "What comes off with a sealer.", "0.02 lb/ft2");
            spread("curing_compound", "What comes off with curing compound.", "0.02 lb/ft2");
        },
    )
}

fn age() -> Record {
    let span = || amount(pattern::SPAN);
    Record::new(
        "age",
        "the age",
        "Least ages of the slab.",
        keys! {
            may("filler", span(), "When joints are filled.", "60 d");
            may("coating", span(), "When the first coat is laid.", "28 d");
        },
    )
}

fn tooling() -> Record {
    Record::new(
        "tooling",
        "a row of tooling",
        "Tooling for a hardness.",
        keys! {
            must("mohs_below", Form::Number(1.0, MOST_MOHS), "For concrete softer than this on Mohs' scale.", "6");
            must("use", Form::Text, "What is used.", "medium bond");
            may("life", percent(), "What a set of diamonds lasts there, share of what it lasts in between hard and soft.", "60%");
        },
    )
}

fn reserve() -> Key {
    share(
        "reserve",
        "Bought on top of the need, because it can't be fetched in the middle of the work.",
        "5%",
    )
}

fn charged() -> Key {
    may(
        "charged",
        words(&CHARGED),
        "Charged by whole packages, or by what is used of them.",
        "whole",
    )
}

fn wear() -> Record {
    let keys = Good::all().map(|wears| {
        let record: fn() -> Record = match wears.by.unit() {
            Measure::Length => worn_by_length,
            Measure::Area => worn_by_area,
            Measure::Time => worn_by_time,
            Measure::Mass => worn_by_mass,
            Measure::Count => worn_by_count,
        };
        part(wears.name, record, wears.what)
    });
    Record::new(
        "wear",
        "the goods that wear",
        "Goods that wear, and what one of each is enough for.",
        keys.collect(),
    )
}

fn worn(name: &'static str, each: Form, example: &'static str) -> Record {
    Record::new(
        name,
        "a good that wears",
        "What one of it is enough for.",
        keys! {
            may("each", each, "What one is enough for.", example);
            may("spare", Form::Number(0.0, MOST_SPARE), "Taken along on top.", "2");
            charged();
        },
    )
}

fn worn_by_length() -> Record {
    worn("worn_by_length", Form::Length(RUN), "600 ft")
}

fn worn_by_area() -> Record {
    worn("worn_by_area", amount(pattern::AREA), "500 ft2")
}

fn worn_by_time() -> Record {
    worn("worn_by_time", amount(pattern::SPAN), "20 h")
}

fn worn_by_mass() -> Record {
    worn("worn_by_mass", amount(pattern::MASS), "40 lb")
}

fn worn_by_count() -> Record {
    worn("worn_by_count", Form::Count, "12")
}

fn times() -> Form {
    let span = amount(pattern::SPAN);
    let row = Form::Tuple(vec![temperature(), span.clone(), span]);
    Form::List(Box::new(row), 0)
}

/// Rows of one time by slab temperature.
fn pot_life() -> Form {
    let row = Form::Tuple(vec![temperature(), amount(pattern::SPAN)]);
    Form::List(Box::new(row), 1)
}

fn system() -> Record {
    let layers = Form::List(Box::new(Form::Record(layer)), 1);
    Record::new(
        "system",
        "a system",
        "A coating system.",
        keys! {
            may("profile", profile(), PROFILE, "CSP 2-3");
            may("passes", Form::Count, "Passes of the floor grinder, in place of those of the work.", "1");
            may("cure", times(), "Slab temperature, first foot, first vehicle.", "[[50 F, 36 h, 7 d], [70 F, 24 h, 3 d]]");
            may("layers", layers, "Its layers, from the slab up.", "");
        },
    )
}

fn layer() -> Record {
    layer_called("layer", "primer")
}

/// Under the name of an example of its own: no layer of the mitigation is called like one above it.
fn mitigation_layer() -> Record {
    layer_called("mitigation_layer", "moisture-mitigation primer")
}

fn layer_called(record: &'static str, example: &'static str) -> Record {
    Record::new(
        record,
        "a layer",
        "A layer of a system.",
        keys! {
            must("name", Form::Text, "What it is called.", example);
            may("coverage", amount(pattern::COVERAGE), "A liquid: area that one volume covers.", "160 ft2/gal");
            may("dft", amount(pattern::FILM), "A liquid: thickness of the dry film.", "10 mil");
            may("solids", percent(), "With dft: solids by volume.", "100%");
            may("rate", amount(pattern::SPREAD), "Broadcast goods: weight on an area.", "0.1 lb/ft2");
            may("loss", percent(), "A liquid: what is lost.", "5%");
            may("kit", amount(pattern::VOLUME), "A liquid: what one kit holds.", "3 gal");
            may("mix", Form::Pattern(r"^[0-9.]+(?::[0-9.]+)+$".into()), "Parts to be mixed, in quotation marks.", "\"2:1\"");
            may("batch", amount(pattern::VOLUME), "A liquid: the most that is mixed at once.", "3 gal");
            may("pot_life", pot_life(), "A liquid: slab temperature, how long a batch can be worked with.", "[[50 F, 45 min], [70 F, 30 min], [90 F, 15 min]]");
            may("package", amount(pattern::MASS), "Broadcast goods: what one package weighs.", "25 lb");
            may("one_lot", Form::Truth, "All of it from one lot.", "true");
            share("waste", "Broadcast goods: bought on top of what is thrown.", "5%");
            share("reclaimed", "Broadcast goods: what of it is scraped off and can be thrown again.", "20%");
            charged();
            may("chosen", Form::List(Box::new(words(&CHOICES)), 0), "What the customer chooses of it: color, blend, sheen.", "[color]");
            may("into", Form::Text, "Broadcast goods: the liquid they are thrown into.", example);
            may("resin", words(&RESINS), "A liquid: what it is made of.", "epoxy");
            may("solvent", Form::Truth, "A liquid: whether it holds solvent.", "false");
            may("recoat", times(), "Slab temperature, window opens, window closes.", "[[50 F, 14 h, 48 h], [70 F, 8 h, 24 h]]");
        },
    )
    .grouped(&[
        Group::One(&["coverage", "dft", "rate"]),
        Group::With("coverage", &["loss", "kit"]),
        Group::With("dft", &["solids", "loss", "kit"]),
        Group::With("rate", &["package"]),
        Group::Without("coverage", &["package", "waste", "reclaimed", "solids"]),
        Group::Without("dft", &["package", "waste", "reclaimed"]),
        Group::Without("rate", &["solids", "loss", "kit", "mix", "batch", "pot_life", "recoat", "resin", "solvent"]),
    ])
}
