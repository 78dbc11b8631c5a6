use std::collections::VecDeque;

use figure::{Horizon, House, Method};
use instrument::DateFrom;
use moment::{Calendar, CivilDate, Place};
use patience::{GivenUp, Patience};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sky::{Angle, Instant, Latitude, Plain, Sky};

use crate::answer::{DateAnswer, DayOfYearAnswer};
use crate::moment::understood_place;
use crate::refusal::{Field, Refusal, quoted};

/// What is asked when plates are to be chosen for towns.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct PlatesRequest {
    /// Towns, or coordinates.
    pub towns: Vec<String>,
    /// The latitudes of the plates in stock, in degrees.
    pub stock_deg: Vec<f64>,
    /// The largest error that is suffered, in degrees of ascendant and cusps; 1 unless said.
    pub within_deg: Option<f64>,
    /// The house method of the cusps; alcabitius unless said.
    pub houses: Option<String>,
    /// The year of the cards' dates; none are made without it.
    pub year: Option<i32>,
    /// Where the date is taken from, as in a specification; zodiac unless said. A ring
    /// of equal days needs no equation of time on the card.
    pub date_from: Option<String>,
}

/// Which plate serves which town.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PlatesAnswer {
    /// The house method of the cusps.
    pub method: &'static str,
    /// The largest error that is suffered.
    pub within_deg: f64,
    /// The towns, as they were named.
    pub towns: Vec<TownPlates>,
    /// The fewest plates that keep every town within the error.
    pub smallest_set: Vec<PlateOfSet>,
}

/// A town and the plates for it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct TownPlates {
    /// Its name.
    pub name: String,
    /// Its latitude.
    pub latitude_deg: f64,
    /// Its longitude, east positive.
    pub longitude_deg: f64,
    /// The plate in stock that errs least, if any serves.
    pub best_plate_deg: Option<f64>,
    /// What that plate errs by.
    pub error: Option<PlateErrors>,
    /// Reading two plates and taking the proportion, where the town lies between two.
    pub proportion: Option<Proportion>,
    /// `plate`, `proportion` or `new-plate`: what keeps within the error.
    #[schemars(extend("enum" = ["plate", "proportion", "new-plate"]))]
    pub advice: &'static str,
    /// Its card, where a year was given.
    pub card: Option<TownCard>,
}

/// Errors over all moments of a year, each sidereal time counting the same.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PlateErrors {
    /// The largest error of the ascendant.
    pub largest_ascendant_deg: f64,
    /// The error of the ascendant that half of all moments keep below.
    pub typical_ascendant_deg: f64,
    /// The largest error of a cusp.
    pub largest_cusp_deg: f64,
    /// The error of a cusp that half of all keep below.
    pub typical_cusp_deg: f64,
}

/// Reading on two plates and taking the proportion.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Proportion {
    /// The plates below and above.
    pub plates_deg: [f64; 2],
    /// The part of the way from the first reading to the second.
    pub part: f64,
    /// What it errs by.
    pub error: PlateErrors,
    /// How many times smaller the largest error is than on the best plate alone.
    pub times_better: f64,
    /// How it is done.
    pub working: Vec<String>,
}

/// A plate of the smallest set.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PlateOfSet {
    /// Its latitude.
    pub plate_deg: f64,
    /// The towns it serves.
    pub towns: Vec<String>,
}

/// What someone in a town needs beside the instrument.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct TownCard {
    /// The year of its dates.
    pub year: i32,
    /// The zone, if known.
    pub zone: Option<&'static str>,
    /// What is added to zone time, without summer time, to have local mean time.
    pub fixed_minutes: Option<f64>,
    /// When summer time is in force, as dates of the zone's own clocks, with its minutes.
    pub summer_time: Vec<SummerTime>,
    /// The equation of time for every seventh day: what is added to local mean time;
    /// empty where the instrument's ring of equal days wants none.
    pub equation_of_time: Vec<WeekEquation>,
}

/// A stretch of summer time.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SummerTime {
    /// The first day, `YYYY-MM-DD`.
    pub from: DateAnswer,
    /// The last day.
    pub to: DateAnswer,
    /// How much is taken off the clock.
    pub minutes: f64,
}

/// The equation of time of a day.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WeekEquation {
    /// The day, `MM-DD`.
    pub day: DayOfYearAnswer,
    /// Apparent minus mean time at noon of Greenwich.
    pub minutes: f64,
}

