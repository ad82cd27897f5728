//! Every tag with its row, every row with its tag; every mark with its line of the key, every line of the key with its mark.

use super::read::Place;
use super::{Code, Fault};
use std::collections::{BTreeMap, BTreeSet};

/// Items of a set of sheets by kind, each with the sheet and the id of its first mark.
fn items<'a>(
    sheets: &'a [(&'a str, Vec<Place>)],
    item: fn(&Place) -> Option<&String>,
) -> BTreeMap<&'a str, (&'a str, &'a str)> {
    let mut found = BTreeMap::new();
    for (name, places) in sheets {
        for place in places {
            if let Some(item) = item(place) {
                found.entry(item.as_str()).or_insert((*name, place.id.as_str()));
            }
        }
    }
    found
}

pub(super) fn check(sheets: &[(&str, Vec<Place>)], faults: &mut BTreeSet<Fault>) {
    let tags = items(sheets, |place| place.tag.as_ref().filter(|_| place.mark.is_none()));
    let rows = items(sheets, |place| place.row.as_ref());
    let mut report = |(sheet, id): (&str, &str), code, message| {
        faults.insert(Fault { sheet: sheet.to_string(), code, ids: vec![id.to_string()], message });
    };
    for (item, &place) in tags.iter().filter(|(item, _)| !rows.contains_key(*item)) {
        report(place, Code::TagWithoutRow, format!("tag {item} has no row in the schedule"));
    }
    for (item, &place) in rows.iter().filter(|(item, _)| !tags.contains_key(*item)) {
        report(place, Code::RowWithoutTag, format!("row {item} has no tag on the plan"));
    }
    let marks = items(sheets, |place| place.mark.as_ref());
    let keys = items(sheets, |place| place.key.as_ref());
    for (item, &place) in marks.iter().filter(|(item, _)| !keys.contains_key(*item)) {
        report(place, Code::MarkWithoutKey, format!("mark {item} has no line in the key"));
    }
    for (item, &place) in keys.iter().filter(|(item, _)| !marks.contains_key(*item)) {
        report(
            place,
            Code::KeyWithoutMark,
            format!("the line {item} of the key has no mark on the plan"),
        );
    }
}
