//! Reads the equations out of an explanation and does them again, in metres.
//!
//! Only what is printed is read: quantities with their units, `+ − × /`, brackets, squares. Names
//! beside a number (`J1 24'-0"`, `walls 88'-0"`) and names of rules in brackets are passed over.

/// What was found in one line.
#[derive(Debug, Default)]
pub struct Equations {
    /// Pairs of sides that both could be read.
    pub found: usize,
    /// Pairs that don't agree.
    pub wrong: Vec<String>,
}

/// How far two sides may be apart: both are printed to five digits, and their factors too.
const TOLERANCE: f64 = 2e-3;

/// All equations of a line. Sides that are words (`the larger of …`) are no part of one.
pub fn equations(line: &str) -> Equations {
    let mut out = Equations::default();
    let sentences = line.trim_end_matches('.').split("; ").flat_map(|part| part.split(": "));
    for sentence in sentences {
        let sides: Vec<&str> = sentence.split(" = ").collect();
        for pair in sides.windows(2) {
            let (Some(left), Some(right)) = (value(pair[0]), value(pair[1])) else {
                continue;
            };
            out.found += 1;
            let scale = left.abs().max(right.abs());
            if (left - right).abs() > TOLERANCE * scale {
                out.wrong.push(format!("{} = {} in {line}: {left} {right}", pair[0], pair[1]));
            }
        }
    }
    out
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Token {
    Number(f64),
    Operator(char),
    Square,
    Open,
    Close,
}

/// The value of one side in metres, square metres or cubic metres; `None` if it is no arithmetic.
fn value(side: &str) -> Option<f64> {
    let side = without_rules(side);
    let largest = side.strip_prefix("the larger of ").or(side.strip_prefix("the largest of "));
    match largest {
        Some(rest) => largest_of(rest),
        None => plain(&side),
    }
}

/// `found 1/4" and blade 1/4" , plus wander 1/8"`: the largest, then what is added or limits it.
fn largest_of(list: &str) -> Option<f64> {
    let mut result = f64::NEG_INFINITY;
    for part in list.replace(" and ", ", ").split(',').map(str::trim) {
        if let Some(added) = part.strip_prefix("plus wander ") {
            result += plain(added)?;
        } else if let Some(most) = part.strip_prefix("at most ") {
            result = result.min(plain(most)?);
        } else if let Some(least) = part.strip_prefix("at least ") {
            result = result.max(plain(least)?);
        } else {
            let words = ["found", "strip left in"];
            let part = words.iter().fold(part, |part, word| part.trim_end_matches(word).trim());
            result = result.max(plain(part)?);
        }
    }
    Some(result)
}

/// The value of arithmetic without words of its own.
fn plain(side: &str) -> Option<f64> {
    let tokens = tokens(side)?;
    let mut at = 0;
    let value = sum(&tokens, &mut at)?;
    (at == tokens.len()).then_some(value)
}

fn tokens(side: &str) -> Option<Vec<Token>> {
    let mut rest = side.trim();
    let mut out = Vec::new();
    while let Some(first) = rest.chars().next() {
        if first.is_ascii_digit() {
            let (number, left) = quantity(rest)?;
            out.push(Token::Number(number));
            rest = left.trim_start();
            continue;
        }
        let mut skip = first.len_utf8();
        match first {
            '+' | '−' | '×' | '/' => out.push(Token::Operator(first)),
            '(' => out.push(Token::Open),
            ')' => out.push(Token::Close),
            '²' => out.push(Token::Square),
            'π' => out.push(Token::Number(std::f64::consts::PI)),
            // A name beside a number; more than two words are a sentence.
            c if c.is_alphabetic() => {
                skip = rest.find(' ')?;
                let word = &rest[..skip];
                if ["the", "at", "as", "of", "plus", "less", "together"].contains(&word) {
                    return None;
                }
            }
            _ => return None,
        }
        rest = rest[skip..].trim_start();
    }
    Some(out)
}

/// Without names of rules: `(chase.blade)`.
fn without_rules(side: &str) -> String {
    let mut out = String::new();
    let mut rest = side;
    while let Some(open) = rest.find('(') {
        let close = rest[open..].find(')').map(|i| open + i);
        let is_rule = |inner: &str| {
            inner.contains('.')
                && inner.chars().all(|c| c.is_ascii_lowercase() || c == '.' || c == '_')
        };
        match close {
            Some(close) if is_rule(&rest[open + 1..close]) => {
                out.push_str(&rest[..open]);
                rest = &rest[close + 1..];
            }
            _ => {
                out.push_str(&rest[..=open]);
                rest = &rest[open + 1..];
            }
        }
    }
    out + rest
}

/// A number with its unit, and what follows it.
fn quantity(text: &str) -> Option<(f64, &str)> {
    let (whole, rest) = number(text)?;
    if let Some(rest) = rest.strip_prefix("'-") {
        let (inches, rest) = mixed(rest)?;
        let rest = rest.strip_prefix('"')?;
        return Some(((whole * 12.0 + inches) * 0.0254, rest));
    }
    let (inches, after) = mixed(text)?;
    if let Some(rest) = after.strip_prefix('"') {
        return Some((inches * 0.0254, rest));
    }
    let units = [
        (" ft²", 0.3048 * 0.3048),
        (" ft³", 0.3048 * 0.3048 * 0.3048),
        (" ft", 0.3048),
        (" in²", 0.0254 * 0.0254),
        (" in³", 0.0254 * 0.0254 * 0.0254),
        (" gal", 0.003_785_411_784),
        (" cm²", 1e-4),
        (" mm", 0.001),
        (" m²", 1.0),
        (" m", 1.0),
        (" L", 0.001),
    ];
    for (unit, one) in units {
        if let Some(rest) = rest.strip_prefix(unit) {
            return Some((whole * one, rest));
        }
    }
    Some((whole, rest))
}

/// `3`, `3/8`, `1 1/4`, `0.2362`.
fn mixed(text: &str) -> Option<(f64, &str)> {
    let (first, rest) = number(text)?;
    if let Some((bottom, rest)) = rest.strip_prefix('/').and_then(number) {
        return Some((first / bottom, rest));
    }
    let fraction = rest.strip_prefix(' ').and_then(number);
    if let Some((top, left)) = fraction
        && let Some((bottom, left)) = left.strip_prefix('/').and_then(number)
    {
        return Some((first + top / bottom, left));
    }
    Some((first, rest))
}

fn number(text: &str) -> Option<(f64, &str)> {
    let end = text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len());
    let value = text[..end].parse().ok()?;
    Some((value, &text[end..]))
}

