use std::fmt::Write;

use desk::words::{Angle, Degrees, Zodiacal};
use desk::{
    EphemerisRequest, EventAnswer, PlaceOnHorizonAnswer, PlanetAnswer, PlanetsAnswer,
    PlanetsRequest,
};

use crate::arguments::PlanetsArguments;
use crate::cast::{now_unix_s, settings};
use crate::ephemeris;
use crate::failure::Failure;

/// Says where the planets are: at a moment as a table, over years row by row.
pub(crate) fn run(arguments: &PlanetsArguments) -> Result<String, Failure> {
    let moment = &arguments.moment;
    let (at, zone) = place(arguments)?;
    let (clock, calendar, which) = (
        moment.clock.clone(),
        moment.calendar.clone(),
        moment.which.clone(),
    );
    match (&arguments.from, &arguments.to, &arguments.every) {
        (Some(from), Some(to), Some(every)) => {
            let request = EphemerisRequest {
                from: from.clone(),
                to: to.clone(),
                every: every.clone(),
                at,
                zone,
                clock,
                calendar,
                which,
            };
            ephemeris::run(&request, arguments)
        }
        _ => {
            let request = PlanetsRequest {
                when: arguments.when.clone().unwrap_or_default(),
                at,
                zone,
                clock,
                calendar,
                which,
            };
            let answer = desk::planets(&request, now_unix_s())?;
            if arguments.json {
                return Ok(serde_json::to_string(&answer).map_err(Failure::other)? + "\n");
            }
            Ok(table(&answer))
        }
    }
}

/// The place that is said, or else the home place with its zone, if one is kept.
fn place(arguments: &PlanetsArguments) -> Result<(Option<String>, Option<String>), Failure> {
    let moment = &arguments.moment;
    if moment.at.is_some() {
        return Ok((moment.at.clone(), moment.zone.clone()));
    }
    let settings = settings(moment)?;
    let zone = match settings.home {
        Some(_) => moment.zone.clone().or(settings.zone),
        None => moment.zone.clone(),
    };
    Ok((settings.home, zone))
}

fn table(answer: &PlanetsAnswer) -> String {
    let mut text = String::new();
    heading(&mut text, answer);
    let columns = ["", "longitude", "latitude", "declination", "in a day", ""];
    line(&mut text, columns);
    for planet in &answer.bodies {
        let body = &planet.body;
        line(
            &mut text,
            [
                body.name,
                &zodiacal(body.longitude_deg),
                &signed_degrees(body.latitude_deg),
                &signed_degrees(body.declination_deg),
                &daily(body.speed_deg_per_day),
                &motion(planet),
            ],
        );
    }
    for (name, deg) in [
        ("mean node", answer.nodes.mean_deg),
        ("true node", answer.nodes.true_deg),
    ] {
        line(&mut text, [name, &zodiacal(deg), "", "", "", ""]);
    }
    if answer.place.is_some() {
        text.push('\n');
        at_place_line(
            &mut text,
            ["", "altitude", "azimuth", "rises", "culminates", "sets"],
        );
        for planet in &answer.bodies {
            if let Some(at_place) = &planet.at_place {
                at_place_row(&mut text, planet.body.name, at_place);
            }
        }
        text.push_str(
            "\nAltitudes are of the centre, without refraction. Rising and setting are of the\n\
             upper limb over a level horizon, with 34′ of refraction, on the day of the moment.\n",
        );
    }
    for note in &answer.moment.notes {
        let _ = writeln!(text, "\nNote: {}.", note.text);
    }
    text
}

