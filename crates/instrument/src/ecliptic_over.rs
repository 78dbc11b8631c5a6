use std::cell::OnceCell;

use sky::Angle;

use crate::circline::Circline;
use crate::crossing::{Crossing, NoCrossing, Pick, only, picked};
use crate::instrument::Instrument;
use crate::line::LineId;
use crate::line_shape::{LineShape, NightCourse};
use crate::plate::Plate;
use crate::point::Point;
use crate::rete::RetePoint;
use crate::state::State;

/// The ecliptic as it stands over a plate: while the rete lies still, every reading of it
/// is of the same circle. What they share is found once.
#[derive(Clone, Debug)]
pub struct EclipticOver<'a> {
    instrument: &'a Instrument,
    plate: Plate,
    rete: Angle,
    /// Where the turn of the rete brings the point (1, 0).
    turned: Point,
    ecliptic: Circline,
    /// Its course among the true curves of the unequal hours, once one of them is read.
    nights: OnceCell<NightCourse>,
}

impl Instrument {
    /// The ecliptic over the plate that is laid in, with the rete as it stands.
    #[must_use]
    pub fn ecliptic_over(&self, state: &State) -> EclipticOver<'_> {
        let turned = Point::polar(1.0, state.rete);
        let ecliptic = self.rete().ecliptic().turned_onto(turned);
        EclipticOver {
            plate: self.plate(state.plate),
            rete: state.rete,
            ecliptic: ecliptic.moved(self.rete_centre()),
            turned,
            instrument: self,
            nights: OnceCell::new(),
        }
    }

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
        self.ecliptic_over(state).read(state.rule, line, pick)
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
        let shape = if *line == LineId::RuleEdge {
            LineShape::Circline(self.rule_edge(state.rule).line())
        } else {
            self.plate(state.plate).shape(line)?
        };
        let at = self.rete_point(RetePoint::Degree(degree), state.rete);
        Ok(self.ecliptic_over(state).crossing(&shape, at))
    }
}

impl EclipticOver<'_> {
    /// Whether plate and rete still stand so.
    #[must_use]
    pub fn is_at(&self, state: &State) -> bool {
        self.plate.latitude == state.plate && self.rete == state.rete
    }

    /// The degree where it crosses a line of the plate, or the edge of the rule that is set
    /// to an hour angle.
    ///
    /// # Errors
    /// When the plate has no such line or the ecliptic does not cross it just once.
    pub fn read(&self, rule: Angle, line: &LineId, pick: Pick) -> Result<Crossing, NoCrossing> {
        if *line == LineId::RuleEdge {
            let edge = self.instrument.rule_edge(rule);
            let met = edge.line().meets(&self.ecliptic).into_iter();
            let at = only(met.filter(|p| edge.carries(*p)), "ecliptic", line)?;
            return Ok(self.crossing(&LineShape::Circline(edge.line()), at));
        }
        if pick != Pick::Drawn && self.plate.is_of_a_pole() {
            return Err(NoCrossing::AtThePole);
        }
        let shape = self.plate.shape(line)?;
        let at = self.place_on(&shape, line, pick)?;
        Ok(self.crossing(&shape, at))
    }

    /// Where it meets a line on the part that is meant.
    fn place_on(&self, shape: &LineShape, line: &LineId, pick: Pick) -> Result<Point, NoCrossing> {
        let meant = |p: &Point| picked(&self.plate, line, pick, *p);
        match shape {
            LineShape::Circline(circline) => {
                let met = circline.meets(&self.ecliptic).into_iter();
                only(met.filter(meant), "ecliptic", line)
            }
            LineShape::HourCurve(curve) => {
                // All curves of a plate divide the same nights.
                let course = || NightCourse::of(curve.nights(), &self.ecliptic);
                let met = self.nights.get_or_init(course).meets(curve.hour());
                only(met.into_iter().filter(meant), "ecliptic", line)
            }
        }
    }

    /// How it crosses a line at a point of both.
    pub(crate) fn crossing(&self, shape: &LineShape, at: Point) -> Crossing {
        let one = self.ecliptic.gradient(at);
        let other = shape.across(at).unwrap_or_default();
        let sizes = one.radius() * other.radius();
        let back = Point {
            y: -self.turned.y,
            ..self.turned
        };
        let on_rete = (at - self.instrument.rete_centre()).turned_onto(back);
        Crossing {
            longitude: self.instrument.rete().longitude(on_rete),
            at,
            sine: if sizes > 0.0 {
                one.cross(other).abs() / sizes
            } else {
                0.0
            },
            mm_per_degree: self.instrument.projection().mm_per_degree(at),
        }
    }

    /// Its circle.
    pub(crate) fn circle(&self) -> &Circline {
        &self.ecliptic
    }
}
