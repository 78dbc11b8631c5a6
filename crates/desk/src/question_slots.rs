//! What questions are to be like: which operations a level asks, and how they spread over
//! the year, the day and the zodiac.

use practice::Task;

use crate::dice::Dice;
use crate::lesson::CAST;

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

/// What a question is to be like.
#[derive(Clone, Debug)]
pub(crate) struct Slot {
    pub(crate) operation: String,
    /// The days of the year among which it falls.
    pub(crate) days: (u32, u32),
    pub(crate) afternoon: bool,
    /// The quarter of the zodiac in which the ascendant is to stand.
    pub(crate) quarter: u32,
    /// Whether the ascendant is to move fast, in whatever quarter it does.
    pub(crate) fast: bool,
    /// Whether it is asked of another town.
    pub(crate) elsewhere: bool,
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

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

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

    /// The year is cut in as many seasons as there are questions, and each has one; forenoon
    /// and afternoon change places; of four questions each has another quarter of the zodiac.
    /// Only the last level has fast ascendants, every second time, and all but the first every
    /// third question in another town.
    #[test]
    fn slots_spread_over_the_year_the_day_and_the_zodiac() {
        let operations = ["sun-degree", CAST].map(str::to_owned);
        for (level, seed) in (1..=3).flat_map(|level| (0..20).map(move |seed| (level, seed))) {
            let all = slots(&operations, level, 12, &mut Dice::seeded(seed));
            let mut days: Vec<(u32, u32)> = all.iter().map(|slot| slot.days).collect();
            days.sort_unstable();
            assert_eq!((days[0].0, days[11].1), (0, 365));
            assert!(
                days.windows(2).all(|pair| pair[0].1 == pair[1].0),
                "{days:?}"
            );
            for (number, slot) in all.iter().enumerate() {
                assert_eq!(slot.operation, operations[number % 2]);
                assert_eq!(slot.fast, level == 3 && number % 2 == 0, "{number}");
                assert_eq!(slot.elsewhere, level > 1 && number % 3 == 2, "{number}");
            }
            for pair in all.windows(2) {
                assert_ne!(pair[0].afternoon, pair[1].afternoon);
            }
            for four in all.chunks(4) {
                let quarters: BTreeSet<u32> = four.iter().map(|slot| slot.quarter).collect();
                assert_eq!(quarters, BTreeSet::from([0, 1, 2, 3]));
            }
        }
        // Whether the first is asked of the forenoon is drawn.
        let first: BTreeSet<bool> = (0..20)
            .map(|seed| slots(&operations, 1, 1, &mut Dice::seeded(seed))[0].afternoon)
            .collect();
        assert_eq!(first.len(), 2);
    }
}
