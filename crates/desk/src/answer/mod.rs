//! The answers, as the JSON that the command line prints and the page reads. The
//! keys are part of the program's interface: more may be added, none renamed.

mod correct;
mod dated;
mod estimate;
mod examined;
mod exercise;
mod figure;
mod finished;
mod held;
mod instrument;
mod leaf;
mod lesson;
mod moment;
mod numbers;
mod pictured;
mod pictured_lines;
mod planets;
mod point;
mod reading;
mod said;
mod set;
mod sky;
mod turn;
mod verdict;
mod why;
mod work;
mod working;

use schemars::JsonSchema;
use serde::Serialize;

pub use correct::{
    CorrectAnswer, CorrectReading, ExplanationAnswer, JudgedAnswer, PlateFitAnswer, SlipAnswer,
};
pub use dated::{CalendarAnswer, ClockTimeAnswer, DateAnswer, DayOfYearAnswer};
pub use estimate::EstimateAnswer;
pub use examined::{
    AgainstAnswer, DeviationAnswer, ExaminedAnswer, ExaminedCalendar, ExaminedCircles,
    ExaminedLimb, ExaminedPlate, ExaminedStar, ExaminedStars, PlateErrorAnswer,
};
pub use exercise::{AskedAnswer, ExercisesAnswer, PupilAnswer, QuestionAnswer, TellTaleAnswer};
pub use figure::{FigureAnswer, MethodAnswer};
pub use finished::{
    AspectAnswer, CloseAnswer, DignitiesAnswer, FinishedAnswer, FinishedFigure, LotAnswer,
    LunationAnswer, PlacedAnswer, PlanetaryHourAnswer, PointAnswer, RuleAnswer, StarNearAnswer,
};
pub(crate) use finished::{by_clock, changed_points, changes, said, the};
pub use held::{HeldAnswer, HeldMarkAnswer, HeldVerdict};
pub use instrument::{FaultsAnswer, InstrumentAnswer};
pub use leaf::{CellAnswer, LeafAnswer};
pub use lesson::{
    LessonAnswer, LessonReadingAnswer, LessonShareAnswer, LessonStepAnswer, SumLineAnswer,
};
pub use moment::{CandidateAnswer, MomentAnswer, NoteAnswer, PlaceAnswer, StepAnswer, WhenAnswer};
pub(crate) use numbers::{amount_deg, amount_of_deg, in_range, value_deg};
pub use pictured::{
    BackPicturedAnswer, CornerAnswer, MarkAnswer, PicturedAnswer, TellingAnswer, WantedAnswer,
};
pub use pictured_lines::DrawnAnswer;
pub use planets::{
    EventAnswer, NodesAnswer, PlaceOnHorizonAnswer, PlanetAnswer, PlanetsAnswer, StationAnswer,
};
pub use point::DrawnPoint;
pub use reading::{CuspAnswer, IdealAnswer, ReadingAnswer, ReadsToAnswer};
pub(crate) use said::on_back;
pub use said::{NumeralAnswer, RunAnswer, WordAnswer};
pub use set::SetAnswer;
pub(crate) use set::time_for_rule;
pub use sky::{BodyAnswer, SkyAnswer};
pub use turn::{HourAnswer, MeansAnswer, PointerAnswer, StarAnswer, TurnAnswer};
pub use verdict::{
    CorrectionAnswer, CorrectionLine, HangsAnswer, TrustAnswer, VerdictAnswer, WayAnswer,
    WorstCuspAnswer,
};
pub use why::{ShareAnswer, WhyAnswer, WhyCuspAnswer, WhyOne};
pub use work::{AskAnswer, FindingAnswer, OperationAnswer, SeenAnswer, WorkAnswer};
pub use working::{ReadAnswer, StateAnswer, WorkingAnswer, WorkingStepAnswer};
pub(crate) use working::{look_at, reads_to_text};

/// The answer to a request to cast a figure.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct CastAnswer {
    /// The moment, from the clock to the sidereal time.
    pub moment: MomentAnswer,
    /// The clocks by which it may have been told, where their history is doubtful: first that
    /// of the zone's record; empty where there is no doubt.
    pub candidates: Vec<CandidateAnswer>,
    /// The place.
    pub place: PlaceAnswer,
    /// What stands in the sky.
    pub sky: SkyAnswer,
    /// The exact figure.
    pub figure: FigureAnswer,
    /// The instrument.
    pub instrument: InstrumentAnswer,
    /// How it is set; null for an instrument of the other hemisphere.
    pub set: Option<SetAnswer>,
    /// How far it may be trusted here and now; null for an instrument of the other hemisphere.
    pub verdict: Option<VerdictAnswer>,
    /// The cusp procedure that is followed.
    pub by: &'static str,
    /// What is done with it; null for an instrument of the other hemisphere.
    pub working: Option<WorkingAnswer>,
    /// What a perfect instrument would show.
    pub ideal: IdealAnswer,
    /// What is read on this one; null for an instrument of the other hemisphere.
    pub reading: Option<ReadingAnswer>,
    /// Why reading and calculation differ; null for an instrument of the other hemisphere.
    pub why: Option<WhyAnswer>,
    /// What the person read, held against what this instrument shows, with the slips that
    /// would explain it; null where nothing of one's own was read.
    pub own: Option<JudgedAnswer>,
    /// Why there is no working, reading or account, where there is none.
    pub reason: Option<String>,
    /// What to know of this moment and place before the figure is relied on, in sentences.
    pub cautions: Vec<String>,
}
