use instrument::{Instrument, Length, Photograph, Photographed, Seen, Specification, toml_text};
use sky::{Angle, Plain};
use words::{Called, NorthOrSouth};

use crate::answer::{
    EstimateAnswer, ExaminedAnswer, HeldAnswer, HeldMarkAnswer, HeldVerdict, PicturedAnswer,
};
use crate::cabinet::Cabinet;
use crate::estimates::{degrees, years};
use crate::examine_asked::{ExamineRequest, limit_mm, meant, no_limit_alone};
use crate::mater::diameter_mm;
use crate::picture_svg::{Arrow, Overlay};
use crate::refusal::{Field, Refusal};
use crate::tellings::tellings;

/// What stands for the size of an instrument whose picture does not tell it.
const SOME_LIMB_MM: f64 = 80.0;

/// Finds what an instrument was made for from what was marked in its photograph.
pub(crate) fn examine_picture(
    request: &ExamineRequest,
    cabinet: &Cabinet,
) -> Result<ExaminedAnswer, Refusal> {
    let photograph = photograph(&request.measurements)?;
    let within_mm = limit_mm(request)?;
    no_limit_alone(request)?;
    let with = request.with.as_ref();
    let made = with.map(|with| meant(with, photograph.hemisphere, cabinet));
    let made = made.transpose()?;
    if let Some(made) = &made {
        fits(&photograph, made)?;
    }
    let found = match made {
        Some(_) => Photographed::of_delivered(&photograph),
        None => Photographed::of(&photograph),
    };
    let found = found.map_err(|error| Refusal::new(Field::Measurements, error))?;
    let pictured = PicturedAnswer {
        tellings: tellings(&found),
        held: made
            .map(|made| held(&photograph, &found, &made, within_mm))
            .transpose()?,
        ..pictured(&photograph, &found)
    };
    Ok(ExaminedAnswer {
        name: photograph.name.clone(),
        sentences: sentences(&pictured),
        circles: None,
        plates: Vec::new(),
        stars: None,
        calendar: None,
        limb: None,
        specification: specification(&photograph, &found),
        against: None,
        pictured: Some(pictured),
    })
}

/// Whether a picture can be one of an instrument: of its half of the Earth, and of its size
/// where that is said.
///
/// # Errors
/// When it cannot.
pub(crate) fn fits(photograph: &Photograph, instrument: &Instrument) -> Result<(), Refusal> {
    let specification = instrument.specification();
    let called = Called(&specification.name);
    let refused = |message: String| Err(Refusal::new(Field::Measurements, message));
    if photograph.hemisphere != specification.hemisphere {
        return refused(format!(
            "hemisphere: the picture is of an instrument for the {}, and {called} is for the {}; \
             that one, or marks of another picture, would do",
            photograph.hemisphere.name(),
            specification.hemisphere.name()
        ));
    }
    let across = 2.0 * instrument.limb_mm();
    match photograph.limb_diameter {
        Some(said) if (said.mm() / across - 1.0).abs() > SIZE_OFF => refused(format!(
            "limb_diameter_mm = {}: the limb of {called} is {across:.1} mm across; that would do, \
             or no such line",
            Plain(said.mm())
        )),
        Some(_) | None => Ok(()),
    }
}

/// By what part a limb may be larger or smaller than it was to be: more is another instrument,
/// or another unit.
const SIZE_OFF: f64 = 0.1;

/// The marks that a text holds.
pub(crate) fn photograph(text: &str) -> Result<Photograph, Refusal> {
    Photograph::from_toml(text).map_err(|error| Refusal::new(Field::Measurements, error))
}

