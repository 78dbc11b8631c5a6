use casebook::{Case, Imported, NoCasebook, read_csv, read_json};
use serde::Deserialize;

/// The forms in which cases come in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum FormIn {
    /// An exchange file.
    Json,
    /// A table.
    Csv,
}

/// The forms in which cases go out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum FormOut {
    /// An exchange file.
    Json,
    /// A table.
    Csv,
    /// A table whose texts no spreadsheet takes for formulas.
    Spreadsheet,
}

impl FormIn {
    /// The rows of a text, those that `fits` refuses among the bad ones.
    ///
    /// # Errors
    /// When the text is nothing of this form, or has too many rows.
    pub fn rows(
        self,
        text: &str,
        fits: impl Fn(&Case) -> Result<(), String>,
    ) -> Result<Imported, NoCasebook> {
        match self {
            FormIn::Json => read_json(text, fits),
            FormIn::Csv => read_csv(text.as_bytes(), fits),
        }
    }
}
