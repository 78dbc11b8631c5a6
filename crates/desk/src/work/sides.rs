//! In which half of the sky, and on which side of the zenith, things are sighted.

use figure::HorizonPosition;
use instrument::{Hemisphere, Pick};
use practice::{Finding, Quantity, RetePlace, Sighting, Stated, TaskChoices, TaskInput, carry_out};
use sky::{Angle, Body};

use super::Work;
use crate::refusal::{Field, Refusal};
use crate::work_texts::{plain, unknown};

impl Work {
    /// In which half of the sky things stand.
    pub(super) fn sides(&mut self, said: Option<&str>, body: Option<Body>) -> Result<(), Refusal> {
        let of = |position: HorizonPosition| {
            if position.azimuth < Angle::HALF_TURN {
                Pick::Eastern
            } else {
                Pick::Western
            }
        };
        let by_star = self.is_by_star();
        let position = match self.star_position() {
            Some(star) if by_star => star,
            _ => self.sun_position(),
        };
        self.choices.side = match said.map(plain).as_deref() {
            None => of(position),
            Some("morning" | "east") => Pick::Eastern,
            Some("evening" | "west") => Pick::Western,
            Some(_) => {
                return Err(unknown(
                    Field::Side,
                    said.unwrap_or_default(),
                    &["morning", "evening", "east", "west"],
                ));
            }
        };
        if let Some(body) = body {
            self.choices.other_side = of(self.body_position(body));
        }
        Ok(())
    }

    /// On which side of the zenith something stands on the meridian: as is said, or where
    /// it does at the moment.
    pub(super) fn side_of_zenith(
        &mut self,
        sight: Sighting,
        said: Option<&str>,
        body: Option<Body>,
    ) -> Result<(), Refusal> {
        self.sides(None, body)?;
        let north = match said.map(plain).as_deref() {
            None => None,
            Some("north") => Some(true),
            Some("south") => Some(false),
            Some(_) => {
                return Err(unknown(
                    Field::Side,
                    said.unwrap_or_default(),
                    &["north", "south"],
                ));
            }
        };
        let pole_is_north = self.casting.instrument.specification().hemisphere == Hemisphere::North;
        let beside_pole = match north {
            Some(north) => north == pole_is_north,
            None if self.side_is_said => return Ok(()),
            None => {
                let declination = self.declination_on_meridian(body);
                self.towards_pole(declination) > self.casting.latitude().angle().abs()
            }
        };
        // Altitudes are counted from the equator's side; of a star that does not set,
        // from the pole's.
        let counted_from_pole = sight == Sighting::UpperAltitude;
        let beyond = beside_pole != counted_from_pole;
        if self.side_is_said && beyond != self.choices.beyond_zenith {
            return Err(Refusal::new(
                Field::Side,
                format!(
                    "an altitude over 90° is counted on through the zenith, and then it does not stand in the {}; without --side, or with the altitude as it is seen, it would do",
                    said.unwrap_or_default()
                ),
            ));
        }
        self.choices.beyond_zenith = beyond;
        self.side_is_said = north.is_some();
        Ok(())
    }

    /// Where a latitude is found by an altitude without its side, it is taken on that which
    /// brings the latitude nearer the place's own.
    pub(super) fn side_nearer_home(&mut self) {
        if !self.has_two_sides() {
            return;
        }
        let (here, there) = (self.choices, self.by_other_side());
        let off = |choices: &TaskChoices| {
            let operation = self.task.operation(&self.casting.instrument, choices);
            let pole = Quantity::Found(Finding::PoleAltitude);
            let reading = carry_out(&operation, &self.actual()).reading(pole).ok()?;
            let from_home = reading.value.angle()? - self.casting.latitude().angle().abs();
            Some(from_home.abs())
        };
        if off(&there)
            .zip(off(&here))
            .is_some_and(|(there, here)| there < here)
        {
            self.choices = there;
        }
    }

    /// Whether an altitude was given that can have been sighted on either side of the zenith.
    pub(super) fn has_two_sides(&self) -> bool {
        let sight = self.task.sighted_on_meridian();
        let seen = sight.and_then(|sight| self.seen.get(&sight));
        seen.is_some_and(|seen| seen.within.is_some()) && !self.side_is_said
    }

    pub(super) fn by_other_side(&self) -> TaskChoices {
        TaskChoices {
            beyond_zenith: !self.choices.beyond_zenith,
            ..self.choices
        }
    }

    /// On which side of the zenith something is sighted on the meridian.
    pub(super) fn side_by(&self, sight: Sighting, choices: &TaskChoices) -> &'static str {
        let pole_is_north = self.casting.instrument.specification().hemisphere == Hemisphere::North;
        let counted_from_pole = sight == Sighting::UpperAltitude;
        if (choices.beyond_zenith != counted_from_pole) == pole_is_north {
            "north"
        } else {
            "south"
        }
    }

    /// The same, where the operation has something sighted there.
    pub(crate) fn side_of_meridian(&self) -> Option<&'static str> {
        let sight = self.task.sighted_on_meridian()?;
        Some(self.side_by(sight, &self.choices))
    }

    /// The declination of what is sighted on the meridian: the Sun's is that of noon.
    pub(super) fn declination_on_meridian(&self, body: Option<Body>) -> Angle {
        if let Some(star) = self.true_star.as_ref().filter(|_| self.is_by_star()) {
            return star.declination.angle();
        }
        if self.task.sighted_on_meridian() == Some(Sighting::WandererAltitude) {
            let degree = self.stated_angle(Stated::Degree).unwrap_or_default();
            return match body {
                Some(body) => self.casting.moment.sky().body(body).declination.angle(),
                None => self.horizon().declination(degree).angle(),
            };
        }
        self.sun_at_noon.angle()
    }

    pub(super) fn is_by_star(&self) -> bool {
        self.choices.subject == RetePlace::Star || self.task.needs().contains(&TaskInput::Star)
    }

    /// A declination, or another distance from the equator, counted towards the pole
    /// that stands above the horizon.
    pub(super) fn towards_pole(&self, northward: Angle) -> Angle {
        if self.casting.latitude() < sky::Latitude::ZERO {
            -northward
        } else {
            northward
        }
    }
}
