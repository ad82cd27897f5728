//! Words that the crew reads where a key of the sketch or the shop book is another one, each in one place. Keys never change; what
//! every word means on a floor stands in `docs/glossary.md`.

/// One edge of the slab standing above the other, at a joint or a crack: a record under `lippage:`, its height the key `step`.
pub const OFFSET: &str = "offset";
/// Several of them.
pub const OFFSETS: &str = "offsets";

/// Names of the shop book, of records and of what scripts read, and the words that are said for them.
pub const SAID: [(&str, &str); 6] = [
    ("steps", OFFSETS),
    ("grind steps by hand", "grind offsets by hand"),
    ("widen for rod and sealant", "widen for backer rod"),
    ("rod and sealant", "backer rod and sealant"),
    ("dust bag", "vacuum bag"),
    ("grit", "anti-slip aggregate"),
];

/// A name in the words of the trade: `top coat, grit` is `top coat, anti-slip aggregate`, `flake: grit` is `flake: anti-slip aggregate`.
#[must_use]
pub fn said(name: &str) -> String {
    let word = |part: &str| {
        let known = SAID.iter().find(|(key, _)| *key == part);
        known.map_or(part, |(_, word)| word).to_owned()
    };
    let parts = |text: &str, between: &str| {
        let parts: Vec<String> = text.split(between).map(word).collect();
        parts.join(between)
    };
    let named: Vec<String> = name.split(": ").map(|part| parts(part, ", ")).collect();
    named.join(": ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_books_are_said_in_words_of_the_trade() {
        let rows = [
            ("grind steps by hand", "grind offsets by hand"),
            ("top coat, grit", "top coat, anti-slip aggregate"),
            ("flake: grit", "flake: anti-slip aggregate"),
            ("dust bag", "vacuum bag"),
            ("gritty", "gritty"),
            ("", ""),
        ];
        for (name, want) in rows {
            assert_eq!(said(name), want, "{name:?}");
        }
    }
}
