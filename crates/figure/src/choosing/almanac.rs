use sky::{Angle, Body, Instant, Sky, SkyError};

use crate::cubic::Cubic;
use crate::{Horizon, Site};

/// The sky of an interval, reckoned every six hours and interpolated between: the longitude
/// of a body by the cubic that has its places and motions at both ends of a row, the
/// sidereal time evenly. Within 0.02″ of the ephemeris, but for 15″ of sidereal time in the
/// row of a leap second (`tests/choosing.rs`).
///
/// Moments are seconds of an even clock from its beginning. It reaches four days further
/// either way, for what must be looked up beyond.
#[derive(Clone, Debug)]
pub struct Almanac {
    from: Instant,
    until_s: f64,
    rows: Vec<Row>,
}

#[derive(Clone, Debug)]
struct Row {
    /// At Greenwich, counted on without end.
    sidereal_deg: f64,
    obliquity: Angle,
    /// In the order of [`Body::ALL`]: the longitude, and its motion in a row.
    places: [(Angle, Angle); Body::ALL.len()],
}

/// Six hours.
const ROW_S: f64 = 21_600.0;

/// The Moon stays in a sign for 2.7 days at most; and the day that holds a moment.
const BEYOND_ROWS: f64 = 16.0;

impl Almanac {
    /// Of an interval.
    ///
    /// # Errors
    /// When the interval, or four days either way, leaves the span of the ephemeris.
    pub fn of(from: Instant, until: Instant) -> Result<Almanac, SkyError> {
        let until_s = until.seconds_since(from);
        let count = (until_s / ROW_S).ceil() + 2.0 * BEYOND_ROWS + 1.0;
        let mut rows: Vec<Row> = Vec::new();
        for index in 0..count as u32 {
            let seconds = (f64::from(index) - BEYOND_ROWS) * ROW_S;
            let sky = Sky::at(from.plus_seconds(seconds))?;
            let sidereal = sky.sidereal_time();
            let sidereal_deg = match rows.last() {
                None => sidereal.deg(),
                // A quarter of a turn.
                Some(last) => {
                    let last = last.sidereal_deg;
                    last + (sidereal - Angle::from_deg(last)).in_turn().deg()
                }
            };
            rows.push(Row {
                sidereal_deg,
                obliquity: sky.obliquity(),
                places: Body::ALL.map(|body| {
                    let seen = sky.body(body);
                    (seen.longitude, seen.speed * (ROW_S / 86_400.0))
                }),
            });
        }
        Ok(Almanac {
            from,
            until_s,
            rows,
        })
    }

    /// Its beginning.
    #[must_use]
    pub const fn from(&self) -> Instant {
        self.from
    }

    /// From its beginning to its end, in seconds.
    #[must_use]
    pub const fn bounds(&self) -> (f64, f64) {
        (0.0, self.until_s)
    }

    /// The same with what is looked up beyond.
    pub(crate) fn wider(&self) -> (f64, f64) {
        let beyond_s = BEYOND_ROWS * ROW_S;
        (-beyond_s, self.until_s + beyond_s)
    }

    /// The longitude of a body, in [0°, 360°).
    #[must_use]
    pub fn longitude(&self, body: Body, seconds: f64) -> Angle {
        let (row, part) = self.row(seconds);
        Angle::from_deg(self.cubic(row, body).at(part)).in_turn()
    }

    /// Its motion in a day.
    #[must_use]
    pub fn speed(&self, body: Body, seconds: f64) -> Angle {
        let (row, part) = self.row(seconds);
        Angle::from_deg(self.cubic(row, body).slope(part) * (86_400.0 / ROW_S))
    }

    /// The horizon of a place.
    #[must_use]
    pub fn horizon(&self, site: Site, seconds: f64) -> Horizon {
        let (row, part) = self.row(seconds);
        let (a, b) = (&self.rows[row], &self.rows[row + 1]);
        let sidereal_deg = a.sidereal_deg + (b.sidereal_deg - a.sidereal_deg) * part;
        Horizon {
            sidereal_time: (Angle::from_deg(sidereal_deg) + site.longitude).in_turn(),
            obliquity: a.obliquity + (b.obliquity - a.obliquity) * part,
            latitude: site.latitude,
        }
    }

    /// Every moment, also of what lies beyond, at which the local sidereal time is what a
    /// horizon asks for; the horizon is that of a moment within a day of it.
    pub(crate) fn at_sidereal_time(
        &self,
        site: Site,
        wanted: impl Fn(&Horizon) -> Option<Angle>,
    ) -> Vec<f64> {
        const SIDEREAL_DAY_S: f64 = 86_164.1;
        let (from, until) = self.wider();
        let mut found = Vec::new();
        let mut day = from;
        while day < until {
            // The obliquity changes by a thousandth of a second of arc in a day.
            let horizon = self.horizon(site, day);
            if let Some(wanted) = wanted(&horizon) {
                let ahead = (wanted - horizon.sidereal_time).in_turn().deg() / 360.0;
                // What falls on the seam of two days is looked for from both.
                let again = (ahead < 0.01).then_some(ahead + 1.0);
                for turns in [Some(ahead), again].into_iter().flatten() {
                    let about = day + turns * SIDEREAL_DAY_S;
                    let short = self.horizon(site, about).sidereal_time.to(wanted);
                    found.push(about + short.deg() / 360.0 * SIDEREAL_DAY_S);
                }
            }
            day += SIDEREAL_DAY_S;
        }
        found
    }

