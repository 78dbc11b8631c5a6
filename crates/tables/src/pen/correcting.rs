use figure::House;
use sky::{Angle, Body};

use super::page::Shelf;
use super::reckoning::worked;
use super::{At, Found, Given, Hand, Part, Quantity, Slip, Within, reckon};
use crate::TableError;

/// What a person found on a sheet of their own.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// The quantity that was found.
    pub quantity: Quantity,
    /// As written; the middle of a sign that is told alone.
    pub value: Angle,
    /// How finely it is written: to a minute, a degree, or a sign.
    pub written_to: Angle,
}

/// A person's number held against what the tables give.
#[derive(Clone, Debug, PartialEq)]
pub struct Held {
    /// What the sheet finds; none where a table has a stroke.
    pub should: Option<Angle>,
    /// Within what it is right, either way.
    pub within: Angle,
    /// What follows from the person's own earlier numbers, where that is something else.
    pub follows: Option<Angle>,
    /// What it is.
    pub mark: NumberVerdict,
}

/// What a person's number is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NumberVerdict {
    /// As the tables give it.
    Right,
    /// As it follows from an earlier one that is wrong.
    Follows,
    /// Neither.
    Wrong,
}

/// What would explain the numbers.
#[derive(Clone, Debug)]
pub struct Explanation {
    /// The slips; none where all is right.
    pub slips: Vec<Slip>,
    /// Its place, from 1: slips that give the same numbers share one.
    pub rank: usize,
    /// What is left over, against what digits and rounding may make: about 1 where it fits.
    pub misfit: f64,
    /// How likely it is among those tried, 0 to 1.
    pub weight: f64,
    /// What is found so, in the order of the readings.
    pub shows: Vec<Option<Angle>>,
}

/// Numbers of a person's sheet, corrected.
#[derive(Clone, Debug)]
pub struct Corrected {
    /// Each held against what it should be, in order.
    pub held: Vec<Held>,
    /// The likeliest first.
    pub explanations: Vec<Explanation>,
    /// Whether the first of them fits.
    pub fits: bool,
}

/// What is found when a slip is made.
#[derive(Clone, Debug)]
pub struct TellTale {
    /// The slips; several where nobody could tell them apart.
    pub slips: Vec<Slip>,
    /// What is then found, in the order of what is asked.
    pub shows: Vec<Angle>,
}

/// What a slip costs an explanation, in the square of a deviation: it is put forward when it
/// makes the numbers some 90 times as likely.
const COST_OF_A_SLIP: f64 = 9.0;
/// So many places are told.
const MOST_GIVEN: usize = 8;
/// Numbers no further apart than this, in deviations, are the same to anyone.
const SAME: f64 = 0.5;
/// A number where none is found counts as one so many deviations off.
const MISSING: f64 = 6.0;
/// However exact a table, two people's roundings part by this.
const LEAST: Angle = Angle::from_deg(1.5 / 60.0);
/// A sign told alone.
const SIGN_DEG: f64 = 30.0;

impl Reading {
    /// From a number that is shown to the person's, the short way round; of a sign told
    /// alone, from its nearer end.
    #[must_use]
    pub fn off(&self, shown: Angle) -> Angle {
        let off = shown.to(self.value).deg();
        if self.written_to.deg() < SIGN_DEG {
            return Angle::from_deg(off);
        }
        let beyond = (off.abs() - self.written_to.deg() / 2.0).max(0.0);
        Angle::from_deg(beyond.copysign(off))
    }

    /// Within what it is right: what the tables leave, and how coarsely it is written.
    fn tolerance(&self, within: &Within) -> Angle {
        let tables = within.of_quantity(self.quantity).max(LEAST.deg());
        let written = if self.written_to.deg() < SIGN_DEG {
            self.written_to.deg() / 2.0
        } else {
            0.0
        };
        Angle::from_deg(tables + written)
    }
}

