//! Rows of a table: cells broken into lines, numbers at the right, the rule below.

use crate::font;
use crate::ink::{Align, Mark, Stroke, Weight};
use crate::paper::draw;
use crate::paper::mm::at;

use crate::paper::text::{Line, Setting, Text, wrap};

/// On which side of its column a cell stands.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Side {
    /// Words.
    #[default]
    Left,
    /// Numbers.
    Right,
}

/// Where the cells of a column stand in a row.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Place {
    /// Left edge, mm.
    pub left: f64,
    /// Width, mm.
    pub width: f64,
    /// Against which side of it the text stands.
    pub side: Side,
    /// Lines below the first of the row: 1 for what stands under the cells before it.
    pub down: usize,
}

/// What stands around the lines of a row.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Band {
    /// Air above and below its lines, mm.
    pub air: (f64, f64),
    /// Rule along its upper edge.
    pub over: Option<Stroke>,
    /// Rule along its lower edge.
    pub under: Option<Stroke>,
    /// Space below that, mm.
    pub after: f64,
}

/// A table's columns for one width.
#[derive(Clone, Debug, PartialEq)]
pub struct Grid {
    /// Places of the columns, one for each cell of a row.
    pub places: Vec<Place>,
    /// Width of the rules, mm.
    pub width: f64,
    /// How cells are set.
    pub set: Setting,
}

impl Grid {
    /// A row that is not broken: its marks and its height, mm.
    #[must_use]
    pub fn row(&self, cells: &[Text], band: &Band) -> (Vec<Mark>, f64) {
        let lines = self.lines(cells);
        self.part(&lines, (0, self.count(&lines)), band)
    }

    /// A row in parts, none taller than `most` mm unless a single line is; one where the row is not taller.
    #[must_use]
    pub fn parts(&self, cells: &[Text], band: &Band, most: f64) -> Vec<(Vec<Mark>, f64)> {
        let lines = self.lines(cells);
        let room = most - band.air.0 - band.air.1 - band.after;
        let fitting = ((room / self.set.leading).floor() as usize).max(1);
        let n = self.count(&lines);
        (0..n)
            .step_by(fitting)
            .map(|from| self.part(&lines, (from, (from + fitting).min(n)), band))
            .collect()
    }

    fn lines(&self, cells: &[Text]) -> Vec<(Place, Vec<Line>)> {
        let places = self.places.iter().copied();
        let cell = |(place, text): (Place, &Text)| {
            // A hair more than measured, so that rounding breaks no cell that fits.
            (place, wrap(text, place.width + 1e-6, &self.set))
        };
        places.zip(cells).map(cell).collect()
    }

    /// How many lines a row has.
    fn count(&self, lines: &[(Place, Vec<Line>)]) -> usize {
        let written = lines.iter().filter(|(_, lines)| !lines.is_empty());
        let ends = written.map(|(place, lines)| place.down + lines.len());
        ends.max().unwrap_or(1)
    }

    /// The lines `from..to` of a row.
    fn part(
        &self,
        lines: &[(Place, Vec<Line>)],
        (from, to): (usize, usize),
        band: &Band,
    ) -> (Vec<Mark>, f64) {
        let mut marks = Vec::new();
        for (place, lines) in lines {
            for (n, line) in (place.down..).zip(lines) {
                if n < from || n >= to {
                    continue;
                }
                let y = band.air.0 + (n - from) as f64 * self.set.leading + self.set.baseline();
                match place.side {
                    Side::Left => marks.extend(line.marks(at(place.left, y), &self.set)),
                    Side::Right => {
                        let right = at(place.left + place.width, y);
                        for mut mark in line.marks(right, &self.set) {
                            if let Mark::Text(text) = &mut mark {
                                (text.at, text.align) = (right, Align::End);
                            }
                            marks.push(mark);
                        }
                    }
                }
            }
        }
        let edge = band.air.0 + (to - from) as f64 * self.set.leading + band.air.1;
        let rule = |y: f64, stroke| draw::line(at(0.0, y), at(self.width, y), stroke);
        marks.extend(band.over.map(|stroke| rule(0.0, stroke)));
        marks.extend(band.under.map(|stroke| rule(edge, stroke)));
        (marks, edge + band.after)
    }
}

/// No single word asks for more of the page than this, mm.
const WIDEST_WORD: f64 = 60.0;

