//! How far this brass may be trusted for this moment, and what hangs on it.

use figure::{DignityTables, Planet, PlanetaryHour, Sect, SolarDay, Sunrise};
use instrument::House;
use practice::{
    Account, Asked, Calculated, Finding, Quantity, Task, TaskChoices, Trust, Value, Verdict, trust,
};
use sky::{Angle, Sign};

use crate::answer::{HangsAnswer, TrustAnswer, VerdictAnswer, WorstCuspAnswer, the};
use crate::cabinet::Cabinet;
use crate::casting::Casting;
use crate::correction::Correction;
use crate::revolution::capital;
use crate::trust::{OnAngles, OnCusps};
use crate::ways::ways;

impl Casting {
    /// How far this instrument may be trusted for this moment.
    pub(crate) fn verdict(&self, account: &Account, cabinet: &Cabinet) -> VerdictAnswer {
        let trust = self.trust(&[self.by]);
        let angles = OnAngles::of(&trust);
        let cusps = self.on_cusps(&trust);
        let verdict = angles.verdict();
        let correction = Correction::of(self);
        VerdictAnswer {
            verdict: verdict.name(),
            sentence: words::verdict(verdict, angles.ascendant, angles.midheaven),
            known: self.known(account, angles),
            ascendant: angles.ascendant.map(TrustAnswer::of),
            midheaven: angles.midheaven.map(TrustAnswer::of),
            worst_cusp: cusps.worst().map(|(house, trust)| WorstCuspAnswer {
                house: house.number(),
                trust: TrustAnswer::of(trust),
            }),
            hangs: self.hangs(angles, &cusps),
            ways: match verdict {
                Verdict::Good => Vec::new(),
                Verdict::Usable | Verdict::NotToBeTrusted => {
                    let worst = cusps.worst().map(|(_, trust)| trust);
                    ways(self, angles, worst, correction.as_ref(), cabinet)
                }
            },
            correction: correction.map(|correction| {
                let read = account.actual().reading(Quantity::Ascendant).ok();
                correction.answer(read.and_then(|reading| reading.value.angle()))
            }),
        }
    }

    /// What the angles are known to be put off by.
    fn known(&self, account: &Account, angles: OnAngles) -> Vec<String> {
        let horizon = self.horizon();
        let said = |name, quantity, exact, trust: Option<Trust>| {
            let asked = Asked {
                quantity,
                opposite: false,
                exact: Calculated::at_the_moment(Value::Degree(exact)),
                own: None,
            };
            let why = account.why(asked).ok();
            let shares = why.iter().flat_map(practice::Why::largest);
            let mostly = shares.map(|share| share.cause);
            let mostly = mostly
                .into_iter()
                .find(|cause| cause.is_of_the_brass() || cause.is_of_the_sum());
            words::known_to_be_off(name, trust?.off, mostly.map(practice::Cause::words))
        };
        let ascendant = horizon.ascendant().ok().and_then(|exact| {
            said(
                "the ascendant",
                Quantity::Ascendant,
                exact,
                angles.ascendant,
            )
        });
        let midheaven = said(
            "the midheaven",
            Quantity::Midheaven,
            horizon.midheaven(),
            angles.midheaven,
        );
        ascendant.into_iter().chain(midheaven).collect()
    }

    /// What may come out otherwise than it is, what matters most first.
    fn hangs(&self, angles: OnAngles, cusps: &OnCusps) -> Vec<HangsAnswer> {
        let horizon = self.horizon();
        let mut hangs = Vec::new();
        if let (Ok(truly), Some(trust)) = (horizon.ascendant(), angles.ascendant) {
            hangs.extend(sign("The ascendant", "ascendant-sign", truly, trust));
            hangs.extend(lord_of_ascendant(truly, trust));
        }
        hangs.extend(self.lord_of_hour());
        hangs.extend(self.houses(cusps));
        if let Some(trust) = angles.midheaven {
            let truly = horizon.midheaven();
            hangs.extend(sign("The midheaven", "midheaven-sign", truly, trust));
        }
        hangs
    }

    fn lord_of_hour(&self) -> Option<HangsAnswer> {
        let moment = &self.moment;
        let day = SolarDay::at(moment.sky(), self.site(), Sunrise::Centre);
        let day = day.ok()?.ok()?;
        let hour = PlanetaryHour::at(&day, moment.instant(), self.clock_ahead_of_ut_s());
        let hour_ruler = hour.ruler;
        let long_s = hour.ends.seconds_since(hour.begins);
        let begun = f64::from(hour.number - 1)
            + match hour.sect {
                Sect::Day => 0.0,
                Sect::Night => 12.0,
            };
        let gone = begun + moment.instant().seconds_since(hour.begins) / long_s;

        let operation = Task::PlanetaryHour.operation(&self.instrument, &TaskChoices::default());
        let [ideal, actual] = self.ideal_and_actual();
        let wanted = Quantity::Found(Finding::UnequalHour);
        let trust = *trust(&operation, &ideal, &actual).get(&wanted)?;
        let truly = Value::UnequalHours(gone);
        let trust = Trust {
            off: truly.to(trust.still?).plus(trust.off),
            ..trust
        };
        let hours = trust.readings(truly).map(|read| whole_hours(read.number()));
        let begun = whole_hours(begun);
        let others = Others::than(begun, hours);
        // The order of the planets runs on through day and night.
        let ruler = |hour: &i32| {
            let on = usize::try_from((hour - begun).rem_euclid(7)).unwrap_or(0);
            the(hour_ruler.down(on).name())
        };
        Some(HangsAnswer {
            what: "lord-of-hour",
            surely: others.surely,
            sentence: format!(
                "The hour {} as that of {}; it is that of {}.",
                others.read(),
                others.listed(ruler)?,
                the(hour_ruler.name())
            ),
        })
    }

