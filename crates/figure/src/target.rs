use sky::{Angle, Body, Latitude, Sky, Star};

/// Rectangular coordinates along the true equator and equinox of date.
pub(crate) type Vector = [f64; 3];

/// What rises, culminates and sets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Target<'a> {
    /// A body of the sky.
    Body(Body),
    /// A star.
    Star(&'a Star),
    /// The degree of the ecliptic of date at this longitude.
    Degree(Angle),
}

impl Target<'_> {
    /// Its apparent right ascension and declination.
    #[must_use]
    pub fn equatorial(self, sky: &Sky) -> (Angle, Latitude) {
        match self {
            Target::Body(body) => {
                let seen = sky.body(body);
                (seen.right_ascension, seen.declination)
            }
            Target::Star(star) => {
                let seen = sky.star(star);
                (seen.right_ascension, seen.declination)
            }
            Target::Degree(longitude) => sky.equatorial(longitude, Latitude::ZERO),
        }
    }

    /// Whether it is near enough to stand elsewhere from the Earth's surface.
    pub(crate) const fn has_parallax(self) -> bool {
        matches!(self, Target::Body(_))
    }

    /// Its direction from the Earth's centre; of a body, its place in astronomical units.
    pub(crate) fn vector(self, sky: &Sky) -> Vector {
        let (distance, (right_ascension, declination)) = match self {
            Target::Body(body) => {
                let seen = sky.body(body);
                (seen.distance_au, (seen.right_ascension, seen.declination))
            }
            Target::Star(_) | Target::Degree(_) => (1.0, self.equatorial(sky)),
        };
        let (sin, cos) = right_ascension.sin_cos();
        let (z, r) = declination.angle().sin_cos();
        [distance * r * cos, distance * r * sin, distance * z]
    }
}
