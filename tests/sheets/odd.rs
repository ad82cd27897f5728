//! Small odd floors as sketches, from fixed seeds: outlines that no room has, and more on them than they hold.

use std::f64::consts::TAU;

use super::floor::{Chance, Plan};

type Point = (f64, f64);

/// A corner of an outline in meters, with a point of the arc that leads to it where the wall is curved.
type Corner = (Point, Option<Point>);

/// Outlines; a seed has the one of its remainder.
const OUTLINES: [(&str, fn(&mut Chance) -> Vec<Corner>); 14] = [
    ("tiny", tiny),
    ("thin", thin),
    ("round", round),
    ("ell", ell),
    ("u", u),
    ("tee", tee),
    ("star", star),
    ("tilted", tilted),
    ("comb", comb),
    ("wedge", wedge),
    ("beveled", beveled),
    ("stairs", stairs),
    ("neck", neck),
    ("bay", bay),
];

/// What a floor may carry too much of; a seed has about a third of these.
const BURDENS: [(&str, fn(&mut Odd)); 17] = [
    ("pop-outs", pop_outs),
    ("merging spalls", merging_spalls),
    ("spalls on edges", spalls_on_edges),
    ("bands of spalls", bands),
    ("cracks", cracks),
    ("cracks from one point", fan),
    ("columns at walls", columns),
    ("keep-outs within keep-outs", nested),
    ("slivers", slivers),
    ("close joints", close_joints),
    ("short joints with steps", short_joints),
    ("a diamond", diamond),
    ("blemishes", blemishes),
    ("heights", heights),
    ("tests", tests),
    ("openings", openings),
    ("curbs", curbs),
];

/// Most draws of a floor that the reader turns away, as one with a crack that lies wholly off it.
const DRAWS: u64 = 40;

/// The floor of a seed with what it is called: outline and burdens.
pub fn floor(seed: u64) -> (String, Plan) {
    for draw in 0..DRAWS {
        let (name, plan) = drawn(seed, draw);
        let (sketch, found) = slabwalk::sketch::parse(&plan.text());
        let shop = slabwalk::shop::built_in();
        if sketch.is_some_and(|s| slabwalk::survey::survey(s, shop, found).is_ok()) {
            return (format!("odd floor {seed}, {name}"), plan);
        }
    }
    panic!("no draw of odd floor {seed} is a floor");
}

fn drawn(seed: u64, draw: u64) -> (String, Plan) {
    let mut chance = Chance(seed * 1009 + draw * 7919 + 11);
    let (shape, outline) = OUTLINES[seed as usize % OUTLINES.len()];
    let corners = outline(&mut chance);
    let mut odd = Odd::new(chance, corners);
    let mut name = shape.to_owned();
    for (burden, load) in BURDENS {
        if odd.chance.unit() < 0.34 {
            load(&mut odd);
            name = format!("{name}, {burden}");
        }
    }
    // Every third has tiers besides and every third hollow spots, by chances of their own, so that the others stay as they are.
    let besides: Option<(&str, fn(&mut Odd))> = match seed % 3 {
        0 => Some(("hollow spots", hollow_spots)),
        1 => Some(("tiers", tiers)),
        _ => None,
    };
    if let Some((burden, load)) = besides {
        let chance = std::mem::replace(&mut odd.chance, Chance(seed * 613 + draw * 101 + 5));
        load(&mut odd);
        odd.chance = chance;
        name = format!("{name}, {burden}");
    }
    (name, odd.plan(seed))
}

