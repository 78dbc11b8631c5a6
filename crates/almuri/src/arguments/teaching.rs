use std::path::PathBuf;

use clap::Args;

use super::{MomentArguments, WorkArguments};

#[derive(Args, Debug)]
pub(crate) struct CorrectArguments {
    /// Date and time on the clock, `YYYY-MM-DD HH:MM[:SS]`, or `now`
    #[arg(
        value_name = "WHEN",
        allow_hyphen_values = true,
        required_unless_present = "exercises"
    )]
    pub(crate) when: Option<String>,
    #[command(flatten)]
    pub(crate) moment: MomentArguments,
    /// The exercises.json of a class, instead of a moment: a question of it is corrected
    #[arg(
        long,
        value_name = "FILE",
        requires = "pupil",
        requires = "question",
        conflicts_with_all = [
            "when", "at", "zone", "clock", "calendar", "which", "with", "by", "houses", "figure"
        ]
    )]
    pub(crate) exercises: Option<PathBuf>,
    /// Whose sheet it is
    #[arg(long, value_name = "NAME", requires = "exercises")]
    pub(crate) pupil: Option<String>,
    /// Which question of it
    #[arg(long, value_name = "NUMBER", requires = "exercises")]
    pub(crate) question: Option<usize>,
    /// An instrument of the cabinet, or a specification file
    #[arg(long, value_name = "INSTRUMENT")]
    pub(crate) with: Option<String>,
    /// The cusp procedure that was followed: turning, direct-cut, limb-thirds or house-lines
    #[arg(long, value_name = "PROCEDURE")]
    pub(crate) by: Option<String>,
    /// The house method that a printed figure should have
    #[arg(long, value_name = "METHOD")]
    pub(crate) houses: Option<String>,
    /// What was read: local-time=6:49, sun-degree, ascendant="11°30′ Pisces", midheaven, a house,
    /// or what a question asks; several times
    #[arg(long, value_name = "WHAT=VALUE")]
    pub(crate) read: Vec<String>,
    /// A file of marks in a photograph of the instrument as the pupil set it: what it shows so
    /// is what was read, unless --read says another
    #[arg(long, value_name = "FILE", conflicts_with_all = ["exercises", "figure"])]
    pub(crate) marks: Option<PathBuf>,
    /// The readings are a figure from a printout or a book
    #[arg(long)]
    pub(crate) figure: bool,
    /// One JSON object instead of the sheet
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct DuringArguments {
    /// The earliest date and time on the clock, `YYYY-MM-DD HH:MM[:SS]`
    #[arg(value_name = "WHEN", allow_hyphen_values = true)]
    pub(crate) when: String,
    /// The latest time, `HH:MM`
    #[arg(value_name = "UNTIL")]
    pub(crate) until: String,
    #[command(flatten)]
    pub(crate) moment: MomentArguments,
    /// The house method
    #[arg(long, value_name = "METHOD")]
    pub(crate) houses: Option<String>,
    /// Look at Uranus, Neptune and Pluto too
    #[arg(long)]
    pub(crate) outer: bool,
    /// One JSON object instead of the sheet
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct RevolutionArguments {
    /// The date and time of the beginning, `YYYY-MM-DD HH:MM[:SS]`
    #[arg(value_name = "WHEN", allow_hyphen_values = true)]
    pub(crate) when: String,
    /// The year in which the Sun returns
    #[arg(value_name = "YEAR", allow_hyphen_values = true)]
    pub(crate) year: i32,
    #[command(flatten)]
    pub(crate) moment: MomentArguments,
    /// Where the revolution is cast, if not where it began
    #[arg(long, value_name = "PLACE", allow_hyphen_values = true)]
    pub(crate) cast_at: Option<String>,
    /// An instrument of the cabinet, or a specification file
    #[arg(long, value_name = "INSTRUMENT")]
    pub(crate) with: Option<String>,
    /// One JSON object instead of the sheet
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct CompareArguments {
    /// The date and time at which the year begins, `YYYY-MM-DD HH:MM[:SS]`, or `now`
    #[arg(value_name = "WHEN", allow_hyphen_values = true)]
    pub(crate) when: String,
    #[command(flatten)]
    pub(crate) moment: MomentArguments,
    /// An instrument of the cabinet, or a specification file; several times, or all that serve
    #[arg(long, value_name = "INSTRUMENT")]
    pub(crate) with: Vec<String>,
    /// The cusp procedure: turning, direct-cut, limb-thirds or house-lines
    #[arg(long, value_name = "PROCEDURE")]
    pub(crate) by: Option<String>,
    /// The house method it is held against
    #[arg(long, value_name = "METHOD")]
    pub(crate) houses: Option<String>,
    /// The file that it is drawn into besides, by its end as SVG, PDF or PNG
    #[arg(short, long, alias = "picture", value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    /// Overwrite a file that is there
    #[arg(long, requires = "output")]
    pub(crate) overwrite: bool,
    /// One JSON object instead of the table
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct MomentsArguments {
    /// The degree on the eastern horizon, such as "11 Pisces"
    #[arg(value_name = "DEGREE")]
    pub(crate) ascendant: String,
    /// The day with which the year begins, `YYYY-MM-DD`
    #[arg(value_name = "FROM", allow_hyphen_values = true)]
    pub(crate) from: String,
    #[command(flatten)]
    pub(crate) moment: MomentArguments,
    /// An instrument of the cabinet, or a specification file
    #[arg(long, value_name = "INSTRUMENT")]
    pub(crate) with: Option<String>,
    /// One JSON object instead of the table
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct LessonArguments {
    #[command(flatten)]
    pub(crate) work: WorkArguments,
    /// The house method of the calculated figure, for cast
    #[arg(long, value_name = "METHOD")]
    pub(crate) houses: Option<String>,
    /// The cusp procedure to follow, for cast: turning, direct-cut, limb-thirds or house-lines
    #[arg(long, value_name = "PROCEDURE")]
    pub(crate) by: Option<String>,
    /// The file that the PDF goes into
    #[arg(short, long, value_name = "FILE", default_value = "lesson.pdf")]
    pub(crate) output: PathBuf,
    /// Overwrite a file that is there
    #[arg(long)]
    pub(crate) overwrite: bool,
    /// The paper: a4, letter, or millimetres such as 300x450
    #[arg(long, value_name = "SIZE", default_value = "a4")]
    pub(crate) page: String,
}

#[derive(Args, Debug)]
pub(crate) struct ExercisesArguments {
    /// The class: names, instruments, place, seed; see docs/teaching.md
    #[arg(value_name = "CLASS")]
    pub(crate) class: PathBuf,
    /// The folder that the sheets, the key and exercises.json go into
    #[arg(short, long, value_name = "FOLDER", default_value = "exercises")]
    pub(crate) output: PathBuf,
    /// Write key-at-length.pdf too: settings, lines, and every slip that is told by a reading
    #[arg(long)]
    pub(crate) key_at_length: bool,
    /// The paper: a4, letter, or millimetres such as 300x450
    #[arg(long, value_name = "SIZE", default_value = "a4")]
    pub(crate) page: String,
    /// Overwrite files of the same names
    #[arg(long)]
    pub(crate) overwrite: bool,
    /// Say what was written, and the exercises themselves, as one JSON object
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct FormsArguments {
    /// For which place the form on the brass has its horizon and hour lines: a town or
    /// coordinates; the home place unless said
    #[arg(long, value_name = "PLACE", allow_hyphen_values = true)]
    pub(crate) at: Option<String>,
    /// An instrument of the cabinet, or a specification file, whose orientation it has
    #[arg(long, value_name = "INSTRUMENT")]
    pub(crate) with: Option<String>,
    /// One form alone: brass, brass-narrow, square, round, round-narrow, as-instrument or
    /// as-instrument-narrow; several times
    #[arg(long, value_name = "FORM")]
    pub(crate) form: Vec<String>,
    /// Ignore the settings
    #[arg(long)]
    pub(crate) no_settings: bool,
    /// The file that the PDF goes into
    #[arg(short, long, value_name = "FILE", default_value = "forms.pdf")]
    pub(crate) output: PathBuf,
    /// Overwrite a file that is there
    #[arg(long)]
    pub(crate) overwrite: bool,
    /// The paper: a4, letter, or millimetres such as 300x450
    #[arg(long, value_name = "SIZE", default_value = "a4")]
    pub(crate) page: String,
}

#[derive(Args, Debug)]
pub(crate) struct CourseArguments {
    /// Where one learns: a town or coordinates; the home place unless said
    #[arg(long, value_name = "PLACE", allow_hyphen_values = true)]
    pub(crate) at: Option<String>,
    /// The zone, instead of the place's own
    #[arg(long, value_name = "ZONE")]
    pub(crate) zone: Option<String>,
    /// An instrument of the cabinet, or a specification file
    #[arg(long, value_name = "INSTRUMENT")]
    pub(crate) with: Option<String>,
    /// The year of the examples
    #[arg(long, value_name = "YEAR")]
    pub(crate) year: i32,
    /// From what they are drawn: the same seed gives the same course
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    pub(crate) seed: u64,
    /// The cusp procedure: turning, direct-cut, limb-thirds or house-lines
    #[arg(long, value_name = "PROCEDURE")]
    pub(crate) by: Option<String>,
    /// Ignore the settings
    #[arg(long)]
    pub(crate) no_settings: bool,
    /// The folder that the course, its key and exercises.json go into
    #[arg(short, long, value_name = "FOLDER", default_value = "course")]
    pub(crate) output: PathBuf,
    /// The paper: a4, letter, or millimetres such as 300x450
    #[arg(long, value_name = "SIZE", default_value = "a4")]
    pub(crate) page: String,
    /// Overwrite files of the same names
    #[arg(long)]
    pub(crate) overwrite: bool,
    /// Say what was written, with the lessons and exercises, as one JSON object
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct ShareArguments {
    /// The folder of the site, as `cargo xtask site` builds it in target/site
    #[arg(value_name = "FOLDER")]
    pub(crate) folder: Option<PathBuf>,
    /// The port; 0 takes any that is free
    #[arg(long, value_name = "PORT")]
    pub(crate) port: Option<u16>,
}
