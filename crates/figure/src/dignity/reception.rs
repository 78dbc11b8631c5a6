use sky::{Angle, Body};

use super::{Dignity, DignityTables, exaltation, rulership, sign_and_degree};
use crate::{Aspect, AspectKind, Planet, Sect};

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

/// A planet received by another: it stands where the other has a dignity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reception {
    /// The one that is received.
    pub guest: Planet,
    /// The one that receives it.
    pub host: Planet,
    /// The host's strongest dignity there.
    pub by: Dignity,
    /// The guest's strongest dignity where the host stands: then it is mutual.
    pub in_return: Option<Dignity>,
    /// The aspect by degree that they are in.
    pub aspect: Option<AspectKind>,
}

/// The dignities by which a planet is received.
const RECEIVING: [Dignity; 5] = [
    Dignity::Rulership,
    Dignity::Exaltation,
    Dignity::Triplicity,
    Dignity::Term,
    Dignity::Face,
];

impl DignityTables {
    /// All receptions among planets, by day or by night, with the aspects that they are in.
    #[must_use]
    pub fn receptions(
        &self,
        places: &[(Planet, Angle)],
        sect: Sect,
        aspects: &[Aspect],
    ) -> Vec<Reception> {
        let strongest = |host: Planet, longitude: Angle| {
            let there = self.of(host, longitude, sect);
            RECEIVING.into_iter().find(|dignity| there.has(*dignity))
        };
        let mut found = Vec::new();
        for (guest, guest_at) in places {
            for (host, host_at) in places.iter().filter(|(host, _)| host != guest) {
                if let Some(by) = strongest(*host, *guest_at) {
                    found.push(Reception {
                        guest: *guest,
                        host: *host,
                        by,
                        in_return: strongest(*guest, *host_at),
                        aspect: in_aspect(*guest, *host, aspects),
                    });
                }
            }
        }
        found
    }
}

fn in_aspect(one: Planet, other: Planet, aspects: &[Aspect]) -> Option<AspectKind> {
    let is = |body: Body, planet: Planet| Planet::of(body) == Some(planet);
    let mut between = aspects.iter().filter(|aspect| {
        is(aspect.faster, one) && is(aspect.slower, other)
            || is(aspect.faster, other) && is(aspect.slower, one)
    });
    between.next().map(|aspect| aspect.kind)
}
