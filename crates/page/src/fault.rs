use desk::Refusal;
use serde_json::{Value, json};

/// What a question comes to when it cannot be answered.
#[derive(Debug)]
pub enum Fault {
    /// The desk cannot answer: bad input, with the field it belongs to.
    Refused(Refusal),
    /// What is asked cannot be done, in a sentence for a person.
    Asked(String),
    /// Only the whole build can answer, and this is the small one.
    Elsewhere,
    /// Something is wrong here; the details are for whoever mends the program.
    Inner(String),
}

/// What the page says where the small build is all there is.
const ELSEWHERE: &str = "This copy of the program makes no files and examines no instruments.";

/// What the page says of a fault of ours.
const INNER: &str = "Something went wrong inside the program.";

impl Fault {
    /// That something cannot be done as it was asked.
    pub fn asked(why: impl std::fmt::Display) -> Fault {
        Fault::Asked(why.to_string())
    }

    /// A fault of ours.
    pub fn inner(details: impl std::fmt::Display) -> Fault {
        Fault::Inner(details.to_string())
    }

    /// What the page is told: a message, and what the desk says besides.
    #[must_use]
    pub fn told(&self) -> Value {
        match self {
            Fault::Refused(refusal) => json!(refusal),
            Fault::Asked(message) => json!({ "message": message }),
            Fault::Elsewhere => json!({ "message": ELSEWHERE }),
            Fault::Inner(_) => json!({ "message": INNER }),
        }
    }
}

impl From<Refusal> for Fault {
    fn from(refusal: Refusal) -> Fault {
        Fault::Refused(refusal)
    }
}