/// A floor under way.
struct Odd {
    chance: Chance,
    metric: bool,
    /// Long notes and ids.
    wordy: bool,
    corners: Vec<Corner>,
    /// Least and greatest coordinates of the corners.
    bounds: (Point, Point),
    keep_outs: Vec<String>,
    tiers: Vec<String>,
    openings: Vec<String>,
    uncoated: Vec<String>,
    faces: Vec<String>,
    tests: String,
    blocks: Vec<(&'static str, Vec<String>)>,
}

impl Odd {
    fn new(mut chance: Chance, corners: Vec<Corner>) -> Self {
        let xs = corners.iter().map(|c| c.0.0);
        let ys = corners.iter().map(|c| c.0.1);
        let least = (xs.clone().fold(f64::MAX, f64::min), ys.clone().fold(f64::MAX, f64::min));
        let most = (xs.fold(f64::MIN, f64::max), ys.fold(f64::MIN, f64::max));
        let (metric, wordy) = (chance.unit() < 0.5, chance.unit() < 0.25);
        Self {
            chance,
            metric,
            wordy,
            corners,
            bounds: (least, most),
            keep_outs: Vec::new(),
            tiers: Vec::new(),
            openings: Vec::new(),
            uncoated: Vec::new(),
            faces: Vec::new(),
            tests: String::new(),
            blocks: Vec::new(),
        }
    }

    fn length(&self, m: f64) -> String {
        if self.metric { format!("{m:.3} m") } else { format!("{:.3} ft", m / 0.3048) }
    }

    fn point(&self, (x, y): Point) -> String {
        format!("[{}, {}]", self.length(x), self.length(y))
    }

    fn path(&self, points: &[Point]) -> String {
        let points: Vec<String> = points.iter().map(|p| self.point(*p)).collect();
        format!("[{}]", points.join(", "))
    }

    fn circle(&self, at: Point, across: f64) -> String {
        let (at, across) = (self.point(at), self.length(across));
        format!("circle: {{center: {at}, diameter: {across}}}")
    }

    fn rectangle(&self, corner: Point, (w, h): Point) -> String {
        let (corner, w, h) = (self.point(corner), self.length(w), self.length(h));
        format!("box: {{corner: {corner}, size: [{w}, {h}]}}")
    }

    fn count(&mut self, least: usize, most: usize) -> usize {
        least + (self.chance.unit() * (most - least + 1) as f64) as usize
    }

    fn one<T: Copy>(&mut self, of: &[T]) -> T {
        of[(self.chance.unit() * of.len() as f64) as usize % of.len()]
    }

    /// Length and height of the box around the corners.
    fn size(&self) -> Point {
        let ((l, b), (r, t)) = self.bounds;
        (r - l, t - b)
    }

    /// A measure that is small beside the floor.
    fn small(&mut self, low: f64, high: f64) -> f64 {
        let (w, h) = self.size();
        w.min(h) * self.chance.between(low, high)
    }

    /// A point on the floor, if forty throws find one.
    fn somewhere(&mut self) -> Point {
        let ((l, b), (r, t)) = self.bounds;
        let mut p = self.corners[0].0;
        for _ in 0..40 {
            p = (self.chance.between(l, r), self.chance.between(b, t));
            if self.holds(p) {
                break;
            }
        }
        p
    }

    fn holds(&self, (x, y): Point) -> bool {
        let mut odd = false;
        for (i, (a, _)) in self.corners.iter().enumerate() {
            let b = self.corners[(i + 1) % self.corners.len()].0;
            if (a.1 > y) != (b.1 > y) && x < a.0 + (y - a.1) / (b.1 - a.1) * (b.0 - a.0) {
                odd = !odd;
            }
        }
        odd
    }

    /// A wall by its number, from 1, and its ends.
    fn wall(&mut self) -> (usize, Point, Point) {
        let n = self.count(0, self.corners.len() - 1);
        let (a, b) = (self.corners[n].0, self.corners[(n + 1) % self.corners.len()].0);
        (n + 1, a, b)
    }

    /// The next id of a kind of item.
    fn id(&self, letter: char, key: &str) -> String {
        let n = self.list(key).map_or(0, Vec::len) + 1;
        if self.wordy {
            format!("{letter}{}", 1_000_000_000 + n * 7)
        } else {
            format!("{letter}{n}")
        }
    }

    fn list(&self, key: &str) -> Option<&Vec<String>> {
        match key {
            "keep_outs" => Some(&self.keep_outs),
            "tiers" => Some(&self.tiers),
            "uncoated" => Some(&self.uncoated),
            _ => self.blocks.iter().find(|b| b.0 == key).map(|b| &b.1),
        }
    }

