//! Work done for each of several sheets or many records at the same time; the results come in order, whatever was done first.

use std::ops::Range;
use std::sync::Mutex;
use std::sync::PoisonError;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// Below this many short pieces of work a second thread gains less than it costs.
const FEW: usize = 20_000;
/// Short pieces of work that go together.
const RUN: usize = 1024;

/// The cores of the machine, shared by the whole program; its first thread is at work.
static CORES: Cores = Cores(AtomicUsize::new(1));

/// How many threads are at work.
struct Cores(AtomicUsize);

/// A thread is at work until this is dropped.
pub struct AtWork(&'static Cores);

impl Drop for AtWork {
    fn drop(&mut self) {
        self.0.0.fetch_sub(1, Ordering::Relaxed);
    }
}

/// For a thread that works whether or not a core is free.
pub fn at_work() -> AtWork {
    CORES.0.fetch_add(1, Ordering::Relaxed);
    AtWork(&CORES)
}

/// This thread waits for others, and they have its core until it has what it waits for.
pub fn waiting<T>(wait: impl FnOnce() -> T) -> T {
    CORES.0.fetch_sub(1, Ordering::Relaxed);
    let done = wait();
    CORES.0.fetch_add(1, Ordering::Relaxed);
    done
}

/// Does something for every index below `n`, on this thread and on the cores that are free or become so in the meantime: where several
/// share the cores, the last of them has all.
pub fn each<T: Send>(n: usize, work: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let most = thread::available_parallelism().map_or(1, usize::from);
    on(&CORES, most, n, work)
}

/// As [`each`], for what is done in microseconds and much too often: neighbors go together, and a few are done on this thread.
pub fn many<T: Send>(n: usize, work: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let mut out = Vec::with_capacity(n);
    out.extend(runs(n, |run| run.map(&work).collect::<Vec<T>>()).into_iter().flatten());
    out
}

/// As [`many`], for work that goes better with all neighbors at once: each run of them, in order.
pub fn runs<T: Send>(n: usize, work: impl Fn(Range<usize>) -> T + Sync) -> Vec<T> {
    if n < FEW {
        return vec![work(0..n)];
    }
    each(n.div_ceil(RUN), |k| work(k * RUN..n.min((k + 1) * RUN)))
}

fn on<T: Send>(
    cores: &'static Cores,
    most: usize,
    n: usize,
    work: impl Fn(usize) -> T + Sync,
) -> Vec<T> {
    if most < 2 || n < 2 {
        return (0..n).map(work).collect();
    }
    let (next, done) = (AtomicUsize::new(0), Mutex::new(Vec::with_capacity(n)));
    // Whoever is free takes the next: some take much longer than others.
    let one = || {
        let i = next.fetch_add(1, Ordering::Relaxed);
        let result = (i < n).then(|| work(i))?;
        let mut done = done.lock().unwrap_or_else(PoisonError::into_inner);
        done.push((i, result));
        Some(())
    };
    let one = &one;
    thread::scope(|scope| {
        loop {
            while next.load(Ordering::Relaxed) + 1 < n {
                let one_more = |at_work| (at_work < most).then_some(at_work + 1);
                let (set, fetch) = (Ordering::Relaxed, Ordering::Relaxed);
                if cores.0.fetch_update(set, fetch, one_more).is_err() {
                    break;
                }
                scope.spawn(move || {
                    let _at_work = AtWork(cores);
                    while one().is_some() {}
                });
            }
            if one().is_none() {
                break;
            }
        }
        // From here on it only waits for the others.
        cores.0.fetch_sub(1, Ordering::Relaxed);
    });
    cores.0.fetch_add(1, Ordering::Relaxed);
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
            let found = on(&CORES, threads, 7, |i| i * i);
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
    fn no_more_work_than_there_are_cores_however_deep() {
        static THREE: Cores = Cores(AtomicUsize::new(1));
        let (now, most) = (AtomicUsize::new(0), AtomicUsize::new(0));
        let inner = |_| {
            let at_work = now.fetch_add(1, Ordering::SeqCst) + 1;
            most.fetch_max(at_work, Ordering::SeqCst);
            thread::sleep(std::time::Duration::from_millis(1));
            now.fetch_sub(1, Ordering::SeqCst);
        };
        on(&THREE, 3, 6, |_| on(&THREE, 3, 6, inner).len());
        assert!(most.load(Ordering::SeqCst) <= 3, "{most:?}");
        assert_eq!(THREE.0.load(Ordering::SeqCst), 1);
    }
}
