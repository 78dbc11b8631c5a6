//! An instrument from its photograph: drawn instruments are seen by a camera written for
//! this test, marked with a hand's scatter, and found again.

#![expect(clippy::unwrap_used, reason = "helpers of tests break off as tests do")]

use instrument::{
    Circline, Hemisphere, HourLines, Instrument, LineId, Mark, Minutes, OfPlate, Orientation,
    Photograph, Photographed, Point, RetePoint, Seen, Specification, TooLittle, Top, Trace,
    UnequalHour,
};
use ordeal::{Dice, tell, times};
use sky::{Angle, Latitude, astrolabe_stars};

/// Numbers that look like chance, the same in every run.
struct Chance(Dice);

impl Chance {
    fn part(&mut self) -> f64 {
        (self.0.roll() >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, least: f64, most: f64) -> f64 {
        least + (most - least) * self.part()
    }

    /// Scatter of Gauss's kind (G. Box and M. Muller, 1958).
    fn gauss(&mut self) -> f64 {
        (-2.0 * self.part().max(1e-300).ln()).sqrt() * (std::f64::consts::TAU * self.part()).cos()
    }
}

/// What is so, in millimetres and degrees.
struct Truth {
    hemisphere: Hemisphere,
    latitude: f64,
    year: f64,
    obliquity: f64,
    limb_mm: f64,
    plate_off: Point,
    ring_off_mm: f64,
    rete_turn: f64,
    depths_mm: [f64; 2],
    hole: [f64; 2],
}

/// A camera: rows of a turning, where the limb's middle lies before it, and how it bends.
struct Eye {
    rows: [[f64; 3]; 3],
    before: [f64; 3],
    focal: f64,
    bend: f64,
}

const SIZE: [u32; 2] = [3000, 3000];

impl Eye {
    /// Looking down at the limb, leaning by an angle towards a direction, and turned.
    fn at(lean: f64, towards: f64, turn: f64, focal_part: f64, limb_mm: f64, bend: f64) -> Eye {
        let focal = focal_part * f64::from(SIZE[0]);
        let axis = [towards.cos(), towards.sin(), 0.0];
        let about = |axis: [f64; 3], by: f64| {
            let (s, c) = by.sin_cos();
            let [x, y, z] = axis;
            [
                [
                    c + x * x * (1.0 - c),
                    x * y * (1.0 - c) - z * s,
                    x * z * (1.0 - c) + y * s,
                ],
                [
                    y * x * (1.0 - c) + z * s,
                    c + y * y * (1.0 - c),
                    y * z * (1.0 - c) - x * s,
                ],
                [
                    z * x * (1.0 - c) - y * s,
                    z * y * (1.0 - c) + x * s,
                    c + z * z * (1.0 - c),
                ],
            ]
        };
        let (one, other) = (about(axis, lean), about([0.0, 0.0, 1.0], turn));
        let rows = [0, 1, 2].map(|row: usize| {
            [0, 1, 2].map(|column: usize| (0..3).map(|k| one[row][k] * other[k][column]).sum())
        });
        // So far off that the limb fills the picture.
        let distance = focal * limb_mm * 2.0 / (0.88 * f64::from(SIZE[1]));
        Eye {
            rows,
            before: [0.01 * distance, -0.015 * distance, distance],
            focal,
            bend,
        }
    }

