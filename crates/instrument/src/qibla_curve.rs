use sky::Angle;

use crate::instrument::Instrument;
use crate::listed_place::ListedPlace;
use crate::point::Point;

/// The curve along which the Sun stands in the direction of Mecca at a place, as the quadrant
/// of the Sun's altitudes bears it.
#[derive(Clone, Debug, PartialEq)]
pub struct QiblaCurve {
    /// The place whose it is.
    pub place: ListedPlace,
    /// Its pieces, each from a lower altitude to a higher one: none where the Sun is never
    /// there, and gaps where others stand too close.
    pub pieces: Vec<Vec<Point>>,
}

/// The two ways in which such a curve can meet the arc of a day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CurveLeg {
    /// Followed upwards, it comes to more northern declinations of the Sun.
    Northward,
    /// Followed upwards, it comes to more southern ones.
    Southward,
}

/// As many places have a curve of their own.
const MOST: usize = 12;

/// Of a curve that gives way to others, no run shorter than so many least gaps is left.
const SHORTEST_RUN: f64 = 10.0;

impl QiblaCurve {
    /// The altitudes of the Sun between which it is engraved, from low to high.
    #[must_use]
    pub fn spans(&self) -> Vec<(Angle, Angle)> {
        let altitude = |p: &Point| Angle::QUARTER_TURN - p.direction();
        let ends = self.pieces.iter();
        ends.filter_map(|piece| Some((altitude(piece.first()?), altitude(piece.last()?))))
            .collect()
    }
}

impl Instrument {
    /// The curves of the qibla for the first places of the gazetteer, each as far as it stands
    /// clear of those before it.
    #[must_use]
    pub fn qibla_curves(&self) -> Vec<QiblaCurve> {
        let places = self.specification().parts.gazetteer.iter().take(MOST);
        let quadrant = self.sun_quadrant();
        let whole = places.clone().map(|place| {
            let direction = place.qibla();
            direction.map_or_else(Vec::new, |direction| {
                quadrant.direction_curve(place.latitude, direction)
            })
        });
        let least = SHORTEST_RUN * self.fineness().least_gap().mm();
        let kept = quadrant.kept_apart(whole.collect());
        let curves = places.zip(kept).map(|(place, mut pieces)| {
            if pieces.iter().any(|piece| length(piece) >= least) {
                pieces.retain(|piece| length(piece) >= least);
            }
            QiblaCurve {
                place: place.clone(),
                pieces,
            }
        });
        curves.collect()
    }
}

/// How long a run of points is, in millimetres.
fn length(piece: &[Point]) -> f64 {
    let steps = piece.windows(2).map(|ends| match ends {
        [from, to] => (*to - *from).radius(),
        _ => 0.0,
    });
    steps.sum()
}
