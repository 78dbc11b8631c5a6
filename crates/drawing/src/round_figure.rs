use instrument::{House, Point};
use sky::Angle;

use crate::contour::{Contour, Piece};
use crate::figure_sheet::{FigureSheet, Page, Placement, Written};
use crate::lettering::{CAPITAL, Face, width};
use crate::scene::{Scene, Weight};
use crate::spread::{Spread, spread};

/// Radii, in millimetres, from the outside in.
const LABELS: f64 = 91.2;
const LEADER: f64 = 90.6;
const ZODIAC: f64 = 88.0;
const SCALE: f64 = 77.5;
const SCALE_INNER: f64 = 74.5;
const POINTER: f64 = 73.0;
const POINTER_END: f64 = 68.0;
const GLYPHS: f64 = 64.4;
const DEGREES: f64 = 56.0;
const MINUTES: f64 = 49.2;
const BACKWARD: f64 = 44.0;
const HOUSES: f64 = 39.5;
const CENTRE: f64 = 32.5;

/// Glyphs and letters, in millimetres.
const SIGN_MM: f64 = 5.6;
const PLANET_MM: f64 = 5.2;
const TYPE_MM: f64 = 3.7;
const SMALL_MM: f64 = 3.0;
const NUMERAL_MM: f64 = 2.8;

/// Half the room of a body as seen from the middle: two glyphs side by side on a
/// slant, each in its square, need 5.2 mm times √2 at 64 mm.
const BODY_HALF_DEG: f64 = 3.4;
/// The room a cusp's line wants between the bodies.
const LINE_HALF_DEG: f64 = 1.3;
/// Half the room of a cusp's degree: 10.5 mm at 95 mm.
const CUSP_HALF_DEG: f64 = 3.2;
/// And of a numeral: VIII is 4.7 mm long, at 36 mm.
const NUMERAL_HALF_DEG: f64 = 4.5;

impl FigureSheet {
    /// The round figure: the signs on a ring with every degree, the houses within
    /// it, each body at its degree with its degree and minute written towards the
    /// middle.
    #[must_use]
    pub fn round(&self) -> Scene {
        self.round_page()
            .scene(&self.title, &self.description, "figure")
    }

    pub(crate) fn round_page(&self) -> Page {
        let mut page = Page::default();
        for radius in [ZODIAC, SCALE, SCALE_INNER, HOUSES, CENTRE] {
            let weight = match radius {
                ZODIAC | SCALE_INNER => Weight::Edge,
                _ => Weight::Fine,
            };
            page.line(weight, vec![Contour::circle(Point::POLE, radius)]);
        }
        self.signs(&mut page);
        self.bodies(&mut page);
        self.cusps(&mut page);
        // A chord below or above the middle is shorter than the diameter.
        let chord = |y: f64| (CENTRE * CENTRE * 0.86 - y * y).max(0.0).sqrt();
        page.writing(&self.centre, 4.2, CENTRE * 0.8, chord);
        page
    }

    /// Where a longitude is drawn: clockwise from the right.
    fn direction(&self, longitude: Angle) -> Angle {
        let east = if self.orientation.east_is_left() {
            Angle::HALF_TURN
        } else {
            Angle::ZERO
        };
        let onward = self.ascendant.to(longitude);
        // The signs follow one another against the hours.
        if self.orientation.clockwise() {
            east - onward
        } else {
            east + onward
        }
    }

    fn at(&self, longitude: Angle, radius: f64) -> Point {
        Point::polar(radius, self.direction(longitude))
    }

    fn radial(&self, longitude: Angle, from: f64, to: f64) -> Contour {
        Contour::line(self.at(longitude, from), self.at(longitude, to))
    }

    fn signs(&self, page: &mut Page) {
        let (mut single, mut five, mut border) = (Vec::new(), Vec::new(), Vec::new());
        for deg in 0..360_u32 {
            let longitude = Angle::from_deg(f64::from(deg));
            if deg % 30 == 0 {
                border.push(self.radial(longitude, ZODIAC, SCALE_INNER));
            } else if deg % 5 == 0 {
                let from = if deg % 10 == 0 { SCALE + 1.4 } else { SCALE };
                five.push(self.radial(longitude, from, SCALE_INNER));
            } else {
                single.push(self.radial(longitude, SCALE - 1.4, SCALE_INNER));
            }
        }
        page.line(Weight::Hair, single);
        page.line(Weight::Fine, five);
        page.line(Weight::Middle, border);
        for sign in 0..12_u8 {
            let middle = Angle::from_deg(f64::from(sign) * 30.0 + 15.0);
            let place = self.at(middle, (ZODIAC + SCALE + 1.4) / 2.0);
            page.sign(usize::from(sign), place, SIGN_MM, Weight::Edge);
        }
    }

    /// The bodies, each as near its degree as its neighbours and the lines of the
    /// cusps leave room.
    fn bodies(&self, page: &mut Page) {
        let bodies = self.marks.iter().map(|mark| Spread {
            at_deg: self.direction(mark.longitude).deg(),
            half_deg: BODY_HALF_DEG,
            moves: true,
        });
        let lines = self.cusps.iter().chain([&self.ascendant, &self.midheaven]);
        let mut things: Vec<Spread> = bodies.collect();
        for line in lines {
            let line = Spread {
                at_deg: self.direction(*line).deg(),
                half_deg: LINE_HALF_DEG,
                moves: false,
            };
            let same = |one: &Spread| !one.moves && (one.at_deg - line.at_deg).abs() < 1.0;
            if !things.iter().any(same) {
                things.push(line);
            }
        }
        for (placement, label) in self.marks.iter().zip(spread(&things)) {
            self.body(page, placement, Angle::from_deg(label));
        }
    }

