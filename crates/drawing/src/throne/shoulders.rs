use instrument::Point;

use super::{Seat, Throne, up};
use crate::contour::Contour;
use crate::piece::Piece;
use crate::scene::Region;

/// Instruments at least this large have a pierced throne, and at least that large a lobed one.
const PIERCED_MM: f64 = 110.0;
const LOBED_MM: f64 = 190.0;

impl Seat {
    /// Shoulders that rise from the rim to a boss with the hole for the ring. Large
    /// instruments have it pierced and lobed.
    pub(super) fn shoulders(&self) -> Throne {
        let (r, boss) = (self.mater, self.boss);
        let height = r + 0.115 * r + boss * 0.6;
        let middle = Point { x: 0.0, y: -height };
        let spread = 27.0;
        let mirrored = |p: Point| Point { x: -p.x, y: p.y };
        let foot = up(r, spread);
        // Away from the foot along the rim, towards the top.
        let along_rim = up(1.0, spread - 90.0);
        let neck = middle
            + Point {
                x: boss * 0.86,
                y: boss * 0.5,
            };
        // A full shoulder, a waist, and the boss.
        let knee = up(r * 1.066, 13.5);
        let level = |mm: f64| Point { x: mm, y: 0.0 };
        let bend = [
            (
                foot + along_rim * (0.07 * r) + up(0.035 * r, spread),
                knee + level(0.075 * r),
                knee,
            ),
            (
                knee - level(0.075 * r),
                neck + Point {
                    x: 0.008 * r,
                    y: 0.05 * r,
                },
                neck,
            ),
        ];
        let mut pieces = vec![Piece::Line { to: foot }];
        pieces.extend(bend.map(|(first, second, to)| Piece::Cubic { first, second, to }));
        pieces.push(Piece::Line { to: mirrored(neck) });
        let [lower, upper] = bend;
        pieces.extend([(upper.1, upper.0, knee), (lower.1, lower.0, foot)].map(
            |(first, second, to)| Piece::Cubic {
                first: mirrored(first),
                second: mirrored(second),
                to: mirrored(to),
            },
        ));
        pieces.push(Piece::Line {
            to: up(r * 0.96, -spread),
        });
        let outline = Contour::closed(up(r * 0.96, spread), pieces);
        let mut regions = vec![
            Region::whole(outline),
            Region::whole(Contour::circle(middle, boss)),
        ];
        let mut holes = vec![self.ring_hole(middle)];
        let diameter = 2.0 * r;
        if diameter >= PIERCED_MM {
            for sign in [1.0, -1.0] {
                holes.push(Contour::circle(up(r * 1.034, 11.5 * sign), 0.015 * r));
            }
        }
        if diameter >= LOBED_MM {
            for sign in [1.0, -1.0] {
                holes.push(Contour::circle(up(r * 1.026, 17.5 * sign), 0.009 * r));
                holes.push(Contour::circle(up(r * 1.032, 6.3 * sign), 0.009 * r));
                regions.push(Region::whole(Contour::circle(
                    middle
                        + Point {
                            x: boss * 0.95 * sign,
                            y: boss * 0.4,
                        },
                    0.02 * r,
                )));
            }
        }
        Throne { regions, holes }
    }
}