/// Moments of a year by sidereal time, evenly spread.
const MOMENTS: u16 = 360;

/// Beyond it the ascendant leaps once a day.
const POLAR_CIRCLE_DEG: f64 = 66.5;

/// So many towns, with as many plates in stock as may be, take some seconds:
/// `reference/bounds.py` measures how many.
const MOST_TOWNS: usize = 2000;

/// More than any workshop has.
const MOST_PLATES: usize = 100;

/// Chooses plates for towns: the best in stock, the proportion of two, and the fewest
/// plates that would do.
///
/// # Errors
/// When a town is not known or ambiguous, a latitude no latitude, the method unknown, or
/// nobody waits any longer.
pub fn plates(request: &PlatesRequest, patience: Patience<'_>) -> Result<PlatesAnswer, Refusal> {
    let method: Method = match &request.houses {
        None => Method::Alcabitius,
        Some(name) => name
            .parse()
            .map_err(|error| Refusal::new(Field::Houses, error))?,
    };
    let within_deg = request.within_deg.unwrap_or(1.0);
    if !(0.01..=60.0).contains(&within_deg) {
        return Err(Refusal::new(
            Field::Plate,
            format!(
                "an error of {}° is no limit; 0.01 to 60 would do",
                Plain(within_deg)
            ),
        ));
    }
    if request.towns.is_empty() {
        return Err(Refusal::new(
            Field::At,
            "no town is named; towns such as \"Oxford, United Kingdom\" would do",
        ));
    }
    Refusal::beyond(Field::At, request.towns.len(), MOST_TOWNS, "towns")?;
    Refusal::beyond(Field::Plate, request.stock_deg.len(), MOST_PLATES, "plates")?;
    let mut stock = request
        .stock_deg
        .iter()
        .map(|deg| Latitude::from_deg(*deg).map_err(|error| Refusal::new(Field::Plate, error)))
        .collect::<Result<Vec<Latitude>, Refusal>>()?;
    stock.sort_by(|a, b| a.deg().total_cmp(&b.deg()));
    let date_from = date_from(request.date_from.as_deref())?;
    let trial = Trial::new(method);
    let places = patience
        .part(0, 4)
        .each(&request.towns)
        .map(|town| understood_place(town?.0))
        .collect::<Result<Vec<Place>, Refusal>>()?;
    // What is the same for every town is found once.
    let stock: Vec<Stocked> = patience
        .part(1, 4)
        .each(&stock)
        .map(|plate| {
            let (plate, _) = plate?;
            Ok(Stocked {
                plate: *plate,
                readings: trial.year(*plate),
            })
        })
        .collect::<Result<_, GivenUp>>()?;
    let cards = request.year.map(|year| Cards::of(year, date_from));
    // From south to north: the next town's worst moments are those of the last.
    let mut places: Vec<(usize, Place)> = places.into_iter().enumerate().collect();
    places.sort_by(|a, b| a.1.latitude.deg().total_cmp(&b.1.latitude.deg()));
    let mut worst = [Vec::new(), Vec::new()];
    let mut towns = Vec::with_capacity(places.len());
    let mut intervals = Vec::with_capacity(places.len());
    for one in patience.part(1, 2).each(&places) {
        let ((number, place), _) = one?;
        let truth = trial.year(place.latitude);
        let card = cards.as_ref().map(|cards| cards.card(place));
        let town = trial.town(place, truth.as_deref(), &stock, within_deg, card);
        towns.push((*number, town));
        let interval = truth.map(|truth| trial.interval(place, &truth, within_deg, &mut worst));
        intervals.extend(interval.map(|interval| (*number, interval)));
    }
    Ok(PlatesAnswer {
        method: method.name(),
        within_deg,
        towns: as_named(towns),
        smallest_set: smallest_set(as_named(intervals)),
    })
}

/// In the order in which the towns were named.
fn as_named<T>(mut all: Vec<(usize, T)>) -> Vec<T> {
    all.sort_by_key(|one| one.0);
    all.into_iter().map(|one| one.1).collect()
}

fn date_from(name: Option<&str>) -> Result<DateFrom, Refusal> {
    let Some(name) = name else {
        return Ok(DateFrom::Zodiac);
    };
    let found = DateFrom::ALL
        .into_iter()
        .find(|one| one.name().eq_ignore_ascii_case(name.trim()));
    found.ok_or_else(|| {
        let names: Vec<&str> = DateFrom::ALL.into_iter().map(DateFrom::name).collect();
        Refusal::new(
            Field::With,
            format!(
                "{} is no way to take the date; {} would do",
                quoted(name),
                names.join(", ")
            ),
        )
    })
}

