//! One running dimension: its line, its marks, its texts.

use crate::ink::{Mark, PaperPoint};
use crate::quantity::Units;
use crate::quantity::tape::tape;

use crate::paper::clear::{BESIDE_TEXT, Clear};
use crate::paper::draw;
use crate::paper::label::{Label, reading};
use crate::paper::mm::Shift;
use crate::paper::style;
use crate::paper::words;
use crate::sheet::view::View;

/// Air between the end of an extension line and its text.
const TEXT_GAP: f64 = 1.0;
/// Air between a bent extension line and its text, mm: the short piece must not read as a minus.
const BENT_GAP: f64 = 2.2;
/// Radius of the ring at the end a tape is hooked on, and how far from it the line of a mark is seen whole, mm.
const RING: f64 = 0.9;
const BESIDE_RING: f64 = 0.3;
/// How far the marks of a dimension reach past the ends of its line, mm, pens included.
const PAST_ENDS: f64 = style::EXTENSION_OVERRUN + 0.2;
/// How many dimension lines one outside the other are tried.
const LINES_TRIED: usize = 8;
/// How far inside its ends a dimension is tested against the next walls, mm of paper.
const BESIDE: f64 = 0.8;

/// A dimension on its way to the sheet.
pub(in crate::sheet) struct Running<'a> {
    pub(in crate::sheet) view: &'a View,
    pub(in crate::sheet) units: Units,
    pub(in crate::sheet) start: PaperPoint,
    pub(in crate::sheet) along: Shift,
    pub(in crate::sheet) out: Shift,
    /// Stations, m, ascending; the first is 0.
    pub(in crate::sheet) marks: Vec<f64>,
    /// What the first station reads, m: more than 0 where the corner that the tape is hooked on lies outside the drawing.
    pub(in crate::sheet) hooked_m: f64,
    /// Whether the last station is the wall's end, and not the last thing on it that is drawn.
    pub(in crate::sheet) whole: bool,
    /// Whether the end it is taped from always carries a ring; else only where there are several stations.
    pub(in crate::sheet) ringed: bool,
}

