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

/// Whether an id is the next one after another: K6 after K5.
#[must_use]
pub fn follows(one: &str, next: &str) -> bool {
    let number = |id: &str| {
        let word = id.trim_end_matches(|c: char| c.is_ascii_digit());
        let number: u64 = id[word.len()..].parse().ok()?;
        Some((word.to_owned(), number))
    };
    match (number(one), number(next)) {
        (Some((a, m)), Some((b, n))) => a == b && m + 1 == n,
        _ => false,
    }
}

/// Ids as they are listed, each with how many it stands for: three or more of one repeated record that follow each other are one range,
/// J3.1–J3.24.
#[must_use]
pub fn ranges<S: AsRef<str>>(ids: &[S]) -> Vec<(String, usize)> {
    /// Fewer are sooner read one by one.
    const LEAST: usize = 3;
    let next = |one: &S, other: &S| {
        let (one, other) = (one.as_ref(), other.as_ref());
        one.contains('.') && follows(one, other)
    };
    let mut out = Vec::new();
    for run in ids.chunk_by(next) {
        match run {
            [first, .., last] if run.len() >= LEAST => {
                out.push((format!("{}–{}", first.as_ref(), last.as_ref()), run.len()));
            }
            _ => out.extend(run.iter().map(|id| (id.as_ref().to_owned(), 1))),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::{follows, id_key, ranges};

    #[test]
    fn copies_in_a_row_are_listed_as_a_range() {
        let ids = ["J1", "J2", "J3", "K1.1", "K1.2", "K2.1", "K2.2", "K2.3", "K2.5"];
        let listed: Vec<String> = ranges(&ids).into_iter().map(|(text, _)| text).collect();
        assert_eq!(listed.join(", "), "J1, J2, J3, K1.1, K1.2, K2.1–K2.3, K2.5");
        assert_eq!(ranges(&ids).iter().map(|r| r.1).sum::<usize>(), ids.len());
    }

    #[test]
    fn ids_that_follow_each_other() {
        let rows = [
            ("K5", "K6", true),
            ("K9", "K10", true),
            ("K5", "K7", false),
            ("K5", "L6", false),
            ("post", "K1", false),
            ("K99999999999999999999", "K1", false),
            ("K1.9", "K1.10", true),
            ("K1.1", "K2.2", false),
        ];
        for (one, next, wanted) in rows {
            assert_eq!(follows(one, next), wanted, "{one} {next}");
        }
    }

    #[test]
    fn numbers_count_by_their_value() {
        let mut ids = vec!["S10", "J2.10", "J2", "S9", "J2.9", "J10", "S", "s1"];
        ids.sort_by_key(|id| id_key(id));
        assert_eq!(ids, ["J2", "J2.9", "J2.10", "J10", "S9", "S10", "S", "s1"]);
    }
}
