//! The acts that the operations need besides those of casting.

use instrument::{Pick, RetePoint};
use sky::{Angle, Latitude};

use super::hand::{Hand, ReteSetting};
use super::reading::{NoReading, Reading, of_angle};
use crate::amount::Amount;
use crate::conditions::SunTaken;
use crate::finding::Finding;
use crate::operation::{Along, RetePlace, Spot, WhichDegree};
use crate::quantity::Quantity;
use crate::reads_to::Scale;
use crate::sight::{Sighting, Stated};
use crate::value::Value;

impl Hand<'_> {
    /// Something from outside: as the person has it, or as a scale of the back
    /// would show it.
    pub(super) fn observe(&mut self, sight: Sighting) -> Result<Reading, NoReading> {
        let needs = NoReading::Needs(Quantity::Seen(sight));
        let seen = self.conditions.seen.get(&sight).ok_or(needs)?;
        let reading = match (seen.within, seen.value.angle()) {
            (Some(within), _) => Reading {
                value: seen.value,
                reads_to: within * 2.0,
            },
            (None, Some(angle)) => {
                let scale = self.back_scale();
                let shown = scale.rounded(angle, self.conditions.reading);
                let value = of_angle(Quantity::Seen(sight), shown)?;
                Reading::on_scale(value, scale.reads_to(self.conditions.reading))
            }
            // Points are counted, not read among degrees.
            (None, None) => Reading {
                value: seen.value,
                reads_to: seen.value.measure().amount(0.0),
            },
        };
        self.sight(reading.value);
        Ok(reading)
    }

    /// The alidade as it stands when this is seen through it: up to the left, and
    /// its other end on the shadow square's right side.
    fn sight(&mut self, value: Value) {
        let back = self.instrument.back();
        let bearing = match value {
            Value::Points(points) if self.by_versa => {
                back.alidade_over(back.umbra_versa(points, true))
            }
            Value::Points(points) => back.alidade_over(back.umbra_recta(points, true)),
            Value::Height(altitude) => back.altitude(altitude, false) + Angle::HALF_TURN,
            // The shadows of morning and evening lie on a board.
            Value::Azimuth(_)
            | Value::Degree(_)
            | Value::TimeOfDay(_)
            | Value::Arc(_)
            | Value::UnequalHours(_)
            | Value::Length(_) => return,
        };
        self.state.alidade = back.longitude(bearing);
    }

    pub(super) fn turn_to_altitude(
        &self,
        what: RetePlace,
        altitude: Angle,
        side: Pick,
    ) -> Result<ReteSetting, NoReading> {
        let point = self.point_of(what)?;
        let at = |altitude: Angle| {
            let altitude = latitude(altitude);
            self.instrument
                .rete_at_altitude(point, &self.state, altitude, side)
        };
        let exact = at(altitude)?;
        if self.conditions.setting.is_perfect() {
            return Ok(ReteSetting {
                rete: exact,
                sets_to: Angle::ZERO,
            });
        }
        let scale = self.almucantars(self.instrument.rete_point(point, exact));
        let step = scale.reads_to(self.conditions.setting);
        let found = scale.rounded(altitude, self.conditions.setting);
        // Near its greatest altitude a place has no position for half a step more.
        let lower = at(altitude - step / 2.0).unwrap_or(exact);
        let by_altitude = match at(altitude + step / 2.0) {
            Ok(upper) => lower.to(upper).abs(),
            Err(_) => lower.to(exact).abs() * 2.0,
        };
        Ok(ReteSetting {
            rete: at(found).unwrap_or(exact),
            sets_to: by_altitude,
        })
    }

    /// The almucantars as a scale, where a point lies among them.
    fn almucantars(&self, at: instrument::Point) -> Scale {
        Scale {
            division: Angle::from_deg(f64::from(self.instrument.almucantar_step())),
            mm_per_degree: self.instrument.projection().mm_per_degree(at),
            sine: 1.0,
        }
    }

    pub(super) fn read_altitude(&self, of: Spot, finds: Quantity) -> Result<Reading, NoReading> {
        let plate = self.instrument.plate(self.state.plate);
        let at = match of {
            Spot::OnRete(what) => {
                self.stands()?;
                self.instrument
                    .rete_point(self.point_of(what)?, self.state.rete)
            }
            Spot::Pole => instrument::Point::POLE,
            Spot::EquatorAtNoon => {
                let noon = Angle::ZERO + self.instrument.faults().plate_turned;
                let radius = self.instrument.projection().equator_mm();
                instrument::Point::polar(radius, noon)
            }
        };
        let altitude = if finds == Quantity::Found(Finding::MeridianAltitude) {
            plate.along_meridian(at)
        } else {
            plate.altitude_at(at).angle()
        };
        let scale = self.almucantars(at);
        let altitude = scale.rounded(altitude, self.conditions.reading);
        let reads_to = scale.reads_to(self.conditions.reading);
        Ok(Reading::on_scale(Value::Height(altitude), reads_to))
    }

    pub(super) fn read_azimuth(&self, of: RetePlace) -> Result<Reading, NoReading> {
        self.stands()?;
        let plate = self.instrument.plate(self.state.plate);
        let at = self
            .instrument
            .rete_point(self.point_of(of)?, self.state.rete);
        let scale = Scale {
            division: Angle::from_deg(self.azimuths()),
            mm_per_degree: self.instrument.projection().mm_per_degree(at)
                * plate.altitude_at(at).cos(),
            sine: 1.0,
        };
        let azimuth = scale.rounded(plate.azimuth_at(at), self.conditions.reading);
        let reads_to = scale.reads_to(self.conditions.reading);
        Ok(Reading::on_scale(
            Value::Azimuth(azimuth.in_turn()),
            reads_to,
        ))
    }

    pub(super) fn read_at_altitude(
        &self,
        altitude: Angle,
        side: Pick,
    ) -> Result<Reading, NoReading> {
        self.stands()?;
        let altitude = latitude(altitude);
        let crossing = self
            .instrument
            .read_ecliptic_at_altitude(&self.state, altitude, side)?;
        Ok(self.degree_at(&crossing))
    }

    pub(super) fn read_unequal_hour(&self) -> Result<Reading, NoReading> {
        self.stands()?;
        let plate = self.instrument.plate(self.state.plate);
        let sun = self
            .instrument
            .rete_point(self.point_of(RetePlace::Sun)?, self.state.rete);
        let by_night = plate.below(sun);
        let under = if by_night {
            RetePlace::Sun
        } else {
            RetePlace::OppositeSun
        };
        let at = self
            .instrument
            .rete_point(self.point_of(under)?, self.state.rete);
        let (hour, hour_mm) = plate.unequal_hour_at(at)?;
        let scale = Scale {
            division: Angle::from_hours(1.0),
            mm_per_degree: hour_mm / 15.0,
            sine: 1.0,
        };
        let hour = Angle::from_hours(if by_night { hour + 12.0 } else { hour });
        let hour = scale.rounded(hour, self.conditions.reading);
        let reads_to = scale.reads_to(self.conditions.reading);
        Ok(Reading {
            value: Value::UnequalHours(hour.hours()),
            reads_to: Amount::UnequalHours(reads_to.hours()),
        })
    }

    pub(super) fn read_almuri(&self) -> Result<Reading, NoReading> {
        self.stands()?;
        let limb = self.limb();
        let exact = self.instrument.almuri(self.state.rete);
        let place = limb.rounded(exact, self.conditions.reading);
        let reads_to = limb.reads_to(self.conditions.reading);
        Ok(Reading::on_scale(Value::Arc(place), reads_to))
    }

    pub(super) fn turn_almuri(&self, onto: Angle) -> ReteSetting {
        let limb = self.limb();
        let onto = limb.rounded(onto, self.conditions.setting);
        ReteSetting {
            rete: (onto - self.instrument.almuri(Angle::ZERO)).in_turn(),
            sets_to: limb.reads_to(self.conditions.setting),
        }
    }

    /// The rete's position with the ecliptic at an altitude on the meridian line,
    /// and the degree there.
    pub(super) fn turn_ecliptic(
        &self,
        altitude: Angle,
        which: WhichDegree,
    ) -> Result<(Angle, Reading), NoReading> {
        let plate = self.instrument.plate(self.state.plate);
        let apart = || instrument::NoCrossing::Apart {
            what: "ecliptic",
            line: instrument::LineId::Almucantar(instrument::Minutes::nearest(
                altitude.deg().min(180.0 - altitude.deg()),
            )),
        };
        let mark = plate.on_meridian(altitude).ok_or_else(apart)?;
        let passing = self.instrument.degrees_passing(mark);
        let (near, sign) = match which {
            WhichDegree::InSeason => (self.conditions.given.sun.longitude, 1.0),
            WhichDegree::Not(quantity) => (self.angle(quantity)?, -1.0),
        };
        let (degree, rete) = passing
            .into_iter()
            .min_by(|(a, _), (b, _)| {
                let off = |degree: &Angle| near.to(*degree).abs().deg() * sign;
                off(a).total_cmp(&off(b))
            })
            .ok_or_else(apart)?;
        let turned = instrument::State { rete, ..self.state };
        // How steeply the ecliptic crosses the circle on which the mark goes round.
        let at = self
            .instrument
            .rete_point(RetePoint::Degree(degree), turned.rete);
        let outwards = at - self.instrument.rete_centre();
        let across = self.instrument.ecliptic(turned.rete).gradient(at);
        let sizes = outwards.radius() * across.radius();
        let scale = Scale {
            division: self.instrument.specification().ecliptic_division,
            mm_per_degree: self.instrument.projection().mm_per_degree(at),
            sine: outwards.cross(across).abs() / sizes,
        };
        let degree = scale.rounded(degree, self.conditions.reading);
        let reads_to = scale.reads_to(self.conditions.reading);
        let reading = Reading::on_scale(Value::Degree(degree.in_turn()), reads_to);
        Ok((rete, reading))
    }

    /// The spot to be waxed, in the rete's frame.
    pub(super) fn wax(&self, along: Along) -> Result<instrument::Point, NoReading> {
        let own_latitude = self.angle(Quantity::Stated(Stated::Latitude))?;
        match along {
            Along::CircleOfLatitude => {
                let longitude = self.angle(Quantity::Stated(Stated::Degree))?;
                let rete = self.instrument.rete();
                Ok(rete.zodiacal_point(longitude, latitude(own_latitude)))
            }
            Along::Rule => {
                self.stands()?;
                let altitude = self.angle(Quantity::Found(Finding::MeridianAltitude))?
                    + own_latitude * self.towards_pole();
                let plate = self.instrument.plate(self.state.plate);
                let mark = plate
                    .on_meridian(altitude)
                    .ok_or(NoReading::Needs(Quantity::Found(Finding::MeridianAltitude)))?;
                Ok((mark - self.instrument.rete_centre()).turned(-self.state.rete))
            }
        }
    }

    /// +1 where northern latitudes lie towards the plate's pole, −1 on a southern plate.
    fn towards_pole(&self) -> f64 {
        match self.instrument.specification().hemisphere {
            instrument::Hemisphere::North => 1.0,
            instrument::Hemisphere::South => -1.0,
        }
    }

    /// A place of the rete; the Sun by its degree, whether or not there is a date ring.
    pub(super) fn point_of(&self, what: RetePlace) -> Result<RetePoint, NoReading> {
        let needs_star = || NoReading::Star;
        Ok(match what {
            RetePlace::Sun => self.sun_degree_on_rete()?,
            RetePlace::OppositeSun => match self.sun_degree_on_rete()? {
                RetePoint::Degree(degree) => RetePoint::Degree(degree + Angle::HALF_TURN),
                RetePoint::Place(right_ascension, declination) => {
                    RetePoint::Place(right_ascension + Angle::HALF_TURN, -declination)
                }
                other @ (RetePoint::Date(_) | RetePoint::Waxed(_)) => other,
            },
            RetePlace::Degree(quantity) => RetePoint::Degree(self.angle(quantity)?),
            RetePlace::Opposite(quantity) => {
                RetePoint::Degree(self.angle(quantity)? + Angle::HALF_TURN)
            }
            RetePlace::Star => {
                let star = self.conditions.star.as_ref().ok_or_else(needs_star)?;
                RetePoint::Place(star.right_ascension, star.declination)
            }
            RetePlace::Waxed => RetePoint::Waxed(self.waxed.ok_or(NoReading::Wax)?),
        })
    }

    fn sun_degree_on_rete(&self) -> Result<RetePoint, NoReading> {
        let sun = self.conditions.given.sun;
        let read = self.instrument.date_from() == instrument::DateFrom::Zodiac;
        Ok(match self.conditions.sun {
            SunTaken::TruePlace => RetePoint::Place(sun.right_ascension, sun.declination),
            SunTaken::ByInstrument if read => RetePoint::Degree(self.angle(Quantity::SunDegree)?),
            SunTaken::OnEcliptic | SunTaken::ByInstrument => RetePoint::Degree(sun.longitude),
        })
    }
}

/// An altitude; beyond the zenith it is the zenith's.
fn latitude(angle: Angle) -> Latitude {
    Latitude::from_deg(angle.deg().clamp(-90.0, 90.0)).unwrap_or_default()
}
