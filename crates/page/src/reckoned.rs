//! A figure by tables and pen, typeset.

use desk::ReckonRequest;
use handouts::{reckoned_blank, reckoned_handout};
use patience::Patience;
use press::PageSize;
use serde::Deserialize;

use crate::answer::read;
use crate::{Answer, Fault, Holder};

/// A sheet, worked or with its numbers left to be found, and its paper.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SheetAsked {
    reckon: ReckonRequest,
    blank: bool,
    page: String,
}

pub(crate) fn sheet(
    body: &[u8],
    holder: &dyn Holder,
    patience: Patience<'_>,
) -> Result<Answer, Fault> {
    let asked: SheetAsked = read(body)?;
    let size = PageSize::parse(&asked.page).map_err(Fault::asked)?;
    let answer = desk::reckoned(&asked.reckon, &holder.cabinet(), holder.now_unix_s())?;
    let handout = if asked.blank {
        reckoned_blank(&answer)
    } else {
        reckoned_handout(&answer)
    };
    Ok(Answer {
        kind: "application/pdf",
        bytes: press::handout(&handout, size, patience).map_err(Fault::asked)?,
    })
}
