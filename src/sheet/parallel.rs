//! Work done for each of several sheets at the same time; the results come in order, whatever was done first.

use std::thread;

/// Does something for every index below `n`.
pub fn each<T: Send>(n: usize, work: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let threads = thread::available_parallelism()
        .map_or(1, usize::from)
        .min(n);
    if threads < 2 {
        return (0..n).map(work).collect();
    }
    let share = |k: usize| {
        (k..n)
            .step_by(threads)
            .map(|i| (i, work(i)))
            .collect::<Vec<_>>()
    };
    let mut done: Vec<(usize, T)> = thread::scope(|scope| {
        let share = &share;
        let handles: Vec<_> = (0..threads)
            .map(|k| scope.spawn(move || share(k)))
            .collect();
        let joined = handles.into_iter().flat_map(|h| match h.join() {
            Ok(done) => done,
            Err(panic) => std::panic::resume_unwind(panic),
        });
        joined.collect()
    });
    done.sort_by_key(|(i, _)| *i);
    done.into_iter().map(|(_, t)| t).collect()
}

#[cfg(test)]
mod tests {
    use super::each;

    #[test]
    fn results_come_in_order() {
        assert_eq!(each(7, |i| i * i), [0, 1, 4, 9, 16, 25, 36]);
        assert!(each(0, |i| i).is_empty());
    }
}
