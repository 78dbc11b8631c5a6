use figure::Method;
use instrument::{House, Instrument};
use practice::words::{Fineness, Length, OnEarth, Said, TimeOfDay};
use practice::{
    Account, Act, Asked, Conditions, Correction, Measure, Need, Procedure, Quantity, Reckoning,
    Sight, Why, casting,
};
use schemars::JsonSchema;
use serde::Deserialize;
use sky::Angle;

use crate::answer::{
    LessonAnswer, LessonReadingAnswer, LessonShareAnswer, LessonStepAnswer, SumLineAnswer, on_back,
};
use crate::cabinet::{Cabinet, serves};
use crate::casting::Casting;
use crate::lesson_picture::{LessonPicture, pictures};
use crate::refusal::{Field, Refusal};
use crate::request_work::WorkRequest;
use crate::spoken::{moment_words, place_words, signed};
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
    if request.work.operation.trim().eq_ignore_ascii_case(CAST) {
        let work = &request.work;
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
        return of_cast(&casting);
    }
    let work = Work::of(&request.work, cabinet, now_unix_s).map_err(|refusal| {
        if refusal.field == Field::Operation {
            let message = format!("{}, and cast is casting a figure", refusal.message);
            Refusal { message, ..refusal }
        } else {
            refusal
        }
    })?;
    of_work(work, &request.work)
}

/// The request to cast in its own hemisphere, or a refusal.
pub(crate) fn refuse_other_hemisphere(casting: &Casting) -> Result<(), Refusal> {
    if serves(&casting.instrument, casting.latitude()) {
        return Ok(());
    }
    let specification = casting.instrument.specification();
    Err(Refusal::new(
        Field::With,
        format!(
            "{} is made for the {}ern hemisphere and does not serve a place at {}; an instrument of the other hemisphere would do",
            specification.name,
            specification.hemisphere.name(),
            OnEarth(casting.latitude())
        ),
    ))
}

fn of_cast(casting_of: &Casting) -> Result<Lesson, Refusal> {
    refuse_other_hemisphere(casting_of)?;
    let by = casting_of.by;
    let operation = casting(&casting_of.instrument, &[by]);
    let actual = casting_of.actual();
    let given = casting_of.given(&casting_of.instrument);
    let obliquity = casting_of.moment.sky.obliquity();
    let ideal = Conditions::ideal(given, &casting_of.instrument, obliquity);
    let account = Account::of(&operation, &ideal, &actual);
    let mut cautions = cautions_of(casting_of, false);
    cautions.push("A chart is no medical, legal or financial advice.".to_owned());
    let answer = LessonAnswer {
        operation: CAST.to_owned(),
        title: "Casting a figure (chart)".to_owned(),
        source: None,
        moment: Some(moment_words(&casting_of.moment)),
        place: Some(place_words(&casting_of.moment.place)),
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
        cautions,
    };
    Ok(Lesson {
        pictures: pictures(&casting_of.instrument, account.actual(), &actual),
        answer,
    })
}

fn of_work(work: Work, request: &WorkRequest) -> Result<Lesson, Refusal> {
    let actual = work.actual();
    let account = work.account();
    let instrument = work.instrument().clone();
    let casting = work.casting().clone();
    let given = given(&work);
    let sights = account.actual().steps.iter().any(|step| {
        matches!(
            step.act,
            Act::Observe(Sight::Altitude | Sight::NoonAltitude)
        )
    });
    let sun_sighted = sights && !work.task().needs().contains(&Need::Star);
    let answer = work.answer()?;
    let readings = answer
        .findings
        .iter()
        .map(|finding| LessonReadingAnswer {
            what: finding.what.clone(),
            read: finding.text.clone(),
            line: line_of(&account, &finding.name),
            reads_to: finding.reads_to_text.clone(),
            exact: finding.exact_text.clone(),
            differs: None,
            shares: Vec::new(),
            sentence: finding.sentence.clone(),
            reason: finding.reason.clone(),
        })
        .collect::<Vec<_>>();
    let readings = readings
        .into_iter()
        .zip(&answer.findings)
        .map(|(reading, finding)| {
            let measure = measure_named(finding.measure);
            let said = |deg: f64| signed(measure, Angle::from_deg(deg));
            LessonReadingAnswer {
                differs: finding.difference_deg.map(said),
                shares: finding
                    .shares
                    .iter()
                    .filter(|share| is_seen(measure, share.deg))
                    .map(|share| LessonShareAnswer {
                        words: share.words.to_owned(),
                        amount: said(share.deg),
                    })
                    .collect(),
                ..reading
            }
        })
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
        moment: timed.then(|| moment_words(&casting.moment)),
        place: placed.then(|| place_words(&casting.moment.place)),
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
        pictures: pictures(&instrument, account.actual(), &actual),
        answer: lesson,
    })
}

