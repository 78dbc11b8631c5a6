use moment::Calendar;
use sky::{Angle, JulianEpoch, Star};

use super::fit::{Estimate, least_squares, median};
use super::measurements::{MeasuredCalendar, MeasuredStar, Measurements};
use crate::date_scale::DateScale;
use crate::length::Length;
use crate::projection::Projection;
use crate::specification::{DateFrom, DateScaleFor, DayStrokes};

/// For which year the star pointers stand.
#[derive(Clone, Debug, PartialEq)]
pub struct StarsFound {
    /// The year.
    pub year: Estimate<f64>,
    /// One for each pointer that says something of it.
    pub stars: Vec<StarFound>,
}

/// What a pointer says.
#[derive(Clone, Debug, PartialEq)]
pub struct StarFound {
    /// The star.
    pub star: &'static Star,
    /// The year for which the degree that it culminates with would be right.
    pub year: Option<f64>,
    /// How far its tip is from where the star stood in the year that all have: across the
    /// rule and along it, as far as both were measured.
    pub off: Length,
    /// Whether it is so far off that it was left out of account: bent, mended, of another
    /// star, or wrong in the maker's table.
    pub doubtful: bool,
}

/// The epochs that stars are known for.
const FROM: f64 = -599.0;
const UNTIL: f64 = 2649.0;

/// How far a pointer may be off beside the others, in what is usual among them.
const DOUBTFUL: f64 = 4.0;

/// A pointer as a place: its right ascension, if measured, and its distance from the pole.
struct Pointer {
    star: &'static Star,
    right_ascension: Option<Angle>,
    radius_mm: Option<f64>,
}

impl Pointer {
    /// The degree's right ascension is the star's: tan α = tan λ cos ε.
    fn of(measured: &MeasuredStar, obliquity: Angle) -> Pointer {
        Pointer {
            star: measured.star,
            right_ascension: measured.with.map(|degree| {
                let (sine, cosine) = degree.sin_cos();
                Angle::atan2(sine * obliquity.cos(), cosine)
            }),
            radius_mm: measured.radius.map(Length::mm),
        }
    }

    /// How far off in a year: across the rule and along it, in millimetres.
    fn off(&self, year: f64, on: &Projection) -> [Option<f64>; 2] {
        let Ok(epoch) = JulianEpoch::from_year(year.clamp(FROM, UNTIL)) else {
            return [None, None];
        };
        let place = self.star.mean_place(epoch);
        let should_mm = on.radius(place.declination);
        let across = self.right_ascension.map(|measured| {
            let arc = place.right_ascension.to(measured);
            arc.rad() * self.radius_mm.unwrap_or(should_mm)
        });
        [across, self.radius_mm.map(|measured| measured - should_mm)]
    }

    fn far(&self, year: f64, on: &Projection) -> f64 {
        let squares = self.off(year, on).into_iter().flatten();
        squares.map(|mm| mm * mm).sum::<f64>().sqrt()
    }

    /// The year for which its right ascension is right, from one near it.
    fn own_year(&self, near: f64, on: &Projection) -> Option<f64> {
        let mut year = near;
        for _ in 0..20 {
            let [across, _] = self.off(year, on);
            let [after, _] = self.off(year + 1.0, on);
            let step = across? / (across? - after?);
            if !step.is_finite() {
                return None;
            }
            year += step;
            if !(FROM..UNTIL).contains(&year) {
                return None;
            }
        }
        Some(year)
    }
}

