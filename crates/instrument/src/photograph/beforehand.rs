use nalgebra::DVector;
use sky::Latitude;

use super::adjust::Expected;
use super::marks::Photograph;
use super::unknowns::Unknown;
use crate::instrument::Instrument;

/// A length that is known, in radii of the equator: some hundredths of a millimetre.
const LENGTH: f64 = 5e-4;

/// What is known of an instrument before its picture is looked at.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Beforehand {
    pub(super) expected: Vec<Expected>,
    /// Whether it is an instrument that one has, and not one to be found out.
    pub(super) is_known: bool,
}

impl Beforehand {
    /// No more than that it is an astrolabe.
    pub(super) fn nothing() -> Beforehand {
        Beforehand {
            expected: Unknown::ALL.map(Unknown::expected).to_vec(),
            is_known: false,
        }
    }

    /// That its hole is the middle of its limb, and its rete that of its own hole.
    pub(super) fn delivered() -> Beforehand {
        let known = |one: &Unknown| {
            matches!(
                one,
                Unknown::HoleRight
                    | Unknown::HoleDown
                    | Unknown::ReteScale
                    | Unknown::ReteAries
                    | Unknown::ReteAcross
            )
        };
        let expected = Unknown::ALL.map(|one| {
            let usual = one.expected();
            Expected {
                within: if known(&one) { LENGTH } else { usual.within },
                ..usual
            }
        });
        Beforehand {
            expected: expected.to_vec(),
            is_known: false,
        }
    }

    /// What it was made as, with one of its plates in it. Which circle of the limb was marked
    /// is known where its diameter is said.
    pub(super) fn instrument(
        instrument: &Instrument,
        plate: Latitude,
        photograph: &Photograph,
    ) -> Beforehand {
        /// An angle that is known, in degrees.
        const ANGLE: f64 = 0.01;
        let equator_mm = instrument.projection().equator_mm();
        let faults = instrument.faults();
        let limb = match photograph.limb_diameter {
            Some(across) => (across.mm() / 2.0 / equator_mm, LENGTH),
            // From the limb's inner edge to its outer.
            None => (instrument.limb_mm() / equator_mm * 1.05, 0.1),
        };
        let known = |one: Unknown| match one {
            Unknown::LimbRadius => Some(limb),
            Unknown::HoleRight
            | Unknown::HoleDown
            | Unknown::ReteScale
            | Unknown::ReteAries
            | Unknown::ReteAcross => Some((0.0, LENGTH)),
            Unknown::PlateNoon => Some((faults.plate_off_noon.mm() / equator_mm, LENGTH)),
            Unknown::PlateWest => Some((faults.plate_off_west.mm() / equator_mm, LENGTH)),
            Unknown::PlateTurn => Some((faults.plate_turned.deg(), ANGLE)),
            Unknown::Latitude => Some((plate.deg(), ANGLE)),
            Unknown::PlateObliquity | Unknown::RingObliquity => {
                Some((instrument.obliquity().deg(), ANGLE))
            }
            Unknown::RingOff => Some((faults.ecliptic_offset.mm() / equator_mm, LENGTH)),
            Unknown::Year => Some((instrument.specification().epoch_year, 1.0)),
            // They are marked where they meet the circle of the limb.
            Unknown::AlmuriRadius | Unknown::RuleRadius => Some((1.0, 0.01)),
            Unknown::Focal
            | Unknown::AxisRight
            | Unknown::AxisDown
            | Unknown::TurnRight
            | Unknown::TurnDown
            | Unknown::TurnAxis
            | Unknown::BeforeRight
            | Unknown::BeforeDown
            | Unknown::Distance
            | Unknown::Distortion
            | Unknown::PlateDepth
            | Unknown::ReteDepth
            | Unknown::HoleRadius
            | Unknown::ReteTurn
            | Unknown::RuleTurn
            | Unknown::RuleDepth => None,
        };
        Beforehand {
            expected: Unknown::ALL
                .map(|one| match known(one) {
                    Some((at, within)) => Expected { at, within },
                    None => one.expected(),
                })
                .to_vec(),
            is_known: true,
        }
    }

    /// The middle of what is expected of each.
    pub(super) fn middle(&self) -> DVector<f64> {
        DVector::from_iterator(self.expected.len(), self.expected.iter().map(|one| one.at))
    }
}
