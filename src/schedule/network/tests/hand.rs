//! Small floors whose schedules are reckoned by hand, every start in words.

use super::*;

/// "1 8:00": the calendar day, counted from 1, and the time of day.
fn moment(at: i64) -> String {
    format!("{} {}:{:02}", at / DAY_S + 1, at % DAY_S / 3600, at % 3600 / 60)
}

/// A line for each placement: activity, start, end, workers and what held it.
fn lines(names: &[&str], schedule: &Schedule) -> Vec<String> {
    let line = |placed: &Placement| {
        let part = match placed.part {
            Part::Work => "",
            Part::First => "abrade for ",
            Part::Instead => "grind for ",
        };
        let (start, end) = (moment(placed.start_s), moment(placed.end_s));
        let workers: Vec<String> = placed.workers.iter().map(|w| (w + 1).to_string()).collect();
        let held = match placed.held {
            Held::Nothing => String::new(),
            Held::Wait { link, until_s } => format!(", wait {link} until {}", moment(until_s)),
            Held::Hands => ", hands".into(),
            Held::Morning => ", for what follows".into(),
            Held::Machine(machine) => format!(", machine {machine}"),
        };
        let name = names[placed.activity];
        format!("{part}{name}: {start} to {end} by {}{held}", workers.join("+"))
    };
    schedule.placements.iter().map(line).collect()
}

fn holds(network: &Network, names: &[&str], want: &[&str]) {
    let schedule = solve(network).expect("a schedule");
    assert_eq!(lines(names, &schedule), want);
}

#[test]
fn edges_are_ground_beside_the_floor() {
    // Two workers, one floor grinder, two hand grinders. The edges leave a worker for the floor, so
    // only one grinds edges, from 8:00 for 120 minutes to 10:00; the other grinds the floor, from
    // 8:00, 15 minutes of set-up and 120 of work, to 10:15. The vacuum waits for both: 10:15, two
    // vacuums, 40 minutes of one are 20 of two, to 10:35. The primer wants both: 10:35, 20 and 60
    // minutes, to 11:55.
    let mut edges = work(120).with(HAND_GRINDER);
    edges.beside = true;
    let floor = work(120).set_up(15).with(FLOOR_GRINDER);
    let vacuum = work(40).with(VACUUM).after(0, 0).after(1, 0);
    let primer = coat(60).set_up(20).after(2, 0);
    holds(
        &network(2, &days(), vec![edges, floor, vacuum, primer]),
        &["edges", "floor", "vacuum", "primer"],
        &[
            "edges: 1 8:00 to 1 10:00 by 1",
            "floor: 1 8:00 to 1 10:15 by 2",
            "vacuum: 1 10:15 to 1 10:35 by 1+2, wait 1 until 1 10:15",
            "primer: 1 10:35 to 1 11:55 by 1+2, wait 0 until 1 10:35",
        ],
    );
}

#[test]
fn a_wait_is_used_for_other_work() {
    // One worker. Joints are filled from 8:00, 15 and 45 minutes, to 9:00. Shaving waits 20 minutes,
    // until 9:20, and takes 30. Cracks take 20 minutes and have nothing to wait for: they are filled
    // in between, 9:00 to 9:20. Shaving 9:20 to 9:50. Grinding waits for the joints 45 minutes, for
    // the cracks 30, until 9:50, and for shaving, until 9:50 too: 9:50, 15 and 60 minutes, to 11:05.
    let fill = work(45).set_up(15).with(GUN);
    let shave = work(30).within(0, 20, Some(180));
    let cracks = work(20);
    let grind = work(60).set_up(15).with(FLOOR_GRINDER).after(0, 45).after(2, 30).after(1, 0);
    holds(
        &network(1, &days(), vec![fill, shave, cracks, grind]),
        &["fill", "shave", "cracks", "grind"],
        &[
            "fill: 1 8:00 to 1 9:00 by 1",
            "cracks: 1 9:00 to 1 9:20 by 1, hands",
            "shave: 1 9:20 to 1 9:50 by 1, wait 0 until 1 9:20",
            "grind: 1 9:50 to 1 11:05 by 1, wait 1 until 1 9:50",
        ],
    );
}

