use instrument::Point;
use sky::{Angle, Latitude};

use crate::contour::Contour;
use crate::figure_sheet::FigureSheet;
use crate::ledger::Ledger;
use crate::ledger_sheet::{Circle, Measures};
use crate::page::{Leaf, Page};
use crate::piece::Piece;
use crate::scene::{Metal, Region, Weight};

/// How a plain circle is laid out, in millimetres.
struct Laid {
    measures: Measures,
    /// The radius of the ecliptic, and how far anything stands beyond it.
    ecliptic: f64,
    edge: f64,
    /// The signs' characters, and how far within the circle their middles stand.
    sign: f64,
    sign_within: f64,
    /// At which degrees of its sign one may stand, the best first: no nearer to the next sign
    /// than its own room.
    sign_degrees: &'static [f64],
    /// How many degrees a stroke of the circle is from the next.
    degrees: u32,
}

/// The sheet with a ledger on both sides.
const WIDE: Laid = Laid {
    measures: Measures {
        ledger: Ledger {
            x_mm: 82.0,
            half_height_mm: 76.0,
            pitch_mm: 5.8,
            limb_mm: (74.0, 74.0),
            outwards: true,
        },
        half_width: 134.0,
        body: 4.2,
        cusp: 3.6,
        beneath: 3.5,
        columns: 4,
        limb: 3.0,
        star: None,
        dot: 0.95,
        tags: false,
    },
    ecliptic: 60.0,
    edge: 74.0,
    sign: 4.2,
    sign_within: 5.4,
    sign_degrees: &[15.0, 12.0, 18.0, 9.0, 21.0, 6.0, 24.0, 27.0, 3.5],
    degrees: 1,
};

/// The sheet for a narrow page.
const NARROW: Laid = Laid {
    measures: Measures::narrow((71.0, 71.0), true),
    ecliptic: 57.0,
    edge: 71.0,
    sign: 5.8,
    sign_within: 7.0,
    sign_degrees: &[15.0, 12.0, 18.0, 9.0, 21.0, 6.0, 24.0],
    degrees: 5,
};

impl FigureSheet {
    /// A plain circle: the ecliptic divided evenly, horizon and meridian across it, what
    /// stands in the figure off the circle by its latitude.
    pub(crate) fn round_leaf(&self) -> Leaf {
        self.plain(&WIDE)
    }

    /// The same with the ledger beneath.
    pub(crate) fn narrow_round_leaf(&self) -> Leaf {
        self.plain(&NARROW)
    }

    fn plain(&self, laid: &Laid) -> Leaf {
        let plain = FigureSheet {
            stars: Vec::new(),
            about_lines: String::new(),
            ..self.clone()
        };
        plain.ledger_leaf(&Plain { sheet: self, laid }, &laid.measures)
    }
}

struct Plain<'a> {
    sheet: &'a FigureSheet,
    laid: &'a Laid,
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

    /// The line through a degree and the one opposite, from edge to edge.
    fn through(&self, longitude: Angle) -> Contour {
        let edge = self.laid.edge;
        let from = self.at(longitude, edge);
        Contour::line(from, self.at(longitude + Angle::HALF_TURN, edge))
    }

    fn horizon(&self) -> Option<Contour> {
        self.sheet
            .ascendant
            .map(|ascendant| self.through(ascendant))
    }

    fn meridian(&self) -> Option<Contour> {
        let midheaven = self.sheet.midheaven.filter(|_| !self.sheet.blank);
        midheaven.map(|midheaven| self.through(midheaven))
    }
}

impl Circle for Plain<'_> {
    /// A degree of latitude is as long as one of longitude on the circle.
    fn place(&self, longitude: Angle, latitude: Latitude) -> Point {
        let (ecliptic, edge) = (self.laid.ecliptic, self.laid.edge);
        let off = ecliptic * latitude.angle().rad();
        self.at(longitude, (ecliptic - off).clamp(1.0, edge - 1.0))
    }

    fn draw(&self, page: &mut Page) {
        let (ecliptic, edge) = (self.laid.ecliptic, self.laid.edge);
        let disc = Contour::circle(Point::POLE, edge);
        page.fill(Metal::Sky, vec![Region::whole(disc)]);
        if let Some(ascendant) = self.sheet.ascendant {
            let (east, west) = (
                self.at(ascendant, edge),
                self.at(ascendant + Angle::HALF_TURN, edge),
            );
            // The first six houses lie below.
            let below = self.at(ascendant + Angle::QUARTER_TURN, edge);
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
            page.line(Weight::Strong, self.horizon().into_iter().collect());
        }
        page.line(Weight::Middle, self.meridian().into_iter().collect());
        let (mut single, mut five, mut sign) = (Vec::new(), Vec::new(), Vec::new());
        for deg in (0..360_u32).step_by(self.laid.degrees as usize) {
            let longitude = Angle::from_deg(f64::from(deg));
            let stroke = |long: f64| self.radial(longitude, ecliptic, ecliptic - long);
            match deg {
                _ if deg.is_multiple_of(30) => sign.push(stroke(8.5)),
                _ if deg.is_multiple_of(5) => five.push(stroke(2.0)),
                _ => single.push(stroke(1.1)),
            }
        }
        page.line(Weight::Hair, single);
        page.line(Weight::Fine, five);
        page.line(Weight::Middle, sign);
        page.line(Weight::Edge, vec![Contour::circle(Point::POLE, ecliptic)]);
    }

    fn tie(&self, longitude: Angle, latitude: Latitude) -> Contour {
        let from = self.place(longitude, latitude);
        Contour::line(from, self.at(longitude, self.laid.ecliptic))
    }

    fn sign_spots(&self, sign: usize) -> Vec<(Point, Angle)> {
        let radius = self.laid.ecliptic - self.laid.sign_within;
        let spots = self.laid.sign_degrees.iter().map(|deg| {
            let longitude = Angle::from_deg(30.0 * sign as f64 + deg);
            (self.at(longitude, radius), Angle::ZERO)
        });
        spots.collect()
    }

    fn sign_mm(&self) -> f64 {
        self.laid.sign
    }

    fn limb_letters(&self) -> Vec<(String, Point)> {
        Vec::new()
    }

    fn is_ground(&self, _: Point) -> bool {
        false
    }

    fn strong_lines(&self) -> Vec<Contour> {
        self.horizon().into_iter().chain(self.meridian()).collect()
    }
}
