use super::*;
use crate::sheet::page::{Names, Section, flowed};

struct Rows(usize);

impl Content for Rows {
    fn lay(&self, _: f64) -> Block {
        let piece = Piece {
            height: 10.0,
            group: Group::default(),
        };
        Block {
            title: "ROWS".into(),
            head: None,
            pieces: vec![piece; self.0],
            whole: false,
        }
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
            let piece = Piece {
                height: 100.0,
                group: Group::default(),
            };
            Block {
                pieces: vec![piece],
                ..Block::default()
            }
        }
    }
    let contents: Vec<Box<dyn Content>> = vec![Box::new(Tall)];
    let mut cursor = Cursor::default();
    let drawn = fill(
        &contents,
        &mut cursor,
        &mut [Column::new(Box2::new(0.0, 0.0, 80.0, 37.0))],
    );
    assert_eq!((drawn.len(), cursor.content), (1, 1));
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
    let sentences: String = (0..60)
        .map(|i| format!("Sentence {i} of a note. "))
        .collect();
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
    let paper = crate::sheet::Paper::landscape(crate::sheet::paper::Size::Letter);
    let ground = crate::sheet::page::Ground::new(paper);
    let section = Section {
        name: "rows",
        title: "ROWS",
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
