//! What things cost.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::Pass;
use crate::diagnostic::{Diagnostic, Place};
use crate::form::{Fields, nearest};
use crate::quantity::read;
use crate::shop::{Allowance, Equipment, Origin, Prices, Rate, Travel};

use crate::text::excerpt;
use crate::trade;
use crate::yaml::{Kind, Node};

const KEYS: [&str; 18] = [
    "currency",
    "allowance",
    "labor",
    "goods",
    "equipment",
    "travel",
    "disposal",
    "mobilization",
    "contingency",
    "overhead",
    "margin",
    "unit_margin",
    "not_to_exceed",
    "warranty",
    "card_fee",
    "minimum",
    "round",
    "tax",
];
pub(crate) const ALLOWANCES: [(&str, Allowance); 2] =
    [("half", Allowance::Half), ("nine-in-ten", Allowance::NineInTen)];
/// What works were called in older books.
const OLD_TASKS: [(&str, trade::Kind); 5] = [
    ("cut joint ends by hand", trade::Kind::DetailJoints),
    ("cut cracks open", trade::Kind::ChaseCracks),
    ("cut out and patch spalls", trade::Kind::Patch),
    ("take steps down by hand", trade::Kind::GrindSteps),
    ("coats", trade::Kind::Coat),
];
/// Longest sign of a currency, characters.
const LONGEST_SIGN: usize = 4;
/// Most overhead, contingency and tax that is believed: ten times the cost.
const MOST_SHARE: Decimal = Decimal::TEN;

