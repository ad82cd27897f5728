//! What a sketch asks of the shop book that the book does not hold.

use crate::diagnostic::Diagnostic;
use crate::shop::Shop;
use crate::sketch::At;

/// Likeness (Jaro-Winkler, 0 to 1) from which a known name is offered for a misspelt one.
const OFFER_FROM: f64 = 0.75;

/// An error at the system's name if the shop book has no such system.
#[must_use]
pub fn unknown_system(system: Option<&At<String>>, shop: &Shop) -> Option<Diagnostic> {
    let wanted = system?;
    if shop.systems.contains_key(&wanted.value) {
        return None;
    }
    let known: Vec<&str> = shop.systems.keys().map(String::as_str).collect();
    let nearest = known
        .iter()
        .map(|name| (strsim::jaro_winkler(name, &wanted.value), *name))
        .filter(|(likeness, _)| *likeness >= OFFER_FROM)
        .max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(a.1)));
    let hint = match nearest {
        Some((_, name)) => format!("the shop book has a system named {name}"),
        None => format!("systems in the shop book: {}", known.join(", ")),
    };
    let message = format!("the shop book has no coating system named {}", wanted.value);
    Some(
        Diagnostic::error("unknown-system", message)
            .at(wanted.span)
            .label("not in the shop book")
            .hint(hint),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::order::fixture::shop;
    use crate::sketch::Span;

    fn found(name: &str) -> Option<(String, Option<String>)> {
        let at = At { value: name.to_owned(), span: Span { start: 3, end: 8 } };
        unknown_system(Some(&at), &shop()).map(|d| (d.message, d.hint))
    }

    #[test]
    fn a_misspelt_system_is_offered_the_right_one() {
        let (message, hint) = found("flakes").unwrap_or_default();
        assert_eq!(message, "the shop book has no coating system named flakes");
        assert_eq!(hint.as_deref(), Some("the shop book has a system named flake"));
        let (_, hint) = found("terrazzo").unwrap_or_default();
        assert_eq!(hint.as_deref(), Some("systems in the shop book: flake"));
        assert_eq!(found("flake"), None);
    }
}