#[test]
fn a_coat_goes_on_through_lunch_and_its_hands_eat_after_it() {
    // Grinding by one of two workers, 8:00 to 11:30. The coat starts at 11:30 with both and takes 90
    // minutes: it isn't broken off at noon and ends at 13:00. Both eat until 13:30, so the second
    // coat, which could go on at once, starts at 13:30; 60 minutes, to 14:30. Cleaning up takes one
    // of them 20 minutes, from 14:30.
    let activities =
        vec![work(210), coat(90).after(0, 0), coat(60).after(1, 0), work(20).after(2, 0)];
    holds(
        &network(2, &days(), activities),
        &["grind", "first coat", "second coat", "clean"],
        &[
            "grind: 1 8:00 to 1 11:30 by 1",
            "first coat: 1 11:30 to 1 13:00 by 1+2, wait 0 until 1 11:30",
            "second coat: 1 13:30 to 1 14:30 by 1+2, hands",
            "clean: 1 14:30 to 1 14:50 by 1, wait 0 until 1 14:30",
        ],
    );
}

#[test]
fn grinding_is_broken_off_and_a_coat_is_not() {
    // Friday 9 October 2026; Monday is Columbus Day. One worker grinds 600 minutes: 8:00 to 16:30
    // are 480, lunch not counted, and the other 120 are Tuesday's, the fifth day, from 8:00 to
    // 10:00. The coat takes 390 minutes and two workers: from 10:00 it would end at 16:30, and with
    // lunch after it its hands would be there until 17:00, which overtime allows.
    let activities = vec![work(600).with(FLOOR_GRINDER), coat(390).after(0, 0)];
    let days = days_from(date(2026, 10, 9));
    let floor = network(2, &days, activities.clone());
    holds(
        &floor,
        &["grind", "coat"],
        &["grind: 1 8:00 to 5 10:00 by 1", "coat: 5 10:00 to 5 16:30 by 1+2, wait 0 until 5 10:00"],
    );
    let pieces = &solve(&floor).expect("a schedule").placements[0].pieces;
    let pieces: Vec<String> = pieces
        .iter()
        .map(|piece| format!("{} to {}", moment(piece.start_s), moment(piece.end_s)))
        .collect();
    assert_eq!(pieces, ["1 8:00 to 1 12:00", "1 12:30 to 1 16:30", "5 8:00 to 5 10:00"]);
    // Another five minutes of coat are too much: it starts on Wednesday morning and ends at 14:35.
    let mut activities = activities;
    activities[1].effort.work_s += 300;
    holds(
        &network(2, &days, activities),
        &["grind", "coat"],
        &["grind: 1 8:00 to 5 10:00 by 1", "coat: 6 8:00 to 6 14:35 by 1+2, wait 0 until 5 10:00"],
    );
}

#[test]
fn what_spills_over_is_finished() {
    // One worker. 500 minutes are 20 more than the day has: overtime, to 16:50. 530 are 50 more:
    // nobody comes for 50 minutes on the next day, so that the first is longer, to 17:20. 545 are 65
    // more: the day ends at 16:30, and the next holds 65 minutes, to 9:05.
    for (minutes, end) in [(500, "1 16:50"), (530, "1 17:20"), (545, "2 9:05")] {
        let line = format!("grind: 1 8:00 to {end} by 1");
        holds(&network(1, &days(), vec![work(minutes)]), &["grind"], &[&line]);
    }
    // The same with a work that follows: 470 minutes end at 16:20, from where a coat of 45 minutes
    // would end at 17:05, five minutes beyond overtime. The next day would hold nothing else, so it
    // is laid on the evening before.
    let activities = vec![work(470), coat(45).after(0, 0)];
    holds(
        &network(2, &days(), activities),
        &["grind", "coat"],
        &["grind: 1 8:00 to 1 16:20 by 1", "coat: 1 16:20 to 1 17:05 by 1+2, wait 0 until 1 16:20"],
    );
}

