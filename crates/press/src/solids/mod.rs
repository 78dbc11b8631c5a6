//! Parts as solids, for printers and mills: closed surfaces of triangles, with what is
//! engraved sunk into them or raised.
//!
//! Everything stands on one grid of whole numbers. Each side of a part is parted into
//! triangles by its edges; where triangles of different heights meet, a wall joins them, so
//! that every edge has two triangles and the surface is closed by the way it is made. It is
//! counted all the same before it is written.

mod faces;
mod mesh;
mod slab;
mod stl;
mod three_mf;
mod turned;

use drawing::{Contour, Solid, Stack, Workpiece};
use instrument::{Instrument, Length, Part, Point};
use patience::Patience;

use self::mesh::Mesh;
use self::slab::{Side, Slab};
use crate::chords::chords;
use crate::error::PressError;
use crate::ink::Inked;
use crate::manifest::SolidEntry;
use crate::order::{Format, Order};
use crate::plane::grid::{Ring, Seen, height, ring};
use crate::plane::{self, SAGITTA_MM, area, metal};
use crate::printed::Printed;
use crate::shaping::{Relief, Shaping};

/// So far from a part's edges nothing is engraved.
const RIM_MM: f64 = 0.1;

/// No more triangles are made at once: 3 million take 300 MB while files of both kinds are made.
const MOST_TRIANGLES: usize = 2_000_000;

/// A part as a solid, at most with a side above and one below.
struct Block<'a> {
    name: String,
    title: String,
    count: u16,
    thickness_mm: f64,
    /// The plan's edges, as the side above shows them.
    plan: Plan<'a>,
    above: Option<&'a Inked>,
    below: Option<&'a Inked>,
    /// What is engraved on the floor of its hollow.
    floor: Option<&'a Inked>,
    /// The edge of a hollow, how deep it is, and the metal that stands about it.
    hollow: Option<(&'a Contour, f64, &'a Solid)>,
}

/// Which way the metal of a block is drawn.
struct Plan<'a> {
    solid: &'a Solid,
    seen: Seen,
}

/// Makes the solids that an order asks for, and tells of them.
pub(crate) fn solids(
    instrument: &Instrument,
    order: &Order,
    made: &[(Workpiece, Inked)],
    patience: Patience<'_>,
    files: &mut Vec<Printed>,
) -> Result<Vec<SolidEntry>, PressError> {
    let formats: Vec<Format> = [Format::ThreeMf, Format::Stl]
        .into_iter()
        .filter(|format| order.formats.contains(format))
        .collect();
    if formats.is_empty() {
        return Ok(Vec::new());
    }
    let blocks = blocks(instrument, made);
    for block in &blocks {
        block.checked(&order.shaping)?;
    }
    let turned = made.iter().filter(|(piece, _)| piece.part == Part::Pin);
    let all = blocks.len() + turned.clone().count();
    let raised = matches!(order.shaping.relief, Relief::Raised(_));
    let mut entries = Vec::new();
    let mut triangles = 0;
    let mut put = |name: &str, title: &str, count: u16, depth_mm: f64, mesh: Option<Mesh>| {
        let cannot = |why: &str| PressError::Document {
            what: format!("the solid of {name}"),
            why: why.to_owned(),
        };
        let mesh = mesh.filter(Mesh::is_closed).ok_or_else(|| {
            cannot("its surface does not close; another --line-width or size would do")
        })?;
        triangles += mesh.triangles.len();
        if triangles > MOST_TRIANGLES {
            return Err(cannot(&format!(
                "with it there are more than {MOST_TRIANGLES} triangles; fewer parts at once, by --parts, would do"
            )));
        }
        let mut names = Vec::new();
        for format in &formats {
            let file = format!("{name}.{}", format.name());
            let bytes = if *format == Format::Stl {
                stl::stl(&mesh, title)
            } else {
                let name = &instrument.specification().name;
                three_mf::three_mf(&mesh, title, name).ok_or_else(|| cannot("it is too large"))?
            };
            names.push(file.clone());
            files.push(Printed { name: file, bytes });
        }
        let (low, high) = mesh.bounds_mm();
        entries.push(SolidEntry::of(
            (name, title, count),
            (low, high),
            (depth_mm, raised),
            mesh.volume_mm3(),
            mesh.triangles.len(),
            names,
        ));
        Ok(())
    };
    for (number, block) in blocks.iter().enumerate() {
        patience.at(number, all)?;
        let depth = order.shaping.depth_mm(block.thinnest_mm());
        let mesh = block.mesh(&order.shaping);
        put(&block.name, &block.title, block.count, depth, mesh)?;
    }
    for (piece, _) in turned {
        patience.at(blocks.len(), all)?;
        put(
            &piece.name,
            &piece.title,
            piece.count,
            0.0,
            turned::turned(piece),
        )?;
    }
    Ok(entries)
}