    /// Puts a record into a list; every third one of a wordy floor has a long note.
    fn put(&mut self, key: &'static str, record: &str) {
        let noted = self.wordy && !matches!(key, "levels") && self.chance.unit() < 0.33;
        let note = if noted {
            ", note: \"the owner says that it was like this when the building was bought, and that a plumber opened it twice since\""
        } else {
            ""
        };
        let text = format!("{record}{note}");
        match self.blocks.iter_mut().find(|b| b.0 == key) {
            Some(block) => block.1.push(text),
            None => self.blocks.push((key, vec![text])),
        }
    }

    /// A name, or on a wordy floor one that says too much.
    fn called(&self, name: &str) -> String {
        if self.wordy {
            format!("{name} along the north wall of the old cold room behind the bar")
        } else {
            name.to_owned()
        }
    }

    fn keep_out(&mut self, what: &str, shape: &str) {
        let what = self.called(what);
        let id = self.id('K', "keep_outs");
        let flush = if self.chance.unit() < 0.25 { ", flush: true" } else { "" };
        self.keep_outs.push(format!("{{id: {id}, what: {what}{flush}, {shape}}}"));
    }

    /// The sketch.
    fn plan(mut self, seed: u64) -> Plan {
        let mut outline = Vec::new();
        for (i, (p, _)) in self.corners.iter().enumerate() {
            // The arc to the first corner closes the outline, as its last entry.
            outline.push(match self.corners[i].1.filter(|_| i > 0) {
                Some(via) => format!("{{to: {}, via: {}}}", self.point(*p), self.point(via)),
                None => self.point(*p),
            });
        }
        if let (p, Some(via)) = self.corners[0] {
            outline.push(format!("{{to: {}, via: {}}}", self.point(p), self.point(via)));
        }
        let name = if self.wordy {
            format!(
                "Floor {seed} of the old creamery with its two cold rooms and the long ramp down to the yard"
            )
        } else {
            format!("Floor {seed}")
        };
        let job = if self.wordy {
            ", client: A. Sample and the heirs of B. Sample, site: \"14 Long Lane, rear building, second door behind the gate\", surveyor: M. Example, number: 26-041-B, revision: C, notes: \"Key under the mat. The dog does not bite, but keep the yard gate shut at all times; deliveries only before seven.\""
        } else {
            ""
        };
        let units = if self.metric { "metric" } else { "us" };
        let tension = self.one(&["none", "none", "stamped", "unknown"]);
        let mut head = format!(
            "slabwalk: 1\njob: {{name: {name}{job}}}\nunits: {units}\nslab:\n  thickness: 5 in\n  post_tension: {tension}\n  outline: [{}]\n",
            outline.join(", ")
        );
        let listed = |key: &str, records: &[String]| match records {
            [] => String::new(),
            _ => format!("  {key}:\n    - {}\n", records.join("\n    - ")),
        };
        head.push_str(&listed("openings", &self.openings));
        head.push_str(&listed("keep_outs", &self.keep_outs));
        head.push_str(&listed("tiers", &self.tiers));
        if self.chance.unit() < 0.8 {
            let system = self.one(&["flake", "partial-flake", "quartz", "two-coat"]);
            let from = self.one(&["N", "E", "S", "W", "1", "2"]);
            head.push_str(&format!("coating:\n  system: {system}\n  pour_from: {from}\n"));
            if self.chance.unit() < 0.5 {
                head.push_str("  start: 2026-09-25\n");
            }
            head.push_str(&listed("uncoated", &self.uncoated));
            head.push_str(&listed("faces", &self.faces));
        }
        head.push_str(&self.tests);
        let line = |text: String| format!("  - {text}\n");
        let blocks = self.blocks.into_iter();
        Plan {
            head,
            blocks: blocks
                .map(|(key, records)| {
                    let record = |text: String| match key {
                        // Each of these records is whole as it is.
                        "levels" => line(text),
                        _ => line(format!("{{{text}}}")),
                    };
                    (key, records.into_iter().map(record).collect())
                })
                .collect(),
        }
    }
}

// Outlines, meters.

fn straight(points: &[Point]) -> Vec<Corner> {
    points.iter().map(|p| (*p, None)).collect()
}

fn tiny(c: &mut Chance) -> Vec<Corner> {
    let (w, h) = (c.between(0.9, 3.0), c.between(0.9, 3.0));
    straight(&[(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)])
}

fn thin(c: &mut Chance) -> Vec<Corner> {
    let (long, wide) = (c.between(9.0, 40.0), c.between(0.5, 1.4));
    let (w, h) = if c.unit() < 0.5 { (long, wide) } else { (wide, long) };
    straight(&[(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)])
}

fn round(c: &mut Chance) -> Vec<Corner> {
    let (r, from) = (c.between(0.7, 4.0), c.between(0.0, TAU));
    let at = |quarter: f64| {
        let angle = from + quarter * TAU / 4.0;
        (r + r * angle.cos(), r + r * angle.sin())
    };
    (0..4).map(|i| (at(f64::from(i)), Some(at(f64::from(i) - 0.5)))).collect()
}

fn ell(c: &mut Chance) -> Vec<Corner> {
    let (w, h) = (c.between(1.5, 7.0), c.between(1.5, 7.0));
    let (x, y) = (w * c.between(0.1, 0.8), h * c.between(0.1, 0.8));
    straight(&[(0.0, 0.0), (w, 0.0), (w, y), (x, y), (x, h), (0.0, h)])
}

fn u(c: &mut Chance) -> Vec<Corner> {
    let (w, h) = (c.between(2.0, 8.0), c.between(2.0, 6.0));
    let (x, z) = (w * c.between(0.1, 0.4), w * c.between(0.6, 0.9));
    let y = h * c.between(0.1, 0.7);
    straight(&[(0.0, 0.0), (w, 0.0), (w, h), (z, h), (z, y), (x, y), (x, h), (0.0, h)])
}

fn tee(c: &mut Chance) -> Vec<Corner> {
    let (w, h) = (c.between(2.0, 8.0), c.between(2.0, 6.0));
    let (x, z) = (w * c.between(0.2, 0.45), w * c.between(0.55, 0.8));
    let y = h * c.between(0.3, 0.8);
    straight(&[(x, 0.0), (z, 0.0), (z, y), (w, y), (w, h), (0.0, h), (0.0, y), (x, y)])
}

fn star(c: &mut Chance) -> Vec<Corner> {
    let points = 3 + (c.unit() * 5.0) as usize;
    let (r, inner) = (c.between(1.2, 4.0), c.between(0.25, 0.6));
    let from = c.between(0.0, TAU);
    let at = |i: usize| {
        let angle = from + i as f64 * TAU / (2 * points) as f64;
        let r = if i.is_multiple_of(2) { r } else { r * inner };
        (r * angle.cos(), r * angle.sin())
    };
    let around: Vec<Point> = (0..2 * points).map(at).collect();
    straight(&around)
}

fn turned(points: &[Point], angle: f64) -> Vec<Corner> {
    let (sin, cos) = angle.sin_cos();
    let turn = |&(x, y): &Point| (x * cos - y * sin, x * sin + y * cos);
    straight(&points.iter().map(turn).collect::<Vec<_>>())
}

fn tilted(c: &mut Chance) -> Vec<Corner> {
    let (w, h) = (c.between(1.0, 12.0), c.between(1.0, 4.0));
    let angle = c.between(0.01, 1.5);
    turned(&[(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)], angle)
}

fn comb(c: &mut Chance) -> Vec<Corner> {
    let teeth = 2 + (c.unit() * 4.0) as usize;
    let (pitch, back, long) = (c.between(0.5, 1.5), c.between(0.3, 1.5), c.between(0.6, 3.0));
    let wide = pitch * c.between(0.25, 0.75);
    let mut around = vec![(0.0, 0.0), ((teeth - 1) as f64 * pitch + wide, 0.0)];
    for i in (0..teeth).rev() {
        let x = i as f64 * pitch;
        around.extend([(x + wide, back + long), (x, back + long)]);
        if i > 0 {
            around.extend([(x, back), (x - pitch + wide, back)]);
        }
    }
    straight(&around)
}

fn wedge(c: &mut Chance) -> Vec<Corner> {
    let (long, wide) = (c.between(2.0, 12.0), c.between(0.4, 3.0));
    let angle = c.between(0.0, TAU);
    turned(&[(0.0, 0.0), (long, 0.0), (long * c.between(0.1, 1.0), wide)], angle)
}

/// Corners cut off by walls of an inch or so.
fn beveled(c: &mut Chance) -> Vec<Corner> {
    let (w, h, b) = (c.between(1.0, 6.0), c.between(1.0, 6.0), c.between(0.015, 0.2));
    straight(&[
        (b, 0.0),
        (w - b, 0.0),
        (w, b),
        (w, h - b),
        (w - b, h),
        (b, h),
        (0.0, h - b),
        (0.0, b),
    ])
}

fn stairs(c: &mut Chance) -> Vec<Corner> {
    let steps = 3 + (c.unit() * 6.0) as usize;
    let (run, rise) = (c.between(0.15, 1.0), c.between(0.15, 1.0));
    let mut around = vec![(0.0, 0.0), (steps as f64 * run, 0.0)];
    for i in 0..steps {
        let x = (steps - i) as f64 * run;
        let y = (i + 1) as f64 * rise;
        around.extend([(x, y), (x - run, y)]);
    }
    straight(&around)
}

/// Two rooms and a passage.
fn neck(c: &mut Chance) -> Vec<Corner> {
    let (a, b, long) = (c.between(1.0, 4.0), c.between(1.0, 4.0), c.between(0.2, 6.0));
    let (h, wide) = (c.between(1.2, 4.0), c.between(0.2, 0.9));
    let (low, high) = (h / 2.0 - wide / 2.0, h / 2.0 + wide / 2.0);
    let w = a + long + b;
    straight(&[
        (0.0, 0.0),
        (a, 0.0),
        (a, low),
        (a + long, low),
        (a + long, 0.0),
        (w, 0.0),
        (w, h),
        (a + long, h),
        (a + long, high),
        (a, high),
        (a, h),
        (0.0, h),
    ])
}

/// A rectangle with a wall that bulges out or in.
fn bay(c: &mut Chance) -> Vec<Corner> {
    let (w, h) = (c.between(1.2, 6.0), c.between(1.2, 6.0));
    let bulge = c.between(-0.4, 0.5) * w.min(h);
    vec![
        ((0.0, 0.0), None),
        ((w, 0.0), None),
        ((w, h), Some((w + bulge, h / 2.0))),
        ((0.0, h), None),
    ]
}

// Burdens.

fn pop_outs(odd: &mut Odd) {
    for _ in 0..odd.count(4, 30) {
        let (at, across) = (odd.somewhere(), odd.small(0.01, 0.08));
        spall(odd, &odd.circle(at, across));
    }
}

fn spall(odd: &mut Odd, shape: &str) {
    let (id, depth) = (odd.id('S', "spalls"), odd.one(&["1/8", "3/8", "1"]));
    odd.put("spalls", &format!("id: {id}, {shape}, depth: {depth} in"));
}

fn merging_spalls(odd: &mut Odd) {
    let (mut x, mut y) = odd.somewhere();
    for _ in 0..odd.count(2, 7) {
        let (w, h) = (odd.small(0.05, 0.2), odd.small(0.05, 0.2));
        spall(odd, &odd.rectangle((x, y), (w, h)));
        x += w * odd.chance.between(-0.8, 0.9);
        y += h * odd.chance.between(-0.8, 0.9);
    }
}

fn spalls_on_edges(odd: &mut Odd) {
    for _ in 0..odd.count(2, 6) {
        let (_, a, b) = odd.wall();
        let f = odd.one(&[0.0, 0.2, 0.5, 0.77]);
        let at = (a.0 + (b.0 - a.0) * f, a.1 + (b.1 - a.1) * f);
        let across = odd.small(0.03, 0.2);
        spall(odd, &odd.circle(at, across));
    }
}

fn bands(odd: &mut Odd) {
    for _ in 0..odd.count(1, 4) {
        let (a, b) = (odd.somewhere(), odd.somewhere());
        let (path, width) = (odd.path(&[a, b]), odd.length(odd_width(a, b)));
        spall(odd, &format!("band: {{path: {path}, width: {width}}}"));
    }
}

/// Hollow spots of each treatment: on the floor and on its edges, one after another so that some lie over each other.
fn hollow_spots(odd: &mut Odd) {
    for _ in 0..odd.count(2, 7) {
        let (_, a, b) = odd.wall();
        let on_edge = odd.chance.unit() < 0.25;
        let (x, y) = if on_edge { ((a.0 + b.0) / 2.0, (a.1 + b.1) / 2.0) } else { odd.somewhere() };
        let (w, h) = (odd.small(0.03, 0.25), odd.small(0.03, 0.25));
        let shape = match odd.chance.unit() < 0.6 {
            true => odd.rectangle((x, y), (w, h)),
            false => odd.circle((x, y), w),
        };
        let treatment = odd.one(&["cut-out", "inject", "leave"]);
        let depth = odd.one(&["", ", depth: 3/4 in", ", depth: 2 in"]);
        let id = odd.id('D', "delaminations");
        odd.put("delaminations", &format!("id: {id}, {shape}, treatment: {treatment}{depth}"));
    }
}

/// A band of a twentieth of its length.
fn odd_width(a: Point, b: Point) -> f64 {
    ((b.0 - a.0).hypot(b.1 - a.1) / 20.0).max(0.01)
}

fn crack(odd: &mut Odd, points: &[Point]) {
    let id = odd.id('C', "cracks");
    let width = odd.one(&["1/64", "1/16", "3/16"]);
    let movement = odd.one(&["dormant", "active", "unknown"]);
    let path = odd.path(points);
    let treatment =
        odd.one(&["", "", ", treatment: chase", ", treatment: honor", ", step: 1/8 in"]);
    odd.put(
        "cracks",
        &format!("id: {id}, path: {path}, width: {width} in, movement: {movement}{treatment}"),
    );
}

fn cracks(odd: &mut Odd) {
    for _ in 0..odd.count(3, 14) {
        let mut points = vec![odd.somewhere()];
        for _ in 0..odd.count(1, 3) {
            points.push(odd.somewhere());
        }
        crack(odd, &points);
    }
}

fn fan(odd: &mut Odd) {
    let (from, _) = odd.corners[odd.corners.len() / 2];
    for _ in 0..odd.count(3, 8) {
        let to = odd.somewhere();
        crack(odd, &[from, to]);
    }
}

/// Round columns that touch a wall or stand half in it, and posts on corners.
fn columns(odd: &mut Odd) {
    for _ in 0..odd.count(1, 4) {
        let (_, a, b) = odd.wall();
        let long = (b.0 - a.0).hypot(b.1 - a.1).max(0.01);
        let (f, r) = (odd.chance.between(0.1, 0.9), odd.small(0.02, 0.08));
        let out = odd.one(&[r, r, 0.0, r + 0.004]);
        // Now and then a machine that stands mostly outside.
        let r = if odd.chance.unit() < 0.15 { 9.0 * r } else { r };
        let n = (-(b.1 - a.1) / long, (b.0 - a.0) / long);
        let at = (a.0 + (b.0 - a.0) * f + n.0 * out, a.1 + (b.1 - a.1) * f + n.1 * out);
        let shape = odd.circle(at, 2.0 * r);
        odd.keep_out("column", &shape);
    }
}

fn nested(odd: &mut Odd) {
    let (x, y) = odd.somewhere();
    let mut s = odd.small(0.1, 0.35);
    for _ in 0..odd.count(2, 4) {
        let shape = odd.rectangle((x - s / 2.0, y - s / 2.0), (s, s));
        odd.keep_out("plinth of a machine", &shape);
        s *= odd.chance.between(0.3, 0.95);
    }
}

/// A part or two at another height, past the walls or within them.
fn tiers(odd: &mut Odd) {
    for _ in 0..odd.count(1, 2) {
        let (at, w, h) = (odd.somewhere(), odd.small(0.2, 1.2), odd.small(0.2, 0.8));
        let shape =
            if odd.chance.unit() < 0.7 { odd.rectangle(at, (w, h)) } else { odd.circle(at, h) };
        let (id, what) = (odd.id('V', "tiers"), odd.called("back slab"));
        let height = odd.one(&["7 in", "-3 in", "150 mm", "24 in"]);
        let riser = odd.one(&["", ", riser: leave", ", cove: 1 in"]);
        odd.tiers.push(format!("{{id: {id}, what: {what}, height: {height}{riser}, {shape}}}"));
    }
}

/// Keep-outs and uncoated parts a finger from a wall, and a box along it.
fn slivers(odd: &mut Odd) {
    let ((l, b), (r, t)) = odd.bounds;
    let off = odd.one(&[0.005, 0.02, 0.06]);
    let wide = odd.small(0.02, 0.1);
    let shape = odd.rectangle((l + off, b + off), (wide, (t - b) * 0.6));
    odd.keep_out("wall cabinet", &shape);
    let (id, what) = (odd.id('U', "uncoated"), odd.called("sill strip"));
    let shape = odd.rectangle((l + (r - l) * 0.3, b), ((r - l) * 0.5, off.max(0.012)));
    odd.uncoated.push(format!("{{id: {id}, what: {what}, {shape}}}"));
}

fn joint(odd: &mut Odd, kind: &str, place: &str) -> String {
    let id = odd.id('J', "joints");
    let more = odd.one(&[
        "",
        ", width: 1/4 in, depth: 1 in",
        ", wander: 3/4 in",
        ", buried: true, depth: 1 in",
        ", treatment: honor",
        ", treatment: leave",
    ]);
    odd.put("joints", &format!("id: {id}, kind: {kind}, {place}{more}"));
    id
}

fn close_joints(odd: &mut Odd) {
    let ((l, b), (r, t)) = odd.bounds;
    for (axis, low, high) in [("x", l, r), ("y", b, t)] {
        let n = odd.count(0, 6);
        for i in 0..n {
            let f = (i as f64 + odd.chance.between(0.3, 0.7)) / n as f64;
            let place = format!("{axis}: {}", odd.length(low + (high - low) * f));
            let kind = odd.one(&["control", "construction", "isolation"]);
            joint(odd, kind, &place);
        }
    }
}

fn short_joints(odd: &mut Odd) {
    for _ in 0..odd.count(1, 5) {
        let from = odd.somewhere();
        let (long, angle) = (odd.small(0.1, 0.6), odd.chance.between(0.0, TAU));
        let to = (from.0 + long * angle.cos(), from.1 + long * angle.sin());
        let path = odd.path(&[from, to]);
        let along = joint(odd, "control", &format!("path: {path}"));
        let id = odd.id('L', "lippage");
        let high = odd.one(&["left", "right"]);
        let readings: Vec<String> = (0..odd.count(2, 9))
            .map(|i| {
                let step = odd.one(&["0", "1/16 in", "1/4 in", "3/8 in", "null"]);
                format!("[{}, {step}]", odd.length(long * 0.1 * i as f64))
            })
            .collect();
        odd.put(
            "lippage",
            &format!("id: {id}, along: {along}, high: {high}, readings: [{}]", readings.join(", ")),
        );
    }
}

fn diamond(odd: &mut Odd) {
    let ((x, y), r) = (odd.somewhere(), odd.small(0.08, 0.25));
    let path = odd.path(&[(x + r, y), (x, y + r), (x - r, y), (x, y - r), (x + r, y)]);
    joint(odd, "isolation", &format!("path: {path}"));
    let shape = odd.circle((x, y), r);
    odd.keep_out("column", &shape);
}

fn blemishes(odd: &mut Odd) {
    for _ in 0..odd.count(1, 6) {
        let ((x, y), w, h) = (odd.somewhere(), odd.small(0.05, 1.2), odd.small(0.05, 0.8));
        let what = odd.one(&[
            "oil",
            "sealer",
            "paint",
            "adhesive",
            "scaling",
            "efflorescence",
            "curing-compound",
        ]);
        let shape = match odd.count(0, 2) {
            0 => odd.circle((x, y), w.min(h)),
            1 => odd.rectangle((x - w / 2.0, y - h / 2.0), (w, h)),
            _ => {
                let (path, width) = (odd.path(&[(x, y), (x + w, y + h)]), odd.length(h / 5.0));
                format!("band: {{path: {path}, width: {width}}}")
            }
        };
        let id = odd.id('B', "blemishes");
        odd.put("blemishes", &format!("id: {id}, what: {what}, {shape}"));
    }
}

fn heights(odd: &mut Odd) {
    for _ in 0..odd.count(3, 25) {
        let at = odd.somewhere();
        let height = odd.one(&["0", "1/8 in", "-1/4 in", "-3/4 in", "1 1/2 in"]);
        let (x, y) = (odd.length(at.0), odd.length(at.1));
        odd.put("levels", &format!("[{x}, {y}, {height}]"));
    }
    if odd.chance.unit() < 0.4 {
        let (from, to) = (odd.somewhere(), odd.somewhere());
        let (from, to) = (odd.point(from), odd.point(to));
        let heights = r#"0, 0.03", 0.05", 0.04", 0.06", 0.05", 0.02", 0.03", 0.05", 0.08", 0.06", 0.04", 0.05""#;
        odd.put("levels", &format!("{{from: {from}, to: {to}, heights: [{heights}]}}"));
    }
}

fn tests(odd: &mut Odd) {
    let mut moisture = Vec::new();
    for i in 0..odd.count(1, 5) {
        let at = odd.somewhere();
        let value = odd.one(&["rh: 72%", "rh: 91%", "mver: 2.5"]);
        moisture.push(format!("{{id: M{}, at: {}, {value}}}", i + 1, odd.point(at)));
    }
    let mut hardness = Vec::new();
    for _ in 0..odd.count(0, 3) {
        let at = odd.somewhere();
        hardness.push(format!("{{at: {}, mohs: 5}}", odd.point(at)));
    }
    odd.tests = format!(
        "tests:\n  moisture: [{}]\n  hardness: [{}]\n  air: {{temperature: 71 F, humidity: 48%}}\n  slab_temperature: 66 F\n",
        moisture.join(", "),
        hardness.join(", ")
    );
}

fn openings(odd: &mut Odd) {
    for i in 0..odd.count(1, 3) {
        let (wall, a, b) = odd.wall();
        let long = (b.0 - a.0).hypot(b.1 - a.1);
        let (from, to) = odd.one(&[(0.0, 1.0), (0.1, 0.5), (0.5, 0.9), (0.45, 0.55)]);
        let name = odd.called(&format!("door {i}"));
        odd.openings.push(format!(
            "{{name: {name}, wall: {wall}, from: {}, to: {}}}",
            odd.length(long * from),
            odd.length(long * to * 0.999)
        ));
    }
}

fn curbs(odd: &mut Odd) {
    for i in 0..odd.count(1, 4) {
        let (n, a, b) = odd.wall();
        let c = odd.corners[(n + 1) % odd.corners.len()].0;
        let points = if odd.chance.unit() < 0.5 { vec![a, b] } else { vec![a, b, c] };
        let what = odd.one(&["curb", "cove", "upstand at the drain"]);
        let what = odd.called(what);
        odd.faces.push(format!("{{name: {what} {i}, path: {}, height: 4 in}}", odd.path(&points)));
    }
}
