use instrument::{Hemisphere, LineId, Part, Pick};
use practice::{
    Act, Along, Conditions, Done, Measure, OnPlate, Procedure, Quantity, Reading, RetePlace, Spot,
    Stated, Value, Working,
};
use sky::Angle;

use crate::brass::{Brass, points};
use crate::number::{Degrees, NorthOrSouth, ValueInWords};
use crate::sentence::{Sentence, said};

mod on_back;
mod place;
mod reckoning;
mod sighting;
mod turning_rete;

/// What to do in a step, in plain words, with what is then seen. It says which end, which
/// side and which way on this instrument, and tells numbers as its scales show them.
/// `None` when there is no such step.
#[must_use]
pub fn instruction(working: &Working, step: usize, conditions: &Conditions) -> Option<Sentence> {
    let words = Words::of(working, step, conditions)?;
    let sentence = words.instruction();
    Some(match &words.done.outcome {
        Some(Err(why)) => sentence.then(format!(" This cannot be done: {why}.")),
        Some(Ok(_)) | None => sentence,
    })
}

/// A step being told.
pub(crate) struct Words<'a> {
    pub(crate) working: &'a Working,
    pub(crate) conditions: &'a Conditions,
    pub(crate) done: &'a Done,
    pub(crate) step: usize,
    pub(crate) brass: Brass<'a>,
}

impl<'a> Words<'a> {
    pub(crate) fn of(
        working: &'a Working,
        step: usize,
        conditions: &'a Conditions,
    ) -> Option<Words<'a>> {
        Some(Words {
            working,
            conditions,
            done: working.steps.get(step)?,
            step,
            brass: Brass {
                instrument: &conditions.instrument,
            },
        })
    }
}

