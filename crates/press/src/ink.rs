use drawing::{Contour, Dash, Item, LabelBox, Metal, Scene, Workpiece, lettered};
use instrument::{Instrument, Length, Letters, LineId, Point};

use crate::clear::cleared;
use crate::cutting::{Cutting, Through, through};
use crate::work::Work;

/// One thing put down: edges on a layer.
#[derive(Clone, Debug, PartialEq)]
pub struct Ink {
    /// What a machine does with it.
    pub work: Work,
    /// Which line of the instrument it is, if it has a name.
    pub line: Option<LineId>,
    /// Its edges.
    pub contours: Vec<Contour>,
    /// Whether what they enclose is filled, as letters are.
    pub filled: bool,
    /// How dark it is.
    pub shade: Shade,
    /// How wide a line is printed, in millimetres.
    pub width_mm: f64,
    /// Whether it is broken.
    pub dash: Dash,
}

/// How dark something is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shade {
    /// As ink is.
    Black,
    /// A faint tone, which letters and lines stand out from.
    Tone,
    /// As the paper is, over what lies beneath.
    Paper,
}

impl Shade {
    /// From 0, black, to 255.
    #[cfg(feature = "documents")]
    #[must_use]
    pub(crate) fn grey(self) -> u8 {
        match self {
            Shade::Black => 0,
            Shade::Tone => 232,
            Shade::Paper => 255,
        }
    }

    fn of(metal: Metal) -> Shade {
        match metal {
            Metal::Sky | Metal::Zodiac => Shade::Paper,
            Metal::Ground => Shade::Tone,
            Metal::Mater | Metal::Plate | Metal::Rete | Metal::Rule | Metal::Dark => Shade::Black,
        }
    }
}

/// A workpiece ready to be written: every letter is edges, and lines give way to letters.
#[derive(Clone, Debug, PartialEq)]
pub struct Inked {
    /// The workpiece's name for files.
    pub name: String,
    /// What it is.
    pub title: String,
    /// What is stated in the title block.
    pub notes: Vec<String>,
    /// All that is put down; of a workpiece in the order of work, holes before outlines.
    pub inks: Vec<Ink>,
    /// The corner at the top left.
    pub low: Point,
    /// The corner at the lower right.
    pub high: Point,
}

impl Inked {
    /// A drawing that is no part of an instrument, such as a figure: nothing in it is
    /// cut, and its groups stand unturned.
    #[must_use]
    pub fn of_drawing(scene: &Scene, name: &str) -> Inked {
        let ink = |item: &Item| match item {
            Item::Stroke(trace) => Ink {
                work: Work::of(trace.layer, false),
                line: trace.line.clone(),
                contours: trace.contours.clone(),
                filled: false,
                shade: Shade::Black,
                width_mm: scene.hair_mm * trace.weight.times_hair(),
                dash: trace.dash,
            },
            Item::Fill(fill) => Ink {
                work: Work::of(fill.layer, true),
                line: None,
                contours: fill
                    .regions
                    .iter()
                    .flat_map(|one| std::iter::once(&one.outline).chain(&one.holes))
                    .cloned()
                    .collect(),
                filled: true,
                shade: Shade::of(fill.metal),
                width_mm: scene.hair_mm,
                dash: Dash::Whole,
            },
            Item::Text(lettering) => Ink {
                work: Work::EngraveFill,
                line: None,
                contours: lettered(lettering, Letters::Serif),
                filled: true,
                shade: Shade::Black,
                width_mm: scene.hair_mm,
                dash: Dash::Whole,
            },
        };
        let items = scene.groups.iter().flat_map(|group| &group.items);
        let corner = Point {
            x: scene.reach_mm,
            y: scene.upright_mm,
        };
        Inked {
            name: name.to_owned(),
            title: scene.title.clone(),
            notes: Vec::new(),
            inks: items
                .map(ink)
                .filter(|ink| !ink.contours.is_empty())
                .collect(),
            low: Point::POLE - corner,
            high: corner,
        }
    }

    /// A workpiece of an instrument at its true size.
    #[must_use]
    pub fn of(workpiece: &Workpiece, instrument: &Instrument, dated: &str) -> Inked {
        let cutting = Cutting::default().true_size(0.0);
        Inked::for_machine(workpiece, instrument, dated, &cutting).0
    }

