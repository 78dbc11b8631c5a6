use sky::{Angle, Latitude};

use crate::circline::Circline;
use crate::point::Point;
use crate::projection::{Direction, Projection};
use crate::specification::Hemisphere;

/// The rete as geometry, in its own frame: 0° of right ascension lies along the
/// x axis and right ascension runs against the hour angle, so that turning the
/// rete by the hour angle of 0° Aries puts everything in its place on the plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rete {
    /// The obliquity that its ecliptic is drawn for.
    pub obliquity: Angle,
    /// How far the ecliptic ring is off centre, towards Capricorn.
    ecliptic_offset_mm: f64,
    projection: Projection,
    /// The ring's outer edge as it was divided, before it was set off centre.
    edge: Circline,
    /// The equator, on which the degrees are told apart.
    equator: Circline,
    /// The projected pole of the ecliptic.
    pole: Point,
}

/// Nothing, but in the build that tests whether the two roads are apart.
const TEST_SHIFT: Angle = Angle::from_deg(if cfg!(feature = "test-shift-zodiac") {
    1.0
} else {
    0.0
});

/// A place on the rete that can be brought onto a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RetePoint {
    /// A degree of the zodiac on the ecliptic's edge.
    Degree(Angle),
    /// A place off the ecliptic, by right ascension and declination: a star, or
    /// the Sun where it truly stands.
    Place(Angle, Latitude),
    /// A date on the date ring, by the right ascension its stroke stands at.
    Date(Angle),
    /// A spot marked with wax, in the rete's own frame.
    Waxed(Point),
}

impl Rete {
    pub(crate) fn new(obliquity: Angle, ecliptic_offset_mm: f64, projection: Projection) -> Rete {
        let radius = projection.equator_mm() * (obliquity / 2.0).tan();
        let towards = match projection.hemisphere() {
            Hemisphere::North => Angle::QUARTER_TURN,
            Hemisphere::South => -Angle::QUARTER_TURN,
        };
        let in_the_sky = equatorial(obliquity, Angle::ZERO, Latitude::asin(1.0));
        Rete {
            obliquity,
            ecliptic_offset_mm,
            projection,
            edge: projection.section(rete_direction(in_the_sky), 0.0),
            equator: Circline::circle(Point::POLE, projection.equator_mm()),
            pole: Point::polar(radius, towards),
        }
    }

    /// The ecliptic ring's outer edge.
    #[must_use]
    pub fn ecliptic(&self) -> Circline {
        self.edge.moved(self.offset())
    }

    /// The circle of an ecliptic latitude: 0 is the ecliptic itself. The inner
    /// edges of the ring are such circles.
    #[must_use]
    pub fn ecliptic_parallel(&self, latitude: Latitude) -> Circline {
        let pole = rete_direction(equatorial(self.obliquity, Angle::ZERO, Latitude::asin(1.0)));
        self.projection
            .section(pole, latitude.sin())
            .moved(self.offset())
    }

    /// The point of a degree of the zodiac, as the ring is divided.
    ///
    /// A straight line from the ecliptic's pole (the pole on the projection's own
    /// side) through the degree on the *equator* meets the ecliptic in the same
    /// degree: the old construction for dividing the ring (Stöffler, *Elucidatio*,
    /// 1513, from memory). It holds because those two points lie in one plane with
    /// the pole and the centre of projection.
    #[must_use]
    pub fn degree(&self, longitude: Angle) -> Point {
        let on_equator = Point::polar(self.projection.equator_mm(), -longitude);
        beyond(self.pole, on_equator, &self.edge) + self.offset()
    }

    /// The degree of the zodiac at a point of the ecliptic: the same construction backwards.
    #[must_use]
    pub fn longitude(&self, on_ecliptic: Point) -> Angle {
        let on_equator = beyond(self.pole, on_ecliptic - self.offset(), &self.equator);
        (TEST_SHIFT - on_equator.direction()).in_turn()
    }

    /// The point of an ecliptic longitude and latitude, for graduations that
    /// follow the circles of latitude.
    #[must_use]
    pub fn zodiacal_point(&self, longitude: Angle, latitude: Latitude) -> Point {
        let [x, y, z] = rete_direction(equatorial(self.obliquity, longitude, latitude));
        let declination = Latitude::asin(z);
        Point::polar(self.projection.radius(declination), Angle::atan2(y, x)) + self.offset()
    }

    /// The direction in space of a place of the ecliptic, in the rete's frame.
    pub(crate) fn ecliptic_direction(&self, longitude: Angle, latitude: Latitude) -> Direction {
        rete_direction(equatorial(self.obliquity, longitude, latitude))
    }

    /// Where a place of the rete lies in its frame.
    #[must_use]
    pub fn point(&self, what: RetePoint, date_ring_mm: f64) -> Point {
        match what {
            RetePoint::Degree(longitude) => self.degree(longitude),
            RetePoint::Place(right_ascension, declination) => {
                self.projection.point(-right_ascension, declination)
            }
            RetePoint::Date(right_ascension) => Point::polar(date_ring_mm, -right_ascension),
            RetePoint::Waxed(spot) => spot,
        }
    }

    /// The projected pole of the ecliptic on the side of the instrument's own pole.
    #[must_use]
    pub fn ecliptic_pole(&self) -> Point {
        self.pole
    }

    /// The direction of the almuri: the head of the sign that the outer tropic belongs to.
    #[must_use]
    pub fn almuri(&self) -> Angle {
        match self.projection.hemisphere() {
            Hemisphere::North => -Angle::from_deg(270.0),
            Hemisphere::South => -Angle::QUARTER_TURN,
        }
    }

    /// The displacement of the ecliptic ring: towards the head of Capricorn.
    fn offset(&self) -> Point {
        Point {
            x: 0.0,
            y: self.ecliptic_offset_mm,
        }
    }
}

/// The direction in space of an ecliptic place, in equatorial axes.
fn equatorial(obliquity: Angle, longitude: Angle, latitude: Latitude) -> Direction {
    let (sin_l, cos_l) = longitude.sin_cos();
    let (sin_b, cos_b) = (latitude.sin(), latitude.cos());
    let (sin_e, cos_e) = obliquity.sin_cos();
    [
        cos_b * cos_l,
        cos_b * sin_l * cos_e - sin_b * sin_e,
        cos_b * sin_l * sin_e + sin_b * cos_e,
    ]
}

/// Equatorial axes to the rete's: right ascension runs against the hour angle.
fn rete_direction([x, y, z]: Direction) -> Direction {
    [x, -y, z]
}

/// Where the ray from a point inside a circle, through another point, meets the circle.
fn beyond(from: Point, through: Point, circle: &Circline) -> Point {
    let along = through - from;
    let ray = Circline::straight(from, along);
    let ahead = |p: &&Point| (**p - from).dot(along) > 0.0;
    circle
        .meets(&ray)
        .points()
        .iter()
        .find(ahead)
        .copied()
        .unwrap_or(through)
}
