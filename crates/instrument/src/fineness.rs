use sky::Angle;

use crate::length::Length;

/// Divisions of the limb in use, in degrees, finest first.
pub(crate) const LIMB_DIVISIONS: [f64; 5] = [0.25, 0.5, 1.0, 2.0, 5.0];
/// Divisions of the ecliptic in use, in degrees, finest first.
pub(crate) const ECLIPTIC_DIVISIONS: [f64; 6] = [0.5, 1.0, 2.0, 3.0, 5.0, 10.0];
/// Steps of almucantars that a size chooses from, in degrees, finest first.
const ALMUCANTAR_STEPS: [u8; 7] = [1, 2, 3, 5, 6, 10, 15];
/// Steps of almucantars that can be asked for; 4° is found on English pieces of the
/// fourteenth century (Epact 98589).
pub(crate) const ALMUCANTAR_STEPS_IN_USE: [u8; 8] = [1, 2, 3, 4, 5, 6, 10, 15];

/// The least distance between neighbouring lines that can still be engraved
/// cleanly and told apart, unless the specification says another (common practice
/// for hand engraving and laser).
const LEAST_GAP: Length = Length::from_mm(0.5);

/// What a size can carry: scales are thinned so that nothing stands closer than
/// the least gap.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fineness {
    diameter: Length,
    obliquity: Angle,
    date_ring: bool,
    least_gap: Length,
}

/// The part of the mater's radius that the limb takes.
const LIMB_WIDTH: f64 = 0.13;

/// The part of the plate's radius that a date ring takes, outside the outer tropic.
const DATE_RING_WIDTH: f64 = 0.08;

impl Fineness {
    /// Of a mater with this diameter, whose rete carries a date ring or not.
    #[must_use]
    pub fn of(diameter: Length, obliquity: Angle, date_ring: bool) -> Fineness {
        Fineness {
            diameter,
            obliquity,
            date_ring,
            least_gap: LEAST_GAP,
        }
    }

    /// The same with another least distance between neighbouring lines.
    #[must_use]
    pub fn with_least_gap(self, least_gap: Length) -> Fineness {
        Fineness { least_gap, ..self }
    }

    /// The least distance between neighbouring lines.
    #[must_use]
    pub fn least_gap(&self) -> Length {
        self.least_gap
    }

    /// The radius of the plate, in millimetres.
    pub(crate) fn plate_mm(&self) -> f64 {
        self.diameter.mm() / 2.0 * (1.0 - LIMB_WIDTH)
    }

    /// The radius of the outer tropic, in millimetres: the plate's edge, unless
    /// the rete carries a date ring outside it.
    #[must_use]
    pub fn outer_tropic_mm(&self) -> f64 {
        let ring = if self.date_ring { DATE_RING_WIDTH } else { 0.0 };
        self.plate_mm() * (1.0 - ring)
    }

    /// The radius of the equator, in millimetres.
    pub(crate) fn equator_mm(&self) -> f64 {
        self.outer_tropic_mm() / ((Angle::QUARTER_TURN + self.obliquity) / 2.0).tan()
    }

    /// The finest division of the limb.
    #[must_use]
    pub fn limb_division(&self) -> Angle {
        let mm_per_deg = self.plate_mm().to_radians();
        Angle::from_deg(self.finest(&LIMB_DIVISIONS, mm_per_deg))
    }

    /// The finest division of the ecliptic, by its narrowest degree.
    #[must_use]
    pub fn ecliptic_division(&self) -> Angle {
        // Where the ecliptic comes nearest the pole a degree is (R² + r²)/2R wide.
        let r = ((Angle::QUARTER_TURN - self.obliquity) / 2.0).tan();
        let mm_per_deg = (self.equator_mm() * (1.0 + r * r) / 2.0).to_radians();
        // The strokes run inwards, where they stand a little closer yet.
        Angle::from_deg(self.finest(&ECLIPTIC_DIVISIONS, mm_per_deg * 0.96))
    }

    /// The finest step of almucantars, by their spacing about the pole, where a
    /// degree is narrowest. Lines that fill the plate want more air than a scale.
    #[must_use]
    pub fn almucantar_step(&self) -> u8 {
        let mm_per_deg = (self.equator_mm() / 2.0).to_radians() / 1.6;
        ALMUCANTAR_STEPS
            .into_iter()
            .find(|step| f64::from(*step) * mm_per_deg >= self.least_gap.mm())
            .unwrap_or(15)
    }

    /// The step of azimuths that suits the almucantars: none on the smallest pieces.
    #[must_use]
    pub fn azimuth_step(&self) -> u8 {
        match self.diameter.mm() {
            mm if mm < 60.0 => 0,
            mm if mm < 100.0 => 30,
            mm if mm < 160.0 => 15,
            mm if mm < 280.0 => 10,
            _ => 5,
        }
    }

    /// How many star pointers the rete can carry.
    #[must_use]
    pub fn star_pointers(&self) -> u8 {
        match self.diameter.mm() {
            mm if mm < 60.0 => 12,
            mm if mm < 100.0 => 18,
            mm if mm < 160.0 => 24,
            mm if mm < 260.0 => 30,
            _ => 40,
        }
    }

    /// The finest division that keeps the gap; the coarsest when none does.
    fn finest(&self, divisions: &[f64], mm_per_deg: f64) -> f64 {
        let fits = divisions
            .iter()
            .find(|deg| **deg * mm_per_deg >= self.least_gap.mm());
        fits.or(divisions.last()).copied().unwrap_or(10.0)
    }
}
