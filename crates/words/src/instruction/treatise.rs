//! The instructions for what the treatise's operations do besides casting.

use instrument::Pick;
use practice::{
    Act, Along, Brought, Measure, Quantity, Reckoning, Sight, Spot, Told, Tower, WhichDegree,
};
use sky::{Angle, Zodiacal};

use super::Words;
use crate::number::{Degrees, Said};

impl Words<'_> {
    pub(super) fn treatise(&self, act: &Act) -> String {
        match act {
            Act::Observe(sight) => self.observe(*sight),
            Act::TurnReteToAltitude {
                what,
                altitude,
                side,
            } => format!(
                "Turn the rete until {} stands at {} among the almucantars, {}.",
                self.place(*what),
                self.said(*altitude),
                side_words(*side)
            ),
            Act::TurnAlmuriOnto(onto) => format!(
                "Turn the rete until the almuri stands at {} of the limb.",
                self.said(*onto)
            ),
            Act::ReadAlmuri { finds } => {
                format!("Note where the almuri stands on the limb{}.", self.result(*finds))
            }
            Act::TurnEclipticToAltitude {
                altitude,
                which,
                finds,
            } => {
                let which = match which {
                    WhichDegree::InSeason => "a degree of the season".to_owned(),
                    WhichDegree::Not(quantity) => {
                        format!("a degree other than {}", self.said(*quantity))
                    }
                };
                format!(
                    "Turn the rete until {which} stands on the meridian line at {} among the almucantars, and read it{}.",
                    self.said(*altitude),
                    self.result(*finds)
                )
            }
            Act::ReadAltitude { of, finds } => {
                let of = match of {
                    Spot::OnRete(what) => self.place(*what),
                    Spot::Pole => "the pole, the middle of the plate,".to_owned(),
                    Spot::EquatorAtNoon => {
                        "the equator's crossing with the meridian line".to_owned()
                    }
                };
                // The comma that closes an apposition gives way to the colon.
                let of = of.trim_end_matches(',');
                format!(
                    "Count the almucantars to {of}: the {finds}{}.",
                    self.result(*finds)
                )
            }
            Act::ReadAzimuth { of, finds } => format!(
                "Among the azimuth lines read where {} lies{}.",
                self.place(*of),
                self.result(*finds)
            ),
            Act::ReadEclipticAtAltitude {
                altitude,
                side,
                finds,
            } => format!(
                "The rete stays. Where the ecliptic stands at {}, {}, read the {finds}{}.",
                self.said(*altitude),
                side_words(*side),
                self.result(*finds)
            ),
            Act::ReadUnequalHour { finds } => {
                let by_night = self
                    .value(*finds)
                    .is_some_and(|hour| hour.hours() >= 12.0);
                let under = if by_night {
                    "It is night: under the Sun's own degree"
                } else {
                    "It is day: under the degree opposite the Sun"
                };
                format!("{under} read the unequal hour{}.", self.result(*finds))
            }
            Act::Wax(Along::CircleOfLatitude) => format!(
                "Mark the planet's place on the rete with wax: {} from the degree {}, on the circle through it and the ecliptic's pole.",
                self.said(Quantity::Told(Told::Latitude)),
                self.said(Quantity::Told(Told::Degree))
            ),
            Act::Wax(Along::Rule) => "By the old rule: take the latitude in almucantars on the meridian line, and mark that place with wax on the rule laid over the degree.".to_owned(),
            _ => String::new(),
        }
    }

    pub(super) fn reckoned(&self, reckoning: Reckoning) -> String {
        let finds = reckoning.finds();
        let result = self.result(finds);
        let said = |quantity| self.said(quantity);
        match reckoning {
            Reckoning::HourForRule | Reckoning::ThirdOfLimb(_) => String::new(),
            Reckoning::Count(from, to, _) => format!(
                "Count along the limb from {} onward to {}: the {finds}{result}.",
                self.counted(from),
                self.counted(to)
            ),
            Reckoning::RestOfTurn(of, _) => {
                format!("360° less {}: the {finds}{result}.", said(of))
            }
            Reckoning::Twelfth(of, _) => {
                format!("A twelfth of {}: the {finds}{result}.", said(of))
            }
            Reckoning::RestOfThirty(of, _) => {
                format!("30° less {}: the {finds}{result}.", said(of))
            }
            Reckoning::Hours(of, _) => format!(
                "{} unequal hours of {} each, turned into equal hours{result}.",
                self.value(Quantity::Told(Told::UnequalHours))
                    .map_or(0.0, |hours| Measure::UnequalHours.written(hours).hours()),
                said(of)
            ),
            Reckoning::Less(a, b, _) => {
                format!("{} less {}: the {finds}{result}.", said(a), said(b))
            }
            Reckoning::Sum(a, b, _) => {
                format!("{} and {} together: the {finds}{result}.", said(a), said(b))
            }
            Reckoning::Mean(a, b, _) => {
                format!(
                    "Half of {} and {} together: the {finds}{result}.",
                    said(a),
                    said(b)
                )
            }
            Reckoning::RestOfRight(of, _) => {
                format!("90° less {}: the {finds}{result}.", said(of))
            }
            Reckoning::ThroughZenith(sight) => format!(
                "It stands beyond the zenith, and is counted on through it: 180° less {}: the {finds}{result}.",
                said(Quantity::Seen(sight))
            ),
            Reckoning::FromSouth(of, _) => {
                format!(
                    "Counted from the south instead of from the north: {}, the {finds}{result}.",
                    said(of)
                )
            }
            Reckoning::Midway(a, b, _) | Reckoning::MidDegree(a, b, _) => {
                format!("Midway from {} onward to {}{result}.", said(a), said(b))
            }
            Reckoning::Beside(sight, _) => format!(
                "Beside {}: the engraved {finds}{result}.",
                said(Quantity::Seen(sight))
            ),
            Reckoning::InProportion(sight) => format!(
                "As {} lies between the two almucantars, so take the almuri's place between the two{result}.",
                said(Quantity::Seen(sight))
            ),
            Reckoning::Height(tower) => {
                let rule = match tower {
                    Tower::Recta => "The distance times 12, divided by the points",
                    Tower::Versa => "The distance times the points, divided by 12",
                    Tower::RectaTwice => {
                        "The way between the stations times 12, divided by the difference of the points"
                    }
                    Tower::VersaTwice => {
                        "12 divided by the points of either station; the way between them divided by the difference"
                    }
                };
                format!("{rule}, and the height of the eye added{result}.")
            }
            Reckoning::RectaToVersa => format!("144 divided by the points of umbra recta{result}."),
        }
    }

    fn observe(&self, sight: Sight) -> String {
        let value = self.result(Quantity::Seen(sight));
        match sight {
            Sight::Shadow => {
                format!("Sight the top through the alidade; it cuts the shadow square{value}.")
            }
            Sight::OtherShadow => {
                format!("Go to the second station and sight the top again{value}.")
            }
            Sight::MorningShadow => {
                format!("In the forenoon mark where the shadow's tip touches the circle{value}.")
            }
            Sight::EveningShadow => {
                format!("In the afternoon mark where it touches the circle again{value}.")
            }
            _ => {
                let star = self.conditions.star.is_some();
                let (until, caution) = if sight == Sight::WandererAltitude {
                    ("the Moon or the planet is seen through both sights", "")
                } else if star {
                    ("the star is seen through both sights", "")
                } else {
                    (
                        "both sights are filled",
                        " Never look at the Sun: let its light fall through both pinnules.",
                    )
                };
                let name = match sight {
                    // A star has no noon.
                    Sight::NoonAltitude if star => "altitude on the meridian",
                    _ => sight.words(),
                };
                format!(
                    "Hang the instrument by its ring and turn the alidade until {until}: the {name}{value}.{caution}"
                )
            }
        }
    }

    /// A place of the rete in words.
    pub(super) fn place(&self, what: Brought) -> String {
        let degree = |quantity| self.value(quantity).map(Zodiacal);
        match what {
            Brought::Sun => match self.sun_degree() {
                Some(degree) => format!("the Sun's degree, {},", Zodiacal(degree)),
                None => "the Sun's degree".to_owned(),
            },
            Brought::OppositeSun => match self.sun_degree() {
                Some(degree) => format!(
                    "the degree opposite the Sun, {},",
                    Zodiacal(degree + Angle::HALF_TURN)
                ),
                None => "the degree opposite the Sun".to_owned(),
            },
            Brought::Star => match &self.conditions.star {
                Some(star) => format!("the pointer of {}", star.name),
                None => "the star's pointer".to_owned(),
            },
            Brought::Waxed => "the place marked with wax".to_owned(),
            Brought::Degree(quantity) => match degree(quantity) {
                Some(degree) => format!("the {quantity}, {degree},"),
                None => format!("the {quantity}"),
            },
            Brought::Opposite(quantity) => match degree(quantity) {
                Some(Zodiacal(degree)) => format!(
                    "the degree opposite the {quantity}, {},",
                    Zodiacal(degree + Angle::HALF_TURN)
                ),
                None => format!("the degree opposite the {quantity}"),
            },
        }
    }

    /// A place of the limb from which an arc is counted: in degrees, a time too, as the
    /// limb is divided.
    fn counted(&self, quantity: Quantity) -> String {
        match (quantity.measure(), self.value(quantity)) {
            (Measure::TimeOfDay, Some(hour)) => self.limb(hour),
            _ => self.said(quantity),
        }
    }

    /// A quantity's value, or its name where it has none.
    fn said(&self, quantity: Quantity) -> String {
        match self.value(quantity) {
            Some(value) => Said(quantity.measure(), value).to_string(),
            None => format!("the {quantity}"),
        }
    }

    /// What a step found, after a colon.
    fn result(&self, finds: Quantity) -> String {
        self.found(|reading| match finds.measure() {
            Measure::Arc if matches!(finds, Quantity::Noted(_)) => {
                Degrees(reading.value.in_turn()).to_string()
            }
            measure => Said(measure, reading.value).to_string(),
        })
    }
}

fn side_words(side: Pick) -> &'static str {
    match side {
        Pick::Western => "in the west",
        _ => "in the east",
    }
}
