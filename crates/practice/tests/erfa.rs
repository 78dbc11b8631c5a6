//! Altitudes and azimuths among the lines of a plate, side by side with ERFA.

use instrument::{Hemisphere, Instrument, Specification};
use sky::{Angle, Latitude};

/// `eraHd2ae` of ERFA 2.0.1, by `reference/altaz_erfa.py`: latitude, hour angle,
/// declination, azimuth from north by east, altitude.
const TABLE: &str = include_str!("../../drawing/tests/data/altaz_erfa.csv");

/// The table is printed to eight decimals.
const PRINTED: f64 = 1e-8;

#[test]
fn altitudes_and_azimuths_between_the_lines_are_erfa_s() {
    let mut compared = 0;
    let rows = TABLE.lines().filter_map(|line| {
        let numbers = line.split(',').map(str::parse::<f64>);
        numbers.collect::<Result<Vec<f64>, _>>().ok()
    });
    for row in rows {
        let [latitude, hour, declination, azimuth, altitude] = row[..] else {
            panic!("{row:?}")
        };
        let hemisphere = if latitude < 0.0 {
            Hemisphere::South
        } else {
            Hemisphere::North
        };
        let specification = Specification::ideal(hemisphere, Angle::from_deg(23.44));
        let instrument = Instrument::new(specification);
        let plate = instrument.plate(Latitude::from_deg(latitude).unwrap());
        let declination = Latitude::from_deg(declination).unwrap();
        let at = instrument
            .projection()
            .point(Angle::from_deg(hour), declination);
        let read = plate.altitude_at(at).deg();
        assert!((read - altitude).abs() < PRINTED, "{row:?}: {read}");
        // At a pole every direction is one.
        if latitude.abs() < 90.0 {
            let read = plate.azimuth_at(at).deg();
            let off = (read - azimuth).rem_euclid(360.0);
            let allowed = PRINTED / altitude.to_radians().cos();
            assert!(off.min(360.0 - off) < allowed, "{row:?}: {read}");
        }
        compared += 1;
    }
    assert!(compared > 400, "{compared}");
}
