use super::{Filling, Openings, Ornament};

/// What holds each ornament of a tracery, at every place where it is held.
#[derive(Clone, Debug, Default)]
pub(super) struct Holding(Vec<Held>);

#[derive(Clone, Debug, Default)]
struct Held {
    /// For every end, and for every place where it touches.
    ends: Vec<By>,
    touches: Vec<By>,
}

/// What is at a place: the frame, or ornaments by their numbers.
#[derive(Clone, Debug)]
struct By {
    frame: bool,
    ornaments: Vec<usize>,
}

impl By {
    fn holds(&self, stands: impl Fn(usize) -> bool) -> bool {
        self.frame || self.ornaments.iter().any(|number| stands(*number))
    }
}

impl Holding {
    pub(super) fn of(openings: &Openings, filling: &Filling) -> Holding {
        let at = |own: usize, place: &instrument::Point| By {
            // No deeper than rounding: a strip's end is in the middle of what holds it.
            frame: openings.away_from_frame(filling, *place) < 0.0,
            ornaments: filling
                .ornaments
                .iter()
                .enumerate()
                .filter(|(number, other)| *number != own && other.covers(*place))
                .map(|(number, _)| number)
                .collect(),
        };
        let held = filling.ornaments.iter().enumerate().map(|(own, one)| Held {
            ends: one.ends.iter().map(|place| at(own, place)).collect(),
            touches: one.touches.iter().map(|place| at(own, place)).collect(),
        });
        Holding(held.collect())
    }
}

impl Ornament {
    /// How far a place is from it; negative within it.
    pub(super) fn distance(&self, p: instrument::Point) -> f64 {
        let bosses = self.bosses.iter();
        let bosses = bosses.map(|(at, radius)| (p - *at).radius() - radius);
        let strips = self.strips.iter().map(|strip| strip.distance(p));
        bosses.chain(strips).fold(f64::INFINITY, f64::min)
    }

    /// Whether a place lies on its metal.
    fn covers(&self, p: instrument::Point) -> bool {
        let strips = self.strips.iter();
        strips
            .filter(|strip| strip.may_be_within(p, 0.0))
            .any(|strip| strip.distance(p) < 0.0)
            || self
                .bosses
                .iter()
                .any(|(at, radius)| (p - *at).radius() < *radius)
    }
}

impl Filling {
    /// Leaves out every ornament that nothing holds any more.
    pub(super) fn let_fall(&mut self) {
        loop {
            let stands: Vec<bool> = self.ornaments.iter().map(|one| !one.left_out).collect();
            let is = |all: &[bool], number: usize| all.get(number).copied().unwrap_or(false);
            let ends_hold = |held: &Held| {
                let mut ends = held.ends.iter();
                ends.all(|by| by.holds(|number| is(&stands, number)))
            };
            // What is held by something that is held in the end by the frame.
            let mut fast = vec![false; stands.len()];
            loop {
                let more: Vec<usize> = self
                    .holding
                    .0
                    .iter()
                    .enumerate()
                    .filter(|(number, held)| {
                        let by_nothing = held.ends.is_empty() && held.touches.is_empty();
                        let mut places = held.ends.iter().chain(&held.touches);
                        is(&stands, *number)
                            && !is(&fast, *number)
                            && (by_nothing || places.any(|by| by.holds(|number| is(&fast, number))))
                    })
                    .map(|(number, _)| number)
                    .collect();
                if more.is_empty() {
                    break;
                }
                for number in more {
                    if let Some(one) = fast.get_mut(number) {
                        *one = true;
                    }
                }
            }
            let falls: Vec<usize> = self
                .holding
                .0
                .iter()
                .enumerate()
                .filter(|(number, held)| {
                    is(&stands, *number) && !(is(&fast, *number) && ends_hold(held))
                })
                .map(|(number, _)| number)
                .collect();
            if falls.is_empty() {
                return;
            }
            for number in falls {
                if let Some(one) = self.ornaments.get_mut(number) {
                    one.left_out = true;
                }
            }
        }
    }
}
