use schemars::generate::SchemaSettings;
use schemars::{JsonSchema, Schema};

use crate::answer::{
    CastAnswer, CorrectAnswer, ExaminedAnswer, ExercisesAnswer, FinishedAnswer, InstrumentAnswer,
    LessonAnswer, OperationAnswer, PlanetsAnswer, TurnAnswer, WorkAnswer,
};
use crate::cabinet::CabinetAnswer;
use crate::choose::{ChooseAnswer, WishForm};
use crate::compare::CompareAnswer;
use crate::during::DuringAnswer;
use crate::face::FaceAnswer;
use crate::figure_case::RuleChoices;
use crate::film::FilmAnswer;
use crate::front::{BackAnswer, FrontAnswer};
use crate::moments::MomentsAnswer;
use crate::own_brass::BrassAnswer;
use crate::parts::PartsAnswer;
use crate::plates::PlatesAnswer;
use crate::proofread::ProofreadAnswer;
use crate::propose::ProposeAnswer;
use crate::reckon::ReckonAnswer;
use crate::refusal::Refusal;
use crate::revolution::RevolutionAnswer;
use crate::setting::SettingAnswer;
use crate::specification_form::SpecificationAnswer;
use crate::suggest::SuggestionAnswer;
use crate::tables::{TableAnswer, TableKindAnswer};
use crate::year::YearAnswer;

/// The JSON Schema of every answer, under the name of what is asked: `cast`, `work`
/// and so on; `operations`, `instruments` and `suggest` are lists, and `refusal` is
/// what there is instead of an answer.
#[must_use]
pub fn schemas() -> Vec<(&'static str, Schema)> {
    vec![
        ("back", of::<BackAnswer>()),
        ("brass", of::<BrassAnswer>()),
        ("cabinet", of::<CabinetAnswer>()),
        ("cast", of::<CastAnswer>()),
        ("choose", of::<ChooseAnswer>()),
        ("choose_forms", of::<Vec<WishForm>>()),
        ("compare", of::<CompareAnswer>()),
        ("correct", of::<CorrectAnswer>()),
        ("during", of::<DuringAnswer>()),
        ("examine", of::<ExaminedAnswer>()),
        ("exercises", of::<ExercisesAnswer>()),
        ("face", of::<FaceAnswer>()),
        ("figure", of::<FinishedAnswer>()),
        ("figure_rules", of::<Vec<RuleChoices>>()),
        ("film", of::<FilmAnswer>()),
        ("front", of::<FrontAnswer>()),
        ("instruments", of::<Vec<InstrumentAnswer>>()),
        ("lesson", of::<LessonAnswer>()),
        ("moments", of::<MomentsAnswer>()),
        ("operations", of::<Vec<OperationAnswer>>()),
        ("parts", of::<PartsAnswer>()),
        ("planets", of::<PlanetsAnswer>()),
        ("plates", of::<PlatesAnswer>()),
        ("proofread", of::<ProofreadAnswer>()),
        ("propose", of::<ProposeAnswer>()),
        ("reckon", of::<ReckonAnswer>()),
        ("refusal", of::<Refusal>()),
        ("revolution", of::<RevolutionAnswer>()),
        ("setting", of::<SettingAnswer>()),
        ("specification", of::<SpecificationAnswer>()),
        ("suggest", of::<Vec<SuggestionAnswer>>()),
        ("table", of::<TableAnswer>()),
        ("tables", of::<Vec<TableKindAnswer>>()),
        ("turn", of::<TurnAnswer>()),
        ("work", of::<WorkAnswer>()),
        ("year", of::<YearAnswer>()),
    ]
}

/// The schema of what is written: a key that is always there is required, be it null.
fn of<T: JsonSchema>() -> Schema {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    settings.into_generator().into_root_schema_for::<T>()
}
