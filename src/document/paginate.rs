//! Pieces that are not broken, put on pages one below the other.

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
        height,
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
    pages.turn();
    pages.done
}

struct Pages {
    done: Vec<Vec<Placed>>,
    page: Vec<Placed>,
    y: f64,
    height: f64,
}

impl Pages {
    /// Pieces that belong together: on this page, or on the next if that holds them, or broken where they must be.
    fn put_chain(&mut self, chain: Vec<Piece>) {
        if !self.page.is_empty() && self.after(&chain) > self.height + HAIR {
            self.turn();
        }
        for piece in chain {
            self.put(piece);
        }
    }

    /// How far down the page a chain would reach.
    fn after(&self, chain: &[Piece]) -> f64 {
        chain.iter().map(|p| p.before + p.height).sum::<f64>() + self.y
    }

    fn put(&mut self, piece: Piece) {
        let bottom = self.y + piece.before + piece.height;
        if !self.page.is_empty() && bottom > self.height + HAIR {
            self.turn();
        }
        if self.page.is_empty() {
            if let Some(head) = &piece.head {
                self.place(head.height, head.marks.clone());
            }
        } else {
            self.y += piece.before;
        }
        self.place(piece.height, piece.marks);
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
    }
}
