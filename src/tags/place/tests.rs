use super::*;

fn at(x: f64, y: f64) -> PaperPoint {
    PaperPoint { x, y }
}

fn line(a: (f64, f64), b: (f64, f64)) -> Line {
    Line { from: at(a.0, a.1), to: at(b.0, b.1), width: 0.25 }
}

fn tag(id: &str, feature: Feature) -> Tag {
    Tag { id: id.into(), sizes: vec![(11.0, 4.4)], feature, leader: LeaderRule::AtLeast(3.0) }
}

fn spot(id: &str, x: f64, y: f64) -> Tag {
    tag(id, Feature::Points { at: vec![at(x, y)], radius: 0.0 })
}

fn problem(tags: Vec<Tag>) -> Problem {
    Problem { zone: PaperBox::new(0.0, 0.0, 120.0, 80.0), tags, ..Problem::default() }
}

fn only(placement: &Placement) -> &Placed {
    assert_eq!((placement.placed.len(), placement.unplaced.len()), (1, 0), "{placement:?}");
    &placement.placed[0]
}

#[test]
fn a_tag_in_the_open_stands_off_at_a_draftsmans_angle() {
    let placement = place(&problem(vec![spot("L-1", 60.0, 40.0)]));
    let leader = only(&placement).leader.unwrap();
    let (dx, dy) = (leader.to.x - leader.from.x, leader.to.y - leader.from.y);
    let angle = dy.atan2(dx).to_degrees().abs().rem_euclid(180.0);
    assert!(
        [30.0, 45.0, 60.0, 120.0, 135.0, 150.0].iter().any(|a| (angle - a).abs() < 0.1),
        "{angle}"
    );
    assert!((dx.hypot(dy) - 3.0).abs() < 0.01);
    assert_eq!(leader.from, at(60.0, 40.0));
}

#[test]
fn a_leader_leaves_its_crack_at_an_angle() {
    let crack = Feature::Line(vec![vec![at(30.0, 40.0), at(90.0, 40.0)]]);
    let mut problem = problem(vec![tag("C-1", crack)]);
    problem.lines.push(line((30.0, 40.0), (90.0, 40.0)));
    let placement = place(&problem);
    let placed = only(&placement);
    let leader = placed.leader.unwrap();
    assert!(
        (leader.to.y - leader.from.y).abs()
            > (leader.to.x - leader.from.x).abs() * 15_f64.to_radians().tan()
    );
    assert!(!placed.area.grown(0.49).is_crossed_by(at(30.0, 40.0), at(90.0, 40.0)));
    assert_eq!(leader.end, LeaderEnd::Arrow);
}

#[test]
fn a_large_area_holds_its_own_tag_and_a_small_one_gets_a_dot() {
    let ring = |w: f64, h: f64| {
        Feature::Area(vec![vec![
            at(40.0, 30.0),
            at(40.0 + w, 30.0),
            at(40.0 + w, 30.0 + h),
            at(40.0, 30.0 + h),
        ]])
    };
    let large = place(&problem(vec![tag("A-1", ring(30.0, 20.0))]));
    assert_eq!(only(&large).leader, None);
    assert!(PaperBox::new(40.0, 30.0, 70.0, 50.0).contains_box(&only(&large).area));
    let small = place(&problem(vec![tag("A-1", ring(8.0, 5.0))]));
    assert_eq!(only(&small).leader.map(|l| l.end), Some(LeaderEnd::Dot));
}

#[test]
fn a_tag_without_leader_sits_on_its_point_or_right_beside_it() {
    let panel = Tag { leader: LeaderRule::Never, ..spot("P1", 60.0, 40.0) };
    let free = place(&problem(vec![panel.clone()]));
    assert_eq!((only(&free).area.centre(), only(&free).leader), (at(60.0, 40.0), None));
    let mut taken = problem(vec![panel]);
    taken.boxes.push(PaperBox::new(58.0, 38.0, 62.0, 42.0));
    let beside = place(&taken);
    let centre = only(&beside).area.centre();
    assert!((centre.x - 60.0).hypot(centre.y - 40.0) < 16.0);
    assert!(!only(&beside).area.grown(0.49).overlaps(&taken.boxes[0]));
}

#[test]
fn a_joint_may_lie_under_a_tag_but_only_if_it_must() {
    let mut corridor = problem(vec![spot("L-1", 60.0, 40.0)]);
    corridor.joints.push(line((0.0, 36.0), (120.0, 36.0)));
    let open = place(&corridor);
    assert!(!only(&open).area.is_crossed_by(at(0.0, 36.0), at(120.0, 36.0)), "{:?}", only(&open));
    // Everything but a strip of 7 mm about the joint is taken.
    corridor.boxes =
        vec![PaperBox::new(0.0, 0.0, 120.0, 32.5), PaperBox::new(0.0, 40.2, 120.0, 80.0)];
    corridor.tags = vec![spot("L-1", 60.0, 36.0)];
    let tight = place(&corridor);
    assert!(only(&tight).area.is_crossed_by(at(0.0, 36.0), at(120.0, 36.0)));
}

