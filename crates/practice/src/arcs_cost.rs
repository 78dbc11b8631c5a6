use std::fmt;

use instrument::{
    Circline, HourLines, Instrument, LineId, LineShape, Pick, Plate, Point, State, UnequalHour,
};
use sky::{Angle, Latitude};

use crate::reads_to::Scale;

/// What it costs that the unequal-hour lines of a plate are circular arcs through three
/// points each, and not the true curves. Between the points they part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ArcsCost {
    /// The greatest distance from the true curve, in millimetres.
    pub apart_mm: f64,
    /// The greatest time between them: the hour angle on a circle about the pole.
    pub time: Angle,
    /// The greatest error of a cusp by turning.
    pub turning: Angle,
    /// The greatest error of a cusp by direct cut.
    pub direct_cut: Angle,
    /// Whether somewhere it is more than the cusp can be read to, so that true curves
    /// would be better.
    pub shows: bool,
}

/// The lines from which cusps are read; VI is the midnight line, which is the same by both.
const CUSP_HOURS: [u8; 4] = [2, 4, 8, 10];

/// The steps of the search, in degrees of the ecliptic and of a turn of the rete.
const STEPS: u16 = 360;

impl ArcsCost {
    /// Of the plate for a latitude; `None` where it has no such arcs, because it has the
    /// curves or because it lies beyond a polar circle.
    #[must_use]
    pub fn of(instrument: &Instrument, latitude: Latitude) -> Option<ArcsCost> {
        let arcs = instrument.plate(latitude);
        if arcs.hour_lines != HourLines::Arcs {
            return None;
        }
        let with_curves = instrument.with_hour_lines(HourLines::Curves);
        let curves = with_curves.plate(latitude);
        let hours: Vec<UnequalHour> = CUSP_HOURS
            .into_iter()
            .filter_map(UnequalHour::new)
            .collect();
        let mut cost = ArcsCost {
            apart_mm: 0.0,
            time: Angle::ZERO,
            turning: Angle::ZERO,
            direct_cut: Angle::ZERO,
            shows: false,
        };
        for hour in UnequalHour::engraved() {
            let (arc, curve) = (
                arcs.unequal_hour(hour).ok()?,
                curves.unequal_hour(hour).ok()?,
            );
            for n in 0..=STEPS {
                let degree = Angle::FULL_TURN * (f64::from(n) / f64::from(STEPS));
                // Every circle between the tropics is that of a degree of the zodiac.
                let radius = instrument.rete().degree(degree).radius();
                let line = LineId::UnequalHour(hour);
                let on = |shape: &LineShape, plate: &Plate| {
                    let mut met = shape.meets_circle(&Circline::circle(Point::POLE, radius));
                    met.find(|p| plate.carries(&line, *p))
                };
                let (Some(one), Some(other)) = (on(&arc, &arcs), on(&curve, &curves)) else {
                    continue;
                };
                let time = one.direction().to(other.direction());
                cost.time = larger(cost.time, time);
                if let LineShape::Circline(arc) = &arc {
                    cost.apart_mm = cost.apart_mm.max(arc.distance_mm(other));
                }
                if hours.contains(&hour) {
                    cost.turned(instrument, latitude, degree, [one, other]);
                }
            }
        }
        for n in 0..STEPS {
            let state = State {
                rete: Angle::FULL_TURN * (f64::from(n) / f64::from(STEPS)),
                ..State::at_rest(latitude)
            };
            for hour in &hours {
                let line = LineId::UnequalHour(*hour);
                let read = |from: &Instrument| from.read_ecliptic(&state, &line, Pick::Drawn);
                let (Ok(by_arc), Ok(by_curve)) = (read(instrument), read(&with_curves)) else {
                    continue;
                };
                let off = by_arc.longitude.to(by_curve.longitude);
                cost.direct_cut = larger(cost.direct_cut, off);
                let reads_to = Scale::of_ecliptic(instrument, &by_arc);
                cost.shows |= off.abs() > reads_to.reads_to(instrument.eye());
            }
        }
        Some(cost)
    }

    /// A degree turned onto the arc or the curve, and the cusp read on the midnight line.
    fn turned(
        &mut self,
        instrument: &Instrument,
        latitude: Latitude,
        degree: Angle,
        onto: [Point; 2],
    ) {
        let at_rest = instrument.rete().degree(degree).direction();
        let [by_arc, by_curve] = onto.map(|place| {
            let state = State {
                rete: place.direction() - at_rest,
                ..State::at_rest(latitude)
            };
            instrument.read_ecliptic(&state, &LineId::MidnightLine, Pick::Drawn)
        });
        if let (Ok(by_arc), Ok(by_curve)) = (by_arc, by_curve) {
            let off = by_arc.longitude.to(by_curve.longitude);
            self.turning = larger(self.turning, off);
            let reads_to = Scale::of_ecliptic(instrument, &by_arc);
            self.shows |= off.abs() > reads_to.reads_to(instrument.eye());
        }
    }
}

fn larger(most: Angle, next: Angle) -> Angle {
    if next.abs() > most { next.abs() } else { most }
}

/// In a sentence without its full stop.
impl fmt::Display for ArcsCost {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let minutes = self.time.deg() * 4.0;
        write!(
            f,
            "the unequal-hour lines are arcs, which leave the true curves by up to {:.2} mm or \
             {minutes:.1} minutes of time; a cusp errs by up to {:.2}° by turning and {:.2}° by \
             direct cut, {}",
            self.apart_mm,
            self.turning.deg(),
            self.direct_cut.deg(),
            if self.shows {
                "which can be read: unequal_hour_lines = \"curves\" would do better"
            } else {
                "less than can be read"
            }
        )
    }
}
