use instrument::{
    CirclesFound, Deviation, Estimate, LimbFound, MeasuredError, MeasuredPlate, NoYear, PlateFound,
    StarFound, StarsFound,
};
use schemars::JsonSchema;
use serde::Serialize;

use super::estimate::EstimateAnswer;
use super::pictured::PicturedAnswer;

/// What an instrument was made for, found from what was measured on it.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ExaminedAnswer {
    /// What it is called.
    pub name: String,
    /// What is found, in sentences, the main things first.
    pub sentences: Vec<String>,
    /// What its circles were drawn for; null where too few were measured.
    pub circles: Option<ExaminedCircles>,
    /// Its plates, in order.
    pub plates: Vec<ExaminedPlate>,
    /// The year of its star pointers.
    pub stars: Option<ExaminedStars>,
    /// The year of its calendar scale.
    pub calendar: Option<ExaminedCalendar>,
    /// The graduation of its limb.
    pub limb: Option<ExaminedLimb>,
    /// A specification of an instrument so made, for the cabinet; null where its size is
    /// not known, or it has no plate.
    pub specification: Option<String>,
    /// What was measured beside what it was to be, where that was said.
    pub against: Option<AgainstAnswer>,
    /// What its photograph tells, where that was marked.
    pub pictured: Option<PicturedAnswer>,
}

/// A length beside what it should be.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct DeviationAnswer {
    /// What was measured.
    pub what: String,
    /// As measured.
    pub measured_mm: f64,
    /// As it should be.
    pub should_mm: f64,
    /// Measured minus should.
    pub off_mm: f64,
}

/// What tropics, equator and ecliptic ring were drawn for.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ExaminedCircles {
    /// The obliquity of the ecliptic.
    pub obliquity_deg: EstimateAnswer,
    /// The radius of the equator.
    pub equator_mm: EstimateAnswer,
    /// The year in which the obliquity was this.
    pub year: Option<EstimateAnswer>,
    /// How far the ecliptic ring lies off its place, towards the outer tropic's sign.
    pub ecliptic_offset_mm: Option<EstimateAnswer>,
    /// Each length beside what it would be.
    pub lines: Vec<DeviationAnswer>,
}

/// What a side of a plate was drawn for.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ExaminedPlate {
    /// The latitude that stands on it.
    pub lettered_deg: Option<f64>,
    /// The latitude that it is for; null where too little was measured.
    pub latitude_deg: Option<EstimateAnswer>,
    /// The radius of the equator that its lines were drawn about.
    pub equator_mm: Option<EstimateAnswer>,
    /// How far towards noon they lie off their place.
    pub off_centre_mm: Option<EstimateAnswer>,
    /// Each crossing beside where it would be.
    pub lines: Vec<DeviationAnswer>,
    /// The plate's own errors, as measured: the altitude at which each crossing stands.
    pub errors: Vec<PlateErrorAnswer>,
}

/// Where a crossing of the meridian truly stands on a finished plate.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PlateErrorAnswer {
    /// The altitude of the engraved almucantar.
    pub engraved_deg: f64,
    /// Its crossing towards `noon` or towards `midnight`.
    #[schemars(extend("enum" = ["noon", "midnight"]))]
    pub towards: &'static str,
    /// The altitude at which it stands, by the latitude lettered or else found.
    pub stands_deg: EstimateAnswer,
    /// What is to be added to an altitude read there.
    pub to_add_deg: f64,
}

/// The year of the star pointers.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ExaminedStars {
    /// The year that they stand for together.
    pub year: EstimateAnswer,
    /// One for each pointer.
    pub stars: Vec<ExaminedStar>,
}

/// What a pointer says.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ExaminedStar {
    /// The star.
    pub name: &'static str,
    /// Its modern designation.
    pub designation: &'static str,
    /// The year for which the degree that culminates with it would be right.
    pub year: Option<f64>,
    /// How far its tip is off in the year of all.
    pub off_mm: f64,
    /// Whether it was left out of account, being far off.
    pub doubtful: bool,
}

/// The year of the calendar scale.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ExaminedCalendar {
    /// The year.
    pub year: Option<EstimateAnswer>,
    /// Why there is none.
    pub reason: Option<String>,
}

/// How true the limb is.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ExaminedLimb {
    /// The largest error that the hole's lying off the middle makes at one end of the rule.
    pub off_centre_deg: EstimateAnswer,
    /// How far it lies off, where the radius is known.
    pub off_centre_mm: Option<EstimateAnswer>,
    /// Towards which degree of the limb.
    pub towards_deg: f64,
    /// By how much the rule's ends are out of one line.
    pub bent_deg: EstimateAnswer,
    /// The standard error of a stroke, and of reading it.
    pub division_deg: f64,
}

