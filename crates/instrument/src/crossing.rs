use sky::Angle;
use thiserror::Error;

use crate::circline::Circline;
use crate::instrument::Instrument;
use crate::line::LineId;
use crate::plate::{NoLine, Plate};
use crate::point::Point;
use crate::rete::RetePoint;
use crate::state::State;
use crate::trace::Trace;

/// Which of the places is meant where the ecliptic meets a line more than once.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pick {
    /// The one on the part of the line that is drawn.
    Drawn,
    /// The one in the eastern half of the plate.
    Eastern,
    /// The one in the western half of the plate.
    Western,
}

/// Where the ecliptic crosses a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// The degree of the zodiac there.
    pub longitude: Angle,
    /// Where it is on the instrument, before it is drawn in its orientation.
    pub at: Point,
    /// The sine of the angle at which the two lines cross: 1 when they cross
    /// squarely, 0 when they touch.
    pub sine: f64,
    /// The width of a degree of the zodiac there, in millimetres.
    pub mm_per_degree: f64,
}

/// Why lines do not give a reading or a setting.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum NoCrossing {
    /// The line does not exist on this plate.
    #[error(transparent)]
    NoLine(#[from] NoLine),
    /// The lines do not meet on the part that is drawn.
    #[error("the {what} does not meet the {line}")]
    Apart {
        /// What was to meet the line.
        what: &'static str,
        /// The line.
        line: LineId,
    },
    /// They meet twice, and nothing decides.
    #[error("the {what} meets the {line} in two places")]
    Twice {
        /// What meets the line.
        what: &'static str,
        /// The line.
        line: LineId,
    },
    /// At a pole of the Earth every side is the same.
    #[error("at the pole no part of the horizon is the eastern or the western")]
    AtThePole,
}

impl Instrument {
    /// Reads the ecliptic where it crosses a line of the plate or the rule's edge.
    ///
    /// This is done as on the brass: the ecliptic's circle stands where the rete
    /// has been turned, it is met with the line, and the meeting point is carried
    /// back onto the zodiac's graduation.
    ///
    /// # Errors
    /// When the plate has no such line or the ecliptic does not cross it just once.
    pub fn read_ecliptic(
        &self,
        state: &State,
        line: &LineId,
        pick: Pick,
    ) -> Result<Crossing, NoCrossing> {
        let plate = self.plate(state.plate);
        let ecliptic = self.ecliptic(state.rete);
        let (trace, at) = match line {
            LineId::RuleEdge => {
                let edge = self.rule_edge(state.rule);
                let met = edge.line().meets(&ecliptic);
                let at = only(
                    met.into_iter().filter(|p| edge.carries(*p)),
                    "ecliptic",
                    line,
                )?;
                (Trace::Circline(edge.line()), at)
            }
            LineId::LimbDegrees
            | LineId::LimbHours
            | LineId::TropicOfCancer
            | LineId::Equator
            | LineId::TropicOfCapricorn
            | LineId::MeridianLine
            | LineId::MidnightLine
            | LineId::Horizon
            | LineId::Almucantar(_)
            | LineId::Azimuth(_)
            | LineId::PrimeVertical
            | LineId::Twilight
            | LineId::UnequalHour(_)
            | LineId::House(..)
            | LineId::Ecliptic
            | LineId::DateRing
            | LineId::StarPointer(_)
            | LineId::Almuri
            | LineId::ZodiacScale
            | LineId::CalendarScale
            | LineId::AltitudeScale
            | LineId::ShadowSquare
            | LineId::AlidadeLine
            | LineId::RuleDeclinations
            | LineId::HorizonOf(_)
            | LineId::QuadrantHour(_)
            | LineId::SineQuadrant
            | LineId::SunArcs
            | LineId::NoonAltitudes(_)
            | LineId::EqualHour(_)
            | LineId::Qibla(_)
            | LineId::Cotangents
            | LineId::ZodiacRing(_)
            | LineId::EquationOfTime
            | LineId::EquationMinutes => {
                if pick != Pick::Drawn && plate.is_of_a_pole() {
                    return Err(NoCrossing::AtThePole);
                }
                let trace = plate.trace(line)?;
                let met = trace.meets_circle(&ecliptic);
                let at = only(
                    met.filter(|p| picked(&plate, line, pick, *p)),
                    "ecliptic",
                    line,
                )?;
                (trace, at)
            }
        };
        Ok(self.crossing(&ecliptic, &trace, at, state.rete))
    }

    /// The rete's position in which one of its places lies on a line of the plate
    /// or on the rule's edge.
    ///
    /// # Errors
    /// When the plate has no such line or the place does not come onto it just once.
    pub fn rete_with(
        &self,
        what: RetePoint,
        state: &State,
        line: &LineId,
        pick: Pick,
    ) -> Result<Angle, NoCrossing> {
        if *line == LineId::RuleEdge {
            let edge = self.rule_edge(state.rule);
            let on_edge = |p: Point| edge.carries(p);
            return self.rete_under(what, &Trace::Circline(edge.line()), line, on_edge);
        }
        let trace = self.plate(state.plate).trace(line)?;
        self.rete_onto(what, state, &trace, line, pick)
    }

