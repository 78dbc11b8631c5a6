use instrument::Instrument;
use practice::{
    Account, Act, Amount, Conditions, Correction, Measure, Reckoning, Sighting, TaskInput, Value,
};
use schemars::JsonSchema;
use serde::Deserialize;
use sky::Angle;
use words::{Called, Fineness, TimeOfDay, TimeSpan, ValueInWords, caution};

use crate::answer::{LessonAnswer, LessonStepAnswer, RunAnswer, SumLineAnswer, on_back};
use crate::cabinet::{Cabinet, refuse_other_hemisphere};
use crate::casting::Casting;
use crate::lesson_picture::{LessonDrawing, LessonPicture};
use crate::lesson_readings::{cusps, lines, of_finding};
use crate::refusal::{Field, Refusal};
use crate::request_work::WorkRequest;
use crate::spoken::{moment_words, place_words};
use crate::work::Work;

/// The name under which casting a figure stands among the operations.
pub(crate) const CAST: &str = "cast";

/// What is asked when a worked example is to be made.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct LessonRequest {
    /// The operation, `cast` for casting a figure, with its moment, place and instrument.
    pub work: WorkRequest,
}

/// A worked example: its words, and a picture for each step in which the instrument is
/// looked at.
#[derive(Clone, Debug)]
pub struct Lesson {
    /// The words.
    pub answer: LessonAnswer,
    /// The pictures, in the order of the steps.
    pub pictures: Vec<Option<LessonPicture>>,
}