/// What was measured beside what it was to be.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct AgainstAnswer {
    /// What it was to be.
    pub name: String,
    /// The same within a sentence.
    pub called: String,
    /// How far a length may be off.
    pub within_mm: f64,
    /// How many lengths are within it.
    pub kept: usize,
    /// How many are not.
    pub missed: usize,
    /// Each length, the worst first.
    pub lines: Vec<DeviationAnswer>,
}

impl From<&Deviation> for DeviationAnswer {
    fn from(one: &Deviation) -> DeviationAnswer {
        DeviationAnswer {
            what: one.what.clone(),
            measured_mm: one.measured.mm(),
            should_mm: one.should.mm(),
            off_mm: (one.measured - one.should).mm(),
        }
    }
}

impl From<&CirclesFound> for ExaminedCircles {
    fn from(found: &CirclesFound) -> ExaminedCircles {
        ExaminedCircles {
            obliquity_deg: EstimateAnswer::of(found.obliquity, sky::Angle::deg),
            equator_mm: EstimateAnswer::of(found.equator, instrument::Length::mm),
            year: found.year.map(|year| EstimateAnswer::of(year, |year| year)),
            ecliptic_offset_mm: found
                .ecliptic_offset
                .map(|off| EstimateAnswer::of(off, instrument::Length::mm)),
            lines: found.lines.iter().map(DeviationAnswer::from).collect(),
        }
    }
}

impl ExaminedPlate {
    pub(crate) fn of(measured: &MeasuredPlate, found: Option<&PlateFound>) -> ExaminedPlate {
        ExaminedPlate {
            lettered_deg: measured.lettered.map(sky::Latitude::deg),
            latitude_deg: found.map(|one| EstimateAnswer::of(one.latitude, sky::Angle::deg)),
            equator_mm: found.map(|one| EstimateAnswer::of(one.equator, instrument::Length::mm)),
            off_centre_mm: found
                .and_then(|one| one.off_centre)
                .map(|off| EstimateAnswer::of(off, instrument::Length::mm)),
            lines: found
                .iter()
                .flat_map(|one| &one.lines)
                .map(DeviationAnswer::from)
                .collect(),
            errors: found
                .iter()
                .flat_map(|one| &one.errors)
                .map(PlateErrorAnswer::from)
                .collect(),
        }
    }
}

impl From<&MeasuredError> for PlateErrorAnswer {
    fn from(one: &MeasuredError) -> PlateErrorAnswer {
        PlateErrorAnswer {
            engraved_deg: one.engraved.deg(),
            towards: if one.towards_noon { "noon" } else { "midnight" },
            stands_deg: EstimateAnswer::of(one.stands, sky::Angle::deg),
            to_add_deg: one.to_add().deg(),
        }
    }
}

impl From<&StarsFound> for ExaminedStars {
    fn from(found: &StarsFound) -> ExaminedStars {
        let star = |one: &StarFound| ExaminedStar {
            name: one.star.instrument_name.unwrap_or(one.star.label()),
            designation: one.star.designation,
            year: one.year,
            off_mm: one.off.mm(),
            doubtful: one.doubtful,
        };
        ExaminedStars {
            year: EstimateAnswer::of(found.year, |year| year),
            stars: found.stars.iter().map(star).collect(),
        }
    }
}

impl From<&Result<Estimate<f64>, NoYear>> for ExaminedCalendar {
    fn from(found: &Result<Estimate<f64>, NoYear>) -> ExaminedCalendar {
        match found {
            Ok(year) => ExaminedCalendar {
                year: Some(EstimateAnswer::of(*year, |year| year)),
                reason: None,
            },
            Err(why) => ExaminedCalendar {
                year: None,
                reason: Some(
                    match why {
                        NoYear::Gregorian => "a Gregorian scale keeps its dates and tells no year",
                        NoYear::NoneFits => {
                            "in no year between 591 BC and 2400 does the Sun stand so in the \
                             Julian calendar"
                        }
                    }
                    .to_owned(),
                ),
            },
        }
    }
}

impl From<&LimbFound> for ExaminedLimb {
    fn from(found: &LimbFound) -> ExaminedLimb {
        ExaminedLimb {
            off_centre_deg: EstimateAnswer::of(found.off_centre, sky::Angle::deg),
            off_centre_mm: found
                .off_centre_length
                .map(|off| EstimateAnswer::of(off, instrument::Length::mm)),
            towards_deg: found.towards.deg(),
            bent_deg: EstimateAnswer::of(found.bent, sky::Angle::deg),
            division_deg: found.division.deg(),
        }
    }
}
