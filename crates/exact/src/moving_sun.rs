//! What calculation gives when the Sun moves as it truly does.

use std::collections::BTreeMap;

use figure::{ApparentDay, Passage, Site, SolarDay, Sunrise};
use instrument::{CurveLeg, ListedPlace, Pick};
use practice::{
    Conditions, Finding, Quantity, RetePlace, Sighting, Stated, SunPlace, TaskChoices, Value,
};
use sky::{Angle, Instant, Sky, SkyError};

use crate::answers::Answers;
use crate::facts::Facts;
use crate::towards_mecca::sun_towards_mecca;

/// What an event gives, and when it is where it is a time.
#[derive(Clone, Copy)]
pub(crate) struct Event {
    pub(crate) value: Value,
    pub(crate) at: Option<Instant>,
}

/// What a quantity is as the Sun moves; none where that has no answer.
pub(crate) type Found = (Quantity, Option<Event>);

/// An operation on a day on which the Sun moves.
pub(crate) struct Moving<'a> {
    /// What calculation gives with the Sun held still.
    pub(crate) held_still: fn(&Facts<'_>) -> Answers,
    pub(crate) ideal: &'a Conditions,
    pub(crate) choices: &'a TaskChoices,
    /// The same as it came out.
    pub(crate) held: &'a BTreeMap<Quantity, Value>,
    pub(crate) now: &'a Sky,
    pub(crate) site: Site,
    pub(crate) day: ApparentDay,
}

/// The twilight line's depth.
const TWILIGHT: Angle = Angle::from_deg(-18.0);

