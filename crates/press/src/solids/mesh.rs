use crate::plane::grid::{height_mm, mm};

/// The surface of a solid: triangles whose corners are counted anticlockwise as they are
/// seen from outside. Corners are places of the grid, the third
/// coordinate in steps of heights; no two have the same place.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Mesh {
    pub(super) corners: Vec<[i32; 3]>,
    pub(super) triangles: Vec<[u32; 3]>,
}

fn in_mm([x, y, z]: [i32; 3]) -> [f64; 3] {
    [mm(x), mm(y), height_mm(z)]
}

impl Mesh {
    /// Puts a corner down, whose place no other has, and gives its number.
    pub(super) fn corner(&mut self, at: [i32; 3]) -> u32 {
        self.corners.push(at);
        u32::try_from(self.corners.len() - 1).unwrap_or(u32::MAX)
    }

    /// The place of a corner, in millimetres.
    pub(super) fn place_mm(&self, corner: u32) -> [f64; 3] {
        let at = usize::try_from(corner)
            .ok()
            .and_then(|n| self.corners.get(n));
        in_mm(at.copied().unwrap_or_default())
    }

    /// Its least and its greatest coordinates, in millimetres.
    pub(crate) fn bounds_mm(&self) -> ([f64; 3], [f64; 3]) {
        let mut low = [i32::MAX; 3];
        let mut high = [i32::MIN; 3];
        for corner in &self.corners {
            for ((low, high), at) in low.iter_mut().zip(&mut high).zip(corner) {
                *low = (*low).min(*at);
                *high = (*high).max(*at);
            }
        }
        (in_mm(low), in_mm(high))
    }

    /// Its volume, in cubic millimetres.
    pub(crate) fn volume_mm3(&self) -> f64 {
        let sixfold: f64 = self
            .triangles
            .iter()
            .map(|triangle| {
                let [[ax, ay, az], [bx, by, bz], [cx, cy, cz]] =
                    triangle.map(|corner| self.place_mm(corner));
                ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)
            })
            .sum();
        sixfold / 6.0
    }

    /// Whether it is closed: every edge belongs to two triangles, which run along it in
    /// opposite senses, no triangle is without area, and what is within is more than nothing.
    pub(crate) fn is_closed(&self) -> bool {
        // Each edge once with its lesser corner first, and whether it runs so.
        let mut edges: Vec<(u32, u32, bool)> = Vec::with_capacity(self.triangles.len() * 3);
        for [a, b, c] in &self.triangles {
            for (from, to) in [(*a, *b), (*b, *c), (*c, *a)] {
                edges.push((from.min(to), from.max(to), from < to));
            }
        }
        edges.sort_unstable();
        let pairs = edges.as_chunks::<2>();
        let paired = |[one, other]: &[(u32, u32, bool); 2]| {
            one.0 == other.0 && one.1 == other.1 && one.2 != other.2 && one.0 != one.1
        };
        // Four triangles at one edge would be two pairs that are alike.
        let alone = pairs.0.array_windows().all(|[one, next]| {
            let ends = |pair: &[(u32, u32, bool); 2]| {
                let [first, _] = pair;
                (first.0, first.1)
            };
            ends(one) != ends(next)
        });
        pairs.1.is_empty()
            && pairs.0.iter().all(paired)
            && alone
            && self
                .triangles
                .iter()
                .all(|triangle| self.has_area(triangle))
            && self.volume_mm3() > 0.0
    }

    fn has_area(&self, triangle: &[u32; 3]) -> bool {
        let at = |corner: u32| {
            let at = usize::try_from(corner)
                .ok()
                .and_then(|n| self.corners.get(n));
            at.copied().unwrap_or_default().map(i64::from)
        };
        let [a, b, c] = triangle.map(at);
        let less = |p: [i64; 3], q: [i64; 3]| [p[0] - q[0], p[1] - q[1], p[2] - q[2]];
        let ([ux, uy, uz], [vx, vy, vz]) = (less(b, a), less(c, a));
        [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx] != [0, 0, 0]
    }
}
