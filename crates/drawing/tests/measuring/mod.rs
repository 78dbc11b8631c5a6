//! Measures an SVG with nothing but the standard: paths are followed as SVG 1.1
//! defines them, parts are turned by their transforms, and places are carried
//! back to the sky by the formulas of the projection, written out here anew.

use std::f64::consts::{PI, TAU};

use instrument::{Hemisphere, Instrument, Specification, Top};
use roxmltree::{Document, Node};

/// A place on the drawing in millimetres, x right and y down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Spot {
    pub(crate) x: f64,
    pub(crate) y: f64,
}

impl Spot {
    pub(crate) fn distance(self, other: Spot) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }
}

/// One piece of a drawn line.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Drawn {
    Straight(Spot, Spot),
    /// Centre, radius, the direction of the beginning and the sweep, in radians
    /// clockwise.
    Arc(Spot, f64, f64, f64),
    Cubic([Spot; 4]),
}

impl Drawn {
    /// The place at a part of it, from 0 to 1.
    pub(crate) fn at(&self, t: f64) -> Spot {
        let mix = |p: Spot, q: Spot| Spot {
            x: p.x + (q.x - p.x) * t,
            y: p.y + (q.y - p.y) * t,
        };
        match *self {
            Drawn::Straight(p, q) => mix(p, q),
            Drawn::Arc(centre, radius, from, sweep) => {
                let (sin, cos) = (from + sweep * t).sin_cos();
                Spot {
                    x: centre.x + radius * cos,
                    y: centre.y + radius * sin,
                }
            }
            Drawn::Cubic([a, b, c, d]) => {
                let (ab, bc, cd) = (mix(a, b), mix(b, c), mix(c, d));
                mix(mix(ab, bc), mix(bc, cd))
            }
        }
    }

    /// How far a place is from a straight piece or an arc.
    pub(crate) fn distance(&self, p: Spot) -> f64 {
        let t = match *self {
            Drawn::Straight(a, b) => {
                let (x, y) = (b.x - a.x, b.y - a.y);
                ((p.x - a.x) * x + (p.y - a.y) * y) / (x * x + y * y)
            }
            Drawn::Arc(centre, _, from, sweep) => {
                let direction = (p.y - centre.y).atan2(p.x - centre.x);
                // Counted from the middle of the arc, the short way round.
                0.5 + short(direction - from - sweep / 2.0) / sweep
            }
            Drawn::Cubic(_) => panic!("distances from curves are not needed"),
        };
        self.at(t.clamp(0.0, 1.0)).distance(p)
    }
}

/// Places spread over a line, ends included.
pub(crate) fn spread(pieces: &[Drawn], steps: u32) -> Vec<Spot> {
    let along = |piece: &Drawn| {
        let piece = *piece;
        (0..=steps).map(move |n| piece.at(f64::from(n) / f64::from(steps)))
    };
    pieces.iter().flat_map(along).collect()
}

/// The lines of this name, each unbroken stroke by itself, as placed by its part.
pub(crate) fn strokes(document: &Document<'_>, name: &str) -> Vec<Vec<Drawn>> {
    document
        .descendants()
        .filter(|node| node.attribute("data-line") == Some(name))
        .flat_map(|node| {
            let place = placement(node);
            let strokes = match node.tag_name().name() {
                "circle" => {
                    let number = |key| node.attribute(key).unwrap().parse::<f64>().unwrap();
                    let centre = Spot {
                        x: number("cx"),
                        y: number("cy"),
                    };
                    vec![vec![Drawn::Arc(centre, number("r"), 0.0, TAU)]]
                }
                _ => path(node.attribute("d").unwrap()),
            };
            strokes
                .into_iter()
                .map(|pieces| pieces.into_iter().map(|p| placed(p, place)).collect())
                .collect::<Vec<Vec<Drawn>>>()
        })
        .collect()
}

/// All pieces of the lines of this name.
pub(crate) fn pieces(document: &Document<'_>, name: &str) -> Vec<Drawn> {
    strokes(document, name).into_iter().flatten().collect()
}

/// The names of all lines.
pub(crate) fn names(document: &Document<'_>) -> Vec<String> {
    let mut names: Vec<String> = document
        .descendants()
        .filter_map(|node| node.attribute("data-line"))
        .map(str::to_owned)
        .collect();
    names.sort();
    names.dedup();
    names
}

/// The shift and the turn (radians, clockwise) of the part that a line belongs to.
type Placement = (Spot, f64);