#[test]
fn nothing_is_begun_that_would_hardly_be_set_up() {
    // One worker. Sweeping 465 minutes, 8:00 to 16:15. Sawing takes 15 minutes of set-up: in the 15
    // that are left nothing would be sawn, so it starts on the next morning, 8:00 to 10:15. With 20
    // minutes less of sweeping, to 15:55, it starts then: 35 minutes of the 135 until 16:30, and the
    // other 100 from 8:00 to 9:40.
    for (swept, saw) in [(465, "2 8:00 to 2 10:15"), (445, "1 15:55 to 2 9:40")] {
        let end = moment((8 * 60 + swept + 30) * 60);
        holds(
            &network(1, &days(), vec![work(swept), work(120).set_up(15).after(0, 0)]),
            &["sweep", "saw"],
            &[
                &format!("sweep: 1 8:00 to {end} by 1"),
                &format!("saw: {saw} by 1, wait 0 until {end}"),
            ],
        );
    }
}

#[test]
fn a_coat_that_comes_too_late_is_abraded_first() {
    // Friday 18 September 2026. Grinding 360 minutes, 8:00 to 14:30, then a base coat of 60, 14:30
    // to 15:30. The top coat may go on after 6 hours, at 21:30, and until 24 hours, Saturday 15:30:
    // nobody works then. On Monday, the fourth day, the base is abraded with the floor grinder, 60
    // minutes from 8:00 to 9:00, and the top coat goes on from 9:00 to 10:00. To lay the base on
    // Monday morning instead would put the top coat off to 15:00.
    let days = days_from(date(2026, 9, 18));
    let top = coat(60).within(1, 360, Some(1440)).or_late(work(60).with(FLOOR_GRINDER), false);
    let activities = vec![work(360).with(FLOOR_GRINDER), coat(60).after(0, 0), top];
    holds(
        &network(2, &days, activities),
        &["grind", "base", "top"],
        &[
            "grind: 1 8:00 to 1 14:30 by 1",
            "base: 1 14:30 to 1 15:30 by 1+2, wait 0 until 1 14:30",
            "abrade for top: 4 8:00 to 4 9:00 by 1, wait 0 until 1 21:30",
            "top: 4 9:00 to 4 10:00 by 1+2, wait 0 until 1 21:30",
        ],
    );
}

#[test]
fn filler_that_could_not_be_shaved_in_time_is_placed_in_the_morning() {
    // Two workers, one saw. Sawing 465 minutes, 8:00 to 16:15. Joints take 30 minutes to fill: they
    // could be filled by 16:45 with overtime, but shaved no earlier than the next morning at 8:00,
    // more than 3 hours later, by when the filler is hard, and is ground with the machine for 60
    // minutes, until 9:00. Filled in the morning, 8:00 to 8:30, it is shaved from 8:50 to 9:00: the same hour, and
    // nothing comes too late. The coat follows either way from 9:00 to 11:00.
    let shave = work(10).within(1, 20, Some(180)).or_late(work(60).with(FLOOR_GRINDER), true);
    let fill = work(30).with(GUN).after(0, 0);
    let activities = vec![work(465), fill, shave, coat(120).after(2, 0)];
    holds(
        &network(2, &days(), activities.clone()),
        &["saw", "fill", "shave", "coat"],
        &[
            "saw: 1 8:00 to 1 16:15 by 1",
            "fill: 2 8:00 to 2 8:30 by 1, for what follows",
            "shave: 2 8:50 to 2 9:00 by 1, wait 0 until 2 8:50",
            "coat: 2 9:00 to 2 11:00 by 1+2, wait 0 until 2 9:00",
        ],
    );
    // With 40 minutes of shaving the coat would wait until 9:30 for a morning's filling, which is a
    // quarter of an hour and more after 9:00: the filler is ground.
    let mut activities = activities;
    activities[2].effort.work_s = 2400;
    holds(
        &network(2, &days(), activities),
        &["saw", "fill", "shave", "coat"],
        &[
            "saw: 1 8:00 to 1 16:15 by 1",
            "fill: 1 16:15 to 1 16:45 by 1, wait 0 until 1 16:15",
            "grind for shave: 2 8:00 to 2 9:00 by 1, wait 0 until 1 17:05",
            "coat: 2 9:00 to 2 11:00 by 1+2, wait 0 until 2 9:00",
        ],
    );
}