fn heading(text: &mut String, answer: &PlanetsAnswer) {
    let moment = &answer.moment;
    let clock = match (&moment.zone, moment.clock.as_str()) {
        (Some(zone), _) => format!("by the clock of {zone}"),
        (None, "mean") => "local mean time".to_owned(),
        (None, "sun") => "local apparent time".to_owned(),
        (None, "+00:00") => "Universal Time".to_owned(),
        (None, offset) => format!("by a clock at {offset}"),
    };
    // Writing to a String cannot fail.
    let _ = writeln!(
        text,
        "{}, {clock} ({} calendar)",
        crate::sheet::whole_seconds(&moment.clock_time),
        moment.calendar
    );
    if let Some(place) = &answer.place {
        let _ = writeln!(
            text,
            "{}, {:.4}°, {:.4}°",
            place.name, place.latitude_deg, place.longitude_deg
        );
    }
    let meridian = if answer.place.is_some() {
        "local"
    } else {
        "Greenwich"
    };
    let minutes = (answer.sidereal_time_deg * 4.0).round() % 1440.0;
    let _ = writeln!(
        text,
        "Julian date {:.5} (UT), TT − UT {:.1} s, {meridian} sidereal time {} h {:02} m, obliquity {}\n",
        moment.jd_ut,
        moment.delta_t_s,
        (minutes / 60.0).floor(),
        minutes % 60.0,
        Degrees(Angle::from_deg(answer.obliquity_deg))
    );
}

fn line(text: &mut String, [name, longitude, latitude, declination, daily, motion]: [&str; 6]) {
    let row =
        format!("{name:<11}{longitude:<20}{latitude:>9}  {declination:>11}  {daily:>11}  {motion}");
    let _ = writeln!(text, "{}", row.trim_end());
}

fn at_place_line(text: &mut String, [name, altitude, azimuth, a, b, c]: [&str; 6]) {
    let row = format!("{name:<11}{altitude:>9}  {azimuth:>8}   {a:<12}{b:<12}{c}");
    let _ = writeln!(text, "{}", row.trim_end());
}

fn at_place_row(text: &mut String, name: &str, at_place: &PlaceOnHorizonAnswer) {
    let azimuth = Degrees(Angle::from_deg(at_place.azimuth_deg)).to_string();
    let culminates = times(&at_place.culminates);
    let (rises, sets) = match at_place.stays {
        Some(where_) => (format!("stays {where_}"), String::new()),
        None => (times(&at_place.rises), times(&at_place.sets)),
    };
    let altitude = signed_degrees(at_place.altitude_deg);
    at_place_line(
        text,
        [name, &altitude, &azimuth, &rises, &culminates, &sets],
    );
}

/// Times of day, without the date, to the nearest minute.
fn times(events: &[EventAnswer]) -> String {
    let times: Vec<String> = events
        .iter()
        .filter_map(|event| to_minute(event.clock_time.split(' ').nth(1)?))
        .collect();
    if times.is_empty() {
        "–".to_owned()
    } else {
        times.join(" ")
    }
}

fn to_minute(time: &str) -> Option<String> {
    let mut parts = time.split(':').map(str::parse::<u32>);
    let [hour, minute, second] = [parts.next()?, parts.next()?, parts.next()?];
    let minutes = hour.ok()? * 60 + minute.ok()? + u32::from(second.ok()? >= 30);
    Some(format!("{:02}:{:02}", minutes / 60, minutes % 60))
}

fn zodiacal(deg: f64) -> String {
    Zodiacal(Angle::from_deg(deg)).to_string()
}

/// Degrees and minutes, with their sign.
fn signed_degrees(deg: f64) -> String {
    let minutes = (deg * 60.0).round();
    let sign = if minutes < 0.0 { '−' } else { '+' };
    let minutes = minutes.abs();
    format!("{sign}{}°{:02}′", (minutes / 60.0).floor(), minutes % 60.0)
}

/// Motion in a day: degrees, minutes and seconds, with their sign.
fn daily(deg: f64) -> String {
    let seconds = (deg * 3600.0).round();
    let sign = if seconds < 0.0 { '−' } else { '+' };
    let seconds = seconds.abs();
    let (minutes, seconds) = ((seconds / 60.0).floor(), seconds % 60.0);
    let (degrees, minutes) = ((minutes / 60.0).floor(), minutes % 60.0);
    format!("{sign}{degrees}°{minutes:02}′{seconds:02}″")
}

fn motion(planet: &PlanetAnswer) -> String {
    match &planet.station {
        Some(station) => {
            let when = station.clock_time.get(..16).unwrap_or(&station.clock_time);
            format!("turns {} {when}", station.turns)
        }
        None if planet.motion == "direct" => String::new(),
        None => planet.motion.to_owned(),
    }
}
