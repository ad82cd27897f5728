//! The scanner under every reader: normalized text, exact numbers, unit words.

use std::borrow::Cow;

/// Most digits a number may have, before and after the point together. Keeps every product
/// below exact in 128 bits; a tape shows six.
const MOST_DIGITS: usize = 15;
/// Largest denominator of a written fraction. Tapes stop at 64.
const LARGEST_DENOMINATOR: i128 = 1000;

/// An exact fraction, not necessarily reduced; the denominator is positive.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Rational {
    /// Numerator.
    pub num: i128,
    /// Denominator.
    pub den: i128,
}

impl Rational {
    /// The product with `num / den`.
    pub const fn times(self, num: i128, den: i128) -> Self {
        Self { num: self.num * num, den: self.den * den }
    }

    /// The sum.
    pub const fn plus(self, other: Self) -> Self {
        Self { num: self.num * other.den + other.num * self.den, den: self.den * other.den }
    }

    /// The nearest `f64`, where numerator and denominator in lowest terms fit 53 bits; within
    /// one unit in the last place otherwise. Nothing is always positive nothing.
    #[expect(clippy::cast_precision_loss, reason = "said in the doc comment")]
    pub fn value(self) -> f64 {
        if self.num == 0 {
            return 0.0;
        }
        // Nearly always both fit 64 bits, in which division is many times faster.
        if let (Ok(num), Ok(den)) = (i64::try_from(self.num), u64::try_from(self.den)) {
            let common = gcd_64(num.unsigned_abs(), den);
            let num = (num.unsigned_abs() / common) as f64;
            return num.copysign(self.num.signum() as f64) / (den / common) as f64;
        }
        let common = gcd(self.num.unsigned_abs(), self.den.unsigned_abs()).cast_signed();
        (self.num / common) as f64 / (self.den / common) as f64
    }
}

const fn gcd_64(mut a: u64, mut b: u64) -> u64 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

const fn gcd(mut a: u128, mut b: u128) -> u128 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

/// How a number was written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Form {
    /// `24`.
    Whole,
    /// `24.5`.
    Decimal,
    /// `1/4` or `3 1/2`.
    Fraction,
}

/// A number as written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Number {
    /// Its exact value.
    pub value: Rational,
    pub form: Form,
}

/// Text with typographic marks replaced by the ones on a keyboard, and vulgar fractions spelled out.
pub(super) fn normalise(text: &str) -> Cow<'_, str> {
    let text = text.trim();
    if text.is_ascii() && !text.contains("''") {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 8);
    for c in text.chars() {
        match c {
            '′' | '’' | '‘' | 'ʹ' | '´' => out.push('\''),
            '″' | '”' | '“' | 'ʺ' => out.push('"'),
            '−' | '–' | '—' | '‐' | '‑' => out.push('-'),
            '\u{2044}' => out.push('/'),
            c if c.is_whitespace() => out.push(' '),
            c => match vulgar(c) {
                Some(fraction) => {
                    if out.ends_with(|last: char| last.is_ascii_digit()) {
                        out.push(' ');
                    }
                    out.push_str(fraction);
                }
                None => out.push(c),
            },
        }
    }
    Cow::Owned(out.replace("''", "\""))
}

const fn vulgar(c: char) -> Option<&'static str> {
    Some(match c {
        '½' => "1/2",
        '¼' => "1/4",
        '¾' => "3/4",
        '⅛' => "1/8",
        '⅜' => "3/8",
        '⅝' => "5/8",
        '⅞' => "7/8",
        '⅓' => "1/3",
        '⅔' => "2/3",
        _ => return None,
    })
}

/// A place in normalized text.
#[derive(Clone, Debug)]
pub(super) struct Scan<'a> {
    text: &'a str,
    pos: usize,
}

impl<'a> Scan<'a> {
    /// At the start of normalized text.
    pub const fn new(text: &'a str) -> Self {
        Self { text, pos: 0 }
    }