/// The ascendant and the cusps II, III, V and VI: the others stand opposite, or are
/// the same on every plate.
type Read = [Angle; 5];

/// A plate in stock, and what is read on it through a year; none where it serves at no
/// time or not always.
struct Stocked {
    plate: Latitude,
    readings: Option<Vec<Read>>,
}

/// The latitudes of the plates that keep a town within the error.
struct Interval {
    from_deg: f64,
    to_deg: f64,
    town: String,
}

struct Trial {
    method: Method,
    obliquity: Angle,
}

impl Trial {
    fn new(method: Method) -> Trial {
        // Plates err the same to a thousandth through some centuries.
        let obliquity = Sky::at(Instant::from_jd_tt(2_451_545.0))
            .map_or(Angle::from_deg(23.44), |sky| sky.mean_obliquity());
        Trial { method, obliquity }
    }

    fn read(&self, latitude: Latitude, sidereal_time: Angle) -> Option<Read> {
        let horizon = Horizon {
            sidereal_time,
            obliquity: self.obliquity,
            latitude,
        };
        let ascendant = horizon.ascendant().ok()?;
        let cusps = self.method.cusps(&horizon).ok()?;
        let [ii, iii, v, vi] = [2, 3, 5, 6]
            .map(|number| House::from_number(number).map_or(ascendant, |house| cusps.get(house)));
        Some([ascendant, ii, iii, v, vi])
    }

    fn year(&self, latitude: Latitude) -> Option<Vec<Read>> {
        (0..MOMENTS)
            .map(|n| self.read(latitude, sidereal_time(n.into())))
            .collect()
    }

    fn town(
        &self,
        place: &Place,
        truth: Option<&[Read]>,
        stock: &[Stocked],
        within_deg: f64,
        card: Option<TownCard>,
    ) -> TownPlates {
        let tried: Vec<(Latitude, PlateErrors)> = stock
            .iter()
            .filter_map(|one| Some((one.plate, errors(truth?, one.readings.as_deref()?))))
            .collect();
        // Where the ascendant leaps, the largest error of every plate is of a moment when
        // none serves: it is the other moments that tell them apart.
        let leaps = place.latitude.deg().abs() > POLAR_CIRCLE_DEG;
        let err = |errors: &PlateErrors| {
            if leaps {
                errors.typical_ascendant_deg.max(errors.typical_cusp_deg)
            } else {
                errors.largest()
            }
        };
        let best = tried
            .iter()
            .min_by(|a, b| err(&a.1).total_cmp(&err(&b.1)))
            .copied();
        let proportion = truth.and_then(|truth| proportion(place.latitude, truth, stock, best));
        let keeps = |errors: &PlateErrors| errors.largest() <= within_deg;
        let advice = if best.is_some_and(|(_, errors)| keeps(&errors)) {
            "plate"
        } else if proportion.as_ref().is_some_and(|one| keeps(&one.error)) {
            "proportion"
        } else {
            "new-plate"
        };
        TownPlates {
            name: place.name.clone(),
            latitude_deg: place.latitude.deg(),
            longitude_deg: place.longitude.deg(),
            best_plate_deg: best.map(|(plate, _)| plate.deg()),
            error: best.map(|(_, errors)| errors),
            proportion,
            advice,
            card,
        }
    }

    /// How far one moment of a year is off on a plate; none where it has no answer there.
    fn off(&self, truth: &[Read], moment: usize, plate: f64) -> Option<f64> {
        let latitude = Latitude::from_deg(plate).ok()?;
        let reading = self.read(latitude, sidereal_time(moment))?;
        let truth = truth.get(moment)?;
        let off = truth
            .iter()
            .zip(&reading)
            .map(|(t, r)| t.to(*r).abs().deg());
        Some(off.fold(0.0, f64::max))
    }

