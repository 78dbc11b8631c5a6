//! Sums on paper: a finite number of its kind, or why there is none.

use instrument::House;
use sky::Angle;

use super::hand::Hand;
use super::reading::{NoNumber, NoReading, Reading, of_angle};
use crate::amount::Amount;
use crate::operation::{Reckoning, Tower};
use crate::quantity::{Beside, Note, OnPlate, Quantity, WhichPlate};
use crate::sight::{Sighting, Stated};
use crate::value::Value;

impl Hand<'_> {
    pub(super) fn reckon(&self, reckoning: Reckoning) -> Result<Reading, NoReading> {
        let value = self.reckoned(reckoning)?;
        if !value.number().is_finite() {
            return Err(NoNumber::TooLarge.into());
        }
        let value = if reckoning == Reckoning::HourForRule {
            // Its terms are written already, to the second.
            value
        } else {
            self.conditions.figures.of(value)
        };
        let reads_to = match reckoning {
            Reckoning::BetweenPlates(what) => self.reads_to_between(what)?,
            Reckoning::HourForRule
            | Reckoning::ThirdOfLimb(_)
            | Reckoning::Count(..)
            | Reckoning::RestOfTurn(..)
            | Reckoning::Twelfth(..)
            | Reckoning::RestOfThirty(..)
            | Reckoning::Hours(..)
            | Reckoning::Less(..)
            | Reckoning::Sum(..)
            | Reckoning::Mean(..)
            | Reckoning::RestOfRight(..)
            | Reckoning::ThroughZenith(_)
            | Reckoning::FromSouth(..)
            | Reckoning::Midway(..)
            | Reckoning::InProportion(_)
            | Reckoning::Beside(..)
            | Reckoning::MidDegree(..)
            | Reckoning::FromEquinox(_)
            | Reckoning::ProductOfSines(..)
            | Reckoning::SideOfEquator(..)
            | Reckoning::Height(_)
            | Reckoning::RectaToVersa => value.measure().amount(0.0),
        };
        Ok(Reading { value, reads_to })
    }

    /// How finely it is had in proportion from what is read on two plates.
    fn reads_to_between(&self, what: OnPlate) -> Result<Amount, NoReading> {
        let of = |plate| {
            let reading = self.findings.reading(Quantity::On(plate, what))?;
            Ok::<Amount, NoReading>(reading.reads_to)
        };
        let part = self.conditions.part_between_plates();
        let first = of(WhichPlate::First)? * (1.0 - part);
        let second = of(WhichPlate::Second)? * part;
        Ok(first.with_number(libm::hypot(first.number(), second.number())))
    }

    /// From the ascendant's place on the limb to that of a cusp, by thirds.
    fn third_of_limb(&self, house: House) -> Result<Angle, NoReading> {
        // From the ascendant down to midnight lie houses II and III, from it
        // up to noon XII and XI.
        let ascendant = self.noted_angle(Quantity::LimbOfAscendant)?;
        let (meridian, thirds) = match house.number() {
            12 => (Angle::ZERO, 1.0),
            11 => (Angle::ZERO, 2.0),
            2 => (Angle::HALF_TURN, 1.0),
            _ => (Angle::HALF_TURN, 2.0),
        };
        // The ascendant is in the east: towards noon the hour angle grows,
        // towards midnight it falls.
        let arc = match house.number() {
            11 | 12 => (meridian - ascendant).in_turn(),
            _ => -(ascendant - meridian).in_turn(),
        };
        Ok((ascendant + arc * (thirds / 3.0)).signed())
    }

    fn reckoned(&self, reckoning: Reckoning) -> Result<Value, NoReading> {
        let noted = |quantity| self.noted_angle(quantity);
        let angle = match reckoning {
            Reckoning::Height(tower) => return Ok(Value::Length(self.height(tower)?)),
            Reckoning::RectaToVersa => {
                return Ok(Value::Points(144.0 / self.points(Sighting::Shadow)?));
            }
            Reckoning::ProductOfSines(one, other, _) => {
                let (one, other) = (self.noted(one)?.number(), self.noted(other)?.number());
                return Ok(Value::Points(one * other / 60.0));
            }
            Reckoning::FromEquinox(degree) => {
                let from_aries = noted(degree)?.signed().abs();
                let beyond = from_aries > Angle::QUARTER_TURN;
                let from_libra = Angle::HALF_TURN - from_aries;
                if beyond { from_libra } else { from_aries }
            }
            Reckoning::SideOfEquator(size, degree) => {
                let south = noted(degree)?.signed() < Angle::ZERO;
                let size = noted(size)?;
                if south { -size } else { size }
            }
            Reckoning::HourForRule => self.conditions.hour_for_rule(),
            Reckoning::ThirdOfLimb(house) => self.third_of_limb(house)?,
            Reckoning::Count(from, to, _) => (noted(to)? - noted(from)?).in_turn(),
            Reckoning::RestOfTurn(of, _) => Angle::FULL_TURN - noted(of)?,
            Reckoning::Twelfth(of, _) => noted(of)? / 12.0,
            Reckoning::RestOfThirty(of, _) => Angle::from_deg(30.0) - noted(of)?,
            Reckoning::Hours(of, _) => {
                noted(of)? * self.noted(Quantity::Stated(Stated::UnequalHours))?.number()
            }
            Reckoning::Less(a, b, _) => noted(a)? - noted(b)?,
            Reckoning::Sum(a, b, _) => noted(a)? + noted(b)?,
            Reckoning::Mean(a, b, _) => (noted(a)? + noted(b)?) / 2.0,
            Reckoning::RestOfRight(of, _) => Angle::QUARTER_TURN - noted(of)?,
            Reckoning::ThroughZenith(sight) => Angle::HALF_TURN - noted(Quantity::Seen(sight))?,
            Reckoning::FromSouth(of, _) => (noted(of)? - Angle::HALF_TURN).signed(),
            Reckoning::Midway(a, b, _) | Reckoning::MidDegree(a, b, _) => {
                let (a, b) = (noted(a)?, noted(b)?);
                (a + (b - a).in_turn() / 2.0).in_turn()
            }
            Reckoning::BetweenPlates(what) => {
                let first = noted(Quantity::On(WhichPlate::First, what))?;
                let second = noted(Quantity::On(WhichPlate::Second, what))?;
                (first + first.to(second) * self.conditions.part_between_plates()).in_turn()
            }
            Reckoning::Beside(sight, side) => {
                let step = f64::from(self.instrument.almucantar_step());
                // Above the highest line there is the zenith alone.
                let highest = ((90.0 / step).ceil() - 1.0) * step;
                let altitude = noted(Quantity::Seen(sight))?.deg();
                let below = ((altitude / step).floor() * step).min(highest);
                Angle::from_deg(match side {
                    Beside::Below => below,
                    Beside::Above => (below + step).min(90.0),
                })
            }
            Reckoning::InProportion(sight) => {
                let altitude = noted(Quantity::Seen(sight))?;
                let below = noted(Quantity::Engraved(Beside::Below))?;
                let above = noted(Quantity::Engraved(Beside::Above))?;
                let first = noted(Quantity::Noted(Note::First))?;
                let second = noted(Quantity::Noted(Note::Second))?;
                first + first.to(second) * ((altitude - below) / (above - below))
            }
        };
        of_angle(reckoning.finds(), angle)
    }

    /// Points of the shadow square by which something is divided.
    fn points(&self, sight: Sighting) -> Result<f64, NoReading> {
        let points = self.noted(Quantity::Seen(sight))?.number();
        if points <= 0.0 {
            return Err(NoNumber::NoPoints.into());
        }
        Ok(points)
    }

    fn height(&self, tower: Tower) -> Result<f64, NoReading> {
        let distance = self.noted(Quantity::Stated(Stated::Distance))?.number();
        let eye = self.noted(Quantity::Stated(Stated::EyeHeight))?.number();
        let points = self.points(Sighting::Shadow)?;
        let above_eye = match tower {
            Tower::Recta => distance * 12.0 / points,
            Tower::Versa => distance * points / 12.0,
            Tower::RectaTwice => {
                distance * 12.0 / difference(points, self.points(Sighting::OtherShadow)?)?
            }
            Tower::VersaTwice => {
                let other = self.points(Sighting::OtherShadow)?;
                distance / difference(12.0 / points, 12.0 / other)?
            }
        };
        Ok(above_eye + eye)
    }

    /// A value as it is put into a sum.
    fn noted(&self, quantity: Quantity) -> Result<Value, NoReading> {
        let value = self.value(quantity)?;
        Ok(self.conditions.figures.of(value))
    }

    /// An angle as it is put into a sum.
    fn noted_angle(&self, quantity: Quantity) -> Result<Angle, NoReading> {
        let noted = self.noted(quantity)?;
        noted.angle().ok_or(NoReading::NoAngle(quantity))
    }
}

/// What two stations differ by.
fn difference(one: f64, other: f64) -> Result<f64, NoReading> {
    let difference = (one - other).abs();
    if difference <= 0.0 {
        return Err(NoNumber::NoDifference.into());
    }
    Ok(difference)
}
