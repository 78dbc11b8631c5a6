//! What to look at during a step.

use instrument::{LineId, Minutes, UnequalHour};
use sky::Angle;

use super::hand::Hand;
use crate::conditions::SunTaken;
use crate::on_back::OnBack;
use crate::operation::{Act, Along, RetePlace, Spot};
use crate::quantity::Quantity;
use crate::sight::Sighting;
use crate::value::Value;

impl Hand<'_> {
    /// What to look at during a step.
    pub(super) fn lines(&self, act: &Act) -> Vec<LineId> {
        match act {
            Act::Reckon(_) | Act::Return => Vec::new(),
            Act::ChoosePlate | Act::ExchangePlate => vec![LineId::Horizon],
            Act::ReadSunDegree => vec![
                LineId::CalendarScale,
                LineId::AlidadeLine,
                LineId::ZodiacScale,
            ],
            Act::TurnRuleOnto(_) => vec![LineId::RuleEdge, LineId::LimbHours, LineId::LimbDegrees],
            Act::ReadLimb { over, .. } => {
                vec![LineId::RuleEdge, self.line_of(*over), LineId::LimbDegrees]
            }
            Act::Observe(Sighting::Shadow | Sighting::OtherShadow) => {
                vec![LineId::AlidadeLine, LineId::ShadowSquare]
            }
            Act::Observe(Sighting::MorningShadow | Sighting::EveningShadow) => Vec::new(),
            Act::Observe(_) => vec![LineId::AlidadeLine, LineId::AltitudeScale],
            Act::TurnReteToAltitude { what, altitude, .. } => {
                let mut lines = vec![self.line_of(*what)];
                lines.extend(self.almucantars_beside(*altitude));
                lines
            }
            Act::TurnAlmuriOnto(_) | Act::ReadAlmuri { .. } => {
                vec![LineId::Almuri, LineId::LimbDegrees]
            }
            Act::TurnEclipticToAltitude { altitude, .. }
            | Act::ReadEclipticAtAltitude { altitude, .. } => {
                let mut lines = vec![LineId::Ecliptic];
                lines.extend(self.almucantars_beside(*altitude));
                lines
            }
            Act::ReadAltitude { of, finds } => {
                let mut lines = vec![match of {
                    Spot::OnRete(what) => self.line_of(*what),
                    Spot::Pole => LineId::MeridianLine,
                    Spot::EquatorAtNoon => LineId::Equator,
                }];
                lines.extend(self.almucantars_beside(*finds));
                lines
            }
            Act::ReadAzimuth { of, finds } => {
                let mut lines = vec![self.line_of(*of)];
                if let Ok(azimuth) = self.angle(*finds) {
                    lines.extend(self.azimuths_beside(azimuth));
                }
                lines
            }
            Act::ReadUnequalHour { finds } => {
                let mut lines = vec![LineId::Ecliptic];
                if let Ok(Value::UnequalHours(hour)) = self.value(*finds) {
                    let below = hour.rem_euclid(12.0).floor();
                    let numbers = (0..=12_u8).filter(|n| (f64::from(*n) - below - 0.5).abs() < 1.0);
                    lines.extend(numbers.filter_map(UnequalHour::new).map(|hour| {
                        // The first and the last are the horizon itself.
                        match hour.number() {
                            0 | 12 => LineId::Horizon,
                            _ => LineId::UnequalHour(hour),
                        }
                    }));
                }
                lines
            }
            Act::ReadOnBack(what) => self.lines_of_back(*what),
            Act::Wax(Along::CircleOfLatitude) => vec![LineId::Ecliptic],
            Act::Wax(Along::Rule) => vec![LineId::MeridianLine, LineId::RuleEdge],
            Act::TurnRete { what, onto, .. } => {
                let ring = *what == RetePlace::Sun
                    && *onto == LineId::RuleEdge
                    && self.conditions.sun == SunTaken::ByInstrument
                    && self.instrument.date_from().is_ring();
                let scale = if ring {
                    LineId::DateRing
                } else {
                    self.line_of(*what)
                };
                let mut lines = vec![scale];
                if let LineId::Almucantar(altitude) = onto {
                    // One that is not engraved is put between its neighbours.
                    lines.extend(self.almucantars_at(Angle::from_deg(altitude.deg())));
                } else {
                    lines.push(onto.clone());
                }
                lines
            }
            Act::ReadEcliptic { at, .. } => vec![LineId::Ecliptic, at.clone()],
        }
    }

    fn lines_of_back(&self, what: OnBack) -> Vec<LineId> {
        let by_altitude = [LineId::AlidadeLine, LineId::AltitudeScale];
        let besides = match what {
            OnBack::NoonAltitude => {
                let latitude = Minutes::nearest(self.conditions.quadrant.deg());
                vec![LineId::SunArcs, LineId::NoonAltitudes(latitude)]
            }
            OnBack::TowardsMecca { .. } => {
                let place = self.conditions.qibla.as_ref();
                let curve = place.map(|curve| LineId::Qibla(curve.place.name.clone()));
                [LineId::SunArcs].into_iter().chain(curve).collect()
            }
            OnBack::EqualHour(_) => {
                let mut lines = vec![LineId::SunArcs];
                if let Ok(hour) = self.angle(what.finds()) {
                    lines.extend(self.hours_beside(hour));
                }
                lines
            }
            OnBack::Sine { .. } | OnBack::ArcOfSine { .. } => vec![LineId::SineQuadrant],
            OnBack::Shadow(_) => vec![LineId::Cotangents],
            OnBack::Part(ring) => {
                let scale = [LineId::AlidadeLine, LineId::ZodiacScale];
                let engraved = self.conditions.rings.iter().any(|one| one.ring == ring);
                let ring = engraved.then_some(LineId::ZodiacRing(ring));
                return scale.into_iter().chain(ring).collect();
            }
        };
        by_altitude.into_iter().chain(besides).collect()
    }

    /// The line on which a place of the rete is found.
    fn line_of(&self, what: RetePlace) -> LineId {
        match (what, &self.conditions.star) {
            (RetePlace::Star, Some(star)) => LineId::StarPointer(star.name.clone()),
            _ => LineId::Ecliptic,
        }
    }

    /// The engraved almucantars on either side of an altitude. Beyond the zenith they
    /// are those of the other side; the zenith itself has none.
    fn almucantars_beside(&self, altitude: Quantity) -> Vec<LineId> {
        let altitude = self.angle(altitude);
        altitude.map_or_else(|_| Vec::new(), |altitude| self.almucantars_at(altitude))
    }

    fn almucantars_at(&self, altitude: Angle) -> Vec<LineId> {
        let altitude = altitude.deg().min(180.0 - altitude.deg());
        let step = f64::from(self.instrument.almucantar_step());
        let below = (altitude / step).floor() * step;
        let line = |altitude: f64| {
            if altitude.abs() < 0.5 {
                LineId::Horizon
            } else {
                LineId::Almucantar(Minutes::nearest(altitude))
            }
        };
        let mut beside = vec![below, below + step];
        if (altitude - below).abs() < 1.0 / 120.0 {
            beside.truncate(1);
        }
        beside.retain(|altitude| *altitude < 90.0);
        beside.into_iter().map(line).collect()
    }

    /// How far apart the azimuths are engraved, in degrees: at least meridian and
    /// prime vertical are drawn.
    pub(super) fn azimuths(&self) -> f64 {
        self.instrument.azimuth_step().map_or(90.0, Minutes::deg)
    }

    /// The lines on either side of an azimuth. In the four quarters they are the
    /// meridian line and the prime vertical.
    fn azimuths_beside(&self, azimuth: Angle) -> [LineId; 2] {
        let step = self.azimuths();
        let below = (azimuth.deg() / step).floor() * step;
        [below, below + step].map(|deg| {
            let azimuth = Minutes::nearest(deg.rem_euclid(360.0));
            let at = |whole: i32| azimuth == Minutes::from_whole_deg(whole);
            if at(0) || at(180) {
                LineId::MeridianLine
            } else if at(90) || at(270) {
                LineId::PrimeVertical
            } else {
                LineId::Azimuth(azimuth)
            }
        })
    }
}
