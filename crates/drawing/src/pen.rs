use instrument::{Hemisphere, Instrument, LineId, Orientation, Part, Point, Top};
use sky::Angle;

use crate::contour::Contour;
use crate::label_box::{LabelBox, Taken};
use crate::lettering::{Baseline, Face, Lettering};
use crate::measures::Measures;
use crate::scene::{Dash, Fill, Group, Item, Layer, Metal, Region, Trace, Weight};
use crate::thinning::Thinning;

/// Draws one part: takes lines and letters in the plane of the instrument, and
/// puts them down as drawn.
pub(crate) struct Pen<'a> {
    pub(crate) instrument: &'a Instrument,
    pub(crate) measures: Measures,
    lit: &'a [LineId],
    orientation: Orientation,
    items: Vec<Item>,
    taken: Taken,
    thinned: Vec<Thinning>,
}

impl<'a> Pen<'a> {
    pub(crate) fn new(instrument: &'a Instrument, lit: &'a [LineId]) -> Pen<'a> {
        Pen {
            instrument,
            measures: Measures::of(instrument),
            lit,
            orientation: instrument.orientation(),
            items: Vec::new(),
            taken: Taken::default(),
            thinned: Vec::new(),
        }
    }

    /// A pen for what has axes of its own, x upwards and y to the right: the back,
    /// the alidade, and what is cut without being engraved.
    pub(crate) fn upright(instrument: &'a Instrument) -> Pen<'a> {
        Pen {
            orientation: Orientation::new(Hemisphere::North, Top::Noon),
            ..Pen::new(instrument, &[])
        }
    }

    /// What has been drawn, and what had to be left out.
    pub(crate) fn into_items(self) -> (Vec<Item>, Vec<Thinning>) {
        (self.items, self.thinned)
    }

    /// Notes what the size leaves out, once.
    pub(crate) fn thins(&mut self, thinning: impl IntoIterator<Item = Thinning>) {
        for one in thinning {
            if !self.thinned.contains(&one) {
                self.thinned.push(one);
            }
        }
    }

    /// Notes letters that would be too small to read.
    pub(crate) fn unlettered(&mut self, what: &str) {
        self.thins([Thinning::unlettered(what)]);
    }

    /// The part as drawn. Lines being read lie above the others.
    pub(crate) fn finish(
        self,
        name: &'static str,
        part: Part,
        title: String,
        turn: Angle,
        pole: Point,
    ) -> Group {
        let sense = if self.orientation.clockwise() {
            1.0
        } else {
            -1.0
        };
        let lit = |item: &Item| matches!(item, Item::Stroke(trace) if trace.lit);
        let (above, mut items): (Vec<Item>, Vec<Item>) = self.items.into_iter().partition(lit);
        items.extend(above);
        Group {
            name,
            part,
            title,
            turn: (turn * sense).in_turn(),
            pole: self.orientation.drawn(pole),
            items,
        }
    }

    /// A place as drawn.
    pub(crate) fn drawn(&self, p: Point) -> Point {
        self.orientation.drawn(p)
    }

    /// The direction of a displacement as drawn, clockwise from the right.
    pub(crate) fn direction(&self, displacement: Point) -> Angle {
        self.orientation.drawn(displacement).direction()
    }

    /// A line with a name.
    pub(crate) fn line(&mut self, line: LineId, weight: Weight, contours: &[Contour]) {
        self.trace(Some(line), weight, Dash::Whole, contours);
    }

    /// The strokes of a scale.
    pub(crate) fn scale(&mut self, line: LineId, weight: Weight, strokes: &[Contour]) {
        let before = self.items.len();
        self.line(line, weight, strokes);
        for item in self.items.iter_mut().skip(before) {
            if let Item::Stroke(trace) = item {
                trace.scale = true;
            }
        }
    }

    /// A line that is only there to be looked at.
    pub(crate) fn plain(&mut self, weight: Weight, contours: &[Contour]) {
        self.trace(None, weight, Dash::Whole, contours);
    }

    /// Any line, in the plane of the instrument.
    pub(crate) fn trace(
        &mut self,
        line: Option<LineId>,
        weight: Weight,
        dash: Dash,
        contours: &[Contour],
    ) {
        let drawn = contours.iter().map(|one| one.drawn(self.orientation));
        let contours = drawn.collect();
        self.put_drawn(line, weight, dash, contours);
    }

    /// Any line, as drawn.
    pub(crate) fn put_drawn(
        &mut self,
        line: Option<LineId>,
        weight: Weight,
        dash: Dash,
        contours: Vec<Contour>,
    ) {
        if contours.is_empty() {
            return;
        }
        self.items.push(Item::Stroke(Trace {
            lit: line.as_ref().is_some_and(|line| self.lit.contains(line)),
            line,
            contours,
            weight,
            dash,
            scale: false,
            layer: match weight {
                Weight::Hair => Layer::Score,
                _ => Layer::Engrave,
            },
        }));
    }

    /// A surface, in the plane of the instrument.
    pub(crate) fn fill(&mut self, metal: Metal, layer: Layer, regions: Vec<Region>) {
        let regions = regions
            .into_iter()
            .map(|region| Region {
                outline: region.outline.drawn(self.orientation),
                holes: region
                    .holes
                    .iter()
                    .map(|hole| hole.drawn(self.orientation))
                    .collect(),
            })
            .collect();
        self.items.push(Item::Fill(Fill {
            metal,
            regions,
            layer,
        }));
    }

    /// Keeps a space free of letters, given as drawn.
    pub(crate) fn keep_free(&mut self, space: LabelBox) {
        self.taken.take(&[space], -1e3);
    }

    /// Whether a space, given as drawn, is free of letters.
    pub(crate) fn is_free(&self, space: &LabelBox) -> bool {
        self.taken.free(&[*space], 0.0)
    }

    /// Whether lettering would stand on no other.
    pub(crate) fn has_room(&self, lettering: &Lettering) -> bool {
        self.taken.free(&lettering.boxes(), self.gap(lettering))
    }

    /// Letters something, unless other letters stand there.
    pub(crate) fn letter(&mut self, lettering: Lettering) -> bool {
        let free = self.taken.take(&lettering.boxes(), self.gap(&lettering));
        if free {
            self.items.push(Item::Text(lettering));
        }
        free
    }

    /// Letters something upright at a place of the instrument, read along a displacement.
    pub(crate) fn letter_at(&mut self, text: String, size_mm: f64, p: Point, along: Point) -> bool {
        self.letter(Lettering {
            text,
            size_mm,
            face: Face::Roman,
            baseline: Baseline::upright(self.drawn(p), self.direction(along)),
            clears: true,
            line: None,
        })
    }

    /// A baseline round the pole: the middle of the letters stands at a place of
    /// the instrument, their tops point outwards.
    pub(crate) fn round(&self, centre: Point, middle: Point) -> Baseline {
        let out = middle - centre;
        Baseline::Arc {
            centre: self.drawn(centre),
            radius_mm: out.radius(),
            middle: self.direction(out),
            outward: true,
        }
    }

    fn gap(&self, lettering: &Lettering) -> f64 {
        0.15 * lettering.size_mm
    }
}
