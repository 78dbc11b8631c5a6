use drawing::{Scene, Svg};
use schemars::JsonSchema;
use serde::Deserialize;

use crate::cabinet::Cabinet;
use crate::figure_case::{FigureCase, FigureRequest};
use crate::figure_form::{FigureFilled, FigureForm};
use crate::figure_sheet::Sheets;
use crate::refusal::{Field, Refusal};
use crate::request::{CastRequest, WithInstrument};

/// What is asked when a figure is to be drawn.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct DrawFigureRequest {
    /// The figure.
    pub figure: FigureRequest,
    /// How it is drawn, by the names of [`FigureForm`]; on the brass unless said.
    pub form: Option<String>,
    /// What it is filled in with, by the names of [`FigureFilled`]; calculated unless said.
    pub filled: Option<String>,
    /// What the ids of the SVG begin with, so that several can stand on one page.
    pub id_prefix: String,
    /// Whether it leaves out its colours and its ground, for a page that has them.
    pub bare: bool,
}

/// Draws a figure as SVG.
///
/// # Errors
/// When the request cannot be understood, or what is to be drawn has no answer: a square
/// without cusps, a reading that there is not.
pub fn draw_figure(
    request: &DrawFigureRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<String, Refusal> {
    let prefix = &request.id_prefix;
    let fit = |c: char| c.is_ascii_alphanumeric() || "-_".contains(c);
    if prefix.len() > 64 || !prefix.chars().all(fit) {
        return Err(Refusal::new(
            Field::Form,
            "ids begin with 64 letters, figures, - and _ at most; figure- would do",
        ));
    }
    let options = Svg {
        id_prefix: request.id_prefix.clone(),
        styled: !request.bare,
        paper: !request.bare,
        outlined: !request.bare,
    };
    Ok(figure_scene(request, cabinet, now_unix_s)?.svg(&options))
}

/// The same as a scene, to be printed.
///
/// # Errors
/// As [`draw_figure`].
pub fn figure_scene(
    request: &DrawFigureRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<Scene, Refusal> {
    let form = FigureForm::named(request.form.as_deref())?;
    let filled = FigureFilled::named(request.filled.as_deref())?;
    let finishing = FigureCase::of(&request.figure, cabinet, now_unix_s)?;
    let sheets = Sheets::of(&finishing, form);
    let drawing = form.drawing();
    Ok(match filled {
        FigureFilled::Calculated => sheets.calculated()?.scene(drawing),
        FigureFilled::AsRead => sheets.as_read()?.scene(drawing),
        FigureFilled::Both => sheets.calculated()?.scene_with(&sheets.as_read()?, drawing),
        FigureFilled::Blank => sheets.blank()?.scene(drawing),
    })
}

/// Figures with nothing in them, to be filled in by hand, in these forms: for a place, whose
/// horizon and hour lines the form on the brass has, in the orientation of an instrument.
///
/// # Errors
/// When place or instrument cannot be understood, or a form has no answer there.
pub fn blank_figures(
    at: &str,
    with: Option<&WithInstrument>,
    forms: &[FigureForm],
    cabinet: &Cabinet,
) -> Result<Vec<Scene>, Refusal> {
    let request = FigureRequest {
        cast: CastRequest {
            // An equinox at noon: 0° Aries on the meridian. Nothing of it is said.
            when: "2000-03-20 12:00".to_owned(),
            at: at.to_owned(),
            clock: Some("sun".to_owned()),
            with: with.cloned(),
            ..CastRequest::default()
        },
        ..FigureRequest::default()
    };
    let finishing = FigureCase::of(&request, cabinet, None)?;
    let scene = |form: &FigureForm| {
        let sheet = Sheets::of(&finishing, *form).of_no_moment()?;
        Ok(sheet.scene(form.drawing()))
    };
    forms.iter().map(scene).collect()
}
