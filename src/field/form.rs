//! What the record pages of the field sheet ask for: one block for every record a sketch can hold.

use crate::quantity::{Units, write};
use crate::record::{
    BlemishKind, CrackTreatment, Formed, JointKind, JointTreatment, Kind, LooseTreatment, Movement,
};

use super::Visit;
use super::block::{Block, Body};
use super::questions::{before_cutting, coating};

/// Rows of one table of moisture tests; more go to a table of their own, so that a table fits any page.
const TESTS_TO_A_TABLE: usize = 20;
/// Most rows for moisture tests; beyond them a copy of the page does.
const MOST_TESTS: usize = 60;
/// Hardness tests on one floor (common practice: one in each third of it).
const HARDNESS_TESTS: usize = 3;

fn table(
    id: &'static str,
    title: &str,
    note: &str,
    columns: &[(&'static str, f64)],
    rows: Vec<Vec<String>>,
) -> Block {
    Block {
        id,
        title: title.into(),
        note: note.into(),
        body: Body::Table { columns: columns.to_vec(), rows },
    }
}

/// Rows that begin with the next ids of a kind.
fn numbered(visit: &Visit, kind: Kind, count: usize) -> Vec<Vec<String>> {
    numbered_from(kind, visit.next(kind), count)
}

fn numbered_from(kind: Kind, from: usize, count: usize) -> Vec<Vec<String>> {
    let id = |n: usize| vec![format!("{}{n}", kind.letter())];
    (from..from + count).map(id).collect()
}

/// Words to choose from, as in a sketch.
fn words<T>(table: &[(&str, T)]) -> String {
    table.iter().map(|(word, _)| word.replace('-', " ")).collect::<Vec<_>>().join(", ")
}

fn empty(count: usize) -> Vec<Vec<String>> {
    vec![Vec::new(); count]
}

/// All blocks, in the order of the walk over the floor.
pub fn blocks(visit: &Visit) -> Vec<Block> {
    let mut out =
        vec![before_cutting(visit.units), lengths(visit.units), outline(visit.units), checks()];
    out.push(openings());
    // What stands on the floor, and where it lies higher, is taped with its walls.
    let mut kinds = Kind::ALL.to_vec();
    kinds.sort_by_key(|kind| (*kind != Kind::KeepOut, *kind != Kind::Tier));
    out.extend(kinds.into_iter().flat_map(|kind| rows(visit, kind)));
    out.extend([conditions(visit.units), coating(), photos()]);
    out
}

/// The tables for a kind of item, and what is taped after it.
fn rows(visit: &Visit, kind: Kind) -> Vec<Block> {
    match kind {
        Kind::Joint => vec![joints(visit)],
        Kind::Crack => vec![cracks(visit)],
        Kind::Spall => vec![spalls(visit)],
        Kind::Delamination => vec![delaminations(visit)],
        Kind::Blemish => vec![blemishes(visit)],
        Kind::Lippage => vec![lippage(visit), levels()],
        Kind::KeepOut => vec![keep_outs(visit)],
        Kind::Moisture => moisture(visit),
        Kind::Tier => vec![tiers(visit)],
        Kind::Uncoated => Vec::new(),
    }
}

/// Whether a kind has rows of its own. A part left uncoated is ticked among the keep-outs.
pub const fn has_rows(kind: Kind) -> bool {
    match kind {
        Kind::Joint
        | Kind::Crack
        | Kind::Spall
        | Kind::Delamination
        | Kind::Blemish
        | Kind::Lippage
        | Kind::KeepOut
        | Kind::Moisture
        | Kind::Tier => true,
        Kind::Uncoated => false,
    }
}

fn lengths(units: Units) -> Block {
    let note = match units {
        Units::Us => {
            "24' 6 1/2\" or 6' 4\" or 3/8. Bare numbers are feet on the plan (24.5), and inches for width, depth and \
             offset (1/4). A point: x, y; or wall 3, along 5', out 2'; or J1 at 6' 4\"; or taped from two corners."
        }
        Units::Metric => {
            "7.32 m or 732 cm or 45 mm. Bare numbers are meters on the plan (7.32), and millimeters for width, depth \
             and offset (6). A point: x, y; or wall 3, along 1.5, out 0.6; or J1 at 1.93; or taped from two corners."
        }
    };
    Block {
        id: "lengths",
        title: "HOW TO WRITE A LENGTH AND A POINT".into(),
        note: note.into(),
        body: Body::Lines(0),
    }
}

fn outline(units: Units) -> Block {
    let (example, arc) = match units {
        Units::Us => ("E 24', N 22' 3\", W 8', N45E 3'", "arc E 12' R 8' left"),
        Units::Metric => ("E 7.32, N 6.78, W 2.44, N45E 0.9", "arc E 3.6 R 2.4 left"),
    };
    Block {
        id: "outline-walk",
        title: "OUTLINE, WALKED RUN BY RUN".into(),
        note: format!(
            "Start at corner 1, one run a box: direction and length, as in {example}. N is up the sheet. A curve: its chord, \
             radius and side, as in {arc}. Back to corner 1."
        ),
        body: Body::Cells { labels: (1..=20).map(|n| format!("{n}")).collect(), across: 5 },
    }
}

fn checks() -> Block {
    let diagonal = "from\tto\tis".to_owned();
    Block {
        id: "diagonals",
        title: "DIAGONALS, CORNER TO CORNER".into(),
        note: String::new(),
        body: Body::Cells { labels: vec![diagonal; 3], across: 3 },
    }
}

fn openings() -> Block {
    let columns = [("WHAT", 60.0), ("WALL", 20.0), ("FROM", 30.0), ("TO", 30.0), ("NOTE", 50.0)];
    table(
        "openings",
        "OPENINGS",
        "Doorways: wall 3 runs from corner 3 to the next; from and to along it.",
        &columns,
        empty(3),
    )
}

fn keep_outs(visit: &Visit) -> Block {
    let columns = [
        ("NO.", 14.0),
        ("WHAT", 50.0),
        ("CORNER OR CENTER", 50.0),
        ("SIZE", 40.0),
        ("UNCOATED", 24.0),
    ];
    table(
        "keep-outs",
        "KEEP-OUTS (K) AND PARTS LEFT UNCOATED (U)",
        "Posts, drains, equipment that stays. Tick the last column for slab that is there and stays bare. A row of columns on one \
         line: how many and how far apart.",
        &columns,
        numbered(visit, Kind::KeepOut, 4),
    )
}

fn tiers(visit: &Visit) -> Block {
    let columns = [
        ("NO.", 14.0),
        ("WHAT", 50.0),
        ("WHERE", 60.0),
        ("HEIGHT", 22.0),
        ("RISER", 22.0),
        ("COVE", 22.0),
    ];
    table(
        "tiers",
        "TIERS: PARTS AT ANOTHER HEIGHT",
        "Height over the main floor; minus is lower. Riser: coat or leave. Joints that stop at it: write so in their line.",
        &columns,
        numbered(visit, Kind::Tier, 2),
    )
}

fn joints(visit: &Visit) -> Block {
    let columns = [
        ("NO.", 12.0),
        ("LINE X OR Y, OR PATH", 42.0),
        ("KIND", 17.0),
        ("FORMED", 20.0),
        ("WIDTH", 16.0),
        ("DEPTH", 16.0),
        ("STRIP", 16.0),
        ("WANDER", 20.0),
        ("BURIED", 19.0),
        ("DO", 14.0),
    ];
    table(
        "joints",
        "JOINTS",
        &format!(
            "Kind: {}. Formed: {}. Strip: how deep a former left in reaches. Wander: off the straight, in all. Do: {}; empty for \
             the shop's rule. Several alike on one line: every x or y, or how many and how far apart.",
            words(JointKind::WORDS),
            words(Formed::WORDS),
            words(JointTreatment::WORDS),
        ),
        &columns,
        numbered(visit, Kind::Joint, 9),
    )
}

fn cracks(visit: &Visit) -> Block {
    let columns = [
        ("NO.", 12.0),
        ("PATH, POINT BY POINT", 76.0),
        ("WIDTH", 18.0),
        ("OFFSET", 18.0),
        ("MOVES", 22.0),
        ("DO", 20.0),
        ("NOTE", 26.0),
    ];
    table(
        "cracks",
        "CRACKS",
        &format!(
            "Width at the widest. Offset: one side higher by. Moves: {}. Do: {}.",
            words(Movement::WORDS),
            words(CrackTreatment::WORDS),
        ),
        &columns,
        numbered(visit, Kind::Crack, 7),
    )
}

fn spalls(visit: &Visit) -> Block {
    let columns = [
        ("NO.", 12.0),
        ("WHERE", 60.0),
        ("SIZE OR DIAMETER", 48.0),
        ("DEPTH", 20.0),
        ("NOTE", 52.0),
    ];
    table(
        "spalls",
        "SPALLS: CONCRETE THAT IS MISSING",
        "",
        &columns,
        numbered(visit, Kind::Spall, 6),
    )
}

fn delaminations(visit: &Visit) -> Block {
    let columns = [
        ("NO.", 12.0),
        ("WHERE", 60.0),
        ("SIZE OR DIAMETER", 42.0),
        ("DEPTH", 18.0),
        ("DO", 20.0),
        ("NOTE", 40.0),
    ];
    table(
        "delaminations",
        "DELAMINATIONS: CONCRETE THAT SOUNDS HOLLOW",
        &format!(
            "Chain drag, then a hammer for the edge. Depth: of the loose layer. Do: {}.",
            words(LooseTreatment::WORDS)
        ),
        &columns,
        numbered(visit, Kind::Delamination, 4),
    )
}

fn blemishes(visit: &Visit) -> Block {
    let columns = [("NO.", 12.0), ("WHAT", 44.0), ("WHERE", 60.0), ("SIZE", 40.0), ("NOTE", 36.0)];
    table(
        "blemishes",
        "BLEMISHES: SURFACE THAT CHANGES THE PREPARATION",
        &format!("What: {}.", words(BlemishKind::WORDS)),
        &columns,
        numbered(visit, Kind::Blemish, 4),
    )
}

fn lippage(visit: &Visit) -> Block {
    let columns = [
        ("NO.", 12.0),
        ("ALONG", 22.0),
        ("HIGH", 18.0),
        ("AT", 17.0),
        ("OFFSET", 17.0),
        ("AT", 17.0),
        ("OFFSET", 17.0),
        ("AT", 17.0),
        ("OFFSET", 17.0),
        ("AT", 17.0),
        ("OFFSET", 17.0),
    ];
    table(
        "lippage",
        "LIPPAGE: ONE SIDE STANDS HIGHER",
        "Along: joint or crack. High side: left, right, or N, E, S, W. Offset at each station, from the line's first end.",
        &columns,
        numbered(visit, Kind::Lippage, 4),
    )
}

fn levels() -> Block {
    let one = [("X", 20.0), ("Y", 20.0), ("HEIGHT", 22.0)];
    let columns: Vec<_> = one.iter().cycle().take(9).copied().collect();
    table(
        "levels",
        "SPOT HEIGHTS",
        "Up is plus, down is minus, from one point called 0.",
        &columns,
        empty(3),
    )
}

fn moisture(visit: &Visit) -> Vec<Block> {
    let columns = [
        ("NO.", 12.0),
        ("WHERE", 56.0),
        ("RH %", 20.0),
        ("OR LB", 20.0),
        ("HOLE DEPTH", 28.0),
        ("READ ON", 28.0),
        ("NOTE", 28.0),
    ];
    let missing = visit.tests.saturating_sub(visit.taken);
    let rows = missing.clamp(1, MOST_TESTS);
    let from = visit.next(Kind::Moisture);
    let mut first = 0;
    let mut out = Vec::new();
    while first < rows {
        let count = (rows - first).min(TESTS_TO_A_TABLE);
        let (id, title, note) = if first == 0 {
            ("moisture", visit.moisture_title(), visit.moisture_note(rows))
        } else {
            ("", "MOISTURE TESTS, MORE".to_owned(), String::new())
        };
        out.push(table(
            id,
            &title,
            &note,
            &columns,
            numbered_from(Kind::Moisture, from + first, count),
        ));
        first += count;
    }
    out
}

impl Visit<'_> {
    fn moisture_title(&self) -> String {
        let tests = if self.tests == 1 { "TEST" } else { "TESTS" };
        let taken = if self.taken > 0 { format!(", {} TAKEN", self.taken) } else { String::new() };
        format!("MOISTURE: {} {tests} WANTED{taken}", self.tests)
    }

    fn moisture_note(&self, rows: usize) -> String {
        let limit = &self.shop.moisture.limits;
        let expected =
            self.area_m2.map_or(String::new(), |a| format!("For {}: ", write::area(a, self.units)));
        let more = if rows + self.taken < self.tests {
            format!(" Rows for {rows}; copy this page for the rest.")
        } else {
            String::new()
        };
        format!(
            "{expected}3 for the first 1,000 ft² and one for each further 1,000 ft² (ASTM F2170). Limits of the shop book: {} RH, {} lb; \
             the product's data sheet decides.{more}",
            write::percent(limit.rh.one()),
            write::trimmed(limit.mver, 2),
        )
    }
}

fn conditions(units: Units) -> Block {
    let degrees = match units {
        Units::Us => "°F",
        Units::Metric => "°C",
    };
    let mut labels: Vec<String> =
        (1..=HARDNESS_TESTS).map(|n| format!("Mohs {n}\twhere")).collect();
    labels.extend([format!("Air {degrees}"), "Humidity %".to_owned(), format!("Slab {degrees}")]);
    Block {
        id: "conditions",
        title: "HARDNESS, AIR AND SLAB".into(),
        note: "The hardest pick that leaves no scratch, and where it was tried.".into(),
        body: Body::Cells { labels, across: 3 },
    }
}

fn photos() -> Block {
    let columns = [
        ("ITEM", 16.0),
        ("NUMBER OR FILE", 40.0),
        ("SHOWS", 40.0),
        ("ITEM", 16.0),
        ("NUMBER OR FILE", 40.0),
        ("SHOWS", 40.0),
    ];
    table("photos", "PHOTOS", "", &columns, empty(4))
}
