//! Floors of any size, made by rule: a warehouse of square bays with a joint segment on every bay
//! edge, and cracks, spalls, steps and tests strewn over it. Same number and mix, same text.

use std::fmt::Write as _;

/// Side of a bay, feet: at this size 100,000 joints and cracks cover one million square feet.
const BAY: f64 = 5.0;
/// Spalls in a cluster at most.
const CLUSTER: usize = 8;
/// Bays in a row that a cluster has for itself, so that its patch doesn't reach the next one's.
const PER_CLUSTER: usize = 3;

/// What a floor has more of than others, so that each stage meets the records it works hardest on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mix {
    /// Joints and cracks, and one spall, blemish and step to forty of them.
    Even,
    /// A fifth as many re-entrant corners as joints, in the outline: pilasters along slots into the floor, always as far apart.
    Corners,
    /// The same number along one wall: the larger the floor, the more notches within reach of one another.
    Crowd,
    /// Mostly spalls, in clusters that grow together into patches.
    Patches,
    /// A step on every second joint.
    Steps,
    /// Mostly moisture tests.
    Moisture,
    /// Columns and pipes: a hole to every fifty joints, half of them round, half on the corners of bays.
    Holes,
    /// Few joints, each right across the floor and through all others, and cracks.
    Crossing,
}

impl Mix {
    /// All of them.
    pub const ALL: [Mix; 8] = [
        Mix::Even,
        Mix::Corners,
        Mix::Crowd,
        Mix::Patches,
        Mix::Steps,
        Mix::Moisture,
        Mix::Holes,
        Mix::Crossing,
    ];

    /// Its name on the command line.
    pub const fn name(self) -> &'static str {
        match self {
            Mix::Even => "even",
            Mix::Corners => "corners",
            Mix::Crowd => "crowd",
            Mix::Patches => "patches",
            Mix::Steps => "steps",
            Mix::Moisture => "moisture",
            Mix::Holes => "holes",
            Mix::Crossing => "crossing",
        }
    }
}

/// How many records of each kind.
struct Counts {
    joints: usize,
    cracks: usize,
    /// Spalls, not in clusters, and blemishes.
    spots: usize,
    steps: usize,
    clustered: usize,
    tests: usize,
    holes: usize,
    notches: usize,
}

impl Counts {
    fn of(items: usize, mix: Mix) -> Counts {
        let even = Counts {
            joints: items * 4 / 5,
            cracks: items - items * 4 / 5,
            spots: items / 40,
            steps: items / 40,
            clustered: 0,
            tests: 0,
            holes: 0,
            notches: 0,
        };
        let few = Counts { joints: items / 5, cracks: items / 20, ..even };
        match mix {
            Mix::Even => even,
            // Nothing but joints: others would lie in the slots.
            Mix::Corners => {
                Counts { joints: items, notches: items / 5, cracks: 0, spots: 0, steps: 0, ..even }
            }
            Mix::Crowd => Counts { notches: items / 5, ..even },
            Mix::Patches => Counts { clustered: items * 3 / 4, ..few },
            Mix::Steps => Counts { joints: items * 2 / 3, steps: items / 3, cracks: 0, ..even },
            Mix::Moisture => Counts { tests: items * 3 / 4, ..few },
            Mix::Holes => Counts { holes: items / 100, ..even },
            // The lines themselves are the square root of that, so that they meet about `items` times.
            Mix::Crossing => Counts { joints: 0, spots: items / 40, steps: 0, ..even },
        }
    }
}

/// A small generator of numbers (the constants are those of Knuth's MMIX), so that a floor is the same everywhere.
struct Numbers(u64);

impl Numbers {
    /// The next number in 0..1.
    fn unit(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        f64::from(u32::try_from(self.0 >> 32).unwrap_or(0)) / 4_294_967_296.0
    }

    /// A number between two others.
    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + self.unit() * (high - low)
    }

    /// One of `n`.
    fn below(&mut self, n: usize) -> usize {
        let mut k = 0;
        let mut left = self.unit() * n as f64;
        while left >= 1.0 {
            left -= 1.0;
            k += 1;
        }
        k
    }
}

/// The square bays of a floor, as many each way.
#[derive(Clone, Copy)]
struct Bays {
    columns: usize,
}

impl Bays {
    /// Enough for the joints, and for as many bays as the clusters of spalls take.
    fn of(counts: &Counts, items: usize) -> Bays {
        let joints = counts.joints.max(items / 5);
        let clusters = counts.clustered.div_ceil(CLUSTER);
        let mut columns = 2;
        while 2 * columns * columns < joints + 2 * columns
            || (columns / PER_CLUSTER) * columns < clusters
        {
            columns += 1;
        }
        Bays { columns }
    }

    /// Side of the floor, feet.
    fn side(self) -> f64 {
        self.columns as f64 * BAY
    }
}

