use std::collections::BTreeMap;

use proptest::prelude::*;

use super::*;
use crate::ink::{Group, Mark, TextMark};
use crate::paper::size::Size;

const LETTER: Paper = Paper::portrait(Size::Letter);

fn marks(group: &Group, out: &mut Vec<TextMark>) {
    for mark in &group.marks {
        match mark {
            Mark::Text(text) => out.push(text.clone()),
            Mark::Group(inner) => marks(inner, out),
            Mark::Path(_) | Mark::Image(_) => {}
        }
    }
}

/// Lines of text on a page, its foot left out.
fn on_page(sheet: &Sheet) -> Vec<TextMark> {
    let mut out = Vec::new();
    for group in sheet.groups.iter().filter(|g| g.id != "foot") {
        marks(group, &mut out);
    }
    out
}

/// Words of the document, with those on its drawings.
fn wanted_words(document: &Document) -> Vec<String> {
    let mut texts = document.texts();
    let figures = document.blocks.iter().filter(|b| matches!(b, Block::Figure(_)));
    texts.extend(figures.map(|_| "drawn".to_owned()));
    words(texts.iter().map(String::as_str))
}

fn words<'a>(texts: impl IntoIterator<Item = &'a str>) -> Vec<String> {
    let mut out: Vec<String> = texts
        .into_iter()
        .flat_map(|t| t.split_whitespace())
        // Heads of tables stand on every page, marks of lists in none of the texts.
        .filter(|w| !w.starts_with("Head") && *w != "•" && !w.ends_with("."))
        .map(str::to_owned)
        .collect();
    out.sort();
    out
}

/// A row of a table knows its number in every word: `r12w3`.
fn row(n: usize, long: usize) -> Row {
    let cell = |from: usize, count: usize| {
        let all: Vec<String> = (from..from + count).map(|w| format!("r{n}w{w}")).collect();
        all.join(" ")
    };
    Row { cells: vec![cell(0, 1), cell(1, long), cell(1 + long, 1)], total: false }
}

fn table(rows: &[usize], whole: bool) -> Block {
    Block::Table(Table {
        caption: "caption words".into(),
        columns: vec![
            Column::left("Head-one"),
            Column::left("Head-two"),
            Column::right("Head-three"),
        ],
        rows: rows.iter().enumerate().map(|(n, long)| row(n, *long)).collect(),
        whole,
    })
}

/// A drawing with one word on it.
fn figure(height: f64, float: bool) -> Block {
    let word = TextMark {
        at: crate::ink::PaperPoint { x: 5.0, y: height / 2.0 },
        text: "drawn".into(),
        size: 3.6,
        weight: crate::ink::Weight::Regular,
        align: crate::ink::Align::Start,
        turn: 0.0,
        color: crate::ink::BLACK,
        width: None,
    };
    let sheet = Sheet {
        name: "figure".into(),
        title: "figure".into(),
        description: String::new(),
        width: 100.0,
        height,
        groups: vec![Group { marks: vec![Mark::Text(word)], ..Group::default() }],
    };
    Block::Figure(Figure {
        shows: Picturing::Drawing(Box::new(sheet)),
        caption: "caption under it".into(),
        words: "a figure".into(),
        width: 100.0,
        float,
    })
}

fn sentence(n: usize) -> Text {
    let all: Vec<String> = (0..n).map(|i| format!("word{i}")).collect();
    Text::strong("lead").then(all.join(" "))
}

