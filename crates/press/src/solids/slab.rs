use std::collections::HashMap;

use super::faces::{Faces, Unparted, Within};
use super::mesh::Mesh;
use crate::plane::area::with_squares;
use crate::plane::grid::{Ring, Spot};

/// A flat part: a plan, and what is on each of its sides.
pub(super) struct Slab {
    /// The edges of its plan.
    pub(super) plan: Vec<Ring>,
    /// Its upper side.
    pub(super) above: Side,
    /// Its lower side.
    pub(super) below: Side,
}

/// A side of a slab, by its heights.
#[derive(Clone, Debug, Default)]
pub(super) struct Side {
    /// The height of its ground.
    pub(super) ground: i32,
    /// What is engraved or raised. It touches neither the plan's edges nor the hollow's.
    pub(super) relief: Vec<Ring>,
    /// The height of that.
    pub(super) relief_at: i32,
    /// A hollow, and the height of its floor.
    pub(super) hollow: Vec<Ring>,
    pub(super) floor: i32,
    /// The height of what is engraved or raised there.
    pub(super) floor_relief_at: i32,
}

impl Side {
    fn height(&self, within: Within) -> i32 {
        match (within.relief, within.hollow) {
            (true, true) => self.floor_relief_at,
            (true, false) => self.relief_at,
            (false, true) => self.floor,
            (false, false) => self.ground,
        }
    }

    /// It in triangles. Where edges of the relief meet in a point only, and no sliver lies
    /// between them, a little square joins what meets there.
    fn faces(&self, plan: &[Ring]) -> Option<Faces> {
        let mut relief = self.relief.clone();
        for reach in REACHES {
            match Faces::of(plan, &self.hollow, &relief) {
                Ok(faces) => return Some(faces),
                Err(Unparted::Meeting(spots)) => relief = with_squares(relief, &spots, reach),
                Err(Unparted::Crossing) => return None,
            }
        }
        None
    }
}

/// How far the squares reach that join what only touches, in steps of the grid: edges may
/// touch again beside a small one.
const REACHES: [i32; 4] = [3, 5, 8, 12];

/// The corners of a side by their place in the plan and their height.
struct Corners<'a> {
    spots: &'a [Spot],
    heights: [i32; 4],
    numbers: Vec<[Option<u32>; 4]>,
}

impl<'a> Corners<'a> {
    fn of(side: &Side, spots: &'a [Spot]) -> Corners<'a> {
        Corners {
            spots,
            heights: [
                side.ground,
                side.relief_at,
                side.floor,
                side.floor_relief_at,
            ],
            numbers: vec![[None; 4]; spots.len()],
        }
    }

    fn at(&mut self, spot: usize, height: i32, mesh: &mut Mesh) -> Option<u32> {
        let level = self.heights.iter().position(|one| *one == height)?;
        let known = self.numbers.get_mut(spot)?.get_mut(level)?;
        if known.is_none() {
            let place = self.spots.get(spot)?;
            *known = Some(mesh.corner([place.x, place.y, height]));
        }
        *known
    }
}

impl Slab {
    /// Its surface; none where edges cross that should not.
    pub(super) fn mesh(&self) -> Option<Mesh> {
        let above = self.above.faces(&self.plan)?;
        let below = self.below.faces(&self.plan)?;
        let mut mesh = Mesh::default();
        let mut lower = Corners::of(&self.below, &below.spots);
        // The corners of the lower side along the plan's edges, by the two ends.
        let mut rim: HashMap<[Spot; 2], [u32; 2]> = HashMap::new();
        for face in &below.triangles {
            let height = self.below.height(face.within);
            let mut own = [0; 3];
            for (own, spot) in own.iter_mut().zip(face.corners) {
                *own = lower.at(spot, height, &mut mesh)?;
            }
            let [a, b, c] = own;
            mesh.triangles.push([a, c, b]);
            for (n, beyond) in face.beyond.into_iter().enumerate() {
                let (from, to) = (face.corners[n], face.corners[(n + 1) % 3]);
                let (own_from, own_to) = (own[n], own[(n + 1) % 3]);
                let there = self.below.height(beyond);
                if !beyond.plan {
                    let ends = [*below.spots.get(from)?, *below.spots.get(to)?];
                    rim.insert(ends, [own_from, own_to]);
                } else if from < to && there != height {
                    let other_from = lower.at(from, there, &mut mesh)?;
                    let other_to = lower.at(to, there, &mut mesh)?;
                    mesh.triangles.push([own_from, own_to, other_to]);
                    mesh.triangles.push([own_from, other_to, other_from]);
                }
            }
        }
        let mut upper = Corners::of(&self.above, &above.spots);
        for face in &above.triangles {
            let height = self.above.height(face.within);
            let mut own = [0; 3];
            for (own, spot) in own.iter_mut().zip(face.corners) {
                *own = upper.at(spot, height, &mut mesh)?;
            }
            mesh.triangles.push(own);
            for (n, beyond) in face.beyond.into_iter().enumerate() {
                let (from, to) = (face.corners[n], face.corners[(n + 1) % 3]);
                let (own_from, own_to) = (own[n], own[(n + 1) % 3]);
                let there = self.above.height(beyond);
                let under = if !beyond.plan {
                    let ends = [*above.spots.get(from)?, *above.spots.get(to)?];
                    rim.remove(&ends)?
                } else if from < to && there != height {
                    [
                        upper.at(from, there, &mut mesh)?,
                        upper.at(to, there, &mut mesh)?,
                    ]
                } else {
                    continue;
                };
                let [under_from, under_to] = under;
                mesh.triangles.push([own_to, own_from, under_from]);
                mesh.triangles.push([own_to, under_from, under_to]);
            }
        }
        rim.is_empty().then_some(mesh)
    }
}
