use sky::{Angle, Latitude};

use crate::circline::Circline;
use crate::instrument::Instrument;
use crate::line::LineId;
use crate::minutes::Minutes;
use crate::plate::Plate;
use crate::stroke::{Stroke, clipped};

/// A right angle: between the meridian and the prime vertical.
const RIGHT_ANGLE: Minutes = Minutes::from_whole_deg(90);

impl Instrument {
    /// The step between azimuths, a whole part of a right angle; none where the meridian and
    /// the prime vertical stand alone.
    #[must_use]
    pub fn azimuth_step(&self) -> Option<Minutes> {
        let stated = self.specification().azimuth_step;
        let suited = || Minutes::from_whole_deg(i32::from(self.fineness().azimuth_step()));
        let step = stated.unwrap_or_else(suited);
        (step > Minutes::ZERO).then_some(step)
    }

    /// The azimuths of the step, but for the meridian and the prime vertical.
    pub(crate) fn azimuths(&self) -> impl Iterator<Item = Minutes> {
        let step = self.azimuth_step();
        let all = step.into_iter().flat_map(round);
        all.filter(|azimuth| !azimuth.is_multiple_of(RIGHT_ANGLE))
    }

    /// How high the azimuths of a plate run, in degrees of altitude, finest first: a step
    /// and the almucantar at which those end that are of no coarser one. They crowd
    /// towards the zenith, so the finer end first, as on old plates; the meridian and the
    /// prime vertical alone run through. A step that has room nowhere is left out.
    #[must_use]
    pub fn azimuth_tops(&self, latitude: Latitude) -> Vec<(Minutes, u8)> {
        let plate = self.plate(latitude);
        let gap_mm = self.fineness().least_gap().mm();
        let top = |step: Minutes| {
            let apart = |altitude: &u8| azimuths_apart(&plate, step, *altitude) >= gap_mm;
            let clear = (0..90_u8).take_while(apart).last()?;
            let top = clear - clear % self.almucantar_step();
            (top > 0).then_some((step, top))
        };
        let steps = self.azimuth_step().into_iter().flat_map(ending_apart);
        steps.filter_map(top).collect()
    }
}

/// The azimuths of a step, once round.
fn round(step: Minutes) -> impl Iterator<Item = Minutes> {
    let all = std::iter::successors(Some(Minutes::ZERO), move |azimuth| Some(*azimuth + step));
    all.take_while(|azimuth| *azimuth < Minutes::from_whole_deg(360))
}

/// The steps of azimuths that end at almucantars of their own, finest first: each the least
/// multiple of the one before that is a part of a right angle, as 5°, 10° and 30° are, or
/// 11°15′, 22°30′ and 45°.
fn ending_apart(step: Minutes) -> impl Iterator<Item = Minutes> {
    std::iter::successors(Some(step), |step| {
        let mut coarser = std::iter::successors(Some(*step + *step), move |n| Some(*n + *step));
        coarser.find(|next| RIGHT_ANGLE.is_multiple_of(*next) || *next > RIGHT_ANGLE)
    })
    .take_while(|step| *step < RIGHT_ANGLE)
}

/// The altitude at which an azimuth ends: that of the coarsest step it belongs to.
pub(crate) fn top_of(azimuth: Minutes, tops: &[(Minutes, u8)]) -> Option<Minutes> {
    let belongs = |(step, _): &&(Minutes, u8)| azimuth.is_multiple_of(*step);
    let (_, top) = tops.iter().rev().find(belongs)?;
    Some(Minutes::from_whole_deg(i32::from(*top)))
}

/// The least distance of neighbours among azimuths of a step, in millimetres, where they
/// cross the circle of an altitude.
fn azimuths_apart(plate: &Plate, step: Minutes, altitude: u8) -> f64 {
    let almucantar = plate.almucantar(Minutes::from_whole_deg(i32::from(altitude)).latitude());
    round(step)
        .flat_map(|named| {
            let line = LineId::Azimuth(named);
            let azimuth = Angle::from_deg(named.deg());
            let met = almucantar.meets(&plate.azimuth(azimuth)).into_iter();
            let on = met.filter(move |p| plate.carries(&line, *p));
            on.map(move |p| {
                let step = Angle::from_deg(step.deg());
                let [one, other] = [azimuth - step, azimuth + step]
                    .map(|beside| plate.azimuth(beside).distance_mm(p));
                one.min(other)
            })
        })
        .fold(f64::INFINITY, f64::min)
}

/// What is drawn of an azimuth: from the horizon to the altitude at which it ends.
pub(crate) fn azimuth_strokes(
    plate: &Plate,
    id: &LineId,
    edge: &Circline,
    top: Minutes,
) -> Vec<Stroke> {
    let LineId::Azimuth(azimuth) = id else {
        return Vec::new();
    };
    let line = plate.azimuth(Angle::from_deg(azimuth.deg()));
    let (horizon, top) = (plate.horizon(), plate.almucantar(top.latitude()));
    clipped(&line, &[*edge, horizon, top, plate.meridian()], |p| {
        let within = edge.value(p) <= 1e-9 && horizon.value(p) <= 0.0 && top.value(p) >= 0.0;
        within && plate.carries(id, p)
    })
}