/// The blocks of some workpieces: both sides of a plate are one, and so are limb and back
/// where both are made, with what fills the space between them.
fn blocks<'a>(instrument: &Instrument, made: &'a [(Workpiece, Inked)]) -> Vec<Block<'a>> {
    let of = |part: Part| {
        made.iter()
            .find(|(piece, _)| piece.part == part && !piece.is_filler())
    };
    let whole = of(Part::Mater).zip(of(Part::Back));
    let mut blocks: Vec<Block<'a>> = Vec::new();
    if let Some(((limb, limb_ink), (back, back_ink))) = whole
        && let Some(opening) = opening(&limb.solid)
    {
        let stack = Stack::of(instrument);
        // What stands on the other side of the back.
        let other_side = made.iter().find_map(|(piece, ink)| {
            let is_other = piece.sheet == back.sheet && piece.name != back.name;
            is_other.then_some(ink)
        });
        let deep = stack.depth() - stack.packing.unwrap_or(Length::ZERO);
        blocks.push(Block {
            name: "mater-one-piece".to_owned(),
            title: "mater: limb, hollow and back in one piece".to_owned(),
            count: 1,
            thickness_mm: back.thickness.mm() + deep.mm(),
            plan: Plan {
                solid: &back.solid,
                seen: Seen::FromBeneath,
            },
            above: Some(limb_ink),
            below: Some(back_ink),
            floor: other_side,
            hollow: Some((opening, deep.mm(), &limb.solid)),
        });
    }
    let is_in_one = |piece: &Workpiece| {
        // A packing is a plate without lines: the hollow is so much less deep.
        let fills = piece.is_filler() || matches!(piece.part, Part::Mater | Part::Back);
        !blocks.is_empty() && fills
    };
    let rest: Vec<&(Workpiece, Inked)> = made
        .iter()
        .filter(|(piece, _)| piece.part != Part::Pin && !is_in_one(piece))
        .collect();
    for (piece, ink) in rest {
        match blocks.iter_mut().find(|block| block.name == piece.sheet) {
            Some(block) => {
                block.title = format!("{}; {}", block.title, piece.title);
                block.below = Some(ink);
            }
            None => blocks.push(Block {
                name: piece.sheet.clone(),
                title: piece.title.clone(),
                count: piece.count,
                thickness_mm: piece.thickness.mm(),
                plan: Plan {
                    solid: &piece.solid,
                    seen: Seen::FromAbove,
                },
                above: Some(ink),
                below: None,
                floor: None,
                hollow: None,
            }),
        }
    }
    blocks
}

/// The edge of the opening in a limb, with its notch.
fn opening(limb: &Solid) -> Option<&Contour> {
    let mut holes = limb.bodies.iter().flat_map(|body| &body.holes);
    holes.find(|hole| hole.encloses(Point::POLE))
}

impl Block<'_> {
    /// The thickness of what is engraved: of a mater in one piece that of its back, or of
    /// the limb about the hollow.
    fn thinnest_mm(&self) -> f64 {
        match self.hollow {
            Some((_, deep, _)) => (self.thickness_mm - deep).min(deep),
            None => self.thickness_mm,
        }
    }

    fn checked(&self, shaping: &Shaping) -> Result<(), PressError> {
        let Relief::Engraved(Some(depth)) = shaping.relief else {
            return Ok(());
        };
        let most_mm = Shaping::deepest_mm(self.thinnest_mm());
        if depth.mm() > most_mm + 1e-9 {
            return Err(PressError::TooDeep {
                part: self.name.clone(),
                depth_mm: depth.mm(),
                thickness_mm: self.thinnest_mm(),
                most_mm,
            });
        }
        Ok(())
    }

    fn mesh(&self, shaping: &Shaping) -> Option<Mesh> {
        let plan = area::joined(area::united(&metal(self.plan.solid, self.plan.seen)));
        let (top, depth) = (
            height(self.thickness_mm),
            height(shaping.depth_mm(self.thinnest_mm())),
        );
        let sunk = match shaping.relief {
            Relief::Engraved(_) => depth,
            Relief::Raised(_) => -depth,
            Relief::Plain => 0,
        };
        let relief = |ink: Option<&Inked>, seen: Seen, on: &[Ring]| match ink {
            Some(ink) if sunk != 0 => {
                let lines =
                    plane::covered(plane::engraved(ink), seen, |mm| shaping.breadth_mm(mm), 0.0);
                let free = area::without(on, &plane::along(on, 2.0 * RIM_MM));
                area::joined(area::within(&lines, &free))
            }
            _ => Vec::new(),
        };
        let mut above = Side {
            ground: top,
            relief_at: top - sunk,
            ..Side::default()
        };
        if let Some((edge, deep, about)) = self.hollow {
            above
                .hollow
                .extend(ring(chords(edge, SAGITTA_MM), Seen::FromAbove));
            above.floor = top - height(deep);
            let on = area::united(&metal(about, Seen::FromAbove));
            above.floor_relief_at = above.floor - sunk;
            above.relief = relief(self.above, Seen::FromAbove, &on);
            let floor = area::within(&plan, &above.hollow);
            let words = relief(self.floor, Seen::FromAbove, &floor);
            above.relief.extend(words);
        } else {
            above.relief = relief(self.above, Seen::FromAbove, &plan);
        }
        let below = Side {
            ground: 0,
            relief: relief(self.below, Seen::FromBeneath, &plan),
            relief_at: sunk,
            ..Side::default()
        };
        Slab { plan, above, below }.mesh()
    }
}
