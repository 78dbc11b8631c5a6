use drawing::Scene;

use crate::error::PressError;

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
    // It lies across the page where it is the larger so, and is made to fit.
    let fits = |size: crate::PageSize| {
        let (width, height) = crate::page::room(size);
        let high = (height - crate::page::CAPTION) / scene.upright_mm;
        (width / scene.reach_mm).min(high) / 2.0
    };
    let (upright, across) = (crate::PageSize::A4, crate::PageSize::A4.across());
    let size = if fits(across) > fits(upright) {
        across
    } else {
        upright
    };
    let inked = crate::Inked::of_drawing(&scene.scaled(fits(size).min(1.0)), name);
    crate::pdf(&inked.title, &[&inked], &[], size)
}

#[cfg(not(feature = "documents"))]
fn document(_: &Scene, _: &str, format: DrawingFormat) -> Result<Vec<u8>, PressError> {
    Err(PressError::NotBuilt(if format == DrawingFormat::Png {
        "PNG"
    } else {
        "PDF"
    }))
}