impl StarsFound {
    /// From at least one pointer, on a rete whose equator has been found.
    pub(crate) fn of(
        measured: &Measurements,
        obliquity: Angle,
        equator: Length,
    ) -> Option<StarsFound> {
        let on = Projection::new(equator.mm(), measured.hemisphere);
        let pointers: Vec<Pointer> = measured
            .stars
            .iter()
            .map(|one| Pointer::of(one, obliquity))
            .filter(|one| one.right_ascension.is_some() || one.radius_mm.is_some())
            .collect();
        if pointers.is_empty() {
            return None;
        }
        // The middle of all is little moved by a few that are far off.
        let middling = |year: f64| median(pointers.iter().map(|one| one.far(year, &on)).collect());
        let years = (0..=324).map(|tenth| FROM + f64::from(tenth) * 10.0);
        let rough = years.min_by(|a, b| middling(*a).total_cmp(&middling(*b)))?;
        let error_mm = measured.measured_to.mm();
        let mut year = Estimate {
            at: rough,
            within: f64::INFINITY,
        };
        let mut most_mm = 0.0;
        // Which are far off is seen better the nearer the year is.
        for _ in 0..4 {
            most_mm = DOUBTFUL * middling(year.at).max(error_mm);
            let good = |one: &&Pointer| one.far(year.at, &on) <= most_mm;
            let taken: Vec<&Pointer> = pointers.iter().filter(good).collect();
            let left = |&[year]: &[f64; 1]| -> Vec<f64> {
                let off = taken.iter().flat_map(|one| one.off(year, &on));
                off.flatten().map(|mm| mm / error_mm).collect()
            };
            [year] = least_squares([year.at], [5.0], left)?.unknowns;
        }
        if !(FROM..UNTIL).contains(&year.at) {
            return None;
        }
        let told = |one: &Pointer| StarFound {
            star: one.star,
            year: one.own_year(year.at, &on),
            off: Length::from_mm(one.far(year.at, &on)),
            doubtful: one.far(year.at, &on) > most_mm,
        };
        Some(StarsFound {
            year,
            stars: pointers.iter().map(told).collect(),
        })
    }
}

/// Why a calendar scale says nothing of its year.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoYear {
    /// The Gregorian calendar keeps the equinox where it is.
    Gregorian,
    /// No year from −590 to 2400 has the Sun in these degrees on these dates.
    NoneFits,
}

/// A calendar scale of the Julian calendar, as the mean of the leap cycle that begins with a
/// year.
pub(crate) fn julian_scale(year: i32) -> DateScale {
    DateScale::divided(
        DateFrom::Zodiac,
        &DateScaleFor {
            year,
            leap_mean: true,
            calendar: Calendar::Julian,
            strokes: DayStrokes::Begin,
            meridian: Angle::ZERO,
        },
    )
}

/// The year in which the Sun stood in these degrees on these dates, taken through the leap
/// years: in the Julian calendar the equinox comes a day earlier in 128 years.
pub(crate) fn by_calendar(measured: &MeasuredCalendar) -> Result<Estimate<f64>, NoYear> {
    if measured.calendar == Calendar::Gregorian {
        return Err(NoYear::Gregorian);
    }
    /// The years of a leap cycle, through which a scale's mean is taken.
    const CYCLE: i32 = 4;
    let left = |year: i32| -> Vec<f64> {
        let scale = julian_scale(year);
        let off = |(date, degree): &(crate::YearDay, Angle)| degree.to(scale.at(*date)).deg();
        measured.degrees.iter().map(off).collect()
    };
    let mean = |left: &[f64]| left.iter().sum::<f64>() / left.len().max(1) as f64;
    let (mut year, mut a_year) = (1300, 1.0 / 128.0);
    for _ in 0..8 {
        let off = mean(&left(year));
        // A century apart the Sun's place on a date moves evenly enough to be gone on from.
        let there = (year + 100).min(2600);
        a_year = (mean(&left(there)) - off) / f64::from(there - year);
        #[expect(clippy::cast_possible_truncation, reason = "a year")]
        let step = (-off / a_year / f64::from(CYCLE))
            .round()
            .clamp(-1000.0, 1000.0) as i32;
        let next = year + step * CYCLE;
        if !(-590..2400).contains(&next) {
            return Err(NoYear::NoneFits);
        }
        if step == 0 {
            break;
        }
        year = next;
    }
    let left = left(year);
    let middle = mean(&left);
    let count = left.len();
    let scatter = match count {
        0 | 1 => 0.0,
        count => {
            let squares: f64 = left.iter().map(|one| (one - middle).powi(2)).sum();
            (squares / (count - 1) as f64).sqrt()
        }
    };
    let error_deg = scatter.max(measured.reads_to.deg()) / (count.max(1) as f64).sqrt();
    // The middle of the four years.
    Ok(Estimate {
        at: f64::from(year) + 2.0 - middle / a_year,
        within: error_deg / a_year.abs(),
    })
}
