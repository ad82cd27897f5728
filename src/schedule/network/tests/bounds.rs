//! How much is reckoned for a schedule, counted, and what can't be scheduled.

use std::ops::ControlFlow;

use super::family::each;
use super::*;

#[test]
fn the_family_is_bounded() {
    for (count, crew) in [(1, 1), (25, 2), (25, 4), (60, 8), (60, 1000), (1000, 3)] {
        let list = |index: usize| {
            let mut activity = work(60).within(index.max(1) - 1, 10, Some(600));
            activity.beside = index.is_multiple_of(2);
            if index == 0 { work(60) } else { activity }
        };
        let floor = network(crew, &days(), (0..count).map(list).collect());
        let mut placements = 0;
        let _ = each(&floor, |variant| {
            placements += variant.order.len();
            ControlFlow::Continue(())
        });
        // Windows that close double it.
        assert!(placements <= 50_000 + 140 * count, "{count} works, {crew} workers: {placements}");
    }
}

#[test]
fn the_family_knows_no_durations() {
    let floor = |minutes: i64| {
        let works = (0..12_usize).map(|index| {
            let work = work(minutes * (index as i64 + 1)).with(index % 4);
            if index < 3 { work } else { work.after(index - 3, 20) }
        });
        network(3, &days(), works.collect())
    };
    let orders = |floor: &Network| {
        let mut orders = Vec::new();
        let _ = each(floor, |variant| {
            let units: Vec<usize> = variant.manners.iter().map(|m| m.mode.units).collect();
            orders.push((variant.order.to_vec(), units, variant.hold));
            ControlFlow::Continue(())
        });
        orders
    };
    let (small, large) = (orders(&floor(1)), orders(&floor(500)));
    assert!(small.len() > 100 && small == large);
    assert!(small[0].0.is_sorted(), "the order of the trade is the first");
}

#[test]
fn what_can_not_be_scheduled_is_said() {
    let solved = |crew, days: &Days, works: Vec<Activity>| solve(&network(crew, days, works)).err();
    let years = work(60 * 8 * 401);
    let nothing = Days { hours_s: 0, ..days() };
    let saw =
        Activity { effort: Effort { machines: vec![9], ..work(5).effort }, ..Activity::default() };
    let rows = [
        (
            "longer than 400 days",
            solved(1, &days(), vec![years.clone()]),
            Some(Unplannable::TooLong),
        ),
        (
            "two of 200 after each other",
            solved(1, &days(), vec![work(120_000), work(120_000)]),
            Some(Unplannable::TooLong),
        ),
        ("by two workers", solved(2, &days(), vec![work(120_000), work(120_000)]), None),
        ("without end", solved(1, &days(), vec![work(i64::MAX / 60)]), Some(Unplannable::TooLong)),
        ("no hours", solved(1, &nothing, vec![work(1)]), Some(Unplannable::TooLong)),
        ("nobody", solved(0, &days(), vec![work(1)]), Some(Unplannable::NoCrew)),
        (
            "no such machine",
            solved(1, &days(), vec![work(1), saw]),
            Some(Unplannable::NoMachine { activity: 1, machine: 9 }),
        ),
        (
            "waits for itself",
            solved(1, &days(), vec![work(1).after(0, 0)]),
            Some(Unplannable::Disordered { activity: 0 }),
        ),
        ("nothing to do", solved(1, &days(), vec![]), None),
    ];
    for (name, found, want) in rows {
        assert_eq!(found, want, "{name}");
    }
    // A machine of which the shop has none.
    let mut floor = network(1, &days(), vec![work(5).with(GUN)]);
    floor.machines[GUN] = 0;
    let none = Unplannable::NoMachine { activity: 0, machine: GUN };
    assert_eq!(solve(&floor), Err(none));
}

#[test]
fn a_day_between_with_hardly_any_work_is_done_without() {
    // Two workers, Monday to Wednesday; Tuesday is wet. A coat on Monday fills the day; what is
    // scraped on Tuesday for 30 minutes can as well be scraped on Wednesday morning beside the sweep
    // that the next coat, from 9:00, waits for as well.
    let days = Days { blocked: vec![date(2026, 9, 15)], ..days_from(date(2026, 9, 14)) };
    let mut sweep = work(60);
    sweep.effort.dry = true;
    let activities = vec![
        coat(480),
        work(30).after(0, 600),
        sweep.after(0, 600),
        coat(60).after(1, 0).after(2, 0),
    ];
    let schedule = solve(&network(2, &days, activities)).expect("a schedule");
    let starts: Vec<(i64, i64)> = schedule
        .placements
        .iter()
        .map(|p| (p.start_s / DAY_S + 1, p.start_s % DAY_S / 60))
        .collect();
    assert_eq!(starts, [(1, 480), (3, 480), (3, 480), (3, 540)]);
}
