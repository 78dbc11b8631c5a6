use std::path::Path;

use desk::{
    DeviationAnswer, ExamineRequest, ExaminedAnswer, ExaminedPlate, ExaminedStars, HeldAnswer,
    HeldVerdict, MarkAnswer, PicturedAnswer,
};

use crate::arguments::ExamineArguments;
use crate::failure::Failure;
use crate::picture::write_whole;
use crate::sheet::Sheet;
use crate::{beside, cabinet, with};

/// Examines instruments by what was measured on them.
pub(crate) fn run(arguments: &ExamineArguments) -> Result<String, Failure> {
    let cabinet = cabinet::at_hand();
    let with = arguments
        .with
        .as_ref()
        .map(|name| with::instrument(name, &cabinet))
        .transpose()?;
    let mut examined = Vec::new();
    for path in &arguments.files {
        let would_do = "a TOML file as docs/measurements.md describes";
        let request = ExamineRequest {
            measurements: with::short_text(path, "measurements", would_do)?,
            with: with.clone(),
            within_mm: arguments.within,
        };
        let answer = desk::examine(&request, &cabinet);
        examined.push(answer.map_err(|why| match why.field {
            desk::Field::Measurements => Failure::bad_input(format!("{}: {why}", path.display())),
            _ => why.into(),
        })?);
    }
    if let Some(path) = &arguments.output {
        keep(path, &examined, arguments.overwrite)?;
    }
    if let Some(path) = &arguments.overlay {
        lay_over(path, &examined, arguments)?;
    }
    if arguments.json {
        return Ok(serde_json::json!({ "examined": examined }).to_string() + "\n");
    }
    let mut sheet = Sheet::default();
    for (index, one) in examined.iter().enumerate() {
        if index > 0 {
            sheet.gap();
        }
        told(&mut sheet, one);
    }
    if examined.len() > 1 {
        batch(&mut sheet, &examined);
    }
    Ok(sheet.text())
}

/// Writes the specification of the one that was examined.
fn keep(path: &Path, examined: &[ExaminedAnswer], overwrite: bool) -> Result<(), Failure> {
    let [one] = examined else {
        return Err(Failure::bad_input(
            "--output takes the specification of one instrument; one file of measurements would do",
        ));
    };
    let Some(text) = &one.specification else {
        return Err(Failure::bad_input(format!(
            "no specification can be made of {:?}: two of its circles and the crossings of a plate at least would do, or in a picture points of the horizon, of a tropic and of the equator",
            one.name
        )));
    };
    write_whole(path, text.as_bytes(), overwrite)
}

/// Writes what is drawn over the picture of the one that was examined.
fn lay_over(
    path: &Path,
    examined: &[ExaminedAnswer],
    arguments: &ExamineArguments,
) -> Result<(), Failure> {
    let [
        ExaminedAnswer {
            pictured: Some(pictured),
            ..
        },
    ] = examined
    else {
        return Err(Failure::bad_input(
            "--overlay draws over the photograph of one instrument; one file of marks would do",
        ));
    };
    let drawn = match &pictured.held {
        Some(held) => &held.map,
        None => &pictured.overlay,
    };
    let under = arguments.photograph.as_ref().map(|photograph| {
        beside::address(photograph, path).map_err(|error| {
            let shown = photograph.display();
            Failure::bad_input(format!(
                "--photograph {shown}: {error}; the picture that was marked would do"
            ))
        })
    });
    let svg = desk::over_picture(drawn, under.transpose()?.as_deref());
    write_whole(path, svg.as_bytes(), arguments.overwrite)
}

fn told(sheet: &mut Sheet, one: &ExaminedAnswer) {
    sheet.title(&one.name);
    for sentence in &one.sentences {
        sheet.paragraph(sentence);
    }
    if let Some(circles) = &one.circles {
        lengths(sheet, "Circles about the hole, in mm", &circles.lines);
    }
    for (index, plate) in one.plates.iter().enumerate() {
        let title = format!("Plate {}, from the hole, in mm", index + 1);
        lengths(sheet, &title, &plate.lines);
        own_errors(sheet, index + 1, plate);
    }
    if let Some(stars) = &one.stars {
        pointers(sheet, stars);
    }
    if let Some(pictured) = &one.pictured {
        match &pictured.held {
            Some(one) => held(sheet, one),
            None => marks(sheet, pictured),
        }
    }
    if let Some(against) = &one.against {
        lengths(
            sheet,
            &format!("Against {}, in mm", against.called),
            &against.lines,
        );
    }
}

