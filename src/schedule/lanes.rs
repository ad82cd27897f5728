//! A day as lanes: one for each worker and each machine, the works of the day in quarter hours.

use super::model::{Day, Piece};
use crate::hold::Hold;
use crate::trade::words::said;
use crate::trade::{Kind, Machine};

/// Quarters of an hour: what a crew is told (common practice). Exact times stand in the JSON.
const QUARTERS: f64 = 4.0;

/// One work of a day, with all its stretches.
#[derive(Clone, Debug, PartialEq)]
pub struct Job<'a> {
    /// Its stretches.
    pub pieces: Vec<&'a Piece>,
    /// When it begins, to the nearest quarter hour, in quarters after midnight.
    pub from_q: usize,
    /// When it ends, in the same way; at least one quarter later.
    pub to_q: usize,
}

impl<'a> Job<'a> {
    /// The first stretch.
    #[must_use]
    pub fn first(&self) -> &'a Piece {
        self.pieces[0]
    }

    /// What it is called, with a word where it is on hold.
    #[must_use]
    pub fn name(&self, holds: &[Hold]) -> String {
        let first = self.first();
        let name = crate::text::clean(&said(&first.task));
        if holds.iter().any(|hold| hold.stops(first.kind, &first.items)) {
            return format!("{name} (ON HOLD)");
        }
        name
    }

    /// Whether it goes on in a quarter of an hour.
    #[must_use]
    pub fn covers(&self, quarter: usize) -> bool {
        // A work too short for the clock has the quarter that it begins in.
        let short = quarter == self.from_q && self.to_q == self.from_q + 1;
        let within = |p: &&&Piece| (rounded(p.from_h)..rounded(p.to_h)).contains(&quarter);
        short || self.pieces.iter().any(|p| within(&p))
    }
}

/// The nearest quarter of an hour.
fn rounded(hour: f64) -> usize {
    (hour * QUARTERS).round().max(0.0) as usize
}

/// The works of a day in the order in which they begin; stretches of one work, before and after
/// lunch, together.
#[must_use]
pub fn jobs(day: &Day) -> Vec<Job<'_>> {
    let mut jobs: Vec<Job> = Vec::new();
    for piece in &day.pieces {
        let same = |job: &&mut Job| {
            let first = job.first();
            (first.kind, first.layer, &first.task) == (piece.kind, piece.layer, &piece.task)
        };
        match jobs.iter_mut().find(same) {
            Some(job) => job.pieces.push(piece),
            None => jobs.push(Job { pieces: vec![piece], from_q: 0, to_q: 0 }),
        }
    }
    for job in &mut jobs {
        let from = job.pieces.iter().map(|p| rounded(p.from_h)).min();
        let to = job.pieces.iter().map(|p| rounded(p.to_h)).max();
        job.from_q = from.unwrap_or(0);
        job.to_q = to.unwrap_or(0).max(job.from_q + 1);
    }
    jobs
}

/// The workers of a day, by number.
#[must_use]
pub fn workers(day: &Day) -> Vec<usize> {
    let mut all: Vec<usize> = day.pieces.iter().flat_map(|p| p.workers.iter().copied()).collect();
    all.sort_unstable();
    all.dedup();
    all
}

/// The machines of a day: which, and which of them.
#[must_use]
pub fn machines(day: &Day) -> Vec<(Machine, usize)> {
    let mut all: Vec<_> = day.pieces.iter().flat_map(|p| p.machines.iter().copied()).collect();
    all.sort_unstable();
    all.dedup();
    all
}

/// What a machine is called on a day: with its number where there are several of its kind.
#[must_use]
pub fn machine_name(day: &Day, (machine, number): (Machine, usize)) -> String {
    let several = machines(day).iter().filter(|(kind, _)| *kind == machine).count() > 1;
    if several {
        return format!("{} {}", machine.name(), number + 1);
    }
    machine.name().to_owned()
}

/// A worker's letter: A for the first; numbers after Z.
#[must_use]
pub fn letter(worker: usize) -> String {
    u8::try_from(worker)
        .ok()
        .filter(|n| *n < 26)
        .map_or_else(|| (worker + 1).to_string(), |n| char::from(b'A' + n).into())
}

