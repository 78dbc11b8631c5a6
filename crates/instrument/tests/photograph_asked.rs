//! What else a photograph is asked: what lies at a place, which mark would tell most, how an
//! instrument is set, and how far a delivered piece is off.

#![expect(clippy::unwrap_used, reason = "helpers of tests break off as tests do")]

mod seen;

use instrument::{
    BackMark, BackPhotograph, Corner, Hemisphere, Instrument, Mark, NoYear, OfPlate, Orientation,
    Photograph, Photographed, PhotographedBack, Point, Seen, SeenOnBack, Sought, Specification,
    TooLittle, Top, YearDay,
};
use ordeal::{Dice, tell, times};
use sky::{Angle, Latitude};

use seen::{Chance, Eye, Gathered, SIZE, Truth, eye, hemisphere_of, marked, truth};

/// Without faults, and with the plate of its own.
fn faultless(chance: &mut Chance, hemisphere: Hemisphere) -> (Truth, Instrument) {
    let (truth, brass) = truth(chance, hemisphere);
    let straight = Truth {
        plate_off: Point { x: 0.0, y: 0.0 },
        ring_off_mm: 0.0,
        hole: [0.0; 2],
        ..truth
    };
    (straight, brass)
}

fn plate_of(truth: &Truth) -> Latitude {
    Latitude::from_deg(truth.latitude).unwrap()
}

/// One marks the limb by sixties, then whatever catches the eye, each time by pressing: what
/// stands first is nearly always what was meant, so that a press and a key are a mark.
#[test]
fn what_is_pressed_is_named_by_its_place() {
    let mut chance = Chance(Dice::seeded(56));
    let [mut pressed, mut first, mut among_three] = [0, 0, 0];
    let rounds = times(6, 60);
    for round in 0..rounds {
        let hemisphere = hemisphere_of(round);
        let (truth, brass) = truth(&mut chance, hemisphere);
        let eye = eye(truth.limb_mm, &mut chance);
        let whole = marked(&truth, &brass, &eye, 1.0, &mut chance);
        // What any fit needs is written down; the rest is pressed in the order of the file.
        let (known, asked): (Vec<Mark>, Vec<Mark>) =
            whole.marks.iter().cloned().partition(|mark| {
                matches!(
                    mark.of,
                    Seen::Limb(_) | Seen::HoleEdge | Seen::OfPlate(OfPlate::Capricorn)
                )
            });
        let mut photograph = Photograph {
            marks: known,
            ..whole.clone()
        };
        let mut horizons = 0;
        let mut degrees = 0;
        for mark in asked {
            let found = Photographed::of(&photograph).unwrap();
            let proposals = found.proposals(mark.at_px);
            let at = proposals.iter().position(|one| one.of == mark.of);
            let shares: f64 = proposals.iter().map(|one| one.share).sum();
            assert!(shares <= 1.0 + 1e-9, "{shares}");
            // The first of the horizon and of the ring must be chosen by whoever knows it.
            let is_new = match mark.of {
                Seen::OfPlate(OfPlate::Almucantar(_)) => {
                    horizons += 1;
                    horizons <= 3
                }
                Seen::Degree(_) => {
                    degrees += 1;
                    degrees <= 2
                }
                _ => false,
            };
            if !is_new {
                pressed += 1;
                first += u32::from(at == Some(0));
                among_three += u32::from(at.is_some_and(|at| at < 3));
            }
            photograph.marks.push(mark);
        }
    }
    tell(
        "places pressed in photographs, named by what was marked before",
        rounds,
        &format!("{first} of {pressed} are what stands first, {among_three} among the first three"),
    );
    assert!(first * 100 >= pressed * 85, "{first} of {pressed}");
    assert!(
        among_three * 100 >= pressed * 95,
        "{among_three} of {pressed}"
    );
}

/// Before the camera is known, strokes spread round the limb are asked for.
#[test]
fn the_limb_is_marked_first() {
    let limb = |deg: f64| Mark {
        at_px: [100.0 + deg, 100.0],
        of: Seen::Limb(Angle::from_deg(deg)),
    };
    let photograph = Photograph {
        name: "nothing yet".to_owned(),
        hemisphere: Hemisphere::North,
        size_px: SIZE,
        limb_diameter: None,
        marks: vec![limb(0.0), limb(120.0)],
    };
    let names: Vec<String> = photograph
        .first_of_limb()
        .iter()
        .take(5)
        .map(ToString::to_string)
        .collect();
    assert_eq!(
        names,
        [
            "limb 60°",
            "limb 180°",
            "limb 240°",
            "limb 300°",
            "limb 30°"
        ]
    );
}

