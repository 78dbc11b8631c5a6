use std::collections::BTreeMap;

use instrument::{DateFrom, House};
use practice::{
    Account, Act, Amount, Calculated, Conditions, Operation, Procedure, Quantity, Slip, Value,
    tell_tales,
};
use sky::Angle;
use words::{Fineness, NorthOrSouth, ValueInWords};

use crate::answer::{AskedAnswer, SetAnswer, TellTaleAnswer, amount_deg};
use crate::cabinet::refuse_other_hemisphere;
use crate::casting::Casting;
use crate::given_reading::{ReadingOf, own_or_opposite, quantity};
use crate::lesson_readings::read_on;
use crate::refusal::Refusal;
use crate::work::Work;

/// A question on an instrument: what is done with it, under which conditions, and what
/// is to be read.
pub(crate) struct PosedQuestion {
    /// Moment, place and instrument.
    pub(crate) casting: Casting,
    /// What is done.
    pub(crate) operation: Operation,
    /// As a person works.
    pub(crate) actual: Conditions,
    /// The same person with a perfect instrument.
    pub(crate) ideal: Conditions,
    /// What is to be read.
    asked: Vec<ReadingOf>,
    /// What calculation gives for it; nothing where a figure is cast.
    calculated: BTreeMap<Quantity, Calculated>,
    /// The operation of the treatise; none where a figure is cast.
    of_treatise: Option<Work>,
}

impl PosedQuestion {
    /// Casting a figure: the angles alone, until more is asked.
    pub(crate) fn of_cast(casting_of: Casting) -> PosedQuestion {
        let operation = casting_of.operation_by(&[casting_of.by]);
        let actual = casting_of.actual();
        let given = casting_of.given(&casting_of.instrument);
        let obliquity = casting_of.moment.sky().obliquity();
        let mut asked = vec![ReadingOf::LocalTime];
        if casting_of.instrument.date_from() == DateFrom::Zodiac {
            asked.push(ReadingOf::SunDegree);
        }
        asked.extend([ReadingOf::Ascendant, ReadingOf::Midheaven]);
        PosedQuestion {
            ideal: Conditions::ideal(given, &casting_of.instrument, obliquity),
            casting: casting_of,
            operation,
            actual,
            asked,
            calculated: BTreeMap::new(),
            of_treatise: None,
        }
    }

    /// The same with cusps asked too.
    pub(crate) fn with_cusps(mut self, houses: &[House]) -> PosedQuestion {
        self.asked
            .extend(houses.iter().copied().map(ReadingOf::Cusp));
        self
    }

    /// An operation of the treatise: what it is for.
    ///
    /// # Errors
    /// When what happens then is outside the span of the ephemeris.
    pub(crate) fn of_work(work: Work) -> Result<PosedQuestion, Refusal> {
        const MOST_ASKED: usize = 6;
        let operation = work.operation();
        let finds = work.task().finds(&operation).into_iter();
        let (mut ideal, actual) = work.conditions();
        let calculated = work.calculated()?;
        ideal.sun_moves = Work::sun_moves(&calculated);
        Ok(PosedQuestion {
            casting: work.casting().clone(),
            asked: finds.take(MOST_ASKED).map(ReadingOf::Found).collect(),
            operation,
            actual,
            ideal,
            calculated,
            of_treatise: Some(work),
        })
    }

    pub(crate) fn is_cast(&self) -> bool {
        self.of_treatise.is_none()
    }

    pub(crate) fn work(&self) -> Option<&Work> {
        self.of_treatise.as_ref()
    }

    /// What is to be read.
    pub(crate) fn asked(&self) -> &[ReadingOf] {
        &self.asked
    }

    /// The thing of a name that is asked.
    pub(crate) fn named(&self, name: &str) -> Option<ReadingOf> {
        let name = name.trim();
        let mut asked = self.asked.iter().copied();
        asked.find(|what| what.key().eq_ignore_ascii_case(name))
    }

