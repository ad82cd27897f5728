//! Where a key belongs that stands where it is not known.

use super::form::{Form, Record};
use crate::form::Belongs;

/// Most places that are listed.
const MOST: usize = 8;

/// A record of a file, with the way to it.
struct Home {
    /// What the reader calls the record, with its article.
    what: &'static str,
    keys: Vec<&'static str>,
    /// The records from the outermost to this one's parent, each with the key of it that leads on.
    way: Vec<(&'static str, &'static str)>,
}

/// Every record of a file in every place where it can stand.
pub(crate) struct Homes(Vec<Home>);

impl Homes {
    /// Every record that can stand below a root.
    pub fn below(root: &Record) -> Self {
        let mut homes = Self(Vec::new());
        homes.add(root, &[]);
        homes
    }

    fn add(&mut self, record: &Record, way: &[(&'static str, &'static str)]) {
        if way.iter().any(|(what, _)| *what == record.what) {
            return;
        }
        self.0.push(Home {
            what: record.what,
            keys: record.keys.iter().map(|key| key.name).collect(),
            way: way.to_vec(),
        });
        for key in &record.keys {
            let mut way = way.to_vec();
            way.push((record.what, key.name));
            self.inside(&key.form, &way);
        }
    }

    fn inside(&mut self, form: &Form, way: &[(&'static str, &'static str)]) {
        match form {
            Form::Record(record) => self.add(&record(), way),
            Form::List(form, _) | Form::Named(form) | Form::OrNothing(form) => {
                self.inside(form, way);
            }
            Form::Tuple(forms) | Form::Any(forms) => {
                forms.iter().for_each(|form| self.inside(form, way));
            }
            _ => {}
        }
    }

    /// Whether a record of this name can stand at the end of a way.
    fn stands(&self, what: &str, way: &[(&str, &str)]) -> bool {
        self.0.iter().any(|home| home.what == what && home.way == way)
    }

    /// Where a key belongs that stands in the record `what` and is none of its keys: below this record if it is known there, else wherever
    /// the file has it. `None` for a key that the file has nowhere else.
    pub fn belongs(&self, key: &str, what: &str) -> Option<Belongs> {
        let known = self.0.iter().filter(|home| home.keys.contains(&key));
        // Another form of the same record is no other place.
        let mut known: Vec<&Home> = known.filter(|home| !self.stands(what, &home.way)).collect();
        let below = |home: &Home| home.way.iter().position(|(on, _)| *on == what);
        if known.iter().any(|home| below(home).is_some_and(|at| at > 0)) {
            known.retain(|home| below(home).is_some());
        }
        if known.iter().any(|home| home.way.is_empty()) {
            return Some(Belongs {
                said: format!("`{key}` stands at the margin, under nothing"),
                by: None,
            });
        }
        let (mut names, mut whole): (Vec<String>, Vec<String>) = (Vec::new(), Vec::new());
        let by = match known[..] {
            [home] => below(home).map(|at| home.way[at].1),
            _ => None,
        };
        for home in known {
            let way = &home.way[below(home).unwrap_or(0)..];
            let mut keys = way.iter().rev().map(|(_, key)| format!("`{key}`"));
            let inner = keys.next()?;
            let outer: String = keys.map(|key| format!(" in {key}")).collect();
            whole.push(format!("{inner}{outer}"));
            if !names.contains(&inner) {
                names.push(inner);
            }
        }
        let said = match (&whole[..], &names[..]) {
            ([], _) | (_, []) => return None,
            ([one], _) | (_, [one]) => format!("`{key}` belongs under {one}"),
            (_, [first @ .., last]) if names.len() <= MOST => {
                format!("`{key}` belongs under {} or {last}", first.join(", "))
            }
            _ => format!("`{key}` belongs under {} and others", names[..MOST].join(", ")),
        };
        Some(Belongs { said, by })
    }
}

#[cfg(test)]
mod tests {
    use super::Homes;
    use crate::{shop, sketch};

    #[test]
    fn keys_and_where_they_belong() {
        let rows = [
            ("faces", "a sketch", Some("`faces` belongs under `coating`")),
            ("rh", "a sketch", Some("`rh` belongs under `moisture` in `tests`")),
            ("diameter", "a spall", Some("`diameter` belongs under `circle`")),
            ("diameter", "a sketch", Some("`diameter` belongs under `circle`")),
            ("diameter", "the slab", Some("`diameter` belongs under `circle`")),
            ("units", "the job", Some("`units` stands at the margin, under nothing")),
            ("wander", "a crack", Some("`wander` belongs under `joints`")),
            ("count", "a joint", Some("`count` belongs under `repeat`")),
            (
                "depth",
                "a crack",
                Some("`depth` belongs under `joints`, `chase`, `spalls` or `delaminations`"),
            ),
            // A row of heights stands in the same list as a spot height.
            ("heights", "a level", None),
            ("zzzz", "a sketch", None),
        ];
        for (key, what, wanted) in rows {
            let found = sketch::keys::belongs(key, what).map(|found| found.said);
            assert_eq!(found.as_deref(), wanted, "{key} in {what}");
        }
    }

    /// Every key of both files, in every record that doesn't know it.
    #[test]
    fn every_key_has_a_place_that_is_there() {
        for root in [sketch::keys::root(), shop::keys::root()] {
            let all = Homes::below(&root);
            let homes = &all.0;
            let mut keys: Vec<&str> = homes.iter().flat_map(|home| home.keys.clone()).collect();
            keys.sort_unstable();
            keys.dedup();
            for home in homes {
                for key in keys.iter().filter(|key| !home.keys.contains(key)) {
                    let said = all.belongs(key, home.what).map(|found| found.said);
                    let holds = |other: &&super::Home| other.keys.contains(key);
                    let elsewhere = homes.iter().filter(holds);
                    let other_form = elsewhere.clone().all(|other| {
                        let same =
                            |form: &super::Home| form.what == home.what && form.way == other.way;
                        homes.iter().any(same)
                    });
                    assert_eq!(said.is_none(), other_form, "{key} in {}: {said:?}", home.what);
                    let Some(said) = said else {
                        continue;
                    };
                    let named: Vec<&str> = said.split('`').skip(3).step_by(2).collect();
                    let leads = |way: &[(&str, &str)]| {
                        way.last().is_none_or(|(_, last)| named.contains(last))
                    };
                    assert!(elsewhere.clone().any(|other| leads(&other.way)), "{said}");
                }
            }
        }
    }
}
