//! Invented floors for the tests: an L-shaped slab with a grid of joints, and features strewn over it or in clusters.

use slabwalk::ink::PaperPoint;
use slabwalk::tags::place::{Feature, LeaderRule, Line, PaperBox, Problem, Tag};

/// A small generator of numbers that look random and are the same in every run (SplitMix64).
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Dice {
        Dice(seed.wrapping_mul(0x2545_F491_4F6C_DD1D).wrapping_add(1))
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Evenly between two values.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A whole number below a bound.
    pub fn below(&mut self, bound: usize) -> usize {
        (self.next() % bound as u64) as usize
    }

    /// Roughly normal, mean 0, deviation 1.
    fn bell(&mut self) -> f64 {
        (0..12).map(|_| self.between(0.0, 1.0)).sum::<f64>() - 6.0
    }
}

/// How features are spread.
#[derive(Clone, Copy, Debug)]
pub enum Spread {
    /// Evenly over the slab.
    Even,
    /// Around this many centres, with this deviation in mm.
    Clusters(usize, f64),
}

/// A sheet's plan zone, mm.
#[derive(Clone, Copy, Debug)]
pub struct Paper {
    pub width: f64,
    pub height: f64,
    pub zone: PaperBox,
}

/// 11 × 17 in, landscape.
pub const TABLOID: Paper =
    Paper { width: 431.8, height: 279.4, zone: PaperBox::new(20.0, 20.0, 336.0, 259.0) };

/// 22 × 34 in, landscape.
pub const ANSI_D: Paper =
    Paper { width: 863.6, height: 558.8, zone: PaperBox::new(20.0, 20.0, 768.0, 538.0) };

/// A floor and what it is made of.
pub struct Floor {
    pub paper: Paper,
    pub outline: Vec<PaperPoint>,
    pub problem: Problem,
}

fn at(x: f64, y: f64) -> PaperPoint {
    PaperPoint { x, y }
}

/// Pen widths, mm.
pub const EDGE: f64 = 0.7;
pub const CRACK: f64 = 0.35;

const TAG: (f64, f64) = (11.2, 4.4);

pub fn floor(seed: u64, count: usize, spread: Spread, paper: Paper) -> Floor {
    let mut dice = Dice::new(seed);
    let zone = paper.zone;
    let slab = zone.grown(-14.0);
    let (mx, my) = (slab.left + slab.width() * 0.62, slab.top + slab.height() * 0.55);
    let outline = vec![
        at(slab.left, slab.top),
        at(slab.right, slab.top),
        at(slab.right, my),
        at(mx, my),
        at(mx, slab.bottom),
        at(slab.left, slab.bottom),
    ];
    let mut problem = Problem { zone, joints: joints(slab, mx, my), ..Problem::default() };
    problem.lines.extend(ring_lines(&outline, EDGE));
    let centres: Vec<PaperPoint> = match spread {
        Spread::Even => Vec::new(),
        Spread::Clusters(n, _) => (0..n).map(|_| spot(&mut dice, slab, mx, my)).collect(),
    };
    for n in 0..count {
        let middle = match spread {
            Spread::Even => spot(&mut dice, slab, mx, my),
            Spread::Clusters(_, deviation) => loop {
                let c = centres[dice.below(centres.len())];
                let p = at(c.x + deviation * dice.bell(), c.y + deviation * dice.bell());
                if on_slab(p, slab, mx, my) {
                    break p;
                }
            },
        };
        add(&mut problem, &mut dice, n, count, middle, slab);
    }
    Floor { paper, outline, problem }
}

fn on_slab(p: PaperPoint, slab: PaperBox, mx: f64, my: f64) -> bool {
    slab.grown(-4.0).contains(p) && !(p.x > mx - 4.0 && p.y > my - 4.0)
}

fn spot(dice: &mut Dice, slab: PaperBox, mx: f64, my: f64) -> PaperPoint {
    loop {
        let p = at(dice.between(slab.left, slab.right), dice.between(slab.top, slab.bottom));
        if on_slab(p, slab, mx, my) {
            return p;
        }
    }
}

fn joints(slab: PaperBox, mx: f64, my: f64) -> Vec<Line> {
    const GRID: f64 = 23.8;
    let steps = |from: f64, to: f64| {
        (1..).map(move |n| from + GRID * f64::from(n)).take_while(move |v| *v < to)
    };
    let upright = steps(slab.left, slab.right).map(|x| {
        let bottom = if x < mx { slab.bottom } else { my };
        Line { from: at(x, slab.top), to: at(x, bottom), width: 0.25 }
    });
    let level = steps(slab.top, slab.bottom).map(|y| {
        let right = if y < my { slab.right } else { mx };
        Line { from: at(slab.left, y), to: at(right, y), width: 0.25 }
    });
    upright.chain(level).collect()
}

pub fn ring_lines(ring: &[PaperPoint], width: f64) -> Vec<Line> {
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).map(|(&from, &to)| Line { from, to, width }).collect()
}

fn add(
    problem: &mut Problem,
    dice: &mut Dice,
    n: usize,
    count: usize,
    middle: PaperPoint,
    slab: PaperBox,
) {
    let inside =
        |p: PaperPoint| at(p.x.clamp(slab.left, slab.right), p.y.clamp(slab.top, slab.bottom));
    let (letter, feature) = match (n * 10 / count.max(1)) % 10 {
        0..5 => {
            let points = crack(dice, middle).into_iter().map(inside).collect::<Vec<_>>();
            problem.lines.extend(points.windows(2).map(|p| Line {
                from: p[0],
                to: p[1],
                width: CRACK,
            }));
            ('C', Feature::Line(vec![points]))
        }
        5..8 => {
            let radius = dice.between(0.6, 1.8);
            problem.boxes.push(PaperBox::around(middle, 2.0 * radius, 2.0 * radius));
            ('S', Feature::Points { at: vec![middle], radius })
        }
        8 => {
            let b = PaperBox::around(middle, dice.between(6.0, 26.0), dice.between(4.0, 16.0));
            let corners =
                [(b.left, b.top), (b.right, b.top), (b.right, b.bottom), (b.left, b.bottom)];
            let ring: Vec<PaperPoint> = corners.iter().map(|&(x, y)| inside(at(x, y))).collect();
            problem.lines.extend(ring_lines(&ring, 0.25));
            ('A', Feature::Area(vec![ring]))
        }
        _ => ('L', Feature::Points { at: vec![middle], radius: 0.0 }),
    };
    let id = format!("{letter}-{}", n + 1);
    problem.tags.push(Tag { id, sizes: vec![TAG], feature, leader: LeaderRule::AtLeast(3.0) });
}

/// A bent line of three to six pieces.
fn crack(dice: &mut Dice, from: PaperPoint) -> Vec<PaperPoint> {
    let mut points = vec![from];
    let mut angle = dice.between(0.0, std::f64::consts::TAU);
    for _ in 0..3 + dice.below(4) {
        let last = points[points.len() - 1];
        angle += dice.between(-0.6, 0.6);
        let step = dice.between(1.5, 4.5);
        points.push(at(last.x + step * angle.cos(), last.y + step * angle.sin()));
    }
    points
}
