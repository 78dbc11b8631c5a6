use figure::{Site, SolarDay, Sunrise, ruler_of_day};
use moment::Zone;
use sky::Sky;

use super::kind::{Kind, Needs};
use super::written::north_or_south;
use crate::days::weekday;
use crate::{Ask, Column, DayHour, Days, Definition, Exact, Form, Head, PartOf, TableError};

/// Planetary hours by days.
pub(super) const PLANETARY_HOURS: Kind = Kind {
    name: "planetary-hours",
    what: "sunrise, sunset and the lengths of the unequal hours, every day at a place",
    needs: Needs::DaysAtPlace,
    define: |ask| Ok(Box::new(PlanetaryHours::of(ask)?)),
};

struct PlanetaryHours {
    days: Days,
    site: Site,
    zone: Option<Zone>,
}

impl PlanetaryHours {
    fn of(ask: &Ask) -> Result<PlanetaryHours, TableError> {
        let noon = ask.clone().at_hour(DayHour::Noon);
        Ok(PlanetaryHours {
            days: Days::of(&noon)?,
            site: Site {
                latitude: ask.latitude_for("planetary-hours")?,
                longitude: ask.longitude,
            },
            zone: ask.zone,
        })
    }

    fn day(&self, at: f64) -> Option<[Exact; 7]> {
        let noon = self.days.instant(at)?;
        let (day, fraction) = noon.ut_parts();
        let ahead_s = (at.floor() - day - fraction + (at - at.floor())) * 86_400.0;
        let sky = Sky::at(noon).ok()?;
        let ruler = ruler_of_day(noon, ahead_s).name();
        let words = |text: &str| Exact::Words(text.to_owned());
        let nothing = || Exact::Nothing;
        let Ok(Ok(by_day)) = SolarDay::at(&sky, self.site, Sunrise::Centre) else {
            return Some([
                words(weekday(at)),
                words(ruler),
                nothing(),
                nothing(),
                nothing(),
                nothing(),
                nothing(),
            ]);
        };
        let clock = |instant: sky::Instant| {
            let (day, fraction) = instant.ut_parts();
            let days = (day - 0.5).rem_euclid(1.0) + fraction + ahead_s / 86_400.0;
            Exact::Number(days.rem_euclid(1.0) * 24.0)
        };
        let night = Sky::at(by_day.ends.plus_seconds(60.0))
            .ok()
            .and_then(|sky| SolarDay::at(&sky, self.site, Sunrise::Centre).ok()?.ok());
        Some([
            words(weekday(at)),
            words(ruler),
            clock(by_day.begins),
            Exact::Number(by_day.unequal_hour_s()),
            clock(by_day.ends),
            night.map(|night| night.unequal_hour_s()).into(),
            clock(by_day.begins.plus_seconds(by_day.ends.seconds_since(by_day.begins) / 2.0)),
        ])
    }
}

impl Definition for PlanetaryHours {
    fn head(&self) -> Head {
        let clock = match self.zone {
            Some(zone) => format!("by the clock of {}, summer time where it is in force", zone.name()),
            None => "in mean time of the place".to_owned(),
        };
        Head {
            title: format!(
                "Planetary hours {} for latitude {}",
                self.days.span(),
                north_or_south(self.site.latitude)
            ),
            definitions: vec![
                format!("Times are {clock}."),
                "Sunrise and sunset are of the Sun's centre on the true horizon, without refraction, \
                 as a plate shows it; an hour of the day is a twelfth from one to the other, an hour \
                 of the night a twelfth to the next sunrise."
                    .to_owned(),
                "The first hour of the day is its ruler's; the others are in the table of the \
                 planets of the hours. A stroke stands where the Sun does not rise or set."
                    .to_owned(),
            ],
            argument: Column::words("date", "day"),
            columns: vec![
                Column::words("weekday", ""),
                Column::words("ruler", "ruler"),
                Column::new("sunrise_h", "sunrise", Form::Clock),
                Column::new("hour_of_day_s", "hour by day", Form::Minutes),
                Column::new("sunset_h", "sunset", Form::Clock),
                Column::new("hour_of_night_s", "by night", Form::Minutes),
                Column::new("middle_of_day_h", "7th hour begins", Form::Clock),
            ],
        }
    }

    fn parts(&self) -> Vec<PartOf> {
        self.days.parts(|_| Vec::new())
    }

    fn exact(&self, at: f64) -> Vec<Exact> {
        self.day(at).map_or_else(Vec::new, Vec::from)
    }

    /// Each day is one of its own.
    fn has_between(&self) -> bool {
        false
    }
}