impl Within {
    /// Of anything that is found, in degrees.
    #[must_use]
    pub fn of_quantity(&self, quantity: Quantity) -> f64 {
        match quantity {
            Quantity::SiderealTime => self.sidereal_time(),
            Quantity::Ascendant => self.cusp(House::I),
            Quantity::Midheaven => self.cusp(House::X),
            Quantity::Cusp(house) => self.cusp(house),
            Quantity::Place(body) => self.body(body),
            Quantity::Fortune => self.fortune(),
        }
    }
}

/// Corrects a person's sheet: holds each number against what the tables give, and finds the
/// slips of the pen, one or two, that would explain them all.
///
/// # Errors
/// When the sheet cannot be worked.
pub fn correct(given: &Given, hand: &Hand, readings: &[Reading]) -> Result<Corrected, TableError> {
    let sheet = reckon(given, hand)?;
    let shelf = Shelf::new(given);
    let bench = Bench {
        shelf: &shelf,
        hand,
        readings,
        tolerances: readings
            .iter()
            .map(|one| one.tolerance(&sheet.within))
            .collect(),
    };
    let mut attempts = bench.singles();
    let limit = readings.len() as f64;
    let good = limit + 2.0 * (2.0 * limit).sqrt();
    if !attempts.iter().any(|one| one.square <= good) {
        let pairs = bench.pairs(&attempts);
        attempts.extend(pairs);
    }
    attempts.sort_by(|a, b| a.score().total_cmp(&b.score()));
    let best = attempts.first().map(|best| best.square);
    // A thousandth of right numbers would lie further off.
    let fits = best.is_some_and(|square| square <= limit + 3.3 * (2.0 * limit).sqrt() + 6.0);
    Ok(Corrected {
        held: bench.held(&sheet.found),
        explanations: ranked(attempts, &bench.tolerances),
        fits,
    })
}

/// What the commonest slips would make of some numbers: each that moves one of them further
/// than it may be off, those that give the same together.
///
/// # Errors
/// When the sheet cannot be worked.
pub fn tell_tales(
    given: &Given,
    hand: &Hand,
    asked: &[Quantity],
) -> Result<Vec<TellTale>, TableError> {
    let sheet = reckon(given, hand)?;
    let shelf = Shelf::new(given);
    let readings: Option<Vec<Reading>> = asked
        .iter()
        .map(|quantity| {
            Some(Reading {
                quantity: *quantity,
                value: sheet.found.get(*quantity)?,
                written_to: Angle::from_deg(1.0 / 60.0),
            })
        })
        .collect();
    let Some(readings) = readings else {
        return Ok(Vec::new());
    };
    let bench = Bench {
        shelf: &shelf,
        hand,
        readings: &readings,
        tolerances: readings
            .iter()
            .map(|one| one.tolerance(&sheet.within))
            .collect(),
    };
    let mut told: Vec<TellTale> = Vec::new();
    for attempt in bench.singles() {
        let [slip] = attempt.slips.as_slice() else {
            continue;
        };
        let Some(shows) = attempt
            .shows
            .iter()
            .copied()
            .collect::<Option<Vec<Angle>>>()
        else {
            continue;
        };
        // What happens to one number alone is found when it is corrected.
        let is_small = attempt.square.sqrt() < 2.0;
        if slip.at.is_one() || is_small {
            continue;
        }
        let all: Vec<Option<Angle>> = shows.iter().copied().map(Some).collect();
        let same = told.iter_mut().find(|other| {
            let other: Vec<Option<Angle>> = other.shows.iter().copied().map(Some).collect();
            bench.same(&all, &other)
        });
        match same {
            Some(tale) => tale.slips.push(*slip),
            None => told.push(TellTale {
                slips: vec![*slip],
                shows,
            }),
        }
    }
    Ok(told)
}

/// What is being tried.
struct Bench<'a> {
    shelf: &'a Shelf<'a>,
    hand: &'a Hand,
    readings: &'a [Reading],
    tolerances: Vec<Angle>,
}

