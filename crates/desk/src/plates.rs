use figure::{Horizon, House, Method};
use instrument::DateFrom;
use moment::{Calendar, CivilDate, Place};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sky::{Angle, Instant, Latitude, Plain, Sky};

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
    pub from: String,
    /// The last day.
    pub to: String,
    /// How much is taken off the clock.
    pub minutes: f64,
}

/// The equation of time of a day.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WeekEquation {
    /// The day, `MM-DD`.
    pub day: String,
    /// Apparent minus mean time at noon of Greenwich.
    pub minutes: f64,
}

/// Moments of a year by sidereal time, evenly spread.
const MOMENTS: u16 = 360;

/// Beyond it the ascendant leaps once a day.
const POLAR_CIRCLE_DEG: f64 = 66.5;

/// Chooses plates for towns: the best in stock, the proportion of two, and the fewest
/// plates that would do.
///
/// # Errors
/// When a town is not known or ambiguous, a latitude no latitude, or the method unknown.
pub fn plates(request: &PlatesRequest) -> Result<PlatesAnswer, Refusal> {
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
    let mut stock = request
        .stock_deg
        .iter()
        .map(|deg| Latitude::from_deg(*deg).map_err(|error| Refusal::new(Field::Plate, error)))
        .collect::<Result<Vec<Latitude>, Refusal>>()?;
    stock.sort_by(|a, b| a.deg().total_cmp(&b.deg()));
    let date_from = date_from(request.date_from.as_deref())?;
    let trial = Trial::new(method);
    let places = request
        .towns
        .iter()
        .map(|town| understood_place(town))
        .collect::<Result<Vec<Place>, Refusal>>()?;
    let towns = places
        .iter()
        .map(|place| {
            let card = request.year.map(|year| card(place, year, date_from));
            trial.town(place, &stock, within_deg, card)
        })
        .collect();
    Ok(PlatesAnswer {
        method: method.name(),
        within_deg,
        towns,
        smallest_set: trial.smallest_set(&places, within_deg),
    })
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
            .map(|n| {
                // Between the degrees, where nothing is exceptional.
                self.read(latitude, Angle::from_deg(f64::from(n) + 0.5))
            })
            .collect()
    }

    /// The errors of readings against the true ones.
    fn errors(&self, truth: &[Read], readings: &[Read]) -> PlateErrors {
        let mut ascendants = Vec::new();
        let mut cusps = Vec::new();
        for (truth, reading) in truth.iter().zip(readings) {
            let off = |(t, r): (&Angle, &Angle)| t.to(*r).abs().deg();
            let mut all = truth.iter().zip(reading).map(off);
            ascendants.extend(all.next());
            cusps.extend(all);
        }
        let sorted = |mut list: Vec<f64>| {
            list.sort_by(f64::total_cmp);
            let middle = list.get(list.len() / 2).copied().unwrap_or(0.0);
            (list.last().copied().unwrap_or(0.0), middle)
        };
        let (largest_ascendant_deg, typical_ascendant_deg) = sorted(ascendants);
        let (largest_cusp_deg, typical_cusp_deg) = sorted(cusps);
        PlateErrors {
            largest_ascendant_deg,
            typical_ascendant_deg,
            largest_cusp_deg,
            typical_cusp_deg,
        }
    }

    fn town(
        &self,
        place: &Place,
        stock: &[Latitude],
        within_deg: f64,
        card: Option<TownCard>,
    ) -> TownPlates {
        let truth = self.year(place.latitude);
        let tried: Vec<(Latitude, PlateErrors)> = stock
            .iter()
            .filter_map(|plate| {
                let readings = self.year(*plate)?;
                Some((*plate, self.errors(truth.as_deref()?, &readings)))
            })
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
        let proportion = truth
            .as_deref()
            .and_then(|truth| self.proportion(place.latitude, truth, stock, best));
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

    fn proportion(
        &self,
        latitude: Latitude,
        truth: &[Read],
        stock: &[Latitude],
        best: Option<(Latitude, PlateErrors)>,
    ) -> Option<Proportion> {
        let below = stock.iter().rfind(|plate| **plate < latitude)?;
        let above = stock.iter().find(|plate| **plate > latitude)?;
        let part = (latitude.deg() - below.deg()) / (above.deg() - below.deg());
        let (low, high) = (self.year(*below)?, self.year(*above)?);
        let mixed: Vec<Read> = low
            .iter()
            .zip(&high)
            .map(|(low, high)| {
                let mut mixed = *low;
                for (value, other) in mixed.iter_mut().zip(high) {
                    *value += value.to(*other) * part;
                }
                mixed
            })
            .collect();
        let error = self.errors(truth, &mixed);
        let times_better = best.map_or(1.0, |(_, alone)| {
            alone.largest() / error.largest().max(1e-9)
        });
        let named = |plate: &Latitude| format!("{}°", rounded(plate.deg(), 100.0));
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

    /// Whether a plate keeps a town within the error.
    fn keeps(&self, truth: &[Read], plate: f64, within_deg: f64) -> bool {
        let readings = Latitude::from_deg(plate)
            .ok()
            .and_then(|plate| self.year(plate));
        readings.is_some_and(|readings| self.errors(truth, &readings).largest() <= within_deg)
    }

    /// The furthest plate on one side of a town that still keeps it within the error.
    fn furthest(&self, truth: &[Read], latitude: f64, side: f64, within_deg: f64) -> f64 {
        let (mut near, mut far) = (latitude, (latitude + 30.0 * side).clamp(-89.0, 89.0));
        for _ in 0..18 {
            let middle = f64::midpoint(near, far);
            if self.keeps(truth, middle, within_deg) {
                near = middle;
            } else {
                far = middle;
            }
        }
        near
    }

    /// The fewest plates: each town suffers the plates of an interval, and the
    /// intervals are stabbed from below, each time as far up as the lowest open one
    /// allows. No fewer can do.
    fn smallest_set(&self, places: &[Place], within_deg: f64) -> Vec<PlateOfSet> {
        let mut intervals: Vec<(f64, f64, String)> = places
            .iter()
            .filter_map(|place| {
                let truth = self.year(place.latitude)?;
                let own = place.latitude.deg();
                let low = self.furthest(&truth, own, -1.0, within_deg);
                let high = self.furthest(&truth, own, 1.0, within_deg);
                Some((low, high, place.name.clone()))
            })
            .collect();
        intervals.sort_by(|a, b| a.1.total_cmp(&b.1));
        let mut set = Vec::new();
        while let Some((_, most, _)) = intervals.first().cloned() {
            let (served, left): (Vec<_>, Vec<_>) =
                intervals.into_iter().partition(|one| one.0 <= most);
            let low = served.iter().map(|one| one.0).fold(-90.0, f64::max);
            set.push(PlateOfSet {
                plate_deg: round_between(low, most),
                towns: served.into_iter().map(|one| one.2).collect(),
            });
            intervals = left;
        }
        set
    }
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

fn card(place: &Place, year: i32, date_from: DateFrom) -> TownCard {
    const DAY_S: i64 = 86_400;
    let day_number = |month, day| {
        CivilDate::new(Calendar::Gregorian, year, month, day).map(CivilDate::julian_day_number)
    };
    let (first, last) = (
        day_number(1, 1).unwrap_or_default(),
        day_number(12, 31).unwrap_or_default(),
    );
    /// The Julian day number of 1 January 1970.
    const EPOCH: i32 = 2_440_588;
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
    let equation_of_time = if date_from.wants_mean_time() {
        Vec::new()
    } else {
        (first..=last)
            .step_by(7)
            .filter_map(|day| {
                // At noon of Greenwich.
                let sky = Sky::at(Instant::from_jd_ut(f64::from(day))).ok()?;
                let named = CivilDate::from_julian_day_number(Calendar::Gregorian, day);
                Some(WeekEquation {
                    day: format!("{:02}-{:02}", named.month(), named.day()),
                    minutes: rounded(sky.equation_of_time_s() / 60.0, 10.0),
                })
            })
            .collect()
    };
    TownCard {
        year,
        zone: zone.map(|zone| zone.name()),
        fixed_minutes,
        summer_time,
        equation_of_time,
    }
}

#[expect(clippy::cast_precision_loss, reason = "seconds of our centuries")]
fn date(unix_s: i64) -> String {
    crate::making::date_of(unix_s as f64)
}
