use sky::{Angle, Latitude};

use super::Town;
use super::packed::{TownBlock, gazetteer};

/// The Earth's mean radius.
const EARTH_KM: f64 = 6371.0;

impl Town {
    /// The town nearest to a point (longitude east positive), and how many
    /// kilometres away it is, on a globe; good to half a per cent.
    #[must_use]
    pub fn nearest(latitude: Latitude, longitude: Angle) -> Option<(Town, f64)> {
        let here = (latitude.deg(), longitude.signed().deg());
        let mut blocks: Vec<(f64, &TownBlock)> = gazetteer()
            .town_blocks()
            .iter()
            .map(|block| (least_km(block, here), block))
            .collect();
        blocks.sort_by(|(a, _), (b, _)| a.total_cmp(b));
        let mut nearest: Option<(Town, f64)> = None;
        for (least, block) in blocks {
            if nearest.as_ref().is_some_and(|(_, km)| *km <= least) {
                break;
            }
            for town in gazetteer().towns_in(block) {
                let km = apart_km(here, (town.latitude.deg(), town.longitude.deg()));
                if nearest.as_ref().is_none_or(|(_, least)| km < *least) {
                    nearest = Some((town, km));
                }
            }
        }
        nearest
    }
}

/// No town of the block is nearer than this.
pub(super) fn least_km(block: &TownBlock, (latitude, longitude): (f64, f64)) -> f64 {
    let [south, north, west, east] = block.edges_deg();
    // The way east from the block's western edge; beyond its width, the nearer edge.
    let from_west = (longitude - west).rem_euclid(360.0);
    let width = east - west;
    let off = if from_west <= width {
        0.0
    } else {
        (from_west - width).min(360.0 - from_west)
    };
    if off <= 0.0 {
        let off = (south - latitude).max(latitude - north).max(0.0);
        return off.to_radians() * EARTH_KM;
    }
    // The least distance to a meridian arc: its ends, or the foot of the
    // perpendicular if that lies on it.
    let edge = |at: f64| apart_km((latitude, 0.0), (at, off));
    let foot = libm::atan2(
        libm::tan(latitude.to_radians()),
        libm::cos(off.to_radians()),
    )
    .to_degrees();
    let ends = edge(south).min(edge(north));
    if (south..=north).contains(&foot) {
        ends.min(edge(foot))
    } else {
        ends
    }
}

/// Great-circle distance by the haversine, exact for neighbours too.
pub(super) fn apart_km((a_lat, a_lon): (f64, f64), (b_lat, b_lon): (f64, f64)) -> f64 {
    let sine_of_half = |degrees: f64| libm::sin(degrees.to_radians() / 2.0);
    let (north, east) = (sine_of_half(b_lat - a_lat), sine_of_half(b_lon - a_lon));
    let cosines = libm::cos(a_lat.to_radians()) * libm::cos(b_lat.to_radians());
    let half = (north * north + cosines * east * east).sqrt().min(1.0);
    2.0 * EARTH_KM * libm::asin(half)
}