#[derive(Clone)]
struct Attempt {
    slips: Vec<Slip>,
    shows: Vec<Option<Angle>>,
    square: f64,
}

impl Attempt {
    fn score(&self) -> f64 {
        self.square + COST_OF_A_SLIP * self.slips.len() as f64
    }
}

impl Bench<'_> {
    fn attempt(&self, slips: &[Slip]) -> Option<Attempt> {
        let hand = Hand {
            slips: slips.to_vec(),
            ..self.hand.clone()
        };
        // Where the tables do not reach with a slip, nobody came to a number with it.
        let found = worked(self.shelf, &hand).ok()?;
        let shows = self.readings.iter().map(|one| found.get(one.quantity));
        Some(self.of(slips.to_vec(), shows.collect()))
    }

    fn of(&self, slips: Vec<Slip>, shows: Vec<Option<Angle>>) -> Attempt {
        let each = self.readings.iter().zip(&shows).zip(&self.tolerances);
        let square = each
            .map(|((reading, shown), tolerance)| {
                let deviations = shown.map_or(MISSING, |shown| {
                    reading.off(shown).deg() / deviation(*tolerance)
                });
                deviations * deviations
            })
            .sum();
        Attempt {
            slips,
            shows,
            square,
        }
    }

    /// Whether nobody could tell two outcomes apart.
    fn same(&self, one: &[Option<Angle>], other: &[Option<Angle>]) -> bool {
        are_same(one, other, &self.tolerances)
    }

    /// No slip at all, and each that moves something.
    fn singles(&self) -> Vec<Attempt> {
        let right = self.attempt(&[]);
        let moves = |attempt: &Attempt| {
            let right = right.as_ref();
            right.is_none_or(|right| !self.same(&attempt.shows, &right.shows))
        };
        let slips = Slip::all()
            .into_iter()
            .filter(|slip| self.is_asked(slip.at));
        let singles: Vec<Attempt> = slips
            .filter_map(|slip| self.attempt(&[slip]))
            .filter(moves)
            .collect();
        right.into_iter().chain(singles).collect()
    }

    /// Whether a slip there can be seen in what was read. With one number of a part alone, a
    /// slip with all of them is that with the one.
    fn is_asked(&self, at: At) -> bool {
        let touches = |at: At| {
            let mut readings = self.readings.iter();
            readings.any(|one| touched(one.quantity, at))
        };
        let several =
            |each: &mut dyn Iterator<Item = At>| each.filter(|at| touches(*at)).count() > 1;
        match at {
            At::Sum => true,
            At::Houses => several(&mut At::CUSPS.into_iter().map(At::Cusp)),
            At::Bodies => several(&mut Body::ALL.into_iter().map(At::Body)),
            At::Cusp(_) | At::Body(_) | At::Fortune => touches(at),
        }
    }

    /// Two of the slips together. Those of two single numbers do not touch each other and
    /// need not be worked anew.
    fn pairs(&self, singles: &[Attempt]) -> Vec<Attempt> {
        let right = singles.iter().find(|one| one.slips.is_empty());
        let mut pairs = Vec::new();
        let slipped: Vec<&Attempt> = singles.iter().filter(|one| !one.slips.is_empty()).collect();
        for (index, first) in slipped.iter().enumerate() {
            for second in slipped.iter().skip(index + 1) {
                let slips = [first.slips.as_slice(), second.slips.as_slice()].concat();
                let [one, other] = slips.as_slice() else {
                    continue;
                };
                if one.at == other.at && one.at.is_one() {
                    continue;
                }
                let both_one = one.at.is_one() && other.at.is_one();
                let pair = match right {
                    Some(right) if both_one => Some(self.together(right, first, second)),
                    _ => self.attempt(&slips),
                };
                let idle = |pair: &Attempt| {
                    let shown = |other: &Attempt| self.same(&pair.shows, &other.shows);
                    shown(first) || shown(second) || right.is_some_and(shown)
                };
                pairs.extend(pair.filter(|pair| !idle(pair)));
            }
        }
        pairs
    }

    fn together(&self, right: &Attempt, first: &Attempt, second: &Attempt) -> Attempt {
        let moved = |index: usize, shown: &Option<Angle>| {
            let second = second.shows.get(index).copied().flatten();
            if right.shows.get(index) == Some(shown) {
                second
            } else {
                *shown
            }
        };
        let shows = first.shows.iter().enumerate();
        let shows = shows.map(|(index, shown)| moved(index, shown)).collect();
        self.of([first.slips.as_slice(), &second.slips].concat(), shows)
    }

    /// The readings one by one.
    fn held(&self, found: &Found) -> Vec<Held> {
        let of = |quantity: Quantity| self.readings.iter().find(|one| one.quantity == quantity);
        // Who goes on rightly from a wrong sidereal time finds this.
        let own_time = of(Quantity::SiderealTime).and_then(|own| {
            let hand = Hand {
                goes_on_with: Some(own.value.in_turn().hours()),
                ..self.hand.clone()
            };
            worked(self.shelf, &hand).ok()
        });
        // And the lot from wrong places.
        let own_lot = found.fortune.and_then(|lot| {
            let ascendant = of(Quantity::Ascendant).or(of(Quantity::Cusp(House::I)));
            let own = [
                ascendant,
                of(Quantity::Place(Body::Sun)),
                of(Quantity::Place(Body::Moon)),
            ];
            own.iter().any(Option::is_some).then_some(())?;
            let value = |reading: Option<&Reading>, found: f64| {
                reading.map_or(found, |own| own.value.in_turn().deg())
            };
            let mut cusps = found.cusps;
            cusps[House::I.index()] = Some(value(ascendant, found.ascendant?));
            let mut bodies = found.bodies.clone();
            for (body, own) in bodies.iter_mut().zip(&own[1..]) {
                *body = value(*own, *body);
            }
            let own = Found::finished(found.sidereal_h, found.midheaven, cusps, bodies);
            let own = Angle::from_deg(own.fortune?);
            (own.to(Angle::from_deg(lot)).abs().deg() > 0.0).then_some(own)
        });
        let each = self.readings.iter().zip(&self.tolerances);
        each.map(|(reading, within)| {
            let should = found.get(reading.quantity);
            let is_near = |value: Angle| reading.off(value).abs() <= *within;
            let follows = match reading.quantity {
                Quantity::SiderealTime => None,
                Quantity::Fortune => own_lot,
                Quantity::Ascendant
                | Quantity::Midheaven
                | Quantity::Cusp(_)
                | Quantity::Place(_) => own_time
                    .as_ref()
                    .and_then(|found| found.get(reading.quantity)),
            };
            let follows = follows
                .filter(|follows| should.is_none_or(|should| follows.to(should).abs() > *within));
            let mark = if should.is_some_and(is_near) {
                NumberVerdict::Right
            } else if follows.is_some_and(is_near) {
                NumberVerdict::Follows
            } else {
                NumberVerdict::Wrong
            };
            Held {
                should,
                within: *within,
                follows,
                mark,
            }
        })
        .collect()
    }
}

