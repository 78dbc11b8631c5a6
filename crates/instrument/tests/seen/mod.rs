//! Drawn instruments, seen by a camera written for tests and marked with a hand's scatter.

use instrument::{
    Circline, Hemisphere, Instrument, LineId, LineShape, Mark, Minutes, OfPlate, Orientation,
    Photograph, Point, RetePoint, Seen, Specification, Top, UnequalHour,
};
use ordeal::{Dice, tell};
use sky::{Angle, Latitude, astrolabe_stars};

/// Numbers that look like chance, the same in every run.
pub(crate) struct Chance(pub(crate) Dice);

impl Chance {
    pub(crate) fn part(&mut self) -> f64 {
        (self.0.roll() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(crate) fn between(&mut self, least: f64, most: f64) -> f64 {
        least + (most - least) * self.part()
    }

    /// Scatter of Gauss's kind (G. Box and M. Muller, 1958).
    pub(crate) fn gauss(&mut self) -> f64 {
        (-2.0 * self.part().max(1e-300).ln()).sqrt() * (std::f64::consts::TAU * self.part()).cos()
    }
}

/// What is so, in millimetres and degrees.
pub(crate) struct Truth {
    pub(crate) hemisphere: Hemisphere,
    pub(crate) latitude: f64,
    pub(crate) year: f64,
    pub(crate) limb_mm: f64,
    pub(crate) plate_off: Point,
    pub(crate) ring_off_mm: f64,
    pub(crate) rete_turn: f64,
    pub(crate) depths_mm: [f64; 2],
    pub(crate) hole: [f64; 2],
}

/// A camera: rows of a turning, where the limb's middle lies before it, and how it bends.
pub(crate) struct Eye {
    pub(crate) rows: [[f64; 3]; 3],
    pub(crate) before: [f64; 3],
    pub(crate) focal: f64,
    pub(crate) bend: f64,
}

pub(crate) const SIZE: [u32; 2] = [3000, 3000];

impl Eye {
    /// Looking down at the limb, leaning by an angle towards a direction, and turned.
    pub(crate) fn at(
        lean: f64,
        towards: f64,
        turn: f64,
        focal_part: f64,
        limb_mm: f64,
        bend: f64,
    ) -> Eye {
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

    pub(crate) fn sees(&self, x: f64, y: f64, z: f64) -> [f64; 2] {
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
pub(crate) fn on_line(
    line: &Circline,
    inner: f64,
    outer: f64,
    chance: &mut Chance,
) -> Option<Point> {
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

/// One instrument in four is of the south.
pub(crate) fn hemisphere_of(round: u64) -> Hemisphere {
    if round % 4 == 3 {
        Hemisphere::South
    } else {
        Hemisphere::North
    }
}

pub(crate) fn truth(chance: &mut Chance, hemisphere: Hemisphere) -> (Truth, Instrument) {
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
pub(crate) fn marked(
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
    let on = |line: &LineId| match plate.shape(line).unwrap() {
        LineShape::Circline(line) => line,
        LineShape::HourCurve(_) => panic!("drawn as arcs"),
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

pub(crate) fn eye(limb_mm: f64, chance: &mut Chance) -> Eye {
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
pub(crate) struct Gathered {
    pub(crate) off: Vec<f64>,
    pub(crate) within: Vec<f64>,
}

impl Gathered {
    pub(crate) fn add(&mut self, off: f64, within: f64) {
        self.off.push(off);
        self.within.push(within);
    }

    pub(crate) fn rms(&self) -> f64 {
        (self.off.iter().map(|one| one * one).sum::<f64>() / self.off.len() as f64).sqrt()
    }

    /// Tells how far off they are in so many rounds, and how often within what is said.
    pub(crate) fn tell(&self, what: &str, from: &str, rounds: u64) {
        tell(
            &format!("{what}, from {from} marked to a pixel at 3000 across"),
            rounds,
            &format!(
                "off by {:.3} as a rule, {:.0} % within what is said",
                self.rms(),
                100.0 * self.covered()
            ),
        );
    }

    pub(crate) fn covered(&self) -> f64 {
        let pairs = self.off.iter().zip(&self.within);
        let good = pairs.filter(|(off, within)| off.abs() <= **within).count();
        good as f64 / self.off.len() as f64
    }
}
