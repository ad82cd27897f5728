//! Work done for each of several sheets or many records at the same time; the results come in order, whatever was done first.

use std::cell::Cell;
use std::ops::Range;
use std::sync::Mutex;
use std::sync::PoisonError;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// Below this many short pieces of work a second thread gains less than it costs.
const FEW: usize = 20_000;
/// Short pieces of work that go together.
const RUN: usize = 1024;

thread_local! {
    /// How many work side by side with this thread, itself included: it takes that part of the cores.
    static SHARERS: Cell<usize> = const { Cell::new(1) };
}

/// Does something on this thread while it shares the cores with so many that do the same.
pub fn among<T>(sharers: usize, work: impl FnOnce() -> T) -> T {
    let before = SHARERS.get();
    SHARERS.set(before.saturating_mul(sharers.max(1)));
    let done = work();
    SHARERS.set(before);
    done
}

/// Does something for every index below `n`, on the cores that are this thread's part.
pub fn each<T: Send>(n: usize, work: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let cores = thread::available_parallelism().map_or(1, usize::from);
    on(cores / SHARERS.get(), n, work)
}

/// As [`each`], for what is done in microseconds and much too often: neighbors go together, and a few are done on this thread.
pub fn many<T: Send>(n: usize, work: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let mut out = Vec::with_capacity(n);
    out.extend(
        runs(n, |run| run.map(&work).collect::<Vec<T>>())
            .into_iter()
            .flatten(),
    );
    out
}

/// As [`many`], for work that goes better with all neighbors at once: each run of them, in order.
pub fn runs<T: Send>(n: usize, work: impl Fn(Range<usize>) -> T + Sync) -> Vec<T> {
    if n < FEW {
        return vec![work(0..n)];
    }
    each(n.div_ceil(RUN), |k| work(k * RUN..n.min((k + 1) * RUN)))
}

fn on<T: Send>(threads: usize, n: usize, work: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let threads = threads.min(n);
    if threads < 2 {
        return (0..n).map(work).collect();
    }
    let (next, done) = (AtomicUsize::new(0), Mutex::new(Vec::with_capacity(n)));
    let sharers = SHARERS.get();
    let serve = || {
        among(sharers * threads, || {
            loop {
                // Whoever is free takes the next: some take much longer than others.
                let i = next.fetch_add(1, Ordering::Relaxed);
                if i >= n {
                    return;
                }
                let result = work(i);
                done.lock()
                    .unwrap_or_else(PoisonError::into_inner)
                    .push((i, result));
            }
        });
    };
    thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(serve);
        }
    });
    let mut done = done.into_inner().unwrap_or_else(PoisonError::into_inner);
    done.sort_by_key(|(i, _)| *i);
    done.into_iter().map(|(_, t)| t).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_come_in_order_on_any_number_of_threads() {
        for threads in [0, 1, 2, 5, 40] {
            let found = on(threads, 7, |i| i * i);
            assert_eq!(found, [0, 1, 4, 9, 16, 25, 36], "{threads}");
        }
        assert!(each(0, |i| i).is_empty());
    }

    #[test]
    fn many_come_in_order_below_and_above_what_is_worth_a_thread() {
        for n in [0, 1, FEW - 1, FEW, FEW + RUN + 1] {
            let wanted: Vec<usize> = (0..n).collect();
            assert_eq!(many(n, |i| i), wanted, "{n}");
        }
    }

    #[test]
    fn what_shares_the_cores_takes_its_part() {
        let inner = || on(2, 2, |_| SHARERS.get());
        assert_eq!(among(3, inner), [6, 6]);
        assert_eq!(SHARERS.get(), 1);
    }
}
