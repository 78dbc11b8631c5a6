use std::collections::{HashMap, VecDeque};

use spade::handles::{DirectedEdgeHandle, FaceHandle, FixedFaceHandle, InnerTag, PossiblyOuterTag};
use spade::{CdtEdge, ConstrainedDelaunayTriangulation, HasPosition, Point2, Triangulation};

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
        let mut within = told_within(&parted).ok_or(Unparted::Crossing)?;
        let meeting = filled(&parted, &mut within);
        if !meeting.is_empty() {
            let places = meeting.into_iter().filter_map(|n| spots.get(n).copied());
            return Err(Unparted::Meeting(places.collect()));
        }
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

/// No triangle of the ground that is broader than this, in steps of the grid, is filled:
/// a fiftieth of a millimetre, which no tool leaves standing.
const SLIVER: f64 = 20.0;

/// Fills slivers of the ground between edges of the relief that touch: where two lines touch
/// each other at a small angle, as an almucantar does that touches a tropic, their edges run
/// into each other again and again. Answers with the corners at which edges meet all the same.
fn filled(
    parted: &ConstrainedDelaunayTriangulation<Corner>,
    within: &mut [Option<Within>],
) -> Vec<usize> {
    let mut met: Vec<usize> = Vec::new();
    let mut next: VecDeque<_> = parted.vertices().map(|vertex| vertex.fix()).collect();
    // Each round but the last of a corner fills a triangle, of which there are so many.
    while let Some(corner) = next.pop_front() {
        let corner = parted.vertex(corner);
        let around: Vec<_> = corner.out_edges().map(|edge| edge.face()).collect();
        let of = |face: &Around<'_>| within.get(face.index()).copied().flatten();
        let all: Vec<Within> = around.iter().filter_map(of).collect();
        let turns = |what: fn(&Within) -> bool| {
            let beyond = all.iter().cycle().skip(1);
            let turns = all.iter().zip(beyond);
            turns
                .filter(|(one, other)| what(one) != what(other))
                .count()
        };
        if [turns(|one| one.plan), turns(|one| one.hollow)]
            .into_iter()
            .any(|turns| turns > 2)
        {
            met.push(corner.index());
        } else if turns(|one| one.relief) > 2 {
            let gaps = gaps(&around, &all);
            let narrowest = gaps
                .into_iter()
                .min_by(|a, b| a.breadth.total_cmp(&b.breadth));
            let Some(gap) = narrowest.filter(|gap| gap.breadth <= SLIVER) else {
                met.push(corner.index());
                continue;
            };
            for face in gap.faces {
                if let Some(Some(known)) = within.get_mut(face.index()) {
                    known.relief = true;
                }
                next.extend(face.vertices().map(|vertex| vertex.fix()));
            }
        }
    }
    met.sort_unstable();
    met.dedup();
    met
}

type Around<'a> = FaceHandle<'a, PossiblyOuterTag, Corner, (), CdtEdge<()>, ()>;

/// Triangles of the ground between two edges of the relief, about the corner where they meet.
struct Gap<'a> {
    faces: Vec<FaceHandle<'a, InnerTag, Corner, (), CdtEdge<()>, ()>>,
    /// How broad the broadest of them is, in steps of the grid; without end where the ground
    /// goes on beyond all triangles.
    breadth: f64,
}

/// The gaps about a corner, from the faces about it in their order.
fn gaps<'a>(around: &[Around<'a>], within: &[Within]) -> Vec<Gap<'a>> {
    let mut gaps: Vec<Gap<'a>> = Vec::new();
    let begin = within.iter().position(|one| one.relief).unwrap_or(0);
    let faces = around.iter().zip(within).cycle().skip(begin);
    let mut after_relief = true;
    for (face, within) in faces.take(around.len()) {
        if within.relief {
            after_relief = true;
            continue;
        }
        if std::mem::take(&mut after_relief) {
            gaps.push(Gap {
                faces: Vec::new(),
                breadth: 0.0,
            });
        }
        if let Some(gap) = gaps.last_mut() {
            match face.as_inner() {
                Some(face) if within.plan => {
                    gap.breadth = gap.breadth.max(breadth(&face));
                    gap.faces.push(face);
                }
                Some(_) | None => gap.breadth = f64::INFINITY,
            }
        }
    }
    gaps
}

/// The least breadth of a triangle: from its longest side to the corner across.
fn breadth(face: &FaceHandle<'_, InnerTag, Corner, (), CdtEdge<()>, ()>) -> f64 {
    let sides = face.adjacent_edges().map(|edge| edge.length_2());
    2.0 * face.area() / sides.into_iter().fold(0.0, f64::max).sqrt()
}

/// Within what each triangle lies, found from the outside inwards: who crosses an edge of
/// the plan enters it or leaves it. None where two ways to a triangle tell different things.
fn told_within(parted: &ConstrainedDelaunayTriangulation<Corner>) -> Option<Vec<Option<Within>>> {
    let mut within: Vec<Option<Within>> = vec![None; parted.num_all_faces()];
    let outer = parted.outer_face().index();
    *within.get_mut(outer)? = Some(Within::default());
    let mut next: VecDeque<FixedFaceHandle<InnerTag>> = VecDeque::new();
    let beyond = |from: Within, edge: DirectedEdgeHandle<'_, Corner, (), CdtEdge<()>, ()>| {
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
