use super::*;
use crate::paper::style;
use crate::sheet::flow::{Figure, Notes};
use crate::sheet::page::{Names, Section, flowed};

struct Rows(usize);

impl Content for Rows {
    fn lay(&self, _: f64) -> Block {
        let piece = Piece::new(10.0, Group::default());
        Block { title: "ROWS".into(), pieces: vec![piece; self.0], whole: false }
    }
}

#[test]
fn rows_go_on_in_the_next_column_and_on_the_next_sheet() {
    let contents: Vec<Box<dyn Content>> = vec![Box::new(Rows(7)), Box::new(Rows(1))];
    let column = Column::new(Box2::new(0.0, 0.0, 80.0, 37.0));
    let mut cursor = Cursor::default();
    let mut columns = [column, column];
    fill(&contents, &mut cursor, &mut columns);
    assert_eq!((cursor.content, cursor.piece), (0, 6));
    // A full column takes nothing more.
    assert!(fill(&contents, &mut cursor, &mut columns).is_empty());
    fill(&contents, &mut cursor, &mut [column, column]);
    assert_eq!((cursor.content, cursor.piece), (2, 0));
}

#[test]
fn a_block_with_fewer_parts_in_a_wider_column_loses_none_and_does_not_stop_the_flow() {
    struct Legend;
    impl Content for Legend {
        fn lay(&self, width: f64) -> Block {
            Rows(if width > 100.0 { 2 } else { 6 }).lay(width)
        }
    }
    let contents: Vec<Box<dyn Content>> = vec![Box::new(Legend), Box::new(Rows(1))];
    let column = |width: f64| Column::new(Box2::new(0.0, 0.0, width, 37.0));
    let mut cursor = Cursor::default();
    let mut columns = [column(80.0), column(120.0), column(120.0)];
    let drawn = fill(&contents, &mut cursor, &mut columns);
    assert_eq!((cursor.content, cursor.piece), (2, 0));
    let rows = |i: usize| match &drawn[i].marks[..] {
        [Mark::Text(_), rows @ ..] => rows.len(),
        other => panic!("{other:?}"),
    };
    assert_eq!((rows(0), rows(1), rows(2)), (3, 3, 1), "all six rows stand");
}

#[test]
fn a_piece_taller_than_every_column_does_not_stop_the_flow() {
    struct Tall;
    impl Content for Tall {
        fn lay(&self, _: f64) -> Block {
            let piece = Piece::new(100.0, Group::default());
            Block { pieces: vec![piece], ..Block::default() }
        }
    }
    let contents: Vec<Box<dyn Content>> = vec![Box::new(Tall)];
    let mut cursor = Cursor::default();
    let drawn = fill(&contents, &mut cursor, &mut [Column::new(Box2::new(0.0, 0.0, 80.0, 37.0))]);
    assert_eq!((drawn.len(), cursor.content), (1, 1));
}