/// The mark that is asked for is put where it was asked for, and tells as much as was said; no
/// mark of the picture's own tells more.
#[test]
fn the_mark_that_would_tell_most_does() {
    let mut chance = Chance(Dice::seeded(1478));
    let mut sought = 0;
    for _ in 0..times(4, 30) {
        let (truth, brass) = truth(&mut chance, Hemisphere::North);
        let eye = eye(truth.limb_mm, &mut chance);
        let whole = marked(&truth, &brass, &eye, 1.0, &mut chance);
        let mut few = whole.clone();
        let mut number = 0;
        few.marks.retain(|mark| {
            number += 1;
            matches!(mark.of, Seen::Limb(_) | Seen::HoleEdge) || number % 2 == 0
        });
        let found = Photographed::of(&few).unwrap();
        for telling in found.tellings() {
            let (Some(now), [(of, Some(at_px))]) = (telling.within, telling.marks.as_slice())
            else {
                continue;
            };
            let error_with = |mark: Mark| {
                let mut more = few.clone();
                more.marks.push(mark);
                let found = Photographed::of(&more).unwrap();
                let told = match telling.of {
                    Sought::Latitude => found.latitude.unwrap().within.deg(),
                    Sought::Year => found.year.unwrap().within,
                    Sought::PlateObliquity => found.plate_obliquity.unwrap().within.deg(),
                    Sought::RingObliquity => found.ring_obliquity.unwrap().within.deg(),
                    Sought::PlateNoon => found.off_noon.unwrap().within / found.equator.unwrap().at,
                    Sought::PlateWest => found.off_west.unwrap().within / found.equator.unwrap().at,
                    Sought::RingOff => found.ring_off.unwrap().within / found.equator.unwrap().at,
                };
                // The scatter that was found anew changes every error alike.
                told * few_scatter(&few) / found.scatter_px
            };
            let then = error_with(Mark {
                at_px: *at_px,
                of: of.clone(),
            });
            assert!(then < now, "{:?}: {then} of {now}", telling.of);
            assert!(
                (then / telling.then - 1.0).abs() < 0.15,
                "{:?}: {then}, where {} was said",
                telling.of,
                telling.then
            );
            for mark in whole.marks.iter().step_by(5) {
                let by_another = error_with(mark.clone());
                assert!(
                    by_another > 0.9 * then,
                    "{:?} tells more: {by_another}",
                    mark.of
                );
            }
            sought += 1;
        }
    }
    assert!(sought > 0, "nothing was sought");
}

fn few_scatter(photograph: &Photograph) -> f64 {
    Photographed::of(photograph).unwrap().scatter_px
}

/// What a picture does not tell is asked for by the marks that do tell it.
#[test]
fn what_cannot_be_told_is_asked_for() {
    let mut chance = Chance(Dice::seeded(77));
    let (truth, brass) = truth(&mut chance, Hemisphere::North);
    let eye = eye(truth.limb_mm, &mut chance);
    let whole = marked(&truth, &brass, &eye, 1.0, &mut chance);
    let without = |is: fn(&Seen) -> bool| {
        let marks = whole.marks.iter().filter(|mark| !is(&mark.of));
        let photograph = Photograph {
            marks: marks.cloned().collect(),
            ..whole.clone()
        };
        Photographed::of(&photograph).unwrap().tellings()
    };
    // Without its stars the year hangs on one: the ring says how the rete is turned.
    let tellings = without(|seen| matches!(seen, Seen::Star(_)));
    let year = tellings.iter().find(|one| one.of == Sought::Year).unwrap();
    assert_eq!(year.within, None);
    assert!(
        matches!(year.marks.as_slice(), [(Seen::Star(_), _)]),
        "{year:?}"
    );
    // Without the rete the distance of a star from the hole says something, and where that
    // star is nobody knows; whether the ring lies beside the stars takes a mark of both.
    let tellings = without(|seen| matches!(seen, Seen::Star(_) | Seen::Degree(_)));
    let year = tellings.iter().find(|one| one.of == Sought::Year).unwrap();
    assert!(
        matches!(year.marks.as_slice(), [(Seen::Star(_), None)]),
        "{year:?}"
    );
    let off = tellings.iter().find(|one| one.of == Sought::RingOff);
    assert!(off.is_some_and(|one| one.marks.len() == 2), "{off:?}");
    // Without almucantars and hours no latitude.
    let tellings = without(|seen| {
        matches!(
            seen,
            Seen::OfPlate(OfPlate::Almucantar(_) | OfPlate::UnequalHour(_))
        )
    });
    let latitude = tellings
        .iter()
        .find(|one| one.of == Sought::Latitude)
        .unwrap();
    assert!(
        matches!(latitude.marks.first(), Some((Seen::OfPlate(_), _))),
        "{latitude:?}"
    );
    assert!(latitude.then < 3.0, "{latitude:?}");
}