    /// The furthest plate on one side of a town that still keeps it within the error.
    ///
    /// A plate that errs too much does so at a few moments of the year: those are found
    /// one after another, the worst first, and the year is looked through only to see
    /// whether another is among them. Where they are known beforehand, as those of a town
    /// nearby, less is looked through; what is found is the same.
    fn furthest(
        &self,
        truth: &[Read],
        latitude: f64,
        side: f64,
        within_deg: f64,
        worst: &mut Vec<usize>,
    ) -> f64 {
        /// How many of the moments found last are tried first.
        const TRIED: usize = 3;
        worst.drain(..worst.len().saturating_sub(TRIED));
        let keeps = |moment: usize, plate: f64| {
            let off = self.off(truth, moment, plate);
            off.is_some_and(|off| off <= within_deg)
        };
        loop {
            let (mut near, mut far) = (latitude, furthest_tried(latitude, side));
            for _ in 0..18 {
                let middle = f64::midpoint(near, far);
                if worst.iter().all(|moment| keeps(*moment, middle)) {
                    near = middle;
                } else {
                    far = middle;
                }
            }
            let off = |moment: &usize| self.off(truth, *moment, near).unwrap_or(f64::INFINITY);
            let next = (0..truth.len())
                .filter(|moment| !worst.contains(moment) && !keeps(*moment, near))
                .max_by(|a, b| off(a).total_cmp(&off(b)));
            match next {
                Some(moment) => worst.push(moment),
                None => return near,
            }
        }
    }

    /// The plates that keep a town within the error.
    fn interval(
        &self,
        place: &Place,
        truth: &[Read],
        within_deg: f64,
        [below, above]: &mut [Vec<usize>; 2],
    ) -> Interval {
        let own = place.latitude.deg();
        Interval {
            from_deg: self.furthest(truth, own, -1.0, within_deg, below),
            to_deg: self.furthest(truth, own, 1.0, within_deg, above),
            town: place.name.clone(),
        }
    }
}

/// The end of the search for plates on one side of a town: 30° from it, or the pole,
/// where there is no ascendant and no plate.
fn furthest_tried(latitude: f64, side: f64) -> f64 {
    (latitude + 30.0 * side).clamp(-90.0, 90.0)
}

/// The sidereal time of a moment, between the degrees, where nothing is exceptional.
fn sidereal_time(moment: usize) -> Angle {
    #[expect(clippy::cast_precision_loss, reason = "moments are a few hundred")]
    Angle::from_deg(moment as f64 + 0.5)
}

/// The errors of readings against the true ones.
fn errors(truth: &[Read], readings: &[Read]) -> PlateErrors {
    let mut ascendants = Vec::new();
    let mut cusps = Vec::new();
    for (truth, reading) in truth.iter().zip(readings) {
        let off = |(t, r): (&Angle, &Angle)| t.to(*r).abs().deg();
        let mut all = truth.iter().zip(reading).map(off);
        ascendants.extend(all.next());
        cusps.extend(all);
    }
    let (largest_ascendant_deg, typical_ascendant_deg) = largest_and_middle(ascendants);
    let (largest_cusp_deg, typical_cusp_deg) = largest_and_middle(cusps);
    PlateErrors {
        largest_ascendant_deg,
        typical_ascendant_deg,
        largest_cusp_deg,
        typical_cusp_deg,
    }
}

/// The largest of a list, and the one in the middle of it.
fn largest_and_middle(mut list: Vec<f64>) -> (f64, f64) {
    let largest = list.iter().copied().fold(0.0, f64::max);
    let half = list.len() / 2;
    if half == list.len() {
        return (0.0, 0.0);
    }
    let (_, middle, _) = list.select_nth_unstable_by(half, f64::total_cmp);
    (largest, *middle)
}

fn proportion(
    latitude: Latitude,
    truth: &[Read],
    stock: &[Stocked],
    best: Option<(Latitude, PlateErrors)>,
) -> Option<Proportion> {
    let below = stock.iter().rfind(|one| one.plate < latitude)?;
    let above = stock.iter().find(|one| one.plate > latitude)?;
    let (low, high) = (below.readings.as_deref()?, above.readings.as_deref()?);
    let (below, above) = (below.plate, above.plate);
    let part = (latitude.deg() - below.deg()) / (above.deg() - below.deg());
    let mixed: Vec<Read> = low
        .iter()
        .zip(high)
        .map(|(low, high)| {
            let mut mixed = *low;
            for (value, other) in mixed.iter_mut().zip(high) {
                *value += value.to(*other) * part;
            }
            mixed
        })
        .collect();
    let error = errors(truth, &mixed);
    let times_better = best.map_or(1.0, |(_, alone)| {
        alone.largest() / error.largest().max(1e-9)
    });
    let named = |plate: Latitude| format!("{}°", rounded(plate.deg(), 100.0));
    Some(Proportion {
        plates_deg: [below.deg(), above.deg()],
        part,
        error,
        times_better,
        working: vec![
            format!("Read what is wanted with the plate for {}.", named(below)),
            format!(
                "Read it again, for the same hour, with the plate for {}.",
                named(above)
            ),
            format!(
                "Take {:.0} hundredths of the way from the first reading to the second: \
                 the town lies {:.2}° beyond the first plate, and the plates are {:.2}° apart.",
                part * 100.0,
                latitude.deg() - below.deg(),
                above.deg() - below.deg()
            ),
        ],
    })
}

