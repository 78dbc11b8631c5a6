//! Which questions are drawn, so that they teach: dates over the year, both halves of
//! the day, the ascendant in every quarter, and readings as good or as awkward as the
//! level wants.

use figure::Horizon;
use instrument::{House, Instrument, Pick};
use moment::{Calendar, CivilDate};
use practice::{Need, Sight, Task, Told, Value};
use sky::{Angle, Zodiacal};
use words::Degrees;

use crate::cabinet::{Cabinet, serves};
use crate::casting::Casting;
use crate::correct_exercise::asking_of;
use crate::dice::Dice;
use crate::lesson::CAST;
use crate::operation_form::stars_that_serve;
use crate::pen_exercise::PosedPenQuestion;
use crate::posed_question::PosedQuestion;
use crate::question_words::Shown;
use crate::refusal::{Field, Refusal};
use crate::request::{CastRequest, WithInstrument};
use crate::request_work::{RECKON, WorkRequest};
use crate::towns::{nearest_town, towns_of_plates};
use crate::work::Work;

/// The highest level.
const LEVELS: u8 = 3;

/// The operations of a level, in the order in which they are asked: first what is read
/// at once, then what turns on it, last what is awkward. A figure is cast in between.
fn of_level(level: u8) -> Vec<&'static str> {
    let level = level.min(LEVELS);
    let taught = || {
        Task::ALL.into_iter().flat_map(|task| {
            let here = task.taught().iter().filter(move |one| one.level == level);
            here.map(move |one| (one.place, task.name()))
        })
    };
    let last = taught().map(|(place, _)| place).max().unwrap_or(1);
    (1..=last)
        .map(|place| {
            let mut there = taught().filter(|(of, _)| *of == place);
            there.next().map_or(CAST, |(_, name)| name)
        })
        .collect()
}

/// One of the operations of a level, by a number.
pub(crate) fn operation_of_level(level: u8, number: u64) -> &'static str {
    let all = of_level(level);
    let place = usize::try_from(number % all.len().max(1) as u64).unwrap_or_default();
    all.get(place).copied().unwrap_or(CAST)
}

/// The cusps that are asked beside the angles.
fn cusps_of_level(level: u8) -> Vec<House> {
    let numbers: &[usize] = match level {
        1 => &[],
        2 => &[2, 3],
        _ => &[2, 3, 11, 12],
    };
    numbers
        .iter()
        .filter_map(|number| House::ALL.get(number - 1).copied())
        .collect()
}

/// What a question is to be like.
#[derive(Clone, Debug)]
pub(crate) struct Slot {
    operation: String,
    /// The days of the year among which it falls.
    days: (u32, u32),
    afternoon: bool,
    /// The quarter of the zodiac in which the ascendant is to stand.
    quarter: u32,
    /// Whether the ascendant is to move fast, in whatever quarter it does.
    fast: bool,
    /// Whether it is asked of another town.
    elsewhere: bool,
}

/// As many slots as there are questions.
pub(crate) fn slots(operations: &[String], level: u8, count: u32, dice: &mut Dice) -> Vec<Slot> {
    let usual: Vec<String> = of_level(level).into_iter().map(str::to_owned).collect();
    let operations = if operations.is_empty() {
        &usual
    } else {
        operations
    };
    let seasons = dice.shuffled((0..count).collect());
    let mut quarters: Vec<u32> = Vec::new();
    while quarters.len() < seasons.len() {
        quarters.extend(dice.shuffled(vec![0, 1, 2, 3]));
    }
    let first = dice.below(2);
    seasons
        .iter()
        .zip(quarters)
        .zip(operations.iter().cycle())
        .zip(0_u32..)
        .map(|(((season, quarter), operation), number)| Slot {
            operation: operation.clone(),
            days: (season * 365 / count, (season + 1) * 365 / count),
            afternoon: (number + first) % 2 == 1,
            quarter,
            fast: level > 2 && number % 2 == 0,
            elsewhere: level > 1 && number % 3 == 2,
        })
        .collect()
}

/// One who is asked: with which instrument, where, how hard.
pub(crate) struct Asker<'a> {
    pub(crate) cabinet: &'a Cabinet,
    pub(crate) with: WithInstrument,
    pub(crate) instrument: Instrument,
    pub(crate) place: String,
    pub(crate) zone: Option<String>,
    pub(crate) by: Option<String>,
    pub(crate) year: i32,
    pub(crate) level: u8,
}

