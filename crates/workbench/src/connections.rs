use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use tokio::sync::Notify;

/// The connections that are open, and which of them is let go when there are too many.
///
/// Whoever has shown the session's cookie is known. Others reach the loopback address too,
/// and may open as many connections as they like: each new one pushes out the oldest that
/// is not known, and never one of the page's.
#[derive(Clone, Debug)]
pub(crate) struct Connections {
    most: usize,
    all: Arc<Mutex<All>>,
}

#[derive(Debug, Default)]
struct All {
    /// Counts connections and questions.
    now: u64,
    open: BTreeMap<u64, Standing>,
}

/// How it stands with a connection.
#[derive(Debug)]
struct Standing {
    /// When it last asked with the cookie.
    known: Option<u64>,
    /// Whether an answer is being worked for it.
    working: bool,
    let_go: Arc<Notify>,
}

/// A connection that is open; dropped, it is closed.
#[derive(Debug)]
pub(crate) struct Connection {
    number: u64,
    connections: Connections,
    let_go: Arc<Notify>,
}

impl Connections {
    pub(crate) fn at_most(most: usize) -> Connections {
        Connections {
            most,
            all: Arc::default(),
        }
    }

    /// Takes up a connection, and lets another go where there are too many; none where
    /// all of them are being worked for.
    pub(crate) fn open(&self) -> Option<Arc<Connection>> {
        if self.all().open.len() >= self.most && !self.let_one_go() {
            return None;
        }
        let let_go = Arc::new(Notify::new());
        let mut all = self.all();
        all.now += 1;
        let number = all.now;
        all.open.insert(
            number,
            Standing {
                known: None,
                working: false,
                let_go: Arc::clone(&let_go),
            },
        );
        Some(Arc::new(Connection {
            number,
            connections: self.clone(),
            let_go,
        }))
    }

    /// Lets the oldest go that is not known; else the one that asked longest ago of those
    /// that nothing is worked for. Whether there was one.
    pub(crate) fn let_one_go(&self) -> bool {
        let mut all = self.all();
        let idle = all.open.iter().filter(|(_, one)| !one.working);
        let first = idle.min_by_key(|(number, one)| (one.known, **number));
        let Some(number) = first.map(|(number, _)| *number) else {
            return false;
        };
        if let Some(gone) = all.open.remove(&number) {
            gone.let_go.notify_one();
        }
        true
    }

    fn all(&self) -> MutexGuard<'_, All> {
        self.all.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Connection {
    /// Waits until it is let go.
    pub(crate) async fn is_let_go(&self) {
        self.let_go.notified().await;
    }

    /// It has shown the cookie.
    pub(crate) fn is_known(&self) {
        let mut all = self.connections.all();
        all.now += 1;
        let now = all.now;
        if let Some(standing) = all.open.get_mut(&self.number) {
            standing.known = Some(now);
        }
    }

    /// An answer is worked for it as long as this lives.
    pub(crate) fn works(self: Arc<Connection>) -> Working {
        self.set_working(true);
        Working(self)
    }

    fn set_working(&self, working: bool) {
        let mut all = self.connections.all();
        if let Some(standing) = all.open.get_mut(&self.number) {
            standing.working = working;
        }
    }
}

impl Drop for Connection {
    fn drop(&mut self) {
        self.connections.all().open.remove(&self.number);
    }
}

/// That an answer is being worked for a connection.
#[derive(Debug)]
pub(crate) struct Working(Arc<Connection>);

impl Drop for Working {
    fn drop(&mut self) {
        self.0.set_working(false);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn open(connections: &Connections) -> Vec<u64> {
        connections.all().open.keys().copied().collect()
    }

    #[test]
    fn strangers_push_out_strangers_and_then_whoever_is_idle() {
        let connections = Connections::at_most(3);
        let page = connections.open().unwrap();
        let strangers = [connections.open().unwrap(), connections.open().unwrap()];
        page.is_known();
        let third = connections.open().unwrap();
        assert_eq!(
            open(&connections),
            [page.number, strangers[1].number, third.number]
        );
        third.is_known();
        strangers[1].is_known();
        // All are known: the page asked longest ago, and is being worked for.
        let working = Arc::clone(&page).works();
        let fourth = connections.open().unwrap();
        assert_eq!(
            open(&connections),
            [page.number, strangers[1].number, fourth.number]
        );
        drop(working);
        let all = [&page, &strangers[1], &fourth].map(|one| Arc::clone(one).works());
        assert!(connections.open().is_none());
        drop(all);
        drop(page);
        assert_eq!(open(&connections).len(), 2);
    }

    #[tokio::test]
    async fn whoever_is_let_go_hears_of_it() {
        let connections = Connections::at_most(1);
        let first = connections.open().unwrap();
        let _second = connections.open().unwrap();
        first.is_let_go().await;
    }
}
