use crate::{Planet, Sect};

/// Where the nodes stand among the firdaria of a birth by night.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FirdariaByNight {
    /// After all seven planets.
    NodesLast,
    /// After Mars, before the Sun: Bonatti, Liber astronomiae (13th century; from memory).
    NodesAfterMars,
}

/// Who rules a firdaria.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FirdariaLord {
    /// A planet.
    Planet(Planet),
    /// The Moon's north node.
    NorthNode,
    /// The Moon's south node.
    SouthNode,
}

/// A period, and its parts.
#[derive(Clone, Debug, PartialEq)]
pub struct Firdaria {
    /// Who rules it.
    pub lord: FirdariaLord,
    /// At which age it begins, in years.
    pub from: f64,
    /// At which it ends.
    pub until: f64,
    /// Its seven equal parts, each with its own ruler, from its lord down the spheres; none
    /// of the nodes.
    pub parts: Vec<(Planet, f64, f64)>,
}

impl FirdariaLord {
    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            FirdariaLord::Planet(planet) => planet.name(),
            FirdariaLord::NorthNode => "north node",
            FirdariaLord::SouthNode => "south node",
        }
    }

    /// Its years: Abū Maʿshar, The Great Introduction VII.8 (9th century; the Arabic text),
    /// 75 together.
    #[must_use]
    pub const fn years(self) -> f64 {
        match self {
            FirdariaLord::Planet(Planet::Sun) => 10.0,
            FirdariaLord::Planet(Planet::Venus) => 8.0,
            FirdariaLord::Planet(Planet::Mercury) => 13.0,
            FirdariaLord::Planet(Planet::Moon) => 9.0,
            FirdariaLord::Planet(Planet::Saturn) => 11.0,
            FirdariaLord::Planet(Planet::Jupiter) => 12.0,
            FirdariaLord::Planet(Planet::Mars) => 7.0,
            FirdariaLord::NorthNode => 3.0,
            FirdariaLord::SouthNode => 2.0,
        }
    }
}

impl Firdaria {
    /// Where the years are in print.
    pub const SOURCE: &'static str = "years: Abū Maʿshar, The Great Introduction VII.8; from the Sun by day, from the Moon by night, seven equal parts: al-Qabīṣī, Introduction IV (from memory); the nodes by night after Mars: Bonatti (from memory)";
}

/// The firdaria of a birth, 75 years: by day from the Sun, by night from the Moon, down the
/// spheres.
#[must_use]
pub fn firdaria(sect: Sect, by_night: FirdariaByNight) -> Vec<Firdaria> {
    let first = match sect {
        Sect::Day => Planet::Sun,
        Sect::Night => Planet::Moon,
    };
    let mut lords: Vec<FirdariaLord> = (0..7)
        .map(|places| FirdariaLord::Planet(first.down(places)))
        .collect();
    let nodes = [FirdariaLord::NorthNode, FirdariaLord::SouthNode];
    match (sect, by_night) {
        (Sect::Night, FirdariaByNight::NodesAfterMars) => {
            let mars = lords
                .iter()
                .position(|lord| *lord == FirdariaLord::Planet(Planet::Mars))
                .unwrap_or(lords.len() - 1);
            lords.splice(mars + 1..mars + 1, nodes);
        }
        (Sect::Day, _) | (Sect::Night, FirdariaByNight::NodesLast) => lords.extend(nodes),
    }
    let mut from = 0.0;
    lords
        .into_iter()
        .map(|lord| {
            let until = from + lord.years();
            let part = lord.years() / 7.0;
            let parts = match lord {
                FirdariaLord::Planet(planet) => (0..7)
                    .map(|index| {
                        let begins = from + part * index as f64;
                        (planet.down(index), begins, begins + part)
                    })
                    .collect(),
                FirdariaLord::NorthNode | FirdariaLord::SouthNode => Vec::new(),
            };
            let period = Firdaria {
                lord,
                from,
                until,
                parts,
            };
            from = until;
            period
        })
        .collect()
}
