//! Floors of any size, made by rule: a warehouse of square bays with a joint segment on every bay
//! edge, and cracks, spalls, steps and tests strewn over it. Same number, same text.

use std::fmt::Write as _;

/// Side of a bay, feet: at this size 100,000 joints and cracks cover one million square feet.
const BAY: f64 = 5.0;

/// A small generator of numbers (the constants are those of Knuth's MMIX), so that a floor is the same everywhere.
struct Numbers(u64);

impl Numbers {
    /// The next number in 0..1.
    fn unit(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
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

/// A sketch with `items` joints and cracks (four joints to a crack), and one spall, step and blemish
/// for every forty of them.
pub fn sketch(items: usize) -> String {
    let joints = items * 4 / 5;
    let mut columns = 1;
    while 2 * columns * columns < joints + 2 * columns {
        columns += 1;
    }
    let side = columns as f64 * BAY;
    let mut n = Numbers(items as u64 + 1);
    let mut out = format!(
        "slabwalk: 1\njob: {{name: Warehouse of {items}}}\nslab:\n  post_tension: none\n  thickness: 6\"\n  \
         outline: [[0, 0], [{side}, 0], [{side}, {side}], [0, {side}]]\njoints:\n"
    );
    joints_of(&mut out, joints, columns, &mut n);
    cracks_of(&mut out, items - joints, side, &mut n);
    spots_of(&mut out, items / 40, joints, side, &mut n);
    out
}

/// Segments along the bays' edges, row by row, upright ones first.
fn joints_of(out: &mut String, joints: usize, columns: usize, n: &mut Numbers) {
    let mut left = joints;
    'all: for row in 0..columns {
        for column in 0..columns {
            let (x, y) = (column as f64 * BAY, row as f64 * BAY);
            for (a, b, wanted) in [
                ((x, y), (x, y + BAY), column > 0),
                ((x, y), (x + BAY, y), row > 0),
            ] {
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

/// Wandering lines of four points.
fn cracks_of(out: &mut String, cracks: usize, side: f64, n: &mut Numbers) {
    out.push_str("cracks:\n");
    for _ in 0..cracks {
        let (mut x, mut y) = (n.between(3.0, side - 12.0), n.between(3.0, side - 12.0));
        let mut path = format!("[{x:.2}, {y:.2}]");
        for _ in 0..3 {
            x += n.between(0.3, 3.0);
            y += n.between(-0.8, 1.2);
            let _ = write!(path, ", [{x:.2}, {y:.2}]");
        }
        let width = ["1/64", "1/32", "1/16", "1/8"][n.below(4)];
        let _ = writeln!(
            out,
            "  - {{path: [{path}], width: {width}, movement: dormant}}"
        );
    }
}

/// Spalls, oil spots and steps.
fn spots_of(out: &mut String, spots: usize, joints: usize, side: f64, n: &mut Numbers) {
    if spots == 0 {
        return;
    }
    out.push_str("spalls:\n");
    for _ in 0..spots {
        let (x, y) = (n.between(2.0, side - 2.0), n.between(2.0, side - 2.0));
        let _ = writeln!(
            out,
            "  - {{circle: {{center: [{x:.2}, {y:.2}], diameter: 5\"}}, depth: 3/8}}"
        );
    }
    out.push_str("blemishes:\n");
    for _ in 0..spots {
        let (x, y) = (n.between(1.0, side - 4.0), n.between(1.0, side - 4.0));
        let _ = writeln!(
            out,
            "  - {{what: oil, box: {{corner: [{x:.2}, {y:.2}], size: [2, 1.5]}}}}"
        );
    }
    out.push_str("lippage:\n");
    for k in 0..spots {
        let along = 1 + k * joints / spots;
        let _ = writeln!(
            out,
            "  - {{along: J{along}, high: left, step: 1/4\", from: 1', to: 4'}}"
        );
    }
}
