use figure::{Culmination, HorizonCourse, Sight, Site, Target, culminations};
use moment::{Moment, Place};
use schemars::JsonSchema;
use serde::Serialize;
use sky::{Body, Instant, Sky, SkyError, Span, stations};

use super::{BodyAnswer, PlaceAnswer, WhenAnswer};

const SECONDS_PER_DAY: f64 = 86_400.0;

/// The planets at a moment.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PlanetsAnswer {
    /// The moment.
    pub moment: WhenAnswer,
    /// The place; null where none is said.
    pub place: Option<PlaceAnswer>,
    /// True obliquity of the ecliptic.
    pub obliquity_deg: f64,
    /// Apparent sidereal time: of the place, or of Greenwich where none is said.
    pub sidereal_time_deg: f64,
    /// The Sun, the Moon and the planets, seen from the Earth's centre, by the true
    /// equator and equinox of date.
    pub bodies: Vec<PlanetAnswer>,
    /// The Moon's ascending node.
    pub nodes: NodesAnswer,
}

/// Where a body appears, how it moves, and how it stands at the place.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PlanetAnswer {
    /// Where it appears.
    #[serde(flatten)]
    pub body: BodyAnswer,
    /// Distance, in astronomical units.
    pub distance_au: f64,
    /// `direct`, `retrograde`, or `station`: it stands still within a day.
    pub motion: &'static str,
    /// The station within a day before or after, where there is one.
    pub station: Option<StationAnswer>,
    /// How it stands at the place; null where none is said.
    pub at_place: Option<PlaceOnHorizonAnswer>,
}

/// A planet stands still in longitude.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct StationAnswer {
    /// When, by the moment's clock.
    pub clock_time: String,
    /// When, as a Julian date of Universal Time.
    pub jd_ut: f64,
    /// How it moves from then on: `direct` or `retrograde`.
    pub turns: &'static str,
}

/// How a body stands at a place, and its course on the day of the moment, which goes
/// from midnight to midnight by the moment's clock.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PlaceOnHorizonAnswer {
    /// Altitude of the centre, from the Earth's centre, without refraction.
    pub altitude_deg: f64,
    /// Altitude of the centre as it is sighted: from the place itself, through the air.
    pub seen_altitude_deg: f64,
    /// Direction along the horizon, from north by east.
    pub azimuth_deg: f64,
    /// Hour angle, in (−180, 180].
    pub hour_angle_deg: f64,
    /// Risings on that day: upper limb, through the air, from the place itself.
    pub rises: Vec<EventAnswer>,
    /// Upper culminations on that day.
    pub culminates: Vec<EventAnswer>,
    /// Settings on that day, as the risings.
    pub sets: Vec<EventAnswer>,
    /// `above` or `below` where it neither rises nor sets on that day, else null.
    pub stays: Option<&'static str>,
}

/// Something that happens on the horizon or the meridian.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct EventAnswer {
    /// When, by the moment's clock.
    pub clock_time: String,
    /// When, as a Julian date of Universal Time.
    pub jd_ut: f64,
    /// Altitude of the centre then, as it is sighted.
    pub seen_altitude_deg: f64,
    /// Direction along the horizon then.
    pub azimuth_deg: f64,
}

/// Longitudes of the Moon's ascending node, from the true equinox.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct NodesAnswer {
    /// Of the mean orbit.
    pub mean_deg: f64,
    /// Of the ellipse that the Moon follows at the moment.
    pub true_deg: f64,
}

impl PlanetsAnswer {
    pub(crate) fn of(moment: &Moment, place: Option<&Place>) -> Result<PlanetsAnswer, SkyError> {
        let sky = moment.sky();
        let bodies = Body::ALL
            .into_iter()
            .map(|body| PlanetAnswer::of(moment, place, body))
            .collect::<Result<_, _>>()?;
        Ok(PlanetsAnswer {
            moment: WhenAnswer::of(moment),
            place: place.map(PlaceAnswer::of),
            obliquity_deg: sky.obliquity().deg(),
            sidereal_time_deg: moment.sidereal_time().in_turn().deg(),
            bodies,
            nodes: NodesAnswer {
                mean_deg: sky.mean_node().in_turn().deg(),
                true_deg: sky.true_node().in_turn().deg(),
            },
        })
    }
}