/// Every line that is drawn over the picture runs through what was marked on it.
#[test]
fn lines_are_drawn_through_their_marks() {
    let mut chance = Chance(Dice::seeded(99));
    for hemisphere in [Hemisphere::North, Hemisphere::South] {
        let (truth, brass) = truth(&mut chance, hemisphere);
        let eye = eye(truth.limb_mm, &mut chance);
        let photograph = marked(&truth, &brass, &eye, 1.0, &mut chance);
        let found = Photographed::of(&photograph).unwrap();
        let drawn = found.drawn();
        for (mark, told) in photograph.marks.iter().zip(&found.marks) {
            let line = drawn
                .iter()
                .find(|one| one.of.as_ref() == Some(&mark.of))
                .unwrap();
            let nearest = line
                .pieces
                .iter()
                .map(|piece| off_row(piece, mark.at_px))
                .fold(f64::INFINITY, f64::min);
            // Its chords leave a curve by a pixel or two.
            assert!(
                (nearest - told.off_px).abs() < 2.5,
                "{}: {nearest} from its line, {} said",
                mark.of,
                told.off_px
            );
            let [right, down] = told.apart_px;
            assert!((right.hypot(down) - told.off_px).abs() < 1e-6);
        }
    }
}

/// How far a place lies from a row of places joined by straight lines.
fn off_row(row: &[[f64; 2]], [x, y]: [f64; 2]) -> f64 {
    if let [[a, b]] = row {
        return (x - a).hypot(y - b);
    }
    row.iter()
        .zip(row.iter().skip(1))
        .map(|([a, b], [c, d])| {
            let (right, down) = (c - a, d - b);
            let square = (right * right + down * down).max(1e-12);
            let part = (((x - a) * right + (y - b) * down) / square).clamp(0.0, 1.0);
            (x - a - part * right).hypot(y - b - part * down)
        })
        .fold(f64::INFINITY, f64::min)
}

/// A pupil's instrument, photographed as it was set: two strokes of the limb, the hole, the
/// almuri and the rule are enough.
#[test]
fn a_setting_is_told_by_five_points() {
    let mut chance = Chance(Dice::seeded(1543));
    let [mut rete, mut rule] = std::array::from_fn::<Gathered, 2, _>(|_| Gathered::default());
    let rounds = times(40, 300);
    for round in 0..rounds {
        let hemisphere = hemisphere_of(round);
        let (truth, brass) = faultless(&mut chance, hemisphere);
        // As one holds a telephone over it.
        let eye = Eye::at(
            chance.between(0.0, 20.0).to_radians(),
            chance.between(0.0, std::f64::consts::TAU),
            chance.between(0.0, std::f64::consts::TAU),
            chance.between(0.9, 1.6),
            truth.limb_mm,
            chance.between(-0.02, 0.02),
        );
        let rule_turn = chance.between(0.0, 360.0);
        let photograph = set_in_picture(&truth, &brass, &eye, rule_turn, &mut chance);
        let found = Photographed::of_known(&photograph, &brass, plate_of(&truth))
            .unwrap_or_else(|why| panic!("{round}: {why}"));
        let off = |one: instrument::Estimate<Angle>, should: f64| {
            Angle::from_deg(should).to(one.at).deg()
        };
        let one = found.rete_turn.unwrap();
        rete.add(off(one, truth.rete_turn), one.within.deg());
        let one = found.rule_turn.unwrap();
        rule.add(off(one, rule_turn), one.within.deg());
        // What was known beforehand is not told as found.
        assert_eq!((found.latitude, found.year), (None, None));
    }
    for (what, one) in [("rete", &rete), ("rule", &rule)] {
        tell(
            &format!("the turn of the {what} in degrees, by five marks of a photograph"),
            rounds,
            &format!(
                "off by {:.2} as a rule, {:.0} % within what is said",
                one.rms(),
                100.0 * one.covered()
            ),
        );
        assert!(one.rms() < 0.5, "{what}: {}", one.rms());
        assert!(one.covered() > 0.6, "{what}: {}", one.covered());
    }
}

