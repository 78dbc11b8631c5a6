use std::collections::BTreeMap;
use std::time::{SystemTime, UNIX_EPOCH};

use desk::{Cabinet, CastRequest};

use crate::arguments::{CastArguments, MomentArguments};
use crate::failure::Failure;
use crate::settings::Settings;
use crate::with;

/// The request that the arguments and the settings make together.
pub(crate) fn request(
    arguments: &CastArguments,
    cabinet: &Cabinet,
) -> Result<CastRequest, Failure> {
    let asked = moment_request(
        &arguments.when,
        &arguments.moment,
        arguments.with.as_ref(),
        cabinet,
    )?;
    Ok(CastRequest {
        houses: arguments.houses.clone().or(asked.houses),
        by: arguments.by.clone().or(asked.by),
        read: own_readings(&arguments.read)?,
        without: arguments.without.clone(),
        ..asked
    })
}

/// The moment, place and instrument that arguments and settings make together,
/// with nothing asked of them yet.
pub(crate) fn moment_request(
    when: &str,
    moment: &MomentArguments,
    with: Option<&String>,
    cabinet: &Cabinet,
) -> Result<CastRequest, Failure> {
    let settings = settings(moment)?;
    let (at, zone) = place(moment, &settings)?;
    let named = with.or(settings.with.as_ref());
    Ok(CastRequest {
        when: when.to_owned(),
        at,
        zone,
        clock: moment.clock.clone(),
        calendar: moment.calendar.clone(),
        which: moment.which.clone(),
        houses: settings.houses,
        with: named
            .map(|name| with::instrument(name, cabinet))
            .transpose()?,
        sun: moment.sun.clone().or(settings.sun),
        plates: moment.plates.clone(),
        by: settings.by,
        ..CastRequest::default()
    })
}

/// The same where moment and place may be left unsaid: an operation that needs
/// them says so itself.
pub(crate) fn moment_request_or_none(
    when: Option<&str>,
    moment: &MomentArguments,
    with: Option<&String>,
    cabinet: &Cabinet,
) -> Result<CastRequest, Failure> {
    let kept = settings(moment)?;
    if moment.at.is_some() || kept.home.is_some() {
        return moment_request(when.unwrap_or_default(), moment, with, cabinet);
    }
    if when.is_some() {
        return moment_request(when.unwrap_or_default(), moment, with, cabinet);
    }
    let named = with.or(kept.with.as_ref());
    Ok(CastRequest {
        with: named
            .map(|name| with::instrument(name, cabinet))
            .transpose()?,
        sun: moment.sun.clone().or_else(|| kept.sun.clone()),
        plates: moment.plates.clone(),
        ..CastRequest::default()
    })
}

pub(crate) fn settings(moment: &MomentArguments) -> Result<Settings, Failure> {
    if moment.no_settings {
        Ok(Settings::default())
    } else {
        Settings::kept()
    }
}

/// The place, and the zone that goes with it: the home place's zone is not that of
/// another.
fn place(
    moment: &MomentArguments,
    settings: &Settings,
) -> Result<(String, Option<String>), Failure> {
    match (&moment.at, &settings.home) {
        (Some(at), _) => Ok((at.clone(), moment.zone.clone())),
        (None, Some(home)) => Ok((home.clone(), moment.zone.clone().or(settings.zone.clone()))),
        (None, None) => Err(Failure::bad_input(
            "no place is said and no home place is kept; --at \"42.8806,-8.5449\", --at \"Lisbon, Portugal\" or `almuri settings --home PLACE` would do",
        )),
    }
}

fn own_readings(given: &[String]) -> Result<BTreeMap<String, String>, Failure> {
    let mut readings = BTreeMap::new();
    for one in given {
        let Some((what, degree)) = one.split_once('=') else {
            let shown: String = one.chars().take(60).collect();
            return Err(Failure::bad_input(format!(
                "--read {shown:?} does not say what was read; --read ascendant=\"11 Pisces\" would do"
            )));
        };
        if readings
            .insert(what.trim().to_owned(), degree.trim().to_owned())
            .is_some()
        {
            return Err(Failure::bad_input(format!(
                "--read says {} twice; once would do",
                what.trim()
            )));
        }
    }
    Ok(readings)
}

/// The time now, in seconds since the beginning of 1970.
pub(crate) fn now_unix_s() -> Option<f64> {
    let since = SystemTime::now().duration_since(UNIX_EPOCH).ok()?;
    Some(since.as_secs_f64())
}
