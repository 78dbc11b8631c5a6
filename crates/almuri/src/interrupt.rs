use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use crate::failure::Failure;

/// Whether someone asked to stop (Ctrl-C, or the end of the session).
#[derive(Clone, Debug)]
pub(crate) struct Interrupt(Arc<AtomicBool>);

impl Interrupt {
    /// Listens from now on, so that what has been begun can be left in order.
    pub(crate) fn listen() -> Result<Interrupt, Failure> {
        let asked = Arc::new(AtomicBool::new(false));
        let flag = Arc::clone(&asked);
        ctrlc::set_handler(move || flag.store(true, Ordering::Relaxed)).map_err(Failure::other)?;
        Ok(Interrupt(asked))
    }

    pub(crate) fn asked(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}
