use moment::{Calendar, CivilDate, Zone};
use sky::{Angle, Body, Instant, Sky};

use super::kind::{Kind, Needs};
use crate::days::weekday;
use crate::events::events;
use crate::{Ask, Column, Days, Definition, Exact, Form, Head, PartOf, TableError};

/// The ephemeris.
pub(super) const EPHEMERIS: Kind = Kind {
    name: "ephemeris",
    what: "longitudes of the planets every day, a month a page, with what happens in it",
    needs: Needs::Days,
    define: |ask| Ok(Box::new(Ephemeris::of(ask)?)),
};

/// The definition for some days at Greenwich, for who works with the pen.
pub(crate) fn at_greenwich(days: Days, calendar: Calendar) -> Box<dyn Definition> {
    Box::new(Ephemeris {
        days,
        zone: None,
        longitude: Angle::ZERO,
        calendar,
    })
}

struct Ephemeris {
    days: Days,
    zone: Option<Zone>,
    longitude: Angle,
    calendar: Calendar,
}

impl Ephemeris {
    fn of(ask: &Ask) -> Result<Ephemeris, TableError> {
        Ok(Ephemeris {
            days: Days::of(ask)?,
            zone: ask.zone,
            longitude: ask.longitude,
            calendar: ask.calendar,
        })
    }

    /// Day of the month and time of the clock of an instant, to the minute.
    fn told(&self, instant: Instant) -> String {
        let unix_s = (instant.jd_ut() - 2_440_587.5) * 86_400.0;
        let mean_s = self.longitude.deg() * 240.0;
        let ahead_s = self.zone.map_or(mean_s, |zone| {
            let span = zone.span_at(unix_s.floor() as i64);
            if span.is_local_mean_time() {
                mean_s
            } else {
                span.offset().seconds()
            }
        });
        let minutes = ((unix_s + ahead_s) / 60.0).round();
        let day = (minutes / 1440.0).floor();
        let date = CivilDate::from_julian_day_number(self.calendar, 2_440_588 + day as i32);
        let minute = minutes - day * 1440.0;
        format!(
            "{} {}:{:02}",
            date.day(),
            (minute / 60.0).floor(),
            minute % 60.0
        )
    }
}

impl Definition for Ephemeris {
    fn head(&self) -> Head {
        let longitude = |body: Body| {
            let name = body.name();
            let key = format!("{}_longitude_deg", name.to_lowercase());
            Column::new(&key, name, Form::Zodiac)
        };
        let mut columns = vec![
            Column::words("weekday", ""),
            Column::new("sidereal_time_h", "sidereal time", Form::ClockToSecond).without_between(),
        ];
        columns.extend(Body::ALL.map(longitude));
        columns.extend([
            Column::new("node_longitude_deg", "Node", Form::Zodiac),
            Column::new("moon_latitude_deg", "Moon lat.", Form::Degrees),
            Column::new("sun_declination_deg", "Sun decl.", Form::Degrees),
            Column::new("moon_declination_deg", "Moon decl.", Form::Degrees),
        ]);
        Head {
            title: format!("Ephemeris {}", self.days.span()),
            definitions: vec![
                format!("At {}.", self.days.clock()),
                "Apparent places from the Earth's centre, counted from the true equinox; the node is \
                 the Moon's mean ascending node. North latitudes and declinations are positive."
                    .to_owned(),
                "Beneath each month stand, by the same clock, the lunations, ingresses and stations, \
                 and the aspects of the planets up to Saturn, each at its exact time."
                    .to_owned(),
            ],
            argument: Column::words("date", "day"),
            columns,
        }
    }

    fn parts(&self) -> Vec<PartOf> {
        self.days.parts(|month| {
            let ends = self.days.month_ends(month);
            ends.map_or_else(Vec::new, |ends| events(ends, |instant| self.told(instant)))
        })
    }

    fn exact(&self, at: f64) -> Vec<Exact> {
        let Some(sky) = self.days.instant(at).and_then(|one| Sky::at(one).ok()) else {
            return vec![Exact::Nothing; 16];
        };
        let (sun, moon) = (sky.sun(), sky.body(Body::Moon));
        let mut found = vec![
            Exact::Words(weekday(at).to_owned()),
            Exact::Number((sky.sidereal_time() + self.longitude).in_turn().hours()),
        ];
        found.extend(Body::ALL.map(|body| Exact::Number(sky.body(body).longitude.deg())));
        found.extend(
            [
                sky.mean_node(),
                moon.latitude.angle(),
                sun.declination.angle(),
                moon.declination.angle(),
            ]
            .map(|angle| Exact::Number(angle.deg())),
        );
        found
    }
}
