use drawing::Scene;
use patience::Patience;
use schemars::JsonSchema;
use serde::Deserialize;
use words::Called;

use crate::answer::{ExercisesAnswer, PupilAnswer, QuestionAnswer};
use crate::cabinet::{Cabinet, refuse_other_hemisphere};
use crate::correct_exercise::VERSION;
use crate::course_years::COURSE_YEARS;
use crate::dice::Dice;
use crate::exercises::question;
use crate::lesson::{CAST, Lesson, LessonRequest, one_of_several};
use crate::parts::named_parts;
use crate::question_drawing::Asker;
use crate::question_slots::slots;
use crate::refusal::{Field, Refusal};
use crate::request::WithInstrument;

/// What is asked when a course of lessons is to be made for an instrument.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct CourseRequest {
    /// Where one learns.
    pub at: String,
    /// The zone, instead of the place's own.
    pub zone: Option<String>,
    /// The instrument; the first of the cabinet for the place's hemisphere unless said.
    pub with: Option<WithInstrument>,
    /// The year of the examples, one of [`COURSE_YEARS`].
    pub year: i32,
    /// From what they are drawn.
    pub seed: u64,
    /// The cusp procedure; turning unless said.
    pub by: Option<String>,
}

/// A course: lessons in the order in which they are best learned.
#[derive(Clone, Debug)]
pub struct Course {
    /// The front and the back of the instrument with their parts named, for lesson nought.
    pub named_parts: [Scene; 2],
    /// The lessons.
    pub lessons: Vec<CourseLesson>,
    /// The exercises of all of them with their keys, as those of a class of one.
    pub exercises: ExercisesAnswer,
}

/// A lesson of a course.
#[derive(Clone, Debug)]
pub struct CourseLesson {
    /// What it teaches.
    pub title: String,
    /// Why it stands where it stands.
    pub why: &'static str,
    /// The worked example.
    pub example: Lesson,
    /// The exercises, numbered through the course.
    pub questions: Vec<QuestionAnswer>,
}

/// The name of the one pupil, under which answers are corrected.
const PUPIL: &str = "course";

/// What a lesson is about, its level, and why it stands where it stands.
type Listed = (&'static str, u8, &'static str);

/// The order: what a working begins with comes before it, and every lesson adds one
/// scale or one movement to those before (common practice in teaching).
const LESSONS: [Listed; 14] = [
    (
        "sun-degree",
        1,
        "Nearly everything begins with the Sun's degree: the back, before the front is touched.",
    ),
    (
        "meridian-altitude",
        1,
        "The first turn of the rete: one degree onto one line, and a height read among the almucantars.",
    ),
    (
        "day-and-night",
        1,
        "The horizon on both sides, and the rule that reads the limb.",
    ),
    (
        "hour-by-sun",
        1,
        "What the instrument was made for: an altitude gives the hour, and with it the ascendant.",
    ),
    (
        CAST,
        1,
        "The other way round: from the clock to the rule, by the sum on paper, and from there to the angles.",
    ),
    (
        "unequal-hours",
        1,
        "A day's arc in twelve: no new movement, but the hours the lines are named for.",
    ),
    (
        "planetary-hour",
        2,
        "The unequal-hour lines, counted from the west.",
    ),
    (
        CAST,
        2,
        "The same lines used for turning: the cusps, with the classic slip to be avoided.",
    ),
    (
        "houses-by-limb",
        2,
        "The same houses without the hour lines, to hold one against the other.",
    ),
    (
        "hour-by-star",
        2,
        "By night: a pointer in the Sun's place, the Sun's degree still under the rule.",
    ),
    (
        "star-up",
        2,
        "Rising, culmination and setting of one pointer, with the almuri to count by.",
    ),
    (
        "sunrise-azimuth",
        2,
        "The azimuths: directions on the ground.",
    ),
    (
        "oblique-ascension",
        2,
        "How long an arc of the zodiac takes to rise: why some ascendants run.",
    ),
    (
        CAST,
        3,
        "A figure where the ascendant moves fast, with the upper cusps as opposites.",
    ),
];

/// The first lesson of the order that has not been asked yet, with why it stands there;
/// none once all have been.
pub(crate) fn next_lesson(asked: &[(&str, u8)]) -> Option<(String, &'static str)> {
    let mut lessons = LESSONS.into_iter();
    let (operation, level, why) = lessons.find(|(operation, level, _)| {
        let mut asked = asked.iter();
        // Casting is another lesson at each level.
        !asked.any(|(one, at)| one == operation && (*operation != CAST || at >= level))
    })?;
    let title = match operation.parse::<practice::Task>() {
        Ok(task) => task.title().to_owned(),
        Err(_) => casting_title(level).to_owned(),
    };
    Some((title, why))
}

