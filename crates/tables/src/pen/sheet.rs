use figure::House;
use sky::Body;

use crate::Figure;

/// A step of the sheet: what is found by it, which cells it takes, and the lines that are
/// written.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What is found.
    pub what: StepResult,
    /// The cells that are taken, in order.
    pub takes: Vec<Taken>,
    /// The pages they stand on.
    pub opened: Vec<Opened>,
    /// The lines.
    pub lines: Vec<Line>,
}

/// What a step finds.
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
    /// What its changing motion makes.
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
    /// What is printed there.
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
    /// What stands above its arguments.
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
    /// What is printed in the columns that are seen.
    pub cells: Vec<String>,
    /// Which of these are taken.
    pub lit: Vec<bool>,
}

/// A line of a sum: what it is, what is done with it, and its number.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// What it is.
    pub entry: Entry,
    /// What is done with it.
    pub role: Role,
    /// The number.
    pub figure: Figure,
}

/// What is done with a line's number.
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

/// What a line's number is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Entry {
    /// The time on the clock.
    ClockTime,
    /// Summer time.
    SummerTime,
    /// What standard time is ahead of Universal Time.
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
    /// What stands in the row before.
    Before,
    /// What stands in the row behind.
    Behind,
    /// The difference of the two.
    Difference,
    /// The part of it that belongs to what is past the row.
    Part,
    /// What is found.
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
    /// What they make.
    Bend,
    /// The ascendant.
    Ascendant,
    /// The Moon's place.
    Moon,
    /// The Sun's place.
    Sun,
}
