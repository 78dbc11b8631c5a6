use drawing::{Dash, Fill, Group, Item, Layer, Lettering, Region, Scene, Trace, lettered};
use instrument::{Letters, Point};
use krilla::color::rgb;
use krilla::geom::Transform;
use krilla::graphic::Graphic;
use krilla::num::NormalizedF32;
use krilla::paint::{Fill as Ground, FillRule, LineCap, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;

use crate::pdf_paths::{path_of, points};

/// Greys: what is looked at is black.
const LINES: u8 = 140;
const EDGES: u8 = 105;
const TEXT: u8 = 95;
const METAL: u8 = 240;
const TONE: u8 = 232;

/// How wide a lit line is printed, in millimetres, and the strokes of a lit scale.
const LIT: f64 = 0.5;
const LIT_SCALE: f64 = 0.14;

/// A scene where it is put on a page.
#[derive(Clone, Copy)]
pub(crate) struct Put {
    /// Where the scene's own `from` comes to lie.
    pub(crate) centre: Point,
    pub(crate) from: Point,
    pub(crate) scale: f64,
    /// How far about `from` anything is wanted, in the scene's millimetres.
    pub(crate) within: f64,
}

/// Draws a scene as it is printed in black: lit lines heavy, all else grey.
pub(crate) fn draw_scene(surface: &mut Surface<'_>, scene: &Scene, put: Put) {
    for group in &scene.groups {
        draw_group(surface, scene, group, put);
    }
}

fn draw_group(surface: &mut Surface<'_>, scene: &Scene, group: &Group, put: Put) {
    let (sine, cosine) = group.turn.sin_cos();
    let k = put.scale;
    let origin = put.centre + (group.pole - put.from) * k;
    let single = |x: f64| points(x) / points(1.0);
    surface.push_transform(&Transform::from_row(
        single(cosine * k),
        single(sine * k),
        single(-sine * k),
        single(cosine * k),
        points(origin.x),
        points(origin.y),
    ));
    let pen = Pen {
        hair: scene.hair_mm,
        scale: k,
        from: (put.from - group.pole).turned(-group.turn),
        within: put.within,
    };
    if pen.is_glass() {
        pen.items(surface, &group.items, |_| true);
    } else {
        // A part drawn many times is one thing in the file: what is lit comes over it.
        let mut stream = surface.stream_builder();
        let mut inside = stream.surface();
        pen.items(&mut inside, &group.items, |item| !is_lit(item));
        inside.finish();
        let drawn = Graphic::new(stream.finish(), false);
        surface.draw_graphic(drawn);
        pen.items(surface, &group.items, is_lit);
    }
    surface.pop();
}

fn is_lit(item: &Item) -> bool {
    matches!(item, Item::Stroke(trace) if trace.lit)
}

struct Pen {
    hair: f64,
    scale: f64,
    from: Point,
    within: f64,
}

fn grey(level: u8) -> rgb::Color {
    rgb::Color::new(level, level, level)
}

fn ground(level: u8, rule: FillRule) -> Ground {
    Ground {
        paint: grey(level).into(),
        opacity: NormalizedF32::ONE,
        rule,
    }
}

impl Pen {
    fn items(&self, surface: &mut Surface<'_>, items: &[Item], which: impl Fn(&Item) -> bool) {
        for item in items.iter().filter(|item| which(item)) {
            match item {
                Item::Fill(fill) => self.metal(surface, fill),
                Item::Stroke(trace) => self.trace(surface, trace),
                Item::Text(lettering) => self.text(surface, lettering),
            }
        }
    }

    /// A line of a width on paper.
    fn line(&self, level: u8, width_mm: f64) -> Stroke {
        Stroke {
            paint: grey(level).into(),
            width: points(width_mm / self.scale),
            line_cap: LineCap::Butt,
            line_join: LineJoin::Round,
            ..Stroke::default()
        }
    }

    /// The regions add up: all edges first, then all grounds over them.
    fn metal(&self, surface: &mut Surface<'_>, fill: &Fill) {
        let level = match fill.metal {
            drawing::Metal::Mater
            | drawing::Metal::Plate
            | drawing::Metal::Sky
            | drawing::Metal::Zodiac => 255,
            drawing::Metal::Rete | drawing::Metal::Rule => METAL,
            drawing::Metal::Ground => TONE,
            drawing::Metal::Dark => EDGES,
        };
        let paths: Vec<_> = fill
            .regions
            .iter()
            .filter_map(|Region { outline, holes }| {
                let contours: Vec<_> = std::iter::once(outline).chain(holes).cloned().collect();
                path_of(&contours, Point::POLE)
            })
            .collect();
        surface.set_fill(None);
        surface.set_stroke(Some(self.line(EDGES, 0.16)));
        for path in &paths {
            surface.draw_path(path);
        }
        surface.set_stroke(None);
        surface.set_fill(Some(ground(level, FillRule::EvenOdd)));
        for path in &paths {
            surface.draw_path(path);
        }
    }

    fn trace(&self, surface: &mut Surface<'_>, trace: &Trace) {
        let near = trace.contours.iter().filter(|one| self.near(one.bounds()));
        let contours: Vec<_> = near.cloned().collect();
        let Some(path) = path_of(&contours, Point::POLE) else {
            return;
        };
        let plain = (self.hair * trace.weight.times_hair() * self.scale).clamp(0.05, 0.35);
        let (level, width) = match (trace.lit, trace.scale) {
            (true, true) => (0, plain.max(LIT_SCALE)),
            (true, false) => (0, plain.max(LIT)),
            (false, _) => (LINES, plain),
        };
        let mut stroke = self.line(level, width);
        let dashes = match trace.dash {
            Dash::Whole => None,
            Dash::Dashed => Some((14.0, 7.0)),
            Dash::Dotted => Some((0.0, 8.0)),
        };
        if let Some((on, off)) = dashes {
            let array = vec![points(on * self.hair), points(off * self.hair)];
            stroke.dash = Some(StrokeDash { array, offset: 0.0 });
        }
        if trace.dash == Dash::Dotted {
            stroke.line_cap = LineCap::Round;
        }
        if trace.layer == Layer::Guide && !trace.lit {
            stroke.paint = grey(190).into();
        }
        surface.set_fill(None);
        surface.set_stroke(Some(stroke));
        surface.draw_path(&path);
    }

    fn text(&self, surface: &mut Surface<'_>, lettering: &Lettering) {
        let letters = lettered(lettering, Letters::Serif);
        let near = letters.iter().any(|letter| self.near(letter.bounds()));
        let Some(path) = path_of(&letters, Point::POLE).filter(|_| near) else {
            return;
        };
        if lettering.clears {
            surface.set_fill(None);
            let halo = 0.16 * lettering.size_mm * self.scale * 2.0;
            surface.set_stroke(Some(self.line(255, halo)));
            surface.draw_path(&path);
        }
        surface.set_stroke(None);
        // Under a glass it is what one finds one's way by.
        let level = if self.is_glass() { 0 } else { TEXT };
        surface.set_fill(Some(ground(level, FillRule::NonZero)));
        surface.draw_path(&path);
    }

    /// Whether a part is shown, under a glass.
    fn is_glass(&self) -> bool {
        self.within.is_finite()
    }

    /// Whether a rectangle comes near what is wanted.
    fn near(&self, (low, high): (Point, Point)) -> bool {
        let off = |low: f64, high: f64, at: f64| (low - at).max(at - high).max(0.0);
        let x = off(low.x, high.x, self.from.x);
        let y = off(low.y, high.y, self.from.y);
        libm::hypot(x, y) <= self.within
    }
}
