use std::path::{Path, PathBuf};

use ::casebook::CabinetError;
use desk::{Cabinet, InstrumentAnswer, WithInstrument};

use crate::arguments::{CabinetArguments, CabinetCommand};
use crate::cabinet::{at_hand, folder};
use crate::failure::Failure;
use crate::picture::write_whole;
use crate::settings::Settings;
use crate::with;

impl From<CabinetError> for Failure {
    fn from(error: CabinetError) -> Failure {
        if error.is_bad_input() {
            Failure::bad_input(error)
        } else {
            Failure::other(error)
        }
    }
}

/// Lists the cabinet, shows an instrument, checks a specification file, or keeps, copies,
/// exports and removes one.
pub(crate) fn run(arguments: &CabinetArguments) -> Result<String, Failure> {
    let cabinet = at_hand();
    let asked_json = arguments.json;
    match &arguments.command {
        Some(CabinetCommand::Add {
            file,
            name,
            usual,
            overwrite,
        }) => {
            let mut text = with::specification(file)?;
            if let Some(name) = name {
                text = desk::renamed(&text, name)?;
            }
            return add(&cabinet, &text, *overwrite, *usual, asked_json);
        }
        Some(CabinetCommand::Copy { name, copy }) => {
            let text = desk::renamed(cabinet.specified(name)?.text, copy)?;
            return add(&cabinet, &text, false, false, asked_json);
        }
        Some(CabinetCommand::Export {
            name,
            output,
            overwrite,
        }) => return export(&cabinet, name, output, *overwrite, asked_json),
        Some(CabinetCommand::Remove { name, yes }) => {
            return remove(&cabinet, name, *yes, asked_json);
        }
        None => {}
    }
    let with = match (&arguments.show, &arguments.check) {
        (Some(name), _) => Some(with::instrument(name, &cabinet)?),
        (None, Some(path)) => Some(WithInstrument::Specification(with::specification(path)?)),
        (None, None) => None,
    };
    match with {
        Some(with) => {
            let instrument = desk::instrument(&with, &cabinet)?;
            if asked_json {
                return json(&instrument);
            }
            let head = if arguments.check.is_some() {
                "The specification is sound.\n\n"
            } else {
                ""
            };
            Ok(format!("{head}{}", shown(&instrument)))
        }
        None => list(&cabinet, asked_json),
    }
}

/// All instruments, which are one's own, and what cannot be used.
fn list(cabinet: &Cabinet, asked_json: bool) -> Result<String, Failure> {
    let all = desk::cabinet(cabinet);
    if asked_json {
        return json(&all);
    }
    let mut text = String::new();
    for instrument in &all.instruments {
        text.push_str(&listed(instrument));
        if let Some(own) = all.own.iter().find(|own| own.name == instrument.name) {
            let file = match folder() {
                Ok(folder) if own.in_folder => folder.path().join(&own.file),
                _ => PathBuf::from(&own.file),
            };
            text.push_str(&format!("    your own: {}\n", file.display()));
        }
    }
    for one in &all.unread {
        text.push_str(&format!("{} cannot be used: {}\n", one.file, one.why));
    }
    Ok(text)
}

/// Keeps a specification.
fn add(
    cabinet: &Cabinet,
    text: &str,
    overwrite: bool,
    usual: bool,
    asked_json: bool,
) -> Result<String, Failure> {
    let folder = folder().map_err(Failure::other)?;
    let name = desk::instrument(&WithInstrument::Specification(text.to_owned()), cabinet)?.name;
    let before = cabinet
        .specified(&name)
        .ok()
        .filter(|_| overwrite)
        .and_then(|before| Some((before.file?, before.text)));
    let file = match before {
        Some((file, before)) => {
            cabinet.fit_to_keep(text, Some(&name))?;
            folder.replace(file, before, text)?;
            file.to_owned()
        }
        None => {
            cabinet.fit_to_keep(text, None).map_err(|refusal| {
                let own = cabinet.specified(&name).is_ok_and(|one| one.file.is_some());
                let more = if own { ", or --overwrite" } else { "" };
                Failure::bad_input(format!("{refusal}: --name NAME{more}"))
            })?;
            folder.add(&name, text)?
        }
    };
    if usual {
        Settings::keep_usual(Some(&name))?;
    }
    let path = folder.path().join(file);
    if asked_json {
        return json(
            &serde_json::json!({ "name": name, "file": path.display().to_string(), "usual": usual }),
        );
    }
    let more = if usual {
        ", the usual one from now on"
    } else {
        ""
    };
    Ok(format!(
        "{name} is in the cabinet{more}\n    {}\n",
        path.display()
    ))
}

fn export(
    cabinet: &Cabinet,
    name: &str,
    output: &Path,
    overwrite: bool,
    asked_json: bool,
) -> Result<String, Failure> {
    let text = cabinet.specified(name)?.text;
    if output == Path::new("-") {
        return if asked_json {
            json(&serde_json::json!({ "specification": text }))
        } else {
            Ok(text.to_owned())
        };
    }
    write_whole(output, text.as_bytes(), overwrite)?;
    if asked_json {
        return json(
            &serde_json::json!({ "file": output.display().to_string(), "bytes": text.len() }),
        );
    }
    Ok(format!("{}\n", output.display()))
}

fn remove(cabinet: &Cabinet, name: &str, yes: bool, asked_json: bool) -> Result<String, Failure> {
    let name = cabinet.named(name)?.specification().name.clone();
    let specified = cabinet.specified(&name)?;
    let Some(file) = specified.file else {
        return Err(Failure::bad_input(format!(
            "{name} does not lie in the cabinet's folder and cannot be taken out of it; an instrument that was added would do"
        )));
    };
    if !yes {
        return Err(Failure::bad_input(format!(
            "{name} would be gone for good; --yes says that this is meant, and `almuri cabinet export` writes it into a file first"
        )));
    }
    folder()
        .map_err(Failure::other)?
        .remove(file, specified.text)?;
    let was_usual = Settings::kept()?
        .with
        .is_some_and(|usual| usual.to_lowercase() == name.to_lowercase());
    if was_usual {
        Settings::keep_usual(None)?;
    }
    if asked_json {
        return json(&serde_json::json!({ "removed": name, "was_usual": was_usual }));
    }
    let more = if was_usual {
        "; no instrument is the usual one now"
    } else {
        ""
    };
    Ok(format!("{name} is out of the cabinet{more}\n"))
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
    let azimuths = if instrument.azimuth_step_deg > 0.0 {
        format!("every {}°", instrument.azimuth_step_deg)
    } else {
        "none".to_owned()
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
            "plate off",
            format!(
                "{} mm towards noon, {} mm towards the west",
                faults.plate_off_noon_mm, faults.plate_off_west_mm
            ),
        ),
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
