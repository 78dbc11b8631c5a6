use instrument::Point;
use sky::{Angle, Latitude};

use crate::contour::Contour;
use crate::figure_sheet::FigureSheet;
use crate::ledger::Ledger;
use crate::ledger_sheet::{Circle, Measures};
use crate::page::{Leaf, Page};
use crate::piece::Piece;
use crate::scene::{Metal, Region, Weight};

/// The radius of the ecliptic, in millimetres, and how far beyond it anything stands.
const ECLIPTIC: f64 = 60.0;
const EDGE: f64 = 74.0;

const MEASURES: Measures = Measures {
    ledger: Ledger {
        x_mm: 82.0,
        half_height_mm: 76.0,
        pitch_mm: 5.8,
        limb_mm: (EDGE, EDGE),
        outwards: true,
    },
    half_width: 134.0,
    body: 4.2,
    cusp: 3.6,
    told: 3.5,
    columns: 4,
    limb: 3.0,
    star: None,
    dot: 0.95,
    tags: false,
};

impl FigureSheet {
    /// A plain circle: the ecliptic divided evenly, horizon and meridian across it, what
    /// stands in the figure off the circle by its latitude.
    pub(crate) fn round_leaf(&self) -> Leaf {
        let plain = FigureSheet {
            stars: Vec::new(),
            lines_told: String::new(),
            ..self.clone()
        };
        plain.ledger_leaf(&Plain { sheet: self }, &MEASURES)
    }
}

struct Plain<'a> {
    sheet: &'a FigureSheet,
}

impl Plain<'_> {
    /// Where a longitude is drawn: clockwise from the right.
    fn direction(&self, longitude: Angle) -> Angle {
        let orientation = self.sheet.orientation;
        let east = if orientation.east_is_left() {
            Angle::HALF_TURN
        } else {
            Angle::ZERO
        };
        let onward = self.sheet.ascendant.unwrap_or_default().to(longitude);
        // The signs follow one another against the hours.
        if orientation.clockwise() {
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
}

impl Circle for Plain<'_> {
    /// A degree of latitude is as long as one of longitude on the circle.
    fn place(&self, longitude: Angle, latitude: Latitude) -> Point {
        let off = ECLIPTIC * latitude.angle().rad();
        self.at(longitude, (ECLIPTIC - off).clamp(1.0, EDGE - 1.0))
    }

    fn draw(&self, page: &mut Page) {
        let disc = Contour::circle(Point::POLE, EDGE);
        page.fill(Metal::Sky, vec![Region::whole(disc)]);
        if let Some(ascendant) = self.sheet.ascendant {
            let (east, west) = (
                self.at(ascendant, EDGE),
                self.at(ascendant + Angle::HALF_TURN, EDGE),
            );
            // The first six houses lie below.
            let below = self.at(ascendant + Angle::QUARTER_TURN, EDGE);
            let sweep = east.direction().to(below.direction()) * 2.0;
            let half = Contour::closed(
                east,
                vec![Piece::Arc {
                    centre: Point::POLE,
                    sweep,
                    to: west,
                }],
            );
            page.fill(Metal::Ground, vec![Region::whole(half)]);
            page.line(Weight::Strong, vec![Contour::line(east, west)]);
        }
        if let Some(midheaven) = self.sheet.midheaven.filter(|_| !self.sheet.blank) {
            let lower = self.at(midheaven + Angle::HALF_TURN, EDGE);
            let meridian = Contour::line(self.at(midheaven, EDGE), lower);
            page.line(Weight::Middle, vec![meridian]);
        }
        let (mut single, mut five, mut sign) = (Vec::new(), Vec::new(), Vec::new());
        for deg in 0..360_u32 {
            let longitude = Angle::from_deg(f64::from(deg));
            let stroke = |long: f64| self.radial(longitude, ECLIPTIC, ECLIPTIC - long);
            match deg {
                _ if deg.is_multiple_of(30) => sign.push(stroke(8.5)),
                _ if deg.is_multiple_of(5) => five.push(stroke(2.0)),
                _ => single.push(stroke(1.1)),
            }
        }
        page.line(Weight::Hair, single);
        page.line(Weight::Fine, five);
        page.line(Weight::Middle, sign);
        page.line(Weight::Edge, vec![Contour::circle(Point::POLE, ECLIPTIC)]);
    }

    fn tie(&self, longitude: Angle, latitude: Latitude) -> Contour {
        let from = self.place(longitude, latitude);
        Contour::line(from, self.at(longitude, ECLIPTIC))
    }

    fn sign_spots(&self, sign: usize) -> Vec<(Point, Angle)> {
        const RADIUS: f64 = ECLIPTIC - 5.4;
        [15.0, 12.0, 18.0, 9.0, 21.0, 6.0, 24.0, 27.0, 3.5]
            .map(|deg| {
                let longitude = Angle::from_deg(30.0 * sign as f64 + deg);
                (self.at(longitude, RADIUS), Angle::ZERO)
            })
            .to_vec()
    }

    fn sign_mm(&self) -> f64 {
        4.2
    }

    fn limb_letters(&self) -> Vec<(String, Point)> {
        Vec::new()
    }

    fn is_ground(&self, _: Point) -> bool {
        false
    }

    fn strong_lines(&self) -> Vec<Contour> {
        Vec::new()
    }
}
