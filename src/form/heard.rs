//! For tests: which records the readers read, with the keys that they know.

use std::cell::RefCell;
use std::collections::BTreeMap;

thread_local! {
    static HEARD: RefCell<Option<BTreeMap<String, Vec<String>>>> = const { RefCell::new(None) };
}

/// Begins to listen on this thread.
pub(crate) fn start() {
    HEARD.set(Some(BTreeMap::new()));
}

/// Ends listening and gives what was heard: what a record is called, and its keys in the order of the
/// alphabet.
pub(crate) fn stop() -> BTreeMap<String, Vec<String>> {
    HEARD.take().unwrap_or_default()
}

/// Notes a record that is read.
pub(super) fn record(what: &str, known: &[&str]) {
    HEARD.with_borrow_mut(|heard| {
        if let Some(heard) = heard {
            let mut keys: Vec<String> = known.iter().map(|key| (*key).to_owned()).collect();
            keys.sort();
            keys.dedup();
            heard.insert(what.to_owned(), keys);
        }
    });
}
