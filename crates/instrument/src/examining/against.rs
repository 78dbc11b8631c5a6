use sky::{Angle, Latitude};

use super::Deviation;
use super::measurements::{MeasuredPlate, Measurements};
use super::plate::PlateFound;
use crate::circline::Circline;
use crate::instrument::Instrument;
use crate::length::Length;
use crate::point::Point;
use crate::specification::Hemisphere;

/// What was measured beside what an instrument should have by its specification: lengths as
/// they are drawn, from the lines themselves. What the instrument does not have is left out.
///
/// A plate is held against the one nearest to what it is lettered with; without letters, to
/// what its lines are for.
#[must_use]
pub fn against(measured: &Measurements, instrument: &Instrument) -> Vec<Deviation> {
    let mut all = Vec::new();
    let mut put = |what: String, measured: Option<Length>, should_mm: f64| {
        if let Some(measured) = measured {
            all.push(Deviation {
                what,
                measured,
                should: Length::from_mm(should_mm),
            });
        }
    };
    let projection = instrument.projection();
    let tropic = Latitude::asin(instrument.obliquity().sin());
    put(
        "diameter".to_owned(),
        measured.diameter,
        instrument.specification().diameter.mm(),
    );
    for (what, diameter, declination) in [
        ("tropic of Capricorn", measured.circles.capricorn, -tropic),
        ("equator", measured.circles.equator, Latitude::ZERO),
        ("tropic of Cancer", measured.circles.cancer, tropic),
    ] {
        let what = format!("{what}, diameter");
        put(what, diameter, 2.0 * projection.radius(declination));
    }
    if let Some(ring) = measured.ecliptic {
        let [inner, outer] = match measured.hemisphere {
            Hemisphere::North => [Angle::QUARTER_TURN, -Angle::QUARTER_TURN],
            Hemisphere::South => [-Angle::QUARTER_TURN, Angle::QUARTER_TURN],
        };
        let rete = instrument.rete();
        for (what, measured, degree) in [
            ("ecliptic at its nearest", ring.nearest, inner),
            ("ecliptic at its farthest", ring.farthest, outer),
        ] {
            let should = rete.degree(degree).radius();
            put(what.to_owned(), Some(measured), should);
        }
    }
    for plate in &measured.plates {
        if let Some(latitude) = meant(plate, measured, instrument) {
            crossings(plate, latitude, instrument, &mut put);
        }
    }
    for one in &measured.stars {
        let meant = instrument
            .stars()
            .iter()
            .find(|star| star.designation == one.star.designation);
        let Some(star) = meant else { continue };
        let should = projection.radius(star.declination);
        put(format!("{}, from the hole", star.name), one.radius, should);
        if let Some(degree) = one.with {
            let (sine, cosine) = degree.sin_cos();
            let lies = Angle::atan2(sine * instrument.obliquity().cos(), cosine);
            let across = star.right_ascension.to(lies).rad() * should;
            let what = format!("{}, across the rule", star.name);
            put(what, Some(Length::from_mm(across)), 0.0);
        }
    }
    all
}

/// The plate of the instrument that a measured one is: by what stands on it, or by the
/// latitude that its lines are for.
fn meant(
    plate: &MeasuredPlate,
    measured: &Measurements,
    instrument: &Instrument,
) -> Option<Latitude> {
    let drawn_for = || {
        let found = PlateFound::of(plate, measured, None)?;
        Latitude::from_deg(found.latitude.at.deg()).ok()
    };
    let latitude = plate.lettered.or_else(drawn_for)?;
    Some(instrument.nearest_plate(latitude))
}

fn crossings(
    measured: &MeasuredPlate,
    latitude: Latitude,
    instrument: &Instrument,
    put: &mut impl FnMut(String, Option<Length>, f64),
) {
    let plate = instrument.plate(latitude);
    let diameter = 2.0 * instrument.projection().equator_mm();
    let name = format!("plate {}°", latitude.deg());
    put(
        format!("{name}, equator, diameter"),
        measured.equator,
        diameter,
    );
    for one in &measured.almucantars {
        let meridian = Circline::straight(Point::POLE, Point { x: 1.0, y: 0.0 });
        let met = plate.almucantar(one.altitude).meets(&meridian);
        let along = met.points().iter().map(|point| point.x);
        let what = format!("{name}, almucantar {}°", one.altitude.deg());
        let noon = along.clone().fold(f64::NEG_INFINITY, f64::max);
        let midnight = along.fold(f64::INFINITY, f64::min);
        for (side, measured, should) in [
            ("noon", one.noon, noon),
            ("midnight", one.midnight, midnight),
        ] {
            if should.is_finite() {
                put(format!("{what}, towards {side}"), measured, should);
            }
        }
    }
}
