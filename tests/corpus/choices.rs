//! Choices out of bytes, and the places and shapes that are made of them.

use super::checks::quoted;

/// Choices out of bytes; zeros when they are used up.
pub struct Bytes<'a> {
    pub left: std::slice::Iter<'a, u8>,
    /// Whether lengths may be beyond belief, or none.
    pub wild: bool,
    /// The slab's least side, ft: places are mostly on it.
    pub side: u8,
    /// How many joints there will be, and corners of the outline.
    pub joints: usize,
    pub corners: usize,
}

impl Bytes<'_> {
    pub fn byte(&mut self) -> u8 {
        self.left.next().copied().unwrap_or(0)
    }

    pub fn pick<'t, T>(&mut self, of: &'t [T]) -> &'t T {
        &of[usize::from(self.byte()) % of.len()]
    }

    pub fn below(&mut self, bound: u8) -> usize {
        usize::from(self.byte() % bound)
    }

    /// True about once in `n` times.
    pub fn once_in(&mut self, n: u8) -> bool {
        self.byte() % n == 1
    }

    /// A place on the plan: mostly on a grid of feet, so that things meet; now and then anything.
    pub fn place(&mut self) -> String {
        let (kind, n) = (self.byte() % 16, self.byte());
        let feet = 1 + n % (self.side - 1);
        match kind {
            0 => format!("{feet}' {}\"", self.byte() % 12),
            1 => format!("{feet}.{:02}'", self.byte() % 100),
            2 if self.wild => format!("-{}'", n % 8),
            3 => format!("{feet}' {}/64\"", self.byte() % 64),
            4 => format!("{} mm", u32::from(feet) * 256 + u32::from(self.byte())),
            5 if self.wild => (*self.pick(&EXTREMES)).to_owned(),
            6 => format!("{feet}.{:09}'", self.byte()),
            7 if self.wild => format!("{n}'"),
            _ => format!("{feet}'"),
        }
    }

    /// A small length.
    pub fn small(&mut self) -> String {
        match self.byte() % 8 {
            0 if self.wild => (*self.pick(&EXTREMES)).to_owned(),
            1 if self.wild => "0".into(),
            2 => format!("{} mm", 1 + self.byte() % 200),
            3 => format!("0.00{}\"", 1 + self.byte() % 9),
            _ => format!("{}/16\"", 1 + self.byte() % 33),
        }
    }

    /// A number of a corner or wall.
    pub fn corner(&mut self) -> usize {
        let beyond = if self.wild { 3 } else { 0 };
        1 + usize::from(self.byte()) % (self.corners + beyond)
    }

    /// Two different corners.
    pub fn corners(&mut self) -> (usize, usize) {
        let (one, other) = (self.corner(), self.corner());
        if one == other && !self.wild {
            return (one, one % self.corners + 1);
        }
        (one, other)
    }

    pub fn joint(&mut self) -> String {
        let beyond = if self.wild { 3 } else { 0 };
        format!("J{}", 1 + usize::from(self.byte()) % (self.joints + beyond))
    }

    /// Whether a joint can be named.
    pub fn has_joints(&self) -> bool {
        self.joints > 0 || self.wild
    }

    /// `from` and `to`, mostly in order.
    pub fn stretch(&mut self) -> String {
        if self.wild {
            return format!("from: {}, to: {}", self.place(), self.place());
        }
        let from = self.byte() % 4;
        let to = self.byte() % 4;
        format!("from: {from}', to: {}' {to}\"", from + 1 + to)
    }

    pub fn name(&mut self) -> String {
        quoted(self.pick::<&str>(&NAMES))
    }
}

/// Lengths at the edges of what can be written or believed.
const EXTREMES: [&str; 18] = [
    "0",
    "-0",
    "1e308",
    "1e-320",
    "nan",
    "inf",
    "0x10",
    "1_000",
    "5280'",
    "5281'",
    "1/1000000\"",
    "0.000000001 mm",
    "99999999999999999999999999999999999999999",
    "1/0",
    "-1/4\"",
    "12\"",
    "0.003125 mm",
    "",
];

const NAMES: [&str; 12] = [
    "J1",
    "a b",
    "<script>",
    "]]>",
    "\u{202E}x",
    "\u{1b}[2J",
    "=1+1",
    "../../x",
    "",
    "\u{1F9F1}\u{0301}",
    "x\ny",
    "wwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwww",
];

