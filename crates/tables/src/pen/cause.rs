/// What can make a working with the pen differ from calculation, in the order in which it
/// is accounted for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// The way itself: nothing, for tables without rounding lead to what is exactly so.
    Procedure,
    /// Summer time was not taken off.
    SummerTime,
    /// The zone was not taken off.
    Zone,
    /// The longitude was not corrected for, four minutes a degree.
    Longitude,
    /// The equation of time was not applied to a time by the Sun.
    EquationOfTime,
    /// The table of houses is made for another obliquity than the moment's.
    Epoch,
    /// The table of houses is made for another latitude.
    TableLatitude,
    /// Tables have their digits, and so has what is written down.
    TableRounding,
    /// Between the rows of a table one goes in proportion.
    Interpolation,
    /// The Moon's motion changes in a day.
    SecondDifference,
    /// What a person's own number has beyond all that; only there.
    Unexplained,
}

impl Cause {
    /// What a hand gives up, in order: all but the way itself and what nothing explains.
    pub const GIVEN_UP: [Cause; 9] = [
        Cause::SummerTime,
        Cause::Zone,
        Cause::Longitude,
        Cause::EquationOfTime,
        Cause::Epoch,
        Cause::TableLatitude,
        Cause::TableRounding,
        Cause::Interpolation,
        Cause::SecondDifference,
    ];

    /// Its fixed name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Cause::Procedure => "procedure",
            Cause::SummerTime => "summer-time",
            Cause::Zone => "zone",
            Cause::Longitude => "longitude",
            Cause::EquationOfTime => "equation-of-time",
            Cause::Epoch => "epoch",
            Cause::TableLatitude => "table-latitude",
            Cause::TableRounding => "table-rounding",
            Cause::Interpolation => "interpolation",
            Cause::SecondDifference => "second-difference",
            Cause::Unexplained => "unexplained",
        }
    }
}