    fn by(&self) -> Procedure {
        self.casting.by
    }

    /// What is to be read, with its key; `None` where this instrument does not read all
    /// of it.
    pub(crate) fn key(&self) -> Result<Option<Vec<AskedAnswer>>, Refusal> {
        refuse_other_hemisphere(&self.casting.instrument, self.casting.latitude())?;
        let account = Account::of(&self.operation, &self.ideal, &self.actual);
        let tolerances = practice::tolerances(&self.operation, &self.ideal, &self.actual);
        let exact = self.exact();
        let mut key = Vec::new();
        for what in &self.asked {
            let quantity = quantity(self.by(), *what);
            let Ok(reading) = account.actual().reading(quantity) else {
                return Ok(None);
            };
            let value = own_or_opposite(self.by(), *what, reading.value);
            let measure = what.measure();
            let least = measure.answered_to() * 0.5;
            let accept = tolerances.get(&quantity).copied().unwrap_or(least);
            let exact = exact.get(&quantity);
            let exact = exact.map(|exact| own_or_opposite(self.by(), *what, *exact));
            let reads_to = Some(reading.reads_to).filter(|to| to.is_some());
            key.push(AskedAnswer {
                name: what.key(),
                what: self.named_in_full(*what),
                measure: measure.name().to_owned(),
                reads_deg: what.number(value),
                reads: ValueInWords(value).to_string(),
                reads_to_deg: reads_to.map(amount_deg),
                reads_to: reads_to.map(|to| Fineness(to).to_string()),
                accept_deg: amount_deg(accept),
                accept: Fineness(accept).to_string(),
                line: self.line(*what, account.actual()),
                exact_deg: exact.map(|exact| what.number(exact)),
                exact: exact.map(|exact| ValueInWords(exact).to_string()),
            });
        }
        Ok(Some(key).filter(|key| !key.is_empty()))
    }

    /// What this brass shows further from the truth than a question may be off, with how
    /// far: then what is calculated is not right here. `None` where the brass shows what in
    /// truth has no answer.
    pub(crate) fn too_far_off(&self) -> Option<Vec<(ReadingOf, Amount)>> {
        let tolerances = practice::tolerances(&self.operation, &self.ideal, &self.actual);
        let truth = practice::carry_out(&self.operation, &self.ideal);
        let read = practice::carry_out(&self.operation, &self.actual);
        let exact = self.exact();
        let mut far = Vec::new();
        for what in &self.asked {
            let quantity = quantity(self.by(), *what);
            let truth = truth.reading(quantity).ok()?.value;
            let moves = self.ideal.sun_moves.get(&quantity).copied();
            let read = read.reading(quantity).ok()?.value;
            // By a rough way, or another house method, calculation is after something else.
            let exact = exact.get(&quantity);
            let size = |amount: Amount| amount.number().abs();
            let most_off = what.measure().most_off().number();
            let same = exact.filter(|exact| size(exact.to(truth)) <= most_off);
            let off = truth.to(read);
            let off = size(moves.map_or(off, |moves| off.plus(moves)));
            let off = same.map_or(off, |exact| off.max(size(exact.to(read))));
            let tolerance = tolerances.get(&quantity).map_or(0.0, |one| one.number());
            // The sum is no part of the brass.
            if *what != ReadingOf::LocalTime && off > tolerance {
                far.push((*what, what.measure().amount(off)));
            }
        }
        Some(far)
    }

    fn named_in_full(&self, what: ReadingOf) -> String {
        match what {
            ReadingOf::LocalTime if self.actual.wants_mean_time() => {
                "hour for the rule (local mean time)".to_owned()
            }
            ReadingOf::LocalTime => "hour for the rule".to_owned(),
            other => other.name(),
        }
    }

