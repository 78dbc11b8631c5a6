use std::sync::OnceLock;
use std::sync::atomic::{AtomicBool, Ordering};

use crate::blob;
use crate::era::{Era, Reach};
use crate::{SkyError, Span};

/// The one that is built into a program that reads no other.
#[cfg(feature = "embedded")]
static BLOB: &[u8] = include_bytes!("../../../data/ephemeris.bin");

/// What was handed over: a part at first, and the whole when it has come.
static PART: OnceLock<Ephemeris> = OnceLock::new();
static WHOLE: OnceLock<Ephemeris> = OnceLock::new();

/// Whether something was asked for that the whole has and the part does not.
static MISSED: AtomicBool = AtomicBool::new(false);

/// Places of the Sun, the Moon and the planets from JPL's DE422 and DE440, within
/// 0.03″ as seen from the Earth: the whole of `data/ephemeris.bin`, or the part of it
/// that serves some years.
///
/// It is a value that whoever holds the program hands over once ([`Ephemeris::hold`]);
/// with the feature `embedded` the whole is there from the beginning.
#[derive(Clone, Debug)]
pub struct Ephemeris {
    pub(crate) eras: [Era; 2],
    /// Where it serves.
    pub(crate) reach: Reach,
    /// Where it serves besides, before that.
    pub(crate) besides: Option<Reach>,
}

impl Ephemeris {
    /// From the bytes of `data/ephemeris.bin`, or of a [part](Ephemeris::part) of it. They
    /// are checked as a whole; nothing of them is decoded yet.
    ///
    /// # Errors
    /// [`SkyError::DamagedEphemeris`] where they are not what was written.
    pub fn from_bytes(bytes: &'static [u8]) -> Result<Ephemeris, SkyError> {
        let blob::Contents {
            eras,
            reach,
            besides,
        } = blob::read(bytes)?;
        Ok(Ephemeris {
            eras,
            reach,
            besides,
        })
    }

    /// The bytes of that part of an ephemeris which serves some years (Gregorian, from the
    /// beginning of the first to the end of the last): its numbers are the whole one's own.
    /// Of the years before 1550 some may be there `besides`, for instruments of an old epoch.
    ///
    /// # Errors
    /// [`SkyError::NoSuchYears`] where there are none such; [`SkyError::DamagedEphemeris`]
    /// where the bytes are none.
    pub fn part(
        bytes: &'static [u8],
        years: (i32, i32),
        besides: Option<(i32, i32)>,
    ) -> Result<Vec<u8>, SkyError> {
        blob::part(bytes, years, besides)
    }

    /// From now on this one is asked: a part until the whole has come, then the whole.
    ///
    /// # Errors
    /// [`SkyError::EphemerisHeld`] where one such is held already.
    pub fn hold(self) -> Result<(), SkyError> {
        let place = if self.is_whole() { &WHOLE } else { &PART };
        place.set(self).map_err(|_| SkyError::EphemerisHeld)
    }

    /// Whether it serves the whole [`Span`].
    #[must_use]
    pub fn is_whole(&self) -> bool {
        let (first, last) = self.reach;
        first <= Span::FIRST_JD && last >= Span::LAST_JD
    }

    /// Whether, since this was last asked, something was wanted that lies in the [`Span`]
    /// but not in what is held. Whoever can bring the whole then asks again.
    pub fn was_missed() -> bool {
        MISSED.swap(false, Ordering::Relaxed)
    }

    /// The one that is asked.
    pub(crate) fn held() -> Result<&'static Ephemeris, SkyError> {
        match WHOLE.get().or_else(|| PART.get()) {
            Some(held) => Ok(held),
            None => Ephemeris::embedded(),
        }
    }

    /// Whether there are positions for a Julian date (TT).
    pub(crate) fn reaches(&self, jd_tt: f64) -> bool {
        let within = |(first, last): Reach| (first..=last).contains(&jd_tt);
        within(self.reach) || self.besides.is_some_and(within)
    }

    /// Notes that the whole would have served.
    pub(crate) fn miss() {
        MISSED.store(true, Ordering::Relaxed);
    }

    /// The one in the program, checked when first asked for.
    #[cfg(feature = "embedded")]
    fn embedded() -> Result<&'static Ephemeris, SkyError> {
        static EPHEMERIS: OnceLock<Result<Ephemeris, SkyError>> = OnceLock::new();
        EPHEMERIS
            .get_or_init(|| Ephemeris::from_bytes(BLOB))
            .as_ref()
            .map_err(|damage| *damage)
    }

    #[cfg(not(feature = "embedded"))]
    fn embedded() -> Result<&'static Ephemeris, SkyError> {
        Err(SkyError::NoEphemeris)
    }

    /// The era that holds a moment, in days of TDB from J2000.
    pub(crate) fn era(&self, t: f64) -> &Era {
        let [early, late] = &self.eras;
        if t < late.start { early } else { late }
    }
}