fn placement(node: Node<'_, '_>) -> Placement {
    let mut place = (Spot { x: 0.0, y: 0.0 }, 0.0);
    let Some(transform) = node.ancestors().find_map(|one| one.attribute("transform")) else {
        return place;
    };
    for function in transform.split(')').filter(|text| !text.is_empty()) {
        let (name, numbers) = function.split_once('(').unwrap();
        let numbers: Vec<f64> = numbers
            .split(' ')
            .map(|text| text.parse().unwrap())
            .collect();
        match (name.trim(), numbers.as_slice()) {
            ("translate", &[x, y]) => place.0 = Spot { x, y },
            ("rotate", &[deg]) => place.1 = deg.to_radians(),
            other => panic!("unknown transform {other:?}"),
        }
    }
    place
}

fn placed(piece: Drawn, (shift, turn): Placement) -> Drawn {
    let (sin, cos) = turn.sin_cos();
    let put = |p: Spot| Spot {
        x: p.x * cos - p.y * sin + shift.x,
        y: p.x * sin + p.y * cos + shift.y,
    };
    match piece {
        Drawn::Straight(p, q) => Drawn::Straight(put(p), put(q)),
        Drawn::Arc(centre, radius, from, sweep) => {
            Drawn::Arc(put(centre), radius, from + turn, sweep)
        }
        Drawn::Cubic(points) => Drawn::Cubic(points.map(put)),
    }
}

/// The subpaths of a path's data: absolute M, L, A, C and Z.
pub(crate) fn path(data: &str) -> Vec<Vec<Drawn>> {
    let spaced: String = data
        .chars()
        .map(|c| {
            if c.is_ascii_alphabetic() {
                format!(" {c} ")
            } else {
                c.to_string()
            }
        })
        .collect();
    let mut tokens = spaced.split_ascii_whitespace().peekable();
    let (mut strokes, mut at) = (Vec::<Vec<Drawn>>::new(), Spot { x: 0.0, y: 0.0 });
    let mut start = at;
    while let Some(command) = tokens.next() {
        let mut number = || tokens.next().unwrap().parse::<f64>().unwrap();
        let mut spot = || Spot {
            x: number(),
            y: number(),
        };
        match command {
            "M" => {
                at = spot();
                start = at;
                strokes.push(Vec::new());
                continue;
            }
            "L" => {
                let to = spot();
                strokes.last_mut().unwrap().push(Drawn::Straight(at, to));
                at = to;
            }
            "C" => {
                let points = [at, spot(), spot(), spot()];
                strokes.last_mut().unwrap().push(Drawn::Cubic(points));
                at = points[3];
            }
            "A" => {
                let (radius, _) = (number(), number());
                assert!(
                    number().abs() < f64::EPSILON,
                    "the axis of a circle is not turned"
                );
                let (large, clockwise) = (number() > 0.5, number() > 0.5);
                let to = Spot {
                    x: number(),
                    y: number(),
                };
                strokes
                    .last_mut()
                    .unwrap()
                    .push(arc(at, radius, large, clockwise, to));
                at = to;
            }
            "Z" => {
                if at.distance(start) > 1e-9 {
                    strokes.last_mut().unwrap().push(Drawn::Straight(at, start));
                }
                at = start;
            }
            other => panic!("unknown path command {other}"),
        }
    }
    strokes
}

/// From end points to centre, as in SVG 1.1, appendix F.6.5, for circles.
fn arc(from: Spot, radius: f64, large: bool, clockwise: bool, to: Spot) -> Drawn {
    let (dx, dy) = ((from.x - to.x) / 2.0, (from.y - to.y) / 2.0);
    let half = dx.hypot(dy);
    let radius = radius.max(half);
    let side = if large == clockwise { -1.0 } else { 1.0 };
    let factor = side * (radius * radius - half * half).max(0.0).sqrt() / half;
    let centre = Spot {
        x: factor * dy + (from.x + to.x) / 2.0,
        y: -factor * dx + (from.y + to.y) / 2.0,
    };
    let direction = |p: Spot| (p.y - centre.y).atan2(p.x - centre.x);
    let mut sweep = direction(to) - direction(from);
    if clockwise && sweep < 0.0 {
        sweep += TAU;
    }
    if !clockwise && sweep > 0.0 {
        sweep -= TAU;
    }
    Drawn::Arc(centre, radius, direction(from), sweep)
}

/// The sky behind a drawing: undoes its orientation and its projection.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Sky {
    pub(crate) equator_mm: f64,
    hemisphere: Hemisphere,
    top: Top,
}

/// A place by hour angle and declination, in radians.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Place {
    pub(crate) hour_angle: f64,
    pub(crate) declination: f64,
}

