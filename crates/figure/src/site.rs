use sky::{Angle, Body, Latitude, Sky};

use crate::target::Vector;
use crate::{Horizon, HorizonPosition, Limb, SeenFrom, Sight, Target};

/// The astronomical unit in kilometres (IAU 2012).
const AU_KM: f64 = 149_597_870.7;
/// The Earth's ellipsoid: equatorial radius in kilometres, and flattening (WGS 84).
const EARTH_RADIUS_KM: f64 = 6_378.137;
const EARTH_FLATTENING: f64 = 1.0 / 298.257_223_563;
/// 959.63″ at one astronomical unit (Auwers), as almanacs have it.
const SUN_RADIUS_KM: f64 = 696_000.0;
/// 0.272 5076 of the Earth's equatorial radius (IAU 1982).
const MOON_RADIUS_KM: f64 = 1_738.09;

/// A place on the Earth, as far as the sky is concerned; at sea level.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Site {
    /// North positive.
    pub latitude: Latitude,
    /// East positive.
    pub longitude: Angle,
}

impl Site {
    /// Its horizon under a sky.
    #[must_use]
    pub fn horizon(&self, sky: &Sky) -> Horizon {
        Horizon {
            sidereal_time: self.sidereal_time(sky),
            obliquity: sky.obliquity(),
            latitude: self.latitude,
        }
    }

    /// Where something stands as it is sighted: with [`Sight::GEOMETRIC`] as
    /// [`Horizon::position`] has it.
    #[must_use]
    pub fn position(&self, sky: &Sky, target: Target<'_>, sight: Sight) -> HorizonPosition {
        let (geometric, semidiameter) = self.aimed(sky, target, sight);
        let limb = geometric.altitude + semidiameter;
        HorizonPosition {
            altitude: limb + sight.refraction.at(limb),
            azimuth: geometric.azimuth,
        }
    }

    /// The hour angle of something, from the meridian westward, in (−180°, 180°].
    #[must_use]
    pub fn hour_angle(&self, sky: &Sky, target: Target<'_>) -> Angle {
        let [x, y, _] = target.vector(sky);
        Angle::atan2(y, x).to(self.sidereal_time(sky))
    }

    /// How high the limb or centre stands above where it appears on the horizon.
    pub(crate) fn above_horizon(&self, sky: &Sky, target: Target<'_>, sight: Sight) -> Angle {
        let (geometric, semidiameter) = self.aimed(sky, target, sight);
        geometric.altitude + semidiameter + sight.refraction.on_horizon()
    }

    /// Where the centre stands without refraction, and the semidiameter as far as it counts.
    fn aimed(&self, sky: &Sky, target: Target<'_>, sight: Sight) -> (HorizonPosition, Angle) {
        let mut ray = target.vector(sky);
        if sight.seen_from == SeenFrom::Surface && target.has_parallax() {
            let place = self.geocentric_au(sky);
            ray = [0, 1, 2].map(|axis| ray[axis] - place[axis]);
        }
        let semidiameter = match (sight.limb, target) {
            (Limb::Upper, Target::Body(Body::Sun)) => seen_radius(SUN_RADIUS_KM, ray),
            (Limb::Upper, Target::Body(Body::Moon)) => seen_radius(MOON_RADIUS_KM, ray),
            _ => Angle::ZERO,
        };
        (self.in_horizon(sky, ray), semidiameter)
    }

    fn sidereal_time(&self, sky: &Sky) -> Angle {
        sky.sidereal_time() + self.longitude
    }

    /// From equatorial axes to altitude and azimuth.
    fn in_horizon(&self, sky: &Sky, [x, y, z]: Vector) -> HorizonPosition {
        let (sin_time, cos_time) = self.sidereal_time(sky).sin_cos();
        let (sin_latitude, cos_latitude) = self.latitude.angle().sin_cos();
        let to_meridian = x * cos_time + y * sin_time;
        let east = y * cos_time - x * sin_time;
        let north = z * cos_latitude - to_meridian * sin_latitude;
        let up = z * sin_latitude + to_meridian * cos_latitude;
        HorizonPosition {
            altitude: Angle::atan2(up, libm::hypot(north, east)),
            azimuth: Angle::atan2(east, north).in_turn(),
        }
    }

    /// The place from the Earth's centre, along the axes of date: J. Meeus, Astronomical
    /// Algorithms (2nd ed. 1998), chapter 11.
    pub(crate) fn geocentric_au(&self, sky: &Sky) -> Vector {
        let (sin_latitude, cos_latitude) = self.latitude.angle().sin_cos();
        let axes = 1.0 - EARTH_FLATTENING;
        let curvature = EARTH_RADIUS_KM / AU_KM / libm::hypot(cos_latitude, axes * sin_latitude);
        let (sin_time, cos_time) = self.sidereal_time(sky).sin_cos();
        let from_axis = curvature * cos_latitude;
        [
            from_axis * cos_time,
            from_axis * sin_time,
            curvature * axes * axes * sin_latitude,
        ]
    }
}

fn seen_radius(radius_km: f64, [x, y, z]: Vector) -> Angle {
    Angle::asin(radius_km / AU_KM / (x * x + y * y + z * z).sqrt())
}
