//! The last lines of a packet: what was found, what is on hold, what it costs, what to open first, where the files are.

use std::path::Path;

use crate::diagnostic::{Diagnostic, counted, told};
use crate::floor::Survey;
use crate::order::near_misses;
use crate::price::Price;
use crate::schedule::plan;
use crate::text::clean;
use crate::text::{COLUMNS, folded};

/// A packet that was written.
pub(super) struct Packet<'a> {
    pub floor: &'a Survey,
    /// What somebody has to look at, that of the drawings and the proposal too.
    pub findings: &'a [Diagnostic],
    /// What it costs, in words.
    pub costs: String,
    pub folder: &'a Path,
    /// Files in it.
    pub files: usize,
}

/// The price, whose it is, and how long the work takes.
pub(super) fn costs(floor: &Survey, price: Option<&Price>) -> String {
    let Some(price) = price else {
        return "no price could be made; what it lacks is said above".to_owned();
    };
    let example = if price.example { ", from the built-in example prices" } else { "" };
    let days = plan(floor).days.len();
    let s = if days == 1 { "" } else { "s" };
    let price = price.base.price.with(&price.currency);
    format!("{price}{example}; {days} working day{s}")
}

impl Packet<'_> {
    /// Five lines, and before them the near misses of the order.
    pub(super) fn lines(&self) -> String {
        let mut out = String::new();
        for sentence in near_misses(&self.floor.order, self.floor.slab.units) {
            out += &format!("Near miss   {sentence}\n");
        }
        let found = match self.found() {
            Some(found) => format!("{found}: read them in takeoff.txt"),
            None => "nothing".to_owned(),
        };
        let first = if self.floor.holds.is_empty() {
            "crew-map.pdf: the floor with everything that is done to it"
        } else {
            "takeoff.txt: holds, totals and what to buy stand on top"
        };
        let rows = [
            ("Found", found),
            ("On hold", self.on_hold().unwrap_or("nothing".to_owned())),
            ("Costs", self.costs.clone()),
            ("Open first", first.to_owned()),
            ("Files", format!("{} in {}", self.files, self.folder.display())),
        ];
        for (name, words) in rows {
            out += &format!("{name:<LEAD$}{words}\n");
        }
        folded(&out)
    }

    /// One line, of a sketch among several.
    pub(super) fn line(&self, name: &str) -> String {
        let found = self.found().unwrap_or("nothing found".to_owned());
        let hold = match self.floor.holds.len() {
            0 => String::new(),
            n => format!("; {n} on hold"),
        };
        folded(&format!("{}: {found}{hold}; {}\n", clean(name), self.costs))
    }

    /// `1 stop, 8 warnings, 4 notes`.
    fn found(&self) -> Option<String> {
        let counted = counted(&told(self.findings));
        (!counted.is_empty()).then_some(counted)
    }

    /// What is on hold, by its titles, as many as go on the line.
    fn on_hold(&self) -> Option<String> {
        let titles: Vec<&str> = self.floor.holds.iter().map(|hold| hold.code.title()).collect();
        let room = usize::from(COLUMNS) - LEAD;
        let said = |shown: usize| match titles.len() - shown {
            0 => titles.join("; "),
            more => format!("{} and {more} more", titles[..shown].join("; ")),
        };
        let fits = |shown: &usize| said(*shown).chars().count() <= room;
        let shown = (1..=titles.len()).rev().find(fits).or((!titles.is_empty()).then_some(1))?;
        Some(said(shown))
    }
}

/// Room for the word before each line.
const LEAD: usize = 12;
