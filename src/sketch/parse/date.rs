//! Days of the calendar, `YYYY-MM-DD`.

/// Whether a text is a day that exists, between 1900 and 2199.
pub(crate) fn is_day(text: &str) -> bool {
    let bytes = text.as_bytes();
    let shape = bytes.len() == 10
        && bytes.iter().enumerate().all(|(place, byte)| match place {
            4 | 7 => *byte == b'-',
            _ => byte.is_ascii_digit(),
        });
    if !shape {
        return false;
    }
    let part = |range: std::ops::Range<usize>| text[range].parse::<u32>().unwrap_or(0);
    let (year, month, day) = (part(0..4), part(5..7), part(8..10));
    let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    let last = match month {
        2 if leap => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => 0,
    };
    (1900..2200).contains(&year) && (1..=last).contains(&day)
}

#[cfg(test)]
mod tests {
    use super::is_day;

    #[test]
    fn days() {
        let rows = [
            ("2026-09-14", true),
            ("2024-02-29", true),
            ("2023-02-29", false),
            ("2100-02-29", false),
            ("2000-02-29", true),
            ("2026-13-01", false),
            ("2026-04-31", false),
            ("2026-9-14", false),
            ("14.09.2026", false),
            ("2026-09-1½", false),
        ];
        for (text, wanted) in rows {
            assert_eq!(is_day(text), wanted, "{text}");
        }
    }
}
