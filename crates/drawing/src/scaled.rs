use instrument::Point;

use crate::contour::Contour;
use crate::lettering::{Baseline, Lettering};
use crate::scene::{Fill, Group, Item, Region, Scene, Trace};

impl Scene {
    /// The same at another size: lines and letters grow with it.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Scene {
        Scene {
            reach_mm: self.reach_mm * factor,
            upright_mm: self.upright_mm * factor,
            hair_mm: self.hair_mm * factor,
            groups: self
                .groups
                .iter()
                .map(|group| Group {
                    pole: group.pole * factor,
                    items: group
                        .items
                        .iter()
                        .map(|item| placed(item, factor, Point::POLE))
                        .collect(),
                    ..group.clone()
                })
                .collect(),
            ..self.clone()
        }
    }
}

/// An item at another size, and then elsewhere.
pub(crate) fn placed(item: &Item, factor: f64, by: Point) -> Item {
    let contour = |contour: &Contour| contour.scaled(factor).mapped(1.0, |p| p + by);
    match item {
        Item::Stroke(trace) => Item::Stroke(Trace {
            contours: trace.contours.iter().map(contour).collect(),
            ..trace.clone()
        }),
        Item::Fill(fill) => Item::Fill(Fill {
            regions: fill
                .regions
                .iter()
                .map(|region| Region {
                    outline: contour(&region.outline),
                    holes: region.holes.iter().map(contour).collect(),
                })
                .collect(),
            ..fill.clone()
        }),
        Item::Text(lettering) => Item::Text(Lettering {
            size_mm: lettering.size_mm * factor,
            baseline: match lettering.baseline {
                Baseline::Straight { middle, along } => Baseline::Straight {
                    middle: middle * factor + by,
                    along,
                },
                Baseline::Arc {
                    centre,
                    radius_mm,
                    middle,
                    outward,
                } => Baseline::Arc {
                    centre: centre * factor + by,
                    radius_mm: radius_mm * factor,
                    middle,
                    outward,
                },
            },
            ..lettering.clone()
        }),
    }
}

impl Contour {
    /// The same at another size, about the centre.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Contour {
        let at = |p: Point| p * factor;
        match self {
            Contour::Circle { centre, radius_mm } => {
                Contour::circle(at(*centre), radius_mm * factor)
            }
            // Arcs are given by their ends and sweep, which a change of size leaves alone.
            path @ Contour::Path { .. } => path.mapped(1.0, at),
        }
    }
}
