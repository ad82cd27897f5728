//! An adaptive grid over spans: a box is cut into rows and columns by how many spans it holds and which way they
//! run, and a part that is still crowded is cut again. Clustered input costs no more than spread-out input.

use super::lattice::{Site, Span};

/// A box holding at most this many spans is not cut further; comparing them all is cheaper.
const CROWD: usize = 10;
/// Spans wanted per part when a crowded box is cut.
const WANTED_PER_PART: usize = 3;
/// Spans are listed in every part within this many units of them. A site's pixel may reach over the border of its part;
/// the one part that holds the site still serves it.
const MARGIN: i64 = 2;
/// Parts are not made smaller than this many units.
const SMALLEST: i64 = 32;
/// Cutting stops after this many cuts in a row that left as many comparisons as before (a star of lines through one point).
const PATIENCE: u8 = 3;
/// At most this many entries are kept in one grid; boxes met after that stay uncut.
const MOST_ENTRIES: usize = 1 << 23;

/// A box of the lattice: `x0 <= x < x1`, `y0 <= y < y1`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Frame {
    pub x0: i64,
    pub y0: i64,
    pub x1: i64,
    pub y1: i64,
}

impl Frame {
    pub fn contains(&self, p: Site) -> bool {
        (self.x0..self.x1).contains(&p.x) && (self.y0..self.y1).contains(&p.y)
    }

    fn around(spans: &[Span]) -> Frame {
        let sites = || spans.iter().flat_map(|s| [s.a, s.b]);
        let xs = || sites().map(|p| p.x);
        let ys = || sites().map(|p| p.y);
        let reach = 2 * MARGIN;
        Frame {
            x0: xs().min().unwrap_or(0) - reach,
            y0: ys().min().unwrap_or(0) - reach,
            x1: xs().max().unwrap_or(0) + reach,
            y1: ys().max().unwrap_or(0) + reach,
        }
    }
}

/// The cut of one box into equal parts.
#[derive(Debug, Clone, Copy)]
struct Grid {
    x0: i64,
    y0: i64,
    width: i64,
    height: i64,
    columns: i64,
    rows: i64,
}

impl Grid {
    /// Rows and columns are chosen so that their product gives the wanted crowd and the spans cross few borders.
    fn cutting(frame: Frame, spans: &[Span], members: &[u32]) -> Grid {
        let (w, h) = (frame.x1 - frame.x0, frame.y1 - frame.y0);
        let parts = (members.len() / WANTED_PER_PART).max(4) as f64;
        let (mut across, mut up) = (1e-3, 1e-3);
        for span in members.iter().filter_map(|m| spans.get(*m as usize)) {
            across += span.dx().abs().min(w) as f64 / w as f64;
            up += span.dy().abs().min(h) as f64 / h as f64;
        }
        let columns = (parts * up / across).sqrt().clamp(1.0, parts);
        let width = ((w as f64 / columns).ceil() as i64).max(SMALLEST).min(w);
        let height = ((h as f64 * columns / parts).ceil() as i64).max(SMALLEST).min(h);
        let count = |whole: i64, part: i64| (whole + part - 1) / part;
        Grid {
            x0: frame.x0,
            y0: frame.y0,
            width,
            height,
            columns: count(w, width),
            rows: count(h, height),
        }
    }

    fn parts(&self) -> usize {
        (self.columns * self.rows) as usize
    }

    fn column(&self, x: i64) -> i64 {
        (x - self.x0).div_euclid(self.width)
    }

    fn row(&self, y: i64) -> i64 {
        (y - self.y0).div_euclid(self.height)
    }

    fn frame(&self, part: usize) -> Frame {
        let (row, column) = (part as i64 / self.columns, part as i64 % self.columns);
        let (x0, y0) = (self.x0 + column * self.width, self.y0 + row * self.height);
        Frame { x0, y0, x1: x0 + self.width, y1: y0 + self.height }
    }

    fn part_of(&self, p: Site) -> Option<usize> {
        let (column, row) = (self.column(p.x), self.row(p.y));
        let inside = (0..self.columns).contains(&column) && (0..self.rows).contains(&row);
        inside.then(|| (row * self.columns + column) as usize)
    }

