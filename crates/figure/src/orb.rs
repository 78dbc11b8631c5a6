use sky::{Angle, Body};

/// Whose table of orbs: how far from its exact place an aspect of a planet counts.
///
/// Two planets are in aspect while they lack no more than half the sum of their
/// orbs, the sum of their moieties. Uranus, Neptune and Pluto have no orb in any
/// old table: they meet a planet within its own moiety, and one another not at all.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum OrbTable {
    /// The larger of the two opinions printed by W. Lilly, Christian Astrology
    /// (1647), p. 107 (from memory), and alone by J. Middleton, Practical Astrology
    /// (1679), I.6, p. 57.
    #[default]
    Lilly,
    /// The smaller of the two, which Lilly has in his chapters on the planets (ed.
    /// 1852, pp. 25 and 37–52).
    LillySmaller,
    /// Al-Bīrūnī, Tafhīm §437 (1029; tr. Wright 1934), and before him al-Qabīṣī,
    /// Introduction (10th century; both from memory).
    Biruni,
}

impl OrbTable {
    /// All of them.
    pub const ALL: [OrbTable; 3] = [OrbTable::Lilly, OrbTable::LillySmaller, OrbTable::Biruni];

    /// `lilly`, `lilly-smaller` or `biruni`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            OrbTable::Lilly => "lilly",
            OrbTable::LillySmaller => "lilly-smaller",
            OrbTable::Biruni => "biruni",
        }
    }

    /// Where it is in print.
    #[must_use]
    pub const fn source(self) -> &'static str {
        match self {
            OrbTable::Lilly => {
                "Lilly, Christian Astrology (1647), p. 107, the larger (from memory); Middleton, Practical Astrology (1679), p. 57"
            }
            OrbTable::LillySmaller => {
                "Lilly, Christian Astrology (1647; ed. 1852, p. 25), the smaller"
            }
            OrbTable::Biruni => "al-Bīrūnī, Tafhīm §437, and al-Qabīṣī (both from memory)",
        }
    }

    /// Half the orb of a body.
    #[must_use]
    pub const fn moiety(self, body: Body) -> Angle {
        let orb_deg = match (body, self) {
            (Body::Saturn, OrbTable::Lilly) => 10.0,
            (Body::Saturn, _) => 9.0,
            (Body::Jupiter, OrbTable::Lilly) => 12.0,
            (Body::Jupiter, _) => 9.0,
            (Body::Mars, OrbTable::Lilly) => 7.5,
            (Body::Mars, OrbTable::LillySmaller) => 7.0,
            (Body::Mars, OrbTable::Biruni) => 8.0,
            (Body::Sun, OrbTable::Lilly) => 17.0,
            (Body::Sun, _) => 15.0,
            (Body::Venus, OrbTable::Lilly) => 8.0,
            (Body::Venus, _) => 7.0,
            (Body::Mercury, _) => 7.0,
            (Body::Moon, OrbTable::Lilly) => 12.5,
            (Body::Moon, _) => 12.0,
            (Body::Uranus | Body::Neptune | Body::Pluto, _) => 0.0,
        };
        Angle::from_deg(orb_deg / 2.0)
    }
}
