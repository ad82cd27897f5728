//! The schedules of areas and obstacles, and of moisture tests.

use crate::quantity::write;
use crate::slab::{Riser, Shape, Stretch, Tier, Zone};
use crate::text::follows;

use super::rows::{Rows, left, note, sentences};
use super::{Row, Table};

/// Things that are said in one row.
struct Like<'a> {
    row: Row,
    first: &'a Zone,
    last: &'a Zone,
    /// The joints that cross at each of them, where some do.
    crossings: Vec<Option<(&'a str, &'a str)>>,
}

impl Like<'_> {
    fn takes(&self, row: &Row, zone: &Zone, at: Option<(&str, &str)>) -> bool {
        let crossing = at.is_some() && self.crossings.iter().all(Option::is_some);
        // Copies of a record have its place in the sketch.
        let copy = self.first.span == zone.span;
        (crossing || copy)
            && self.row.cells[1..] == row.cells[1..]
            && self.last.what == zone.what
            && follows(&self.last.id, &zone.id)
    }
}

impl Rows<'_> {
    pub(super) fn areas(&self) -> Table {
        let slab = self.inputs.slab;
        let mut rows: Vec<Row> = slab
            .blemishes
            .iter()
            .map(|b| self.area(&b.id, b.what.name(), &b.shape, note(b.note.as_deref())))
            .collect();
        rows.extend(slab.tiers.iter().map(|t| self.tier(t)));
        let zone = |z: &Zone, word: &str| {
            self.area(&z.id, word.to_owned(), &z.shape, note(z.what.as_deref()))
        };
        rows.extend(slab.uncoated.iter().map(|z| zone(z, "not coated")));
        let keep_outs = slab.keep_outs.iter();
        let keep_outs = keep_outs.map(|z| (z, zone(z, if z.flush { "flush" } else { "keep off" })));
        rows.extend(self.like(keep_outs));
        Table {
            title: "AREAS AND OBSTACLES".into(),
            columns: vec![left("TAG"), left("WHAT"), left("SIZE")],
            rows,
            total: Vec::new(),
            words_head: "WHERE",
        }
    }

    /// Joins the rows of things that differ only in their place, where that can be said in few words: things that stand at crossings of
    /// joints, and things of one repeated record, as "K5–K12".
    fn like<'z>(&self, rows: impl Iterator<Item = (&'z Zone, Row)>) -> Vec<Row> {
        let mut out: Vec<Like> = Vec::new();
        for (zone, row) in rows {
            let middle = zone.shape.region.bounds().map(|b| b.center());
            let at = middle.and_then(|p| self.locator.crossing(p, &zone.id));
            match out.last_mut() {
                Some(like) if like.takes(&row, zone, at) => {
                    like.row.also.push(row.id);
                    like.crossings.push(at);
                    like.last = zone;
                }
                _ => out.push(Like { row, first: zone, last: zone, crossings: vec![at] }),
            }
        }
        out.into_iter().map(|like| self.one_row(like)).collect()
    }

    fn one_row(&self, like: Like) -> Row {
        let mut row = like.row;
        let Some(last) = row.also.last() else {
            return row;
        };
        row.cells[0] = format!("{}–{last}", row.id);
        let crossings: Option<Vec<_>> = like.crossings.into_iter().collect();
        let place = match crossings {
            Some(crossings) => format!("at {}", crossed(&crossings)),
            None => {
                let [first, last] = [like.first, like.last].map(|z| self.shape_at(&z.shape, &z.id));
                sentences(&[&format!("first: {first}"), &format!("last: {last}")])
            }
        };
        row.words = sentences(&[&place, &note(like.first.what.as_deref())]);
        row
    }

    fn area(&self, id: &str, what: String, shape: &Shape, note: String) -> Row {
        Row {
            id: id.to_owned(),
            cells: vec![id.to_owned(), what, self.size(shape)],
            words: sentences(&[&self.shape_at(shape, id), &note]),
            ..Row::default()
        }
    }

    /// A part at another height, found by the ends of its riser.
    fn tier(&self, tier: &Tier) -> Row {
        let slab = self.inputs.slab;
        let riser = |riser: &Riser| {
            let length_m = riser.path.length();
            let whole = Stretch { from_m: 0.0, to_m: length_m };
            let left = if riser.coated { "coated" } else { "left as it is" };
            format!(
                "riser {}, {left}: {}",
                self.run(length_m),
                self.ends(&riser.path, &[whole], "")
            )
        };
        let risers = slab.risers.iter().filter(|r| r.tier == tier.id).map(riser);
        let risers = risers.collect::<Vec<_>>().join("; ");
        Row {
            id: tier.id.clone(),
            cells: vec![
                tier.id.clone(),
                tier.higher(self.units()),
                write::area(tier.area_m2, self.units()),
            ],
            words: sentences(&[&note(tier.what.as_deref()), &risers, &note(tier.note.as_deref())]),
            ..Row::default()
        }
    }

    pub(super) fn tests(&self) -> Table {
        let rows = self.inputs.slab.moisture.iter().map(|t| {
            let rh = t.rh.map(|r| format!("{} RH", write::percent(r)));
            let mver = t.mver.map(|v| format!("{} lb", write::trimmed(v, 2)));
            let found = [rh, mver].into_iter().flatten().collect::<Vec<_>>().join(", ");
            Row {
                id: t.id.clone(),
                cells: vec![t.id.clone(), found],
                words: self.locator.point(t.at, ""),
                ..Row::default()
            }
        });
        let wanted = self.inputs.wanted();
        let wanted = wanted.into_iter().map(|t| Row {
            words: self.locator.point(t.at, ""),
            cells: vec![t.id.clone(), "still wanted".to_owned()],
            id: t.id,
            ..Row::default()
        });
        Table {
            title: "MOISTURE TESTS".into(),
            columns: vec![left("TAG"), left("FOUND")],
            rows: rows.chain(wanted).collect(),
            total: Vec::new(),
            words_head: "WHERE",
        }
    }
}

