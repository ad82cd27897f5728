//! The core of slabwalk behind a page: three functions by which a browser asks it.
//!
//! The page asks for [`room`], writes a request there, calls [`answer`], and reads the answer's bytes from
//! [`answered`] on. A request is the text of its first line (`GET /api/state`), a line feed, and a body; an
//! answer is a first line (`200 application/json`), a line feed, and a body. What a request means is
//! [`slabwalk::live::pocket`]'s. Should the core panic, it ends there; the page throws its memory away and
//! opens the sketch in a new one.
//!
//! A crate of its own, because a name that a browser can call must be exported unmangled, which counts as
//! unsafe, and slabwalk forbids all of that. There is no unsafe block here either: no pointer is followed, the
//! page alone does that, between two calls, while nothing else runs.

use std::cell::RefCell;

use slabwalk::live::pocket::Pocket;

#[derive(Default)]
struct Core {
    pocket: Pocket,
    request: Vec<u8>,
    answer: Vec<u8>,
}

thread_local! {
    static CORE: RefCell<Core> = RefCell::default();
}

/// Makes room for a request of that many bytes and says where it is.
#[allow(unsafe_code, reason = "exported by its name")]
#[unsafe(no_mangle)]
pub extern "C" fn room(length: usize) -> *mut u8 {
    CORE.with_borrow_mut(|core| {
        core.request = vec![0; length];
        core.request.as_mut_ptr()
    })
}

/// Answers the request that was written; the length of the answer, bytes.
#[allow(unsafe_code, reason = "exported by its name")]
#[unsafe(no_mangle)]
pub extern "C" fn answer() -> usize {
    CORE.with_borrow_mut(|core| {
        let request = std::mem::take(&mut core.request);
        core.answer = core.pocket.answer(&request);
        core.answer.len()
    })
}

/// Where the answer is.
#[allow(unsafe_code, reason = "exported by its name")]
#[unsafe(no_mangle)]
pub extern "C" fn answered() -> *const u8 {
    CORE.with_borrow(|core| core.answer.as_ptr())
}
