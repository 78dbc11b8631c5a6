use sky::{Angle, DeltaT, Instant, Sky};

use crate::doubts::{delta_t_note, name_note, zone_notes};
use crate::reform::{julian_kept, year_began_otherwise};
use crate::sum::Sum;
use crate::when::{Meaning, When};
use crate::zone::{By, Change, Local, offset_in};
use crate::{
    Calendar, CivilDate, CivilTime, Clock, MomentError, Note, NoteKind, Place, SaidMoment,
    TimeStep, UtcOffset, Which, Zone,
};

/// A moment understood: the instant, and every time of day that belongs to it.
///
/// ```
/// use moment::{Moment, Place, SaidMoment, StepKind};
/// let said = SaidMoment::new("2024-05-14 09:20", Place::find("Santiago de Compostela, Spain")?)?;
/// let moment = Moment::resolve(&said, None)?;
/// assert_eq!(moment.utc().to_string(), "2024-05-14 07:20:00");
/// assert_eq!(moment.summer_time_s(), 3600.0);
/// assert_eq!(moment.steps()[0].what, StepKind::SummerTime);
/// assert_eq!(
///     moment.steps()[0].reason,
///     "summer time (CEST, +1 h), in force since 2024-03-31 01:00 UTC"
/// );
/// # Ok::<(), moment::MomentError>(())
/// ```
#[derive(Clone, Debug)]
pub struct Moment {
    said: SaidMoment,
    civil: CivilTime,
    zone: Option<Zone>,
    abbreviation: Option<&'static str>,
    standard_offset_s: Option<f64>,
    summer_time_s: f64,
    utc: CivilTime,
    sky: Sky,
    longitude_correction_s: f64,
    equation_of_time_s: f64,
    local_mean_time: CivilTime,
    local_apparent_time: CivilTime,
    sidereal_time: Angle,
    delta_t: DeltaT,
    steps: Vec<TimeStep>,
    notes: Vec<Note>,
}

impl Moment {
    /// Understands what was said. The time now, in seconds of UTC since the
    /// beginning of 1970, is asked for by `now` alone.
    ///
    /// UT1 is taken as UTC. Local apparent time is the hour angle of the apparent
    /// Sun and 12 h; a time given by the Sun is brought to UT to better than a
    /// microsecond.
    ///
    /// # Errors
    /// When the date or the time of day does not exist, when it needs a zone, a
    /// calendar or a choice that is not there (see [`MomentError::missing`]), or
    /// when the sky does not reach it.
    pub fn resolve(said: &SaidMoment, now_unix_s: Option<f64>) -> Result<Moment, MomentError> {
        let said = said.located();
        let mut notes = Vec::new();
        let reading = match said.when.meaning {
            Meaning::Now => {
                let now_unix_s = now_unix_s
                    .filter(|seconds| seconds.is_finite())
                    .ok_or_else(MomentError::now_unknown)?;
                let calendar = said.calendar.unwrap_or(Calendar::Gregorian);
                let utc = CivilTime::from_seconds_since_1970(calendar, now_unix_s);
                shown_at(&said, utc)?
            }
            Meaning::Utc(utc) => {
                let reading = shown_at(&said, utc)?;
                notes.extend(year_note(&said, reading.civil.date));
                reading
            }
            Meaning::Clock(civil) => {
                notes.extend(year_note(&said, civil.date));
                read(&said, civil, &mut notes)?
            }
            Meaning::Date {
                year,
                month,
                day,
                time,
            } => {
                let date = date(&said, year, month, day)?;
                notes.extend(year_note(&said, date));
                read(&said, CivilTime { date, time }, &mut notes)?
            }
        };
        finish(said, reading, notes)
    }

    /// Another time by the same clock of the same place, of which nothing was said but
    /// when it is.
    ///
    /// # Errors
    /// As [`Moment::resolve`].
    pub fn at(&self, when: When) -> Result<Moment, MomentError> {
        let said = SaidMoment {
            when,
            which: None,
            ..self.said.clone()
        };
        Moment::resolve(&said, None)
    }

    /// The same moment told in other words: what was said of it, and how that was taken.
    #[must_use]
    pub fn told_as(mut self, when: When, how: Note) -> Moment {
        self.said.when = when;
        self.notes.push(how);
        self
    }

