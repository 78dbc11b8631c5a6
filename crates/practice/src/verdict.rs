use sky::Angle;

use crate::amount::Amount;

/// In three steps, how far what is read of ascendant and midheaven may be trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// No further off than the clock itself.
    Good,
    /// Off by more, yet not so far that another house has to be thought of.
    Usable,
    /// Further off than that.
    NotToBeTrusted,
}

impl Verdict {
    /// A reading is good within a degree: four minutes of the clock turn the heavens by so
    /// much, and no nearer are most moments known that a figure is cast for. A question may
    /// ask of an instrument no more ([`Measure::most_off`](crate::Measure::most_off)).
    pub const GOOD_WITHIN: Angle = Angle::from_deg(1.0);

    /// It is usable within two degrees and a half: where the truth lies so far to one side
    /// or the other, the two are five degrees apart, and within five degrees of a cusp the
    /// old books let a planet belong to either house (Ptolemy, Tetrabiblos III.10, from
    /// memory; G. Chaucer, A Treatise on the Astrolabe, ed. Skeat 1894, II.4). Beyond it
    /// houses are guessed.
    pub const USABLE_WITHIN: Angle = Angle::from_deg(2.5);

    /// The verdict on what is off by no more than this.
    #[must_use]
    pub fn within(at_most: Amount) -> Verdict {
        let at_most = Angle::from_deg(at_most.number());
        if at_most <= Verdict::GOOD_WITHIN {
            Verdict::Good
        } else if at_most <= Verdict::USABLE_WITHIN {
            Verdict::Usable
        } else {
            Verdict::NotToBeTrusted
        }
    }

    /// Its name in answers.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Verdict::Good => "good",
            Verdict::Usable => "usable",
            Verdict::NotToBeTrusted => "not-to-be-trusted",
        }
    }
}
