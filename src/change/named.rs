//! Whatever moves the price is in the change order: every field of every record of the demonstration
//! floors is changed, priced and compared.

use super::{Change, change};
use crate::price::build_up;
use crate::quantity::Length;
use crate::report::sample::demonstrations;
use crate::sketch::{
    At, CrackTreatment, JointKind, JointTreatment, LineForm, Movement, PathForm, ShapeForm, Site,
    Sketch, Span,
};
use crate::survey::{Survey, survey};

/// Joints and cracks that make a floor a large one here.
const LARGE: usize = 20;

/// What was changed, the item it was changed about, and the sketch after.
type Mutation = (String, Option<String>, Sketch);

fn at(inches: f64) -> At<Length> {
    At { value: Length::from_in(inches), span: Span::default() }
}

fn times(length: &mut At<Length>, factor: f64) {
    length.value = Length::from_in(length.value.inches() * factor);
}

fn shorten(path: &mut PathForm) {
    if path.vertices.len() > 2 {
        path.vertices.pop();
    }
}

/// One change of the record at this place.
type Edit<T> = (&'static str, fn(&mut T));

/// Every edit of every record of a list, and each record taken out. With `few` each record has one edit
/// of its own, so that a large floor meets all of them in a bearable time.
fn each<T: Clone>(
    sketch: &Sketch,
    list: fn(&mut Sketch) -> &mut Vec<T>,
    id: fn(&T) -> Option<String>,
    edits: &[Edit<T>],
    few: bool,
    out: &mut Vec<Mutation>,
) {
    let records = list(&mut sketch.clone()).clone();
    for (i, record) in records.iter().enumerate() {
        for (k, (what, edit)) in edits.iter().enumerate() {
            if few && (i + k) % edits.len() != 0 {
                continue;
            }
            let mut new = sketch.clone();
            if let Some(place) = list(&mut new).get_mut(i) {
                edit(place);
            }
            out.push((format!("{what} of {:?}", id(record)), id(record), new));
        }
        if !few || i % 4 == 0 {
            let mut new = sketch.clone();
            list(&mut new).remove(i);
            out.push((format!("without {:?}", id(record)), id(record), new));
        }
    }
}

fn treat<T>(treatment: &mut Option<At<T>>, value: T) {
    *treatment = Some(At { value, span: Span::default() });
}

fn joints(sketch: &Sketch, few: bool, out: &mut Vec<Mutation>) {
    use crate::sketch::Joint;
    let edits: [Edit<Joint>; 14] = [
        ("an inch wide", |j| j.width = Some(at(1.0))),
        ("an eighth wide", |j| j.width = Some(at(0.125))),
        ("5/16 wide", |j| j.width = Some(at(0.3125))),
        ("no width", |j| j.width = None),
        ("deeper", |j| j.depth = Some(at(1.5))),
        ("a strip", |j| j.strip_depth = Some(at(1.75))),
        ("wander", |j| j.wander = Some(at(0.5))),
        ("buried", |j| j.buried = !j.buried),
        ("filled", |j| treat(&mut j.treatment, JointTreatment::Fill)),
        ("honored", |j| treat(&mut j.treatment, JointTreatment::Honor)),
        ("left", |j| treat(&mut j.treatment, JointTreatment::Leave)),
        ("isolation", |j| j.kind.value = JointKind::Isolation),
        ("own chase", |j| {
            j.chase.width = Some(at(0.1875));
            j.chase.depth = Some(at(0.5));
        }),
        ("shorter", |j| match &mut j.line.value {
            LineForm::X { to, .. } | LineForm::Y { to, .. } => *to = Some(at(60.0)),
            LineForm::Path(path) => shorten(path),
        }),
    ];
    let id = |j: &Joint| Some(j.id.value.clone());
    each(sketch, |s| &mut s.joints, id, &edits, few, out);
}

fn cracks(sketch: &Sketch, few: bool, out: &mut Vec<Mutation>) {
    use crate::sketch::Crack;
    fn wider(crack: &mut Crack, factor: f64) {
        crack.widths.iter_mut().for_each(|w| times(&mut w.1, factor));
    }
    let edits: [Edit<Crack>; 9] = [
        ("twice as wide", |c| wider(c, 2.0)),
        ("a third as wide", |c| wider(c, 0.33)),
        ("ten times as wide", |c| wider(c, 10.0)),
        ("active", |c| c.movement = Movement::Active),
        ("filled", |c| treat(&mut c.treatment, CrackTreatment::Fill)),
        ("chased", |c| treat(&mut c.treatment, CrackTreatment::Chase)),
        ("honored", |c| treat(&mut c.treatment, CrackTreatment::Honor)),
        ("primed", |c| treat(&mut c.treatment, CrackTreatment::Prime)),
        ("shorter", |c| shorten(&mut c.path)),
    ];
    let id = |c: &Crack| Some(c.id.value.clone());
    each(sketch, |s| &mut s.cracks, id, &edits, few, out);
}

fn surfaces(sketch: &Sketch, few: bool, out: &mut Vec<Mutation>) {
    use crate::sketch::{Delamination, Lippage, LooseTreatment, Spall};
    fn resized(shape: &mut ShapeForm) {
        match shape {
            ShapeForm::Box { width, .. } | ShapeForm::Band { width, .. } => times(width, 0.6),
            ShapeForm::Circle { diameter, .. } => times(diameter, 0.6),
            ShapeForm::Polygon(_) => {}
        }
    }
    let spalls: [Edit<Spall>; 3] = [
        ("deeper", |s| times(&mut s.depth, 3.0)),
        ("shallower", |s| times(&mut s.depth, 0.3)),
        ("smaller", |s| resized(&mut s.shape.value)),
    ];
    let id = |s: &Spall| Some(s.id.value.clone());
    each(sketch, |s| &mut s.spalls, id, &spalls, few, out);
    let loose: [Edit<Delamination>; 5] = [
        ("deeper", |d| d.depth = Some(at(2.0))),
        ("smaller", |d| resized(&mut d.shape.value)),
        ("cut out", |d| d.treatment = LooseTreatment::CutOut),
        ("injected", |d| d.treatment = LooseTreatment::Inject),
        ("left", |d| d.treatment = LooseTreatment::Leave),
    ];
    let id = |d: &Delamination| Some(d.id.value.clone());
    each(sketch, |s| &mut s.delaminations, id, &loose, few, out);
    let steps: [Edit<Lippage>; 2] = [
        ("half as high", |l| {
            l.readings
                .iter_mut()
                .filter_map(|r| r.step.as_mut())
                .chain(l.everywhere.as_mut())
                .for_each(|step| times(step, 0.5));
        }),
        ("half as high again", |l| {
            l.readings
                .iter_mut()
                .filter_map(|r| r.step.as_mut())
                .chain(l.everywhere.as_mut())
                .for_each(|step| times(step, 1.5));
        }),
    ];
    let id = |l: &Lippage| Some(l.id.value.clone());
    each(sketch, |s| &mut s.lippage, id, &steps, few, out);
}

/// What is about no record: parts of the coating, tests, notes of the price.
fn whole(sketch: &Sketch, few: bool, out: &mut Vec<Mutation>) {
    each(sketch, |s| &mut s.coating.uncoated, |_| None, &[], few, out);
    let faces: [Edit<crate::sketch::Face>; 1] =
        [("coved", |f| f.cove = Some(crate::sketch::Cove::Usual))];
    each(sketch, |s| &mut s.coating.faces, |_| None, &faces, few, out);
    each(sketch, |s| &mut s.slab.keep_outs, |_| None, &[], few, out);
    each(sketch, |s| &mut s.blemishes, |_| None, &[], few, out);
    let edits: [Edit<Sketch>; 12] = [
        ("mitigation", |s| s.coating.mitigation = !s.coating.mitigation),
        ("system", |s| {
            if let Some(system) = &mut s.coating.system {
                system.value = "two-coat".into();
            }
        }),
        ("no system", |s| s.coating.system = None),
        ("no side to pour from", |s| s.coating.pour_from = None),
        ("no start", |s| s.coating.start = None),
        ("outdoors", |s| s.coating.site = Site::Outdoors),
        ("no slab temperature", |s| s.tests.slab_temperature = None),
        ("no forecast", |s| s.tests.forecast.clear()),
        ("no moisture tests", |s| s.tests.moisture.clear()),
        ("no hardness tests", |s| s.tests.hardness.clear()),
        ("no tax", |s| s.price.tax = Some(false)),
        ("seven trips", |s| {
            s.price.trips = Some(At { value: 7, span: Span::default() });
        }),
    ];
    for (what, edit) in edits {
        let mut new = sketch.clone();
        edit(&mut new);
        out.push((what.to_owned(), None, new));
    }
}

fn is_named(change: &Change, id: Option<&str>) -> bool {
    match id {
        Some(id) => change.items.iter().any(|item| item.id == id),
        None => !change.items.is_empty() || !change.unpriced.is_empty(),
    }
}

/// How many changes moved the price, of how many that make a floor. Of a large floor, which takes its
/// time to measure, every third change is tried.
fn checked(name: &str, old: &Survey, few: bool) -> (usize, usize) {
    let mut mutations = Vec::new();
    joints(&old.sketch, few, &mut mutations);
    cracks(&old.sketch, few, &mut mutations);
    surfaces(&old.sketch, few, &mut mutations);
    whole(&old.sketch, few, &mut mutations);
    let sold = build_up(old).expect(name).price;
    let (mut moved, mut floors) = (0, 0);
    let records = old.takeoff.joints.len() + old.takeoff.cracks.len();
    let step = if records > LARGE { 3 } else { 1 };
    for (what, id, sketch) in mutations.into_iter().step_by(step) {
        // A change that makes no floor (a joint that is none any more) has no price either.
        let Ok(new) = survey(sketch, old.shop.clone(), Vec::new()) else {
            continue;
        };
        let Ok(found) = build_up(&new) else { continue };
        floors += 1;
        if found.price == sold {
            continue;
        }
        moved += 1;
        let change =
            change(old, &new).unwrap_or_else(|faults| panic!("{name}, {what}: {faults:?}"));
        assert!(
            is_named(&change, id.as_deref()),
            "{name}, {what}: the price moves from {sold} to {}, and the change order says {:#?} {:#?}",
            found.price,
            change.items,
            change.unpriced
        );
        for item in &change.items {
            assert!(!item.words.contains("less than is printed"), "{name}, {what}: {item:?}");
        }
    }
    (moved, floors)
}

#[test]
fn whatever_moves_the_price_is_named() {
    for (name, old) in demonstrations() {
        let few = *name != "garage";
        let (moved, floors) = checked(name, old, few);
        assert!(moved > 5 && floors > moved, "{name}: {moved} of {floors}");
    }
}
