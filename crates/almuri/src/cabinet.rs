use desk::{Cabinet, InstrumentAnswer, WithInstrument};

use crate::arguments::CabinetArguments;
use crate::failure::Failure;
use crate::with;

/// Lists the cabinet, shows an instrument, or checks a specification file.
pub(crate) fn run(arguments: &CabinetArguments) -> Result<String, Failure> {
    let cabinet = Cabinet::built_in();
    let with = match (&arguments.show, &arguments.check) {
        (Some(name), _) => Some(with::instrument(name, &cabinet)?),
        (None, Some(path)) => Some(WithInstrument::Specification(with::specification(path)?)),
        (None, None) => None,
    };
    match with {
        Some(with) => {
            let instrument = desk::instrument(&with, &cabinet)?;
            if arguments.json {
                return json(&instrument);
            }
            let head = if arguments.check.is_some() {
                "The specification is sound.\n\n"
            } else {
                ""
            };
            Ok(format!("{head}{}", shown(&instrument)))
        }
        None => {
            let all = desk::instruments(&cabinet);
            if arguments.json {
                return json(&serde_json::json!({ "instruments": all }));
            }
            Ok(all.iter().map(listed).collect())
        }
    }
}

fn json(value: &impl serde::Serialize) -> Result<String, Failure> {
    Ok(serde_json::to_string(value).map_err(Failure::other)? + "\n")
}

fn listed(instrument: &InstrumentAnswer) -> String {
    let plates: Vec<String> = instrument
        .plates_deg
        .iter()
        .map(|deg| format!("{deg}°"))
        .collect();
    format!(
        "{}\n    {} mm, {}, plates {}\n    {}\n",
        instrument.name,
        instrument.diameter_mm,
        instrument.orientation,
        plates.join(" "),
        instrument.description
    )
}

fn shown(instrument: &InstrumentAnswer) -> String {
    let plates: Vec<String> = instrument
        .plates_deg
        .iter()
        .map(|deg| format!("{deg}°"))
        .collect();
    let faults = &instrument.faults;
    let mut text = format!("{}\n", instrument.name);
    if !instrument.description.is_empty() {
        text.push_str(&format!("{}\n", instrument.description));
    }
    let azimuths = match instrument.azimuth_step_deg {
        0 => "none".to_owned(),
        step => format!("every {step}°"),
    };
    for (name, value) in [
        ("diameter", format!("{} mm", instrument.diameter_mm)),
        ("hemisphere", instrument.hemisphere.to_owned()),
        ("orientation", instrument.orientation.to_owned()),
        ("plates", plates.join(" ")),
        ("obliquity", format!("{:.4}°", instrument.obliquity_deg)),
        ("epoch", format!("{}", instrument.epoch_year)),
        ("date from", instrument.date_from.to_owned()),
        (
            "unequal-hour lines",
            instrument.unequal_hour_lines.to_owned(),
        ),
        ("house lines", instrument.house_lines.to_owned()),
        (
            "limb",
            format!("divided every {}°", instrument.limb_division_deg),
        ),
        (
            "ecliptic",
            format!("divided every {}°", instrument.ecliptic_division_deg),
        ),
        (
            "almucantars",
            format!("every {}°", instrument.almucantar_step_deg),
        ),
        ("azimuths", azimuths),
        ("eye", format!("{} mm", instrument.eye_mm)),
        ("pin play", format!("{} mm", faults.pin_play_mm)),
        ("plate turned", format!("{}°", faults.plate_turned_deg)),
        (
            "ecliptic offset",
            format!("{} mm", faults.ecliptic_offset_mm),
        ),
        ("rule offset", format!("{} mm", faults.rule_offset_mm)),
        ("stars", instrument.stars.join(", ")),
    ] {
        text.push_str(&format!("    {name:<20}{value}\n"));
    }
    text
}
