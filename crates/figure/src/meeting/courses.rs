use sky::{Angle, Body, Instant, Sky};

use super::{Exact, Meeting, Stands};
use crate::cubic::Cubic;

/// The paths of bodies about a moment: every six hours for a month either way, and without
/// the Moon every day for 400 days; fewer where the ephemeris ends before.
///
/// Between two rows a path is a cubic with the places and motions of both, so that no
/// meeting is passed over that a cubic has; then each is sought out in the ephemeris itself,
/// to a hundredth of a second.
#[derive(Clone, Debug)]
pub struct Courses {
    from: Instant,
    bodies: Vec<Body>,
    near: Table,
    far: Table,
    /// Whether the ephemeris is behind it; else places and motions as a book gives them.
    of_the_sky: bool,
}

#[derive(Clone, Debug)]
struct Table {
    step_s: f64,
    /// When its first row is, in seconds from the moment.
    begins_s: f64,
    rows: Vec<Vec<Spot>>,
}

/// A body at a row: places in degrees, motions in degrees a row.
#[derive(Clone, Copy, Debug)]
struct Spot {
    longitude: f64,
    motion: f64,
    declination: f64,
    drift: f64,
}

const DAY_S: f64 = 86_400.0;
const NEAR: (f64, u32) = (21_600.0, 128);
const FAR: (f64, u32) = (DAY_S, 400);

impl Courses {
    /// How long before and after the moment is searched where the Moon has no part.
    pub const REACH_DAYS: u32 = FAR.1;

    /// Of some bodies about a moment.
    #[must_use]
    pub fn about(from: Instant, bodies: &[Body]) -> Courses {
        let spots = |seconds: f64, step_s: f64| {
            let sky = Sky::at(from.plus_seconds(seconds)).ok()?;
            let spot = |body: &Body| {
                let place = sky.body(*body);
                Spot {
                    longitude: place.longitude.deg(),
                    motion: place.speed.deg() * (step_s / DAY_S),
                    declination: place.declination.deg(),
                    drift: 0.0,
                }
            };
            Some(bodies.iter().map(spot).collect())
        };
        Courses {
            from,
            bodies: bodies.to_vec(),
            near: Table::of(NEAR, spots),
            far: Table::of(FAR, spots),
            of_the_sky: true,
        }
    }

    /// Of places and even motions in a day, as the examples of books give them. There are
    /// no latitudes.
    #[must_use]
    pub fn even(from: Instant, given: &[(Body, Angle, Angle)]) -> Courses {
        let spots = |seconds: f64, step_s: f64| {
            let spot = |(_, place, speed): &(Body, Angle, Angle)| Spot {
                longitude: (*place + *speed * (seconds / DAY_S)).in_turn().deg(),
                motion: speed.deg() * (step_s / DAY_S),
                declination: 0.0,
                drift: 0.0,
            };
            Some(given.iter().map(spot).collect())
        };
        Courses {
            from,
            bodies: given.iter().map(|(body, ..)| *body).collect(),
            near: Table::of(NEAR, spots),
            far: Table::of(FAR, spots),
            of_the_sky: false,
        }
    }

    /// The bodies.
    #[must_use]
    pub fn bodies(&self) -> &[Body] {
        &self.bodies
    }

    /// Every moment at which two bodies come together, in order; those of the Moon within a
    /// month.
    #[must_use]
    pub fn meetings(&self, one: Body, other: Body, meeting: Meeting) -> Vec<Exact> {
        let levels = meeting.levels();
        let found = self.cubics(one, other, meeting, |cubic, ends| {
            levels
                .iter()
                .filter_map(|level| cubic.reaches(*level, ends))
                .collect()
        });
        let found = found.into_iter();
        found
            .map(|about_s| self.sought_out(one, other, meeting, about_s))
            .collect()
    }

    /// The one before the moment and the one after it, if there are such.
    #[must_use]
    pub fn beside(&self, one: Body, other: Body, meeting: Meeting) -> [Option<Exact>; 2] {
        let all = self.meetings(one, other, meeting);
        let before = all.iter().rev().find(|exact| exact.seconds <= 0.0);
        let after = all.iter().find(|exact| exact.seconds > 0.0);
        [before.copied(), after.copied()]
    }