    fn sees(&self, x: f64, y: f64, z: f64) -> [f64; 2] {
        let at = [0, 1, 2].map(|row: usize| {
            self.rows[row][0] * x + self.rows[row][1] * y + self.rows[row][2] * z + self.before[row]
        });
        let (x, y) = (at[0] / at[2], at[1] / at[2]);
        let more = self.focal * (1.0 + self.bend * (x * x + y * y));
        [
            f64::from(SIZE[0]) / 2.0 + more * x,
            f64::from(SIZE[1]) / 2.0 + more * y,
        ]
    }
}

/// A point of a line within the tropics, near a direction from the line's middle.
fn on_line(line: &Circline, inner: f64, outer: f64, chance: &mut Chance) -> Option<Point> {
    for _ in 0..200 {
        let point = match line.as_circle() {
            Some((centre, radius)) => {
                centre + Point::polar(radius, Angle::from_deg(chance.between(0.0, 360.0)))
            }
            None => {
                let (foot, along) = line.as_straight()?;
                foot + along * chance.between(-outer, outer)
            }
        };
        if (inner..outer).contains(&point.radius()) {
            return Some(point);
        }
    }
    None
}

fn truth(chance: &mut Chance, hemisphere: Hemisphere) -> (Truth, Instrument) {
    let year = chance.between(1000.0, 1900.0).round();
    let latitude = match hemisphere {
        Hemisphere::North => chance.between(22.0, 58.0),
        Hemisphere::South => -chance.between(22.0, 58.0),
    };
    let brass = Instrument::new(
        Specification::from_toml(&format!(
            "version = 1\nname = \"invented\"\ndiameter_mm = 180\nepoch_year = {year}\n\
             plates_deg = [{latitude}]\ndate_from = \"given\"\nhemisphere = \"{}\"\n",
            hemisphere.name()
        ))
        .unwrap(),
    );
    let truth = Truth {
        hemisphere,
        latitude,
        year,
        obliquity: brass.obliquity().deg(),
        limb_mm: brass.limb_mm(),
        plate_off: Point {
            x: chance.between(-0.4, 0.4),
            y: chance.between(-0.4, 0.4),
        },
        ring_off_mm: chance.between(-0.4, 0.4),
        rete_turn: chance.between(0.0, 360.0),
        depths_mm: [chance.between(1.0, 3.0), chance.between(0.0, 1.0)],
        hole: [chance.between(-0.5, 0.5), chance.between(-0.5, 0.5)],
    };
    (truth, brass)
}

/// The instrument as it was marked, with `noise` pixels of scatter in each coordinate.
fn marked(
    truth: &Truth,
    brass: &Instrument,
    eye: &Eye,
    noise: f64,
    chance: &mut Chance,
) -> Photograph {
    let orientation = Orientation::new(truth.hemisphere, Top::Noon);
    let mut marks = Vec::new();
    let mut mark = |point: Point, off: [f64; 2], depth: f64, of: Seen, chance: &mut Chance| {
        let drawn = orientation.drawn(point);
        let [x, y] = eye.sees(drawn.x + off[0], drawn.y + off[1], depth);
        marks.push(Mark {
            at_px: [x + noise * chance.gauss(), y + noise * chance.gauss()],
            of,
        });
    };
    let begin = chance.between(0.0, 30.0).round();
    for number in 0..12 {
        let degree = Angle::from_deg(begin + 30.0 * f64::from(number));
        mark(
            Point::polar(truth.limb_mm, degree),
            [0.0; 2],
            0.0,
            Seen::Limb(degree),
            chance,
        );
    }
    let [plate_depth, rete_depth] = truth.depths_mm;
    for number in 0..6 {
        let rim = Point::polar(3.0, Angle::from_deg(60.0 * f64::from(number) + begin));
        mark(rim, truth.hole, plate_depth, Seen::HoleEdge, chance);
    }
    let latitude = Latitude::from_deg(truth.latitude).unwrap();
    let plate = brass.plate(latitude);
    let tropic = Latitude::asin(brass.obliquity().sin());
    let radii = [tropic, -tropic].map(|circle| brass.projection().radius(circle));
    let (inner, outer) = (radii[0].min(radii[1]), radii[0].max(radii[1]));
    let on = |line: &LineId| match plate.trace(line).unwrap() {
        Trace::Circline(line) => line,
        Trace::HourCurve(_) => panic!("drawn as arcs"),
    };
    let altitudes = [
        0.0, 0.0, 0.0, 20.0, 20.0, 30.0, 30.0, 40.0, 40.0, 50.0, 50.0, 60.0, 60.0, 70.0, 0.0,
    ];
    let mut lines: Vec<(OfPlate, LineId)> = vec![
        (OfPlate::Capricorn, LineId::TropicOfCapricorn),
        (OfPlate::Capricorn, LineId::TropicOfCapricorn),
        (OfPlate::Capricorn, LineId::TropicOfCapricorn),
        (OfPlate::Capricorn, LineId::TropicOfCapricorn),
        (OfPlate::Equator, LineId::Equator),
        (OfPlate::Equator, LineId::Equator),
        (OfPlate::Equator, LineId::Equator),
        (OfPlate::Cancer, LineId::TropicOfCancer),
        (OfPlate::Cancer, LineId::TropicOfCancer),
        (OfPlate::Cancer, LineId::TropicOfCancer),
        (OfPlate::Meridian, LineId::MeridianLine),
        (OfPlate::Meridian, LineId::MeridianLine),
    ];
    for altitude in altitudes {
        let altitude = Latitude::from_deg(altitude).unwrap();
        lines.push((
            OfPlate::Almucantar(altitude),
            LineId::Almucantar(Minutes::nearest(altitude.deg())),
        ));
    }
    for hour in [2, 4, 9] {
        let hour = UnequalHour::new(hour).unwrap();
        lines.push((OfPlate::UnequalHour(hour), LineId::UnequalHour(hour)));
    }
    for (of, line) in lines {
        let hour = matches!(of, OfPlate::UnequalHour(_));
        let circle = on(&line);
        let reach = (inner * 0.999, outer * 1.001);
        let found = (0..50).find_map(|_| {
            let point = on_line(&circle, reach.0, reach.1, chance)?;
            (!hour || plate.carries(&line, point)).then_some(point)
        });
        if let Some(point) = found {
            mark(
                point + truth.plate_off,
                truth.hole,
                plate_depth,
                Seen::OfPlate(of),
                chance,
            );
        }
    }
    let rete = brass.rete();
    let turn = Angle::from_deg(truth.rete_turn);
    let ring_off = Point {
        x: 0.0,
        y: truth.ring_off_mm,
    };
    for number in 0..10 {
        let degree = Angle::from_deg(36.0 * f64::from(number) + begin);
        let point = (rete.point(RetePoint::Degree(degree), 0.0) + ring_off).turned(turn);
        mark(point, truth.hole, rete_depth, Seen::Degree(degree), chance);
    }
    let stars = astrolabe_stars().filter(|star| {
        brass
            .stars()
            .iter()
            .any(|one| one.designation == star.designation)
    });
    for star in stars.take(14) {
        let place = star.mean_place(sky::JulianEpoch::from_year(truth.year).unwrap());
        let point = rete
            .point(
                RetePoint::Place(place.right_ascension, place.declination),
                0.0,
            )
            .turned(turn);
        mark(point, truth.hole, rete_depth, Seen::Star(star), chance);
    }
    Photograph {
        name: "invented".to_owned(),
        hemisphere: truth.hemisphere,
        size_px: SIZE,
        limb_diameter: Some(instrument::Length::from_mm(2.0 * truth.limb_mm)),
        marks,
    }
}

fn eye(limb_mm: f64, chance: &mut Chance) -> Eye {
    Eye::at(
        chance.between(0.0, 35.0).to_radians(),
        chance.between(0.0, std::f64::consts::TAU),
        chance.between(0.0, std::f64::consts::TAU),
        chance.between(0.9, 2.2),
        limb_mm,
        chance.between(-0.03, 0.03),
    )
}

/// Errors beside what is said of them, gathered.
#[derive(Default)]
struct Gathered {
    off: Vec<f64>,
    within: Vec<f64>,
}

impl Gathered {
    fn add(&mut self, off: f64, within: f64) {
        self.off.push(off);
        self.within.push(within);
    }