/// What was found, drawn over the picture.
pub(crate) fn pictured(photograph: &Photograph, found: &Photographed) -> PicturedAnswer {
    let answer = PicturedAnswer::of(photograph, found);
    let title = format!("{}: its lines as they were found", photograph.name);
    let arrows = photograph.marks.iter().zip(&found.marks);
    let overlay = Overlay {
        size_px: photograph.size_px,
        title: &title,
        lines: answer
            .drawn
            .iter()
            .map(|one| (one.of.as_deref().unwrap_or("limb"), one.pieces.as_slice()))
            .collect(),
        arrows: arrows
            .map(|(mark, found)| Arrow {
                from: [0, 1].map(|axis: usize| mark.at_px[axis] - found.apart_px[axis]),
                apart: found.apart_px,
                of: found.of.to_string(),
                good: !found.doubtful,
            })
            .collect(),
    };
    let (enlarged, svg) = (overlay.times(), overlay.svg());
    PicturedAnswer {
        overlay: svg,
        enlarged,
        ..answer
    }
}

/// A delivered piece beside what it was to be: every mark that the specification has a line
/// for.
fn held(
    photograph: &Photograph,
    found: &Photographed,
    made: &Instrument,
    within_mm: f64,
) -> Result<HeldAnswer, Refusal> {
    let plate = match (found.latitude, made.specification().plates.as_slice()) {
        (Some(found), _) => made.nearest_plate(found.at),
        (None, [only]) => *only,
        (None, several) => {
            let plates: Vec<String> = several
                .iter()
                .map(|one| NorthOrSouth(*one).to_string())
                .collect();
            return Err(Refusal::new(
                Field::Measurements,
                format!(
                    "which of the plates for {} lies in the picture is not told by these marks; \
                     points of its horizon or another almucantar would do",
                    plates.join(", ")
                ),
            ));
        }
    };
    let all = found.held(made, plate);
    let mut arrows = Vec::new();
    let mut marks = Vec::new();
    for (mark, held) in photograph.marks.iter().zip(&all) {
        let Some(held) = held else { continue };
        let kept = held.off().mm() <= within_mm;
        arrows.push(Arrow {
            from: held.should_px,
            apart: [0, 1].map(|axis: usize| mark.at_px[axis] - held.should_px[axis]),
            of: held.of.to_string(),
            good: kept,
        });
        marks.push(HeldMarkAnswer {
            of: held.of.to_string(),
            off_mm: held.off().mm(),
            noon_mm: held.apart.x,
            west_mm: held.apart.y,
            kept,
        });
    }
    marks.sort_by(|one, other| other.off_mm.total_cmp(&one.off_mm));
    let missed = marks.iter().filter(|one| !one.kept).count();
    let name = &made.specification().name;
    let title = format!("{} against {}", photograph.name, Called(name));
    let map = Overlay {
        size_px: photograph.size_px,
        title: &title,
        lines: Vec::new(),
        arrows,
    };
    let tells_to_mm = found.tells_to(made).map(Length::mm);
    let is_judged = !marks.is_empty() && tells_to_mm.is_some_and(|told| within_mm >= 2.0 * told);
    let verdict = match (is_judged, missed) {
        (false, _) => HeldVerdict::NotJudged,
        (true, 0) => HeldVerdict::Accepted,
        (true, _) => HeldVerdict::NotAccepted,
    };
    Ok(HeldAnswer {
        name: name.clone(),
        called: Called(name).to_string(),
        plate_latitude_deg: plate.deg(),
        within_mm,
        tells_to_mm,
        kept: marks.len() - missed,
        missed,
        verdict,
        enlarged: map.times(),
        map: map.svg(),
        marks,
    })
}

