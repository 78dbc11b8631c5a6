use ::moment::{CivilTime, Moment};
use figure::{
    Aspect, AspectKind, Change, Choices, Close, Dignity, Figure, House, PlanetaryHour,
    sign_and_degree,
};
use schemars::JsonSchema;
use serde::Serialize;
use sky::{Angle, Instant, Phase, Zodiacal};

use super::{LeafAnswer, MomentAnswer, PlaceAnswer};

/// A finished figure, from calculation and from the instrument side by side.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FinishedAnswer {
    /// The moment.
    pub moment: MomentAnswer,
    /// The place.
    pub place: PlaceAnswer,
    /// By which rules it is finished, with where they are in print.
    pub rules: Vec<RuleAnswer>,
    /// What of the rules is not of one author, each in a sentence.
    pub mixture: Vec<String>,
    /// From the exact cusps.
    pub exact: FinishedFigure,
    /// From the cusps read on the instrument; null where there are none.
    pub read: Option<FinishedFigure>,
    /// Why there is no reading, where there is none.
    pub reason: Option<String>,
    /// What the reading changes, in sentences.
    pub changes: Vec<String>,
    /// What a little time would change.
    pub close: Vec<CloseAnswer>,
    /// The leaves that were asked for.
    pub leaves: Vec<LeafAnswer>,
}

/// A rule and its choice.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct RuleAnswer {
    /// What it rules.
    pub rule: &'static str,
    /// The choice.
    pub choice: &'static str,
    /// Where it is in print.
    pub source: &'static str,
}

/// One figure.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FinishedFigure {
    /// Where the angles and cusps come from.
    pub from: String,
    /// The ascendant; null where there is none.
    pub ascendant_deg: Option<f64>,
    /// The midheaven.
    pub midheaven_deg: f64,
    /// The cusps, I to XII; null where there are none.
    pub cusps_deg: Option<[f64; 12]>,
    /// `day` or `night`.
    pub sect: &'static str,
    /// The planetary hour; null where the Sun does not rise. In a figure that was read
    /// it is read too: the Sun's degree, by night, or its opposite, by day, among the
    /// unequal-hour lines. From an ascendant of one's own it is the hour that this makes
    /// with the Sun's degree.
    pub hour: Option<PlanetaryHourAnswer>,
    /// The Sun, the Moon and the planets.
    pub bodies: Vec<PlacedAnswer>,
    /// The Moon's nodes.
    pub nodes: Vec<PointAnswer>,
    /// The lots.
    pub lots: Vec<LotAnswer>,
    /// The new or full Moon before; null before the span of the ephemeris.
    pub lunation: Option<LunationAnswer>,
    /// Aspects by degree.
    pub aspects: Vec<AspectAnswer>,
    /// Which planets receive which.
    pub receptions: Vec<ReceptionAnswer>,
    /// Stars near a body or an angle.
    pub stars: Vec<StarNearAnswer>,
}

/// A planetary hour. Times are by the clock of the moment.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PlanetaryHourAnswer {
    /// 1 to 12, of the day or the night.
    pub number: u8,
    /// `day` or `night`.
    pub of: &'static str,
    /// The planet of the hour.
    pub ruler: &'static str,
    /// The planet of the day, which begins at sunrise.
    pub day_ruler: &'static str,
    /// When it begins.
    pub begins: String,
    /// When it ends.
    pub ends: String,
    /// How long it is, in minutes of the clock.
    pub minutes: f64,
    /// Sunrise and sunset, or sunset and sunrise, between which it lies.
    pub between: [String; 2],
}

/// A body in a figure.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PlacedAnswer {
    /// Its name.
    pub name: &'static str,
    /// Ecliptic longitude.
    pub longitude_deg: f64,
    /// Ecliptic latitude.
    pub latitude_deg: f64,
    /// Its house; null where there are no cusps.
    pub house: Option<u8>,
    /// Whether it is above the horizon.
    pub up: bool,
    /// Change of longitude in a day.
    pub speed_deg_per_day: f64,
    /// The mean motion in the old tables; null for the outer three.
    pub mean_speed_deg_per_day: Option<f64>,
    /// Whether it goes backward.
    pub retrograde: bool,
    /// Whether it moves faster than the mean.
    pub swift: Option<bool>,
    /// In the heart of the Sun, combust or under its beams.
    pub under_sun: Option<&'static str>,
    /// Its essential dignities; null for the outer three.
    pub dignities: Option<DignitiesAnswer>,
    /// Its antiscion.
    pub antiscion_deg: f64,
    /// The degree opposite that.
    pub contra_antiscion_deg: f64,
    /// The equator's degree that rises with it; null where it does not rise.
    pub oblique_ascension_deg: Option<f64>,
}