    fn rms(&self) -> f64 {
        (self.off.iter().map(|one| one * one).sum::<f64>() / self.off.len() as f64).sqrt()
    }

    fn covered(&self) -> f64 {
        let pairs = self.off.iter().zip(&self.within);
        let good = pairs.filter(|(off, within)| off.abs() <= **within).count();
        good as f64 / self.off.len() as f64
    }
}

#[test]
fn instruments_are_found_in_their_pictures_and_as_well_as_is_said() {
    let mut chance = Chance(Dice::seeded(20_261_127));
    let [
        mut latitude,
        mut plate,
        mut ring,
        mut year,
        mut centring,
        mut ring_off,
    ] = std::array::from_fn::<Gathered, 6, _>(|_| Gathered::default());
    let mut doubted = 0;
    let mut marks = 0;
    let rounds = times(40, 300);
    for round in 0..rounds {
        let hemisphere = if round % 4 == 3 {
            Hemisphere::South
        } else {
            Hemisphere::North
        };
        let (truth, brass) = truth(&mut chance, hemisphere);
        let eye = eye(truth.limb_mm, &mut chance);
        let photograph = marked(&truth, &brass, &eye, 1.0, &mut chance);
        marks += photograph.marks.len();
        assert!((40..=90).contains(&photograph.marks.len()));
        let found = Photographed::of(&photograph).unwrap_or_else(|why| panic!("{round}: {why}"));
        doubted += found.marks.iter().filter(|one| one.doubtful).count();
        let one = found.latitude.unwrap();
        latitude.add(one.at.deg() - truth.latitude, one.within.deg());
        let one = found.plate_obliquity.unwrap();
        plate.add(one.at.deg() - truth.obliquity, one.within.deg());
        let one = found.ring_obliquity.unwrap();
        ring.add(one.at.deg() - truth.obliquity, one.within.deg());
        let one = found.year.unwrap();
        year.add(one.at - truth.year, one.within);
        for (one, should) in [
            (found.off_noon.unwrap(), truth.plate_off.x),
            (found.off_west.unwrap(), truth.plate_off.y),
        ] {
            centring.add(one.at * truth.limb_mm - should, one.within * truth.limb_mm);
        }
        let one = found.ring_off.unwrap();
        ring_off.add(
            one.at * truth.limb_mm - truth.ring_off_mm,
            one.within * truth.limb_mm,
        );
        assert_ne!(found.hour_lines, Some(HourLines::Curves), "{round}");
    }
    for (what, one, most) in [
        ("latitude, in degrees", &latitude, 0.065),
        ("obliquity of the tropics, in degrees", &plate, 0.065),
        ("obliquity of the ring, in degrees", &ring, 0.065),
        ("year of the stars", &year, 5.0),
        ("plate off the hole, in mm", &centring, 0.065),
        ("ring off its place, in mm", &ring_off, 0.065),
    ] {
        tell(
            &format!("{what}, from photographs marked to a pixel at 3000 across"),
            rounds,
            &format!(
                "off by {:.3} as a rule, {:.0} % within what is said",
                one.rms(),
                100.0 * one.covered()
            ),
        );
        assert!(one.rms() < most, "{what}: {}", one.rms());
    }
    let all = [&latitude, &plate, &ring, &year, &centring, &ring_off];
    let covered = all.iter().map(|one| one.covered()).sum::<f64>() / all.len() as f64;
    assert!((0.60..0.76).contains(&covered), "{covered}");
    // One in some hundred thousand is so far off by chance.
    assert!(doubted * 500 < marks, "{doubted} of {marks} were doubted");
}

#[test]
fn a_wrong_point_is_named() {
    let mut chance = Chance(Dice::seeded(1391));
    let [mut wrong, mut named, mut others] = [0, 0, 0];
    let rounds = times(30, 300);
    for _ in 0..rounds {
        let (truth, brass) = truth(&mut chance, Hemisphere::North);
        let eye = eye(truth.limb_mm, &mut chance);
        let mut photograph = marked(&truth, &brass, &eye, 1.0, &mut chance);
        let mut spoiled = Vec::new();
        for (number, mark) in photograph.marks.iter_mut().enumerate() {
            if chance.part() < 0.05 {
                let away = chance.between(25.0, 300.0);
                let (sine, cosine) = chance.between(0.0, std::f64::consts::TAU).sin_cos();
                mark.at_px[0] += away * cosine;
                mark.at_px[1] += away * sine;
                spoiled.push(number);
            }
        }
        let found = Photographed::of(&photograph).unwrap();
        for (number, mark) in found.marks.iter().enumerate() {
            match (spoiled.contains(&number), mark.doubtful) {
                (true, true) => named += 1,
                (false, true) => others += 1,
                (true, false) | (false, false) => {}
            }
        }
        wrong += spoiled.len();
        let off = found.latitude.unwrap().at.deg() - truth.latitude;
        assert!(off.abs() < 0.3, "wrong points moved the latitude by {off}");
    }
    tell(
        "photographs with one point in twenty wrong by 25 to 300 pixels",
        rounds,
        &format!("{named} of {wrong} named, and {others} that were right"),
    );
    assert!(named * 100 >= wrong * 95, "{named} of {wrong}");
    assert!(others * 20 < wrong, "{others}");
}

/// An example of such a file, and what is found in it.
#[test]
fn the_example_is_what_it_was_made_from() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../data/measurements/from-a-picture.toml");
    let mut chance = Chance(Dice::seeded(1326));
    let (truth, brass) = truth(&mut chance, Hemisphere::North);
    let eye = eye(truth.limb_mm, &mut chance);
    let photograph = marked(&truth, &brass, &eye, 1.0, &mut chance);
    let mut text = format!(
        "# Invented: what one might mark in the photograph of an astrolabe that nobody has seen.\n\
         version = 1\nname = \"astrolabe from a picture\"\n\
         description = \"Invented, to show what is found in a photograph of a front.\"\n\
         picture_px = [{}, {}]\nlimb_diameter_mm = {:.1}\nmarks = [\n",
        SIZE[0],
        SIZE[1],
        2.0 * truth.limb_mm
    );
    for mark in &photograph.marks {
        text.push_str(&format!(
            "[{:.1}, {:.1}, \"{}\"],\n",
            mark.at_px[0], mark.at_px[1], mark.of
        ));
    }
    text.push_str("]\n");
    if std::env::var_os("ALMURI_WRITE_EXAMPLE").is_some() {
        std::fs::write(&path, &text).unwrap();
    }
    assert_eq!(std::fs::read_to_string(&path).unwrap(), text);
    let read = Photograph::from_toml(&text).unwrap();
    assert!(Photograph::is_one(&text));
    let of = |marks: &[Mark]| {
        marks
            .iter()
            .map(|one| one.of.to_string())
            .collect::<Vec<_>>()
    };
    assert_eq!(of(&read.marks), of(&photograph.marks));
    let found = Photographed::of(&read).unwrap();
    let latitude = found.latitude.unwrap();
    assert!((latitude.at.deg() - truth.latitude).abs() < 3.0 * latitude.within.deg());
    let year = found.year.unwrap();
    assert!((year.at - truth.year).abs() < 3.0 * year.within);
}

