use schemars::{Schema, schema_for};

use crate::answer::CastAnswer;

/// The JSON Schema of [`CastAnswer`].
#[must_use]
pub fn cast_schema() -> Schema {
    schema_for!(CastAnswer)
}