/// Widest word and widest text of some cells of a column, mm; cells that are not `broken` count as one word each.
#[must_use]
pub fn measured<'t>(
    cells: impl IntoIterator<Item = (&'t str, Weight)>,
    size: f64,
    broken: bool,
) -> (f64, f64) {
    let mut out: (f64, f64) = (0.0, 0.0);
    for (text, weight) in cells {
        let width = |t: &str| font::text_width(t, size, weight);
        let whole = width(text);
        let word = match broken {
            true => text.split(' ').map(width).fold(0.0, f64::max),
            false => whole,
        };
        out = (out.0.max(word.min(WIDEST_WORD)), out.1.max(whole));
    }
    (out.0, out.1.max(out.0))
}

/// Widths of columns that are too wide for their room, from the widest word and the widest cell of each, mm: every column its widest word,
/// and the rest of the room in proportion to what each would take beyond it.
#[must_use]
pub fn squeezed(measured: &[(f64, f64)], room: f64) -> Vec<f64> {
    let least: f64 = measured.iter().map(|m| m.0).sum();
    let wanted: f64 = measured.iter().map(|m| m.1 - m.0).sum();
    if least >= room || wanted <= 0.0 {
        let each = room / least.max(1e-9);
        return measured.iter().map(|m| m.0 * each).collect();
    }
    let share = (room - least) / wanted;
    measured.iter().map(|m| m.0 + (m.1 - m.0) * share).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A column of words and one of numbers, and words under both.
    fn grid() -> Grid {
        let place = |left, width, side, down| Place { left, width, side, down };
        Grid {
            places: vec![
                place(0.0, 30.0, Side::Left, 0),
                place(34.0, 20.0, Side::Right, 0),
                place(3.0, 51.0, Side::Left, 1),
            ],
            width: 54.0,
            set: Setting::new(3.6, 5.0),
        }
    }

    const BAND: Band = Band { air: (1.0, 1.0), over: None, under: None, after: 0.5 };

    #[test]
    fn a_row_is_as_high_as_its_longest_cell_with_the_words_under_it() {
        let long = "words that go on for three or four lines of so narrow a column";
        let rows: [(&str, [&str; 3], f64); 5] = [
            ("nothing", ["", "", ""], 1.0),
            ("one line", ["J1", "12.5", ""], 1.0),
            ("words under it", ["J1", "12.5", "fill"], 2.0),
            ("words alone", ["", "", "fill"], 2.0),
            ("a cell in lines", [long, "12.5", ""], 4.0),
        ];
        for (name, cells, lines) in rows {
            let (marks, height) = grid().row(&cells.map(Text::from), &BAND);
            assert_eq!(height, lines * 5.0 + 2.5, "{name}");
            for mark in &marks {
                let Mark::Text(text) = mark else { continue };
                let width = font::text_width(&text.text, 3.6, text.weight);
                let right = match text.align {
                    Align::End => text.at.x,
                    _ => text.at.x + width,
                };
                assert!(right <= 54.0 && text.at.y < height, "{name}: {text:?}");
                assert_eq!(text.align == Align::End, text.text == "12.5", "{name}");
            }
        }
    }

    #[test]
    fn a_row_taller_than_a_page_is_in_parts_and_loses_no_line() {
        let cells = ["word ".repeat(80), "12.5".into(), "under".into()].map(Text::from);
        let (whole, height) = grid().row(&cells, &BAND);
        let parts = grid().parts(&cells, &BAND, 30.0);
        assert!(parts.len() > 2 && height > 60.0);
        assert!(parts.iter().all(|(_, height)| *height <= 30.0));
        let count = |marks: &[Mark]| marks.len();
        let lines: usize = parts.iter().map(|(marks, _)| count(marks)).sum();
        assert_eq!(lines, count(&whole));
        assert_eq!(grid().parts(&cells, &BAND, height).len(), 1);
        // Where not one line has room, each has a part of its own.
        assert!(grid().parts(&cells, &BAND, 1.0).len() > parts.len());
    }

    #[test]
    fn a_table_wider_than_its_room_shares_it_out() {
        let rows: [(&str, &[(f64, f64)], f64, &[f64]); 4] = [
            ("half of what is wanted", &[(10.0, 30.0), (10.0, 10.0)], 30.0, &[20.0, 10.0]),
            ("nothing but the words", &[(10.0, 30.0), (10.0, 20.0)], 20.0, &[10.0, 10.0]),
            ("not even those", &[(30.0, 30.0), (10.0, 20.0)], 20.0, &[15.0, 5.0]),
            ("nothing to share", &[(0.0, 0.0)], 20.0, &[0.0]),
        ];
        for (name, measured, room, wanted) in rows {
            assert_eq!(squeezed(measured, room), wanted, "{name}");
        }
    }
}