#[test]
fn what_is_not_seen_is_not_told_and_too_little_is_refused() {
    let mut chance = Chance(Dice::seeded(7));
    let (truth, brass) = truth(&mut chance, Hemisphere::North);
    let eye = eye(truth.limb_mm, &mut chance);
    let whole = marked(&truth, &brass, &eye, 1.0, &mut chance);
    let with = |is: fn(&Seen) -> bool| {
        let marks = whole.marks.iter().filter(|mark| is(&mark.of));
        Photograph {
            marks: marks.cloned().collect(),
            ..whole.clone()
        }
    };
    // The limb alone tells of the camera and of nothing else.
    let found = Photographed::of(&with(|seen| matches!(seen, Seen::Limb(_)))).unwrap();
    assert_eq!((found.latitude, found.year), (None, None));
    assert_eq!((found.plate_obliquity, found.ring_obliquity), (None, None));
    assert_eq!(found.hour_lines, None);
    // Without the rete there is no year.
    let plate = with(|seen| !matches!(seen, Seen::Star(_) | Seen::Degree(_) | Seen::Ecliptic));
    let found = Photographed::of(&plate).unwrap();
    assert!(found.latitude.is_some() && found.year.is_none() && found.rete_turn.is_none());
    let no_limb = with(|seen| matches!(seen, Seen::Star(_)));
    assert_eq!(Photographed::of(&no_limb), Err(TooLittle::Limb(0)));
    let mut one_place = with(|seen| matches!(seen, Seen::Limb(_)));
    for mark in &mut one_place.marks {
        mark.at_px = [100.0, 100.0];
    }
    assert!(Photographed::of(&one_place).is_err());
}

