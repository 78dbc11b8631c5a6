use figure::{
    AppearanceKind, Planet, Sight, SolarKind, Target, appearances, lunar_eclipses, solar_eclipses,
};
use schemars::JsonSchema;
use serde::Serialize;
use sky::{Body, Instant, Phase, Plain, Sky, SkyError, Zodiacal, ingresses, moon_phases, stations};
use words::Degrees;

use crate::answer::ClockTimeAnswer;
use crate::year_understood::{Book, DAY_S};

/// Something that happens in a year.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct YearEventAnswer {
    /// When, on the clock, to the second.
    pub at: ClockTimeAnswer,
    /// When, as a Julian date of Universal Time.
    pub jd_ut: f64,
    /// `lunation`, `ingress`, `moon-ingress`, `station`, `appearance`, `eclipse` or `clock`.
    #[schemars(extend("enum" = ["lunation", "ingress", "moon-ingress", "station", "appearance", "eclipse", "clock"]))]
    pub kind: &'static str,
    /// Whether it stands among the few that the year is known by.
    #[serde(skip)]
    pub at_a_glance: bool,
    /// What, in a few words.
    pub what: String,
}

/// What kind of thing happens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum EventKind {
    Lunation,
    Ingress,
    /// The Sun's, at an equinox or a solstice.
    Season,
    MoonIngress,
    Station,
    Appearance,
    Eclipse,
    Clock,
}

impl EventKind {
    const fn name(self) -> &'static str {
        match self {
            EventKind::Lunation => "lunation",
            EventKind::Ingress | EventKind::Season => "ingress",
            EventKind::MoonIngress => "moon-ingress",
            EventKind::Station => "station",
            EventKind::Appearance => "appearance",
            EventKind::Eclipse => "eclipse",
            EventKind::Clock => "clock",
        }
    }

    /// Eclipses, seasons, stations and the clock.
    const fn is_at_a_glance(self) -> bool {
        match self {
            EventKind::Season | EventKind::Station | EventKind::Eclipse | EventKind::Clock => true,
            EventKind::Lunation
            | EventKind::Ingress
            | EventKind::MoonIngress
            | EventKind::Appearance => false,
        }
    }
}

/// All that happens, in order.
pub(crate) fn events(book: &Book) -> Result<Vec<YearEventAnswer>, SkyError> {
    let mut found: Vec<Found> = Vec::new();
    let (from, until) = (book.begins, book.ends);
    for phase in moon_phases(from, until)? {
        let phase = phase?;
        let moon = Sky::at(phase.instant)?.body(Body::Moon).longitude;
        let name = match phase.phase {
            Phase::New => "New Moon",
            Phase::FirstQuarter => "First quarter",
            Phase::Full => "Full Moon",
            Phase::LastQuarter => "Last quarter",
        };
        found.push((
            phase.instant,
            EventKind::Lunation,
            format!("{name}, {}", Zodiacal(moon)),
        ));
    }
    for planet in Planet::ALL {
        let body = planet.body();
        for entry in ingresses(body, from, until)? {
            let entry = entry?;
            let into = if entry.retrograde {
                entry.border - sky::Angle::from_deg(1.0)
            } else {
                entry.border
            };
            let sign = figure::sign_and_degree(into).0.name();
            let back = if entry.retrograde {
                "back into"
            } else {
                "enters"
            };
            let season = match (body, (entry.border.deg() / 30.0).round() as i32) {
                (Body::Sun, 0) => ": the March equinox",
                (Body::Sun, 3) => ": the June solstice",
                (Body::Sun, 6) => ": the September equinox",
                (Body::Sun, 9) => ": the December solstice",
                _ => "",
            };
            let kind = match body {
                Body::Moon => EventKind::MoonIngress,
                _ if season.is_empty() => EventKind::Ingress,
                _ => EventKind::Season,
            };
            found.push((entry.instant, kind, format!("{body} {back} {sign}{season}")));
        }
        for station in stations(body, from, until)? {
            let station = station?;
            let at = Sky::at(station.instant)?.body(body).longitude;
            let turns = if station.turns_retrograde {
                "retrograde"
            } else {
                "direct"
            };
            found.push((
                station.instant,
                EventKind::Station,
                format!("{body} turns {turns}, {}", Zodiacal(at)),
            ));
        }
    }
    found.extend(first_and_last(book)?);
    found.extend(eclipses(book)?);
    found.extend(clock_changes(book)?);
    found.sort_by(|a, b| a.0.seconds_since(b.0).total_cmp(&0.0));
    found
        .into_iter()
        .map(|(instant, kind, what)| {
            Ok(YearEventAnswer {
                at: book.clock(instant)?,
                jd_ut: instant.jd_ut(),
                kind: kind.name(),
                at_a_glance: kind.is_at_a_glance(),
                what,
            })
        })
        .collect()
}

