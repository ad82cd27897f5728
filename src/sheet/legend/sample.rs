//! Samples of the symbols, as the plan draws them.

use crate::ink::{Mark, WHITE};
use crate::sketch::JointKind;

use super::Symbol;
use crate::paper::dash;
use crate::paper::draw;
use crate::paper::hatch;
use crate::paper::label::Label;
use crate::paper::mm::{Box2, at, by};
use crate::paper::style;
use crate::sheet::plan::{
    ARROW, cartridge_mark, hardness_mark, height_mark, hollow_marks, joint_line, locating_mark,
    low_mark, moisture_mark, order_mark, pour_line, row_marks, wanted_mark,
};

impl Symbol {
    /// Draws it in a box.
    pub(super) fn sample(self, area: &Box2) -> Vec<Mark> {
        let m = area.center();
        let level = [at(area.left, m.y), at(area.right, m.y)];
        match self {
            Self::Corner => {
                let label = Label::level(m, "1", style::body());
                vec![draw::circle(m, 2.2, Some(style::FINE), None), Mark::Text(label.mark)]
            }
            Self::Running => {
                let s = by(1.0, -1.0).unit() * (style::STROKE_LENGTH / 2.0);
                let end = level[1] + by(-1.0, 0.0);
                vec![
                    draw::line(level[0] + by(1.0, 0.0), end, style::FINE),
                    draw::circle(
                        level[0] + by(1.0, 0.0),
                        0.9,
                        Some(style::DIMENSION_STROKE),
                        Some(WHITE),
                    ),
                    draw::line(end + (-s), end + s, style::DIMENSION_STROKE),
                ]
            }
            Self::Opening => {
                let jamb = by(0.0, 1.3);
                let mut marks = vec![draw::lines(&dash::cut(&level, dash::OPENING), style::OBJECT)];
                marks.extend(level.map(|p| draw::line(p + (-jamb), p + jamb, style::OUTLINE)));
                marks
            }
            Self::KeepOut => vec![draw::rectangle(
                &area.grown(-0.3),
                Some(style::OBJECT),
                Some(style::OBJECT_FILL),
            )],
            Self::Flush => {
                let r = area.height() / 2.0 - 0.2;
                vec![
                    draw::circle(m, r, Some(style::OBJECT), None),
                    draw::line(m + by(-r, 0.0), m + by(r, 0.0), style::FINE),
                    draw::line(m + by(0.0, -r), m + by(0.0, r), style::FINE),
                ]
            }
            Self::Panel => {
                let oval = Box2::around(m, 9.0, area.height());
                let label = Label::level(m, "P1", style::strong());
                vec![
                    draw::rounded(&oval, 4.5, 4.5, Some(style::FINE), None),
                    Mark::Text(label.mark),
                ]
            }
            Self::Control => vec![joint_line(&level, JointKind::Control)],
            Self::Construction => vec![joint_line(&level, JointKind::Construction)],
            Self::Isolation => vec![joint_line(&level, JointKind::Isolation)],
            Self::HandCut => vec![
                joint_line(&level, JointKind::Control),
                draw::line(at(area.right - 2.5, m.y), at(area.right, m.y), style::HAND_CUT),
            ],
            Self::Crack(class) => vec![crack_sample(area, class)],
            _ => self.area_sample(area),
        }
    }