fn instrument_words(instrument: &Instrument) -> String {
    let specification = instrument.specification();
    format!(
        "with the {}, {} mm across",
        specification.name,
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
        let value = Said(sight.measure(), seen.value);
        let points = if sight.measure() == Measure::Number {
            " points"
        } else {
            ""
        };
        given.push(format!("{}: {value}{points}", sight.words()));
    }
    for (told, value) in work.told() {
        if told == practice::Told::EyeHeight && value == Angle::ZERO {
            continue;
        }
        let value = match told {
            practice::Told::UnequalHours => format!("{}", value.hours().round()),
            _ => Said(told.measure(), value).to_string(),
        };
        given.push(format!("{}: {value}", told.name().replace('-', " ")));
    }
    given
}

/// The lines on which a quantity is read.
fn line_of(account: &Account, name: &str) -> String {
    let steps = &account.actual().steps;
    let found = steps
        .iter()
        .find(|step| step.act.finds().is_some_and(|found| found.name() == name));
    found.map_or_else(String::new, |step| match step.act {
        Act::Reckon(_) => "reckoned".to_owned(),
        _ => lines(step),
    })
}

/// The lines of a step that are looked at, in words.
pub(crate) fn lines(step: &practice::Done) -> String {
    let mut names: Vec<String> = step.lines.iter().map(ToString::to_string).collect();
    names.dedup();
    names.join(", ")
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
        if let Some(Ok((quantity, reading))) = &done.outcome
            && reading.reads_to > Angle::ZERO
            && !matches!(done.act, Act::Reckon(_))
        {
            let to = Fineness(quantity.measure(), reading.reads_to);
            remarks.push(format!("It reads to {to}."));
        } else if done.sets_to > Angle::ZERO {
            let to = Fineness(Measure::Arc, done.sets_to);
            remarks.push(format!("It sets to {to} of time."));
        }
        let side = match done.act {
            Act::Reckon(_) => "paper",
            _ if on_back(done) => "back",
            _ => "front",
        };
        said.push(LessonStepAnswer {
            number: index + 1,
            instruction: working.instruction(index, actual).unwrap_or_default(),
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
    let steps = &casting.moment.steps;
    for (correction, amount) in actual.sum() {
        let (words, kind) = match correction {
            Correction::SummerTime => ("summer time", moment::StepKind::SummerTime),
            Correction::Zone => ("the zone", moment::StepKind::Zone),
            Correction::Longitude => ("the longitude", moment::StepKind::Longitude),
            Correction::EquationOfTime => {
                ("the equation of time", moment::StepKind::EquationOfTime)
            }
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
            amount: format!("{sign} {}", Length(amount)),
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

/// The twelve cusps with the angles among them.
fn cusps(casting: &Casting, account: &Account) -> Vec<LessonReadingAnswer> {
    let by = casting.by;
    let horizon = casting.horizon();
    let exact = casting.method.cusps(&horizon);
    let mut readings = Vec::new();
    for (index, house) in House::ALL.into_iter().enumerate() {
        let exact = match house.number() {
            1 => horizon.ascendant().map_err(|why| why.to_string()),
            10 => Ok(horizon.midheaven()),
            _ => exact
                .as_ref()
                .map(|cusps| cusps.all().get(index).copied().unwrap_or_default())
                .map_err(ToString::to_string),
        };
        readings.push(cusp(account, by, casting.method, house, exact));
    }
    readings
}

fn cusp(
    account: &Account,
    by: Procedure,
    method: Method,
    house: House,
    exact: Result<Angle, String>,
) -> LessonReadingAnswer {
    let from = by.cusp_from(house);
    let quantity = by.quantity(house);
    let name = match house.number() {
        1 => "ascendant".to_owned(),
        10 => "midheaven".to_owned(),
        _ => house.to_string(),
    };
    let reading = account.actual().reading(quantity);
    let turned = if from.opposite {
        Angle::HALF_TURN
    } else {
        Angle::ZERO
    };
    let measure = Measure::Degree;
    let said = |value: Angle| Said(measure, value).to_string();
    let why: Option<Why> = exact.as_ref().ok().and_then(|exact| {
        let asked = Asked {
            quantity,
            opposite: from.opposite,
            exact: *exact,
            own: None,
        };
        account.why(asked).ok()
    });
    let line = if from.opposite {
        format!("{}, opposite", from.line)
    } else {
        from.line.to_string()
    };
    let shares = why.iter().flat_map(|why| &why.shares);
    LessonReadingAnswer {
        read: reading.as_ref().ok().map(|one| said(one.value + turned)),
        line,
        reads_to: reading
            .as_ref()
            .ok()
            .filter(|one| one.reads_to > Angle::ZERO)
            .map(|one| Fineness(measure, one.reads_to).to_string()),
        exact: exact.as_ref().ok().map(|exact| said(*exact)),
        differs: why.as_ref().map(|why| signed(measure, why.difference())),
        shares: shares
            .filter(|share| is_seen(measure, share.amount.deg()))
            .map(|share| LessonShareAnswer {
                words: share.cause.words().to_owned(),
                amount: signed(measure, share.amount),
            })
            .collect(),
        sentence: why.map(|why| {
            let name = match house.number() {
                1 => "The ascendant".to_owned(),
                10 => "The midheaven".to_owned(),
                _ => format!("Cusp {house}"),
            };
            why.sentence(&name, Quantity::Ascendant)
        }),
        reason: match (reading, exact) {
            (Err(why), _) => Some(why.to_string()),
            (_, Err(why)) => Some(format!("{}: {why}", method.name())),
            _ => None,
        },
        what: name,
    }
}

/// Shares below half of what is said are left out.
fn is_seen(measure: Measure, deg: f64) -> bool {
    let least = match measure {
        Measure::Number => 0.005,
        // Hundredths of an hour of 15°.
        Measure::UnequalHours => 0.075,
        Measure::TimeOfDay | Measure::Arc => 0.5 / 240.0,
        _ => 0.5 / 60.0,
    };
    deg.abs() >= least
}

/// The measure of a name.
pub(crate) fn measure_named(name: &str) -> Measure {
    let all = [
        Measure::Degree,
        Measure::TimeOfDay,
        Measure::Arc,
        Measure::Height,
        Measure::Azimuth,
        Measure::UnequalHours,
        Measure::Number,
    ];
    let found = all.into_iter().find(|measure| measure.name() == name);
    found.unwrap_or(Measure::Number)
}

/// What to beware of.
fn cautions_of(casting: &Casting, sun_sighted: bool) -> Vec<String> {
    let mut cautions = Vec::new();
    if sun_sighted {
        cautions.push(
            "Never sight the Sun directly: let its light fall through the pinnules of the alidade."
                .to_owned(),
        );
    }
    if casting.latitude().deg().abs() > 66.0 {
        cautions.push(
            "Near the poles the ascendant moves fast and some house methods have no answer."
                .to_owned(),
        );
    }
    let uncertainty = casting.moment.delta_t.uncertainty_s;
    if uncertainty >= 10.0 {
        cautions.push(format!(
            "So far from our time the turning of the Earth is known to about {uncertainty:.0} s only."
        ));
    }
    cautions
}
