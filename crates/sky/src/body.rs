use std::fmt;

/// A body of the sky that moves among the stars.
///
/// From Jupiter on the place is that of the planet with its moons (the system's
/// centre of mass), from which the planet itself stands at most 0.1″.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Body {
    /// The Sun.
    Sun,
    /// The Moon.
    Moon,
    /// Mercury.
    Mercury,
    /// Venus.
    Venus,
    /// Mars.
    Mars,
    /// Jupiter and its moons.
    Jupiter,
    /// Saturn and its moons.
    Saturn,
    /// Uranus and its moons.
    Uranus,
    /// Neptune and its moons.
    Neptune,
    /// Pluto and its moons.
    Pluto,
}

impl Body {
    /// All of them, the Sun and the Moon first, then outward.
    pub const ALL: [Body; 10] = [
        Body::Sun,
        Body::Moon,
        Body::Mercury,
        Body::Venus,
        Body::Mars,
        Body::Jupiter,
        Body::Saturn,
        Body::Uranus,
        Body::Neptune,
        Body::Pluto,
    ];

    /// The English name, capitalised.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Body::Sun => "Sun",
            Body::Moon => "Moon",
            Body::Mercury => "Mercury",
            Body::Venus => "Venus",
            Body::Mars => "Mars",
            Body::Jupiter => "Jupiter",
            Body::Saturn => "Saturn",
            Body::Uranus => "Uranus",
            Body::Neptune => "Neptune",
            Body::Pluto => "Pluto",
        }
    }
}

impl fmt::Display for Body {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name())
    }
}
