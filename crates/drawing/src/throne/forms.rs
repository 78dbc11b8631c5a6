use instrument::Point;
use sky::Angle;

use super::{Seat, Throne, up};
use crate::contour::Contour;
use crate::piece::{Piece, arc_piece, reversed};
use crate::scene::Region;
use crate::smooth_line::{Bend, SmoothLine};

/// What stands on both sides of the middle.
const SIDES: [f64; 2] = [1.0, -1.0];

fn mirrored(p: Point) -> Point {
    Point { x: -p.x, y: p.y }
}

/// An outline by its right half: from the rim by curves to the top, and back on the left.
fn outline(foot: Point, curves: &[[Point; 3]]) -> Contour {
    let cubic = |[first, second, to]: [Point; 3]| Piece::Cubic { first, second, to };
    let right: Vec<Piece> = curves.iter().map(|curve| cubic(*curve)).collect();
    let left: Vec<Piece> = curves
        .iter()
        .map(|curve| cubic(curve.map(mirrored)))
        .collect();
    let mut pieces = right;
    pieces.extend(reversed(mirrored(foot), &left));
    Contour::closed(foot, pieces)
}

/// A hole shaped as a drop: its foot, its tip, and how far it swells to either side.
fn drop_hole(foot: Point, tip: Point, swell: f64) -> Contour {
    let along = tip - foot;
    let across = along.perpendicular() * (swell / along.radius().max(1e-9));
    let at = |part: f64, aside: f64| foot + along * part + across * aside;
    let up = Piece::Cubic {
        first: at(0.05, 1.6),
        second: at(0.7, 0.2),
        to: tip,
    };
    let down = Piece::Cubic {
        first: at(0.7, -0.2),
        second: at(0.05, -1.6),
        to: foot,
    };
    Contour::closed(foot, vec![up, down])
}

/// Two of them on either side of the top: of each foot and tip the distance from the middle,
/// and the angle from the top; distances in radii of the mater.
fn drops(radius: f64, foot: (f64, f64), tip: (f64, f64), swell: f64) -> [Contour; 2] {
    let at = |(distance, angle): (f64, f64), side: f64| up(distance * radius, angle * side);
    SIDES.map(|side| drop_hole(at(foot, side), at(tip, side), swell * radius))
}

impl Seat {
    /// A band along the rim, from within the mater, to an angle on both sides of the top.
    fn band(&self, outer: f64, spread_deg: f64) -> Region {
        let (from, to) = (
            Angle::from_deg(-90.0 - spread_deg),
            Angle::from_deg(-90.0 + spread_deg),
        );
        let (inner, outer) = (0.96 * self.mater, outer * self.mater);
        Region::whole(Contour::closed(
            Point::polar(outer, from),
            vec![
                arc_piece(Point::POLE, outer, from, to - from),
                Piece::Line {
                    to: Point::polar(inner, to),
                },
                arc_piece(Point::POLE, inner, to, from - to),
            ],
        ))
    }

    fn disc(&self, out: f64, from_top_deg: f64, radius: f64) -> Region {
        Region::whole(Contour::circle(
            up(out * self.mater, from_top_deg),
            radius * self.mater,
        ))
    }

    fn hole(&self, out: f64, from_top_deg: f64, radius: f64) -> Contour {
        Contour::circle(up(out * self.mater, from_top_deg), radius * self.mater)
    }

    /// The half breadth of strips: a part of the radius, but no less than holds.
    fn strip(&self) -> f64 {
        (0.018 * self.mater).max(0.6)
    }

    /// A strip with round ends.
    fn strap(&self, course: &SmoothLine, half: f64) -> Vec<Region> {
        let ends =
            [0.0, course.length()].map(|mm| Region::whole(Contour::circle(course.at(mm), half)));
        let mut regions = vec![course.strip(half)];
        regions.extend(ends);
        regions
    }