    /// Calls `visit` with every part that the span, thickened by the margin, can touch.
    fn rasterise(&self, span: &Span, mut visit: impl FnMut(usize)) {
        let s = if span.a.x <= span.b.x { *span } else { Span { a: span.b, b: span.a } };
        let first = self.column(s.a.x - MARGIN).max(0);
        let last = self.column(s.b.x + MARGIN).min(self.columns - 1);
        let (dx, dy) = (s.dx() as f64, s.dy() as f64);
        for column in first..=last {
            let left = self.x0 + column * self.width - MARGIN;
            let right = left + self.width + 2 * MARGIN;
            let height_at = |x: i64| {
                let t = if dx > 0.0 { ((x - s.a.x) as f64 / dx).clamp(0.0, 1.0) } else { 0.0 };
                s.a.y as f64 + t * dy
            };
            let (enter, leave) = if dx > 0.0 {
                (height_at(left), height_at(right))
            } else {
                (s.a.y as f64, s.b.y as f64)
            };
            let low = self.row(enter.min(leave).floor() as i64 - MARGIN).max(0);
            let high = self.row(enter.max(leave).ceil() as i64 + MARGIN).min(self.rows - 1);
            for row in low..=high {
                visit((row * self.columns + column) as usize);
            }
        }
    }
}

#[derive(Debug, Clone, Copy)]
enum Cell {
    Leaf { first: u32, last: u32 },
    Cut { grid: Grid, first: u32 },
}

/// The finished grid. It stores numbers of spans, not the spans.
#[derive(Debug, Clone)]
pub(crate) struct Cells {
    frame: Frame,
    cells: Vec<Cell>,
    entries: Vec<u32>,
}

/// A box waiting to be cut or kept.
struct Pending {
    cell: usize,
    frame: Frame,
    members: Vec<u32>,
    patience: u8,
}

/// A box cut into parts: the members of part `i` lie from `starts[i]` to `starts[i + 1]`.
struct Cut {
    grid: Grid,
    starts: Vec<u32>,
    members: Vec<u32>,
    patience: u8,
}

/// The values of each key from 0 to `keys`, in the order given: those of key `i` lie from place `i` of the first answer to
/// place `i + 1` in the second.
pub(crate) fn sorted_by_key(keys: usize, pairs: &[(u32, u32)]) -> (Vec<u32>, Vec<u32>) {
    let mut starts = vec![0_u32; keys + 1];
    for (key, _) in pairs {
        starts[*key as usize + 1] += 1;
    }
    for i in 1..starts.len() {
        starts[i] += starts[i - 1];
    }
    let mut free = starts.clone();
    let mut values = vec![0_u32; pairs.len()];
    for (key, value) in pairs {
        let place = &mut free[*key as usize];
        values[*place as usize] = *value;
        *place += 1;
    }
    (starts, values)
}

impl Cells {
    /// Sorts the spans into boxes.
    pub fn new(spans: &[Span]) -> Cells {
        let frame = Frame::around(spans);
        let mut built =
            Cells { frame, cells: vec![Cell::Leaf { first: 0, last: 0 }], entries: Vec::new() };
        let members = (0..u32::try_from(spans.len()).unwrap_or(u32::MAX)).collect();
        let mut pending = vec![Pending { cell: 0, frame, members, patience: PATIENCE }];
        while let Some(next) = pending.pop() {
            built.place(spans, next, &mut pending);
        }
        built
    }

    fn place(&mut self, spans: &[Span], at: Pending, pending: &mut Vec<Pending>) {
        let Some(cut) = self.cut(spans, &at) else {
            self.keep(at.cell, &at.members);
            return;
        };
        let first = self.cells.len();
        self.cells[at.cell] = Cell::Cut { grid: cut.grid, first: first as u32 };
        self.cells.resize(first + cut.grid.parts(), Cell::Leaf { first: 0, last: 0 });
        for (part, range) in cut.starts.windows(2).enumerate() {
            let members = &cut.members[range[0] as usize..range[1] as usize];
            if members.len() > CROWD {
                let (frame, members) = (cut.grid.frame(part), members.to_vec());
                pending.push(Pending {
                    cell: first + part,
                    frame,
                    members,
                    patience: cut.patience,
                });
            } else if !members.is_empty() {
                self.keep(first + part, members);
            }
        }
    }

