use instrument::{ListedPlace, QiblaCurve};
use sky::Angle;

/// The qibla curve that is read in the back's quadrant.
#[derive(Clone, Debug, PartialEq)]
pub struct CurveRead {
    /// The place whose it is.
    pub place: ListedPlace,
    /// How far from it one stands, along the great circle.
    pub away: Angle,
    /// The altitudes of the Sun between which it is engraved.
    engraved: Vec<(Angle, Angle)>,
}

/// Over so much of a gap the eye carries a curve on.
const CARRIED_ON: Angle = Angle::from_deg(1.0);

impl CurveRead {
    /// A curve of the back, where it is engraved, read so far from its place.
    #[must_use]
    pub fn of(curve: &QiblaCurve, away: Angle) -> CurveRead {
        CurveRead {
            place: curve.place.clone(),
            away,
            engraved: curve.spans(),
        }
    }

    /// A place's own curve, drawn whole.
    #[must_use]
    pub fn whole(place: ListedPlace) -> CurveRead {
        CurveRead {
            place,
            away: Angle::ZERO,
            engraved: vec![(Angle::ZERO, Angle::QUARTER_TURN)],
        }
    }

    /// Whether it is engraved at an altitude of the Sun, or so near that the eye carries it on.
    pub(crate) fn is_engraved_at(&self, altitude: Angle) -> bool {
        let mut spans = self.engraved.iter();
        spans.any(|(from, to)| *from - CARRIED_ON <= altitude && altitude <= *to + CARRIED_ON)
    }
}
