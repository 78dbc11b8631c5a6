use instrument::Point;
use sky::Angle;

use super::filling::{Member, Ornament};
use super::{Filling, Openings, halved};
use crate::smooth_line::{Bend, SmoothLine};

impl Openings {
    /// Four lobes round the pole, between the bars, stayed against the ecliptic.
    pub(super) fn quatrefoil(&self, filling: &mut Filling) {
        let diagonal = Angle::HALF_TURN * 0.25;
        // The ecliptic's inner edge on the far diagonal sets the measure.
        let far = {
            let (sin, cos) = (diagonal * 3.0).sin_cos();
            let across = self.eccentricity * sin;
            let inner = self.ecliptic_inner;
            self.eccentricity * cos + (inner * inner - across * across).sqrt()
        };
        let apex = far * 0.86;
        let cusp = apex * 0.6;
        let root = std::f64::consts::SQRT_2;
        let middle = (apex * apex - cusp * cusp) / (2.0 * apex - root * cusp);
        let radius = apex - middle;
        let half = self.strip;
        let mut lobes: Vec<usize> = Vec::new();
        for quarter in [1.0, 3.0, 5.0, 7.0] {
            let out = diagonal * quarter;
            let centre = self.round(middle, out);
            // From the bar on one side round by the apex to the bar on the other.
            let begin = self.round(cusp, out - diagonal) - centre;
            let end = self.round(cusp, out + diagonal) - centre;
            let sweep = (end.direction() - begin.direction()).in_turn();
            let lobe = Bend::round(centre, radius, begin.direction(), sweep);
            let number = filling.add(Ornament {
                strips: vec![Member::of(SmoothLine::of(lobe), half)],
                ..Ornament::default()
            });
            lobes.push(number);
            let is_far = (2.0..6.0).contains(&quarter);
            let (lobe, side) = (
                self.round(apex, out),
                if quarter < 4.0 { 1.0 } else { -1.0 },
            );
            if is_far {
                // Hardly a step from the ecliptic.
                let seat = self.round(far + 0.3 * (self.ecliptic - self.ecliptic_inner), out);
                filling.add(Ornament {
                    strips: vec![Member::bar(lobe, seat, half)],
                    bosses: vec![(lobe, half * 2.1)],
                    serves: vec![number],
                    ..Ornament::default()
                });
            } else {
                self.branch(filling, lobe, side, number);
            }
        }
        // A boss on the bar between two lobes, for both of them.
        let before = lobes.iter().cycle().skip(lobes.len().saturating_sub(1));
        for (quarter, (before, after)) in (0..4_u8).zip(before.zip(&lobes)) {
            let out = Angle::QUARTER_TURN * f64::from(quarter);
            filling.add(Ornament {
                bosses: vec![(self.round(cusp, out), self.bar * 1.7)],
                serves: vec![*before, *after],
                ..Ornament::default()
            });
        }
    }

    /// A branch on an S from the ecliptic's inner edge to a lobe. It can be left out
    /// without the lobe, but not stay without it.
    fn branch(&self, filling: &mut Filling, to: Point, side: f64, lobe: usize) {
        let half = self.strip;
        let springs = Angle::from_deg(52.0 * side);
        let centre = self.place(self.eccentricity, 0.0);
        let out = self.round(1.0, springs);
        let from = centre + out * self.seat();
        let into = to * (-1.0 / to.radius());
        if let Some(course) = SmoothLine::bent((from, -out), (to, into), 0.5) {
            filling.add(Ornament {
                strips: vec![Member::of(course, half)],
                bosses: vec![(to, half * 2.1)],
                serves: vec![lobe],
                ..Ornament::default()
            });
        }
    }

    /// Arches between the outer ring and the arc of the equator.
    pub(super) fn arcade(&self, filling: &mut Filling) {
        const ARCHES: u32 = 3;
        let half = self.strip;
        // At the equinoxes they stand against the counterchanged bar.
        let inset = Angle::from_rad(self.bar / self.rim);
        let span = (Angle::QUARTER_TURN - inset) * (1.0 / f64::from(ARCHES));
        let apex = self.equator + self.equator_half - 0.2 * half;
        let half_span = span * 0.5;
        let middle = apex / (1.0 - half_span.sin());
        for side in [1.0, -1.0] {
            let mut before = None;
            for arch in 0..ARCHES {
                let begins = Angle::QUARTER_TURN + inset + span * f64::from(arch);
                let next = self.arch(filling, (begins + half_span) * side, half_span, middle);
                if let Some(before) = before {
                    let springing = middle * half_span.cos();
                    self.pier(filling, begins * side, springing, vec![before, next]);
                }
                before = Some(next);
            }
        }
    }

