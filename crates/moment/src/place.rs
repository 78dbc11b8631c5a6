use sky::{Angle, Latitude};

use crate::coordinates::Coordinates;
use crate::{Country, MomentError, Town, Zone};

/// A place on the Earth.
///
/// ```
/// use moment::Place;
/// let town = Place::find("santiago de compostela, spain")?;
/// assert_eq!(town.zone.unwrap().name(), "Europe/Madrid");
/// let bare = Place::find("42°53′N 8°33′W")?;
/// assert!((bare.longitude.deg() + 8.55).abs() < 1e-9);
/// assert_eq!(bare.with_zone_of_nearest_town().zone, town.zone);
/// assert!(Place::find("91,0").is_err());
/// # Ok::<(), moment::MomentError>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// The town with its region and country, or the coordinates.
    pub name: String,
    /// North positive.
    pub latitude: Latitude,
    /// East positive, −180° to 180°.
    pub longitude: Angle,
    /// The zone by which its clocks go, where it is known.
    pub zone: Option<Zone>,
    /// Its country, where it is known.
    pub country: Option<Country>,
    /// GeoNames' code of its region within the country, where it is known.
    pub region: Option<&'static str>,
    /// The town from which the zone was taken, where only coordinates were given.
    pub nearest: Option<Nearest>,
    /// What the town was asked for by, where that is not its name: one of another
    /// language or another time.
    pub called: Option<String>,
}

/// A town near a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Nearest {
    /// Its name, with region and country.
    pub town: String,
    /// How far away it is.
    pub distance_km: f64,
}

impl From<&Town> for Place {
    fn from(town: &Town) -> Place {
        Place {
            name: town.full_name(),
            latitude: town.latitude,
            longitude: town.longitude,
            zone: Some(town.zone),
            country: Some(town.country),
            region: Some(town.region_code),
            nearest: None,
            called: None,
        }
    }
}

impl Place {
    /// The place that a text names: coordinates such as `42.8806,-8.5449` or
    /// `42°53′N 8°33′W`, or a town of the gazetteer (see [`Town::named`]).
    /// Coordinates say no zone; see [`Place::with_zone_of_nearest_town`].
    ///
    /// # Errors
    /// When coordinates are out of range or not understood, and when there is no
    /// such town, or more than one.
    pub fn find(text: &str) -> Result<Place, MomentError> {
        match Coordinates::parse(text) {
            Some(coordinates) => Ok(Place::bare(coordinates?)),
            None => Town::named(text).map(|town| Place {
                called: town.called_otherwise(text),
                ..Place::from(&town)
            }),
        }
    }

    /// A place by its latitude and longitude in degrees, north and east positive;
    /// its zone is not known.
    ///
    /// # Errors
    /// When they are outside −90 to 90 and −180 to 180.
    pub fn at(latitude_deg: f64, longitude_deg: f64) -> Result<Place, MomentError> {
        match Coordinates::new(latitude_deg, longitude_deg) {
            Ok(coordinates) => Ok(Place::bare(coordinates)),
            Err(why) => Err(MomentError::coordinates(
                &format!("{latitude_deg},{longitude_deg}"),
                why,
            )),
        }
    }

    fn bare(coordinates: Coordinates) -> Place {
        let Coordinates {
            latitude,
            longitude,
        } = coordinates;
        let latitude_text = sexagesimal(latitude.deg(), 'N', 'S');
        let longitude_text = sexagesimal(longitude.deg(), 'E', 'W');
        Place {
            name: format!("{latitude_text} {longitude_text}"),
            latitude,
            longitude,
            zone: None,
            country: None,
            region: None,
            nearest: None,
            called: None,
        }
    }

    /// The same place with the zone of the nearest town within 300 km, where it has
    /// none of its own. The search takes up to a millisecond, so it is made only
    /// when a clock goes by the zone.
    #[must_use]
    pub fn with_zone_of_nearest_town(self) -> Place {
        const NEAR_KM: f64 = 300.0;
        if self.zone.is_some() {
            return self;
        }
        match Town::nearest(self.latitude, self.longitude) {
            Some((town, distance_km)) if distance_km <= NEAR_KM => Place {
                zone: Some(town.zone),
                nearest: Some(Nearest {
                    town: town.full_name(),
                    distance_km,
                }),
                ..self
            },
            _ => self,
        }
    }

    /// The same place with another zone.
    #[must_use]
    pub fn with_zone(self, zone: Zone) -> Place {
        Place {
            zone: Some(zone),
            nearest: None,
            ..self
        }
    }

    /// How far its local mean time is ahead of UT, in seconds: 4 minutes for
    /// each degree of longitude.
    #[must_use]
    pub fn mean_time_ahead_of_ut_s(&self) -> f64 {
        self.longitude.deg() * 240.0
    }

    pub(crate) fn is_in(&self, countries: &[&str]) -> bool {
        self.country
            .is_some_and(|country| countries.contains(&country.code()))
    }
}

/// `42°52′50″N`, to the second of arc.
fn sexagesimal(deg: f64, positive: char, negative: char) -> String {
    let seconds = (deg.abs() * 3600.0).round() as u64;
    let letter = if deg < 0.0 { negative } else { positive };
    let (degrees, minutes) = (seconds / 3600, seconds / 60 % 60);
    match seconds % 60 {
        0 => format!("{degrees}°{minutes:02}′{letter}"),
        seconds => format!("{degrees}°{minutes:02}′{seconds:02}″{letter}"),
    }
}
