//! The sums on paper. Their numbers are written as they were read, not as scales show them.

use practice::{Beside, Correction, Note, Quantity, Reckoning, Stated, Tower, Value, WhichPlate};
use sky::Angle;

use super::Words;
use crate::brass::from_noon;
use crate::number::{Degrees, TimeOfDay, TimeSpan};
use crate::sentence::{Sentence, said};

impl Words<'_> {
    pub(super) fn reckoned(&self, reckoning: Reckoning) -> Sentence {
        let finds = reckoning.finds();
        let result = self.result(finds);
        let said = |quantity| self.said(quantity);
        match reckoning {
            Reckoning::HourForRule => self.sum(),
            Reckoning::ThirdOfLimb(house) => {
                let (brass, above) = (self.brass, matches!(house.number(), 11 | 12));
                let thirds = match house.number() {
                    12 | 2 => "One third",
                    _ => "Two thirds",
                };
                let (way, end, at) = if above {
                    (brass.onward(), "noon", brass.noon())
                } else {
                    (brass.back(), "midnight", brass.midnight())
                };
                let place = self.found_on(|place, _| from_noon(place).into());
                let ascendant = match self.angle(Quantity::LimbOfAscendant) {
                    Some(ascendant) => format!("{}, ", from_noon(ascendant)),
                    None => String::new(),
                };
                said![
                    format!(
                        "{thirds} of the way along the limb from the ascendant's place, {ascendant}{way} to {end}, at the {at}, for cusp {house}"
                    ),
                    place,
                    "."
                ]
            }
            Reckoning::Count(from, to, _) => said![
                format!(
                    "Count along the limb from {} {}, as the hours run, to {}: the {finds}",
                    self.counted(from),
                    self.brass.onward(),
                    self.counted(to)
                ),
                result,
                "."
            ],
            Reckoning::RestOfTurn(of, _) => {
                said![format!("360° less {}: the {finds}", said(of)), result, "."]
            }
            Reckoning::Twelfth(of, _) => {
                said![
                    format!("A twelfth of {}: the {finds}", said(of)),
                    result,
                    "."
                ]
            }
            Reckoning::RestOfThirty(of, _) => {
                said![format!("30° less {}: the {finds}", said(of)), result, "."]
            }
            Reckoning::Hours(of, _) => said![
                format!(
                    "{} unequal hours of {} each, turned into equal hours",
                    self.value(Quantity::Stated(Stated::UnequalHours))
                        .map_or(0.0, |hours| hours.written().number()),
                    said(of)
                ),
                result,
                "."
            ],
            Reckoning::Less(a, b, _) => said![
                format!("{} less {}: the {finds}", said(a), said(b)),
                result,
                "."
            ],
            Reckoning::Sum(a, b, _) => said![
                format!("{} and {} together: the {finds}", said(a), said(b)),
                result,
                "."
            ],
            Reckoning::Mean(a, b, _) => said![
                format!("Half of {} and {} together: the {finds}", said(a), said(b)),
                result,
                "."
            ],
            Reckoning::RestOfRight(of, _) => {
                said![format!("90° less {}: the {finds}", said(of)), result, "."]
            }
            Reckoning::ThroughZenith(sight) => said![
                format!(
                    "It stands beyond the zenith, and is counted on through it: 180° less {}: the {finds}",
                    said(Quantity::Seen(sight))
                ),
                result,
                "."
            ],
            Reckoning::FromSouth(of, _) => said![
                format!(
                    "Counted from the south instead of from the north: {}, the {finds}",
                    said(of)
                ),
                result,
                "."
            ],
            Reckoning::Midway(a, b, _) => said![
                format!(
                    "Midway along the limb from {} {}, as the hours run, to {}",
                    said(a),
                    self.brass.onward(),
                    said(b)
                ),
                result,
                "."
            ],
            Reckoning::MidDegree(a, b, _) => said![
                format!(
                    "Midway in the zodiac from {}, in the order of the signs, to {}",
                    said(a),
                    said(b)
                ),
                result,
                "."
            ],
            Reckoning::Beside(sight, _) => said![
                format!(
                    "Beside {}: the engraved {finds}",
                    said(Quantity::Seen(sight))
                ),
                result,
                "."
            ],
            Reckoning::BetweenPlates(what) => {
                let conditions = self.conditions;
                let beyond = conditions.given.latitude.angle() - conditions.plate.angle();
                let apart = conditions.other_plate.angle() - conditions.plate.angle();
                said![
                    format!(
                        "The place lies {} from the first plate, and the plates are {} apart: go \
                         so much of the way from {} to {}, for the {finds}",
                        Degrees(beyond),
                        Degrees(apart),
                        said(Quantity::On(WhichPlate::First, what)),
                        said(Quantity::On(WhichPlate::Second, what))
                    ),
                    result,
                    "."
                ]
            }
            Reckoning::InProportion(sight) => said![
                format!(
                    "As {} lies between {} and {}, so take the almuri's place between {} and {}",
                    said(Quantity::Seen(sight)),
                    said(Quantity::Engraved(Beside::Below)),
                    said(Quantity::Engraved(Beside::Above)),
                    self.said_degrees(Quantity::Noted(Note::First)),
                    self.said_degrees(Quantity::Noted(Note::Second))
                ),
                result,
                "."
            ],
            Reckoning::FromEquinox(degree) => said![
                format!(
                    "Count in the zodiac from {} to the beginning of Aries or of Libra, whichever \
                     is nearer: the {finds}",
                    said(degree)
                ),
                result,
                "."
            ],
            Reckoning::ProductOfSines(one, other, _) => said![
                format!(
                    "{} times {}, divided by the whole sine, 60: the {finds}",
                    said(one),
                    said(other)
                ),
                result,
                "."
            ],
            Reckoning::SideOfEquator(size, degree) => {
                let south = self
                    .angle(degree)
                    .is_some_and(|at| at.signed() < Angle::ZERO);
                let (signs, side) = if south {
                    (
                        "from Libra to Pisces",
                        "south of the equator, and less than nothing",
                    )
                } else {
                    ("from Aries to Virgo", "north of the equator")
                };
                said![
                    format!(
                        "{} stands in the signs {signs}, so {} is {side}: the {finds}",
                        said(degree),
                        said(size)
                    ),
                    result,
                    "."
                ]
            }
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
                said![rule, ", and the height of the eye added", result, "."]
            }
            Reckoning::RectaToVersa => {
                said!["144 divided by the points of umbra recta", result, "."]
            }
        }
    }

    /// A place of the limb from which an arc is counted: in degrees, a time too, as the
    /// limb is divided.
    fn counted(&self, quantity: Quantity) -> String {
        match self.value(quantity) {
            Some(Value::TimeOfDay(hour)) => from_noon(hour),
            _ => self.said(quantity),
        }
    }

    /// A place of the limb in degrees from noon, as its degrees are numbered.
    fn said_degrees(&self, quantity: Quantity) -> String {
        self.angle(quantity).map_or_else(
            || format!("the {quantity}"),
            |place| Degrees(place.in_turn()).to_string(),
        )
    }

    /// From the clock to the hour for the rule.
    fn sum(&self) -> Sentence {
        let given = &self.conditions.given;
        let clock = TimeOfDay(given.clock);
        if self.conditions.sum().is_empty() && given.clock_is_apparent {
            return said![
                "The hour for the rule is the clock's own, ",
                Sentence::from(format!("{clock:#}")).marked_found(),
                ": it shows local apparent time."
            ];
        }
        let mut text = format!("Work out the hour for the rule: {clock:#} on the clock");
        for (correction, amount) in self.conditions.sum() {
            if amount == Angle::ZERO {
                continue;
            }
            let sign = if amount < Angle::ZERO { "less" } else { "plus" };
            let what = match correction {
                Correction::SummerTime => "summer time",
                Correction::Zone => "for the zone",
                Correction::Longitude => "for the longitude",
                Correction::EquationOfTime => "for the equation of time",
            };
            text.push_str(&format!(", {sign} {} {what}", TimeSpan(amount)));
        }
        let hour = TimeOfDay(self.conditions.hour_for_rule() + Angle::HALF_TURN);
        let kind = match (
            self.conditions.lacking().as_slice(),
            self.conditions.wants_mean_time(),
        ) {
            ([], true) => {
                " of local mean time. A ring of equal days must not have the equation of time"
                    .to_owned()
            }
            ([], false) => " of local apparent time".to_owned(),
            (lacking, _) => {
                let names: Vec<&str> = lacking.iter().map(|one| one.name()).collect();
                format!("; left out: {}", names.join(", ").replace('-', " "))
            }
        };
        said![
            text,
            ": ",
            Sentence::from(format!("{hour:#}")).marked_found(),
            kind,
            "."
        ]
    }
}
