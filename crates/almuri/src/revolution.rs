use desk::RevolutionRequest;
use desk::words::{Angle, Zodiacal};

use crate::arguments::RevolutionArguments;
use crate::cabinet;
use crate::cast::{moment_request, now_unix_s};
use crate::failure::Failure;
use crate::sheet::Sheet;

/// Casts the revolution of a year.
pub(crate) fn run(arguments: &RevolutionArguments) -> Result<String, Failure> {
    let cabinet = cabinet::at_hand();
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
        "The Sun {}. On the limb the rete has turned by {:.2}°{}.",
        back(Zodiacal(Angle::from_deg(answer.sun_deg)), answer.years),
        answer.limb_turn_deg,
        answer
            .limb_turn_a_year_deg
            .map_or(String::new(), |deg| format!(", {deg:.2}° for each year"))
    ));
    if let Some(note) = &answer.note {
        head.paragraph(note);
    }
    head.gap();
    Ok(head.text() + &crate::cast_sheet::cast(&answer.cast))
}

/// Where the Sun is back, and after how many years; before the beginning it was there.
fn back(sun: Zodiacal, years: i32) -> String {
    let count = |years: u32| match years {
        1 => "1 year".to_owned(),
        years => format!("{years} years"),
    };
    match years {
        0 => format!("stands at {sun}, where it began"),
        1.. => format!("is back at {sun} after {}", count(years.unsigned_abs())),
        _ => format!("was at {sun} {} before", count(years.unsigned_abs())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn years_are_counted_either_way() {
        let said = |years| back(Zodiacal(Angle::from_deg(53.25)), years);
        assert_eq!(said(1), "is back at 23°15′ Taurus after 1 year");
        assert_eq!(said(34), "is back at 23°15′ Taurus after 34 years");
        assert_eq!(said(-10), "was at 23°15′ Taurus 10 years before");
        assert_eq!(said(0), "stands at 23°15′ Taurus, where it began");
    }
}