    /// When two bodies next stop drawing nearer to each other, or further apart.
    pub(super) fn turns_after(&self, one: Body, other: Body, meeting: Meeting) -> Option<f64> {
        let turns = self.cubics(one, other, meeting, |cubic, (begins, ends)| {
            let stands = cubic.stands().into_iter().flatten();
            stands.filter(|u| (begins..ends).contains(u)).collect()
        });
        turns.into_iter().find(|seconds| *seconds > 0.0)
    }

    /// When a body is at one of some longitudes, in order.
    pub(super) fn passages(&self, body: Body, levels: &[Angle]) -> Vec<f64> {
        let Some(index) = self.index(body) else {
            return Vec::new();
        };
        self.table(body, body).found(
            |row, next| longitudes(row, next, index),
            |cubic, ends| {
                let reached = levels.iter().map(|level| cubic.reaches(*level, ends));
                reached.flatten().collect()
            },
        )
    }

    /// When a body stands still, in order; to some minutes of a slow planet's.
    #[must_use]
    pub fn stations(&self, body: Body) -> Vec<Stands> {
        let Some(index) = self.index(body) else {
            return Vec::new();
        };
        let table = self.table(body, body);
        let cubic = |row: &[Spot], next: &[Spot]| longitudes(row, next, index);
        // Every stand parts two stretches: it is the end of the first.
        let stands = |cubic: Cubic, (_, ends): (f64, f64)| {
            let all = cubic.stands().into_iter().flatten();
            all.filter(|u| (u - ends).abs() < 1e-12).collect()
        };
        let backward = |seconds: f64| {
            let (row, next, part) = table.row(seconds + table.step_s / 100.0)?;
            Some(cubic(row, next).slope(part) < 0.0)
        };
        let found = table.found(cubic, stands).into_iter();
        found
            .filter_map(|seconds| {
                Some(Stands {
                    body,
                    exact: self.exact(seconds),
                    turns_retrograde: backward(seconds)?,
                })
            })
            .collect()
    }

    /// The longitude of a body and its motion in a day.
    #[must_use]
    pub fn place(&self, body: Body, seconds: f64) -> Option<(Angle, Angle)> {
        let index = self.index(body)?;
        let table = self.table(body, body);
        let (row, next, part) = table.row(seconds)?;
        let cubic = longitudes(row, next, index);
        let daily = cubic.slope(part) * (DAY_S / table.step_s);
        Some((
            Angle::from_deg(cubic.at(part)).in_turn(),
            Angle::from_deg(daily),
        ))
    }

    pub(super) fn exact(&self, seconds: f64) -> Exact {
        Exact {
            at: self.from.plus_seconds(seconds),
            seconds,
        }
    }

    fn index(&self, body: Body) -> Option<usize> {
        self.bodies.iter().position(|one| *one == body)
    }

    fn table(&self, one: Body, other: Body) -> &Table {
        if one == Body::Moon || other == Body::Moon {
            &self.near
        } else {
            &self.far
        }
    }

    /// What is found in the rows, each cut where the path turns, in seconds.
    fn cubics(
        &self,
        one: Body,
        other: Body,
        meeting: Meeting,
        find: impl Fn(Cubic, (f64, f64)) -> Vec<f64>,
    ) -> Vec<f64> {
        let (Some(a), Some(b)) = (self.index(one), self.index(other)) else {
            return Vec::new();
        };
        let cubic = |row: &[Spot], next: &[Spot]| {
            let path = |index| (longitudes(row, next, index), declinations(row, next, index));
            meeting.cubic(path(a), path(b))
        };
        self.table(one, other).found(cubic, find)
    }

