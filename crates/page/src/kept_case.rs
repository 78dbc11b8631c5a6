use casebook::Case;
use desk::{Cabinet, CastRequest, Casting, WithInstrument};

/// The cast that a kept case asks for, its instrument taken from the cabinet.
#[must_use]
pub fn cast_of(case: &Case) -> CastRequest {
    let readings = case.readings.iter();
    CastRequest {
        when: case.when.clone(),
        at: case.at.clone(),
        zone: case.zone.clone(),
        clock: case.clock.clone(),
        calendar: case.calendar.clone(),
        which: case.which.clone(),
        houses: case.houses.clone(),
        with: case.with.clone().map(WithInstrument::Named),
        by: case.by.clone(),
        sun: case.sun.clone(),
        plates: case.plates.clone(),
        read: readings
            .map(|reading| (reading.what.clone(), reading.degree.clone()))
            .collect(),
        ..CastRequest::default()
    }
}

/// Whether a case can be kept: it has what a case needs, and the desk understands the
/// cast it asks for.
///
/// # Errors
/// In words, for a person.
pub fn fit_to_keep(case: &Case, cast: &CastRequest, cabinet: &Cabinet) -> Result<(), String> {
    case.check()
        .map_err(|why| format!("this case cannot be kept: {why}"))?;
    if case.when.trim().eq_ignore_ascii_case("now") {
        return Err(
            "a case is kept under its date and time; `now` would be another time later".to_owned(),
        );
    }
    Casting::of(cast, cabinet, None)
        .map(|_| ())
        .map_err(|refusal| refusal.message)
}
