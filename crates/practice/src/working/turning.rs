//! How the rete is turned until something of it lies where it should.

use instrument::{DateFrom, LineId, Pick, RetePoint, State};
use sky::Angle;

use super::hand::{Hand, ReteSetting};
use super::reading::{NoReading, Reading};
use crate::conditions::SunTaken;
use crate::operation::RetePlace;
use crate::quantity::Quantity;
use crate::reads_to::Scale;

/// Below this a pointer runs along a line, and cannot be set on it any finer.
const LEAST_SINE: f64 = 0.02;

impl Hand<'_> {
    pub(super) fn stands_at(&mut self, set: ReteSetting) -> Option<Reading> {
        self.state.rete = set.rete;
        self.sets_to = set.sets_to;
        None
    }

    pub(super) fn turn_rete(
        &self,
        what: RetePlace,
        onto: &LineId,
        pick: Pick,
    ) -> Result<ReteSetting, NoReading> {
        let point = if what == RetePlace::Sun && *onto == LineId::RuleEdge {
            self.sun_on_rete()?
        } else {
            self.point_of(what)?
        };
        let with = |point| self.instrument.rete_with(point, &self.state, onto, pick);
        let exact = with(point)?;
        let perfect = ReteSetting {
            rete: exact,
            sets_to: Angle::ZERO,
        };
        if self.conditions.setting.is_perfect() {
            return Ok(perfect);
        }
        // A setting is a reading made backwards: the place is found under the line
        // no finer than it could be read there.
        match point {
            RetePoint::Degree(degree) => {
                let turned = State {
                    rete: exact,
                    ..self.state
                };
                let crossing = self.instrument.crossing_at(degree, &turned, onto)?;
                let scale = self.ecliptic_scale(&crossing);
                let found = scale.rounded(degree, self.conditions.setting);
                let half = scale.reads_to(self.conditions.setting) / 2.0;
                // A degree beside the end of an hour line may have no place on it.
                let beside = |degree| with(RetePoint::Degree(degree)).unwrap_or(exact);
                Ok(ReteSetting {
                    rete: beside(found),
                    sets_to: beside(degree - half).to(beside(degree + half)).abs(),
                })
            }
            // The date's place on the ring is rounded as it is found.
            RetePoint::Date(_) => Ok(ReteSetting {
                sets_to: self.limb().reads_to(self.conditions.setting),
                ..perfect
            }),
            RetePoint::Place(..) | RetePoint::Waxed(_) => Ok(self.point_set(point, exact, onto)),
        }
    }

    /// A pointer's tip is brought onto a line as near as the eye sees.
    fn point_set(&self, point: RetePoint, exact: Angle, onto: &LineId) -> ReteSetting {
        let at = self.instrument.rete_point(point, exact);
        let outwards = at - self.instrument.rete_centre();
        let sine = if *onto == LineId::RuleEdge {
            1.0
        } else {
            let shape = self.instrument.plate(self.state.plate).shape(onto).ok();
            let across = shape.and_then(|shape| shape.across(at)).unwrap_or_default();
            let sizes = across.radius() * outwards.radius();
            (across.cross(outwards).abs() / sizes).max(LEAST_SINE)
        };
        let step = Angle::from_rad(
            self.conditions.setting.least.mm() / (outwards.radius() * sine.min(1.0)),
        );
        ReteSetting {
            rete: (step * (exact / step).round()).in_turn(),
            sets_to: step,
        }
    }

    /// Where the Sun is put on the rete.
    fn sun_on_rete(&self) -> Result<RetePoint, NoReading> {
        let sun = self.conditions.given.sun;
        Ok(match self.conditions.sun {
            SunTaken::TruePlace => RetePoint::Place(sun.right_ascension, sun.declination),
            SunTaken::OnEcliptic => RetePoint::Degree(sun.longitude),
            SunTaken::ByInstrument => match self.instrument.date_from() {
                DateFrom::Given => RetePoint::Degree(sun.longitude),
                DateFrom::Zodiac => RetePoint::Degree(self.angle(Quantity::SunDegree)?),
                DateFrom::EqualDayRing | DateFrom::TrueSunRing => {
                    let date = self.conditions.given.date;
                    let exact = self.instrument.dates().at(date);
                    let ring = Scale {
                        division: self.instrument.dates().day_width(date),
                        ..self.limb()
                    };
                    RetePoint::Date(ring.rounded(exact, self.conditions.setting))
                }
            },
        })
    }
}