    fn area_sample(self, area: &Box2) -> Vec<Mark> {
        let m = area.center();
        let box_ = area.grown(-0.3);
        let ring = [box_.corners().to_vec()];
        let mut closed = ring[0].clone();
        closed.push(ring[0][0]);
        match self {
            Self::Uncoated => vec![
                draw::lines(&hatch::lines(&ring, 135.0, style::UNCOATED_SPACING), style::HATCH),
                draw::lines(&dash::cut(&closed, dash::OPENING), style::OBJECT),
            ],
            Self::Spall => vec![draw::circle(m, 1.8, Some(style::FINE), Some(style::SPALL_FILL))],
            Self::Patch => vec![
                draw::lines(&hatch::lines(&ring, 45.0, style::PATCH_SPACING), style::HATCH),
                draw::lines(&dash::cut(&closed, dash::REMOVAL), style::REMOVAL),
            ],
            Self::Hollow => hollow_marks(&ring, &ring),
            Self::Blemish => vec![
                draw::lines(&hatch::dashes(&ring, style::BLEMISH_SPACING, 1.6, 2.6), style::HATCH),
                draw::lines(&dash::cut(&closed, dash::BLEMISH), style::OBJECT),
            ],
            Self::HandEdge => vec![draw::rectangle(&box_, None, Some(style::HAND_EDGE_FILL))],
            Self::HandGrind => band_sample(area),
            Self::Step => {
                let ticks =
                    [area.left, m.x, area.right].map(|x| vec![at(x, m.y + 1.0), at(x, m.y - 1.0)]);
                let joint = [at(area.left, m.y + 1.0), at(area.right, m.y + 1.0)];
                vec![joint_line(&joint, JointKind::Control), draw::lines(&ticks, style::OBJECT)]
            }
            Self::Locating => {
                let (foot, to) = (at(m.x, area.bottom), at(m.x, area.top));
                let mut marks = locating_mark(foot, to);
                let wall = [at(area.left, area.bottom), at(area.right, area.bottom)];
                marks.push(draw::line(wall[0], wall[1], style::OUTLINE));
                marks
            }
            Self::Row => {
                let points =
                    [0.1, 0.3, 0.5, 0.7, 0.9].map(|s| at(area.left + s * area.width(), m.y));
                row_marks(&points)
            }
            Self::Low => {
                let mut marks = height_mark(m);
                marks.push(low_mark(m));
                marks
            }
            Self::Face => {
                let ticks = [0.1, 0.3, 0.5, 0.7, 0.9].map(|s| {
                    let x = area.left + s * area.width();
                    vec![at(x, m.y + 0.6), at(x, m.y - 0.7)]
                });
                vec![
                    draw::line(at(area.left, m.y + 0.6), at(area.right, m.y + 0.6), style::OUTLINE),
                    draw::lines(&ticks, style::OBJECT),
                ]
            }
            Self::Riser => vec![draw::line(at(area.left, m.y), at(area.right, m.y), style::RISER)],
            Self::Moisture => moisture_mark(m),
            Self::Wanted => wanted_mark(m),
            Self::Pour => vec![pour_line(&[at(area.left, m.y), at(area.right, m.y)])],
            Self::FillOrder => order_mark(m + by(-3.2, 0.0), by(1.0, 0.0), 1, ARROW),
            Self::Cartridge => vec![
                joint_line(&[at(area.left, m.y), at(area.right, m.y)], JointKind::Control),
                cartridge_mark(m, by(1.0, 0.0)),
            ],
            Self::Hardness => hardness_mark(m),
            _ => height_mark(m),
        }
    }
}

fn crack_sample(area: &Box2, class: usize) -> Mark {
    let m = area.center();
    let w = area.width();
    let points = [(-0.5, 0.3), (-0.25, -0.6), (-0.05, 0.5), (0.2, -0.4), (0.5, 0.5)]
        .map(|(x, y)| m + by(x * w, y * 1.6));
    draw::lines(&[points.to_vec()], style::CRACK[class.min(style::CRACK.len() - 1)])
}

fn band_sample(area: &Box2) -> Vec<Mark> {
    let (top, bottom) = (area.top + 2.0, area.bottom);
    let band = Box2::new(area.left, top, area.right, bottom);
    let combs = (1..12).map(|i| {
        let x = area.left + area.width() * f64::from(i) / 12.0;
        vec![at(x, top), at(x, bottom)]
    });
    let ticks = [area.left, area.right].map(|x| vec![at(x, bottom), at(x, area.top)]);
    vec![
        draw::lines(&combs.collect::<Vec<_>>(), style::HATCH),
        draw::rectangle(&band, Some(style::FINE), None),
        draw::lines(&ticks, style::REMOVAL),
    ]
}
