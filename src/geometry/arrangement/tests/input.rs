//! Input that can not be used.

use super::*;
use crate::geometry::lattice::LIMIT;

#[test]
fn unusable_input_is_refused() {
    let good = rect(Role::Outline, 0.0, 0.0, 1.0, 1.0);
    let with = |change: fn(&mut Line)| {
        let mut changed = good.clone();
        change(&mut changed);
        Arrangement::build(&[good.clone(), changed], &Options::default()).map(|_| ())
    };
    let far = LIMIT as f64 / UNITS_PER_METRE;
    assert_eq!(
        with(|l| l.edges[1].a.x = f64::NAN),
        Err(ArrangementError::NotFinite { line: 1, edge: 1 })
    );
    assert_eq!(
        with(|l| l.edges[2].bow = f64::INFINITY),
        Err(ArrangementError::NotFinite { line: 1, edge: 2 })
    );
    assert_eq!(
        with(|l| l.edges[3].b.y = 1678.0),
        Err(ArrangementError::TooFar { line: 1, edge: 3 })
    );
    assert_eq!(
        with(|l| l.edges[3].b.y = -1e300),
        Err(ArrangementError::TooFar { line: 1, edge: 3 })
    );
    assert_eq!(with(|l| l.edges.truncate(2)), Err(ArrangementError::OpenRing { line: 1, edge: 0 }));
    assert_eq!(with(|l| l.edges.clear()), Ok(()));
    for bad in [f64::NAN, -1.0, 1e9] {
        let options = Options { snap: bad, ..Options::default() };
        assert_eq!(
            Arrangement::build(std::slice::from_ref(&good), &options).map(|_| ()),
            Err(ArrangementError::BadTolerance)
        );
    }
    let edge = far - 0.001;
    let largest = build(&[
        rect(Role::Outline, -edge, -edge, edge, edge),
        divider(&[(-edge, -edge), (edge, edge)]),
    ]);
    assert!((largest.area(Class::Net) - 4.0 * edge * edge).abs() < 1e-6);
    assert_eq!(largest.panels().len(), 2);
}

#[test]
fn a_tangle_is_given_up() {
    // Many different dividers on one line: every one has to be led through the ends of all others.
    let stack = |count: i32| -> Vec<Line> {
        (0..count)
            .map(|i| {
                divider(&[(-1.0 - f64::from(i) * 1e-3, 0.0), (1.0 + f64::from(i) * 1e-3, 0.0)])
            })
            .collect()
    };
    let node = |count: i32| {
        let segments = Segments::read(&stack(count)).expect("good lines");
        noding::node(&segments, &mut Budget(1_000_000)).map(|n| n.pieces.len())
    };
    assert_eq!(node(30), Ok(30 * 30));
    assert_eq!(node(300).map(|_| ()), Err(ArrangementError::TooTangled));
    let same: Vec<Line> = (0..5000).map(|_| divider(&[(0.0, 0.0), (1.0, 0.0)])).collect();
    assert_eq!(
        Arrangement::build(&same, &Options::default()).map(|_| ()),
        Err(ArrangementError::TooTangled)
    );
    build(&same[..20]);
}
