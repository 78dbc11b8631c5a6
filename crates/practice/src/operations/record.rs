//! What stands in the file of an operation.

use instrument::{BackLine, CurveLeg, Instrument, Pick};

use crate::operation::{Act, RetePlace};
use crate::procedure::Procedure;
use crate::quantity::Quantity;
use crate::sight::{Sighting, Stated};

/// Everything that is known of an operation.
pub(crate) struct Record {
    /// Its name in commands and answers.
    pub(crate) name: &'static str,
    /// What it is for.
    pub(crate) title: &'static str,
    /// Where it is taught.
    pub(crate) source: Source,
    /// The heading under which it is looked for.
    pub(crate) heading: &'static str,
    /// When it is weak, in a sentence or two.
    pub(crate) weak: &'static str,
    /// Where it is asked in teaching.
    pub(crate) taught: &'static [Taught],
    /// What it needs besides the moment, the place and the instrument.
    pub(crate) needs: &'static [TaskInput],
    /// What it asks besides.
    pub(crate) asks: Asks,
    /// What it is asked of.
    pub(crate) asked_of: AskedOf,
    /// What is elsewhere a stage on the way and here the end.
    pub(crate) end: Option<Quantity>,
    /// Its steps on an instrument.
    pub(crate) steps: Steps,
}

/// What an operation is done by.
pub(crate) enum Steps {
    /// Steps of its own.
    Acts(fn(&Instrument, &TaskChoices) -> Vec<Act>),
    /// Casting, with the cusps by a procedure.
    Casting(Procedure),
}

/// What an operation asks besides what it needs.
pub(crate) struct Asks {
    /// What it can be asked about.
    pub(crate) about: About,
    /// In which part of the sky something is sighted.
    pub(crate) sighted: Sighted,
    /// Whether the Moon or a planet may be named in place of what is told and seen of it.
    pub(crate) body: BodyAsked,
    /// Which stars serve.
    pub(crate) stars: Stars,
    /// Whether the degree is the Sun's where none is told.
    pub(crate) suns_degree: bool,
    /// Whether what is told of stands on the ecliptic where no latitude is told.
    pub(crate) on_ecliptic: bool,
    /// Whether the unequal hours that are told are the number of one hour.
    pub(crate) numbered_hour: bool,
    /// Whether the shadow that the alidade cuts is shorter from further off, as umbra versa is.
    pub(crate) shrinking_shadow: bool,
    /// The line in the back's field without which it cannot be done.
    pub(crate) back: Option<BackLine>,
}

impl Asks {
    pub(crate) const NOTHING: Asks = Asks {
        about: About::Itself,
        sighted: Sighted::Anywhere,
        body: BodyAsked::Not,
        stars: Stars::Up,
        suns_degree: false,
        on_ecliptic: false,
        numbered_hour: false,
        shrinking_shadow: false,
        back: None,
    };
}

/// What an operation can be asked about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum About {
    /// What its title says.
    Itself,
    /// The Sun, a star or a degree.
    SunStarOrDegree,
    /// Whatever is sighted: the Sun, a star, the Moon or a planet. It is done in the open, and
    /// nothing of it can be asked on paper.
    WhateverIsSighted,
}

/// Whether an operation takes the name of the Moon or a planet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BodyAsked {
    /// None.
    Not,
    /// One, unless what is told and seen of it is told.
    UnlessTold,
    /// One or none; with what stands in its place, in words.
    Or(&'static str),
}

/// The stars of the rete that serve for an operation at a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stars {
    /// Those above the horizon at the moment.
    Up,
    /// Those that do not set.
    Circumpolar,
    /// Those that rise and set.
    RiseAndSet,
    /// Those that culminate above the horizon.
    Culminate,
}

/// What an operation is asked of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AskedOf {
    /// The sky, with an instrument that serves the place.
    Sky,
    /// The plate: how it was drawn can be asked wherever one stands.
    Plate,
    /// The instrument's own calendar scale beside its zodiac scale.
    CalendarScale,
}

/// What must be known of where something is sighted.
#[derive(Clone, Copy)]
pub(crate) enum Sighted {
    /// Nothing.
    Anywhere,
    /// The half of the sky.
    EastOrWest,
    /// Of this, the side of the zenith.
    OnMeridian(Sighting),
}

/// Where an operation is taught.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// In the treatise: part and conclusion, `II.3`.
    Treatise(&'static str),
    /// Elsewhere.
    Elsewhere(&'static str),
}

impl Source {
    /// The place, as it is cited.
    #[must_use]
    pub const fn cited(self) -> &'static str {
        match self {
            Source::Treatise(place) | Source::Elsewhere(place) => place,
        }
    }

    /// Whether the treatise has it.
    #[must_use]
    pub const fn is_treatise(self) -> bool {
        match self {
            Source::Treatise(_) => true,
            Source::Elsewhere(_) => false,
        }
    }
}

/// Where an operation is asked in teaching.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Taught {
    /// The level, from 1.
    pub level: u8,
    /// Its place among the level's questions, from 1; at those that no operation has a
    /// figure is cast.
    pub place: u8,
}

/// What decides between several ways of doing a task.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TaskChoices {
    /// The half of the plate in which the Sun or the star stands.
    pub side: Pick,
    /// The half in which the Moon or planet stands.
    pub other_side: Pick,
    /// Whose altitude, azimuth or rising is asked for.
    pub subject: RetePlace,
    /// Whether what is seen on the meridian stands beyond the zenith from where its
    /// altitude is counted: from the equator's side, of a star that does not set from
    /// the pole's.
    pub beyond_zenith: bool,
    /// The number of the unequal hour asked for: 1 to 12 by day, 13 to 24 by night.
    pub hour: u8,
    /// Where the qibla curve crosses the arc of the Sun's degree.
    pub towards_mecca: TowardsMecca,
}

/// Where a qibla curve crosses the arc of a day: once, or twice where the Sun's azimuth turns
/// back on that day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TowardsMecca {
    /// The leg of the curve at its only crossing, or the lower.
    pub lower: CurveLeg,
    /// At the higher.
    pub higher: Option<CurveLeg>,
}

impl Default for TaskChoices {
    fn default() -> TaskChoices {
        TaskChoices {
            side: Pick::Eastern,
            other_side: Pick::Eastern,
            subject: RetePlace::Sun,
            beyond_zenith: false,
            hour: 1,
            towards_mecca: TowardsMecca {
                lower: CurveLeg::Northward,
                higher: None,
            },
        }
    }
}

/// What a task needs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TaskInput {
    /// A star of the rete.
    Star,
    /// Something seen; where nothing was, what would be seen at the moment.
    Seen(Sighting),
    /// Something told.
    Stated(Stated),
}
