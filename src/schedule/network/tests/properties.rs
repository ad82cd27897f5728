//! What holds for every list of activities, on random ones.

use proptest::prelude::*;

use super::*;

/// A random work: minutes, hands, machine, most units, flags.
type Drawn = (i64, i64, usize, usize, usize, u8, Vec<(usize, i64)>);

fn drawn() -> impl Strategy<Value = Drawn> {
    let links =
        prop::collection::vec((1_usize..6, prop::sample::select(vec![0, 0, 20, 90, 400])), 0..3);
    (1_i64..700, 0_i64..40, 0_usize..4, 0_usize..6, 1_usize..4, 0_u8..16, links)
}

fn activity(index: usize, drawn: &Drawn) -> Activity {
    let (minutes, setup, hands, machine, most_units, flags, links) = drawn;
    let mut activity = work(*minutes).set_up(*setup).hands(*hands);
    activity.effort.most_units = *most_units;
    activity.effort.cut = flags & 3 != 0;
    activity.effort.dry = flags & 4 != 0;
    activity.beside = flags & 8 != 0;
    if *machine < MACHINES.len() {
        activity.effort.machines = vec![*machine];
    }
    for (back, opens) in links.iter().filter(|link| link.0 <= index) {
        activity = activity.after(index - back, *opens);
    }
    activity
}

fn lists() -> impl Strategy<Value = Network> {
    (1_usize..6, 0_i8..28, prop::collection::vec(drawn(), 1..14)).prop_map(
        |(crew, first, works)| {
            // November 2026 has a holiday on a Wednesday and one on a Thursday.
            let mut days = days_from(date(2026, 11, first + 1));
            days.blocked = vec![date(2026, 11, 10), date(2026, 11, 13), date(2026, 11, 30)];
            let activities = works.iter().enumerate().map(|(index, work)| activity(index, work));
            network(crew, &days, activities.collect())
        },
    )
}

/// The finish to the quarter of an hour, as it is printed.
fn finish(network: &Network) -> Option<i64> {
    let finish_s = solve(network).ok()?.finish_s;
    Some((finish_s + GRAIN_S - 1) / GRAIN_S)
}

/// Whether two stretches of the same lane overlap.
fn doubled(mut stretches: Vec<(i64, i64)>) -> bool {
    stretches.retain(|(from, to)| from < to);
    stretches.sort_unstable();
    stretches.windows(2).any(|pair| pair[1].0 < pair[0].1)
}

fn check(network: &Network, schedule: &Schedule) {
    let placed = &schedule.placements;
    for worker in 0..network.crew {
        let busy = placed.iter().filter(|p| p.workers.contains(&worker));
        assert!(!doubled(busy.map(|p| (p.start_s, p.free_s)).collect()), "worker {worker}");
    }
    for (kind, &count) in network.machines.iter().enumerate() {
        for which in 0..count {
            let runs = placed.iter().filter(|p| p.machines.contains(&(kind, which)));
            assert!(!doubled(runs.map(|p| (p.start_s, p.end_s)).collect()), "machine {kind}");
        }
    }
    for p in placed {
        let activity = &network.activities[p.activity];
        let effort = match (p.part, &activity.late) {
            (Part::Work, _) | (_, None) => &activity.effort,
            (_, Some(late)) => &late.effort,
        };
        assert_eq!(p.workers.len(), effort.hands.min(network.crew) * p.units);
        assert_eq!(p.machines.len(), effort.machines.len() * p.units);
        for link in &activity.links {
            let before = placed.iter().filter(|b| b.activity == link.before);
            let end = before.map(|b| b.end_s).max().expect("one before");
            assert!(p.start_s >= end + link.opens_s, "a wait is broken");
            let open = link.closes_s.is_none_or(|closes_s| p.start_s <= end + closes_s);
            assert!(open || p.late_s > 0 || p.part == Part::Work, "a window is missed unsaid");
        }
        let worked: i64 = p.pieces.iter().map(|piece| piece.end_s - piece.start_s).sum();
        let wanted = effort.mode(
            network.crew,
            p.units * effort.hands.min(network.crew),
            p.units,
            &network.machines,
        );
        assert_eq!(worked, wanted.clock_s, "the pieces are the whole work");
        assert!(effort.cut || p.divided || p.pieces.len() == 1, "it is broken off");
        for piece in &p.pieces {
            let (day, date) = network.calendar.day(piece.start_s);
            let shift = network.calendar.shifts(effort.dry).iter().find(|s| s.hours.day == day);
            let hours = shift.unwrap_or_else(|| panic!("nobody works on {date:?}")).hours;
            let late = hours.over.max(hours.close + SHORT_DAY_S);
            assert!(hours.open <= piece.start_s && piece.end_s <= late, "out of hours");
        }
    }
    let last = placed.iter().map(|p| p.end_s).max();
    assert_eq!(last, Some(schedule.finish_s));
    let mut done: Vec<usize> = placed.iter().map(|p| p.activity).collect();
    done.sort_unstable();
    done.dedup();
    assert_eq!(done.len(), network.activities.len(), "everything is done");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    /// No worker or machine twice at once, no wait broken, nothing in one piece over a night.
    #[test]
    fn a_schedule_can_be_done(network in lists()) {
        check(&network, &solve(&network).expect("a schedule"));
        prop_assert_eq!(solve(&network), solve(&network));
    }

    /// The same with windows that close, and what is done then.
    #[test]
    fn a_schedule_with_windows_can_be_done(
        mut network in lists(),
        closes in prop::collection::vec((0_i64..900, any::<bool>(), drawn()), 14),
    ) {
        for (activity, (more, instead, late)) in network.activities.iter_mut().zip(&closes) {
            for link in &mut activity.links {
                link.closes_s = Some(link.opens_s + 60 * more);
            }
            let late = Activity { links: Vec::new(), ..self::activity(0, late) };
            *activity = activity.clone().or_late(late, *instead);
        }
        check(&network, &solve(&network).expect("a schedule"));
    }

    #[test]
    fn more_workers_are_never_later(network in lists(), more in 1_usize..4) {
        let larger = Network { crew: network.crew + more, ..network.clone() };
        prop_assert!(finish(&larger) <= finish(&network));
    }

    #[test]
    fn more_material_is_never_earlier(
        network in lists(),
        more in prop::collection::vec(prop::sample::select(vec![0_i64, 0, 0, 60, 1200, 30_000]), 14),
    ) {
        let mut larger = network.clone();
        for (activity, more) in larger.activities.iter_mut().zip(&more) {
            activity.effort.work_s += more;
        }
        prop_assert!(finish(&larger) >= finish(&network));
    }

    /// Nothing panics, whatever the numbers are.
    #[test]
    fn any_numbers_end(
        mut network in lists(),
        odd in prop::collection::vec(prop::sample::select(vec![i64::MIN, -1, 0, i64::MAX]), 14),
    ) {
        for (index, activity) in network.activities.iter_mut().enumerate() {
            let odd = odd[index];
            match index % 4 {
                0 => activity.effort.work_s = odd,
                1 => activity.effort.least_s = odd,
                2 => activity.effort.setup_s = odd,
                _ => activity.links.iter_mut().for_each(|link| link.opens_s = odd),
            }
        }
        if let Ok(schedule) = solve(&network) {
            prop_assert!(schedule.placements.len() >= network.activities.len());
        }
    }
}
