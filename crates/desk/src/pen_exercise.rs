//! A figure by tables and pen as a question with its key.

use std::collections::BTreeMap;

use ::tables::Form;
use ::tables::pen::{Quantity, Reading, Reckoned, StepResult, TellTale, reckon, tell_tales};
use figure::House;
use sky::{Angle, Body};
use words::{NorthOrSouth, TimeOfDay};

use crate::answer::{
    AskedAnswer, CorrectAnswer, JudgedAnswer, MomentAnswer, PlaceAnswer, QuestionAnswer,
    TellTaleAnswer,
};
use crate::question_words::InWords;
use crate::reckon_case::{Case, ReckonRequest};
use crate::reckon_corrected::{called, judged_sheet, key, measure, reading, said, said_within};
use crate::refusal::{Field, Refusal, quoted};
use crate::request_work::WorkRequest;
use crate::spoken::{clock_words, dated};
use crate::tables::refused;

/// A figure that is to be found with the pen, and what of it is asked.
pub(crate) struct PosedPenQuestion {
    case: Case,
    reckoned: Reckoned,
    asked: Vec<Quantity>,
    /// What slips would make of what is asked.
    tales: Vec<TellTale>,
}

/// What is asked at a level.
fn asked_at(level: u8) -> Vec<Quantity> {
    let angles = [
        Quantity::SiderealTime,
        Quantity::Midheaven,
        Quantity::Ascendant,
        Quantity::Place(Body::Sun),
    ];
    let more = [
        Quantity::Cusp(House::II),
        Quantity::Cusp(House::III),
        Quantity::Place(Body::Moon),
    ];
    let all = [
        Quantity::Cusp(House::XI),
        Quantity::Cusp(House::XII),
        Quantity::Place(Body::Mercury),
        Quantity::Fortune,
    ];
    let (more, all) = match level {
        1 => (&more[..0], &all[..0]),
        2 => (&more[..], &all[..0]),
        _ => (&more[..], &all[..]),
    };
    angles.iter().chain(more).chain(all).copied().collect()
}

impl PosedPenQuestion {
    /// What a request asks at a level.
    ///
    /// # Errors
    /// When it cannot be understood, or tables do not reach it.
    pub(crate) fn of_level(work: &WorkRequest, level: u8) -> Result<PosedPenQuestion, Refusal> {
        PosedPenQuestion::of(work, asked_at(level))
    }

    /// The same as it was asked before.
    ///
    /// # Errors
    /// As then.
    pub(crate) fn again(question: &QuestionAnswer) -> Result<PosedPenQuestion, Refusal> {
        let was_asked = |quantity: &Quantity| {
            let mut asks = question.asks.iter();
            asks.any(|one| one.name == key(*quantity))
        };
        let all = asked_at(u8::MAX);
        PosedPenQuestion::of(
            &question.request,
            all.into_iter().filter(was_asked).collect(),
        )
    }

    fn of(work: &WorkRequest, asked: Vec<Quantity>) -> Result<PosedPenQuestion, Refusal> {
        let moment = &work.moment;
        let request = ReckonRequest {
            when: moment.when.clone(),
            at: moment.at.clone(),
            zone: moment.zone.clone(),
            clock: moment.clock.clone(),
            calendar: moment.calendar.clone(),
            which: moment.which.clone(),
            houses: moment.houses.clone(),
            ..ReckonRequest::default()
        };
        let case = Case::of(&request, None)?;
        let reckoned = reckon(&case.given, &case.hand).map_err(refused)?;
        let tales = tell_tales(&case.given, &case.hand, &asked).map_err(refused)?;
        Ok(PosedPenQuestion {
            case,
            reckoned,
            asked,
            tales,
        })
    }

    /// The key; none where a table has a stroke for something that is asked.
    pub(crate) fn key(&self) -> Option<Vec<AskedAnswer>> {
        let exact = self.case.exact();
        let each = self.asked.iter().map(|quantity| {
            let found = self.reckoned.found.get(*quantity)?;
            let exact = exact.get(*quantity);
            let within = Angle::from_deg(self.reckoned.within.of_quantity(*quantity));
            Some(AskedAnswer {
                name: key(*quantity),
                what: called(*quantity),
                measure: measure(*quantity).to_owned(),
                reads_deg: found.in_turn().deg(),
                reads: said(*quantity, found),
                reads_to_deg: None,
                reads_to: None,
                accept_deg: within.deg(),
                accept: said_within(*quantity, within),
                line: self.line(*quantity),
                exact_deg: exact.map(|exact| exact.in_turn().deg()),
                exact: exact.map(|exact| said(*quantity, exact)),
            })
        });
        each.collect()
    }

