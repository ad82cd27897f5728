//! The order of ids in lists that must not depend on the order of a sketch.

/// Key by which ids are sorted: letters, then the number by its value, then that behind a point, then the rest.
#[must_use]
pub fn id_key(id: &str) -> (String, u64, u64, String) {
    let at = id.find(|c: char| c.is_ascii_digit()).unwrap_or(id.len());
    let (letters, rest) = id.split_at(at);
    let (number, rest) = leading(rest);
    let part = rest.strip_prefix('.').map_or(0, |part| leading(part).0);
    (letters.to_owned(), number, part, id.to_owned())
}

/// The number at the start of a text, and what follows it.
fn leading(text: &str) -> (u64, &str) {
    let end = text.find(|c: char| !c.is_ascii_digit());
    let (digits, rest) = text.split_at(end.unwrap_or(text.len()));
    (digits.parse().unwrap_or(u64::MAX), rest)
}

#[cfg(test)]
mod tests {
    use super::id_key;

    #[test]
    fn numbers_count_by_their_value() {
        let mut ids = vec!["S10", "J2.10", "J2", "S9", "J2.9", "J10", "S", "s1"];
        ids.sort_by_key(|id| id_key(id));
        assert_eq!(ids, ["J2", "J2.9", "J2.10", "J10", "S9", "S10", "S", "s1"]);
    }
}
