use instrument::{Hemisphere, Instrument, LineId, Point, Rete};
use sky::{Angle, Latitude};

use crate::contour::Contour;
use crate::face::Face;
use crate::label_box::LabelBox;
use crate::lettering::Lettering;
use crate::limb::is_multiple;
use crate::measures::Measures;
use crate::pen::Pen;
use crate::scene::{Dash, Weight};
use crate::sign_glyph::sign_glyph;
use crate::thinning::Thinning;

/// The ecliptic ring: its edges are circles about one centre, its strokes follow
/// the circles of ecliptic latitude.
#[derive(Clone, Copy, Debug)]
pub(crate) struct EclipticRing {
    pub(crate) centre: Point,
    /// The radius of the outer edge, the ecliptic itself.
    pub(crate) outer: f64,
    /// The radius of the inner edge.
    pub(crate) inner: f64,
    /// The widths of the graduation, of the numbers (0 without) and of the whole.
    graduation: f64,
    numbers: f64,
    /// The sign of the ecliptic latitudes inside the ecliptic.
    inward: f64,
}

/// The sign of the ecliptic latitudes inside the ecliptic.
fn inward(hemisphere: Hemisphere) -> f64 {
    match hemisphere {
        Hemisphere::North => 1.0,
        Hemisphere::South => -1.0,
    }
}

impl EclipticRing {
    pub(crate) fn of(instrument: &Instrument, m: &Measures) -> EclipticRing {
        let rete = instrument.rete();
        // The ecliptic passes through both tropics, so it is never a straight line.
        let (centre, outer) = rete
            .ecliptic()
            .as_circle()
            .unwrap_or((Point::POLE, m.tropic));
        let graduation = 0.35 + 0.0095 * m.mater;
        let numbered = 0.9 * m.type_size;
        let numbers = match m.type_for(numbered * 0.62, 0.8) {
            Some(_) => numbered,
            None => 0.0,
        };
        let names = (1.15 * m.type_size).max(0.042 * m.mater);
        EclipticRing {
            centre,
            outer,
            inner: outer - graduation - numbers - names,
            graduation,
            numbers,
            inward: inward(instrument.projection().hemisphere()),
        }
    }

    /// A plain one of a width, without numbers.
    pub(crate) fn of_width(rete: &Rete, hemisphere: Hemisphere, width: f64) -> EclipticRing {
        let (centre, outer) = rete.ecliptic().as_circle().unwrap_or_default();
        EclipticRing {
            centre,
            outer,
            inner: outer - width,
            graduation: 0.0,
            numbers: 0.0,
            inward: inward(hemisphere),
        }
    }

    /// The circle of latitude of a degree, from the ecliptic inwards to a depth.
    fn stroke(&self, rete: &Rete, longitude: Angle, depth: f64) -> Contour {
        let from = rete.degree(longitude);
        Contour::arc_by(
            from,
            self.inwards(rete, longitude, depth / 2.0),
            self.inwards(rete, longitude, depth),
        )
    }

    /// The point of a degree's circle of latitude at a depth below the ecliptic.
    pub(crate) fn inwards(&self, rete: &Rete, longitude: Angle, depth: f64) -> Point {
        let depth_at = |deg: f64| {
            let latitude = Latitude::from_deg(deg * self.inward).unwrap_or_default();
            let p = rete.zodiacal_point(longitude, latitude);
            (p, self.outer - (p - self.centre).radius())
        };
        // Depth grows with latitude almost in proportion: the secant settles at once.
        let (mut low, mut high) = ((0.0, 0.0), (5.0, depth_at(5.0).1));
        for _ in 0..8 {
            let slope = (high.1 - low.1) / (high.0 - low.0);
            let next = (high.0 + (depth - high.1) / slope).clamp(0.0, 60.0);
            low = high;
            high = (next, depth_at(next).1);
            if (high.1 - depth).abs() < 1e-9 || (high.0 - low.0).abs() < 1e-12 {
                break;
            }
        }
        depth_at(high.0).0
    }

    /// The radius in the middle of the band of names.
    pub(crate) fn names_radius(&self) -> f64 {
        f64::midpoint(self.outer - self.graduation - self.numbers, self.inner)
    }

    pub(crate) fn engrave(&self, pen: &mut Pen<'_>, rete: &Rete) {
        let circle = |radius: f64| Contour::circle(self.centre, radius);
        let numbered = self.outer - self.graduation;
        pen.plain(Weight::Fine, &[circle(numbered)]);
        if self.numbers > 0.0 {
            pen.plain(Weight::Hair, &[circle(numbered - self.numbers)]);
        }
        self.strokes(pen, rete);
        pen.line(LineId::Ecliptic, Weight::Edge, &[circle(self.outer)]);
        self.names(pen, rete);
        self.degrees(pen, rete);
    }

