use instrument::Point;
use sky::Angle;

use super::bloom::Bloom;
use super::{Filling, Openings, halved};

impl Openings {
    /// Circles that touch one another: two rows within the ecliptic, a row about the outside,
    /// and chains that grow small where ecliptic and outer ring, or equator, come together.
    pub(super) fn rings(&self, filling: &mut Filling) {
        let half = self.strip;
        let least = 4.0 * half;
        // Within the ecliptic; what is sunk into its ring holds.
        let bloom = Bloom::about_the_ecliptics_pole(self, self.ecliptic_inner + 0.3 * half);
        let count = if self.is_large() { 12_u32 } else { 10 };
        let mut reach = 1.0;
        for count in [count, count / 2] {
            let each = Angle::FULL_TURN * (1.0 / f64::from(count));
            let sin = (each * 0.5).sin();
            let (out, radius) = (reach / (1.0 + sin), reach * sin / (1.0 + sin));
            for n in 0..count {
                let at = each * f64::from(n);
                let (centre, drawn) = bloom.circle((out, at), radius);
                if drawn < least {
                    continue;
                }
                // Outwards, and where it meets its neighbours.
                let touching = [(out + radius, at)]
                    .into_iter()
                    .chain([0.5, -0.5].map(|side| (out * (each * 0.5).cos(), at + each * side)));
                let touches = touching.map(|(out, at)| bloom.at(out, at)).collect();
                filling.add(self.ring(centre, drawn, touches));
            }
            reach = out - radius;
        }
        self.row(filling, least);
        // Between equator and ecliptic.
        let outer = self.equator;
        let from_middle = self.chain(outer, Angle::HALF_TURN, least);
        self.links(filling, &from_middle, outer);
        // Beyond the bar of the equinoxes.
        let outer = self.rim + 0.3 * half;
        let off_bar = |deg: f64| {
            let (out, radius) = self.between(outer, Angle::from_deg(deg));
            -(out * Angle::from_deg(deg).cos() - radius)
        };
        if let Some(first) = halved(20.0, 90.0, off_bar) {
            let chain = self.chain(outer, Angle::from_deg(first), least);
            self.links(filling, &chain, outer);
        }
    }

    /// Circles side by side between the arc of the equator and the outer ring, the middle one
    /// on the bar.
    fn row(&self, filling: &mut Filling, least: f64) {
        let (inner, outer) = (self.equator, self.rim + 0.3 * self.strip);
        let (out, radius) = (f64::midpoint(inner, outer), (outer - inner) / 2.0);
        let each = Angle::asin(radius / out) * 2.0;
        if radius < least {
            return;
        }
        let mut to_side = 0_u32;
        while (each * (f64::from(to_side) + 1.5)).deg() < 90.5 {
            to_side += 1;
        }
        for n in 0..=to_side {
            let away = each * f64::from(n);
            for side in [1.0, -1.0].into_iter().take(if n == 0 { 1 } else { 2 }) {
                let at = Angle::HALF_TURN + away * side;
                let touches = [inner, outer].map(|out| self.round(out, at));
                filling.add(self.ring(self.round(out, at), radius, touches.into()));
            }
        }
    }

    /// The circles of a chain, on both sides of the almuri's line.
    fn links(&self, filling: &mut Filling, chain: &[(Angle, f64, f64)], outer: f64) {
        let ecliptic = self.place(self.eccentricity, 0.0);
        for (at, out, radius) in chain {
            let is_middle = at.deg() > 179.9;
            for side in [1.0, -1.0].into_iter().take(if is_middle { 1 } else { 2 }) {
                let centre = self.round(*out, *at * side);
                let inward = ecliptic - centre;
                let touches: Vec<Point> = vec![
                    self.round(outer, *at * side),
                    centre + inward * (*radius / inward.radius().max(1e-9)),
                ];
                filling.add(self.ring(centre, *radius, touches));
            }
        }
    }
}
