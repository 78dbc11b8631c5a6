use std::collections::{HashMap, VecDeque};

use spade::{
    ConstrainedDelaunayTriangulation, HasPosition, Point2, Triangulation, handles::FixedFaceHandle,
};

use crate::plane::grid::{Ring, Spot};

/// Within what a triangle lies: in the plan of the solid, in its hollow, in what is
/// engraved or raised.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Within {
    pub(super) plan: bool,
    pub(super) hollow: bool,
    pub(super) relief: bool,
}

/// Of what a corner is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Edge {
    Plan,
    Hollow,
    Relief,
}

/// One side of a solid seen from above, parted into triangles: every edge of plan, hollow
/// and relief is an edge of triangles, and on both sides of each there is one.
pub(super) struct Faces {
    pub(super) spots: Vec<Spot>,
    /// Corners counted anticlockwise, and for each edge (from each corner to the next)
    /// within what the triangle beyond it lies.
    pub(super) triangles: Vec<Face>,
}

/// A triangle of a side.
#[derive(Clone, Copy, Debug)]
pub(super) struct Face {
    pub(super) corners: [usize; 3],
    pub(super) within: Within,
    pub(super) beyond: [Within; 3],
}

/// Why a side cannot be parted.
pub(super) enum Unparted {
    /// Edges of the relief meet in these places without crossing.
    Meeting(Vec<Spot>),
    /// Edges cross, or lie on one another, where they should not.
    Crossing,
}

struct Corner {
    at: Point2<f64>,
    edge: Edge,
}

impl HasPosition for Corner {
    type Scalar = f64;

    fn position(&self) -> Point2<f64> {
        self.at
    }
}

impl Faces {
    /// The triangles within a plan.
    pub(super) fn of(plan: &[Ring], hollow: &[Ring], relief: &[Ring]) -> Result<Faces, Unparted> {
        let mut spots: Vec<Spot> = Vec::new();
        let mut corners: Vec<Corner> = Vec::new();
        let mut edges: Vec<[usize; 2]> = Vec::new();
        let mut known: HashMap<(i32, i32), usize> = HashMap::new();
        for (edge, rings) in [
            (Edge::Plan, plan),
            (Edge::Hollow, hollow),
            (Edge::Relief, relief),
        ] {
            for ring in rings {
                let numbers: Vec<usize> = ring
                    .iter()
                    .map(|spot| {
                        *known.entry((spot.x, spot.y)).or_insert_with(|| {
                            spots.push(*spot);
                            corners.push(Corner {
                                at: Point2::new(f64::from(spot.x), f64::from(spot.y)),
                                edge,
                            });
                            spots.len() - 1
                        })
                    })
                    .collect();
                let next = numbers.iter().cycle().skip(1);
                edges.extend(numbers.iter().zip(next).map(|(from, to)| [*from, *to]));
            }
        }
        let mut crossing = false;
        // Predicates are exact, and whole numbers are so in double precision too.
        let parted =
            ConstrainedDelaunayTriangulation::<Corner>::try_bulk_load_cdt(corners, edges, |_| {
                crossing = true
            });
        let parted = parted.map_err(|_| Unparted::Crossing)?;
        if crossing || parted.num_vertices() != spots.len() {
            return Err(Unparted::Crossing);
        }
        let meeting = meeting(&parted);
        if !meeting.is_empty() {
            let places = meeting.into_iter().filter_map(|n| spots.get(n).copied());
            return Err(Unparted::Meeting(places.collect()));
        }
        let within = told_within(&parted).ok_or(Unparted::Crossing)?;
        let of = |face: usize| within.get(face).copied().flatten().unwrap_or_default();
        let triangles = parted
            .inner_faces()
            .filter(|face| of(face.index()).plan)
            .map(|face| {
                let around = face.adjacent_edges();
                Face {
                    corners: around.map(|edge| edge.from().index()),
                    within: of(face.index()),
                    beyond: around.map(|edge| of(edge.rev().face().index())),
                }
            })
            .collect();
        Ok(Faces { spots, triangles })
    }
}

/// Corners at which more than two edges meet.
fn meeting(parted: &ConstrainedDelaunayTriangulation<Corner>) -> Vec<usize> {
    let mut ends = vec![0_u8; parted.num_vertices()];
    for edge in parted
        .undirected_edges()
        .filter(|edge| edge.is_constraint_edge())
    {
        for vertex in edge.vertices() {
            if let Some(count) = ends.get_mut(vertex.index()) {
                *count = count.saturating_add(1);
            }
        }
    }
    let ends = ends.into_iter().enumerate();
    ends.filter_map(|(vertex, count)| (count > 2).then_some(vertex))
        .collect()
}

/// Within what each triangle lies, found from the outside inwards: who crosses an edge of
/// the plan enters it or leaves it. None where two ways to a triangle tell different things.
fn told_within(parted: &ConstrainedDelaunayTriangulation<Corner>) -> Option<Vec<Option<Within>>> {
    let mut within: Vec<Option<Within>> = vec![None; parted.num_all_faces()];
    let outer = parted.outer_face().index();
    *within.get_mut(outer)? = Some(Within::default());
    let mut next: VecDeque<FixedFaceHandle<spade::handles::InnerTag>> = VecDeque::new();
    let beyond =
        |from: Within,
         edge: spade::handles::DirectedEdgeHandle<'_, Corner, (), spade::CdtEdge<()>, ()>| {
            if !edge.is_constraint_edge() {
                return Some(from);
            }
            let (a, b) = (edge.from().data().edge, edge.to().data().edge);
            (a == b).then_some(match a {
                Edge::Plan => Within {
                    plan: !from.plan,
                    ..from
                },
                Edge::Hollow => Within {
                    hollow: !from.hollow,
                    ..from
                },
                Edge::Relief => Within {
                    relief: !from.relief,
                    ..from
                },
            })
        };
    for edge in parted.convex_hull() {
        let inner = edge.rev().face();
        let told = beyond(Within::default(), edge)?;
        let known = within.get_mut(inner.index())?;
        if known.replace(told).is_some_and(|known| known != told) {
            return None;
        }
        next.extend(inner.as_inner().map(|face| face.fix()));
    }
    while let Some(face) = next.pop_front() {
        let face = parted.face(face);
        let from = (*within.get(face.index())?)?;
        for edge in face.adjacent_edges() {
            let other = edge.rev().face();
            let told = beyond(from, edge)?;
            let known = within.get_mut(other.index())?;
            match known {
                Some(known) if *known != told => return None,
                Some(_) => {}
                None => {
                    *known = Some(told);
                    next.extend(other.as_inner().map(|face| face.fix()));
                }
            }
        }
    }
    Some(within)
}
