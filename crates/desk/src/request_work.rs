use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::request::CastRequest;

/// The name under which a figure by tables and pen stands among the operations.
pub(crate) const RECKON: &str = "reckon";

/// What is asked when an operation of the treatise is to be worked.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, Serialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct WorkRequest {
    /// The operation's name, such as `hour-by-sun`; [`crate::operations`] lists them.
    pub operation: String,
    /// The moment, the place and the instrument. Operations that need no moment do
    /// without; those that need no place take the instrument's first plate.
    pub moment: CastRequest,
    /// The star, where one is needed; `any` for the first of the rete that serves at
    /// the moment.
    pub star: Option<String>,
    /// The Moon or a planet, from which a degree, a latitude and an altitude are
    /// taken where none are given.
    pub body: Option<String>,
    /// What was seen: `altitude`, `noon-altitude` and so on to a number of degrees
    /// (`25°30′`), points for `shadow`. What is not given is what would be seen at
    /// the moment.
    pub seen: BTreeMap<String, String>,
    /// The error of the hand in what was seen, in degrees or points, either way;
    /// ¼ unless said.
    pub hand: Option<f64>,
    /// What is told: `degree`, `other-degree` (`11 Pisces`), `latitude`,
    /// `unequal-hours`, `distance`, `eye-height`.
    pub told: BTreeMap<String, String>,
    /// `morning` or `evening` (in the east or in the west) of what was seen, `north` or
    /// `south` of what was seen on the meridian; where it stands at the moment, unless said.
    pub side: Option<String>,
    /// Whose altitude, azimuth or rising is meant: `sun` (unless said), `star` or `degree`.
    pub of: Option<String>,
}
