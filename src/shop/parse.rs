//! The shop book: the built-in values, and a shop's own book over them.

pub(crate) mod days;
pub(crate) mod layer;
pub(crate) mod prices;
pub(crate) mod proposal;
pub(crate) mod rules;
mod times;
pub(crate) mod wear;

use std::collections::BTreeMap;
use std::sync::LazyLock;

use super::merge::merged;
use super::{Shop, System, Tooling, Treatments};
use crate::diagnostic::{Diagnostic, FileId, Severity};
use crate::form::{Fields, Reader, Rule};
use crate::quantity::{Length, Ratio, Units};
use crate::sketch::{At, JointTreatment};
use crate::yaml::{self, Node};

/// The built-in book.
pub(super) const BUILT_IN: &str =
    concat!(include_str!("built_in.yaml"), include_str!("built_in_proposal.yaml"));
/// Version of the shop book that this program reads.
const VERSION: &str = "1";

const KEYS: [&str; 24] = [
    "slabwalk_shop",
    "units",
    "chase",
    "treatments",
    "filler",
    "sealant",
    "backer_rod",
    "cracks",
    "spalls",
    "delaminations",
    "grinding",
    "panels",
    "moisture",
    "age",
    "tooling",
    "wear",
    "days",
    "prices",
    "coating",
    "termination",
    "coves",
    "surface",
    "systems",
    "proposal",
];
/// Mohs' scale ends at 10; a row for everything hard ends beyond it.
pub(crate) const MOST_MOHS: f64 = 11.0;

/// The book that comes with the program.
///
/// # Panics
///
/// Never: the text is part of the program, and a test reads it.
#[must_use]
pub fn built_in() -> Shop {
    static READ: LazyLock<Shop> = LazyLock::new(|| match parse("slabwalk_shop: 1\n") {
        (Some(shop), _) => shop,
        (None, _) => unreachable!("the built-in book is read by a test"),
    });
    READ.clone()
}

/// Reads a shop's own book over the built-in one: keys that it leaves out, or leaves empty, keep the
/// built-in value; lists replace lists; the layers of a system are a list.
///
/// There is a [`Shop`] exactly when no diagnostic is an error.
///
/// ```
/// let (shop, faults) = slabwalk::shop::parse("slabwalk_shop: 1\nfiller: {package: 300 mL}\n");
/// assert!(faults.is_empty());
/// let shop = shop.unwrap();
/// assert_eq!(shop.filler.package.l(), 0.3);
/// assert_eq!(shop.filler.waste, slabwalk::shop::built_in().filler.waste);
/// ```
#[must_use]
pub fn parse(text: &str) -> (Option<Shop>, Vec<Diagnostic>) {
    let (own, faults) = yaml::parse(text, FileId::Shop);
    // Every book is read over this one: its tree is made once.
    static TREE: LazyLock<Option<Node>> = LazyLock::new(|| {
        let (tree, faults) = yaml::parse(BUILT_IN, FileId::BuiltIn);
        debug_assert_eq!(faults, [], "the built-in book is YAML");
        tree
    });
    let reader = Reader::new(FileId::Shop, text, faults, super::keys::belongs);
    let mut pass = Pass { reader };
    let shop = match (own, &*TREE) {
        (Some(own), Some(built_in)) => pass.book(&own, built_in),
        _ => None,
    };
    let mut faults = pass.reader.faults;
    faults.sort_by_key(|fault| fault.place.map(|place| place.span));
    let failed = faults.iter().any(|fault| fault.severity == Severity::Error);
    (shop.filter(|_| !failed), faults)
}

/// One pass over a shop book.
struct Pass<'t> {
    reader: Reader<'t>,
}