/// A sketch with `items` records: joints and cracks (four joints to a crack) with one spall, step and blemish
/// for every forty of them, or another mix.
pub fn sketch(items: usize, mix: Mix) -> String {
    let counts = Counts::of(items, mix);
    let bays = Bays::of(&counts, items);
    let mut n = Numbers(items as u64 + 1);
    let mut out = format!(
        "slabwalk: 1\njob: {{name: Warehouse of {items}}}\nslab:\n  post_tension: none\n  thickness: 6\"\n  \
         outline: ["
    );
    if mix == Mix::Corners {
        slots(&mut out, bays, counts.notches / 2);
    } else {
        outline(&mut out, bays, counts.notches);
    }
    holes(&mut out, counts.holes, bays, &mut n);
    out.push_str("joints:\n");
    if mix == Mix::Crossing {
        lines_across(&mut out, items, bays, &mut n);
    } else {
        joints_of(&mut out, counts.joints, bays, &mut n);
    }
    cracks_of(&mut out, counts.cracks, bays, &mut n);
    spots_of(&mut out, &counts, bays, &mut n);
    clusters_of(&mut out, counts.clustered, bays, &mut n);
    steps_of(&mut out, counts.steps, counts.joints, &mut n);
    tests_of(&mut out, counts.tests, bays, &mut n);
    out
}

/// A rectangle, with notches a foot deep along its lower side, each with two re-entrant corners.
fn outline(out: &mut String, bays: Bays, notches: usize) {
    let side = bays.side();
    let _ = write!(out, "[0, 0]");
    let pitch = side / (notches / 2 + 1) as f64;
    for k in 0..notches / 2 {
        let (a, b) = ((k as f64 + 0.5) * pitch, (k as f64 + 0.9) * pitch);
        let _ = write!(out, ", [{a:.4}, 0], [{a:.4}, 1], [{b:.4}, 1], [{b:.4}, 0]");
    }
    let _ = writeln!(out, ", [{side}, 0], [{side}, {side}], [0, {side}]]");
}

/// Slots a foot wide from the lower side half-way up the floor, one to four bays, so that their sides grow as the floor does.
/// Along them a foot wide and a foot deep, at equal distances, the notches, each with two re-entrant corners.
fn slots(out: &mut String, bays: Bays, notches: usize) {
    let side = bays.side();
    let (slots, deep) = ((bays.columns / 4).max(1), side / 2.0);
    let walls = 2 * slots;
    let _ = write!(out, "[0, 0]");
    for wall in 0..walls {
        // Up the left side of a slot, with the floor on its left, and down the right one.
        let up = wall % 2 == 0;
        let x = 4.0 * BAY * (wall / 2) as f64 + 2.5 + if up { 0.0 } else { 1.0 };
        let into = if up { x - 1.0 } else { x + 1.0 };
        let here = notches * (wall + 1) / walls - notches * wall / walls;
        let mut ys = Vec::new();
        for k in 0..here {
            let y = (k as f64 + 0.5) * deep / here as f64;
            ys.extend([(y, x), (y, into), (y + 1.0, into), (y + 1.0, x)]);
        }
        ys.insert(0, (0.0, x));
        ys.push((deep, x));
        if !up {
            ys.reverse();
        }
        for (y, x) in ys {
            let _ = write!(out, ", [{x}, {y:.4}]");
        }
    }
    let _ = writeln!(out, ", [{side}, 0], [{side}, {side}], [0, {side}]]");
}

/// Columns, every second one square and on the corner of a bay.
fn holes(out: &mut String, holes: usize, bays: Bays, n: &mut Numbers) {
    if holes == 0 {
        return;
    }
    out.push_str("  keep_outs:\n");
    let mut left = holes;
    let mut at = Vec::new();
    for row in 1..bays.columns {
        for column in 1..bays.columns {
            at.push((column as f64 * BAY, row as f64 * BAY));
        }
    }
    while left > 0 && !at.is_empty() {
        let (x, y) = at.swap_remove(n.below(at.len().min(64)));
        left -= 1;
        let (x, y) = (x - 0.5, y - 0.5);
        let _ = writeln!(out, "    - {{what: column, box: {{corner: [{x}, {y}], size: [1, 1]}}}}");
        if left > 0 {
            left -= 1;
            let (x, y) = (x + n.between(2.0, 3.0), y + n.between(2.0, 3.0));
            let _ = writeln!(
                out,
                "    - {{what: pipe, circle: {{center: [{x:.2}, {y:.2}], diameter: 6\"}}}}"
            );
        }
    }
}

/// Segments along the bays' edges, row by row, upright ones first.
fn joints_of(out: &mut String, joints: usize, bays: Bays, n: &mut Numbers) {
    let mut left = joints;
    'all: for row in 0..bays.columns {
        for column in 0..bays.columns {
            let (x, y) = (column as f64 * BAY, row as f64 * BAY);
            for (a, b, wanted) in
                [((x, y), (x, y + BAY), column > 0), ((x, y), (x + BAY, y), row > 0)]
            {
                if !wanted {
                    continue;
                }
                if left == 0 {
                    break 'all;
                }
                left -= 1;
                let kind =
                    ["control", "control", "control", "construction", "isolation"][n.below(5)];
                let width = ["1/8", "3/16", "1/4", "3/8"][n.below(4)];
                let _ = writeln!(
                    out,
                    "  - {{kind: {kind}, formed: sawn, path: [[{}, {}], [{}, {}]], width: {width}, depth: 1}}",
                    a.0, a.1, b.0, b.1
                );
            }
        }
    }
}

