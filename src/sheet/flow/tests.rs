use super::*;

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
    assert_eq!(
        cursor,
        Cursor {
            content: 0,
            piece: 6
        }
    );
    // A full column takes nothing more.
    assert!(fill(&contents, &mut cursor, &mut columns).is_empty());
    fill(&contents, &mut cursor, &mut [column, column]);
    assert_eq!(
        cursor,
        Cursor {
            content: 2,
            piece: 0
        }
    );
}

#[test]
fn a_block_with_fewer_parts_in_a_wider_column_does_not_stop_the_flow() {
    struct Legend;
    impl Content for Legend {
        fn lay(&self, width: f64) -> Block {
            Rows(if width > 100.0 { 2 } else { 6 }).lay(width)
        }
    }
    let contents: Vec<Box<dyn Content>> = vec![Box::new(Legend), Box::new(Rows(1))];
    let column = |width: f64| Column::new(Box2::new(0.0, 0.0, width, 37.0));
    let mut cursor = Cursor::default();
    fill(
        &contents,
        &mut cursor,
        &mut [column(80.0), column(120.0), column(120.0)],
    );
    assert_eq!((cursor.content, cursor.piece), (2, 0));
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