/// Two strokes, the hole, the tip of the almuri and a place on the rule's edge, to a pixel.
fn set_in_picture(
    truth: &Truth,
    brass: &Instrument,
    eye: &Eye,
    rule_turn: f64,
    chance: &mut Chance,
) -> Photograph {
    let orientation = Orientation::new(truth.hemisphere, Top::Noon);
    let stroke = chance.between(0.0, 360.0).round();
    let other = stroke + 90.0 + chance.between(0.0, 50.0).round();
    let [plate_depth, rete_depth] = truth.depths_mm;
    let almuri = brass.rete().almuri() + Angle::from_deg(truth.rete_turn);
    let degrees = [stroke, other].map(Angle::from_deg);
    let all = [
        (
            Point::polar(truth.limb_mm, degrees[0]),
            0.0,
            Seen::Limb(degrees[0]),
        ),
        (
            Point::polar(truth.limb_mm, degrees[1]),
            0.0,
            Seen::Limb(degrees[1]),
        ),
        (Point { x: 0.0, y: 0.0 }, plate_depth, Seen::Hole),
        (
            Point::polar(truth.limb_mm, almuri),
            rete_depth,
            Seen::Almuri,
        ),
        (
            Point::polar(truth.limb_mm, Angle::from_deg(rule_turn)),
            -1.0,
            Seen::Rule,
        ),
    ];
    let marks = all.map(|(point, depth, of)| {
        let drawn = orientation.drawn(point);
        let [x, y] = eye.sees(drawn.x, drawn.y, depth);
        Mark {
            at_px: [x + chance.gauss(), y + chance.gauss()],
            of,
        }
    });
    Photograph {
        name: "a pupil's".to_owned(),
        hemisphere: truth.hemisphere,
        size_px: SIZE,
        limb_diameter: None,
        marks: marks.to_vec(),
    }
}

#[test]
fn a_setting_with_too_few_marks_is_refused() {
    let mut chance = Chance(Dice::seeded(12));
    let (truth, brass) = faultless(&mut chance, Hemisphere::North);
    let eye = eye(truth.limb_mm, &mut chance);
    let photograph = set_in_picture(&truth, &brass, &eye, 33.0, &mut chance);
    let few = Photograph {
        marks: photograph.marks[1..].to_vec(),
        ..photograph.clone()
    };
    let refused = Photographed::of_known(&few, &brass, plate_of(&truth));
    assert_eq!(refused.unwrap_err(), TooLittle::Setting(2));
    // Two strokes that are opposite each other tell no more with the hole than by themselves.
    let [stroke, _, hole, ..] = &photograph.marks[..] else {
        panic!("{:?}", photograph.marks);
    };
    let Seen::Limb(degree) = stroke.of else {
        panic!("{stroke:?}");
    };
    let opposite = Mark {
        at_px: [0, 1].map(|axis| 2.0 * hole.at_px[axis] - stroke.at_px[axis]),
        of: Seen::Limb(degree + Angle::HALF_TURN),
    };
    let in_line = Photograph {
        marks: vec![stroke.clone(), opposite, hole.clone()],
        ..photograph
    };
    let refused = Photographed::of_known(&in_line, &brass, plate_of(&truth));
    assert_eq!(refused.unwrap_err(), TooLittle::SettingOnOneLine);
}

