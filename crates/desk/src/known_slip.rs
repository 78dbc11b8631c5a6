//! A slip by its name, whichever road it is made on: with the brass or with the pen.

use ::tables::pen::SlipKind;
use practice::Slip;

/// A slip that a corrector puts something down to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum KnownSlip {
    /// Of the hand or the eye, with the instrument.
    Brass(Slip),
    /// Of the pen, wherever on the sheet.
    Pen(SlipKind),
}

impl KnownSlip {
    fn all() -> impl Iterator<Item = KnownSlip> {
        let brass = Slip::ALL.into_iter().map(KnownSlip::Brass);
        brass.chain(SlipKind::ALL.into_iter().map(KnownSlip::Pen))
    }

    /// The slip of a name; none has that of another.
    pub(crate) fn named(name: &str) -> Option<KnownSlip> {
        KnownSlip::all().find(|one| one.name() == name)
    }

    fn name(self) -> &'static str {
        match self {
            KnownSlip::Brass(slip) => slip.name(),
            KnownSlip::Pen(kind) => kind.name(),
        }
    }

    /// What was done, in a sentence.
    pub(crate) fn words(self) -> &'static str {
        match self {
            KnownSlip::Brass(slip) => slip.words(),
            KnownSlip::Pen(kind) => words::pen_slip_anywhere(kind),
        }
    }

    /// What to do about it, in a sentence.
    pub(crate) fn mend(self) -> &'static str {
        match self {
            KnownSlip::Brass(slip) => slip.mend(),
            KnownSlip::Pen(kind) => words::pen_mend(kind),
        }
    }

    /// How many slips of its road are made more often.
    pub(crate) fn less_likely_than(self) -> usize {
        let (place, of) = match self {
            KnownSlip::Brass(slip) => place(&Slip::LIKELIEST, slip),
            KnownSlip::Pen(kind) => place(&SlipKind::LIKELIEST, kind),
        };
        place.unwrap_or(of)
    }
}

/// The place in a list, and how long that is.
fn place<T: PartialEq>(list: &[T], one: T) -> (Option<usize>, usize) {
    (list.iter().position(|other| *other == one), list.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_is_known_and_is_one_slip_alone() {
        for slip in KnownSlip::all() {
            assert_eq!(KnownSlip::named(slip.name()), Some(slip));
            for sentence in [slip.words(), slip.mend()] {
                assert!(
                    sentence.ends_with('.') && !sentence.contains("  "),
                    "{sentence}"
                );
            }
        }
    }

    #[test]
    fn every_slip_of_the_pen_has_a_place_of_its_own() {
        let mut ranks: Vec<usize> = SlipKind::ALL
            .map(|kind| KnownSlip::Pen(kind).less_likely_than())
            .to_vec();
        ranks.sort_unstable();
        assert_eq!(ranks, (0..SlipKind::ALL.len()).collect::<Vec<_>>());
    }
}
