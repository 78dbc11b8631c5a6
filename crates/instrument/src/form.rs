//! What an instrument's form is chosen from: tracery, pointers, and how stars are told apart.

use crate::length::Length;

/// How the openings of the rete are filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tracery {
    /// Rings and bars alone.
    Plain,
    /// A quatrefoil round the pole, its branches, and a counterchanged bar.
    Quatrefoil,
    /// Besides, arches between the rings.
    Foliate,
    /// Circles that touch one another, row within row, as beads on a string.
    Rings,
    /// A rosette of circles that cross, and arches that cross.
    Interlace,
    /// A wheel window: spokes between pointed arches.
    Lancet,
    /// Stems that part into spirals.
    Scroll,
    /// Straps that swell and come together as a tulip's leaves do.
    Tulip,
}

impl Tracery {
    /// All of them.
    pub const ALL: [Tracery; 8] = [
        Tracery::Plain,
        Tracery::Quatrefoil,
        Tracery::Foliate,
        Tracery::Rings,
        Tracery::Interlace,
        Tracery::Lancet,
        Tracery::Scroll,
        Tracery::Tulip,
    ];

    /// Its name in a specification.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Tracery::Plain => "plain",
            Tracery::Quatrefoil => "quatrefoil",
            Tracery::Foliate => "foliate",
            Tracery::Rings => "rings",
            Tracery::Interlace => "interlace",
            Tracery::Lancet => "lancet",
            Tracery::Scroll => "scroll",
            Tracery::Tulip => "tulip",
        }
    }

    /// What suits a mater of a diameter: the smaller, the plainer.
    #[must_use]
    pub fn suited_to(diameter: Length) -> Tracery {
        match diameter.mm() {
            mm if mm < 100.0 => Tracery::Plain,
            mm if mm < 220.0 => Tracery::Quatrefoil,
            _ => Tracery::Foliate,
        }
    }
}

/// The form of the star pointers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pointers {
    /// A plain blade, hardly bent.
    Thorn,
    /// A leaf on an S-bend, whose tip curls over as a flame's does.
    Flame,
    /// A straight blade with a cross-guard.
    Dagger,
    /// A leaf broadest in its middle.
    Leaf,
    /// A bird's head on a neck, whose beak is the tip.
    Beak,
    /// A talon: broad at its root, bent all one way.
    Claw,
}

impl Pointers {
    /// All of them.
    pub const ALL: [Pointers; 6] = [
        Pointers::Thorn,
        Pointers::Flame,
        Pointers::Dagger,
        Pointers::Leaf,
        Pointers::Beak,
        Pointers::Claw,
    ];

    /// Its name in a specification.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Pointers::Thorn => "thorn",
            Pointers::Flame => "flame",
            Pointers::Dagger => "dagger",
            Pointers::Leaf => "leaf",
            Pointers::Beak => "beak",
            Pointers::Claw => "claw",
        }
    }

    /// What suits a tracery on a mater of a diameter: rings and bars alone want plain
    /// blades where these have room for names, and leaves where they are small.
    #[must_use]
    pub fn suited_to(diameter: Length, tracery: Tracery) -> Pointers {
        match (StarLabels::suited_to(diameter), tracery) {
            (StarLabels::Names, Tracery::Plain) => Pointers::Thorn,
            (StarLabels::Numbers | StarLabels::Initials, Tracery::Plain) => Pointers::Leaf,
            (
                _,
                Tracery::Quatrefoil
                | Tracery::Foliate
                | Tracery::Rings
                | Tracery::Interlace
                | Tracery::Lancet
                | Tracery::Scroll
                | Tracery::Tulip,
            ) => Pointers::Flame,
        }
    }
}

/// What stands on or beside a star's pointer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StarLabels {
    /// The star's name.
    Names,
    /// A number, in order of right ascension; which star it is stands in the key.
    Numbers,
    /// As many of its first letters as tell it from the others; so does the key.
    Initials,
}

impl StarLabels {
    /// All of them.
    pub const ALL: [StarLabels; 3] = [StarLabels::Names, StarLabels::Numbers, StarLabels::Initials];

    /// Its name in a specification.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            StarLabels::Names => "names",
            StarLabels::Numbers => "numbers",
            StarLabels::Initials => "initials",
        }
    }

    /// What suits a mater of a diameter: below 100 mm a name finds no room on a pointer.
    #[must_use]
    pub fn suited_to(diameter: Length) -> StarLabels {
        if diameter.mm() < 100.0 {
            StarLabels::Numbers
        } else {
            StarLabels::Names
        }
    }
}

/// Where the key to the stars' numbers or initials is engraved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StarKey {
    /// Nowhere: it is on the sheet alone.
    None,
    /// On the mater's floor, under the plates.
    Floor,
    /// In the field of the back, in the place of its quadrants and shadow square.
    Field,
}

impl StarKey {
    /// All of them.
    pub const ALL: [StarKey; 3] = [StarKey::None, StarKey::Floor, StarKey::Field];

    /// Its name in a specification.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            StarKey::None => "none",
            StarKey::Floor => "floor",
            StarKey::Field => "field",
        }
    }
}