/// A plate that lies 0.4 mm off shows in its own marks, towards where it lies; the limb and the
/// rete are what they should be. One that is as specified is within what a hand marks.
#[test]
fn a_delivered_piece_is_held_against_its_specification() {
    let mut chance = Chance(Dice::seeded(1710));
    for round in 0..times(6, 60) {
        let (straight, brass) = faultless(&mut chance, Hemisphere::North);
        let eye = eye(straight.limb_mm, &mut chance);
        let noise = 0.5;
        let off = |truth: &Truth, chance: &mut Chance| {
            let photograph = marked(truth, &brass, &eye, noise, chance);
            let found = Photographed::of_delivered(&photograph).unwrap();
            let held = found.held(&brass, plate_of(truth));
            assert_eq!(held.len(), photograph.marks.len());
            (held, found.tells_to(&brass).unwrap().mm())
        };
        let (held, tells_to) = off(&straight, &mut chance);
        assert!((0.01..0.12).contains(&tells_to), "{tells_to}");
        let count = held.iter().flatten().count();
        let near = held
            .iter()
            .flatten()
            .filter(|one| one.off().mm() < 5.0 * tells_to)
            .count();
        assert!(
            count > 40 && near * 10 >= count * 9,
            "{round}: {near} of {count}"
        );
        let shifted = Truth {
            plate_off: Point { x: 0.0, y: 0.4 },
            ..straight
        };
        let (held, _) = off(&shifted, &mut chance);
        let (mut along, mut across, mut others) = (Vec::new(), Vec::new(), Vec::new());
        for one in held.iter().flatten() {
            match one.of {
                Seen::OfPlate(OfPlate::Meridian) => along.push(one.apart.y),
                Seen::OfPlate(_) => across.push(one.off().mm()),
                _ => others.push(one.off().mm()),
            }
        }
        let mean = |all: &[f64]| all.iter().sum::<f64>() / all.len() as f64;
        assert!((mean(&along) - 0.4).abs() < 0.15, "{round}: {along:?}");
        assert!(mean(&across) > 2.0 * mean(&others), "{round}");
    }
}

/// The back of an instrument whose calendar is divided for a year, marked to a pixel: the year,
/// the square's corners and the hole come out, and as well as is said.
fn marked_back(
    brass: &Instrument,
    eye: &Eye,
    hole: [f64; 2],
    corner_up_mm: f64,
    chance: &mut Chance,
) -> BackPhotograph {
    let back = brass.back();
    let mut marks = Vec::new();
    let mut mark = |point: Point, of: SeenOnBack, chance: &mut Chance| {
        // The back's own axes: towards the throne, and to the right.
        let [x, y] = eye.sees(point.y, -point.x, 0.0);
        marks.push(BackMark {
            at_px: [x + chance.gauss(), y + chance.gauss()],
            of,
        });
    };
    for sign in 0..12 {
        let degree = Angle::from_deg(30.0 * f64::from(sign));
        let point = Point::polar(back.bands.zodiac, back.zodiac(degree));
        mark(point, SeenOnBack::Degree(degree), chance);
    }
    let beside = Point {
        x: -hole[1],
        y: hole[0],
    };
    for step in 0..6 {
        let edge = Point::polar(3.0, Angle::from_deg(60.0 * f64::from(step)));
        mark(edge + beside, SeenOnBack::HoleEdge, chance);
    }
    for month in 1..=12 {
        for day in [1, 16] {
            let date = YearDay {
                month,
                day,
                part: 0.0,
            };
            mark(back.date(date, 1.0), SeenOnBack::Date(date), chance);
        }
    }
    let side = back.shadow_side();
    for corner in Corner::ALL {
        let out = match corner {
            Corner::Left => -side,
            Corner::Right => side,
        };
        let point = Point {
            x: -side + corner_up_mm,
            y: out,
        };
        mark(point, SeenOnBack::Corner(corner), chance);
    }
    BackPhotograph {
        name: "invented".to_owned(),
        size_px: SIZE,
        marks,
    }
}

fn with_calendar(year: f64, calendar: &str) -> Instrument {
    Instrument::new(
        Specification::from_toml(&format!(
            "version = 1\nname = \"invented\"\ndiameter_mm = 180\nepoch_year = {year}\n\
             plates_deg = [40]\ncalendar_year = {year}\ncalendar_leap_mean = true\n\
             calendar = \"{calendar}\"\n",
        ))
        .unwrap(),
    )
}