    /// Smaller and smaller arches in the lune between outer ring and ecliptic.
    pub(super) fn lune(&self, filling: &mut Filling) {
        let half = self.strip;
        // The last pier on either side of the almuri's line, and the arch before it.
        let mut last: Option<[(Angle, f64, usize); 2]> = None;
        let pier = |filling: &mut Filling, (at, springing, before): (Angle, f64, usize), next| {
            let serves = std::iter::once(before).chain(next).collect();
            self.pier(filling, at, springing, serves);
        };
        // The first stands in the bar of the equinoxes.
        let mut begins = Angle::QUARTER_TURN + Angle::from_rad(0.9 * self.bar / self.rim);
        loop {
            let beside = self.arch_beside(begins).map(|(half_span, middle)| {
                let ends = begins - half_span * 2.0;
                (half_span, middle, ends)
            });
            let fits = |(half_span, middle, ends): &(Angle, f64, Angle)| {
                half_span.sin() * middle >= 6.0 * half && ends.deg() >= 10.0
            };
            let Some((half_span, middle, ends)) = beside.filter(fits) else {
                for one in last.into_iter().flatten() {
                    pier(filling, one, None);
                }
                return;
            };
            let arches = [1.0, -1.0].map(|side| {
                let arch = self.arch(filling, (begins - half_span) * side, half_span, middle);
                (ends * side, middle * half_span.cos(), arch)
            });
            for (before, (.., next)) in last.into_iter().flatten().zip(arches) {
                pier(filling, before, Some(next));
            }
            last = Some(arches);
            begins = ends;
        }
    }

    /// Half the width and the distance from the pole of the arch that stands beside a
    /// pier, runs into the ecliptic below, and springs a quarter of its height below
    /// the outer ring.
    fn arch_beside(&self, pier: Angle) -> Option<(Angle, f64)> {
        let half = self.strip;
        let ecliptic = self.place(self.eccentricity, 0.0);
        // The circle between the two piers that touches the ecliptic.
        let touching = |half_span: Angle| {
            let bisector = pier - half_span;
            let beyond = |out: f64| {
                let centre = self.round(out, bisector);
                (centre - ecliptic).radius() - out * half_span.sin() - (self.ecliptic - 0.2 * half)
            };
            halved(self.ecliptic_at(bisector), 1.3 * self.rim, beyond)
        };
        let springing = |half_span: Angle| {
            let below = self.ecliptic_at(pier - half_span);
            let out = touching(half_span).unwrap_or(2.0 * self.rim);
            out * half_span.cos() - (self.rim - 0.25 * (self.rim - below))
        };
        let half_span = halved(0.5, 22.0, |deg| springing(Angle::from_deg(deg)))?;
        let half_span = Angle::from_deg(half_span);
        Some((half_span, touching(half_span)?))
    }

    /// An arch between two piers: its middle's direction, half the angle between them,
    /// and how far from the pole the centre of its circle lies. Gives its number.
    fn arch(&self, filling: &mut Filling, bisector: Angle, half_span: Angle, middle: f64) -> usize {
        let centre = self.round(middle, bisector);
        let inward = self.almuri + bisector + Angle::HALF_TURN;
        let sweep = Angle::HALF_TURN - half_span * 2.0;
        let arc = Bend::round(
            centre,
            middle * half_span.sin(),
            inward - sweep * 0.5,
            sweep,
        );
        filling.add(Ornament {
            strips: vec![Member::of(SmoothLine::of(arc), self.strip)],
            ..Ornament::default()
        })
    }

    /// A pier on the outer ring, with a boss where the arches that it serves spring from it.
    fn pier(&self, filling: &mut Filling, at: Angle, springing: f64, serves: Vec<usize>) {
        let boss = self.round(springing, at);
        filling.add(Ornament {
            strips: vec![Member::bar(boss, self.round(self.foot(), at), self.strip)],
            bosses: vec![(boss, 2.1 * self.strip)],
            serves,
            ..Ornament::default()
        });
    }
}
