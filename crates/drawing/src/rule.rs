use instrument::{LineId, Part, Point};
use sky::Angle;

use crate::contour::{Contour, Piece};
use crate::pen::Pen;
use crate::scene::{Group, Layer, Metal, Region, Weight};

/// The rule, both of whose arms have their edge on one straight line through the
/// centre, and the pin that holds everything together.
pub(crate) fn rule(mut pen: Pen<'_>, turn: Angle) -> Group {
    let m = pen.measures;
    let edge = pen.instrument.rule_edge(Angle::ZERO);
    let across = edge.along.perpendicular();
    let at = |t: f64, u: f64| edge.foot + edge.along * t + across * u;
    let width = 0.45 + 0.034 * m.mater;
    let reach = m.plate + 0.45 * m.limb_width();
    let back = m.plate * 0.985;
    let hub = width * 1.55;

    let arm = |reach: f64, side: f64| {
        Region::whole(Contour::closed(
            at(0.0, 0.0),
            vec![
                Piece::Line { to: at(reach, 0.0) },
                Piece::Cubic {
                    first: at(reach - side.signum() * width * 1.1, 0.0),
                    second: at(reach - side.signum() * width * 0.7, side),
                    to: at(reach - side.signum() * width * 2.2, side),
                },
                Piece::Line { to: at(0.0, side) },
            ],
        ))
    };
    pen.fill(
        Metal::Rule,
        Layer::Cut,
        vec![
            arm(reach, width),
            arm(-back, -width),
            Region::whole(Contour::circle(Point::POLE, hub)),
        ],
    );
    // A bevel along each edge.
    let bevel = 0.3 * width;
    pen.plain(
        Weight::Hair,
        &[
            Contour::line(at(hub, bevel), at(reach - width * 1.3, bevel)),
            Contour::line(at(-hub, -bevel), at(-back + width * 1.3, -bevel)),
        ],
    );
    pen.line(
        LineId::RuleEdge,
        Weight::Edge,
        &[Contour::line(at(0.0, 0.0), at(reach, 0.0))],
    );
    pen.plain(Weight::Edge, &[Contour::line(at(-back, 0.0), at(0.0, 0.0))]);
    let pin = hub * 0.5;
    pen.fill(
        Metal::Mater,
        Layer::Guide,
        vec![Region::whole(Contour::circle(Point::POLE, pin))],
    );
    pen.plain(Weight::Hair, &[Contour::circle(Point::POLE, hub * 0.82)]);
    let title = "the rule".to_owned();
    pen.finish("rule", Part::Rule, title, turn, Point::POLE)
}
