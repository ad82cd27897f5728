//! Blemishes: areas that change how the surface is prepared.

use super::Described;
use super::key::{Group, Key, Takes, id, may, must, names, note};
use super::shape::{BAND, BOX, CIRCLE, ONE_SHAPE, POLYGON};
use super::words::words;

words! {
    /// What an area of the surface is covered or damaged with.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
    BlemishKind {
        /// Oil or grease.
        Oil = "oil", "Oil";
        /// A clear film that keeps liquids out.
        Sealer = "sealer", "Sealer";
        /// Paint or an old coating.
        Paint = "paint", "Paint";
        /// Glue of an old floor covering.
        Adhesive = "adhesive", "Adhesive";
        /// The skin of the concrete flakes off.
        Scaling = "scaling", "Scaling";
        /// Salts.
        Efflorescence = "efflorescence", "Efflorescence";
        /// A film sprayed on fresh concrete.
        CuringCompound = "curing-compound", "Curing compound";
    }
}

impl BlemishKind {
    /// What it is called in text.
    #[must_use]
    pub fn name(self) -> String {
        self.word().replace('-', " ")
    }
}

words! {
    /// What a laboratory found in an old coating or adhesive.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
    TestResult {
        /// Neither lead nor asbestos.
        Clear = "clear", "Clear";
        /// Lead; a licensed firm takes it off.
        Lead = "lead", "Lead";
        /// Asbestos; a licensed firm takes it off.
        Asbestos = "asbestos", "Asbestos";
    }
}

const KEYS: [Key; 9] = [
    id("B1"),
    must("what", Takes::Words(BlemishKind::CHOICES), "What it is.", "oil").asked("What is it?"),
    BOX,
    CIRCLE,
    POLYGON,
    BAND,
    may(
        "tested",
        Takes::Words(TestResult::CHOICES),
        "What a laboratory found in it. Old paint can hold lead, old adhesive asbestos; left out, nobody had it tested.",
        "clear",
    ),
    may("tested_on", Takes::Day, "With tested: day of the laboratory's report.", "2026-09-12"),
    note("under the truck"),
];

pub(super) const BLEMISH: Described = Described {
    name: "blemish",
    a: "a blemish",
    define: "blemish",
    list: "blemishes",
    letter: "B",
    about: "An area that changes how the surface is prepared.",
    listed: "Areas that change how the surface is prepared.",
    button: "Stain or coat",
    seen: "stain or coat",
    keys: &KEYS,
    names: &names(&KEYS),
    groups: &[ONE_SHAPE, Group::With("tested_on", &["tested"])],
};
