use sky::Angle;
use thiserror::Error;

use crate::circline::Circline;
use crate::instrument::Instrument;
use crate::line::LineId;
use crate::line_shape::LineShape;
use crate::plate::{NoLine, Plate};
use crate::point::Point;
use crate::rete::RetePoint;
use crate::state::State;

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
            return self.rete_under(what, &LineShape::Circline(edge.line()), line, on_edge);
        }
        let shape = self.plate(state.plate).shape(line)?;
        self.rete_onto(what, state, &shape, line, pick)
    }

    /// The rete's position in which one of its places lies on a line of the plate.
    pub(crate) fn rete_onto(
        &self,
        what: RetePoint,
        state: &State,
        shape: &LineShape,
        line: &LineId,
        pick: Pick,
    ) -> Result<Angle, NoCrossing> {
        let plate = self.plate(state.plate);
        self.rete_under(what, shape, line, |p| picked(&plate, line, pick, p))
    }

    fn rete_under(
        &self,
        what: RetePoint,
        shape: &LineShape,
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
        let met = shape.meets_circle(&path);
        let target = only(met.filter(|p| drawn(*p)), name, line)?;
        Ok(((target - centre).direction() - on_rete.direction()).in_turn())
    }
}

pub(crate) fn picked(plate: &Plate, line: &LineId, pick: Pick, p: Point) -> bool {
    let own = || p.turned(-plate.turned);
    plate.carries(line, p)
        && match pick {
            Pick::Drawn => true,
            Pick::Eastern => own().y < 0.0,
            Pick::Western => own().y > 0.0,
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
