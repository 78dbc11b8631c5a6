use serde::Serialize;
use serde::de::DeserializeOwned;

use crate::Fault;

/// An answer, as it goes to the page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// Its media type: `application/json`, or that of a file to be saved.
    pub kind: &'static str,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// An answer in JSON.
///
/// # Errors
/// When it cannot be written so, which is a fault of ours.
pub fn json(answer: &impl Serialize) -> Result<Answer, Fault> {
    Ok(Answer {
        kind: "application/json",
        bytes: serde_json::to_vec(answer).map_err(Fault::inner)?,
    })
}

/// What is asked, out of the body of a question.
pub(crate) fn read<T: DeserializeOwned>(body: &[u8]) -> Result<T, Fault> {
    serde_json::from_slice(body)
        .map_err(|error| Fault::asked(format!("this is not how the page asks: {error}")))
}
