use std::io::Read;
use std::path::Path;

use desk::{Cabinet, DrawFigureRequest, FigureRequest};

use crate::arguments::{FigureArguments, RuleArguments};
use crate::cast::{now_unix_s, request, settings};
use crate::failure::Failure;
use crate::figure_table;
use crate::part_file::PartFile;

/// Finishes a figure: says it as a table or JSON, or draws it.
pub(crate) fn run(arguments: &FigureArguments) -> Result<String, Failure> {
    let cabinet = Cabinet::built_in();
    let cast = request(&arguments.cast, &cabinet)?;
    let figure = FigureRequest {
        cast,
        ..rules(&arguments.rules)?
    };
    let Some(path) = arguments.output.as_deref() else {
        let answer = desk::figure(&figure, &cabinet, now_unix_s())?;
        if arguments.cast.json {
            return Ok(serde_json::to_string(&answer).map_err(Failure::other)? + "\n");
        }
        return Ok(figure_table::table(&answer));
    };
    let drawing = DrawFigureRequest {
        figure,
        form: arguments
            .form
            .clone()
            .or(settings(&arguments.cast.moment)?.figures),
        ..DrawFigureRequest::default()
    };
    let standard_output = path == Path::new("-");
    let form = if standard_output {
        Form::Svg
    } else {
        Form::of(path)?
    };
    if form != Form::Svg {
        let scene = desk::figure_scene(&drawing, &cabinet, now_unix_s())?;
        let inked = press::Inked::of_drawing(&scene, "figure");
        return written(path, &form.document(&inked)?, arguments.cast.json);
    }
    let svg = desk::draw_figure(&drawing, &cabinet, now_unix_s())?;
    if standard_output {
        return Ok(if arguments.cast.json {
            serde_json::json!({ "svg": svg }).to_string() + "\n"
        } else {
            svg
        });
    }
    written(path, svg.as_bytes(), arguments.cast.json)
}

fn written(path: &Path, bytes: &[u8], json: bool) -> Result<String, Failure> {
    let mut file = PartFile::create(path)?;
    file.write_all(bytes)?;
    file.finish()?;
    let shown = path.display().to_string();
    Ok(if json {
        serde_json::json!({ "file": shown, "bytes": bytes.len() }).to_string() + "\n"
    } else {
        String::new()
    })
}

/// What a figure is drawn as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Form {
    Svg,
    Pdf,
    Png,
}

/// Dots to the inch of a picture: 1100 or so across.
const PICTURE_DPI: f64 = 150.0;

impl Form {
    /// By the end of the file's name.
    fn of(path: &Path) -> Result<Form, Failure> {
        let end = path.extension().and_then(|end| end.to_str());
        match end.map(str::to_lowercase).as_deref() {
            Some("svg") => Ok(Form::Svg),
            Some("pdf") => Ok(Form::Pdf),
            Some("png") => Ok(Form::Png),
            _ => Err(Failure::bad_input(format!(
                "{} is no kind of drawing that is made here; a name that ends in .svg, .pdf or .png would do",
                path.display()
            ))),
        }
    }

    #[cfg(feature = "documents")]
    fn document(self, inked: &press::Inked) -> Result<Vec<u8>, Failure> {
        Ok(match self {
            Form::Png => press::png(inked, PICTURE_DPI)?,
            Form::Pdf | Form::Svg => press::pdf(&inked.title, &[inked], &[], press::PageSize::A4)?,
        })
    }

    #[cfg(not(feature = "documents"))]
    fn document(self, _: &press::Inked) -> Result<Vec<u8>, Failure> {
        Err(Failure::bad_input(
            "this program was built without documents; a name that ends in .svg would do",
        ))
    }
}

/// The rules that the arguments name, with no cast yet.
pub(crate) fn rules(rules: &RuleArguments) -> Result<FigureRequest, Failure> {
    Ok(FigureRequest {
        border: rules.border.clone(),
        outer: rules.outer,
        node: rules.node.clone(),
        sunrise: rules.sunrise.clone(),
        terms: rules.terms.clone(),
        triplicities: rules.triplicities.clone(),
        points: rules.points.clone(),
        orbs: rules.orbs.clone(),
        beams: rules.beams.clone(),
        lots: rules.lots.as_deref().map(list_of_lots).transpose()?,
        lots_by_night: rules.lots_by_night.clone(),
        star_orb_deg: rules.star_orb,
        clock_within_s: rules.clock_within,
        ..FigureRequest::default()
    })
}

fn list_of_lots(path: &Path) -> Result<String, Failure> {
    /// No list is longer; a mistaken file is not read whole.
    const MOST_BYTES: u64 = 512 * 1024;
    let mut text = String::new();
    let read =
        std::fs::File::open(path).and_then(|file| file.take(MOST_BYTES).read_to_string(&mut text));
    read.map_err(|error| {
        Failure::bad_input(format!(
            "the list of lots {} cannot be read ({error}); a TOML file would do",
            path.display()
        ))
    })?;
    Ok(text)
}
