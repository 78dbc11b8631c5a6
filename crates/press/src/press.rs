use std::sync::Mutex;

use drawing::{Making, Workpiece, most_plates, workpieces_while};
use instrument::{Instrument, Length};
use patience::Patience;

use crate::beside;
use crate::cutting::Cutting;
use crate::dxf::dxf;
use crate::error::PressError;
use crate::ink::Inked;
use crate::manifest::{FileEntry, Manifest, TravelEntry};
use crate::order::{Format, Order};
use crate::printed::Printed;
use crate::sheet;
use crate::svg::svg;
use crate::travel;

/// The files of a set, and what they are.
#[derive(Clone, Debug, PartialEq)]
pub struct Set {
    /// The files.
    pub files: Vec<Printed>,
    /// What stands in its manifest.
    pub manifest: Manifest,
}

/// Beyond this breadth few cuts go, in millimetres: a water jet's (common practice).
const USUAL_KERF_MM: f64 = 1.2;

/// What is made of one workpiece by itself.
struct Drawn {
    printed: Vec<Printed>,
    travel: TravelEntry,
    warned: Vec<String>,
}

/// Makes the files that an order asks for, however long it takes: those of [`set`].
///
/// # Errors
/// As [`set`].
pub fn press(instrument: &Instrument, order: &Order) -> Result<Vec<Printed>, PressError> {
    set(instrument, order, Patience::ENDLESS).map(|set| set.files)
}

/// Makes the whole set that an order asks for. The same order always gives the same bytes.
///
/// # Errors
/// When a part cannot be cut as one piece, a document not be put together, or nobody
/// waits for it any longer.
pub fn set(
    instrument: &Instrument,
    order: &Order,
    patience: Patience<'_>,
) -> Result<Set, PressError> {
    let specification = instrument.specification();
    let most = most_plates(specification.diameter);
    if order.parts.contains(&Making::Plates) && specification.plates.len() > most {
        return Err(PressError::TooMany {
            plates: specification.plates.len(),
            diameter_mm: specification.diameter.mm(),
            most,
        });
    }
    let cutting = &order.cutting;
    let kerf_mm = cutting.kerf_mm(specification.fits.kerf);
    let cutter_mm = cutting.cutter.map_or(f64::INFINITY, Length::mm);
    if kerf_mm >= cutter_mm / 2.0 {
        return Err(PressError::KerfAndCutter { kerf_mm, cutter_mm });
    }
    let made = pressed_while(instrument, order, patience.part(0, 5))?;
    let mut files = Vec::new();
    let mut travels = Vec::new();
    let mut warnings = Vec::new();
    if kerf_mm > USUAL_KERF_MM {
        warnings.push(format!(
            "fits.kerf_mm = {} is much: a laser takes away 0.1 to 0.3 mm, a fretsaw 0.3 to 0.6, \
             a water jet 0.8 to 1.2 (common practice); it is the whole breadth of the cut",
            sky::Plain(kerf_mm)
        ));
    }
    let easel = Mutex::new(());
    let drawn = beside::each(&made, patience.part(1, 5), |(workpiece, inked), _| {
        drawn(instrument, order, (workpiece, inked), &easel)
    })?;
    for Drawn {
        printed,
        travel,
        warned,
    } in drawn
    {
        files.extend(printed);
        travels.push(travel);
        warnings.extend(warned);
    }
    let solids = solids(instrument, order, &made, patience.part(2, 5), &mut files)?;
    let films = films(instrument, order, &made, patience.part(3, 5), &mut files)?;
    #[cfg(feature = "documents")]
    if !films.is_empty() {
        warnings.extend(crate::films::letters_that_vanish(
            instrument,
            &order.filming,
            &made,
        ));
    }
    let listed = |files: &[Printed]| {
        files
            .iter()
            .map(|file| FileEntry {
                name: file.name.clone(),
                bytes: file.bytes.len(),
            })
            .collect()
    };
    let mut manifest = Manifest::of(
        instrument,
        &order.dated,
        (cutting, &order.rates),
        &made,
        &travels,
        listed(&files),
    );
    manifest.solids = solids;
    manifest.films = films;
    manifest.warnings = warnings;
    let mut paragraphs = sheet::sheet(instrument, &manifest);
    paragraphs.extend(sheet::linked(order.code.as_ref()));
    documents(
        instrument,
        order,
        &made,
        &paragraphs,
        patience.part(4, 5),
        &mut files,
    )?;
    assembled(instrument, order, &made, &manifest, &mut files)?;
    files.push(Printed {
        name: "sheet.txt".to_owned(),
        bytes: sheet::plain(&paragraphs).into_bytes(),
    });
    manifest.files = listed(&files);
    files.push(Printed {
        name: "manifest.json".to_owned(),
        bytes: manifest.json().into_bytes(),
    });
    Ok(Set { files, manifest })
}

