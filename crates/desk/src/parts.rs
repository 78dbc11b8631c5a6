use drawing::{Item, Name, Named, Scene, Setting, Svg, front};
use instrument::{Instrument, LineId};
use schemars::JsonSchema;
use serde::Serialize;
use sky::{Angle, Latitude};
use words::{FIRST_HOUR, GLOSSARY, Kind, Picture, Shown, Word};

use crate::answer::WordAnswer;
use crate::cabinet::Cabinet;
use crate::front::{FrontRequest, meant};
use crate::refusal::Refusal;

/// What a beginner asks first: the instrument with its parts named, the words explained,
/// and lesson nought.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PartsAnswer {
    /// The front with names, as SVG, in the orientation of the instrument.
    pub front_svg: String,
    /// The back with names, as SVG.
    pub back_svg: String,
    /// The glossary.
    pub glossary: Vec<WordAnswer>,
    /// Lesson nought.
    pub first_hour: Vec<SectionAnswer>,
}

/// A section of lesson nought.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct SectionAnswer {
    /// Its title.
    pub title: &'static str,
    /// Its paragraphs.
    pub paragraphs: Vec<&'static str>,
}

/// An instrument with its parts named, front and back, and what the names mean.
///
/// # Errors
/// When there is no such instrument or latitude.
pub fn parts(request: &FrontRequest, cabinet: &Cabinet) -> Result<PartsAnswer, Refusal> {
    let (instrument, plate) = meant(request, cabinet)?;
    let [front, back] = parts_scenes(&instrument, plate);
    let glossary = GLOSSARY
        .iter()
        .map(|word| {
            let shows = shows(word, &[&front, &back]);
            WordAnswer::of(word, shows.iter().map(ToString::to_string).collect())
        })
        .collect();
    let svg = |scene: Scene, id_prefix: &str| {
        named(scene).svg(&Svg {
            id_prefix: id_prefix.to_owned(),
            styled: false,
            outlined: false,
            paper: false,
        })
    };
    Ok(PartsAnswer {
        front_svg: svg(front, "named-front-"),
        back_svg: svg(back, "named-back-"),
        glossary,
        first_hour: FIRST_HOUR
            .iter()
            .map(|section| SectionAnswer {
                title: section.title,
                paragraphs: section.paragraphs.to_vec(),
            })
            .collect(),
    })
}

/// The front and the back of an instrument with their parts named, for a handout.
#[must_use]
pub fn named_parts(instrument: &Instrument, plate: Latitude) -> [Scene; 2] {
    parts_scenes(instrument, plate).map(named)
}

/// Front and back with their moving parts out of one another's way.
fn parts_scenes(instrument: &Instrument, plate: Latitude) -> [Scene; 2] {
    let mut setting = Setting::at_rest(plate);
    setting.state.rete = Angle::from_deg(200.0);
    setting.state.rule = Angle::from_deg(-50.0);
    [
        front(instrument, &setting),
        drawing::back(instrument, Angle::from_deg(235.0)),
    ]
}

/// A scene with the words that it shows.
fn named(scene: Scene) -> Scene {
    let names: Vec<Name> = GLOSSARY
        .iter()
        .filter_map(|word| {
            let of = match shows(word, &[&scene]).into_iter().next()? {
                Shown::Part(part) => Named::Part(part),
                Shown::Line(line) => Named::Line(line),
            };
            Some(Name {
                text: word.word.to_owned(),
                of,
            })
        })
        .collect();
    scene.with_names(&names)
}

/// What of some drawings shows a word: a part, or lines of a kind, those in the middle
/// first.
fn shows(word: &Word, scenes: &[&Scene]) -> Vec<Shown> {
    match word.picture {
        None => Vec::new(),
        Some(Picture::Part(part)) => {
            let drawn = scenes.iter().any(|scene| {
                scene.groups.iter().any(|group| group.part == part)
                    || matches!(part, instrument::Part::Pinnule)
                        && scene
                            .groups
                            .iter()
                            .any(|group| group.part == instrument::Part::Alidade)
                    || matches!(part, instrument::Part::Pin)
                        && scene
                            .groups
                            .iter()
                            .any(|group| group.part == instrument::Part::Rule)
            });
            drawn.then_some(Shown::Part(part)).into_iter().collect()
        }
        Some(Picture::Line(kind)) => {
            let mut lines = of_kind(kind, scenes);
            let middle = lines.len() / 2;
            lines.rotate_left(middle);
            lines.into_iter().map(Shown::Line).collect()
        }
    }
}

fn of_kind(kind: Kind, scenes: &[&Scene]) -> Vec<LineId> {
    let mut lines: Vec<LineId> = Vec::new();
    for group in scenes.iter().flat_map(|scene| &scene.groups) {
        for item in &group.items {
            if let Item::Stroke(trace) = item
                && let Some(line) = &trace.line
                && Kind::of(line) == kind
                && !lines.contains(line)
            {
                lines.push(line.clone());
            }
        }
    }
    lines.sort();
    lines
}
