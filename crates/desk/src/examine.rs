use instrument::{
    BackPhotograph, Examined, Measurements, Photograph, Specification, against, toml_text,
};
use sky::{Angle, Plain};
use words::Called;

use crate::answer::{
    AgainstAnswer, DeviationAnswer, EstimateAnswer, ExaminedAnswer, ExaminedCalendar,
    ExaminedCircles, ExaminedLimb, ExaminedPlate, ExaminedStars,
};
use crate::cabinet::Cabinet;
use crate::estimates::{degrees, years};
use crate::examine_asked::{ExamineRequest, limit_mm, meant, no_limit_alone};
use crate::examine_back_picture::examine_back_picture;
use crate::examine_picture::examine_picture;
use crate::mater::diameter_mm;
use crate::refusal::{Field, Refusal};
use crate::request::WithInstrument;

/// The measurements of an invented instrument, as an example of their file.
pub const EXAMPLE_MEASUREMENTS: &str =
    include_str!("../../../data/measurements/from-a-drawer.toml");

/// Finds what an instrument was made for, and how true it is, from what was measured on it.
///
/// # Errors
/// When the measurements or the instrument cannot be understood.
pub fn examine(request: &ExamineRequest, cabinet: &Cabinet) -> Result<ExaminedAnswer, Refusal> {
    if BackPhotograph::is_one(&request.measurements) {
        return examine_back_picture(request);
    }
    if Photograph::is_one(&request.measurements) {
        return examine_picture(request, cabinet);
    }
    let measured = Measurements::from_toml(&request.measurements)
        .map_err(|error| Refusal::new(Field::Measurements, error))?;
    let against = match &request.with {
        None => {
            no_limit_alone(request)?;
            None
        }
        Some(with) => Some(held_against(request, &measured, with, cabinet)?),
    };
    let found = Examined::of(&measured);
    let plates = measured.plates.iter().zip(&found.plates);
    let mut answer = ExaminedAnswer {
        name: measured.name.clone(),
        sentences: Vec::new(),
        circles: found.circles.as_ref().map(ExaminedCircles::from),
        plates: plates
            .map(|(plate, found)| ExaminedPlate::of(plate, found.as_ref()))
            .collect(),
        stars: found.stars.as_ref().map(ExaminedStars::from),
        calendar: found.calendar.as_ref().map(ExaminedCalendar::from),
        limb: found.limb.as_ref().map(ExaminedLimb::from),
        specification: specification(&measured, &found),
        against,
        pictured: None,
    };
    answer.sentences = sentences(&answer);
    Ok(answer)
}

fn held_against(
    request: &ExamineRequest,
    measured: &Measurements,
    with: &WithInstrument,
    cabinet: &Cabinet,
) -> Result<AgainstAnswer, Refusal> {
    let within_mm = limit_mm(request)?;
    let instrument = meant(with, measured.hemisphere, cabinet)?;
    let mut lines: Vec<DeviationAnswer> = against(measured, &instrument)
        .iter()
        .map(DeviationAnswer::from)
        .collect();
    lines.sort_by(|a, b| b.off_mm.abs().total_cmp(&a.off_mm.abs()));
    let missed = lines
        .iter()
        .filter(|line| line.off_mm.abs() > within_mm)
        .count();
    Ok(AgainstAnswer {
        name: instrument.specification().name.clone(),
        called: Called(&instrument.specification().name).to_string(),
        within_mm,
        kept: lines.len() - missed,
        missed,
        lines,
    })
}

/// A specification of an instrument that was made so.
fn specification(measured: &Measurements, found: &Examined) -> Option<String> {
    let circles = found.circles.as_ref()?;
    let plates: Vec<String> = found
        .plates
        .iter()
        .flatten()
        .map(|plate| format!("{:.2}", plate.latitude.at.deg()))
        .collect();
    if plates.is_empty() {
        return None;
    }
    let obliquity = circles.obliquity.at;
    let outer_mm = circles.equator.at.mm() * ((Angle::QUARTER_TURN + obliquity) / 2.0).tan();
    let calendar = found.calendar.as_ref().and_then(|one| one.as_ref().ok());
    let epoch = found.stars.as_ref().map(|one| &one.year).or(calendar);
    let name: String = measured.name.chars().take(60).collect();
    let mut text = format!(
        "version = 1\nname = {}\n# So large that its tropics are as large as was measured.\n\
         diameter_mm = {:.2}\nhemisphere = \"{}\"\nobliquity_deg = {:.4}\n",
        toml_text(&format!("{name}, as measured")),
        diameter_mm(outer_mm, obliquity),
        measured.hemisphere.name(),
        obliquity.deg(),
    );
    if let Some(epoch) = epoch {
        text.push_str(&format!("epoch_year = {:.0}\n", epoch.at));
    }
    if let Some(year) = calendar {
        text.push_str(&format!(
            "calendar_year = {:.0}\ncalendar = \"julian\"\ncalendar_leap_mean = true\n",
            year.at - 2.0
        ));
    }
    text.push_str(&format!("plates_deg = [{}]\n", plates.join(", ")));
    // The pointers are those that were measured, not those that would be chosen.
    let mut stars: Vec<String> = Vec::new();
    for one in &measured.stars {
        let star = toml_text(one.star.designation);
        if !stars.contains(&star) {
            stars.push(star);
        }
    }
    if !stars.is_empty() {
        text.push_str(&format!("stars = [{}]\n", stars.join(", ")));
    }
    // Which of several plates lies off cannot be said.
    let plate_off = match found.plates.as_slice() {
        [Some(only)] => only.off_centre,
        _ => None,
    };
    // A fault within its error is none.
    let faults: String = [
        ("plate_off_noon_mm", plate_off),
        ("ecliptic_offset_mm", circles.ecliptic_offset),
    ]
    .into_iter()
    .filter_map(|(key, off)| Some((key, off?)))
    .filter(|(_, off)| off.at.mm().abs() > 3.0 * off.within.mm())
    .map(|(key, off)| format!("{key} = {:.3}\n", off.at.mm()))
    .collect();
    if !faults.is_empty() {
        text.push_str(&format!("[faults]\n{faults}"));
    }
    // What is too large, too small or too crooked to be specified is not.
    Specification::from_toml(&text).is_ok().then_some(text)
}

