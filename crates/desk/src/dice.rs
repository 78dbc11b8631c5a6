/// A row of numbers that look as if they were drawn: the same from the same seed, on
/// every machine.
///
/// SplitMix64 (Steele, Lea and Flood, *Fast splittable pseudorandom number generators*,
/// OOPSLA 2014, figure 17; the constants are those of its reference code).
#[derive(Clone, Debug)]
pub(crate) struct Dice {
    state: u64,
}

impl Dice {
    pub(crate) fn seeded(seed: u64) -> Dice {
        Dice { state: seed }
    }

    /// Others for what bears a name, so that no other's draws move its own.
    pub(crate) fn named(seed: u64, name: &str) -> Dice {
        // FNV-1a (Fowler, Noll and Vo): any even spread of the letters would do.
        let spread = name.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
            (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
        });
        Dice::seeded(seed ^ spread)
    }

    fn next(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let z = self.state;
        let z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number from 0 to below a limit; 0 where the limit is 0.
    pub(crate) fn below(&mut self, limit: u32) -> u32 {
        let wide = u128::from(self.next()) * u128::from(limit);
        u32::try_from(wide >> 64).unwrap_or(0)
    }

    /// A whole number between two, both counted in.
    pub(crate) fn between(&mut self, low: u32, high: u32) -> u32 {
        low + self.below(high.saturating_sub(low) + 1)
    }

    /// One of some.
    pub(crate) fn one_of<'a, T>(&mut self, some: &'a [T]) -> Option<&'a T> {
        let count = u32::try_from(some.len()).unwrap_or(u32::MAX);
        some.get(usize::try_from(self.below(count)).unwrap_or(0))
    }

    /// The same things in another order.
    pub(crate) fn shuffled<T>(&mut self, mut some: Vec<T>) -> Vec<T> {
        for last in (1..some.len()).rev() {
            let count = u32::try_from(last + 1).unwrap_or(u32::MAX);
            some.swap(last, usize::try_from(self.below(count)).unwrap_or(0));
        }
        some
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The first numbers from seed 1234567, from the reference code's printed example
    /// as repeated in many libraries (from memory).
    #[test]
    fn the_numbers_are_those_of_the_reference() {
        let mut dice = Dice::seeded(1_234_567);
        assert_eq!(dice.next(), 6_457_827_717_110_365_317);
        assert_eq!(dice.next(), 3_203_168_211_198_807_973);
    }

    #[test]
    fn draws_keep_their_limits_and_reach_them() {
        let mut dice = Dice::seeded(7);
        let drawn: Vec<u32> = (0..1000).map(|_| dice.between(3, 6)).collect();
        assert!(drawn.iter().all(|n| (3..=6).contains(n)));
        assert!((3..=6).all(|n| drawn.contains(&n)));
        assert_eq!(dice.below(0), 0);
        assert_eq!(dice.one_of::<u8>(&[]), None);
        let mut order = dice.shuffled((0..20).collect());
        assert_ne!(order, (0..20).collect::<Vec<_>>());
        order.sort_unstable();
        assert_eq!(order, (0..20).collect::<Vec<_>>());
    }
}