#[test]
fn marks_that_no_hand_makes_end_in_words_or_in_numbers() {
    let mut dice = Dice::seeded(3);
    let mut chance = Chance(Dice::seeded(4));
    let mut understood = 0;
    let (truth, brass) = truth(&mut chance, Hemisphere::South);
    let eye = eye(truth.limb_mm, &mut chance);
    let mut limb = marked(&truth, &brass, &eye, 1.0, &mut chance).marks;
    limb.retain(|mark| matches!(mark.of, Seen::Limb(_)));
    for round in 0..times(10, 400) {
        // Every other one has a limb that is right.
        let right = if round % 2 == 0 {
            limb.clone()
        } else {
            Vec::new()
        };
        let wrong = (0..dice.below(30)).map(|_| {
            let of = match dice.below(6) {
                0 => Seen::Hole,
                1 => Seen::Ecliptic,
                2 => Seen::Degree(Angle::from_deg(chance.between(0.0, 360.0))),
                3 => Seen::OfPlate(OfPlate::Equator),
                _ => Seen::Limb(Angle::from_deg(chance.between(0.0, 360.0))),
            };
            Mark {
                at_px: [chance.between(-1e4, 1e4), chance.between(-1e4, 1e4)],
                of,
            }
        });
        let marks = right.into_iter().chain(wrong).collect();
        let photograph = Photograph {
            name: "nothing".to_owned(),
            hemisphere: Hemisphere::South,
            size_px: SIZE,
            limb_diameter: None,
            marks,
        };
        if let Ok(found) = Photographed::of(&photograph) {
            understood += 1;
            assert!(found.scatter_px.is_finite());
            assert!(found.marks.iter().all(|one| one.off_px.is_finite()));
        }
    }
    assert!(understood > 0, "some are taken for a limb");
}