impl PlanetAnswer {
    fn of(moment: &Moment, place: Option<&Place>, body: Body) -> Result<PlanetAnswer, SkyError> {
        let seen = moment.sky().body(body);
        let station = StationAnswer::near(moment, body)?;
        Ok(PlanetAnswer {
            body: BodyAnswer::of(moment.sky(), body),
            distance_au: seen.distance_au,
            motion: match (&station, seen.is_retrograde()) {
                (Some(_), _) => "station",
                (None, true) => "retrograde",
                (None, false) => "direct",
            },
            station,
            at_place: place
                .map(|place| PlaceOnHorizonAnswer::of(moment, place, body))
                .transpose()?,
        })
    }
}

impl StationAnswer {
    fn near(moment: &Moment, body: Body) -> Result<Option<StationAnswer>, SkyError> {
        let [from, until] = within_span(
            [-SECONDS_PER_DAY, SECONDS_PER_DAY]
                .map(|seconds| moment.instant().plus_seconds(seconds)),
        );
        let Some(station) = stations(body, from, until)?.next() else {
            return Ok(None);
        };
        let station = station?;
        Ok(Some(StationAnswer {
            clock_time: clock_time(moment, station.instant)?,
            jd_ut: station.instant.jd_ut(),
            turns: if station.turns_retrograde {
                "retrograde"
            } else {
                "direct"
            },
        }))
    }
}

impl PlaceOnHorizonAnswer {
    fn of(moment: &Moment, place: &Place, body: Body) -> Result<PlaceOnHorizonAnswer, SkyError> {
        let site = Site {
            latitude: place.latitude,
            longitude: place.longitude,
        };
        let target = Target::Body(body);
        let sky = moment.sky();
        let geometric = site.position(sky, target, Sight::GEOMETRIC);
        let [from, until] = within_span(moment.day()?);
        let (mut rises, mut sets) = (Vec::new(), Vec::new());
        let stays = match HorizonCourse::of(target, site, Sight::ALMANAC, from, until)? {
            HorizonCourse::StaysAbove => Some("above"),
            HorizonCourse::StaysBelow => Some("below"),
            HorizonCourse::Crosses(crossings) => {
                for crossing in crossings {
                    let event = EventAnswer::of(moment, site, target, crossing.instant)?;
                    if crossing.rises {
                        &mut rises
                    } else {
                        &mut sets
                    }
                    .push(event);
                }
                None
            }
        };
        let culminates = culminations(target, site, from, until)?
            .filter(|one| one.as_ref().map_or(true, |one| one.upper))
            .map(|one| {
                let Culmination { instant, .. } = one?;
                EventAnswer::of(moment, site, target, instant)
            })
            .collect::<Result<_, _>>()?;
        Ok(PlaceOnHorizonAnswer {
            altitude_deg: geometric.altitude.deg(),
            seen_altitude_deg: site.position(sky, target, Sight::ALIDADE).altitude.deg(),
            azimuth_deg: geometric.azimuth.in_turn().deg(),
            hour_angle_deg: site.hour_angle(sky, target).deg(),
            rises,
            culminates,
            sets,
            stays,
        })
    }
}

impl EventAnswer {
    fn of(
        moment: &Moment,
        site: Site,
        target: Target<'_>,
        instant: Instant,
    ) -> Result<EventAnswer, SkyError> {
        let seen = site.position(&Sky::at(instant)?, target, Sight::ALIDADE);
        Ok(EventAnswer {
            clock_time: clock_time(moment, instant)?,
            jd_ut: instant.jd_ut(),
            seen_altitude_deg: seen.altitude.deg(),
            azimuth_deg: seen.azimuth.in_turn().deg(),
        })
    }
}

/// By the moment's clock, to the second.
fn clock_time(moment: &Moment, instant: Instant) -> Result<String, SkyError> {
    let shown = moment.clock_at(instant)?;
    let to_second = shown.time.seconds().round() - shown.time.seconds();
    Ok(shown.plus_seconds(to_second).to_string())
}

/// As much of an interval as the ephemeris covers.
fn within_span(interval: [Instant; 2]) -> [Instant; 2] {
    interval.map(|instant| {
        if instant.jd_tt() < Span::FIRST_JD {
            Instant::from_jd_tt(Span::FIRST_JD)
        } else if instant.jd_tt() > Span::LAST_JD {
            Instant::from_jd_tt(Span::LAST_JD)
        } else {
            instant
        }
    })
}
