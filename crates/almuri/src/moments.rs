use desk::MomentsRequest;

use crate::arguments::MomentsArguments;
use crate::cabinet;
use crate::cast::{moment_request, now_unix_s};
use crate::failure::Failure;
use crate::sheet::Sheet;

/// Says through which moments of the year a position of the rete goes.
pub(crate) fn run(arguments: &MomentsArguments) -> Result<String, Failure> {
    let cabinet = cabinet::at_hand();
    let moment = moment_request(
        &format!("{} 12:00", arguments.from),
        &arguments.moment,
        arguments.with.as_ref(),
        &cabinet,
    )?;
    let request = MomentsRequest {
        moment,
        ascendant: arguments.ascendant.clone(),
    };
    let answer = desk::moments(&request, &cabinet, now_unix_s())?;
    if arguments.json {
        return Ok(serde_json::to_string(&answer).map_err(Failure::other)? + "\n");
    }
    let mut sheet = Sheet::default();
    sheet.paragraph(&format!(
        "{} on the eastern horizon at {}, with {}",
        arguments.ascendant, answer.place.name, answer.instrument.called
    ));
    sheet.gap();
    let row = |cells: [&str; 5]| {
        let [date, read, clock, exact, exact_clock] = cells;
        format!("  {date:<11}{read:<12}{clock:<23}{exact:<12}{exact_clock}")
    };
    sheet.line(&row([
        "",
        "by the Sun",
        "by the clock",
        "calculated",
        "by the clock",
    ]));
    for day in &answer.days {
        let rising = &day.rising;
        let said = |text: &Option<String>| text.clone().unwrap_or_else(|| "–".to_owned());
        let clock = match (&rising.clock_date, &rising.clock) {
            (Some(date), Some(clock)) => format!("{date} {clock}"),
            _ => "–".to_owned(),
        };
        sheet.line(&row([
            &day.date,
            &said(&rising.text),
            &clock,
            &said(&rising.exact_text),
            &said(&rising.exact_clock),
        ]));
    }
    Ok(sheet.text())
}