type Found = (Instant, EventKind, String);

/// The planets' first and last mornings and evenings, by Ptolemy's arcs of vision.
fn first_and_last(book: &Book) -> Result<Vec<Found>, SkyError> {
    let mut found = Vec::new();
    for planet in Planet::ALL {
        for one in appearances(planet, book.site(), book.begins, book.ends)? {
            let body = planet.body();
            let words = match one.kind {
                AppearanceKind::MorningFirst => "is first seen in the morning",
                AppearanceKind::MorningLast => "is last seen in the morning",
                AppearanceKind::EveningFirst => "is first seen in the evening",
                AppearanceKind::EveningLast => "is last seen in the evening",
            };
            found.push((
                one.instant,
                EventKind::Appearance,
                format!("{body} {words}"),
            ));
        }
    }
    Ok(found)
}

fn eclipses(book: &Book) -> Result<Vec<Found>, SkyError> {
    let mut found = Vec::new();
    let site = book.site();
    let minute = |instant: Instant| -> Result<String, SkyError> {
        // Times of contact are told to the minute.
        let clock = book.clock(instant.plus_seconds(30.0))?;
        Ok(format!("{:.5}", clock.time().to_string()))
    };
    for eclipse in lunar_eclipses(book.begins, book.ends)? {
        let (kind, magnitude, span) = match (eclipse.total, eclipse.umbra) {
            (Some(_), Some(span)) => ("total", eclipse.umbral_magnitude, span),
            (_, Some(span)) => ("partial", eclipse.umbral_magnitude, span),
            _ => ("penumbral", eclipse.penumbral_magnitude, eclipse.penumbra),
        };
        let sky = Sky::at(eclipse.greatest)?;
        let moon = site.position(&sky, Target::Body(Body::Moon), Sight::ALIDADE);
        let here = if moon.altitude.deg() > 0.0 {
            format!("the Moon {} high here", Degrees(moon.altitude))
        } else {
            "the Moon below the horizon here".to_owned()
        };
        found.push((
            eclipse.greatest,
            EventKind::Eclipse,
            format!(
                "Eclipse of the Moon, {kind}, magnitude {}, {} to {}; {here}",
                parts(magnitude),
                minute(span.0)?,
                minute(span.1)?
            ),
        ));
    }
    for eclipse in solar_eclipses(book.begins, book.ends)? {
        let kind = match eclipse.kind {
            SolarKind::Partial => "partial",
            SolarKind::Annular => "annular",
            SolarKind::Total => "total",
        };
        let local = eclipse.at(site)?.filter(|local| local.altitude.deg() > 0.0);
        let (at, here) = match local {
            None => (eclipse.greatest, "not seen here at its greatest".to_owned()),
            Some(local) => (
                local.greatest,
                format!(
                    "here magnitude {}, {} to {}, the Sun {} high; never look at it",
                    parts(local.magnitude),
                    minute(local.contacts.0)?,
                    minute(local.contacts.1)?,
                    Degrees(local.altitude)
                ),
            ),
        };
        found.push((
            at,
            EventKind::Eclipse,
            format!("Eclipse of the Sun, {kind} where it is most; {here}"),
        ));
    }
    Ok(found)
}

/// When the clock is put forward or back.
fn clock_changes(book: &Book) -> Result<Vec<Found>, SkyError> {
    let Some(zone) = book.moment().zone() else {
        return Ok(Vec::new());
    };
    // The Julian date of 1 January 1970.
    const EPOCH: f64 = 2_440_587.5;
    let unix = |instant: Instant| {
        let (day, fraction) = instant.ut_parts();
        ((day - EPOCH + fraction) * DAY_S) as i64
    };
    let mut found = Vec::new();
    let mut span = zone.span_at(unix(book.begins));
    while let Some(until) = span.until_unix_s().filter(|until| *until < unix(book.ends)) {
        let next = zone.span_at(until);
        let change_min = (next.offset().seconds() - span.offset().seconds()) / 60.0;
        let instant = Instant::from_ut(EPOCH, until as f64 / DAY_S);
        if change_min.abs() > 0.0 {
            let way = if change_min > 0.0 { "forward" } else { "back" };
            found.push((
                instant,
                EventKind::Clock,
                format!("The clock is put {way} by {:.0} minutes", change_min.abs()),
            ));
        }
        span = next;
    }
    Ok(found)
}

/// A magnitude in words: parts of the diameter to a hundredth.
fn parts(magnitude: f64) -> String {
    Plain((magnitude * 100.0).round() / 100.0).to_string()
}