    fn body(&self, page: &mut Page, placement: &Placement, label: Angle) {
        let exact = self.direction(placement.longitude);
        page.line(Weight::Fine, vec![pointer(exact, label)]);
        let written = Written::of(placement.longitude);
        page.glyph(placement.mark, Point::polar(GLYPHS, label), PLANET_MM);
        for (text, size, radius) in [
            (format!("{}°", written.deg), TYPE_MM, DEGREES),
            (format!("{:02}′", written.min), SMALL_MM, MINUTES),
        ] {
            page.text(&text, size, Face::Roman, Point::polar(radius, label));
        }
        if placement.retrograde {
            page.text("r", SMALL_MM, Face::Italic, Point::polar(BACKWARD, label));
        }
    }

    fn cusps(&self, page: &mut Page) {
        const SAME: Angle = Angle::from_arcsec(1.0);
        let is_angle = |longitude: Angle| {
            [self.ascendant, self.midheaven].iter().any(|angle| {
                let away = angle.to(longitude).abs();
                away < SAME || away > Angle::HALF_TURN - SAME
            })
        };
        let mut lines: Vec<(Angle, Weight)> = self
            .cusps
            .iter()
            .map(|cusp| {
                let weight = if is_angle(*cusp) {
                    Weight::Strong
                } else {
                    Weight::Fine
                };
                (*cusp, weight)
            })
            .collect();
        for angle in [self.ascendant, self.midheaven] {
            let on_cusp = self.cusps.iter().any(|cusp| angle.to(*cusp).abs() < SAME);
            if !on_cusp {
                lines.push((angle, Weight::Strong));
            }
        }
        let labels: Vec<Spread> = lines
            .iter()
            .map(|(longitude, _)| Spread {
                at_deg: self.direction(*longitude).deg(),
                half_deg: CUSP_HALF_DEG,
                moves: true,
            })
            .collect();
        for ((longitude, weight), label) in lines.into_iter().zip(spread(&labels)) {
            self.cusp_label(page, longitude, weight, Angle::from_deg(label));
            page.broken_line(
                weight,
                self.at(longitude, SCALE_INNER),
                self.at(longitude, HOUSES),
            );
            page.line(Weight::Fine, vec![self.radial(longitude, HOUSES, CENTRE)]);
        }
        self.numerals(page);
        self.arrow(page, self.ascendant);
        self.arrow(page, self.midheaven);
    }

    /// The numerals of the houses, in the middle of each unless it is too narrow.
    fn numerals(&self, page: &mut Page) {
        let next = self.cusps.iter().cycle().skip(1);
        let middles: Vec<Spread> = self
            .cusps
            .iter()
            .zip(next)
            .map(|(begins, ends)| Spread {
                at_deg: self
                    .direction(*begins + (*ends - *begins).in_turn() / 2.0)
                    .deg(),
                half_deg: NUMERAL_HALF_DEG,
                moves: true,
            })
            .collect();
        for (house, middle) in House::ALL.into_iter().zip(spread(&middles)) {
            let middle = Point::polar((HOUSES + CENTRE) / 2.0, Angle::from_deg(middle));
            page.text(&house.to_string(), NUMERAL_MM, Face::Roman, middle);
        }
    }

    /// The degree on a cusp, just outside the ring; larger on the angles.
    fn cusp_label(&self, page: &mut Page, longitude: Angle, weight: Weight, label: Angle) {
        let text = Written::of(longitude).text();
        let size = if weight == Weight::Strong {
            TYPE_MM
        } else {
            SMALL_MM
        };
        let (sin, cos) = label.sin_cos();
        let (half_width, half_height) = (width(&text) * size / 2.0, CAPITAL * size / 2.0);
        let radius = LABELS + half_width * cos.abs() + half_height * sin.abs();
        page.text(&text, size, Face::Roman, Point::polar(radius, label));
        let leader = Contour::line(self.at(longitude, ZODIAC), Point::polar(LEADER, label));
        page.line(weight.min(Weight::Middle), vec![leader]);
    }

    /// The head by which the ascendant and the midheaven are known, and its line
    /// through the scale.
    fn arrow(&self, page: &mut Page, longitude: Angle) {
        const LENGTH: f64 = 3.2;
        const HALF_WIDTH: f64 = 1.2;
        let direction = self.direction(longitude);
        let tip = Point::polar(SCALE_INNER, direction);
        let base = Point::polar(SCALE_INNER - LENGTH, direction);
        let across = Point::polar(HALF_WIDTH, direction + Angle::QUARTER_TURN);
        let head = vec![Piece::Line { to: tip }, Piece::Line { to: base - across }];
        page.line(Weight::Edge, vec![Contour::open(base + across, head)]);
        let through = Contour::line(
            Point::polar(SCALE_INNER, direction),
            Point::polar(SCALE, direction),
        );
        page.line(Weight::Strong, vec![through]);
    }
}

/// From a body's exact degree to its label: straight in, then sideways and inwards
/// at an even slope, so that those of a crowd run beside one another and never cross.
fn pointer(exact: Angle, label: Angle) -> Contour {
    const STEP_DEG: f64 = 3.0;
    let sideways = exact.to(label);
    let at = |part: f64| {
        let radius = POINTER + (POINTER_END - POINTER) * part;
        Point::polar(radius, exact + sideways * part)
    };
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "at most half a turn"
    )]
    let steps = (sideways.abs().deg() / STEP_DEG).ceil().max(1.0) as u32;
    let mut pieces = vec![Piece::Line { to: at(0.0) }];
    pieces.extend((1..=steps).map(|n| Piece::Line {
        to: at(f64::from(n) / f64::from(steps)),
    }));
    Contour::open(Point::polar(SCALE_INNER, exact), pieces)
}