/// A specification of an instrument so made.
fn specification(photograph: &Photograph, found: &Photographed) -> Option<String> {
    let latitude = found.latitude?.at.deg();
    let obliquity = found.plate_obliquity.or(found.ring_obliquity)?.at;
    let equator_part = found.equator?.at;
    let limb_mm = found.limb_radius.map_or(SOME_LIMB_MM, |radius| radius.mm());
    let outer_mm = limb_mm * equator_part * ((Angle::QUARTER_TURN + obliquity) / 2.0).tan();
    let name: String = photograph.name.chars().take(60).collect();
    let size = match found.limb_radius {
        Some(_) => "So large that its tropics are as large as in the picture.",
        None => "The picture does not tell its size; this stands for it.",
    };
    let mut text = format!(
        "version = 1\nname = {}\n# {size}\ndiameter_mm = {:.2}\nhemisphere = \"{}\"\n\
         obliquity_deg = {:.4}\nplates_deg = [{latitude:.3}]\n",
        toml_text(&format!("{name}, by its picture")),
        diameter_mm(outer_mm, obliquity),
        photograph.hemisphere.name(),
        obliquity.deg(),
    );
    if let Some(year) = found.year {
        text.push_str(&format!("epoch_year = {:.0}\n", year.at));
    }
    if let Some(lines) = found.hour_lines {
        text.push_str(&format!("unequal_hour_lines = \"{}\"\n", lines.name()));
    }
    if let Some(lines) = found.house_lines {
        text.push_str(&format!("house_lines = \"{}\"\n", lines.name()));
    }
    let mut stars: Vec<String> = Vec::new();
    for mark in &photograph.marks {
        if let Seen::Star(star) = mark.of {
            let star = toml_text(star.designation);
            if !stars.contains(&star) {
                stars.push(star);
            }
        }
    }
    if !stars.is_empty() {
        text.push_str(&format!("stars = [{}]\n", stars.join(", ")));
    }
    // A fault within its error is none.
    let mut faults = String::new();
    if let Some(off) = found.ring_off.filter(|one| one.at.abs() > 3.0 * one.within) {
        faults.push_str(&format!("ecliptic_offset_mm = {:.3}\n", off.at * limb_mm));
    }
    for (key, off) in [
        ("plate_off_noon_mm", found.off_noon),
        ("plate_off_west_mm", found.off_west),
    ] {
        if let Some(off) = off.filter(|one| one.at.abs() > 3.0 * one.within) {
            faults.push_str(&format!("{key} = {:.3}\n", off.at * limb_mm));
        }
    }
    // It lay so far aside when the picture was taken, and may lie so on every side.
    if let Some(off) = found.rete_off.filter(|one| one.at > 3.0 * one.within) {
        let play = 2.0 * off.at * limb_mm;
        faults.push_str(&format!("pin_play_mm = {play:.3} # at the least\n"));
    }
    let turned = found.plate_turned;
    if let Some(turned) = turned.filter(|one| one.at.deg().abs() > 3.0 * one.within.deg()) {
        faults.push_str(&format!("plate_turned_deg = {:.3}\n", turned.at.deg()));
    }
    if !faults.is_empty() {
        text.push_str(&format!("[faults]\n{faults}"));
    }
    Specification::from_toml(&text).is_ok().then_some(text)
}