/// The files of a workpiece that are its own alone, and how far a machine goes for it. Who
/// makes a picture has the easel meanwhile: two at once would take 80 MB more.
fn drawn(
    instrument: &Instrument,
    order: &Order,
    (workpiece, inked): (&Workpiece, &Inked),
    easel: &Mutex<()>,
) -> Result<Drawn, PressError> {
    let mut printed = Vec::new();
    let mut warned = Vec::new();
    let cutting = &order.cutting;
    // What is cut along the lines is let out by half the cut; what is printed is not.
    let (drawn, through) = Inked::for_machine(workpiece, instrument, &order.dated, cutting);
    let as_drawn_mm = travel::travel_mm(&drawn);
    let for_machines = travel::in_order(drawn);
    let travel = TravelEntry::of(as_drawn_mm, travel::travel_mm(&for_machines));
    if through.without_lead_in > 0 {
        warned.push(format!(
            "{}: {} of the cuts begin on their edge: there is no room to come in from beside it",
            workpiece.name, through.without_lead_in
        ));
    }
    if through.closed_up {
        warned.push(format!(
            "{}: a cut of fits.kerf_mm = {} is broader than an opening, which is not in the \
             SVG and DXF; drill it, or cut finer",
            workpiece.name,
            sky::Plain(cutting.kerf_mm(instrument.specification().fits.kerf))
        ));
    }
    for format in &order.formats {
        let named = |ending: &str| format!("{}.{ending}", inked.name);
        match format {
            Format::Svg => printed.push(Printed {
                name: named("svg"),
                bytes: svg(&for_machines).into_bytes(),
            }),
            Format::Dxf => printed.push(Printed {
                name: named("dxf"),
                bytes: dxf(&for_machines).into_bytes(),
            }),
            Format::Png => {
                let _easel = easel.lock();
                printed.push(picture(inked, order, named("png"), &mut warned)?);
            }
            Format::Pdf
            | Format::Paper
            | Format::ThreeMf
            | Format::Stl
            | Format::Film
            | Format::FilmPng
            | Format::Assembly => {}
        }
    }
    Ok(Drawn {
        printed,
        travel,
        warned,
    })
}

/// The workpieces of an order, proven and at their true size.
///
/// # Errors
/// When one cannot be cut as one piece.
pub fn pressed(
    instrument: &Instrument,
    order: &Order,
) -> Result<Vec<(Workpiece, Inked)>, PressError> {
    pressed_while(instrument, order, Patience::ENDLESS)
}

fn pressed_while(
    instrument: &Instrument,
    order: &Order,
    patience: Patience<'_>,
) -> Result<Vec<(Workpiece, Inked)>, PressError> {
    let kerf_mm = order.cutting.kerf_mm(instrument.specification().fits.kerf);
    inked_while(
        instrument,
        order,
        &order.cutting.true_size(kerf_mm),
        patience,
    )
}

/// The workpieces of an order, proven, with what is allowed for some tools.
pub(crate) fn inked_while(
    instrument: &Instrument,
    order: &Order,
    cutting: &Cutting,
    patience: Patience<'_>,
) -> Result<Vec<(Workpiece, Inked)>, PressError> {
    let least_width = instrument.specification().parts.least_width;
    let letters = instrument.specification().parts.letters;
    let workpieces = workpieces_while(instrument, &order.parts, patience.part(0, 2))?;
    let inked = beside::each(&workpieces, patience.part(1, 2), |workpiece, _| {
        workpiece
            .proven(least_width)
            .map_err(|flaw| PressError::Uncuttable {
                part: workpiece.name.clone(),
                flaw,
            })?;
        if let Some(unknown) = workpiece.unknown_letter(letters) {
            return Err(PressError::Letter {
                part: workpiece.name.clone(),
                unknown,
            });
        }
        let (inked, _) = Inked::for_machine(workpiece, instrument, &order.dated, cutting);
        Ok(inked)
    })?;
    Ok(workpieces.into_iter().zip(inked).collect())
}

#[cfg(feature = "documents")]
use crate::films::films;
#[cfg(feature = "documents")]
use crate::solids::solids;

#[cfg(not(feature = "documents"))]
fn films(
    _: &Instrument,
    order: &Order,
    _: &[(Workpiece, Inked)],
    _: Patience<'_>,
    _: &mut Vec<Printed>,
) -> Result<Vec<crate::manifest::FilmEntry>, PressError> {
    let wanted = [Format::Film, Format::FilmPng];
    if wanted.iter().any(|format| order.formats.contains(format)) {
        return Err(PressError::NotBuilt("films"));
    }
    Ok(Vec::new())
}

