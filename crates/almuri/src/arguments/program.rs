use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};

use super::{
    BatchArguments, CabinetArguments, CasebookArguments, CastAloneArguments, ChooseArguments,
    ClassArguments, CompareArguments, CorrectArguments, CourseArguments, DrawArguments,
    DuringArguments, ExamineArguments, ExercisesArguments, FigureArguments, FilmArguments,
    FormsArguments, LessonArguments, MakeArguments, MomentsArguments, NestArguments,
    PlanetsArguments, PlatesArguments, ProofreadArguments, ReckonArguments, RevolutionArguments,
    SettingsArguments, ShareArguments, StandArguments, TablesArguments, WorkArguments,
    YearArguments,
};

/// Cast figures with an astrolabe: how to set it, what it should read, what
/// calculation gives, and why they differ. Without a command the workbench is
/// started: a page on this machine's own address.
#[derive(Debug, Parser)]
#[command(
    name = "almuri",
    version,
    args_conflicts_with_subcommands = true,
    disable_help_subcommand = true
)]
pub(crate) struct Arguments {
    #[command(flatten)]
    pub(crate) workbench: WorkbenchArguments,
    #[command(subcommand)]
    pub(crate) command: Option<Command>,
}

#[derive(Args, Debug)]
pub(crate) struct WorkbenchArguments {
    /// Do not open the page in the browser
    #[arg(long)]
    pub(crate) no_open: bool,
    /// The port of the loopback address; 0 takes any that is free
    #[arg(long, value_name = "PORT")]
    pub(crate) port: Option<u16>,
    /// The casebook's file, instead of the usual one
    #[arg(long, value_name = "FILE")]
    pub(crate) book: Option<PathBuf>,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Cast a figure: the setting, the working, the readings, and why they differ from calculation
    Cast(Box<CastAloneArguments>),
    /// Finish a figure: planets in houses, hour, lots, dignities, aspects; as a table or drawn
    Figure(Box<FigureArguments>),
    /// Keep cases, find them again, edit, undo, delete; export and import them
    Casebook(Box<CasebookArguments>),
    /// Finish every figure of a table, over all cores
    Batch(Box<BatchArguments>),
    /// Work an operation of the classical treatise; alone, list them
    Work(WorkArguments),
    /// Read an instrument as it stands: what rete, rule and alidade show, turned by hand
    Stand(StandArguments),
    /// Where the planets are: at a moment, or over years as a table of values
    Planets(PlanetsArguments),
    /// Correct a pupil's readings, or find what a printed figure was made by
    Correct(CorrectArguments),
    /// Look through an uncertain time: what holds throughout, what changes when
    During(DuringArguments),
    /// Seek a time: when all that must hold at a place does, to the second, and what had rather
    Choose(Box<ChooseArguments>),
    /// Cast the revolution of a year: the Sun back at its degree
    Revolution(RevolutionArguments),
    /// Compare instruments over a year: how far ascendant, midheaven and cusps are off
    Compare(CompareArguments),
    /// From an ascendant back to the moments of the year that have it
    Moments(MomentsArguments),
    /// Make the year's book for a town and an instrument: a booklet, a calendar, a table
    Year(Box<YearArguments>),
    /// Make a film of an operation: a moving SVG, captions, numbered frames, a rehearsal sheet
    Film(FilmArguments),
    /// Make a worked example as a handout: the sum, a picture for each step, the readings
    Lesson(LessonArguments),
    /// Make a course of lessons for an instrument: worked examples, exercises, the key
    Course(CourseArguments),
    /// Draw exercises for a class: a sheet for each, the key, and a file to correct by
    Exercises(ExercisesArguments),
    /// Keep classes: give sheets out, enter and correct answers, see what is common, print
    Class(Box<ClassArguments>),
    /// Print blank figures to be filled in by hand, in every form that is drawn
    Forms(FormsArguments),
    /// Draw the front of an instrument as SVG, at rest or set for a moment
    Draw(DrawArguments),
    /// Make the files for an instrument's parts: for printer, cutter and engraver
    Make(MakeArguments),
    /// Lay the parts of instruments on the sheets that they are cut of
    Nest(NestArguments),
    /// Which plate serves which town, and how well
    Plates(PlatesArguments),
    /// Examine an instrument by what was measured on it: for which latitude, which epoch, how true
    Examine(ExamineArguments),
    /// Print a table for working with the pen: houses, ascensions, ephemeris, logarithms and more
    Tables(Box<TablesArguments>),
    /// Work a figure with the pen: clock to sidereal time, cusps between rows, planets by logarithms
    Reckon(Box<ReckonArguments>),
    /// Look a table of your own through for slips: numbers that jump, sums that are none
    Proofread(ProofreadArguments),
    /// List the instruments at hand, show one, keep and remove one's own
    Cabinet(CabinetArguments),
    /// Show or change the home place, the usual instrument and the usual method
    Settings(SettingsArguments),
    /// Serve a built site, its files and nothing else, to the telephones of a class in the same room
    Share(ShareArguments),
}
