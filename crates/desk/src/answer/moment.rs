use moment::{Moment, StepKind};
use schemars::JsonSchema;
use serde::Serialize;

use super::dated::CalendarAnswer;

/// A moment, from the clock to the sidereal time.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct MomentAnswer {
    /// From the clock to the scales of the sky.
    #[serde(flatten)]
    pub when: WhenAnswer,
    /// Local mean time, in hours.
    pub local_mean_time_h: f64,
    /// Summer time in force, in seconds.
    pub summer_time_s: f64,
    /// 240 × longitude − standard offset, in seconds.
    pub longitude_correction_s: f64,
    /// Apparent minus mean time, in seconds.
    pub equation_of_time_s: f64,
    /// Local apparent time, in hours.
    pub local_apparent_time_h: f64,
    /// Local apparent sidereal time, in degrees.
    pub sidereal_time_deg: f64,
    /// The sum, line by line.
    pub steps: Vec<StepAnswer>,
}

/// A moment, from the clock to the scales of the sky.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct WhenAnswer {
    /// The date and time as given.
    pub given: String,
    /// The calendar of the date: `gregorian` or `julian`.
    pub calendar: CalendarAnswer,
    /// The date and time on the clock.
    pub clock_time: String,
    /// The kind of clock: `zone`, `mean`, `sun`, or an offset.
    pub clock: String,
    /// The zone; null for the other kinds of clock.
    pub zone: Option<String>,
    /// Clock minus UTC, in seconds; null for local mean and apparent time.
    pub utc_offset_s: Option<f64>,
    /// UTC, in the calendar of the date.
    pub utc: String,
    /// Julian date, Universal Time.
    pub jd_ut: f64,
    /// Julian date, Terrestrial Time.
    pub jd_tt: f64,
    /// TT − UT, in seconds.
    pub delta_t_s: f64,
    /// How well that is known, in seconds.
    pub delta_t_uncertainty_s: f64,
    /// What else to know.
    pub notes: Vec<NoteAnswer>,
}

/// A line of the sum from the clock to the sky.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct StepAnswer {
    /// What is taken into account: `summer-time`, `zone`, `longitude`,
    /// `equation-of-time` or `sidereal-time`.
    pub what: &'static str,
    /// How much is added, in seconds.
    pub amount_s: f64,
    /// The time of day that comes out.
    pub result: String,
    /// Why so much.
    pub reason: String,
}

/// A clock by which a moment may have been told.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct CandidateAnswer {
    /// The value of `clock` in a request that takes it; null for the zone's record.
    pub clock: Option<String>,
    /// What it is.
    pub words: String,
    /// Where that is in print.
    pub source: String,
    /// UTC by this clock, in the calendar of the date.
    pub utc: String,
    /// The ascendant that it gives; null where there is none.
    pub ascendant_deg: Option<f64>,
    /// The same in words.
    pub ascendant_text: Option<String>,
    /// Whether it is the one that is taken.
    pub taken: bool,
}

/// Something to know about a moment.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct NoteAnswer {
    /// The note, in a sentence without its full stop.
    pub text: String,
}

/// A place.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PlaceAnswer {
    /// The town with its region and country, or the coordinates.
    pub name: String,
    /// North positive.
    pub latitude_deg: f64,
    /// East positive.
    pub longitude_deg: f64,
}

impl MomentAnswer {
    pub(crate) fn of(moment: &Moment) -> MomentAnswer {
        MomentAnswer {
            when: WhenAnswer::of(moment),
            local_mean_time_h: moment.local_mean_time_h(),
            summer_time_s: moment.summer_time_s(),
            longitude_correction_s: moment.longitude_correction_s(),
            equation_of_time_s: moment.equation_of_time_s(),
            local_apparent_time_h: moment.local_apparent_time_h(),
            sidereal_time_deg: moment.sidereal_time().in_turn().deg(),
            steps: moment
                .steps()
                .iter()
                .map(|step| StepAnswer {
                    what: name(step.what),
                    amount_s: step.amount_s,
                    result: step.result.to_string(),
                    reason: step.reason.clone(),
                })
                .collect(),
        }
    }
}

impl WhenAnswer {
    pub(crate) fn of(moment: &Moment) -> WhenAnswer {
        WhenAnswer {
            given: moment.given().to_owned(),
            calendar: CalendarAnswer(moment.civil().date.calendar()),
            clock_time: moment.civil().to_string(),
            clock: moment.clock().to_string(),
            zone: moment.zone().map(|zone| zone.name().to_owned()),
            utc_offset_s: moment.utc_offset_s(),
            utc: moment.utc().to_string(),
            jd_ut: moment.instant().jd_ut(),
            jd_tt: moment.instant().jd_tt(),
            delta_t_s: moment.delta_t().seconds,
            delta_t_uncertainty_s: moment.delta_t().uncertainty_s,
            notes: notes(moment),
        }
    }
}

impl PlaceAnswer {
    pub(crate) fn of(place: &moment::Place) -> PlaceAnswer {
        PlaceAnswer {
            name: place.name.clone(),
            latitude_deg: place.latitude.deg(),
            longitude_deg: place.longitude.deg(),
        }
    }
}

fn notes(moment: &Moment) -> Vec<NoteAnswer> {
    let texts = moment.notes().iter().map(|note| note.text.clone());
    texts.map(|text| NoteAnswer { text }).collect()
}

fn name(kind: StepKind) -> &'static str {
    match kind {
        StepKind::SummerTime => "summer-time",
        StepKind::Zone => "zone",
        StepKind::Longitude => "longitude",
        StepKind::EquationOfTime => "equation-of-time",
        _ => "sidereal-time",
    }
}