fn sentences(found: &PicturedAnswer) -> Vec<String> {
    let mut all = Vec::new();
    match found.latitude_deg {
        Some(latitude) => all.push(format!(
            "The plate is drawn for latitude {}.",
            degrees(latitude)
        )),
        None => all.push(
            "For which latitude the plate is drawn cannot be told: points of the horizon and of \
             some almucantars would tell it."
                .to_owned(),
        ),
    }
    match found.year {
        Some(year) => all.push(format!(
            "The star pointers stand for the year {}. It is the year of the table that they were \
             laid out by; such tables were used for generations.",
            years(year)
        )),
        None => all.push(
            "For which year the stars stand cannot be told: the tips of some pointers, by name, \
             and some degrees of the ecliptic ring would tell it."
                .to_owned(),
        ),
    }
    match (found.plate_obliquity_deg, found.ring_obliquity_deg) {
        (Some(plate), Some(ring)) => all.push(format!(
            "The tropics are drawn for an obliquity of {}, the ecliptic ring for {}.",
            degrees(plate),
            degrees(ring)
        )),
        (Some(one), None) => all.push(format!(
            "The tropics are drawn for an obliquity of {}.",
            degrees(one)
        )),
        (None, Some(one)) => all.push(format!(
            "The ecliptic ring is drawn for an obliquity of {}.",
            degrees(one)
        )),
        (None, None) => all.push(
            "For which obliquity it is drawn cannot be told: points of both tropics and of the \
             ecliptic ring would tell it."
                .to_owned(),
        ),
    }
    let places = [
        (
            "The plate’s lines lie",
            "their place",
            found.off_noon_percent,
            ["noon", "midnight"],
        ),
        (
            "They lie",
            "their place",
            found.off_west_percent,
            ["the west", "the east"],
        ),
        (
            "The ecliptic ring lies",
            "its place",
            found.ring_off_percent,
            ["0° Capricorn", "0° Cancer"],
        ),
    ];
    for (what, place, off, [towards, back]) in places {
        if let Some(off) = off.filter(|one| one.at.abs() > 3.0 * one.within) {
            let side = if off.at > 0.0 { towards } else { back };
            all.push(format!(
                "{what} {} off {place}, towards {side}.",
                length(off, found.limb_radius_mm)
            ));
        }
    }
    let loose = found.rete_off_percent;
    if let Some(off) = loose.filter(|one| one.at > 3.0 * one.within) {
        all.push(format!(
            "The rete lay {} off the hole: it is loose by twice that at the least.",
            length(off, found.limb_radius_mm)
        ));
    }
    if let Some(turned) = found
        .plate_turned_deg
        .filter(|one| one.at.abs() > 3.0 * one.within)
    {
        all.push(format!(
            "The plate is turned in its notch by {}.",
            degrees(turned)
        ));
    }
    if let Some(lines) = found.hour_lines {
        all.push(format!("The unequal hours are drawn as {lines}."));
    }
    if let Some(lines) = found.house_lines {
        all.push(format!("The house lines are {lines}’s."));
    }
    all.extend(left_out(found));
    if let Some(held) = &found.held {
        all.push(held_sentence(held));
    }
    all.extend(found.tellings.iter().map(|one| one.sentence.clone()));
    all.push(format!(
        "The instrument leans {:.0}° away from the eye; a mark is off by {:.1} pixels as a rule.",
        found.lean_deg, found.scatter_px
    ));
    all
}

/// Which marks were left out of account, if any was.
pub(crate) fn left_out(found: &PicturedAnswer) -> Option<String> {
    let doubtful = found.marks.iter().filter(|one| one.doubtful);
    let names: Vec<&str> = doubtful.map(|one| one.of.as_str()).collect();
    (!names.is_empty()).then(|| format!("Left out of account, too far off: {}.", names.join(", ")))
}

fn held_sentence(held: &HeldAnswer) -> String {
    let count = held.kept + held.missed;
    let Some(worst) = held.marks.first() else {
        return format!(
            "Against {}: none of the marks is of a line that it has.",
            held.called
        );
    };
    let verdict = match (held.verdict, held.tells_to_mm) {
        (HeldVerdict::Accepted, _) => "It is accepted".to_owned(),
        (HeldVerdict::NotAccepted, _) => "It is not accepted".to_owned(),
        (HeldVerdict::NotJudged, Some(told)) => format!(
            "Whether it is accepted cannot be judged: in this picture a mark is off by {told:.2} mm \
             as a rule, by the hand that put it"
        ),
        (HeldVerdict::NotJudged, None) => "Whether it is accepted cannot be judged: the picture \
             does not tell how finely"
            .to_owned(),
    };
    format!(
        "Against {}, plate {}°: {} of {count} marks within {} mm. {verdict}. The worst is {}, \
         off by {:.2} mm.",
        held.called,
        Plain(held.plate_latitude_deg),
        held.kept,
        Plain(held.within_mm),
        worst.of,
        worst.off_mm
    )
}

/// In millimetres where the size is known, else in hundredths of the limb's radius.
fn length(part: EstimateAnswer, limb_radius_mm: Option<f64>) -> String {
    match limb_radius_mm {
        Some(limb) => format!(
            "{:.2} mm ± {:.2} mm",
            part.at.abs() * limb / 100.0,
            part.within * limb / 100.0
        ),
        None => format!(
            "{:.2} ± {:.2} hundredths of the limb’s radius",
            part.at.abs(),
            part.within
        ),
    }
}
