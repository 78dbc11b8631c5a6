use instrument::{
    BackMarkFound, BackPhotograph, Estimate, HourLines, HouseLines, MarkFound, Photograph,
    Photographed, PhotographedBack,
};
use schemars::JsonSchema;
use serde::Serialize;

use super::estimate::EstimateAnswer;
use super::held::HeldAnswer;
use super::pictured_lines::DrawnAnswer;

/// What a photograph tells of an instrument; null is what it does not tell.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PicturedAnswer {
    /// How broad and how high the picture is, in pixels.
    pub picture_px: [u32; 2],
    /// For which half of the Earth the instrument is: `north` or `south`.
    /// Null of a back, which is alike for both.
    pub hemisphere: Option<&'static str>,
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
    /// How the rule stood: the hour angle of its edge.
    pub rule_deg: Option<EstimateAnswer>,
    /// How far the plate's lines lie off the hole towards noon, in hundredths of the limb's
    /// radius.
    pub off_noon_percent: Option<EstimateAnswer>,
    /// The same, towards the west.
    pub off_west_percent: Option<EstimateAnswer>,
    /// How far the ecliptic ring lies out of its place beside the stars, towards 0° Capricorn,
    /// in hundredths of the limb's radius.
    pub ring_off_percent: Option<EstimateAnswer>,
    /// How far the rete lay off the hole when the picture was taken, whichever way, in
    /// hundredths of the limb's radius.
    pub rete_off_percent: Option<EstimateAnswer>,
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
    /// The lines as they were found, where they lie in the picture.
    pub drawn: Vec<DrawnAnswer>,
    /// The same over the picture as SVG in its pixels, with how far each mark is off.
    pub overlay: String,
    /// By how much that is enlarged there.
    pub enlarged: u32,
    /// The marks that would tell most: of each thing that the picture does not tell, and of
    /// the one that it tells worst.
    pub tellings: Vec<TellingAnswer>,
    /// The piece beside what it was to be, where that was said.
    pub held: Option<HeldAnswer>,
    /// What is told of a back, where the picture is of one; all else that a front has is null.
    pub back: Option<BackPicturedAnswer>,
}

/// What a photograph tells of a back, besides its calendar.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct BackPicturedAnswer {
    /// How far the hole lies off the middle of the zodiac scale, to the right and down, in
    /// hundredths of its radius.
    pub hole_off_percent: Option<[EstimateAnswer; 2]>,
    /// The corners of the shadow square that are marked.
    pub corners: Vec<CornerAnswer>,
}

/// A corner of a shadow square.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct CornerAnswer {
    /// Which, as a file of marks has it.
    pub of: String,
    /// At which altitude it stands, seen from the hole: 45° in a square that is true.
    pub altitude_deg: EstimateAnswer,
    /// How far it lies from the hole, in hundredths of the zodiac scale's radius.
    pub reach_percent: f64,
}

/// A mark that would tell something, or two that would together.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct TellingAnswer {
    /// What they would tell, and how well, in a sentence.
    pub sentence: String,
    /// The marks.
    pub marks: Vec<WantedAnswer>,
}

/// A mark that is wanted.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct WantedAnswer {
    /// What, as a file of marks has it.
    pub of: String,
    /// Where in the picture it lies, in pixels; null where that is not known yet.
    pub at_px: Option<[f64; 2]>,
}

/// A mark beside where it should be.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct MarkAnswer {
    /// What was seen there, as the file has it.
    pub of: String,
    /// Where it was marked, in pixels to the right and down.
    pub at_px: [f64; 2],
    /// How far it is off.
    pub off_px: f64,
    /// From where it should be to where it is, in pixels to the right and down.
    pub apart_px: [f64; 2],
    /// Whether it was left out of account, being far off.
    pub doubtful: bool,
}

