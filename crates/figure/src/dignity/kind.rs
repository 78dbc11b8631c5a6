/// A kind of essential dignity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Dignity {
    /// In its own sign.
    Rulership,
    /// In the sign of its exaltation.
    Exaltation,
    /// In a triplicity that it rules now.
    Triplicity,
    /// In its own term.
    Term,
    /// In its own face.
    Face,
    /// In the sign opposite its own.
    Detriment,
    /// In the sign opposite its exaltation.
    Fall,
    /// With none of the five, and in no mutual reception that counts.
    Peregrine,
    /// In the sign of a planet that is in its own.
    RulershipExchanged,
    /// In the exaltation of a planet that is in its own.
    ExaltationExchanged,
}

impl Dignity {
    /// All: its own from the strongest, then what it lacks, then mutual receptions.
    pub const ALL: [Dignity; 10] = [
        Dignity::Rulership,
        Dignity::Exaltation,
        Dignity::Triplicity,
        Dignity::Term,
        Dignity::Face,
        Dignity::Detriment,
        Dignity::Fall,
        Dignity::Peregrine,
        Dignity::RulershipExchanged,
        Dignity::ExaltationExchanged,
    ];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Dignity::Rulership => "rulership",
            Dignity::Exaltation => "exaltation",
            Dignity::Triplicity => "triplicity",
            Dignity::Term => "term",
            Dignity::Face => "face",
            Dignity::Detriment => "detriment",
            Dignity::Fall => "fall",
            Dignity::Peregrine => "peregrine",
            Dignity::RulershipExchanged => "mutual reception by house",
            Dignity::ExaltationExchanged => "mutual reception by exaltation",
        }
    }
}
