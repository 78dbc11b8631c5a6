use std::path::Path;

use desk::{ChooseAnswer, ChooseRequest, TimeAnswer};

use crate::arguments::ChooseArguments;
use crate::cast::{moment_request, now_unix_s};
use crate::failure::Failure;
use crate::picture::{format_of, write_whole};
use crate::sheet::Sheet;
use crate::{cabinet, interrupt, with};

/// Seeks the times at which wishes are met; asked for nothing, lists what can be wished.
pub(crate) fn run(arguments: &ChooseArguments) -> Result<String, Failure> {
    let mut request = match &arguments.wishes {
        Some(path) => {
            let text = with::short_text(path, "wishes", "a TOML file with version = 1")?;
            ChooseRequest::from_toml(&text)?
        }
        None => ChooseRequest::default(),
    };
    request.must.extend(arguments.must.iter().cloned());
    request.rather.extend(arguments.rather.iter().cloned());
    let nothing = arguments.wishes.is_none() && arguments.from.is_none() && request.must.is_empty();
    if nothing {
        return forms(arguments.json);
    }
    said(&mut request, arguments)?;
    // Before anything is sought, what it goes into.
    let files = arguments
        .output
        .iter()
        .map(|path| Ok((path.as_path(), File::of(path)?)));
    let files = files.collect::<Result<Vec<_>, Failure>>()?;
    let answer = interrupt::work(|patience| Ok(desk::choose(&request, now_unix_s(), patience)?))?;
    for (path, file) in files {
        let bytes = file.bytes(&answer, arguments.alarm)?;
        write_whole(path, &bytes, arguments.overwrite)?;
    }
    if arguments.json {
        return Ok(serde_json::to_string(&answer).map_err(Failure::other)? + "\n");
    }
    Ok(table(&answer, arguments.most))
}

/// What the options say comes before what the file says, and that before the settings.
fn said(request: &mut ChooseRequest, arguments: &ChooseArguments) -> Result<(), Failure> {
    let asks = |of: &Option<String>, kept: &str, option: &str| match of {
        Some(of) => Ok(of.clone()),
        None if !kept.is_empty() => Ok(kept.to_owned()),
        None => Err(Failure::bad_input(format!(
            "it is not said {option}; {option} 2027-03-01 would do"
        ))),
    };
    request.from = asks(&arguments.from, &request.from, "--from")?;
    request.to = asks(&arguments.to, &request.to, "--to")?;
    let moment = arguments.place.moment();
    if moment.at.is_some() || request.at.is_empty() {
        let cabinet = cabinet::at_hand();
        let kept = moment_request("now", &moment, None, &cabinet)?;
        request.at = kept.at;
        request.zone = kept.zone.or(request.zone.take());
        request.houses = request.houses.take().or(kept.houses);
    }
    for (into, of) in [
        (&mut request.zone, &moment.zone),
        (&mut request.clock, &arguments.clock),
        (&mut request.calendar, &arguments.calendar),
        (&mut request.houses, &arguments.houses),
        (&mut request.border, &arguments.border),
        (&mut request.sunrise, &arguments.sunrise),
        (&mut request.terms, &arguments.terms),
        (&mut request.triplicities, &arguments.triplicities),
        (&mut request.orbs, &arguments.orbs),
        (&mut request.beams, &arguments.beams),
    ] {
        if of.is_some() {
            into.clone_from(of);
        }
    }
    request.lasting_min = arguments.lasting.or(request.lasting_min);
    Ok(())
}

/// What a file is, by the end of its name.
enum File {
    Csv,
    Calendar,
    Drawing(press::DrawingFormat),
}

impl File {
    fn of(path: &Path) -> Result<File, Failure> {
        match path.extension().and_then(|end| end.to_str()) {
            Some(end) if end.eq_ignore_ascii_case("csv") => Ok(File::Csv),
            Some(end) if end.eq_ignore_ascii_case("ics") => Ok(File::Calendar),
            _ => format_of(path).map(File::Drawing).map_err(|_| {
                Failure::bad_input(format!(
                    "{} is no kind of file that times go into; a name that ends in .csv, .ics, .svg, .pdf or .png would do",
                    path.display()
                ))
            }),
        }
    }

