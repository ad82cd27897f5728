//! The crew map: black and white, everything located with a tape.

use kurbo::Rect;

use crate::diagnostic::Diagnostic;
use crate::ink::{Group, Sheet};
use crate::quantity::write;

use super::cautions;
use super::draw;
use super::flow::{self, Column, Content, Cursor, Notes};
use super::frame::{self, Titles};
use super::legend::{Legend, Symbol};
use super::mm::{Box2, at};
use super::page::{self, Ground};
use super::paper::{Paper, Size};
use super::plan::{self, Plan};
use super::scale::Scale;
use super::schedule;
use super::style;
use super::tags;
use super::view::View;
use super::{Inputs, Options, tape, words};

/// Room around the slab for dimensions and tags, mm.
const AROUND: f64 = 27.0;
/// Room below the plan for scale bar and direction mark, mm.
const FOOT: f64 = 16.0;
/// Narrowest strip beside the plan, mm.
const STRIP: f64 = 92.0;
/// Widest column of text, mm.
const WIDEST: f64 = 124.0;
/// Most sheets of one drawing; a floor with more would be a mistake.
const MOST_SHEETS: usize = 60;
/// Air between the border and what stands in it, mm.
const PADDING: f64 = 4.0;

/// How a sheet is divided.
#[derive(Clone, Debug)]
struct Layout {
    paper: Paper,
    scale: Scale,
    border: Box2,
    plan: Box2,
    columns: Vec<Column>,
    title: Box2,
}

/// Draws the sheets.
///
/// # Errors
///
/// One diagnostic if no standard scale fits.
pub fn compose(inputs: &Inputs, options: &Options) -> Result<Vec<Sheet>, Vec<Diagnostic>> {
    let layout = layout(inputs, options)?;
    let view = View::centered(
        layout.scale,
        inputs.slab.outline.path.bounds(),
        plan_center(&layout),
    );
    let mut plan = plan::draw(inputs, &view, &layout.plan);
    plan.used.insert(Symbol::Running);
    let placement = tags::solve(&mut plan.tags, &plan.clear, &plan.solids);
    let (leaders, tags) = tags::draw(&plan.tags, std::mem::take(&mut plan.fixed), &placement);
    let left_out: Vec<String> = placement.unplaced.iter().map(|u| u.id.clone()).collect();
    let contents = contents(inputs, &plan, &left_out);
    let mut columns = layout.columns.clone();
    let first = first_contents(inputs, &plan);
    let mut at_first = Cursor::default();
    columns.reverse();
    let mut strip = flow::fill(&first, &mut at_first, &mut columns);
    columns.reverse();
    let mut cursor = Cursor::default();
    if at_first.content >= first.len() {
        strip.extend(flow::fill(&contents, &mut cursor, &mut columns));
    }
    let mut drawn = vec![(plan.groups, leaders, tags, strip)];
    while (at_first.content < first.len() || cursor.content < contents.len())
        && drawn.len() < MOST_SHEETS
    {
        let mut columns = schedule_columns(&layout);
        let mut strip = flow::fill(&first, &mut at_first, &mut columns);
        strip.extend(flow::fill(&contents, &mut cursor, &mut columns));
        drawn.push((Vec::new(), Group::default(), Group::default(), strip));
    }
    let ground = Ground::new(layout.paper);
    let pages = page::all(inputs, &ground);
    let maps = drawn.len();
    let n = maps + pages.len();
    let finish =
        |(i, (groups, leaders, tags, strip)): (usize, (Vec<Group>, Group, Group, Vec<Group>))| {
            finish(inputs, &layout, (i, n), groups, leaders, tags, strip)
        };
    let mut sheets: Vec<Sheet> = drawn.into_iter().enumerate().map(finish).collect();
    let further = pages.into_iter().enumerate();
    sheets.extend(further.map(|(i, p)| p.finish(inputs, &ground, (maps + i, n))));
    Ok(sheets)
}

fn plan_center(layout: &Layout) -> crate::ink::PaperPoint {
    let p = &layout.plan;
    at(p.center().x, (p.top + p.bottom - FOOT) / 2.0)
}

