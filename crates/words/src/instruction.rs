use instrument::{DateFrom, LineId, Pick};
use practice::{
    Act, Brought, Conditions, Correction, Done, Measure, Procedure, Quantity, Reading, Reckoning,
    Sense, SunTaken, Working,
};
use sky::{Angle, Zodiacal};

use crate::number::{Degrees, Length, OnEarth, Said, TimeOfDay};

mod treatise;

/// What to do in a step, in plain words, with what is then seen: a sentence or
/// two. `None` when there is no such step.
#[must_use]
pub fn instruction(working: &Working, step: usize, conditions: &Conditions) -> Option<String> {
    let done = working.steps.get(step)?;
    let words = Words {
        working,
        conditions,
        done,
    };
    let mut text = words.instruction();
    if let Some(Err(why)) = &done.outcome {
        text.push_str(&format!(" This cannot be done: {why}."));
    }
    Some(text)
}

struct Words<'a> {
    working: &'a Working,
    conditions: &'a Conditions,
    done: &'a Done,
}

impl Words<'_> {
    fn instruction(&self) -> String {
        match &self.done.act {
            Act::ChoosePlate => self.choose_plate(),
            Act::Reckon(Reckoning::HourForRule) => self.sum(),
            Act::Reckon(Reckoning::ThirdOfLimb(house)) => {
                let (thirds, meridian) = match house.number() {
                    12 => ("One third", "noon"),
                    11 => ("Two thirds", "noon"),
                    2 => ("One third", "midnight"),
                    _ => ("Two thirds", "midnight"),
                };
                let place = self.found(|reading| self.limb(reading.value));
                format!(
                    "{thirds} of the way along the limb from the ascendant to {meridian}, for cusp {house}{place}."
                )
            }
            Act::ReadSunDegree => {
                let date = self
                    .conditions
                    .instrument
                    .dates()
                    .said(self.conditions.given.date);
                let degree = self.found(zodiacal);
                format!(
                    "On the back, turn the alidade on the calendar scale to {date}, and read the Sun's degree on the zodiac scale{degree}."
                )
            }
            Act::TurnRuleOnto(Quantity::HourForRule) => {
                let time = TimeOfDay(self.done.after.rule + Angle::HALF_TURN);
                format!("Turn the rule onto {time} of the limb.")
            }
            Act::TurnRuleOnto(_) => format!(
                "Turn the rule onto {} of the limb.",
                self.limb(self.done.after.rule)
            ),
            Act::ReadLimb { over, finds } => {
                let over = match over {
                    Brought::Degree(Quantity::Ascendant) => "the ascendant".to_owned(),
                    what => self.place(*what),
                };
                if finds.measure() == Measure::TimeOfDay {
                    let time =
                        self.found(|reading| Said(Measure::TimeOfDay, reading.value).to_string());
                    return format!(
                        "Lay the rule over {over} and read on the limb the {finds}{time}."
                    );
                }
                let place = self.found(|reading| self.limb(reading.value));
                format!("Lay the rule over {over} and read the limb{place}.")
            }
            Act::TurnRete {
                what,
                onto,
                pick,
                sense,
            } => self.turn_rete(*what, onto, *pick, *sense),
            Act::Reckon(reckoning) => self.reckoned(*reckoning),
            Act::Return => self.returning(),
            Act::ReadEcliptic { at, finds, .. } => self.read_ecliptic(at, *finds),
            act => self.treatise(act),
        }
    }

    fn choose_plate(&self) -> String {
        let (plate, place) = (self.conditions.plate, self.conditions.given.latitude);
        let off = place.angle() - plate.angle();
        let plate_words = OnEarth(plate);
        if off.abs() < Angle::from_arcmin(0.5) {
            return format!("Lay in the plate for {plate_words}: it is the place's own.");
        }
        let side = if off > Angle::ZERO { "north" } else { "south" };
        format!(
            "Lay in the plate for {plate_words}, the nearest at hand; the place, at {}, is {} {side} of it.",
            OnEarth(place),
            Degrees(off)
        )
    }

    fn sum(&self) -> String {
        let given = &self.conditions.given;
        let clock = TimeOfDay(given.clock);
        if self.conditions.sum().is_empty() && given.clock_is_apparent {
            return format!(
                "The hour for the rule is the clock's own, {clock:#}: it shows local apparent time."
            );
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
            text.push_str(&format!(", {sign} {} {what}", Length(amount)));
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
        text.push_str(&format!(": {hour:#}{kind}."));
        text
    }

    fn turn_rete(&self, what: Brought, onto: &LineId, pick: Pick, sense: Sense) -> String {
        let date_on_ring = self.conditions.sun == SunTaken::ByInstrument
            && *onto == LineId::RuleEdge
            && self.conditions.instrument.date_from().is_ring();
        let what = match what {
            Brought::Sun if date_on_ring => {
                format!(
                    "{} on the date ring",
                    self.conditions
                        .instrument
                        .dates()
                        .said(self.conditions.given.date)
                )
            }
            what => self.place(what),
        };
        let turn = Degrees(self.done.rete_turn());
        let how = match sense {
            Sense::Either => String::new(),
            Sense::Back => format!(" back, by {turn}"),
            Sense::Onward => format!(" onward, by {turn}"),
        };
        let line = match onto {
            LineId::RuleEdge => "under the edge of the rule".to_owned(),
            LineId::Horizon if pick == Pick::Western => "on the western horizon".to_owned(),
            LineId::Horizon => "on the eastern horizon".to_owned(),
            LineId::Almucantar(_) if pick == Pick::Western => format!("on {onto} in the west"),
            LineId::Almucantar(_) => format!("on {onto} in the east"),
            LineId::MeridianLine | LineId::MidnightLine => format!("on the {onto}"),
            line => format!("on {line}"),
        };
        let until = if how.is_empty() { "until" } else { ", until" };
        let space = if how.is_empty() { " " } else { "" };
        format!("Turn the rete{how}{space}{until} {what} lies {line}.")
    }

    fn returning(&self) -> String {
        if self.done.before.rule == self.done.after.rule {
            "Turn the rete back to where the Sun was set.".to_owned()
        } else {
            "Turn the rule back onto the hour.".to_owned()
        }
    }

    fn read_ecliptic(&self, at: &LineId, finds: Quantity) -> String {
        let degree = self.found(zodiacal);
        match finds {
            Quantity::Ascendant => {
                format!(
                    "Where the ecliptic crosses the eastern horizon, read the ascendant{degree}."
                )
            }
            Quantity::Midheaven => {
                format!("Where it crosses the meridian line, read the midheaven{degree}.")
            }
            Quantity::Cusp(Procedure::Turning, house) => {
                format!("On the midnight line read cusp {house}{degree}.")
            }
            Quantity::Cusp(Procedure::LimbThirds, house) => {
                format!(
                    "Where the ecliptic crosses the edge of the rule, read cusp {house}{degree}."
                )
            }
            Quantity::Cusp(_, house) => format!(
                "The rete stays. Where the ecliptic crosses {at}, read cusp {house}{degree}."
            ),
            other => {
                let line = match at {
                    LineId::Horizon => "the horizon".to_owned(),
                    line => format!("the {line}"),
                };
                format!("Where the ecliptic crosses {line}, read the {other}{degree}.")
            }
        }
    }

    /// What the step found, after a colon.
    fn found(&self, words: impl Fn(Reading) -> String) -> String {
        match &self.done.outcome {
            Some(Ok((_, reading))) => format!(": {}", words(*reading)),
            _ => String::new(),
        }
    }

    fn value(&self, quantity: Quantity) -> Option<Angle> {
        let told = match quantity {
            Quantity::Told(told) => self.conditions.told.get(&told).copied(),
            _ => None,
        };
        let read = || self.working.reading(quantity).ok();
        told.or_else(|| read().map(|reading| reading.value))
    }

    /// The Sun's degree as it is taken.
    fn sun_degree(&self) -> Option<Angle> {
        match self.conditions.instrument.date_from() {
            DateFrom::Zodiac if self.conditions.sun == SunTaken::ByInstrument => {
                self.value(Quantity::SunDegree)
            }
            _ => Some(self.conditions.given.sun.longitude),
        }
    }

    /// A place on the limb, counted from noon as the hours of a figure are.
    fn limb(&self, hour_angle: Angle) -> String {
        let hour_angle = hour_angle.signed();
        let side = if hour_angle < Angle::ZERO {
            "before"
        } else {
            "after"
        };
        format!("{} {side} noon", Degrees(hour_angle))
    }
}

fn zodiacal(reading: Reading) -> String {
    Zodiacal(reading.value).to_string()
}