impl Words<'_> {
    fn instruction(&self) -> Sentence {
        match &self.done.act {
            Act::Reckon(reckoning) => self.reckoned(*reckoning),
            Act::ChoosePlate => self.choose_plate(),
            Act::ExchangePlate => self.exchange_plate(),
            Act::ReadSunDegree => self.read_sun_degree(),
            Act::TurnRuleOnto(quantity) => self.turn_rule(*quantity),
            Act::ReadLimb { over, finds } => self.read_limb(*over, *finds),
            Act::TurnRete { .. } | Act::TurnReteToAltitude { .. } | Act::TurnAlmuriOnto(_) => {
                said![
                    "Turn ",
                    rete(),
                    self.how(),
                    " until ",
                    self.until(),
                    ".",
                    self.seen()
                ]
            }
            Act::ReadAlmuri { .. } => {
                let place = self.found_on(|at, reads_to| self.brass.limb(at, reads_to));
                said![
                    "Note where ",
                    self.almuri(),
                    " stands on the limb",
                    place,
                    "."
                ]
            }
            Act::TurnEclipticToAltitude {
                altitude, which, ..
            } => self.turn_ecliptic(*altitude, *which),
            Act::ReadAltitude { of, finds } => self.read_altitude(*of, *finds),
            Act::ReadAzimuth { of, .. } => self.read_azimuth(*of),
            Act::ReadEclipticAtAltitude {
                altitude,
                side,
                finds,
            } => said![
                "The rete stays. Where ",
                ecliptic("the outer edge of the ecliptic"),
                " stands at ",
                self.altitude(*altitude),
                ", ",
                self.side(*side),
                ", read the ",
                finds.to_string(),
                self.degree_found(),
                "."
            ],
            Act::ReadUnequalHour { .. } => self.read_unequal_hour(),
            Act::ReadOnBack(what) => self.read_on_back(*what),
            Act::Wax(along) => self.wax(*along),
            Act::Observe(sight) => self.observe(*sight),
            Act::Return => self.returning(),
            Act::ReadEcliptic { at, pick, finds } => self.read_ecliptic(at, *pick, *finds),
        }
    }

    fn exchange_plate(&self) -> Sentence {
        let plate = self.conditions.other_plate;
        let named = Sentence::part(
            &format!("the plate for {}", NorthOrSouth(plate)),
            Part::Plate,
        );
        said![
            "Take the rete off and exchange the plate: lay in ",
            named,
            ", on the other side of the place's latitude."
        ]
    }

    fn choose_plate(&self) -> Sentence {
        let (plate, place) = (self.conditions.plate, self.conditions.given.latitude);
        let off = place.angle() - plate.angle();
        let named = Sentence::part(
            &format!("the plate for {}", NorthOrSouth(plate)),
            Part::Plate,
        );
        let fits = if off.abs() < Angle::from_arcmin(0.5) {
            ": it is the place's own.".to_owned()
        } else {
            let side = if off > Angle::ZERO { "north" } else { "south" };
            format!(
                ", the nearest at hand; the place, at {}, is {} {side} of it.",
                NorthOrSouth(place),
                Degrees(off)
            )
        };
        let upright = match self.brass.noon() {
            "top" => Sentence::line("meridian line", LineId::MeridianLine),
            _ => Sentence::line("midnight line", LineId::MidnightLine),
        };
        said![
            "Lay in ",
            named,
            fits,
            " Its ",
            upright,
            " runs up from the centre to the throne, and its east is on the ",
            self.brass.east(),
            "."
        ]
    }

    fn read_sun_degree(&self) -> Sentence {
        let date = self.brass.date(
            self.conditions.given.date,
            &LineId::CalendarScale,
            self.done.sets_to,
        );
        let degree = self.found_on(|at, reads_to| self.brass.on_zodiac_scale(at, reads_to));
        let bearing = self
            .conditions
            .instrument
            .back()
            .zodiac(self.done.after.alidade);
        said![
            "On ",
            Sentence::part("the back", Part::Back),
            ", turn ",
            Sentence::part("the alidade", Part::Alidade),
            " until ",
            Sentence::line("its line", LineId::AlidadeLine),
            " lies with one end on ",
            date,
            " of ",
            Sentence::line("the calendar scale", LineId::CalendarScale),
            format!(
                "; that end then points {}. Under the same end read ",
                points(bearing)
            ),
            "the Sun's degree on ",
            Sentence::line("the zodiac scale", LineId::ZodiacScale),
            ", whose signs run anticlockwise",
            degree,
            "."
        ]
    }

    fn turn_rule(&self, quantity: Quantity) -> Sentence {
        let (rule, sets_to) = (self.done.after.rule, self.done.sets_to);
        let place = if quantity == Quantity::HourForRule {
            self.brass.hour(rule, sets_to)
        } else {
            self.brass.limb(rule, sets_to)
        };
        said![
            "Turn ",
            Sentence::part("the rule", Part::Rule),
            " until the edge of its ",
            long_end(),
            " lies ",
            place,
            format!(". That end then points {}.", self.brass.points(rule))
        ]
    }

    fn read_limb(&self, over: RetePlace, finds: Quantity) -> Sentence {
        let what = match finds.measure() {
            Measure::TimeOfDay => said!["the ", finds.to_string(), " on the hours of the limb"],
            Measure::Degree
            | Measure::Arc
            | Measure::Height
            | Measure::Azimuth
            | Measure::UnequalHours
            | Measure::Points
            | Measure::Length => said!["the limb"],
        };
        let place = self.found_on(|at, reads_to| match finds.measure() {
            Measure::TimeOfDay => self.brass.hour(at, reads_to),
            Measure::Degree
            | Measure::Arc
            | Measure::Height
            | Measure::Azimuth
            | Measure::UnequalHours
            | Measure::Points
            | Measure::Length => self.brass.limb(at, reads_to),
        });
        let points = if place.is_empty() {
            String::new()
        } else {
            format!(
                " That end then points {}.",
                self.brass.points(self.done.after.rule)
            )
        };
        said![
            "Lay the edge of the rule's ",
            long_end(),
            " over ",
            self.place(over),
            ", and read ",
            what,
            " under it",
            place,
            ".",
            points
        ]
    }

    fn returning(&self) -> Sentence {
        let done = self.done;
        let mut sentence = Sentence::default();
        if done.before.rete != done.after.rete {
            let earlier = self.working.steps.iter().take(self.step);
            let set = earlier
                .rev()
                .filter(|step| step.after.rete == done.after.rete)
                .find_map(|step| self.until_of(&step.act));
            let turn = done.rete_turn();
            let way = if turn < Angle::ZERO {
                self.brass.back()
            } else {
                self.brass.onward()
            };
            sentence = said![
                "Turn ",
                rete(),
                format!(" {way}, by "),
                self.brass.arc(turn).marked_found(),
                ", back to where the Sun was set",
            ];
            if let Some(set) = set {
                sentence = said![sentence, ", until ", set, " again"];
            }
            sentence = sentence.then(".");
        }
        if done.before.rule != done.after.rule {
            let gap = if sentence.is_empty() { "" } else { " " };
            sentence = said![
                sentence,
                gap,
                "Turn ",
                Sentence::part("the rule", Part::Rule),
                " back onto the hour: the edge of its ",
                long_end(),
                " lies ",
                self.brass.hour(done.after.rule, self.limb_reads_to()),
                "."
            ];
        }
        if sentence.is_empty() {
            return "Everything stays as the Sun was set.".into();
        }
        sentence
    }

    fn read_altitude(&self, of: Spot, finds: Quantity) -> Sentence {
        let of = match of {
            Spot::OnRete(what) => self.place(what),
            Spot::Pole => said![
                "the pole, the centre of ",
                Sentence::part("the plate", Part::Plate)
            ],
            Spot::EquatorAtNoon => said![
                "where ",
                Sentence::line("the equator", LineId::Equator),
                " crosses ",
                self.line(&LineId::MeridianLine, Pick::Drawn)
            ],
        };
        let place = self.found_on(|at, reads_to| self.brass.among_almucantars(at, reads_to));
        said![
            "Count the almucantars inwards from ",
            Sentence::line("the horizon", LineId::Horizon),
            " to ",
            of,
            ", for the ",
            finds.to_string(),
            place,
            "."
        ]
    }

    fn read_azimuth(&self, of: RetePlace) -> Sentence {
        let north = match self.conditions.instrument.specification().hemisphere {
            Hemisphere::North => self.brass.midnight(),
            Hemisphere::South => self.brass.noon(),
        };
        let place = self.found_on(|at, reads_to| self.brass.among_azimuths(at, reads_to));
        said![
            "Read among the azimuth lines where ",
            self.place(of),
            format!(
                " lies, counted along the horizon from north, towards the {north}, through the east, on the {}",
                self.brass.east()
            ),
            place,
            "."
        ]
    }

    fn read_unequal_hour(&self) -> Sentence {
        let by_night = matches!(
            &self.done.outcome,
            Some(Ok((_, reading))) if reading.value.number() >= 12.0
        );
        let (head, under) = if by_night {
            ("It is night: under ", RetePlace::Sun)
        } else {
            ("It is day: under ", RetePlace::OppositeSun)
        };
        let place = self.found(|reading| {
            let said = ValueInWords(reading.value).to_string();
            let (hour, reads_to) = (reading.value.number(), reading.reads_to.number());
            said![
                self.brass.among_hour_lines(hour, reads_to),
                Sentence::number(
                    if by_night {
                        ", gone since sunset"
                    } else {
                        ", gone since sunrise"
                    },
                    said
                )
            ]
        });
        said![
            head,
            self.place(under),
            ", which stands below ",
            Sentence::line("the horizon", LineId::Horizon),
            format!(
                ", read the unequal hour among its lines, counted {} from the western horizon, on the {}",
                self.brass.onward(),
                self.brass.west()
            ),
            place,
            "."
        ]
    }

    fn wax(&self, along: Along) -> Sentence {
        let latitude = Quantity::Stated(Stated::Latitude);
        let value = self.angle(latitude).unwrap_or_default();
        let north = self.conditions.instrument.specification().hemisphere == Hemisphere::North;
        let inwards = (value >= Angle::ZERO) == north;
        let (way, towards) = if inwards {
            ("inwards", "towards")
        } else {
            ("outwards", "away from")
        };
        match along {
            Along::CircleOfLatitude => said![
                "Mark the planet's place on ",
                rete(),
                " with wax: ",
                Degrees(value).to_string(),
                format!(" {way} from "),
                self.place(RetePlace::Degree(Quantity::Stated(Stated::Degree))),
                ", on the circle through it and the ecliptic's pole."
            ],
            Along::Rule => said![
                "By the old rule: from where the degree stands on ",
                self.line(&LineId::MeridianLine, Pick::Drawn),
                format!(
                    ", count {} of the almucantars {towards} the centre, ",
                    Degrees(value)
                ),
                "and mark that place with wax, along the edge of the rule's ",
                long_end(),
                " laid over the degree."
            ],
        }
    }

    fn read_ecliptic(&self, at: &LineId, pick: Pick, finds: Quantity) -> Sentence {
        let degree = self.degree_found();
        let edge = ecliptic("the outer edge of the ecliptic");
        let line = self.line(at, pick);
        let cusp = if let Quantity::Cusp(procedure, house)
        | Quantity::On(_, OnPlate::Cusp(procedure, house)) = finds
        {
            Some((procedure, house))
        } else {
            None
        };
        let stays = match cusp {
            Some((Procedure::DirectCut | Procedure::HouseLines(_), _)) => "The rete stays. ",
            _ => "",
        };
        let what = match finds {
            Quantity::Cusp(_, house) => said![format!("cusp {house}")],
            Quantity::On(plate, OnPlate::Cusp(_, house)) => {
                said![format!("cusp {house} on the {plate} plate")]
            }
            other @ (Quantity::HourForRule
            | Quantity::SunDegree
            | Quantity::Ascendant
            | Quantity::Midheaven
            | Quantity::LimbOfAscendant
            | Quantity::LimbForCusp(_)
            | Quantity::On(..)
            | Quantity::Seen(_)
            | Quantity::Stated(_)
            | Quantity::Noted(_)
            | Quantity::Engraved(_)
            | Quantity::PartBegins(_)
            | Quantity::Found(_)) => said!["the ", found_name(other)],
        };
        let run = if finds == Quantity::Ascendant {
            format!(" The signs run {}.", self.brass.back())
        } else {
            String::new()
        };
        said![
            stays,
            "Where ",
            edge,
            " crosses ",
            line,
            ", read ",
            what,
            degree,
            ".",
            run
        ]
    }

    /// The degree of the ecliptic that the step found, after a colon.
    fn degree_found(&self) -> Sentence {
        self.found_on(|at, reads_to| self.brass.on_ecliptic(at, reads_to))
    }

    /// What the step found, after a colon.
    pub(crate) fn found(&self, words: impl Fn(Reading) -> Sentence) -> Sentence {
        match &self.done.outcome {
            Some(Ok((_, reading))) => said![": ", words(*reading).marked_found()],
            Some(Err(_)) | None => Sentence::default(),
        }
    }

    /// The angle that the step found on a scale, and how finely, after a colon.
    pub(crate) fn found_on(&self, words: impl Fn(Angle, Angle) -> Sentence) -> Sentence {
        self.found(
            |reading| match (reading.value.angle(), reading.reads_to.angle()) {
                (Some(at), Some(reads_to)) => words(at, reads_to),
                _ => ValueInWords(reading.value).to_string().into(),
            },
        )
    }

    /// What a step found, as its kind of number is written, after a colon.
    pub(crate) fn result(&self, finds: Quantity) -> Sentence {
        self.found(|reading| {
            match (finds, reading.value) {
                (Quantity::Noted(_), Value::Arc(place)) => Degrees(place.in_turn()).to_string(),
                (_, value) => ValueInWords(value).to_string(),
            }
            .into()
        })
    }

    pub(crate) fn value(&self, quantity: Quantity) -> Option<Value> {
        let stated = if let Quantity::Stated(stated) = quantity {
            self.conditions.stated.get(&stated).copied()
        } else {
            None
        };
        let read = || self.working.reading(quantity).ok();
        stated.or_else(|| read().map(|reading| reading.value))
    }

    /// The same, where it is an angle.
    pub(crate) fn angle(&self, quantity: Quantity) -> Option<Angle> {
        self.value(quantity)?.angle()
    }

    /// A quantity's value, or its name where it has none.
    pub(crate) fn said(&self, quantity: Quantity) -> String {
        match self.value(quantity) {
            Some(value) => ValueInWords(value).to_string(),
            None => format!("the {quantity}"),
        }
    }

    /// How finely the rule is set: as it was when it was last set.
    fn limb_reads_to(&self) -> Angle {
        let earlier = self.working.steps.iter().take(self.step);
        let set = earlier
            .rev()
            .find(|done| matches!(done.act, Act::TurnRuleOnto(_) | Act::ReadLimb { .. }));
        set.map_or(self.done.sets_to, |done| done.sets_to)
    }
}

/// What is found, with the common name beside it where it is first met.
fn found_name(quantity: Quantity) -> String {
    if quantity == Quantity::Ascendant {
        "ascendant (the rising sign and its degree)".to_owned()
    } else {
        quantity.to_string()
    }
}

fn rete() -> Sentence {
    Sentence::part("the rete", Part::Rete)
}

fn ecliptic(text: &str) -> Sentence {
    Sentence::line(text, LineId::Ecliptic)
}

fn long_end() -> Sentence {
    Sentence::line("long end", LineId::RuleEdge)
}