/// The first paper on which a readable scale fits, or the paper and scale asked for.
fn layout(inputs: &Inputs, options: &Options) -> Result<Layout, Vec<Diagnostic>> {
    let units = inputs.slab.units;
    let floor = inputs.slab.outline.path.bounds();
    let papers = options.paper.map_or_else(
        || {
            vec![
                Paper::landscape(Size::Tabloid),
                Paper::landscape(Size::AnsiD),
            ]
        },
        |p| vec![p],
    );
    let scales = options
        .scale
        .map_or_else(|| Scale::standard(units), |s| vec![s]);
    for (i, &paper) in papers.iter().enumerate() {
        let last = i + 1 == papers.len();
        let fits = scales
            .iter()
            .find(|s| (last || s.is_readable(units)) && room(paper, **s, floor));
        if let Some(&scale) = fits {
            return Ok(divide(paper, scale, floor));
        }
    }
    Err(vec![too_small(&papers, options.scale, units)])
}

fn too_small(papers: &[Paper], scale: Option<Scale>, units: crate::quantity::Units) -> Diagnostic {
    let names: Vec<&str> = papers.iter().map(|p| p.size.words()).collect();
    let at = scale.map_or("any standard scale".to_owned(), |s| s.text(units));
    Diagnostic::error(
        "paper-too-small",
        format!("the floor does not fit on {} at {at}", names.join(" or ")),
    )
    .hint("choose larger paper or a smaller scale, or leave both to the program")
}

fn border(paper: Paper) -> Box2 {
    let m = style::MARGIN;
    Box2::new(m, m, paper.width() - m, paper.height() - m)
}

fn needed(scale: Scale, floor: Rect) -> (f64, f64) {
    let k = scale.mm_per_m();
    (
        floor.width() * k + 2.0 * AROUND,
        floor.height() * k + 2.0 * AROUND + FOOT,
    )
}

fn room(paper: Paper, scale: Scale, floor: Rect) -> bool {
    let b = border(paper);
    let (w, h) = needed(scale, floor);
    w <= b.width() - STRIP && h <= b.height()
}

fn divide(paper: Paper, scale: Scale, floor: Rect) -> Layout {
    let border = border(paper);
    let (w, _) = needed(scale, floor);
    let spare = border.width() - w;
    let n = if spare >= 2.0 * STRIP { 2.0 } else { 1.0 };
    let column = (spare / n).clamp(STRIP, WIDEST);
    let left = border.right - n * column;
    let plan = Box2::new(border.left, border.top, left, border.bottom);
    let title = Box2::new(
        border.right - column,
        border.bottom - frame::TITLE_HEIGHT,
        border.right,
        border.bottom,
    );
    let mut columns = Vec::new();
    let mut x = left;
    while x < border.right - 1.0 {
        let last = x + 1.5 * column > border.right;
        let bottom = if last { title.top } else { border.bottom };
        columns.push(Column::new(Box2::new(
            x + PADDING,
            border.top + PADDING,
            x + column - PADDING,
            bottom - PADDING,
        )));
        x += column;
    }
    Layout {
        paper,
        scale,
        border,
        plan,
        columns,
        title,
    }
}

/// Columns of a sheet of schedules.
fn schedule_columns(layout: &Layout) -> Vec<Column> {
    let b = &layout.border;
    let n = (b.width() / 132.0).floor().max(1.0);
    let column = b.width() / n;
    let mut out = Vec::new();
    let mut i = 0.0;
    while i < n {
        let left = b.left + i * column;
        let over_title = left + column > layout.title.left + 0.1;
        let bottom = if over_title {
            layout.title.top
        } else {
            b.bottom
        };
        out.push(Column::new(Box2::new(
            left + PADDING,
            b.top + PADDING,
            left + column - PADDING,
            bottom - PADDING,
        )));
        i += 1.0;
    }
    out
}

/// What has to stand beside the plan: stops, cautions, legend.
fn first_contents(inputs: &Inputs, plan: &Plan) -> Vec<Box<dyn Content>> {
    let mut out: Vec<Box<dyn Content>> = Vec::new();
    if let Some(stops) = cautions::stops(inputs) {
        out.push(Box::new(stops));
    }
    out.push(Box::new(Legend {
        used: plan.used.clone(),
        units: inputs.slab.units,
    }));
    if let Some(cautions) = cautions::cautions(inputs) {
        out.push(Box::new(cautions));
    }
    out
}