/// Essential dignities.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct DignitiesAnswer {
    /// The ruler of its sign.
    pub ruler: &'static str,
    /// Exalted in its sign.
    pub exalted: Option<&'static str>,
    /// The rulers of the triplicity: by day, by night, and always where there is one.
    pub triplicity: Vec<&'static str>,
    /// The ruler of its term.
    pub term: &'static str,
    /// The ruler of its face.
    pub face: &'static str,
    /// Those the planet has itself.
    pub has: Vec<&'static str>,
    /// The sum of their points.
    pub score: i32,
}

/// A point of the figure.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PointAnswer {
    /// Its name.
    pub name: &'static str,
    /// Ecliptic longitude.
    pub longitude_deg: f64,
    /// Its house.
    pub house: Option<u8>,
}

/// A lot.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct LotAnswer {
    /// Its name.
    pub name: String,
    /// Ecliptic longitude; null where it has no answer.
    pub longitude_deg: Option<f64>,
    /// Its house.
    pub house: Option<u8>,
    /// Its authority.
    pub source: String,
}

/// A new or full Moon.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct LunationAnswer {
    /// `new` or `full`.
    pub phase: &'static str,
    /// The Moon's longitude.
    pub longitude_deg: f64,
    /// When, by the clock of the moment.
    pub at: String,
}

/// An aspect by degree.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct AspectAnswer {
    /// The faster of the two.
    pub faster: &'static str,
    /// The aspect.
    pub kind: &'static str,
    /// The slower.
    pub slower: &'static str,
    /// How much it lacks of being exact.
    pub away_deg: f64,
    /// Half the sum of the orbs.
    pub limit_deg: f64,
    /// Whether it grows more exact.
    pub applying: bool,
    /// Whether the signs have the same aspect.
    pub by_sign: bool,
}

/// A planet received by another: it stands where the other has a dignity.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ReceptionAnswer {
    /// The one that is received.
    pub guest: &'static str,
    /// The one that receives it.
    pub host: &'static str,
    /// The host's strongest dignity there.
    pub by: &'static str,
    /// The guest's strongest dignity where the host stands; null where it has none, and
    /// the reception is not mutual.
    pub in_return: Option<&'static str>,
    /// The aspect by degree that they are in.
    pub aspect: Option<&'static str>,
}

/// A star near a body or an angle.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct StarNearAnswer {
    /// The star.
    pub star: &'static str,
    /// Its longitude.
    pub longitude_deg: f64,
    /// What it stands near.
    pub near: &'static str,
    /// How much further on.
    pub away_deg: f64,
}

/// Something that a little time would change.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct CloseAnswer {
    /// What, in a sentence.
    pub sentence: String,
    /// By how many seconds the clock would have to be later; negative: earlier.
    pub seconds: f64,
    /// How far the border is now, where it is a degree.
    pub away_deg: Option<f64>,
}

/// What a reading makes otherwise than calculation has it.
pub(crate) fn changes(exact: &Figure, read: &Figure) -> Vec<String> {
    let mut found = Vec::new();
    for (one, other) in exact.bodies.iter().zip(&read.bodies) {
        if let (Some(was), Some(is)) = (one.house, other.house)
            && was != is
        {
            found.push(format!(
                "{} is in house {was} by calculation, in {is} by the reading.",
                one.body
            ));
        }
    }
    let sign = |longitude: Angle| sign_and_degree(longitude).0.name();
    let mut signs = vec![("The midheaven", exact.midheaven, read.midheaven)];
    if let (Ok(exact), Ok(read)) = (&exact.ascendant, &read.ascendant) {
        signs.insert(0, ("The ascendant", *exact, *read));
    }
    for (name, was, is) in signs {
        if sign(was) != sign(is) {
            found.push(format!(
                "{name} is in {} by calculation, in {} by the reading.",
                sign(was),
                sign(is)
            ));
        }
    }
    if exact.sect != read.sect {
        found.push(format!(
            "It is {} by calculation, {} by the reading.",
            exact.sect, read.sect
        ));
    }
    if let (Ok(was), Ok(is)) = (&exact.hour, &read.hour)
        && (was.ruler, was.number) != (is.ruler, is.number)
    {
        found.push(format!(
            "The hour is {}'s by calculation, {}'s by the reading.",
            the(was.ruler.name()),
            the(is.ruler.name())
        ));
    }
    found
}