    /// The boss at a height above the centre, with the stem that it stands on.
    fn on_a_stem(&self, height: f64, from: f64, regions: &mut Vec<Region>) -> Point {
        let boss = Point { x: 0.0, y: -height };
        regions.push(Region::whole(Contour::circle(boss, self.boss)));
        let stem = SmoothLine::of(Bend::straight(up(from, 0.0), boss));
        regions.push(stem.strip((0.62 * self.boss).max(self.strip())));
        boss
    }

    /// Three round lobes, pierced, over a band with small cusps at its ends.
    pub(super) fn trefoil(&self) -> Throne {
        let r = self.mater;
        let mut regions = vec![self.band(1.035, 19.0)];
        let mut holes = Vec::new();
        for side in SIDES {
            regions.push(self.disc(1.085, 8.6 * side, 0.092));
            regions.push(self.disc(1.03, 19.0 * side, 0.034));
            holes.push(self.hole(1.09, 9.2 * side, 0.04));
            holes.push(self.hole(1.03, 19.0 * side, 0.012));
        }
        let head = 0.1_f64.max(self.boss * 1.12 / r);
        regions.push(self.disc(1.18, 0.0, head));
        let boss = self.on_a_stem(r * (1.18 + head) + 0.55 * self.boss, r, &mut regions);
        holes.push(self.hole(1.185, 0.0, 0.044));
        holes.push(self.ring_hole(boss));
        Throne { regions, holes }
    }

    /// A pointed arch whose sides swell and then draw in, with a pointed opening.
    pub(super) fn ogee(&self) -> Throne {
        let r = self.mater;
        let top = r * 1.3;
        let foot = up(0.985 * r, 25.0);
        let knee = up(1.13 * r, 9.5);
        let neck = Point {
            x: (0.66 * self.boss).max(0.03 * r),
            y: -top,
        };
        let curves = [
            [
                foot + up(0.1 * r, 8.0),
                knee + Point {
                    x: 0.06 * r,
                    y: 0.075 * r,
                },
                knee,
            ],
            [
                knee - Point {
                    x: 0.075 * r,
                    y: 0.09 * r,
                },
                neck + Point {
                    x: 0.02 * r,
                    y: 0.08 * r,
                },
                neck,
            ],
        ];
        let mut regions = vec![Region::whole(outline(foot, &curves))];
        let boss = Point {
            x: 0.0,
            y: -top - 0.72 * self.boss,
        };
        regions.push(Region::whole(Contour::circle(boss, self.boss)));
        let mut holes = vec![
            drop_hole(up(1.03 * r, 0.0), up(1.2 * r, 0.0), 0.045 * r),
            self.ring_hole(boss),
        ];
        holes.extend(drops(r, (1.028, 12.5), (1.1, 8.5), 0.018));
        Throne { regions, holes }
    }

    /// A band with balls on stems, the middle one the highest, as a crown has them.
    pub(super) fn crown(&self) -> Throne {
        let r = self.mater;
        let mut regions = vec![self.band(1.05, 23.0)];
        let mut holes = Vec::new();
        let half = self.strip();
        for side in SIDES {
            for (at, height, ball) in [(9.0, 1.14, 0.03), (17.5, 1.115, 0.027)] {
                let stem = SmoothLine::of(Bend::straight(
                    up(1.02 * r, at * side),
                    up(height * r, at * side),
                ));
                regions.push(stem.strip(half));
                let ball = (ball * r).max(1.5 * half);
                regions.push(Region::whole(Contour::circle(
                    up(height * r, at * side),
                    ball,
                )));
            }
            // The arches between the stems.
            for (from, to, low) in [(0.8, 9.0, 1.09), (9.0, 17.5, 1.075), (17.5, 23.0, 1.06)] {
                let arch = Bend::through(
                    up(1.1 * r, from * side),
                    up(low * r, f64::midpoint(from, to) * side),
                    up(if to > 20.0 { 1.04 } else { 1.1 } * r, to * side),
                );
                regions.extend(self.strap(&SmoothLine::of(arch), half));
            }
            for at in [4.9, 13.2] {
                holes.push(self.hole(1.028, at * side, 0.014));
            }
        }
        let boss = self.on_a_stem(r * 1.17 + self.boss, r * 1.02, &mut regions);
        regions.push(self.disc(1.1, 0.0, 0.04));
        holes.push(self.ring_hole(boss));
        Throne { regions, holes }
    }

