use instrument::DateFrom;
use practice::{Conditions, Quantity, Working};
use schemars::JsonSchema;
use serde::Serialize;
use sky::{Angle, Zodiacal};
use words::{Day, NorthOrSouth, TimeOfDay};

/// How the brass is set: the three things a hand needs.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct SetAnswer {
    /// The plate's latitude.
    pub plate: String,
    /// The latitude of the other plate, where two are worked on in proportion.
    pub other_plate: Option<String>,
    /// How far north of the place's own latitude it is made for; south is negative.
    pub plate_off_deg: f64,
    /// What is laid under the rule: `Sun's degree` or `date on the ring`.
    pub under_rule: &'static str,
    /// The degree of the zodiac, or the date.
    pub degree_or_date: String,
    /// The hour for the rule.
    pub hour: String,
    /// What time that is: `local apparent time` or `local mean time`.
    pub time: &'static str,
    /// Whether it is local mean time.
    pub is_mean_time: bool,
}

impl SetAnswer {
    pub(crate) fn of(working: &Working, conditions: &Conditions) -> SetAnswer {
        let found = |quantity| working.reading(quantity).ok()?.value.angle();
        let ring = conditions.instrument.date_from().is_ring();
        let degree = match conditions.instrument.date_from() {
            DateFrom::Zodiac => found(Quantity::SunDegree),
            _ => Some(conditions.given.sun.longitude),
        };
        let plate = conditions.plate;
        SetAnswer {
            plate: NorthOrSouth(plate).to_string(),
            other_plate: (conditions.other_plate != plate)
                .then(|| NorthOrSouth(conditions.other_plate).to_string()),
            plate_off_deg: plate.deg() - conditions.given.latitude.deg(),
            under_rule: if ring {
                "date on the ring"
            } else {
                "Sun's degree"
            },
            degree_or_date: match degree {
                _ if ring => Day(conditions.given.date).to_string(),
                Some(degree) => Zodiacal(degree).to_string(),
                None => "–".to_owned(),
            },
            hour: TimeOfDay(conditions.hour_for_rule() + Angle::HALF_TURN).to_string(),
            time: time_for_rule(conditions.wants_mean_time()),
            is_mean_time: conditions.wants_mean_time(),
        }
    }
}

/// What time the rule is set to.
pub(crate) fn time_for_rule(mean: bool) -> &'static str {
    if mean {
        "local mean time"
    } else {
        "local apparent time"
    }
}
