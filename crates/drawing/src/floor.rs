use instrument::{Part, Point};

use crate::contour::Contour;
use crate::pen::Pen;
use crate::scene::{Metal, Region};
use crate::solid::Solid;
use crate::texts;
use crate::workpiece::{Shop, Workpiece};

impl Shop<'_> {
    /// The other side of the back, on which the plates lie, where anything stands on it.
    pub(crate) fn floor(&self) -> Option<Workpiece> {
        texts::has_floor(self.instrument).then(|| {
            let mut pen = Pen::upright(self.instrument);
            texts::floor(&mut pen, self.opening);
            Workpiece {
                sheet: "back".to_owned(),
                ..self.piece(
                    "floor",
                    "the mater's floor: the other side of the back, seen from the front",
                    Part::Back,
                    Metal::Mater,
                    self.back_solid(),
                )
            }
            .engraved(pen.into_items())
        })
    }

    /// The back's metal, the same from both sides.
    pub(crate) fn back_solid(&self) -> Solid {
        let throne = self.throne();
        let mut regions = vec![Region::whole(Contour::circle(Point::POLE, self.m.mater))];
        regions.extend(throne.regions);
        let mut holes = throne.holes;
        holes.push(Contour::circle(Point::POLE, self.hole));
        Solid::of(&regions, &holes)
    }
}