/// The form of the throne, by which an instrument hangs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Throne {
    /// Shoulders and a waist; pierced and lobed on large instruments.
    Shoulders,
    /// Three round lobes.
    Trefoil,
    /// A pointed arch with a pointed opening.
    Ogee,
    /// Balls on stems over arches.
    Crown,
    /// Two scrolls beside a stem.
    Scrolls,
    /// A tall gable with lobed edges.
    Lobed,
}

impl Throne {
    /// All of them.
    pub const ALL: [Throne; 6] = [
        Throne::Shoulders,
        Throne::Trefoil,
        Throne::Ogee,
        Throne::Crown,
        Throne::Scrolls,
        Throne::Lobed,
    ];

    /// Its name in a specification.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Throne::Shoulders => "shoulders",
            Throne::Trefoil => "trefoil",
            Throne::Ogee => "ogee",
            Throne::Crown => "crown",
            Throne::Scrolls => "scrolls",
            Throne::Lobed => "lobed",
        }
    }
}

/// What a star is told by on a rete, for each of some names in order of right ascension.
#[must_use]
pub fn star_labels(labels: StarLabels, names: &[&str]) -> Vec<String> {
    match labels {
        StarLabels::Names => names.iter().map(|name| (*name).to_owned()).collect(),
        StarLabels::Numbers => (1..=names.len()).map(|n| n.to_string()).collect(),
        StarLabels::Initials => names.iter().map(|name| initials(name, names)).collect(),
    }
}

/// The fewest of a name's first letters with which no other of some names begins; two at
/// least, as one alone is soon taken for a number or a sign.
fn initials(name: &str, names: &[&str]) -> String {
    told_apart(name, names, 2)
}

/// The fewest of a name's first letters with which no other of some names begins, and so many
/// at least.
pub(crate) fn told_apart(name: &str, names: &[&str], least: usize) -> String {
    let begins = |count: usize| name.chars().take(count).collect::<String>();
    let length = name.chars().count();
    let alone = |count: &usize| {
        let first = begins(*count);
        let same = names.iter().filter(|other| other.starts_with(&first));
        same.count() < 2
    };
    begins((least..length).find(alone).unwrap_or(length))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn initials_tell_stars_apart() {
        let names = ["Alhaiot", "Alhabor", "Wega", "Alfard", "Rigil"];
        let told = star_labels(StarLabels::Initials, &names);
        assert_eq!(told, ["Alhai", "Alhab", "We", "Alf", "Ri"]);
        assert_eq!(star_labels(StarLabels::Numbers, &names)[4], "5");
    }
}

/// What stands in the right upper quarter of the back's field.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quadrant {
    /// What the instrument is made for, in words.
    Title,
    /// Sines and cosines, by sixtieths of the radius.
    Sines,
    /// The Sun's noon altitudes through the year, at some latitudes.
    NoonAltitudes,
    /// The Sun's altitudes at the equal hours through the year, at one latitude.
    EqualHours,
    /// The Sun's altitudes in the direction of Mecca through the year, for places.
    Qibla,
}

impl Quadrant {
    /// All of them.
    pub const ALL: [Quadrant; 5] = [
        Quadrant::Title,
        Quadrant::Sines,
        Quadrant::NoonAltitudes,
        Quadrant::EqualHours,
        Quadrant::Qibla,
    ];

    /// Its name in a specification.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Quadrant::Title => "title",
            Quadrant::Sines => "sines",
            Quadrant::NoonAltitudes => "noon-altitudes",
            Quadrant::EqualHours => "equal-hours",
            Quadrant::Qibla => "qibla",
        }
    }
}

/// A ring about the back's field, divided as the zodiac is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ZodiacRing {
    /// Three faces of each sign, with their planets.
    Faces,
    /// Five terms of each sign by the Egyptians' table, with their planets.
    EgyptianTerms,
    /// The same by the table that Ptolemy found in an old book.
    PtolemysTerms,
    /// The same by Ptolemy's table as Lilly prints it.
    LillysTerms,
    /// Twenty-eight mansions of the Moon.
    Mansions,
}

impl ZodiacRing {
    /// All of them.
    pub const ALL: [ZodiacRing; 5] = [
        ZodiacRing::Faces,
        ZodiacRing::EgyptianTerms,
        ZodiacRing::PtolemysTerms,
        ZodiacRing::LillysTerms,
        ZodiacRing::Mansions,
    ];

    /// Its name in a specification.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            ZodiacRing::Faces => "faces",
            ZodiacRing::EgyptianTerms => "egyptian-terms",
            ZodiacRing::PtolemysTerms => "ptolemys-terms",
            ZodiacRing::LillysTerms => "lillys-terms",
            ZodiacRing::Mansions => "mansions",
        }
    }

    /// What it is a ring of.
    #[must_use]
    pub fn called(self) -> &'static str {
        match self {
            ZodiacRing::Faces => "faces",
            ZodiacRing::EgyptianTerms => "terms by the Egyptians",
            ZodiacRing::PtolemysTerms => "terms by Ptolemy",
            ZodiacRing::LillysTerms => "terms by Lilly",
            ZodiacRing::Mansions => "mansions of the Moon",
        }
    }
}