/// Whether nobody could tell two outcomes apart.
fn are_same(one: &[Option<Angle>], other: &[Option<Angle>], tolerances: &[Angle]) -> bool {
    let each = one.iter().zip(other).zip(tolerances);
    each.into_iter().all(|(pair, tolerance)| match pair {
        (Some(one), Some(other)) => one.to(*other).abs().deg() < SAME * deviation(*tolerance),
        (None, None) => true,
        (Some(_), None) | (None, Some(_)) => false,
    })
}

/// Attempts, the best first, as explanations: those that give the same numbers share a place.
fn ranked(attempts: Vec<Attempt>, tolerances: &[Angle]) -> Vec<Explanation> {
    let best = attempts.first().map_or(0.0, Attempt::score);
    let likelihood = |attempt: &Attempt| libm::exp(-(attempt.score() - best) / 2.0);
    let all: f64 = attempts.iter().map(likelihood).sum();
    let readings = tolerances.len().max(1) as f64;
    let mut leaders: Vec<Attempt> = Vec::new();
    let mut explanations = Vec::new();
    for attempt in attempts {
        let same = leaders.iter().position(|leader| {
            leader.slips.len() == attempt.slips.len()
                && are_same(&leader.shows, &attempt.shows, tolerances)
        });
        let rank = same.unwrap_or(leaders.len()) + 1;
        if rank > MOST_GIVEN {
            // One behind it may share a place that is given.
            continue;
        }
        if same.is_none() {
            leaders.push(attempt.clone());
        }
        explanations.push(Explanation {
            rank,
            misfit: (attempt.square / readings).sqrt(),
            weight: likelihood(&attempt) / all,
            slips: attempt.slips,
            shows: attempt.shows,
        });
        if explanations.len() >= 3 * MOST_GIVEN {
            break;
        }
    }
    explanations.sort_by_key(|one| one.rank);
    explanations
}

