//! One door: a pure function from a request to an answer. The command line and the
//! page ask here and hold no astronomy of their own.
//!
//! There is no I/O, no clock and no thread in it: the time now and the texts of
//! specifications come in with the request.

mod answer;
mod batch;
mod birth_rules;
mod cabinet;
mod candidates;
mod cast;
mod casting;
mod choose;
mod choose_wish;
mod chosen;
mod class;
mod class_report;
mod clocks;
mod compare;
mod correct;
mod correct_exercise;
mod correction;
mod course;
mod course_years;
mod dice;
mod draw;
mod draw_choice;
mod draw_comparison;
mod draw_figure;
mod during;
mod ephemeris;
mod estimates;
mod examine;
mod examine_asked;
mod examine_back_picture;
mod examine_picture;
mod exercises;
mod face;
mod figure_answer;
mod figure_case;
mod figure_form;
mod figure_sheet;
mod film;
mod film_picture;
mod film_shot;
mod finding;
mod front;
mod given_reading;
mod judging;
mod known_slip;
mod leaves;
mod lesson;
mod lesson_picture;
mod lesson_readings;
mod making;
mod marked_sheet;
mod mater;
mod methods;
mod moment;
mod moment_texts;
mod moments;
mod old_clock;
mod operation_form;
mod own_brass;
mod parts;
mod pen_exercise;
mod picture_svg;
mod planetary_hour;
mod planets;
mod plates;
mod posed_question;
mod printed;
mod proofread;
mod propose;
mod question_drawing;
mod question_slots;
mod question_words;
mod reckon;
mod reckon_case;
mod reckon_corrected;
mod refusal;
mod request;
mod request_work;
mod rete_moment;
mod revolution;
mod roads;
mod schema;
mod setting;
mod sighted;
mod specification_form;
mod spoken;
mod suggest;
mod tables;
mod tellings;
mod towns;
mod trust;
mod trying;
mod turn;
mod verdict;
mod ways;
mod work;
mod work_texts;
mod year;
mod year_events;
mod year_understood;

