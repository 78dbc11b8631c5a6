use std::fmt;

use sky::Body;

/// One of the seven planets of the old books, the Sun and the Moon among them.
///
/// They stand in the order of their spheres, from the highest down, which is
/// the order in which they rule the hours: G. Chaucer, A Treatise on the
/// Astrolabe (1391), ed. Skeat 1894, II.12.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[expect(missing_docs, reason = "the names say it")]
pub enum Planet {
    Saturn,
    Jupiter,
    Mars,
    Sun,
    Venus,
    Mercury,
    Moon,
}

impl Planet {
    /// All seven, from Saturn down to the Moon.
    pub const ALL: [Planet; 7] = [
        Planet::Saturn,
        Planet::Jupiter,
        Planet::Mars,
        Planet::Sun,
        Planet::Venus,
        Planet::Mercury,
        Planet::Moon,
    ];

    /// The body of the sky it is.
    #[must_use]
    pub const fn body(self) -> Body {
        match self {
            Planet::Saturn => Body::Saturn,
            Planet::Jupiter => Body::Jupiter,
            Planet::Mars => Body::Mars,
            Planet::Sun => Body::Sun,
            Planet::Venus => Body::Venus,
            Planet::Mercury => Body::Mercury,
            Planet::Moon => Body::Moon,
        }
    }

    /// The planet that a body is; none for those found since 1781.
    #[must_use]
    pub fn of(body: Body) -> Option<Planet> {
        Planet::ALL.into_iter().find(|one| one.body() == body)
    }

    /// The English name, capitalised.
    #[must_use]
    pub const fn name(self) -> &'static str {
        self.body().name()
    }

    /// The one so many places further down, from the Moon back to Saturn.
    #[must_use]
    pub const fn down(self, places: usize) -> Planet {
        Planet::ALL[(self as usize + places) % 7]
    }
}

impl fmt::Display for Planet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name())
    }
}
