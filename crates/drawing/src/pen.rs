use instrument::{Hemisphere, Instrument, LineId, Orientation, Part, Point, Top};
use sky::Angle;

use crate::contour::Contour;
use crate::footing::Footing;
use crate::label_box::{LabelBox, Taken};
use crate::lettering::{Baseline, Lettering};
use crate::letters::lettered;
use crate::measures::Measures;
use crate::scene::{Dash, Fill, Group, Item, Layer, Metal, Region, Trace, Weight};
use crate::thinning::Thinning;

/// Draws one part: takes lines and letters in the plane of the instrument, and
/// puts them down as drawn.
pub(crate) struct Pen<'a> {
    pub(crate) instrument: &'a Instrument,
    pub(crate) measures: Measures,
    orientation: Orientation,
    items: Vec<Item>,
    taken: Taken,
    /// The metal on which letters stand, each wholly on one of these; any where it is empty.
    ground: Vec<Footing>,
    /// The lines and edges put down so far, with the room they fill.
    lines: Vec<Obstacle>,
    thinned: Vec<Thinning>,
}

/// A line that letters keep clear of, but for those that stand on it.
struct Obstacle {
    line: Option<LineId>,
    contour: Contour,
    half_mm: f64,
    low: Point,
    high: Point,
}

impl Obstacle {
    /// Whether it may come so near to a space: most lines are told apart by this alone.
    fn is_near(&self, space: &Span, mm: f64) -> bool {
        // A space at a slant that grows along its own sides grows by more upright.
        let mm = (mm + self.half_mm) * std::f64::consts::SQRT_2;
        space.high.x + mm > self.low.x
            && space.low.x - mm < self.high.x
            && space.high.y + mm > self.low.y
            && space.low.y - mm < self.high.y
    }

    /// Whether it comes so near to a space.
    fn is_in(&self, space: &LabelBox, mm: f64) -> bool {
        space.with_margin(self.half_mm + mm).touches(&self.contour)
    }
}

/// The upright rectangle that some spaces fill.
struct Span {
    low: Point,
    high: Point,
}

impl Span {
    fn of(spaces: &[LabelBox]) -> Span {
        let corners = || spaces.iter().flat_map(LabelBox::corners);
        let least = |get: fn(Point) -> f64| corners().map(get).fold(f64::INFINITY, f64::min);
        let most = |get: fn(Point) -> f64| corners().map(get).fold(f64::NEG_INFINITY, f64::max);
        Span {
            low: Point {
                x: least(|p| p.x),
                y: least(|p| p.y),
            },
            high: Point {
                x: most(|p| p.x),
                y: most(|p| p.y),
            },
        }
    }
}

