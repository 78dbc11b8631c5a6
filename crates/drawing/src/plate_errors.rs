use instrument::{Circline, Instrument, Point};
use sky::{Angle, Latitude};

use crate::measures::Measures;

/// How far what a plate shows may stand off, as it is planned: reckoned from its lines, their
/// breadth, the room between the parts and the eye, and measured on no piece of metal.
///
/// For the east and the west, where hours are best taken by the Sun. Each of the four is an
/// error either way, evenly spread; together they are twice the deviation of their sum, which
/// holds nineteen cases of twenty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlateError {
    /// The altitude.
    pub altitude: Latitude,
    /// How many millimetres a degree of altitude is broad there.
    pub mm_per_degree: f64,
    /// What half the breadth of a line is.
    pub line: Angle,
    /// What the plate's room in the limb and the rete's on its pin are.
    pub room: Angle,
    /// What half the least distance is that the eye tells apart.
    pub eye: Angle,
    /// How near an altitude comes.
    pub altitude_within: Angle,
    /// How near an azimuth comes.
    pub azimuth_within: Angle,
    /// How near an hour by that altitude comes, 15° an hour; none at the poles.
    pub hour_within: Option<Angle>,
}

/// The errors of the plate for a latitude, at every tenth degree of altitude that it shows in
/// the east.
#[must_use]
pub fn plate_errors(instrument: &Instrument, latitude: Latitude) -> Vec<PlateError> {
    (0..9_u8)
        .filter_map(|tens| at(instrument, latitude, 10.0 * f64::from(tens)))
        .collect()
}

fn at(instrument: &Instrument, latitude: Latitude, altitude_deg: f64) -> Option<PlateError> {
    let altitude = Latitude::from_deg(altitude_deg).ok()?;
    let place = in_the_east(instrument, latitude, altitude)?;
    let mm_per_degree = instrument.projection().mm_per_degree(place);
    let eye = instrument.eye();
    let tolerance = instrument.specification().fits.tolerance.mm();
    let line_mm = Measures::of(instrument).hair / 2.0;
    // The plate lies anywhere in its room, the rete anywhere on its pin.
    let room_mm = libm::hypot(tolerance, tolerance / 2.0);
    let of = |mm: f64| Angle::from_deg(mm / mm_per_degree);
    let estimated = f64::from(instrument.almucantar_step()) * eye.part_of_division;
    let told_apart = of(eye.least.mm()).deg().max(estimated);
    let (line, room, eye) = (of(line_mm), of(room_mm), Angle::from_deg(told_apart / 2.0));
    let squares = [line, room, eye].map(|one| one.deg() * one.deg());
    let together = Angle::from_deg(2.0 * (squares.iter().sum::<f64>() / 3.0).sqrt());
    let level = latitude.cos();
    Some(PlateError {
        altitude,
        mm_per_degree,
        line,
        room,
        eye,
        altitude_within: together,
        azimuth_within: together / altitude.cos(),
        // In the east a degree of altitude is 1/cos φ of hour angle.
        hour_within: (level > 1e-6).then(|| together / level),
    })
}

/// Where an almucantar crosses the prime vertical in the east, if the plate shows it.
fn in_the_east(instrument: &Instrument, latitude: Latitude, altitude: Latitude) -> Option<Point> {
    let plate = instrument.plate(latitude);
    let met = plate
        .almucantar(altitude)
        .meets(&plate.azimuth(Angle::QUARTER_TURN));
    let edge = Circline::circle(Point::POLE, instrument.fineness().outer_tropic_mm());
    // West is positive.
    let mut east = met.points().iter().copied().filter(|p| p.y < 0.0);
    east.find(|p| edge.value(*p) <= 1e-9)
}