fn any_block() -> impl Strategy<Value = Block> {
    prop_oneof![
        (2u8..4).prop_map(|level| Block::Heading { level, text: "heading words".into() }),
        (1usize..260).prop_map(|n| Block::Paragraph(sentence(n))),
        (prop::collection::vec(1usize..60, 1..12), any::<bool>()).prop_map(|(items, ordered)| {
            Block::List { ordered, items: items.into_iter().map(sentence).collect() }
        }),
        prop::collection::vec(1usize..40, 1..8).prop_map(|rows| {
            Block::Facts(rows.into_iter().map(|n| ("name of it".to_owned(), sentence(n))).collect())
        }),
        (prop::collection::vec(1usize..50, 0..60), any::<bool>())
            .prop_map(|(rows, whole)| table(&rows, whole)),
        (1usize..80).prop_map(|n| Block::Notice {
            title: "notice".into(),
            paragraphs: vec![sentence(n), sentence(3)],
        }),
        (50.0f64..200.0, any::<bool>()).prop_map(|(height, float)| figure(height, float)),
        Just(Block::Signatures(vec![
            Signature { party: "one".into(), lines: vec!["name".into(), "date".into()] },
            Signature { party: "two".into(), lines: vec!["name".into()] },
        ])),
    ]
}

fn document(blocks: Vec<Block>) -> Document {
    Document {
        title: "title words".into(),
        head: Letterhead { name: "shop".into(), lines: vec!["its place".into()], logo: None },
        running: "job and revision".into(),
        blocks,
        ..Document::default()
    }
}

/// A figure that may float, kept together with a whole table and signatures, which is more than a page: it floats no longer.
#[test]
fn no_page_is_empty_before_a_figure_that_is_kept_with_much() {
    let signatures = || {
        Block::Signatures(vec![
            Signature { party: "one".into(), lines: vec!["name".into(), "date".into()] },
            Signature { party: "two".into(), lines: vec!["name".into()] },
        ])
    };
    let first = table(&[1, 1, 1, 1, 1, 11, 41, 35, 42, 18, 39], false);
    let long = [
        48, 45, 46, 23, 7, 15, 44, 39, 12, 18, 11, 19, 3, 4, 28, 23, 36, 33, 24, 8, 24, 1, 3, 1,
        35, 29, 12, 34, 46, 4, 44, 42, 22, 24, 17, 23, 17,
    ];
    let blocks = vec![first, signatures(), figure(181.5, true), table(&long, true), signatures()];
    let sheets = pages(&document(blocks), LETTER);
    let lines: Vec<usize> = sheets.iter().map(|sheet| on_page(sheet).len()).collect();
    assert!(!lines.contains(&0), "{lines:?}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn nothing_is_lost_nothing_leaves_the_text_area_and_the_pages_are_the_same_each_time(
        blocks in prop::collection::vec(any_block(), 1..14),
        metric in any::<bool>(),
    ) {
        let paper = if metric { Paper::portrait(Size::A4) } else { LETTER };
        let document = document(blocks);
        let sheets = pages(&document, paper);
        prop_assert_eq!(&sheets, &pages(&document, paper));
        let wanted = wanted_words(&document);
        let found: Vec<TextMark> = sheets.iter().flat_map(on_page).collect();
        prop_assert_eq!(words(found.iter().map(|t| t.text.as_str())), wanted);
        for sheet in &sheets {
            for mark in on_page(sheet) {
                let width = crate::font::text_width(&mark.text, mark.size, mark.weight);
                let left = if mark.align == crate::ink::Align::End { mark.at.x - width } else { mark.at.x };
                prop_assert!(left > page::SIDE - 0.01 && left + width < paper.width() - page::SIDE + 0.01, "{:?}", mark);
                prop_assert!(mark.at.y > page::ABOVE && mark.at.y < paper.height() - page::BELOW + 1e-6, "{:?}", mark);
            }
            prop_assert!(!on_page(sheet).is_empty());
        }
    }

    #[test]
    fn no_row_is_on_two_pages_and_every_page_of_a_table_has_its_head(
        before in 0usize..400,
        float in prop::option::of(50.0f64..200.0),
        rows in prop::collection::vec(1usize..70, 1..80),
        whole in any::<bool>(),
    ) {
        let mut blocks = vec![Block::Paragraph(sentence(before + 1)), table(&rows, whole)];
        if let Some(height) = float {
            blocks.insert(1, figure(height, true));
        }
        let document = document(blocks);
        let sheets = pages(&document, LETTER);
        let mut pages_of: BTreeMap<String, Vec<usize>> = BTreeMap::new();
        for (page, sheet) in sheets.iter().enumerate() {
            let lines = on_page(sheet);
            let mut has_rows = false;
            for mark in &lines {
                for word in mark.text.split(' ') {
                    if let Some((row, _)) = word.strip_prefix('r').and_then(|w| w.split_once('w')) {
                        let pages = pages_of.entry(row.to_owned()).or_default();
                        if pages.last() != Some(&page) {
                            pages.push(page);
                        }
                        has_rows = true;
                    }
                }
            }
            let head = lines.iter().any(|m| m.text == "Head-one");
            prop_assert_eq!(has_rows, head, "page {}", page);
        }
        prop_assert_eq!(pages_of.len(), rows.len());
        for (row, pages) in pages_of {
            prop_assert_eq!(pages.len(), 1, "row {}", row);
        }
    }
}