    /// Two scrolls that roll up beside a stem.
    pub(super) fn scrolls(&self) -> Throne {
        let r = self.mater;
        let half = self.strip();
        let mut regions = vec![self.band(1.028, 24.0)];
        for side in SIDES {
            // From the foot along the rim, up, and in again in narrower half turns.
            let radius = 0.105 * r;
            let mut middle = up(1.0 * r + radius * 1.02, 10.6 * side);
            let mut along = Angle::from_deg(90.0 + 10.6 * side);
            let mut turn = radius;
            let mut bends = Vec::new();
            let sweep = Angle::HALF_TURN * -side;
            for _ in 0..4 {
                if turn < 1.7 * half {
                    break;
                }
                bends.push(Bend::round(middle, turn, along, sweep));
                along += sweep;
                let less = (0.3 * radius).max(2.2 * half).min(turn - 1.2 * half);
                middle = middle + Point::polar(less, along);
                turn -= less;
            }
            let bud = bends.last().map(|last| last.at(last.length));
            let course = SmoothLine::all(bends);
            regions.extend(self.strap(&course, half));
            regions.extend(bud.map(|bud| Region::whole(Contour::circle(bud, 1.9 * half))));
            // A tail that runs out along the rim.
            let tail = Bend::through(
                up(1.012 * r, 26.0 * side),
                up(1.035 * r, 21.0 * side),
                up(1.1 * r, 16.8 * side),
            );
            regions.extend(self.strap(&SmoothLine::of(tail), half));
        }
        let boss = self.on_a_stem(r * 1.24 + self.boss, r * 0.99, &mut regions);
        // A bud on the stem, between the scrolls.
        regions.push(self.disc(1.12, 0.0, (0.9 * self.boss / r).max(0.042)));
        Throne {
            regions,
            holes: vec![self.ring_hole(boss)],
        }
    }

    /// A tall gable with lobed edges and drop-shaped openings.
    pub(super) fn lobed(&self) -> Throne {
        let r = self.mater;
        let top = 1.42;
        let mut regions = Vec::new();
        let (foot, head) = (up(0.98 * r, 25.0), up(top * r, 0.0));
        let gable = [foot, head, mirrored(foot)];
        regions.push(Region::whole(Contour::closed(
            gable[0],
            vec![Piece::Line { to: gable[1] }, Piece::Line { to: gable[2] }],
        )));
        for side in SIDES {
            for (part, radius) in [(0.06, 0.05), (0.27, 0.062), (0.5, 0.056), (0.71, 0.046)] {
                let at = foot + (head - foot) * part;
                let at = Point {
                    x: at.x * side,
                    y: at.y,
                };
                regions.push(Region::whole(Contour::circle(at, radius * r)));
            }
        }
        let boss = Point {
            x: 0.0,
            y: -(top - 0.05) * r - 0.4 * self.boss,
        };
        regions.push(Region::whole(Contour::circle(boss, self.boss)));
        let mut holes = vec![
            drop_hole(up(1.04 * r, 0.0), up(1.24 * r, 0.0), 0.05 * r),
            self.ring_hole(boss),
        ];
        holes.extend(drops(r, (1.035, 11.0), (1.16, 6.2), 0.036));
        holes.extend(SIDES.map(|side| self.hole(1.03, 18.5 * side, 0.02)));
        if 0.03 * r > 0.8 {
            holes.push(self.hole(1.3, 0.0, 0.024));
        }
        Throne { regions, holes }
    }
}
