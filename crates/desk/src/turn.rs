use instrument::{DateFrom, Instrument, LineId, Pick, Point, RetePoint, State};
use practice::{AsItStands, Given, Reading, Value};
use schemars::JsonSchema;
use serde::Deserialize;
use sky::{Angle, Latitude, Plain};
use words::{Day, Degrees, ValueInWords};

use crate::answer::{
    DrawnPoint, HourAnswer, PointerAnswer, ReadAnswer, StarAnswer, StateAnswer, TurnAnswer,
    amount_deg, reads_to_text, time_for_rule, value_deg,
};
use crate::cabinet::Cabinet;
use crate::casting::Casting;
use crate::refusal::{Field, Refusal};
use crate::request::CastRequest;
use crate::rete_moment::moment_of_rete;

/// What is asked when a hand has turned the instrument.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct TurnRequest {
    /// The case on which the instrument is used: it gives the date and the clock.
    pub case: CastRequest,
    /// How the parts stand.
    pub state: StateRequest,
    /// A place on the front to say something about.
    pub pointer: Option<DrawnPoint>,
}

/// How the parts of an instrument stand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct StateRequest {
    /// The plate, by its latitude.
    pub plate_latitude_deg: f64,
    /// The hour angle of 0° Aries.
    pub rete_deg: f64,
    /// The hour angle of the rule on the limb.
    pub rule_deg: f64,
    /// The degree of the zodiac scale under the alidade.
    pub alidade_deg: f64,
}

/// Beyond this the digits of an angle no longer say where a part stands to the second.
const MOST_TURNED_DEG: f64 = 1e9;

/// How near a pointer must be to a line or a star's tip, as a part of the mater's radius.
const NEAR: f64 = 0.035;