impl Running<'_> {
    fn point(&self, station: f64, off: f64) -> PaperPoint {
        self.start + self.along * self.view.length(station) + self.out * off
    }

    /// Whether the tape comes from outside the drawing.
    fn comes_from_outside(&self) -> bool {
        self.hooked_m > 0.0
    }

    fn texts(&self) -> Vec<(f64, String)> {
        let style = |m: &f64| (*m, tape(self.hooked_m + *m, self.units));
        self.marks.iter().skip(1).map(style).collect()
    }

    /// The first dimension line outside the slab that has room, drawn.
    pub(in crate::sheet) fn place(&self, clear: &mut Clear) -> Option<Vec<Mark>> {
        for n in 0..LINES_TRIED {
            #[expect(clippy::cast_precision_loss, reason = "at most eight")]
            let off = style::DIMENSION_OFFSET + n as f64 * style::DIMENSION_STEP;
            let texts = self.text_labels(off);
            let (a, b) = (self.point(0.0, off), self.point(self.marks[self.marks.len() - 1], off));
            let strip = |p: PaperPoint, q: PaperPoint| {
                clear.line_is_free(p, q, 1.6) && !clear.edge_crossed(p, q)
            };
            // Strokes and extension lines run a little past the ends.
            let drawn = clear.bounds().grown(-PAST_ENDS);
            let last = self.marks.len() - 1;
            let extensions = self.marks.iter().enumerate().all(|(i, &m)| {
                let (p, q) = (
                    self.point(m, style::EXTENSION_GAP),
                    self.point(m, off + style::EXTENSION_OVERRUN),
                );
                // At a corner the next wall may run where the extension line would; it then serves as one.
                let inward = self.along
                    * if i == 0 {
                        BESIDE
                    } else if i == last {
                        -BESIDE
                    } else {
                        0.0
                    };
                clear.line_is_free(p, q, 0.3) && !clear.edge_crossed(p + inward, q + inward)
            });
            let free = texts.iter().all(|(label, _)| {
                clear.is_free(&label.slip, 1.0) && clear.is_blank(&label.slip, 0.3)
            });
            // The text of a line without marks has its row to itself.
            let row = if texts.len() == 1 { -self.out * 2.2 } else { Shift::default() };
            let free = free && clear.line_is_free(a + row, b + row, 1.0);
            let inset = self.along * BESIDE;
            if extensions
                && free
                && strip(a + inset, b + (-inset))
                && drawn.contains(a)
                && drawn.contains(b)
            {
                return Some(self.draw(off, texts, clear));
            }
        }
        None
    }

    /// Texts of the marks with the point on its extension line that each belongs to.
    fn text_labels(&self, off: f64) -> Vec<(Label, PaperPoint)> {
        let (text, strong) = (style::body(), style::strong());
        let texts = self.texts();
        let last = texts.len().saturating_sub(1);
        let kind = |i: usize| {
            if i == last && self.whole { strong } else { text }
        };
        let beyond = off + style::EXTENSION_OVERRUN;
        if texts.len() == 1 && self.whole && !self.comes_from_outside() {
            return vec![self.only(&texts[0], off)];
        }
        let level_wall = self.along.x.abs() > 0.5;
        if level_wall && self.fits_along(&texts) {
            return texts
                .iter()
                .enumerate()
                .map(|(i, (m, t))| {
                    let tick = self.point(*m, beyond);
                    let middle = tick + self.out * (TEXT_GAP + kind(i).cap() / 2.0);
                    (Label::centered(middle, t, kind(i), self.along), tick)
                })
                .collect();
        }
        let spread = spread(
            &texts.iter().map(|(m, _)| self.view.length(*m)).collect::<Vec<_>>(),
            text.pitch(),
        );
        // Where one extension line bends, all are as long, so that none runs through the text of another.
        let is_moved =
            |((m, _), place): (&(f64, String), &f64)| (place - self.view.length(*m)).abs() > 0.05;
        // What a ring leaves of the line of the mark beside it is as short as a minus.
        let at_ring = self.marks.get(1).is_some_and(|m| self.view.length(*m) < RING + BESIDE_RING);
        let bent = at_ring || texts.iter().zip(&spread).any(is_moved);
        let gap = if bent { 3.0 + BENT_GAP } else { TEXT_GAP };
        texts
            .iter()
            .zip(spread)
            .enumerate()
            .map(|(i, ((m, t), place))| {
                let from = self.start + self.along * place + self.out * (beyond + gap);
                (Label::outward(from, t, kind(i), self.out), self.point(*m, beyond))
            })
            .collect()
    }

    /// The length of a wall without marks: in the middle of its line, or beside its end where the wall is short.
    fn only(&self, (m, text): &(f64, String), off: f64) -> (Label, PaperPoint) {
        let strong = style::strong();
        let middle = self.point(m / 2.0, off);
        let reading = reading(self.along);
        let level = self.along.x.abs() > 0.95;
        if words::width(text, strong) + 2.0 > self.view.length(*m) {
            // Wider than its line: past the extension lines, which would run through it.
            let label = if level {
                let past = TEXT_GAP + style::EXTENSION_OVERRUN + strong.cap() / 2.0;
                Label::centered(middle + self.out * past, text, strong, self.along)
            } else {
                // Between the extension lines, or past them where they would run through it; none reads as a minus before it.
                let between = self.view.length(*m) >= strong.pitch();
                let past = style::EXTENSION_OVERRUN + BESIDE_TEXT;
                let gap = if between { TEXT_GAP } else { past };
                Label::outward(middle + self.out * gap, text, strong, self.out)
            };
            return (label, middle);
        }
        // Above the line as it is read.
        let label = Label::centered(
            middle + reading.left() * (TEXT_GAP + strong.cap() / 2.0),
            text,
            strong,
            self.along,
        );
        (label, middle)
    }

    fn fits_along(&self, texts: &[(f64, String)]) -> bool {
        let half = |t: &str| words::width(t, style::strong()) / 2.0;
        texts
            .windows(2)
            .all(|p| self.view.length(p[1].0 - p[0].0) > half(&p[0].1) + half(&p[1].1) + 1.5)
    }

    fn draw(&self, off: f64, texts: Vec<(Label, PaperPoint)>, clear: &mut Clear) -> Vec<Mark> {
        let fine = style::FINE;
        let (a, b) = (self.point(0.0, off), self.point(self.marks[self.marks.len() - 1], off));
        let mut marks = vec![draw::line(a, b, fine)];
        clear.add_line(&[a, b]);
        let stroke = (self.along + self.along.left()).unit() * (style::STROKE_LENGTH / 2.0);
        for (i, &m) in self.marks.iter().enumerate() {
            let (p, q) = (
                self.point(m, style::EXTENSION_GAP),
                self.point(m, off + style::EXTENSION_OVERRUN),
            );
            // Nothing is where the drawing cuts the tape.
            if i == 0 && self.comes_from_outside() {
                continue;
            }
            if !clear.edge_crossed(p, q) {
                marks.push(draw::line(p, q, fine));
                clear.add_line(&[p, q]);
            }
            let at = self.point(m, off);
            if i == 0 && (self.ringed || self.marks.len() > 2) {
                marks.push(draw::circle(
                    at,
                    RING,
                    Some(style::DIMENSION_STROKE),
                    Some(crate::ink::WHITE),
                ));
            } else {
                marks.push(draw::line(at + (-stroke), at + stroke, style::DIMENSION_STROKE));
            }
            // No tag stands on a ring or a stroke.
            clear.add_line(&[at + (-stroke), at + stroke]);
            clear.add_line(&[at + (-stroke.left()), at + stroke.left()]);
        }
        for (label, tick) in texts {
            let along_text = label.slip.along.dot(self.out).abs() > 0.5;
            if along_text && self.marks.len() > 2 {
                let near = label.slip.center + (-self.out) * (label.slip.half_along + BENT_GAP);
                if (near - tick).dot(self.out) > 0.05 {
                    marks.push(draw::line(tick, near, fine));
                    clear.add_line(&[tick, near]);
                }
            }
            clear.add(label.slip);
            marks.push(Mark::Text(label.mark));
        }
        marks
    }
}

