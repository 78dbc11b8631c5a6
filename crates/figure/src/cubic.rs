use sky::Angle;

/// c₀ + c₁u + c₂u² + c₃u³ in degrees, u being the part of a row that has passed.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Cubic([f64; 4]);

impl Cubic {
    /// With a beginning, how far on the end is, and the slopes at both.
    pub(crate) fn between(begins: f64, on: f64, first: f64, last: f64) -> Cubic {
        Cubic([
            begins,
            first,
            3.0 * on - 2.0 * first - last,
            first + last - 2.0 * on,
        ])
    }

    pub(crate) fn less(self, other: Cubic) -> Cubic {
        Cubic(std::array::from_fn(|i| self.0[i] - other.0[i]))
    }

    /// The sum of two.
    pub(crate) fn plus(self, other: Cubic) -> Cubic {
        Cubic(std::array::from_fn(|i| self.0[i] + other.0[i]))
    }

    pub(crate) fn at(self, u: f64) -> f64 {
        let [c0, c1, c2, c3] = self.0;
        c0 + u * (c1 + u * (c2 + u * c3))
    }

    pub(crate) fn slope(self, u: f64) -> f64 {
        let [_, c1, c2, c3] = self.0;
        c1 + u * (2.0 * c2 + u * 3.0 * c3)
    }

    /// Where the slope is zero within the row, in order.
    pub(crate) fn stands(self) -> [Option<f64>; 2] {
        let [_, c1, c2, c3] = self.0;
        let root = c2 * c2 - 3.0 * c3 * c1;
        if root < 0.0 {
            return [None, None];
        }
        // Both roots without a difference of nearly equal numbers.
        let q = -(c2 + c2.signum() * root.sqrt());
        let within = |u: f64| (u > 0.0 && u < 1.0).then_some(u);
        let (a, b) = (within(q / (3.0 * c3)), within(c1 / q));
        match (a, b) {
            (Some(x), Some(y)) if x > y => [b, a],
            _ => [a, b],
        }
    }

    /// The ends of the row and where it turns between: from each to the next it runs one way.
    pub(crate) fn knots(self) -> Vec<f64> {
        let [one, other] = self.stands();
        let knots = [Some(0.0), one, other, Some(1.0)];
        knots.into_iter().flatten().collect()
    }

    /// Where, between two points between which it does not turn, it is an angle of the
    /// circle. In a row it goes on by less than half a turn.
    pub(crate) fn reaches(self, level: Angle, (a, b): (f64, f64)) -> Option<f64> {
        let at_a = self.at(a);
        let wanted = at_a + Angle::from_deg(at_a).to(level).deg();
        let (mut low, mut high) = (a, b);
        let rises = self.at(b) > at_a;
        let past = |u: f64| (self.at(u) >= wanted) == rises;
        if !past(b) || (past(a) && (at_a - wanted).abs() > 0.0) {
            return None;
        }
        // 21 600 s halved thirty times are 20 µs.
        for _ in 0..30 {
            let middle = f64::midpoint(low, high);
            if past(middle) {
                high = middle;
            } else {
                low = middle;
            }
        }
        Some(high)
    }
}
