use std::path::Path;

use handouts::PageAddress;

use crate::arguments::SettingsArguments;
use crate::failure::Failure;
use crate::settings::{Settings, place};
use crate::{cabinet, with};

/// Shows the settings, or changes what is given, after trying that it works.
pub(crate) fn run(arguments: &SettingsArguments) -> Result<String, Failure> {
    let path = place()?;
    if arguments.forget.iter().any(|name| name == "all") {
        return match std::fs::remove_file(&path) {
            Err(error) if error.kind() != std::io::ErrorKind::NotFound => {
                Err(Failure::other(format!(
                    "the settings in {} cannot be removed: {error}",
                    path.display()
                )))
            }
            _ if arguments.json => json(&Settings::default()),
            _ => Ok("The settings are forgotten.\n".to_owned()),
        };
    }
    let before = Settings::kept()?;
    let mut settings = before.clone();
    for name in &arguments.forget {
        *settings.named(name)? = None;
    }
    for (place, given) in [
        (&mut settings.home, &arguments.home),
        (&mut settings.zone, &arguments.zone),
        (&mut settings.with, &arguments.with),
        (&mut settings.houses, &arguments.houses),
        (&mut settings.by, &arguments.by),
        (&mut settings.sun, &arguments.sun),
        (&mut settings.figures, &arguments.figures),
        (&mut settings.page_address, &arguments.page_address),
    ] {
        if given.is_some() {
            place.clone_from(given);
        }
    }
    if settings.home != before.home && arguments.zone.is_none() {
        // The old home's zone says nothing of the new one.
        settings.zone = None;
    }
    if let (Some(given), Some(name)) = (&arguments.with, &mut settings.with) {
        // A file is kept by its whole path, so that it is found from any folder.
        if let (Ok(path), true) = (std::fs::canonicalize(given), Path::new(given).is_file()) {
            *name = path.display().to_string();
        }
    }
    if settings != before {
        works(&settings)?;
        settings.keep(&path)?;
    }
    if arguments.json {
        return json(&settings);
    }
    let line = |name: &str, value: &Option<String>| {
        format!("{name:<18}{}\n", value.as_deref().unwrap_or("not set"))
    };
    Ok([
        line("home place", &settings.home),
        line("zone", &settings.zone),
        line("usual instrument", &settings.with),
        line("house method", &settings.houses),
        line("cusp procedure", &settings.by),
        line("Sun's degree from", &settings.sun),
        line("figures drawn", &settings.figures),
        line("page’s address", &settings.page_address),
        format!("kept in {}\n", path.display()),
    ]
    .concat())
}

/// Keeps settings, if they would let later commands work.
pub(crate) fn keep_if_they_work(settings: &Settings) -> Result<(), Failure> {
    works(settings)?;
    settings.keep(&place()?)
}

fn json(settings: &Settings) -> Result<String, Failure> {
    Ok(serde_json::to_string(settings).map_err(Failure::other)? + "\n")
}

/// Where others can open the page, if that is known.
pub(crate) fn page_address(settings: &Settings) -> Result<Option<PageAddress>, Failure> {
    let address = settings.page_address.as_deref().map(PageAddress::parse);
    address.transpose().map_err(Failure::bad_input)
}

/// What no later command could use is refused: an unknown place, zone, instrument,
/// method or procedure.
fn works(settings: &Settings) -> Result<(), Failure> {
    desk::FigureForm::named(settings.figures.as_deref())?;
    page_address(settings)?;
    let cabinet = cabinet::at_hand();
    let request = desk::CastRequest {
        when: "2000-01-01 12:00".to_owned(),
        at: settings.home.clone().unwrap_or_else(|| "0,0".to_owned()),
        zone: settings.zone.clone(),
        clock: Some("+00:00".to_owned()),
        houses: settings.houses.clone(),
        with: settings
            .with
            .as_deref()
            .map(|name| with::instrument(name, &cabinet))
            .transpose()?,
        by: settings.by.clone(),
        sun: settings.sun.clone(),
        ..desk::CastRequest::default()
    };
    desk::cast(&request, &cabinet, None)?;
    Ok(())
}
