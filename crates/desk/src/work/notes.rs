//! What is to be said with an operation besides its numbers.

use practice::{Account, Conditions, Finding, Quantity, SunTaken, Value, carry_out};
use sky::Angle;

use super::Work;
use crate::planetary_hour::ruler;

impl Work {
    /// What would come out had an altitude that was given without its side been taken on
    /// the other side of the zenith.
    pub(super) fn other_side_of_zenith(&self) -> Option<String> {
        // Lower, nobody takes one side for the other.
        const NEAR_ZENITH_DEG: f64 = 80.0;
        let sight = self.task.sighted_on_meridian()?;
        if !self.has_two_sides() || self.seen.get(&sight)?.value.number() < NEAR_ZENITH_DEG {
            return None;
        }
        let way = self.by_other_side();
        let operation = self.task.operation(&self.casting.instrument, &way);
        let last = operation
            .steps
            .iter()
            .rev()
            .find_map(|step| step.act.finds())?;
        let reading = carry_out(&operation, &self.actual()).reading(last).ok()?;
        let side = self.side_by(sight, &way);
        Some(format!(
            "Had it been sighted in the {side}, on the other side of the zenith, the {last} would be {}.",
            words::ValueInWords(reading.value)
        ))
    }

    /// What is to be said besides the numbers.
    pub(super) fn remark(&mut self, account: &Account, ideal: &Conditions) {
        let found = |finding| {
            let reading = account.actual().reading(Quantity::Found(finding)).ok();
            reading.map(|reading| reading.value)
        };
        let read = |finding| found(finding)?.angle();
        let mut notes = Vec::new();
        notes.extend(self.other_side_of_zenith());
        if let Some(altitude) =
            read(Finding::MeridianAltitude).filter(|altitude| *altitude > Angle::QUARTER_TURN)
        {
            notes.push(format!(
                "An altitude over 90° is counted on through the zenith: what is seen is {}, on the other side.",
                words::Degrees(Angle::HALF_TURN - altitude)
            ));
        }
        if let Some(Value::UnequalHours(hour)) = found(Finding::UnequalHour) {
            let local = self.casting.moment.local_apparent_time();
            let after_midnight = hour >= 12.0 && local.time.hours() < 12.0;
            let day = local.date.julian_day_number() - i32::from(after_midnight);
            let planet = ruler(day, hour);
            notes.push(format!(
                "It is the hour of {planet}, the {} of the {}.",
                ordinal(hour % 12.0),
                if hour < 12.0 { "day" } else { "night" }
            ));
        }
        if let Some(change) = read(Finding::AltitudeChange) {
            let way = if change < Angle::ZERO {
                "lower: it has moved with the signs, and is direct"
            } else {
                "higher: it has moved against the signs, and is retrograde"
            };
            notes.push(format!("Seen in the east, the planet stands {way}."));
        }
        if let Some(arc) = read(Finding::DirectionArc) {
            notes.push(directed(arc));
        }
        if let (Some(right), Some(old)) =
            (read(Finding::RisingDegree), read(Finding::OldRisingDegree))
        {
            notes.push(old_way("the rising degree", right, old));
        }
        if let (Some(right), Some(old)) = (
            read(Finding::CulminatingDegree),
            read(Finding::OldCulminatingDegree),
        ) {
            notes.push(old_way("the degree", right, old));
        }
        if ideal.sun == SunTaken::TruePlace && self.casting.latitude().deg().abs() > 66.0 {
            notes.push(
                "Near the poles the Sun's path is flat and every time by it is coarse.".to_owned(),
            );
        }
        self.notes.extend(notes);
    }
}

/// A direction's arc as years, by the keys in print.
///
/// A degree a year is Ptolemy's (*Tetrabiblos* III.10); 59′08″ a year, the Sun's mean
/// motion, is Naibod's (1560); both from memory.
fn directed(arc: Angle) -> String {
    const NAIBOD: f64 = 0.985_647_36;
    let arc = arc.in_turn();
    let (way, arc) = if arc > Angle::HALF_TURN {
        (
            "Converse, against the daily motion: ",
            Angle::FULL_TURN - arc,
        )
    } else {
        ("", arc)
    };
    format!(
        "{way}{} of the limb. At a degree a year (Ptolemy) that is {:.1} years; at 59′08″ a year (Naibod) {:.1} years.",
        words::Degrees(arc),
        arc.deg(),
        arc.deg() / NAIBOD
    )
}

/// Both degrees are told to the minute, and what is between them.
fn old_way(what: &str, right: Angle, old: Angle) -> String {
    let to_the_minute = |degree: Angle| Angle::from_deg((degree.deg() * 60.0).round() / 60.0);
    let off = to_the_minute(right).to(to_the_minute(old));
    let way = if off < Angle::ZERO { "back" } else { "on" };
    format!(
        "The treatise's own way puts {what} {} further {way}.",
        words::Degrees(off)
    )
}

/// The first hour is the one in which less than one hour has gone.
fn ordinal(hours_gone: f64) -> &'static str {
    const WORDS: [&str; 12] = [
        "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth",
        "tenth", "eleventh", "twelfth",
    ];
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "0 to 12"
    )]
    let index = hours_gone.clamp(0.0, 11.0) as usize;
    WORDS.get(index).copied().unwrap_or("")
}