/// Places at least `pitch` apart, as near to the wanted ones as can be; the wanted ones ascend.
fn spread(wanted: &[f64], pitch: f64) -> Vec<f64> {
    // Runs that touch are merged and centered on the mean of what their members want.
    let mut runs: Vec<(f64, f64, usize)> = Vec::new();
    for &w in wanted {
        let mut run = (w, w, 1);
        while let Some(&(center, sum, n)) = runs.last() {
            #[expect(clippy::cast_precision_loss, reason = "a handful of marks")]
            let reach = (n + run.2) as f64 / 2.0 * pitch;
            if run.0 - center >= reach - 1e-9 {
                break;
            }
            runs.pop();
            let (total, count) = (sum + run.1, n + run.2);
            #[expect(clippy::cast_precision_loss, reason = "a handful of marks")]
            let middle = total / count as f64;
            run = (middle, total, count);
        }
        runs.push(run);
    }
    let mut out = Vec::new();
    for (center, _, n) in runs {
        for i in 0..n {
            #[expect(clippy::cast_precision_loss, reason = "a handful of marks")]
            let step = i as f64 - (n - 1) as f64 / 2.0;
            out.push(center + step * pitch);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_that_crowd_are_spread_about_where_they_want_to_be() {
        assert_eq!(spread(&[0.0, 10.0, 20.0], 4.0), vec![0.0, 10.0, 20.0]);
        assert_eq!(spread(&[10.0, 11.0], 4.0), vec![8.5, 12.5]);
        let crowded = spread(&[0.0, 1.0, 2.0, 3.0, 30.0], 4.0);
        assert!(crowded.windows(2).all(|p| p[1] - p[0] >= 4.0 - 1e-9), "{crowded:?}");
        assert_eq!(crowded[4], 30.0);
    }
}
