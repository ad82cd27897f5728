//! Pieces that are not broken, put on pages one below the other.

use std::collections::VecDeque;
use std::rc::Rc;

use crate::ink::Mark;

/// A part of a page that is not broken. Its marks stand in millimeters from its own upper left corner.
#[derive(Clone, Debug, Default)]
pub(super) struct Piece {
    /// Space above, mm; none at the top of a page.
    pub before: f64,
    /// Height, mm.
    pub height: f64,
    /// What is drawn.
    pub marks: Vec<Mark>,
    /// Must stand on the same page as the next piece.
    pub keep: bool,
    /// What does not fit here may stand at the top of the next page, and the text goes on meanwhile. Said by the first piece of a chain.
    pub float: bool,
    /// Drawn above the piece where it is the first of a page.
    pub head: Option<Rc<Piece>>,
}

/// A piece in its place: mm from the top of the text area.
#[derive(Clone, Debug)]
pub(super) struct Placed {
    pub top: f64,
    pub marks: Vec<Mark>,
}

/// Heights closer than this are the same, mm.
const HAIR: f64 = 1e-6;

/// Fills pages of `height` mm.
pub(super) fn paginate(pieces: Vec<Piece>, height: f64) -> Vec<Vec<Placed>> {
    let mut pages = Pages {
        done: Vec::new(),
        page: Vec::new(),
        y: 0.0,
        fresh: true,
        height,
        waiting: VecDeque::new(),
    };
    let mut pieces = pieces.into_iter().peekable();
    while pieces.peek().is_some() {
        let mut chain = Vec::new();
        for piece in pieces.by_ref() {
            let last = !piece.keep;
            chain.push(piece);
            if last {
                break;
            }
        }
        pages.put_chain(chain);
    }
    while !pages.waiting.is_empty() {
        pages.turn();
    }
    pages.turn();
    pages.done
}

struct Pages {
    done: Vec<Vec<Placed>>,
    page: Vec<Placed>,
    y: f64,
    /// Nothing but what waited stands on this page.
    fresh: bool,
    height: f64,
    /// Chains that stand at the top of a later page, in their order.
    waiting: VecDeque<Vec<Piece>>,
}

impl Pages {
    /// Pieces that belong together: on this page, or on the next if that holds them, or broken where they must be.
    fn put_chain(&mut self, chain: Vec<Piece>) {
        let floats = chain.first().is_some_and(|piece| piece.float);
        if floats && (!self.holds(&chain) || !self.waiting.is_empty()) {
            self.waiting.push_back(chain);
            return;
        }
        self.turn_until_it_holds(&chain);
        for piece in chain {
            self.turn_until_it_holds(std::slice::from_ref(&piece));
            self.put(piece);
        }
    }

    /// Ends when a page is empty at the latest: every turn takes one of what waits, and then none is left.
    fn turn_until_it_holds(&mut self, chain: &[Piece]) {
        while !self.page.is_empty() && !self.holds(chain) {
            self.turn();
        }
    }

    /// Whether the rest of the page has room for a chain.
    fn holds(&self, chain: &[Piece]) -> bool {
        let head = chain.first().and_then(|piece| piece.head.as_ref());
        let head = head.filter(|_| self.fresh).map_or(0.0, |h| h.height);
        let chain: f64 = chain.iter().map(|p| p.before + p.height).sum();
        self.y + head + chain <= self.height + HAIR
    }

    fn put(&mut self, piece: Piece) {
        if !self.page.is_empty() {
            self.y += piece.before;
        }
        if self.fresh
            && let Some(head) = &piece.head
        {
            self.place(head.height, head.marks.clone());
        }
        self.place(piece.height, piece.marks);
        self.fresh = false;
    }

    fn place(&mut self, height: f64, marks: Vec<Mark>) {
        self.page.push(Placed { top: self.y, marks });
        self.y += height;
    }

    fn turn(&mut self) {
        if !self.page.is_empty() {
            self.done.push(std::mem::take(&mut self.page));
        }
        self.y = 0.0;
        self.fresh = true;
        self.put_waiting();
    }

    /// The first of what waits takes the top of the page, and more if there is room.
    fn put_waiting(&mut self) {
        while let Some(chain) = self.waiting.pop_front() {
            if !self.page.is_empty() && !self.holds(&chain) {
                self.waiting.push_front(chain);
                return;
            }
            for piece in chain {
                if !self.page.is_empty() {
                    self.y += piece.before;
                }
                self.place(piece.height, piece.marks);
            }
        }
    }
}
