use std::io::Read;
use std::path::Path;

use desk::{DrawFigureRequest, FigureRequest};

use crate::arguments::{FigureArguments, RuleArguments};
use crate::cabinet;
use crate::cast::{now_unix_s, request, settings};
use crate::failure::Failure;
use crate::figure_table;
use crate::picture::{format_of, write_whole};

/// Finishes a figure: says it as a table or JSON, or draws it.
pub(crate) fn run(arguments: &FigureArguments) -> Result<String, Failure> {
    let cabinet = cabinet::at_hand();
    let cast = request(&arguments.cast, &cabinet)?;
    let figure = FigureRequest {
        cast,
        on: arguments.on.clone(),
        ..rules(&arguments.rules)?
    };
    let Some(path) = arguments.output.as_deref() else {
        let whole = arguments.cast.json || arguments.csv && arguments.only.is_empty();
        let figure = FigureRequest {
            leaves: if whole {
                vec![figure_table::ALL.to_owned()]
            } else {
                figure_table::leaves(&arguments.only)?
            },
            ..figure
        };
        let answer = desk::figure(&figure, &cabinet, now_unix_s())?;
        if arguments.cast.json {
            return Ok(serde_json::to_string(&answer).map_err(Failure::other)? + "\n");
        }
        if arguments.csv {
            return figure_table::csv(&answer.leaves);
        }
        return Ok(figure_table::table(&answer, &arguments.only));
    };
    let drawing = DrawFigureRequest {
        figure,
        form: arguments
            .form
            .clone()
            .or(settings(&arguments.cast.moment)?.figures),
        // Who says what was read would not have a drawing that leaves it out.
        filled: arguments.filled.clone().or_else(|| {
            let both = desk::FigureFilled::Both.name().to_owned();
            (!arguments.cast.read.is_empty()).then_some(both)
        }),
        ..DrawFigureRequest::default()
    };
    let standard_output = path == Path::new("-");
    if !standard_output {
        let format = format_of(path)?;
        let scene = desk::figure_scene(&drawing, &cabinet, now_unix_s())?;
        let bytes = press::drawing_file(&scene, "figure", format)?;
        write_whole(path, &bytes, arguments.overwrite)?;
        return said(path, &bytes, arguments.cast.json);
    }
    let svg = desk::draw_figure(&drawing, &cabinet, now_unix_s())?;
    Ok(if arguments.cast.json {
        serde_json::json!({ "svg": svg }).to_string() + "\n"
    } else {
        svg
    })
}

/// Says what was written, in JSON alone.
fn said(path: &Path, bytes: &[u8], json: bool) -> Result<String, Failure> {
    let shown = path.display().to_string();
    Ok(if json {
        serde_json::json!({ "file": shown, "bytes": bytes.len() }).to_string() + "\n"
    } else {
        String::new()
    })
}

/// The rules that the arguments name, with no cast yet.
pub(crate) fn rules(rules: &RuleArguments) -> Result<FigureRequest, Failure> {
    Ok(FigureRequest {
        author: rules.author.clone(),
        border: rules.border.clone(),
        outer: rules.outer,
        node: rules.node.clone(),
        sunrise: rules.sunrise.clone(),
        terms: rules.terms.clone(),
        triplicities: rules.triplicities.clone(),
        points: rules.points.clone(),
        receptions: rules.receptions.clone(),
        orbs: rules.orbs.clone(),
        beams: rules.beams.clone(),
        accidents: rules.accidents.clone(),
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