    fn strokes(&self, pen: &mut Pen<'_>, rete: &Rete) {
        let whole = self.outer - self.inner;
        let (mut hair, mut fine, mut signs) = (Vec::new(), Vec::new(), Vec::new());
        for longitude in pen.instrument.ecliptic_strokes() {
            let deg = longitude.deg();
            if is_multiple(deg, 30.0) {
                signs.push(self.stroke(rete, longitude, whole));
                // No name may stand on it.
                let middle = self.inwards(rete, longitude, self.outer - self.names_radius());
                let band = self.names_radius() - self.inner;
                let along = pen.direction(middle - self.centre);
                pen.keep_free(LabelBox::new(
                    pen.drawn(middle),
                    2.0 * band,
                    0.2 * band,
                    along,
                ));
            } else if is_multiple(deg, 5.0) {
                fine.push(self.stroke(rete, longitude, self.graduation));
            } else if is_multiple(deg, 1.0) {
                hair.push(self.stroke(rete, longitude, self.graduation * 0.62));
            } else {
                hair.push(self.stroke(rete, longitude, self.graduation * 0.38));
            }
        }
        pen.scale(LineId::Ecliptic, Weight::Hair, &hair);
        pen.scale(LineId::Ecliptic, Weight::Fine, &fine);
        pen.scale(LineId::Ecliptic, Weight::Middle, &signs);
        let division = pen.instrument.specification().ecliptic_division.deg();
        pen.thins(Thinning::divided(
            "degrees of the ecliptic",
            division,
            0.5,
            "°",
            "ecliptic_division_deg",
        ));
    }

    fn degrees(&self, pen: &mut Pen<'_>, rete: &Rete) {
        let m = pen.measures;
        let Some(size) = m.type_for(self.numbers * 0.62, 0.8) else {
            pen.unlettered("numbers of the ecliptic's degrees");
            return;
        };
        for sign in 0..12 {
            for deg in [10.0, 20.0] {
                let longitude = Angle::from_deg(f64::from(sign) * 30.0 + deg);
                let middle = self.inwards(rete, longitude, self.graduation + self.numbers / 2.0);
                let baseline = pen.round(self.centre, middle);
                let number = Lettering {
                    text: format!("{deg:.0}"),
                    size_mm: size,
                    face: Face::Italic,
                    baseline,
                    clears: false,
                    line: Some(LineId::Ecliptic),
                };
                pen.letter_or_tell(number, "some of the numbers of the ecliptic's degrees");
            }
        }
    }

    /// The sign's character and, where the arc is long enough, its name.
    fn names(&self, pen: &mut Pen<'_>, rete: &Rete) {
        let m = pen.measures;
        let band = self.outer - self.inner - self.graduation - self.numbers;
        let radius = self.names_radius();
        let depth = self.outer - radius;
        let size = m.type_for(band * 0.46, 1.35);
        if size.is_none() {
            pen.unlettered("names of the signs, beside their characters");
        }
        let names = pen.instrument.specification().parts.signs.signs();
        for (sign, name) in names.iter().enumerate() {
            #[expect(clippy::cast_precision_loss, reason = "one of twelve signs")]
            let begins = sign as f64 * 30.0;
            let place = |deg: f64| self.inwards(rete, Angle::from_deg(begins + deg), depth);
            let (from, to) = (place(0.0) - self.centre, place(30.0) - self.centre);
            let span = from.direction().to(to.direction());
            let room = span.rad().abs() * radius;
            let glyph = band * 0.62;
            let lettered = size.map(|size| (size, crate::lettering::width(name) * size));
            let named = lettered.filter(|(_, length)| glyph * 1.6 + length < room * 0.92);
            let gap = glyph * 0.45;
            let whole = named.map_or(glyph, |(_, length)| glyph + gap + length);
            // Reading runs clockwise as drawn; the zodiac may run either way.
            let sense = if pen.instrument.orientation().clockwise() {
                1.0
            } else {
                -1.0
            };
            let spare = (room * 0.9 - whole).max(0.0);
            // In the middle of the sign, or beside a star that stands there.
            let tries = [0.0, 0.5, -0.5, 0.9, -0.9].map(|part| part * spare / 2.0);
            for shift in tries {
                let middle = from.direction() + span * 0.5;
                let along = |mm: f64| {
                    let direction = middle + Angle::from_rad((mm + shift) / radius) * sense;
                    self.centre + Point::polar(radius, direction)
                };
                let at = along((glyph - whole) / 2.0);
                let upright = pen.direction(at - self.centre) + Angle::QUARTER_TURN;
                let space = LabelBox::new(pen.drawn(at), glyph, glyph, upright);
                let lettering = named.map(|(size_mm, length)| Lettering {
                    text: (*name).to_owned(),
                    size_mm,
                    face: Face::Roman,
                    baseline: pen.round(self.centre, along((whole - length) / 2.0)),
                    clears: false,
                    line: None,
                });
                let named_freely = lettering.as_ref().is_none_or(|one| pen.has_room(one));
                let last = shift <= tries.iter().copied().fold(0.0, f64::min);
                if !(last || named_freely && pen.is_free(&space)) {
                    continue;
                }
                let contours = sign_glyph(sign, pen.drawn(at), glyph, upright);
                pen.put_drawn(None, Weight::Middle, Dash::Whole, contours);
                if let Some(lettering) = lettering {
                    pen.letter_or_tell(lettering, "some of the names of the signs");
                }
                pen.keep_free(space);
                break;
            }
        }
    }
}
