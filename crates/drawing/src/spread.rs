/// Something that takes room round a circle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Spread {
    /// Where it belongs, in degrees.
    pub(crate) at_deg: f64,
    /// The room it needs on either side, in degrees.
    pub(crate) half_deg: f64,
    /// Whether it gives way.
    pub(crate) moves: bool,
}

/// What stays weighs so much more than what gives way.
const FIRM: f64 = 1e7;

/// What was to stay and is pushed further than this has no place.
const HELD_DEG: f64 = 0.02;

const TURN: f64 = 360.0;

/// Places things round a circle as near as they can to where they belong, in
/// their order and none in another's room. Those that stay are left out of
/// account where what lies between two of them has not room enough.
///
/// Where there is not room enough on the whole circle all stand evenly.
pub(crate) fn spread(things: &[Spread]) -> Vec<f64> {
    let mut places: Vec<f64> = things.iter().map(|one| one.at_deg).collect();
    let mut counted: Vec<usize> = (0..things.len()).collect();
    loop {
        let chosen: Vec<Spread> = counted.iter().map(|n| things[*n]).collect();
        let found = round_circle(&chosen);
        let pushed: Vec<usize> = counted
            .iter()
            .zip(&found)
            .filter(|(n, place)| {
                let away = (*place - things[**n].at_deg).rem_euclid(TURN);
                !things[**n].moves && away.min(TURN - away) > HELD_DEG
            })
            .map(|(n, _)| *n)
            .collect();
        if pushed.is_empty() {
            for (n, place) in counted.iter().zip(found) {
                places[*n] = place;
            }
            return places;
        }
        counted.retain(|n| !pushed.contains(n));
    }
}

fn round_circle(things: &[Spread]) -> Vec<f64> {
    const ROUNDING: f64 = 1e-9;
    let count = things.len();
    let mut order: Vec<usize> = (0..count).collect();
    order.sort_by(|a, b| {
        let at = |n: &usize| things[*n].at_deg.rem_euclid(TURN);
        at(a).total_cmp(&at(b))
    });
    let nth = |n: usize| things[order[n % count]];
    let gap_before = |n: usize| {
        let (before, here) = (nth(n + count - 1), nth(n));
        (here.at_deg - before.at_deg).rem_euclid(TURN)
    };
    // The circle is cut in the widest gap that leaves room there.
    let mut cuts: Vec<usize> = (0..count).collect();
    cuts.sort_by(|a, b| gap_before(*b).total_cmp(&gap_before(*a)));
    let mut found = vec![0.0; count];
    for cut in cuts {
        let start = nth(cut).at_deg.rem_euclid(TURN);
        let unrolled: Vec<Spread> = (0..count)
            .map(|n| {
                let one = nth(cut + n);
                Spread {
                    at_deg: start + (one.at_deg.rem_euclid(TURN) - start).rem_euclid(TURN),
                    ..one
                }
            })
            .collect();
        let line = along_line(&unrolled);
        let (Some(first), Some(last)) = (line.first(), line.last()) else {
            return found;
        };
        let needed = nth(cut).half_deg + nth(cut + count - 1).half_deg;
        if first + TURN - last >= needed - ROUNDING {
            for (n, place) in line.iter().enumerate() {
                found[order[(cut + n) % count]] = *place;
            }
            return found;
        }
    }
    for (n, index) in order.iter().enumerate() {
        found[*index] = nth(0).at_deg + TURN / count as f64 * n as f64;
    }
    found
}

/// The least sum of squared distances along a line, by pooling neighbours that
/// crowd each other; in rising order.
fn along_line(things: &[Spread]) -> Vec<f64> {
    // With the room between taken out the places need only not fall: each pool is
    // a run of things that share one mean.
    let mut taken = 0.0;
    let mut offsets = Vec::with_capacity(things.len());
    let mut last_half = None;
    for one in things {
        taken += last_half.map_or(0.0, |half: f64| half + one.half_deg);
        last_half = Some(one.half_deg);
        offsets.push(taken);
    }
    let mut pools: Vec<(f64, f64, usize)> = Vec::with_capacity(things.len());
    for (one, offset) in things.iter().zip(&offsets) {
        let weight = if one.moves { 1.0 } else { FIRM };
        let mut pool = (one.at_deg - offset, weight, 1);
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

    fn loose(at_deg: f64) -> Spread {
        Spread {
            at_deg,
            half_deg: HALF,
            moves: true,
        }
    }

    proptest! {
        #[test]
        fn labels_keep_their_distance(
            places in proptest::collection::vec(0.0..360.0, 1..20),
            squeeze in 0.01..1.0,
        ) {
            let things: Vec<Spread> = places.iter().map(|place| loose(place * squeeze)).collect();
            let found = spread(&things);
            for (n, one) in found.iter().enumerate() {
                for other in &found[n + 1..] {
                    let apart = (one - other).rem_euclid(TURN);
                    prop_assert!(apart.min(TURN - apart) > 2.0 * HALF - 1e-6);
                }
            }
        }

        #[test]
        fn what_has_room_stays(step in 8.1..30.0) {
            let things: Vec<Spread> = (0..12).map(|n| loose(f64::from(n) * step)).collect();
            for (one, place) in things.iter().zip(spread(&things)) {
                prop_assert!((one.at_deg - place).abs() < 1e-9);
            }
        }

        #[test]
        fn labels_stand_aside_for_what_stays(at in 0.0..360.0, wall in 0.0..360.0) {
            let firm = Spread { at_deg: wall, half_deg: 1.0, moves: false };
            let found = spread(&[loose(at), firm]);
            let apart = (found[0] - wall).rem_euclid(TURN);
            prop_assert!(apart.min(TURN - apart) > HALF + 1.0 - 0.001);
        }
    }

    #[test]
    fn a_wall_without_room_about_it_is_let_go() {
        let wall = |at_deg| Spread {
            at_deg,
            half_deg: 1.0,
            moves: false,
        };
        let found = spread(&[loose(10.0), wall(8.0), wall(12.0)]);
        assert!((found[0] - 10.0).abs() < 1e-9, "{found:?}");
    }
}
