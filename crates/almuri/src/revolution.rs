use desk::words::{Angle, Zodiacal};
use desk::{Cabinet, RevolutionRequest};

use crate::arguments::RevolutionArguments;
use crate::cast::{moment_request, now_unix_s};
use crate::failure::Failure;
use crate::sheet::{self, Sheet};

/// Casts the revolution of a year.
pub(crate) fn run(arguments: &RevolutionArguments) -> Result<String, Failure> {
    let cabinet = Cabinet::built_in();
    let moment = moment_request(
        &arguments.when,
        &arguments.moment,
        arguments.with.as_ref(),
        &cabinet,
    )?;
    let request = RevolutionRequest {
        moment,
        year: arguments.year,
        at: arguments.cast_at.clone(),
    };
    let answer = desk::revolution(&request, &cabinet, now_unix_s())?;
    if arguments.json {
        return Ok(serde_json::to_string(&answer).map_err(Failure::other)? + "\n");
    }
    let mut head = Sheet::default();
    head.paragraph(&format!(
        "The Sun is back at {} after {} years. On the limb the rete has turned by {:.2}°{}.",
        Zodiacal(Angle::from_deg(answer.sun_deg)),
        answer.years,
        answer.limb_turn_deg,
        answer
            .limb_turn_a_year_deg
            .map_or(String::new(), |deg| format!(", {deg:.2}° for each year"))
    ));
    head.gap();
    Ok(head.text() + &sheet::cast(&answer.cast))
}
