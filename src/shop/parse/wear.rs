//! Goods that wear, and how goods are charged.

use super::Pass;
use crate::form::{Fields, Rule, Sign};
use crate::quantity::{Length, Ratio, Span, read};
use crate::shop::{Buying, Charged, Wear, Worn};
use crate::trade::{Good, Measure, Wears};
use crate::yaml::Node;

/// No wheel, choke or roll is longer than this.
const MILE: Length = Length::from_m(1609.344);
/// A length of work or of a roll.
pub(crate) const RUN: Rule = Rule::plan("the length", Sign::Positive, MILE);
/// Largest wheel of a hand grinder, and highest choke.
pub(crate) const FOOT: Length = Length::from_in(12.0);
/// Most of a good that is taken along for nothing but luck.
pub(crate) const MOST_SPARE: f64 = 100.0;
/// The words of `charged`.
pub(crate) const CHARGED: [(&str, Charged); 2] =
    [(Charged::Whole.word(), Charged::Whole), (Charged::Used.word(), Charged::Used)];
/// Keys of `sundries:`, as books had it before, and the good in which each number stands now.
const SUNDRIES: [(&str, Good, &str); 6] = [
    ("mixer_spares", Good::Mixer, "spare"),
    ("sand", Good::Sand, "each"),
    ("blade", Good::SawBlade, "each"),
    ("wheel", Good::Wheel, "each"),
    ("tape", Good::Tape, "each"),
    ("dust_bag", Good::DustBag, "each"),
];

impl Pass<'_> {
    pub(super) fn wear(&mut self, node: &Node) -> Option<Wear> {
        let names: Vec<&str> = Good::all().map(|wears| wears.name).collect();
        let fields = self.reader.fields(node, "the goods that wear", &names)?;
        let read: Vec<Option<(Good, Worn)>> = Good::all()
            .map(|wears| {
                let name = wears.name;
                let node = self.reader.required(&fields, name, &format!("{name}:"))?;
                self.reader.item = Some(name.to_owned());
                let worn = self.worn(wears, node);
                self.reader.item = None;
                Some((wears.good, worn?))
            })
            .collect();
        Some(Wear(read.into_iter().collect::<Option<_>>()?))
    }

    fn worn(&mut self, wears: Wears, node: &Node) -> Option<Worn> {
        let keys = ["each", "spare", "charged"];
        let fields = self.reader.fields(node, "a good that wears", &keys)?;
        let units = self.reader.units;
        let each = match wears.by.unit() {
            Measure::Length => self.length(&fields, "each", &RUN).map(Length::m),
            Measure::Area => self.positive(&fields, "each", "an area", |t| read::area(t, units)),
            Measure::Time => self.positive(&fields, "each", "a time", read::span).map(Span::s),
            Measure::Mass => self
                .positive(&fields, "each", "a weight", read::mass)
                .map(crate::quantity::Mass::kg),
            Measure::Count => {
                self.positive(&fields, "each", "a number", read::count).map(|count| count as f64)
            }
        };
        let spare = fields.get("spare");
        let spare = spare.map(|node| self.reader.number(node, "`spare`", 0.0, MOST_SPARE));
        let charged = self.charged(&fields);
        Some(Worn {
            each: each?,
            spare: spare.map_or(Some(0), |n| n.map(|n| n.value.ceil() as u64))?,
            charged: charged?,
        })
    }

    /// Reads how a good is charged, which the merged book says.
    pub(super) fn charged(&mut self, fields: &Fields) -> Option<Charged> {
        let node = self.reader.required(fields, "charged", "charged: whole")?;
        let word = self.reader.word(node, "`charged`", &CHARGED)?;
        Some(word.value)
    }

    /// Reads how the products of a part of the book are bought and charged.
    pub(super) fn buying(&mut self, fields: &Fields) -> Option<Buying> {
        let reserve = self.percent(fields, "reserve");
        let charged = self.charged(fields);
        Some(Buying { reserve: reserve?, charged: charged? })
    }

    /// What diamonds last in concrete of one hardness. Of nothing no number would be enough.
    pub(super) fn share_of_life(&mut self, fields: &Fields) -> Option<Ratio> {
        let life = self.percent(fields, "life")?;
        if life.one() > 0.0 {
            return Some(life);
        }
        let message = "diamonds that last for nothing are never enough".into();
        let place = fields.key_place("life");
        self.reader.error("zero", place, message, "write life: 60%");
        None
    }

    /// Says where the small goods of an older book stand now.
    pub(super) fn old_sundries(&mut self, own: &Node) {
        let entries = own.entries().unwrap_or_default();
        let Some((key, old)) = entries.iter().find(|(key, _)| key.text == "sundries") else {
            return;
        };
        let written = old.entries().unwrap_or_default();
        let (mut now, mut choke) = (Vec::new(), String::new());
        for (key, node) in written {
            let value = node.text().unwrap_or_default();
            if key.text == "choke" {
                choke = format!("chase: {{choke: {value}}} and ");
            }
            if let Some((_, good, part)) = SUNDRIES.iter().find(|(old, ..)| *old == key.text) {
                let name = good.name();
                let quote = if name.contains(',') { "\"" } else { "" };
                now.push(format!("{quote}{name}{quote}: {{{part}: {value}}}"));
            }
        }
        if now.is_empty() {
            now.push("joint saw blade: {each: 600 ft}".into());
        }
        let message = "`sundries` is now `wear`, where every good has what one is enough for and how it is charged";
        let hint = format!("write {choke}wear: {{{}}}", now.join(", "));
        self.now_called(key.place, message, &hint);
    }
}
