use sky::Angle;

use super::sign::sign_and_degree;
use super::{exaltation, rulership};
use crate::Planet;

/// What it counts that two planets stand in each other's dignities.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum ReceptionRule {
    /// Points where each stands in the other's sign, or each in the other's exaltation;
    /// and neither is peregrine then: J. Middleton, Practical Astrology (1679), I.7, p. 63,
    /// has the points, examples of both on p. 71. That neither is peregrine is common
    /// practice.
    #[default]
    Counted,
    /// The points alone: a planet without a dignity of its own stays peregrine.
    PointsAlone,
    /// Nothing.
    LeftOut,
}

impl ReceptionRule {
    /// All of them.
    pub const ALL: [ReceptionRule; 3] = [
        ReceptionRule::Counted,
        ReceptionRule::PointsAlone,
        ReceptionRule::LeftOut,
    ];

    /// `counted`, `points-alone` or `left-out`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            ReceptionRule::Counted => "counted",
            ReceptionRule::PointsAlone => "points-alone",
            ReceptionRule::LeftOut => "left-out",
        }
    }

    /// Where it is in print.
    #[must_use]
    pub const fn source(self) -> &'static str {
        match self {
            ReceptionRule::Counted => {
                "Middleton, Practical Astrology (1679), pp. 63 and 71; not peregrine then: common practice"
            }
            ReceptionRule::PointsAlone => "Middleton, Practical Astrology (1679), pp. 63 and 71",
            ReceptionRule::LeftOut => {
                "common practice of who counts a planet's own dignities alone"
            }
        }
    }
}

/// By what a planet is in mutual reception with another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub(crate) struct Exchanged {
    pub(crate) rulership: bool,
    pub(crate) exaltation: bool,
}

impl Exchanged {
    /// Of a planet, among the others.
    pub(crate) fn of(planet: Planet, places: &[(Planet, Angle)]) -> Exchanged {
        let sign = |wanted: Planet| {
            let mut found = places.iter().filter(|(one, _)| *one == wanted);
            found
                .next()
                .map(|(_, longitude)| sign_and_degree(*longitude).0)
        };
        let Some(own) = sign(planet) else {
            return Exchanged::default();
        };
        let in_return = |host: Option<Planet>, back: &dyn Fn(Planet) -> Option<Planet>| {
            host.is_some_and(|host| host != planet && back(host) == Some(planet))
        };
        Exchanged {
            rulership: in_return(Some(rulership::of(own)), &|host| {
                sign(host).map(rulership::of)
            }),
            exaltation: in_return(exaltation::in_sign(own), &|host| {
                sign(host).and_then(exaltation::in_sign)
            }),
        }
    }
}