#[test]
fn a_row_taller_than_a_page_goes_on_and_loses_nothing() {
    let document = document(vec![table(&[3, 2000, 3], false)]);
    let sheets = pages(&document, LETTER);
    assert!(sheets.len() > 2);
    let found: Vec<TextMark> = sheets.iter().flat_map(on_page).collect();
    let texts = document.texts();
    assert_eq!(
        words(found.iter().map(|t| t.text.as_str())),
        words(texts.iter().map(String::as_str))
    );
}

#[test]
fn a_paragraph_leaves_no_single_line_and_a_heading_stays_with_its_text() {
    for before in 200..330 {
        let blocks = vec![
            Block::Paragraph(sentence(before * 2)),
            Block::Heading { level: 2, text: "heading".into() },
            Block::Paragraph("aa ".repeat(200).into()),
        ];
        let sheets = pages(&document(blocks), LETTER);
        for sheet in &sheets {
            let lines = on_page(sheet);
            let of_last = lines.iter().filter(|m| m.text.starts_with("aa")).count();
            assert_ne!(of_last, 1, "{before}: a single line");
            let last = lines.last().map(|m| m.text.as_str());
            assert_ne!(last, Some("heading"), "{before}: a heading at the foot");
        }
    }
}

#[test]
fn a_table_that_fits_a_page_is_kept_whole_and_a_total_stays_with_its_sum() {
    for before in 1..60 {
        let mut rows: Vec<Row> = (0..12).map(|n| row(n, 2)).collect();
        rows.push(Row { cells: vec!["total".into(), String::new(), "9".into()], total: true });
        for whole in [true, false] {
            let Block::Table(mut table) = table(&[], whole) else { unreachable!() };
            table.rows = rows.clone();
            let blocks = vec![Block::Paragraph(sentence(before * 12)), Block::Table(table)];
            let sheets = pages(&document(blocks), LETTER);
            let with_rows =
                sheets.iter().filter(|s| on_page(s).iter().any(|m| m.text.starts_with('r')));
            if whole {
                assert_eq!(with_rows.count(), 1, "{before}");
            }
            let total =
                sheets.iter().find(|s| on_page(s).iter().any(|m| m.text == "total")).unwrap();
            assert!(on_page(total).iter().any(|m| m.text.starts_with("r11")), "{before}");
        }
    }
}

#[test]
fn nobody_signs_on_a_page_that_says_nothing() {
    for before in 1..60 {
        let place = Signature { party: "one".into(), lines: vec!["sign".into(), "date".into()] };
        let blocks = vec![
            Block::Paragraph(sentence(before * 10)),
            Block::Heading { level: 2, text: "Acceptance".into() },
            Block::Paragraph("aa ".repeat(40).into()),
            Block::Paragraph("bb".into()),
            Block::Signatures(vec![place]),
        ];
        let sheets = pages(&document(blocks), LETTER);
        let signed = sheets.iter().find(|s| on_page(s).iter().any(|m| m.text == "sign")).unwrap();
        let texts: Vec<String> = on_page(signed).into_iter().map(|m| m.text).collect();
        assert!(texts.iter().any(|t| t == "Acceptance"), "{before}: {texts:?}");
    }
}