#[test]
fn a_back_is_found_in_its_picture() {
    let mut chance = Chance(Dice::seeded(1391));
    let [mut years, mut corners, mut holes] = std::array::from_fn(|_| Gathered::default());
    let rounds = times(30, 300);
    for _ in 0..rounds {
        let year = chance.between(900.0, 1580.0).round();
        let brass = with_calendar(year, "julian");
        let eye = eye(0.5 * brass.specification().diameter.mm(), &mut chance);
        let hole = [chance.between(-0.3, 0.3), chance.between(-0.3, 0.3)];
        let photograph = marked_back(&brass, &eye, [0.0; 2], 0.0, &mut chance);
        let found = PhotographedBack::of(&photograph).unwrap();
        let one = found.calendar.unwrap().unwrap();
        // The middle of four years.
        years.add(one.at - year - 2.0, one.within);
        for corner in &found.corners {
            corners.add(
                corner.altitude.at.deg() - 45.0,
                corner.altitude.within.deg(),
            );
        }
        // A hole beside its place is told.
        let photograph = marked_back(&brass, &eye, hole, 0.0, &mut chance);
        let found = PhotographedBack::of(&photograph).unwrap();
        let radius = brass.back().bands.zodiac;
        for (one, should) in found.hole_off.unwrap().into_iter().zip(hole) {
            holes.add(one.at * radius - should, one.within * radius);
        }
    }
    for (what, one, most) in [
        ("year of the calendar scale", &years, 6.0),
        ("corners of the shadow square, in degrees", &corners, 0.15),
        ("hole off the zodiac scale's middle, in mm", &holes, 0.1),
    ] {
        one.tell(what, "photographs of backs", rounds);
        assert!(one.rms() < most, "{what}: {}", one.rms());
        assert!(
            (0.5..0.86).contains(&one.covered()),
            "{what}: {}",
            one.covered()
        );
    }
}

#[test]
fn a_back_tells_its_calendar_a_crooked_square_and_a_wrong_date() {
    let mut chance = Chance(Dice::seeded(1582));
    let eye = eye(90.0, &mut chance);
    // A Gregorian scale keeps its dates, whatever its year.
    let modern = with_calendar(1900.0, "gregorian");
    let photograph = marked_back(&modern, &eye, [0.0; 2], 0.0, &mut chance);
    let found = PhotographedBack::of(&photograph).unwrap();
    assert_eq!(found.calendar, Some(Err(NoYear::Gregorian)));
    // Corners a millimetre too high.
    let brass = with_calendar(1400.0, "julian");
    let mut photograph = marked_back(&brass, &eye, [0.0; 2], 1.0, &mut chance);
    let should = f64::atan2(brass.back().shadow_side() - 1.0, brass.back().shadow_side());
    let found = PhotographedBack::of(&photograph).unwrap();
    for corner in &found.corners {
        let off = corner.altitude.at.deg() - should.to_degrees();
        assert!(off.abs() < 0.3, "{corner:?}");
        assert!((corner.altitude.at.deg() - 45.0).abs() > 3.0 * corner.altitude.within.deg());
    }
    assert!(found.marks.iter().all(|one| !one.doubtful));
    // What is proposed at a mark is what is there: of a sign, a date, a corner.
    for wanted in &photograph.marks {
        let proposed = found.proposals(wanted.at_px);
        assert!(
            proposed
                .iter()
                .take(3)
                .any(|one| one.to_string() == wanted.of.to_string()),
            "{} is not among {proposed:?}",
            wanted.of
        );
    }
    // A date that is a week off and a sign in another's place are named, and move nothing.
    let before = found.calendar.unwrap().unwrap();
    for (number, of) in [(3, "zodiac 15 Cancer"), (20, "calendar 02-08")] {
        photograph.marks[number].of = of.parse().unwrap();
    }
    let found = PhotographedBack::of(&photograph).unwrap();
    let doubtful: Vec<String> = found
        .marks
        .iter()
        .filter(|one| one.doubtful)
        .map(|one| one.of.to_string())
        .collect();
    assert_eq!(doubtful, ["zodiac 15°00′ Cancer", "calendar 02-08"]);
    let after = found.calendar.unwrap().unwrap();
    assert!(
        (after.at - before.at).abs() < 15.0,
        "{after:?}, and {before:?}"
    );
    // Its file says the same.
    let lines: String = photograph
        .marks
        .iter()
        .map(|mark| format!("[{}, {}, \"{}\"],\n", mark.at_px[0], mark.at_px[1], mark.of))
        .collect();
    let text = format!(
        "version = 1\nside = \"back\"\nname = \"invented\"\npicture_px = [3000, 3000]\nmarks = [\n{lines}]\n"
    );
    assert!(BackPhotograph::is_one(&text));
    assert_eq!(BackPhotograph::from_toml(&text).unwrap(), photograph);
    assert!(
        Photograph::from_toml(&text)
            .unwrap_err()
            .to_string()
            .contains("side")
    );
    let few = BackPhotograph {
        marks: photograph
            .marks
            .iter()
            .filter(|mark| matches!(mark.of, SeenOnBack::Date(_)))
            .cloned()
            .collect(),
        ..photograph
    };
    assert_eq!(PhotographedBack::of(&few), Err(TooLittle::Zodiac(0)));
    assert_eq!(few.first_of_zodiac().len(), 12);
}