    /// The time as it was written.
    #[must_use]
    pub fn given(&self) -> &str {
        self.said.when.text()
    }

    /// Where.
    #[must_use]
    pub const fn place(&self) -> &Place {
        &self.said.place
    }

    /// Date and time of day as read on the clock, in the calendar of the date.
    #[must_use]
    pub const fn civil(&self) -> CivilTime {
        self.civil
    }

    /// The kind of clock.
    #[must_use]
    pub const fn clock(&self) -> Clock {
        self.said.clock
    }

    /// The zone by which the clock went; None for the other kinds of clock.
    #[must_use]
    pub const fn zone(&self) -> Option<Zone> {
        self.zone
    }

    /// What the time of that clock was called, such as `CEST`.
    #[must_use]
    pub const fn abbreviation(&self) -> Option<&'static str> {
        self.abbreviation
    }

    /// Standard time minus UTC, in seconds: the zone's, or the offset; None for
    /// local mean and apparent time.
    #[must_use]
    pub const fn standard_offset_s(&self) -> Option<f64> {
        self.standard_offset_s
    }

    /// Summer time, in seconds; 0 where none was in force.
    #[must_use]
    pub const fn summer_time_s(&self) -> f64 {
        self.summer_time_s
    }

    /// UTC, in the calendar of the date.
    #[must_use]
    pub const fn utc(&self) -> CivilTime {
        self.utc
    }

    /// The instant.
    #[must_use]
    pub fn instant(&self) -> Instant {
        self.sky.instant()
    }

    /// The sky at that instant.
    #[must_use]
    pub const fn sky(&self) -> &Sky {
        &self.sky
    }

    /// Local mean time minus the clock's standard time, in seconds: 4 minutes
    /// for each degree of longitude less the standard offset; 0 for local mean
    /// and apparent time.
    #[must_use]
    pub const fn longitude_correction_s(&self) -> f64 {
        self.longitude_correction_s
    }

    /// Local apparent minus local mean time, in seconds.
    #[must_use]
    pub const fn equation_of_time_s(&self) -> f64 {
        self.equation_of_time_s
    }

    /// Local mean time.
    #[must_use]
    pub const fn local_mean_time(&self) -> CivilTime {
        self.local_mean_time
    }

    /// The time of day of local mean time, in hours.
    #[must_use]
    pub fn local_mean_time_h(&self) -> f64 {
        self.local_mean_time.time.hours()
    }

    /// Local apparent time.
    #[must_use]
    pub const fn local_apparent_time(&self) -> CivilTime {
        self.local_apparent_time
    }

    /// The time of day of local apparent time, in hours.
    #[must_use]
    pub fn local_apparent_time_h(&self) -> f64 {
        self.local_apparent_time.time.hours()
    }

    /// Local apparent sidereal time, in [0°, 360°): the right ascension of the
    /// meridian.
    #[must_use]
    pub const fn sidereal_time(&self) -> Angle {
        self.sidereal_time
    }

    /// TT − UT.
    #[must_use]
    pub const fn delta_t(&self) -> DeltaT {
        self.delta_t
    }

    /// The sum from the clock to the sky, line by line.
    #[must_use]
    pub fn steps(&self) -> &[TimeStep] {
        &self.steps
    }

    /// What else to know.
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }

    /// Clock time minus UTC, in seconds; None for local mean and apparent time.
    #[must_use]
    pub fn utc_offset_s(&self) -> Option<f64> {
        self.standard_offset_s
            .map(|standard_s| standard_s + self.summer_time_s)
    }
}

/// That years may have begun on another day than 1 January then and there.
fn year_note(said: &SaidMoment, date: CivilDate) -> Option<Note> {
    let text = year_began_otherwise(&said.place, date)?;
    Some(Note {
        about: NoteKind::YearBegan,
        text,
    })
}

/// A clock reading and what it is in UT.
struct Reading {
    civil: CivilTime,
    utc: CivilTime,
    by: Reckoned,
}

/// How the clock was reckoned.
enum Reckoned {
    Zone { zone: Zone, by: By },
    Offset(UtcOffset),
    Mean,
    Sun,
}