#[test]
fn a_wet_day_moves_the_coat_and_not_the_grinding() {
    // Tuesday 15 September 2026; Wednesday is blocked. Grinding 600 minutes by one worker, 480 on
    // Tuesday, 120 on Wednesday, to 10:00. The coat could start then, and goes to Thursday, 8:00.
    let days = Days { blocked: vec![date(2026, 9, 16)], ..days_from(date(2026, 9, 15)) };
    holds(
        &network(2, &days, vec![work(600), coat(90).after(0, 0)]),
        &["grind", "coat"],
        &["grind: 1 8:00 to 2 10:00 by 1", "coat: 3 8:00 to 3 9:30 by 1+2, wait 0 until 2 10:00"],
    );
}

#[test]
fn what_cures_longest_goes_first_where_that_saves_time() {
    // One worker. In the order of the trade: cleaning 8:00 to 9:00, a patch 9:00 to 9:30, which
    // cures 2 hours, grinding 11:30 to 12:00. With the patch first: 8:00 to 8:30, cleaning 8:30 to
    // 9:30, grinding from 10:30 to 11:00, an hour earlier.
    let activities = vec![work(60), work(30), work(30).after(1, 120)];
    let floor = network(1, &days(), activities);
    holds(
        &floor,
        &["clean", "patch", "grind"],
        &[
            "patch: 1 8:00 to 1 8:30 by 1",
            "clean: 1 8:30 to 1 9:30 by 1, hands",
            "grind: 1 10:30 to 1 11:00 by 1, wait 0 until 1 10:30",
        ],
    );
    // Where it gains less than a quarter of an hour, the order of the trade stays: with 10 minutes
    // of cleaning and a cure of 125 the ends are 11:15 and 11:05, which is the same quarter.
    let short = vec![work(10), work(30), work(30).after(1, 125)];
    let floor = network(1, &days(), short);
    assert!(solve(&floor).expect("a schedule").trade_order);
}

#[test]
fn one_gun_fills_at_one_guns_speed() {
    // Three workers, one gun, two hand grinders. Filling 120 minutes, 8:00 to 10:00, by one. Steps
    // are ground by the other two, 90 minutes of one, 45 of two, to 8:45. Topping off wants the gun:
    // 10:00 to 10:30. Chasing wants a hand grinder and may start when those of the steps are free:
    // 8:45, 60 minutes of one are 30 of two, to 9:15.
    let activities = vec![
        work(120).with(GUN),
        work(90).with(HAND_GRINDER),
        work(30).with(GUN),
        work(60).with(HAND_GRINDER),
    ];
    holds(
        &network(3, &days(), activities),
        &["fill", "steps", "top off", "chase"],
        &[
            "fill: 1 8:00 to 1 10:00 by 1",
            "steps: 1 8:00 to 1 8:45 by 2+3",
            "chase: 1 8:45 to 1 9:15 by 2+3, machine 1",
            "top off: 1 10:00 to 1 10:30 by 1, machine 2",
        ],
    );
}

#[test]
fn a_worker_alone_lays_a_coat_of_two_in_twice_the_time() {
    // 20 minutes of set-up stay 20, 60 minutes of work are 120: 8:00 to 10:20.
    holds(
        &network(1, &days(), vec![coat(60).set_up(20)]),
        &["coat"],
        &["coat: 1 8:00 to 1 10:20 by 1"],
    );
}

#[test]
fn a_coat_longer_than_a_day_is_divided() {
    // 520 minutes are more than a day and overtime, 510. The day before ends at 9:00 with sweeping;
    // the coat starts on the next morning at 8:00, is broken off at 16:30 after 480 minutes, and its
    // last 40 are laid on the third day, 8:00 to 8:40. With the second day an hour longer it is
    // finished on that, at 17:10.
    let floor = network(2, &days(), vec![work(60), coat(520).after(0, 0)]);
    holds(
        &floor,
        &["sweep", "coat"],
        &["sweep: 1 8:00 to 1 9:00 by 1", "coat: 2 8:00 to 2 17:10 by 1+2, wait 0 until 1 9:00"],
    );
    let schedule = solve(&floor).expect("a schedule");
    assert!(schedule.placements[1].divided && !schedule.placements[0].divided);
}
