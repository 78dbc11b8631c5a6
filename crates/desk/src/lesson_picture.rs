use std::sync::Arc;

use drawing::{Front, Item, Scene};
use instrument::{Faults, Instrument, Length, LineId, Minutes, Part, Point};
use practice::{Act, Conditions, Working};

use crate::answer::look_at;
use crate::film_shot::{Shot, shots};

/// The picture of a step: the instrument after it, and what is looked at under a glass.
#[derive(Clone, Debug)]
pub struct LessonPicture {
    /// The instrument, drawn for a small picture, the lines of the step lit.
    pub scene: Arc<Scene>,
    /// Where to look: parts of its reach, to the right and downwards.
    pub look_at: Option<Point>,
    /// What is seen there.
    pub glass: Option<LessonGlass>,
}

/// A part of an instrument, at its own size.
#[derive(Clone, Debug)]
pub struct LessonGlass {
    /// The instrument.
    pub scene: Arc<Scene>,
    /// The middle of what is seen, in millimetres to the right and downwards.
    pub at: Point,
    /// How far from there is seen.
    pub shows_mm: f64,
}

/// For what size a small picture is drawn, so that it shows what that size carries.
const SMALL_MM: f64 = 76.0;

/// An instrument drawn for lessons with it.
#[derive(Debug)]
pub(crate) struct LessonDrawing {
    own: Front,
    small: Front,
    /// The small one with every line of the own: too many to be drawn, but for those that
    /// are looked at. Few lessons need it.
    fine: Option<Front>,
}

impl LessonDrawing {
    fn of(instrument: &Instrument) -> LessonDrawing {
        LessonDrawing {
            own: Front::of(instrument),
            small: Front::of(&drawn_small(instrument)),
            fine: None,
        }
    }

    /// The one that is kept, if it is of this instrument; else it is drawn and kept.
    pub(crate) fn kept<'a>(
        kept: &'a mut Option<LessonDrawing>,
        instrument: &Instrument,
    ) -> &'a mut LessonDrawing {
        let fits = |one: &LessonDrawing| {
            one.own.instrument().specification() == instrument.specification()
        };
        if !kept.as_ref().is_some_and(fits) {
            *kept = None;
        }
        kept.get_or_insert_with(|| LessonDrawing::of(instrument))
    }

    /// A picture for each step in which the instrument is looked at.
    pub(crate) fn pictures(
        &mut self,
        working: &Working,
        conditions: &Conditions,
    ) -> Vec<Option<LessonPicture>> {
        let seen_small = Conditions {
            instrument: self.small.instrument().clone(),
            ..conditions.clone()
        };
        let shots = shots(working).into_iter();
        shots
            .map(|shot| {
                if matches!(shot.done.act, Act::Reckon(_) | Act::Return) {
                    return None;
                }
                let scene = self.small_scene(&shot);
                let look = |conditions: &Conditions| looked_at(&shot, conditions);
                let reach = scene.reach_mm;
                Some(LessonPicture {
                    look_at: look(&seen_small)
                        .filter(|p| p.radius() < reach)
                        .map(|p| p * (1.0 / reach)),
                    scene: Arc::new(scene),
                    glass: look(conditions).and_then(|at| self.glass(&shot, at)),
                })
            })
            .collect()
    }

    /// A step as a small picture shows it, with every line that is looked at.
    fn small_scene(&mut self, shot: &Shot<'_>) -> Scene {
        let mut scene = shot.scene(&mut self.small);
        let is_drawn = |line: &LineId| {
            let mut items = scene.groups.iter().flat_map(|group| &group.items);
            items.any(|item| named(item) == Some(line))
        };
        let lines = shot.done.lines.iter();
        let missing: Vec<&LineId> = lines.filter(|line| !is_drawn(line)).collect();
        if !missing.is_empty() {
            with_lines(&mut scene, &missing, shot.scene(self.fine()));
        }
        if shot.done.act == Act::ChoosePlate {
            // Laid in, before rete and rule lie on it.
            scene
                .groups
                .retain(|group| !matches!(group.part, Part::Rete | Part::Rule));
        }
        scene
    }

    fn fine(&mut self) -> &mut Front {
        let (own, small) = (self.own.instrument(), self.small.instrument());
        self.fine
            .get_or_insert_with(|| Front::of(&as_fine_as(own, small)))
    }

    fn glass(&mut self, shot: &Shot<'_>, at: Point) -> Option<LessonGlass> {
        let diameter = self.own.instrument().specification().diameter.mm();
        let scene = shot.scene(&mut self.own);
        (at.radius() < scene.reach_mm).then_some(LessonGlass {
            scene: Arc::new(scene),
            at,
            // Enough to find one's way by the figures of a scale, and never smaller than it is.
            shows_mm: (diameter * 0.06).clamp(4.5, 15.0),
        })
    }
}

/// Where a step is read, as drawn.
fn looked_at(shot: &Shot<'_>, conditions: &Conditions) -> Option<Point> {
    let found = look_at(shot.done, conditions)?;
    Some(Point {
        x: found.x_mm,
        y: found.y_mm,
    })
}

/// The same instrument as a small one: fewer lines, letters that can be read.
fn drawn_small(instrument: &Instrument) -> Instrument {
    let mut specification = instrument.specification().clone();
    specification.diameter = Length::from_mm(SMALL_MM);
    specification.faults = Faults::NONE;
    Instrument::new(specification)
}

/// The small one with every line of the own: too many to be drawn, but for those that
/// are looked at.
fn as_fine_as(instrument: &Instrument, small: &Instrument) -> Instrument {
    let mut specification = small.specification().clone();
    specification.almucantar_step = Some(instrument.almucantar_step());
    specification.azimuth_step = Some(instrument.azimuth_step().unwrap_or(Minutes::ZERO));
    Instrument::new(specification)
}

/// Draws lines as another drawing of the same has them.
fn with_lines(scene: &mut Scene, missing: &[&LineId], fine: Scene) {
    for group in fine.groups {
        let found = group
            .items
            .into_iter()
            .filter(|item| named(item).is_some_and(|line| missing.contains(&line)));
        let mut groups = scene.groups.iter_mut();
        if let Some(own) = groups.find(|own| own.name == group.name) {
            own.items.extend(found);
        }
    }
}

/// Which line an item is.
fn named(item: &Item) -> Option<&LineId> {
    match item {
        Item::Stroke(trace) => trace.line.as_ref(),
        Item::Fill(_) | Item::Text(_) => None,
    }
}
