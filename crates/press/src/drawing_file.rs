use drawing::Scene;
use patience::Patience;

use crate::error::PressError;
use crate::order::PageSize;

/// What a drawing that is no part of an instrument is written as: a figure, a picture
/// of a comparison.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DrawingFormat {
    /// For the screen, and to be worked on.
    Svg,
    /// For printers, on A4.
    Pdf,
    /// A picture.
    Png,
}

impl DrawingFormat {
    /// All of them.
    pub const ALL: [DrawingFormat; 3] =
        [DrawingFormat::Svg, DrawingFormat::Pdf, DrawingFormat::Png];

    /// Its name, with which its files end too.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            DrawingFormat::Svg => "svg",
            DrawingFormat::Pdf => "pdf",
            DrawingFormat::Png => "png",
        }
    }

    /// The format of a name, in letters of either case.
    #[must_use]
    pub fn named(name: &str) -> Option<DrawingFormat> {
        let mut all = DrawingFormat::ALL.into_iter();
        all.find(|format| format.name().eq_ignore_ascii_case(name))
    }
}

/// A drawing as a file of this format. The same drawing always gives the same bytes.
///
/// # Errors
/// When this build has no documents, or one could not be put together.
pub fn drawing_file(
    scene: &Scene,
    name: &str,
    format: DrawingFormat,
) -> Result<Vec<u8>, PressError> {
    match format {
        DrawingFormat::Svg => Ok(scene.svg(&drawing::Svg::default()).into_bytes()),
        other => document(scene, name, other),
    }
}

#[cfg(feature = "documents")]
fn document(scene: &Scene, name: &str, format: DrawingFormat) -> Result<Vec<u8>, PressError> {
    /// 1100 dots or so across.
    const PICTURE_DPI: f64 = 150.0;
    let items = scene.groups.iter().flat_map(|group| &group.items);
    let unknown = items
        .into_iter()
        .find_map(|item| item.unknown_letter(instrument::Letters::Serif));
    if let Some(unknown) = unknown {
        return Err(PressError::Letter {
            part: scene.title.clone(),
            unknown,
        });
    }
    if format == DrawingFormat::Png {
        return crate::png(&crate::Inked::of_drawing(scene, name), PICTURE_DPI);
    }
    let (size, fits) = lying(scene, crate::PageSize::A4);
    let inked = crate::Inked::of_drawing(&scene.scaled(fits.min(1.0)), name);
    crate::pdf(&inked.title, &[&inked], &[], size)
}

/// The paper as a drawing lies on it, across where it is the larger so, and by how much it
/// may be enlarged there.
#[cfg(feature = "documents")]
fn lying(scene: &Scene, size: PageSize) -> (PageSize, f64) {
    let fits = |size: PageSize| {
        let (width, height) = crate::page::room(size);
        let high = (height - crate::page::CAPTION) / scene.upright_mm;
        (width / scene.reach_mm).min(high) / 2.0
    };
    let across = size.across();
    if fits(across) > fits(size) {
        (across, fits(across))
    } else {
        (size, fits(size))
    }
}

/// Drawings in one PDF, a page for each, as large as the paper allows.
///
/// # Errors
/// As [`drawing_file`], and when nobody waits for it any longer.
#[cfg(feature = "documents")]
pub fn drawings_on_pages(
    title: &str,
    scenes: &[Scene],
    size: PageSize,
    patience: Patience<'_>,
) -> Result<Vec<u8>, PressError> {
    /// A drawing as large as its room would be parted for the last digit.
    const FREE: f64 = 0.999;
    let mut pages = Vec::new();
    for scene in patience.each(scenes) {
        let (scene, _) = scene?;
        let (size, fits) = lying(scene, size);
        pages.push((
            crate::Inked::of_drawing(&scene.scaled(fits * FREE), "form"),
            size,
        ));
    }
    crate::pdf::drawn_on(title, &pages)
}

/// The same without documents.
///
/// # Errors
/// Always: this build has none.
#[cfg(not(feature = "documents"))]
pub fn drawings_on_pages(
    _: &str,
    _: &[Scene],
    _: PageSize,
    _: Patience<'_>,
) -> Result<Vec<u8>, PressError> {
    Err(PressError::NotBuilt("PDF"))
}

#[cfg(not(feature = "documents"))]
fn document(_: &Scene, _: &str, format: DrawingFormat) -> Result<Vec<u8>, PressError> {
    Err(PressError::NotBuilt(if format == DrawingFormat::Png {
        "PNG"
    } else {
        "PDF"
    }))
}