    fn keep(&mut self, cell: usize, members: &[u32]) {
        let first = self.entries.len() as u32;
        self.entries.extend_from_slice(members);
        self.cells[cell] = Cell::Leaf { first, last: self.entries.len() as u32 };
    }

    /// The members of each part, or `None` when the box is better left whole.
    fn cut(&self, spans: &[Span], at: &Pending) -> Option<Cut> {
        let (w, h) = (at.frame.x1 - at.frame.x0, at.frame.y1 - at.frame.y0);
        if at.members.len() <= CROWD || w.max(h) <= SMALLEST || at.patience == 0 {
            return None;
        }
        let grid = Grid::cutting(at.frame, spans, &at.members);
        if grid.parts() < 2 {
            return None;
        }
        let mut found: Vec<(u32, u32)> = Vec::with_capacity(2 * at.members.len());
        for member in &at.members {
            grid.rasterise(spans.get(*member as usize)?, |part| found.push((part as u32, *member)));
            if self.entries.len() + found.len() > MOST_ENTRIES {
                return None;
            }
        }
        let (starts, members) = sorted_by_key(grid.parts(), &found);
        let square = |n: f64| n * n;
        let comparisons: f64 = starts.windows(2).map(|w| square(f64::from(w[1] - w[0]))).sum();
        let helps = comparisons < 0.5 * square(at.members.len() as f64);
        Some(Cut {
            grid,
            starts,
            members,
            patience: if helps { PATIENCE } else { at.patience - 1 },
        })
    }

    /// Every box that holds spans, with the numbers of the spans near it.
    pub fn leaves(&self) -> Vec<(Frame, &[u32])> {
        let mut found = Vec::new();
        self.visit(0, self.frame, self.frame, &mut |frame, members| found.push((frame, members)));
        found
    }

    /// The greatest number of spans listed in one box.
    pub fn greatest_crowd(&self) -> usize {
        let size = |cell: &Cell| match cell {
            Cell::Leaf { first, last } => (last - first) as usize,
            Cell::Cut { .. } => 0,
        };
        self.cells.iter().map(size).max().unwrap_or(0)
    }

    /// The box that holds `p` and the spans that may touch the pixel of `p`; `None` outside the grid.
    pub fn leaf_at(&self, p: Site) -> Option<(Frame, &[u32])> {
        if !self.frame.contains(p) {
            return None;
        }
        let (mut cell, mut frame) = (0, self.frame);
        loop {
            match *self.cells.get(cell)? {
                Cell::Leaf { first, last } => {
                    return Some((frame, &self.entries[first as usize..last as usize]));
                }
                Cell::Cut { grid, first } => {
                    let part = grid.part_of(p)?;
                    frame = grid.frame(part);
                    cell = first as usize + part;
                }
            }
        }
    }

    /// The numbers of all spans that may come within `reach` units of `p` in x and in y, sorted, each once.
    pub fn near(&self, p: Site, reach: i64) -> Vec<u32> {
        let window =
            Frame { x0: p.x - reach, y0: p.y - reach, x1: p.x + reach + 1, y1: p.y + reach + 1 };
        let mut found = Vec::new();
        self.visit(0, self.frame, window, &mut |_, members| found.extend_from_slice(members));
        found.sort_unstable();
        found.dedup();
        found
    }

    fn visit<'a>(
        &'a self,
        cell: usize,
        frame: Frame,
        window: Frame,
        out: &mut impl FnMut(Frame, &'a [u32]),
    ) {
        match self.cells.get(cell) {
            None => {}
            Some(Cell::Leaf { first, last }) if first < last => {
                out(frame, &self.entries[*first as usize..*last as usize]);
            }
            Some(Cell::Leaf { .. }) => {}
            Some(Cell::Cut { grid, first }) => {
                let columns = grid.column(window.x0).max(0)
                    ..=grid.column(window.x1 - 1).min(grid.columns - 1);
                for row in grid.row(window.y0).max(0)..=grid.row(window.y1 - 1).min(grid.rows - 1) {
                    for column in columns.clone() {
                        let part = (row * grid.columns + column) as usize;
                        self.visit(*first as usize + part, grid.frame(part), window, out);
                    }
                }
            }
        }
    }
}
