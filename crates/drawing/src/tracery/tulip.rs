use instrument::Point;
use sky::Angle;

use super::filling::{Member, Ornament};
use super::{Filling, Openings};
use crate::smooth_line::SmoothLine;

impl Openings {
    /// Straps within the ecliptic that swell and come to a point as a tulip's leaves do, a
    /// smaller flower within; and ogees between the rings.
    pub(super) fn tulip(&self, filling: &mut Filling) {
        for side in [1.0, -1.0] {
            self.petals(filling, side);
            self.ogees(filling, side);
            self.lune_leaves(filling, side);
        }
        let reach = self.eccentricity + self.ecliptic_inner;
        for part in [0.62, 0.93] {
            filling.add(Ornament {
                bosses: vec![(self.place(reach * part, 0.0), 1.5 * self.bar)],
                touches: vec![self.place(reach * part, 0.0)],
                ..Ornament::default()
            });
        }
    }

    /// A strap through some places in some directions from the almuri's line.
    fn through(&self, stations: &[(f64, f64, f64)], side: f64) -> Option<Ornament> {
        let heading = |deg: f64| self.round(1.0, Angle::from_deg(deg * side));
        let mut courses = Vec::new();
        for pair in stations.windows(2) {
            let &[from, to] = pair else { continue };
            courses.push(SmoothLine::bent(
                (self.place(from.0, from.1 * side), heading(from.2)),
                (self.place(to.0, to.1 * side), heading(to.2)),
                0.5,
            )?);
        }
        let course = SmoothLine::joined(courses);
        Some(self.strap(course))
    }

    fn petals(&self, filling: &mut Filling, side: f64) {
        let (e, inner) = (self.eccentricity, self.ecliptic_inner);
        let reach = e + inner;
        let flower = [
            // The outer leaf, from beside the pole out and in again to the almuri.
            vec![
                (0.0, 0.34 * inner, 30.0),
                (0.34 * reach, 0.52 * inner, 6.0),
                (0.66 * reach, 0.34 * inner, -46.0),
                (0.93 * reach, 0.0, -12.0),
            ],
            // A leaf that falls outwards from it to the ecliptic.
            vec![
                (0.34 * reach, 0.52 * inner, 6.0),
                (e + 0.78 * inner, 0.65 * inner, 56.0),
            ],
            vec![
                (0.0, 0.62 * inner, 12.0),
                (0.26 * reach, 0.76 * inner, 30.0),
                (e + 0.12 * inner, 1.02 * inner, 84.0),
            ],
            // The inner leaf.
            vec![
                (0.14 * reach, 0.0, 58.0),
                (0.34 * reach, 0.25 * inner, 4.0),
                (0.62 * reach, 0.0, -20.0),
            ],
            // On the other side of the pole.
            vec![
                (0.0, 0.34 * inner, 150.0),
                (0.5 * (e - inner), 0.36 * inner, 205.0),
                (0.93 * (e - inner), 0.0, 192.0),
            ],
        ];
        for stations in flower {
            filling.ornaments.extend(self.through(&stations, side));
        }
    }

    /// Ogees between the arc of the equator and the outer ring: a lily in every bay.
    fn ogees(&self, filling: &mut Filling, side: f64) {
        const BAYS: u32 = 3;
        let inset = Angle::from_rad(self.bar / self.equator);
        let each = (Angle::QUARTER_TURN - inset * 2.0) * (1.0 / f64::from(BAYS));
        let height = self.rim - self.equator;
        for n in 0..BAYS {
            let begins = Angle::QUARTER_TURN + inset + each * f64::from(n);
            let middle = begins + each * 0.5;
            for half in [-1.0, 1.0] {
                let foot = middle + each * (0.5 * half);
                let place = |out: f64, at: Angle| self.round(out, at * side);
                let towards = |at: Angle, off_deg: f64| {
                    self.round(1.0, (at + Angle::from_deg(off_deg * half)) * side)
                };
                let waist = self.equator + 0.52 * height;
                let swell = middle + each * (0.42 * half);
                let courses: Option<Vec<SmoothLine>> = [
                    SmoothLine::bent(
                        (
                            place(self.equator, foot - each * (0.42 * half)),
                            towards(foot, 70.0),
                        ),
                        (place(waist, swell), towards(swell, 0.0)),
                        0.5,
                    ),
                    SmoothLine::bent(
                        (place(waist, swell), towards(swell, 0.0)),
                        (place(self.foot(), middle), towards(middle, 0.0)),
                        0.5,
                    ),
                ]
                .into_iter()
                .collect();
                filling
                    .ornaments
                    .extend(courses.map(|courses| self.strap(SmoothLine::joined(courses))));
            }
        }
    }

    /// Leaves in the lune, ever smaller.
    fn lune_leaves(&self, filling: &mut Filling, side: f64) {
        let height = |at: Angle| self.rim - self.ecliptic_at(at);
        let mut from = Angle::QUARTER_TURN - Angle::from_rad(0.5 * self.bar / self.rim);
        for _ in 0..16_u32 {
            let step = Angle::from_rad(1.15 * height(from) / self.rim);
            let to = from - step;
            if step.rad() * self.rim < 7.0 * self.strip || to.deg() < 8.0 {
                break;
            }
            let low = self.ecliptic_at(from) - 0.3 * (self.ecliptic - self.ecliptic_inner);
            let outward =
                |at: Angle, off_deg: f64| self.round(1.0, (at + Angle::from_deg(off_deg)) * side);
            let [root, tip]: [Point; 2] = [
                self.round(low, from * side),
                self.round(self.foot(), to * side),
            ];
            for (off, end) in [(10.0, -78.0), (-80.0, 4.0)] {
                let leaf =
                    SmoothLine::bent((root, outward(from, off)), (tip, outward(to, end)), 0.5);
                filling.ornaments.extend(leaf.map(|leaf| Ornament {
                    ends: vec![root, tip],
                    strips: vec![Member::of(leaf, self.strip)],
                    ..Ornament::default()
                }));
            }
            from = to;
        }
    }
}