/// Makes a course for an instrument: for each lesson a worked example and two exercises.
/// What the instrument has no lines or scale for is left out.
///
/// # Errors
/// When place or instrument cannot be understood, do not belong together, or nobody waits
/// any longer.
pub fn course(
    request: &CourseRequest,
    cabinet: &Cabinet,
    patience: Patience<'_>,
) -> Result<Course, Refusal> {
    let place = crate::moment::understood_place(&request.at)?;
    let instrument = cabinet.find(request.with.as_ref(), place.latitude)?;
    let name = instrument.specification().name.clone();
    refuse_other_hemisphere(&instrument, place.latitude)?;
    if !COURSE_YEARS.contains(&request.year) {
        return Err(Refusal::new(
            Field::When,
            format!(
                "the year {} is out of range; {} to {} would do",
                request.year,
                COURSE_YEARS.start(),
                COURSE_YEARS.end()
            ),
        ));
    }
    let with = request
        .with
        .clone()
        .unwrap_or_else(|| WithInstrument::Named(name.clone()));
    let diameter_mm = instrument.specification().diameter.mm();
    let named_parts = named_parts(&instrument, instrument.nearest_plate(place.latitude));
    let mut asker = Asker {
        cabinet,
        with,
        instrument,
        place: request.at.clone(),
        zone: request.zone.clone(),
        by: request.by.clone(),
        year: request.year,
        level: 1,
    };
    let lessons = taught(&mut asker, request.seed, &LESSONS, patience)?;
    let questions = lessons.iter().flat_map(|one| one.questions.clone());
    Ok(Course {
        named_parts,
        exercises: ExercisesAnswer {
            version: VERSION,
            class: format!("A course with {}", Called(&name)),
            year: request.year,
            seed: request.seed,
            pupils: vec![PupilAnswer {
                name: PUPIL.to_owned(),
                instrument: name,
                diameter_mm,
                level: 1,
                notes: Vec::new(),
                questions: questions.collect(),
            }],
        },
        lessons,
    })
}

/// Those of some lessons that an instrument answers, their questions numbered through.
fn taught(
    asker: &mut Asker<'_>,
    seed: u64,
    listed: &[Listed],
    patience: Patience<'_>,
) -> Result<Vec<CourseLesson>, Refusal> {
    let mut lessons = Vec::new();
    let mut drawn_for_lessons = None;
    let mut number = 0;
    for (index, &(operation, level, why)) in listed.iter().enumerate() {
        patience.at(index, listed.len())?;
        asker.level = level;
        let mut dice = Dice::named(seed, &format!("{index} {operation}"));
        let mut drawn = Vec::new();
        for slot in slots(&[operation.to_owned()], level, 3, &mut dice) {
            drawn.push(asker.draw(&slot, &mut dice)?);
        }
        // A figure cast instead of what the instrument does not answer teaches nothing new.
        if drawn.iter().any(|one| one.request.operation != operation) {
            continue;
        }
        let mut drawn = drawn.into_iter();
        let Some(first) = drawn.next() else {
            continue;
        };
        let mut work = first.request;
        work.moment.with = Some(asker.with.clone());
        let request = LessonRequest { work };
        let example = one_of_several(&request, asker.cabinet, None, &mut drawn_for_lessons)?;
        let questions: Vec<QuestionAnswer> = drawn
            .map(|drawn| {
                number += 1;
                question(number, drawn, false, asker)
            })
            .collect();
        lessons.push(CourseLesson {
            title: title(operation, level, &example),
            why,
            example,
            questions,
        });
    }
    Ok(lessons)
}

fn title(operation: &str, level: u8, example: &Lesson) -> String {
    match operation {
        CAST => casting_title(level).to_owned(),
        _ => example.answer.title.clone(),
    }
}

fn casting_title(level: u8) -> &'static str {
    match level {
        1 => "Casting a figure: the angles",
        2 => "Casting a figure: the cusps",
        _ => "Casting a figure where it is awkward",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asker<'a>(with: &str, cabinet: &'a Cabinet) -> Asker<'a> {
        let with = WithInstrument::Named(with.to_owned());
        Asker {
            cabinet,
            instrument: cabinet.find(Some(&with), sky::Latitude::ZERO).unwrap(),
            with,
            place: "42.8806,-8.5449".to_owned(),
            zone: Some("Europe/Madrid".to_owned()),
            by: None,
            year: 2026,
            level: 1,
        }
    }

    /// Each lesson has an example and two questions, numbered through the course, and what is
    /// drawn for it is drawn at its own level: cusps are asked from the second on.
    #[test]
    fn questions_are_numbered_through_and_of_the_lessons_own_level() {
        let cabinet = Cabinet::built_in();
        let listed = [("sun-degree", 1, "first"), (CAST, 2, "then")];
        let mut asker = asker("class instrument", &cabinet);
        let lessons = taught(&mut asker, 1, &listed, Patience::ENDLESS).unwrap();
        let all = lessons.iter().flat_map(|one| &one.questions);
        let numbers: Vec<usize> = all.map(|one| one.number).collect();
        assert_eq!(numbers, [1, 2, 3, 4]);
        assert_eq!([lessons[0].why, lessons[1].why], ["first", "then"]);
        for question in &lessons[1].questions {
            let asks = question.asks.iter();
            let cusps = asks.filter(|one| ["II", "III"].contains(&one.name.as_str()));
            assert_eq!(cusps.count(), 2, "{question:?}");
        }
    }

    /// Who does not wait any longer is not kept waiting for the lessons that are left.
    #[test]
    fn no_lesson_is_begun_that_nobody_waits_for() {
        let cabinet = Cabinet::built_in();
        let listed = [("sun-degree", 1, "first"), ("sun-degree", 1, "second")];
        let mut asker = asker("class instrument", &cabinet);
        for (share, waits) in [(0.0, false), (0.4, false), (0.6, true)] {
            let waiting = |done: f64| done <= share && share > 0.0;
            let lessons = taught(&mut asker, 1, &listed, Patience::of(&waiting));
            assert_eq!(lessons.is_ok(), waits, "{share}");
        }
    }

    /// A ring has no scale on which the Sun's degree is read.
    #[test]
    fn a_lesson_that_an_instrument_does_not_answer_is_left_out() {
        let cabinet = Cabinet::built_in();
        let listed = [("sun-degree", 1, "no"), ("day-and-night", 1, "yes")];
        let mut asker = asker("date-ring instrument", &cabinet);
        let lessons = taught(&mut asker, 1, &listed, Patience::ENDLESS).unwrap();
        let why: Vec<&str> = lessons.iter().map(|one| one.why).collect();
        assert_eq!(why, ["yes"]);
    }
}
