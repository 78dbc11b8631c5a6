use instrument::Point;
use sky::Angle;

use super::bloom::Bloom;
use super::{Filling, Openings};
use crate::smooth_line::{Bend, SmoothLine};

impl Openings {
    /// A rosette of circles that cross within the ecliptic, and arches that cross outside.
    pub(super) fn interlace(&self, filling: &mut Filling) {
        let half = self.strip;
        let bloom = Bloom::about_the_ecliptics_pole(self, self.ecliptic_inner + 0.3 * half);
        let (count, radius) = if self.is_large() {
            (8_u32, 0.37)
        } else {
            (6, 0.36)
        };
        let each = Angle::FULL_TURN * (1.0 / f64::from(count));
        // Where a circle crosses its neighbours, about its own centre: further out and nearer.
        let (out, half_each) = (1.0 - radius, each * 0.5);
        let apart = out * half_each.sin();
        let along = (radius * radius - apart * apart).max(0.0).sqrt();
        let about =
            |out_to: f64| Angle::atan2(out_to * half_each.sin(), out_to * half_each.cos() - out);
        let (far, near) = (
            about(out * half_each.cos() + along),
            about(out * half_each.cos() - along),
        );
        for n in 0..count {
            let at = each * (f64::from(n) + 0.5);
            let place = |turn: Angle| {
                let place = Point::polar(out, at) + Point::polar(radius, at + turn);
                (place.radius(), place.direction())
            };
            // Four parts, so that what makes way for a star is not a whole circle.
            for [from, over, to] in [
                [-far, Angle::ZERO, far],
                [far, (far + near) * 0.5, near],
                [-far, (far + near) * -0.5, -near],
                [near, Angle::HALF_TURN, -near],
            ] {
                let part = bloom.strip([place(from), place(over), place(to)]);
                filling.add(self.strap(part));
            }
        }
        self.crossing_arcade(filling);
        self.crossing_lune(filling);
    }

    /// Arches from the outer ring to the arc of the equator, each over two bays.
    fn crossing_arcade(&self, filling: &mut Filling) {
        let bays = if self.is_large() { 10_u32 } else { 8 };
        let inset = Angle::from_rad(self.bar / self.rim);
        let each = (Angle::HALF_TURN - inset * 2.0) * (1.0 / f64::from(bays));
        let at = |n: f64| Angle::QUARTER_TURN + inset + each * n;
        let (foot, apex) = (self.foot(), self.equator);
        for n in 0..bays - 1 {
            let [from, over, to] = [0.0, 1.0, 2.0].map(|bay| at(f64::from(n) + bay));
            let arch = Bend::through(
                self.round(foot, from),
                self.round(apex, over),
                self.round(foot, to),
            );
            filling.add(self.strap(SmoothLine::of(arch)));
        }
        // Half an arch at either end.
        for (from, to) in [(0.0, 1.0), (f64::from(bays), f64::from(bays) - 1.0)] {
            let out = self.round(1.0, at(from));
            let towards = self.round(1.0, at(to)) - out;
            let arch = SmoothLine::bent(
                (
                    self.round(apex, at(from)),
                    towards * (1.0 / towards.radius()),
                ),
                (self.round(foot, at(to)), self.round(1.0, at(to))),
                0.5,
            );
            filling.ornaments.extend(arch.map(|arch| self.strap(arch)));
        }
    }

    /// The same between outer ring and ecliptic, the bays ever narrower.
    fn crossing_lune(&self, filling: &mut Filling) {
        let height = |at: Angle| self.rim - self.ecliptic_at(at);
        let mut piers = vec![Angle::QUARTER_TURN - Angle::from_rad(0.5 * self.bar / self.rim)];
        while let Some(last) = piers.last().copied() {
            let step = Angle::from_rad(0.78 * height(last) / self.rim);
            let next = last - step;
            if step.rad() * self.rim < 5.0 * self.strip || next.deg() < 8.0 || piers.len() > 24 {
                break;
            }
            piers.push(next);
        }
        for bays in piers.windows(3) {
            let &[from, over, to] = bays else { continue };
            for side in [1.0, -1.0] {
                let sunk = self.ecliptic_at(over) - 0.3 * self.strip;
                let arch = Bend::through(
                    self.round(self.foot(), from * side),
                    self.round(sunk, over * side),
                    self.round(self.foot(), to * side),
                );
                filling.add(self.strap(SmoothLine::of(arch)));
            }
        }
    }
}
