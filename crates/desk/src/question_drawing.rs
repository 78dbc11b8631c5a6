//! Which questions are drawn, so that they teach: dates over the year, both halves of
//! the day, the ascendant in every quarter, and readings as good or as awkward as the
//! level wants.

use figure::Horizon;
use instrument::{House, Instrument, Pick};
use moment::{Calendar, CivilDate};
use practice::{Sighting, Stated, Task, TaskInput, Value};
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
use crate::question_slots::Slot;
use crate::question_words::Shown;
use crate::refusal::{Field, Refusal};
use crate::request::{CastRequest, WithInstrument};
use crate::request_work::{RECKON, WorkRequest};
use crate::towns::{nearest_town, towns_of_plates};
use crate::work::Work;

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
        let minutes = minutes_of_day(half, dice);
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
        let shrinks = task.has_shrinking_shadow()
            && task
                .needs()
                .contains(&TaskInput::Seen(Sighting::OtherShadow));
        let degree = dice.below(360);
        for need in task.needs().iter().copied() {
            match need {
                TaskInput::Star => {
                    let mut stars = stars_that_serve(task, casting);
                    stars.truncate(6);
                    request.star = dice.one_of(&stars).cloned();
                }
                TaskInput::Seen(sight) => {
                    let number = match sight {
                        Sighting::Shadow if shrinks => dice.between(7, 10),
                        Sighting::OtherShadow if shrinks => dice.between(3, 5),
                        Sighting::Shadow => dice.between(3, 6),
                        Sighting::OtherShadow => dice.between(8, 11),
                        Sighting::MorningShadow => dice.between(285, 345),
                        Sighting::EveningShadow => dice.between(15, 75),
                        Sighting::WandererAltitude => dice.between(15, 40),
                        Sighting::OtherAltitude => dice.between(14, 41),
                        // What would be seen, once the moment is known.
                        _ => continue,
                    };
                    request
                        .seen
                        .insert(sight.name().to_owned(), number.to_string());
                }
                TaskInput::Stated(told) => {
                    let value = match told {
                        Stated::Degree => zodiacal(degree),
                        Stated::OtherDegree => zodiacal(degree + dice.between(15, 60)),
                        Stated::Latitude => {
                            format!("{}", i64::from(dice.between(0, 8)) - 4)
                        }
                        Stated::UnequalHours => dice.between(1, 11).to_string(),
                        Stated::Distance => (dice.between(3, 14) * 5).to_string(),
                        Stated::EyeHeight => continue,
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
            let side = match work.choices().side {
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
        if !needs.contains(&TaskInput::Seen(Sighting::Altitude)) {
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

/// A time of day, in minutes: steps of five, as clocks are read, from five in the morning
/// to half past ten at night, and not about noon, where the half of the day is doubtful.
fn minutes_of_day(afternoon: bool, dice: &mut Dice) -> u32 {
    let fives = if afternoon {
        dice.between(146, 270)
    } else {
        dice.between(60, 142)
    };
    fives * 5
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
    use std::collections::{BTreeMap, BTreeSet};

    use super::*;
    use crate::question_slots::slots;
    use crate::work_texts::{seen_value, stated_value};

    const SANTIAGO: &str = "42.8806,-8.5449";

    /// Somebody in Santiago who has plates for towns from Tunis to Prague.
    fn asker(cabinet: &Cabinet, level: u8) -> Asker<'_> {
        asker_with("36.8, 41.9, 44.5, 48.2, 50.1", cabinet, level)
    }

    fn asker_with<'a>(plates: &str, cabinet: &'a Cabinet, level: u8) -> Asker<'a> {
        let with = WithInstrument::Specification(format!(
            "version = 1\nname = \"invented\"\ndiameter_mm = 200\nepoch_year = 2025\n\
             plates_deg = [{plates}]\ndate_from = \"zodiac\"\n"
        ));
        Asker {
            cabinet,
            instrument: cabinet.find(Some(&with), sky::Latitude::ZERO).unwrap(),
            with,
            place: SANTIAGO.to_owned(),
            zone: Some("Europe/Madrid".to_owned()),
            by: None,
            year: 2026,
            level,
        }
    }

    fn slots_of(operation: &str, level: u8, count: u32, seed: u64) -> Vec<Slot> {
        slots(
            &[operation.to_owned()],
            level,
            count,
            &mut Dice::seeded(seed),
        )
    }

    fn horizon(sidereal_deg: f64) -> Horizon {
        Horizon {
            sidereal_time: Angle::from_deg(sidereal_deg),
            obliquity: Angle::from_deg(23.44),
            latitude: sky::Latitude::from_deg(42.88).unwrap(),
        }
    }

    #[test]
    fn clocks_are_asked_in_steps_of_five_minutes_from_five_to_half_past_ten() {
        let mut dice = Dice::seeded(5);
        let mut drawn = |afternoon| -> BTreeSet<u32> {
            (0..2000)
                .map(|_| minutes_of_day(afternoon, &mut dice))
                .collect()
        };
        let (forenoon, afternoon) = (drawn(false), drawn(true));
        assert!(forenoon.iter().chain(&afternoon).all(|one| one % 5 == 0));
        let ends = |all: &BTreeSet<u32>| (all.first().copied(), all.last().copied());
        assert_eq!(ends(&forenoon), (Some(5 * 60), Some(12 * 60 - 10)));
        assert_eq!(ends(&afternoon), (Some(12 * 60 + 10), Some(22 * 60 + 30)));
    }

    /// Season and half of the day are given up last of all, after some hundred tries.
    #[test]
    fn what_is_drawn_falls_into_its_season_and_its_half_of_the_day() {
        let cabinet = Cabinet::built_in();
        for level in 1..=3 {
            let asker = asker(&cabinet, level);
            let mut dice = Dice::seeded(u64::from(level));
            for slot in slots_of(CAST, level, 4, u64::from(level)) {
                let drawn = asker.draw(&slot, &mut dice).unwrap();
                let (date, time) = drawn.request.moment.when.split_once(' ').unwrap();
                let days = (slot.days.0..slot.days.1).map(|day| asker.date(day));
                assert!(days.into_iter().any(|day| day == date), "{slot:?}: {date}");
                if !slot.fast {
                    assert_eq!(time > "12:00", slot.afternoon, "{slot:?}: {time}");
                }
            }
        }
    }

    /// The quarter in which the ascendant shall stand is given up late, where it cannot be had
    /// in its season and its half of the day.
    #[test]
    fn ascendants_are_drawn_in_the_quarter_that_is_wanted() {
        let cabinet = Cabinet::built_in();
        let asker = asker(&cabinet, 2);
        let mut dice = Dice::seeded(3);
        let slots = slots_of(CAST, 2, 12, 3);
        let wanted = slots.iter().filter(|slot| {
            let mut request = asker.draw(slot, &mut dice).unwrap().request;
            request.moment.with = Some(asker.with.clone());
            let casting = Casting::of(&request.moment, &cabinet, None).unwrap();
            quarter(&casting.horizon()) == Some(slot.quarter)
        });
        let count = wanted.count();
        assert!(count >= 9, "{count} of 12");
    }

    /// A class of an age and a country that still counted by the other calendar is asked by
    /// the Gregorian, and told so.
    #[test]
    fn where_the_other_calendar_was_kept_it_is_said_by_which_a_question_counts() {
        let cabinet = Cabinet::built_in();
        let mut asker = asker_with("51.75", &cabinet, 1);
        asker.year = 1700;
        asker.place = "Oxford, United Kingdom".to_owned();
        asker.zone = Some("Europe/London".to_owned());
        let mut dice = Dice::seeded(1);
        let slot = &slots_of(CAST, 1, 1, 1)[0];
        let moment = asker.draw(slot, &mut dice).unwrap().request.moment;
        assert_eq!(moment.calendar.as_deref(), Some("gregorian"), "{moment:?}");
    }

    /// Elsewhere is a town that a plate serves; at the last level one of the two nearest the
    /// pole, where everything is most awkward.
    #[test]
    fn another_town_is_one_that_a_plate_serves() {
        let cabinet = Cabinet::built_in();
        let towns = |level: u8| -> BTreeSet<String> {
            let asker = asker(&cabinet, level);
            let slot = &slots_of(CAST, 2, 3, 1)[2];
            let mut dice = Dice::seeded(1);
            let drawn = (0..200).map(|_| asker.place(slot, false, &mut dice).unwrap().0);
            drawn.collect()
        };
        let nearest_the_pole = ["Paris, France", "Prague, Czechia"].map(str::to_owned);
        assert_eq!(towns(3), BTreeSet::from(nearest_the_pole));
        let all = towns(2);
        assert!(all.len() > 5 && all.contains("Tunis, Tunisia"), "{all:?}");
        assert!(!all.contains("Santiago de Compostela, Spain"), "{all:?}");
        // At home, unless that was given up.
        let asker = asker(&cabinet, 2);
        let at_home = &slots_of(CAST, 2, 3, 1)[0];
        let place = |given_up| {
            asker
                .place(at_home, given_up, &mut Dice::seeded(1))
                .unwrap()
        };
        assert_eq!(place(false), (SANTIAGO.to_owned(), asker.zone.clone()));
        assert_eq!(place(true).1, None);
    }

    /// By how much the ascendants differ in pace is a matter of the latitude; how many are
    /// taken is not.
    #[test]
    fn beginners_read_what_is_slow_for_its_quarter_and_the_last_level_what_is_fast() {
        let cabinet = Cabinet::built_in();
        let slots = slots_of(CAST, 3, 2, 1);
        let per_cent = |level: u8, slot: &Slot, of: &[f64]| {
            let asker = asker(&cabinet, level);
            let wanted = of
                .iter()
                .filter(|deg| asker.moves_as_wanted(slot, &horizon(**deg)));
            wanted.count() * 100 / of.len()
        };
        let all: Vec<f64> = (0..720).map(|half| f64::from(half) / 2.0).collect();
        for wanted in 0..4 {
            let of_quarter: Vec<f64> = all
                .iter()
                .copied()
                .filter(|deg| quarter(&horizon(*deg)) == Some(wanted))
                .collect();
            let taken = per_cent(1, &slots[1], &of_quarter);
            assert!((50..75).contains(&taken), "quarter {wanted}: {taken}");
        }
        let fast = per_cent(3, &slots[0], &all);
        assert!((15..25).contains(&fast), "{fast}");
        assert_eq!(per_cent(3, &slots[1], &all), 100);
        assert_eq!(per_cent(2, &slots[1], &all), 100);
        // Where no degree rises nothing is read.
        let pole = Horizon {
            latitude: sky::Latitude::from_deg(90.0).unwrap(),
            ..horizon(10.0)
        };
        assert!(!asker(&cabinet, 1).moves_as_wanted(&slots[1], &pole));
    }

    #[test]
    fn a_quarter_of_the_zodiac_is_three_signs() {
        for deg in 0..360 {
            let here = horizon(f64::from(deg));
            let signs = here.ascendant().unwrap().in_turn().deg() / 30.0;
            let wanted = match signs {
                signs if signs < 3.0 => 0,
                signs if signs < 6.0 => 1,
                signs if signs < 9.0 => 2,
                _ => 3,
            };
            assert_eq!(quarter(&here), Some(wanted), "{signs}");
        }
    }

    /// What is seen and told is drawn to limits of its own, and reaches them: shadows that
    /// differ by three points at the least, paces in fives, arcs that are neither next to
    /// nothing nor more than two signs.
    #[test]
    fn what_is_given_keeps_its_limits_and_reaches_them() {
        let cabinet = Cabinet::built_in();
        let asker = asker(&cabinet, 2);
        let case = CastRequest {
            when: "2026-05-14 10:20".to_owned(),
            at: SANTIAGO.to_owned(),
            zone: asker.zone.clone(),
            with: Some(asker.with.clone()),
            ..CastRequest::default()
        };
        let casting = Casting::of(&case, &cabinet, None).unwrap();
        let mut dice = Dice::seeded(9);
        let mut ends: BTreeMap<String, (f64, f64)> = BTreeMap::new();
        for task in Task::ALL {
            let stars = stars_that_serve(task, &casting);
            let shrinks = task.has_shrinking_shadow()
                && task
                    .needs()
                    .contains(&TaskInput::Seen(Sighting::OtherShadow));
            for _ in 0..400 {
                let mut request = WorkRequest {
                    operation: task.name().to_owned(),
                    ..WorkRequest::default()
                };
                asker.fill(&mut request, &casting, &mut dice);
                // The key is what the instrument shows, by a hand that errs in nothing.
                assert_eq!(request.hand, Some(0.0));
                if let Some(star) = &request.star {
                    assert!(
                        stars.iter().take(6).any(|one| one == star),
                        "{task}: {star}"
                    );
                }
                let seen = request.seen.iter().map(|(name, text)| {
                    let sight = Sighting::ALL.into_iter().find(|one| one.name() == name);
                    let number = seen_value(sight.unwrap(), text).unwrap().number();
                    let is_of_square =
                        matches!(sight, Some(Sighting::Shadow | Sighting::OtherShadow));
                    let which = if shrinks && is_of_square {
                        "shrinking "
                    } else {
                        ""
                    };
                    (format!("{which}{name}"), number)
                });
                let told: BTreeMap<&str, f64> = request
                    .told
                    .iter()
                    .map(|(name, text)| {
                        let told = Stated::ALL.into_iter().find(|one| one.name() == name);
                        let number = stated_value(told.unwrap(), text).unwrap().number();
                        (name.as_str(), number)
                    })
                    .collect();
                let from = told.get("degree").copied().unwrap_or_default();
                let told = told.iter().map(|(name, number)| match *name {
                    "other-degree" => ((*name).to_owned(), (number - from).rem_euclid(360.0)),
                    name => (name.to_owned(), *number),
                });
                for (name, number) in seen.chain(told) {
                    let (least, most) = ends.entry(name).or_insert((number, number));
                    (*least, *most) = (least.min(number), most.max(number));
                }
            }
        }
        let ends: BTreeMap<&str, (f64, f64)> = ends
            .iter()
            .map(|(name, (least, most))| (name.as_str(), (least.round(), most.round())))
            .collect();
        let wanted = [
            ("degree", (0.0, 359.0)),
            ("distance", (15.0, 70.0)),
            ("evening-shadow", (15.0, 75.0)),
            ("latitude", (-4.0, 4.0)),
            ("morning-shadow", (285.0, 345.0)),
            ("other-altitude", (14.0, 41.0)),
            ("other-degree", (15.0, 60.0)),
            ("other-shadow", (8.0, 11.0)),
            ("shadow", (3.0, 6.0)),
            ("shrinking other-shadow", (3.0, 5.0)),
            ("shrinking shadow", (7.0, 10.0)),
            ("unequal-hours", (1.0, 11.0)),
            ("wanderer-altitude", (15.0, 40.0)),
        ];
        assert_eq!(ends, BTreeMap::from(wanted));
    }

    /// A question says no more of the moment than its steps need: who seeks the hour is told
    /// the date and takes it for noon, who seeks the Sun's degree needs no plate and yet a
    /// date, and to turn points of one shadow into those of another nothing is needed.
    #[test]
    fn a_question_says_no_more_of_the_moment_than_it_must() {
        let cabinet = Cabinet::built_in();
        let asker = asker(&cabinet, 2);
        let completed = |operation: &str, time: &str| {
            let mut request = WorkRequest {
                operation: operation.to_owned(),
                moment: CastRequest {
                    when: format!("2026-05-14 {time}"),
                    at: SANTIAGO.to_owned(),
                    zone: asker.zone.clone(),
                    ..CastRequest::default()
                },
                ..WorkRequest::default()
            };
            if operation == "recta-to-versa" {
                request.seen.insert("shadow".to_owned(), "4".to_owned());
            }
            let work = Work::of(&asker.with_instrument(&request), &cabinet, None).unwrap();
            assert!(asker.complete(&mut request, true).unwrap(), "{operation}");
            // To the half degree.
            for (sight, seen) in work.seen() {
                let rounded = seen_value(sight, &request.seen[sight.name()]).unwrap();
                let off = rounded.to(seen.value).number().abs();
                assert!(off <= 0.25 + 1e-9, "{operation}: {sight:?} {off}");
            }
            request
        };
        let moment = |operation: &str| completed(operation, "10:20").moment;
        for (operation, when) in [
            ("hour-by-sun", "2026-05-14 12:00"),
            ("sun-degree", "2026-05-14 12:00"),
            ("hours-gone", "2026-05-14 10:20"),
        ] {
            let moment = moment(operation);
            assert_eq!(
                (moment.when.as_str(), moment.at.as_str()),
                (when, SANTIAGO),
                "{operation}"
            );
        }
        let nothing = moment("recta-to-versa");
        assert_eq!((nothing.when, nothing.at, nothing.zone), Default::default());
        // The Sun is in the east before noon and in the west after it.
        for (time, side) in [("10:20", "east"), ("18:20", "west")] {
            let request = completed("hour-by-sun", time);
            assert_eq!(request.side.as_deref(), Some(side));
            let seen = &request.seen["altitude"];
            assert!(seen.ends_with("°00′") || seen.ends_with("°30′"), "{seen}");
        }
    }

    /// A plate beyond the polar circle has no arcs for cusps, and its angles are asked all
    /// the same.
    #[test]
    fn where_no_cusp_can_be_read_the_angles_are_asked() {
        let cabinet = Cabinet::built_in();
        let asker = asker_with("69.6", &cabinet, 2);
        let request = WorkRequest {
            operation: CAST.to_owned(),
            moment: CastRequest {
                when: "2026-05-14 10:20".to_owned(),
                at: "69.6,19".to_owned(),
                clock: Some("mean".to_owned()),
                ..CastRequest::default()
            },
            ..WorkRequest::default()
        };
        let drawn = asker.answered(request, false).unwrap().unwrap();
        let names: Vec<&str> = drawn.key.iter().map(|one| one.name.as_str()).collect();
        assert_eq!(
            names,
            ["local-time", "sun-degree", "ascendant", "midheaven"]
        );
    }
}
