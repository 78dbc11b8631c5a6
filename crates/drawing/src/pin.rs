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

fn lines<const N: usize>(points: [Point; N]) -> Vec<Piece> {
    points.map(|to| Piece::Line { to }).to_vec()
}

impl Shop<'_> {
    /// The pin from the side: a domed head, the shank, and the slot for the wedge.
    pub(crate) fn pin(&self) -> Workpiece {
        let fits = &self.instrument.specification().fits;
        let radius = fits.pin.mm() / 2.0;
        let head = radius * 1.9;
        let brim = (radius * 0.3).max(0.3);
        let (slot, stack) = (fits.rule_thickness.mm(), self.stack.held().mm());
        // The wedge presses on what it holds: its slot reaches a little into the stack.
        let (slot_from, slot_to) = (stack - 0.15 * slot, stack + 1.6 * slot);
        let end = slot_to + radius;
        let chamfer = radius * 0.35;
        // The dome rises by half the brim's radius.
        let (rise, dome) = (head * 0.5, head * 1.25);
        let centre = at(0.0, -brim - rise + dome);
        let half = Angle::asin(head / dome);
        let mut pieces = lines([at(-head, -brim)]);
        pieces.push(Piece::Arc {
            centre,
            sweep: half * 2.0,
            to: at(head, -brim),
        });
        pieces.extend(lines([
            at(head, 0.0),
            at(radius, 0.0),
            at(radius, end - chamfer),
            at(radius - chamfer, end),
            at(chamfer - radius, end),
            at(-radius, end - chamfer),
            at(-radius, 0.0),
        ]));
        let outline = Contour::closed(at(-head, 0.0), pieces);
        // The wedge stands on edge in its slot.
        let wide = (self.wedge_thickness().mm() + fits.tolerance.mm().min(0.4 * radius)) / 2.0;
        let hole = Contour::closed(
            at(-wide, slot_from),
            lines([at(wide, slot_from), at(wide, slot_to), at(-wide, slot_to)]),
        );
        let piece = self.piece(
            "pin",
            "pin, from the side: turned, with a slot for the wedge",
            Part::Pin,
            Metal::Rule,
            Solid::of(&[Region::whole(outline)], &[hole]),
        );
        let mut pen = Pen::upright(self.instrument);
        // A turned bead between brim and dome.
        pen.plain(
            Weight::Fine,
            &[Contour::line(at(brim, -head), at(brim, head))],
        );
        let level = -stack;
        pen.trace(
            None,
            Weight::Hair,
            Dash::Dashed,
            &[Contour::line(at(level, -1.6 * head), at(level, 1.6 * head))],
        );
        let (mut items, thinned) = pen.into_items();
        if let Some(Item::Stroke(trace)) = items.last_mut() {
            trace.layer = Layer::Guide;
        }
        piece.engraved((items, thinned))
    }

    /// The thickness of the wedge: that of the rule, but where the pin is too thin to be
    /// slotted so wide, half the pin's.
    pub(crate) fn wedge_thickness(&self) -> Length {
        let fits = &self.instrument.specification().fits;
        let half = fits.pin / 2.0;
        if fits.rule_thickness < half {
            fits.rule_thickness
        } else {
            half
        }
    }

    /// The wedge that holds the pin, ending in a horse's head.
    pub(crate) fn wedge(&self) -> Workpiece {
        let fits = &self.instrument.specification().fits;
        let (pin, slot) = (fits.pin.mm(), fits.rule_thickness.mm());
        let (length, thick, thin) = (pin * 4.0, slot * 2.2, slot * 0.9);
        // The horse in units of the wedge's thick end, looking away from the pin.
        let horse = |x: f64, y: f64| at(x * thick, -y * thick);
        let mut pieces = vec![
            Piece::Line {
                to: at(length - thin * 0.5, 0.0),
            },
            Piece::Arc {
                centre: at(length - thin * 0.5, -thin * 0.5),
                sweep: -Angle::HALF_TURN,
                to: at(length - thin * 0.5, -thin),
            },
            Piece::Line {
                to: horse(0.0, 1.0),
            },
        ];
        pieces.extend(HORSE.map(|[first, second, to]| Piece::Cubic {
            first: horse(first.0, first.1),
            second: horse(second.0, second.1),
            to: horse(to.0, to.1),
        }));
        let outline = Contour::closed(horse(0.0, 0.0), pieces);
        let mut pen = Pen::upright(self.instrument);
        // The pen's axes are turned: x upwards, y to the right.
        let turned = |x: f64, y: f64| Point {
            x: y * thick,
            y: x * thick,
        };
        let arc = |points: [(f64, f64); 3]| {
            let [from, by, to] = points.map(|(x, y)| turned(x, y));
            Contour::arc_by(from, by, to)
        };
        pen.plain(
            Weight::Fine,
            &[Contour::circle(turned(-1.42, 1.78), 0.08 * thick)],
        );
        let strokes: Vec<Contour> = MANE.into_iter().map(arc).collect();
        pen.plain(Weight::Fine, &strokes);
        self.piece(
            "wedge",
            "wedge, which holds the pin: the horse",
            Part::Wedge,
            Metal::Rule,
            Solid::of(&[Region::whole(outline)], &[]),
        )
        .engraved(pen.into_items())
    }
}

/// A curve's two control points and its end.
type Bezier = [(f64, f64); 3];

/// The horse's head, from the crest of the neck over ears, nose and throat to the chest.
const HORSE: [Bezier; 8] = [
    [(-0.14, 1.72), (-0.42, 2.2), (-0.86, 2.34)],
    [(-0.87, 2.5), (-0.93, 2.68), (-1.02, 2.8)],
    [(-1.12, 2.68), (-1.18, 2.5), (-1.2, 2.34)],
    [(-1.5, 2.16), (-1.84, 1.72), (-2.14, 1.32)],
    [(-2.32, 1.08), (-2.14, 0.84), (-1.86, 0.9)],
    [(-1.6, 0.95), (-1.42, 1.22), (-1.12, 1.22)],
    [(-0.92, 1.14), (-0.98, 0.86), (-1.04, 0.62)],
    [(-1.1, 0.2), (-0.6, 0.0), (0.0, 0.0)],
];

/// Strokes of the mane, the cheek and the mouth.
const MANE: [Bezier; 6] = [
    [(-0.24, 1.5), (-0.42, 1.42), (-0.56, 1.26)],
    [(-0.4, 1.82), (-0.6, 1.72), (-0.74, 1.54)],
    [(-0.64, 2.08), (-0.82, 1.98), (-0.94, 1.8)],
    [(-0.1, 1.16), (-0.28, 1.08), (-0.4, 0.94)],
    [(-1.1, 1.26), (-1.28, 1.48), (-1.2, 1.74)],
    [(-2.02, 1.02), (-1.9, 1.06), (-1.78, 1.14)],
];
