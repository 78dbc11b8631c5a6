//! The words of the trade, each once: what it means, what older texts and other people
//! call it, and what of the instrument shows it.

use instrument::{LineId, Part};

use crate::shown::Shown;

/// A word of the trade.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Word {
    /// The word.
    pub word: &'static str,
    /// What it means, in a sentence or two that ask no knowledge.
    pub meaning: &'static str,
    /// What older texts call it; empty where they say the same.
    pub older: &'static [&'static str],
    /// What else it is commonly called; empty where nothing.
    pub common: &'static [&'static str],
    /// What of the instrument shows it; `None` for what is no place of it.
    pub picture: Option<Picture>,
}

/// What of the instrument shows a word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Picture {
    /// A part.
    Part(Part),
    /// A line, or one of its kind.
    Line(Kind),
}

/// A kind of line: what lines differ in by number is left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// The degrees of the limb.
    LimbDegrees,
    /// The hours of the limb.
    LimbHours,
    /// A tropic.
    Tropic,
    /// The equator.
    Equator,
    /// The meridian line.
    MeridianLine,
    /// The midnight line.
    MidnightLine,
    /// The horizon.
    Horizon,
    /// The circles of altitude.
    Almucantar,
    /// The arcs of azimuth, with the prime vertical.
    Azimuth,
    /// The line of dawn and nightfall.
    Twilight,
    /// The unequal-hour lines.
    UnequalHour,
    /// The house lines.
    House,
    /// The ecliptic.
    Ecliptic,
    /// The date ring.
    DateRing,
    /// The star pointers.
    StarPointer,
    /// The almuri.
    Almuri,
    /// The edge of the rule.
    RuleEdge,
    /// The zodiac scale of the back.
    ZodiacScale,
    /// The calendar scale of the back.
    CalendarScale,
    /// The altitude scale of the back.
    AltitudeScale,
    /// The shadow square.
    ShadowSquare,
    /// The line of the alidade.
    AlidadeLine,
    /// The quadrant of unequal hours on the back.
    QuadrantHour,
    /// The quadrant of sines.
    SineQuadrant,
    /// The equation of time.
    EquationOfTime,
}

impl Kind {
    /// The kind of a line.
    #[must_use]
    pub fn of(line: &LineId) -> Kind {
        match line {
            LineId::LimbDegrees => Kind::LimbDegrees,
            LineId::LimbHours => Kind::LimbHours,
            LineId::TropicOfCancer | LineId::TropicOfCapricorn => Kind::Tropic,
            LineId::Equator => Kind::Equator,
            LineId::MeridianLine => Kind::MeridianLine,
            LineId::MidnightLine => Kind::MidnightLine,
            LineId::Horizon | LineId::HorizonOf(_) => Kind::Horizon,
            LineId::Almucantar(_) => Kind::Almucantar,
            LineId::Azimuth(_) | LineId::PrimeVertical => Kind::Azimuth,
            LineId::Twilight => Kind::Twilight,
            LineId::UnequalHour(_) => Kind::UnequalHour,
            LineId::House(..) => Kind::House,
            LineId::Ecliptic => Kind::Ecliptic,
            LineId::DateRing => Kind::DateRing,
            LineId::StarPointer(_) => Kind::StarPointer,
            LineId::Almuri => Kind::Almuri,
            LineId::RuleEdge | LineId::RuleDeclinations => Kind::RuleEdge,
            LineId::ZodiacScale => Kind::ZodiacScale,
            LineId::CalendarScale => Kind::CalendarScale,
            LineId::AltitudeScale => Kind::AltitudeScale,
            LineId::ShadowSquare => Kind::ShadowSquare,
            LineId::AlidadeLine => Kind::AlidadeLine,
            LineId::QuadrantHour(_) => Kind::QuadrantHour,
            LineId::SineQuadrant | LineId::Cotangents => Kind::SineQuadrant,
            LineId::SunArcs
            | LineId::NoonAltitudes(_)
            | LineId::EqualHour(_)
            | LineId::Qibla(_) => Kind::QuadrantHour,
            LineId::ZodiacRing(_) => Kind::ZodiacScale,
            LineId::EquationOfTime | LineId::EquationMinutes => Kind::EquationOfTime,
        }
    }
}