impl PicturedAnswer {
    /// What was found, with nothing drawn of it yet.
    pub(crate) fn of(photograph: &Photograph, found: &Photographed) -> PicturedAnswer {
        let angle = |one: Option<Estimate<sky::Angle>>| {
            one.map(|one| EstimateAnswer::of(one, sky::Angle::deg))
        };
        let percent = |one: Option<Estimate<f64>>| {
            one.map(|one| EstimateAnswer::of(one, |part| part * 100.0))
        };
        let turned = |one: Option<Estimate<sky::Angle>>| {
            angle(one.map(|one| Estimate {
                at: one.at.in_turn(),
                within: one.within,
            }))
        };
        PicturedAnswer {
            picture_px: photograph.size_px,
            hemisphere: Some(photograph.hemisphere.name()),
            scatter_px: found.scatter_px,
            lean_deg: found.lean.deg(),
            latitude_deg: found
                .latitude
                .map(|one| EstimateAnswer::of(one, sky::Latitude::deg)),
            plate_obliquity_deg: angle(found.plate_obliquity),
            ring_obliquity_deg: angle(found.ring_obliquity),
            year: found.year.map(|one| EstimateAnswer::of(one, |year| year)),
            rete_deg: turned(found.rete_turn),
            rule_deg: turned(found.rule_turn),
            off_noon_percent: percent(found.off_noon),
            off_west_percent: percent(found.off_west),
            ring_off_percent: percent(found.ring_off),
            rete_off_percent: percent(found.rete_off),
            plate_turned_deg: angle(found.plate_turned),
            equator_percent: percent(found.equator),
            limb_radius_mm: found.limb_radius.map(instrument::Length::mm),
            hour_lines: found.hour_lines.map(HourLines::name),
            house_lines: found.house_lines.map(HouseLines::name),
            marks: found.marks.iter().map(MarkAnswer::from).collect(),
            drawn: found.drawn().iter().map(DrawnAnswer::from).collect(),
            overlay: String::new(),
            enlarged: 1,
            tellings: Vec::new(),
            held: None,
            back: None,
        }
    }

    /// The same of a back.
    pub(crate) fn of_back(photograph: &BackPhotograph, found: &PhotographedBack) -> PicturedAnswer {
        let percent = |one| EstimateAnswer::of(one, |part: f64| part * 100.0);
        let corners = found.corners.iter().map(|corner| CornerAnswer {
            of: corner.of.to_string(),
            altitude_deg: EstimateAnswer::of(corner.altitude, sky::Angle::deg),
            reach_percent: corner.reach * 100.0,
        });
        PicturedAnswer {
            picture_px: photograph.size_px,
            hemisphere: None,
            scatter_px: found.scatter_px,
            lean_deg: found.lean.deg(),
            latitude_deg: None,
            plate_obliquity_deg: None,
            ring_obliquity_deg: None,
            year: None,
            rete_deg: None,
            rule_deg: None,
            off_noon_percent: None,
            off_west_percent: None,
            ring_off_percent: None,
            rete_off_percent: None,
            plate_turned_deg: None,
            equator_percent: None,
            limb_radius_mm: None,
            hour_lines: None,
            house_lines: None,
            marks: found.marks.iter().map(MarkAnswer::from).collect(),
            drawn: Vec::new(),
            overlay: String::new(),
            enlarged: 1,
            tellings: Vec::new(),
            held: None,
            back: Some(BackPicturedAnswer {
                hole_off_percent: found.hole_off.map(|off| off.map(percent)),
                corners: corners.collect(),
            }),
        }
    }
}

impl From<&BackMarkFound> for MarkAnswer {
    fn from(found: &BackMarkFound) -> MarkAnswer {
        let apart_px = [0, 1].map(|axis: usize| found.at_px[axis] - found.should_px[axis]);
        MarkAnswer {
            of: found.of.to_string(),
            at_px: found.at_px,
            off_px: apart_px[0].hypot(apart_px[1]),
            apart_px,
            doubtful: found.doubtful,
        }
    }
}

impl From<&MarkFound> for MarkAnswer {
    fn from(found: &MarkFound) -> MarkAnswer {
        MarkAnswer {
            of: found.of.to_string(),
            at_px: found.at_px,
            off_px: found.off_px,
            apart_px: found.apart_px,
            doubtful: found.doubtful,
        }
    }
}