/// Reads an instrument whose parts stand as a hand has left them, and says which
/// moment they mean.
///
/// # Errors
/// When the case cannot be understood, or the plate has no such latitude.
pub fn turn(
    request: &TurnRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<TurnAnswer, Refusal> {
    let case = Casting::of(&request.case, cabinet, now_unix_s)?;
    let state = request.state.understood()?;
    let given = case.given(&case.instrument);
    let look = AsItStands {
        instrument: &case.instrument,
        state,
        eye: case.instrument.eye(),
    };
    let degree = |what: [&str; 2], line, pick| {
        let reading = look.ecliptic_at(&line, pick).ok()?;
        Some(ReadAnswer::degree(what, reading))
    };
    let rule = look.rule_on_limb();
    let mut answer = TurnAnswer {
        state: StateAnswer::of(&state),
        ascendant: degree(["ascendant", "ascendant"], LineId::Horizon, Pick::Eastern),
        midheaven: degree(
            ["midheaven", "midheaven"],
            LineId::MeridianLine,
            Pick::Drawn,
        ),
        hour: HourAnswer {
            deg: rule.value.number().rem_euclid(360.0),
            reads_to_deg: amount_deg(rule.reads_to),
            reads_to_text: reads_to_text(rule.reads_to),
            text: ValueInWords(rule.value).to_string(),
            time: time_for_rule(case.instrument.date_from().wants_mean_time()),
        },
        under_rule: degree(
            ["under-rule", "degree under the rule"],
            LineId::RuleEdge,
            Pick::Drawn,
        ),
        date_under_rule: date_under_rule(&case.instrument, &state),
        alidade: ReadAnswer::degree(
            ["under-alidade", "degree under the alidade"],
            look.alidade_on_zodiac(),
        ),
        date_under_alidade: (case.instrument.specification().date_from == DateFrom::Zodiac)
            .then(|| Day(case.instrument.dates().date_at(state.alidade)).to_string()),
        sun_altitude: sun_altitude(&look, &given),
        under_pointer: request.pointer.map(|p| under(&look, p.on(look.instrument))),
        means: moment_of_rete(&case, &given, &state),
        words: String::new(),
    };
    answer.words = words(&answer);
    Ok(answer)
}

impl StateRequest {
    fn understood(self) -> Result<State, Refusal> {
        let plate = Latitude::from_deg(self.plate_latitude_deg)
            .map_err(|error| Refusal::new(Field::State, error))?;
        let turned = |part: &str, deg: f64| {
            if deg.abs() <= MOST_TURNED_DEG {
                Ok(Angle::from_deg(deg).in_turn())
            } else {
                Err(Refusal::new(
                    Field::State,
                    format!(
                        "the {part} cannot stand at {}°; 0 to 360 would do",
                        Plain(deg)
                    ),
                ))
            }
        };
        Ok(State {
            plate,
            rete: turned("rete", self.rete_deg)?,
            rule: turned("rule", self.rule_deg)?,
            alidade: turned("alidade", self.alidade_deg)?,
        })
    }
}

impl ReadAnswer {
    fn degree(what: [&str; 2], reading: Reading) -> ReadAnswer {
        ReadAnswer::of(what, reading, ValueInWords(reading.value).to_string())
    }

    /// A reading, with its name and what it is in words.
    fn of([name, what]: [&str; 2], reading: Reading, text: String) -> ReadAnswer {
        ReadAnswer {
            name: name.to_owned(),
            what: what.to_owned(),
            deg: value_deg(reading.value),
            reads_to_deg: amount_deg(reading.reads_to),
            reads_to_text: reads_to_text(reading.reads_to),
            text: Some(text),
        }
    }
}

/// `34°12′`, or `12°05′ below the horizon`.
fn altitude(reading: Reading) -> String {
    match reading.value {
        Value::Height(height) if height < Angle::ZERO => {
            format!("{} below the horizon", Degrees(height))
        }
        value => ValueInWords(value).to_string(),
    }
}

/// The Sun's altitude, at its degree of the ecliptic: as the calendar scale has
/// it, or the ephemeris where the instrument has none.
fn sun_altitude(look: &AsItStands<'_>, given: &Given) -> ReadAnswer {
    let degree = match look.instrument.date_from() {
        DateFrom::Zodiac => look.instrument.dates().at(given.date),
        _ => given.sun.longitude,
    };
    let at = look
        .instrument
        .rete_point(RetePoint::Degree(degree), look.state.rete);
    let reading = look.altitude_at(at);
    ReadAnswer::of(
        ["sun-altitude", "Sun's altitude"],
        reading,
        altitude(reading),
    )
}

/// The date on the ring that lies under the rule, or of the calendar scale for
/// the degree that does.
fn date_under_rule(instrument: &Instrument, state: &State) -> Option<String> {
    let place = match instrument.date_from() {
        DateFrom::Given => return None,
        DateFrom::Zodiac => {
            let read = instrument.read_ecliptic(state, &LineId::RuleEdge, Pick::Drawn);
            read.ok()?.longitude
        }
        DateFrom::EqualDayRing | DateFrom::TrueSunRing => {
            let along = instrument.rule_edge(state.rule).along;
            let edge = instrument.pin() + along * instrument.limb_mm();
            // Right ascension runs against the hour angle on the rete.
            -(edge - instrument.rete_centre())
                .turned(-state.rete)
                .direction()
        }
    };
    Some(Day(instrument.dates().date_at(place)).to_string())
}

/// What lies under a pointer.
fn under(look: &AsItStands<'_>, p: Point) -> PointerAnswer {
    let instrument = look.instrument;
    let near = NEAR * instrument.specification().diameter.mm() / 2.0;
    let ecliptic = instrument.ecliptic(look.state.rete);
    let degree = ecliptic
        .as_circle()
        .filter(|(centre, radius)| ((p - *centre).radius() - radius).abs() < near)
        .map(|(centre, radius)| {
            let on_edge = centre + Point::polar(radius, (p - centre).direction());
            look.degree_over(on_edge)
        });
    let tip = |star: &instrument::StarPointer| {
        let place = RetePoint::Place(star.right_ascension, star.declination);
        instrument.rete_point(place, look.state.rete)
    };
    let off = |star: &&instrument::StarPointer| (tip(star) - p).radius();
    let nearest = instrument
        .stars()
        .iter()
        .min_by(|a, b| off(a).total_cmp(&off(b)))
        .filter(|star| off(star) < near);
    let height = look.altitude_at(p);
    PointerAnswer {
        altitude: altitude(height),
        altitude_reads_to_text: reads_to_text(height.reads_to),
        degree: degree.map(|degree| ValueInWords(degree.value).to_string()),
        degree_reads_to_text: degree.and_then(|degree| reads_to_text(degree.reads_to)),
        star: nearest.map(|star| {
            let height = look.altitude_at(tip(star));
            StarAnswer {
                name: star.name,
                designation: star.designation,
                altitude: altitude(height),
                altitude_reads_to_text: reads_to_text(height.reads_to),
            }
        }),
    }
}

fn words(answer: &TurnAnswer) -> String {
    let to = |text: &str, reads_to: &Option<String>| match reads_to {
        Some(reads_to) => format!("{text}, to {reads_to}"),
        None => text.to_owned(),
    };
    let text = |reading: Option<&ReadAnswer>| match reading {
        Some(one) => to(one.text.as_deref().unwrap_or_default(), &one.reads_to_text),
        None => "none".to_owned(),
    };
    let mut words = format!(
        "Ascendant {}. Midheaven {}. The rule shows {}; under it {}. Sun's altitude {}.",
        text(answer.ascendant.as_ref()),
        text(answer.midheaven.as_ref()),
        to(&answer.hour.text, &answer.hour.reads_to_text),
        text(answer.under_rule.as_ref()),
        text(Some(&answer.sun_altitude)),
    );
    if let Some(means) = &answer.means {
        words.push_str(&format!(" This position means {}.", means.text));
    }
    words
}
