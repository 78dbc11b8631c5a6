use sky::{Angle, Sign};

use super::exchanged::Exchanged;
use super::sign::{opposite, sign_and_degree};
use super::{Dignity, Points, ReceptionRule, TermTable, Triplicity, TriplicityTable};
use super::{exaltation, face, rulership};
use crate::{Planet, Sect};

/// The rulers of one degree of the zodiac, by the tables chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rulers {
    /// The sign.
    pub sign: Sign,
    /// Of the sign: Ptolemy, Tetrabiblos I.17.
    pub rulership: Planet,
    /// Exalted in the sign, if one is: Tetrabiblos I.19.
    pub exaltation: Option<Planet>,
    /// Of the sign's triplicity.
    pub triplicity: Triplicity,
    /// Of the term.
    pub term: Planet,
    /// Of the face, the third of a sign: the order of the spheres, from Mars in
    /// the first of Aries (J. Middleton, Practical Astrology (1679), I.7, p. 60).
    pub face: Planet,
}

/// The tables by which dignities are found and counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct DignityTables {
    /// The terms.
    pub terms: TermTable,
    /// The rulers of the triplicities.
    pub triplicities: TriplicityTable,
    /// The points.
    pub points: Points,
    /// What mutual reception counts.
    pub receptions: ReceptionRule,
}

/// The dignities of a planet in one place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Dignities {
    planet: Planet,
    rulers: Rulers,
    sect: Sect,
    points: Points,
    receptions: ReceptionRule,
    exchanged: Exchanged,
}

impl DignityTables {
    /// The rulers of the degree at a longitude.
    #[must_use]
    pub fn rulers(&self, longitude: Angle) -> Rulers {
        let (sign, within_deg) = sign_and_degree(longitude);
        Rulers {
            sign,
            rulership: rulership::of(sign),
            exaltation: exaltation::in_sign(sign),
            triplicity: self.triplicities.of(sign),
            term: self.terms.at(sign, within_deg).ruler,
            face: face::at(sign, within_deg),
        }
    }

    /// The dignities of a planet at a longitude, by day or by night.
    #[must_use]
    pub fn of(&self, planet: Planet, longitude: Angle, sect: Sect) -> Dignities {
        Dignities {
            planet,
            rulers: self.rulers(longitude),
            sect,
            points: self.points,
            receptions: self.receptions,
            exchanged: Exchanged::default(),
        }
    }

    /// The same among other planets, with whom it may be in mutual reception.
    #[must_use]
    pub fn among(
        &self,
        planet: Planet,
        longitude: Angle,
        sect: Sect,
        places: &[(Planet, Angle)],
    ) -> Dignities {
        Dignities {
            exchanged: Exchanged::of(planet, places),
            ..self.of(planet, longitude, sect)
        }
    }
}

impl Dignities {
    /// The rulers of the place.
    #[must_use]
    pub const fn rulers(&self) -> Rulers {
        self.rulers
    }

    /// Whether the planet has a dignity here.
    #[must_use]
    pub fn has(&self, dignity: Dignity) -> bool {
        let opposite = opposite(self.rulers.sign);
        match dignity {
            Dignity::Rulership => self.rulers.rulership == self.planet,
            Dignity::Exaltation => self.rulers.exaltation == Some(self.planet),
            Dignity::Triplicity => self.rulers.triplicity.rules(self.planet, self.sect),
            Dignity::Term => self.rulers.term == self.planet,
            Dignity::Face => self.rulers.face == self.planet,
            Dignity::Detriment => rulership::of(opposite) == self.planet,
            Dignity::Fall => exaltation::in_sign(opposite) == Some(self.planet),
            Dignity::Peregrine => !self.is_dignified() && !self.is_received(),
            Dignity::RulershipExchanged => self.counts_receptions() && self.exchanged.rulership,
            Dignity::ExaltationExchanged => self.counts_receptions() && self.exchanged.exaltation,
        }
    }

    /// Those it has, from the strongest.
    pub fn all(&self) -> impl Iterator<Item = Dignity> + '_ {
        Dignity::ALL
            .into_iter()
            .filter(|dignity| self.has(*dignity))
    }

    /// The sum of their points.
    #[must_use]
    pub fn score(&self) -> i32 {
        self.all().map(|dignity| self.points.of(dignity)).sum()
    }

    fn counts_receptions(&self) -> bool {
        self.receptions != ReceptionRule::LeftOut
    }

    /// Whether a mutual reception saves it from being peregrine.
    fn is_received(&self) -> bool {
        self.receptions == ReceptionRule::Counted
            && (self.exchanged.rulership || self.exchanged.exaltation)
    }

    fn is_dignified(&self) -> bool {
        [
            Dignity::Rulership,
            Dignity::Exaltation,
            Dignity::Triplicity,
            Dignity::Term,
            Dignity::Face,
        ]
        .into_iter()
        .any(|dignity| self.has(dignity))
    }
}