/// The fewest plates: each town suffers the plates of an interval, and the intervals are
/// stabbed from below, each time as far up as the lowest open one allows. No fewer can do.
fn smallest_set(mut intervals: Vec<Interval>) -> Vec<PlateOfSet> {
    intervals.sort_by(|a, b| a.to_deg.total_cmp(&b.to_deg));
    let mut set = Vec::new();
    let mut left = VecDeque::from(intervals);
    // The plate at the northern end of the southernmost town's own plates serves that
    // town, so that every round leaves fewer towns than the one before.
    while let Some(first) = left.pop_front() {
        let (served, others): (VecDeque<_>, VecDeque<_>) = left
            .into_iter()
            .partition(|one| one.from_deg <= first.to_deg);
        let low = served
            .iter()
            .map(|one| one.from_deg)
            .fold(first.from_deg, f64::max);
        let plate_deg = round_between(low, first.to_deg);
        let towns = std::iter::once(first).chain(served);
        set.push(PlateOfSet {
            plate_deg,
            towns: towns.map(|one| one.town).collect(),
        });
        left = others;
    }
    set
}

impl PlateErrors {
    /// The largest error of all.
    #[must_use]
    pub fn largest(&self) -> f64 {
        self.largest_ascendant_deg.max(self.largest_cusp_deg)
    }
}

/// The roundest number between two.
fn round_between(low: f64, high: f64) -> f64 {
    let middle = f64::midpoint(low, high);
    [1.0, 2.0, 4.0, 10.0, 100.0, 1000.0]
        .into_iter()
        .map(|parts| rounded(middle, parts))
        .find(|round| (low..=high).contains(round))
        .unwrap_or(middle)
}

fn rounded(number: f64, parts: f64) -> f64 {
    (number * parts).round() / parts
}

/// What the cards of a year have in common.
struct Cards {
    year: i32,
    equation_of_time: Vec<WeekEquation>,
}

impl Cards {
    fn of(year: i32, date_from: DateFrom) -> Cards {
        let equation_of_time = if date_from.wants_mean_time() {
            Vec::new()
        } else {
            let (first, last) = ends(year);
            (first..=last).step_by(7).filter_map(equation_of).collect()
        };
        Cards {
            year,
            equation_of_time,
        }
    }

    fn card(&self, place: &Place) -> TownCard {
        TownCard {
            equation_of_time: self.equation_of_time.clone(),
            ..card(place, self.year)
        }
    }
}

const DAY_S: i64 = 86_400;

/// The Julian day number of 1 January 1970.
const EPOCH: i32 = 2_440_588;

/// The Julian day numbers of a year's first and last day.
fn ends(year: i32) -> (i32, i32) {
    let day_number = |month, day| {
        CivilDate::new(Calendar::Gregorian, year, month, day).map(CivilDate::julian_day_number)
    };
    (
        day_number(1, 1).unwrap_or_default(),
        day_number(12, 31).unwrap_or_default(),
    )
}

/// The equation of time at noon of Greenwich.
fn equation_of(day: i32) -> Option<WeekEquation> {
    let sky = Sky::at(Instant::from_jd_ut(f64::from(day))).ok()?;
    let named = CivilDate::from_julian_day_number(Calendar::Gregorian, day);
    Some(WeekEquation {
        day: DayOfYearAnswer {
            month: named.month(),
            day: named.day(),
        },
        minutes: rounded(sky.equation_of_time_s() / 60.0, 10.0),
    })
}