#[cfg(all(test, feature = "embedded"))]
mod tests {
    use super::*;
    use crate::era::SERIES;
    use crate::vector::{length, minus, scaled};
    use crate::{Angle, Instant};

    /// Least distance from the Earth, in astronomical units, in the order of the file.
    const NEAREST: [f64; SERIES] = [
        0.98, 0.00238, 0.53, 0.263, 0.263, 0.37, 3.9, 7.9, 17.2, 28.6, 28.6,
    ];

    /// Neighbouring segments share their joint: what is left is rounding.
    #[test]
    fn no_step_from_segment_to_segment() {
        const STEP_ARCSEC: f64 = 0.001;
        const STEP_ARCSEC_PER_DAY: f64 = 0.01;
        // Short enough for velocities to stand still.
        const APART_DAYS: f64 = 2e-9;
        for era in &Ephemeris::embedded().unwrap().eras {
            for (series, nearest) in era.series.iter().zip(NEAREST) {
                for joint in (1..series.count).step_by(series.count / 500) {
                    let t = series.start + series.days * joint as f64;
                    let (before, after) = (series.at(t - APART_DAYS), series.at(t + APART_DAYS));
                    let moved = scaled(after.velocity, 2.0 * APART_DAYS);
                    let step = minus(minus(after.place, before.place), moved);
                    let kick = minus(after.velocity, before.velocity);
                    let arcsec = |au: f64| (au / nearest).to_degrees() * 3600.0;
                    assert!(arcsec(length(step)) < STEP_ARCSEC, "{joint} of {series:?}");
                    assert!(
                        arcsec(length(kick)) < STEP_ARCSEC_PER_DAY,
                        "{joint} of {series:?}"
                    );
                }
            }
        }
    }

    /// The file is the whole one's own numbers, so that places agree to the last bit.
    #[test]
    fn a_part_answers_as_the_whole_does_and_knows_its_ends() {
        let part = Ephemeris::part(BLOB, (1800, 2100), Some((1498, 1505))).unwrap();
        assert!(part.len() < BLOB.len() / 8, "{} bytes", part.len());
        let part = Ephemeris::from_bytes(part.leak()).unwrap();
        assert!(!part.is_whole());
        let whole = Ephemeris::embedded().unwrap();
        assert!(whole.is_whole());
        let (first, last) = part.reach;
        // 1 January 1800 and 31 December 2100, from the Gregorian calendar's rules.
        assert!(
            first <= 2_378_496.5 && last >= 2_488_434.5,
            "{first} to {last}"
        );
        let besides = part.besides.unwrap();
        for ((first, last), n) in [(first, last), besides]
            .into_iter()
            .flat_map(|reach| (0..=2000).map(move |n| (reach, n)))
        {
            let t = first + (last - first) * f64::from(n) / 2000.0 - 2_451_545.0;
            let (a, b) = (part.era(t), whole.era(t));
            for (one, other) in a.series.iter().zip(&b.series) {
                assert_eq!(one.at(t), other.at(t), "{t}");
            }
        }
        let early = Ephemeris::part(BLOB, (-100, 1600), None).unwrap();
        let early = Ephemeris::from_bytes(early.leak()).unwrap();
        for t in [-700_000.0, -264_360.0, -264_359.0, -250_000.0] {
            let (a, b) = (early.era(t), whole.era(t));
            assert_eq!(a.series[1].at(t), b.series[1].at(t), "{t}");
        }
        assert_eq!(Ephemeris::part(BLOB, (-2000, 4000), None).unwrap(), {
            // What is all there is a part that lacks nothing.
            let all = Ephemeris::part(BLOB, (-2000, 4000), None).unwrap();
            assert!(
                Ephemeris::from_bytes(all.clone().leak())
                    .unwrap()
                    .is_whole()
            );
            all
        });
        assert!(Ephemeris::part(BLOB, (3000, 3100), None).is_err());
        assert!(Ephemeris::part(BLOB, (2100, 1800), None).is_err());
    }

    #[test]
    fn what_lies_outside_a_part_is_refused_by_its_years() {
        let part = Ephemeris::part(BLOB, (1800, 2100), Some((1498, 1505))).unwrap();
        let (first_jd, last_jd) = Ephemeris::from_bytes(part.leak()).unwrap().reach;
        let jd_tt = Instant::from_jd_tt(Angle::FULL_TURN.deg()).jd_tt();
        let refused = SkyError::OutsidePart {
            jd_tt,
            first_jd,
            last_jd,
        };
        assert!(
            refused.to_string().contains("the years 1800 to 2100"),
            "{refused}"
        );
    }

    #[test]
    fn the_ends_are_covered() {
        let [early, late] = &Ephemeris::embedded().unwrap().eras;
        for series in early.series.iter().chain(&late.series) {
            let end = series.start + series.days * series.count as f64;
            for t in [series.start - 1e-6, series.start, end, end + 1e-6] {
                let place = series.at(t).place;
                assert!(
                    length(place) > 1e-5 && length(place) < 60.0,
                    "{t} of {series:?}"
                );
            }
        }
    }
}