impl Picture {
    /// Whether something of an instrument is what shows the word.
    #[must_use]
    pub fn is(self, shown: &Shown) -> bool {
        match (self, shown) {
            (Picture::Part(part), Shown::Part(other)) => part == *other,
            (Picture::Line(kind), Shown::Line(line)) => kind == Kind::of(line),
            (Picture::Part(_), Shown::Line(_)) | (Picture::Line(_), Shown::Part(_)) => false,
        }
    }
}

/// The word for a line.
pub(crate) fn of_line(line: &LineId) -> Option<&'static Word> {
    let kind = Kind::of(line);
    GLOSSARY
        .iter()
        .find(|word| word.picture == Some(Picture::Line(kind)))
}

/// The word for a part.
pub(crate) fn of_part(part: Part) -> Option<&'static Word> {
    GLOSSARY
        .iter()
        .find(|word| word.picture == Some(Picture::Part(part)))
}

const fn part(part: Part) -> Option<Picture> {
    Some(Picture::Part(part))
}

const fn line(kind: Kind) -> Option<Picture> {
    Some(Picture::Line(kind))
}

/// The glossary: parts first, then the front, the back, and the figure.
///
/// Older words are those of Chaucer's *Treatise on the Astrolabe* (ed. Skeat, 1894) and of
/// the Latin treatises, from memory.
pub const GLOSSARY: &[Word] = &[
    Word {
        word: "mater",
        meaning: "The body of the instrument: a thick disc with a hollow, in which the plates lie.",
        older: &["moder", "mother"],
        common: &["body"],
        picture: part(Part::Mater),
    },
    Word {
        word: "throne",
        meaning: "The piece at the top by which the instrument hangs from its ring.",
        older: &["kursi"],
        common: &["shackle and ring"],
        picture: None,
    },
    Word {
        word: "limb",
        meaning: "The raised rim of the mater, with the hours outside and the degrees inside. Once round it is a day.",
        older: &["bordure"],
        common: &["rim"],
        picture: line(Kind::LimbHours),
    },
    Word {
        word: "degrees of the limb",
        meaning: "The inner scale of the limb: 360 degrees from noon round to noon, four minutes of time each.",
        older: &[],
        common: &[],
        picture: line(Kind::LimbDegrees),
    },
    Word {
        word: "plate",
        meaning: "The disc engraved with the sky as it stands over one latitude: horizon, altitudes, directions. There is one for each latitude you carry.",
        older: &["clymat", "tympan", "tablet"],
        common: &["climate plate"],
        picture: part(Part::Plate),
    },
    Word {
        word: "rete",
        meaning: "The pierced map of the stars that turns over the plate, with the ring of the zodiac on it.",
        older: &["riet", "net", "spider"],
        common: &["star map"],
        picture: part(Part::Rete),
    },
    Word {
        word: "rule",
        meaning: "The bar that turns on the front. Its long end reaches over the limb; the edge that runs through the centre is read.",
        older: &["label"],
        common: &["pointer"],
        picture: part(Part::Rule),
    },
    Word {
        word: "edge of the rule",
        meaning: "The straight edge that runs through the centre. It is read at the long end; where both ends reach the limb, choose one, and keep to it.",
        older: &["lyne of the label"],
        common: &["fiducial edge"],
        picture: line(Kind::RuleEdge),
    },
    Word {
        word: "back",
        meaning: "The other side of the mater, with the scales of altitude, zodiac and calendar.",
        older: &["bakside", "dorsum"],
        common: &[],
        picture: part(Part::Back),
    },
    Word {
        word: "alidade",
        meaning: "The sighting bar that turns on the back, with a pinnule at each end.",
        older: &["rewle", "dioptra"],
        common: &["sighting rule"],
        picture: part(Part::Alidade),
    },
    Word {
        word: "line of the alidade",
        meaning: "The line along the alidade that runs through the centre, by which the scales of the back are read.",
        older: &["linea fiduciae"],
        common: &["fiducial line"],
        picture: line(Kind::AlidadeLine),
    },
    Word {
        word: "pinnule",
        meaning: "A small upright plate with a hole, one at each end of the alidade: through both one sights a star, and through the upper the Sun's light falls onto the lower.",
        older: &["pinne hole", "tablet"],
        common: &["sight", "vane"],
        picture: part(Part::Pinnule),
    },
    Word {
        word: "pin",
        meaning: "The axis that holds plates, rete, rule and alidade together. It stands where the pole of the sky is.",
        older: &["pyn", "axle"],
        common: &[],
        picture: part(Part::Pin),
    },
    Word {
        word: "wedge",
        meaning: "The small wedge through the pin that keeps everything from falling off.",
        older: &["horse", "hors", "cavalla"],
        common: &[],
        picture: part(Part::Wedge),
    },
    Word {
        word: "ring",
        meaning: "What it hangs by: held up by its ring, the instrument hangs plumb, and an altitude can be taken. A shackle holds it to the throne.",
        older: &["ryng", "armilla suspensoria"],
        common: &[],
        picture: part(Part::Ring),
    },
    Word {
        word: "horizon",
        meaning: "The line on the plate that parts what is up from what is down. What lies on its eastern half is rising, on its western half setting.",
        older: &["orizonte oblique"],
        common: &[],
        picture: line(Kind::Horizon),
    },
    Word {
        word: "almucantar",
        meaning: "A circle of equal height above the horizon. They are counted from the horizon inwards to the zenith.",
        older: &["almicanteras"],
        common: &["altitude circle"],
        picture: line(Kind::Almucantar),
    },
    Word {
        word: "azimuth line",
        meaning: "A line of one direction along the horizon, from the zenith down. The prime vertical, through east and west, is one of them.",
        older: &["azimutz"],
        common: &["compass direction"],
        picture: line(Kind::Azimuth),
    },
    Word {
        word: "meridian line",
        meaning: "The noon half of the upright line of the plate. What lies on it is at its highest.",
        older: &["lyne meridional", "south line"],
        common: &["noon line"],
        picture: line(Kind::MeridianLine),
    },
    Word {
        word: "midnight line",
        meaning: "The other half of the upright line: where the Sun stands at midnight. It is also unequal-hour line 6.",
        older: &["north line", "angle of midnight"],
        common: &[],
        picture: line(Kind::MidnightLine),
    },
    Word {
        word: "equator",
        meaning: "The middle of the three circles about the centre: where the Sun runs when day and night are equal.",
        older: &["equinoxial", "cercle of the heved of Aries"],
        common: &[],
        picture: line(Kind::Equator),
    },
    Word {
        word: "tropic",
        meaning: "The innermost and the outermost circle about the centre: where the Sun runs on the longest and on the shortest day.",
        older: &["cercle of Cancer", "cercle of Capricorne"],
        common: &[],
        picture: line(Kind::Tropic),
    },
    Word {
        word: "unequal-hour line",
        meaning: "One of the lines below the horizon that cut the night in twelve. They are numbered from the western horizon to the eastern.",
        older: &["houres inequales", "howres of planetes"],
        common: &["seasonal hour", "temporal hour"],
        picture: line(Kind::UnequalHour),
    },
    Word {
        word: "house line",
        meaning: "A line on which the cusp of a house is read at once; few plates carry them.",
        older: &[],
        common: &[],
        picture: line(Kind::House),
    },
    Word {
        word: "twilight line",
        meaning: "The line eighteen degrees below the horizon: the Sun on it makes dawn or nightfall.",
        older: &["linea crepusculi", "spring of day"],
        common: &["dawn line"],
        picture: line(Kind::Twilight),
    },
    Word {
        word: "ecliptic",
        meaning: "The ring of the zodiac on the rete, the Sun's path through the year. Its outer edge is read.",
        older: &["ecliptik lyne", "zodiak"],
        common: &["zodiac ring"],
        picture: line(Kind::Ecliptic),
    },
    Word {
        word: "date ring",
        meaning: "A ring of the year's days on the rim of some retes, in place of the calendar of the back: the date is laid under the rule.",
        older: &[],
        common: &["calendar ring"],
        picture: line(Kind::DateRing),
    },
    Word {
        word: "star pointer",
        meaning: "A thorn of the rete; its very tip is where the star stands.",
        older: &["tonges", "flame"],
        common: &["star"],
        picture: line(Kind::StarPointer),
    },
    Word {
        word: "almuri",
        meaning: "The small tooth on the rim of the rete, at the head of Capricorn in the north and of Cancer in the south, that points to the degrees of the limb.",
        older: &["almury", "denticle", "calculer"],
        common: &["tooth"],
        picture: line(Kind::Almuri),
    },
    Word {
        word: "altitude scale",
        meaning: "The outermost scale of the back: degrees of height from the level line up to the throne, on both sides.",
        older: &["altitude of the sonne"],
        common: &[],
        picture: line(Kind::AltitudeScale),
    },
    Word {
        word: "zodiac scale",
        meaning: "The scale of the twelve signs on the back, thirty degrees each. They run anticlockwise.",
        older: &["cercle of the signes"],
        common: &[],
        picture: line(Kind::ZodiacScale),
    },
    Word {
        word: "calendar scale",
        meaning: "The scale of the year's days on the back: the alidade laid on a date shows the Sun's degree beside it.",
        older: &["cercle of dayes"],
        common: &[],
        picture: line(Kind::CalendarScale),
    },
    Word {
        word: "shadow square",
        meaning: "The square on the lower half of the back, in twelve points to a side, for heights and distances: umbra recta below, umbra versa at the sides.",
        older: &["skale", "quadratum geometricum"],
        common: &[],
        picture: line(Kind::ShadowSquare),
    },
    Word {
        word: "hour quadrant",
        meaning: "Six arcs in a quarter of the back, which give the unequal hour from the Sun's height.",
        older: &[],
        common: &[],
        picture: line(Kind::QuadrantHour),
    },
    Word {
        word: "sine quadrant",
        meaning: "A net of lines in a quarter of the back, by which sines and cosines are read.",
        older: &[],
        common: &[],
        picture: line(Kind::SineQuadrant),
    },
    Word {
        word: "equation of time",
        meaning: "By how much the Sun's own time is ahead of even clock time on a day, up to a quarter of an hour; on some backs a curve.",
        older: &["equacion of dayes"],
        common: &[],
        picture: line(Kind::EquationOfTime),
    },
    Word {
        word: "ascendant",
        meaning: "The degree of the zodiac that is rising, on the eastern horizon. It is cusp I.",
        older: &["assendent", "horoscope"],
        common: &["rising sign", "rising degree"],
        picture: None,
    },
    Word {
        word: "midheaven",
        meaning: "The degree of the zodiac on the meridian line. It is cusp X.",
        older: &["medium caeli", "angle of the south"],
        common: &["MC"],
        picture: None,
    },
    Word {
        word: "cusp",
        meaning: "The degree of the zodiac at which a house begins.",
        older: &["begynnyng of the hous"],
        common: &["house boundary"],
        picture: None,
    },
    Word {
        word: "house",
        meaning: "One of the twelve parts of the sky, counted from the ascendant downwards.",
        older: &["hous", "mansioun"],
        common: &[],
        picture: None,
    },
    Word {
        word: "figure",
        meaning: "The drawing of the sky at a moment: houses, their cusps, and where everything stands in them.",
        older: &["theme", "scheme", "nativity"],
        common: &["chart", "horoscope"],
        picture: None,
    },
    Word {
        word: "sign",
        meaning: "A twelfth of the zodiac, thirty degrees.",
        older: &["signe"],
        common: &["star sign", "zodiac sign"],
        picture: None,
    },
    Word {
        word: "the Sun's degree",
        meaning: "Where in the zodiac the Sun stands on a day: about a degree further each day.",
        older: &["degree of the sonne"],
        common: &["Sun sign and degree"],
        picture: None,
    },
    Word {
        word: "altitude",
        meaning: "How high something stands above the horizon, in degrees: 0 on it, 90 overhead.",
        older: &["heyghte"],
        common: &["height"],
        picture: None,
    },
    Word {
        word: "local apparent time",
        meaning: "Time by the Sun where you are: twelve when it is on the meridian line.",
        older: &["houre of the clokke"],
        common: &["sundial time", "true solar time"],
        picture: None,
    },
    Word {
        word: "unequal hour",
        meaning: "A twelfth of the day from sunrise to sunset, or of the night: long by day in summer, short in winter.",
        older: &["houre inequal"],
        common: &["seasonal hour", "planetary hour"],
        picture: None,
    },
];

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    #[test]
    fn a_word_stands_once_and_explains_itself() {
        let mut seen = HashSet::new();
        for word in GLOSSARY {
            assert!(seen.insert(word.word), "{}", word.word);
            assert!(word.meaning.ends_with('.'), "{}", word.word);
            assert!(word.meaning.len() > 30, "{}", word.word);
        }
    }

    #[test]
    fn every_part_has_its_word() {
        for part in [
            Part::Mater,
            Part::Plate,
            Part::Rete,
            Part::Rule,
            Part::Back,
            Part::Alidade,
            Part::Pinnule,
            Part::Pin,
            Part::Wedge,
            Part::Ring,
        ] {
            assert!(of_part(part).is_some(), "{part:?}");
        }
    }
}
