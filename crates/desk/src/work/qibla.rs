//! Which qibla curve of the back is read, and where it meets the arc of the day.

use exact::sun_towards_mecca;
use instrument::{CurveLeg, ListedPlace};
use practice::{CurveRead, TowardsMecca};
use sky::{Angle, Latitude};

use super::Work;
use crate::refusal::{Field, Refusal};
use crate::work_texts::listing;

/// As far off, along the great circle, a city's curve is still read for a place: 111 km.
const REACH: Angle = Angle::from_deg(1.0);

/// In so many parts the Sun's declinations of a year are looked through, to either side.
const PARTS: i16 = 100;

impl Work {
    /// The place itself, as a gazetteer would list it.
    fn listed(&self) -> ListedPlace {
        let place = self.casting.moment.place();
        ListedPlace {
            name: place.name.clone(),
            latitude: place.latitude,
            longitude: place.longitude,
        }
    }

    /// The place's own curve, drawn whole, where a qibla curve is read.
    pub(super) fn own_curve(&self) -> Option<CurveRead> {
        self.qibla.as_ref().map(|_| CurveRead::whole(self.listed()))
    }

    /// The curve of the nearest city, and its crossings with the arc of the day.
    pub(super) fn choose_qibla_curve(&mut self) -> Result<(), Refusal> {
        let place = self.casting.moment.place();
        let (latitude, longitude) = (place.latitude, place.longitude);
        if self.listed().qibla().is_none() {
            return Err(Refusal::new(
                Field::At,
                format!(
                    "from {} Mecca lies in no one direction; a place that is neither Mecca, nor its antipode, nor a pole would do",
                    place.name
                ),
            ));
        }
        let stands = |declination| sun_towards_mecca(latitude, longitude, declination);
        let greatest = self.casting.moment.sky().obliquity().deg();
        let year = (-PARTS..=PARTS).filter_map(|part| {
            let part = f64::from(part) / f64::from(PARTS);
            let declination = Latitude::from_deg(greatest * part).ok()?;
            (!stands(declination).is_empty()).then_some(declination)
        });
        let days: Vec<Latitude> = year.collect();
        let (Some(first), Some(last)) = (days.first(), days.last()) else {
            return Err(Refusal::new(
                Field::At,
                format!(
                    "at {} the Sun stands in the direction of Mecca on no day of the year; a place where it does would do",
                    place.name
                ),
            ));
        };
        let instrument = &self.casting.instrument;
        let curves = instrument.qibla_curves();
        let away = |one: &ListedPlace| one.away_from(latitude, longitude);
        let engraved = curves.iter().filter(|curve| !curve.pieces.is_empty());
        let nearest = engraved
            .map(|curve| (curve, away(&curve.place)))
            .filter(|(_, off)| *off <= REACH)
            .min_by(|(_, one), (_, other)| one.deg().total_cmp(&other.deg()));
        let Some((curve, off)) = nearest else {
            let listed = instrument.specification().parts.gazetteer.iter();
            let why = match listed.map(away).position(|off| off <= REACH) {
                Some(n) if n >= curves.len() => "its city stands too far down the gazetteer",
                Some(_) => "its city's would stand too close to others",
                None => "its gazetteer has no city within 1° of there",
            };
            return Err(Refusal::new(
                Field::With,
                format!(
                    "the back of {} bears no qibla curve for {}: {why}; an instrument with {} in its specification would do",
                    instrument.specification().name,
                    place.name,
                    listing(place),
                ),
            ));
        };
        let sun = self.casting.moment.sky().sun().declination;
        // Where the hand sees the curve cross the arc of the day, the lower first.
        let quadrant = instrument.sun_quadrant();
        let mut crossed: Vec<(Angle, CurveLeg)> = [CurveLeg::Northward, CurveLeg::Southward]
            .into_iter()
            .filter_map(|leg| {
                let (latitude, direction) = (curve.place.latitude, curve.place.qibla()?);
                let altitude = quadrant.altitude_towards(sun, latitude, direction, leg)?;
                Some((altitude, leg))
            })
            .collect();
        crossed.sort_by(|(one, _), (other, _)| one.deg().total_cmp(&other.deg()));
        let lower = crossed.first().filter(|_| !stands(sun).is_empty());
        let Some((_, lower)) = lower else {
            return Err(Refusal::new(
                Field::When,
                format!(
                    "on this day the Sun, at a declination of {}, does not stand in the direction of Mecca at {}; a day on which its declination is from {} to {} would do",
                    words::NorthOrSouth(sun),
                    place.name,
                    words::NorthOrSouth(*first),
                    words::NorthOrSouth(*last),
                ),
            ));
        };
        self.choices.towards_mecca = TowardsMecca {
            lower: *lower,
            higher: crossed.get(1).map(|(_, leg)| *leg),
        };
        self.qibla = Some(CurveRead::of(curve, off));
        Ok(())
    }
}
