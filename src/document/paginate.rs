//! Pieces that are not broken, put into the columns of pages one below the other.

use std::collections::VecDeque;
use std::rc::Rc;

use crate::ink::{Mark, PaperPoint};
use crate::sheet::mm::{Box2, at};

/// A part of a page that is not broken. Its marks stand in millimeters from its own upper left corner.
#[derive(Clone, Debug, Default)]
pub(super) struct Piece {
    /// Space above, mm; none at the top of a column.
    pub before: f64,
    /// Height, mm.
    pub height: f64,
    /// What is drawn.
    pub marks: Vec<Mark>,
    /// Id of its group; empty for none.
    pub id: String,
    /// Must stand in the same column as the next piece.
    pub keep: bool,
    /// What does not fit here may stand at the top of the next column, and the text goes on meanwhile. Said by the first piece of a chain.
    pub float: bool,
    /// Begins a section.
    pub section: bool,
    /// Drawn above the piece where it is the first of a column.
    pub head: Option<Rc<Piece>>,
}

/// A piece in its place on the page.
#[derive(Clone, Debug)]
pub(super) struct Placed {
    pub at: PaperPoint,
    pub piece: Piece,
}

/// The columns of a page, by its number from 0.
pub(super) type Columns<'a> = &'a dyn Fn(usize) -> Vec<Box2>;

/// Heights closer than this are the same, mm.
const HAIR: f64 = 1e-6;
/// Most pages; more would be a mistake.
const MOST_PAGES: usize = 2000;
/// Least height that stands with the last chain on its page where no section before it fits whole, mm.
const LEAST_BESIDE: f64 = 40.0;

/// Fills pages. What ends the paper is not alone on the last of them: where only the last chain would stand there, the section before it
/// goes with it, or as much of it as the page holds, if that takes no page more.
pub(super) fn paginate(pieces: Vec<Piece>, columns: Columns) -> Vec<Vec<Placed>> {
    let mut chains: Vec<Vec<Piece>> = vec![Vec::new()];
    for piece in pieces {
        let last = !piece.keep;
        if let Some(chain) = chains.last_mut() {
            chain.push(piece);
        }
        if last {
            chains.push(Vec::new());
        }
    }
    chains.retain(|chain| !chain.is_empty());
    let (pages, begins) = fill(&chains, None, columns);
    let n = chains.len();
    let alone = pages.len() > 1
        && n > 1
        && begins[n - 2] + 1 < pages.len()
        && begins[n - 1] + 1 == pages.len();
    let beside = alone.then(|| company(&chains, columns(pages.len() - 1)));
    match beside
        .flatten()
        .map(|from| fill(&chains, Some(from), columns))
    {
        Some((better, _)) if better.len() == pages.len() => better,
        _ => pages,
    }
}

/// The chain from which on the last page is filled so that the last one is not alone.
fn company(chains: &[Vec<Piece>], page: Vec<Box2>) -> Option<usize> {
    let room: f64 = page.iter().map(Box2::height).sum();
    let tall = |from: usize| {
        chains[from..]
            .iter()
            .flatten()
            .map(|p| p.before + p.height)
            .sum::<f64>()
    };
    let last = chains.len() - 1;
    let fitting = || (1..last).rev().take_while(|&i| tall(i) <= room);
    let section = fitting().find(|&i| chains[i][0].section);
    section.or_else(|| fitting().find(|&i| tall(i) - tall(last) >= LEAST_BESIDE))
}

/// Pages, and for each chain the page on which it begins. The chain `fresh` begins a page.
fn fill(
    chains: &[Vec<Piece>],
    fresh: Option<usize>,
    columns: Columns,
) -> (Vec<Vec<Placed>>, Vec<usize>) {
    let mut pages = Pages {
        columns,
        pages: Vec::new(),
        free: VecDeque::new(),
        column: Box2::default(),
        y: 0.0,
        empty: true,
        fresh: true,
        waiting: VecDeque::new(),
    };
    pages.turn();
    let mut begins = Vec::with_capacity(chains.len());
    for (i, chain) in chains.iter().enumerate() {
        if fresh == Some(i) {
            pages.free.clear();
            pages.turn();
        }
        begins.push(pages.put_chain(chain));
    }
    while !pages.waiting.is_empty() {
        pages.turn();
    }
    if pages.pages.last().is_some_and(Vec::is_empty) {
        pages.pages.pop();
    }
    (pages.pages, begins)
}