#[test]
fn a_floating_figure_leaves_no_hole_and_stands_before_what_comes_after_the_next_page() {
    let blocks = vec![
        Block::Paragraph(sentence(300)),
        figure(190.0, true),
        Block::Paragraph("after ".repeat(600).into()),
    ];
    let sheets = pages(&document(blocks), LETTER);
    let first: Vec<String> = on_page(&sheets[0]).into_iter().map(|m| m.text).collect();
    assert!(first.iter().any(|t| t.starts_with("after")), "the text goes on");
    assert!(!first.contains(&"drawn".to_owned()));
    let second: Vec<TextMark> = on_page(&sheets[1]);
    assert_eq!(second[0].text, "drawn");
    assert!(second.iter().any(|m| m.text.starts_with("after")));
}

#[test]
fn every_page_says_its_number_and_whose_it_is() {
    let sheets = pages(&document(vec![Block::Paragraph(sentence(1500))]), LETTER);
    assert!(sheets.len() > 1);
    for (i, sheet) in sheets.iter().enumerate() {
        let mut foot = Vec::new();
        sheet.groups.iter().filter(|g| g.id == "foot").for_each(|g| marks(g, &mut foot));
        let texts: Vec<&str> = foot.iter().map(|m| m.text.as_str()).collect();
        assert_eq!(texts, [format!("{} of {}", i + 1, sheets.len()).as_str(), "job and revision"]);
    }
}

#[test]
fn markup_in_names_is_text_in_the_file() {
    let evil = "<script>alert('x')</script> & \"A\" \u{202e}\u{0}";
    let blocks = vec![
        Block::Heading { level: 2, text: evil.into() },
        Block::Heading { level: 3, text: evil.into() },
        Block::Paragraph(Text::strong(evil).then(evil)),
        Block::List { ordered: true, items: vec![evil.into()] },
        Block::Facts(vec![(evil.into(), evil.into())]),
        Block::Table(Table {
            caption: evil.into(),
            columns: vec![Column::left(evil)],
            rows: vec![Row { cells: vec![evil.into()], total: true }],
            whole: true,
        }),
        Block::Notice { title: evil.into(), paragraphs: vec![evil.into()] },
        Block::Signatures(vec![Signature { party: evil.into(), lines: vec![evil.into()] }]),
        Block::Key(vec![Entry { text: evil.into(), ..Entry::default() }]),
        Block::Figure(Figure {
            shows: Picturing::Photo(Picture {
                jpeg: [0u8, 1].as_slice().into(),
                width: 2,
                height: 2,
            }),
            caption: evil.into(),
            words: evil.into(),
            width: 50.0,
            float: false,
        }),
    ];
    let document = Document {
        head: Letterhead { logo: None, name: evil.into(), lines: vec![evil.into()] },
        title: evil.into(),
        subject: evil.into(),
        running: evil.into(),
        blocks,
        ..Document::default()
    };
    let file = html(&document);
    assert!(!file.contains("<script"), "{file}");
    assert!(!file.contains("alert('x')") && !file.contains('\u{202e}') && !file.contains('\u{0}'));
    let shown =
        file.matches("&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt; &amp; &quot;A&quot;").count();
    assert_eq!(shown, 23);
    // Everything in angle brackets is an element of ours, and all that open close again.
    let parsed = usvg::roxmltree::Document::parse(&xml(&file)).map(|_| ());
    assert_eq!(parsed, Ok(()));
}

/// The file with its void elements closed, so that a strict parser can read it.
fn xml(file: &str) -> String {
    let mut out = file.replacen("<!DOCTYPE html>", "", 1);
    for void in ["<meta", "<img"] {
        let mut from = 0;
        while let Some(at) = out[from..].find(void) {
            let end = from + at + out[from + at..].find('>').unwrap();
            out.insert(end, '/');
            from = end;
        }
    }
    out
}

