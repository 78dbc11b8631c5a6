use patience::Patience;
use press::Code;
use serde::{Deserialize, Serialize};

use crate::answer::read;
use crate::{Answer, Fault, Holder, json};

/// An address to be held a telephone to.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Address {
    text: String,
}

#[derive(Serialize)]
struct Drawn {
    svg: String,
}

pub(crate) fn code(body: &[u8], _: &dyn Holder, _: Patience<'_>) -> Result<Answer, Fault> {
    let Address { text } = read(body)?;
    let code = Code::of(&text).map_err(Fault::asked)?;
    json(&Drawn {
        svg: code.svg(&format!("A code for telephones: {text}")),
    })
}
