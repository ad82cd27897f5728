//! The order of ids in lists that must not depend on the order of a sketch.

/// Key by which ids are sorted: letters, then the number by its value, then the rest.
#[must_use]
pub fn id_key(id: &str) -> (String, u64, String) {
    let at = id.find(|c: char| c.is_ascii_digit()).unwrap_or(id.len());
    let (letters, rest) = id.split_at(at);
    let end = rest
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(rest.len());
    let number = rest[..end].parse().unwrap_or(u64::MAX);
    (letters.to_owned(), number, id.to_owned())
}

#[cfg(test)]
mod tests {
    use super::id_key;

    #[test]
    fn numbers_count_by_their_value() {
        let mut ids = vec!["S10", "J2", "S9", "J10", "S", "s1"];
        ids.sort_by_key(|id| id_key(id));
        assert_eq!(ids, ["J2", "J10", "S9", "S10", "S", "s1"]);
    }
}
