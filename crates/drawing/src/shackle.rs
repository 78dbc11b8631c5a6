use instrument::{Length, Part, Point};
use sky::Angle;

use crate::contour::Contour;
use crate::pen::Pen;
use crate::piece::Piece;
use crate::scene::{Dash, Item, Layer, Metal, Region, Weight};
use crate::solid::Solid;
use crate::workpiece::{Shop, Workpiece};

fn at(x: f64, y: f64) -> Point {
    Point { x, y }
}

impl Shop<'_> {
    /// The shackle as it is cut: a strap with an eye at either end and a hole in its middle,
    /// to be bent to a U that straddles the throne, with a rivet through throne and eyes.
    pub(crate) fn shackle(&self) -> Workpiece {
        let fits = &self.instrument.specification().fits;
        let hole = fits.ring_hole.mm() / 2.0;
        let sheet = fits.rule_thickness.mm();
        // Round the holes there is as much metal as they are wide, and more on small ones.
        let half = hole + hole.max(0.9);
        let inside = (self.stack.mater + self.stack.depth() + fits.tolerance * 2.0).mm();
        // From the eye to the bend the throne's own edge must find room.
        let arm = half + (0.028 * self.m.mater).max(1.2) + 0.5 * hole;
        // What lies between two bends of a sheet whose middle keeps its length.
        let bend = inside / 2.0 + sheet / 2.0;
        let reach = bend + arm;
        let top = at(-reach, -half);
        let outline = Contour::closed(
            top,
            vec![
                Piece::Line {
                    to: at(reach, -half),
                },
                Piece::Arc {
                    centre: at(reach, 0.0),
                    sweep: Angle::HALF_TURN,
                    to: at(reach, half),
                },
                Piece::Line {
                    to: at(-reach, half),
                },
                Piece::Arc {
                    centre: at(-reach, 0.0),
                    sweep: Angle::HALF_TURN,
                    to: top,
                },
            ],
        );
        let holes = [-reach, 0.0, reach].map(|x| Contour::circle(at(x, 0.0), hole));
        let mut pen = Pen::upright(self.instrument);
        let folds = [-bend, bend].map(|x| Contour::line(at(x, -half), at(x, half)));
        pen.put_drawn(None, Weight::Hair, Dash::Dashed, folds.into());
        let (mut items, thinned) = pen.into_items();
        for item in &mut items {
            if let Item::Stroke(trace) = item {
                trace.layer = Layer::Guide;
            }
        }
        Workpiece {
            thickness: fits.rule_thickness,
            ..self.piece(
                "shackle",
                "shackle: to be bent to a U at the broken lines, over the throne",
                Part::Ring,
                Metal::Rule,
                Solid::of(&[Region::whole(outline)], &holes),
            )
        }
        .engraved((items, thinned))
    }

    /// The ring by which it hangs, open where it is put through the shackle.
    pub(crate) fn ring(&self) -> Workpiece {
        let fits = &self.instrument.specification().fits;
        let hole = fits.ring_hole.mm();
        // A bar as thick as the sheet goes through a round hole.
        let sheet = fits.rule_thickness.mm().min(0.7 * hole);
        let bar = ((0.92 * hole) * (0.92 * hole) - sheet * sheet)
            .max(0.0)
            .sqrt()
            .max(0.5 * hole);
        let inner = 2.1 * hole + 0.06 * self.m.mater;
        let outer = inner + bar;
        let half = 0.55 * (fits.rule_thickness.mm() + hole).min(1.6 * hole) / 2.0;
        let slit = Contour::closed(
            at(-half, 0.8 * inner),
            [
                at(half, 0.8 * inner),
                at(half, 1.2 * outer),
                at(-half, 1.2 * outer),
            ]
            .map(|to| Piece::Line { to })
            .to_vec(),
        );
        Workpiece {
            thickness: Length::from_mm(sheet),
            ..self.piece(
                "ring",
                "ring: open below, to be closed in the shackle",
                Part::Ring,
                Metal::Rule,
                Solid::of(&[Region::ring(Point::POLE, outer, inner)], &[slit]),
            )
        }
    }
}
