use sky::{Angle, Sign};

use crate::{Planet, PlanetYears, Sect, sign_and_degree};

/// The decennials: ten years and nine months to each planet, as they follow one another in the
/// zodiac from the one that begins, and within them to each as many months as its least years
/// are. Years have 360 days here, and months 30.
///
/// Vettius Valens, Anthology VI.5–7 (ed. Kroll 1908, pp. 251–257).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Decennials {
    order: [Planet; 7],
}

/// A stretch of days from the birth, and whose it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LordSpan {
    /// Whose.
    pub lord: Planet,
    /// On which day from the birth it begins.
    pub from_days: f64,
    /// On which it ends.
    pub until_days: f64,
}

/// Why a planet begins the decennials.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Beginner {
    /// It is the light of the sect, and stands well.
    LightOfTheSect,
    /// The light of the sect falls away from the angles by sign; the other does not.
    OtherLight,
    /// Both lights fall away: the next after the ascendant in the order of the signs.
    AfterTheAscendant,
}

/// How the days within a planet's months are shared out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DecennialDays {
    /// In rounds of 129 days from where the months began, each planet in turn with a round, and
    /// in it to each as many days as its least years are (VI.5).
    RoundsOfTheMonths,
    /// At once among the seven, in proportion to their least years (VI.6).
    InProportion,
    /// In rounds of 129 days from the birth (VI.7).
    RoundsOfTheLife,
}

/// The least years of the seven together: the months of a decennial, and the days of a round.
const ROUND: f64 = 129.0;
const MONTH_DAYS: f64 = 30.0;

impl DecennialDays {
    /// All of them.
    pub const ALL: [DecennialDays; 3] = [
        DecennialDays::RoundsOfTheMonths,
        DecennialDays::InProportion,
        DecennialDays::RoundsOfTheLife,
    ];

    /// In words.
    #[must_use]
    pub const fn said(self) -> &'static str {
        match self {
            DecennialDays::RoundsOfTheMonths => "its days, in rounds of 129 from its months",
            DecennialDays::InProportion => "its days, in proportion",
            DecennialDays::RoundsOfTheLife => "its days, in rounds of 129 from the birth",
        }
    }
}

impl Decennials {
    /// Where they are in print.
    pub const SOURCE: &'static str =
        "Vettius Valens, Anthology VI.5–7 (ed. Kroll 1908, pp. 251–257), by years of 360 days";

    /// From the planet that begins, by where the seven stand.
    #[must_use]
    pub fn from(first: Planet, place: impl Fn(Planet) -> Angle) -> Decennials {
        let begins = place(first);
        let onward = |planet: Planet| (place(planet) - begins).in_turn().deg();
        let mut order = Planet::ALL;
        // The first stays first among those that stand on its own degree.
        order.sort_by(|a, b| {
            (onward(*a), *a != first)
                .partial_cmp(&(onward(*b), *b != first))
                .unwrap_or(std::cmp::Ordering::Equal)
        });
        Decennials { order }
    }

    /// Who begins, and why. A planet stands well here that is not in a sign that falls away
    /// from the angles, counted from the ascendant's.
    #[must_use]
    pub fn beginner(
        sect: Sect,
        ascendant: Angle,
        place: impl Fn(Planet) -> Angle,
    ) -> (Planet, Beginner) {
        let (light, other) = match sect {
            Sect::Day => (Planet::Sun, Planet::Moon),
            Sect::Night => (Planet::Moon, Planet::Sun),
        };
        let rising = sign_and_degree(ascendant).0 as usize;
        let stands_well = |planet: Planet| {
            let sign: Sign = sign_and_degree(place(planet)).0;
            (sign as usize + 12 - rising) % 3 != 2
        };
        if stands_well(light) {
            (light, Beginner::LightOfTheSect)
        } else if stands_well(other) {
            (other, Beginner::OtherLight)
        } else {
            let onward = |planet: &Planet| (place(*planet) - ascendant).in_turn().deg();
            let next = Planet::ALL
                .into_iter()
                .min_by(|a, b| onward(a).total_cmp(&onward(b)));
            (next.unwrap_or(light), Beginner::AfterTheAscendant)
        }
    }

    /// The seven as they follow one another.
    #[must_use]
    pub const fn order(&self) -> [Planet; 7] {
        self.order
    }

    /// The seven decennials from the birth, 74 of our years; then they begin again.
    #[must_use]
    pub fn spans(&self) -> Vec<LordSpan> {
        (0..7).map(|index| self.long(index as f64)).collect()
    }

    /// The months of a decennial: its own lord has the first.
    #[must_use]
    pub fn months(&self, decennial: LordSpan) -> Vec<LordSpan> {
        self.shares(decennial, MONTH_DAYS)
    }

    /// On a day from the birth: the decennial and the months in which it lies.
    #[must_use]
    pub fn on(&self, day: f64) -> [LordSpan; 2] {
        let decennial = self.long((day / (ROUND * MONTH_DAYS)).floor());
        [decennial, holding(&self.months(decennial), day)]
    }

    /// The days in which a day from the birth lies, within its months.
    #[must_use]
    pub fn days_on(&self, day: f64, how: DecennialDays) -> LordSpan {
        let [_, months] = self.on(day);
        let round = |first: Planet, begins: f64| {
            let passed = ((day - begins) / ROUND).floor();
            let from_days = begins + passed * ROUND;
            LordSpan {
                lord: self.after(first, passed),
                from_days,
                until_days: from_days + ROUND,
            }
        };
        match how {
            DecennialDays::RoundsOfTheMonths => {
                let round = round(months.lord, months.from_days);
                let found = holding(&self.shares(round, 1.0), day);
                LordSpan {
                    until_days: found.until_days.min(months.until_days),
                    ..found
                }
            }
            DecennialDays::InProportion => holding(&self.in_proportion(months), day),
            DecennialDays::RoundsOfTheLife => {
                holding(&self.shares(round(self.order[0], 0.0), 1.0), day)
            }
        }
    }

    /// A planet's months shared among the seven in proportion, its own share first.
    #[must_use]
    pub fn in_proportion(&self, months: LordSpan) -> Vec<LordSpan> {
        self.shares(months, (months.until_days - months.from_days) / ROUND)
    }

    fn long(&self, index: f64) -> LordSpan {
        let from_days = index * ROUND * MONTH_DAYS;
        LordSpan {
            lord: self.after(self.order[0], index),
            from_days,
            until_days: from_days + ROUND * MONTH_DAYS,
        }
    }

    /// The one so many places after another.
    fn after(&self, first: Planet, places: f64) -> Planet {
        let at = self.order.iter().position(|one| *one == first);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "0 to 6"
        )]
        let on = places.rem_euclid(7.0) as usize;
        self.order[(at.unwrap_or(0) + on) % 7]
    }

    /// A stretch shared among the seven, from its lord on: so many days for each of a planet's
    /// least years.
    fn shares(&self, whole: LordSpan, days: f64) -> Vec<LordSpan> {
        let mut from_days = whole.from_days;
        let lords = (0..7).map(|places| self.after(whole.lord, f64::from(places)));
        lords
            .map(|lord| {
                let until_days = from_days + PlanetYears::of(lord).least * days;
                let span = LordSpan {
                    lord,
                    from_days,
                    until_days,
                };
                from_days = until_days;
                span
            })
            .collect()
    }
}

/// Which of some stretches that follow one another a day lies in.
fn holding(spans: &[LordSpan], day: f64) -> LordSpan {
    let found = spans.iter().rfind(|span| span.from_days <= day);
    *found.unwrap_or(&spans[0])
}
