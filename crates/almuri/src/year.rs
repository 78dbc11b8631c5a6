use std::path::Path;

use desk::{ClockTimeAnswer, YearAnswer, YearRequest};
use press::BookPaper;

use crate::arguments::YearArguments;
use crate::cabinet;
use crate::cast::moment_request;
use crate::failure::Failure;
use crate::picture::write_whole;
use crate::sheet::Sheet;

/// Makes the year of a town and an instrument: what happens, as a list, and the book, the
/// calendar and the table as files.
pub(crate) fn run(arguments: &YearArguments) -> Result<String, Failure> {
    let cabinet = cabinet::at_hand();
    let moment = arguments.place.moment();
    let kept = moment_request("now", &moment, arguments.with.as_ref(), &cabinet)?;
    let request = YearRequest {
        year: arguments.year,
        at: kept.at,
        zone: kept.zone,
        with: kept.with,
        hours_of: arguments.hours_of.clone(),
    };
    let paper = BookPaper::named(&arguments.paper).map_err(Failure::bad_input)?;
    let files = arguments
        .output
        .iter()
        .map(|path| Ok((path.as_path(), File::of(path)?)));
    let files = files.collect::<Result<Vec<_>, Failure>>()?;
    let answer = desk::year(&request, &cabinet)?;
    for (path, file) in files {
        let bytes = match file {
            File::Book => press::year_book(&handouts::year_handout(&answer), paper)?,
            File::Calendar => handouts::year_calendar(&answer, &arguments.kinds, arguments.alarm)
                .map_err(Failure::bad_input)?
                .into_bytes(),
            File::Csv => csv(&answer)?,
        };
        write_whole(path, &bytes, arguments.overwrite)?;
    }
    if arguments.json {
        return Ok(serde_json::to_string(&answer).map_err(Failure::other)? + "\n");
    }
    Ok(list(&answer))
}

/// What a file is, by the end of its name.
enum File {
    Book,
    Calendar,
    Csv,
}

impl File {
    fn of(path: &Path) -> Result<File, Failure> {
        let end = path.extension().and_then(|end| end.to_str());
        match end.map(str::to_lowercase).as_deref() {
            Some("pdf") => Ok(File::Book),
            Some("ics") => Ok(File::Calendar),
            Some("csv") => Ok(File::Csv),
            _ => Err(Failure::bad_input(format!(
                "{} is no kind of file that a year goes into; a name that ends in .pdf, .ics or .csv would do",
                path.display()
            ))),
        }
    }
}

fn csv(answer: &YearAnswer) -> Result<Vec<u8>, Failure> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer
        .write_record([
            "date",
            "weekday",
            "ruler",
            "scale_deg",
            "sun_deg",
            "sunrise",
            "sunset",
            "day_hour_s",
            "night_hour_s",
            "equation_of_time_s",
            "moon_deg",
            "elongation_deg",
        ])
        .map_err(Failure::other)?;
    let number = |number: f64| format!("{number:.4}");
    let clock = |of: Option<ClockTimeAnswer>| of.map_or_else(String::new, |of| of.to_string());
    let maybe = |of: Option<f64>| of.map_or_else(String::new, number);
    for day in &answer.days {
        writer
            .write_record([
                day.date.to_string(),
                day.weekday.to_owned(),
                day.ruler.to_owned(),
                maybe(day.scale_deg),
                number(day.sun_deg),
                clock(day.sunrise),
                clock(day.sunset),
                maybe(day.day_hour_s),
                maybe(day.night_hour_s),
                number(day.equation_of_time_s),
                number(day.moon_deg),
                number(day.elongation_deg),
            ])
            .map_err(Failure::other)?;
    }
    writer.into_inner().map_err(Failure::other)
}

fn list(answer: &YearAnswer) -> String {
    let mut sheet = Sheet::default();
    sheet.line(&format!("{}, {}", answer.year, answer.place.name));
    let zone = answer
        .zone
        .as_deref()
        .map_or(String::new(), |zone| format!(", by the clock of {zone}"));
    sheet.line(&format!("with {}{zone}", answer.instrument.called));
    sheet.title("What happens");
    for event in answer
        .events
        .iter()
        .filter(|event| event.kind != "moon-ingress")
    {
        sheet.entry(&event.at.to_string(), 19, &event.what);
    }
    sheet.title("Stars of the evening");
    for star in &answer.stars {
        sheet.line(&format!(
            "from {}  {:<24}{:>3.0}° high, azimuth {:>3.0}°, at {:.5}",
            star.from,
            star.called(),
            star.altitude_deg,
            star.azimuth_deg,
            star.at.time().to_string()
        ));
    }
    sheet.gap();
    sheet.paragraph("The book is made with -o book.pdf, a calendar with -o year.ics, the days as a table with -o days.csv.");
    sheet.text()
}