fn sentences(answer: &ExaminedAnswer) -> Vec<String> {
    let mut all = Vec::new();
    for (index, plate) in answer.plates.iter().enumerate() {
        all.push(plate_sentence(index + 1, plate));
    }
    if let Some(stars) = &answer.stars {
        let doubtful: Vec<&str> = stars
            .stars
            .iter()
            .filter(|one| one.doubtful)
            .map(|one| one.name)
            .collect();
        let apart = match doubtful.as_slice() {
            [] => String::new(),
            some => format!(", without {}, too far off", some.join(", ")),
        };
        all.push(format!(
            "The star pointers stand for the year {}{apart}. It is the year of the table that \
             they were laid out by; such tables were used for generations.",
            years(stars.year)
        ));
    }
    match &answer.calendar {
        Some(ExaminedCalendar {
            year: Some(year), ..
        }) => all.push(format!(
            "The calendar scale has the Sun as it stood about the year {}.",
            years(*year)
        )),
        Some(ExaminedCalendar {
            reason: Some(reason),
            ..
        }) => {
            all.push(format!("The calendar scale: {reason}."));
        }
        _ => {}
    }
    if let Some(circles) = &answer.circles {
        let year = circles.year.map_or(String::new(), |year| {
            format!(", the ecliptic’s about the year {}", years(year))
        });
        all.push(format!(
            "The circles are drawn for an obliquity of {}{year}; makers took it from tables.",
            degrees(circles.obliquity_deg)
        ));
        if let Some(off) = circles.ecliptic_offset_mm {
            all.push(lies(
                "The ecliptic ring",
                off,
                ["the outer tropic’s sign", "the inner tropic’s sign"],
            ));
        }
    }
    if let Some(limb) = &answer.limb {
        all.push(limb_sentence(limb));
    }
    if let Some(against) = &answer.against {
        let worst = against.lines.first().map_or(String::new(), |worst| {
            format!(
                " The worst is {}, off by {} mm.",
                worst.what,
                signed_mm(worst.off_mm)
            )
        });
        all.push(format!(
            "Against {}: {} of {} lengths within {} mm.{worst}",
            against.called,
            against.kept,
            against.lines.len(),
            Plain(against.within_mm)
        ));
    }
    if all.is_empty() {
        all.push("Too little was measured for anything to be found.".to_owned());
    }
    all
}

fn plate_sentence(number: usize, plate: &ExaminedPlate) -> String {
    let name = match plate.lettered_deg {
        Some(deg) => format!("Plate {number}, lettered {},", on_plate(deg)),
        None => format!("Plate {number}"),
    };
    let Some(latitude) = plate.latitude_deg else {
        return format!(
            "{name} cannot be told: two crossings that agree are needed at least, or one and the equator."
        );
    };
    let worst = plate
        .lines
        .iter()
        .map(|line| line.off_mm.abs())
        .fold(0.0, f64::max);
    let off = match plate.off_centre_mm {
        Some(off) if off.at.abs() > 3.0 * off.within => {
            format!(" {}", lies("Its middle", off, ["noon", "midnight"]))
        }
        _ => String::new(),
    };
    let beside = match plate.lettered_deg {
        Some(deg) if (latitude.at - deg).abs() > 3.0 * latitude.within => {
            ", which is not what stands on it"
        }
        _ => "",
    };
    format!(
        "{name} is drawn for latitude {}{beside}; what was measured leaves it by at most \
         {worst:.2} mm.{off}",
        degrees(latitude)
    )
}

/// As it stands on a plate: `51.5°`, southern ones with their sign.
fn on_plate(deg: f64) -> String {
    let sign = if deg < 0.0 { "−" } else { "" };
    format!("{sign}{}°", deg.abs())
}

fn limb_sentence(limb: &ExaminedLimb) -> String {
    let off = limb.off_centre_deg;
    let hole = if off.at > 3.0 * off.within {
        let length = limb
            .off_centre_mm
            .map_or(String::new(), |mm| format!(" {:.2} mm", mm.at));
        format!(
            "The hole lies{length} off the limb’s middle, towards {:.0}° of it, which costs up to \
             {} at one end of the rule and nothing in the mean of both.",
            limb.towards_deg,
            degrees(off)
        )
    } else {
        "The hole lies in the limb’s middle, as far as can be told.".to_owned()
    };
    format!(
        "{hole} A stroke, with the reading of it, is off by {:.1}′ as a rule.",
        limb.division_deg * 60.0
    )
}

fn lies(what: &str, off: EstimateAnswer, [towards, back]: [&str; 2]) -> String {
    if off.at.abs() <= 3.0 * off.within {
        return format!("{what} lies in its place, to {:.2} mm.", 3.0 * off.within);
    }
    let side = if off.at > 0.0 { towards } else { back };
    format!(
        "{what} lies {:.2} mm ± {:.2} mm off its place, towards {side}.",
        off.at.abs(),
        off.within
    )
}

/// `+0.12`, `−0.30`.
fn signed_mm(mm: f64) -> String {
    let sign = if mm <= -0.005 { '−' } else { '+' };
    format!("{sign}{:.2}", mm.abs())
}
