//! Regular expressions for values with units. They accept every form that the readers read; what only
//! arithmetic can tell, such as 14 inches after the feet, is left to the readers.

use crate::form::{Rule, Sign};

const BLANK: &str = r"[ \u00a0]*";
const GAP: &str = r"[ \u00a0]+";
const HYPHEN: &str = "[-\u{2212}\u{2013}\u{2014}\u{2010}\u{2011}]";
const VULGAR: &str = "[½¼¾⅛⅜⅝⅞⅓⅔]";
const FOOT: &str = r"(?:['′’‘ʹ´]|[Ff](?:[Tt]|[Ee][Ee][Tt]|[Oo][Oo][Tt])\.?)";
const INCH: &str = r#"(?:["″”“ʺ]|['′’‘ʹ´]{2}|[Ii][Nn](?:[Cc][Hh](?:[Ee][Ss])?)?\.?)"#;
const METRIC: &str = r"(?:[Mm]{1,2}|[Cc][Mm]|(?:[Mm][Ii][Ll][Ll][Ii]|[Cc][Ee][Nn][Tt][Ii])?[Mm][Ee][Tt](?:[Ee][Rr]|[Rr][Ee])[Ss])\.?";
const DECIMAL: &str = r"(?:\d+(?:\.\d+)?|\.\d+)";

/// A whole number, a decimal, a fraction, or a whole number and a fraction.
fn number() -> String {
    let slash = "[/\u{2044}]";
    format!(
        r"(?:\d+(?:{HYPHEN}|[ \u00a0]+)\d+{slash}\d+|\d+{slash}\d+|(?:\d+(?:{HYPHEN}|{BLANK}))?{VULGAR}|{DECIMAL})"
    )
}

/// A length that its rule allows.
pub(crate) fn length(rule: &Rule) -> String {
    let sign = match rule.sign {
        Sign::Any => format!("{HYPHEN}?{BLANK}"),
        Sign::NotNegative | Sign::Positive => String::new(),
    };
    format!("^{sign}{}$", unsigned())
}

fn unsigned() -> String {
    let number = number();
    let inches = format!("{BLANK}{HYPHEN}?{BLANK}{number}{BLANK}{INCH}");
    format!(
        r"(?:\d+{BLANK}{FOOT}{inches}|{number}{BLANK}(?:{FOOT}|{INCH})|{DECIMAL}{BLANK}{METRIC}|{number})"
    )
}

/// A run or an arc of a walk, or `close`.
pub(crate) fn run() -> String {
    let (number, length) = (number(), unsigned());
    let bearing = format!("[NnSs]{BLANK}{number}{BLANK}°?{BLANK}[EeWw]\\.?");
    let direction = format!("(?:{bearing}|[NnEeSsWw]\\.?){BLANK}");
    let size = "(?:[Rr]|[Rr][Aa][Dd][Ii][Uu][Ss]|[Rr][Ii][Ss][Ee])";
    let hand = "(?:[Ll][Ee][Ff][Tt]|[Rr][Ii][Gg][Hh][Tt])";
    let arc =
        format!("[Aa][Rr][Cc]{GAP}(?:{direction})?{length}{GAP}{size}{BLANK}{length}{GAP}{hand}");
    format!("^(?:[Cc][Ll][Oo][Ss][Ee]|{arc}|{direction}{length})$")
}

/// A number and one of the units, which are regular expressions.
pub(crate) fn amount(units: &str) -> String {
    format!("^{}{BLANK}(?:{units})\\.?$", number())
}

/// A number and one of the units, which are regular expressions; it may be below nothing.
pub(crate) fn signed(units: &str) -> String {
    format!("^{HYPHEN}?{}{BLANK}(?:{units})$", number())
}

/// A number alone.
pub(crate) fn bare() -> String {
    format!("^{HYPHEN}?{}$", number())
}

pub(crate) const VOLUME: &str = "[Mm][Ll]|[Cc][Ll]|[Ll]|[Ll]itres?|[Ll]iters?|[Gg]al|[Gg]allons?|[Qq]t|[Pp]t|[Ff]l [Oo]z|(?:ft|in|m)[3³]";
pub(crate) const MASS: &str = "lbs?|oz|kg|g|t|LBS?|KG";
pub(crate) const AREA: &str = "[Ff][Tt][2²]|[Ss][Qq] ?[Ff][Tt]|[Ss][Ff]|[Ss]quare [Ff]eet|[Mm][2²]|[Ss][Qq] ?[Mm]|[Ss]quare [Mm]et(?:er|re)s|";
pub(crate) const COVERAGE: &str = "(?:ft[2²]|sq ft) ?/ ?gal|m[2²] ?/ ?(?:[Ll]|litre)";
pub(crate) const SPREAD: &str = "(?:lb|oz) ?/ ?ft[2²]|lb ?/ ?sq ft|k?g ?/ ?m[2²]";
pub(crate) const SPAN: &str = "s|min|minutes?|h|hr|hours?|d|days?|wk|weeks?";
pub(crate) const FILM: &str = "mils?|in|[\"″”“]|mm|[uµ]m";
pub(crate) const TEMPERATURE: &str = "°? ?[FfCc]|";
/// The sign of a currency.
pub(crate) const CURRENCY: &str = r"^[^0-9\x00-\x1f\x7f]{1,4}$";
/// A plain decimal number of up to four decimals, commas between thousands.
const PLAIN: &str = r"(?:\d{1,18}|\d{1,3}(?:,\d{3})+)(?:\.\d{1,4})?";
/// A price; the sign of the currency is for people.
pub(crate) const MONEY: &str = r"^[$€£]*(?:\d{1,18}|\d{1,3}(?:,\d{3})+)(?:\.\d{1,4})?$";

/// A decimal number and what must follow it.
pub(crate) fn plain(unit: &str) -> String {
    format!("^{PLAIN} *{unit}$")
}

/// A price over a distance.
pub(crate) fn price_per(unit: &str) -> String {
    format!("^[$€£]*{PLAIN} */ *(?:{unit})$")
}

/// A day of the calendar.
pub(crate) const DAY: &str = r"^(?:19|20|21)\d\d-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12]\d|3[01])$";
/// Letters of any script, digits, `-`, `_` and `.`, at most 16 of them: nothing else of ASCII.
pub(crate) const ID: &str = r"^[^\x00-\x2c\x2f\x3a-\x40\x5b-\x5e\x60\x7b-\x7f]{1,16}$";
/// The same, or with stars in place of any characters.
pub(crate) const IDS: &str = r"^[^\x00-\x29\x2b\x2c\x2f\x3a-\x40\x5b-\x5e\x60\x7b-\x7f]+$";
pub(crate) const TRUTH: &str = "^(?:[Tt][Rr][Uu][Ee]|[Ff][Aa][Ll][Ss][Ee])$";
