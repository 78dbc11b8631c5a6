use figure::House;
use sky::Body;

use crate::Figure;

/// A step of the sheet: what is found by it, which cells it takes, and the lines that are
/// written.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// StepResult is found.
    pub what: StepResult,
    /// The cells that are taken, in order.
    pub takes: Vec<Taken>,
    /// The pages they stand on.
    pub opened: Vec<Opened>,
    /// The lines.
    pub lines: Vec<Line>,
}

/// StepResult a step finds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StepResult {
    /// Universal Time, from the clock.
    UniversalTime,
    /// The local sidereal time.
    SiderealTime,
    /// The rows of the table of houses on either side of the sidereal time.
    Rows,
    /// A cusp, between those rows.
    Cusp(House),
    /// The cusps that stand opposite.
    Opposites,
    /// The logarithm of the time gone since the ephemeris' day.
    TimeGone,
    /// A body's place.
    Place(Body),
    /// StepResult its changing motion makes.
    SecondDifference(Body),
    /// The lot of Fortune.
    Fortune,
}

/// A cell that was taken from a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Taken {
    /// The table's name in the list of tables.
    pub table: &'static str,
    /// Its title.
    pub title: String,
    /// The row, as its argument is written.
    pub row: String,
    /// The column's heading.
    pub column: String,
    /// StepResult is printed there.
    pub cell: Figure,
    /// Its argument, and the number of its column.
    pub(crate) stands: (f64, usize),
}

/// A page of a table, open where cells are taken from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Opened {
    /// The table's name in the list of tables.
    pub table: &'static str,
    /// Its title.
    pub title: String,
    /// StepResult stands above its arguments.
    pub argument: String,
    /// The headings of the columns that are seen.
    pub columns: Vec<String>,
    /// The rows that are taken from, with those beside them.
    pub rows: Vec<OpenedRow>,
}

/// A row of an open page.
#[derive(Clone, Debug, PartialEq)]
pub struct OpenedRow {
    /// Its argument as it is written.
    pub row: String,
    /// StepResult is printed in the columns that are seen.
    pub cells: Vec<String>,
    /// Which of these are taken.
    pub lit: Vec<bool>,
}

/// A line of a sum: what it is, what is done with it, and its number.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// StepResult it is.
    pub entry: Entry,
    /// StepResult is done with it.
    pub role: Role,
    /// The number.
    pub figure: Figure,
}

/// StepResult is done with a line's number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// It is written down.
    Given,
    /// It is put on.
    Added,
    /// It is taken off.
    TakenOff,
    /// The number before is taken so many times.
    Times,
    /// It comes of the lines before.
    Makes,
}

/// StepResult a line's number is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Entry {
    /// The time on the clock.
    ClockTime,
    /// Summer time.
    SummerTime,
    /// StepResult standard time is ahead of Universal Time.
    Zone,
    /// The longitude of the place in time.
    Longitude,
    /// The equation of time.
    EquationOfTime,
    /// Universal Time.
    UniversalTime,
    /// The sidereal time at the ephemeris' hour at Greenwich.
    SiderealAtHour,
    /// The time gone since that hour.
    TimeGone,
    /// The acceleration of its hours.
    AccelerationOfHours,
    /// The acceleration of its minutes.
    AccelerationOfMinutes,
    /// The sidereal time at Greenwich.
    SiderealAtGreenwich,
    /// The sidereal time of the place.
    SiderealTime,
    /// The argument of the row before.
    RowBefore,
    /// How far the argument is past it.
    PastRow,
    /// StepResult stands in the row before.
    Before,
    /// StepResult stands in the row behind.
    Behind,
    /// The difference of the two.
    Difference,
    /// The part of it that belongs to what is past the row.
    Part,
    /// StepResult is found.
    Found,
    /// The cusp opposite.
    Opposite(House),
    /// The logarithm of the time gone.
    LogarithmOfTime,
    /// The motion from the day before to the day behind.
    Motion,
    /// Its logarithm.
    LogarithmOfMotion,
    /// The sum of the logarithms.
    LogarithmOfPart,
    /// The motion in the time gone.
    MotionInTime,
    /// The motion of the day that went before.
    MotionBefore,
    /// The motion of the day that follows.
    MotionBehind,
    /// The factor of second differences.
    Factor,
    /// StepResult they make.
    Bend,
    /// The ascendant.
    Ascendant,
    /// The Moon's place.
    Moon,
    /// The Sun's place.
    Sun,
}