fn sum(tokens: &[Token], at: &mut usize) -> Option<f64> {
    let mut total = product(tokens, at)?;
    while let Some(Token::Operator(sign @ ('+' | '−'))) = tokens.get(*at) {
        *at += 1;
        let next = product(tokens, at)?;
        total += if *sign == '+' { next } else { -next };
    }
    Some(total)
}

fn product(tokens: &[Token], at: &mut usize) -> Option<f64> {
    let mut total = factor(tokens, at)?;
    while let Some(Token::Operator(sign @ ('×' | '/'))) = tokens.get(*at) {
        *at += 1;
        let next = factor(tokens, at)?;
        total = if *sign == '×' { total * next } else { total / next };
    }
    Some(total)
}

fn factor(tokens: &[Token], at: &mut usize) -> Option<f64> {
    let value = match tokens.get(*at)? {
        Token::Number(value) => {
            *at += 1;
            *value
        }
        Token::Open => {
            *at += 1;
            let value = sum(tokens, at)?;
            (tokens.get(*at)? == &Token::Close).then_some(())?;
            *at += 1;
            value
        }
        _ => return None,
    };
    if tokens.get(*at) == Some(&Token::Square) {
        *at += 1;
        return Some(value * value);
    }
    Some(value)
}

#[test]
fn the_checker_checks() {
    let rows = [
        ("Filler = 24'-0\" × 3/8\" × 1 1/4\" = 135 in³ = 0.58442 gal.", 2, 0),
        ("Filler = 24'-0\" × 3/8\" × 1 1/4\" = 136 in³ = 0.58442 gal.", 2, 2),
        ("area = π/4 × (101.6 mm)² = 81.073 cm².", 1, 0),
        ("removed = 6 × 2'-0\" × ((3/16\")² + 3/16\" × 1/4\" + (1/4\")²) / 3 = 6.9375 in³.", 1, 0),
        ("Edge = walls 88'-0\" + keep-outs 2'-0\" = 90'-0\".", 1, 0),
        ("Joint sawn = J1 23'-6\" + J2 23'-6\" = 46'-0\".", 1, 1),
        ("w = the larger of found 1/4\" and blade 1/8\" (chase.blade) = 1/4\".", 1, 0),
        ("w = the larger of found 1/4\" and blade 1/8\" (chase.blade) = 1/8\".", 1, 1),
        ("w = the larger of found 1\" and blade 2\", plus wander 1/8\" = 2 1/8\".", 1, 0),
        ("d = the largest of 3/4\" (chase.depth), 3\" found, at most 2\" (a.b) = 2\".", 1, 0),
        ("Resin = 4'-0\" × 1/16\" × 1\" (cracks.fill_depth) = 3 in³.", 1, 0),
        ("No equation at all.", 0, 0),
    ];
    for (line, found, wrong) in rows {
        let equations = equations(line);
        assert_eq!(equations.found, found, "{line}");
        assert_eq!(equations.wrong.len(), wrong, "{line}: {:?}", equations.wrong);
    }
}
