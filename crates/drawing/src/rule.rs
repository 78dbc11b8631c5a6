use instrument::{LineId, Part, Point, RuleKind};
use sky::{Angle, Latitude};

use crate::contour::Contour;
use crate::face::Face;
use crate::lettering::{Baseline, Lettering};
use crate::pen::Pen;
use crate::piece::Piece;
use crate::scene::{Group, Layer, Metal, Region, Weight};
use crate::thinning::{LEAST_GAP, Thinning};

/// The rule, both of whose arms have their edge on one straight line through the
/// centre, and the pin that holds everything together.
pub(crate) fn rule(mut pen: Pen<'_>) -> Group {
    let hub = engrave(&mut pen);
    let pin = hub * 0.5;
    pen.fill(
        Metal::Mater,
        Layer::Guide,
        vec![Region::whole(Contour::circle(Point::POLE, pin))],
    );
    pen.plain(Weight::Hair, &[Contour::circle(Point::POLE, hub * 0.82)]);
    let title = "the rule".to_owned();
    pen.finish("rule", Part::Rule, title, Point::POLE)
}

/// Puts down the rule's metal and what is engraved on it; returns the hub's radius.
pub(crate) fn engrave(pen: &mut Pen<'_>) -> f64 {
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
    let metal = vec![
        arm(reach, width),
        arm(-back, -width),
        Region::whole(Contour::circle(Point::POLE, hub)),
    ];
    pen.stands_on(&metal);
    pen.edge(&Contour::circle(Point::POLE, m.hole));
    pen.fill(Metal::Rule, Layer::Cut, metal);
    let graduated = pen.instrument.specification().parts.rule == RuleKind::Declinations;
    // A bevel along each edge that bears no scale.
    let bevel = 0.3 * width;
    let mut bevels = vec![Contour::line(
        at(-hub, -bevel),
        at(-back + width * 1.3, -bevel),
    )];
    if !graduated {
        bevels.push(Contour::line(
            at(hub, bevel),
            at(reach - width * 1.3, bevel),
        ));
    }
    pen.plain(Weight::Hair, &bevels);
    pen.line(
        LineId::RuleEdge,
        Weight::Edge,
        &[Contour::line(at(0.0, 0.0), at(reach, 0.0))],
    );
    pen.plain(Weight::Edge, &[Contour::line(at(-back, 0.0), at(0.0, 0.0))]);
    if graduated {
        declinations(pen, &at, width, hub);
    }
    hub
}

/// Declinations along the edge, read where a star or a degree lies under it.
fn declinations(pen: &mut Pen<'_>, at: &impl Fn(f64, f64) -> Point, width: f64, hub: f64) {
    let m = pen.measures;
    let projection = *pen.instrument.projection();
    let (mut fine, mut tens, mut numbered) = (Vec::new(), Vec::new(), Vec::new());
    // A degree is narrowest where the rule leaves the hub.
    let narrowest = projection.mm_per_degree(at(hub, 0.0));
    let step = [1_u8, 2, 5, 10]
        .into_iter()
        .find(|step| f64::from(*step) * narrowest >= m.gap)
        .unwrap_or(10);
    pen.thins(Thinning::divided(
        "declinations of the rule",
        f64::from(step),
        1.0,
        "°",
        LEAST_GAP,
    ));
    for deg in (-90..=90_i16).filter(|deg| deg % i16::from(step) == 0) {
        let Ok(declination) = Latitude::from_deg(f64::from(deg)) else {
            continue;
        };
        let radius = projection.radius(declination);
        if !(hub * 1.05..=m.tropic * 1.0001).contains(&radius) {
            continue;
        }
        if deg % 10 == 0 {
            tens.push(Contour::line(at(radius, 0.0), at(radius, width * 0.42)));
            numbered.push((radius, deg));
        } else {
            fine.push(Contour::line(at(radius, 0.0), at(radius, width * 0.25)));
        }
    }
    pen.scale(LineId::RuleDeclinations, Weight::Hair, &fine);
    pen.scale(LineId::RuleDeclinations, Weight::Fine, &tens);
    let Some(size_mm) = m.type_for(width * 0.36, 0.9) else {
        pen.unlettered("declinations of the rule");
        return;
    };
    for (radius, deg) in numbered {
        let number = Lettering {
            text: deg.abs().to_string(),
            size_mm,
            face: Face::Italic,
            baseline: Baseline::upright(
                pen.drawn(at(radius, width * 0.68)),
                pen.direction(at(1.0, 0.0) - at(0.0, 0.0)),
            ),
            clears: false,
            line: Some(LineId::RuleDeclinations),
        };
        pen.letter_or_tell(number, "some of the declinations of the rule");
    }
}