/// Crossings in words: "J1, J2 × J5, J6" where each of the first crosses each of the others, else one by one.
fn crossed(crossings: &[(&str, &str)]) -> String {
    let distinct = |side: fn(&(&'_ str, &'_ str)) -> String| {
        let mut out: Vec<String> = Vec::new();
        for id in crossings.iter().map(side) {
            if !out.contains(&id) {
                out.push(id);
            }
        }
        out.sort_by_cached_key(|id| crate::text::id_key(id));
        out
    };
    let (a, b) = (distinct(|c| c.0.to_owned()), distinct(|c| c.1.to_owned()));
    if a.len() * b.len() == crossings.len() {
        return format!("{} × {}", a.join(", "), b.join(", "));
    }
    let pairs: Vec<String> = crossings.iter().map(|(a, b)| format!("{a} × {b}")).collect();
    pairs.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn crossings_in_words() {
        let all = [("J1", "J5"), ("J2", "J5"), ("J1", "J6"), ("J2", "J6")];
        assert_eq!(crossed(&all), "J1, J2 × J5, J6");
        assert_eq!(crossed(&all[..3]), "J1 × J5, J2 × J5, J1 × J6");
    }

    #[test]
    fn like_columns_are_one_row() {
        let survey = crate::sheet::fixture::floor(
            "slabwalk: 1\njob: {name: Test}\nunits: us\nslab:\n  outline: [[0, 0], [40', 0], [40', 30'], [0, 30']]\n  keep_outs:\n\
             \u{20}   - {id: K1, what: column, box: {corner: [9.5', 9.5'], size: [1', 1']}}\n\
             \u{20}   - {id: K2, what: column, box: {corner: [19.5', 9.5'], size: [1', 1']}}\n\
             \u{20}   - {id: K3, what: column, box: {corner: [25', 20'], size: [1', 1']}}\n\
             joints:\n  - {kind: control, x: 10', width: 1/4, depth: 1}\n  - {kind: control, x: 20', width: 1/4, depth: 1}\n  - {kind: control, y: 10', width: 1/4, depth: 1}\n",
        );
        let inputs = crate::sheet::fixture::inputs(&survey);
        let tables = crate::sheet::schedule::tables(&inputs);
        let areas = tables.iter().find(|t| t.title.starts_with("AREAS"));
        let rows: Vec<(String, String)> = areas.map_or_else(Vec::new, |t| {
            let row = |r: &Row| (r.cells[0].clone(), r.words.clone());
            t.rows.iter().map(row).collect()
        });
        assert_eq!(rows[0], ("K1–K2".to_owned(), "At J1, J2 × J3. Column".to_owned()));
        assert_eq!(rows[1].0, "K3");
    }

    #[test]
    fn things_of_one_record_are_one_row_wherever_they_stand() {
        let survey = crate::sheet::fixture::room(
            "  keep_outs:\n    - {id: K1, what: post, circle: {center: [4', 4'], diameter: 6\"}, repeat: {count: 3, by: [5', 0]}}\n    - {id: K2, what: post, circle: {center: [4', 12'], diameter: 6\"}}\n",
        );
        let inputs = crate::sheet::fixture::inputs(&survey);
        let tables = crate::sheet::schedule::tables(&inputs);
        let areas = tables.iter().find(|t| t.title.starts_with("AREAS"));
        let rows: Vec<(&str, &str)> = areas.map_or_else(Vec::new, |t| {
            let rows = t.rows.iter();
            rows.map(|r| (r.cells[0].as_str(), r.words.as_str())).collect()
        });
        assert_eq!(rows.iter().map(|r| r.0).collect::<Vec<_>>(), ["K1.1–K1.3", "K2"]);
        assert!(rows[0].1.starts_with("First: Middle "), "{}", rows[0].1);
        assert!(rows[0].1.contains(". Last: Middle "), "{}", rows[0].1);
    }
}
