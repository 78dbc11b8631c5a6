use schemars::{Schema, schema_for};

use crate::answer::{CastAnswer, FinishedAnswer, PlanetsAnswer};

/// The JSON Schema of [`CastAnswer`].
#[must_use]
pub fn cast_schema() -> Schema {
    schema_for!(CastAnswer)
}

/// The JSON Schema of [`PlanetsAnswer`].
#[must_use]
pub fn planets_schema() -> Schema {
    schema_for!(PlanetsAnswer)
}

/// The JSON Schema of [`FinishedAnswer`].
#[must_use]
pub fn figure_schema() -> Schema {
    schema_for!(FinishedAnswer)
}