/// Makes a worked example of casting a figure or of an operation of the treatise.
///
/// # Errors
/// When the request cannot be understood, or the instrument does not serve the place.
pub fn lesson(
    request: &LessonRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<Lesson, Refusal> {
    one_of_several(request, cabinet, now_unix_s, &mut None)
}

/// The same where others are made too: the instrument is drawn once for those with it.
///
/// # Errors
/// As [`lesson`].
pub(crate) fn one_of_several(
    request: &LessonRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
    drawn: &mut Option<LessonDrawing>,
) -> Result<Lesson, Refusal> {
    if let Some(casting) = casting_asked(&request.work, cabinet, now_unix_s)? {
        return of_cast(&casting, drawn);
    }
    let work = work_asked(&request.work, cabinet, now_unix_s)?;
    of_work(work, &request.work, drawn)
}

/// The casting, where it is casting a figure that is asked for.
pub(crate) fn casting_asked(
    work: &WorkRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<Option<Casting>, Refusal> {
    if !work.operation.trim().eq_ignore_ascii_case(CAST) {
        return Ok(None);
    }
    let of_moment = WorkRequest {
        operation: work.operation.clone(),
        moment: work.moment.clone(),
        ..WorkRequest::default()
    };
    if *work != of_moment {
        return Err(Refusal::new(
            Field::Operation,
            "casting a figure takes no star, body, sight or degree; a moment, a place and an instrument alone would do",
        ));
    }
    let casting = Casting::of(&work.moment, cabinet, now_unix_s)?;
    refuse_other_hemisphere(&casting.instrument, casting.latitude())?;
    Ok(Some(casting))
}

/// The operation that is asked for where casting would do as well.
pub(crate) fn work_asked(
    work: &WorkRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<Work, Refusal> {
    Work::of(work, cabinet, now_unix_s).map_err(|refusal| {
        if refusal.field == Field::Operation {
            let message = format!("{}, and cast is casting a figure", refusal.message);
            Refusal { message, ..refusal }
        } else {
            refusal
        }
    })
}

fn of_cast(casting_of: &Casting, drawn: &mut Option<LessonDrawing>) -> Result<Lesson, Refusal> {
    let by = casting_of.by;
    let operation = casting_of.operation_by(&[by]);
    let actual = casting_of.actual();
    let given = casting_of.given(&casting_of.instrument);
    let obliquity = casting_of.moment.sky().obliquity();
    let ideal = Conditions::ideal(given, &casting_of.instrument, obliquity);
    let account = Account::of(&operation, &ideal, &actual);
    let answer = LessonAnswer {
        operation: CAST.to_owned(),
        title: "Casting a figure (chart)".to_owned(),
        source: None,
        in_treatise: false,
        moment: Some(moment_words(&casting_of.moment)),
        place: Some(place_words(casting_of.moment.place())),
        instrument: instrument_words(&casting_of.instrument),
        given: Vec::new(),
        sum: sum(casting_of, &actual),
        steps: steps(&account, &actual),
        readings: cusps(casting_of, &account),
        notes: vec![format!(
            "The cusps are read by {}, and held against {}.",
            by.name().replace('_', " "),
            casting_of.method.name()
        )],
        weak: None,
        cautions: cautions_of(casting_of, false),
    };
    Ok(Lesson {
        pictures: LessonDrawing::kept(drawn, &casting_of.instrument)
            .pictures(account.actual(), &actual),
        answer,
    })
}

fn of_work(
    work: Work,
    request: &WorkRequest,
    drawn: &mut Option<LessonDrawing>,
) -> Result<Lesson, Refusal> {
    let actual = work.actual();
    let account = work.account();
    let instrument = work.instrument().clone();
    let casting = work.casting().clone();
    let given = given(&work);
    let sights = account.actual().steps.iter().any(|step| {
        matches!(
            step.act,
            Act::Observe(Sighting::Altitude | Sighting::NoonAltitude)
        )
    });
    let sun_sighted = sights && !work.task().needs().contains(&TaskInput::Star);
    let found = work.task().finds(&work.operation());
    let answer = work.answer()?;
    let readings = found
        .into_iter()
        .zip(&answer.findings)
        .map(|(quantity, finding)| of_finding(quantity, finding, account.actual()))
        .collect();
    let timed = !request.moment.when.is_empty();
    let sets = account
        .actual()
        .steps
        .iter()
        .any(|step| step.act == Act::Reckon(Reckoning::HourForRule));
    let placed = !request.moment.at.is_empty();
    let lesson = LessonAnswer {
        operation: answer.operation.name.to_owned(),
        title: answer.operation.title.to_owned(),
        source: Some(answer.operation.source),
        in_treatise: answer.operation.in_treatise,
        moment: timed.then(|| moment_words(&casting.moment)),
        place: placed.then(|| place_words(casting.moment.place())),
        instrument: instrument_words(&instrument),
        given,
        sum: if sets {
            sum(&casting, &actual)
        } else {
            Vec::new()
        },
        steps: steps(&account, &actual),
        readings,
        notes: answer.notes,
        weak: Some(answer.operation.weak),
        cautions: cautions_of(&casting, sun_sighted),
    };
    Ok(Lesson {
        pictures: LessonDrawing::kept(drawn, &instrument).pictures(account.actual(), &actual),
        answer: lesson,
    })
}

fn instrument_words(instrument: &Instrument) -> String {
    let specification = instrument.specification();
    format!(
        "with {}, {} mm across",
        Called(&specification.name),
        specification.diameter.mm()
    )
}

/// What is seen and told, in words.
pub(crate) fn given(work: &Work) -> Vec<String> {
    let mut given = Vec::new();
    if let Some(star) = work.star_name() {
        given.push(format!("the star {star}"));
    }
    for (sight, seen) in work.seen() {
        let value = ValueInWords(seen.value);
        let points = match sight.measure() {
            Measure::Points => " points",
            Measure::Degree
            | Measure::TimeOfDay
            | Measure::Arc
            | Measure::Height
            | Measure::Azimuth
            | Measure::UnequalHours
            | Measure::Length => "",
        };
        given.push(format!("{}: {value}{points}", sight.words()));
    }
    for (stated, value) in work.stated() {
        if stated == practice::Stated::EyeHeight && value == Value::Length(0.0) {
            continue;
        }
        let value = match value {
            Value::UnequalHours(hours) => hours.round().to_string(),
            _ => ValueInWords(value).to_string(),
        };
        given.push(format!("{}: {value}", stated.name().replace('-', " ")));
    }
    given
}

fn steps(account: &Account, actual: &Conditions) -> Vec<LessonStepAnswer> {
    let working = account.actual();
    let mut set = None;
    let mut said = Vec::new();
    for (index, done) in working.steps.iter().enumerate() {
        if set.is_none() && done.is_setting_of_the_sun() {
            set = Some(index + 1);
        }
        let mut remarks = Vec::new();
        if done.act == Act::Return {
            let moved = if done.before.rete == done.after.rete {
                None
            } else {
                set
            };
            if let Some(step) = moved {
                remarks.push(format!("The instrument stands as after step {step}."));
            }
        } else if !matches!(done.act, Act::Reckon(_)) && !done.lines.is_empty() {
            remarks.push(format!("Look at: {}.", lines(done)));
        }
        if let Some(Ok((_, reading))) = &done.outcome
            && reading.reads_to.is_some()
            && !matches!(done.act, Act::Reckon(_))
        {
            let to = Fineness(reading.reads_to);
            remarks.push(format!("It reads to {to}."));
        } else if done.sets_to > Angle::ZERO {
            let to = Fineness(Amount::Time(done.sets_to));
            remarks.push(format!("It sets to {to} of time."));
        }
        let side = match done.act {
            Act::Reckon(_) => "paper",
            _ if on_back(done) => "back",
            _ => "front",
        };
        let sentence = words::instruction(working, index, actual).unwrap_or_default();
        said.push(LessonStepAnswer {
            number: index + 1,
            instruction: sentence.text(),
            said: RunAnswer::all(sentence),
            remark: remarks.join(" "),
            side,
        });
    }
    said
}

/// The sum as it is done on paper.
pub(crate) fn sum(casting: &Casting, actual: &Conditions) -> Vec<SumLineAnswer> {
    let mut time = actual.given.clock;
    let said = |time: Angle| format!("{:#}", TimeOfDay(time));
    let mut lines = vec![SumLineAnswer {
        words: "The clock shows".to_owned(),
        reason: String::new(),
        amount: String::new(),
        result: said(time),
    }];
    let steps = casting.moment.steps();
    for (correction, amount) in actual.sum() {
        let words = correction.words();
        let kind = match correction {
            Correction::SummerTime => moment::StepKind::SummerTime,
            Correction::Zone => moment::StepKind::Zone,
            Correction::Longitude => moment::StepKind::Longitude,
            Correction::EquationOfTime => moment::StepKind::EquationOfTime,
        };
        if amount == Angle::ZERO && correction == Correction::SummerTime {
            continue;
        }
        time += amount;
        let (verb, sign) = if amount < Angle::ZERO {
            ("less", '−')
        } else {
            ("plus", '+')
        };
        let reason = steps.iter().find(|step| step.what == kind);
        lines.push(SumLineAnswer {
            words: format!("{verb} {words}"),
            reason: reason.map_or_else(String::new, |step| step.reason.clone()),
            amount: format!("{sign} {}", TimeSpan(amount)),
            result: said(time),
        });
    }
    let kind = if actual.wants_mean_time() {
        "local mean time, for the date ring of equal days: without the equation of time"
    } else {
        "local apparent time: the hour for the rule"
    };
    lines.push(SumLineAnswer {
        words: kind.to_owned(),
        reason: String::new(),
        amount: String::new(),
        result: said(actual.hour_for_rule() + Angle::HALF_TURN),
    });
    lines
}

/// What to beware of.
fn cautions_of(casting: &Casting, sun_sighted: bool) -> Vec<String> {
    let sun = sun_sighted.then(|| caution::SUN.to_owned());
    sun.into_iter().chain(casting.cautions()).collect()
}
