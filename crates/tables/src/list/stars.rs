use sky::{Angle, JulianEpoch, Star, astrolabe_stars};

use super::kind::{Kind, Needs};
use super::written::one_part;
use crate::{Argument, Ask, Cell, Column, Definition, Exact, Form, Head, PartOf, TableError};

/// The stars of astrolabes, for an epoch.
pub(super) const STARS: Kind = Kind {
    name: "stars",
    what: "longitude, latitude, right ascension and declination of the stars of astrolabes",
    needs: Needs::Obliquity,
    define: |ask| Ok(Box::new(Stars::of(ask)?)),
};

struct Stars {
    year: i32,
    epoch: JulianEpoch,
    obliquity: Angle,
    stars: Vec<&'static Star>,
}

impl Stars {
    fn of(ask: &Ask) -> Result<Stars, TableError> {
        let epoch = JulianEpoch::from_year(f64::from(ask.year));
        Ok(Stars {
            year: ask.year,
            epoch: epoch.map_err(|error| ask.year_error(&error))?,
            obliquity: ask.obliquity()?,
            stars: astrolabe_stars().collect(),
        })
    }
}

impl Definition for Stars {
    fn head(&self) -> Head {
        Head {
            title: format!("Stars of the astrolabe for the year {}", self.year),
            definitions: vec![
                "Mean places for the beginning of the year, of the mean equinox, with the stars' own \
                 motion: without nutation, aberration and parallax, some 40″ together."
                    .to_owned(),
                "From year to year longitudes grow by 50″. Rows are not gone between.".to_owned(),
            ],
            argument: Column::words("star", "star"),
            columns: vec![
                Column::words("designation", ""),
                Column::new("longitude_deg", "longitude", Form::Zodiac),
                Column::new("latitude_deg", "latitude", Form::Degrees),
                Column::new("right_ascension_h", "right ascension", Form::ClockToSecond),
                Column::new("declination_deg", "declination", Form::Degrees),
                Column::new("magnitude", "mag.", Form::Number(1)),
            ],
        }
    }

    fn parts(&self) -> Vec<PartOf> {
        one_part(self.stars.iter().enumerate().map(|(index, star)| Argument {
            at: index as f64,
            written: Cell::Words(star.label().to_owned()),
        }))
    }

    fn exact(&self, at: f64) -> Vec<Exact> {
        let Some(star) = self.stars.get(at as usize) else {
            return Vec::new();
        };
        let place = star.mean_place(self.epoch);
        let (longitude, latitude) = ecliptic(place.right_ascension, place.declination.angle(), self.obliquity);
        vec![
            Exact::Words(star.designation.to_owned()),
            Exact::Number(longitude.deg()),
            Exact::Number(latitude.deg()),
            Exact::Number(place.right_ascension.hours()),
            Exact::Number(place.declination.deg()),
            Exact::Number(star.magnitude),
        ]
    }

    fn has_between(&self) -> bool {
        false
    }
}

/// From the equator to the ecliptic.
fn ecliptic(right_ascension: Angle, declination: Angle, obliquity: Angle) -> (Angle, Angle) {
    let (sin_ra, cos_ra) = right_ascension.sin_cos();
    let (up, level) = declination.sin_cos();
    let (sin, cos) = obliquity.sin_cos();
    let (x, y, z) = (
        level * cos_ra,
        level * sin_ra * cos + up * sin,
        up * cos - level * sin_ra * sin,
    );
    (Angle::atan2(y, x).in_turn(), Angle::atan2(z, libm::hypot(x, y)))
}