impl<'a> Pen<'a> {
    pub(crate) fn new(instrument: &'a Instrument) -> Pen<'a> {
        Pen {
            instrument,
            measures: Measures::of(instrument),
            orientation: instrument.orientation(),
            items: Vec::new(),
            taken: Taken::default(),
            ground: Vec::new(),
            lines: Vec::new(),
            thinned: Vec::new(),
        }
    }

    /// A pen for what has axes of its own, x upwards and y to the right: the back,
    /// the alidade, and what is cut without being engraved.
    pub(crate) fn upright(instrument: &'a Instrument) -> Pen<'a> {
        Pen {
            orientation: Orientation::new(Hemisphere::North, Top::Noon),
            ..Pen::new(instrument)
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

    /// Notes letters that would touch what is not theirs.
    pub(crate) fn crowded(&mut self, what: &str) {
        self.thins([Thinning::crowded(what)]);
    }

    /// Notes letters that would be too small to read.
    pub(crate) fn unlettered(&mut self, what: &str) {
        self.thins([Thinning::unlettered(what)]);
    }

    /// The part as drawn, unturned and with nothing lit.
    pub(crate) fn finish(
        self,
        name: &'static str,
        part: Part,
        title: String,
        pole: Point,
    ) -> Group {
        Group {
            name,
            part,
            title,
            turn: Angle::ZERO,
            pole: self.orientation.drawn(pole),
            items: self.items,
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
        let half_mm = self.measures.hair * weight.times_hair() / 2.0;
        for contour in &contours {
            self.keep_clear_of(line.clone(), contour.clone(), half_mm);
        }
        self.items.push(Item::Stroke(Trace {
            lit: false,
            line,
            contours,
            weight,
            dash,
            scale: false,
            layer: match weight {
                Weight::Hair => Layer::Score,
                Weight::Fine | Weight::Middle | Weight::Edge | Weight::Strong => Layer::Engrave,
            },
        }));
    }

    /// A surface, in the plane of the instrument.
    pub(crate) fn fill(&mut self, metal: Metal, layer: Layer, regions: Vec<Region>) {
        let regions = regions
            .iter()
            .map(|region| region.drawn(self.orientation))
            .collect();
        self.items.push(Item::Fill(Fill {
            metal,
            regions,
            layer,
        }));
    }

    fn keep_clear_of(&mut self, line: Option<LineId>, contour: Contour, half_mm: f64) {
        let (low, high) = contour.bounds();
        self.lines.push(Obstacle {
            line,
            contour,
            half_mm,
            low,
            high,
        });
    }

    /// Keeps letters off an edge of the metal, given in the plane of the instrument.
    pub(crate) fn edge(&mut self, edge: &Contour) {
        self.keep_clear_of(None, edge.drawn(self.orientation), 0.0);
    }

    /// Keeps letters on some pieces of metal, given in the plane of the instrument: each
    /// wholly on one of them.
    pub(crate) fn stands_on(&mut self, metal: &[Region]) {
        let drawn = metal.iter().map(|region| region.drawn(self.orientation));
        self.ground = drawn.map(Footing::of).collect();
    }

    /// Keeps a space free of letters, given as drawn.
    pub(crate) fn keep_free(&mut self, space: LabelBox) {
        self.taken.take(&[space], -1e3);
    }

    /// Whether a space, given as drawn, is free of letters.
    pub(crate) fn is_free(&self, space: &LabelBox) -> bool {
        self.taken.free(&[*space], 0.0)
    }

    /// Whether no line comes into a space, given as drawn.
    pub(crate) fn is_blank(&self, space: &LabelBox) -> bool {
        let hair = self.measures.hair;
        let span = Span::of(&[*space]);
        let mut near = self.lines.iter().filter(|line| line.is_near(&span, hair));
        !near.any(|line| line.is_in(space, hair))
    }

    /// Whether lettering would stand on no other, on no line but one that gives way to
    /// it and is its own, and on no edge.
    pub(crate) fn has_room(&self, lettering: &Lettering) -> bool {
        self.has_air(lettering, 0.0)
    }

    /// The same with so much more air between it and lines, in millimetres.
    pub(crate) fn has_air(&self, lettering: &Lettering, air_mm: f64) -> bool {
        let boxes = lettering.boxes();
        if !self.taken.free(&boxes, self.gap(lettering)) {
            return false;
        }
        let hair = self.measures.hair + air_mm;
        let own = lettering.line.as_ref().filter(|_| lettering.clears);
        let strange = |line: &&Obstacle| own.is_none() || line.line.as_ref() != own;
        let span = Span::of(&boxes);
        !self
            .lines
            .iter()
            .filter(|line| line.is_near(&span, hair))
            .filter(strange)
            .any(|line| boxes.iter().any(|space| line.is_in(space, hair)))
            && self.is_on_metal(lettering, &boxes)
    }

    /// Whether all of a lettering lies on one piece of metal: the space it takes, or where
    /// the metal is narrow its letters themselves.
    fn is_on_metal(&self, lettering: &Lettering, boxes: &[LabelBox]) -> bool {
        let hair = self.measures.hair;
        if self.ground.is_empty() || self.ground.iter().any(|piece| piece.bears(boxes, hair)) {
            return true;
        }
        let near = self.ground.iter().filter(|piece| piece.is_under(boxes));
        let near: Vec<&Footing> = near.collect();
        if near.is_empty() {
            return false;
        }
        let edges = lettered(lettering, self.instrument.specification().parts.letters);
        near.iter().any(|piece| piece.bears_ink(&edges, hair))
    }

    /// Letters something, unless it has no room there: the lines are to be put down before.
    pub(crate) fn letter(&mut self, lettering: Lettering) -> bool {
        let free = self.has_room(&lettering);
        if free {
            self.taken.take(&lettering.boxes(), -1e3);
            self.items.push(Item::Text(lettering));
        }
        free
    }

    /// Letters something in the first of some ways for which there is room.
    pub(crate) fn letter_first(&mut self, ways: impl IntoIterator<Item = Lettering>) -> bool {
        ways.into_iter().any(|way| self.letter(way))
    }

    /// Letters something, smaller if need be, or notes that it has no room.
    pub(crate) fn letter_or_tell(&mut self, lettering: Lettering, what: &str) {
        let sizes = self.measures.smaller(lettering.size_mm);
        let ways: Vec<Lettering> = sizes
            .map(|size_mm| Lettering {
                size_mm,
                ..lettering.clone()
            })
            .collect();
        if !self.letter_first(ways) {
            self.crowded(what);
        }
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