/// What stands beside the plan where there is room, and on following sheets.
fn contents(inputs: &Inputs, plan: &Plan, left_out: &[String]) -> Vec<Box<dyn Content>> {
    let tables = schedule::tables(inputs).into_iter();
    let mut out: Vec<Box<dyn Content>> = Vec::new();
    out.extend(tables.map(|t| Box::new(t) as Box<dyn Content>));
    out.push(Box::new(notes(inputs, plan, left_out)));
    out
}

fn notes(inputs: &Inputs, plan: &Plan, left_out: &[String]) -> Notes {
    let (units, a) = (inputs.slab.units, &inputs.takeoff.area);
    let areas = format!(
        "Coated floor {}, faces {}, ground by hand along edges {}, edge {}, termination {}.",
        write::area(a.net_m2, units),
        write::area(a.faces_m2, units),
        write::area(a.hand_edge_m2, units),
        write::run(inputs.takeoff.edge_m, units),
        write::run(inputs.takeoff.termination_m, units)
    );
    let mut paragraphs = vec![(String::new(), areas)];
    if let Some(notes) = &inputs.job.notes {
        paragraphs.push((
            String::new(),
            format!("From the survey: {}", words::clean(notes)),
        ));
    }
    let rounding = std::iter::once(tape::rounding_note(units).to_owned());
    let remarks: Vec<String> = rounding.chain(plan.remarks.iter().cloned()).collect();
    paragraphs.push((String::new(), remarks.join(" ")));
    if !left_out.is_empty() {
        paragraphs.push(("No room for their tags".into(), left_out.join(", ")));
    }
    Notes {
        title: "NOTES".into(),
        paragraphs,
        framed: false,
    }
}

fn finish(
    inputs: &Inputs,
    layout: &Layout,
    (i, n): (usize, usize),
    groups: Vec<Group>,
    leaders: Group,
    tags: Group,
    strip: Vec<Group>,
) -> Sheet {
    let units = inputs.slab.units;
    let is_map = i == 0;
    let b = &layout.border;
    let titles = Titles {
        title: if is_map { "REPAIR MAP" } else { "SCHEDULES" },
        reader: "FOR THE CREW",
        number: format!("S-{}", 101 + i),
        of: (i + 1, n),
        scale: is_map.then_some(layout.scale),
    };
    let mut all = groups;
    let mut frame_marks = vec![
        frame::border(b),
        frame::title_block(inputs, &titles, &layout.title),
        frame::origin(inputs, layout.paper, b),
    ];
    frame_marks.push(draw::group(
        "",
        "frame",
        vec![draw::line(
            at(layout.title.left, layout.title.top),
            at(layout.title.left, b.bottom),
            style::OUTLINE,
        )],
    ));
    if is_map {
        let p = &layout.plan;
        frame_marks.push(draw::group(
            "",
            "frame",
            vec![draw::line(
                at(p.right, b.top),
                at(p.right, b.bottom),
                style::RULE,
            )],
        ));
        frame_marks.push(frame::scale_bar(
            layout.scale,
            units,
            at(p.left + 8.0, b.bottom - 5.0),
        ));
        frame_marks.push(frame::direction_mark(at(p.right - 46.0, b.bottom - 5.0)));
        all.push(leaders);
        all.push(tags);
    }
    all.extend(strip);
    all.extend(frame_marks);
    let suffix = if is_map {
        String::new()
    } else {
        format!("-{}", i + 1)
    };
    let name = words::clean(&inputs.job.name);
    Sheet {
        name: format!("crew-map{suffix}"),
        title: format!("{} {} for the crew, {name}", titles.number, titles.title),
        description: format!(
            "Scale {}. Net area {}, {}, {}, {}. The tables carry the same data as text.",
            layout.scale.text(units),
            write::area(inputs.takeoff.area.net_m2, units),
            words::counted(inputs.slab.joints.len(), "joint", "joints"),
            words::counted(inputs.slab.cracks.len(), "crack", "cracks"),
            words::counted(inputs.takeoff.patches.len(), "patch", "patches")
        ),
        width: layout.paper.width(),
        height: layout.paper.height(),
        groups: all,
    }
}
