use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use patience::Patience;
use tokio::sync::Semaphore;

use crate::fault::Fault;

/// Long work, one after the other: the page's own questions need a core meanwhile.
#[derive(Clone, Debug)]
pub(crate) struct LongWork(Arc<Semaphore>);

impl Default for LongWork {
    fn default() -> LongWork {
        LongWork(Arc::new(Semaphore::new(1)))
    }
}

impl LongWork {
    /// Does some work when it is its turn, as long as the answer is waited for: whoever
    /// hangs up, or waits for longer than is waited here, stops it.
    pub(crate) async fn done<T, F>(&self, work: F) -> Result<T, Fault>
    where
        T: Send + 'static,
        F: FnOnce(Patience<'_>) -> Result<T, Fault> + Send + 'static,
    {
        let gone = Gone::default();
        let turn = Arc::clone(&self.0).acquire_owned().await;
        let turn = turn.map_err(Fault::inner)?;
        let flag = Arc::clone(&gone.0);
        let done = tokio::task::spawn_blocking(move || {
            let _turn = turn;
            work(Patience::of(&|_| !flag.load(Ordering::Relaxed)))
        });
        done.await.map_err(Fault::inner)?
    }
}

/// Whether whoever waited has gone: dropped, it says so.
#[derive(Debug, Default)]
struct Gone(Arc<AtomicBool>);

impl Drop for Gone {
    fn drop(&mut self) {
        self.0.store(true, Ordering::Relaxed);
    }
}

#[cfg(test)]
mod tests {
    use std::sync::mpsc::channel;
    use std::time::Duration;

    use super::*;

    /// Work that nobody waits for any longer stops, and lets the next begin.
    #[tokio::test]
    async fn work_does_not_outlive_its_answer() {
        let long = LongWork::default();
        let (stopped, has_stopped) = channel();
        let endless = long.done(move |patience| {
            while patience.at(0, 1).is_ok() {
                std::thread::sleep(Duration::from_millis(1));
            }
            stopped.send(()).map_err(Fault::inner)
        });
        let given_up = tokio::time::timeout(Duration::from_millis(50), endless).await;
        assert!(given_up.is_err(), "it has no end of its own");
        let next = long.done(|_| Ok(7)).await.unwrap();
        assert_eq!(next, 7);
        assert!(has_stopped.try_recv().is_ok());
    }
}