/// The date, by the calendar that was said or that goes without saying.
fn date(said: &SaidMoment, year: i32, month: u8, day: u8) -> Result<CivilDate, MomentError> {
    const LAST_JULIAN: (i32, u8, u8) = (1582, 10, 4);
    const FIRST_GREGORIAN: (i32, u8, u8) = (1582, 10, 15);
    let date = (year, month, day);
    let of = |calendar| CivilDate::new(calendar, year, month, day);
    match said.calendar {
        Some(calendar) => of(calendar),
        None if date <= LAST_JULIAN => of(Calendar::Julian),
        None => {
            // A date of either calendar, whichever it will be.
            let either =
                of(Calendar::Gregorian).or_else(|error| of(Calendar::Julian).map_err(|_| error))?;
            if let Some(kept) = julian_kept(&said.place, date) {
                return Err(MomentError::calendar_needed(
                    either,
                    kept.who,
                    kept.until,
                    kept.authority,
                ));
            }
            if date < FIRST_GREGORIAN {
                return Err(MomentError::left_out_in_1582(either));
            }
            of(Calendar::Gregorian)
        }
    }
}

/// The zone by which the clock went, and whether it was named on purpose.
fn zone_of(said: &SaidMoment) -> Result<(Zone, bool), MomentError> {
    match (said.zone, said.place.zone) {
        (Some(zone), _) => Ok((zone, true)),
        (None, Some(zone)) => Ok((zone, false)),
        (None, None) => Err(MomentError::zone_needed(&said.place.name)),
    }
}

/// The place's own mean time stands for a zone's, unless the zone was named.
fn own_mean_time_s(place: &Place, named: bool) -> Option<f64> {
    (!named).then(|| place.mean_time_ahead_of_ut_s())
}

/// What the clock shows when it is so late in UTC.
fn shown_at(said: &SaidMoment, utc: CivilTime) -> Result<Reading, MomentError> {
    let longitude_s = said.place.mean_time_ahead_of_ut_s();
    let (offset_s, by) = match said.clock {
        Clock::Zone => {
            let (zone, named) = zone_of(said)?;
            let span = zone.span_at(utc.seconds_since_1970().floor() as i64);
            let offset_s = offset_in(span, own_mean_time_s(&said.place, named));
            let by = By { span, offset_s };
            (offset_s, Reckoned::Zone { zone, by })
        }
        Clock::Offset(offset) => (offset.seconds(), Reckoned::Offset(offset)),
        Clock::Mean => (longitude_s, Reckoned::Mean),
        Clock::Sun => {
            let sky = sky_at(said, utc)?;
            (longitude_s + sky.equation_of_time_s(), Reckoned::Sun)
        }
    };
    Ok(Reading {
        civil: utc.plus_seconds(offset_s),
        utc,
        by,
    })
}

/// What a clock reading is in UT.
fn read(
    said: &SaidMoment,
    civil: CivilTime,
    notes: &mut Vec<Note>,
) -> Result<Reading, MomentError> {
    let longitude_s = said.place.mean_time_ahead_of_ut_s();
    let (utc, by) = match said.clock {
        Clock::Zone => {
            let (zone, named) = zone_of(said)?;
            let own_s = own_mean_time_s(&said.place, named);
            let by = match zone.at_local(civil.seconds_since_1970(), own_s) {
                Local::Plain(by) => by,
                Local::Doubtful(change, both) => chosen(said, civil, zone, change, both, notes)?,
            };
            (
                civil.plus_seconds(-by.offset_s),
                Reckoned::Zone { zone, by },
            )
        }
        Clock::Offset(offset) => (
            civil.plus_seconds(-offset.seconds()),
            Reckoned::Offset(offset),
        ),
        Clock::Mean => (civil.plus_seconds(-longitude_s), Reckoned::Mean),
        Clock::Sun => {
            // The equation of time changes by 30 s a day at most, so that each
            // round leaves 1/2900 of the error: from 17 minutes to less than a
            // microsecond in three.
            let mean = civil.plus_seconds(-longitude_s);
            let mut utc = mean;
            for _ in 0..3 {
                utc = mean.plus_seconds(-sky_at(said, utc)?.equation_of_time_s());
            }
            (utc, Reckoned::Sun)
        }
    };
    Ok(Reading { civil, utc, by })
}

