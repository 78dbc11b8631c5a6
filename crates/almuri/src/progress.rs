use std::io::{IsTerminal, Write};
use std::time::{Duration, Instant};

/// How far a long task is, in one line of standard error; nothing where that is no
/// terminal.
#[derive(Debug)]
pub(crate) struct Progress {
    total: u64,
    shown: Option<Instant>,
    begun: Instant,
    drawn: bool,
}

const WIDTH: usize = 40;
const PAUSE: Duration = Duration::from_millis(100);

impl Progress {
    /// Of a task of so many parts; `quiet` where the answer itself goes to the terminal.
    pub(crate) fn new(total: u64, quiet: bool) -> Progress {
        let visible = !quiet && std::io::stderr().is_terminal();
        let now = Instant::now();
        Progress {
            total,
            shown: visible.then_some(now),
            begun: now,
            drawn: false,
        }
    }

    /// Notes that a number of parts is done, and shows it from time to time.
    pub(crate) fn at(&mut self, done: u64) {
        let Some(shown) = self.shown else { return };
        if shown.elapsed() < PAUSE {
            return;
        }
        self.shown = Some(Instant::now());
        self.drawn = true;
        let line = line(done, self.total, self.begun.elapsed());
        write(&format!("\r{line}"));
    }
}

impl Drop for Progress {
    /// Leaves the terminal as it was.
    fn drop(&mut self) {
        if self.drawn {
            write("\r\x1b[K");
        }
    }
}

fn line(done: u64, total: u64, taken: Duration) -> String {
    let share = done as f64 / total.max(1) as f64;
    let full = ((share * WIDTH as f64) as usize).min(WIDTH);
    let left = taken.as_secs_f64() * (1.0 / share.max(1e-9) - 1.0);
    format!(
        "{}{} {:3.0} %, {:.0} s to go\x1b[K",
        "█".repeat(full),
        "░".repeat(WIDTH - full),
        share * 100.0,
        left
    )
}

fn write(text: &str) {
    let mut out = std::io::stderr().lock();
    // Where standard error is gone there is nobody left to see it.
    let _ = out.write_all(text.as_bytes()).and_then(|()| out.flush());
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_of_progress() {
        let half = line(50, 100, Duration::from_secs(3));
        assert_eq!(half.matches('█').count(), WIDTH / 2);
        assert!(half.contains(" 50 %, 3 s to go"), "{half}");
        assert_eq!(line(100, 100, PAUSE).matches('░').count(), 0);
        assert_eq!(line(0, 0, PAUSE).matches('░').count(), WIDTH);
    }
}
