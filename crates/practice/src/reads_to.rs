use instrument::{Crossing, Eye, Instrument};
use sky::Angle;

/// A graduated scale where it is met: how wide its divisions are, and how squarely
/// the other line crosses it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Scale {
    /// One division.
    pub(crate) division: Angle,
    /// The width of a degree of the scale, in millimetres.
    pub(crate) mm_per_degree: f64,
    /// The sine of the angle at which the other line crosses.
    pub(crate) sine: f64,
}

/// Below this the lines run together, and only whole divisions can be told apart.
const LEAST_SINE: f64 = 0.02;

impl Scale {
    /// The limb, crossed squarely by the rule.
    pub(crate) fn of_limb(instrument: &Instrument) -> Scale {
        Scale {
            division: instrument.specification().limb_division,
            mm_per_degree: instrument.limb_mm().to_radians(),
            sine: 1.0,
        }
    }

    /// The scales of the back, read at the same radius as the limb.
    pub(crate) fn of_back(instrument: &Instrument) -> Scale {
        Scale {
            division: Angle::from_deg(1.0),
            ..Scale::of_limb(instrument)
        }
    }

    /// The ecliptic where a line crosses it.
    pub(crate) fn of_ecliptic(instrument: &Instrument, crossing: &Crossing) -> Scale {
        Scale {
            division: instrument.specification().ecliptic_division,
            mm_per_degree: crossing.mm_per_degree,
            sine: crossing.sine,
        }
    }

    /// How finely an eye reads it: the least distance that can be told apart,
    /// along the scale, divided by the sine of the crossing, or the least part of a
    /// division that is estimated, whichever is coarser.
    pub(crate) fn reads_to(&self, eye: Eye) -> Angle {
        if eye.is_perfect() {
            return Angle::ZERO;
        }
        let across = self.mm_per_degree * self.sine.max(LEAST_SINE);
        let told_apart = eye.least.mm() / across;
        Angle::from_deg(told_apart.max(self.division.deg() * eye.part_of_division))
    }

    /// What an eye makes of a place on the scale: the nearest of the steps it can
    /// tell apart, counted from the division line before it.
    pub(crate) fn rounded(&self, place: Angle, eye: Eye) -> Angle {
        let step = self.reads_to(eye).deg();
        if step <= 0.0 {
            return place;
        }
        let division = self.division.deg();
        let place = place.deg();
        // Steps wider than a division are counted from 0 themselves.
        let before = if step < division {
            (place / division).floor() * division
        } else {
            0.0
        };
        let stepped = before + ((place - before) / step).round() * step;
        let next = before + division;
        let nearest = if step < division && (next - place).abs() < (stepped - place).abs() {
            next
        } else {
            stepped
        };
        Angle::from_deg(nearest)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use instrument::Length;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn rounding_stays_within_half_of_what_it_reads_to(
            place in 0.0..360.0, division in 0.25..10.0, mm in 0.2..4.0, sine in 0.0..1.0, eye in 0.01..1.0,
        ) {
            let scale = Scale { division: Angle::from_deg(division), mm_per_degree: mm, sine };
            let eye = Eye { least: Length::from_mm(eye), part_of_division: 0.1 };
            let place = Angle::from_deg(place);
            let off = scale.rounded(place, eye) - place;
            prop_assert!(off.abs() <= scale.reads_to(eye) / 2.0 + Angle::from_deg(1e-9));
        }
    }

    #[test]
    fn a_perfect_eye_rounds_nothing() {
        let scale = Scale {
            division: Angle::from_deg(1.0),
            mm_per_degree: 1.0,
            sine: 1.0,
        };
        let place = Angle::from_deg(12.345_678);
        assert_eq!(scale.rounded(place, Eye::PERFECT), place);
    }
}