    /// The lines a thing is read on.
    fn line(&self, what: ReadingOf, working: &practice::Working) -> String {
        let house = match what {
            ReadingOf::Ascendant => Some(House::ALL[0]),
            ReadingOf::Midheaven => Some(House::ALL[9]),
            ReadingOf::Cusp(house) => Some(house),
            ReadingOf::LocalTime | ReadingOf::SunDegree | ReadingOf::Found(_) => None,
        };
        if let Some(house) = house {
            let from = self.by().cusp_from(house);
            let how = if from.opposite { ", opposite" } else { "" };
            return format!("{}{how}", from.line);
        }
        read_on(working, quantity(self.by(), what))
    }

    /// By calculation, what is read for what is asked, as far as there is something to
    /// calculate.
    fn exact(&self) -> BTreeMap<Quantity, Value> {
        if !self.is_cast() {
            let found = self.calculated.iter();
            return found
                .map(|(found, calculated)| (*found, calculated.truly))
                .collect();
        }
        let of = |what: &ReadingOf| {
            let exact = what.measure().of_angle(self.exact_of_cast(*what)?)?;
            Some((
                quantity(self.by(), *what),
                own_or_opposite(self.by(), *what, exact),
            ))
        };
        self.asked.iter().filter_map(of).collect()
    }

    fn exact_of_cast(&self, what: ReadingOf) -> Option<Angle> {
        let horizon = self.casting.horizon();
        match what {
            // By the sum itself. On a ring of equal days the rule is set to mean time.
            ReadingOf::LocalTime => {
                let moment = &self.casting.moment;
                let hours = if self.actual.wants_mean_time() {
                    moment.local_mean_time_h()
                } else {
                    moment.local_apparent_time_h()
                };
                Some(Angle::from_hours(hours) - Angle::HALF_TURN)
            }
            ReadingOf::SunDegree => Some(self.casting.moment.sky().sun().longitude),
            ReadingOf::Ascendant => horizon.ascendant().ok(),
            ReadingOf::Midheaven => Some(horizon.midheaven()),
            ReadingOf::Cusp(house) => {
                let cusps = self.casting.method.cusps(&horizon).ok()?;
                let index = usize::from(house.number()).checked_sub(1)?;
                cusps.all().get(index).copied()
            }
            ReadingOf::Found(_) => None,
        }
    }

    /// What the commonest slips would show.
    pub(crate) fn tell_tales(&self) -> Vec<TellTaleAnswer> {
        let asked: Vec<(Quantity, Amount)> = self
            .asked
            .iter()
            .map(|what| (quantity(self.by(), *what), what.measure().answered_to()))
            .collect();
        let found = tell_tales(&self.operation, &self.actual, &asked);
        found
            .into_iter()
            .map(|one| {
                let shows = || {
                    let both = self.asked.iter().zip(&one.shows);
                    both.map(|(what, value)| (what, own_or_opposite(self.by(), *what, *value)))
                };
                TellTaleAnswer {
                    slips: one
                        .slips
                        .iter()
                        .map(|slip| slip.name().to_owned())
                        .collect(),
                    words: one
                        .slips
                        .iter()
                        .map(|slip| Slip::words(*slip).to_owned())
                        .collect(),
                    shows_deg: shows().map(|(what, value)| what.number(value)).collect(),
                    shows: shows()
                        .map(|(_, value)| ValueInWords(value).to_string())
                        .collect(),
                }
            })
            .collect()
    }

    /// How the brass is set, in a sentence.
    pub(crate) fn setting(&self) -> String {
        let plate = NorthOrSouth(self.actual.plate);
        if !self.is_cast() {
            let placed = self
                .operation
                .steps
                .iter()
                .any(|step| step.act == Act::ChoosePlate);
            return if placed {
                format!("Plate {plate}.")
            } else {
                String::new()
            };
        }
        let working = practice::carry_out(&self.operation, &self.actual);
        let set = SetAnswer::of(&working, &self.actual);
        format!(
            "Plate {plate}; {} {} under the rule; the rule at {}, {}.",
            set.under_rule, set.degree_or_date, set.hour, set.time
        )
    }
}