/// As many lines each way as meet about `items` times.
fn lines_across(out: &mut String, items: usize, bays: Bays, n: &mut Numbers) {
    let mut each = 1;
    while each * each < items {
        each += 1;
    }
    for (axis, span) in [("x", bays.side()), ("y", bays.side())] {
        for k in 1..=each {
            let at = span * k as f64 / (each + 1) as f64;
            let width = ["1/8", "3/16", "1/4", "3/8"][n.below(4)];
            let _ = writeln!(
                out,
                "  - {{kind: control, formed: sawn, {axis}: {at:.3}, width: {width}, depth: 1}}"
            );
        }
    }
}

/// Wandering lines of four points.
fn cracks_of(out: &mut String, cracks: usize, bays: Bays, n: &mut Numbers) {
    if cracks == 0 {
        return;
    }
    out.push_str("cracks:\n");
    let side = bays.side();
    for _ in 0..cracks {
        let (mut x, mut y) = (n.between(3.0, side - 12.0), n.between(3.0, side - 12.0));
        let mut path = format!("[{x:.2}, {y:.2}]");
        for _ in 0..3 {
            x += n.between(0.3, 3.0);
            y += n.between(-0.8, 1.2);
            let _ = write!(path, ", [{x:.2}, {y:.2}]");
        }
        let width = ["1/64", "1/32", "1/16", "1/8"][n.below(4)];
        let _ = writeln!(out, "  - {{path: [{path}], width: {width}, movement: dormant}}");
    }
}

/// Spalls and oil spots.
fn spots_of(out: &mut String, counts: &Counts, bays: Bays, n: &mut Numbers) {
    let spots = counts.spots;
    if spots + counts.clustered == 0 {
        return;
    }
    let side = bays.side();
    if spots > 0 {
        out.push_str("blemishes:\n");
    }
    for _ in 0..spots {
        let (x, y) = (n.between(1.0, side - 3.0), n.between(1.0, side - 4.0));
        let _ =
            writeln!(out, "  - {{what: oil, box: {{corner: [{x:.2}, {y:.2}], size: [2, 1.5]}}}}");
    }
    out.push_str("spalls:\n");
    for _ in 0..spots {
        let (x, y) = (n.between(1.5, side - 1.5), n.between(2.0, side - 2.0));
        let _ = writeln!(
            out,
            "  - {{circle: {{center: [{x:.2}, {y:.2}], diameter: 5\"}}, depth: 3/8}}"
        );
    }
}

/// Spalls in rows, near enough to each other for one patch.
fn clusters_of(out: &mut String, spalls: usize, bays: Bays, n: &mut Numbers) {
    let in_row = (bays.columns / PER_CLUSTER).max(1);
    let mut left = spalls;
    for cluster in 0.. {
        if left == 0 {
            break;
        }
        let (row, column) = (cluster / in_row, cluster % in_row * PER_CLUSTER);
        let (x, y) = (column as f64 * BAY + 1.5, row as f64 * BAY + 1.5);
        let (x, y) = (x + n.between(0.0, 4.0), y + n.between(0.0, 1.0));
        let spalls = CLUSTER.min(left);
        left -= spalls;
        for k in 0..spalls {
            let (x, y) = (x + k as f64 * 0.55, y + n.between(0.0, 0.2));
            let depth = ["1/4", "3/8", "1/2", "3/4"][n.below(4)];
            let _ = writeln!(
                out,
                "  - {{box: {{corner: [{x:.2}, {y:.2}], size: [4\", 3\"]}}, depth: {depth}}}"
            );
        }
    }
}

/// One side of a joint higher than the other.
fn steps_of(out: &mut String, steps: usize, joints: usize, n: &mut Numbers) {
    if steps == 0 {
        return;
    }
    out.push_str("lippage:\n");
    for k in 0..steps {
        let along = 1 + k * joints / steps;
        let high = ["left", "right"][n.below(2)];
        let _ =
            writeln!(out, "  - {{along: J{along}, high: {high}, step: 1/4\", from: 1', to: 4'}}");
    }
}

/// Moisture tests anywhere.
fn tests_of(out: &mut String, tests: usize, bays: Bays, n: &mut Numbers) {
    if tests == 0 {
        return;
    }
    out.push_str("tests:\n  moisture:\n");
    for _ in 0..tests {
        let (x, y) = (n.between(0.5, bays.side() - 0.5), n.between(0.5, bays.side() - 0.5));
        let rh = 60 + n.below(40);
        let _ = writeln!(out, "    - {{at: [{x:.2}, {y:.2}], rh: {rh}%}}");
    }
}