    /// Every moment, also of what lies beyond, at which the longitude of a body, counted
    /// from another where one is named, is one of several; and with `turns` those at which
    /// it stands still. In order of time.
    ///
    /// Within a row it is a cubic, whose slope is a quadratic: it stands still at the roots
    /// of that and nowhere else, and runs one way between. So none is missed.
    pub(crate) fn passages(
        &self,
        body: Body,
        counted_from: Option<Body>,
        levels: &[Angle],
        turns: bool,
    ) -> Vec<f64> {
        let mut found = Vec::new();
        for row in 0..self.rows.len() - 1 {
            let begins = (row as f64 - BEYOND_ROWS) * ROW_S;
            let mut cubic = self.cubic(row, body);
            if let Some(other) = counted_from {
                cubic = cubic.less(self.cubic(row, other));
            }
            let before = found.len();
            for pair in cubic.knots().windows(2) {
                for level in levels {
                    found.extend(
                        cubic
                            .reaches(*level, (pair[0], pair[1]))
                            .map(|part| begins + part * ROW_S),
                    );
                }
            }
            if turns {
                let stands = cubic.stands().into_iter().flatten();
                found.extend(stands.map(|part| begins + part * ROW_S));
            }
            if let Some(of_row) = found.get_mut(before..) {
                of_row.sort_by(f64::total_cmp);
            }
        }
        found
    }

    /// The row that holds a moment, which always has another behind it.
    fn row(&self, seconds: f64) -> (usize, f64) {
        let last = self.rows.len() as f64 - 2.0;
        let rows = seconds / ROW_S + BEYOND_ROWS;
        let row = rows.floor().clamp(0.0, last);
        (row as usize, rows - row)
    }

    fn cubic(&self, row: usize, body: Body) -> Cubic {
        let place = |row: usize| self.rows[row].places[body as usize];
        let ((begins, first), (ends, last)) = (place(row), place(row + 1));
        Cubic::between(begins.deg(), begins.to(ends).deg(), first.deg(), last.deg())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The Moon goes 11.8° to 15.4° in a day (J. Meeus, *Astronomical Algorithms*, chapter 47,
    /// by her mean motion and largest terms): whole degrees are reached one after another,
    /// from the beginning of what is looked up beyond the interval to its end.
    #[test]
    fn every_degree_of_the_moon_is_met_with_also_beyond_the_interval() {
        const QUICKEST_S: f64 = 86_400.0 / 15.5;
        const SLOWEST_S: f64 = 86_400.0 / 11.7;
        // 2024-05-14, noon.
        let from = Instant::from_jd_ut(2_460_445.0);
        let almanac = Almanac::of(from, from.plus_seconds(86_400.0)).unwrap();
        let degrees: Vec<Angle> = (0..360)
            .map(|deg| Angle::from_deg(f64::from(deg)))
            .collect();
        let found = almanac.passages(Body::Moon, None, &degrees, true);
        let (begins, ends) = almanac.wider();
        let apart: Vec<f64> = found
            .windows(2)
            .map(|pair| pair[1] - pair[0])
            // What falls on the seam of two rows is met with in both.
            .filter(|apart| *apart > 1e-3)
            .collect();
        assert!(
            apart
                .iter()
                .all(|apart| (QUICKEST_S..SLOWEST_S).contains(apart)),
            "{apart:?}"
        );
        assert!(
            (0.0..SLOWEST_S).contains(&(found[0] - begins)),
            "{}",
            found[0]
        );
        let last = found[found.len() - 1];
        assert!((0.0..SLOWEST_S).contains(&(ends - last)), "{last}");
    }

    /// A planet that turns back stands in the degrees before its station twice within hours:
    /// a row is cut where it stands still, and both times are found.
    #[test]
    fn a_place_before_a_station_is_met_with_twice() {
        const HOUR_S: f64 = 3600.0;
        // In the year 2024 Mercury turns back, or forth again, six times or seven.
        let new_year = Instant::from_jd_ut(2_460_310.5);
        let year = Almanac::of(new_year, new_year.plus_seconds(366.0 * 86_400.0)).unwrap();
        let stations = year.passages(Body::Mercury, None, &[], true);
        assert!((6..=8).contains(&stations.len()), "{stations:?}");
        for station in stations {
            // In the middle of a row.
            let from = new_year.plus_seconds(station - 3.0 * HOUR_S);
            let almanac = Almanac::of(from, from.plus_seconds(6.0 * HOUR_S)).unwrap();
            let level = almanac.longitude(Body::Mercury, 1.5 * HOUR_S);
            let found = almanac.passages(Body::Mercury, None, &[level], false);
            let near: Vec<f64> = found
                .into_iter()
                .filter(|at| (0.0..6.0 * HOUR_S).contains(at))
                .collect();
            assert_eq!(near.len(), 2, "{near:?}");
            assert!((near[0] - 1.5 * HOUR_S).abs() < 60.0, "{near:?}");
            assert!((near[1] - 4.5 * HOUR_S).abs() < HOUR_S / 2.0, "{near:?}");
        }
    }
}
