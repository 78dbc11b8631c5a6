//! Pictures that are marked without any scatter: each number is what it should be, one picture
//! for each thing, so that what is wrong shows at once.

#![expect(clippy::unwrap_used, reason = "helpers of tests break off as tests do")]

#[expect(dead_code, reason = "other tests see more")]
mod seen;

use instrument::{
    Hemisphere, Instrument, Mark, OfPlate, Orientation, Photograph, Photographed, Point, RetePoint,
    Seen, TooLittle, Top,
};
use ordeal::Dice;
use sky::{Angle, Latitude};

use seen::{Chance, Eye, SIZE, Truth, marked, truth};

/// How far the limb leans away from an eye: between its axis and the ray to its middle.
fn lean(eye: &Eye) -> f64 {
    let axis = eye.rows.map(|row| row[2]);
    let far = eye.before.iter().map(|one| one * one).sum::<f64>().sqrt();
    let along: f64 = axis
        .iter()
        .zip(eye.before)
        .map(|(one, other)| one * other)
        .sum();
    (along / far).acos().to_degrees()
}

fn slanting(truth: &Truth) -> Eye {
    Eye::at(25.0_f64.to_radians(), 0.7, 2.0, 1.3, truth.limb_mm, 0.01)
}

/// With its plate, its ring and its hole where they should be.
fn faultless(hemisphere: Hemisphere) -> (Truth, Instrument) {
    let (truth, brass) = truth(&mut Chance(Dice::seeded(1)), hemisphere);
    let straight = Truth {
        plate_off: Point { x: 0.0, y: 0.0 },
        ring_off_mm: 0.0,
        hole: [0.0; 2],
        ..truth
    };
    (straight, brass)
}

fn pictured(truth: &Truth, brass: &Instrument, eye: &Eye) -> Photograph {
    marked(truth, brass, eye, 0.0, &mut Chance(Dice::seeded(2)))
}

/// An instrument of either hemisphere, seen aslant, with a limb as broad as makers' and one
/// that is far broader: what is found is what it was made as.
#[test]
fn marks_without_scatter_tell_everything_as_it_is() {
    for (hemisphere, broad) in [
        (Hemisphere::North, 1.0),
        (Hemisphere::South, 1.0),
        (Hemisphere::North, 1.4),
    ] {
        let (truth, brass) = truth(&mut Chance(Dice::seeded(1)), hemisphere);
        let truth = Truth {
            limb_mm: truth.limb_mm * broad,
            ..truth
        };
        let eye = slanting(&truth);
        let found = Photographed::of(&pictured(&truth, &brass, &eye)).unwrap();
        let in_mm = |part: f64| part * truth.limb_mm;
        let rete_turn = found.rete_turn.unwrap().at;
        for (what, found, should, most) in [
            (
                "latitude",
                found.latitude.unwrap().at.deg(),
                truth.latitude,
                0.02,
            ),
            (
                "tropics",
                found.plate_obliquity.unwrap().at.deg(),
                brass.obliquity().deg(),
                0.02,
            ),
            (
                "ring",
                found.ring_obliquity.unwrap().at.deg(),
                brass.obliquity().deg(),
                0.02,
            ),
            ("year", found.year.unwrap().at, truth.year, 1.0),
            (
                "noon",
                in_mm(found.off_noon.unwrap().at),
                truth.plate_off.x,
                0.02,
            ),
            (
                "west",
                in_mm(found.off_west.unwrap().at),
                truth.plate_off.y,
                0.02,
            ),
            (
                "ring off",
                in_mm(found.ring_off.unwrap().at),
                truth.ring_off_mm,
                0.02,
            ),
            (
                "equator",
                in_mm(found.equator.unwrap().at),
                brass.projection().equator_mm(),
                // A plate that lies deeper looks smaller.
                0.5,
            ),
            (
                "rete",
                Angle::from_deg(truth.rete_turn).to(rete_turn).deg(),
                0.0,
                0.02,
            ),
            ("lean", found.lean.deg(), lean(&eye), 0.2),
        ] {
            assert!(
                (found - should).abs() < most,
                "{hemisphere:?}, {broad}, {what}: {found}, not {should}"
            );
        }
        assert!(
            found
                .marks
                .iter()
                .all(|one| !one.doubtful && one.off_px < 0.5)
        );
    }
}

/// What was marked is drawn, though nothing would be drawn there by itself: a half degree of
/// the ring lies in the picture where it was marked.
#[test]
fn whatever_was_marked_is_drawn_where_it_lies() {
    let (truth, brass) = faultless(Hemisphere::North);
    let eye = slanting(&truth);
    let mut photograph = pictured(&truth, &brass, &eye);
    let half = Angle::from_deg(12.5);
    let point = brass.rete().point(RetePoint::Degree(half), 0.0);
    let point = point.turned(Angle::from_deg(truth.rete_turn));
    let drawn = Orientation::new(truth.hemisphere, Top::Noon).drawn(point);
    let [_, rete_depth] = truth.depths_mm;
    let at_px = eye.sees(drawn.x, drawn.y, rete_depth);
    photograph.marks.push(Mark {
        at_px,
        of: Seen::Degree(half),
    });
    let drawn = Photographed::of(&photograph).unwrap().drawn();
    for mark in &photograph.marks {
        let lines = drawn.iter().filter(|one| one.of.as_ref() == Some(&mark.of));
        assert_eq!(lines.count(), 1, "{}", mark.of);
    }
    let half = drawn.iter().find(|one| one.of == Some(Seen::Degree(half)));
    let [[x, y]] = half.unwrap().pieces[0][..] else {
        panic!("{half:?} is no point");
    };
    assert!(
        (x - at_px[0]).hypot(y - at_px[1]) < 0.5,
        "{x}, {y}: {at_px:?}"
    );
}