impl Pass<'_> {
    /// Reads the prices; `book` is where a shop's own book speaks of them.
    pub(super) fn prices(&mut self, node: &Node, book: Place) -> Option<Prices> {
        let fields = self.reader.fields(node, "the prices", &KEYS)?;
        let currency = self.currency(&fields);
        let allowance = self
            .reader
            .required(&fields, "allowance", "allowance: half")
            .and_then(|node| self.reader.word(node, "the allowance", &ALLOWANCES));
        let labor = self.price(&fields, "labor");
        let goods = self.part(&fields, "goods", Self::goods);
        let equipment = self.part(&fields, "equipment", Self::equipment);
        let travel = self.part(&fields, "travel", Self::travel);
        let disposal = self.price(&fields, "disposal");
        let mobilization = self.price(&fields, "mobilization");
        let contingency = self.share(&fields, "contingency");
        let overhead = self.share(&fields, "overhead");
        let tax = self.share(&fields, "tax");
        let margin = self.margin(&fields, "margin");
        let unit_margin = self.margin(&fields, "unit_margin");
        let not_to_exceed = self.share(&fields, "not_to_exceed");
        let warranty = self.share(&fields, "warranty");
        let card_fee = self.share(&fields, "card_fee");
        for (key, margin) in [("margin", &margin), ("unit_margin", &unit_margin)] {
            let shares = [
                (key, margin.as_ref()?),
                ("warranty", warranty.as_ref()?),
                ("card_fee", card_fee.as_ref()?),
            ];
            self.something_left(&shares)?;
        }
        let minimum = self.price(&fields, "minimum");
        let round = self.price(&fields, "round");
        Some(Prices {
            origin: Origin(book),
            currency: currency?,
            allowance: allowance?.value,
            labor: labor?,
            goods: goods?,
            equipment: equipment?,
            travel: travel?,
            disposal: disposal?,
            mobilization: mobilization?,
            contingency: contingency?,
            overhead: overhead?,
            margin: margin?,
            unit_margin: unit_margin?,
            not_to_exceed: not_to_exceed?,
            warranty: warranty?,
            card_fee: card_fee?,
            minimum: minimum?,
            round: round?,
            tax: tax?,
        })
    }

    fn currency(&mut self, fields: &Fields) -> Option<String> {
        self.reader.required(fields, "currency", "currency: $")?;
        let sign = self.reader.text(fields, "currency")?;
        let plain = sign.value.chars().all(|c| !c.is_control() && !c.is_ascii_digit());
        if plain && sign.value.chars().count() <= LONGEST_SIGN {
            return Some(sign.value);
        }
        let message = format!("`{}` is no sign of a currency", excerpt(&sign.value));
        let hint = "write at most four characters without digits: $";
        self.reader.error("unreadable", fields.key_place("currency"), message, hint);
        None
    }

    fn rate(&mut self, node: &Node, what: &str) -> Option<Rate> {
        let found = self.reader.quantity(node, what, "a price", read::money)?;
        Some(Rate { amount: found.value, origin: Origin(node.place) })
    }

    fn price(&mut self, fields: &Fields, key: &str) -> Option<Rate> {
        let node = self.reader.required(fields, key, &format!("{key}: 24.50"))?;
        self.rate(node, &format!("`{key}`"))
    }

    fn share(&mut self, fields: &Fields, key: &str) -> Option<Rate> {
        let node = self.reader.required(fields, key, &format!("{key}: 10%"))?;
        let what = format!("`{key}`");
        let found = self.reader.quantity(node, &what, "a percentage", read::decimal_percent)?;
        if found.value > MOST_SHARE {
            let message = format!("{what} is beyond belief: more than 1000%");
            let hint = "write it like 10%";
            self.reader.error("beyond-belief", node.place, message, hint);
            return None;
        }
        Some(Rate { amount: found.value, origin: Origin(node.place) })
    }

    /// A share of the price: with all of it margin, no price is high enough.
    fn margin(&mut self, fields: &Fields, key: &str) -> Option<Rate> {
        let rate = self.share(fields, key)?;
        if rate.amount < Decimal::ONE {
            return Some(rate);
        }
        let message = format!(
            "`{key}` is {}%: a margin is a share of the price, and with 100% or more nothing is left to pay the cost",
            (rate.amount * Decimal::ONE_HUNDRED).normalize()
        );
        let hint = "write a margin below 100%; a markup on the cost of 100% is margin: 50%";
        self.reader.error("margin", rate.origin.0, message, hint);
        None
    }

    /// All shares of the price together leave something to pay the cost. Said at the largest of those
    /// that the shop wrote itself.
    fn something_left(&mut self, shares: &[(&str, &Rate); 3]) -> Option<()> {
        let sum: Decimal = shares.iter().map(|(_, rate)| rate.amount).sum();
        if sum < Decimal::ONE {
            return Some(());
        }
        let names = shares.map(|(key, _)| format!("`{key}`")).join(", ");
        let message = format!(
            "{names} are {}% of the price together, and with 100% or more nothing is left to pay the cost",
            (sum * Decimal::ONE_HUNDRED).normalize()
        );
        let own = |rate: &Rate| !rate.is_example();
        let largest = shares.iter().max_by_key(|(_, rate)| (own(rate), rate.amount))?;
        let hint =
            "each is a share of the price: take them down until they are below 100% together";
        self.reader.error("margin", largest.1.origin.0, message, hint);
        None
    }

    /// One package each, by name; the layers of a system under the system's name.
    fn goods(&mut self, node: &Node) -> Option<BTreeMap<String, Rate>> {
        let hint = "write the name of the order and its price: joint filler: 24.50";
        let Some(entries) = node.entries() else {
            self.reader.wrong_type(node, "`goods`", "prices by name", hint);
            return None;
        };
        let mut goods = BTreeMap::new();
        let mut complete = true;
        for (key, node) in entries {
            let layers = match &node.kind {
                Kind::Mapping(layers) => layers.as_slice(),
                // A name with nothing behind it has no price; what is bought is checked later.
                Kind::Null => continue,
                _ => {
                    complete &= self.good(&key.text, node, &mut goods);
                    continue;
                }
            };
            for (layer, node) in layers.iter().filter(|(_, node)| !node.is_null()) {
                let name = format!("{}: {}", key.text, layer.text);
                complete &= self.good(&name, node, &mut goods);
            }
        }
        complete.then_some(goods)
    }

    fn good(&mut self, name: &str, node: &Node, goods: &mut BTreeMap<String, Rate>) -> bool {
        let what = format!("the price of `{}`", excerpt(name));
        let rate = self.rate(node, &what);
        rate.map(|rate| goods.insert(name.to_owned(), rate)).is_some()
    }

    fn equipment(&mut self, node: &Node) -> Option<Vec<Equipment>> {
        let Some(entries) = node.entries() else {
            let hint = "write joint saw: {day: 40, tasks: [saw joints]}";
            self.reader.wrong_type(node, "`equipment`", "machines by name", hint);
            return None;
        };
        let read: Vec<Option<Equipment>> = entries
            .iter()
            .filter(|(_, node)| !node.is_null())
            .map(|(key, node)| {
                self.reader.item = Some(key.text.to_string());
                let machine = self.machine(&key.text, node);
                self.reader.item = None;
                machine
            })
            .collect();
        read.into_iter().collect()
    }

    fn machine(&mut self, name: &str, node: &Node) -> Option<Equipment> {
        let fields = self.reader.fields(node, "a machine", &["day", "tasks"])?;
        let day = self.price(&fields, "day");
        let list = self.reader.required(&fields, "tasks", "tasks: [grind the floor]");
        let rows = self.reader.list(list, "tasks");
        let tasks: Vec<Option<trade::Kind>> = rows.iter().map(|node| self.task(node)).collect();
        Some(Equipment {
            name: name.to_owned(),
            day: day?,
            tasks: tasks.into_iter().collect::<Option<_>>()?,
        })
    }

    fn task(&mut self, node: &Node) -> Option<trade::Kind> {
        let text = node.text().unwrap_or_default();
        let names = trade::Kind::ALL.map(trade::Kind::name);
        if let Some(kind) = trade::Kind::all().find(|kind| kind.name() == text) {
            return Some(kind);
        }
        let message = format!("`{}` is no work of the plan", excerpt(text));
        let old = OLD_TASKS.iter().find(|(old, _)| *old == text);
        let near = old.map(|(_, kind)| kind.name()).or_else(|| nearest(text, names));
        let near = near.map_or(String::new(), |word| format!("did you mean `{word}`? "));
        let hint = format!("{near}Works are {}", names.join(", "));
        let fault = Diagnostic::error("unknown-value", message).place(node.place);
        self.reader.note(fault.hint(hint));
        None
    }

    fn travel(&mut self, node: &Node) -> Option<Travel> {
        let fields = self.reader.fields(node, "the travel", &["distance", "trip", "speed"])?;
        let trip = self.price(&fields, "trip");
        let speed = self.reader.required(&fields, "speed", "speed: 30 mi/h");
        let speed =
            speed.and_then(|node| self.reader.quantity(node, "`speed`", "a speed", read::speed));
        let node = self.reader.required(&fields, "distance", "distance: 0.70/mi")?;
        let distance = self.reader.quantity(
            node,
            "`distance`",
            "a price per distance",
            read::distance_rate,
        )?;
        let (amount, per_km) = distance.value;
        Some(Travel {
            distance: Rate { amount, origin: Origin(node.place) },
            per_km,
            trip: trip?,
            km_h: speed?.value,
        })
    }
}
