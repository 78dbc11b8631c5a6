/// Something that takes room along a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Spread {
    /// Where it belongs.
    pub(crate) at: f64,
    /// The room it needs on either side.
    pub(crate) half: f64,
    /// Whether it gives way.
    pub(crate) moves: bool,
}

/// What stays weighs so much more than what gives way.
const FIRM: f64 = 1e7;

/// Places things along a line in the order in which they are given, none in another's
/// room: the least sum of squared distances from where they belong, by pooling neighbours
/// that crowd each other.
pub(crate) fn spread(things: &[Spread]) -> Vec<f64> {
    // With the room between taken out the places need only not fall: each pool is
    // a run of things that share one mean.
    let mut taken = 0.0;
    let mut offsets = Vec::with_capacity(things.len());
    let mut last_half = None;
    for one in things {
        taken += last_half.map_or(0.0, |half: f64| half + one.half);
        last_half = Some(one.half);
        offsets.push(taken);
    }
    let mut pools: Vec<(f64, f64, usize)> = Vec::with_capacity(things.len());
    for (one, offset) in things.iter().zip(&offsets) {
        let weight = if one.moves { 1.0 } else { FIRM };
        let mut pool = (one.at - offset, weight, 1);
        while let Some(&(mean, weight, count)) = pools.last() {
            if mean <= pool.0 {
                break;
            }
            let both = weight + pool.1;
            pool = (
                (mean * weight + pool.0 * pool.1) / both,
                both,
                count + pool.2,
            );
            pools.pop();
        }
        pools.push(pool);
    }
    let means = pools
        .iter()
        .flat_map(|(mean, _, count)| std::iter::repeat_n(*mean, *count));
    means
        .zip(offsets)
        .map(|(mean, offset)| mean + offset)
        .collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const HALF: f64 = 4.0;

    fn loose(at: f64) -> Spread {
        Spread {
            at,
            half: HALF,
            moves: true,
        }
    }

    proptest! {
        #[test]
        fn labels_keep_their_distance_and_their_order(
            places in proptest::collection::vec(0.0..100.0, 1..20),
        ) {
            let things: Vec<Spread> = places.iter().copied().map(loose).collect();
            let found = spread(&things);
            for pair in found.windows(2) {
                prop_assert!(pair[1] - pair[0] > 2.0 * HALF - 1e-9);
            }
        }

        #[test]
        fn what_has_room_stays(step in 8.1..30.0) {
            let things: Vec<Spread> = (0..12).map(|n| loose(f64::from(n) * step)).collect();
            for (one, place) in things.iter().zip(spread(&things)) {
                prop_assert!((one.at - place).abs() < 1e-9);
            }
        }

        #[test]
        fn labels_stand_aside_for_what_stays(at in 0.0..100.0, end in 0.0..100.0) {
            let firm = Spread { at: end, half: 0.0, moves: false };
            let found = spread(&[loose(at), firm]);
            prop_assert!(found[1] - found[0] > HALF - 1e-9);
            prop_assert!((found[1] - end).abs() < 1e-4);
        }
    }
}
