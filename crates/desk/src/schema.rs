use schemars::{Schema, schema_for};

use crate::answer::{
    CastAnswer, CorrectAnswer, ExercisesAnswer, FinishedAnswer, InstrumentAnswer, LessonAnswer,
    OperationAnswer, PlanetsAnswer, TurnAnswer, WorkAnswer,
};
use crate::compare::CompareAnswer;
use crate::during::DuringAnswer;
use crate::film::FilmAnswer;
use crate::finish::RuleChoices;
use crate::front::{BackAnswer, FrontAnswer};
use crate::moments::MomentsAnswer;
use crate::plates::PlatesAnswer;
use crate::refusal::Refusal;
use crate::revolution::RevolutionAnswer;
use crate::suggest::SuggestionAnswer;

/// The JSON Schema of every answer, under the name of what is asked: `cast`, `work`
/// and so on; `operations`, `instruments` and `suggest` are lists, and `refusal` is
/// what there is instead of an answer.
#[must_use]
pub fn schemas() -> Vec<(&'static str, Schema)> {
    vec![
        ("back", schema_for!(BackAnswer)),
        ("cast", schema_for!(CastAnswer)),
        ("compare", schema_for!(CompareAnswer)),
        ("correct", schema_for!(CorrectAnswer)),
        ("during", schema_for!(DuringAnswer)),
        ("exercises", schema_for!(ExercisesAnswer)),
        ("figure", schema_for!(FinishedAnswer)),
        ("figure_rules", schema_for!(Vec<RuleChoices>)),
        ("film", schema_for!(FilmAnswer)),
        ("front", schema_for!(FrontAnswer)),
        ("instruments", schema_for!(Vec<InstrumentAnswer>)),
        ("lesson", schema_for!(LessonAnswer)),
        ("moments", schema_for!(MomentsAnswer)),
        ("operations", schema_for!(Vec<OperationAnswer>)),
        ("planets", schema_for!(PlanetsAnswer)),
        ("plates", schema_for!(PlatesAnswer)),
        ("refusal", schema_for!(Refusal)),
        ("revolution", schema_for!(RevolutionAnswer)),
        ("suggest", schema_for!(Vec<SuggestionAnswer>)),
        ("turn", schema_for!(TurnAnswer)),
        ("work", schema_for!(WorkAnswer)),
    ]
}