impl Pass<'_> {
    fn book(&mut self, own: &Node, built_in: &Node) -> Option<Shop> {
        let own_fields = self.reader.fields(own, "a shop book", &KEYS)?;
        self.version(&own_fields);
        let words = [("us", Units::Us), ("metric", Units::Metric)];
        let units = own_fields.get("units");
        let units = units.and_then(|node| self.reader.word(node, "the units", &words));
        self.reader.units = units.map_or(Units::Us, |units| units.value);
        let node = merged(built_in, own);
        let fields =
            self.reader.fields(&node, "a shop book", &[&KEYS[..], &own_keys(own)].concat())?;
        let chase = self.part(&fields, "chase", Self::chase);
        let treatments = self.part(&fields, "treatments", Self::treatments);
        let filler = self.part(&fields, "filler", Self::filler);
        let sealant = self.part(&fields, "sealant", Self::sealant);
        let backer_rod = self.part(&fields, "backer_rod", Self::backer_rod);
        let cracks = self.part(&fields, "cracks", Self::cracks);
        let spalls = self.part(&fields, "spalls", Self::spalls);
        let delaminations = self.part(&fields, "delaminations", Self::delaminations);
        let grinding = self.part(&fields, "grinding", Self::grinding);
        let panels = self.part(&fields, "panels", Self::panels);
        let moisture = self.part(&fields, "moisture", Self::moisture);
        let age = self.part(&fields, "age", Self::age);
        let tooling = self.part(&fields, "tooling", Self::tooling);
        let wear = self.part(&fields, "wear", Self::wear);
        let days = self.part(&fields, "days", Self::days);
        if let Some(own_days) = own_fields.get("days") {
            self.old_rates(own_days);
        }
        self.old_sundries(own);
        let named = ["prices", "slabwalk_shop"];
        let spoken = named.into_iter().find(|key| own_fields.entry(key).is_some());
        let book = own_fields.key_place(spoken.unwrap_or("prices"));
        let prices = self.part(&fields, "prices", |pass, node| pass.prices(node, book));
        let coating = self.part(&fields, "coating", Self::coating);
        let termination = self.part(&fields, "termination", Self::termination);
        let coves = self.part(&fields, "coves", Self::coves);
        let surface = self.part(&fields, "surface", Self::surface);
        let systems = self.part(&fields, "systems", Self::systems);
        let proposal = self.part(&fields, "proposal", Self::proposal);
        if let (Some(moisture), Some(systems)) = (&moisture, &systems) {
            self.told_apart(&fields, &moisture.mitigation, systems);
        }
        Some(Shop {
            chase: chase?,
            treatments: treatments?,
            filler: filler?,
            sealant: sealant?,
            backer_rod: backer_rod?,
            cracks: cracks?,
            spalls: spalls?,
            delaminations: delaminations?,
            grinding: grinding?,
            panels: panels?,
            moisture: moisture?,
            age: age?,
            tooling: tooling?,
            wear: wear?,
            days: days?,
            prices: prices?,
            coating: coating?,
            termination: termination?,
            coves: coves?,
            surface: surface?,
            systems: systems?,
            proposal: proposal?,
            plain: None,
        })
    }

    fn version(&mut self, fields: &Fields) {
        let example = "slabwalk_shop: 1 as the first line";
        let Some(node) = self.reader.required(fields, "slabwalk_shop", example) else {
            return;
        };
        if node.text() != Some(VERSION) {
            let message = format!(
                "this shop book is of version {}, and this program reads version {VERSION}",
                node.describe()
            );
            self.reader.error("version", node.place, message, "write slabwalk_shop: 1");
        }
    }

    fn part<T>(
        &mut self,
        fields: &Fields,
        key: &str,
        read: impl Fn(&mut Self, &Node) -> Option<T>,
    ) -> Option<T> {
        let node = self.reader.required(fields, key, &format!("{key}:"))?;
        read(self, node)
    }

    /// Reads a length that the merged book has.
    fn length(&mut self, fields: &Fields, key: &str, rule: &Rule) -> Option<Length> {
        let node = self.reader.required(fields, key, &format!("{key}: 1/4\""))?;
        self.reader.length(node, rule).map(|length| length.value)
    }

    /// Reads a percentage that the merged book has.
    fn percent(&mut self, fields: &Fields, key: &str) -> Option<Ratio> {
        let node = self.reader.required(fields, key, &format!("{key}: 10%"))?;
        let percent = self.reader.percent(node, &format!("`{key}`"));
        percent.map(|percent| percent.value)
    }

    /// Reads a quantity of which nothing makes no sense.
    fn positive<T: Copy + PartialEq + Default>(
        &mut self,
        fields: &Fields,
        key: &str,
        wanted: &str,
        read: impl Fn(&str) -> Result<T, crate::quantity::read::ReadError>,
    ) -> Option<T> {
        let hint = read("").err().map_or(String::new(), |error| error.hint);
        let node = self.reader.required(fields, key, &format!("{key}: and a value; {hint}"))?;
        let what = format!("`{key}`");
        let At { value, .. } = self.reader.quantity(node, &what, wanted, read)?;
        if value == T::default() {
            let message = format!("{what} is zero");
            self.reader.error("zero", node.place, message, &hint);
            return None;
        }
        Some(value)
    }

    fn treatments(&mut self, node: &Node) -> Option<Treatments> {
        let keys = ["control", "construction", "isolation"];
        let fields = self.reader.fields(node, "the treatments", &keys)?;
        let mut read = |key: &str| {
            let node = self.reader.required(&fields, key, &format!("{key}: fill"))?;
            let word = self.reader.word(node, "the treatment", JointTreatment::WORDS)?;
            Some(word.value)
        };
        let (control, construction, isolation) =
            (read("control"), read("construction"), read("isolation"));
        Some(Treatments { control: control?, construction: construction?, isolation: isolation? })
    }

    fn tooling(&mut self, node: &Node) -> Option<Vec<Tooling>> {
        let rows = self.reader.list(Some(node), "tooling");
        let read: Vec<Option<Tooling>> = rows.iter().map(|row| self.tooling_row(row)).collect();
        let rows = read.into_iter().collect::<Option<Vec<_>>>()?;
        let ascending = rows.windows(2).all(|pair| pair[0].mohs_below < pair[1].mohs_below);
        if !ascending {
            let message = "the tooling table is out of order".into();
            let hint = "rows run from soft to hard: mohs_below grows from one to the next";
            let place = self.reader.first_line(node.place);
            self.reader.error("out-of-order", place, message, hint);
            return None;
        }
        Some(rows)
    }

    fn tooling_row(&mut self, node: &Node) -> Option<Tooling> {
        let fields =
            self.reader.fields(node, "a row of tooling", &["mohs_below", "use", "life"])?;
        let below = self.reader.required(&fields, "mohs_below", "mohs_below: 6");
        let below = below.and_then(|node| self.reader.number(node, "`mohs_below`", 1.0, MOST_MOHS));
        self.reader.required(&fields, "use", "use: medium bond")?;
        let name = self.reader.text(&fields, "use")?;
        let life = match fields.get("life") {
            Some(_) => self.share_of_life(&fields),
            None => Some(Ratio::from_one(1.0)),
        };
        Some(Tooling { mohs_below: below?.value, use_: name.value, life: life? })
    }

    fn systems(&mut self, node: &Node) -> Option<BTreeMap<String, System>> {
        let Some(entries) = node.entries() else {
            let hint = "write the name of a system and below it `layers:`";
            self.reader.wrong_type(node, "`systems`", "systems by name", hint);
            return None;
        };
        let read: Vec<Option<(String, System)>> = entries
            .iter()
            .map(|(key, node)| {
                self.reader.item = Some(key.text.to_string());
                let system = self.system(node);
                self.reader.item = None;
                Some((key.text.to_string(), system?))
            })
            .collect();
        read.into_iter().collect()
    }
}

