use instrument::{Instrument, Minutes};
use schemars::JsonSchema;
use serde::Serialize;
use sky::Latitude;
use words::Called;

/// An instrument.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct InstrumentAnswer {
    /// What it is called.
    pub name: String,
    /// The same within a sentence: `the class instrument`, `my key ring`.
    pub called: String,
    /// A sentence about it.
    pub description: String,
    /// The latitude of the plate that is laid in: the nearest at hand.
    pub plate_latitude_deg: f64,
    /// The latitudes of all its plates.
    pub plates_deg: Vec<f64>,
    /// The obliquity of its ecliptic.
    pub obliquity_deg: f64,
    /// For which its stars and date scales are made.
    pub epoch_year: f64,
    /// Across the mater.
    pub diameter_mm: f64,
    /// `north` or `south`.
    pub hemisphere: &'static str,
    /// `noon-up` or `midnight-up`.
    pub orientation: &'static str,
    /// Where the date is taken from.
    pub date_from: &'static str,
    /// `arcs` or `curves`.
    pub unequal_hour_lines: &'static str,
    /// The method of its house lines, or `none`.
    pub house_lines: &'static str,
    /// The least distance that can be told apart.
    pub eye_mm: f64,
    /// The divisions of the limb.
    pub limb_division_deg: f64,
    /// The divisions of the ecliptic.
    pub ecliptic_division_deg: f64,
    /// The step between its almucantars.
    pub almucantar_step_deg: u8,
    /// The step between its azimuths; 0 for none.
    pub azimuth_step_deg: f64,
    /// The cusp procedures that it allows, by their names in a request.
    pub procedures: Vec<String>,
    /// The stars it points to.
    pub stars: Vec<&'static str>,
    /// What is wrong with it.
    pub faults: FaultsAnswer,
}

/// The known faults of an instrument.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FaultsAnswer {
    /// The pin's play in the rete's hole.
    pub pin_play_mm: f64,
    /// The plate turned in its notch.
    pub plate_turned_deg: f64,
    /// The plate's lines off the pin, towards noon.
    pub plate_off_noon_mm: f64,
    /// The same, towards the west.
    pub plate_off_west_mm: f64,
    /// The ecliptic ring off its centre.
    pub ecliptic_offset_mm: f64,
    /// The rule's edge beside the centre.
    pub rule_offset_mm: f64,
}

impl InstrumentAnswer {
    pub(crate) fn of(instrument: &Instrument, latitude: Latitude) -> InstrumentAnswer {
        let specification = instrument.specification();
        let faults = instrument.faults();
        InstrumentAnswer {
            name: specification.name.clone(),
            called: Called(&specification.name).to_string(),
            description: specification.description.clone(),
            plate_latitude_deg: instrument.nearest_plate(latitude).deg(),
            plates_deg: specification
                .plates
                .iter()
                .map(|plate| plate.deg())
                .collect(),
            obliquity_deg: instrument.obliquity().deg(),
            epoch_year: specification.epoch_year,
            diameter_mm: specification.diameter.mm(),
            hemisphere: specification.hemisphere.name(),
            orientation: specification.top.name(),
            date_from: specification.date_from.name(),
            unequal_hour_lines: instrument.hour_lines().name(),
            house_lines: instrument
                .house_lines()
                .map_or("none", instrument::HouseLines::name),
            eye_mm: specification.eye.least.mm(),
            limb_division_deg: specification.limb_division.deg(),
            ecliptic_division_deg: specification.ecliptic_division.deg(),
            almucantar_step_deg: instrument.almucantar_step(),
            azimuth_step_deg: instrument.azimuth_step().map_or(0.0, Minutes::deg),
            procedures: practice::procedures(instrument)
                .into_iter()
                .map(|procedure| procedure.name().replace('_', "-"))
                .collect(),
            stars: instrument.stars().iter().map(|star| star.name).collect(),
            faults: FaultsAnswer {
                pin_play_mm: faults.pin_play.mm(),
                plate_turned_deg: faults.plate_turned.deg(),
                plate_off_noon_mm: faults.plate_off_noon.mm(),
                plate_off_west_mm: faults.plate_off_west.mm(),
                ecliptic_offset_mm: faults.ecliptic_offset.mm(),
                rule_offset_mm: faults.rule_offset.mm(),
            },
        }
    }
}
