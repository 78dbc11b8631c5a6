use sky::{Angle, Latitude};

use crate::circline::Circline;
use crate::crossing::{Crossing, NoCrossing, Pick, only, picked};
use crate::instrument::Instrument;
use crate::line::LineId;
use crate::line_shape::LineShape;
use crate::minutes::Minutes;
use crate::plate::Plate;
use crate::point::Point;
use crate::rete::RetePoint;
use crate::state::State;
use crate::unequal_hour::UnequalHour;

/// What the families of lines say of a point that lies between two of them: the
/// member of the family that would run through it.
impl Plate {
    /// The altitude of the almucantar through a point.
    #[must_use]
    pub fn altitude_at(&self, p: Point) -> Latitude {
        // The almucantars are one pencil of circles: the equation of altitude h is
        // that of the horizon less sin h times x² + y² + R².
        let own = p.turned(-self.turned);
        let r = self.projection.equator_mm();
        let horizon = self.projection.section(self.zenith(), 0.0);
        Latitude::asin(-horizon.value(own) * 2.0 * r / (own.dot(own) + r * r))
    }

    /// The azimuth of the azimuth line through a point, from north by east.
    #[must_use]
    pub fn azimuth_at(&self, p: Point) -> Angle {
        // These are one pencil too, spanned by the meridian and the prime vertical.
        let own = p.turned(-self.turned);
        let towards = |azimuth: Angle| {
            let section = self.projection.section(self.horizontal(azimuth), 0.0);
            -section.value(own)
        };
        Angle::atan2(towards(Angle::QUARTER_TURN), towards(Angle::ZERO)).in_turn()
    }

    /// Where the meridian line has an altitude, counted from the horizon on the noon
    /// side: beyond 90° it lies on the pole's side of the zenith.
    #[must_use]
    pub fn on_meridian(&self, altitude: Angle) -> Option<Point> {
        let beyond = altitude > Angle::QUARTER_TURN;
        let height = if beyond {
            Angle::HALF_TURN - altitude
        } else {
            altitude
        };
        let almucantar = self.almucantar(Latitude::from_deg(height.deg()).ok()?);
        let met = almucantar.meets(&self.meridian());
        let along = |p: &Point| {
            let x = p.turned(-self.turned).x;
            if beyond { -x } else { x }
        };
        let points = met.into_iter();
        points.max_by(|a, b| along(a).total_cmp(&along(b)))
    }

    /// The altitude of a point of the meridian line, counted from the horizon on the
    /// noon side: more than 90° beyond the zenith.
    #[must_use]
    pub fn along_meridian(&self, p: Point) -> Angle {
        let altitude = self.altitude_at(p).angle();
        // The zenith's declination is the latitude.
        let zenith = self.projection.radius(self.latitude);
        let beyond = p.turned(-self.turned).x < zenith;
        if beyond {
            Angle::HALF_TURN - altitude
        } else {
            altitude
        }
    }

    /// The unequal hour at a point below the horizon, from 0 in the west to 12 in
    /// the east, read between the hour lines as this plate has them; with the
    /// width of an hour there in millimetres.
    ///
    /// # Errors
    /// When the point lies above the horizon or the lines do not reach it.
    pub fn unequal_hour_at(&self, p: Point) -> Result<(f64, f64), NoCrossing> {
        let apart = || NoCrossing::Apart {
            what: "point",
            line: LineId::Horizon,
        };
        if !self.below(p) {
            return Err(apart());
        }
        let circle = Circline::circle(Point::POLE, p.radius());
        let night = self.night_arcs().at_radius(p.radius()).ok_or_else(apart)?;
        let mut before = 0.0;
        for number in 1..=12 {
            let after = self.part_at_hour(number, &circle, &night)?;
            let here = night.part(p.direction());
            if here <= after || number == 12 {
                let within = (here - before) / (after - before);
                let hour_mm = p.radius() * (night.length * (after - before)).rad();
                return Ok((f64::from(number - 1) + within, hour_mm));
            }
            before = after;
        }
        Err(apart())
    }

    /// Where an hour line divides a circle's night arc, as a part of it.
    fn part_at_hour(
        &self,
        number: u8,
        circle: &Circline,
        night: &crate::unequal_hour::NightArc,
    ) -> Result<f64, NoCrossing> {
        let Some(hour) = UnequalHour::new(number).filter(|hour| hour.number() < 12) else {
            return Ok(1.0);
        };
        let line = LineId::UnequalHour(hour);
        let met = self.unequal_hour(hour)?.meets_circle(circle);
        let at = only(met.filter(|p| self.carries(&line, *p)), "circle", &line)?;
        Ok(night.part(at.direction()))
    }
}

impl Instrument {
    /// The rete's position in which one of its places has an altitude, in the
    /// eastern or the western half.
    ///
    /// # Errors
    /// When it does not come to that altitude there.
    pub fn rete_at_altitude(
        &self,
        what: RetePoint,
        state: &State,
        altitude: Latitude,
        side: Pick,
    ) -> Result<Angle, NoCrossing> {
        let line = LineId::Almucantar(Minutes::nearest(altitude.deg()));
        let shape = LineShape::Circline(self.plate(state.plate).almucantar(altitude));
        self.rete_onto(what, state, &shape, &line, side)
    }

    /// Reads the ecliptic where it crosses the circle of an altitude.
    ///
    /// # Errors
    /// When it does not cross it just once on that side.
    pub fn read_ecliptic_at_altitude(
        &self,
        state: &State,
        altitude: Latitude,
        side: Pick,
    ) -> Result<Crossing, NoCrossing> {
        let plate = self.plate(state.plate);
        let line = LineId::Almucantar(Minutes::nearest(altitude.deg()));
        let ecliptic = self.ecliptic_over(state);
        let almucantar = plate.almucantar(altitude);
        let met = almucantar.meets(ecliptic.circle());
        let on_side = met
            .points()
            .iter()
            .copied()
            .filter(|p| picked(&plate, &line, side, *p));
        let at = only(on_side, "ecliptic", &line)?;
        Ok(ecliptic.crossing(&LineShape::Circline(almucantar), at))
    }

    /// The two degrees of the zodiac that pass under a point as the rete turns,
    /// each with the rete's position then; fewer where the ecliptic does not come
    /// so far in or out.
    #[must_use]
    pub fn degrees_passing(&self, under: Point) -> Vec<(Angle, Angle)> {
        let centre = self.rete_centre();
        let path = Circline::circle(centre, (under - centre).radius());
        let ecliptic = self.ecliptic(Angle::ZERO);
        let met = path.meets(&ecliptic).points().to_vec().into_iter();
        met.map(|p| {
            let turn = (under - centre).direction() - (p - centre).direction();
            (self.longitude(p, Angle::ZERO), turn.in_turn())
        })
        .collect()
    }

    /// The hour angle at which the almuri stands on the limb, with the rete turned.
    #[must_use]
    pub fn almuri(&self, rete: Angle) -> Angle {
        (self.rete().almuri() + rete).signed()
    }
}