/// A town's card, without what is the same for all.
fn card(place: &Place, year: i32) -> TownCard {
    let (first, last) = ends(year);
    let unix = |day: i32| i64::from(day - EPOCH) * DAY_S;
    let zone = place
        .zone
        .or_else(|| place.clone().with_zone_of_nearest_town().zone);
    let mut summer_time = Vec::new();
    if let Some(zone) = zone {
        let mut at = unix(first);
        let end = unix(last) + DAY_S;
        while at < end {
            let span = zone.span_at(at);
            let until = span.until_unix_s().unwrap_or(end).min(end);
            if span.summer_time_s() > 0.0 {
                #[expect(clippy::cast_possible_truncation, reason = "offsets are below a day")]
                let offset = (span.standard_offset_s() + span.summer_time_s()) as i64;
                let from = span.from_unix_s().unwrap_or(at).max(unix(first) - offset);
                summer_time.push(SummerTime {
                    // The year is that of the zone's own clocks.
                    from: date((from + offset).max(unix(first))),
                    to: date((until - 1 + offset).min(end - 1)),
                    minutes: span.summer_time_s() / 60.0,
                });
            }
            at = until.max(at + 1);
        }
    }
    let fixed_minutes = zone.map(|zone| {
        let standard = zone.span_at(unix(first)).standard_offset_s();
        rounded((place.longitude.deg() * 240.0 - standard) / 60.0, 100.0)
    });
    TownCard {
        year,
        zone: zone.map(|zone| zone.name()),
        fixed_minutes,
        summer_time,
        equation_of_time: Vec::new(),
    }
}

/// The date of a clock that shows so many seconds since the beginning of 1970.
fn date(unix_s: i64) -> DateAnswer {
    #[expect(clippy::cast_possible_truncation, reason = "days of our centuries")]
    let days = unix_s.div_euclid(DAY_S) as i32;
    DateAnswer(CivilDate::from_julian_day_number(
        Calendar::Gregorian,
        EPOCH + days,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The furthest plate by the whole year at every step.
    fn by_the_whole_year(trial: &Trial, truth: &[Read], own: f64, side: f64, within: f64) -> f64 {
        let keeps = |plate: f64| {
            let readings = Latitude::from_deg(plate)
                .ok()
                .and_then(|plate| trial.year(plate));
            readings.is_some_and(|readings| errors(truth, &readings).largest() <= within)
        };
        let (mut near, mut far) = (own, furthest_tried(own, side));
        for _ in 0..18 {
            let middle = f64::midpoint(near, far);
            if keeps(middle) {
                near = middle;
            } else {
                far = middle;
            }
        }
        near
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        /// A few moments find the same plate as all of them, wherever they begin.
        #[test]
        fn the_worst_moments_find_the_furthest_plate(
            own in -90.0..90.0_f64, within in 0.01..9.0_f64, method in 0..Method::ALL.len(),
            tried in prop::collection::vec(0..360_usize, 0..4),
        ) {
            let trial = Trial::new(Method::ALL[method]);
            let Some(truth) = Latitude::from_deg(own).ok().and_then(|own| trial.year(own)) else {
                return Ok(());
            };
            for side in [-1.0, 1.0] {
                let found = trial.furthest(&truth, own, side, within, &mut tried.clone());
                let wanted = by_the_whole_year(&trial, &truth, own, side, within);
                prop_assert!((found - wanted).abs() < 1e-12, "{found} {wanted}");
                // A town is among the towns that its own plate serves.
                prop_assert!((found - own) * side >= 0.0, "{found} for {own}");
            }
        }

        /// Every town is served by one plate of the set, up to the poles.
        #[test]
        fn the_smallest_set_serves_every_town_once(
            latitudes in prop::collection::vec(-90.0..=90.0_f64, 1..5), within in 0.01..9.0_f64,
        ) {
            let request = PlatesRequest {
                towns: latitudes.iter().map(|latitude| format!("{latitude},0")).collect(),
                within_deg: Some(within),
                ..PlatesRequest::default()
            };
            let answer = plates(&request, Patience::ENDLESS).map_err(|why| TestCaseError::fail(why.to_string()))?;
            let with_plates = answer.towns.iter().filter(|town| {
                let latitude = Latitude::from_deg(town.latitude_deg).ok();
                latitude.and_then(|own| Trial::new(Method::Alcabitius).year(own)).is_some()
            });
            let served: usize = answer.smallest_set.iter().map(|plate| plate.towns.len()).sum();
            prop_assert_eq!(served, with_plates.count());
        }
    }
}
