//! Drawings for the page and for files: the figure, and instruments compared.

use desk::{CompareAnswer, CompareRequest, DrawFigureRequest};
use patience::Patience;
use press::DrawingFormat;
use serde::{Deserialize, Serialize};

use crate::answer::read;
use crate::{Answer, Fault, Holder, json};

/// A drawing.
#[derive(Serialize)]
struct Drawn {
    svg: String,
}

pub(crate) fn figure(body: &[u8], holder: &dyn Holder, _: Patience<'_>) -> Result<Answer, Fault> {
    let request: DrawFigureRequest = read(body)?;
    let svg = desk::draw_figure(&request, &holder.cabinet(), holder.now_unix_s())?;
    json(&Drawn { svg })
}

/// A figure to be saved.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FigureFile {
    drawing: DrawFigureRequest,
    format: String,
}

pub(crate) fn figure_file(
    body: &[u8],
    holder: &dyn Holder,
    _: Patience<'_>,
) -> Result<Answer, Fault> {
    let asked: FigureFile = read(body)?;
    let format = DrawingFormat::named(&asked.format).ok_or_else(|| {
        let names = DrawingFormat::ALL.map(DrawingFormat::name).join(", ");
        Fault::asked(format!("this is no format of drawings; {names} would do"))
    })?;
    let scene = desk::figure_scene(&asked.drawing, &holder.cabinet(), holder.now_unix_s())?;
    let bytes = press::drawing_file(&scene, "figure", format).map_err(Fault::asked)?;
    let kind = match format {
        DrawingFormat::Svg => "image/svg+xml",
        DrawingFormat::Pdf => "application/pdf",
        DrawingFormat::Png => "image/png",
    };
    Ok(Answer { kind, bytes })
}

/// Instruments side by side, and their picture for the page's own colours.
#[derive(Serialize)]
struct Compared {
    #[serde(flatten)]
    answer: CompareAnswer,
    svg: String,
}

pub(crate) fn comparison(
    body: &[u8],
    holder: &dyn Holder,
    _: Patience<'_>,
) -> Result<Answer, Fault> {
    let request: CompareRequest = read(body)?;
    let answer = desk::compare(&request, &holder.cabinet(), holder.now_unix_s())?;
    let svg = desk::comparison_svg(&answer, "compared-");
    json(&Compared { answer, svg })
}