    /// What was read so far, without trailing blanks.
    pub fn done(&self) -> &'a str {
        self.text[..self.pos].trim_end()
    }

    /// What is left.
    pub fn rest(&self) -> &'a str {
        &self.text[self.pos..]
    }

    /// Whether nothing is left.
    pub fn at_end(&self) -> bool {
        self.pos == self.text.len()
    }

    /// Steps over blanks.
    pub fn blanks(&mut self) {
        let rest = self.rest();
        self.pos += rest.len() - rest.trim_start_matches(' ').len();
    }

    /// Steps over `c` if it is next.
    pub fn eat(&mut self, c: char) -> bool {
        let found = self.rest().starts_with(c);
        if found {
            self.pos += c.len_utf8();
        }
        found
    }

    /// The next unit: a mark, or a run of letters with an optional full stop.
    pub fn unit(&mut self) -> &'a str {
        let rest = self.rest();
        let length = match rest.chars().next() {
            Some('\'' | '"' | '%' | '°') => rest.chars().next().map_or(0, char::len_utf8),
            _ => {
                let end = |c: char| !c.is_alphabetic();
                rest.find(end).unwrap_or(rest.len())
            }
        };
        self.pos += length;
        if length > 1 {
            self.eat('.');
        }
        rest[..length].trim_end_matches('.')
    }

    fn digits(&mut self) -> &'a str {
        let rest = self.rest();
        let end = rest.find(|c: char| !c.is_ascii_digit());
        let length = end.unwrap_or(rest.len());
        self.pos += length;
        &rest[..length]
    }

    /// The next number: `24`, `24.5`, `.25`, `1/4`, `3 1/2`, `3-1/2`. Stays put if there is none.
    ///
    /// # Errors
    ///
    /// A clause that says what is wrong with the number.
    pub fn number(&mut self) -> Result<Option<Number>, String> {
        let start = self.pos;
        let whole = self.digits();
        if self.rest().starts_with('.')
            && self.rest()[1..].starts_with(|c: char| c.is_ascii_digit())
        {
            self.pos += 1;
            let decimals = self.digits();
            return decimal(whole, decimals).map(Some);
        }
        if whole.is_empty() {
            self.pos = start;
            return Ok(None);
        }
        let whole = digits_value(whole)?;
        if self.eat('/') {
            let value = self.fraction(whole, true)?;
            return Ok(Some(value));
        }
        if let Some(value) = self.mixed(whole)? {
            return Ok(Some(value));
        }
        Ok(Some(Number { value: Rational { num: whole, den: 1 }, form: Form::Whole }))
    }

    /// The fraction after a whole number, if one follows over a blank or a hyphen.
    fn mixed(&mut self, whole: i128) -> Result<Option<Number>, String> {
        let mut ahead = self.clone();
        if !ahead.eat('-') {
            ahead.blanks();
            if ahead.pos == self.pos {
                return Ok(None);
            }
        }
        let numerator = ahead.digits();
        if numerator.is_empty() || !ahead.eat('/') {
            return Ok(None);
        }
        let part = ahead.fraction(digits_value(numerator)?, false)?;
        *self = ahead;
        let whole = Rational { num: whole, den: 1 };
        Ok(Some(Number { value: whole.plus(part.value), form: Form::Fraction }))
    }

    /// The denominator, with the numerator and the slash already read.
    fn fraction(&mut self, numerator: i128, alone: bool) -> Result<Number, String> {
        let digits = self.digits();
        if digits.is_empty() {
            return Err(format!("the fraction {numerator}/ has no lower number"));
        }
        let denominator = digits_value(digits)?;
        if denominator == 0 {
            return Err(format!("{numerator}/0 divides by nothing"));
        }
        if denominator > LARGEST_DENOMINATOR {
            return Err(format!(
                "the fraction {numerator}/{denominator} is finer than 1/{LARGEST_DENOMINATOR}"
            ));
        }
        if !alone && numerator >= denominator {
            return Err(format!(
                "the fraction {numerator}/{denominator} after a whole number is not less than one"
            ));
        }
        Ok(Number { value: Rational { num: numerator, den: denominator }, form: Form::Fraction })
    }
}

fn digits_value(digits: &str) -> Result<i128, String> {
    if digits.len() > MOST_DIGITS {
        return Err(format!("a number of {} digits is beyond belief", digits.len()));
    }
    let value = digits.bytes().fold(0, |sum, digit| sum * 10 + i128::from(digit - b'0'));
    Ok(value)
}

fn decimal(whole: &str, decimals: &str) -> Result<Number, String> {
    let decimals = decimals.trim_end_matches('0');
    let count = whole.len() + decimals.len();
    if count > MOST_DIGITS {
        return Err(format!("a number of {count} digits is beyond belief"));
    }
    let den = (0..decimals.len()).fold(1, |power, _| power * 10);
    let num = digits_value(whole)? * den + digits_value(decimals)?;
    Ok(Number { value: Rational { num, den }, form: Form::Decimal })
}