struct Pages<'a> {
    columns: Columns<'a>,
    /// The last of them is being filled.
    pages: Vec<Vec<Placed>>,
    /// Columns of this page that are not begun.
    free: VecDeque<Box2>,
    /// The column that is being filled.
    column: Box2,
    /// How far it is filled, mm from its top.
    y: f64,
    /// Nothing stands in this column.
    empty: bool,
    /// Nothing but what waited stands in this column.
    fresh: bool,
    /// Chains that stand at the top of a later column, in their order.
    waiting: VecDeque<Vec<Piece>>,
}

impl Pages<'_> {
    /// Pieces that belong together: in this column, or in the next if that holds them, or broken where they must be. Gives back the page
    /// on which they begin.
    fn put_chain(&mut self, chain: &[Piece]) -> usize {
        let floats = chain.first().is_some_and(|piece| piece.float);
        if floats && (!self.holds(chain) || !self.waiting.is_empty()) {
            self.waiting.push_back(chain.to_vec());
            return self.pages.len();
        }
        self.turn_until_it_holds(chain);
        let begins = self.pages.len() - 1;
        for piece in chain {
            self.turn_until_it_holds(std::slice::from_ref(piece));
            self.put(piece);
        }
        begins
    }

    /// Ends at an empty column with no taller one behind it at the latest: every turn takes one of what waits, and then none is left.
    fn turn_until_it_holds(&mut self, chain: &[Piece]) {
        while !self.holds(chain) && (!self.empty || self.taller_comes()) {
            self.turn();
        }
    }

    /// Whether a column to come is taller than this one.
    fn taller_comes(&self) -> bool {
        let next = (self.columns)(self.pages.len());
        let mut tall = self.free.iter().chain(&next).map(Box2::height);
        self.pages.len() < MOST_PAGES && tall.any(|h| h > self.column.height() + HAIR)
    }

    /// Whether the rest of the column has room for a chain.
    fn holds(&self, chain: &[Piece]) -> bool {
        let first = chain.first();
        let head = first.and_then(|piece| piece.head.as_ref());
        let head = head.filter(|_| self.fresh).map_or(0.0, |h| h.height);
        let above = first.filter(|_| self.empty).map_or(0.0, |p| p.before);
        let chain: f64 = chain.iter().map(|p| p.before + p.height).sum();
        self.y + head + chain - above <= self.column.height() + HAIR
    }

    fn put(&mut self, piece: &Piece) {
        if self.fresh
            && let Some(head) = &piece.head
        {
            self.place(Piece::clone(head));
        }
        self.place(piece.clone());
        self.fresh = false;
    }

    fn place(&mut self, piece: Piece) {
        if !self.empty {
            self.y += piece.before;
        }
        let (at, height) = (at(self.column.left, self.column.top + self.y), piece.height);
        if let Some(page) = self.pages.last_mut() {
            page.push(Placed { at, piece });
        }
        self.y += height;
        self.empty = false;
    }

    /// On to the next column, or the next page.
    fn turn(&mut self) {
        while self.free.is_empty() && self.pages.len() < MOST_PAGES {
            self.free = (self.columns)(self.pages.len()).into();
            self.pages.push(Vec::new());
        }
        self.column = self.free.pop_front().unwrap_or_default();
        self.y = 0.0;
        (self.empty, self.fresh) = (true, true);
        self.put_waiting();
    }

    /// The first of what waits takes the top of the column, and more if there is room.
    fn put_waiting(&mut self) {
        while let Some(chain) = self.waiting.pop_front() {
            if !self.empty && !self.holds(&chain) {
                self.waiting.push_front(chain);
                return;
            }
            chain.into_iter().for_each(|piece| self.place(piece));
        }
    }
}