    /// The moment itself, from one that the table gives: by the secant through the
    /// ephemeris. Where two paths graze each other that may lead away; then the table's
    /// moment stands.
    fn sought_out(&self, one: Body, other: Body, meeting: Meeting, about_s: f64) -> Exact {
        const MOST_STEPS: u32 = 12;
        const SETTLED_S: f64 = 0.003;
        if !self.of_the_sky {
            return self.exact(about_s);
        }
        let furthest_s = self.table(one, other).step_s / 4.0;
        let off = |seconds: f64| {
            let sky = Sky::at(self.from.plus_seconds(seconds)).ok()?;
            Some(meeting.away(&sky.body(one), &sky.body(other)).deg())
        };
        let settled = || {
            let (mut a, mut b) = (about_s, about_s + 60.0);
            let (mut off_a, mut off_b) = (off(a)?, off(b)?);
            for _ in 0..MOST_STEPS {
                let slope = (off_b - off_a) / (b - a);
                let next = b - off_b / slope;
                if !next.is_finite() || (next - about_s).abs() > furthest_s {
                    return None;
                }
                if (next - b).abs() < SETTLED_S {
                    return Some(next);
                }
                (a, off_a) = (b, off_b);
                (b, off_b) = (next, off(next)?);
            }
            None
        };
        self.exact(settled().unwrap_or(about_s))
    }
}

impl Table {
    /// With as many rows either way, as far as there is a sky.
    fn of((step_s, each_way): (f64, u32), spots: impl Fn(f64, f64) -> Option<Vec<Spot>>) -> Table {
        let row = |index: u32, way: f64| spots(f64::from(index) * step_s * way, step_s);
        let mut rows: Vec<Vec<Spot>> = (1..=each_way).map_while(|i| row(i, -1.0)).collect();
        let begins_s = -(rows.len() as f64) * step_s;
        rows.reverse();
        rows.extend((0..=each_way).map_while(|i| row(i, 1.0)));
        // The drift of the declination, from the rows on both sides.
        for index in 1..rows.len().saturating_sub(1) {
            for body in 0..rows[index].len() {
                let across = rows[index + 1][body].declination - rows[index - 1][body].declination;
                rows[index][body].drift = across / 2.0;
            }
        }
        Table {
            step_s,
            begins_s,
            rows,
        }
    }

    /// What is found of a path that a function gives of two rows, cut where it turns, in
    /// seconds and in order.
    fn found(
        &self,
        cubic: impl Fn(&[Spot], &[Spot]) -> Cubic,
        find: impl Fn(Cubic, (f64, f64)) -> Vec<f64>,
    ) -> Vec<f64> {
        let mut found = Vec::new();
        for (index, pair) in self.rows.windows(2).enumerate() {
            let cubic = cubic(&pair[0], &pair[1]);
            let begins = self.begins_s + index as f64 * self.step_s;
            let mut parts: Vec<f64> = Vec::new();
            for ends in cubic.knots().windows(2) {
                parts.extend(find(cubic, (ends[0], ends[1])));
            }
            parts.sort_by(f64::total_cmp);
            found.extend(parts.into_iter().map(|part| begins + part * self.step_s));
        }
        // What falls on the seam of two rows is met with in both.
        found.dedup_by(|later, earlier| *later - *earlier < 1e-3);
        found
    }

    fn row(&self, seconds: f64) -> Option<(&[Spot], &[Spot], f64)> {
        let rows = (seconds - self.begins_s) / self.step_s;
        let last = self.rows.len().checked_sub(2)?;
        if rows < 0.0 || rows > last as f64 + 1.0 {
            return None;
        }
        let index = (rows.floor() as usize).min(last);
        Some((
            &self.rows[index],
            &self.rows[index + 1],
            rows - index as f64,
        ))
    }
}

fn longitudes(row: &[Spot], next: &[Spot], index: usize) -> Cubic {
    let (a, b) = (row[index], next[index]);
    let on = Angle::from_deg(a.longitude).to(Angle::from_deg(b.longitude));
    // The short way is the way it went, for even the Moon goes less than 16° in a row.
    Cubic::between(a.longitude, on.deg(), a.motion, b.motion)
}

fn declinations(row: &[Spot], next: &[Spot], index: usize) -> Cubic {
    let (a, b) = (row[index], next[index]);
    let on = b.declination - a.declination;
    Cubic::between(a.declination, on, a.drift, b.drift)
}
