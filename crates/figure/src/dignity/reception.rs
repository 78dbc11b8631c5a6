use sky::{Angle, Body};

use super::{Dignity, DignityTables};
use crate::{Aspect, AspectKind, Planet, Sect};

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