pub fn point(b: &mut Bytes) -> String {
    match b.byte() % 12 {
        0 => {
            let along = if b.wild { b.place() } else { format!("{}'", b.byte() % 3) };
            format!("{{wall: {}, along: {along}, out: {}}}", b.corner(), b.place())
        }
        1 if b.has_joints() => format!("{{line: {}, at: {}\"}}", b.joint(), b.byte() % 40),
        2 if b.once_in(4) => {
            let ((one, other), side) = (b.corners(), *b.pick(&["left", "right"]));
            format!("{{ties: [[{one}, {}], [{other}, {}]], side: {side}}}", b.place(), b.place())
        }
        _ => format!("[{}, {}]", b.place(), b.place()),
    }
}

/// Points that are no path crossing itself, mostly.
fn ring(b: &mut Bytes) -> String {
    if b.wild {
        return path(b, 3, point);
    }
    let (x, y) = (b.byte() % b.side, b.byte() % b.side);
    let (w, h, u, v) = (2 + b.byte() % 6, 2 + b.byte() % 6, b.byte() % 11, b.byte() % 11);
    let corner = |dx: u8, dy: u8| format!("[{}', {}']", x + dx, y + dy);
    let notch = format!("[{x}' {}\", {}']", 1 + u, y + h);
    let inner = format!("[{x}' {}\", {y}' {}\"]", 1 + u, 1 + v);
    let last = format!("[{x}', {y}' {}\"]", 1 + v);
    format!("[{}, {}, {}, {notch}, {inner}, {last}]", corner(0, 0), corner(w, 0), corner(w, h))
}

/// A point of the outline can be coordinates alone, or it may be tied.
fn coordinates(b: &mut Bytes) -> String {
    format!("[{}, {}]", b.place(), b.place())
}

pub fn path(b: &mut Bytes, least: usize, point: fn(&mut Bytes) -> String) -> String {
    let count = least + b.below(5);
    let mut points = vec![point(b)];
    while points.len() < count {
        let next = if b.once_in(6) {
            format!("{{to: {}, via: {}}}", point(b), point(b))
        } else {
            point(b)
        };
        points.push(next);
    }
    format!("[{}]", points.join(", "))
}

pub fn outline(b: &mut Bytes) -> String {
    let (w, h) = (8 + b.byte() % 60, 8 + b.byte() % 60);
    b.side = w.min(h);
    let (u, v) = (1 + b.byte() % 7, 1 + b.byte() % 7);
    let (corners, text) = match b.byte() % 8 {
        0 if b.wild => (4, path(b, 3, coordinates)),
        1 => (
            6,
            format!(
                "{{walk: [E {w}', N {h}' {}\", W {v}', N 2', W {}', S {}']}}",
                u % 3,
                w - v,
                h + 2
            ),
        ),
        2 => (4, format!("{{walk: [E {w}', N{}E {h}', W {w}', close]}}", b.byte() % 80)),
        3 => {
            (6, format!("[[0, 0], [{w}', 0], [{w}', {h}'], [{u}', {h}'], [{u}', {v}'], [0, {v}']]"))
        }
        4 => (
            4,
            format!(
                "[[0, 0], [{w}', 0], {{to: [{w}', {h}'], via: [{}', {}']}}, [0, {h}']]",
                u16::from(w) + u16::from(u),
                h / 2
            ),
        ),
        5 => (3, format!("[[0, 0], [{w}', 0], {{to: [0, {h}'], via: [{v}', {}']}}]", h / 3 + 1)),
        _ => (4, format!("[[0, 0], [{w}', 0], [{w}', {h}'], [0, {h}']]")),
    };
    b.corners = corners;
    text
}

pub fn shape(b: &mut Bytes) -> String {
    match b.byte() % 6 {
        0 => format!("circle: {{center: {}, diameter: {}}}", point(b), b.place()),
        1 => format!("polygon: {}", ring(b)),
        2 => format!("band: {{path: {}, width: {}}}", path(b, 2, point), b.small()),
        3 => format!("circle: {{center: {}, diameter: {}}}", point(b), b.small()),
        _ => format!("box: {{corner: {}, size: [{}, {}]}}", point(b), b.place(), b.place()),
    }
}