/// The same of nodes and lots. A lot moves with the ascendant, into another sign too.
pub(crate) fn changed_points(exact: &FinishedFigure, read: &FinishedFigure) -> Vec<String> {
    let mut found = Vec::new();
    let mut house = |name: &str, was: Option<u8>, is: Option<u8>| {
        let numeral = |number| House::from_number(number).map(|house| house.to_string());
        if let (Some(was), Some(is)) = (was.and_then(numeral), is.and_then(numeral))
            && was != is
        {
            found.push(format!(
                "{name} is in house {was} by calculation, in {is} by the reading."
            ));
        }
    };
    for (one, other) in exact.nodes.iter().zip(&read.nodes) {
        house(&format!("The {}", one.name), one.house, other.house);
    }
    for (one, other) in exact.lots.iter().zip(&read.lots) {
        house(&format!("The lot of {}", one.name), one.house, other.house);
    }
    let sign = |deg: f64| sign_and_degree(Angle::from_deg(deg)).0.name();
    for (one, other) in exact.lots.iter().zip(&read.lots) {
        if let (Some(was), Some(is)) = (one.longitude_deg, other.longitude_deg)
            && sign(was) != sign(is)
        {
            found.push(format!(
                "The lot of {} is in {} by calculation, in {} by the reading.",
                one.name,
                sign(was),
                sign(is)
            ));
        }
    }
    found
}

impl CloseAnswer {
    pub(crate) fn of(close: &Close) -> CloseAnswer {
        let what = match close.change {
            Change::House(body, from, to) => format!("{body} is in house {from}, and in {to}"),
            Change::Ascendant(from, to) => {
                format!("The ascendant is in {}, and in {}", from.name(), to.name())
            }
            Change::Midheaven(from, to) => {
                format!("The midheaven is in {}, and in {}", from.name(), to.name())
            }
            Change::Hour(from, to) => format!(
                "The hour is {}'s, and {}'s",
                the(from.name()),
                the(to.name())
            ),
            Change::Sect(true) => "It is night, and day".to_owned(),
            Change::Sect(false) => "It is day, and night".to_owned(),
        };
        let side = if close.seconds < 0.0 {
            "earlier"
        } else {
            "later"
        };
        let away = close.away.map_or_else(String::new, |away| {
            format!("; the border is {} away", words::Degrees(away.abs()))
        });
        CloseAnswer {
            sentence: format!(
                "{what} {} {side}{away}.",
                minutes_and_seconds(close.seconds.abs())
            ),
            seconds: close.seconds,
            away_deg: close.away.map(Angle::deg),
        }
    }
}

/// `3 min 20 s`.
fn minutes_and_seconds(seconds: f64) -> String {
    let whole = seconds.round();
    let (minutes, rest) = ((whole / 60.0).floor(), whole % 60.0);
    if minutes > 0.0 {
        format!("{minutes} min {rest} s")
    } else {
        format!("{rest} s")
    }
}

impl FinishedFigure {
    pub(crate) fn of(
        figure: &Figure,
        choices: &Choices,
        moment: &Moment,
        from: String,
    ) -> FinishedFigure {
        let south = (figure.north_node.0 + Angle::HALF_TURN).in_turn();
        FinishedFigure {
            from,
            ascendant_deg: figure.ascendant.ok().map(|angle| angle.in_turn().deg()),
            midheaven_deg: figure.midheaven.in_turn().deg(),
            cusps_deg: figure.cusps.ok().map(|cusps| cusps.all().map(Angle::deg)),
            sect: figure.sect.name(),
            hour: figure
                .hour
                .ok()
                .map(|hour| PlanetaryHourAnswer::of(&hour, figure, moment)),
            bodies: figure.bodies.iter().map(PlacedAnswer::of).collect(),
            nodes: vec![
                PointAnswer {
                    name: "north node",
                    longitude_deg: figure.north_node.0.in_turn().deg(),
                    house: figure.north_node.1.map(House::number),
                },
                PointAnswer {
                    name: "south node",
                    longitude_deg: south.deg(),
                    house: figure
                        .cusps
                        .ok()
                        .map(|cusps| choices.border.house_of(&cusps, south).number()),
                },
            ],
            lots: choices
                .lots
                .all()
                .iter()
                .zip(&figure.lots)
                .map(|(lot, place)| LotAnswer {
                    name: lot.name.clone(),
                    longitude_deg: place.map(|(longitude, _)| longitude.in_turn().deg()),
                    house: place.and_then(|(_, house)| house).map(House::number),
                    source: lot.source.clone(),
                })
                .collect(),
            lunation: figure.lunation.map(|lunation| LunationAnswer {
                phase: if lunation.phase == Phase::Full {
                    "full"
                } else {
                    "new"
                },
                longitude_deg: lunation.moon.in_turn().deg(),
                at: by_clock(moment, lunation.instant),
            }),
            aspects: figure.aspects.iter().map(AspectAnswer::of).collect(),
            receptions: figure
                .receptions
                .iter()
                .map(|one| ReceptionAnswer {
                    guest: one.guest.name(),
                    host: one.host.name(),
                    by: one.by.name(),
                    in_return: one.in_return.map(Dignity::name),
                    aspect: one.aspect.map(AspectKind::name),
                })
                .collect(),
            stars: figure
                .stars
                .iter()
                .map(|near| StarNearAnswer {
                    star: near.star,
                    longitude_deg: near.longitude.deg(),
                    near: near.to,
                    away_deg: near.away.deg(),
                })
                .collect(),
        }
    }
}