/// Keys of a shop's own book. Those that are not known are noted once, before the books are merged.
fn own_keys<'n>(own: &'n Node) -> Vec<&'n str> {
    let entries = own.entries().unwrap_or_default();
    entries.iter().map(|(key, _)| &*key.text).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{L_PER_FL_OZ, M_PER_IN};
    use crate::shop::Amount;

    fn messages(text: &str) -> Vec<String> {
        let (_, faults) = parse(text);
        faults.into_iter().map(|fault| fault.message).collect()
    }

    #[test]
    fn the_built_in_book_reads_without_faults() {
        assert_eq!(messages("slabwalk_shop: 1\n"), [""; 0]);
        let (whole, faults) = parse(BUILT_IN);
        assert_eq!(faults, []);
        let shop = built_in();
        assert_eq!(whole.as_ref(), Some(&shop));
        assert_eq!(shop.chase.blade, Length::from_in(0.25));
        assert!((shop.sealant.package.l() - 20.0 * L_PER_FL_OZ).abs() < 1e-15);
        assert_eq!(shop.backer_rod.sizes.len(), 8);
        assert_eq!(shop.treatments.isolation, JointTreatment::Honor);
        let layers = &shop.systems["flake"].layers;
        let names: Vec<&str> = layers.iter().map(|layer| layer.name.as_str()).collect();
        assert_eq!(names, ["primer", "base coat", "flake", "top coat", "grit"]);
        assert!(matches!(layers[2].amount, Amount::Broadcast { .. }) && layers[2].one_lot);
        assert_eq!(layers[4].into.as_deref(), Some("top coat"));
    }

    /// A job with mitigation: its layers come first, the rougher profile and the more passes hold, and
    /// the book without it is there again.
    #[test]
    fn mitigation_goes_below_every_system() {
        let text = "slabwalk_shop: 1\nsystems: {flake: {profile: CSP 4-5, passes: 3}, two-coat: {profile: CSP 1-2}}\n";
        let book = parse(text).0.expect("a book");
        let job = book.clone().of_job(true);
        for (name, profile, passes) in
            [("flake", "CSP 4-5", 3.0), ("two-coat", "CSP 3", 2.0), ("quartz", "CSP 3", 2.0)]
        {
            let (system, plain) = (&job.systems[name], &book.systems[name]);
            assert_eq!(system.layers[0].name, "moisture-mitigation primer", "{name}");
            assert_eq!(system.layers[1..], plain.layers, "{name}");
            assert_eq!(system.profile.map(|p| p.to_string()).as_deref(), Some(profile), "{name}");
            assert_eq!(job.passes(Some(system)), passes, "{name}");
            let products: Vec<String> =
                system.products(name).map(|(product, _)| product.to_string()).collect();
            assert_eq!(products[0], "moisture mitigation: moisture-mitigation primer");
            assert_eq!(products[1], format!("{name}: {}", plain.layers[0].name));
        }
        assert_eq!(job.moisture.limits.mver, 25.0);
        assert_eq!(job.clone().of_job(true), job);
        assert_eq!(job.of_job(false), book);
        assert_eq!(book.clone().of_job(false), book);
    }

    #[test]
    fn keys_override_one_by_one_and_lists_as_a_whole() {
        let text = "slabwalk_shop: 1\nchase: {blade: 3/8\"}\nbacker_rod: {sizes: [1/2\"]}\nsystems:\n  flake:\n    layers: [{name: only, coverage: 4 m2/L, loss: 0%, kit: 2 L}]\n  clear:\n    layers: [{name: clear, dft: 4 mil, solids: 50%, loss: 5%, kit: 1 gal}]\n";
        let (shop, faults) = parse(text);
        assert_eq!(faults, []);
        let shop = shop.unwrap();
        assert_eq!(shop.chase.blade, Length::from_m(0.009_525));
        assert_eq!(shop.chase.depth, built_in().chase.depth);
        assert_eq!(shop.backer_rod.sizes.len(), 1);
        assert_eq!(shop.systems["flake"].layers.len(), 1);
        assert_eq!(shop.systems.len(), built_in().systems.len() + 1);
    }

    #[test]
    fn an_older_book_is_told_where_its_small_goods_stand_now() {
        let text = "slabwalk_shop: 1\nsundries: {mixer_spares: 3, choke: 1/4\", sand: 60 lb, blade: 500 ft, wheel: 80 ft, tape: 90 ft, dust_bag: 30 lb}\n";
        let (shop, faults) = parse(text);
        assert!(shop.is_none() && faults.len() == 1, "{faults:?}");
        let hint = "write chase: {choke: 1/4\"} and wear: {static mixer: {spare: 3}, \"dry sand, bag\": {each: 60 lb}, joint saw blade: {each: 500 ft}, hand grinder wheel: {each: 80 ft}, \"masking tape, roll\": {each: 90 ft}, dust bag: {each: 30 lb}}";
        assert_eq!(faults[0].hint.as_deref(), Some(hint));
        // What the hint says to write is read.
        let now = "slabwalk_shop: 1\nchase: {choke: 1/4\"}\nwear: {static mixer: {spare: 3}, \"masking tape, roll\": {each: 90 ft}}\n";
        let (shop, faults) = parse(now);
        let shop = shop.unwrap_or_else(|| panic!("{faults:?}"));
        assert_eq!(shop.wear.of(crate::trade::Good::Mixer).spare, 3);
        assert_eq!(shop.chase.choke, Length::from_in(0.25));
    }

    #[test]
    fn a_groove_is_as_large_as_published_and_a_smaller_one_is_raised() {
        let rows = [
            ("{chase: {width: 1/4\", depth: 1/2\"}}", 0.00635, ""),
            ("{chase: {width: 6 mm, depth: 6 mm}}", 0.006, ""),
            (
                "{chase: {width: 3/16\", depth: 1/2\"}}",
                0.006,
                "the width of the chase of cracks, 3/16\", is raised to 15/64\"",
            ),
        ];
        for (cracks, width, said) in rows {
            let (shop, faults) = parse(&format!("slabwalk_shop: 1\ncracks: {cracks}\n"));
            let found = shop.expect(cracks).cracks.chase_width.m();
            assert!((found - width).abs() < 1e-12, "{cracks}: {found}");
            let messages: Vec<String> = faults.into_iter().map(|fault| fault.message).collect();
            assert_eq!(messages.concat(), said, "{cracks}");
        }
    }

    #[test]
    fn the_sizes_of_patches_follow_the_rule() {
        let rows = [
            ("", 1.0, 4.0, 2.0),
            ("spalls: {rule: pavement}", 3.0, 12.0, 12.0),
            ("spalls: {rule: pavement, extend: 4\"}", 4.0, 12.0, 12.0),
            ("spalls: {extend: 4\"}", 4.0, 4.0, 2.0),
            ("spalls: {floor: {length: 6\"}}", 1.0, 6.0, 2.0),
        ];
        for (book, extend, length, apart) in rows {
            let (shop, faults) = parse(&format!("slabwalk_shop: 1\n{book}\n"));
            assert_eq!(faults, [], "{book}");
            let sizes = shop.expect(book).spalls.sizes;
            let found = [sizes.extend, sizes.length, sizes.apart].map(|size| size.m() / M_PER_IN);
            for (found, wanted) in found.into_iter().zip([extend, length, apart]) {
                assert!((found - wanted).abs() < 1e-9, "{book}: {found}");
            }
        }
    }

    #[test]
    fn faults_of_a_book_stand_in_the_book() {
        let rows = [
            (
                "slabwalk_shop: 2\n",
                "this shop book is of version `2`, and this program reads version 1",
            ),
            ("chase: {blade: 1/4\"}\n", "a shop book needs the key `slabwalk_shop`"),
            ("slabwalk_shop: 1\nchas: 3\n", "`chas` is not a key of a shop book"),
            ("slabwalk_shop: 1\nchase: {blad: 1/4\"}\n", "`blad` is not a key of the chase"),
            (
                "slabwalk_shop: 1\nchase: {blade: -1/4\"}\n",
                "the width of the blade `-1/4\"` is negative",
            ),
            (
                "slabwalk_shop: 1\nchase: 3\n",
                "the chase should be keys and values, and `3` stands here",
            ),
            ("slabwalk_shop: 1\nchase: {depth: 3\"}\n", "`depth` is more than `deepest`"),
            (
                "slabwalk_shop: 1\ncracks: {chase_from: 1/128\"}\n",
                "`prime_below` is more than `chase_from`",
            ),
            (
                "slabwalk_shop: 1\nbacker_rod: {sizes: [1\", 1/2\"]}\n",
                "the sizes of backer rod are out of order",
            ),
            ("slabwalk_shop: 1\nfiller: {package: 0 mL}\n", "`package` is zero"),
            ("slabwalk_shop: 1\nfiller: {waste: 110%}\n", "`waste` `110%` is beyond belief"),
            (
                "slabwalk_shop: 1\ndays: {works: {saw joints: {rate: 100 ft2/h}}}\n",
                "`rate` `100 ft2/h` is not a length an hour: the unit `ft2` is none of ft and m",
            ),
            ("slabwalk_shop: 1\ndays: {works: {coat: {rate: 0 ft2/h}}}\n", "`rate` is zero"),
            (
                "slabwalk_shop: 1\ndays: {works: {fill joints: {rate: 15 ft/h}}}\n",
                "`rate` `15 ft/h` is not a volume an hour: `ft` is no unit of a volume",
            ),
            (
                "slabwalk_shop: 1\ndays: {works: {coat: {strip: 1 h}}}\n",
                "`strip` is not a key of coat",
            ),
            (
                "slabwalk_shop: 1\ndays: {rates: {saw: 100 ft/h}}\n",
                "`rates` is now `works`, where every work has its set-up beside its rate",
            ),
            (
                "slabwalk_shop: 1\nsundries: {blade: 500 ft}\n",
                "`sundries` is now `wear`, where every good has what one is enough for and how it is charged",
            ),
            (
                "slabwalk_shop: 1\nwear: {cup wheel: {each: 100 ft}}\n",
                "`each` `100 ft` is not a time: `ft` is no unit of a time",
            ),
            (
                "slabwalk_shop: 1\nwear: {brush: {each: 0 ft2}}\n",
                "`each` `0 ft2` is not an area: a floor has an area above zero",
            ),
            (
                "slabwalk_shop: 1\nwear: {sponge: {each: 2}}\n",
                "`sponge` is not a key of the goods that wear",
            ),
            ("slabwalk_shop: 1\ncoating: {charged: half}\n", "`charged` `half` is not known"),
            (
                "slabwalk_shop: 1\ntooling: [{mohs_below: 11, use: medium bond, life: 0%}]\n",
                "diamonds that last for nothing are never enough",
            ),
            ("slabwalk_shop: 1\ndays: {lunch: 25 h}\n", "`lunch` is longer than a day"),
            (
                "slabwalk_shop: 1\ndays: {machines: {vacuum: 1.5}}\n",
                "`vacuum` is no whole number of machines",
            ),
            (
                "slabwalk_shop: 1\ndays: {off: [2026-02-30]}\n",
                "`2026-02-30` is no day of the calendar",
            ),
            (
                "slabwalk_shop: 1\ndays: {waits: {shave: [[70 F, 3 h, 1 h]]}}\n",
                "the second time of `shave` is before the first",
            ),
            (
                "slabwalk_shop: 1\ndays: {waits: {patch: [[50 F, 3 h], [70 F, 1 h, 2 h]]}}\n",
                "some rows of `patch` have one time and some have two",
            ),
            (
                "slabwalk_shop: 1\nsystems: {flake: {cure: [[50 F, 3 d, 1 d]]}}\n",
                "the second time of `cure` is before the first",
            ),
            (
                "slabwalk_shop: 1\nsystems: {x: {layers: [{name: a, coverage: 0 m2/L, loss: 1%, kit: 1 gal}]}}\n",
                "`coverage` is zero",
            ),
            (
                "slabwalk_shop: 1\nsystems: {x: {layers: [{name: a, coverage: 1 m2/L, loss: 1%, kit: 1 gal, recoat: [[70 F, 9 h, 8 h]]}]}}\n",
                "the window closes before it opens",
            ),
            (
                "slabwalk_shop: 1\nsystems: {x: {layers: [{name: a, coverage: 1 m2/L, loss: 1%, kit: 1 gal, recoat: [[70 F, 8 h, 9 h], [60 F, 9 h, 10 h]]}]}}\n",
                "the rows of `recoat` are out of order",
            ),
            (
                "slabwalk_shop: 1\ntooling: [{mohs_below: 6, use: a}, {mohs_below: 4, use: b}]\n",
                "the tooling table is out of order",
            ),
            ("slabwalk_shop: 1\nsystems: {x: {layers: []}}\n", "the system has no layers"),
            ("slabwalk_shop: 1\nsystems: {x: {layers: [{name: a}]}}\n", "layer `a` has no amount"),
            (
                "slabwalk_shop: 1\nsystems: {x: {layers: [{name: w, coverage: 1 m2/L, loss: 1%, kit: 1 gal}, {name: a, rate: 1 lb/ft2, package: 5 lb, kit: 1 gal, into: w}]}}\n",
                "`kit` does not belong to goods that are broadcast",
            ),
            (
                "slabwalk_shop: 1\nsystems: {x: {layers: [{name: a, rate: 1 lb/ft2, package: 5 lb, into: b}]}}\n",
                "layer `a` goes into `b`, and no layer below it has that name",
            ),
            (
                "slabwalk_shop: 1\nsystems: {x: {layers: [{name: w, coverage: 1 m2/L, loss: 1%, kit: 1 gal}, {name: a, rate: 1 lb/ft2, package: 5 lb}]}}\n",
                "layer `a` is broadcast, and `into` does not say into which layer",
            ),
            (
                "slabwalk_shop: 1\nsystems: {flake: {profile: CSP 3-2}}\n",
                "the profile `CSP 3-2` is no range of CSP 1 to 10",
            ),
            (
                "slabwalk_shop: 1\nmoisture: {mitigation: {profile: CSP 11}}\n",
                "the profile `CSP 11` is no range of CSP 1 to 10",
            ),
            (
                "slabwalk_shop: 1\nsystems: {flake: {passes: 0}}\n",
                "`passes` `0` is not a number: counting starts at 1",
            ),
            (
                "slabwalk_shop: 1\nmoisture: {mitigation: {layers: [{name: primer, coverage: 1 m2/L, loss: 1%, kit: 1 gal}]}}\n",
                "a layer of the moisture mitigation and a layer of system `flake` are both named `primer`",
            ),
            (
                "slabwalk_shop: 1\nmoisture: {mitigation: {layers: []}}\n",
                "the mitigation has no layers",
            ),
            ("slabwalk_shop: 1\nspalls: {rule: road}\n", "the rule `road` is not known"),
            ("slabwalk_shop: 1\nspalls: {floor: {width: 6\"}}\n", "`width` is more than `length`"),
            (
                "slabwalk_shop: 1\nsystems: {x: {layers: [{name: a, coverage: 1 m2/L, loss: 100%, kit: 1 gal}]}}\n",
                "a loss of all the material leaves nothing for the floor",
            ),
            (
                "slabwalk_shop: 1\nsystems: {x: {layers: [{name: a, coverage: 1 m2/L, loss: 1%, kit: 1 gal, mix: two}]}}\n",
                "the mix `two` is no ratio",
            ),
        ];
        for (text, message) in rows {
            let (shop, faults) = parse(text);
            let said: Vec<&str> = faults.iter().map(|fault| fault.message.as_str()).collect();
            assert_eq!(said, [message], "{text}");
            assert_eq!(shop, None, "{text}");
            let place = faults[0].place.expect(text);
            assert_eq!(place.file, FileId::Shop, "{text}");
        }
    }
}