    /// The planets whose house may be read as another: by the cusps of the procedure, as a
    /// perfect instrument gives them, each house counted from where it is said to begin.
    fn houses(&self, cusps: &OnCusps) -> Vec<HangsAnswer> {
        let OnCusps(cusps) = cusps;
        if cusps.len() < House::ALL.len() {
            return Vec::new();
        }
        let sky = self.moment.sky();
        let planets = Planet::ALL.into_iter().rev();
        let hangs = planets.filter_map(|planet| {
            // Further on by what a house begins before its cusp.
            let at = sky.body(planet.body()).longitude + self.border.lead();
            let into = |(_, cusp, _): &(House, Angle, Trust)| (at - *cusp).in_turn();
            // The house whose cusp lies least far behind.
            let (index, (house, cusp, begins)) = cusps
                .iter()
                .enumerate()
                .min_by(|(_, a), (_, b)| into(a).deg().total_cmp(&into(b).deg()))?;
            let (next, next_cusp, ends) = cusps.get((index + 1) % cusps.len())?;
            let [least, most] = degrees_read(*begins, *cusp);
            let (past, surely_past) = (at.to(most), at.to(least));
            let [least, most] = degrees_read(*ends, *next_cusp);
            let (short, surely_short) = (least.to(at), most.to(at));
            let others = Others {
                all: [(past, house.before()), (short, *next)]
                    .into_iter()
                    .filter(|(beyond, _)| *beyond > Angle::ZERO)
                    .map(|(_, house)| house)
                    .collect(),
                surely: surely_past > Angle::ZERO || surely_short > Angle::ZERO,
            };
            Some(HangsAnswer {
                what: "house",
                surely: others.surely,
                sentence: format!(
                    "{} {} in house {}; it is in {house}.",
                    capital(&the(planet.name())),
                    others.read(),
                    others.listed(House::to_string)?,
                ),
            })
        });
        hangs.collect()
    }
}

/// What may be read and is not so.
struct Others<T> {
    all: Vec<T>,
    /// Whether one of them is read surely.
    surely: bool,
}

impl<T: Copy + PartialEq> Others<T> {
    /// Those of the least and the most that may be read.
    fn than(truly: T, read: [T; 2]) -> Others<T> {
        let mut all = read.to_vec();
        all.dedup();
        all.retain(|one| *one != truly);
        Others {
            surely: !read.contains(&truly),
            all,
        }
    }

    /// `is read` or `may be read`.
    fn read(&self) -> &'static str {
        if self.surely {
            "is read"
        } else {
            "may be read"
        }
    }

    /// `XI`, `X or XII`; none where there are none.
    fn listed(&self, name: impl Fn(&T) -> String) -> Option<String> {
        let names: Vec<String> = self.all.iter().map(name).collect();
        (!names.is_empty()).then(|| names.join(" or "))
    }
}

/// The hours that are gone.
#[expect(
    clippy::cast_possible_truncation,
    reason = "a reading lies within a day or two"
)]
fn whole_hours(hours: f64) -> i32 {
    // An hour that has just begun is not lost to the last digit.
    (hours + 1e-9).floor() as i32
}

/// The least and the most that may be read of a degree of the zodiac.
fn degrees_read(trust: Trust, truly: Angle) -> [Angle; 2] {
    let read = trust.readings(Value::Degree(truly));
    read.map(|degree| Angle::from_deg(degree.number()))
}

/// The signs that may be read of what lies here.
fn signs(truly: Angle, trust: Trust) -> Others<Sign> {
    let sign = |longitude: Angle| figure::sign_and_degree(longitude).0;
    Others::than(sign(truly), degrees_read(trust, truly).map(sign))
}

fn sign(name: &str, what: &'static str, truly: Angle, trust: Trust) -> Option<HangsAnswer> {
    let others = signs(truly, trust);
    let (here, _) = figure::sign_and_degree(truly);
    Some(HangsAnswer {
        what,
        surely: others.surely,
        sentence: format!(
            "{name} {} in {}; it is in {}.",
            others.read(),
            others.listed(|sign| sign.name().to_owned())?,
            here.name()
        ),
    })
}

fn lord_of_ascendant(truly: Angle, trust: Trust) -> Option<HangsAnswer> {
    let lord = |sign: Sign| DignityTables::default().rulers(sign.begins()).rulership;
    let (here, _) = figure::sign_and_degree(truly);
    let is = lord(here);
    let signs = signs(truly, trust);
    // Saturn has two signs side by side.
    let mut all: Vec<Planet> = signs.all.into_iter().map(lord).collect();
    all.retain(|one| *one != is);
    let others = Others {
        surely: signs.surely && !all.is_empty(),
        all,
    };
    Some(HangsAnswer {
        what: "lord-of-ascendant",
        surely: others.surely,
        sentence: format!(
            "Its lord {} then {}, not {}.",
            if others.surely { "is" } else { "would be" },
            others.listed(|planet| the(planet.name()))?,
            the(is.name())
        ),
    })
}
