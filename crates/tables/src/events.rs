use figure::AspectKind;
use sky::{
    Angle, Body, Instant, Phase, Search, Sign, Sky, SkyError, Sought, Span, Tracked, Zodiacal,
    ingresses, moon_phases, stations,
};

/// The planets whose aspects are told: the seven of the old books.
const SEVEN: [Body; 7] = [
    Body::Sun,
    Body::Moon,
    Body::Mercury,
    Body::Venus,
    Body::Mars,
    Body::Jupiter,
    Body::Saturn,
];

/// What happens between two instants, a line for each kind; each is told with its time.
/// At the very ends of the ephemeris, where nothing can be sought, nothing is told.
pub(crate) fn events(ends: [Instant; 2], told: impl Fn(Instant) -> String) -> Vec<String> {
    let ends = ends.map(within_span);
    let lines: [(&str, Result<Found, SkyError>); 4] = [
        ("Lunations", lunations(ends)),
        ("Ingresses", all_ingresses(ends)),
        ("Stations", all_stations(ends)),
        ("Aspects", aspects(ends)),
    ];
    let line = |(kind, found): (&str, Result<Found, SkyError>)| {
        let mut found = found.ok()?;
        found.sort_by(|a, b| a.0.jd_tt().total_cmp(&b.0.jd_tt()));
        let each = found
            .iter()
            .map(|(instant, words)| format!("{} {words}", told(*instant)));
        let texts: Vec<String> = each.collect();
        (!texts.is_empty()).then(|| format!("{kind}: {}.", texts.join("; ")))
    };
    lines.into_iter().filter_map(line).collect()
}

/// What happens, each with its instant.
type Found = Vec<(Instant, String)>;

fn within_span(instant: Instant) -> Instant {
    if Span::contains_jd_tt(instant.jd_tt()) {
        instant
    } else if instant.jd_tt() < Span::FIRST_JD {
        Instant::from_jd_tt(Span::FIRST_JD)
    } else {
        Instant::from_jd_tt(Span::LAST_JD)
    }
}

fn lunations([from, until]: [Instant; 2]) -> Result<Found, SkyError> {
    moon_phases(from, until)?
        .map(|found| {
            let found = found?;
            let moon = Sky::at(found.instant)?.body(Body::Moon).longitude;
            let name = match found.phase {
                Phase::New => "new Moon",
                Phase::FirstQuarter => "first quarter",
                Phase::Full => "full Moon",
                Phase::LastQuarter => "last quarter",
            };
            Ok((found.instant, format!("{name} {}", Zodiacal(moon))))
        })
        .collect()
}

fn all_ingresses([from, until]: [Instant; 2]) -> Result<Found, SkyError> {
    let mut all = Vec::new();
    for body in Body::ALL {
        for found in ingresses(body, from, until)? {
            let found = found?;
            let into = found.border - Angle::from_deg(if found.retrograde { 1.0 } else { 0.0 });
            let sign: Sign = Zodiacal(into).sign();
            all.push((found.instant, format!("{body} into {}", sign.name())));
        }
    }
    Ok(all)
}

fn all_stations([from, until]: [Instant; 2]) -> Result<Found, SkyError> {
    let mut all = Vec::new();
    for body in Body::ALL {
        if matches!(body, Body::Sun | Body::Moon) {
            continue;
        }
        for found in stations(body, from, until)? {
            let found = found?;
            let at = Sky::at(found.instant)?.body(body).longitude;
            let turns = if found.turns_retrograde {
                "retrograde"
            } else {
                "direct"
            };
            all.push((
                found.instant,
                format!("{body} turns {turns} in {}", Zodiacal(at)),
            ));
        }
    }
    Ok(all)
}

/// Conjunctions, sextiles, squares, trines and oppositions. The Moon's with the Sun
/// that are lunations are told there.
fn aspects([from, until]: [Instant; 2]) -> Result<Found, SkyError> {
    const SIGN: Angle = Angle::from_deg(30.0);
    let mut all = Vec::new();
    for (index, one) in SEVEN.into_iter().enumerate() {
        for other in SEVEN.into_iter().skip(index + 1) {
            let apart = move |instant| {
                let sky = Sky::at(instant)?;
                let (a, b) = (sky.body(one), sky.body(other));
                Ok::<_, SkyError>((b.longitude - a.longitude, b.speed - a.speed))
            };
            let track = move |instant| {
                let (apart, rate) = apart(instant)?;
                Ok(Tracked {
                    away: apart - SIGN * (apart / SIGN).round(),
                    rate,
                })
            };
            let with_moon = other == Body::Moon || one == Body::Moon;
            // The Moon leaves another by 15° a day at most, planets each other by 3°.
            let step_days = if with_moon { 0.8 } else { 4.0 };
            let search = Search::new(track, Sought::Passage(SIGN), step_days, from, until)?;
            for found in search {
                let instant = found?.instant;
                let (apart, _) = apart(instant)?;
                let signs = (apart.signed().abs() / SIGN).round() * 30.0;
                let kind = AspectKind::ALL
                    .into_iter()
                    .find(|kind| (kind.arc().deg() - signs).abs() < 1.0);
                let is_lunation = with_moon
                    && one == Body::Sun
                    && kind.is_some_and(|kind| kind.arc().deg() % 90.0 < 1.0);
                if let (Some(kind), false) = (kind, is_lunation) {
                    let faster = if with_moon { Body::Moon } else { one };
                    let slower = if faster == other { one } else { other };
                    all.push((instant, format!("{faster} {} {slower}", kind.name())));
                }
            }
        }
    }
    Ok(all)
}
