use sky::{Angle, Body, Sign, Sky};

use crate::{Border, Choices, Figure, Horizon, House, Planet, sign_and_degree};

/// Something in a figure that a little time would change.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Close {
    /// What would change, from what to what.
    pub change: Change,
    /// By how many seconds the clock would have to be later (negative: earlier).
    pub seconds: f64,
    /// How far it is from the border now, where the border is a degree: positive
    /// when the border is further on in the order of the signs.
    pub away: Option<Angle>,
}

/// What changes, from what to what.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Change {
    /// A body's house.
    House(Body, House, House),
    /// The sign on the ascendant.
    Ascendant(Sign, Sign),
    /// The sign on the midheaven.
    Midheaven(Sign, Sign),
    /// The planet of the hour.
    Hour(Planet, Planet),
    /// The Sun rises (true) or sets.
    Sect(bool),
}

/// Seconds of sidereal time in one of the clock, in degrees of the equator.
const DEGREES_PER_SECOND: f64 = 360.985_647 / 86_400.0;

impl Figure {
    /// What would be otherwise if the clock were up to so many seconds wrong: the
    /// first change either way of each body's house, of the signs on the angles, of
    /// the hour and of the sect. The nearest first; to a tenth of a second.
    #[must_use]
    pub fn close_calls(&self, sky: &Sky, choices: &Choices, within_s: f64) -> Vec<Close> {
        let later = |seconds: f64| Horizon {
            sidereal_time: self.horizon.sidereal_time
                + Angle::from_deg(seconds * DEGREES_PER_SECOND),
            ..self.horizon
        };
        let mut found = Vec::new();
        for end in [-within_s, within_s] {
            for placed in &self.bodies {
                let moved = |seconds: f64| {
                    placed.place.longitude + placed.place.speed * (seconds / 86_400.0)
                };
                let house = |seconds: f64| {
                    let cusps = choices.method.cusps(&later(seconds)).ok()?;
                    Some(choices.border.house_of(&cusps, moved(seconds)))
                };
                if let Some((seconds, from, to)) = first_change(house, end) {
                    found.push(Close {
                        change: Change::House(placed.body, from, to),
                        seconds,
                        away: self.away(choices.border, placed.place.longitude, from, to),
                    });
                }
            }
            let ascendant =
                |seconds: f64| Some(sign_and_degree(later(seconds).ascendant().ok()?).0);
            if let Some((seconds, from, to)) = first_change(ascendant, end) {
                found.push(Close {
                    change: Change::Ascendant(from, to),
                    seconds,
                    away: self.ascendant.ok().map(|at| to_border(at, from, to)),
                });
            }
            let midheaven = |seconds: f64| Some(sign_and_degree(later(seconds).midheaven()).0);
            if let Some((seconds, from, to)) = first_change(midheaven, end) {
                found.push(Close {
                    change: Change::Midheaven(from, to),
                    seconds,
                    away: Some(to_border(self.midheaven, from, to)),
                });
            }
            let sun = sky.sun();
            let up = |seconds: f64| {
                let sun = later(seconds).position(sun.right_ascension, sun.declination);
                Some(sun.altitude > Angle::ZERO)
            };
            if let Some((seconds, _, to)) = first_change(up, end) {
                found.push(Close {
                    change: Change::Sect(to),
                    seconds,
                    away: None,
                });
            }
        }
        found.extend(self.close_hours(sky, within_s));
        found.sort_by(|a, b| a.seconds.abs().total_cmp(&b.seconds.abs()));
        found
    }

    fn close_hours(&self, sky: &Sky, within_s: f64) -> Vec<Close> {
        let Ok(hour) = &self.hour else {
            return Vec::new();
        };
        let now = sky.instant();
        let ends = [
            (hour.begins.seconds_since(now), hour.ruler.down(6)),
            (hour.ends.seconds_since(now), hour.ruler.down(1)),
        ];
        ends.into_iter()
            .filter(|(seconds, _)| seconds.abs() <= within_s)
            .map(|(seconds, to)| Close {
                change: Change::Hour(hour.ruler, to),
                seconds,
                away: None,
            })
            .collect()
    }

    /// From a body to the border of the houses between which it stands.
    fn away(&self, border: Border, longitude: Angle, from: House, to: House) -> Option<Angle> {
        let cusps = self.cusps.as_ref().ok()?;
        let begins = if from.next() == to { to } else { from };
        Some(longitude.to(border.of_house(cusps, begins)))
    }
}

fn to_border(longitude: Angle, from: Sign, to: Sign) -> Angle {
    let onward = (to as usize + 12 - from as usize) % 12 == 1;
    longitude.to(if onward { to.begins() } else { from.begins() })
}

/// The first change of something between now and a time, and from what to what.
fn first_change<T: PartialEq>(at: impl Fn(f64) -> Option<T>, end_s: f64) -> Option<(f64, T, T)> {
    const FINE_S: f64 = 0.05;
    let now = at(0.0)?;
    let mut then = at(end_s)?;
    if then == now {
        return None;
    }
    let (mut same, mut changed) = (0.0, end_s);
    while (changed - same).abs() > FINE_S {
        let middle = (same + changed) / 2.0;
        match at(middle) {
            Some(there) if there != now => {
                changed = middle;
                then = there;
            }
            Some(_) => same = middle,
            None => return None,
        }
    }
    Some((changed, now, then))
}
