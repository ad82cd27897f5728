//! Ctrl-C while files are put in their place: it waits until they are, so that nothing has to be cleared after it.

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};
use std::thread;
use std::time::Duration;

use signal_hook::consts::{SIGINT, SIGTERM};
use signal_hook::{flag, low_level};

/// What the signals are told and tell.
#[derive(Debug, Default)]
struct Signals {
    /// Nothing is being put in place: a signal ends the program at once.
    idle: Arc<AtomicBool>,
    /// A signal came: a second one ends the program at once.
    came: Arc<AtomicBool>,
    /// Which one, 0 for none.
    which: Arc<AtomicUsize>,
    /// How many are putting something in place.
    holding: Mutex<usize>,
}

static SIGNALS: OnceLock<Signals> = OnceLock::new();

/// While it lives, Ctrl-C and a request to end wait for it.
#[derive(Debug)]
pub(super) struct Hold(());

/// Holds signals back until the result is dropped. The first time, signals begin to be heard; not for `live`, which hears them
/// in its own way.
pub(super) fn hold() -> Hold {
    let signals = SIGNALS.get_or_init(Signals::heard);
    let mut holding = signals.lock();
    if signals.which.load(Ordering::SeqCst) != 0 {
        // The program is ending, and nothing new is begun.
        drop(holding);
        signals.end_once_idle();
        holding = signals.lock();
    }
    signals.idle.store(false, Ordering::SeqCst);
    *holding += 1;
    Hold(())
}

impl Drop for Hold {
    fn drop(&mut self) {
        let Some(signals) = SIGNALS.get() else { return };
        let mut holding = signals.lock();
        *holding = holding.saturating_sub(1);
        if *holding == 0 {
            signals.idle.store(true, Ordering::SeqCst);
            signals.end_if_told();
        }
    }
}

impl Signals {
    /// Hears the signals that end a program. Where they can't be heard they end it at once, as before.
    fn heard() -> Self {
        let signals = Self::default();
        signals.idle.store(true, Ordering::SeqCst);
        for signal in [SIGINT, SIGTERM] {
            // They are called in this order: the second signal finds what the first one noted.
            let _ = flag::register_conditional_default(signal, Arc::clone(&signals.idle))
                .and_then(|_| flag::register_conditional_default(signal, Arc::clone(&signals.came)))
                .and_then(|_| {
                    let number = usize::try_from(signal).unwrap_or(1);
                    flag::register_usize(signal, Arc::clone(&signals.which), number)
                })
                .and_then(|_| flag::register(signal, Arc::clone(&signals.came)));
        }
        signals
    }

    fn lock(&self) -> MutexGuard<'_, usize> {
        self.holding.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Ends the program as the signal would have, if one came.
    fn end_if_told(&self) {
        let signal = i32::try_from(self.which.load(Ordering::SeqCst)).unwrap_or(0);
        if signal != 0 {
            let _ = low_level::emulate_default_handler(signal);
        }
    }

    /// Waits until all others are done, and ends the program.
    fn end_once_idle(&self) {
        while *self.lock() > 0 {
            thread::sleep(Duration::from_millis(5));
        }
        self.end_if_told();
    }
}
