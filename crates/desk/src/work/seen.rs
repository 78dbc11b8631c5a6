//! What is seen: as it is offered, and as it stands.

use practice::{About, RetePlace, Sighting, Stated, Value};
use sky::{Angle, Body};

use super::Work;
use crate::sighted::{Displaced, Sighted, as_seen};

impl Work {
    /// As it is seen at the moment; on the meridian, as on the day.
    pub(super) fn would_be_seen(&self, sight: Sighting) -> Option<Angle> {
        let stands = self.would_stand(sight)?;
        Some(match self.sighted(sight) {
            Sighted::Body(body) => as_seen(stands, Some(self.distance_au(body))),
            Sighted::FarAway => as_seen(stands, None),
            Sighted::NoLight => stands,
        })
    }

    /// Where it stands, without air and from the Earth's centre.
    fn would_stand(&self, sight: Sighting) -> Option<Angle> {
        let pole = self.casting.latitude().angle().abs();
        let from_equator = self.towards_pole(self.declination_on_meridian(self.body));
        // Beyond the zenith it is seen from the other side.
        let nearer = |counted: Angle| {
            if counted > Angle::QUARTER_TURN {
                Angle::HALF_TURN - counted
            } else {
                counted
            }
        };
        match sight {
            Sighting::Altitude => match self.sighted(sight) {
                Sighted::Body(body) => Some(self.body_position(body).altitude),
                Sighted::FarAway => Some(self.star_position()?.altitude),
                Sighted::NoLight => {
                    let degree = self.stated_angle(Stated::Degree)?;
                    Some(self.horizon().position_of_degree(degree).altitude)
                }
            },
            Sighting::NoonAltitude => Some(nearer(Angle::QUARTER_TURN - pole + from_equator)),
            Sighting::UpperAltitude | Sighting::LowerAltitude => {
                let from_pole = Angle::QUARTER_TURN - from_equator;
                let circumpolar = from_pole < pole;
                let altitude = if sight == Sighting::UpperAltitude {
                    nearer(pole + from_pole)
                } else {
                    pole - from_pole
                };
                circumpolar.then_some(altitude)
            }
            Sighting::WandererAltitude if self.task.sighted_on_meridian() == Some(sight) => {
                self.body?;
                Some(nearer(Angle::QUARTER_TURN - pole + from_equator))
            }
            Sighting::WandererAltitude => Some(self.body_position(self.body?).altitude),
            Sighting::OtherAltitude
            | Sighting::MorningShadow
            | Sighting::EveningShadow
            | Sighting::Shadow
            | Sighting::OtherShadow => None,
        }
    }

    /// What a sight is of.
    fn sighted(&self, sight: Sighting) -> Sighted {
        match sight {
            Sighting::Altitude
            | Sighting::NoonAltitude
            | Sighting::UpperAltitude
            | Sighting::LowerAltitude => match (self.task.about(), self.body, self.choices.subject)
            {
                (About::WhateverIsSighted, Some(body), _) => Sighted::Body(body),
                _ if self.is_by_star() && self.true_star.is_some() => Sighted::FarAway,
                (_, _, RetePlace::Degree(_)) => Sighted::NoLight,
                _ => Sighted::Body(Body::Sun),
            },
            Sighting::OtherAltitude | Sighting::WandererAltitude => {
                self.body.map_or(Sighted::FarAway, Sighted::Body)
            }
            Sighting::MorningShadow
            | Sighting::EveningShadow
            | Sighting::Shadow
            | Sighting::OtherShadow => Sighted::NoLight,
        }
    }

    /// What parts an altitude that is seen from where the thing stands.
    pub(super) fn displaced(&self, sight: Sighting, seen: Value) -> Displaced {
        match (seen, self.sighted(sight)) {
            (Value::Height(altitude), Sighted::Body(body)) => {
                Displaced::of_seen(altitude, Some(self.distance_au(body)))
            }
            (Value::Height(altitude), Sighted::FarAway) => Displaced::of_seen(altitude, None),
            (_, Sighted::Body(_) | Sighted::FarAway | Sighted::NoLight) => Displaced::default(),
        }
    }

    fn distance_au(&self, body: Body) -> f64 {
        self.casting.moment.sky().body(body).distance_au
    }

    /// What the air and the place do to what is seen, where an instrument would notice.
    pub(super) fn say_what_displaces(&mut self) {
        const NOTICED: Angle = Angle::from_arcmin(0.5);
        let minutes = |angle: Angle| format!("{:.0}′", angle.deg() * 60.0);
        let mut notes = Vec::new();
        for (sight, seen) in &self.seen {
            let Displaced { raised, lowered } = self.displaced(*sight, seen.value);
            let name = sight.words();
            if raised >= NOTICED {
                notes.push(format!(
                    "The {name} is seen {} higher than it stands, for the air raises it (mean refraction; on the horizon the weather changes it by some minutes of arc). An instrument hangs plumb: the dip of the sea's horizon does not enter.",
                    minutes(raised)
                ));
            }
            if lowered >= NOTICED {
                notes.push(format!(
                    "The {name} is seen {} lower than from the Earth's centre: parallax.",
                    minutes(lowered)
                ));
            }
        }
        self.notes.extend(notes);
    }
}