/// To the second: more than the Sun's rising is known to.
fn rounded(time: CivilTime) -> CivilTime {
    let seconds = time.time.seconds();
    time.plus_seconds(seconds.round() - seconds)
}

/// The Sun and the Moon have the article.
pub(crate) fn the(name: &str) -> String {
    match name {
        "Sun" | "Moon" => format!("the {name}"),
        other => other.to_owned(),
    }
}

pub(crate) fn by_clock(moment: &Moment, instant: Instant) -> String {
    match moment.clock_at(instant) {
        Ok(time) => rounded(time).to_string(),
        Err(error) => error.to_string(),
    }
}

impl PlanetaryHourAnswer {
    fn of(hour: &PlanetaryHour, figure: &Figure, moment: &Moment) -> PlanetaryHourAnswer {
        let (begins, ends) = figure
            .day
            .as_ref()
            .map_or((hour.begins, hour.ends), |day| (day.begins, day.ends));
        PlanetaryHourAnswer {
            number: hour.number,
            of: hour.sect.name(),
            ruler: hour.ruler.name(),
            day_ruler: hour.day_ruler.name(),
            begins: by_clock(moment, hour.begins),
            ends: by_clock(moment, hour.ends),
            minutes: hour.ends.seconds_since(hour.begins) / 60.0,
            between: [by_clock(moment, begins), by_clock(moment, ends)],
        }
    }
}

impl PlacedAnswer {
    fn of(placed: &figure::Placed) -> PlacedAnswer {
        PlacedAnswer {
            name: placed.body.name(),
            longitude_deg: placed.place.longitude.in_turn().deg(),
            latitude_deg: placed.place.latitude.deg(),
            house: placed.house.map(House::number),
            up: placed.up,
            speed_deg_per_day: placed.motion.speed.deg(),
            mean_speed_deg_per_day: placed.motion.mean.map(Angle::deg),
            retrograde: placed.motion.retrograde,
            swift: placed.motion.swift,
            under_sun: placed.under_sun.map(figure::UnderSun::name),
            dignities: placed.dignities.as_ref().map(DignitiesAnswer::of),
            antiscion_deg: placed.antiscion.deg(),
            contra_antiscion_deg: placed.contra_antiscion.deg(),
            oblique_ascension_deg: placed.oblique_ascension.map(Angle::deg),
        }
    }
}

impl DignitiesAnswer {
    fn of(dignities: &figure::Dignities) -> DignitiesAnswer {
        let rulers = dignities.rulers();
        let triplicity = rulers.triplicity;
        DignitiesAnswer {
            ruler: rulers.rulership.name(),
            exalted: rulers.exaltation.map(figure::Planet::name),
            triplicity: [
                Some(triplicity.day),
                Some(triplicity.night),
                triplicity.always,
            ]
            .into_iter()
            .flatten()
            .map(figure::Planet::name)
            .collect(),
            term: rulers.term.name(),
            face: rulers.face.name(),
            has: dignities.all().map(Dignity::name).collect(),
            score: dignities.score(),
        }
    }
}

impl AspectAnswer {
    fn of(aspect: &Aspect) -> AspectAnswer {
        AspectAnswer {
            faster: aspect.faster.name(),
            kind: AspectKind::name(aspect.kind),
            slower: aspect.slower.name(),
            away_deg: aspect.away.deg(),
            limit_deg: aspect.limit.deg(),
            applying: aspect.applying,
            by_sign: aspect.by_sign,
        }
    }
}

/// A longitude as the trade says it.
pub(crate) fn said(longitude: Angle) -> String {
    Zodiacal(longitude).to_string()
}
