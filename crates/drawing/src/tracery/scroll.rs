use instrument::Point;
use sky::Angle;

use super::filling::{Member, Ornament};
use super::{Filling, Openings, halved};
use crate::smooth_line::{Bend, SmoothLine};

impl Openings {
    /// Stems that set out from the frame and roll up: in the openings within the ecliptic, in
    /// the crescent beside the equator, and ever smaller towards the almuri.
    pub(super) fn scroll(&self, filling: &mut Filling) {
        let least = 5.0 * self.strip;
        for side in [1.0, -1.0] {
            self.corner_scrolls(filling, side, least);
        }
        // Between the equator's arc and the outer ring.
        let (inner, outer) = (self.equator, self.rim);
        let (out, radius) = (f64::midpoint(inner, outer), (outer - inner) / 2.0);
        let each = Angle::asin(radius / out) * 2.0;
        for n in 0..4_u32 {
            let away = each * (f64::from(n) + 0.5) + Angle::from_rad(self.bar / out);
            if away.deg() + each.deg() * 0.5 > 92.0 || radius < least {
                break;
            }
            for side in [1.0, -1.0] {
                let at = (Angle::HALF_TURN - away) * side;
                let turns = if n % 2 == 0 { side } else { -side };
                let from = if n % 2 == 0 { outer } else { inner };
                self.volute(
                    filling,
                    (self.round(out, at), radius),
                    self.round(from, at),
                    turns,
                );
            }
        }
        // In the lune.
        let outer = self.rim;
        let off_bar = |deg: f64| {
            let (out, radius) = self.between(outer, Angle::from_deg(deg));
            -(out * Angle::from_deg(deg).cos() - radius)
        };
        if let Some(first) = halved(20.0, 90.0, off_bar) {
            let chain = self.chain(outer, Angle::from_deg(first), least * 0.7);
            for (n, (at, out, radius)) in chain.into_iter().enumerate() {
                for side in [1.0, -1.0] {
                    let turns = if n % 2 == 0 { side } else { -side };
                    let centre = self.round(out, at * side);
                    let from = if n % 2 == 0 {
                        self.round(outer, at * side)
                    } else {
                        let inward = self.place(self.eccentricity, 0.0) - centre;
                        centre + inward * (radius / inward.radius().max(1e-9))
                    };
                    self.volute(filling, (centre, radius), from, turns);
                }
            }
        }
    }

    /// Scrolls within the ecliptic on one side of the almuri's line: a large one in the
    /// corner of the bars, smaller ones towards the almuri, and one on the pole's other side.
    fn corner_scrolls(&self, filling: &mut Filling, side: f64, least: f64) {
        let (e, reach) = (self.eccentricity, self.ecliptic_inner);
        let from_ecliptic = |x: f64, y: f64| reach - ((x - e) * (x - e) + y * y).sqrt();
        // The circle that touches both bars and the ecliptic, on either side of the pole.
        for towards in [1.0, -1.0] {
            let touching = |r: f64| r - from_ecliptic(r * towards, r);
            let Some(radius) = halved(0.0, reach, touching) else {
                continue;
            };
            if radius < least {
                continue;
            }
            let centre = self.place(radius * towards, radius * side);
            let foot = self.place(radius * towards, 0.0);
            self.volute(filling, (centre, radius), foot, side * towards);
            if towards < 0.0 {
                continue;
            }
            // Those that touch the one before, the almuri's bar and the ecliptic.
            let (mut x, mut r) = (radius, radius);
            for n in 0..5_u32 {
                // A circle on the bar with its foot at `x + step` touches the one before
                // where step² = 4 r r'.
                let next = |step: f64| {
                    let own = step * step / (4.0 * r);
                    own - from_ecliptic(x + step, own)
                };
                let Some(step) = halved(0.0, 2.0 * r, next) else {
                    break;
                };
                let own = step * step / (4.0 * r);
                if own < least * 0.7 {
                    break;
                }
                (x, r) = (x + step, own);
                let centre = self.place(x, own * side);
                let out = centre - self.place(e, 0.0);
                let (foot, turns) = if n % 2 == 0 {
                    // From the ecliptic, the other way round.
                    (centre + out * (own / out.radius().max(1e-9)), side)
                } else {
                    (self.place(x, 0.0), side)
                };
                self.volute(filling, (centre, own), foot, turns);
            }
        }
    }

    /// A stem that sets out along the edge of a circle from a place of it and rolls up within
    /// it, to a bud. `turns` is positive where it runs as directions are counted.
    fn volute(
        &self,
        filling: &mut Filling,
        (centre, radius): (Point, f64),
        from: Point,
        turns: f64,
    ) {
        let sense = turns.signum();
        // Each half turn is so much narrower than the one before.
        let narrower = (0.235 * radius).max(2.1 * self.strip);
        let bud = 2.1 * self.strip;
        let out = from - centre;
        let mut along = out.direction();
        let mut middle = centre;
        let mut r = radius;
        let mut bends = Vec::new();
        // The first is longer, so that it stands out from what it grows on.
        let mut sweep = Angle::HALF_TURN * 1.25;
        while r > bud * 1.5 && bends.len() < 6 {
            bends.push(Bend::round(middle, r, along, sweep * sense));
            along += sweep * sense;
            let less = narrower.min(r - bud * 1.2);
            if less <= 0.0 {
                break;
            }
            // The next one's centre lies on the way to where this one ends.
            middle = middle + Point::polar(less, along);
            r -= less;
            sweep = Angle::HALF_TURN;
        }
        let Some(last) = bends.last() else { return };
        let tip = last.at(last.length);
        // It grows out of the metal, not beside it.
        let root = centre + out * (1.0 + 0.6 * self.strip / radius.max(1e-9));
        let stem = Member::bar(root, from, self.strip);
        filling.add(Ornament {
            ends: vec![root],
            strips: vec![stem, Member::of(SmoothLine::all(bends), self.strip)],
            bosses: vec![(tip, bud)],
            ..Ornament::default()
        });
    }
}