/// A figure that has no room in a column stands at the top of the next, in its order, and the text goes on meanwhile.
#[test]
fn what_floats_is_put_off_to_the_next_column_and_the_text_goes_on() {
    struct Part(&'static str, f64, bool);
    impl Content for Part {
        fn lay(&self, _: f64) -> Block {
            let text = draw::text(at(0.0, 0.0), self.0, style::body(), Align::Start);
            let group = draw::group("", "", vec![Mark::Text(text)]);
            vec![Piece::new(self.1, group)].into()
        }
        fn floats(&self) -> bool {
            self.2
        }
    }
    let rows: [(&str, &[Part], &[&str]); 4] = [
        (
            "there is room",
            &[Part("a", 20.0, false), Part("F", 40.0, true), Part("b", 20.0, false)],
            &["a F b"],
        ),
        (
            "put off",
            &[Part("a", 50.0, false), Part("F", 60.0, true), Part("b", 20.0, false)],
            &["a b", "F"],
        ),
        (
            "the second waits for the first",
            &[Part("a", 50.0, false), Part("F", 60.0, true), Part("G", 20.0, true)],
            &["a", "F G"],
        ),
        (
            "the last of all waits for another sheet",
            &[Part("a", 90.0, false), Part("F", 60.0, true), Part("G", 60.0, true)],
            &["a", "F", "G"],
        ),
    ];
    for (name, parts, wanted) in rows {
        let contents = parts.iter().map(|Part(text, height, floats)| {
            Box::new(Part(text, *height, *floats)) as Box<dyn Content>
        });
        let contents: Vec<_> = contents.collect();
        let mut cursor = Cursor::default();
        let mut found = Vec::new();
        while !cursor.is_through(contents.len()) {
            let column = |i: f64| Column::new(Box2::new(i * 50.0, 0.0, i * 50.0 + 40.0, 100.0));
            let mut columns = match found.is_empty() {
                true => vec![column(0.0), column(1.0)],
                false => vec![column(0.0)],
            };
            let groups = fill(&contents, &mut cursor, &mut columns);
            for column in &columns {
                let here = groups.iter().filter(|group| {
                    let Some(Mark::Group(piece)) = group.marks.first() else { return false };
                    let Some(Mark::Text(text)) = piece.marks.first() else { return false };
                    (text.at.x - column.area.left).abs() < 1e-9
                });
                let mut said = Vec::new();
                here.for_each(|group| texts(group, &mut said));
                found.push(said.join(" "));
            }
        }
        found.retain(|column| !column.is_empty());
        assert_eq!(found, wanted, "{name}");
    }
}

/// With so many words below it that no column holds both, a figure is not put off: its words go on in the next column.
#[test]
fn a_figure_with_more_words_than_a_column_holds_is_broken() {
    let figure = |words: usize| {
        let note = (String::new(), "one word and another ".repeat(words));
        let below = Notes { paragraphs: vec![note], ..Notes::default() };
        Figure { height: 60.0, below, ..Figure::default() }.of_columns((80.0, 100.0))
    };
    assert!(figure(10).floats() && !figure(60).floats());
    let part = Figure { height: 50.0, ..Figure::default() };
    let contents: Vec<Box<dyn Content>> = vec![Box::new(part), Box::new(figure(60))];
    let mut cursor = Cursor::default();
    while !cursor.is_through(contents.len()) {
        let column = Column::new(Box2::new(0.0, 0.0, 80.0, 100.0));
        let mut columns = [column, column];
        fill(&contents, &mut cursor, &mut columns);
        assert!(columns.iter().all(|column| column.from <= 100.0 + BETWEEN + HAIR));
    }
}

/// The texts of a group, nested ones too, in order.
fn texts(group: &Group, out: &mut Vec<String>) {
    for mark in &group.marks {
        match mark {
            Mark::Text(t) => out.push(t.text.clone()),
            Mark::Group(inner) => texts(inner, out),
            _ => {}
        }
    }
}

#[test]
fn a_long_note_goes_on_in_the_next_column_and_loses_no_word() {
    let sentences: String = (0..60).map(|i| format!("Sentence {i} of a note. ")).collect();
    let no_stop: String = (0..300).map(|i| format!("word{i} ")).collect();
    for note in [sentences, no_stop] {
        let notes = Notes {
            title: String::new(),
            paragraphs: vec![("Lead".into(), note.clone())],
            framed: false,
        };
        let contents: Vec<Box<dyn Content>> = vec![Box::new(notes)];
        let mut cursor = Cursor::default();
        let mut said = Vec::new();
        // Columns of other widths, as on the sheets that follow a map.
        for width in [60.0, 110.0, 60.0, 110.0, 110.0] {
            let area = Box2::new(0.0, 0.0, width, 90.0);
            for group in fill(&contents, &mut cursor, &mut [Column::new(area)]) {
                let block = draw::moved(group, by(0.0, 0.0));
                let mut of_block = Vec::new();
                texts(&block, &mut of_block);
                assert!(!of_block.is_empty());
                said.extend(of_block);
            }
        }
        assert_eq!(cursor.content, 1, "all of it is written");
        let words = |s: &str| -> Vec<String> { s.split_whitespace().map(str::to_owned).collect() };
        let mut wanted = words("Lead.");
        wanted.extend(words(&note));
        assert_eq!(words(&said.join(" ")), wanted);
    }
}

#[test]
fn no_part_of_a_note_is_taller_than_a_short_column() {
    let notes = Notes {
        title: "NOTES".into(),
        paragraphs: vec![(String::new(), "one word and another ".repeat(200))],
        framed: false,
    };
    let block = notes.lay(60.0);
    assert!(block.pieces.len() > 5 && !block.whole);
    assert!(block.pieces.iter().all(|p| p.height < 60.0));
}

/// A plan of hundreds of days runs through dozens of sheets; each of them used to lay all of it out again.
#[test]
fn what_runs_through_many_sheets_is_laid_out_once() {
    struct Counted(Rc<std::cell::Cell<usize>>);
    impl Content for Counted {
        fn lay(&self, width: f64) -> Block {
            self.0.set(self.0.get() + 1);
            Rows(400).lay(width)
        }
    }
    let laid = Rc::new(std::cell::Cell::new(0));
    let paper = crate::sheet::Paper::landscape(crate::paper::size::Size::Letter);
    let ground = crate::sheet::page::Ground::new(paper);
    let section = Section {
        name: "rows",
        title: "ROWS".into(),
        about: String::new(),
        least: 170.0,
        reminder: None,
        contents: once(vec![Box::new(Counted(Rc::clone(&laid)))]),
        cursor: Cursor::default(),
    };
    let sheets = flowed(&ground, vec![section], &mut Names::default());
    assert!(sheets.len() > 10, "{}", sheets.len());
    assert_eq!(laid.get(), 1);
}

/// Pieces from words: `a10` is 10 mm high, with `+` it stays with the next, with `~` it may be put off, with `^` it has a head of 5 mm,
/// with `_` 4 mm of space above.
fn block(title: &str, pieces: &str) -> Block {
    let named = |name: &str, height: f64| {
        let text = draw::text(at(0.0, 0.0), name, style::body(), Align::Start);
        Piece::new(height, draw::group("", "", vec![Mark::Text(text)]))
    };
    let head = Rc::new(named("H", 5.0));
    let piece = |word: &str| {
        let marks: String = word.chars().filter(|c| "+~^_".contains(*c)).collect();
        let height = word[1..].trim_end_matches(['+', '~', '^', '_']);
        Piece {
            before: if marks.contains('_') { 4.0 } else { 0.0 },
            keep: marks.contains('+'),
            float: marks.contains('~'),
            head: marks.contains('^').then(|| Rc::clone(&head)),
            ..named(&word[..1], height.parse().unwrap())
        }
    };
    Block { title: title.into(), pieces: pieces.split(' ').map(piece).collect(), whole: false }
}

/// Where the pieces stand: columns of these heights on the first page and on each of the others, `|` between columns, `||` between pages.
fn placed(block: Block, first: &[f64], next: &[f64]) -> String {
    let columns = |page: usize| {
        let heights = if page == 0 { first } else { next };
        let area =
            |(i, h): (usize, &f64)| Box2::new(100.0 * i as f64, 0.0, 100.0 * i as f64 + 90.0, *h);
        heights.iter().enumerate().map(area).collect::<Vec<_>>()
    };
    let content: Box<dyn Content> = Box::new(Rc::new(block));
    let page = |(_, groups): (Cursor, Vec<Group>)| {
        let stretch = |group: &Group| {
            let mut out = Vec::new();
            texts(group, &mut out);
            out.join(" ")
        };
        groups.iter().map(stretch).collect::<Vec<_>>().join(" | ")
    };
    let pages: Vec<String> = pages(&[content], &columns).into_iter().map(page).collect();
    pages.join(" || ")
}

#[test]
fn pieces_stand_where_they_belong() {
    let same = |h: f64| (vec![h], vec![h]);
    let rows = [
        ("one below the other", "a10 b10 c10", same(25.0), "a b || c"),
        ("rows go on under their head", "a10^ b10^ c10^", same(25.0), "H a b || H c"),
        ("a head takes room, too", "a10^ b10^", same(24.0), "H a || H b"),
        ("no space above at the top of a column", "a10_ b10_ c10_", same(24.0), "a b || c"),
        ("kept with the next", "a10 b10+ c10", same(25.0), "a || b c"),
        (
            "more than a column holds is broken where it must be",
            "a10 b10+ c10+ d10",
            same(25.0),
            "a || b c || d",
        ),
        ("taller than every column", "a10 b40 c10", same(25.0), "a || b || c"),
        ("too tall for this page", "a10 b40 c10", (vec![25.0], vec![50.0]), "a || b c"),
        ("too tall for this column", "b40 c10", (vec![25.0, 50.0], vec![25.0]), "b c"),
        ("a page to itself", "a10", (vec![], vec![25.0]), " || a"),
        ("put off, the text goes on", "a20 f10~ b5 c10", same(25.0), "a b || f c"),
        ("put off in order", "a20 f10~ g5~ b5 c10", same(25.0), "a b || f g c"),
        ("put off with its caption", "a20 f10~+ g5 b5 c10", same(25.0), "a b || f g c"),
        ("nothing after it", "a20 f10~", same(25.0), "a || f"),
        ("put off and taller than a column", "a20 f30~ b5 c5", same(25.0), "a b || f || c"),
    ];
    for (name, pieces, (first, next), wanted) in rows {
        assert_eq!(placed(block("", pieces), &first, &next), wanted, "{name}");
    }
}

#[test]
fn a_block_keeps_its_title_with_two_rows_and_says_where_it_goes_on() {
    let rows = [
        ("all of it", "a10 b10", "T a b"),
        ("goes on", "a10 b10 c10", "T a b || T, CONTINUED c"),
        ("with the head of its rows", "a5^ b10^ c10^", "T H a b || T, CONTINUED H c"),
    ];
    for (name, pieces, wanted) in rows {
        assert_eq!(placed(block("T", pieces), &[26.0], &[26.0]), wanted, "{name}");
    }
    // Behind another block there is room for one row: it waits for the second, but not where there are but two.
    for (pieces, wanted) in [("a5 b10 c5", "T a b c"), ("a5 b10", "T a | T, CONTINUED b")] {
        let contents: Vec<Box<dyn Content>> =
            vec![Box::new(Rc::new(block("", "x10"))), Box::new(Rc::new(block("T", pieces)))];
        let columns = [0.0, 100.0].map(|x| Column::new(Box2::new(x, 0.0, x + 90.0, 26.0)));
        let drawn = fill(&contents, &mut Cursor::default(), &mut columns.clone());
        let mut said = Vec::new();
        for group in &drawn[1..] {
            let mut of_block = Vec::new();
            texts(group, &mut of_block);
            said.push(of_block.join(" "));
        }
        assert_eq!(said.join(" | "), wanted, "{pieces}");
    }
}

#[test]
fn what_is_not_broken_is_as_high_as_in_a_column() {
    let block = block("", "a10^_ b10^_ c10");
    let piece = block.unbroken(60.0);
    assert_eq!((piece.group.marks.len(), piece.height), (4, 39.0));
    assert!((block.height() - piece.height).abs() < 1e-9);
}
