use sky::{Angle, Latitude};

use crate::circline::Circline;
use crate::fineness::Fineness;
use crate::instrument::Instrument;
use crate::line::LineId;
use crate::minutes::Minutes;
use crate::point::Point;
use crate::specification::Hemisphere;
use crate::stroke::{Line, Stroke, clipped};

/// Steps between the horizons of a plate for all latitudes, in degrees, finest first.
const STEPS: [u8; 6] = [1, 2, 3, 5, 10, 15];

/// The quarters of a plate of horizons.
const QUARTERS: u8 = 4;

/// Latitudes this near to 0° have the axis of their quarter for a horizon.
const OF_THE_EQUATOR_DEG: f64 = 1e-9;

/// The latitudes of a plate for all of them: from the equator to below the pole, by the
/// finest step that the size carries.
///
/// Neighbours in a quarter are four steps apart. They stand closest near the equator, where
/// they meet the inner tropic at hour angles that change with the latitude by the tangent of
/// the obliquity (from cos H = −tan φ tan ε).
pub(crate) fn all_latitudes(
    fineness: Fineness,
    obliquity: Angle,
    hemisphere: Hemisphere,
) -> Vec<Latitude> {
    let ratio = fineness.equator_mm() / fineness.outer_tropic_mm();
    let inner_mm = fineness.equator_mm() * ratio;
    let apart = |step: &u8| {
        let turn = Angle::from_deg(f64::from(QUARTERS * step)).rad();
        inner_mm * turn * obliquity.tan() >= fineness.least_gap().mm()
    };
    let step = STEPS.into_iter().find(apart).unwrap_or(15);
    let side = match hemisphere {
        Hemisphere::North => 1.0,
        Hemisphere::South => -1.0,
    };
    (0..90_u8)
        .step_by(usize::from(step))
        .filter_map(|deg| Latitude::from_deg(f64::from(deg) * side).ok())
        .collect()
}

impl Instrument {
    /// The lines of the plate of horizons: the eastern horizons of its latitudes
    /// between the tropics, shared out among four quarters so that neighbours stand
    /// apart, with the quarter in which each stands (0 to 3, by quarter turns).
    ///
    /// To use one, the plate's quarter is thought turned back: the horizon then lies
    /// as on the plate of its own latitude. In its quarter every horizon runs through one
    /// point of the equator. They crowd there, so every second one ends before it, and of
    /// those left every second again nearer to it. One that has room nowhere is left out
    /// (W. H. Morley, *Description of a Planispheric Astrolabe*, 1856, on the tablet of
    /// horizons, from memory; that lines end before they crowd is our own).
    #[must_use]
    pub fn horizon_lines(&self) -> Vec<(u8, Line)> {
        let mut latitudes = self.specification().parts.horizons.clone();
        latitudes.sort_by(|a, b| a.deg().abs().total_cmp(&b.deg().abs()));
        latitudes.dedup();
        (0..QUARTERS)
            .flat_map(|quarter| {
                let own = latitudes.iter().skip(usize::from(quarter));
                let own: Vec<Latitude> = own.step_by(usize::from(QUARTERS)).copied().collect();
                let turn = Angle::QUARTER_TURN * f64::from(quarter);
                self.fan(&own).into_iter().map(move |line| {
                    let strokes = line.strokes.iter().map(|stroke| stroke.turned(turn));
                    let strokes = strokes.collect();
                    (quarter, Line { strokes, ..line })
                })
            })
            .collect()
    }

    /// The eastern horizons of some latitudes, from the equator polewards, in their places
    /// for a plate of their own.
    fn fan(&self, latitudes: &[Latitude]) -> Vec<Line> {
        let gap_mm = self.fineness().least_gap().mm();
        // The horizon of the equator is the axis of the quarter, which is there in any case.
        let mut horizons = vec![self.plate(Latitude::ZERO).horizon()];
        let from_axis = latitudes
            .first()
            .is_some_and(|first| first.deg().abs() < OF_THE_EQUATOR_DEG);
        let others = latitudes.get(usize::from(from_axis)..).unwrap_or_default();
        horizons.extend(
            others
                .iter()
                .map(|latitude| self.plate(*latitude).horizon()),
        );
        let named = std::iter::once(Latitude::ZERO).chain(others.iter().copied());
        named
            .enumerate()
            .skip(usize::from(!from_axis))
            .map(|(n, latitude)| Line {
                id: LineId::HorizonOf(Minutes::nearest(latitude.deg())),
                strokes: self.eastern(&horizons, n, gap_mm),
            })
            .filter(|line| !line.strokes.is_empty())
            .collect()
    }

    /// What is drawn of one of some horizons: its eastern half between the tropics, as far as
    /// it stands clear of its neighbours.
    fn eastern(&self, horizons: &[Circline], n: usize, gap_mm: f64) -> Vec<Stroke> {
        let Some(line) = horizons.get(n) else {
            return Vec::new();
        };
        let outer_mm = self.fineness().outer_tropic_mm();
        let outer = Circline::circle(Point::POLE, outer_mm);
        let inner = self.projection().parallel(self.inner_tropic());
        let meridian = Circline::straight(Point::POLE, Point { x: 1.0, y: 0.0 });
        let within = |p: Point| outer.value(p) <= 1e-9 && inner.value(p) >= -1e-9 && p.y < 0.0;
        if n == 0 {
            return clipped(line, &[outer, inner, meridian], within);
        }
        // Its neighbours of the same rank or a higher one: of odd numbers the next ones, of
        // twice odd numbers those two away, and so on.
        let rank = 1_usize << n.trailing_zeros();
        let beside = [n.checked_sub(rank), n.checked_add(rank)];
        let beside: Vec<&Circline> = beside
            .into_iter()
            .flatten()
            .filter_map(|at| horizons.get(at))
            .collect();
        let east = Point {
            x: 0.0,
            y: -self.projection().equator_mm(),
        };
        let about = |radius: f64| Circline::circle(east, radius);
        let clear = |radius: &f64| {
            let met = line.meets(&about(*radius)).into_iter();
            let mut met = met.filter(|p| within(*p)).peekable();
            met.peek().is_some()
                && met.all(|p| beside.iter().all(|other| other.distance_mm(p) >= gap_mm))
        };
        let mut radii = std::iter::successors(Some(gap_mm), |radius| Some(radius * 1.02))
            .take_while(|radius| *radius < outer_mm);
        let Some(about) = radii.find(clear).map(about) else {
            return Vec::new();
        };
        clipped(line, &[outer, inner, meridian, about], |p| {
            within(p) && about.value(p) >= -1e-9
        })
    }

    /// The declination of the inner tropic: of the pole's side.
    fn inner_tropic(&self) -> Latitude {
        let tropic = Latitude::from_deg(self.obliquity().deg()).unwrap_or_default();
        match self.specification().hemisphere {
            Hemisphere::North => tropic,
            Hemisphere::South => -tropic,
        }
    }
}
