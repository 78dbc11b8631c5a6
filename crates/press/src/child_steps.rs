//! The picture of each step by which a class makes the instrument of card.

use drawing::{Contour, Dash, Face};
use instrument::{Part, Point};
use sky::Angle;

use crate::child_model::Model;
use crate::child_pictures::{CardPart, FLAT, READ, Shown, Where, at};
use crate::child_words::Making;
use crate::ink::Shade;
use crate::leaf::Leaf;

/// A bigger and a smaller part side by side.
fn pair(
    leaf: &mut Leaf,
    parts: [(&CardPart<'_>, Shown); 2],
    middle: Point,
    high: f64,
) -> [Where; 2] {
    let put = [(-20.0, parts[0].0), (19.0, parts[1].0)]
        .map(|(x, part)| Where::within(part, middle + at(x, 0.0), (33.0, high)));
    for (at, (part, shown)) in put.iter().zip(parts) {
        leaf.part(part, *at, shown);
    }
    put
}

/// The picture of a step about its middle.
pub(crate) fn picture(leaf: &mut Leaf, model: &Model<'_>, step: Making, middle: Point) {
    let within = |part: &CardPart<'_>, x: f64, room: (f64, f64)| {
        Where::within(part, middle + at(x, 0.0), room)
    };
    match step {
        Making::Print => {
            for x in [-24.0, -21.0, -18.0] {
                leaf.sheet_of(
                    middle + at(x - 14.0, -20.0),
                    middle + at(x + 14.0, 20.0),
                    Shade::Paper,
                );
            }
            leaf.part(
                &model.mater,
                within(&model.mater, -18.0, (24.0, 26.0)),
                Shown::Printed,
            );
            let (from, to) = (middle + at(3.0, 6.0), middle + at(40.0, 6.0));
            let ticks = (0..=10).map(|n| {
                let x = from.x + (to.x - from.x) * f64::from(n) / 10.0;
                Contour::line(at(x, from.y), at(x, from.y - 2.5))
            });
            leaf.line(ticks.chain([Contour::line(from, to)]).collect(), 0.3);
            leaf.say(middle + at(15.0, 1.0), READ, Face::Roman, "10 cm");
            leaf.sheet_of(middle + at(2.0, 9.0), middle + at(41.0, 15.0), Shade::Tone);
            let ruler = (0..=10).map(|n| {
                let x = from.x + (to.x - from.x) * f64::from(n) / 10.0;
                Contour::line(at(x, middle.y + 9.0), at(x, middle.y + 11.4))
            });
            leaf.line(ruler.collect(), 0.25);
        }
        Making::Join => {
            for (x, y) in [(-15.0, -10.5), (15.0, -10.5), (-15.0, 10.5), (15.0, 10.5)] {
                leaf.sheet_of(
                    middle + at(x - 14.4, y - 10.0),
                    middle + at(x + 14.4, y + 10.0),
                    Shade::Paper,
                );
            }
            let cross = |x: f64, y: f64| {
                let p = middle + at(x, y);
                [
                    Contour::line(p - at(1.6, 0.0), p + at(1.6, 0.0)),
                    Contour::line(p - at(0.0, 1.6), p + at(0.0, 1.6)),
                ]
            };
            leaf.line(
                [
                    cross(0.0, -14.0),
                    cross(0.0, 14.0),
                    cross(-22.0, 0.0),
                    cross(22.0, 0.0),
                ]
                .concat(),
                0.4,
            );
        }
        Making::Net => {
            leaf.sheet_of(
                middle + at(-24.0, -21.0),
                middle + at(24.0, 21.0),
                Shade::Paper,
            );
            leaf.part(
                &model.rete,
                within(&model.rete, 0.0, (40.0, 39.0)),
                Shown::Printed,
            );
        }
        Making::Glue => {
            for x in [-20.0, 19.0] {
                leaf.sheet_of(
                    middle + at(x - 17.4, -21.4),
                    middle + at(x + 19.0, 22.2),
                    Shade::Tone,
                );
                leaf.sheet_of(
                    middle + at(x - 18.4, -22.2),
                    middle + at(x + 18.0, 21.4),
                    Shade::Paper,
                );
            }
            let parts = [
                (&model.mater, Shown::Printed),
                (&model.back, Shown::Printed),
            ];
            pair(leaf, parts, middle, 39.0);
        }
        Making::Opening => {
            let put = within(&model.mater, 0.0, (44.0, 43.0));
            leaf.part(&model.mater, put, Shown::CutOpening);
            leaf.knife(put.of(at(0.0, 0.0)));
        }
        Making::Outlines => {
            let parts = [
                (&model.mater, Shown::CutRound),
                (&model.back, Shown::CutRound),
            ];
            let put = pair(leaf, parts, middle, 41.0);
            for put in put {
                let rim = model.instrument.specification().diameter.mm() / 2.0;
                let turn = Angle::from_deg(35.0);
                leaf.scissors(put.of(at(rim * libm::cos(turn.rad()), rim * libm::sin(turn.rad()))));
            }
        }
        Making::Together => stack(
            leaf,
            &[(&model.mater, false), (&model.back, true)],
            middle,
            22.0,
        ),
        Making::Plate => {
            let put = within(&model.plate, 0.0, (44.0, 42.0));
            leaf.part(&model.plate, put, Shown::CutRound);
            let high = put.of(Point::POLE).y + 20.0;
            leaf.arrow(at(middle.x + 24.0, high), at(middle.x + 6.0, high - 1.0));
        }
        Making::NetEdge => {
            let put = within(&model.rete, 0.0, (44.0, 42.0));
            leaf.part(&model.rete, put, Shown::CutRound);
            leaf.scissors(at(middle.x + 16.0, middle.y + 13.0));
        }
        Making::Bars => {
            for (part, y) in [(&model.rule, -9.0), (&model.alidade, 9.0)] {
                let put = Where::lying(part, middle + at(2.0, y), (74.0, 16.0));
                leaf.part(part, put, Shown::CutRound);
            }
        }
        Making::Fold => fold(leaf, middle),
        Making::Holes => {
            let put = within(&model.rete, -8.0, (32.0, 36.0));
            leaf.part(&model.rete, put, Shown::Printed);
            leaf.awl(put.of(Point::POLE));
            let put = within(&model.plate, 26.0, (32.0, 36.0));
            leaf.part(&model.plate, put, Shown::Printed);
            leaf.awl(put.of(Point::POLE));
        }
        Making::Stack => stack(
            leaf,
            &[
                (&model.rule, false),
                (&model.rete, false),
                (&model.plate, false),
                (&model.mater, false),
                (&model.bar, true),
            ],
            middle - at(0.0, 1.0),
            31.0,
        ),
        Making::Pin => pin(leaf, middle),
        Making::Thread => {
            let put = Where::within(&model.mater, middle + at(0.0, 10.0), (44.0, 24.0));
            leaf.part(&model.mater, put, Shown::Printed);
            let hole = model.mater.highest_hole().unwrap_or_default();
            leaf.string(put.of(hole));
        }
    }
}

/// Parts above one another, the front one first; `true` for those that show their other side.
fn stack(leaf: &mut Leaf, parts: &[(&CardPart<'_>, bool)], middle: Point, high: f64) {
    let Some((widest, _)) = parts
        .iter()
        .find(|(part, _)| part.piece.part == Part::Mater)
    else {
        return;
    };
    let scale = Where::within(
        widest,
        middle,
        (if parts.len() > 2 { 42.0 } else { 54.0 }, 200.0),
    )
    .scale;
    let axis = Contour::line(
        middle + at(0.0, -high / 2.0 - 6.0),
        middle + at(0.0, high / 2.0 + 5.0),
    );
    leaf.put(vec![axis], Shade::Black, 0.2, Dash::Dashed);
    #[expect(clippy::cast_precision_loss, reason = "five at most")]
    let gap = high / (parts.len() - 1) as f64;
    for (n, (part, behind)) in parts.iter().enumerate().rev() {
        #[expect(clippy::cast_precision_loss, reason = "five at most")]
        let y = gap * n as f64 - high / 2.0;
        let put = Where {
            centre: middle + at(0.0, y),
            scale,
            flat: FLAT,
            behind: *behind,
            lying: matches!(part.piece.part, Part::Rule | Part::Alidade),
        };
        leaf.part(
            part,
            put,
            if *behind {
                Shown::Blank
            } else {
                Shown::Printed
            },
        );
    }
}

/// A flap before and after: its foot on the bar, with the hole standing.
fn fold(leaf: &mut Leaf, middle: Point) {
    let flat = middle + at(-29.0, 0.0);
    leaf.sheet_of(flat + at(-7.0, -19.0), flat + at(7.0, 17.0), Shade::Paper);
    let dashed = Contour::line(flat + at(-7.0, 3.0), flat + at(7.0, 3.0));
    leaf.put(vec![dashed], Shade::Black, 0.35, Dash::Dashed);
    leaf.line(vec![Contour::circle(flat + at(0.0, -12.0), 2.4)], 0.3);
    leaf.arrow(middle + at(-19.0, 0.0), middle + at(-10.0, 0.0));
    // The bar lies slanting away; each flap stands on it.
    let (near, far) = (middle + at(-7.0, 15.0), middle + at(31.0, 1.0));
    let wide = at(9.0, 4.4);
    leaf.shape(&[near, far, far + wide, near + wide], Shade::Paper, 0.3);
    for part in [0.86, 0.06] {
        let foot = near + (far - near) * part;
        let deep = (far - near) * 0.12;
        let corners = [foot, foot + wide, foot + wide + deep, foot + deep];
        let mut around: Vec<Contour> = Vec::new();
        for n in 0..4 {
            around.push(Contour::line(corners[n], corners[(n + 1) % 4]));
        }
        leaf.put(around, Shade::Black, 0.3, Dash::Dashed);
        let up = at(0.0, -21.0);
        leaf.shape(
            &[foot, foot + wide, foot + wide + up, foot + up],
            Shade::Paper,
            0.4,
        );
        let hole = foot + wide * 0.5 + up * 0.72;
        leaf.put(
            vec![Contour::circle(hole, 1.7)],
            Shade::Tone,
            0.0,
            Dash::Whole,
        );
        leaf.line(vec![Contour::circle(hole, 1.7)], 0.3);
    }
}

/// The pin from the side: head above, legs bent below, with tape on them.
fn pin(leaf: &mut Leaf, middle: Point) {
    let mut y = middle.y - 9.0;
    for (wide, high, name) in [
        (26.0, 1.4, "rule"),
        (34.0, 1.4, "star net"),
        (34.0, 1.8, "plate"),
        (44.0, 5.0, "ring and back"),
        (28.0, 1.8, "long bar"),
    ] {
        leaf.sheet_of(
            at(middle.x - wide / 2.0 - 2.0, y),
            at(middle.x + wide / 2.0 - 2.0, y + high),
            Shade::Tone,
        );
        leaf.say(
            at(middle.x + 24.0, y + high / 2.0 + 1.0),
            3.4,
            Face::Roman,
            name,
        );
        y += high + 2.6;
    }
    let x = middle.x - 2.0;
    let top = middle.y - 9.0;
    leaf.line(
        vec![
            Contour::line(at(x - 0.6, top), at(x - 0.6, y)),
            Contour::line(at(x + 0.6, top), at(x + 0.6, y)),
            Contour::line(at(x - 0.6, y), at(x - 11.0, y + 0.8)),
            Contour::line(at(x + 0.6, y), at(x + 11.0, y + 0.8)),
        ],
        0.6,
    );
    leaf.put(
        vec![Contour::arc(
            at(x, top),
            4.0,
            Angle::HALF_TURN,
            Angle::HALF_TURN,
        )],
        Shade::Black,
        0.9,
        Dash::Whole,
    );
    leaf.line(vec![Contour::line(at(x - 4.0, top), at(x + 4.0, top))], 0.9);
    for side in [-11.0, 11.0] {
        leaf.sheet_of(
            at(x + side - 5.0, y + 1.6),
            at(x + side + 5.0, y + 3.2),
            Shade::Paper,
        );
    }
    leaf.say(at(x - 3.4, y + 7.0), 3.4, Face::Roman, "tape");
}