    /// A workpiece of an instrument with all that a machine's tool asks for; and what
    /// could not be had of that.
    pub(crate) fn for_machine(
        workpiece: &Workpiece,
        instrument: &Instrument,
        dated: &str,
        cutting: &Cutting,
    ) -> (Inked, Through) {
        let letters = instrument.specification().parts.letters;
        let kerf_mm = cutting.kerf_mm(instrument.specification().fits.kerf);
        let mut through = through(&workpiece.solid, workpiece.part, cutting, kerf_mm);
        let boxes: Vec<LabelBox> = workpiece
            .items
            .iter()
            .filter_map(|item| match item {
                Item::Text(lettering) if lettering.clears => Some(lettering),
                _ => None,
            })
            .flat_map(|lettering| {
                let margin = 0.16 * lettering.size_mm;
                lettering
                    .boxes()
                    .into_iter()
                    .map(move |one| one.with_margin(margin))
            })
            .collect();
        let lines = std::mem::take(&mut through.lines).into_iter();
        let mut inks: Vec<Ink> = lines
            .map(|(work, contours)| Ink {
                work,
                line: None,
                contours,
                filled: false,
                shade: Shade::Black,
                width_mm: workpiece.hair_mm * 2.0,
                dash: Dash::Whole,
            })
            .collect();
        for item in &workpiece.items {
            inks.push(match item {
                Item::Stroke(trace) => Ink {
                    work: Work::of(trace.layer, false),
                    line: trace.line.clone(),
                    contours: cleared(&trace.contours, &boxes),
                    filled: false,
                    shade: Shade::Black,
                    width_mm: workpiece.hair_mm * trace.weight.times_hair(),
                    dash: trace.dash,
                },
                Item::Fill(fill) => Ink {
                    work: Work::of(fill.layer, true),
                    line: None,
                    contours: fill
                        .regions
                        .iter()
                        .flat_map(|region| std::iter::once(&region.outline).chain(&region.holes))
                        .cloned()
                        .collect(),
                    filled: true,
                    shade: Shade::Black,
                    width_mm: workpiece.hair_mm,
                    dash: Dash::Whole,
                },
                Item::Text(lettering) => Ink {
                    work: if letters == Letters::Serif {
                        Work::EngraveFill
                    } else {
                        Work::EngraveLine
                    },
                    line: None,
                    contours: lettered(lettering, letters),
                    filled: letters == Letters::Serif,
                    shade: Shade::Black,
                    width_mm: workpiece.hair_mm * 1.2,
                    dash: Dash::Whole,
                },
            });
        }
        inks.retain(|ink| !ink.contours.is_empty());
        inks.sort_by_key(|ink| ink.work);
        let (low, high) = workpiece.bounds();
        // Where the tool comes in lies within this too.
        let about = cutting.lead_in.map_or(0.0, Length::mm) + kerf_mm / 2.0;
        let grow = Point { x: about, y: about };
        let inked = Inked {
            name: workpiece.name.clone(),
            title: workpiece.title.clone(),
            notes: notes(workpiece, instrument, dated),
            inks,
            low: low - grow,
            high: high + grow,
        };
        (inked, through)
    }

    /// What is put down for a work.
    pub fn on(&self, work: Work) -> impl Iterator<Item = &Ink> {
        self.inks.iter().filter(move |ink| ink.work == work)
    }
}

/// The title block.
fn notes(workpiece: &Workpiece, instrument: &Instrument, dated: &str) -> Vec<String> {
    let specification = instrument.specification();
    let mut notes = vec![
        format!("{} — {}", specification.name, workpiece.title),
        format!(
            "{} mm across, {}ern, {}; epoch {:.0}, obliquity {:.4}°; sheet of {:.2} mm{}",
            specification.diameter.mm(),
            specification.hemisphere.name(),
            specification.top.name(),
            specification.epoch_year,
            specification.obliquity.deg(),
            workpiece.thickness.mm(),
            if workpiece.count > 1 {
                format!("; {} are needed", workpiece.count)
            } else {
                String::new()
            }
        ),
    ];
    if !dated.is_empty() {
        notes.push(format!("calculated {dated}"));
    }
    notes
}
