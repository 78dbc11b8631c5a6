use sky::Angle;

use super::bloom::Bloom;
use super::{Filling, Openings};
use crate::smooth_line::{Bend, SmoothLine};

impl Openings {
    /// A wheel window: its spokes within the ecliptic are the circles of longitude through
    /// the beginnings of the signs, with a pointed arch between any two of them; and pointed
    /// arches between the rings outside.
    pub(super) fn lancet(&self, filling: &mut Filling) {
        // So that the spokes run to the signs' beginnings on the edge that is divided.
        let bloom = Bloom::about_the_ecliptics_pole(self, self.ecliptic);
        let wheel = 0.36;
        let seat = self.seat() / self.ecliptic;
        let spring = if self.is_large() { 0.6 } else { 0.58 };
        let apex = 0.97 * self.ecliptic_inner / self.ecliptic + 0.03;
        let sign = Angle::from_deg(30.0);
        for n in 0..12_u32 {
            let at = sign * f64::from(n);
            let rim = [0.0, 0.5, 1.0].map(|part| (wheel, at + sign * part));
            filling.add(self.strap(bloom.strip(rim)));
            // Along the almuri's line there are bars.
            if n % 6 != 0 {
                // Those of the equinoxes hold the hub and the wheel.
                let from = if n % 3 == 0 { 0.0 } else { wheel };
                let spoke = bloom.strip([(from, at), (0.7, at), (seat, at)]);
                filling.add(self.strap(spoke));
            }
            // Two halves of an arch, which meet in its point.
            for side in [0.0, 1.0] {
                let foot = at + sign * side;
                let towards = sign * (0.5 - side);
                let half = bloom.strip([
                    (spring, foot),
                    (f64::midpoint(spring, apex) + 0.02, foot + towards * 0.42),
                    (apex, foot + towards),
                ]);
                filling.add(self.strap(half));
            }
        }
        self.pointed_arcade(filling);
        self.pointed_lune(filling);
    }

    /// Pointed arches that stand on the arc of the equator and run into the outer ring.
    fn pointed_arcade(&self, filling: &mut Filling) {
        const BAYS: u32 = 8;
        let inset = Angle::from_rad(self.bar / self.equator);
        let each = (Angle::HALF_TURN - inset * 2.0) * (1.0 / f64::from(BAYS));
        let height = self.rim - self.equator;
        let springs = self.equator + 0.3 * height;
        for n in 0..=BAYS {
            let pier = Angle::QUARTER_TURN + inset + each * f64::from(n);
            // At the ends the bar of the equinoxes is the pier.
            if n > 0 && n < BAYS && n * 2 != BAYS {
                let (from, to) = (self.round(self.equator, pier), self.round(springs, pier));
                let mut one = self.strap(SmoothLine::of(Bend::straight(from, to)));
                one.ends.truncate(1);
                one.bosses.push((to, 2.0 * self.strip));
                filling.add(one);
            }
            for side in [1.0, -1.0] {
                let middle = pier + each * (0.5 * side);
                let inside = if side > 0.0 { n < BAYS } else { n > 0 };
                if !inside {
                    continue;
                }
                let half = Bend::through(
                    self.round(springs, pier),
                    self.round(springs + 0.42 * height, pier + each * (0.17 * side)),
                    self.round(self.foot(), middle),
                );
                filling.add(self.strap(SmoothLine::of(half)));
            }
        }
    }

    /// The same between ecliptic and outer ring, ever smaller.
    fn pointed_lune(&self, filling: &mut Filling) {
        let height = |at: Angle| self.rim - self.ecliptic_at(at);
        let mut from = Angle::QUARTER_TURN - Angle::from_rad(0.5 * self.bar / self.rim);
        for n in 0..24_u32 {
            let step = Angle::from_rad(0.82 * height(from) / self.rim);
            let to = from - step;
            if step.rad() * self.rim < 6.0 * self.strip || to.deg() < 8.0 {
                break;
            }
            let middle = from - step * 0.5;
            for side in [1.0, -1.0] {
                for (foot, towards) in [(from, -1.0), (to, 1.0)] {
                    let low = self.ecliptic_at(foot) - 0.3 * (self.ecliptic - self.ecliptic_inner);
                    let rise = self.rim - low;
                    let half = Bend::through(
                        // The first stands on the bar.
                        self.round(
                            if n == 0 && towards < 0.0 {
                                low + 0.2 * rise
                            } else {
                                low
                            },
                            foot * side,
                        ),
                        self.round(low + 0.62 * rise, (foot + step * (0.15 * towards)) * side),
                        self.round(self.foot(), middle * side),
                    );
                    filling.add(self.strap(SmoothLine::of(half)));
                }
            }
            from = to;
        }
    }
}
