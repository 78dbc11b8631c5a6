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

/// The fundamental arguments at an instant.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Arguments {
    /// Each, and its daily motion, in radians.
    values: [(f64, f64); 5],
    /// Cosine and sine of −4 to 4 times each.
    multiples: [[(f64, f64); 9]; 5],
}

/// The largest multiple of an argument there is a cosine and sine of.
pub(crate) const LARGEST_MULTIPLE: i8 = 4;

impl Arguments {
    pub(crate) fn at(centuries: f64) -> Arguments {
        let values = POLYNOMIALS.map(|[c0, c1, c2, c3, c4]| {
            let t = centuries;
            let arcsec = c0 + t * (c1 + t * (c2 + t * (c3 + t * c4)));
            (
                arcsec.rem_euclid(TURN_ARCSEC) / TURN_ARCSEC * TAU,
                c1 / TURN_ARCSEC * TAU / DAYS_PER_CENTURY,
            )
        });
        let multiples = values.map(|(value, _)| {
            let (sin, cos) = libm::sincos(value);
            let mut all = [(1.0, 0.0); 9];
            for times in 5..9 {
                all[times] = product(all[times - 1], (cos, sin));
                all[8 - times] = (all[times].0, -all[times].1);
            }
            all
        });
        Arguments { values, multiples }
    }

    /// Cosine and sine of the sum of so many times each, and its daily motion. Each at
    /// most [`LARGEST_MULTIPLE`] times. Products of what is known, where the sine of
    /// every sum would take twice as long.
    pub(crate) fn combined(&self, multiples: [i8; 5]) -> ((f64, f64), f64) {
        let mut turned = (1.0, 0.0);
        let mut rate = 0.0;
        for (argument, times) in multiples.into_iter().enumerate() {
            if times != 0 {
                let index = (times + LARGEST_MULTIPLE) as usize;
                turned = product(turned, self.multiples[argument][index]);
                rate += f64::from(times) * self.values[argument].1;
            }
        }
        (turned, rate)
    }

    /// Ω, the mean longitude of the Moon's ascending node from the mean equinox.
    pub(crate) fn node(&self) -> f64 {
        self.values[4].0
    }
}

/// Of two cosines and sines, those of the sum of their angles.
fn product((ca, sa): (f64, f64), (cb, sb): (f64, f64)) -> (f64, f64) {
    (ca * cb - sa * sb, sa * cb + ca * sb)
}
