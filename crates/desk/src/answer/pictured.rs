use instrument::{Estimate, HourLines, HouseLines, MarkFound, Photographed};
use schemars::JsonSchema;
use serde::Serialize;

use super::estimate::EstimateAnswer;

/// What a photograph tells of an instrument; null is what it does not tell.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PicturedAnswer {
    /// How far a mark lies from where it should, as a rule, in pixels.
    pub scatter_px: f64,
    /// How far the instrument leans away from the eye.
    pub lean_deg: f64,
    /// The latitude that the plate is drawn for.
    pub latitude_deg: Option<EstimateAnswer>,
    /// The obliquity that its tropics are drawn for.
    pub plate_obliquity_deg: Option<EstimateAnswer>,
    /// The obliquity that the ecliptic ring is drawn for.
    pub ring_obliquity_deg: Option<EstimateAnswer>,
    /// The year for which the star pointers stand.
    pub year: Option<EstimateAnswer>,
    /// How the rete stood when the picture was taken: the hour angle of 0° Aries.
    pub rete_deg: Option<EstimateAnswer>,
    /// How far the plate's lines lie off the hole towards noon, in hundredths of the limb's
    /// radius.
    pub off_noon_percent: Option<EstimateAnswer>,
    /// The same, towards the west.
    pub off_west_percent: Option<EstimateAnswer>,
    /// How far the ecliptic ring lies out of its place beside the stars, towards 0° Capricorn,
    /// in hundredths of the limb's radius.
    pub ring_off_percent: Option<EstimateAnswer>,
    /// How far the plate is turned in its notch.
    pub plate_turned_deg: Option<EstimateAnswer>,
    /// The radius of the plate's equator, in hundredths of the limb's.
    pub equator_percent: Option<EstimateAnswer>,
    /// The limb's radius, where its diameter is said.
    pub limb_radius_mm: Option<f64>,
    /// How the unequal hours are drawn: `arcs` or `curves`.
    pub hour_lines: Option<&'static str>,
    /// By which method the house lines are drawn.
    pub house_lines: Option<&'static str>,
    /// Every mark, in its order.
    pub marks: Vec<MarkAnswer>,
}

/// A mark beside where it should be.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct MarkAnswer {
    /// What was seen there, as the file has it.
    pub of: String,
    /// How far it is off.
    pub off_px: f64,
    /// Whether it was left out of account, being far off.
    pub doubtful: bool,
}

impl From<&Photographed> for PicturedAnswer {
    fn from(found: &Photographed) -> PicturedAnswer {
        let angle = |one: Option<Estimate<sky::Angle>>| {
            one.map(|one| EstimateAnswer::of(one, sky::Angle::deg))
        };
        let percent = |one: Option<Estimate<f64>>| {
            one.map(|one| EstimateAnswer::of(one, |part| part * 100.0))
        };
        PicturedAnswer {
            scatter_px: found.scatter_px,
            lean_deg: found.lean.deg(),
            latitude_deg: found
                .latitude
                .map(|one| EstimateAnswer::of(one, sky::Latitude::deg)),
            plate_obliquity_deg: angle(found.plate_obliquity),
            ring_obliquity_deg: angle(found.ring_obliquity),
            year: found.year.map(|one| EstimateAnswer::of(one, |year| year)),
            rete_deg: angle(found.rete_turn.map(|one| Estimate {
                at: one.at.in_turn(),
                within: one.within,
            })),
            off_noon_percent: percent(found.off_noon),
            off_west_percent: percent(found.off_west),
            ring_off_percent: percent(found.ring_off),
            plate_turned_deg: angle(found.plate_turned),
            equator_percent: percent(found.equator),
            limb_radius_mm: found.limb_radius.map(instrument::Length::mm),
            hour_lines: found.hour_lines.map(HourLines::name),
            house_lines: found.house_lines.map(HouseLines::name),
            marks: found.marks.iter().map(MarkAnswer::from).collect(),
        }
    }
}

impl From<&MarkFound> for MarkAnswer {
    fn from(found: &MarkFound) -> MarkAnswer {
        MarkAnswer {
            of: found.of.to_string(),
            off_px: found.off_px,
            doubtful: found.doubtful,
        }
    }
}