/// A tag beside a window that is drawn larger on another sheet stands outside it if that leads only a little farther off, and
/// inside if every other place is far.
#[test]
fn a_tag_stands_in_a_reserved_window_where_all_else_is_far() {
    let window = PaperBox::new(62.0, 0.0, 120.0, 80.0);
    for (name, taken, inside) in [
        ("room beside it", Vec::new(), false),
        ("room 12 mm off", vec![PaperBox::new(48.0, 0.0, 61.0, 80.0)], false),
        ("room 30 mm off", vec![PaperBox::new(30.0, 0.0, 61.0, 80.0)], true),
    ] {
        let mut beside = problem(vec![spot("S1", 61.5, 40.0)]);
        beside.reserved.push(window);
        beside.lines.push(line((62.0, 0.0), (62.0, 80.0)));
        beside.boxes = taken;
        let placement = place(&beside);
        let area = only(&placement).area;
        assert_eq!(
            (area.left > window.left, area.right < window.left),
            (inside, !inside),
            "{name}"
        );
    }
}

/// A leader ends on what is drawn of the rim of a thin area that is cut, not where the drawing ends.
#[test]
fn a_leader_to_a_cut_area_ends_on_what_is_drawn() {
    let ring = vec![at(40.0, 40.0), at(60.0, 40.0), at(60.0, 41.0), at(40.0, 41.0)];
    // The drawing ends at its upper side.
    let rim = vec![at(60.0, 40.0), at(60.0, 41.0), at(40.0, 41.0), at(40.0, 40.0)];
    let cut = Feature::Cut { rings: vec![ring.clone()], rim: vec![rim] };
    for (name, feature, wanted) in [("whole", Feature::Area(vec![ring]), 40.0), ("cut", cut, 41.0)]
    {
        let mut above = problem(vec![tag("R1", feature)]);
        above.boxes.push(PaperBox::new(0.0, 45.0, 120.0, 80.0));
        let placement = place(&above);
        let leader = only(&placement).leader.expect("a leader");
        let off = (leader.from.y - wanted).abs();
        assert!(off < 0.3, "{name}: {leader:?}");
    }
}

#[test]
fn a_tag_in_the_way_of_one_without_choice_moves() {
    // Both want the only free pocket near them; one of them has the whole right side besides.
    let mut pocket = problem(vec![spot("A", 41.0, 40.0), spot("B", 44.0, 40.0)]);
    pocket.boxes = vec![
        PaperBox::new(0.0, 0.0, 38.0, 80.0),
        PaperBox::new(38.0, 0.0, 120.0, 30.0),
        PaperBox::new(38.0, 50.0, 120.0, 80.0),
    ];
    let placement = place(&pocket);
    assert_eq!((placement.placed.len(), placement.crossings), (2, 0), "{placement:?}");
}

#[test]
fn the_shorter_text_is_taken_where_the_longer_has_no_room() {
    let mut niche =
        problem(vec![Tag { sizes: vec![(30.0, 4.4), (8.0, 4.4)], ..spot("C-12", 60.0, 40.0) }]);
    niche.boxes = vec![
        PaperBox::new(0.0, 0.0, 120.0, 30.0),
        PaperBox::new(0.0, 50.0, 120.0, 80.0),
        PaperBox::new(0.0, 0.0, 45.0, 80.0),
        PaperBox::new(72.0, 0.0, 120.0, 80.0),
    ];
    assert_eq!(only(&place(&niche)).size, 1);
}

#[test]
fn what_cannot_be_placed_is_named_with_its_reason() {
    let mut full = problem(vec![
        spot("no-room", 60.0, 40.0),
        spot("outside", 600.0, 40.0),
        spot("not-a-number", f64::NAN, 40.0),
        Tag { sizes: vec![(500.0, 4.0)], ..spot("too-large", 60.0, 40.0) },
        Tag { sizes: Vec::new(), ..spot("no-size", 60.0, 40.0) },
        Tag { leader: LeaderRule::AtLeast(f64::INFINITY), ..spot("endless", 60.0, 40.0) },
        tag("one-point", Feature::Line(vec![vec![at(1.0, 1.0)]])),
    ]);
    full.boxes.push(full.zone);
    let placement = place(&full);
    let reasons: Vec<(&str, Reason)> =
        placement.unplaced.iter().map(|u| (u.id.as_str(), u.reason)).collect();
    assert!(placement.placed.is_empty());
    assert_eq!(
        reasons,
        [
            ("endless", Reason::BadInput),
            ("no-room", Reason::NoRoom),
            ("no-size", Reason::BadInput),
            ("not-a-number", Reason::BadInput),
            ("one-point", Reason::BadInput),
            ("outside", Reason::OutsideZone),
            ("too-large", Reason::BadInput),
        ]
    );
}

#[test]
fn bad_obstacles_and_bad_zones_do_not_stop_it() {
    let mut odd = problem(vec![spot("L-1", 60.0, 40.0)]);
    odd.lines.push(Line { from: at(f64::NAN, 0.0), to: at(1.0, 1.0), width: 1.0 });
    odd.boxes.push(PaperBox::new(f64::INFINITY, 0.0, f64::NEG_INFINITY, f64::NAN));
    odd.solids.push(vec![at(f64::NAN, 0.0)]);
    odd.solids.push(Vec::new());
    only(&place(&odd));
    for zone in [
        PaperBox::default(),
        PaperBox::new(10.0, 10.0, 0.0, 0.0),
        PaperBox::new(f64::NAN, 0.0, 9.0, 9.0),
        PaperBox::new(0.0, 0.0, f64::INFINITY, 9.0),
        PaperBox::new(0.0, 0.0, 9e9, 9e9),
    ] {
        let placement = place(&Problem { zone, ..odd.clone() });
        assert_eq!(placement.unplaced.len(), 1);
    }
}

#[test]
fn nothing_to_place_is_an_empty_placement() {
    assert_eq!(place(&problem(Vec::new())), Placement::default());
}