#[test]
fn the_file_refers_to_nothing_outside_and_runs_nothing() {
    let file = html(&document(vec![Block::Paragraph("x".into())]));
    for word in ["http:", "https:", "<script", "<link", "<iframe", "@import", "onload"] {
        assert!(!file.contains(word), "{word}");
    }
    assert!(file.starts_with("<!DOCTYPE html>\n<html lang=\"en\">"));
    assert!(
        file.contains("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">")
    );
    assert!(file.contains("@media print"));
}

/// A sheet of this size with nothing on it, as a plan with words that belong to it.
fn plan(width: f64, height: f64, with: Vec<Block>) -> Block {
    let Block::Figure(figure) = figure(height, false) else {
        panic!("a figure");
    };
    let Picturing::Drawing(mut sheet) = figure.shows else {
        panic!("a drawing");
    };
    sheet.width = width;
    let shows = Picturing::Drawing(sheet);
    Block::Plan(Figure { shows, width, ..figure }, with)
}

#[test]
fn what_belongs_to_a_plan_stands_beside_it_where_it_has_room() {
    let entry = |n: usize| Entry {
        id: format!("key-{n}"),
        text: Text::strong("entry").then("of the key"),
        ..Entry::default()
    };
    for (wide, beside) in [(100.0, true), (150.0, false)] {
        let key = Block::Key((0..4).map(entry).collect());
        let sheets = pages(&document(vec![plan(wide, 90.0, vec![key])]), LETTER);
        let texts = on_page(&sheets[0]);
        let at =
            |word: &str| texts.iter().find(|t| t.text.starts_with(word)).map(|t| t.at).unwrap();
        let (drawn, first) = (at("drawn"), at("entry"));
        assert_eq!(first.x > page::SIDE + wide, beside, "{wide}");
        assert_eq!(first.y > drawn.y, !beside, "{wide}");
    }
}

#[test]
fn what_ends_the_paper_is_not_alone_on_the_last_page() {
    for before in 1..120 {
        let heading = |text: &str| Block::Heading { level: 2, text: text.into() };
        let place = Signature {
            party: "one".into(),
            lines: vec!["sign".into(), "name".into(), "date".into()],
        };
        let blocks = vec![
            Block::Paragraph(sentence(before * 10)),
            heading("Duties"),
            Block::Paragraph(sentence(90)),
            heading("Acceptance"),
            Block::Paragraph("aa ".repeat(40).into()),
            Block::Signatures(vec![place]),
        ];
        let sheets = pages(&document(blocks), LETTER);
        let last: Vec<String> =
            on_page(sheets.last().unwrap()).into_iter().map(|m| m.text).collect();
        let first = last.iter().position(|t| t == "Acceptance").unwrap();
        assert!(first > 0, "{before}: {last:?}");
    }
}

/// Columns of other heights on the first page, none at all, and the same on every page after it.
#[test]
fn columns_beside_a_drawing_are_filled_in_order_and_lose_nothing() {
    let column = |left: f64, top: f64| crate::paper::mm::Box2::new(left, top, left + 60.0, 200.0);
    let firsts = [vec![], vec![column(10.0, 190.0), column(80.0, 20.0)], vec![column(80.0, 20.0)]];
    for first in firsts {
        let blocks: Vec<Block> = (0..30).map(|n| Block::Paragraph(sentence(n + 3))).collect();
        let next = vec![column(10.0, 20.0), column(80.0, 20.0)];
        let pages = set(&blocks, 60.0, &|page| {
            if page == 0 { first.clone() } else { next.clone() }
        });
        assert_eq!(pages[0].is_empty(), first.is_empty());
        let mut found = Vec::new();
        for (i, page) in pages.iter().enumerate() {
            let all = if i == 0 { &first } else { &next };
            let mut texts = Vec::new();
            page.iter().for_each(|group| marks(group, &mut texts));
            for text in &texts {
                let held = all.iter().any(|c| {
                    let (x, y) = (text.at.x, text.at.y);
                    x >= c.left - 0.01 && x < c.right && y > c.top && y <= c.bottom
                });
                assert!(held, "{text:?}");
            }
            found.extend(texts);
        }
        let wanted: Vec<String> = document(blocks).texts().into_iter().skip(3).collect();
        assert_eq!(
            words(found.iter().map(|t| t.text.as_str())),
            words(wanted.iter().map(String::as_str))
        );
    }
}