    /// The table it is found in, and between which rows.
    fn line(&self, quantity: Quantity) -> String {
        let is_found = |what: StepResult| match (quantity, what) {
            (Quantity::SiderealTime, StepResult::SiderealTime)
            | (Quantity::Ascendant, StepResult::Cusp(House::I))
            | (Quantity::Midheaven, StepResult::Cusp(House::X)) => true,
            (Quantity::Cusp(one), StepResult::Cusp(other)) => one == other,
            (Quantity::Place(one), StepResult::Place(other)) => one == other,
            _ => false,
        };
        let mut steps = self.reckoned.steps.iter();
        let taken = steps
            .find(|step| is_found(step.what))
            .and_then(|step| step.takes.first());
        taken.map_or_else(
            || "the sum".to_owned(),
            |taken| format!("{}, from {}", taken.table, taken.row),
        )
    }

    /// What the commonest slips of the pen would make.
    pub(crate) fn tell_tales(&self) -> Vec<TellTaleAnswer> {
        let tale = |TellTale { slips, shows }: &TellTale| TellTaleAnswer {
            slips: slips
                .iter()
                .map(|slip| slip.kind.name().to_owned())
                .collect(),
            words: slips.iter().map(|slip| words::pen_slip(*slip)).collect(),
            shows_deg: shows.iter().map(|shown| shown.in_turn().deg()).collect(),
            shows: self
                .asked
                .iter()
                .zip(shows)
                .map(|(quantity, shown)| said(*quantity, *shown))
                .collect(),
        };
        self.tales.iter().map(tale).collect()
    }

    /// The question in words.
    pub(crate) fn in_words(&self) -> InWords {
        let moment = &self.case.moment;
        let time = TimeOfDay(Angle::from_hours(moment.civil().time.hours()));
        let when = format!(
            "{}, {time} {}, in {}.",
            dated(moment),
            clock_words(moment),
            moment.place().name
        );
        let longitude = Angle::from_deg(moment.place().longitude.deg());
        let way = if longitude.deg() < 0.0 {
            "west"
        } else {
            "east"
        };
        let longitude = ::tables::Figure::written(Form::Degrees, longitude.deg().abs());
        InWords {
            title: "A figure by tables and pen".to_owned(),
            text: format!("{when} Work it with the pen, and write what you find."),
            when,
            given: vec![
                format!(
                    "The place is at {}, {longitude} {way}.",
                    NorthOrSouth(moment.place().latitude)
                ),
                format!(
                    "With a book of tables for {}: the houses by {}; the ephemeris has its days at \
                     {} at Greenwich.",
                    NorthOrSouth(self.case.hand.table_latitude),
                    self.case.given.method,
                    self.case.hand.hour.name()
                ),
            ],
        }
    }

    /// Corrects what was found.
    ///
    /// # Errors
    /// When something is not asked, or cannot be understood.
    pub(crate) fn correct(
        &self,
        read: &BTreeMap<String, String>,
    ) -> Result<CorrectAnswer, Refusal> {
        let names = || {
            self.asked
                .iter()
                .map(|one| key(*one))
                .collect::<Vec<String>>()
        };
        let own: Vec<Reading> = read
            .iter()
            .map(|(name, value)| {
                let mut asked = self.asked.iter();
                let same = |one: &&Quantity| key(**one).eq_ignore_ascii_case(name.trim());
                let quantity = asked.find(same).ok_or_else(|| {
                    let wrong = format!(
                        "{} is not asked in this question; {} would do",
                        quoted(name),
                        names().join(", ")
                    );
                    Refusal {
                        choices: names(),
                        ..Refusal::new(Field::Read, wrong)
                    }
                    .of(name)
                })?;
                reading(*quantity, name.trim(), value)
            })
            .collect::<Result<_, _>>()?;
        if own.is_empty() {
            let wrong = format!("nothing is read; {} are asked", names().join(", "));
            return Err(Refusal::new(Field::Read, wrong));
        }
        let judged: JudgedAnswer = judged_sheet(&self.case, &own)?;
        Ok(CorrectAnswer {
            moment: MomentAnswer::of(&self.case.moment),
            place: PlaceAnswer::of(self.case.moment.place()),
            instrument: None,
            by: None,
            judged,
        })
    }
}
