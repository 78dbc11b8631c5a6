use std::collections::VecDeque;

use crate::{Angle, Instant, SkyError, Span};

const SECONDS_PER_DAY: f64 = 86_400.0;

/// Roots are found to this many seconds.
const FINE_SECONDS: f64 = 1e-3;

/// An angle that changes with time, at one instant of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tracked {
    /// How far it is from where it is awaited, within half a period either way.
    pub away: Angle,
    /// How much it changes in a day.
    pub rate: Angle,
}

/// What to look for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Sought {
    /// The angle passes where it is awaited; it repeats with this period.
    Passage(Angle),
    /// The angle stands still.
    Standstill,
}

/// A moment found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Found {
    /// When; to 1 ms.
    pub instant: Instant,
    /// Whether the angle grows: there, or after standing still.
    pub growing: bool,
}

/// Moments at which an angle passes or stands still, in order of time and none missed, as
/// long as within a step the angle turns round once at most and stays within half a
/// period: each stretch between turns then holds one such moment or none.
///
/// The angle is given by a function of the instant. Events of the sky itself have
/// functions of their own, such as [`passages`](crate::passages); this is for those
/// that need more than the sky.
#[derive(Debug)]
pub struct Search<F> {
    track: F,
    sought: Sought,
    step_seconds: f64,
    left: Option<(Instant, Tracked)>,
    until: Instant,
    found: VecDeque<Found>,
}

impl<F> Search<F>
where
    F: Fn(Instant) -> Result<Tracked, SkyError>,
{
    /// From one instant, included, to another, not included.
    ///
    /// # Errors
    /// When the interval leaves the span of the ephemeris.
    pub fn new(
        track: F,
        sought: Sought,
        step_days: f64,
        from: Instant,
        until: Instant,
    ) -> Result<Search<F>, SkyError> {
        let jd_tt = until.jd_tt();
        if !Span::contains_jd_tt(jd_tt) {
            return Err(Span::outside(jd_tt));
        }
        let first = track(from)?;
        Ok(Search {
            track,
            sought,
            step_seconds: step_days * SECONDS_PER_DAY,
            left: Some((from, first)),
            until,
            found: VecDeque::new(),
        })
    }

    /// Searches one step; false at the end.
    fn step(&mut self) -> Result<bool, SkyError> {
        let Some((from, first)) = self.left.take() else {
            return Ok(false);
        };
        let remaining = self.until.seconds_since(from);
        if remaining <= 0.0 {
            return Ok(false);
        }
        let width = remaining.min(self.step_seconds);
        let read = |seconds: f64| (self.track)(from.plus_seconds(seconds));
        let end = if width < remaining {
            from.plus_seconds(width)
        } else {
            self.until
        };
        let last = (self.track)(end)?;

        let turn = if first.rate.deg() * last.rate.deg() < 0.0 {
            let rate = |seconds| Ok(read(seconds)?.rate.deg());
            Some(root(
                rate,
                (0.0, first.rate.deg()),
                (width, last.rate.deg()),
            )?)
        } else {
            None
        };
        match (self.sought, turn) {
            (Sought::Standstill, Some(seconds)) => self.found.push_back(Found {
                instant: from.plus_seconds(seconds),
                growing: last.rate > Angle::ZERO,
            }),
            (Sought::Standstill, None) => {}
            (Sought::Passage(period), turn) => {
                let mut ends = vec![(0.0, first.away)];
                if let Some(seconds) = turn {
                    ends.push((seconds, read(seconds)?.away));
                }
                ends.push((width, last.away));
                for pair in ends.windows(2) {
                    let [(a, away_a), (b, away_b)] = [pair[0], pair[1]];
                    // A root at the very end belongs to the next stretch; a jump by a
                    // period, half a period from where the angle is awaited, is no root.
                    let passes = away_a == Angle::ZERO
                        || away_b != Angle::ZERO
                            && (away_a < Angle::ZERO) != (away_b < Angle::ZERO);
                    if passes && (away_b - away_a).abs() < period / 2.0 {
                        let away = |seconds| Ok(read(seconds)?.away.deg());
                        let seconds = root(away, (a, away_a.deg()), (b, away_b.deg()))?;
                        self.found.push_back(Found {
                            instant: from.plus_seconds(seconds),
                            growing: away_b > away_a,
                        });
                    }
                }
            }
        }
        self.left = Some((end, last));
        Ok(true)
    }
}

impl<F> Iterator for Search<F>
where
    F: Fn(Instant) -> Result<Tracked, SkyError>,
{
    type Item = Result<Found, SkyError>;

    fn next(&mut self) -> Option<Self::Item> {
        loop {
            if let Some(found) = self.found.pop_front() {
                return Some(Ok(found));
            }
            match self.step() {
                Ok(true) => {}
                Ok(false) => return None,
                Err(error) => return Some(Err(error)),
            }
        }
    }
}

/// Where a function that changes sign between two points is zero: the false position,
/// with the weight of an end that stays put halved (the Illinois rule).
fn root(
    f: impl Fn(f64) -> Result<f64, SkyError>,
    mut a: (f64, f64),
    mut b: (f64, f64),
) -> Result<f64, SkyError> {
    const ENOUGH: u32 = 100;
    for _ in 0..ENOUGH {
        if a.1.abs() < f64::MIN_POSITIVE {
            return Ok(a.0);
        }
        let x = (a.0 * b.1 - b.0 * a.1) / (b.1 - a.1);
        let y = f(x)?;
        if y.abs() < f64::MIN_POSITIVE || (x - b.0).abs() < FINE_SECONDS {
            return Ok(x);
        }
        if (y < 0.0) == (b.1 < 0.0) {
            a.1 /= 2.0;
        } else {
            a = b;
        }
        b = (x, y);
    }
    Ok(b.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// One swing of a pendulum passes zero twice within a step.
    #[test]
    fn both_roots_around_a_turn() -> Result<(), SkyError> {
        let start = Instant::from_jd_tt(2_451_545.0);
        let pendulum = |instant: Instant| {
            let days = instant.seconds_since(start) / SECONDS_PER_DAY;
            Ok(Tracked {
                away: Angle::from_deg((days - 5.0).powi(2) - 4.0),
                rate: Angle::from_deg(2.0 * (days - 5.0)),
            })
        };
        let search = |sought| -> Result<Vec<f64>, SkyError> {
            let end = start.plus_seconds(20.0 * SECONDS_PER_DAY);
            Search::new(pendulum, sought, 10.0, start, end)?
                .map(|found| Ok(found?.instant.seconds_since(start) / SECONDS_PER_DAY))
                .collect()
        };
        let close = |found: Vec<f64>, given: &[f64]| {
            found.len() == given.len() && found.iter().zip(given).all(|(f, g)| (f - g).abs() < 1e-7)
        };
        assert!(close(
            search(Sought::Passage(Angle::FULL_TURN))?,
            &[3.0, 7.0]
        ));
        assert!(close(search(Sought::Standstill)?, &[5.0]));
        Ok(())
    }
}
