//! The nearest known word to a misspelled one.

use strsim::damerau_levenshtein;

/// The known word that `given` is most likely meant to be: at most one slip in three letters.
pub(crate) fn nearest<'k>(
    given: &str,
    known: impl IntoIterator<Item = &'k str>,
) -> Option<&'k str> {
    /// Longer words are no slips of the pen, and comparing them costs the square of their length.
    const LONGEST: usize = 40;
    if given.len() > LONGEST {
        return None;
    }
    let given = given.to_lowercase().replace([' ', '-'], "_");
    let allowed = (given.chars().count() / 3).max(1);
    known
        .into_iter()
        .map(|word| {
            let plain = word.to_lowercase().replace('-', "_");
            (damerau_levenshtein(&given, &plain), word)
        })
        .filter(|(distance, _)| *distance <= allowed)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, word)| word)
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn slips() {
        let keys = ["width", "widths", "depth", "strip_depth", "wander", "treatment"];
        let rows = [
            ("widht", Some("width")),
            ("Width", Some("width")),
            ("strip depth", Some("strip_depth")),
            ("strip-depth", Some("strip_depth")),
            ("treatmant", Some("treatment")),
            ("colour", None),
            ("", None),
        ];
        for (given, wanted) in rows {
            assert_eq!(nearest(given, keys), wanted, "{given}");
        }
        assert_eq!(nearest("honour", ["fill", "honor", "leave"]), Some("honor"));
        assert_eq!(nearest("curing compound", ["curing-compound"]), Some("curing-compound"));
    }
}
