//! Lines and places of the front, with the half or side on which they lie.

use instrument::{DateFrom, Hemisphere, LineId, Pick};
use practice::{Quantity, RetePlace, SunTaken};
use sky::Angle;

use super::{Words, ecliptic, long_end};
use crate::sentence::{Sentence, said};

impl Words<'_> {
    /// A line of the front, with its half or side on this instrument.
    pub(crate) fn line(&self, line: &LineId, pick: Pick) -> Sentence {
        let brass = self.brass;
        let named = |text: String| Sentence::line(text, line.clone());
        match line {
            LineId::RuleEdge => said!["the edge of the rule's ", long_end()],
            LineId::Horizon if pick == Pick::Western => named(format!(
                "the western horizon, its half on the {}",
                brass.west()
            )),
            LineId::Horizon => named(format!(
                "the eastern horizon, its half on the {}",
                brass.east()
            )),
            LineId::MeridianLine => named(format!(
                "the meridian line, which runs from the centre to the {}",
                brass.noon()
            )),
            LineId::MidnightLine => named(format!(
                "the midnight line, which runs from the centre to the {}",
                brass.midnight()
            )),
            LineId::Almucantar(altitude) => said![
                named(format!("the almucantar {altitude}")),
                ", ",
                self.side(pick)
            ],
            LineId::UnequalHour(hour) => {
                let side = if hour.number() < 6 {
                    brass.west()
                } else {
                    brass.east()
                };
                said![
                    named(format!("unequal-hour line {}", hour.number())),
                    format!(
                        ", below the horizon on the {side}, counted {} from the western horizon, on the {}",
                        brass.onward(),
                        brass.west()
                    )
                ]
            }
            LineId::House(_, house) => {
                let side = match house.number() {
                    11 | 12 | 1..=3 => brass.east(),
                    _ => brass.west(),
                };
                named(format!("the house line of cusp {house}, on the {side}"))
            }
            LineId::LimbDegrees
            | LineId::LimbHours
            | LineId::TropicOfCancer
            | LineId::Equator
            | LineId::TropicOfCapricorn
            | LineId::Azimuth(_)
            | LineId::PrimeVertical
            | LineId::Twilight
            | LineId::Ecliptic
            | LineId::DateRing
            | LineId::StarPointer(_)
            | LineId::Almuri
            | LineId::ZodiacScale
            | LineId::CalendarScale
            | LineId::AltitudeScale
            | LineId::ShadowSquare
            | LineId::AlidadeLine
            | LineId::RuleDeclinations
            | LineId::HorizonOf(_)
            | LineId::QuadrantHour(_)
            | LineId::SineQuadrant
            | LineId::SunArcs
            | LineId::NoonAltitudes(_)
            | LineId::EqualHour(_)
            | LineId::Qibla(_)
            | LineId::Cotangents
            | LineId::ZodiacRing(_)
            | LineId::EquationOfTime
            | LineId::EquationMinutes => named(format!("the {line}")),
        }
    }

    /// In which half of the plate.
    pub(super) fn side(&self, pick: Pick) -> String {
        match pick {
            Pick::Western => format!("in the west, on the {}", self.brass.west()),
            Pick::Eastern => format!("in the east, on the {}", self.brass.east()),
            Pick::Drawn => "where it is drawn".to_owned(),
        }
    }

    pub(super) fn almuri(&self) -> Sentence {
        let sign = match self.conditions.instrument.specification().hemisphere {
            Hemisphere::North => "Capricorn",
            Hemisphere::South => "Cancer",
        };
        Sentence::line(
            format!("the almuri, the pointer at the head of {sign}"),
            LineId::Almuri,
        )
    }

    /// A place of the rete in words.
    pub(crate) fn place(&self, what: RetePlace) -> Sentence {
        let sun = ecliptic("the Sun's degree");
        let told = |head: Sentence, degree: Option<Angle>, quantity: Quantity| match degree {
            Some(degree) => said![head, " (", self.ring_degree(degree, quantity), ")"],
            None => head,
        };
        match what {
            RetePlace::Sun => told(sun, self.sun_degree(), Quantity::SunDegree),
            RetePlace::OppositeSun => told(
                ecliptic("the degree opposite the Sun"),
                self.sun_degree().map(|degree| degree + Angle::HALF_TURN),
                Quantity::SunDegree,
            ),
            RetePlace::Star => match &self.conditions.star {
                Some(star) => Sentence::line(
                    format!("the tip of the pointer of {}", star.name),
                    LineId::StarPointer(star.name.clone()),
                ),
                None => "the tip of the star's pointer".into(),
            },
            RetePlace::Waxed => "the place marked with wax".into(),
            RetePlace::Degree(quantity) => told(
                said!["the ", quantity.to_string()],
                self.angle(quantity),
                quantity,
            ),
            RetePlace::Opposite(quantity) => told(
                said!["the degree opposite the ", quantity.to_string()],
                self.angle(quantity).map(|degree| degree + Angle::HALF_TURN),
                quantity,
            ),
        }
    }

    /// A degree to be found on the ecliptic ring: no finer than it was had, nor than the
    /// ring shows it.
    pub(super) fn ring_degree(&self, degree: Angle, quantity: Quantity) -> Sentence {
        let had = self.had_to(quantity);
        let ring = self.brass.ecliptic_sets_to(self.conditions.setting);
        let to = if had > ring { had } else { ring };
        self.brass.on_ecliptic(degree, to)
    }

    /// How finely an angle was read; nothing where it was not.
    fn had_to(&self, quantity: Quantity) -> Angle {
        let had = self.working.reading(quantity).ok();
        had.and_then(|reading| reading.reads_to.angle())
            .unwrap_or_default()
    }

    /// An altitude to be set, among the almucantars.
    pub(super) fn altitude(&self, quantity: Quantity) -> Sentence {
        match self.angle(quantity) {
            Some(altitude) => {
                let had = self.had_to(quantity);
                self.brass.among_almucantars(altitude, had)
            }
            None => said!["the ", quantity.to_string()],
        }
    }

    /// The Sun's degree as it is taken.
    pub(super) fn sun_degree(&self) -> Option<Angle> {
        match self.conditions.instrument.date_from() {
            DateFrom::Zodiac if self.conditions.sun == SunTaken::ByInstrument => {
                self.angle(Quantity::SunDegree)
            }
            DateFrom::Zodiac | DateFrom::Given | DateFrom::EqualDayRing | DateFrom::TrueSunRing => {
                Some(self.conditions.given.sun.longitude)
            }
        }
    }
}
