use instrument::{BackPhotograph, Photographed, PhotographedBack, TooLittle};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::examine_picture::photograph;
use crate::refusal::{Field, Refusal};

/// What is asked when a place in a picture was pressed.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct ProposeRequest {
    /// The text of a file of marks, as far as it goes.
    pub measurements: String,
    /// The place, in pixels.
    pub at_px: [f64; 2],
}

/// What may lie there.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ProposeAnswer {
    /// The likeliest first.
    pub proposals: Vec<ProposalAnswer>,
    /// Whether the picture is understood by now; else the strokes of the limb come first, one
    /// after another.
    pub understood: bool,
}

/// A thing that may lie there.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ProposalAnswer {
    /// What, as a file of marks has it.
    pub of: String,
    /// How far from there it should lie; null where nothing is known of it yet.
    pub off_px: Option<f64>,
    /// How likely it is, in hundredths; null where nothing is known of it yet.
    pub percent: Option<f64>,
}

/// A place beyond this is in no picture, in pixels.
const FAR_PX: f64 = 1e6;

/// Says what may lie at a place in a picture, from what was marked so far.
///
/// # Errors
/// When the marks cannot be understood, or the place is none.
pub fn propose(request: &ProposeRequest) -> Result<ProposeAnswer, Refusal> {
    if !request.at_px.iter().all(|one| one.abs() < FAR_PX) {
        return Err(Refusal::new(
            Field::Measurements,
            "this is no place in a picture; [1203.5, 340.2] would do",
        ));
    }
    if BackPhotograph::is_one(&request.measurements) {
        return propose_on_back(request);
    }
    let photograph = photograph(&request.measurements)?;
    match Photographed::of(&photograph) {
        Ok(found) => Ok(ProposeAnswer {
            proposals: found
                .proposals(request.at_px)
                .iter()
                .map(|one| ProposalAnswer {
                    of: one.of.to_string(),
                    off_px: Some(one.off_px),
                    percent: Some(100.0 * one.share),
                })
                .collect(),
            understood: true,
        }),
        Err(
            TooLittle::Limb(_)
            | TooLittle::Zodiac(_)
            | TooLittle::OneLine
            | TooLittle::NoFit
            | TooLittle::Setting(_)
            | TooLittle::SettingOnOneLine,
        ) => Ok(ProposeAnswer {
            proposals: photograph
                .first_of_limb()
                .iter()
                .map(|of| ProposalAnswer {
                    of: of.to_string(),
                    off_px: None,
                    percent: None,
                })
                .collect(),
            understood: false,
        }),
    }
}

/// The same of a back: the degree of the zodiac, a date or a corner that is nearest.
fn propose_on_back(request: &ProposeRequest) -> Result<ProposeAnswer, Refusal> {
    let photograph = BackPhotograph::from_toml(&request.measurements)
        .map_err(|error| Refusal::new(Field::Measurements, error))?;
    let (proposals, understood) = match PhotographedBack::of(&photograph) {
        Ok(found) => (found.proposals(request.at_px), true),
        Err(_) => (photograph.first_of_zodiac(), false),
    };
    let named = proposals.iter().map(|of| ProposalAnswer {
        of: of.to_string(),
        off_px: None,
        percent: None,
    });
    Ok(ProposeAnswer {
        proposals: named.collect(),
        understood,
    })
}