/// Letters of several workers: `A`, `A B`; `all` for a whole crew of more than three.
#[must_use]
pub fn letters(workers: &[usize], crew: usize) -> String {
    if workers.len() == crew && crew > 3 {
        return "all".into();
    }
    let names: Vec<String> = workers.iter().map(|w| letter(*w)).collect();
    names.join(" ")
}

/// Whether a work is the coming or going of a day.
#[must_use]
pub fn daily(kind: Kind) -> bool {
    matches!(kind, Kind::SetUp | Kind::PackUp)
}

/// Mark of a work in a lane: a to z, then A to Z, then the same again.
#[must_use]
pub fn mark(job: usize) -> char {
    let place = u8::try_from(job % 52).unwrap_or(0);
    char::from(if place < 26 { b'a' + place } else { b'A' + place - 26 })
}

/// The lanes of a day as text, then the works with their marks.
#[must_use]
pub fn text(day: &Day, crew: usize, holds: &[Hold]) -> String {
    let jobs = jobs(day);
    let (Some(from), Some(to)) =
        (jobs.iter().map(|job| job.from_q).min(), jobs.iter().map(|job| job.to_q).max())
    else {
        return String::new();
    };
    // Lanes begin on a whole hour, so that the hours over them stand right.
    let from = from / 4 * 4;
    let mut names: Vec<(String, Box<dyn Fn(&Piece) -> bool>)> = Vec::new();
    for worker in workers(day) {
        let name = format!("worker {}", letter(worker));
        names.push((name, Box::new(move |p: &Piece| p.workers.contains(&worker))));
    }
    for machine in machines(day) {
        names.push((
            machine_name(day, machine),
            Box::new(move |p: &Piece| p.machines.contains(&machine)),
        ));
    }
    let wide = names.iter().map(|(name, _)| name.len()).max().unwrap_or(0);
    let hours: String =
        (from..to).step_by(4).map(|q| format!("{:<4}", (q / 4 + 11) % 12 + 1)).collect();
    let mut out = format!("  {:<wide$}  {}\n", "", hours.trim_end());
    for (name, holds) in &names {
        let lane: String = (from..to)
            .map(|quarter| {
                let on = |job: &&(usize, &Job)| {
                    job.1.covers(quarter) && job.1.pieces.iter().any(|p| holds(p))
                };
                let all: Vec<(usize, &Job)> = jobs.iter().enumerate().collect();
                all.iter().rev().find(on).map_or('.', |(n, _)| mark(*n))
            })
            .collect();
        out += &format!("  {name:<wide$}  {}\n", lane.trim_end_matches('.'));
    }
    for (n, job) in jobs.iter().enumerate() {
        out += &format!(
            "  {}  {}-{}  {:<5} {}\n",
            mark(n),
            clock(job.from_q),
            clock(job.to_q),
            letters(&job.first().workers, crew),
            job.name(holds)
        );
    }
    out
}

/// `8:15`, five characters.
#[must_use]
pub fn clock(quarter: usize) -> String {
    format!("{:>2}:{:02}", quarter / 4, quarter % 4 * 15)
}

#[cfg(test)]
mod tests {
    use crate::schedule::plan;

    #[test]
    fn a_lane_for_each_worker_and_machine() {
        let text = include_str!("../../sketches/harrow-lane-garage.yaml");
        let (sketch, _) = crate::sketch::parse(text);
        let sketch = sketch.expect("a sketch");
        let floor = crate::survey::survey(sketch, crate::shop::built_in(), Vec::new());
        let plan = plan(&floor.expect("a floor"));
        let shown = super::text(&plan.days[0], 2, &[]);
        for lane in ["worker A", "worker B", "joint saw", "floor grinder"] {
            assert!(shown.contains(lane), "{lane}\n{shown}");
        }
        assert!(shown.lines().all(|line| line.len() <= 80), "{shown}");
        // The first hour stands over the first quarter of the lanes, and no time lies between two.
        let mut lines = shown.lines();
        let hours = lines.next().expect("the hours").find('8');
        assert_eq!(hours, lines.next().expect("a lane").find("aaa"), "{shown}");
        assert!(shown.contains("a   8:00- 8:45  A B   set up"), "{shown}");
        let times = shown.matches(':').count();
        let quarters = [":00", ":15", ":30", ":45"].iter().map(|q| shown.matches(q).count());
        assert_eq!(times, quarters.sum::<usize>(), "{shown}");
    }
}
