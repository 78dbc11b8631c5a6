use figure::{Planet, PlanetaryHour, Sect, SolarDay, Sunrise, ruler_of_day, ruler_of_hour};
use sky::{Instant, SkyError};

use crate::casting::Casting;

/// The planets of the hours at one moment after another: a day or a night is reckoned
/// once for all the moments that it holds.
#[derive(Default)]
pub(crate) struct Hours {
    last: Option<SolarDay>,
}

impl Hours {
    /// The planet of the hour at a moment, by calculation, as a figure has it with the
    /// Sun's centre on the true horizon; in words where the Sun does not rise and set.
    pub(crate) fn planet(&mut self, casting: &Casting) -> Result<String, SkyError> {
        let moment = &casting.moment;
        let instant = moment.instant();
        let holds = |day: &SolarDay| {
            // At its seams a day is reckoned anew.
            const SEAM_S: f64 = 1.0;
            instant.seconds_since(day.begins) > SEAM_S && day.ends.seconds_since(instant) > SEAM_S
        };
        let day = match self.last.filter(holds) {
            Some(day) => day,
            None => match SolarDay::at(moment.sky(), casting.site(), Sunrise::Centre)? {
                Ok(day) => day,
                Err(_) => return Ok("none: the Sun does not rise and set".to_owned()),
            },
        };
        self.last = Some(day);
        let hour = PlanetaryHour::at(&day, instant, casting.clock_ahead_of_ut_s());
        Ok(the_planet(hour.ruler).to_owned())
    }
}

fn the_planet(planet: Planet) -> &'static str {
    match planet {
        Planet::Sun => "the Sun",
        Planet::Moon => "the Moon",
        planet => planet.name(),
    }
}

/// The planet of an unequal hour: the first of Sunday is the Sun's, and so on down
/// the order, day and night without a break (Chaucer, *Astrolabe* II.12).
///
/// The day, by its Julian day number, is the one at whose sunrise the counting
/// began; the hours gone since are 0 to 12 by day, 12 to 24 by night.
pub(crate) fn ruler(julian_day_number: i32, hours_gone: f64) -> &'static str {
    // A Julian day number is the Julian date of that day's noon.
    let noon = Instant::from_jd_ut(f64::from(julian_day_number));
    let sect = if hours_gone < 12.0 {
        Sect::Day
    } else {
        Sect::Night
    };
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "1 to 12"
    )]
    let number = (hours_gone.clamp(0.0, 23.9) % 12.0) as u8 + 1;
    the_planet(ruler_of_hour(ruler_of_day(noon, 0.0), sect, number))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Chaucer, *Astrolabe* II.12 (ed. Skeat 1894): Saturday begins ♄ ♃ ♂ ☉ ♀ ☿ ☽, its
    /// night begins with Mercury, and Sunday's first hour is the Sun's.
    #[test]
    fn saturday_as_the_treatise_has_it() {
        // Saturday 13 March 1389 (Julian calendar).
        let saturday = 2_228_476;
        let day: Vec<&str> = (0..12)
            .map(|hour| ruler(saturday, f64::from(hour)))
            .collect();
        assert_eq!(
            day,
            [
                "Saturn", "Jupiter", "Mars", "the Sun", "Venus", "Mercury", "the Moon", "Saturn",
                "Jupiter", "Mars", "the Sun", "Venus"
            ]
        );
        assert_eq!(ruler(saturday, 12.3), "Mercury");
        assert_eq!(ruler(saturday + 1, 0.9), "the Sun");
    }
}