/// A question that is answered, by an instrument or by tables.
pub(crate) struct Drawn {
    /// It, without the instrument.
    pub(crate) request: WorkRequest,
    pub(crate) asking: Road,
    pub(crate) key: Vec<crate::answer::AskedAnswer>,
}

/// By which road a question is answered.
pub(crate) enum Road {
    Brass(Box<PosedQuestion>),
    Pen(Box<PosedPenQuestion>),
}

/// How often a moment is drawn before something is given up: the class's own place, the
/// quarter, the level's measure, the season, how near the instrument comes, and at last
/// the question.
const HOME: u32 = 30;
const QUARTER: u32 = 60;
const MEASURE: u32 = 80;
const SEASON: u32 = 100;
const NEAR: u32 = 120;
const TRIES: u32 = 130;

impl Asker<'_> {
    /// Draws a question for a slot. Where none of its operation can be had, a figure is
    /// cast instead.
    ///
    /// # Errors
    /// When not even that is answered: with what the last that was tried came to.
    pub(crate) fn draw(&self, slot: &Slot, dice: &mut Dice) -> Result<Drawn, Refusal> {
        let cast = Slot {
            operation: CAST.to_owned(),
            ..slot.clone()
        };
        let mut last = None;
        for slot in [slot, &cast] {
            for attempt in 0..TRIES {
                match self.attempt(slot, attempt, dice) {
                    Ok(Some(drawn)) => return Ok(drawn),
                    Ok(None) => {}
                    Err(refusal) => last = Some(refusal),
                }
            }
        }
        Err(last.unwrap_or_else(|| {
            crate::class::refused("no question could be drawn; another place would do".to_owned())
        }))
    }

    fn attempt(
        &self,
        slot: &Slot,
        attempt: u32,
        dice: &mut Dice,
    ) -> Result<Option<Drawn>, Refusal> {
        let day = if attempt < SEASON {
            dice.between(slot.days.0, slot.days.1.max(slot.days.0 + 1) - 1)
        } else {
            dice.below(365)
        };
        // Fast signs rise at one time of the day in each season.
        let half = if attempt < SEASON && !slot.fast {
            slot.afternoon
        } else {
            dice.below(2) == 1
        };
        // Steps of five minutes, as clocks are read: from five in the morning to half
        // past ten at night.
        let minutes = if half {
            dice.between(146, 270) * 5
        } else {
            dice.between(60, 142) * 5
        };
        let (at, zone) = self.place(slot, attempt >= HOME, dice)?;
        let date = self.date(day);
        let mut request = WorkRequest {
            operation: slot.operation.clone(),
            moment: CastRequest {
                when: format!("{date} {:02}:{:02}", minutes / 60, minutes % 60),
                at,
                zone,
                by: self.by.clone(),
                ..CastRequest::default()
            },
            ..WorkRequest::default()
        };
        let casting = |request: &WorkRequest| {
            Casting::of(&self.with_instrument(request).moment, self.cabinet, None)
        };
        let casting = match casting(&request) {
            // The place kept the other calendar longer; these dates are of this one.
            Err(refusal) if refusal.field == Field::Calendar => {
                request.moment.calendar = Some("gregorian".to_owned());
                casting(&request)?
            }
            found => found?,
        };
        if [CAST, RECKON].contains(&slot.operation.as_str()) {
            let horizon = casting.horizon();
            let anywhere = slot.fast || attempt >= QUARTER;
            let fits = (anywhere || quarter(&horizon) == Some(slot.quarter))
                && (attempt >= MEASURE || self.moves_as_wanted(slot, &horizon));
            if !fits {
                return Ok(None);
            }
        } else {
            self.fill(&mut request, &casting, dice);
            if !self.complete(&mut request, attempt >= MEASURE)? {
                return Ok(None);
            }
        }
        self.answered(request, attempt < NEAR)
    }

    fn date(&self, day: u32) -> String {
        let first = CivilDate::new(Calendar::Gregorian, self.year, 1, 1);
        first.map_or_else(
            |_| String::new(),
            |first| {
                let number = first.julian_day_number() + i32::try_from(day).unwrap_or(0);
                CivilDate::from_julian_day_number(Calendar::Gregorian, number).to_string()
            },
        )
    }

    /// Where a question is asked: in the class's own place, where the instrument serves
    /// that, or in a town that it serves best.
    fn place(
        &self,
        slot: &Slot,
        not_at_home: bool,
        dice: &mut Dice,
    ) -> Result<(String, Option<String>), Refusal> {
        let latitude = crate::moment::understood_place(&self.place)?.latitude;
        if !serves(&self.instrument, latitude) {
            return Ok((nearest_town(&self.instrument).to_owned(), None));
        }
        if not_at_home {
            return Ok((nearest_town(&self.instrument).to_owned(), None));
        }
        if slot.elsewhere {
            let mut towns = towns_of_plates(&self.instrument, latitude);
            if self.level == 3 {
                // Nearest the pole, where everything is most awkward.
                towns.truncate(2);
            }
            if let Some(town) = dice.one_of(&towns) {
                return Ok(((*town).to_owned(), None));
            }
        }
        Ok((self.place.clone(), self.zone.clone()))
    }

    fn with_instrument(&self, request: &WorkRequest) -> WorkRequest {
        let mut request = request.clone();
        request.moment.with = Some(self.with.clone());
        request
    }

    /// Whether the ascendant moves as is wanted: at the first level no faster than the
    /// most of its quarter, for the signs that rise fast are to be read too; at the last
    /// every second time faster than almost everywhere.
    fn moves_as_wanted(&self, slot: &Slot, horizon: &Horizon) -> bool {
        let slow = self.level == 1;
        if !slow && !slot.fast {
            return true;
        }
        let Some(here) = pace(horizon) else {
            return false;
        };
        let own = quarter(horizon);
        let mut all: Vec<f64> = (0_u32..72)
            .map(|n| Horizon {
                sidereal_time: Angle::from_deg(f64::from(n) * 5.0),
                ..*horizon
            })
            .filter(|there| !slow || quarter(there) == own)
            .filter_map(|there| pace(&there))
            .collect();
        all.sort_by(f64::total_cmp);
        let part = |hundredths: usize| all.get(all.len() * hundredths / 100).copied();
        if slow {
            part(60).is_none_or(|most| here <= most)
        } else {
            part(80).is_none_or(|least| here >= least)
        }
    }

    /// What is given with an operation, drawn.
    fn fill(&self, request: &mut WorkRequest, casting: &Casting, dice: &mut Dice) {
        let Ok(task) = request.operation.parse::<Task>() else {
            return;
        };
        request.hand = Some(0.0);
        let shrinks =
            task.has_shrinking_shadow() && task.needs().contains(&Need::Seen(Sight::OtherShadow));
        let degree = dice.below(360);
        for need in task.needs().iter().copied() {
            match need {
                Need::Star => {
                    let mut stars = stars_that_serve(task, casting);
                    stars.truncate(6);
                    request.star = dice.one_of(&stars).cloned();
                }
                Need::Seen(sight) => {
                    let number = match sight {
                        Sight::Shadow if shrinks => dice.between(7, 10),
                        Sight::OtherShadow if shrinks => dice.between(3, 5),
                        Sight::Shadow => dice.between(3, 6),
                        Sight::OtherShadow => dice.between(8, 11),
                        Sight::MorningShadow => dice.between(285, 345),
                        Sight::EveningShadow => dice.between(15, 75),
                        Sight::WandererAltitude => dice.between(15, 40),
                        Sight::OtherAltitude => dice.between(14, 41),
                        // What would be seen, once the moment is known.
                        _ => continue,
                    };
                    request
                        .seen
                        .insert(sight.name().to_owned(), number.to_string());
                }
                Need::Told(told) => {
                    let value = match told {
                        Told::Degree => zodiacal(degree),
                        Told::OtherDegree => zodiacal(degree + dice.between(15, 60)),
                        Told::Latitude => {
                            format!("{}", i64::from(dice.between(0, 8)) - 4)
                        }
                        Told::UnequalHours => dice.between(1, 11).to_string(),
                        Told::Distance => (dice.between(3, 14) * 5).to_string(),
                        Told::EyeHeight => continue,
                    };
                    request.told.insert(told.name().to_owned(), value);
                }
            }
        }
    }

    /// What would be seen, to the half degree, and no more of the moment than the
    /// question may say. Whether it is as the level wants it.
    fn complete(&self, request: &mut WorkRequest, anyhow: bool) -> Result<bool, Refusal> {
        let work = Work::of(&self.with_instrument(request), self.cabinet, None)?;
        if !anyhow && !self.stands_as_wanted(&work) {
            return Ok(false);
        }
        for (sight, seen) in work.seen() {
            if let Value::Height(altitude) = seen.value {
                let half = (altitude.deg() * 2.0).round() / 2.0;
                let value = Degrees(Angle::from_deg(half)).to_string();
                request.seen.insert(sight.name().to_owned(), value);
            }
        }
        if work.task().takes_side() {
            let side = match work.way().side {
                Pick::Western => "west",
                _ => "east",
            };
            request.side = Some(side.to_owned());
        } else if let Some(side) = work.side_of_meridian() {
            request.side = Some(side.to_owned());
        }
        let shown = Shown::of(&work.operation());
        if !shown.time {
            // Who does not know the hour takes the date for noon.
            let date = request.moment.when.split(' ').next().unwrap_or_default();
            request.moment.when = format!("{date} 12:00");
        }
        if !shown.date && !shown.place {
            request.moment.when = String::new();
            request.moment.at = String::new();
            request.moment.zone = None;
        }
        Ok(true)
    }

    /// Whether what is sighted stands well for the first level, near the meridian for
    /// the last.
    fn stands_as_wanted(&self, work: &Work) -> bool {
        let needs = work.task().needs();
        if !needs.contains(&Need::Seen(Sight::Altitude)) {
            return true;
        }
        let moment = &work.casting().moment;
        let hour_angle = match work.true_star() {
            Some(star) => moment.sidereal_time() - star.right_ascension,
            None => Angle::from_hours(moment.local_apparent_time_h() - 12.0),
        };
        let off = hour_angle.signed().abs().deg();
        match self.level {
            1 => (30.0..=100.0).contains(&off),
            2 => off >= 20.0,
            _ => (8.0..=25.0).contains(&off),
        }
    }

    /// The question with its key; `None` where this instrument does not answer it, or not
    /// as near as it should where that is wanted.
    ///
    /// # Errors
    /// When it cannot even be asked.
    pub(crate) fn answered(
        &self,
        request: WorkRequest,
        near: bool,
    ) -> Result<Option<Drawn>, Refusal> {
        if request.operation == RECKON {
            let asked = PosedPenQuestion::of_level(&request, self.level)?;
            return Ok(asked.key().map(|key| Drawn {
                request,
                asking: Road::Pen(Box::new(asked)),
                key,
            }));
        }
        let asking = || asking_of(&self.with_instrument(&request), self.cabinet);
        let mut asked = asking()?;
        if asked.is_cast() {
            asked = asked.with_cusps(&cusps_of_level(self.level));
        }
        let mut key = asked.key()?;
        if key.is_none() && asked.is_cast() {
            // Lines for the cusps may not be had on the plate; the angles are.
            asked = asking()?;
            key = asked.key()?;
        }
        let fits = |far: Vec<_>| !near || far.is_empty();
        let key = key.filter(|_| asked.too_far_off().is_some_and(fits));
        Ok(key.map(|key| Drawn {
            request,
            asking: Road::Brass(Box::new(asked)),
            key,
        }))
    }
}

/// How many degrees the ascendant moves while the sky turns by one.
fn pace(horizon: &Horizon) -> Option<f64> {
    let next = Horizon {
        sidereal_time: horizon.sidereal_time + Angle::from_deg(1.0),
        ..*horizon
    };
    let here = horizon.ascendant().ok()?;
    Some(here.to(next.ascendant().ok()?).abs().deg())
}

/// The quarter of the zodiac in which the ascendant stands, from 0.
fn quarter(horizon: &Horizon) -> Option<u32> {
    let ascendant = horizon.ascendant().ok()?.in_turn();
    (0..4)
        .rev()
        .find(|n| ascendant.deg() >= f64::from(*n) * 90.0)
}

fn zodiacal(degree: u32) -> String {
    Zodiacal(Angle::from_deg(f64::from(degree % 360))).to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_level_begins_with_casting_and_has_its_operations_in_between() {
        assert_eq!(
            of_level(1),
            [
                CAST,
                "sun-degree",
                CAST,
                "meridian-altitude",
                "day-and-night",
                "hour-by-sun"
            ]
        );
        assert_eq!(of_level(2).len(), 8);
        assert_eq!(of_level(3).last(), Some(&"star-up"));
    }
}
