//! What a file may hold, as data: keys, words and limits, in canonical order. Sketch and shop book describe
//! themselves with it beside their readers; the JSON Schema, the canonical form and messages are made from that.

mod form;
mod home;
pub(crate) mod pattern;

pub(crate) use form::{Form, Group, Key, Need, Record, by_name, keys, list, may, must, words};
pub(crate) use home::Homes;