/// The table of a plate's own errors that is handed over with it.
fn own_errors(sheet: &mut Sheet, number: usize, plate: &ExaminedPlate) {
    if plate.errors.is_empty() {
        return;
    }
    let (deg, which) = match (plate.lettered_deg, plate.latitude_deg) {
        (Some(deg), _) => (deg, "as it is lettered"),
        (None, Some(found)) => (found.at, "as it was found"),
        (None, None) => return,
    };
    sheet.title(&format!(
        "Plate {number}: its own errors as measured, for {deg:.2}°, {which}"
    ));
    sheet.line(&format!(
        "  {:<24}{:>14}{:>12}{:>10}",
        "almucantar", "stands at", "to be added", "within"
    ));
    for one in &plate.errors {
        let sign = if one.to_add_deg < 0.0 { '−' } else { '+' };
        sheet.line(&format!(
            "  {:<24}{:>13.2}°{:>11}′{:>9.0}′",
            format!("{}°, towards {}", one.engraved_deg, one.towards),
            one.stands_deg.at,
            format!("{sign}{:.0}", (one.to_add_deg * 60.0).abs()),
            one.stands_deg.within * 60.0
        ));
    }
}

fn lengths(sheet: &mut Sheet, title: &str, lines: &[DeviationAnswer]) {
    if lines.is_empty() {
        return;
    }
    sheet.title(title);
    sheet.line(&format!(
        "  {:<44}{:>10}{:>10}{:>8}",
        "", "measured", "should be", "off"
    ));
    for line in lines {
        sheet.line(&format!(
            "  {:<44}{:>10}{:>10}{:>8}",
            line.what,
            millimetres(line.measured_mm),
            millimetres(line.should_mm),
            signed(line.off_mm)
        ));
    }
}

fn pointers(sheet: &mut Sheet, stars: &ExaminedStars) {
    sheet.title("Star pointers");
    sheet.line(&format!(
        "  {:<30}{:>14}{:>10}",
        "", "its own year", "off, mm"
    ));
    for star in &stars.stars {
        let name = format!("{} ({})", star.name, star.designation);
        let year = star
            .year
            .map_or("–".to_owned(), |year| format!("{year:.0}"));
        let doubt = if star.doubtful { "  left out" } else { "" };
        sheet.line(&format!(
            "  {name:<30}{year:>14}{:>10.2}{doubt}",
            star.off_mm
        ));
    }
}

/// What was marked on a delivered piece, the worst first.
fn held(sheet: &mut Sheet, held: &HeldAnswer) {
    sheet.title(&format!("Against {}, in mm", held.called));
    sheet.line(&format!(
        "  {:<30}{:>10}{:>10}{:>10}",
        "", "off", "to noon", "to west"
    ));
    for mark in &held.marks {
        let missed = if mark.kept { "" } else { "  too far off" };
        sheet.line(&format!(
            "  {:<30}{:>10}{:>10}{:>10}{missed}",
            mark.of,
            millimetres(mark.off_mm),
            signed(mark.noon_mm),
            signed(mark.west_mm)
        ));
    }
}

/// What was marked in a picture, the worst first.
fn marks(sheet: &mut Sheet, pictured: &PicturedAnswer) {
    sheet.title("Marks, off in pixels");
    let mut marks: Vec<&MarkAnswer> = pictured.marks.iter().collect();
    marks.sort_by(|one, other| other.off_px.total_cmp(&one.off_px));
    for mark in marks {
        let doubt = if mark.doubtful { "  left out" } else { "" };
        sheet.line(&format!("  {:<30}{:>10.1}{doubt}", mark.of, mark.off_px));
    }
}

/// A delivered batch at a glance: how many lengths of each are as they should be.
fn batch(sheet: &mut Sheet, examined: &[ExaminedAnswer]) {
    sheet.title("All together");
    for one in examined {
        let latitudes = one.plates.iter().filter_map(|plate| plate.latitude_deg);
        let pictured = one.pictured.as_ref().and_then(|one| one.latitude_deg);
        let latitudes: Vec<String> = latitudes
            .chain(pictured)
            .map(|one| format!("{:.2}°", one.at))
            .collect();
        let mut facts = Vec::new();
        if let Some(against) = &one.against {
            facts.push(format!(
                "{} of {} within {} mm",
                against.kept,
                against.lines.len(),
                against.within_mm
            ));
            if let Some(worst) = against.lines.first() {
                facts.push(format!("the worst {}", signed(worst.off_mm)));
            }
        }
        if let Some(held) = one.pictured.as_ref().and_then(|one| one.held.as_ref()) {
            facts.push(format!(
                "{} of {} within {} mm, {}",
                held.kept,
                held.kept + held.missed,
                held.within_mm,
                match held.verdict {
                    HeldVerdict::Accepted => "accepted",
                    HeldVerdict::NotAccepted => "not accepted",
                    HeldVerdict::NotJudged => "not judged",
                }
            ));
        }
        if !latitudes.is_empty() {
            facts.push(format!("plates for {}", latitudes.join(" ")));
        }
        sheet.paragraph(&format!("{}: {}", one.name, facts.join(", ")));
    }
}

/// 18.36, −18.36.
fn millimetres(mm: f64) -> String {
    let sign = if mm <= -0.005 { "−" } else { "" };
    format!("{sign}{:.2}", mm.abs())
}

/// +0.12, −0.30.
fn signed(mm: f64) -> String {
    let sign = if mm <= -0.005 { '−' } else { '+' };
    format!("{sign}{:.2}", mm.abs())
}
