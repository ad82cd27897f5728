//! Texts for scripts: JSON whose numbers are rounded so that a last bit never shows.

use std::io::{self, Write};

use serde::Serialize;
use serde_json::Value;
use serde_json::ser::{Formatter, PrettyFormatter, Serializer};

/// Version of the layout of every document.
pub(crate) const VERSION: u32 = 1;

/// Decimals that are kept. A billionth of a metre is far below what a tape shows and far above the
/// last bit of a sum over a floor.
const SCALE: f64 = 1e9;

/// `value` rounded to nine decimals; a zero has no sign.
fn rounded(value: f64) -> f64 {
    let scaled = (value * SCALE).round();
    if scaled == 0.0 {
        0.0
    } else if scaled.is_finite() {
        scaled / SCALE
    } else {
        value
    }
}

/// Prints in lines with indents, and every number that is not whole rounded. What is no number is `null`.
#[derive(Default)]
struct Rounded(PrettyFormatter<'static>);

/// What is printed as the formatter inside does it.
macro_rules! as_inside {
    ($($name:ident($($first:ident)?);)*) => {
        $(fn $name<W: Write + ?Sized>(&mut self, out: &mut W $(, $first: bool)?) -> io::Result<()> {
            self.0.$name(out $(, $first)?)
        })*
    };
}

impl Formatter for Rounded {
    fn write_f64<W: Write + ?Sized>(&mut self, out: &mut W, value: f64) -> io::Result<()> {
        self.0.write_f64(out, rounded(value))
    }

    as_inside! {
        begin_array();
        end_array();
        begin_array_value(first);
        end_array_value();
        begin_object();
        end_object();
        begin_object_key(first);
        begin_object_value();
        end_object_value();
    }
}

/// What stands in JSON by the word that a function has for it, or as it is printed.
macro_rules! in_json_by {
    ($name:ty, $word:ident) => {
        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_str(self.$word())
            }
        }
    };
    ($name:ty) => {
        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.collect_str(self)
            }
        }
    };
}
pub(crate) use in_json_by;

/// Prints a value that lies so deep.
pub(crate) fn print(out: &mut Vec<u8>, value: &impl Serialize, level: usize) -> io::Result<()> {
    let mut formatter = Rounded::default();
    for _ in 0..level {
        // The formatter counts what it has begun.
        formatter.begin_object(&mut io::sink())?;
    }
    value.serialize(&mut Serializer::with_formatter(out, formatter))?;
    Ok(())
}

/// The same with its keys in the order of the alphabet.
pub(crate) fn sorted(value: &(impl Serialize + ?Sized)) -> Value {
    // Turning plain structs into values has no way to fail; an empty document would say so.
    serde_json::to_value(value).unwrap_or_default()
}

/// A whole document with its keys in the order of the alphabet, and a line feed at its end.
#[must_use]
pub(crate) fn document(contents: &impl Serialize) -> String {
    #[derive(Serialize)]
    struct Document<'a, T> {
        slabwalk: u32,
        #[serde(flatten)]
        contents: &'a T,
    }
    let mut out = Vec::new();
    // Nor has writing to memory.
    print(&mut out, &sorted(&Document { slabwalk: VERSION, contents }), 0).ok();
    out.push(b'\n');
    String::from_utf8_lossy(&out).into_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_rounded_to_nine_decimals() {
        let rows = [
            (0.1 + 0.2, "0.3"),
            (-0.0, "0.0"),
            (-1e-12, "0.0"),
            (1.0 / 3.0, "0.333333333"),
            (23.5, "23.5"),
            (f64::NAN, "null"),
            (f64::INFINITY, "null"),
            (-2.000_000_000_4, "-2.0"),
        ];
        for (value, want) in rows {
            let mut out = Vec::new();
            print(&mut out, &value, 0).expect("written");
            assert_eq!(String::from_utf8_lossy(&out), want, "{value:?}");
        }
    }

    #[test]
    fn documents_are_printed_in_the_order_of_the_alphabet() {
        #[derive(Serialize)]
        struct Contents {
            name: &'static str,
            list: [f64; 2],
            empty: [u8; 0],
        }
        let contents = Contents { name: "a \"b\"", list: [1.0, 2.5], empty: [] };
        let wanted = "{\n  \"empty\": [],\n  \"list\": [\n    1.0,\n    2.5\n  ],\n  \"name\": \"a \\\"b\\\"\",\n  \"slabwalk\": 1\n}\n";
        assert_eq!(document(&contents), wanted);
    }
}