impl Sky {
    /// Of a drawing of an instrument; its scale is measured on the drawn equator.
    pub(crate) fn of(instrument: &Instrument, document: &Document<'_>) -> Sky {
        let equator = pieces(document, "equator");
        let &[Drawn::Arc(centre, equator_mm, ..)] = equator.as_slice() else {
            panic!("the equator is no circle: {equator:?}");
        };
        assert!(centre.x == 0.0 && centre.y == 0.0);
        let specification = instrument.specification();
        Sky {
            equator_mm,
            hemisphere: specification.hemisphere,
            top: specification.top,
        }
    }

    /// +1 for northern instruments, −1 for southern.
    pub(crate) fn sign(&self) -> f64 {
        match self.hemisphere {
            Hemisphere::North => 1.0,
            Hemisphere::South => -1.0,
        }
    }

    pub(crate) fn place(&self, spot: Spot) -> Place {
        // The bearing is counted clockwise from the top. Hours run clockwise on
        // northern instruments, from noon, which is above or below.
        let bearing = spot.x.atan2(-spot.y);
        let top = match self.top {
            Top::Noon => 0.0,
            Top::Midnight => PI,
        };
        let from_pole = 2.0 * (spot.x.hypot(spot.y) / self.equator_mm).atan();
        Place {
            hour_angle: (bearing - top) * self.sign(),
            declination: (PI / 2.0 - from_pole) * self.sign(),
        }
    }

    pub(crate) fn spot(&self, place: Place) -> Spot {
        let radius = self.equator_mm * (PI / 4.0 - place.declination * self.sign() / 2.0).tan();
        let top = match self.top {
            Top::Noon => 0.0,
            Top::Midnight => PI,
        };
        let (sin, cos) = (place.hour_angle * self.sign() + top).sin_cos();
        Spot {
            x: radius * sin,
            y: -radius * cos,
        }
    }

    /// How many millimetres a small arc of the sky, in radians, takes at a spot.
    pub(crate) fn mm(&self, arc: f64, at: Spot) -> f64 {
        let (r, e) = (at.x.hypot(at.y), self.equator_mm);
        arc.abs() * (e * e + r * r) / (2.0 * e)
    }
}

impl Place {
    /// sin h = sin φ sin δ + cos φ cos δ cos H.
    pub(crate) fn altitude(self, latitude: f64) -> f64 {
        let (sin_p, cos_p) = latitude.sin_cos();
        let (sin_d, cos_d) = self.declination.sin_cos();
        let up = sin_p * sin_d + cos_p * cos_d * self.hour_angle.cos();
        let (north, east) = self.level(latitude);
        up.atan2(north.hypot(east))
    }

    /// From north by east: tan A = −sin H cos δ / (sin δ cos φ − cos δ cos H sin φ).
    pub(crate) fn azimuth(self, latitude: f64) -> f64 {
        let (north, east) = self.level(latitude);
        east.atan2(north)
    }

    fn level(self, latitude: f64) -> (f64, f64) {
        let (sin_p, cos_p) = latitude.sin_cos();
        let (sin_d, cos_d) = self.declination.sin_cos();
        let (sin_h, cos_h) = self.hour_angle.sin_cos();
        (sin_d * cos_p - cos_d * cos_h * sin_p, -sin_h * cos_d)
    }

    /// Ecliptic longitude and latitude of a place whose right ascension is −H, as
    /// on a rete with 0° Aries on noon.
    pub(crate) fn ecliptic(self, obliquity: f64) -> (f64, f64) {
        let (sin_e, cos_e) = obliquity.sin_cos();
        let (sin_d, cos_d) = self.declination.sin_cos();
        let (sin_a, cos_a) = (-self.hour_angle).sin_cos();
        let y = cos_d * sin_a * cos_e + sin_d * sin_e;
        let z = sin_d * cos_e - cos_d * sin_a * sin_e;
        (y.atan2(cos_d * cos_a), z.asin())
    }
}

/// An angle brought to (−π, π].
pub(crate) fn short(angle: f64) -> f64 {
    angle.sin().atan2(angle.cos())
}

/// An instrument of a size, hemisphere and orientation, with further lines of its
/// specification.
pub(crate) fn instrument(
    diameter_mm: f64,
    hemisphere: &str,
    orientation: &str,
    more: &str,
) -> Instrument {
    let text = format!(
        "version = 1\nname = \"measured\"\ndiameter_mm = {diameter_mm:.3}\nepoch_year = 2025\n\
         obliquity_deg = 23.44\nplates_deg = [0]\nhemisphere = \"{hemisphere}\"\n\
         orientation = \"{orientation}\"\n{more}"
    );
    Instrument::new(Specification::from_toml(&text).unwrap())
}