/// One of the two meanings, if it was said which.
fn chosen(
    said: &SaidMoment,
    civil: CivilTime,
    zone: Zone,
    change: Change,
    [earlier, later]: [By; 2],
    notes: &mut Vec<Note>,
) -> Result<By, MomentError> {
    let Some(which) = said.which else {
        let meaning = |by: By| {
            let offset = UtcOffset::from_seconds(by.offset_s).unwrap_or_default();
            let utc = civil.plus_seconds(-offset.seconds());
            format!("by UTC{offset}: {utc:#} UTC")
        };
        let meanings = [meaning(earlier), meaning(later)];
        return Err(MomentError::clock_change(
            civil,
            zone.name(),
            change,
            meanings,
        ));
    };
    let (by, word) = match which {
        Which::Earlier => (earlier, "earlier"),
        Which::Later => (later, "later"),
    };
    let what = match change {
        Change::Gap => "did not exist",
        Change::Fold => "came twice",
    };
    notes.push(Note {
        about: NoteKind::ClockChange,
        text: format!("{civil:#} {what} in {zone}; the {word} instant is meant"),
    });
    Ok(by)
}

fn sky_at(said: &SaidMoment, utc: CivilTime) -> Result<Sky, MomentError> {
    Sky::at(utc.instant_of_ut()).map_err(|why| MomentError::sky(said.when.text(), why))
}

/// The rest of the chain, from UT on.
fn finish(said: SaidMoment, reading: Reading, mut notes: Vec<Note>) -> Result<Moment, MomentError> {
    let Reading { civil, utc, by } = reading;
    let place = &said.place;
    let longitude_s = place.mean_time_ahead_of_ut_s();
    let sky = sky_at(&said, utc)?;
    let equation_of_time_s = sky.equation_of_time_s();
    let local_mean_time = match by {
        Reckoned::Mean => civil,
        _ => utc.plus_seconds(longitude_s),
    };
    let local_apparent_time = match by {
        Reckoned::Sun => civil,
        _ => local_mean_time.plus_seconds(equation_of_time_s),
    };
    let sidereal_time = (sky.sidereal_time() + place.longitude).in_turn();

    let (zone, span, standard_offset_s, summer_time_s) = match &by {
        Reckoned::Zone { zone, by } => {
            let summer_s = by.span.summer_time_s();
            (
                Some(*zone),
                Some(by.span),
                Some(by.offset_s - summer_s),
                summer_s,
            )
        }
        Reckoned::Offset(offset) => (None, None, Some(offset.seconds()), 0.0),
        Reckoned::Mean | Reckoned::Sun => (None, None, None, 0.0),
    };
    if let (Some(zone), Some(span)) = (zone, span) {
        notes.extend(zone_notes(&said, zone, span, utc));
    }
    let delta_t = sky.instant().delta_t();
    notes.extend(name_note(&said));
    notes.extend(delta_t_note(delta_t));

    let sum = Sum {
        place,
        civil,
        utc,
        local_mean_time,
        local_apparent_time,
        equation_of_time_s,
    };
    // From each kind of clock straight to the sky; where Universal Time does not lie
    // on that way it comes after.
    let sidereal_time_step = sum.sidereal_time(&sky, sidereal_time);
    let steps = match &by {
        Reckoned::Zone { zone, by } => {
            let mut steps = sum.zone_clock(*zone, *by);
            steps.push(sidereal_time_step);
            steps
        }
        Reckoned::Offset(offset) => {
            let mut steps = sum.offset_clock(*offset);
            steps.push(sidereal_time_step);
            steps
        }
        Reckoned::Mean => vec![
            sum.equation_of_time(),
            sidereal_time_step,
            sum.longitude_to_ut(),
        ],
        Reckoned::Sun => vec![
            sidereal_time_step,
            sum.equation_of_time_off(),
            sum.longitude_to_ut(),
        ],
    };

    Ok(Moment {
        civil,
        zone,
        abbreviation: span.map(|span| span.abbreviation()),
        standard_offset_s,
        summer_time_s,
        utc,
        longitude_correction_s: standard_offset_s
            .map_or(0.0, |standard_s| longitude_s - standard_s),
        equation_of_time_s,
        local_mean_time,
        local_apparent_time,
        sidereal_time,
        delta_t,
        steps,
        notes,
        sky,
        said,
    })
}