impl Moving<'_> {
    /// What events change where the Sun is asked about, and nothing where another body is.
    pub(crate) fn of_the_sun(
        &self,
        events: impl FnOnce(&Self) -> Result<Vec<Found>, SkyError>,
    ) -> Result<Vec<Found>, SkyError> {
        if self.choices.subject == RetePlace::Sun {
            events(self)
        } else {
            Ok(Vec::new())
        }
    }

    /// As it is at noon.
    pub(crate) fn at_noon(&self) -> Result<Vec<Found>, SkyError> {
        Ok(self.with_sun_of(self.day.noon()))
    }

    /// The Sun's hour angle at an instant.
    fn hour_at(&self, instant: Instant) -> Result<Event, SkyError> {
        Ok(self.hour_of(&Sky::at(instant)?))
    }

    fn hour_of(&self, sky: &Sky) -> Event {
        let sun = figure::Target::Body(sky::Body::Sun);
        Event {
            value: Value::TimeOfDay(self.site.hour_angle(sky, sun)),
            at: Some(sky.instant()),
        }
    }

    /// The Sun passes an altitude on the day, or so many days later.
    fn passes(
        &self,
        altitude: Angle,
        passage: Passage,
        days_later: i8,
    ) -> Result<Option<Event>, SkyError> {
        let instant = self.day.sun_passes(altitude, passage, days_later)?;
        instant.map(|instant| self.hour_at(instant)).transpose()
    }

    /// Everything that the task tells, with the Sun where it stands at another time.
    fn with_sun_of(&self, sky: &Sky) -> Vec<Found> {
        let sun = sky.sun();
        let mut conditions = self.ideal.clone();
        conditions.given.sun = SunPlace {
            longitude: sun.longitude,
            right_ascension: sun.right_ascension,
            declination: sun.declination,
        };
        let Answers(mut found) = (self.held_still)(&Facts::of(&conditions, self.choices));
        let events = self.held.keys().map(|quantity| {
            let at = (*quantity == Quantity::Found(Finding::Hour)).then(|| sky.instant());
            let value = found.remove(quantity);
            (*quantity, value.map(|value| Event { value, at }))
        });
        events.collect()
    }

    /// When the Sun has the altitude that is seen.
    pub(crate) fn at_altitude(&self) -> Result<Vec<Found>, SkyError> {
        let seen = self.ideal.seen.get(&Sighting::Altitude);
        let Some(altitude) = seen.and_then(|seen| seen.value.angle()) else {
            return Ok(Vec::new());
        };
        let passage = match self.choices.side {
            Pick::Western => Passage::Setting,
            Pick::Eastern | Pick::Drawn => Passage::Rising,
        };
        match self.day.sun_passes(altitude, passage, 0)? {
            Some(instant) => Ok(self.with_sun_of(&Sky::at(instant)?)),
            None => Ok(self.held.keys().map(|quantity| (*quantity, None)).collect()),
        }
    }

    /// When the Sun stands in the direction of Mecca.
    pub(crate) fn towards_mecca(&self) -> Result<Vec<Found>, SkyError> {
        let Some(curve) = &self.ideal.qibla else {
            return Ok(Vec::new());
        };
        let asked = self.choices.towards_mecca;
        let legs = [
            (Finding::TowardsMecca, Some(asked.lower)),
            (Finding::HigherTowardsMecca, asked.higher),
        ];
        let mut found = Vec::new();
        for (finding, leg) in legs {
            let quantity = Quantity::Found(finding);
            if let Some(leg) = leg.filter(|_| self.held.contains_key(&quantity)) {
                found.push((quantity, self.towards_mecca_on(&curve.place, leg)?));
            }
        }
        Ok(found)
    }

    /// The same on one leg of the curve of a place; none where the Sun, as it moves, does not
    /// come there.
    fn towards_mecca_on(
        &self,
        place: &ListedPlace,
        leg: CurveLeg,
    ) -> Result<Option<Event>, SkyError> {
        let there = |sky: &Sky| {
            let declination = sky.sun().declination;
            let all = sun_towards_mecca(place.latitude, place.longitude, declination);
            all.into_iter().find(|one| one.leg == leg)
        };
        let mut sky = self.now.clone();
        // Within half a day its declination changes by a five-hundredth of what the hour does:
        // each round is nearer by as much.
        for _ in 0..4 {
            let Some(stands) = there(&sky) else {
                return Ok(None);
            };
            sky = self.on_the_day(stands.hour_angle + sky.sun().right_ascension)?;
        }
        Ok(there(&sky).map(|one| Event {
            value: Value::Height(one.altitude),
            at: None,
        }))
    }

    /// When a star's altitude is seen: the sky stands so within half a turn of the moment.
    pub(crate) fn by_star_altitude(&self) -> Result<Vec<Found>, SkyError> {
        let quantity = Quantity::Found(Finding::Hour);
        let Some(Value::TimeOfDay(hour)) = self.held.get(&quantity) else {
            return Ok(Vec::new());
        };
        let there = self.site.at_sidereal_time(self.sky_at(*hour), self.now)?;
        Ok(vec![(quantity, Some(self.hour_of(&there)))])
    }

    /// When a star or a degree rises, culminates and sets on the day; where it does so
    /// twice, the time nearer the moment.
    pub(crate) fn by_the_sky(&self) -> Result<Vec<Found>, SkyError> {
        let mut found = Vec::new();
        for finding in [Finding::Rising, Finding::Setting, Finding::Culmination] {
            let quantity = Quantity::Found(finding);
            if let Some(Value::TimeOfDay(hour)) = self.held.get(&quantity) {
                let there = self.on_the_day(self.sky_at(*hour))?;
                found.push((quantity, Some(self.hour_of(&there))));
            }
        }
        Ok(found)
    }

    /// The sidereal time at what would be an hour of the Sun if it stood still: the sky
    /// turns without the Sun.
    fn sky_at(&self, hour: Angle) -> Angle {
        hour + self.ideal.given.sun.right_ascension
    }

    /// The sky of the day with a sidereal time.
    fn on_the_day(&self, sidereal_time: Angle) -> Result<Sky, SkyError> {
        const SIDEREAL_DAY_S: f64 = 86_164.1;
        let noon = self.day.noon();
        let first = self.site.at_sidereal_time(sidereal_time, noon)?;
        let is_late = first.instant().seconds_since(noon.instant()) > 0.0;
        let across = if is_late {
            -SIDEREAL_DAY_S
        } else {
            SIDEREAL_DAY_S
        };
        let Ok(again) = Sky::at(first.instant().plus_seconds(across)) else {
            return Ok(first);
        };
        // On the other side of the midnight its hour has the other sign.
        let within = (self.hour_of(&again).value.number() < 0.0) == is_late;
        let off_s = |sky: &Sky| sky.instant().seconds_since(self.now.instant()).abs();
        Ok(if within && off_s(&again) < off_s(&first) {
            self.site.at_sidereal_time(sidereal_time, &again)?
        } else {
            first
        })
    }

    pub(crate) fn rising_azimuths(&self) -> Result<Vec<Found>, SkyError> {
        let mut found = Vec::new();
        for (finding, passage) in [
            (Finding::Azimuth, Passage::Rising),
            (Finding::SettingAzimuth, Passage::Setting),
        ] {
            let wanted = Quantity::Found(finding);
            let event = match self.day.sun_passes(Angle::ZERO, passage, 0)? {
                Some(instant) => {
                    let all = self.with_sun_of(&Sky::at(instant)?);
                    let one = all.into_iter().find(|(quantity, _)| *quantity == wanted);
                    one.and_then(|(_, event)| event)
                }
                None => None,
            };
            found.push((wanted, event));
        }
        Ok(found)
    }

    /// Day, night, twilights and their hours.
    pub(crate) fn day(&self) -> Result<Vec<Found>, SkyError> {
        const DAY: Angle = Angle::FULL_TURN;
        let rising = self.passes(Angle::ZERO, Passage::Rising, 0)?;
        let setting = self.passes(Angle::ZERO, Passage::Setting, 0)?;
        let rose_before = self.passes(Angle::ZERO, Passage::Rising, -1)?;
        let set_before = self.passes(Angle::ZERO, Passage::Setting, -1)?;
        let rises_next = self.passes(Angle::ZERO, Passage::Rising, 1)?;
        let dawn = self.passes(TWILIGHT, Passage::Rising, 0)?;
        let nightfall = self.passes(TWILIGHT, Passage::Setting, 0)?;
        let now = self.hour_of(self.now).value.angle();
        let value = |event: Option<Event>| event.and_then(|event| event.value.angle());
        let between = |from: Option<Angle>, to: Option<Angle>| Some(to? - from?);
        let day = between(value(rising), value(setting));
        let night = between(value(setting), value(rises_next).map(|next| next + DAY));
        // What began last before the moment.
        let since = |event, before: Option<Event>| {
            let today = between(value(event), now);
            let yesterday = between(value(before).map(|before| before - DAY), now);
            today.filter(|gone| *gone >= Angle::ZERO).or(yesterday)
        };
        let number = f64::from(self.choices.hour.clamp(1, 24));
        let stated = self.ideal.stated.get(&Stated::UnequalHours);
        let length = if number > 12.0 { night } else { day };
        let equal = length
            .zip(stated)
            .map(|(arc, stated)| arc / 12.0 * stated.number());
        let mut found = Vec::new();
        let mut put = |finding, event| found.push((Quantity::Found(finding), event));
        let without_time = |value: Option<Value>| value.map(|value| Event { value, at: None });
        let arc = |arc: Option<Angle>| without_time(arc.map(Value::Arc));
        put(Finding::Hour, Some(self.hour_of(self.now)));
        put(Finding::Dawn, dawn);
        put(Finding::Nightfall, nightfall);
        put(Finding::Sunrise, rising);
        put(Finding::Sunset, setting);
        put(Finding::Twilight, arc(between(value(dawn), value(rising))));
        let whole = between(value(dawn), value(nightfall));
        put(Finding::DayWithTwilights, arc(whole));
        put(Finding::DayArc, arc(day));
        put(Finding::NightArc, arc(night));
        put(Finding::UnequalHourOfDay, arc(day.map(|arc| arc / 12.0)));
        put(
            Finding::UnequalHourOfNight,
            arc(night.map(|arc| arc / 12.0)),
        );
        put(Finding::EqualHours, arc(equal));
        put(Finding::SinceSunrise, arc(since(rising, rose_before)));
        put(Finding::SinceSunset, arc(since(setting, set_before)));
        put(Finding::UnequalHour, without_time(self.unequal_hour()?));
        let span = |from: Option<Event>, to: Option<Event>| Some((from?.at?, to?.at?));
        let (span, hours) = if number > 12.0 {
            (span(setting, rises_next), number - 12.0)
        } else {
            (span(rising, setting), number)
        };
        for (finding, hours) in [
            (Finding::HourBegins, hours - 1.0),
            (Finding::HourEnds, hours),
        ] {
            let at =
                span.map(|(from, to)| from.plus_seconds(to.seconds_since(from) * hours / 12.0));
            put(finding, at.map(|at| self.hour_at(at)).transpose()?);
        }
        Ok(found)
    }

    /// The unequal hours of the day or night that have gone, those of the night from 12 on.
    fn unequal_hour(&self) -> Result<Option<Value>, SkyError> {
        let day = SolarDay::at(self.now, self.site, Sunrise::Centre)?;
        Ok(day.ok().map(|day| {
            let gone_s = self.now.instant().seconds_since(day.begins);
            let before = match day.sect {
                figure::Sect::Day => 0.0,
                figure::Sect::Night => 12.0,
            };
            Value::UnequalHours(before + (gone_s / day.unequal_hour_s()).clamp(0.0, 12.0))
        }))
    }
}