/// A stroke that is marked again is no further stroke, whatever was marked between.
#[test]
fn strokes_of_the_limb_are_counted_once() {
    let (truth, _) = faultless(Hemisphere::North);
    let eye = slanting(&truth);
    let orientation = Orientation::new(truth.hemisphere, Top::Noon);
    let marks = [0.0, 60.0, 120.0, 0.0, 60.0, 120.0, 0.0].map(|deg| {
        let degree = Angle::from_deg(deg);
        let drawn = orientation.drawn(Point::polar(truth.limb_mm, degree));
        Mark {
            at_px: eye.sees(drawn.x, drawn.y, 0.0),
            of: Seen::Limb(degree),
        }
    });
    let photograph = Photograph {
        name: "three strokes".to_owned(),
        hemisphere: truth.hemisphere,
        size_px: SIZE,
        limb_diameter: None,
        marks: marks.to_vec(),
    };
    assert_eq!(Photographed::of(&photograph), Err(TooLittle::Limb(3)));
}

/// A piece that is as its drawing lies under every mark; one whose plate lies 0.4 mm towards
/// the west shows that in the marks of the plate, as far as it lies across their lines, and
/// in no others.
#[test]
fn a_picture_is_held_against_its_drawing() {
    let (straight, brass) = faultless(Hemisphere::North);
    let eye = slanting(&straight);
    let plate = Latitude::from_deg(straight.latitude).unwrap();
    for west_mm in [0.0, 0.4] {
        let shift = Point { x: 0.0, y: west_mm };
        let truth = Truth {
            plate_off: shift,
            ..straight
        };
        let photograph = pictured(&truth, &brass, &eye);
        let found = Photographed::of_delivered(&photograph).unwrap();
        let held = found.held(&brass, plate);
        let [mut of_plate, mut of_others] = [0, 0];
        for (mark, held) in photograph.marks.iter().zip(&held) {
            let Some(held) = held else {
                assert_eq!(mark.of, Seen::HoleEdge);
                continue;
            };
            let apart = held.apart;
            let should = match mark.of {
                Seen::OfPlate(OfPlate::Meridian) => shift,
                Seen::OfPlate(OfPlate::Equator | OfPlate::Capricorn | OfPlate::Cancer) => {
                    let outwards = held.at * (1.0 / held.at.radius());
                    outwards * shift.dot(outwards)
                }
                // Across a line of its own: no further than the plate lies off.
                Seen::OfPlate(_) => {
                    assert!(apart.dot(shift) > -1e-3, "{}: {apart:?}", mark.of);
                    apart * (apart.radius().min(west_mm) / apart.radius().max(1e-9))
                }
                _ => Point { x: 0.0, y: 0.0 },
            };
            assert!(
                (apart - should).radius() < 0.03,
                "{}: {apart:?}, not {should:?}",
                mark.of
            );
            let [x, y] = held.should_px;
            let off_px = (x - mark.at_px[0]).hypot(y - mark.at_px[1]);
            let mm_per_px = 2.0 * truth.limb_mm / f64::from(SIZE[1]);
            let off_mm = off_px * mm_per_px;
            assert!(
                off_mm < 1.5 * apart.radius() + 0.03,
                "{}: {off_mm} mm",
                mark.of
            );
            match mark.of {
                Seen::OfPlate(_) => of_plate += 1,
                _ => of_others += 1,
            }
        }
        assert!(of_plate > 20 && of_others > 20, "{of_plate}, {of_others}");
    }
}

/// Where a stroke of the limb, a degree of the ring or a star lies, it stands first, and hardly
/// anything is left for all else that might lie there.
#[test]
fn what_lies_under_a_place_is_named_first() {
    let (truth, brass) = faultless(Hemisphere::North);
    let photograph = pictured(&truth, &brass, &slanting(&truth));
    let found = Photographed::of(&photograph).unwrap();
    let is_point =
        |mark: &&Mark| matches!(mark.of, Seen::Limb(_) | Seen::Degree(_) | Seen::Star(_));
    for mark in photograph.marks.iter().filter(is_point).step_by(4) {
        let proposals = found.proposals(mark.at_px);
        let first = &proposals[0];
        assert_eq!(first.of, mark.of, "{proposals:?}");
        assert!(first.share > 0.5 && first.off_px < 1.0, "{first:?}");
        let shares: f64 = proposals.iter().map(|one| one.share).sum();
        assert!(shares <= 1.0 + 1e-9, "{shares}");
    }
}

/// Every circle and point that is drawn over the picture comes by where it was marked.
#[test]
fn lines_are_drawn_where_they_were_marked() {
    let (truth, brass) = faultless(Hemisphere::South);
    let photograph = pictured(&truth, &brass, &slanting(&truth));
    let drawn = Photographed::of(&photograph).unwrap().drawn();
    // What is nearly straight has few places.
    let is_straight = |mark: &&Mark| {
        matches!(
            mark.of,
            Seen::OfPlate(OfPlate::Meridian | OfPlate::UnequalHour(_))
        )
    };
    for mark in photograph.marks.iter().filter(|mark| !is_straight(mark)) {
        let line = drawn.iter().find(|one| one.of.as_ref() == Some(&mark.of));
        let places = line.unwrap().pieces.iter().flatten();
        let nearest = places
            .map(|[x, y]| (x - mark.at_px[0]).hypot(y - mark.at_px[1]))
            .fold(f64::INFINITY, f64::min);
        // A whole circle has 120 places.
        assert!(nearest < 60.0, "{}: {nearest}", mark.of);
    }
}