#[cfg(not(feature = "documents"))]
fn solids(
    _: &Instrument,
    order: &Order,
    _: &[(Workpiece, Inked)],
    _: Patience<'_>,
    _: &mut Vec<Printed>,
) -> Result<Vec<crate::manifest::SolidEntry>, PressError> {
    let wanted = [Format::ThreeMf, Format::Stl];
    if wanted.iter().any(|format| order.formats.contains(format)) {
        return Err(PressError::NotBuilt("3MF and STL"));
    }
    Ok(Vec::new())
}

#[cfg(feature = "documents")]
fn assembled(
    instrument: &Instrument,
    order: &Order,
    made: &[(Workpiece, Inked)],
    manifest: &Manifest,
    files: &mut Vec<Printed>,
) -> Result<(), PressError> {
    if order.formats.contains(&Format::Assembly) {
        let leaf = crate::assembly::assembly(instrument, made, manifest);
        let size = crate::order::PageSize::A4;
        let title = format!("{}, assembly", manifest.instrument);
        files.push(Printed {
            name: "assembly.pdf".to_owned(),
            bytes: crate::pdf::leaves(&title, (size.width_mm, size.height_mm), &[leaf])?,
        });
    }
    Ok(())
}

#[cfg(not(feature = "documents"))]
fn assembled(
    _: &Instrument,
    order: &Order,
    _: &[(Workpiece, Inked)],
    _: &Manifest,
    _: &mut Vec<Printed>,
) -> Result<(), PressError> {
    if order.formats.contains(&Format::Assembly) {
        return Err(PressError::NotBuilt("PDF"));
    }
    Ok(())
}

#[cfg(feature = "documents")]
fn picture(
    inked: &Inked,
    order: &Order,
    name: String,
    warnings: &mut Vec<String>,
) -> Result<Printed, PressError> {
    let dots = crate::png::dots_that_fit(inked, order.dots_per_inch);
    if dots < order.dots_per_inch {
        warnings.push(format!(
            "{name} has {dots:.0} dots per inch and not {}: with more it would be larger than any \
             picture made here",
            sky::Plain(order.dots_per_inch)
        ));
    }
    let bytes = crate::png::png(inked, order.dots_per_inch)?;
    Ok(Printed { name, bytes })
}

#[cfg(not(feature = "documents"))]
fn picture(_: &Inked, _: &Order, _: String, _: &mut Vec<String>) -> Result<Printed, PressError> {
    Err(PressError::NotBuilt("PNG"))
}

#[cfg(feature = "documents")]
fn documents(
    instrument: &Instrument,
    order: &Order,
    made: &[(Workpiece, Inked)],
    paragraphs: &[sheet::Paragraph],
    patience: Patience<'_>,
    files: &mut Vec<Printed>,
) -> Result<(), PressError> {
    let title = &instrument.specification().name;
    let all: Vec<&Inked> = made.iter().map(|(_, inked)| inked).collect();
    if order.formats.contains(&Format::Pdf) {
        files.push(Printed {
            name: "drawings.pdf".to_owned(),
            bytes: crate::pdf::pdf_while(
                title,
                &[],
                &all,
                paragraphs,
                order.page,
                patience.part(0, 2),
            )?,
        });
    }
    if order.formats.contains(&Format::Paper) {
        patience.at(1, 2)?;
        let mut model = crate::paper_model::paper_model(instrument, made, &order.dated);
        model.words.extend(sheet::linked(order.code.as_ref()));
        let pages: Vec<&Inked> = model.pieces.iter().collect();
        files.push(Printed {
            name: "paper.pdf".to_owned(),
            bytes: crate::pdf::pdf_while(
                title,
                &crate::child_page::leaves(instrument, made, &model.pieces, order.page),
                &pages,
                &model.words,
                order.page,
                patience.part(1, 2),
            )?,
        });
    }
    Ok(())
}

#[cfg(not(feature = "documents"))]
fn documents(
    _: &Instrument,
    order: &Order,
    _: &[(Workpiece, Inked)],
    _: &[sheet::Paragraph],
    _: Patience<'_>,
    _: &mut Vec<Printed>,
) -> Result<(), PressError> {
    let wanted = |format| order.formats.contains(&format);
    if wanted(Format::Pdf) || wanted(Format::Paper) {
        return Err(PressError::NotBuilt("PDF"));
    }
    Ok(())
}
