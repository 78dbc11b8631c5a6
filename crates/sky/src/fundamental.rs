use std::f64::consts::TAU;

const DAYS_PER_CENTURY: f64 = 36_525.0;
const TURN_ARCSEC: f64 = 1_296_000.0;

/// The fundamental arguments of the motion of the Moon, as polynomials in Julian
/// centuries of TT from J2000.0, in seconds of arc. IERS Conventions 2003, eq. 40,
/// with the values of l′ and D that the IAU 2000A nutation was computed with.
#[rustfmt::skip]
const POLYNOMIALS: [[f64; 5]; 5] = [
    [  485_868.249_036, 1_717_915_923.217_8,  31.879_2,  0.051_635, -0.000_244_70], // l, mean anomaly of the Moon
    [1_287_104.793_05,    129_596_581.048_1,  -0.553_2,  0.000_136, -0.000_011_49], // l′, mean anomaly of the Sun
    [  335_779.526_232, 1_739_527_262.847_8, -12.751_2, -0.001_037,  0.000_004_17], // F, the Moon from its node
    [1_072_260.703_69,  1_602_961_601.209_0,  -6.370_6,  0.006_593, -0.000_031_69], // D, elongation of the Moon
    [  450_160.398_036,    -6_962_890.543_1,   7.472_2,  0.007_702, -0.000_059_39], // Ω, node of the Moon
];

/// The fundamental arguments at an instant, with their daily motions, in radians.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Arguments([(f64, f64); 5]);

impl Arguments {
    pub(crate) fn at(centuries: f64) -> Arguments {
        Arguments(POLYNOMIALS.map(|[c0, c1, c2, c3, c4]| {
            let t = centuries;
            let arcsec = c0 + t * (c1 + t * (c2 + t * (c3 + t * c4)));
            (
                arcsec.rem_euclid(TURN_ARCSEC) / TURN_ARCSEC * TAU,
                c1 / TURN_ARCSEC * TAU / DAYS_PER_CENTURY,
            )
        }))
    }

    /// The sum of so many times each, and its daily motion.
    pub(crate) fn combined(&self, multiples: &[i8; 5]) -> (f64, f64) {
        self.0
            .iter()
            .zip(multiples)
            .fold((0.0, 0.0), |(sum, sum_rate), ((value, rate), &times)| {
                let times = f64::from(times);
                (sum + times * value, sum_rate + times * rate)
            })
    }

    /// Ω, the mean longitude of the Moon's ascending node from the mean equinox.
    pub(crate) fn node(&self) -> f64 {
        self.0[4].0
    }
}
