use patience::Patience;
use schemars::JsonSchema;
use serde::Deserialize;

use crate::answer::ExercisesAnswer;
use crate::cabinet::Cabinet;
use crate::class::{Class, Line, Pupil, operation};
use crate::correct_exercise::VERSION;
use crate::exercises::{Common, asker, sheet};
use crate::question_slots::operation_of_level;
use crate::refusal::{Field, Refusal};
use crate::request::WithInstrument;

/// What is asked of someone who tries alone: one question, drawn for one instrument.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct TryRequest {
    /// The instrument; the first of the cabinet unless said.
    pub with: Option<WithInstrument>,
    /// Where the question is asked, or near which.
    pub at: String,
    /// The zone, instead of the place's own.
    pub zone: Option<String>,
    /// The cusp procedure; turning unless said.
    pub by: Option<String>,
    /// The year of the date.
    pub year: i32,
    /// How hard it is: 1 to 3.
    pub level: u8,
    /// From what it is drawn: the same seed gives the same question.
    pub seed: u64,
    /// What is to be worked; something of the level unless said.
    pub operation: Option<String>,
}

/// Draws one question, as exercises that [`correct_exercise`](fn@crate::correct_exercise)
/// corrects by: of one pupil without a name, number 1.
///
/// # Errors
/// When the place, the instrument or the operation cannot be understood, or the instrument
/// can be asked nothing.
pub fn try_one(request: &TryRequest, cabinet: &Cabinet) -> Result<ExercisesAnswer, Refusal> {
    if !(1..=3).contains(&request.level) {
        return Err(Refusal::new(
            Field::Class,
            format!("{} is no level; 1 to 3 would do", request.level),
        ));
    }
    let asked = match &request.operation {
        Some(name) => operation(name).map_err(|why| Refusal::new(Field::Operation, why))?,
        None => operation_of_level(request.level, request.seed).to_owned(),
    };
    let pupil = Pupil {
        name: String::new(),
        with: String::new(),
        place: None,
        level: None,
        line: Line::default(),
    };
    let class = Class {
        name: String::new(),
        place: request.at.clone(),
        zone: request.zone.clone(),
        year: request.year,
        seed: request.seed,
        questions: 1,
        level: request.level,
        operations: vec![asked],
        by: request.by.clone(),
        same_questions: false,
        pupils: Vec::new(),
    };
    let with = match &request.with {
        Some(with) => with.clone(),
        None => WithInstrument::Named(
            cabinet
                .find(None, sky::Latitude::ZERO)?
                .specification()
                .name
                .clone(),
        ),
    };
    let asker = asker(&class, &pupil, &with, cabinet)?;
    Ok(ExercisesAnswer {
        version: VERSION,
        class: class.name.clone(),
        year: class.year,
        seed: class.seed,
        pupils: vec![sheet(
            &class,
            &pupil,
            &asker,
            &Common::default(),
            Patience::ENDLESS,
        )?],
    })
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;
    use crate::{CorrectExerciseRequest, correct_exercise};

    fn request(seed: u64, operation: Option<&str>) -> TryRequest {
        TryRequest {
            with: Some(WithInstrument::Named("class instrument".to_owned())),
            at: "Santiago de Compostela, Galicia, Spain".to_owned(),
            year: 2026,
            level: 1,
            seed,
            operation: operation.map(str::to_owned),
            ..TryRequest::default()
        }
    }

    #[test]
    fn one_question_is_drawn_again_by_its_seed_and_corrected() {
        let cabinet = Cabinet::built_in();
        for seed in 0..8 {
            let drawn = try_one(&request(seed, None), &cabinet).unwrap();
            assert_eq!(drawn, try_one(&request(seed, None), &cabinet).unwrap());
            let question = &drawn.pupils[0].questions[0];
            let read: BTreeMap<String, String> = question
                .asks
                .iter()
                .map(|asked| (asked.name.clone(), asked.reads.clone()))
                .collect();
            let answers = CorrectExerciseRequest {
                pupil: String::new(),
                question: 1,
                read,
            };
            let answer = correct_exercise(&drawn, &answers, &cabinet).unwrap();
            assert_eq!(
                answer.judged.verdict, "right",
                "{}: {}",
                question.title, answer.judged.sentence
            );
        }
    }

    #[test]
    fn what_went_wrong_can_be_asked_for_again() {
        let cabinet = Cabinet::built_in();
        let drawn = try_one(&request(3, Some("hour-by-sun")), &cabinet).unwrap();
        let question = &drawn.pupils[0].questions[0];
        assert_eq!(question.request.operation, "hour-by-sun");
        let another = try_one(&request(4, Some("hour-by-sun")), &cabinet).unwrap();
        assert_ne!(another.pupils[0].questions[0].text, question.text);
        for (level, operation) in [(0, None), (4, None), (1, Some("juggling"))] {
            let asked = TryRequest {
                level,
                ..request(1, operation)
            };
            assert!(try_one(&asked, &cabinet).is_err());
        }
    }
}
