/// Something to know about a moment.
#[derive(Clone, Debug, PartialEq)]
pub struct Note {
    /// What it is about.
    pub about: NoteKind,
    /// What to know, in a sentence without its full stop.
    pub text: String,
}

/// What a note is about.
#[derive(Clone, Copy, Debug, Eq, Hash, PartialEq)]
#[non_exhaustive]
pub enum NoteKind {
    /// The zone had no standard time yet.
    LocalMeanTime,
    /// The clock time did not exist or came twice, and one meaning was chosen.
    ClockChange,
    /// The town goes by another name than the one it was asked for by.
    TownName,
    /// The zone was taken from the nearest town.
    NearestTown,
    /// The zone's record may not be that of the place.
    ZoneHistory,
    /// The year may have begun on another day.
    YearBegan,
    /// TT − UT is not well known.
    DeltaT,
    /// The hour was counted by an old reckoning.
    OldClock,
}