    /// The rete's position in which one of its places lies on a trace of the plate.
    pub(crate) fn rete_onto(
        &self,
        what: RetePoint,
        state: &State,
        trace: &Trace,
        line: &LineId,
        pick: Pick,
    ) -> Result<Angle, NoCrossing> {
        let plate = self.plate(state.plate);
        self.rete_under(what, trace, line, |p| picked(&plate, line, pick, p))
    }

    fn rete_under(
        &self,
        what: RetePoint,
        trace: &Trace,
        line: &LineId,
        drawn: impl Fn(Point) -> bool,
    ) -> Result<Angle, NoCrossing> {
        let centre = self.rete_centre();
        let on_rete = self.rete_point(what, Angle::ZERO) - centre;
        let path = Circline::circle(centre, on_rete.radius());
        let name = match what {
            RetePoint::Degree(_) => "degree",
            RetePoint::Place(..) => "star",
            RetePoint::Date(_) => "date",
            RetePoint::Waxed(_) => "waxed place",
        };
        let met = trace.meets_circle(&path);
        let target = only(met.filter(|p| drawn(*p)), name, line)?;
        Ok(((target - centre).direction() - on_rete.direction()).in_turn())
    }

    /// How the ecliptic crosses a line with the rete so turned: for judging how
    /// finely a degree can be brought onto the line.
    ///
    /// # Errors
    /// When the plate has no such line.
    pub fn crossing_at(
        &self,
        degree: Angle,
        state: &State,
        line: &LineId,
    ) -> Result<Crossing, NoCrossing> {
        let trace = match line {
            LineId::RuleEdge => Trace::Circline(self.rule_edge(state.rule).line()),
            LineId::LimbDegrees
            | LineId::LimbHours
            | LineId::TropicOfCancer
            | LineId::Equator
            | LineId::TropicOfCapricorn
            | LineId::MeridianLine
            | LineId::MidnightLine
            | LineId::Horizon
            | LineId::Almucantar(_)
            | LineId::Azimuth(_)
            | LineId::PrimeVertical
            | LineId::Twilight
            | LineId::UnequalHour(_)
            | LineId::House(..)
            | LineId::Ecliptic
            | LineId::DateRing
            | LineId::StarPointer(_)
            | LineId::Almuri
            | LineId::ZodiacScale
            | LineId::CalendarScale
            | LineId::AltitudeScale
            | LineId::ShadowSquare
            | LineId::AlidadeLine
            | LineId::RuleDeclinations
            | LineId::HorizonOf(_)
            | LineId::QuadrantHour(_)
            | LineId::SineQuadrant
            | LineId::SunArcs
            | LineId::NoonAltitudes(_)
            | LineId::EqualHour(_)
            | LineId::Qibla(_)
            | LineId::Cotangents
            | LineId::ZodiacRing(_)
            | LineId::EquationOfTime
            | LineId::EquationMinutes => self.plate(state.plate).trace(line)?,
        };
        let at = self.rete_point(RetePoint::Degree(degree), state.rete);
        Ok(self.crossing(&self.ecliptic(state.rete), &trace, at, state.rete))
    }

    pub(crate) fn crossing(
        &self,
        ecliptic: &Circline,
        trace: &Trace,
        at: Point,
        rete: Angle,
    ) -> Crossing {
        let (one, other) = (ecliptic.gradient(at), trace.across(at).unwrap_or_default());
        let sizes = one.radius() * other.radius();
        Crossing {
            longitude: self.longitude(at, rete),
            at,
            sine: if sizes > 0.0 {
                one.cross(other).abs() / sizes
            } else {
                0.0
            },
            mm_per_degree: self.projection().mm_per_degree(at),
        }
    }
}

pub(crate) fn picked(plate: &Plate, line: &LineId, pick: Pick, p: Point) -> bool {
    let own = p.turned(-plate.turned);
    plate.carries(line, p)
        && match pick {
            Pick::Drawn => true,
            Pick::Eastern => own.y < 0.0,
            Pick::Western => own.y > 0.0,
        }
}

/// The only point, within the width of nothing: two meeting points that coincide
/// count as one.
pub(crate) fn only(
    points: impl Iterator<Item = Point>,
    what: &'static str,
    line: &LineId,
) -> Result<Point, NoCrossing> {
    let mut found: Option<Point> = None;
    for p in points {
        match found {
            Some(other) if (other - p).radius() > 1e-6 => {
                return Err(NoCrossing::Twice {
                    what,
                    line: line.clone(),
                });
            }
            _ => found = Some(p),
        }
    }
    found.ok_or_else(|| NoCrossing::Apart {
        what,
        line: line.clone(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two lines that touch meet in two places that are one; places on either side of the
    /// pole are two.
    #[test]
    fn places_that_fall_together_are_one() {
        let place = Point { x: 30.0, y: -40.0 };
        let beside = Point {
            x: place.x + 1e-8,
            ..place
        };
        let of = |points: &[Point]| only(points.iter().copied(), "ecliptic", &LineId::Horizon);
        assert_eq!(of(&[place]).unwrap(), place);
        assert!((of(&[place, beside]).unwrap() - place).radius() < 1e-6);
        let twice = of(&[place, place * -1.0]).unwrap_err();
        assert!(matches!(twice, NoCrossing::Twice { .. }), "{twice:?}");
        let apart = of(&[]).unwrap_err();
        assert!(matches!(apart, NoCrossing::Apart { .. }), "{apart:?}");
    }
}