pub use ::moment::dates_meant;
pub use ::tables::{Cell, Row as TableRow, Table};
pub use answer::*;
pub use batch::{Batch, BatchAspect, BatchBody, BatchFigure, BatchHour, BatchRow};
pub use birth_rules::BirthRuleAnswer;
pub use cabinet::{
    Cabinet, CabinetAnswer, CabinetFile, OwnAnswer, Specified, UnreadAnswer, cabinet, instrument,
    instrument_for, instruments,
};
pub use cast::cast;
pub use casting::{Casting, Plates, SunFrom};
pub use choose::{
    ChooseAnswer, ChooseRequest, TimeAnswer, WishAnswer, WishForm, choose, choose_forms,
};
pub use class::{Class, ClassPlan, EXAMPLE_CLASS, LEVELS, Line, Pupil, PupilPlan, level_name};
pub use class_report::{
    ClassReport, CommonSlip, NextAnswer, OperationReport, PupilReport, QuestionMarks, SheetMarks,
    class_report,
};
pub use clocks::{ClockAnswer, clocks};
pub use compare::{CompareAnswer, CompareRequest, ComparedInstrument, ErrorAnswer, compare};
pub use correct::{CorrectRequest, correct};
pub use correct_exercise::{CorrectExerciseRequest, correct_exercise, exercises_of_json};
pub use course::{Course, CourseLesson, CourseRequest, course};
pub use course_years::COURSE_YEARS;
pub use draw::{DrawRequest, draw};
pub use draw_choice::{choice_scene, choice_svg};
pub use draw_comparison::{comparison_scene, comparison_svg};
pub use draw_figure::{DrawFigureRequest, blank_figures, draw_figure, figure_scene};
pub use drawing::Scene;
pub use during::{Change, DuringAnswer, DuringRequest, Holding, Strip, StripSpan, Travel, during};
pub use ephemeris::{Ephemeris, EphemerisRequest, EphemerisRow, ephemeris};
pub use examine::{EXAMPLE_MEASUREMENTS, examine};
pub use examine_asked::ExamineRequest;
pub use exercises::exercises;
pub use face::{FaceAnswer, FacePartAnswer, FaceRequest, face};
pub use figure_answer::figure;
pub use figure_case::{FigureRequest, RuleChoices, figure_rules};
pub use figure_form::{FigureFilled, FigureForm};
pub use film::{FilmAnswer, FilmRequest, FrameAnswer, film};
pub use film_picture::FilmShape;
pub use front::{BackAnswer, FrontAnswer, FrontRequest, back, front};
pub use leaves::{LeafName, figure_leaves};
pub use lesson::{Lesson, LessonRequest, lesson};
pub use lesson_picture::{LessonGlass, LessonPicture};
pub use making::{LeftOut, PartPicture, date_of, linked_to_make, part_pictures, to_make};
pub use marked_sheet::{MarkedQuestion, MarkedReading, mark_sheet};
pub use methods::{HouseMethod, methods};
pub use moment::understood_place;
pub use moments::{MomentsAnswer, MomentsOfDay, MomentsRequest, moments};
pub use own_brass::{BrassAnswer, BrassForm, BrassNote, BrassRequest, own_brass, renamed};
pub use parts::{PartsAnswer, SectionAnswer, named_parts, parts};
pub use picture_svg::over_picture;
pub use planets::{PlanetsRequest, planets};
pub use plates::{
    PlateErrors, PlateOfSet, PlatesAnswer, PlatesRequest, Proportion, SummerTime, TownCard,
    TownPlates, WeekEquation, plates,
};
pub use proofread::{
    MisprintAnswer, ProofreadAnswer, ProofreadColumnAnswer, ProofreadRequest, ProofreadRow,
    WrongSumAnswer, proofread,
};
pub use propose::{ProposalAnswer, ProposeAnswer, ProposeRequest, propose};
pub use reckon::{
    FoundAnswer, FoundBodyAnswer, OpenedAnswer, OpenedRowAnswer, ReckonAnswer, SheetAnswer,
    SheetLineAnswer, SheetStepAnswer, SheetTableAnswer, TablesUsedAnswer, TakenAnswer,
    WhyBodyAnswer, WhyFoundAnswer, WithinAnswer, reckoned,
};
pub use reckon_case::ReckonRequest;
pub use refusal::{Field, Refusal};
pub use request::{CastRequest, WithInstrument};
pub use request_work::WorkRequest;
pub use revolution::{REVOLUTION_YEARS, RevolutionAnswer, RevolutionRequest, revolution};
pub use roads::{BetweenRoadsAnswer, Road, RoadsAnswer, RoadsToAnswer};
pub use schema::schemas;
pub use setting::{SettingAnswer, SettingRequest, setting};
pub use specification_form::{
    FieldChoice, FieldFault, FieldGroupAnswer, FieldSet, Filled, FormField, ShownValue,
    SpecificationAnswer, SpecificationRequest, specification_form,
};
pub use suggest::{SuggestionAnswer, place_meant, suggest};
pub use tables::{
    BetweenAnswer, ColumnAnswer, FieldAnswer, PartAnswer, PrintedTable, TableAnswer,
    TableKindAnswer, TableRequest, table, table_book, table_kinds,
};
pub use trying::{TryRequest, try_one};
pub use turn::{StateRequest, TurnRequest, turn};
pub use work::{operations, work};
pub use year::{
    BOOK_YEARS, EveningStarAnswer, PlanetHourAnswer, YearAnswer, YearDayAnswer, YearRequest, year,
};
pub use year_events::YearEventAnswer;

/// What is large and is handed over by whoever holds the desk, where it is not built in
/// (feature `embedded`).
pub mod data {
    pub use moment::Gazetteer;
    pub use sky::Ephemeris;
}

/// How angles, times and degrees of the zodiac are said.
pub mod words {
    pub use ::moment::MONTHS;
    pub use ::words::{
        Called, Day, Degrees, NorthOrSouth, TimeOfDay, TimeSpan, ValueInWords, caution,
        with_signs_drawn,
    };
    pub use ::words::{FIRST_HOUR, GLOSSARY, Section, Word};
    pub use sky::{Angle, Body, House, Latitude, Plain, Zodiacal};
}