/// What is allowed is some two deviations.
fn deviation(tolerance: Angle) -> f64 {
    tolerance.deg() / 2.0
}

/// Whether a number has something to do with a place of the sheet.
fn touched(quantity: Quantity, at: At) -> bool {
    match (quantity, at.part()) {
        (_, Part::Sum) => true,
        (Quantity::SiderealTime, _) => false,
        (Quantity::Fortune, Part::Fortune) => true,
        (_, Part::Fortune) => false,
        (Quantity::Fortune, Part::Houses) => matches!(at, At::Houses | At::Cusp(House::I)),
        (Quantity::Fortune, Part::Ephemeris) => {
            matches!(at, At::Bodies | At::Body(Body::Sun | Body::Moon))
        }
        (Quantity::Ascendant, Part::Houses) => matches!(at, At::Houses | At::Cusp(House::I)),
        (Quantity::Midheaven, Part::Houses) => matches!(at, At::Houses | At::Cusp(House::X)),
        (Quantity::Cusp(house), Part::Houses) => match at {
            At::Cusp(one) => one.index() % 6 == house.index() % 6,
            At::Sum | At::Houses | At::Bodies | At::Body(_) | At::Fortune => true,
        },
        (Quantity::Place(_), Part::Houses) => false,
        (Quantity::Place(body), Part::Ephemeris) => at == At::Bodies || at == At::Body(body),
        (Quantity::Ascendant | Quantity::Midheaven | Quantity::Cusp(_), Part::Ephemeris) => false,
    }
}

#[cfg(test)]
mod tests {
    use sky::Angle;

    use super::{Attempt, MOST_GIVEN, ranked};
    use crate::pen::{At, Slip, SlipKind};

    #[test]
    fn every_kind_of_slip_can_happen_somewhere() {
        let all = Slip::all();
        for kind in SlipKind::ALL {
            assert!(all.iter().any(|slip| slip.kind == kind), "{}", kind.name());
        }
    }

    #[test]
    fn what_shares_a_place_is_given_though_it_comes_after_the_last_place() {
        let attempt = |shows_deg: f64, square: f64| Attempt {
            slips: vec![Slip {
                kind: SlipKind::HalfDay,
                at: At::Sum,
            }],
            shows: vec![Some(Angle::from_deg(shows_deg))],
            square,
        };
        let places = (1..=MOST_GIVEN + 1).map(|place| attempt(10.0 * place as f64, place as f64));
        let behind = attempt(10.0, 20.0);
        let attempts = places.chain([behind]).collect();
        let ranks: Vec<usize> = ranked(attempts, &[Angle::from_deg(0.1)])
            .iter()
            .map(|one| one.rank)
            .collect();
        assert_eq!(ranks, [1, 1, 2, 3, 4, 5, 6, 7, 8]);
    }
}