    fn bytes(&self, answer: &ChooseAnswer, alarm: Option<u32>) -> Result<Vec<u8>, Failure> {
        match self {
            File::Csv => csv(answer),
            File::Calendar => handouts::choice_calendar(answer, alarm)
                .map(String::into_bytes)
                .map_err(Failure::bad_input),
            File::Drawing(format) => {
                let scene = desk::choice_scene(answer);
                Ok(press::drawing_file(&scene, "times", *format)?)
            }
        }
    }
}

fn csv(answer: &ChooseAnswer) -> Result<Vec<u8>, Failure> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let columns = [
        "rank",
        "from",
        "until",
        "from_utc",
        "until_utc",
        "lasts_s",
        "holds",
        "lacks",
    ];
    writer.write_record(columns).map_err(Failure::other)?;
    for time in &answer.times {
        writer
            .write_record([
                &time.rank.to_string(),
                &time.from.to_string(),
                &time.until.to_string(),
                &time.from_utc,
                &time.until_utc,
                &time.lasts_s.to_string(),
                &time.holds.join("; "),
                &time.lacks.join("; "),
            ])
            .map_err(Failure::other)?;
    }
    writer.into_inner().map_err(Failure::other)
}

fn forms(json: bool) -> Result<String, Failure> {
    let forms = desk::choose_forms();
    if json {
        return Ok(serde_json::to_string(&forms).map_err(Failure::other)? + "\n");
    }
    let mut sheet = Sheet::default();
    sheet.line("What can be wished, with --must or --rather; “not” turns each round");
    sheet.gap();
    for form in forms {
        sheet.entry(&format!("  {}", form.example), 46, form.asks);
    }
    sheet.gap();
    sheet.paragraph(
        "almuri choose --from 2027-03-01 --to 2027-05-31 --at \"Lisbon, Portugal\" --must \"Moon waxing\" --must \"hour of Venus\" --rather \"Jupiter culminating\"",
    );
    Ok(sheet.text())
}

fn table(answer: &ChooseAnswer, most: usize) -> String {
    let mut sheet = Sheet::default();
    sheet.line(&format!("{} to {}", answer.from, answer.until));
    sheet.line(&match &answer.zone {
        Some(zone) => format!("{}, by the clock of {zone}", answer.place.name),
        None => answer.place.name.clone(),
    });
    sheet.title("What is wished");
    for wish in &answer.wishes {
        let kind = if wish.must { "must" } else { "rather" };
        let same = wish.means.eq_ignore_ascii_case(&wish.text);
        let means = if same {
            String::new()
        } else {
            format!(": {}", wish.means)
        };
        sheet.entry(&format!("  {kind}"), 9, &format!("{}{means}", wish.text));
    }
    sheet.title("When it is so");
    sheet.paragraph(&format!("{}.", answer.summary));
    if !answer.times.is_empty() {
        sheet.gap();
    }
    for time in answer.times.iter().take(most) {
        row(&mut sheet, time);
    }
    let more = answer.times.len().saturating_sub(most);
    if more > 0 {
        sheet.gap();
        sheet.paragraph(&format!(
            "{more} more; --most {} shows them, and --json or a file has them all.",
            answer.times.len()
        ));
    }
    sheet.gap();
    let rules = answer.rules.iter();
    let rules: Vec<String> = rules
        .map(|rule| format!("{} {}", rule.rule, rule.choice))
        .collect();
    sheet.paragraph(&format!("By these rules: {}.", rules.join(", ")));
    sheet.text()
}

fn row(sheet: &mut Sheet, time: &TimeAnswer) {
    let (from, until) = (time.from, time.until);
    // On the same day its date is not said again.
    let until = if from.date() == until.date() {
        format!("{:<19}", until.time().to_string())
    } else {
        until.to_string()
    };
    sheet.line(&format!(
        "{:>3}. {from} to {until}  {}",
        time.rank,
        lasts(time.lasts_s)
    ));
    if !time.holds.is_empty() {
        sheet.indented(&format!("holds too: {}", time.holds.join(", ")), 5);
    }
    if !time.lacks.is_empty() {
        sheet.indented(&format!("does not: {}", time.lacks.join(", ")), 5);
    }
}

fn lasts(seconds: f64) -> String {
    let whole = seconds.round();
    let (hours, minutes) = ((whole / 3600.0).floor(), (whole / 60.0).floor() % 60.0);
    if whole < 86_400.0 {
        format!("{hours:.0}:{minutes:02.0}:{:02.0}", whole % 60.0)
    } else {
        format!("{:.0} d {:.0} h", (hours / 24.0).floor(), hours % 24.0)
    }
}
