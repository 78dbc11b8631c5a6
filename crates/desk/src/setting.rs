use std::collections::BTreeMap;

use instrument::Photographed;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{PicturedAnswer, TurnAnswer};
use crate::cabinet::{Cabinet, refuse_other_hemisphere};
use crate::casting::Casting;
use crate::estimates::degrees;
use crate::examine_picture::{fits, left_out, photograph, pictured};
use crate::refusal::{Field, Refusal};
use crate::request::CastRequest;
use crate::turn::{StateRequest, TurnRequest, turn};

/// What is asked when an instrument was photographed as somebody set it.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct SettingRequest {
    /// The text of a file of marks: strokes of the limb and the hole, and of the rete its
    /// almuri, degrees or stars, of the rule a place on its edge.
    pub measurements: String,
    /// The case on which it was set; it says with which instrument.
    pub case: CastRequest,
}

/// How an instrument was set, and what that shows.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct SettingAnswer {
    /// How rete and rule stand, and how sure that is, in sentences.
    pub sentences: Vec<String>,
    /// What the picture tells.
    pub pictured: PicturedAnswer,
    /// What the instrument shows as it stands.
    pub shows: TurnAnswer,
    /// The same as readings that correcting takes: `ascendant`, `midheaven`, and with the
    /// rule `local-time` and `sun-degree`.
    pub read: BTreeMap<String, String>,
}

/// Tells how rete and rule stand in a picture of a known instrument, and what it shows so.
///
/// # Errors
/// When marks or case cannot be understood, or the picture does not tell how rete and rule stand.
pub fn setting(
    request: &SettingRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<SettingAnswer, Refusal> {
    let photograph = photograph(&request.measurements)?;
    let casting = Casting::of(&request.case, cabinet, now_unix_s)?;
    let instrument = &casting.instrument;
    refuse_other_hemisphere(instrument, casting.latitude())?;
    fits(&photograph, instrument)?;
    let plate = instrument.nearest_plate(casting.latitude());
    let found = Photographed::of_known(&photograph, instrument, plate)
        .map_err(|error| Refusal::new(Field::Measurements, error))?;
    let Some(rete) = found.rete_turn else {
        return Err(Refusal::new(
            Field::Measurements,
            "how the rete stands is not told by these marks; its almuri, or degrees of its \
             ring, would do",
        ));
    };
    let Some(rule) = found.rule_turn else {
        return Err(Refusal::new(
            Field::Measurements,
            "how the rule stands is not told by these marks; a place on its edge, `rule`, would do",
        ));
    };
    let pictured = pictured(&photograph, &found);
    let turned = TurnRequest {
        case: request.case.clone(),
        state: StateRequest {
            plate_latitude_deg: plate.deg(),
            rete_deg: rete.at.in_turn().deg(),
            rule_deg: rule.at.in_turn().deg(),
            alidade_deg: 0.0,
        },
        pointer: None,
    };
    let shows = TurnAnswer {
        // What is on the back is not in the picture.
        date_under_alidade: None,
        ..turn(&turned, cabinet, now_unix_s)?
    };
    let mut read = BTreeMap::new();
    let mut put = |what: &str, text: Option<String>| {
        if let Some(text) = text {
            read.insert(what.to_owned(), text);
        }
    };
    let text = |one: &Option<crate::answer::ReadAnswer>| one.as_ref()?.text.clone();
    put("ascendant", text(&shows.ascendant));
    put("midheaven", text(&shows.midheaven));
    put("local-time", Some(shows.hour.text.clone()));
    put("sun-degree", text(&shows.under_rule));
    Ok(SettingAnswer {
        sentences: sentences(&pictured),
        pictured,
        shows,
        read,
    })
}

fn sentences(found: &PicturedAnswer) -> Vec<String> {
    let mut all = Vec::new();
    if let Some(rete) = found.rete_deg {
        all.push(format!(
            "The rete stands with 0° Aries {} past noon on the limb.",
            degrees(rete)
        ));
    }
    if let Some(rule) = found.rule_deg {
        all.push(format!(
            "The rule stands {} past noon on the limb.",
            degrees(rule)
        ));
    }
    all.extend(left_out(found));
    all
}
