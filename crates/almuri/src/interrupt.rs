use std::cell::RefCell;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use patience::Patience;

use crate::begun;
use crate::failure::Failure;
use crate::progress::Progress;

/// Whether someone asked to stop: Ctrl-C, or the end of the session.
static ASKED: AtomicBool = AtomicBool::new(false);

/// Whether what is under way stops by itself, however long that takes.
static IN_ORDER: AtomicBool = AtomicBool::new(false);

/// How long work may take to notice that it is to stop.
const LAST_WAIT: Duration = Duration::from_millis(150);

/// What is told of work that was stopped.
pub(crate) const STOPPED: &str = "stopped; nothing was written";

/// What is told where a casebook may have been in the midst of a change.
pub(crate) const CASEBOOK_STOPPED: &str = "stopped; a change of the casebook that was under way is made whole or not at all, and a deletion once begun is finished by the next command";

/// Listens from now on. Work that has not noticed after a moment is ended with the
/// program, what it had begun is taken away, and this is told.
pub(crate) fn listen(stopped: &'static str) -> Result<(), Failure> {
    let stop = move || {
        ASKED.store(true, Ordering::SeqCst);
        if !IN_ORDER.load(Ordering::SeqCst) {
            std::thread::sleep(LAST_WAIT);
            let code = Failure::other(stopped).report_plainly();
            begun::end(code.into());
        }
    };
    ctrlc::set_handler(stop).map_err(Failure::other)
}

/// Whether someone asked to stop.
pub(crate) fn asked() -> bool {
    ASKED.load(Ordering::SeqCst)
}

/// From now on what is under way looks itself whether it is [`asked`] to stop, and leaves
/// what it wrote so that it can be gone on with.
pub(crate) fn stops_in_order() {
    IN_ORDER.store(true, Ordering::SeqCst);
}

/// Does some work, tells a terminal how far it is, and leaves it when someone asks to
/// stop.
pub(crate) fn work<T>(work: impl FnOnce(Patience<'_>) -> Result<T, Failure>) -> Result<T, Failure> {
    /// Parts of the whole that progress tells apart.
    const PARTS: f64 = 1000.0;
    let progress = RefCell::new(Progress::new(PARTS as u64, false));
    let waits = |share: f64| {
        progress.borrow_mut().at((share * PARTS) as u64);
        !asked()
    };
    let worked = work(Patience::of(&waits));
    drop(progress);
    if asked() {
        return Err(Failure::other(STOPPED));
    }
    worked
}
